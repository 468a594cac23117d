"""LaTeX of every line of every formula, made by handcalcs on placeholders.

The only file that touches handcalcs. It renders the source of the very function that computes,
with tokens for names (``Vaa``) and marks for values (``@Vaa@``), which ``handcalc.py`` fills.

Rendering a line takes several milliseconds, so ``tables/templates.json`` keeps what handcalcs made
of every line of the book. A line that is not in it is rendered on the spot; a test renders all of
them anew and compares. ``python -m calcbook.basis.templates`` rewrites the file, and with it that of ``typst_math.py``.
"""

from __future__ import annotations

import ast
import functools
import json
import re
from collections.abc import Collection, Iterator
from typing import TYPE_CHECKING, Any

from calcbook.basis.sources import TABLES

if TYPE_CHECKING:
    from calcbook.basis.formula import Formula

KEPT = TABLES / "templates.json"
_SHOWN_NAMES = {
    "minimum": "min", "maximum": "max", "root": "sqrt", "log": "log", "absolute": "abs",
}  # fmt: skip
_TRANSPARENT = {"number", "with_unit", "to", "m_as", "float"}


def _letters(index: int) -> str:
    return chr(97 + index // 26) + chr(97 + index % 26)


def tokens_of(formula: Formula) -> dict[str, str]:
    """A token for every name of a formula, in alphabetical order."""
    assignments = formula.assignments
    names = sorted(
        set(formula.arguments)
        | {n.id for _, e in assignments for n in ast.walk(e) if isinstance(n, ast.Name)}
        | {name for name, _ in assignments}
    )
    return {name: f"V{_letters(i)}" for i, name in enumerate(names)}


class _Shown(ast.NodeTransformer):
    """Rewrites an expression to what a hand calculation shows: no unit conversions, plain names."""

    def __init__(self, tokens: dict[str, str]) -> None:
        self.tokens = tokens

    def visit_Name(self, node: ast.Name) -> ast.AST:
        if node.id == "pi":
            return node
        return ast.Name(self.tokens.get(node.id, node.id), node.ctx)

    def visit_Call(self, node: ast.Call) -> ast.AST:
        function: Any = node.func
        name = function.attr if isinstance(function, ast.Attribute) else function.id
        if name in _TRANSPARENT:
            inner = function.value if isinstance(function, ast.Attribute) else node.args[0]
            return self.visit(inner)
        arguments = [self.visit(a) for a in node.args]
        return ast.Call(ast.Name(_SHOWN_NAMES.get(name, name), ast.Load()), arguments, [])

    def visit_Attribute(self, node: ast.Attribute) -> ast.AST:
        return self.visit(node.value)


def shown_expression(expression: ast.expr, tokens: dict[str, str]) -> str:
    """An expression with tokens in place of its names: the key of ``templates.json``."""
    return ast.unparse(_Shown(tokens).visit(ast.parse(ast.unparse(expression), mode="eval").body))


class _Placeholder:
    def __init__(self, token: str) -> None:
        self.token = token

    def _repr_latex_(self) -> str:
        return f"@{self.token}@"

    __str__ = __repr__ = _repr_latex_


class _Apart(ast.NodeTransformer):
    """Takes out what handcalcs must render by itself, and leaves a token in its place.

    Inside a longer line it loses the brackets of a sum that holds a fraction, and those of a
    numerator in a list of arguments.
    """

    def __init__(self) -> None:
        self.parts: dict[str, tuple[str, str]] = {}

    def _out(self, node: ast.expr, frame: str) -> ast.Name:
        token = f"VZ{chr(97 + len(self.parts))}"
        self.parts[token] = ast.unparse(node), frame
        return ast.Name(token, ast.Load())

    def visit_BinOp(self, node: ast.BinOp) -> ast.AST:
        if isinstance(node.op, ast.Mult):
            node.left, node.right = (self._factor(side) for side in (node.left, node.right))
        return self.generic_visit(node)

    def _factor(self, node: ast.expr) -> ast.expr:
        if not (isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add | ast.Sub)):
            return node
        holds_fraction = any(isinstance(n, ast.Div) for n in ast.walk(node))
        return self._out(node, r"\left( {} \right)") if holds_fraction else node

    def visit_Call(self, node: ast.Call) -> ast.AST:
        if len(node.args) > 1:
            node.args = [self._out(a, "{}") if isinstance(a, ast.BinOp) else a for a in node.args]
        return self.generic_visit(node)


@functools.cache
def kept() -> dict[str, list[str]]:
    """The kept lines of mathematics, by expression."""
    return json.loads(KEPT.read_text(encoding="utf-8")) if KEPT.exists() else {}


def template_line(expression: str, tokens: Collection[str]) -> tuple[str, str]:
    """(symbolic, numeric) LaTeX of an expression: as kept, or rendered now."""
    symbolic, numeric = kept().get(expression) or render_line(expression, tokens)
    return symbolic, numeric


def render_line(expression: str, tokens: Collection[str]) -> tuple[str, str]:
    """(symbolic, numeric) LaTeX of an expression over tokens, rendered by handcalcs."""
    import handcalcs.global_config  # noqa: F401  (sets the renderer up outside a notebook)
    from handcalcs.handcalcs import LatexRenderer

    if re.fullmatch(r"\w+|[\d.]+", expression):  # a bare name or number is no sum to show
        symbolic = rf"\mathrm{{{expression}}}" if expression in tokens else expression
        return symbolic, f"@{expression}@" if expression in tokens else expression
    tree = ast.parse(expression, mode="eval").body
    if isinstance(tree, ast.UnaryOp):  # handcalcs takes a whole line with a sign for a bare value
        symbolic, numeric = render_line(ast.unparse(tree.operand), tokens)
        wrap = r"- \left( {} \right)" if isinstance(tree.operand, ast.BinOp) else "- {}"
        return wrap.replace("{}", symbolic, 1), wrap.replace("{}", numeric, 1)
    apart = _Apart()
    expression = ast.unparse(apart.visit(tree))
    scope = {token: _Placeholder(token) for token in ("Result", *tokens, *apart.parts)}
    options = {"override": "long", "precision": 3, "sci_not": None}
    rendered = LatexRenderer(f"Result = {expression}\n", scope, options).render()
    inside = rendered.split(r"\begin{aligned}")[1].split(r"\end{aligned}")[0]
    parts = [p.strip().removesuffix("\\\\").strip() for p in inside.split("&=")]
    symbolic, numeric = _tidy(parts[1]), _tidy(parts[2])
    for token, (part, frame) in apart.parts.items():
        inner = [frame.replace("{}", side, 1) for side in render_line(part, tokens)]
        symbolic = symbolic.replace(rf"\mathrm{{{token}}}", inner[0])
        numeric = numeric.replace(f"@{token}@", inner[1])
    return symbolic, symbolic if numeric == "@Result@" else numeric  # no symbols: shown once


def _tidy(latex: str) -> str:
    """Drop parentheses that handcalcs sets around a single symbol or number."""
    latex = re.sub(r"\\left\( (\\mathrm\{V\w\w\}|[\d.]+) \\right\) ?\^", r"\1 ^", latex)
    # an empty group keeps pandoc from writing a fraction as a/b, which it nests wrongly in Typst
    latex = latex.replace(" }{ ", " {} }{ ").replace(r"\frac{1} {", r"\frac{ 1 {} }{")
    latex = re.sub(r"\\operatorname\{(min|max|Phi)\}", r"\\\1", latex)
    latex = latex.replace(r"\operatorname{probit}", r"\Phi^{-1}")
    latex = re.sub(r"\^\{ \\left\( ((?:(?!\\left|\\right).)*) \\right\) \}", r"^{ \1 }", latex)
    latex = re.sub(
        r"\\left\( \\left\( ((?:(?!\\left|\\right).)*) \\right\) \\right\)",
        r"\\left( \1 \\right)",
        latex,
    )
    return latex


def all_lines() -> Iterator[tuple[str, set[str]]]:
    """(expression, tokens) of every line of every formula in the book."""
    from calcbook.basis.formula import Formula
    from calcbook.book.registry import load_formulas

    for entry in load_formulas().values():
        if isinstance(entry, Formula):
            tokens = tokens_of(entry)
            for _, expression in entry.assignments:
                yield shown_expression(expression, tokens), set(tokens.values())


def keep_templates() -> None:
    """Render every line of the book and rewrite ``tables/templates.json``."""
    found = {expression: render_line(expression, tokens) for expression, tokens in all_lines()}
    KEPT.write_text(json.dumps(dict(sorted(found.items())), indent=0) + "\n", encoding="utf-8")


if __name__ == "__main__":
    from calcbook.basis.typst_math import keep_pieces

    keep_templates()
    keep_pieces()
