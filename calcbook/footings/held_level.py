"""The edge under a wall off its middle: its toe on the soil alone, or the slab that holds it level.

A wall outside of the middle turns the edge outward: the slab beside it is bent with its top in tension, and its own weight holds it.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely import Polygon

from calcbook.basis.formula import FormulaError, cite
from calcbook.basis.showing import show
from calcbook.basis.units import Q, number_in
from calcbook.footings import footing, uplift
from calcbook.footings.eccentric import edge_offset, pressure_of
from calcbook.footings.footing import CONCRETE
from calcbook.footings.pads import STRIP
from calcbook.footings.slab_steel import bars_that_hold, slab_hold
from calcbook.job.edges import edge_of
from calcbook.job.wall_lines import wall_line
from calcbook.plan.tape import from_steps

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray
    from shapely import LineString
    from shapely.geometry.base import BaseGeometry

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.job.edges import EdgeOf
    from calcbook.job.file import Job
    from calcbook.job.schema.walls import Wall

_NEAR = 1e-6
_THICKEST = 30  # steps of a slab that one would thicken for it
_BESIDE = 0.1  # ft of a joint in the slab beside a wall
_PARALLEL = 0.05  # feet that a joint may come nearer along a wall and still run beside it


def free_slab(job: Job, wall: Wall, cuts: Sequence[LineString]) -> float:
    """Feet of slab between the edge and the nearest joint along a wall: no tension crosses a joint.

    A joint counts where it runs in the slab beside the wall; one beyond its ends or behind a corner does not part that slab. At
    most half of the slab counts, to its nearest side over there.
    """
    line = wall_line(job.slab, wall, job.system)
    x0, y0, x1, y1 = job.plan.bounds
    low, high, far = _BESIDE, line.length - _BESIDE, x1 - x0 + y1 - y0
    beside = Polygon([line.at(u, v) for u, v in ((low, _NEAR), (high, _NEAR), (high, far), (low, far))])

    def off(shape: BaseGeometry) -> NDArray:
        return (shapely.get_coordinates(shape) - np.array(line.origin)) @ np.array(line.inward)

    across = float(off(job.plan.outline.boundary & beside).min(initial=min(x1 - x0, y1 - y0)))
    found = [
        float(off(cut).min()) for cut in cuts
        if (cut & beside).length > _BESIDE and np.ptp(off(cut)) <= _PARALLEL
    ]  # fmt: skip
    width = float(number_in(edge_of(job, wall.side).width, "ft"))
    return max(min([across / 2, *found]) - width, 0.0)


def toe_check(
    calc: Calculation,
    job: Job,
    wall: Wall,
    loads: tuple[Quantity, Quantity],
    own: float,
    q_a: Quantity,
    cuts: Sequence[LineString],
) -> None:
    """The outer toe of the edge under a wall off its middle: the soil alone, or the slab that holds it level.

    loads: of one foot, unfactored and factored; own: pressure of edge and slab over it (psf); q_a: allowable; cuts: joints.
    """
    edge, (P_a, P_u) = edge_of(job, wall.side), loads
    b = edge.width
    e = calc.step(
        edge_offset, f"{wall.name}: the middle of its plate off the middle of the edge.", b=b, t_w=wall.plate_width,
        i_p=wall.inset,
    )  # fmt: skip
    clause = cite("mechanics", "a strip under an offset load")
    title = f"Bearing pressure under the toe of the edge, wall {wall.name}"
    try:
        formula, inputs = pressure_of(P_a, b, STRIP, e, Q(0, "in"))
    except FormulaError:
        calc.ask_engineer(
            title,
            clause,
            "The wall stands off its edge: the slab would have to carry it there.",
            job,
        )
        return
    toe = calc.step(
        formula, "If the edge were free to turn, its toe would press this hard.", "q_toe", **inputs
    )
    q = Q(number_in(toe, "psf") + own, "psf")
    if q <= q_a:
        calc.check(title, q, q_a, "psf", clause)
        return
    calc.note(
        f"With its own weight {show(q, 'psf', job.system)}, more than the soil may carry: the slab must hold the edge level."
    )
    M_t = calc.step(
        uplift.turning_moment, "The wall turns one foot of the edge by this moment.", P=P_u, e=e
    )
    outward = wall.inset + wall.plate_width / 2 < b / 2
    hold = slab_hold(job, edge, job.slab.thickness, outward, calc.step)
    if hold.steel:
        calc.note(
            "Steel at the middle of a slab has less than the 3 in. of cover that concrete cast against bare ground asks for (ACI 318-19 "
            "Table 20.5.1.3.1): it is counted by the residential code's place for it, on a vapor retarder or a dry base."
        )
    held = M_t <= hold.strength
    calc.check(
        f"Bending moment of the slab that holds the edge level, wall {wall.name}", M_t, hold.strength, "lbf*in", hold.clause,
        f"{hold.words} Slab and edge are one pour." if held else
        f"{hold.words} Alone the toe presses {show(q, 'psf', job.system)}.",
        to_do="" if held else _mend(job, edge, M_t, outward),
    )  # fmt: skip
    if not held or M_t.magnitude <= 0:  # a wall over the edge's middle turns nothing
        return
    L_t = calc.step(
        uplift.lifted_slab, "So much slab balances that moment by its weight; a joint along the edge would part it.", "L_t",
        phiM_n=M_t, q_s=footing.slab_weight(job.slab.thickness, CONCRETE),
    )  # fmt: skip
    calc.check(
        f"Slab without a joint beside the edge that it holds level, wall {wall.name}", L_t, Q(free_slab(job, wall, cuts), "ft"), "ft",
        uplift.lifted_slab.source, least=True,
        to_do="Move the joint that runs along the edge (joints.lines), or set the wall nearer to the edge's middle.",
    )  # fmt: skip


def _mend(job: Job, edge: EdgeOf, M_t: Quantity, outward: bool) -> str:
    """What lets a slab hold an edge that a wall turns by a moment."""
    ways = [_thicker(job, edge, M_t, outward)]
    if outward and (bars := bars_that_hold(job, edge, M_t)):
        ways.append(bars)
    return f"{', or '.join(ways)}, or set the wall nearer to the edge's middle."


def _thicker(job: Job, edge: EdgeOf, M_t: Quantity, outward: bool) -> str:
    """How thick a slab holds that edge with the steel that it has, in steps that forms are set by."""
    step = from_steps(8 if job.system == "us" else 10, job.system)  # 1/2 in. or 10 mm
    for n in range(math.ceil((job.slab.thickness / step).m_as("")), _THICKEST):
        if slab_hold(job, edge, n * step, outward).strength >= M_t:
            return f"Thicken the slab to {show(n * step, 'in', job.system)} at least"
    return "Give the wall a footing of its own"
