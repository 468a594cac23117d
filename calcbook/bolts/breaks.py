"""Where the concrete is parted inside the slab: joints, boxes around posts, openings; each counts as a free edge.

A sawn joint is a crack that is asked for, and it may open wider than the cracks that anchors in cracked concrete are
meant for. So no concrete is counted across it, in its whole depth. Plain numbers in feet.
"""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely import LineString

from calcbook.basis.showing import show_length
from calcbook.basis.units import Q

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray
    from shapely.geometry import Polygon

    from calcbook.job.file import Job
    from calcbook.job.wall_lines import WallLine
    from calcbook.joints.dividing import JointLayout

JOINT, BOX, OPENING = "a sawn joint", "the box of a post", "an opening"
_HAIR = 1e-6
_FAR = math.inf
AT_LEAST = 0.1 / 12  # for a bolt that stands on a joint: the formulas take no edge at 0


@dataclass(frozen=True)
class Breaks:
    """The lines along which a slab is parted, each with what it is."""

    lines: tuple[shapely.Geometry, ...] = ()
    names: tuple[str, ...] = ()

    @functools.cached_property
    def _tree(self) -> shapely.STRtree:
        return shapely.STRtree(self.lines)

    def near(self, shape: shapely.Geometry, within: float) -> Breaks:
        """Those that come near to a shape. within: feet."""
        if not self.lines:
            return self
        found = sorted(self._tree.query(shape, predicate="dwithin", distance=within).tolist())
        return Breaks(tuple(self.lines[k] for k in found), tuple(self.names[k] for k in found))


NOWHERE = Breaks()


@dataclass(frozen=True)
class Beside:
    """The nearest breaks of some bolts in a row: before and after each along it, on the slab's side and on the edge's;
    cuts: places along the row, from its start, where a break crosses it; names: of what stands nearest to each; ends: of what
    stands nearest to each before or after it."""

    before: list[float]
    after: list[float]
    inside: list[float]
    outside: list[float]
    cuts: list[float]
    names: list[str]
    ends: list[str]

    def nearest(self, k: int) -> float:
        """From the k-th bolt to whatever is nearest."""
        return min(self.before[k], self.after[k], self.inside[k], self.outside[k])

    def parts(self, one: float, other: float) -> bool:
        """Whether a break crosses the row between two places. one, other: along the row, in feet."""
        low, high = sorted((one, other))
        return any(low <= cut <= high for cut in self.cuts)

    def of_row(self, places: Sequence[float], start: int, end: int) -> tuple[float, ...]:
        """(before, after, on the slab's side, on the edge's) of the bolts from start to end together, none of which a break
        parts: one that reaches in between them counts as on the slab's side. places: of all bolts, along the row."""
        own = range(start, end)
        inner = [self.before[k] for k in own if self.before[k] < places[k] - places[start]]
        inner += [self.after[k] for k in own if self.after[k] < places[end - 1] - places[k]]
        inside = min(*inner, *self.inside[start:end], _FAR)
        return self.before[start], self.after[end - 1], inside, min(*self.outside[start:end], _FAR)


def breaks_of(job: Job, layout: JointLayout) -> Breaks:
    """All joints, boxes and openings of a slab."""
    found = [(cut, JOINT) for cut in layout.cuts]
    around = job.plan.outline.boundary.buffer(_HAIR)
    closed: list[tuple[Polygon, str]] = [
        *((b, BOX) for b in layout.boxes), *((o.shape, OPENING) for o in job.plan.openings)
    ]  # fmt: skip
    for shape, name in closed:
        inner = shapely.intersection(shape.boundary, job.plan.outline).difference(around)
        if not inner.is_empty:
            found.append((inner, name))
    return Breaks(tuple(g for g, _ in found), tuple(name for _, name in found))


def beside(
    breaks: Breaks, line: WallLine, at: Sequence[float], off: float, within: float = 10.0
) -> Beside:
    """What stands beside bolts of a wall. at: their places along it; off: from the slab's edge; within: so far is looked.

    A break is taken at its nearest point, and as an edge square to the row or along it, whichever it is more.
    """
    n, row = len(at), _row(line, off)
    breaks = breaks.near(row, within)
    if not n or not breaks.lines:
        none = [_FAR] * n
        return Beside(none, none, none, none, [], [""] * n, [""] * n)
    sides, far, lies = _sides(
        breaks, shapely.points([line.at(u, off) for u in at]), line.along, line.inward
    )
    sides[0][np.min(far, axis=1) < _HAIR] = 0.0  # a joint under it parts the concrete to both sides
    sides[sides > within] = _FAR
    sides = np.maximum(sides, AT_LEAST)
    names, ends = (
        [breaks.names[k] for k in np.argmin(of, axis=1)] for of in (far, np.where(lies, far, _FAR))
    )
    before, after, inside, outside = sides.tolist()
    return Beside(before, after, inside, outside, _crossed(breaks, line, row), names, ends)


def around(breaks: Breaks, shape: shapely.Geometry) -> tuple[list[float], str]:
    """(from a shape to the nearest break to its left, right, above and below, what is nearest): infinite where none is."""
    if not breaks.lines:
        return [_FAR] * 4, ""
    sides, far, _ = _sides(breaks, np.array([shape]), (1.0, 0.0), (0.0, 1.0))
    return sides[:, 0].tolist(), breaks.names[int(np.argmin(far))]


def counted(name: str, feet: float, system: str) -> str:
    """What is said in a check of the break of this name, so many feet away, that counts as an edge."""
    return f"; {name} {show_length(Q(feet, 'ft'), system, True)} away counts as an edge"


def _sides(
    breaks: Breaks, shapes: NDArray, along: tuple[float, float], across: tuple[float, float]
) -> tuple[NDArray, NDArray, NDArray]:
    """(nearest break of each shape against a way, along it, across it and against that; how far each break is of each, and
    whether it lies along the way)."""
    ways = shapely.get_coordinates(
        shapely.shortest_line(shapes[:, None], np.array(breaks.lines)[None, :]).ravel()
    ).reshape(len(shapes), -1, 2, 2)
    step = ways[:, :, 1] - ways[:, :, 0]
    u, v = step @ np.array(along), step @ np.array(across)
    far, lies = np.hypot(u, v), np.abs(u) >= np.abs(v)
    sides = [
        np.min(np.where(here, far, _FAR), axis=1)
        for here in (lies & (u < 0), lies & (u >= 0), ~lies & (v >= 0), ~lies & (v < 0))
    ]
    return np.array(sides), far, lies


def _row(line: WallLine, off: float) -> LineString:
    """Where the bolts of a wall stand. off: from the slab's edge."""
    return LineString([line.at(0, off), line.at(line.length, off)])


def _crossed(breaks: Breaks, line: WallLine, row: LineString) -> list[float]:
    """Places along a row where a break crosses it."""
    points = shapely.get_coordinates(shapely.intersection(np.array(breaks.lines), row))
    return sorted((points - np.array(line.origin)) @ np.array(line.along))


def stretches(
    breaks: Breaks, line: WallLine, off: float, clear: Sequence[float]
) -> Iterator[list[tuple[float, float, str]]]:
    """For each distance to be kept, (from, to, what) of a row that lies nearer to a break; one that runs beside the whole row is
    left out. off: from the slab's edge; clear: the distances, the widest first; none is told where no break is so near."""
    row = _row(line, off)
    near = breaks.near(row, clear[0])
    for far in clear if near.lines else ():
        found = []
        for shape, name in zip(near.lines, near.names, strict=True):
            for part in shapely.get_parts(shape.buffer(far, quad_segs=16) & row):
                own = (shapely.get_coordinates(part) - np.array(line.origin)) @ np.array(line.along)
                if own.size and part.length < line.length - _HAIR:
                    found.append((float(own.min()), float(own.max()), name))
        yield found
