"""LaTeX of a formula's line, made by handcalcs: the only file that touches it.

Its renderer takes names and numbers for what they look like, so it is given a token for each name
(``Vaa``), and what stands for the name is set in afterwards. That takes some milliseconds for a
line, once: the same line with other values is filled only.
"""

from __future__ import annotations

import ast
import functools
import re
from collections.abc import Mapping
from typing import Any

from calcbook.basis.markup import LATEX, Operand

_NAME = re.compile(r"\\mathrm\{(V\w\w)\}( \^)?")
_INSIDE = r"((?:(?!\\left|\\right).)*)"  # without brackets of its own
_TIDY = (
    (r"\\left\( (\\mathrm\{V\w\w\}|[\d.]+) \\right\) ?\^", r"\1 ^"),  # one symbol needs no brackets
    (r"\^\{ \\left\( " + _INSIDE + r" \\right\) \}", r"^{ \1 }"),
    (r"\\left\( \\left\( " + _INSIDE + r" \\right\) \\right\)", r"\\left( \1 \\right)"),
    (r"\\operatorname\{(min|max|Phi)\}", r"\\\1"),
    (r"\\operatorname\{probit\}", r"\\Phi^{-1}"),
    (r"\\operatorname\{tinv\}", r"t^{-1}"),
)


def latex(node: ast.expr, names: Mapping[str, Operand]) -> str:
    """An expression as LaTeX; names: what stands for each name in it."""
    template, tokens = _with_tokens(node)

    def fill(match: re.Match[str]) -> str:
        operand, power = names[tokens[match[1]]], match[2] or ""
        return (
            LATEX.brackets.format(operand.text) if power and operand.compound else operand.text
        ) + power

    return _NAME.sub(fill, template)


@functools.cache  # a formula keeps its nodes
def _with_tokens(node: ast.expr) -> tuple[str, dict[str, str]]:
    """An expression as LaTeX over tokens, and the name that each token stands for."""
    tree = ast.parse(ast.unparse(node), mode="eval")
    functions = {id(n.func) for n in ast.walk(tree) if isinstance(n, ast.Call)}
    tokens: dict[str, str] = {}
    for name in ast.walk(tree):
        if isinstance(name, ast.Name) and id(name) not in functions and name.id != "pi":
            token = next((t for t, n in tokens.items() if n == name.id), f"V{_letters(len(tokens))}")
            tokens[token], name.id = name.id, token
    return _template(ast.unparse(tree)), tokens


def _letters(number: int) -> str:
    return chr(97 + number // 26) + chr(97 + number % 26)


class _Apart(ast.NodeTransformer):
    """Takes out what handcalcs must render by itself, and leaves a token in its place.

    Inside a longer line it loses the brackets of a sum that holds a fraction, and those of a
    numerator in a list of arguments; of a product it sets only the last factor over a fraction.
    """

    def __init__(self) -> None:
        self.parts: dict[str, tuple[str, str]] = {}

    def _out(self, node: ast.expr, frame: str = "{}") -> ast.Name:
        token = f"VZ{chr(97 + len(self.parts))}"
        self.parts[token] = ast.unparse(node), frame
        return ast.Name(token)

    def visit_BinOp(self, node: ast.BinOp) -> ast.AST:
        if isinstance(node.op, ast.Mult):
            node.left, node.right = (self._factor(side) for side in (node.left, node.right))
        elif (
            isinstance(node.op, ast.Div) and _is(node.left, ast.Mult) and not _holds_fraction(node.left)
        ):
            node.left = self._out(node.left)
        return self.generic_visit(node)

    def _factor(self, node: ast.expr) -> ast.expr:
        broken = _is(node, ast.Add | ast.Sub) and _holds_fraction(node)
        return self._out(node, r"\left( {} \right)") if broken else node

    def visit_Call(self, node: ast.Call) -> ast.AST:
        if len(node.args) > 1:
            node.args = [self._out(a) if isinstance(a, ast.BinOp) else a for a in node.args]
        return self.generic_visit(node)


def _is(node: ast.expr, operators: Any) -> bool:
    return isinstance(node, ast.BinOp) and isinstance(node.op, operators)


def _holds_fraction(node: ast.expr) -> bool:
    return any(isinstance(n, ast.Div) for n in ast.walk(node))


@functools.cache
def _template(expression: str) -> str:
    """An expression over tokens, rendered by handcalcs."""
    import handcalcs.global_config  # noqa: F401  (sets the renderer up outside a notebook)
    from handcalcs.handcalcs import LatexRenderer

    apart = _Apart()
    expression = ast.unparse(apart.visit(ast.parse(expression, mode="eval").body))
    options = {"override": "symbolic", "precision": 3, "sci_not": None}
    rendered = LatexRenderer(f"Result = {expression}\n", {"Result": 0}, options).render()
    found = rendered.split("&=")[1].split(r"\end{aligned}")[0].strip().removesuffix(r"\;").strip()
    for pattern, instead in _TIDY:
        found = re.sub(pattern, instead, found)
    for token, (part, frame) in apart.parts.items():
        found = found.replace(rf"\mathrm{{{token}}}", frame.replace("{}", _template(part), 1))
    return found
