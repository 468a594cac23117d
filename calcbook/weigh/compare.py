"""Two versions of a job side by side: what changed in inputs, results, checks and price."""

from __future__ import annotations

import functools
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, TypeVar

from calcbook.basis.showing import money_text
from calcbook.basis.text_table import aligned, csv_text, terminal_width
from calcbook.book.chapters import Book
from calcbook.job.files import JobError
from calcbook.weigh.compare_fields import fields_of
from calcbook.weigh.compare_values import difference, near, near_texts, same, signed_money

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from calcbook.basis.calculation import Check, Finding, Step
    from calcbook.job.file import Job
    from calcbook.price.quote import QuoteLine
    from calcbook.weigh.compare_fields import Field

ABSENT = "–"
HEADINGS = ("where", "what", "old", "new", "difference", "remark")


@dataclass(frozen=True)
class Change:
    """One thing that is not as it was; ``old`` or ``new`` is a dash where it was not there."""

    where: str
    what: str
    old: str
    new: str
    difference: str = ""
    remark: str = ""

    @property
    def cells(self) -> tuple[str, ...]:
        """Cells of a row under ``HEADINGS``."""
        return self.where, self.what, self.old, self.new, self.difference, self.remark


class Comparison:
    """What changed from one version of a job to another.

    old, new: Jobs. All is shown in the units of the new one. ``inputs``, ``results``, ``checks``
    and ``lines`` are lists of Change; ``text()`` and ``csv()`` show them.
    """

    def __init__(self, old: Job, new: Job, new_book: Book | None = None) -> None:
        self.old, self.new = old, new
        if old.currency != new.currency:
            raise JobError(
                f"the prices of one version are in {old.currency}, those of the other in {new.currency}: "
                "compare versions in one currency"
            )
        self.new_book = new_book or Book(new)
        self.old_book = Book(old.shown_in(new.system), self.new_book)

    @property
    def title(self) -> str:
        """What is compared, in words."""
        return f"Changes from {_version(self.old, self.new)} to {_version(self.new, self.old)}"

    @functools.cached_property
    def inputs(self) -> list[Change]:
        """Fields of the job files: values that differ, and defaults that became given or back."""
        system = self.new.system
        old, new = fields_of(self.old, system), fields_of(self.new, system)
        found = (_input(at, old.get(at), new.get(at), system) for at in _in_order(old, new))
        return [change for change in found if change]

    @functools.cached_property
    def results(self) -> list[Change]:
        """Results of every calculation, the quote last, that came out otherwise."""
        system, changes = self.new.system, []
        old, new = _results(self.old_book), _results(self.new_book)
        for key in _in_order(old, new):
            (title, label), a, b = (new.get(key) or old[key])[0], old.get(key), new.get(key)
            old_text, new_text = (ABSENT if x is None else x[1].result_text for x in (a, b))
            old_value, new_value = (None if x is None else x[1].value for x in (a, b))
            if not same(old_value, new_value, old_text, new_text):
                unit_name = (b or old[key])[1].unit
                change = difference(old_value, new_value, unit_name, system)
                changes.append(Change(title, label, old_text, new_text, change))
        return changes

    @functools.cached_property
    def checks(self) -> list[Change]:
        """Checks with another verdict or ratio, the worst of the new ones first."""
        old, new = _checks(self.old_book), _checks(self.new_book)
        changes = []
        for key in _in_order(new, old):
            a, b = old.get(key), new.get(key)
            if a is None or b is None or _moved(a, b):
                remark = "verdict changed" if a and b and a.status != b.status else ""
                texts = _check_text(a), _check_text(b), _ratio_difference(a, b)
                changes.append(Change(*key[:2], *texts, remark))
        return changes

    @functools.cached_property
    def lines(self) -> list[Change]:
        """Lines of the priced takeoff with another amount, price or cost."""
        old, new = _lines(self.old_book), _lines(self.new_book)
        changes = []
        for key in _in_order(old, new):
            a, b = old.get(key), new.get(key)
            if a is None or b is None or (a.amount, a.unit, a.price) != (b.amount, b.unit, b.price):
                before, after = (float(line.cost or 0) if line else 0.0 for line in (a, b))
                more = signed_money(after - before, self.new.system)
                changes.append(Change(*key[:2], _line_text(a), _line_text(b), more))
        return changes

    @property
    def parts(self) -> list[tuple[str, list[Change]]]:
        """(title, changes) of every part, in order."""
        return [
            ("Inputs", self.inputs),
            ("Quantities and results", self.results),
            ("Checks", self.checks),
            ("Lines of the quote", self.lines),
        ]

    def summary(self) -> list[str]:
        """Sentences: how much changed, and what it does to the price and the open checks."""
        prices = [book.quote.calculation.results["total"].m for book in (self.old_book, self.new_book)]
        open_checks = [
            sum(c.status != "OK" for _, c in book.checks) for book in (self.old_book, self.new_book)
        ]
        complete = all(book.quote.complete for book in (self.old_book, self.new_book))
        system = self.new.system
        counted = ", ".join(f"{title.lower()} {len(changes)}" for title, changes in self.parts)
        return [
            f"Changed: {counted}.",
            f"Price {money_text(prices[0], system)} -> {money_text(prices[1], system)} ({signed_money(prices[1] - prices[0], system)})"
            + ("." if complete else "; NOT COMPLETE, a price or an amount is missing."),
            f"Open checks {open_checks[0]} -> {open_checks[1]}.",
        ]

    def data(self) -> dict[str, Any]:
        """For the printout, as plain data: title, summary, and the parts in which anything changed."""
        parts = [
            {"title": title, "rows": [_printed(change.cells) for change in changes]}
            for title, changes in self.parts
            if changes
        ]
        return {"title": self.title, "summary": _printed(self.summary()), "parts": parts}

    def text(self) -> str:
        """For the terminal."""
        parts = [self.title, "", *self.summary()]
        for title, changes in self.parts:
            if changes:
                rows = aligned(HEADINGS, [_cut(c.cells) for c in changes], room=terminal_width() - 2)
                parts += ["", title, *(f"  {row}" for row in rows)]
        return "\n".join(parts) + "\n"

    def csv(self) -> str:
        """All changes as CSV."""
        rows = [(title, *change.cells) for title, changes in self.parts for change in changes]
        return csv_text(("part", *HEADINGS), rows)


def _version(job: Job, other: Job) -> str:
    """How a version is called: by its date, and by its file where the dates do not tell."""
    name = job.path.name if job.path else "the job"
    if job.job.date and job.job.date != other.job.date:
        return job.job.date
    return f"{name} ({job.job.date or 'no date'})"


def _printed(texts: Iterable[str]) -> list[str]:
    """Texts with an arrow as paper shows it."""
    return [text.replace("->", "→") for text in texts]


def _cut(cells: Sequence[str], longest: int = 60) -> tuple[str, ...]:
    return tuple(c if len(c) <= longest else c[: longest - 3] + "..." for c in cells)


_Key = TypeVar("_Key")
_Row = TypeVar("_Row")


def _in_order(first: Iterable[_Key], second: Iterable[_Key]) -> list[_Key]:
    """Keys of both, in the order of the first, what only the second has after its neighbour there."""
    keys = list(first)
    for position, key in enumerate(second):
        if key not in first:
            before = list(second)[position - 1] if position else None
            keys.insert(keys.index(before) + 1 if before in keys else 0, key)
    return keys


# --- inputs --------------------------------------------------------------------------------


def _input(place: str, a: Field | None, b: Field | None, system: str) -> Change | None:
    if a is None or b is None:
        field = a or b
        if field is None or not field.given or field.text in ("", "not given"):
            return None
        if b is None:
            return Change(place, field.meaning, field.text, ABSENT, remark="taken out")
        return Change(place, field.meaning, ABSENT, field.text, remark="new")
    if not same(a.value, b.value, a.text, b.text):
        return Change(place, b.meaning, a.text or ABSENT, b.text or ABSENT,
                      difference(a.value, b.value, b.unit, system, b.text.endswith("%")), _origin(a, b))  # fmt: skip
    if a.given != b.given and a.text:
        return Change(place, b.meaning, a.text, b.text, "", _origin(a, b))
    return None


def _origin(a: Field, b: Field) -> str:
    """Whether each is given or the book's default, where that changed."""
    if a.given == b.given:
        return ""
    return "was a default, now given" if b.given else "was given, now a default"


# --- results, checks, lines ----------------------------------------------------------------


def _results(book: Book) -> dict[tuple[str, str], tuple[tuple[str, str], Finding | Step]]:
    return {
        (chapter.name, result.name): ((chapter.title, result.label), result.step)
        for chapter in book.chapters
        for result in chapter.shown_results
    }


def _checks(book: Book) -> dict[tuple[str, str, int], Check]:
    return _numbered((calculation.title, check.title, check) for calculation, check in book.checks)


def _lines(book: Book) -> dict[tuple[str, str, int], QuoteLine]:
    return _numbered((line.kind, line.words, line) for line in book.quote.lines)


def _numbered(rows: Iterable[tuple[str, str, _Row]]) -> dict[tuple[str, str, int], _Row]:
    """What stands under two words, and of several under the same words by which of them it is."""
    found: dict[tuple[str, str, int], _Row] = {}
    count: Counter[tuple[str, str]] = Counter()
    for where, what, row in rows:
        found[where, what, count[where, what]] = row
        count[where, what] += 1
    return found


def _moved(a: Check, b: Check) -> bool:
    if a.status != b.status or (a.ratio is None) != (b.ratio is None):
        return True
    if a.ratio is None or b.ratio is None:
        return (a.demand, a.capacity) != (b.demand, b.capacity)
    if not near(a.ratio, b.ratio):
        return True
    return not (near_texts(a.demand, b.demand) and near_texts(a.capacity, b.capacity))


def _check_text(check: Check | None) -> str:
    if check is None:
        return ABSENT
    values = f" {check.demand} / {check.capacity}" if check.demand or check.capacity else ""
    return f"{check.status}{values}"


def _ratio_difference(a: Check | None, b: Check | None) -> str:
    if a is None or b is None or a.ratio is None or b.ratio is None:
        return ""
    return f"ratio {a.ratio:.2f} -> {b.ratio:.2f}"


def _line_text(line: QuoteLine | None) -> str:
    if line is None:
        return ABSENT
    cost = "no price" if line.cost is None else money_text(line.cost, line.system)
    return f"{line.amount} {line.unit} x {line.price} = {cost}".replace("  ", " ")
