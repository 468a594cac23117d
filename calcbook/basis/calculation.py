"""Step, Check, Calculation: what notebooks, printout and quote all read.

A calculation runs formulas in order and keeps every step: formula, inputs, values, source and
plain words. Rendering waits until someone looks (``screen.py``, ``printout.py``).
"""

from __future__ import annotations

import contextlib
import copy
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, Protocol

from calcbook.basis.blocks import Check, Figure, Finding, Input, Note, Result, Step, Table, TakeoffLine
from calcbook.basis.formula import Choice, Formula
from calcbook.basis.safety import cautions_of
from calcbook.basis.showing import show
from calcbook.basis.sources import Citation, cite
from calcbook.basis.units import Q, Quantity, number_in

if TYPE_CHECKING:
    from matplotlib.figure import Figure as MatplotlibFigure

OK, NOT_OK, UNKNOWN, NEEDS_ENGINEER = "OK", "NOT OK", "NOT WORKED OUT", "NEEDS ENGINEER"
WORST_FIRST = (NOT_OK, UNKNOWN, NEEDS_ENGINEER, OK)
_RECORD = "Record the engineer's answer under [[answers]] in the job file."
# what to do where a check names nothing better
NO_BETTER = {
    NOT_OK: "Change what it rests on, as its chapter shows, or ask a licensed engineer.",
    NEEDS_ENGINEER: "Ask a licensed engineer.",
}
_NUMBERED = (Step, Finding)  # blocks that are counted


def _to_do(status: str, words: str) -> str:
    """What mends a check of this status, "" where it is OK; words: what its chapter says."""
    if status == OK:
        return ""
    if not words:
        return NO_BETTER[status]
    alone = status == NOT_OK or "engineer" in words
    return words if alone else f"{words} Else ask a licensed engineer."


class Fields(Protocol):
    """What a calculation asks of a job: its fields by place."""

    def field(self, place: str) -> Any:
        """A field such as ``"slab.thickness"`` with value, text, meaning and why it was assumed."""

    def answer(self, title: str) -> str:
        """What an engineer answered to the check of this title; "" without an answer."""


class Calculation:
    """An ordered run of formulas on one subject.

    name: short name used in commands and links; title and question: for the reader;
    system: ``"us"`` or ``"si"``, the units that are shown.
    """

    def __init__(self, name: str, title: str, question: str, system: str = "us") -> None:
        self.name, self.title, self.question, self.system = name, title, question, system
        self.slab, self.part = (
            "",
            "",
        )  # of a further slab: its name, and the part of the printout that begins here
        self.inputs: list[Input] = []
        self.blocks: list[Any] = []  # Step, Finding, Note and Table, in order
        self.checks: list[Check] = []
        self.figures: list[Figure] = []
        self.cautions = list(cautions_of(name))  # of the work, however little is worked out
        self.takeoff: list[TakeoffLine] = []
        self.not_priced: list[
            tuple[str, tuple[str, ...]]
        ] = []  # (words, how a line that prices it is called)
        self.order_lines: list[tuple[str, str]] = []  # (name, words) for the dispatcher
        self.results: dict[str, Any] = {}
        self.shown_results: list[Result] = []
        self._for_builder: set[int] = set()  # what ``for_builder`` holds, by id

    # --- filling ---
    @contextlib.contextmanager
    def for_builder(self) -> Iterator[None]:
        """What is entered inside is the builder's own business (prices, hours, orders): no paper for others shows it."""
        kinds: tuple[list[Any], ...] = (self.inputs, self.blocks, self.figures, self.checks)
        before = [len(kind) for kind in kinds]
        yield
        entered = (one for kind, n in zip(kinds, before, strict=True) for one in kind[n:])
        self._for_builder |= set(map(id, entered))

    def is_for_builder(self, entered: Any) -> bool:
        """Whether an input, block, figure or check of this calculation is the builder's own business."""
        return id(entered) in self._for_builder

    def given(self, job: Fields, place: str, symbol: str = "", meaning: str | None = None) -> Any:
        """Enter a field of the job file as an input and return its value.

        place: ``"slab.thickness"``; symbol: its name in formulas; meaning: in place of the field's own. Marks it assumed where the job file leaves it out.
        """
        entry = job.field(place)
        found = Input(symbol, meaning or entry.meaning, entry.text, place, entry.assumed, entry.value)
        # what several parts of a chapter take stands once
        if all((i.place, i.symbol, i.meaning) != (place, symbol, found.meaning) for i in self.inputs):
            self.inputs.append(found)
        return entry.value

    def step(
        self,
        formula: Formula | Choice,
        words: str = "",
        symbol: str | None = None,
        name: str | None = None,
        label: str | None = None,
        **inputs: Any,
    ) -> Any:
        """Run a formula, keep the step, return its value.

        words: why this step; symbol: of its result (see ``markup.py``); name: enters ``results``, printed
        with ``label`` (without one, with what the formula says it gives). A value outside
        the range of the source is flagged as a caution.
        """
        if isinstance(formula, Choice):
            formula = formula.pick(inputs)
        numbers = formula.numbers(**inputs)
        flags = formula.flags(**numbers)
        value = formula.of_step(numbers)
        self.blocks.append(
            Step(words or formula.title, formula, numbers, value, symbol, flags, self.system)
        )
        for flag in flags:
            self.caution(f"{formula.title}: {flag}.")
        self._keep(name, label or formula.returns.meaning)
        return value

    def finding(
        self,
        words: str,
        symbol: str,
        value: Any,
        unit: str,
        source: Citation,
        name: str | None = None,
        label: str | None = None,
    ) -> Any:
        """Enter a result of a layout or search; returns the value.

        value: in ``unit`` (a trade unit; "" for finished text); source: a Citation;
        label: the term that heads it; words, symbol, name: as for ``step``.
        """
        self.blocks.append(Finding(words, symbol, value, unit, source, self.system, label or ""))
        self._keep(name, label or words)
        return value

    def _keep(self, name: str | None, label: str) -> None:
        if name:
            block = self.blocks[-1]
            self.results[name] = block.value
            self.shown_results.append(Result(name, label, block, len(self.steps)))

    def note(self, words: str) -> None:
        """Enter a remark that stands between the steps."""
        self.blocks.append(Note(words))

    def table(self, title: str, rows: Iterable[dict[str, Any]], source: Citation | None = None) -> None:
        """Enter a table: rows as dictionaries with the same keys, its columns; none is entered without rows."""
        found = list(rows)
        if found:
            cells = tuple(tuple(str(v) for v in row.values()) for row in found)
            self.blocks.append(Table(title, tuple(found[0]), cells, source))

    def late_table(
        self,
        title: str,
        columns: tuple[str, ...],
        cells: Callable[[], tuple[tuple[str, ...], ...]],
        source: Citation,
    ) -> None:
        """Enter a table whose rows take long: ``cells()`` gives them once someone looks."""
        self.blocks.append(Table(title, columns, cells, source))

    def figure(self, title: str, draw: Callable[..., MatplotlibFigure], note: str = "") -> None:
        """Enter a drawing: ``draw()`` gives a matplotlib Figure once someone looks; note: stands below it."""
        self.figures.append(Figure(title, draw, note))

    def caution(self, words: str) -> None:
        """Enter a caution against harm; the same words stand once."""
        if words not in self.cautions:
            self.cautions.append(words)

    def check(
        self,
        title: str,
        demand: Any,
        capacity: Any,
        unit: str,
        clause: Citation,
        remark: str = "",
        needs_engineer: bool = False,
        least: bool = False,
        to_do: str = "",
    ) -> bool:
        """Compare demand with capacity (quantities or numbers) and keep the verdict.

        title: the term and what it is of; unit: trade unit of both; clause: the rule; remark: what was weighed, and
        how. least: for a minimum (a thickness, a depth): the demand is what is required, the capacity what is
        provided. needs_engineer: True where a failed check is beyond the builder to mend. to_do: what mends it,
        kept only where it fails.
        """
        d, c = (number_in(x, unit) if isinstance(x, Quantity) else float(x) for x in (demand, capacity))
        ratio = d / c if c else (0.0 if d <= 0 else float("inf"))
        passed = d <= c + 1e-9 * abs(c)
        ratio = min(ratio, 1.0) if passed else ratio  # an even one may come out a hair above 1
        status = OK if passed else (NEEDS_ENGINEER if needs_engineer else NOT_OK)
        both = [Q(x, unit) if unit != "1" else x for x in (d, c)]
        found, wanted = (show(x, unit, self.system, exact=False) for x in both)
        if found == wanted and d != c:  # what tells them apart must stand there
            found, wanted = (show(x, unit, self.system) for x in both)
        self.checks.append(
            Check(title, found, wanted, ratio, status, clause, remark, (demand, capacity), least,
                  _to_do(status, to_do))
        )  # fmt: skip
        return status == OK

    def verdict(
        self,
        title: str,
        passed: bool,
        clause: Citation,
        found: str = "",
        wanted: str = "",
        remark: str = "",
        needs_engineer: bool = False,
        to_do: str = "",
    ) -> bool:
        """Enter a yes-or-no check, such as a rule of layout.

        found, wanted: finished text, such as "45 °F" and "above 32 °F required"; the rest as for ``check``.
        """
        status = OK if passed else (NEEDS_ENGINEER if needs_engineer else NOT_OK)
        self.checks.append(
            Check(title, found, wanted, None, status, clause, remark, to_do=_to_do(status, to_do))
        )
        return passed

    def ask_engineer(
        self,
        title: str,
        clause: Citation,
        remark: str,
        answers: Fields | None = None,
        to_do: str = "",
    ) -> None:
        """Enter what a builder's calculation must leave to a licensed engineer.

        remark: why, and what the engineer decides. answers: the job, where an answer recorded there closes it; not
        where a number is missing, which the remark asks for. to_do: what the builder can do in place of asking.
        """
        said = answers.answer(title) if answers else ""
        if said:
            check = Check(title, "", "", None, OK, clause, said)
        elif answers:
            to_do = f"{to_do} Or: {_RECORD}" if to_do else _RECORD
            check = Check(title, "", "", None, NEEDS_ENGINEER, clause, remark, to_do=to_do)
        else:
            check = Check(title, "", "", None, NEEDS_ENGINEER, clause, to_do=remark)
        self.checks.append(check)

    def not_worked_out(self, missing: str, title: str = "", clause: Citation | None = None) -> None:
        """Enter that a check, or without a title the calculation, is not worked out: it is never OK.

        missing: a sentence on what to give, or what stands in the way; clause: as for ``check``.
        """
        self.checks.append(
            Check(
                title or f"The chapter {self.title}",
                "",
                "",
                None,
                UNKNOWN,
                clause or PRACTICE,
                to_do=missing,
            )
        )

    def take(
        self, words: str, amount: Any, unit: str, price: str, kind: str = "material", note: str = ""
    ) -> None:
        """Enter a line of the takeoff; the quote prices it from ``prices.<price>``.

        amount: in ``unit``, a trade unit; None where it is not known: note says what would tell it.
        """
        self.takeoff.append(TakeoffLine(words, amount, unit, price, kind, note))

    def work(self, words: str, hours: Any, note: str = "") -> None:
        """Enter person-hours of the takeoff, and the step that gave them; the quote prices them by the wage."""
        if self.blocks and getattr(self.blocks[-1], "value", None) is hours:
            self._for_builder.add(id(self.blocks[-1]))
        self.take(words, hours, "h", "wage", "labor", note)

    def leave_out(self, words: str, called: tuple[str, ...]) -> None:
        """Enter work that no line prices: a remark here, and one under the price.

        called: how the name of an extra line that prices it all the same has it, in small letters.
        """
        self.note(words)
        self.not_priced.append((words, called))

    def of_slab(self, slab: str, name: str, part: str = "") -> Calculation:
        """The same of a further slab, whose name stands in title, results and takeoff.

        name: its short name in the book; part: of the printout that it begins.
        """
        made = copy.copy(self)
        made.slab, made.name, made.part = slab, name, part
        made.title = f"{self.title}: {slab}"
        made.shown_results = [replace(r, label=f"{r.label}, {slab}") for r in self.shown_results]
        made.checks = [
            replace(k, to_do=k.to_do.replace("[[answers]]", "[[slabs.answers]]"))
            if "[[answers]]" in k.to_do else k for k in self.checks
        ]  # fmt: skip
        named = f", {slab}"  # a line for several slabs ends so already
        made.takeoff = [
            replace(line, words=line.words.removesuffix(named) + named, slab=slab)
            for line in self.takeoff
        ]
        return made

    # --- reading ---
    @property
    def steps(self) -> list[Step | Finding]:
        """Steps and findings in order, without the notes and tables between them."""
        return [b for b in self.blocks if isinstance(b, _NUMBERED)]

    @property
    def sources(self) -> list[Citation]:
        """Every citation used, once, in order of use."""
        cited = [b.source for b in self.blocks if getattr(b, "source", None)]
        cited += [c.clause for c in self.checks]
        return list(dict.fromkeys(cited))

    @property
    def status(self) -> str:
        """The worst verdict of all checks."""
        found = {c.status for c in self.checks}
        return next((s for s in WORST_FIRST if s in found), OK)

    def text(self, name: str) -> str:
        """A result as text in the job's units."""
        return next(r.step.result_text for r in self.shown_results if r.name == name)

    def __repr__(self) -> str:
        return f"<calculation {self.name}>"

    def _repr_html_(self) -> str:
        from calcbook.paper import screen

        return screen.calculation_html(self)


@dataclass(frozen=True)
class Found:
    """What a chapter found: its Calculation for the reader; a chapter adds what later ones may use.

    Two are the same where what later chapters may use is the same.
    """

    calculation: Calculation = field(compare=False)


PRACTICE = cite("common practice")
