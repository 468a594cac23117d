"""The hand calculation of one use of a formula: its lines with symbols, with numbers, with the result.

What a line shows is decided here, once for the screen (LaTeX) and the paper (Typst): the numbers in
the units and digits that the book chose, the pieces that only repeat, and where a long line is broken.
"""

from __future__ import annotations

import ast
import functools
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NamedTuple

from calcbook.basis.markup import LATEX, PLAIN, TYPST, Markup, Operand
from calcbook.basis.mathematics import as_read, typst, width
from calcbook.basis.on_screen import latex
from calcbook.basis.showing import magnitude, money_text, number_text, show
from calcbook.basis.units import TRADE_UNITS

if TYPE_CHECKING:
    from calcbook.basis.formula import Formula, Line

_ONE_ROW, _TWO_PIECES = 80, 72  # characters, about, that fit the page


def quantity(value: Any, unit_name: str, system: str = "us", digits: int = 3) -> str:
    """A quantity in a trade unit of the system, as mathematics shows it: ``17.28 yd³``."""
    if isinstance(value, str):
        return value
    label = TRADE_UNITS[unit_name].label_for(system)
    number = magnitude(value, unit_name, system)
    if label.startswith("$"):
        shown, label = money_text(number, system), label[1:]
    else:
        shown = "less than 0.01" if label == "%" and 0 < number < 0.01 else number_text(number, digits)
    gap = "" if label in ("", "°", "%") or label.startswith("/") else " "
    return f"{shown}{gap}{label}"


class Pieces(NamedTuple):
    """The parts of a line between its signs of equality, in one markup."""

    symbol: str
    symbolic: str
    substituted: str
    result: str


@dataclass(frozen=True)
class ShownLine:
    """A line of a hand calculation.

    symbol: of what it gives; expression: as it is read; symbols, values: what is printed for each name
    in it; results: the value in each unit that is shown.
    """

    symbol: str
    expression: ast.expr
    symbols: Mapping[str, str]
    values: Mapping[str, str]
    results: tuple[str, ...]

    def _pieces(
        self, markup: Markup, printed: Callable[[ast.expr, Mapping[str, Operand]], str]
    ) -> Pieces:
        symbols = {name: Operand(markup.symbol(symbol)) for name, symbol in self.symbols.items()}
        values = {name: markup.operand(value) for name, value in self.values.items()}
        return Pieces(
            markup.symbol(self.symbol), printed(self.expression, symbols), printed(self.expression, values),
            " = ".join(map(markup.value, self.results)),
        )  # fmt: skip

    @functools.cached_property
    def on_screen(self) -> Pieces:
        """The pieces as LaTeX, rendered by handcalcs."""
        return self._pieces(LATEX, latex)

    @functools.cached_property
    def on_paper(self) -> Pieces:
        """The pieces as Typst."""
        return self._pieces(TYPST, typst)

    @functools.cached_property
    def widths(self) -> tuple[int, int, int, int]:
        """About how many characters wide each piece prints."""
        values = {name: len(value) for name, value in self.values.items()}
        return (
            _symbol_width(self.symbol), _symbolic_width(self.expression, tuple(self.symbols.items())),
            width(self.expression, values), len(" = ".join(self.results)),
        )  # fmt: skip

    @functools.cached_property
    def rows(self) -> tuple[tuple[int, ...], ...]:
        """Which pieces stand on which row, without those that only repeat another."""
        shown = [1, 2, 3]
        if isinstance(self.expression, ast.Constant):
            shown = [3]
        elif not self.values or self._names_result:
            shown = [1, 3]
        if self.widths[0] + sum(self.widths[n] for n in shown) <= _ONE_ROW:
            return (tuple(shown),)
        if len(shown) == 3 and self.widths[2] + self.widths[3] <= _TWO_PIECES:
            return ((1,), (2, 3))
        return tuple((n,) for n in shown)

    @property
    def _names_result(self) -> bool:
        """True where the right side is a name alone, whose value is the result."""
        return isinstance(self.expression, ast.Name) and self.results[-1] in self.values.values()

    @property
    def widest(self) -> int:
        """About how many characters wide the widest row prints."""
        return self.widths[0] + max(sum(self.widths[n] for n in row) for row in self.rows)

    def latex(self) -> str:
        """``symbol = symbolic = substituted = result`` on one line, or broken at the signs."""
        rows = (" = ".join(self.on_screen[n] for n in row) for row in self.rows)
        return f"{self.on_screen.symbol} &= " + r" \\ &= ".join(rows)

    def typst(self) -> str:
        """The same for paper."""
        rows = (" = ".join(self.on_paper[n] for n in row) for row in self.rows)
        return f"{self.on_paper.symbol} &= " + " \\\n&= ".join(rows)


def _symbol_width(symbol: str) -> int:
    return len(PLAIN.symbol(symbol).replace("_", ""))


@functools.cache  # the same at every use of a formula
def _symbolic_width(expression: ast.expr, symbols: tuple[tuple[str, str], ...]) -> int:
    return width(expression, {name: _symbol_width(symbol) for name, symbol in symbols})


def shown_lines(
    formula: Formula,
    bound: dict[str, Any],
    lines: Sequence[Line],
    system: str = "us",
    symbol: str | None = None,
) -> list[ShownLine]:
    """The hand calculation of one use of a formula, ready to print.

    formula: a Formula; bound: its checked arguments; lines: ``formula.lines(bound)``;
    symbol: replaces the last symbol. Returns a list of ShownLine. A formula bound to
    psi and inches (a code's square root of strength) keeps them in an SI job, and its result is
    converted at the end, so that the substitution can be followed with a pocket calculator.
    """
    converted = formula.unit_bound and system == "si"
    shown_system = "us" if converted else system
    symbols = {name: spec.symbol or name for name, spec in formula.arguments.items()}
    values = {
        name: quantity(value, spec.unit, shown_system, spec.digits)
        for (name, spec), value in zip(formula.arguments.items(), bound.values(), strict=True)
    }
    found = []
    for (expression, names), line in zip(_as_read(formula), lines, strict=True):
        last = line.name == formula.symbol
        digits = formula.returns.digits if last else 3
        results = [quantity(line.value, line.unit, shown_system, digits)]
        if converted and last and TRADE_UNITS[line.unit].si != line.unit:
            results.append(quantity(line.value, line.unit, system, digits))
        left = symbol if symbol and last else line.name
        used = (expression, {n: symbols[n] for n in names}, {n: values[n] for n in names})
        found.append(ShownLine(left, *used, tuple(results)))
        symbols[line.name], values[line.name] = line.name, results[0]
    return found


@functools.cache
def _as_read(formula: Formula) -> list[tuple[ast.expr, list[str]]]:
    """Each line of a formula as it is read, and the names in it that have a value."""
    known, found = set(formula.arguments), []
    for name, expression in formula.assignments:
        read = as_read(expression)
        found.append((read, sorted({n.id for n in ast.walk(read) if isinstance(n, ast.Name)} & known)))
        known.add(name)
    return found


def plain_line(formula: Formula, line: Line) -> str:
    """One line of a hand calculation as plain text, for the terminal: ``V = A·t = 15.4 yd³``."""
    expression = ast.unparse(as_read(dict(formula.assignments)[line.name]))
    digits = formula.returns.digits if line.name == formula.symbol else 3
    shown = expression.replace("**", "^").replace("*", "·")
    return f"{line.name} = {shown} = {show(line.value, line.unit, digits=digits)}"


def aligned(rows: Iterable[str]) -> str:
    """LaTeX rows under each other, signs aligned."""
    return "\\begin{aligned}\n" + " \\\\[4pt]\n".join(rows) + "\n\\end{aligned}"
