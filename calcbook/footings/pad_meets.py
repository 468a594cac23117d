"""What a pad meets: stone and ground, a pad beside it on the same ground, a strip under a wall, a joint of the slab."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

import shapely
from shapely import Point

from calcbook.basis.formula import cite
from calcbook.basis.rounding import metric_rule
from calcbook.basis.showing import show, show_length
from calcbook.basis.units import Q, number_in
from calcbook.footings import footing
from calcbook.footings.pad_fit import isolated
from calcbook.footings.remedies import DEEPER_PAD, LARGER_PAD
from calcbook.job.wall_lines import place_on_wall
from calcbook.loads.combinations import combined

if TYPE_CHECKING:
    from collections.abc import Sequence

    from shapely.geometry import LineString

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.footings.pad_fit import Footprint
    from calcbook.job.file import Job
    from calcbook.loads.from_job import LoadPath

CHAPTER = cite("ACI 318-19", "chapter 14")
LEAST_DEPTH = Q(12, "in")
_OVER = 0.02  # ft: less of a joint over a pad is none


def neighbours(
    calc: Calculation, job: Job, carried: dict[int, list[Quantity]], q_a: Quantity | None
) -> None:
    """Pads that touch: the ground under both carries both, and their shares of a wall.

    carried: dead, floor and roof load by pad, lbf; q_a: allowable pressure, psf.
    """
    if q_a is None:
        return
    pads, plan = job.pads, job.plan
    bottoms = [thickening.bottom for thickening in plan.thickenings[: len(pads)]]
    built = shapely.intersection(bottoms, plan.slab)
    close = shapely.STRtree(built).query(built, "dwithin", 1e-6).T.tolist()
    for i, j in sorted((i, j) for i, j in close if i < j and {i, j} <= carried.keys()):
        one, other = pads[i], pads[j]
        both = f"{one.name} and {other.name}"
        loads = [a + b for a, b in zip(carried[i], carried[j], strict=True)]
        P = combined(calc, "allowable", loads, f"{both} touch: what they carry together", "P_a")
        A = calc.finding("The ground under both.", "A", Q(built[i].union(built[j]).area, "ft2"), "ft2",
                         cite("geometry"), label="area of both pads")  # fmt: skip
        d = Q(max(plan.thickenings[k].depth for k in (i, j)), "ft")
        q_over = calc.step(
            footing.slab_weight, "The slab over them.", t=job.slab.thickness, gamma_c=footing.CONCRETE
        )
        q = calc.step(footing.bearing_pressure, "Pressure on their common ground.",
                      P=P, A=A, d=d, gamma_c=footing.CONCRETE, q_over=q_over)  # fmt: skip
        calc.check(f"Bearing pressure under pads {both} together", q, q_a, "psf", cite("ASCE 7-16", "2.4.1"),
                   to_do=LARGER_PAD)  # fmt: skip
        calc.ask_engineer(f"Bending of pads {both} as one piece", CHAPTER,
                          "Two posts on one piece of concrete are more than these formulas cover.", job, "Move them apart.")  # fmt: skip


def strips(calc: Calculation, job: Job) -> None:
    """A strip under a wall that meets a pad presses on the same ground."""
    pads, strips = job.plan.thickenings[: len(job.pads)], job.plan.thickenings[len(job.pads) :]
    for pad, strip in itertools.product(pads, strips):
        if pad.bottom.distance(strip.bottom) <= 1e-6:
            calc.ask_engineer(f"Ground shared by pad {pad.name} and the strip under {strip.name}", CHAPTER,
                              "They meet.", job, "Move the pad, or end the strip before it.")  # fmt: skip


def wall_points(calc: Calculation, job: Job, path: LoadPath) -> None:
    """Jambs, posts and ends of shear walls that press on a pad: the pads count lines of walls alone."""
    for pad, thickening in zip(job.pads, job.plan.thickenings, strict=False):
        for b in path.walls:
            wall = job.walls[b.index]
            if wall.side is None and wall.run() is None:
                continue
            place = place_on_wall(job.slab, wall, job.system)
            found = [
                (P, name)
                for P, name, at in b.pressing + b.thrusts
                if thickening.bottom.intersects(Point(place(at)))
            ]
            if found:
                P, name = max(found)
                calc.ask_engineer(
                    f"Pad {pad.name} under the {name}, wall {b.name}", CHAPTER,
                    f"Up to {show(Q(P, 'lbf'), 'lbf', job.system)} there, which the checks of this pad do not count; the soil under it is "
                    "checked as if there were no pad (chapters on edges and on the slab).",
                    job, "Give the load to the post of the pad, and take it off the wall (walls.points).",
                )  # fmt: skip


def joints_at(calc: Calculation, job: Job, cuts: Sequence[LineString], reach: Quantity | None) -> None:
    """A joint across a pad that is one piece with the slab, or beside one where no plate is worked out.

    cuts: the joints; reach: how far the slab spreads a load, None where it is not known.
    """
    if isolated(job) or not cuts:
        return
    far = 0.0 if reach is None or job.slab.plate else float(number_in(reach, "ft"))
    for pad, thickening in zip(job.pads, job.plan.thickenings, strict=False):
        built = thickening.bottom & job.plan.slab
        if any((cut & built).length > _OVER for cut in cuts):
            calc.ask_engineer(
                f"Joint across pad {pad.name}", CHAPTER,
                "Slab and pad count as one piece of concrete, and a joint is cut so that a crack forms below it: the checks of this "
                "pad do not hold where it runs through.",
                job, "Lead the joint clear of the pad (joints.lines), or isolate the posts (joints.isolate).",
            )  # fmt: skip
            continue
        near = min(cut.distance(built) for cut in cuts)
        if near < far:
            calc.ask_engineer(
                f"Slab beside pad {pad.name} at a joint", CHAPTER,
                f"A joint runs {show_length(Q(near, 'ft'), job.system, True)} beside it. As the pad settles, the slab that is one piece with "
                "it bends as at a free edge. Only the slab as a plate shows that, and it is not worked out.",
                job, "Let the plate be worked out (slab.plate = true), or isolate the posts (joints.isolate).",
            )  # fmt: skip


def in_the_ground(calc: Calculation, job: Job, index: int, seat: Footprint) -> None:
    """A pad reaches through the stone; at the outline also deep enough into the ground. A post that lifts is anchored."""
    pad, t = job.pads[index], job.slab.thickness
    calc.check(f"Depth of pad {pad.name} through the stone", job.base.thickness, seat.d, "in",
               cite("common practice", "a footing ends in firm ground"),
               least=True, to_do=DEEPER_PAD)  # fmt: skip
    outline = job.plan.outline
    if job.plan.thickenings[index].bottom.intersects(outline.exterior):
        below, least = t + seat.d - job.slab.above_grade, metric_rule(LEAST_DEPTH, job.system)
        calc.check(f"Depth of pad {pad.name} below the ground outside", least, below, "in",
                   cite("IRC 2021", "R403.1.4: 12 in."), least=True, to_do=DEEPER_PAD)  # fmt: skip
    for post in pad.standing:
        if post.uplift is not None and post.uplift.magnitude:
            which = f"the post to pad {pad.name}" if post is pad else f"{post.name} to pad {pad.name}"
            if post.anchored:
                calc.check(
                    f"Allowable uplift of the base of {which}", post.uplift, post.hold_down, "lbf", cite("ASCE 7-16", "2.4.1 combination 7"),
                    "Its anchor is checked in the chapter on bolts.", to_do="A base that may be asked for more.",
                )  # fmt: skip
                continue
            calc.ask_engineer(
                f"Anchorage of {which}", cite("ACI 318-19", "chapter 17"),
                f"{show(post.uplift, 'lbf', job.system)} lifts it at service level: the engineer names the post base and its "
                "anchor.",
                job,
                "Give them in the job file (pads.hold_down, pads.anchor).",
            )  # fmt: skip
