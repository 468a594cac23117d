"""What a calculation is made of: inputs, steps, findings, notes, tables, figures, checks, takeoff."""

from __future__ import annotations

import functools
import re
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from calcbook.basis import by_hand
from calcbook.basis.formula import Formula
from calcbook.basis.markup import LATEX, TYPST
from calcbook.basis.showing import show
from calcbook.basis.sources import Citation

if TYPE_CHECKING:
    import pandas as pd
    from matplotlib.figure import Figure as MatplotlibFigure


@dataclass(frozen=True)
class Input:
    """A value that the calculation starts from: given in the job file, or assumed and why."""

    symbol: str
    meaning: str
    text: str
    place: str
    assumed: str = ""
    value: Any = field(default=None, compare=False)


@dataclass
class Step:
    """One use of a formula; numbers: its checked arguments, each in its declared unit."""

    words: str
    formula: Formula
    numbers: dict[str, Any]
    value: Any
    symbol: str | None = None
    flags: list[str] = field(default_factory=list)
    system: str = "us"

    @property
    def source(self) -> Citation:
        """Where the formula is published."""
        return self.formula.source

    @property
    def unit(self) -> str:
        """Trade unit of the value."""
        return self.formula.returns.unit

    @property
    def term(self) -> str:
        """The term that heads the step, as an engineer looks for it."""
        return self.formula.title

    @property
    def called(self) -> str:
        """The symbol of the result."""
        last, _ = self.formula.assignments[-1]
        return self.symbol or last

    @functools.cached_property
    def bound(self) -> dict[str, Any]:
        """The arguments as quantities."""
        return self.formula.dressed(self.numbers)

    @functools.cached_property
    def shown(self) -> list[by_hand.ShownLine]:
        """The lines of the hand calculation."""
        lines = self.formula.lines(self.bound)
        return by_hand.shown_lines(self.formula, self.bound, lines, self.system, self.symbol)

    @property
    def latex(self) -> str:
        """The hand calculation as LaTeX."""
        return by_hand.aligned(line.latex() for line in self.shown)

    @property
    def typst(self) -> str:
        """The hand calculation for paper."""
        rows = " \\\n".join(line.typst() for line in self.shown)
        return f"$ {rows} $"

    @property
    def result_text(self) -> str:
        """The value as text in the job's units."""
        return show(self.value, self.unit, self.system, self.formula.returns.digits)


@dataclass(frozen=True)
class Finding:
    """A result that a layout, integral or search gives: plain words instead of a formula line.

    label: the term that heads it; "" where nothing heads it but its own words.
    """

    words: str
    symbol: str
    value: Any
    unit: str
    source: Citation
    system: str = "us"
    label: str = ""

    @property
    def term(self) -> str:
        """The term that heads the finding, as an engineer looks for it."""
        return f"{self.label[:1].upper()}{self.label[1:]}"

    @property
    def called(self) -> str:
        """The symbol of the result; "" without one."""
        return self.symbol

    @property
    def result_text(self) -> str:
        """The value as text in the job's units."""
        if isinstance(self.value, str):
            return self.value
        return show(self.value, self.unit, self.system)

    @property
    def latex(self) -> str:
        """The value under its symbol, as LaTeX."""
        return by_hand.aligned([f"{LATEX.symbol(self.symbol)} &= {LATEX.value(self._shown)}"])

    @property
    def typst(self) -> str:
        """The same for paper."""
        return f"$ {TYPST.symbol(self.symbol)} &= {TYPST.value(self._shown)} $"

    @property
    def _shown(self) -> str:
        return by_hand.quantity(self.value, self.unit, self.system)


@dataclass(frozen=True)
class Result:
    """A named result: its label and the step, and the number of that step, that gave it."""

    name: str
    label: str
    step: Any
    number: int


@dataclass(frozen=True)
class Note:
    """A paragraph between steps."""

    words: str


@dataclass(frozen=True)
class Table:
    """A table of finished text with a title; ``frame`` gives it as a pandas DataFrame."""

    title: str
    columns: tuple[str, ...]
    cells: tuple[tuple[str, ...], ...] | Callable[[], tuple[tuple[str, ...], ...]]
    source: Citation | None = None

    @functools.cached_property
    def rows(self) -> tuple[tuple[str, ...], ...]:
        """Its rows, worked out now where they were left until someone looks."""
        return self.cells() if callable(self.cells) else self.cells

    @functools.cached_property
    def frame(self) -> pd.DataFrame:
        """The table as a pandas DataFrame."""
        import pandas as pd  # when it is wanted: it takes longer to load than a printout's tables to set

        return pd.DataFrame(self.rows, columns=list(self.columns))

    @property
    def numeric(self) -> list[bool]:
        """For each column: whether every cell is a number, a price or empty."""
        columns = zip(*self.rows, strict=True)
        return [all(not v or re.match(r"[-−$]?[\d.]", v) for v in column) for column in columns]


@dataclass(frozen=True)
class Figure:
    """A drawing: ``draw()`` gives a matplotlib Figure when it is wanted."""

    title: str
    draw: Callable[..., MatplotlibFigure]
    note: str = ""


@dataclass(frozen=True)
class Check:
    """A claim: what is compared, demand against capacity, and the verdict.

    title: the term and what it is of; remark: what was weighed, and how; to_do: what mends it, "" where it is OK;
    least: capacity is what is there, demand the least that is required.
    """

    title: str
    demand: str
    capacity: str
    ratio: float | None
    status: str
    clause: Citation
    remark: str = ""
    values: tuple[Any, ...] = field(
        default=(), compare=False
    )  # demand and capacity as they were weighed
    least: bool = False
    to_do: str = ""

    @property
    def claim(self) -> str:
        """The check in words, the same on every page and paper: the title, what is there, what is allowed."""
        if self.least:
            told = f"{self.capacity}, at least {self.demand} required"
        elif self.ratio is not None:
            told = f"{self.demand} of {self.capacity} allowed"
        else:
            told = ", ".join(filter(None, (self.demand, self.capacity)))
        return f"{self.title}: {told}" if told else self.title


@dataclass(frozen=True)
class TakeoffLine:
    """One thing to buy, rent or do, as it goes into the quote.

    amount: in ``unit``, or None where it is not known yet; price: the key in [prices]; kind:
    "material", "labor" or "equipment"; note: how the amount came about, or what would tell it;
    slab: the further slab that it is for.
    """

    words: str
    amount: Any
    unit: str
    price: str
    kind: str = "material"
    note: str = ""
    slab: str = ""
