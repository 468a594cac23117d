"""The building as one: what lifts it, what holds it down and what the ground gives; sliding along its walls."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.formula import cite
from calcbook.basis.showing import show
from calcbook.basis.table import records
from calcbook.basis.units import Q
from calcbook.footings import footing
from calcbook.footings.footing import CONCRETE
from calcbook.footings.uplift import edge_section, edge_weight, sliding_resistance
from calcbook.job.edges import edges_of, side_lengths
from calcbook.job.wall_lines import wall_line
from calcbook.loads.closing import LIFT, brought, combination, combinations

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.job.edges import EdgeOf
    from calcbook.job.file import Job
    from calcbook.loads.from_job import Brought

SMOOTH = 0.25


def whole_building(calc: Calculation, job: Job, walls: Sequence[Brought]) -> None:
    """Sums of the whole building in every combination, and sliding along x and along y."""
    if not any(b.model.top.W or b.model.along for b in walls):
        return
    concrete = _concrete(calc, job)
    known = [p.dead for pad in job.pads for p in pad.standing if p.dead is not None]
    posts = sum(known, Q(0, "lbf")).m_as("lbf")
    rows = []
    for row in combinations():
        if not row["W"]:
            continue
        sums = [brought(b.model, row) for b in walls if b.measured]
        up, down = sum(s[0] for s in sums), sum(s[1] for s in sums) + row["D"] * posts
        own = row["D"] * concrete.m_as("lbf")
        ground = down + own - up
        told = (up, down, own, ground, up + ground - down - own)
        rows.append(
            [
                row["name"],
                *(show(Q(round(x, 6) + 0.0, "lbf"), "lbf", job.system, exact=False) for x in told),
            ]
        )
        if row["name"] == LIFT:
            lift, dead = up, (down + own) / row["D"]
    columns = [
        "Combination",
        "Wind lifts",
        "Walls and posts press",
        "Slab and edge press",
        "Ground reaction",
        "Remainder",
    ]
    calc.table(
        "The building as one, with wind: what comes in and what takes it", records(columns, rows)
    )
    _sliding(calc, job, walls, dead, lift)


def _concrete(calc: Calculation, job: Job) -> Quantity:
    """Weight of slab and thickened edge, pads left out."""
    calc.note("The building as one. Pads are left out of its weight.")
    q_s = calc.step(footing.slab_weight, "The slab.", t=job.slab.thickness, gamma_c=CONCRETE)
    weight = (q_s * job.plan.area).to("lbf")
    if job.plan.edge is not None:
        for edge, length in zip(edges_of(job), side_lengths(job), strict=True):
            weight = weight + _edge_below(job, edge, Q(length, "ft"))
    return calc.finding(
        "Slab and the edge below it.",
        "D_c",
        weight,
        "lbf",
        cite("mechanics"),
        label="dead load of the concrete",
    )


def _edge_below(job: Job, edge: EdgeOf, length: Quantity) -> Quantity:
    """Weight of what one side's edge is below the slab."""
    t, b = job.slab.thickness, edge.width
    section = edge_section(t, edge.depth, b, edge.slope.m_as("")) - t * b
    return (edge_weight(section.to("foot**2"), CONCRETE) * length).to("lbf")


def _sliding(calc: Calculation, job: Job, walls: Sequence[Brought], dead: float, lift: float) -> None:
    """Shear of the walls along each direction against friction under the whole."""
    push = {"x": 0.0, "y": 0.0}
    for b in walls:
        wall = job.walls[b.index]
        if wall.side is None or not b.model.along:
            continue
        dx, dy = wall_line(job.slab, wall, job.system).along
        push["x" if abs(dx) >= abs(dy) else "y"] += b.model.along * b.model.length
    axis = max(push, key=lambda k: push[k])
    if not push[axis]:
        return
    F = calc.step(
        sliding_resistance, f"Friction under the whole building, {combination(LIFT)['name']}; no earth pressure is counted.",
        mu=SMOOTH, D=Q(dead, "lbf"), U=Q(lift, "lbf"),
    )  # fmt: skip
    calc.check(
        f"Sliding force of the building along {axis}", Q(push[axis], "lbf"), F, "lbf", sliding_resistance.source,
        "The shear of all walls that way, service level; friction 0.25, common practice for concrete on a sheet or fine soil.",
        needs_engineer=True,
    )  # fmt: skip
