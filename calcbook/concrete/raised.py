"""Curbs and stem walls on a slab, and steps before it: concrete, forms, and how far the book goes with them."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import shapely

from calcbook.basis.calculation import PRACTICE
from calcbook.basis.formula import arg, cite, formula, procedure, result
from calcbook.basis.showing import show_length
from calcbook.basis.table import records
from calcbook.basis.units import Q
from calcbook.job.schema.curbs import CURB, STEPS, WALL

if TYPE_CHECKING:
    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job
    from calcbook.plan.edge import Raised
    from calcbook.plan.outline import Plan

REACH = {CURB: Q(12, "in"), WALL: Q(24, "in")}  # as high as the book goes; common practice, no source
RISER, TREAD = Q(7.75, "in"), Q(10, "in")
STAIRS = cite("IRC 2021", "R311.7.5, from memory")


@formula(
    "Concrete of steps",
    cite("geometry", "each step is one riser higher than the one before it"),
    result("ft3", "concrete of steps"),
    L=arg("ft", "length of the steps", above=0),
    h=arg("in", "height of a riser", above=0),
    b=arg("in", "depth of a tread", above=0),
    n=arg("1", "steps", above=0),
)
def steps_volume(L, h, b, n):
    """A block of steps on level ground, poured whole. Returns a volume.

    >>> print(steps_volume("4 ft", "7 in", "12 in", 3))
    14.0 foot ** 3
    """
    V = L * h * b * n * (n + 1) / 2
    return V


@formula(
    "Volume with what stands above",
    cite("geometry"),
    result("yd3", "concrete by the plan"),
    V=arg("yd3", "slab and what is below it", above=0),
    V_u=arg("yd3", "curbs, stem walls and steps", low=0),
)
def raised_total(V, V_u):
    """Concrete of a slab with its curbs, stem walls and steps. Returns a volume. Source: geometry."""
    V_net = V + V_u
    return V_net


@procedure(
    "Concrete of curbs, stem walls and steps",
    cite("geometry", "plan area times height, each place once to its highest; steps one by one"),
    "Where two curbs meet at a corner the corner counts once: the area is summed from height to height.",
    returns=result("yd3", "curbs, stem walls and steps"),
)
def raised_volume(plan: Plan) -> Quantity:
    """Exact volume of what stands above a slab or before it. plan: a Plan. Source: geometry."""
    on_slab = [r for r in plan.raised if r.kind != STEPS]
    found, below = 0.0, 0.0
    for height in sorted({r.height for r in on_slab}):
        found += (height - below) * (
            shapely.union_all([r.shape for r in on_slab if r.height >= height]) & plan.slab
        ).area
        below = height
    steps = (
        steps_volume(Q(r.length, "ft"), Q(r.height, "ft"), Q(r.width, "ft"), r.count).m_as("foot**3")
        for r in plan.raised
        if r.kind == STEPS
    )
    return Q(found + math.fsum(steps), "ft3").to("cubic_yard")


def enter_raised(calc: Calculation, job: Job, V: Quantity) -> Quantity:
    """Enter curbs, stem walls and steps; returns the volume with them. V: without."""
    raised = job.plan.raised
    V_u = calc.finding(
        "Curbs, stem walls and steps, poured with the slab.", "V_u", raised_volume(job.plan), "yd3", raised_volume.source,
        "raised", "curbs, walls and steps",
    )  # fmt: skip
    calc.table("Curbs, stem walls and steps", _rows(job), cite("geometry"))
    for number, one in enumerate(raised):
        _judge(calc, job, one, number)
    return calc.step(raised_total, "With what stands above the slab.", name="net", V=V, V_u=V_u)


def _rows(job: Job) -> list[dict[str, str]]:
    def shown(feet: float, small: bool = True) -> str:
        return show_length(Q(feet, "ft"), job.system, small=small)

    rows = [
        (r.name, str(r.side), str(r.count) if r.kind == STEPS else "", shown(r.height), shown(r.width), shown(r.length, False))
        for r in job.plan.raised
    ]  # fmt: skip
    return records(("of", "side", "steps", "height", "width", "length"), rows)


def _judge(calc: Calculation, job: Job, one: Raised, number: int) -> None:
    if one.kind == STEPS:
        calc.check(f"Height of a riser: {one.name}", Q(one.height, "ft"), RISER, "in", STAIRS,
                   to_do="Lower steps, and more of them.")  # fmt: skip
        calc.check(f"Depth of a tread: {one.name}", TREAD, Q(one.width, "ft"), "in", STAIRS,
                   to_do="Deeper treads.", least=True)  # fmt: skip
        calc.note(f"{one.name}: the block stands on firm, level ground outside the slab; digging, base and frost below it "
                  "are not counted.")  # fmt: skip
        calc.not_worked_out("Ask the building office what lies below steps; give it as a slab of its own under [[slabs]].",
                            f"Ground and frost below {one.name}")  # fmt: skip
        return
    calc.check(f"Height of {one.name}", Q(one.height, "ft"), REACH[one.kind], "in", PRACTICE,
               "Higher than the book goes: its steel and its hold on the slab are an engineer's.", needs_engineer=True)  # fmt: skip
    if job.curbs[number].retains.magnitude:
        calc.ask_engineer(
            f"Soil held by {one.name}",
            PRACTICE,
            "A wall that holds soil is a retaining wall: an engineer designs it.",
            job,
        )


def raised_forms(plan: Plan) -> float:
    """Feet of form faces that curbs, walls and steps take beside the edge forms: inner face and ends, or risers and sides."""
    found = 0.0
    for r in plan.raised:
        if r.kind == STEPS:
            found += r.count * r.length + 2 * sum(r.width * k for k in range(1, r.count + 1))
        else:
            found += r.length + 2 * r.width
    return found
