"""The lines of a quote as they are drawn, added up in whole cents, which add up without any rounding.

Of most lines no draw moves the amount. Where a quote follows another and differs from it in a few of them, the
others are not drawn again: their sum is that of before, without the old lines and with the new.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import TYPE_CHECKING

from calcbook.basis.pricing import line_cost, person_hours, rounded_cents
from calcbook.weigh.risk import spread_factor
from calcbook.weigh.scores import scores

if TYPE_CHECKING:
    from collections.abc import Collection, Hashable

    from numpy.typing import NDArray

# kind of a line -> what moves all of the kind alike, and what moves each by itself
MOVED_BY: dict[str, tuple[str, str]] = {
    "material": ("market", "item"),
    "labor": ("crew", "task"),
    "equipment": ("market", "item"),
}


@dataclass(frozen=True)
class DrawnLine:
    """A line: its number in the quote, amount (an array where draws move it), dollars for one, and the spreads of
    what moves all of its kind alike and of its own; 0 for what stands in its middle."""

    kind: str
    item: int
    amount: NDArray | float
    for_one: float
    alike: float
    own: float


class Steady:
    """Sums of the lines whose amount no draw moves. n: how many draws; seed: of the random numbers."""

    def __init__(self, n: int, seed: int) -> None:
        self._n, self._seed = n, seed
        self._known: dict[Hashable, tuple[frozenset[DrawnLine], NDArray | float]] = {}

    def cents(self, of: Hashable, lines: Collection[DrawnLine]) -> NDArray | float:
        """The sum of lines, in whole cents, by draw. of: what tells them from the other lines of a quote."""
        wanted = frozenset(lines)
        known, total = self._known.get(of, (frozenset[DrawnLine](), 0.0))
        come, gone = wanted - known, known - wanted
        if len(come) + len(gone) > len(wanted):
            come, gone, total = wanted, frozenset(), 0.0
        if come or gone:
            come_to, gone_to = (cents_of(some, self._n, self._seed, False) for some in (come, gone))
            total = total + come_to - gone_to
            self._known[of] = wanted, total
        return total


@functools.lru_cache(maxsize=4)  # of as many draws for all drivers together as for each alone
def steady(n: int, seed: int) -> Steady:
    """The sums of the last quote."""
    return Steady(n, seed)


def cents_of(lines: Collection[DrawnLine], n: int, seed: int, keep: bool = True) -> NDArray | float:
    """The sum of some lines, in whole cents, by draw.

    n, seed: as for ``Steady``; keep: False for lines that are asked for once, as what moves each of them by itself
    would crowd out what is worked on.
    """
    total: NDArray | float = 0.0
    own_factor = _kept_factor if keep else _factor
    for line in lines:
        alike, own = MOVED_BY[line.kind]
        factor = _kept_factor(n, seed, alike, 0, line.alike) * own_factor(
            n, seed, own, line.item, line.own
        )
        total = total + _cents(line, factor)
    return total


def _factor(n: int, seed: int, name: str, item: int, spread: float) -> NDArray | float:
    """What a driver, or one of its items, does to a price or a pace: an array that none may change, or 1."""
    return spread_factor.bulk(s=spread, z=scores(n, seed, name, item) if spread else 0.0)


# a few lines of all draws, and as many of each driver alone
_kept_factor = functools.lru_cache(maxsize=48)(_factor)


def _cents(line: DrawnLine, factor: NDArray | float) -> NDArray:
    """What a line comes to; factor: its pace or its price over the planned one."""
    if line.kind == "labor":
        hours = person_hours.bulk(n=line.amount, rate=factor)
        return rounded_cents(line_cost.bulk(n=hours, p=line.for_one))
    return rounded_cents(line_cost.bulk(n=line.amount, p=line.for_one * factor))
