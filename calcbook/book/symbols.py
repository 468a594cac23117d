"""symbols.md: every symbol of every formula and what it means, subject by subject.

Written from the formulas themselves by ``python -m calcbook.book.references``; a test keeps it true.
"""

from __future__ import annotations

import ast
from collections import defaultdict

from calcbook.basis.formula import Formula
from calcbook.basis.markup import LATEX
from calcbook.book.registry import load_formulas

HEAD = """# Symbols

Every symbol of every formula: as it is printed, its name in the code, and its meaning in each subject
(a module of `calcbook/`), with its unit. Inside one subject a symbol is one kind of quantity; the
few that are not say so in `tests/test_symbols.py`. A symbol on the way to a result has no meaning of its own and is
given by its expression. This file is written by `python -m calcbook.book.references`.

| symbol | in code | meaning (unit; subject) |
|---|---|---|
"""


def formulas() -> list[Formula]:
    """Every one-line formula of the book, in the order of their names."""
    return [entry for _, entry in sorted(load_formulas().items()) if isinstance(entry, Formula)]


def subject(formula: Formula) -> str:
    """The module that a formula stands in."""
    return formula.body.__module__.removeprefix("calcbook.")


def meanings() -> dict[str, dict[str, dict[str, None]]]:
    """symbol -> meaning -> subjects, over all formulas."""
    found: dict[str, dict[str, dict[str, None]]] = defaultdict(lambda: defaultdict(dict))
    for formula in formulas():
        for name, spec in formula.arguments.items():
            found[name][_words(spec.meaning, spec.unit)][subject(formula)] = None
        for name, expression in formula.assignments:
            words = (
                _words(formula.returns.meaning, formula.returns.unit)
                if name == formula.symbol
                else f"`{ast.unparse(expression)}` in `{formula.name}`"
            )
            found[name][words][subject(formula)] = None
    return found


def _words(meaning: str, unit: str) -> str:
    return f"{meaning} ({unit})" if unit != "1" else meaning


def markdown() -> str:
    """The text of symbols.md."""
    rows = [
        f"| ${LATEX.symbol(name)}$ | `{name}` | "
        + "; ".join(f"{words}: {', '.join(where)}" for words, where in found.items()).replace(
            "|", "\\|"
        )
        + " |\n"
        for name, found in sorted(meanings().items(), key=lambda pair: (pair[0].lower(), pair[0]))
    ]
    return HEAD + "".join(rows)
