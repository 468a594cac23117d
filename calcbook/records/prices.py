"""Whether prices held: what each job would have had to cost, beside the price that was promised to be enough."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from calcbook.basis.pricing import overhead, selling_price
from calcbook.basis.units import number_in
from calcbook.records.learned import held_by_chance

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from calcbook.basis.units import Quantity
    from calcbook.records.file import Record


@dataclass(frozen=True)
class Prices:
    """Prices of jobs that tell both, in dollars: ``needed`` to keep the margin whole, as it came out; ``quoted``;
    ``sure``: promised to be enough in a share ``confidence`` of jobs."""

    records: tuple[Record, ...]
    needed: NDArray
    quoted: NDArray
    sure: NDArray
    confidence: float

    @property
    def held(self) -> int:
        """How many jobs needed no more than the sure price."""
        return int((self.needed <= self.sure).sum())

    @property
    def share(self) -> str:
        """How surely the price was to hold, in words."""
        return f"{100 * self.confidence:.0f} of 100"

    @property
    def words(self) -> str:
        """How often the price held, in a sentence."""
        low, high = self.by_chance
        return (
            f"The price for {self.share} jobs held in {self.held} of {len(self.records)}; by chance it holds in {low} to "
            f"{high}, nineteen times in twenty."
        )

    @property
    def by_chance(self) -> tuple[int, int]:
        """From how many to how many hold by chance, nineteen times in twenty, where the odds are right."""
        return held_by_chance(len(self.records), self.confidence)


def prices_of(records: Sequence[Record]) -> Prices | None:
    """The prices of records that tell what was spent and promised; None without one."""
    told = [
        r for r in records
        if None not in (r.file.money.spent, r.file.promised.price, r.file.promised.sure)
        and not r.file.record.leaves_out("cost")
    ]  # fmt: skip
    if not told:
        return None
    promised = [record.file.promised for record in told]
    spent = _dollars(record.file.money.spent for record in told)
    quoted, sure = _dollars(p.price for p in promised), _dollars(p.sure for p in promised)
    rates, margins = (np.array([v.m for v in found]) for found in ([p.overhead for p in promised], [p.margin for p in promised]))  # fmt: skip
    cost = spent + overhead.bulk(C_d=spent, r_o=rates)
    needed = selling_price.bulk(C=cost, m=margins)
    confidence = float(np.mean([p.confidence.m for p in promised]))
    return Prices(tuple(told), needed, quoted, sure, confidence)


def _dollars(values: Iterable[Quantity | None]) -> NDArray:
    return np.array([number_in(value, "$") for value in values if value is not None])
