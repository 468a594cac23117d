"""The mathematics of a formula's line, printed from its syntax tree: as Typst, and how wide it is.

The tree is that of the very function that computes, without what is no mathematics to a reader
(``as_read``). On screen handcalcs renders the same tree (``on_screen.py``).
"""

from __future__ import annotations

import ast
from collections.abc import Mapping
from typing import Any

from calcbook.basis.markup import Operand

_READ_AS = {"minimum": "min", "maximum": "max", "root": "sqrt", "absolute": "abs"}
_SILENT = {"number", "with_unit", "to", "m_as", "float"}  # conversions of units
_ENCLOSING = {"sqrt", "abs", "ceil", "floor"}
_CALLED = {"log": "ln", "probit": "Φ^(-1)", "Phi": "Φ", "tinv": "t^(-1)", "esat": '"esat"'}
_SIGN_WIDTHS: dict[type, int] = {ast.Add: 3, ast.Sub: 3, ast.Mult: 2}
_SUM, _PRODUCT, _COMPOUND, _ATOM = range(4)  # how firmly the parts of an expression hold together


class _AsRead(ast.NodeTransformer):
    def visit_Call(self, node: ast.Call) -> ast.AST:
        function: Any = node.func
        name = function.attr if isinstance(function, ast.Attribute) else function.id
        if name in _SILENT:
            return self.visit(function.value if isinstance(function, ast.Attribute) else node.args[0])
        name = _READ_AS.get(name, name)
        arguments: list[ast.expr] = []
        for argument in map(self.visit, node.args):  # the least of several is one list
            match argument:
                case ast.Call(func=ast.Name(id="min" | "max" as inner)) if inner == name:
                    arguments += argument.args
                case _:
                    arguments.append(argument)
        return ast.Call(ast.Name(name), arguments, [])

    def visit_Attribute(self, node: ast.Attribute) -> ast.AST:
        return self.visit(node.value)


def as_read(expression: ast.expr) -> ast.expr:
    """An expression as a hand calculation shows it: no conversions of units, plain names."""
    return _AsRead().visit(ast.parse(ast.unparse(expression), mode="eval").body)


def _as_product(node: ast.BinOp) -> ast.BinOp | None:
    """A division of what holds a fraction already, as a product of two fractions; None for others."""
    left = node.left
    if not isinstance(node.op, ast.Div) or not isinstance(left, ast.BinOp):
        return None
    if isinstance(left.op, ast.Mult) and any(isinstance(n, ast.Div) for n in ast.walk(left)):
        return ast.BinOp(left.left, ast.Mult(), ast.BinOp(left.right, ast.Div(), node.right))
    if isinstance(left.op, ast.Div):
        return ast.BinOp(left, ast.Mult(), ast.BinOp(ast.Constant(1), ast.Div(), node.right))
    return None


def typst(node: ast.expr, names: Mapping[str, Operand]) -> str:
    """An expression as Typst; names: what stands for each name in it."""
    return _Printer(names).text(node)


class _Printer:
    def __init__(self, names: Mapping[str, Operand]) -> None:
        self.names = names
        self.within = 0  # so many fractions

    def text(self, node: ast.expr, least: int = _SUM) -> str:
        """The node, in brackets where it holds together less firmly than it must."""
        shown, hold = getattr(self, type(node).__name__.lower())(node)
        return shown if hold >= least else f"({shown})"

    def name(self, node: ast.Name) -> tuple[str, int]:
        if node.id == "pi":
            return "π", _ATOM
        operand = self.names[node.id]
        return operand.text, _COMPOUND if operand.compound else _ATOM

    def constant(self, node: ast.Constant) -> tuple[str, int]:
        digits, _, power = repr(node.value).partition("e")
        return (f"{digits} times 10^({int(power)})", _PRODUCT) if power else (digits, _ATOM)

    def unaryop(self, node: ast.UnaryOp) -> tuple[str, int]:
        return f"-{self.text(node.operand, _PRODUCT)}", _SUM

    def binop(self, node: ast.BinOp) -> tuple[str, int]:
        node = _as_product(node) or node
        left, right = node.left, node.right
        match node.op:
            case ast.Add() | ast.Sub():
                sign = "+" if isinstance(node.op, ast.Add) else "-"
                bare = isinstance(node.op, ast.Add) and not isinstance(right, ast.UnaryOp)
                return f"{self.text(left)} {sign} {self.text(right, _SUM if bare else _PRODUCT)}", _SUM
            case ast.Mult():
                return f"{self.text(left, _PRODUCT)} dot.op {self.text(right, _PRODUCT)}", _PRODUCT
            case ast.Div():
                return self.fraction(left, right), _COMPOUND
            case ast.Pow():
                return f"{self.text(left, _ATOM)}^({self.exponent(right)})", _COMPOUND
        raise TypeError(f"no mathematics for {ast.unparse(node)}")

    def fraction(self, above: ast.expr, below: ast.expr) -> str:
        """A fraction; one inside another keeps its size, so that its numbers can be read."""
        self.within += 1
        shown = f"frac({self.text(above)}, {self.text(below)})"
        self.within -= 1
        return f"display({shown})" if self.within else shown

    def exponent(self, node: ast.expr) -> str:
        if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Div):
            return f"{self.text(node.left, _COMPOUND)} slash {self.text(node.right, _ATOM)}"
        return self.text(node)

    def call(self, node: ast.Call) -> tuple[str, int]:
        function = ast.unparse(node.func)
        inside = ", ".join(map(self.text, node.args))
        if function in _ENCLOSING:
            return f"{function}({inside})", _ATOM
        return f"{_CALLED.get(function, function)} ({inside})", _COMPOUND


def width(node: ast.AST, names: Mapping[str, int]) -> int:
    """About how many characters wide an expression prints; a fraction counts its wider part."""
    match node:
        case ast.Name():
            return names.get(node.id, len(node.id))
        case ast.Constant():
            return len(repr(node.value))
        case ast.BinOp(op=ast.Div()):
            product = _as_product(node)
            if product:
                return width(product, names)
            return max(width(node.left, names), width(node.right, names))
    parts = [part for part in ast.iter_child_nodes(node) if isinstance(part, ast.expr)]
    signs = _SIGN_WIDTHS.get(type(getattr(node, "op", None)), 0)
    if isinstance(node, ast.Call):
        signs = 2 * len(parts) - 2  # brackets and commas
    elif not _is_sum(node):
        signs += 2 * sum(map(_is_sum, parts))  # brackets
    return sum(width(part, names) for part in parts) + signs


def _is_sum(node: ast.AST) -> bool:
    return isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add | ast.Sub)
