"""Concrete by the plan: the slab, what is below it, and what is lowered."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.showing import show, show_length
from calcbook.basis.sources import cite
from calcbook.basis.table import records
from calcbook.basis.units import Q, number_in
from calcbook.concrete.raised import enter_raised
from calcbook.concrete.volumes import (
    coverage,
    lowered_volume,
    plan_volume,
    ring_corner_volume,
    ring_section_area,
    ring_volume,
    slab_volume,
    sloped_volume,
)
from calcbook.job.edges import edge_of, in_plan_order, sides_text
from calcbook.job.top import top_of
from calcbook.job.wall_lines import side_points
from calcbook.plan.dug import dig_volume
from calcbook.plan.offset import corner_sum, keeps_sides

if TYPE_CHECKING:
    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job
    from calcbook.plan.dug import Dug
    from calcbook.plan.outline import EdgeRing


def by_the_plan(calc: Calculation, job: Job, dug: Dug) -> Quantity:
    """Enter the concrete that the plan holds, and return its volume; dug: what is below the slab."""
    t = calc.given(job, "slab.thickness", "t")
    A = calc.finding("Plan area inside the outline, openings taken out.", "A", job.plan.area, "ft2",
                     cite("geometry"), "area", "plan area")  # fmt: skip
    V_s = _slab(calc, job, A, t)
    calc.step(coverage, "To check that by head: the area that one unit of concrete covers.", t=t)
    V_d = _below_the_slab(calc, job, dug) if job.plan.depths else Q(0, "yd3")
    ledges, raised = job.plan.ledges, job.plan.raised
    name = None if ledges or raised else "net"
    V = calc.step(plan_volume, "Slab and thickenings together.", name=name, V_s=V_s, V_d=V_d)
    if ledges:
        V = _less_lowered(calc, job, V, None if raised else "net")
    return enter_raised(calc, job, V) if raised else V


def _less_lowered(calc: Calculation, job: Job, V: Quantity, name: str | None) -> Quantity:
    """Enter door sills and ledges; returns the volume without what they take off."""
    V_k = calc.finding(
        "Door sills and ledges are lowered: plan area times drop, each place once.", "V_k", job.plan.lowered, "yd3",
        cite("geometry"), "lowered", "taken off at sills and ledges",
    )  # fmt: skip
    calc.table("Lowered stretches", _ledge_rows(job), cite("geometry"))
    return calc.step(lowered_volume, "Less what is lowered.", name=name, V=V, V_k=V_k)


def _slab(calc: Calculation, job: Job, A: Quantity, t: Quantity) -> Quantity:
    """The slab without what is below it: even, or thicker from its lowest place up."""
    top = top_of(job)
    if top.even:
        words = "The slab, one thickness all over."
        if top.plane is not None:
            words = "The slab: its underside slopes with its top, so it has one thickness all over."
        return calc.step(slab_volume, words, "V_s", "slab", A=A, t=t)
    calc.given(job, "slope.fall")
    h_m = calc.finding(
        "The top slopes and the underside is level: so much thicker than at its lowest place is the slab on average.",
        "h_m", top.rise, "in", cite("geometry"), "rise", "mean rise of the top",
    )  # fmt: skip
    calc.finding("Greatest thickness of the slab; the least is what is given.", "t_max", top.greatest, "in", cite("geometry"),
                 "greatest", "greatest thickness")  # fmt: skip
    return calc.step(sloped_volume, "The slab with its slope.", "V_s", "slab", A=A, t=t, h_m=h_m)


def _ledge_rows(job: Job) -> list[dict[str, str]]:
    system = job.system
    rows = [
        (x.name, str(x.side), *(show_length(Q(v, "ft"), system, small=True) for v in (x.drop, x.width)),
         show_length(Q(x.shape.area / x.width, "ft"), system))
        for x in job.plan.ledges
    ]  # fmt: skip
    return records(("stretch", "side", "below the top", "in from the outline", "length"), rows)


def _below_the_slab(calc: Calculation, job: Job, dug: Dug) -> Quantity:
    """The exact volume of what is dug below the slab, with the parts alone beside it."""
    plan = job.plan
    mixed = bool(plan.edge and plan.edge.sides)
    ring = _edge_alone(calc, job, plan.edge) if plan.edge and not mixed else None
    V_d = calc.finding(
        "Thickened edge and pads below the slab's underside. Multiplying section by length would count corners "
        "and overlaps twice, so the dug area is summed over its depth.",
        "V_d", dug.whole, "yd3", dig_volume.source, "dig", "thickened edge and pads",
    )  # fmt: skip
    parts = [("thickened edge", job.edge.depth, ring)] if ring is not None else []
    parts += [
        (
            f"edge of {sides_text(_job_sides(job, sides))}",
            edge_of(job, _job_sides(job, sides)[0]).depth,
            V,
        )
        for sides, V in dug.sides
    ]
    parts += [(t.name, Q(t.depth, "ft"), V) for t, V in zip(plan.thickenings, dug.alone, strict=True)]
    if ring is not None or mixed or not plan.edge:
        overlap = Q(round(number_in(V_d - sum(v for *_, v in parts), "yd3"), 9), "yd3")  # no noise
        words = "corners, overlaps and openings" if mixed else "counted twice above, or in openings"
        parts.append((words, None, overlap))
    parts.append(("together", None, V_d))
    rows = [
        (name, "" if depth is None else show(depth, "in", job.system), show(V, "yd3", job.system))
        for name, depth, V in parts
    ]
    columns = ("below the slab", "depth", "volume")
    calc.table("Thickenings one by one, each alone", records(columns, rows), dig_volume.source)
    return V_d


def _job_sides(job: Job, sides: tuple[int, ...]) -> list[int]:
    """Numbers of sides as in the job file, from the plan's own."""
    numbers = in_plan_order(job, list(range(1, len(side_points(job.slab)) + 1)))
    return sorted({numbers[k] for k in sides})


def _edge_alone(calc: Calculation, job: Job, edge: EdgeRing) -> Quantity | None:
    """The thickened edge in closed form, to check by hand; None where it uses up a side."""
    plan = job.plan
    d, b, slope = (
        calc.given(job, f"edge.{key}", symbol)
        for key, symbol in (("depth", "d"), ("width", "b"), ("slope", "slope"))
    )
    if not keeps_sides(plan.outline, edge.width + edge.slope * edge.depth):
        calc.note("Thickened edges of opposite sides meet, so there is no closed form to check by.")
        return None
    section = {"d": d, "b": b, "slope": slope.m_as("")}
    P = calc.finding(
        "Length of the edge along the outline, to check its volume by hand.",
        "P",
        plan.perimeter,
        "ft",
        cite("geometry"),
        label="length of the edge",
    )
    A_r = calc.step(
        ring_section_area, "Section of the edge below the slab, for the same check by hand.", **section
    )
    V_c = calc.step(
        ring_corner_volume, "Length times section counts this much twice at each corner.", **section
    )
    return calc.step(
        ring_volume,
        "Volume of the edge alone: section times length, less the corners.",
        P=P,
        A_r=A_r,
        V_c=V_c,
        C=round(corner_sum(plan.outline) + sum(arc.turn_excess for arc in plan.arcs), 9),
    )
