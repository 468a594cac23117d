"""Concrete: how much the slab takes, how much to order, in which loads, and the odds."""

from calcbook.calculation import Calculation
from calcbook.dig import (
    dig_volume,
    prismoidal_volume,
    ring_corner_volume,
    ring_section_area,
    ring_volume,
)
from calcbook.formula import arg, cite, formula, result
from calcbook.pricing import person_hours
from calcbook.rounding import ceil
from calcbook.shortfall import order_for_risk, short_odds
from calcbook.trucks import last_load, short_load, truck_loads, truck_plan
from calcbook.units import Q


@formula(
    "Area that a cubic yard covers",
    cite("geometry"),
    result("ft2/yd3", "area covered by a unit of volume"),
    t=arg("in", "thickness", above=0),
)
def coverage(t):
    """Area covered by a unit volume of concrete.

    t: thickness (length). Returns an area per volume: 324 / t with t in inches, in ft2/yd3.
    Source: geometry.
    """
    cover = 1 / t
    return cover


@formula(
    "Volume of the slab",
    cite("geometry"),
    result("yd3", "concrete in the slab"),
    A=arg("ft2", "plan area, openings taken out", above=0),
    t=arg("in", "thickness", above=0, high=48),
)
def slab_volume(A, t):
    """Volume of a slab of even thickness, without what is thickened below it.

    A: plan area without openings; t: thickness (length). Returns a volume. Source: geometry.
    """
    V = A * t
    return V


@formula(
    "Volume by the plan",
    cite("geometry"),
    result("yd3", "concrete by the plan"),
    V_s=arg("yd3", "slab", above=0),
    V_d=arg("yd3", "thickened edge, pads and strips", low=0),
)
def plan_volume(V_s, V_d):
    """Everything that concrete fills by the plan.

    V_s: slab, from ``slab_volume``; V_d: what is dug below it, from ``dig_volume``. Returns a
    volume. Source: geometry.
    """
    V = V_s + V_d
    return V


@formula(
    "Allowance for waste",
    cite("NRMCA CIP 8", "4 to 10 % over plan dimensions"),
    result("yd3", "allowance for waste"),
    V=arg("yd3", "volume by the plan", above=0),
    waste=arg("1", "allowance for waste, share of the volume", low=0, high=0.5, valid=(0.04, 0.10), symbol="w"),
)  # fmt: skip
def waste_volume(V, waste):
    """Concrete for spill, spreading forms, uneven base and over-digging.

    V: volume by the plan; waste: share, 0 to 0.5 (plain), flagged outside 0.04 to 0.10. Returns a
    volume. Source: NRMCA CIP 8, from memory.
    """
    V_w = V * waste
    return V_w


@formula(
    "Volume to order",
    cite("common practice", "rounded up to the step of sale"),
    result("yd3", "volume to order"),
    V=arg("yd3", "volume by the plan", above=0),
    waste=arg("1", "allowance for waste, share of the volume", low=0, high=0.5, symbol="w"),
    step=arg("yd3", "step in which concrete is sold", above=0, high=2, symbol=r"\Delta V"),
)  # fmt: skip
def order_volume(V, waste=0.08, step=Q(0.25, "yd3")):
    """Volume with its allowance, rounded up to the step in which concrete is sold.

    V: volume by the plan; waste: share (plain); step: step of sale. Returns a volume, never below
    the need. Source: common practice.
    """
    V_o = ceil(V * (1 + waste) / step) * step
    return V_o


def calculation(job):
    """Concrete of a job: volume, order, loads, odds of coming up short. Returns a Calculation."""
    made = Calculation(
        "volume", "Concrete", "How much concrete is ordered, and on how many trucks?", job.system
    )
    _drawings(made, job)
    V = _by_the_plan(made, job)
    V_o = _ordered(made, job, V)
    _trucks(made, job, V_o)
    _takeoff(made, job, V_o)
    made.caution("Measure the depth of the finished base in many places before ordering: half an inch more depth "
                 "under a 4 in. slab is an eighth more concrete.")  # fmt: skip
    made.caution(
        "Wet concrete is caustic and burns skin and eyes: gloves, boots, eye protection, water to wash."
    )
    return made


def _drawings(made, job):
    from calcbook.plans import plan_drawing

    made.figure("Plan", lambda: plan_drawing(job.plan, job.system))


def _by_the_plan(made, job):
    t = made.given(job, "slab.thickness", "t")
    A = made.finding("Plan area inside the outline, openings taken out.", "A", job.plan.area, "ft2",
                     cite("geometry"), "area", "plan area")  # fmt: skip
    V_s = made.step(
        slab_volume, "The slab, one thickness all over.", r"V_{\mathrm{s}}", A=A, t=t, name="slab"
    )
    if not job.plan.depths:
        return V_s
    for place, symbol in (("edge.depth", "d"), ("edge.width", "b"), ("edge.slope", r"\mathrm{slope}")):
        made.given(job, place, symbol)
    V_d = made.finding(
        "Thickened edge and pads below the slab's underside. Multiplying section by length would count corners "
        "and overlaps twice, so the dug area is summed over its depth.",
        r"V_{\mathrm{d}}", dig_volume(job), "yd3", dig_volume.source, "dig", "thickened edge and pads",
    )  # fmt: skip
    return made.step(plan_volume, "Slab and thickenings together.", V_s=V_s, V_d=V_d, name="net")


def _ordered(made, job, V):
    waste = made.given(job, "concrete.waste", "w").m_as("")
    step = made.given(job, "concrete.order_step", r"\Delta V")
    risk = made.given(job, "concrete.short_risk", "p").m_as("")
    e, s = (
        made.given(job, f"base.{n}", x) for n, x in (("extra_depth", "e"), ("depth_spread", r"\sigma"))
    )
    made.step(
        waste_volume,
        "The allowance for spill, forms that spread, and an uneven base.",
        V=V,
        waste=waste,
    )
    V_w = made.step(
        order_volume, "With the allowance, rounded up to the step of sale.", V=V, waste=waste, step=step
    )
    if s.magnitude <= 0:
        return _keep_order(made, V_w, "The order.")
    V_p = made.step(order_for_risk, "What the records of the base ask for, at the accepted risk.",
                    V=V, A=job.plan.area, e=e, s=s, risk=risk, name="risk_volume")  # fmt: skip
    V_r = made.step(
        order_volume,
        "The same, rounded up to the step of sale.",
        r"V_{\mathrm{r}}",
        V=V_p,
        waste=0.0,
        step=step,
    )
    V_o = _keep_order(made, max(V_w, V_r), "The larger of the two is ordered.")
    made.step(
        short_odds,
        "What is left to chance with that order.",
        V_o=V_o,
        V=V,
        A=job.plan.area,
        e=e,
        s=s,
        name="odds",
    )
    return V_o


def _keep_order(made, V_o, words):
    return made.finding(
        words, r"V_{\mathrm{o}}", V_o, "yd3", cite("common practice"), "order", "concrete to order"
    )


def _trucks(made, job, V_o):
    capacity = made.given(job, "pour.truck_capacity", r"V_{\mathrm{truck}}")
    minimum = made.given(job, "pour.minimum_load", r"V_{\mathrm{min}}")
    made.step(truck_loads, "Loads, the last one as it falls.", V=V_o, capacity=capacity, name="trucks")
    made.step(short_load, "How far that last load is below the smallest load without a fee.",
                      V=V_o, capacity=capacity, minimum=minimum)  # fmt: skip
    plan = truck_plan(
        V_o,
        capacity,
        minimum,
        job.concrete.order_step,
        job.prices.concrete,
        job.prices.short_load_fee,
        job.system,
    )
    made.finding("What each truck brings: " + plan.words + ".", "", plan.text(job.system), "", truck_plan.source,
                 "loads", "loads of the trucks")  # fmt: skip
    remark = f"{plan.words[0].upper()}{plan.words[1:]}."
    if plan.remedy == "fee":
        made.check("Is the last load at least the smallest load without a fee?", minimum, last_load(V_o, capacity),
                   "yd3", truck_plan.source, remark)  # fmt: skip
    else:
        made.verdict("Is every load at least the smallest load without a fee?", True, truck_plan.source,
                     plan.text(job.system), remark=remark)  # fmt: skip
    made.results["truck_plan"] = plan


def _takeoff(made, job, V_o):
    plan = made.results["truck_plan"]
    made.take("Concrete", max(V_o, plan.total), "yd3", "concrete", note=plan.text(job.system))
    if plan.remedy == "fee":
        made.take("Short-load fee", 1.0, "1", "short_load_fee")
    if job.pour.pump:
        made.take("Concrete pump", 1.0, "1", "pump", "equipment")
    hours = made.step(person_hours, "Placing and striking off.", n=V_o.m_as("cubic_yard"),
                      rate=_per_hour(made.given(job, "crew.place_rate"), "cubic_yard"))  # fmt: skip
    made.work("Placing and striking off", hours)
    hours = made.step(person_hours, "Floating and troweling.", n=job.plan.area.m_as("foot**2"),
                      rate=_per_hour(made.given(job, "crew.trowel_rate"), "foot**2"))  # fmt: skip
    made.work("Floating and troweling", hours)


def _per_hour(rate, unit_name):
    return Q(rate.m_as(unit_name), "1/h")


__all__ = [
    "coverage", "dig_volume", "order_for_risk", "order_volume", "plan_volume",
    "prismoidal_volume", "ring_corner_volume", "ring_section_area", "ring_volume", "short_load",
    "short_odds", "slab_volume", "truck_loads", "truck_plan", "waste_volume",
]  # fmt: skip
