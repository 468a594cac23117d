"""Odds on the price: the lines of the quote, drawn many times through the book's own formulas.

The base is measured before the pour, so the order follows how it came out; waste shows only at the
end, when what is left over is paid and what is short comes on a further load. Paces, prices and the
weather spread about what the quote was made with.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from calcbook.basis.formula import cite, procedure
from calcbook.basis.pricing import (
    direct_cost,
    line_cost,
    overhead,
    sales_tax,
    selling_price,
    whole_cents,
)
from calcbook.basis.showing import money_text
from calcbook.basis.units import TRADE_UNITS, Q, unit, ureg
from calcbook.book.chapters import Book
from calcbook.book.flow import SeenJob
from calcbook.concrete.labor import PLACING
from calcbook.concrete.shortfall import left_in_pump
from calcbook.concrete.trucks import truck_plan
from calcbook.concrete.volume import need_of
from calcbook.ground.base import spoil_volume
from calcbook.job.files import JobError
from calcbook.job.seen import same
from calcbook.pour.day import WAITING
from calcbook.weigh.risk import (
    allowance_used,
    drawn_depth,
    further_loads,
    further_volume,
    idle_hours,
    lost_days,
    measured_volume,
    spread_factor,
    used_volume,
)
from calcbook.weigh.scores import DRIVERS, Scores
from calcbook.weigh.steady import MOVED_BY, DrawnLine, cents_of, steady

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from numpy.typing import NDArray

    from calcbook.basis.units import Quantity
    from calcbook.concrete.volume import VolumeFound
    from calcbook.job.file import Job
    from calcbook.job.seen import Reads
    from calcbook.price.quote import Quote, QuoteLine

DRAWS, SEED = 100_000, 1
_MOST_ORDERS = 2000  # different orders that trucks are planned for
LEVELS = (  # share of jobs in which a price keeps the margin whole, in words
    (0.1, "one job in ten"),
    (0.5, "an even bet"),
    (0.8, "four jobs in five"),
    (0.95, "nineteen in twenty"),
)


@dataclass(frozen=True)
class Driver:
    """One thing that moves the price, with all else as planned.

    words: what it is; low, high: dollars at 10 and 90 of 100 draws; share: of all spread.
    """

    name: str
    words: str
    low: float
    high: float
    share: float


@dataclass(frozen=True)
class Odds:
    """Many draws of a job: ``prices`` that keep the margin, and ``costs`` with overhead, in dollars.

    quoted: the quote's price; seed: of the random numbers, the same seed giving the same answer; alone: what moves
    the price, by name, each with the prices where it alone moves.
    """

    quoted: float
    prices: np.ndarray
    costs: np.ndarray
    alone: Callable[[], dict[str, np.ndarray]]
    seed: int
    system: str = "us"

    @functools.cached_property
    def drivers(self) -> tuple[Driver, ...]:
        """What moves the price, the strongest first; worked out when it is asked for, as it takes most of the draws."""
        alone = self.alone()
        spread = {name: float(np.var(x)) for name, x in alone.items()}
        total = sum(spread.values()) or 1.0
        drivers = []
        for name, words in DRIVERS.items():
            low, high = (float(q) for q in np.quantile(alone[name], (0.1, 0.9)))
            drivers.append(Driver(name, words, low, high, spread[name] / total))
        return tuple(sorted(drivers, key=lambda d: -d.share))

    @functools.cached_property
    def ranked(self) -> np.ndarray:
        """The prices in their order: what is told of many shares is found faster so."""
        return np.sort(self.prices)

    def at(self, share: float) -> float:
        """The price that keeps the margin whole in this share of jobs (0 to 1), in dollars."""
        return float(np.quantile(self.ranked, share))

    @property
    def kept(self) -> float:
        """Share of the draws in which the quoted price keeps the margin whole."""
        return float(np.mean(self.prices <= self.quoted + 0.005))

    @property
    def lost(self) -> float:
        """Share of the draws that cost more, with overhead, than the quoted price."""
        return float(np.mean(self.costs > self.quoted + 0.005))

    def __str__(self) -> str:
        shown = ", ".join(
            f"{words} {money_text(self.at(share), self.system)}" for share, words in LEVELS
        )
        return (
            f"{shown}; the quoted {money_text(self.quoted, self.system)} keeps its margin in {100 * self.kept:.0f} % "
            f"of {len(self.prices):,} draws (seed {self.seed})"
        )


@procedure(
    "Odds on the price",
    cite("statistics", "draws of every line, added up as the quote is"),
    "Depth of the base, waste, paces, prices and days lost to the weather are drawn about their planned "
    "values with the spreads of [risk]; each draw runs through the formulas of the quote.",
)
def simulate(job: Job, n: int = DRAWS, seed: int = SEED) -> Odds:
    """Odds on the price of a job: an Odds.

    job: a Job with all its prices; n: how many draws; seed: of the random numbers, the same seed
    giving the same answer. With all spreads zero every draw is the quote. Raises JobError where a
    price is missing.
    """
    return odds_of(Book(job).quote, n, seed)


def odds_of(quote: Quote, n: int = DRAWS, seed: int = SEED) -> Odds:
    """The odds on a Quote; n and seed as for ``simulate``. Raises JobError."""
    model, scores = Model(quote), Scores(quote.job, n, seed)
    prices, costs = (np.broadcast_to(x, n) for x in model.drawn(scores))

    def alone() -> dict[str, np.ndarray]:
        return {name: model.drawn(scores.only(name))[0] for name in DRIVERS}

    return Odds(model.quoted, prices, costs, alone, seed, quote.job.system)


class Ordered:
    """An order of concrete as a function of scores. job: of the slab that holds it; volume: its concrete, of all its
    slabs; ordered: as quoted, yd3."""

    def __init__(self, job: Job, volume: VolumeFound) -> None:
        self.job, self.net, self.waste = job, volume.net, volume.waste
        self.ordered = volume.trucks.total.m
        self._loads: dict[float, tuple[float, float]] = {}

    def drawn(self, score: Scores) -> dict[str, NDArray]:
        """Depth of the base, order, its short-load fee, and what comes on further loads, by draw."""
        moved = tuple(name for name in ("base", "waste") if score.moves(name))
        key = self.job.slab.called, score.n, score.seed, moved
        kept = _ORDERS.get(key)
        if kept is None or not kept.holds(self):
            seen = SeenJob(self.job)
            drawn = self._drawn(seen, score)
            kept = _ORDERS[key] = _Kept(seen.reads, self.net, self.waste, drawn)
        return kept.drawn

    def _drawn(self, job: Job, score: Scores) -> dict[str, NDArray]:
        V, step = self.net, job.concrete.order_step
        e, s = job.base.extra_depth, job.base.depth_spread
        d = np.atleast_1d(drawn_depth.bulk(e=e, s=s, z=score("base")))
        V_m = measured_volume.bulk(V=V, A=job.poured_area, d=d, e=e)
        order, fee = self._planned(job, need_of(job, Q(V_m, "yd3"), self.waste).m_as("cubic_yard"))
        u = allowance_used.bulk(u_m=job.risk.waste_used, s=job.risk.waste_spread, z=score("waste"))
        V_u = used_volume.bulk(V_m=V_m, V=V, waste=self.waste, u=u, V_l=left_in_pump(job))
        V_x = further_volume.bulk(V_u=V_u, V_o=order, step=step)
        n_x = further_loads.bulk(V_x=V_x, capacity=job.pour.truck_capacity)
        return {"depth": d, "order": order, "fee": fee, "further": V_x, "loads": n_x}

    def _planned(self, job: Job, need: NDArray) -> NDArray:
        """What trucks bring for each need (yd3, an array), and whether a short-load fee is due."""
        step = job.concrete.order_step.m_as("cubic_yard")
        steps = np.rint(need / step)
        if np.ptp(steps) > _MOST_ORDERS:
            raise JobError(
                "[concrete] order_step is too small beside the spread of the base for the odds; "
                "write the step in which concrete is sold, such as '0.25 yd3'"
            )
        index = (steps - steps.min()).astype(int)
        table = np.zeros((2, index.max() + 1))
        for k in np.flatnonzero(np.bincount(index)):
            table[:, k] = self._load(job, float(steps.min() + k) * step)
        return table.take(index, axis=1)

    def _load(self, job: Job, need: float) -> tuple[float, float]:
        if need not in self._loads:
            pour, prices = job.pour, job.prices
            plan = truck_plan(
                Q(need, "yd3"), pour.truck_capacity, pour.minimum_load, job.concrete.order_step,
                prices.concrete, prices.short_load_fee, job.system,
            )  # fmt: skip
            self._loads[need] = plan.total.m, float(plan.remedy == "fee")
        return self._loads[need]


class _Kept(NamedTuple):
    """An order as it was drawn, and what it rests on."""

    reads: Reads
    net: Quantity
    waste: float
    drawn: dict[str, NDArray]

    def holds(self, order: Ordered) -> bool:
        """True where an order would be drawn the same."""
        return same(self[1:3], (order.net, order.waste)) and self.reads.hold(order.job)


# the last one by slab, draws, seed and what moves it: most of what changes a price changes no order
_ORDERS: dict[tuple[str, int, int, tuple[str, ...]], _Kept] = {}


class Model:
    """The lines of a complete Quote as a function of scores. Raises JobError where a price is missing."""

    def __init__(self, quote: Quote) -> None:
        if not quote.complete:
            raise JobError(f"the odds need every price; {quote.lacking}")
        assert quote.volume is not None and quote.base is not None  # those of a book
        self.quote, self.job, self.soil = quote, quote.job, quote.base.soil
        self.quoted = quote.calculation.results["total"].m
        self.orders = {"": Ordered(quote.job, quote.volume)}
        for sheet in quote.further_orders:
            assert sheet.volume is not None
            self.orders[sheet.job.slab.called] = Ordered(sheet.job, sheet.volume)

    def drawn(self, score: Scores) -> tuple[NDArray, NDArray]:
        """(price that keeps the margin, cost with overhead) of every draw, in dollars."""
        prices = self.job.prices
        material, labor, equipment = self._sums(score)
        tax = whole_cents(sales_tax.bulk(C_m=material, r_t=prices.tax))
        direct = whole_cents(direct_cost.bulk(C_m=material, T=tax, C_l=labor, C_e=equipment))
        cost = direct + whole_cents(overhead.bulk(C_d=direct, r_o=prices.overhead))
        return whole_cents(selling_price.bulk(C=cost, m=prices.margin)), cost

    def _sums(self, score: Scores) -> Iterable[NDArray | float]:
        """Dollars of material, labor and equipment."""
        concrete = {name: order.drawn(score) for name, order in self.orders.items()}
        lost = self._lost(score)
        kept = steady(score.n, score.seed, score.allowed)
        sums: dict[str, NDArray | float] = {}
        for kind, lines in self._drawn_lines(score, concrete, lost).items():
            moved = [line for line in lines if not isinstance(line.amount, float)]
            rest = kept.cents(kind, [line for line in lines if isinstance(line.amount, float)])
            sums[kind] = (rest + cents_of(moved, score.n, score.seed)) / 100
        sums["material"] = sums["material"] + self._fees(concrete)
        sums["labor"] = sums["labor"] + self._idle(concrete, lost)
        return sums.values()

    def _drawn_lines(
        self, score: Scores, concrete: dict[str, dict[str, NDArray]], lost: NDArray | float
    ) -> dict[str, list[DrawnLine]]:
        """The lines of the quote by kind, with what moves them."""
        found: dict[str, list[DrawnLine]] = {kind: [] for kind in MOVED_BY}
        for item, line in enumerate(self.quote.lines):
            spreads = [score.spread(name) for name in MOVED_BY[line.kind]]
            if line.kind == "labor":
                amount = self._hours(line, score, concrete)
                if self._work(line) == WAITING:  # no crew's pace shortens it
                    spreads = [0.0, 0.0]
            else:
                amount = self._amount(line, concrete, lost)
            found[line.kind].append(DrawnLine(line.kind, item, amount, line.for_one, *spreads))
        return found

    def _amount(
        self, line: QuoteLine, concrete: dict[str, dict[str, NDArray]], lost: NDArray | float
    ) -> NDArray | float:
        """The amount of a line of things, as its calculation gives it for what was drawn."""
        taken = line.taken
        if taken.price == "concrete":
            drawn = concrete[taken.slab]
            return self._shown(drawn["order"] + drawn["further"], taken.unit)
        if taken.slab:  # its soil is taken as planned
            return line.number
        if taken.price == "spoil":
            return self._shown(self._spoil(concrete[""]["depth"]), taken.unit)
        if taken.unit == "day":  # a rented machine stays for the days lost
            return line.number + lost
        return line.number

    def _hours(
        self, line: QuoteLine, score: Scores, concrete: dict[str, dict[str, NDArray]]
    ) -> NDArray | float:
        """The hours of a line of work at the planned pace: more with more to place."""
        if self._work(line) == WAITING:
            return line.number * spread_factor.bulk(s=self.job.risk.set_wait, z=score("wait"))
        if self._work(line) == PLACING:
            drawn = concrete[line.taken.slab]
            return (
                line.number * (drawn["order"] + drawn["further"]) / self.orders[line.taken.slab].ordered
            )
        return line.number

    def _work(self, line: QuoteLine) -> str:
        return line.words.removesuffix(f", {line.taken.slab}")

    def _fees(self, concrete: dict[str, dict[str, NDArray]]) -> NDArray | float:
        """Short-load fees over what the quote's own line of them holds, in dollars."""
        fee = self.job.prices.short_load_fee
        if fee is None:
            return 0.0
        quoted = sum(line.number for line in self.quote.lines if line.taken.price == "short_load_fee")
        fees: NDArray = sum(drawn["fee"] + drawn["loads"] for drawn in concrete.values()) - quoted
        return fees * fee.m_as("dollar")

    # --- soil and weather ---
    def _spoil(self, depth: NDArray) -> NDArray:
        base = self.job.base
        V_e = measured_volume.bulk(V=self.soil, A=self.job.plan.area, d=depth, e=base.extra_depth)
        return spoil_volume.bulk(V_e=V_e, swell=base.swell)

    def _lost(self, score: Scores) -> NDArray | float:
        if not score.moves("lost"):
            return 0.0
        return lost_days.bulk(p=self.job.risk.lost_day, q=score.shares("lost"))

    def _idle(self, concrete: dict[str, dict[str, NDArray]], lost: NDArray | float) -> NDArray | float:
        """Dollars for a crew that waits for a further load, or on a lost day."""
        job, people = self.job, float(self.job.crew.size)
        if job.prices.wage is None:
            return 0.0
        loads = sum(drawn["loads"] for drawn in concrete.values())
        hours = idle_hours.bulk(n=loads, n_p=people, t_w=job.risk.further_wait)
        hours = hours + idle_hours.bulk(n=lost, n_p=people, t_w=job.risk.lost_hours)
        return whole_cents(line_cost.bulk(n=hours, p=job.prices.wage.m_as("dollar/hour")))

    def _shown(self, amount: NDArray, unit_name: str) -> NDArray:
        """An array in a trade unit as the quote shows it: the job's units, two decimals."""
        there = ureg.Quantity(amount, unit(unit_name)).m_as(
            TRADE_UNITS[unit_name].pint_for(self.job.system)
        )
        return np.round(there, 2)
