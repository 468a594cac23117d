"""Formulas that use other formulas, so that none is written twice.

A body may take a line from another formula: ``l = radius_of_relative_stiffness.body(E_c, h, nu, k)``.
It computes by that formula's own body. ``inline`` also shows it so: in place of the call stand the
lines of the other formula, under the name on the left.
"""

from __future__ import annotations

import ast
from typing import Any

from calcbook.basis.formula import Formula


def inline(made: Formula) -> Formula:
    """Give a Formula the lines of every formula that its body calls, for showing.

    made: a Formula whose body has lines ``name = other.body(names...)``, the arguments plain
    names or numbers. Returns the same Formula. Raises TypeError where a name inside the other formula would
    be mistaken for one of this body.
    """
    lines: list[Any] = []
    for name, expression in made.assignments:
        other = _called(made, expression)
        lines += _renamed(made, other, name, expression) if other else [(name, expression)]
    made.__dict__["assignments"] = lines
    return made


def _called(made: Formula, expression: ast.expr) -> Any:
    function = expression.func if isinstance(expression, ast.Call) else None
    if isinstance(function, ast.Attribute) and function.attr == "body":
        return made.body.__globals__[function.value.id]  # type: ignore[attr-defined]
    return None


def _renamed(made: Any, other: Any, target: Any, call: Any) -> Any:
    """The other formula's lines, its parameters and result under this body's names."""
    if not isinstance(other, Formula) or call.keywords:
        raise TypeError(f"{made.name}: call another formula's body by position")
    lines = other.assignments  # read first: it also finds the other formula's symbol
    given = dict(zip(other.arguments, call.args, strict=False))
    for name in list(other.arguments)[len(given) :]:
        given[name] = ast.Constant(other.defaults[name])
    if not all(_plain(value) for value in given.values()):
        raise TypeError(f"{made.name}: give {other.name} plain names or numbers")
    inner = {name for name, _ in lines if name != other.symbol}
    if inner & ({name for name, _ in made.assignments} | set(made.arguments)):
        raise TypeError(f"{made.name} and {other.name} both have a line {', '.join(inner)}")
    given[other.symbol] = ast.Name(target)
    names = {name: target if name == other.symbol else name for name, _ in lines}
    return [(names[name], _Replace(given).visit(_copy(e))) for name, e in lines]


def _plain(value: Any) -> bool:
    return isinstance(value, ast.Name) or (
        isinstance(value, ast.Constant) and isinstance(value.value, int | float)
    )


def _copy(expression: ast.expr) -> ast.expr:
    return ast.parse(ast.unparse(expression), mode="eval").body


class _Replace(ast.NodeTransformer):
    def __init__(self, given: dict[str, Any]) -> None:
        self.given = given

    def visit_Name(self, node: ast.Name) -> Any:
        value = self.given.get(node.id, node)
        return ast.Name(value.id, node.ctx) if isinstance(value, ast.Name) else value
