"""The book: its chapters in the order the job is done, and what each takes from those before it.

The parts of one slab, and what each takes, stand in ``parts.py``.
"""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING, Any

from calcbook.basis.calculation import OK, WORST_FIRST, Calculation, Found
from calcbook.book.flow import Flow
from calcbook.book.further import FurtherBook
from calcbook.book.parts import Parts
from calcbook.book.registry import LATE, SUBJECTS, UNPRICED
from calcbook.price.order import OrderSheet
from calcbook.price.quote import Quote

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from calcbook.basis.calculation import Check
    from calcbook.job.file import Job

# calculation that begins a part of the printout -> title of the part
PARTS = {
    "loads": "The slab under its loads",
    "volume": "What is ordered, laid and set",
    "pour_day": "The pour and the nights after it",
    "quote": "The price",
}

# (calculation, result) that a builder is asked for first
HEADLINES = (
    ("volume", "order"),
    ("volume", "loads"),
    ("base", "stone_order"),
    ("retarder", "rolls"),
    ("bolts", "bolts"),
    ("mix", "spacing"),
    ("quote", "total"),
)


NOT_PRICED = "Not counted here: the slab as a plate on the ground, which calcbook check works out."
NOT_ASKED = (
    "Left out: the slab as a plate on the ground, as [slab] plate = false asks{}. What acts at once, corners, "
    "openings and lifting walls rest on the hand formulas alone."
)


class Book(Parts):
    """All calculations of one job, each run once when first asked for.

    job: a Job; before: the Book of an earlier version of it, or None: what would come out the same is
    taken from there, and only the rest is run.
    """

    def __init__(self, job: Job, before: Book | None = None) -> None:
        super().__init__(job, before)
        # of earlier versions, what was worked out of each further slab
        self._others_before: dict[str, Flow] = {} if before is None else before._taken_on()

    def _taken_on(self) -> dict[str, Flow]:
        """What was worked out of each further slab, by its name, without the books that it rests on."""
        made = self.__dict__.get("others", ())
        return self._others_before | {one.job.slab.called: Flow(one.job, one) for one in made}

    def changed(self, changes: dict[str, Any]) -> Book:
        """The Book of the job with some fields set, as in ``Job.changed``. Raises JobError."""
        return Book(self.job.changed(changes), self)

    @functools.cached_property
    def others(self) -> tuple[FurtherBook, ...]:
        """What is worked out of each further slab."""
        found: list[FurtherBook] = []
        for other in self.job.others:
            known: dict[str, Parts] = {self.job.slab.called: self} | {
                b.job.slab.called: b for b in found
            }
            found.append(FurtherBook(other, known, self._others_before.get(other.slab.called)))
        return tuple(found)

    @property
    def calculations(self) -> dict[str, Calculation]:
        """Calculations by name, in order, those of further slabs last; without the quote, which rests on them."""
        return {name: self.calculation(name) for name in SUBJECTS} | {
            name: made for other in self.others for name, made in other.calculations.items()
        }

    @functools.cached_property
    def priced(self) -> dict[str, Calculation]:
        """Those that a quote rests on: all but the ``UNPRICED`` ones."""
        return {name: self.calculation(name) for name in SUBJECTS if name not in UNPRICED} | {
            name: made for other in self.others for name, made in other.priced.items()
        }

    def calculation(self, name: str) -> Calculation:
        """One calculation by its name, the quote too. Raises JobError where the job asks for what it refuses."""
        if name == "quote":
            return self.quote.calculation
        for other in self.others:
            if name in other.names:
                return other.named(name)
        found: Found = getattr(self, name)
        return found.calculation

    @property
    def names(self) -> list[str]:
        """The names of all calculations, in order, the quote last."""
        return [*SUBJECTS, *(name for other in self.others for name in other.names), "quote"]

    def named_so(self, subjects: Iterable[str]) -> list[str]:
        """The names of the calculations on some subjects: those of the first slab, then of each further one."""
        wanted = list(subjects)
        return wanted + [
            name for other in self.others for name, subject in other.names.items() if subject in wanted
        ]

    @functools.cached_property
    def quote(self) -> Quote:
        """The priced takeoff (quote.Quote)."""
        return Quote(self.job, self.priced, self.volume, self.base, self._further_orders())

    def _further_orders(self) -> tuple[OrderSheet, ...]:
        """The orders of further slabs that are not poured with the first."""
        ordered = [other for other in self.others if not other.job.follows]
        return tuple(OrderSheet(o.job, o.priced, o.volume.trucks, o.volume) for o in ordered)

    @property
    def chapters(self) -> list[Calculation]:
        """Every calculation that the printout shows, the quote last."""
        return [*self.calculations.values(), self.quote.calculation]

    def parts(self) -> Iterator[list[Calculation]]:
        """The chapters by what is run at once, when it is come to: each of ``PARTS``, each further slab, the quote.

        What takes long comes last: nothing rests on it, and the figures of all others are drawn meanwhile.
        """
        some: list[Calculation] = []
        for name in SUBJECTS:
            if name in PARTS and some:
                yield some
                some = []
            if name not in LATE:
                some.append(self.calculation(name))
        yield some
        for other in self.others:
            yield list(other.calculations.values())
        yield [self.quote.calculation]
        yield [self.calculation(name) for name in LATE]

    @property
    def headlines(self) -> list[tuple[str, str]]:
        """Pairs of (label, text) of the figures asked for first, of those that this job has."""
        chapters = {chapter.name: chapter for chapter in self.chapters}
        return [
            (result.label, result.step.result_text)
            for chapter, name in HEADLINES
            for result in chapters[chapter].shown_results
            if result.name == name
        ]

    @property
    def checks(self) -> list[tuple[Calculation, Check]]:
        """Pairs of (calculation, check), the worst first."""
        return _worst_first(self.calculations)

    @property
    def priced_checks(self) -> list[tuple[Calculation, Check]]:
        """The same without the ``UNPRICED`` chapters, for a quote, an order, and many jobs side by side."""
        return _worst_first(self.priced)

    @property
    def no_go(self) -> bool:
        """True where the morning page of a pour says NO GO."""
        return any(made.results.get("go") is False for made in self.priced.values())

    @property
    def left_for_later(self) -> str:
        """What a quote or an order does not wait for, in a sentence; "" where there is nothing."""
        named = any((self.job.vehicle.axle is not None, self.job.walls, self.job.pads, self.job.posts))
        return NOT_PRICED if self.job.slab.plate and named else ""

    @property
    def left_out(self) -> str:
        """What the job asks to leave out of its checks, in a sentence; "" where there is nothing."""
        names = [one.slab.called for one in (self.job, *self.job.others) if not one.slab.plate]
        if not names:
            return ""
        which = f" ({', '.join(names)})" if self.job.others else ""
        return NOT_ASKED.format(which)

    @property
    def status(self) -> str:
        """The worst verdict of all checks."""
        return next((check.status for _, check in self.checks), OK)


def _worst_first(calculations: dict[str, Calculation]) -> list[tuple[Calculation, Check]]:
    pairs = [(c, check) for c in calculations.values() for check in c.checks]
    return sorted(pairs, key=lambda pair: WORST_FIRST.index(pair[1].status))


def run(name: str, job: Job) -> Calculation:
    """Run one calculation of the book by its name, with what it rests on. Raises JobError."""
    return Book(job).calculation(name)
