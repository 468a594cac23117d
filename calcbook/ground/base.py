"""What lies under and around the slab: stone base, soil dug out, edge forms."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from calcbook.basis.calculation import Calculation, Found
from calcbook.basis.formula import arg, cite, formula, procedure, result
from calcbook.basis.pricing import person_hours
from calcbook.basis.table import lookup
from calcbook.basis.units import Q, Quantity, number_in
from calcbook.concrete.raised import raised_forms
from calcbook.footings.edge_drawing import edge_section
from calcbook.ground.forms import against_walls, beside_slabs, form_length, form_stakes, formed_openings
from calcbook.ground.levels import enter_boards, enter_corners, enter_levels, enter_openings
from calcbook.ground.stone import enter_stone
from calcbook.job.top import top_of
from calcbook.plan.dug import depth_integral

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.job.file import Job
    from calcbook.plan.outline import Plan

EDGE_FORMS = "Edge forms"  # the line of the takeoff, with which stakes go
_LEVELS = {
    "t": arg("in", "slab thickness", above=0, high=48),
    "base": arg("in", "compacted thickness of the stone base", low=0, high=48, symbol="t_b"),
    "above_grade": arg("in", "top of slab above the ground", low=0, high=48, symbol="h_g"),
}


@formula(
    "Depth of the cut under the whole slab",
    cite("geometry"),
    result("in", "cut below the ground"),
    **_LEVELS,
)
def cut_depth(t, base, above_grade):
    """How far below the ground the underside of the stone lies; below 0 the site must be filled.

    Source: geometry.
    """
    d_c = t + base - above_grade
    return d_c


@procedure(
    "Soil dug out",
    cite("geometry", "cut under the whole outline, and the thickenings below it"),
    "Everything inside the outline is dug to the underside of the stone; below that only the thickened "
    "edge, pads and strips, with their dug area summed over the depth. The ground is taken as level.",
    returns=result("yd3", "soil, in the ground"),
)
def excavation_volume(job: Job) -> Quantity:
    """Volume of soil dug out for a job, measured in the ground.

    job: a Job. Returns a volume in yd3; working room outside the forms is not in it.
    Source: geometry.
    """
    t, above_grade = top_of(job).at_grade
    return soil_dug(job.plan, t, job.base.thickness, above_grade)


def soil_dug(
    plan: Plan, t: Quantity, base: Quantity, above_grade: Quantity, below: float | None = None
) -> Quantity:
    """Soil inside a Plan's outline that is dug out below level ground, in the ground, in yd3.

    t, base, above_grade: slab and stone thickness, and top of slab above the ground (lengths); below:
    ``below_cut``, where it is known already.
    """
    cut = cut_depth(t, base, above_grade).m_as("foot")
    if below is None:
        below = below_cut(plan, cut_bottom(t, base, above_grade))
    return Q(plan.outline.area * max(cut, 0.0) + below, "ft3").to("cubic_yard")


def cut_bottom(t: Quantity, base: Quantity, above_grade: Quantity) -> float:
    """Depth below the slab's underside, in feet, from which only thickenings are dug: the underside of the
    stone, or the ground where that is lower.

    t: thickness of the slab; base: of the stone; above_grade: height of the slab's top above the ground.
    """
    return max(number_in(base, "ft"), (above_grade - t).m_as("foot"))


def below_cut(plan: Plan, top: float) -> float:
    """Soil dug for thickenings below a depth ``top`` (feet), in cubic feet."""
    return depth_integral(plan, top, max(plan.depths, default=0.0))


@formula(
    "Loose volume of the soil",
    cite("common practice", "10 yd³ in the ground become 13 yd³ loose"),
    result("yd3", "soil to haul, loose"),
    V_e=arg("yd3", "soil, in the ground", low=0),
    swell=arg("1", "loose volume above volume in the ground", low=0, high=1, symbol="s"),
)
def spoil_volume(V_e, swell=0.30):
    """Volume of dug soil on the truck.

    swell: share by which it grows (plain). Source: common practice; a textbook's example of swell
    is 30 %.
    """
    V_h = V_e * (1 + swell)
    return V_h


@formula(
    "Fill under the stone",
    cite("geometry"),
    result("yd3", "fill, compacted in place"),
    A=arg("ft2", "area inside the outline", above=0),
    d_f=arg("in", "depth of fill", low=0),
)
def fill_volume(A, d_f):
    """Fill between level ground and the underside of the stone, where the slab stands that high.

    Source: geometry.
    """
    V_f = A * d_f
    return V_f


@formula(
    "Hours of the machine that digs",
    cite("common practice", "amount over the rate of the machine"),
    result("h", "hours of the machine"),
    V_e=arg("yd3", "soil, in the ground", low=0),
    r_m=arg("yd3", "soil that the machine digs in an hour, in the ground", above=0),
    one=arg("h", "the hour of that rate", above=0, symbol="h_1"),
)
def machine_hours(V_e, r_m, one=Q(1, "h")):
    """Hours that an excavator digs.

    Returns hours. Source: common practice; the rate is the builder's own record.
    """
    t_m = V_e / r_m * one
    return t_m


@dataclass(frozen=True)
class BaseFound(Found):
    """stone: ordered, 0 tons where there is no base; soil: dug out, in the ground."""

    stone: Quantity
    soil: Quantity


def chapter(
    job: Job, stone_in_place: Quantity, below: float, sharing: Sequence[tuple[str, Quantity]] = ()
) -> BaseFound:
    """Stone, soil and forms of a job; stone_in_place: ``stone_volume``; below: ``below_cut``; sharing: name and stone
    in place of each slab of one order of stone, this one too, the first of which holds the order."""
    calc = Calculation(
        "base", "Stone, soil and forms", "How much stone comes, how much soil goes, and what is formed?", job.system
    )  # fmt: skip
    calc.figure("Section at the edge", edge_section(job))
    t, t_b, h_g = (
        calc.given(job, place, symbol)
        for place, symbol in (
            ("slab.thickness", "t"), ("base.thickness", "t_b"), ("slab.above_grade", "h_g"),
        )
    )  # fmt: skip
    top = top_of(job)
    if top.plane is not None:
        t, h_g = top.at_grade
        calc.note("The top slopes: below, thickness and height are those where the height above the ground is given." if not
                  top.parallel else "Underside and stone slope with the top: below, the height is the mean.")  # fmt: skip
    stone = enter_stone(calc, job, stone_in_place, sharing)
    soil = _soil(calc, job, below, calc.step(
        cut_depth, "Depth of the cut under the whole slab, below level ground.", name="cut", t=t, base=t_b, above_grade=h_g,
    ))  # fmt: skip
    _forms(calc, job)
    calc.caution("Stone and soil must not be frozen, soft or under water when the concrete comes.")
    return BaseFound(calc, stone, soil)


def _soil(calc: Calculation, job: Job, below: float, cut: Quantity) -> Quantity:
    """Enter the soil; returns what is dug, in the ground."""
    t, above_grade = top_of(job).at_grade
    dug = soil_dug(job.plan, t, job.base.thickness, above_grade, below)
    V_e = calc.finding("Soil inside the outline, thickenings included.", "V_e", dug, "yd3",
                       excavation_volume.source, "soil", "soil dug, in the ground")  # fmt: skip
    swell = calc.given(job, "base.swell", "s").m_as("")
    V_h = calc.step(
        spoil_volume, "Dug soil takes more room on the truck.", name="spoil", V_e=V_e, swell=swell
    )
    calc.take("Hauling soil", V_h, "yd3", "spoil", note="loose")
    _digging(calc, job, V_e)
    calc.note("The ground is taken as level, and no working room outside the forms is counted.")
    if cut.magnitude < 0:
        _fill(calc, job, -1 * cut)
    return V_e


def _digging(calc: Calculation, job: Job, V_e: Quantity) -> None:
    """Enter the hours of digging by machine or by hand, each at its own rate; hauling is a line of its own."""
    how = calc.given(job, "base.digging")
    if how == "machine":
        rate = calc.given(job, "crew.machine_rate", "r_m")
        hours = calc.step(
            machine_hours, "Digging by machine; getting it there is for the builder to add.", name="digging",
            V_e=V_e, r_m=rate,
        )  # fmt: skip
        calc.take("Digging by machine", hours, "h", "excavator", "equipment")
    elif how == "hand":
        _work(calc, "Digging by hand", number_in(V_e, "yd3"), job, "crew.dig_rate", "cubic_yard")
    elif V_e.magnitude > 0:
        calc.leave_out(
            "Digging is not priced: write machine or hand under [base] digging, or add it as an extra line.",
            called=("dig", "excavat"),
        )


def _fill(calc: Calculation, job: Job, depth: Quantity) -> None:
    rule = lookup("base", rule="most clean fill")
    calc.step(fill_volume, "The stone would lie above the ground: fill under it.", name="fill",
              A=job.plan.gross_area, d_f=depth)  # fmt: skip
    calc.check(
        "Depth of the fill under the stone", depth, Q(rule["value_in"], "in"), "in",
        rule["source"], rule["note"], needs_engineer=True, to_do="Less fill, or a lower slab.",
    )  # fmt: skip


def _forms(calc: Calculation, job: Job) -> None:
    plan, formed = job.plan, formed_openings(job.plan)
    around = Q(math.fsum(o.shape.length for o in formed), "ft")
    corners = sum(
        len(shape.exterior.coords) - 1 for shape in (plan.outline, *(o.shape for o in formed))
    )
    L_w, L_b = against_walls(calc, job), beside_slabs(calc, job)
    left_out = [*["the sides against a wall"] * bool(L_w.magnitude), *["what stands against a slab poured before"] * bool(L_b.magnitude)]  # fmt: skip
    L_f = calc.step(
        form_length,
        "Forms around the slab and its square openings."
        if not left_out
        else f"Forms around the slab, but for {' and '.join(left_out)}, and around its square openings.",
        name="forms",
        P=plan.perimeter - L_w - L_b,
        P_o=around,
    )
    calc.step(form_stakes, "Stakes that hold them.", name="stakes", L_f=L_f, corners=float(corners))
    calc.take(EDGE_FORMS, L_f, "ft", "forms")
    L_r = Q(raised_forms(plan), "ft")
    if plan.raised:
        calc.finding("Faces of curbs, walls and steps that the edge forms do not hold.", "L_r", L_r, "ft", cite("geometry"),
                     "raised_forms", "forms of curbs, walls and steps")  # fmt: skip
        calc.take("Forms of curbs, walls and steps", L_r, "ft", "forms")
    enter_levels(calc, job)
    enter_boards(calc, job)
    enter_openings(calc, job)
    enter_corners(calc, job)
    _work(calc, "Setting forms", (L_f + L_r).m_as("foot"), job, "crew.forms_rate", "foot")


def _work(calc: Calculation, words: str, amount: float, job: Job, place: str, unit_name: str) -> None:
    rate = calc.given(job, place, "r").m_as(unit_name)
    calc.work(words, calc.step(person_hours, f"{words}.", n=amount, rate=Q(rate, "1/h")))
