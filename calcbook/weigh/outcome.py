"""What one run of the whole book comes to, in a row of a table: quantities, price, checks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from calcbook.basis.calculation import OK, WORST_FIRST
from calcbook.basis.showing import magnitude, money_text, number_text, show
from calcbook.basis.units import Q

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.book.chapters import Book

HEADINGS = ("concrete", "stone", "hours of work", "price", "open checks", "ratio", "what governs")
WITHOUT = "The slab as a plate on the ground is not among these checks; calcbook check works it out for one job."
NUMERIC = set(range(6))  # columns of the headings that are numbers


@dataclass(frozen=True)
class Seen:
    """A check as it came out: subject, title, verdict, ratio of demand to capacity or None."""

    subject: str
    title: str
    status: str
    ratio: float | None

    @property
    def key(self) -> tuple[str, str]:
        """What makes it the same check in another job."""
        return self.subject, self.title

    @property
    def rank(self) -> tuple[int, float]:
        """For sorting, the worst first."""
        return WORST_FIRST.index(self.status), -round(self.ratio or 0.0, 6)


@dataclass(frozen=True)
class Outcome:
    """Of one job: ``order`` (yd3), ``stone`` (ton), ``hours`` (of one person), ``price`` ($), checks.

    complete: False while the price lacks a line's price. The slab as a plate is not among the checks: it
    would be worked out anew for every row.
    """

    order: float
    stone: float
    hours: float
    price: float
    complete: bool
    checks: tuple[Seen, ...]

    @property
    def open(self) -> int:
        """How many checks are not OK."""
        return sum(check.status != OK for check in self.checks)

    def cells(self, governs: Seen | None, system: str = "us") -> tuple[str, ...]:
        """Cells of a row under ``HEADINGS``; governs: the Seen check that is named."""
        return (
            show(Q(self.order, "yd3"), "yd3", system),
            show(Q(self.stone, "ton"), "ton", system),
            number_text(round(self.hours, 1)),
            money_text(self.price, system) + ("" if self.complete else " (NOT COMPLETE)"),
            str(self.open),
            "" if governs is None or governs.ratio is None else f"{governs.ratio:.2f}",
            _named(governs),
        )

    def numbers(self, governs: Seen | None, system: str = "us") -> tuple[float | str | None, ...]:
        """The same as plain numbers, for a spreadsheet."""
        order = magnitude(Q(self.order, "yd3"), "yd3", system)
        stone = magnitude(Q(self.stone, "ton"), "ton", system)
        ratio = None if governs is None or governs.ratio is None else round(governs.ratio, 6)
        return (
            round(order, 6), round(stone, 6), round(self.hours, 4), round(self.price, 2), self.open, ratio,
            _named(governs),
        )  # fmt: skip


def _named(check: Seen | None) -> str:
    if check is None:
        return "no check that differs"
    verdict = "" if check.status == OK else f"{check.status}: "
    return f"{verdict}{check.subject}: {check.title}"


def outcome(book: Book) -> Outcome:
    """The Outcome of a whole Book. Raises JobError or ValueError as the book does."""
    quote = book.quote
    return Outcome(
        order=magnitude(book.volume.trucks.total, "yd3"),
        stone=magnitude(book.base.stone, "ton"),
        hours=sum(line.number for line in quote.lines if line.kind == "labor"),
        price=quote.calculation.results["total"].m,
        complete=quote.complete,
        checks=tuple(Seen(c.title, k.title, k.status, k.ratio) for c, k in book.priced_checks),
    )


def governing(outcomes: Sequence[Outcome]) -> list[Seen | None]:
    """For each Outcome of several: the worst of its checks that differ among them, or None.

    A check that comes out the same in all of them says nothing about what was varied. Of a single
    Outcome the worst of all is named.
    """
    first = {check.key: check for check in outcomes[0].checks} if outcomes else {}
    moving = set()
    for one in outcomes[1:]:
        found = {check.key: check for check in one.checks}
        moving |= first.keys() ^ found.keys()
        moving |= {key for key in first.keys() & found.keys() if _differs(first[key], found[key])}
    named = []
    for one in outcomes:
        among = [c for c in one.checks if c.key in moving or len(outcomes) == 1]
        named.append(min(among, key=lambda check: check.rank, default=None))
    return named


def _differs(a: Seen, b: Seen) -> bool:
    if a.status != b.status:
        return True
    if a.ratio is None or b.ratio is None:
        return a.ratio is not b.ratio
    return a.ratio != b.ratio and not abs(a.ratio - b.ratio) <= 1e-9 * abs(a.ratio)
