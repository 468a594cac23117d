"""Concrete: how much the slab takes, how much to order, in which loads, and the odds."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from numpy import maximum

from calcbook.basis.calculation import Calculation, Found
from calcbook.basis.formula import arg, cite, formula, result
from calcbook.basis.rounding import ceil
from calcbook.basis.showing import show
from calcbook.basis.units import Q
from calcbook.concrete.beside import together
from calcbook.concrete.by_plan import by_the_plan
from calcbook.concrete.labor import take_labor
from calcbook.concrete.shortfall import (
    LEFT,
    NONE_LEFT,
    left_in_pump,
    odds_chart,
    odds_inputs,
    order_for_risk,
    short_odds,
)
from calcbook.concrete.trucks import short_load, truck_loads, truck_plan
from calcbook.job.together import all_joints, all_slabs
from calcbook.plan.several_drawing import several_drawing
from calcbook.plan.slab_drawing import plan_drawing

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.units import Quantity
    from calcbook.concrete.trucks import TruckPlan
    from calcbook.job.file import Job
    from calcbook.plan.dug import Dug


@formula(
    "Allowance for waste",
    cite("NRMCA CIP 8", "4 to 10 % over plan dimensions"),
    result("yd3", "allowance for waste"),
    V=arg("yd3", "volume by the plan", above=0),
    waste=arg("1", "allowance for waste, share of the volume", low=0, high=0.5, valid=(0.04, 0.10), symbol="w"),
)  # fmt: skip
def waste_volume(V, waste):
    """Concrete for spill, spreading forms, uneven base and over-digging; not what stays in a pump and its line.

    waste: share, 0 to 0.5 (plain), flagged outside 0.04 to 0.10. Source: NRMCA CIP 8, from memory.
    """
    V_w = V * waste
    return V_w


@formula(
    "Volume to order",
    cite("common practice", "rounded up to the step of sale"),
    result("yd3", "volume to order"),
    V=arg("yd3", "volume by the plan", above=0),
    waste=arg("1", "allowance for waste, share of the volume", low=0, high=0.5, symbol="w"),
    step=arg("yd3", "step in which concrete is sold", above=0, high=2, symbol="Delta V"),
    V_l=LEFT,
)  # fmt: skip
def order_volume(V, waste=0.08, step=Q(0.25, "yd3"), V_l=NONE_LEFT):
    """Volume with its allowance and what stays in the pump, rounded up to the step in which concrete is sold.

    step: step of sale. Returns a volume, never below the need. Source: common practice.

    >>> print(order_volume("17 yd3"))
    18.5 cubic_yard
    """
    V_o = ceil((V * (1 + waste) + V_l) / step) * step
    return V_o


def need_of(job: Job, V: Quantity, waste: float) -> Quantity:
    """What must come: the larger of allowance and accepted risk, each with what stays in the pump and
    rounded up to the step of sale.

    job: a Job; V: volume by the plan, or an array of them; waste: allowance, over all slabs of the order. Returns the
    same kind of volume.
    """
    concrete, base = job.concrete, job.base
    need = order_volume(V=V, waste=waste, step=concrete.order_step, V_l=left_in_pump(job))
    if base.depth_spread.m <= 0:
        return need
    V_p = order_for_risk(V=V, A=job.poured_area, e=base.extra_depth, s=base.depth_spread,
                         risk=concrete.short_risk.m_as(""), V_l=left_in_pump(job))  # fmt: skip
    return maximum(need, order_volume(V=V_p, waste=0.0, step=concrete.order_step))


@dataclass(frozen=True)
class VolumeFound(Found):
    """net: by the plan; need: with allowance and risk, which is placed (trucks may bring more where the last load is
    raised); trucks: what each brings; rate: of placing, by the crew as planned; waste: the allowance, over all slabs of
    the order."""

    net: Quantity
    need: Quantity
    trucks: TruckPlan
    rate: Quantity
    waste: float


def chapter(job: Job, dug: Dug, beside: Sequence[Quantity] = (), pumped_with: str = "") -> VolumeFound:
    """Concrete of a job: volume, order, loads, odds of coming up short; dug: below the slab; beside: concrete by the
    plan of each slab that is poured with it; pumped_with: the slab in whose quote the pump of its day stands."""
    calc = Calculation(
        "volume", "Concrete", "How much concrete is ordered, on how many trucks, and how safe is that?", job.system
    )  # fmt: skip
    plan, system = job.plan, job.system
    calc.figure("Plan", lambda: plan_drawing(plan, system))
    if job.others:
        slabs, joints = all_slabs(job), all_joints(job)
        calc.figure("Plan of all slabs", lambda: several_drawing(slabs, joints, system))
    V, waste = together(calc, job, by_the_plan(calc, job, dug), beside)
    need, least = _needed(calc, job, V, waste)
    trucks, order = _loads(calc, job, need, pumped_with)
    _odds(calc, job, V, order, least)
    rate = take_labor(calc, job, need)
    calc.caution(
        "Measure the depth of the finished base in many places before ordering: 1/2 in. (12 mm) more depth "
        "under a 4 in. (100 mm) slab is an eighth more concrete."
    )
    return VolumeFound(calc, V, need, trucks, rate, waste)


def follower(job: Job, dug: Dug, ordered: VolumeFound) -> VolumeFound:
    """Concrete of a slab that is poured with another, whose order holds it; ordered: what was found for that one."""
    calc = Calculation(
        "volume",
        "Concrete",
        "How much concrete does this slab take of the order it shares?",
        job.system,
    )
    plan, system = job.plan, job.system
    calc.figure("Plan", lambda: plan_drawing(plan, system))
    V = by_the_plan(calc, job, dug)
    calc.given(job, "concrete.waste", "w")
    calc.note(
        f"It is poured with the slab {job.follows!r}: that chapter on concrete orders for both, with trucks and labor."
    )
    return VolumeFound(calc, V, ordered.need, ordered.trucks, ordered.rate, ordered.waste)


def _needed(calc: Calculation, job: Job, V: Quantity, waste: float) -> tuple[Quantity, Quantity | None]:
    """What allowance and risk ask for: the larger, and the part of the risk (None without a spread)."""
    step = calc.given(job, "concrete.order_step", "Delta V")
    e, s, risk = (
        calc.given(job, place, symbol)
        for place, symbol in (("base.extra_depth", "e"), ("base.depth_spread", "sigma"), ("concrete.short_risk", "p"))
    )  # fmt: skip
    pump = job.pour.pump
    if pump:
        calc.given(job, "pour.line_loss", "V_l")
    calc.step(waste_volume, "The allowance for spill, forms that spread, and an uneven base"
              + ("; what stays in the pump and its line comes on top of it." if pump else "."),
              V=V, waste=waste)  # fmt: skip
    V_w = calc.step(
        order_volume, f"With the allowance{' and what stays in pump and line' if pump else ''}, rounded up to the "
        "step of sale.", V=V, waste=waste, step=step, V_l=left_in_pump(job),
    )  # fmt: skip
    if s.magnitude <= 0:
        calc.note(
            "The base is taken to come out the same every time (no spread), so there are no odds to tell."
        )
        return V_w, None
    V_p = calc.step(order_for_risk, "What the records of the base ask for, at the accepted risk"
                    + (", pump and line included." if pump else "."), name="risk_volume",
                     V=V, A=job.poured_area, e=e, s=s, risk=risk.m_as(""), V_l=left_in_pump(job))  # fmt: skip
    V_r = calc.step(order_volume, "The volume for the accepted risk, rounded up to the step of sale.", "V_r",
                    V=V_p, waste=0.0, step=step)  # fmt: skip
    return max(V_w, V_r), V_r


def _loads(calc: Calculation, job: Job, need: Quantity, pumped_with: str) -> tuple[TruckPlan, Quantity]:
    """Trucks and their loads for the larger of the two, and what is ordered."""
    capacity = calc.given(job, "pour.truck_capacity", "V_truck")
    minimum = calc.given(job, "pour.minimum_load", "V_min")
    calc.step(truck_loads, "Loads for the larger of the two.", name="trucks", V=need, capacity=capacity)
    calc.step(short_load, "How far the last load would be below the smallest load without a fee.",
              V=need, capacity=capacity, minimum=minimum)  # fmt: skip
    prices = job.prices
    plan = truck_plan(
        need,
        capacity,
        minimum,
        job.concrete.order_step,
        prices.concrete,
        prices.short_load_fee,
        job.system,
    )
    calc.finding("What each truck brings: " + plan.words + ".", "", plan.text(job.system), "", truck_plan.source,
                 "loads", "loads of the trucks")  # fmt: skip
    order = calc.finding("All loads together.", "V_o", plan.total, "yd3", truck_plan.source, "order",
                         "concrete to order")  # fmt: skip
    calc.verdict(
        "Smallest truckload, or its fee in the quote",
        plan.remedy != "fee" or prices.short_load_fee is not None, truck_plan.source,
        found=show(Q(min(plan.loads), "yd3"), "yd3", job.system), wanted=f"at least {show(minimum, 'yd3', job.system)} required",
        remark=f"{plan.words[0].upper()}{plan.words[1:]}." if plan.remedy else "",
        to_do="Give its fee (prices.short_load_fee), or order so that the last truck is fuller.",
    )  # fmt: skip
    calc.take("Concrete", order, "yd3", "concrete", note=plan.text(job.system))
    if plan.remedy == "fee":
        calc.take("Short-load fee", 1.0, "1", "short_load_fee")
    if job.pour.pump and pumped_with:
        calc.note(f"The pump comes for the day: its line is that of the slab {pumped_with!r}.")
    elif job.pour.pump:
        calc.take("Concrete pump", 1.0, "1", "pump", "equipment")
    return plan, order


def _odds(calc: Calculation, job: Job, V: Quantity, order: Quantity, least: Quantity | None) -> None:
    if least is None:
        return
    given, step, risk, system = (
        odds_inputs(job, V),
        job.concrete.order_step,
        job.concrete.short_risk,
        job.system,
    )
    p = calc.step(
        short_odds, "What is left to chance with that order.", name="odds", V_o=order, **given
    )
    calc.check(
        "Probability of coming up short", p, risk.to("percent"), "%", short_odds.source,
        f"{show(least, 'yd3', system)} is the least order that keeps to it.", to_do="Order at least that much.",
    )  # fmt: skip
    calc.figure("Odds of coming up short", lambda: odds_chart(given, order, step, risk, system))
