"""A post and a wall on one pad, each at its true place: the soil at the worst edge, or the slab that holds the pad level."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from calcbook.basis.formula import FormulaError, cite
from calcbook.basis.units import Q, number_in
from calcbook.footings import footing, plain
from calcbook.footings.asked_pad import asked, posts_on
from calcbook.footings.pad_fit import isolated, wall_across, wall_length
from calcbook.footings.remedies import PAD_UNDER_WALL
from calcbook.footings.rigid_pad import Stands, patterns
from calcbook.footings.shared_pad import BENDING, STATICS, enter_places, pressure_on
from calcbook.loads.combinations import wall_loads

if TYPE_CHECKING:
    from calcbook.basis.calculation import Calculation
    from calcbook.footings.asked_pad import AskedPad
    from calcbook.footings.pad_fit import EdgeWalls, Footprint
    from calcbook.job.file import Job
    from calcbook.slab.soil import Ground


def wall_on(job: Job, index: int, walls: EdgeWalls) -> Stands | None:
    """The share of the heaviest wall over a pad, at its true line; None where there is none, or it runs aslant."""
    plan, bottom = job.plan, job.plan.thickenings[index].bottom
    which = walls.heaviest(bottom)
    s = 0.0 if which is None else wall_length(bottom, plan.edging)
    if which is None or s < 1e-6:
        return None
    built = bottom & plan.slab
    across = wall_across(job, which, bottom, built)
    if across is None:
        return None
    wall, (axis, _, place) = job.walls[which], across
    x0, y0, x1, y1 = built.bounds
    size = (12 * s, float(number_in(wall.plate_width, "in")))
    D, L, S = (float(number_in(v, "lbf")) * s for v in wall_loads(wall))
    return Stands(
        wall.name, (12 * (place[0] - (x0 + x1) / 2), 12 * (place[1] - (y0 + y1) / 2)),
        size if axis == 1 else size[::-1], (D, L, S), runs=1 - axis,
    )  # fmt: skip


def wall_shares(job: Job, index: int, walls: EdgeWalls) -> list[Stands] | None:
    """The share of a wall over a pad with its uplift, as a list of one; empty without a wall, None where it is not known
    or runs aslant."""
    plan, bottom = job.plan, job.plan.thickenings[index].bottom
    s = wall_length(bottom, plan.edging) if walls.over(bottom) else 0.0
    if s < 1e-6:
        return []
    wall = wall_on(job, index, walls)
    return None if wall is None else [replace(wall, W=max(walls.lift(bottom), 0.0) * s)]


def under_wall(
    calc: Calculation, job: Job, index: int, seat: Footprint, ground: Ground, walls: EdgeWalls
) -> float:
    """Bearing pressure under a pad with a post and a wall, each at its true place; the ratio, 0 where it is not worked out.

    seat: the pad as it is built; ground: what it bears.
    """
    wall = wall_on(job, index, walls)
    if wall is None:
        return 0.0
    on = asked(calc, job, index, seat, [*posts_on(job, index), wall])
    calc.note(
        f"{on.name}: post and wall at their true places. The checks of the concrete count both at the post, which bends the pad "
        "more; the soil feels where they stand, unless the slab holds the pad level."
    )
    enter_places(on)
    q_a, own = ground.bearing, footing.slab_weight(t=job.slab.thickness + seat.d, gamma_c=footing.CONCRETE)  # fmt: skip
    assert q_a is not None
    try:
        worst, name = max((pressure_on(on, p)[2], p.name) for p in patterns("allowable", on.posts))
    except FormulaError:
        return _held_level(on, job)
    q = calc.finding(f"At the worst edge, with the weight of pad and slab; {name}.", "q_toe", Q(worst, "psf") + own, "psf",
                     STATICS, label="bearing pressure of a pad that may turn")  # fmt: skip
    if q > q_a:
        return _held_level(on, job)
    calc.check(f"Bearing pressure with the wall at its true line, pad {on.name}", q, q_a, "psf", cite("ASCE 7-16", "2.4.1"),
               f"{name} governs.", to_do=PAD_UNDER_WALL)  # fmt: skip
    return float((q / q_a).m_as(""))


def _held_level(on: AskedPad, job: Job) -> float:
    """A pad that turns too far alone: what turns it against the slab that holds it, all along the pad but for the post's box."""
    calc = on.calc
    calc.note(
        "Alone the pad would turn and press harder than the soil may be: the slab must hold it level."
    )
    turns = [
        (p.P * abs(p.offset(on.posts, n)), n, p) for p in patterns("strength", on.posts) for n in (0, 1)
    ]
    M, axis, pattern = max(turns, key=lambda t: t[0])
    M_t = calc.finding(f"All loads turn it about its middle by their sum times its distance from there; {pattern.name}.",
                       "M_t", Q(M, "lbf*in"), "lbf*in", STATICS, label="turning moment on the pad")  # fmt: skip
    h = calc.step(plain.soil_deduction, "What counts of the slab.", h=job.slab.thickness)
    box = number_in(job.joints.box, "in") * math.sqrt(2) if isolated(job) else 0.0
    b = Q(max(on.sides[1 - axis] - box, 1.0), "in")
    M_n = calc.step(plain.plain_moment_strength, "What the slab holds along the pad, the box around the post left out.",
                    f_c=job.concrete.strength, b=b, h=h)  # fmt: skip
    ratio = float((M_t / M_n).m_as(""))
    calc.check(f"Bending moment of the slab that holds pad {on.name} level", M_t, M_n, "lbf*in", BENDING,
               to_do=PAD_UNDER_WALL, needs_engineer=True)  # fmt: skip
    return ratio
