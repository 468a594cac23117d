"""What a wall stands on, its edge or its strip, and the soil below where it presses most: at jambs, posts and ends of shear walls."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import shapely
from shapely import LineString, Point

from calcbook.basis.formula import cite
from calcbook.basis.showing import show, show_length
from calcbook.basis.units import Q, number_in
from calcbook.footings import footing
from calcbook.footings.remedies import WIDER_EDGE, WIDER_STRIP
from calcbook.job.edges import edge_of
from calcbook.job.wall_lines import wall_line
from calcbook.loads.from_job import STUDS

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.footings.edge_run import EdgeRun
    from calcbook.job.file import Job
    from calcbook.job.schema.walls import Wall
    from calcbook.loads.from_job import Brought

_ON_IT = 0.01  # ft: a joint so near to a place of a wall crosses it there


@dataclass(frozen=True)
class Under:
    """What a wall stands on, "edge" or "strip": its width and its depth below the slab; near, end: feet from a place along the
    wall to where it ends beside it, at a joint too; end: the same at an end of a shear wall, where a corner ends it as well."""

    name: str
    width: Quantity
    depth: Quantity
    near: Callable[[float], float]
    end: Callable[[float], float]
    mend: str

    def thick(self, job: Job) -> float:
        """Slab and edge or strip together, inches."""
        return number_in(job.slab.thickness, "in") + number_in(self.depth, "in")


def edge_under(job: Job, wall: Wall, run: EdgeRun) -> Under:
    """The thickened edge under a wall on a side."""
    edge, line = edge_of(job, wall.side), wall_line(job.slab, wall, job.system)

    def near(at: float) -> float:
        return run.piece_at(run.place(line, at)).near

    def end(at: float) -> float:
        return max(min(line.before + at, line.length + line.after - at, near(at)), 0.0)

    return Under("edge", edge.width, edge.depth, near, end, WIDER_EDGE)


def strip_under(wall: Wall, cuts: Sequence[LineString]) -> Under:
    """The strip of a wall inside: as long as the wall, and parted where a joint crosses it. cuts: the joints."""
    x1, y1, x2, y2, width, depth = wall.strip() or ()
    ends = [tuple(float(number_in(v, "ft")) for v in pair) for pair in ((x1, y1), (x2, y2))]
    line = LineString(ends)
    crossed = [
        line.project(Point(p))
        for cut in cuts
        if cut.distance(line) < _ON_IT
        for p in shapely.get_coordinates(shapely.shortest_line(line, cut))[:1]
    ]

    def near(at: float) -> float:
        return max(min(at, line.length - at, *(abs(at - c) for c in crossed), line.length), 0.0)

    return Under("strip", width, depth, near, near, WIDER_STRIP)


def _spread(h: float, near: float) -> Quantity:
    """How long it carries what stands on it; h: its whole thickness, inches; near: feet to where it ends."""
    return Q(h + min(h, 12 * near), "in") + STUDS


def _spread_words(h: float, near: float, system: str) -> str:
    """What such a length is made of; as for ``_spread``."""
    studs, far, short = (show(x, "in", system) for x in (STUDS, Q(h, "in"), Q(min(h, 12 * near), "in")))
    return f"{studs} of studs, {far} to one side and {short} to the other"


def _pressed(P: float, A: Quantity, w: float, b: Quantity, own: float) -> Quantity:
    """Pressure on the soil, psf, of P pounds on an area A, of a line load w (plf) on a width b, and of what weighs own (psf)."""
    return Q(P / number_in(A, "ft2") + w / number_in(b, "ft") + own, "psf")


def jamb_pressure(
    calc: Calculation, job: Job, b: Brought, w: float, own: float, q_a: Quantity, under: Under
) -> None:
    """Pressure under the jamb or post that presses most, spread at 45 degrees, over no joint.

    w: line load that presses there already (plf); own: pressure of the edge or strip and the slab over it (psf); q_a: allowable.
    """
    h = under.thick(job)
    nearest = {at: under.near(at) for at in {at for _, _, at in b.pressing}}
    down = [(P / _spread(h, nearest[at]).magnitude, P, name, nearest[at]) for P, name, at in b.pressing]
    if not down:
        return
    _, P, name, near = max(down)
    joint = 12 * near < h
    s = calc.finding(
        f"{b.name}: the load of a {name} spreads at 45 degrees through the {under.name}"
        + (f", on one side to a joint or end {show_length(Q(near, 'ft'), job.system)} away" if joint else "")
        + f": {_spread_words(h, near, job.system)}.", "s",
        _spread(h, near), "in", cite("common practice", "45 degrees through plain concrete"), label=f"loaded length of the {under.name}",
    )  # fmt: skip
    A = calc.step(
        footing.pad_area, f"The load stands on this area of the {under.name}.", L=s, B=under.width
    )
    q = _pressed(P, A, w, under.width, own)
    calc.check(f"Bearing pressure under the {name} that presses most, wall {b.name}", q, q_a, "psf", cite("ASCE 7-16", "2.4.1"),
               f"{show(Q(P, 'lbf'), 'lbf', job.system)} there, with the line of the wall and the {under.name}'s own weight.",
               to_do=under.mend)  # fmt: skip


def thrust_check(
    calc: Calculation, job: Job, b: Brought, w: float, own: float, q_a: Quantity, under: Under
) -> None:
    """Soil under the lee end of the shear-wall piece that presses most.

    w: line load that presses there too (plf), with no wind; own, q_a: as for ``jamb_pressure``.
    """
    if not b.ends:
        return
    end = max(b.ends, key=lambda e: e.pushed)
    beyond = min(under.end(at) for at in (end.piece.start, end.piece.end))
    s = calc.finding(
        f"{b.name}: the thrust of its shear wall spreads at 45 degrees through the {under.name}, at a corner or joint to one side: "
        f"{_spread_words(under.thick(job), beyond, job.system)}.", "s",
        _spread(under.thick(job), beyond), "in", cite("common practice", "45 degrees through plain concrete"),
        label=f"loaded length of the {under.name}",
    )  # fmt: skip
    A = calc.step(footing.pad_area, f"It stands on this area of the {under.name}.", L=s, B=under.width)
    q = _pressed(end.pushed, A, w, under.width, own)
    calc.check(
        f"Bearing pressure under the ends of its shear wall, wall {b.name}", q, q_a, "psf", cite("ASCE 7-16", "2.4.1"),
        f"{show(Q(end.pushed, 'lbf'), 'lbf', job.system)} of wind on one end, with all of the wall's line and the {under.name}'s own "
        "weight; no increase for wind is taken.",
        to_do=under.mend,
    )  # fmt: skip
