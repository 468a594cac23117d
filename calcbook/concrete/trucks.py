"""Trucks: how many, what each brings, and what to do about a last load that is too small."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from numpy import maximum

from calcbook.basis.formula import arg, cite, formula, procedure, result
from calcbook.basis.inline import inline
from calcbook.basis.rounding import ceil
from calcbook.basis.showing import money_text, show
from calcbook.basis.units import Q, number_in

if TYPE_CHECKING:
    from calcbook.basis.units import Quantity

_TRUCK = {
    "V": arg("yd3", "volume ordered", above=0),
    "capacity": arg("yd3", "most a truck carries", above=0, high=14, symbol="V_truck"),
}
_MINIMUM = arg("yd3", "smallest load without a fee", low=0, high=14, symbol="V_min")


@formula(
    "Number of truck loads", cite("common practice"), result("1", "truck loads"), **_TRUCK
)  # fmt: skip
def truck_loads(V, capacity):
    """Loads needed to bring an order.

    Returns a whole number (plain). Source: common practice; 8 to 10 yd3 a truck is usual.

    >>> print(truck_loads("17.5 yd3", "9 yd3"))
    2.0
    """
    n = ceil(V / capacity)
    return n


@inline
@formula(
    "Short load of the last truck",
    cite("common practice", "short-load fee"),
    result("yd3", "shortage of the last load"),
    **_TRUCK,
    minimum=_MINIMUM,
    shows={"V_last": "yd3"},
)
def short_load(V, capacity, minimum):
    """Shortage of the last load against the producer's smallest load without a fee.

    Returns a volume, 0 where the last load is large enough. Source: common practice.
    """
    n = truck_loads.body(V, capacity)
    V_last = V - (n - 1) * capacity
    V_short = maximum(minimum, V_last) - V_last
    return V_short


def last_load(V: Quantity, capacity: Quantity, minimum: Quantity) -> tuple[int, Quantity, Quantity]:
    """(trucks, what the last brings when all before it are full, its shortage): the lines of ``short_load``.

    V, capacity, minimum: volumes, as for ``short_load``.
    """
    n, last, short = (line.value for line in short_load.lines(short_load.bind(V, capacity, minimum)))
    return int(n), last, short


@dataclass(frozen=True)
class TruckPlan:
    """Loads in the order they come, in plain yd3, and what was done about a small last load.

    remedy: "" (none needed), "split", "raise" or "fee"; words: the same as a sentence.
    """

    loads: tuple[float, ...]
    remedy: str
    words: str

    @property
    def total(self) -> Quantity:
        """Concrete of all loads."""
        return Q(sum(self.loads), "yd3")

    def text(self, system: str = "us") -> str:
        """The loads, such as ``9 + 9 + 4.25 yd³``."""
        shown = [show(Q(load, "yd3"), "yd3", system) for load in self.loads]
        label = shown[-1].split(" ", 1)[1]
        return " + ".join(s.split(" ", 1)[0] for s in shown) + f" {label}"

    def __str__(self) -> str:
        return f"{self.text()}; {self.words}"


@procedure(
    "Loads of each truck",
    cite("common practice", "short-load fee"),
    "Full trucks and a last one. Where the last would be below the smallest load without a fee, the "
    "order is split evenly over the same trucks if that keeps all at or above it (no cost); else it is "
    "raised to the smallest load where the extra concrete costs less than the fee; else the fee is paid.",
    **_TRUCK,
    minimum=_MINIMUM,
    step=arg("yd3", "step in which concrete is sold", above=0, high=2),
    price=arg("$/yd3", "price of concrete", low=0),
    fee=arg("$", "fee for a short load", low=0),
)
def truck_plan(
    V: Quantity,
    capacity: Quantity,
    minimum: Quantity,
    step: Quantity = Q(0.25, "yd3"),
    price: Quantity | None = None,
    fee: Quantity | None = None,
    system: str = "us",
) -> TruckPlan:
    """What each truck brings.

    V: volume ordered; capacity: most a truck carries; minimum: smallest load without a fee (at
    most the capacity); step: step in which concrete is sold; price, fee: of concrete and of a
    short load, where known; system: units of its words. Returns a TruckPlan. Raises ValueError where the smallest load is
    more than a truck carries. Source: common practice.
    """
    v, full, least, unit = (number_in(q, "yd3") for q in (V, capacity, minimum, step))
    if least > full:
        raise ValueError(
            f"the smallest load ({show(minimum, 'yd3', system)}) is more than a truck carries "
            f"({show(capacity, 'yd3', system)}); look at minimum_load and truck_capacity"
        )
    n, last, short = last_load(V, capacity, minimum)
    if short.m <= 1e-9:
        loads = (*[full] * (n - 1), last.m)
        return TruckPlan(loads, "", "every load is at or above the smallest load without a fee")
    even = _split(v, n, unit)
    if min(even) >= least - 1e-9 and max(even) <= full + 1e-9:
        return TruckPlan(
            even, "split",
            f"the last load would be {show(last, 'yd3', system)}, so the order is split evenly over the {n} trucks",
        )  # fmt: skip
    return _raise_or_pay(full, minimum, n, last, short, price, fee, system)


def _split(v: float, n: int, step: float) -> tuple[float, ...]:
    """v in n loads that differ by at most one step; what is no whole step goes with the first."""
    steps = int(v / step + 1e-9)
    share, extra = divmod(steps, n)
    loads = [step * (share + (k < extra)) for k in range(n)]
    loads[0] += v - step * steps
    return tuple(loads)


def _raise_or_pay(
    full: float,
    minimum: Quantity,
    n: int,
    last: Quantity,
    short: Quantity,
    price: Quantity | None,
    fee: Quantity | None,
    system: str,
) -> TruckPlan:
    before = f"the last load would be {show(last, 'yd3', system)}"
    paid = TruckPlan(
        (*[full] * (n - 1), last.m), "fee",
        f"{before}, below the smallest load of {show(minimum, 'yd3', system)}: a short-load fee is due",
    )  # fmt: skip
    if price is None or fee is None:
        return paid
    cost = (short * price).m_as("dollar")
    if cost >= fee.m_as("dollar"):
        return paid
    return TruckPlan(
        (*[full] * (n - 1), minimum.m_as("cubic_yard")), "raise",
        f"{before}; raising it by {show(short, 'yd3', system)} costs {money_text(cost, system)}, less than the "
        f"fee of {money_text(fee.m_as('dollar'), system)}",
    )  # fmt: skip
