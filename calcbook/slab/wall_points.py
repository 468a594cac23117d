"""Walls on the bare slab where they press most, at a jamb, a post or an end of a shear wall, and where they cross an opening."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from shapely import LineString

from calcbook.basis.formula import cite
from calcbook.basis.showing import show
from calcbook.basis.units import Q, number_in
from calcbook.job.wall_lines import place_on_wall
from calcbook.loads.from_job import STUDS
from calcbook.slab.contact import contact_radius
from calcbook.slab.wall_load import wall_allowable_stress
from calcbook.slab.westergaard import interior_stress
from calcbook.slab.where import AT, hardest_spot, near_places

if TYPE_CHECKING:
    from collections.abc import Sequence

    from shapely.geometry import Polygon

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job
    from calcbook.job.schema.walls import Wall
    from calcbook.loads.from_job import Brought

_ON = 0.05  # ft of a wall over an opening


def opening_crossed(job: Job, wall: Wall) -> str:
    """The openings of the slab that a wall runs over, in words; "" where none is or its place is not known."""
    run = wall.run()
    if run is None:
        return ""
    place = place_on_wall(job.slab, wall, job.system)
    line = LineString([place(0.0), place(float(number_in(run, "ft")))])
    names = [o.name for o in job.plan.openings if (line & o.shape).length > _ON]
    return ", ".join(names)


def ask_about_opening(calc: Calculation, job: Job, wall: Wall) -> None:
    """Leave a wall that runs over an opening of the slab to an engineer."""
    names = opening_crossed(job, wall)
    if names:
        calc.ask_engineer(
            f"Wall {wall.name} over an opening", cite("mechanics", "a wall needs something below it"),
            f"It runs over {names}: no concrete carries it there, and what stands beside the opening carries more than is counted.",
            job, "Move the wall or the opening.",
        )  # fmt: skip


def presses_somewhere(b: Brought) -> bool:
    """Whether a wall presses somewhere more than along its line."""
    return bool(b.model.openings or b.model.points or b.ends)


def hardest_point(
    calc: Calculation, job: Job, b: Brought, slab: dict[str, Any], line: tuple[Quantity, Quantity, str], f_a: Quantity,
    length: Quantity, parted: tuple[Sequence[LineString], Sequence[Polygon]],
) -> None:  # fmt: skip
    """Bending stress of the slab at the jamb, post or end of shear wall that bends it most, with what the wall's line bends it by.

    slab: h, E_c, nu, k; line: what presses by length, what the slab carries so, and the kind of place of the wall; f_a:
    allowable; length: radius of relative stiffness; parted: the joints, and the boxes around posts.
    """
    wall, (w, w_a, at) = job.walls[b.index], line
    pressing = b.pressing + b.thrusts
    if not pressing:
        return
    a = contact_radius(L=STUDS, B=wall.plate_width)
    where = place_on_wall(job.slab, wall, job.system) if b.measured else None
    found = []
    for P, name, along in pressing:
        near = near_places(job, [where(along)], length + a, *parted) if where else {}
        spot = hardest_spot(job, {"P": Q(P, "lbf"), "a": a, **slab}, length + a, at, near)
        found.append((number_in(spot.stress, "psi"), P, name, spot.place))
    sigma, P, name, place = max(found)
    calc.finding(
        f"{wall.name}: its {name} that bends the slab most presses by {show(Q(P, 'lbf'), 'lbf', job.system)} on "
        f"{show(STUDS, 'in', job.system)} of plate, {AT[place]} (Westergaard's formulas, as for a post).", "sigma_P",
        Q(sigma, "psi"), "psi", interior_stress.source, label="stress where the wall presses most",
    )  # fmt: skip
    F_b = calc.step(wall_allowable_stress, "What the table of walls allows.", f_c=job.concrete.strength)
    own = calc.finding(
        "What the line of the wall bends it by beside, in proportion to what would use that up.",
        "sigma_w", F_b * float((w / w_a).m_as("")), "psi", cite("UFC 3-320-06A", "Table 3-2"),
        label="stress under the line of the wall",
    )  # fmt: skip
    calc.check(
        f"Bending stress under the {name} that presses most, wall {wall.name}", Q(sigma, "psi") + own, f_a, "psi",
        cite("ACI 360R-10", "modulus of rupture over a safety factor"), f"{AT[place].capitalize()}, with the line of the wall.",
        to_do="Give it a pad or the wall a strip (strip_width, strip_depth), or thicken the slab.",
    )  # fmt: skip
