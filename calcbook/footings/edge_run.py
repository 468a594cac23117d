"""The thickened edge as one line around the slab, and where it ends: at joints that cross it, and at sides without one.

A joint is cut so that a crack forms below it. Plain concrete then passes neither moment nor weight across it, so the edge is a row of
pieces; bars that run through below the cut make it one beam again (common practice, no source). Corners are counted straight.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from shapely import Point

from calcbook.job.edges import edges_of, in_plan_order

if TYPE_CHECKING:
    from collections.abc import Iterator

    from shapely.geometry import LinearRing

    from calcbook.job.file import Job
    from calcbook.job.wall_lines import WallLine
    from calcbook.joints.layout import Joints

_NEAR = 0.01  # ft: a joint that ends so near to the outline meets it
_SAME = 1e-4  # ft


@dataclass(frozen=True)
class Piece:
    """A piece of the edge about a place, in feet: how far it goes before and after it; endless where nothing ends it."""

    before: float
    after: float

    @property
    def near(self) -> float:
        """To its nearer end."""
        return min(self.before, self.after)

    @property
    def length(self) -> float:
        """From end to end."""
        return self.before + self.after


@dataclass(frozen=True)
class EdgeRun:
    """The edge around a slab, in feet along its outline. pieces: (start, length) of each between joints; beams: the same
    where bars run through all joints; none where nothing ends it; joints: where joints cross it."""

    ring: LinearRing
    pieces: tuple[tuple[float, float], ...]
    beams: tuple[tuple[float, float], ...]
    joints: tuple[float, ...]

    def place(self, line: WallLine, at: float) -> float:
        """Where a place of a wall stands; at: feet from its start."""
        return float(self.ring.project(Point(line.at(at))))

    def piece_at(self, place: float, beam: bool = False) -> Piece:
        """The piece that a place stands on, at a joint the shorter one beside it; beam: with bars through the joints."""
        found = [
            Piece(max(off, 0.0), max(length - off, 0.0))
            for start, length in (self.beams if beam else self.pieces)
            for off in [self._after(start, place)]
            if off <= length + _SAME
        ]
        return min(found, key=lambda p: (p.near, p.length), default=Piece(math.inf, math.inf))

    def joints_along(self, line: WallLine) -> list[float]:
        """Where joints cross the edge under a wall, in feet from its start."""
        found = []
        for joint in self.joints:
            p = self.ring.interpolate(joint)
            x, y = p.x - line.origin[0], p.y - line.origin[1]
            along, aside = (x * way[0] + y * way[1] for way in (line.along, line.inward))
            if abs(aside) < _NEAR and _SAME < along < line.length - _SAME:
                found.append(along)
        return sorted(found)

    def _after(self, start: float, place: float) -> float:
        """How far a place is after another, going round; a hair before it counts as there."""
        off = (place - start) % self.ring.length
        return off if off < self.ring.length - _SAME else 0.0


def edge_run(job: Job, joints: Joints) -> EdgeRun:
    """The EdgeRun of a job with its joints."""
    ring = job.plan.outline.exterior
    sides = list(_sides(job, ring))
    crossed = [
        ring.project(Point(end))
        for cut in joints.layout.cuts for end in (cut.coords[0], cut.coords[-1]) if ring.distance(Point(end)) < _NEAR
    ]  # fmt: skip
    bare = [(low, high) for low, high, thick in sides if not thick]
    met = _distinct(
        p for p in crossed if any(low - _SAME <= p <= high + _SAME for low, high, t in sides if t)
    )
    beams, pieces = (
        _between(ring.length, [*some, *(p % ring.length for pair in bare for p in pair)], bare)
        for some in ((), met)
    )
    return EdgeRun(ring, tuple(pieces), tuple(beams), tuple(met))


def _between(
    whole: float, ends: list[float], bare: list[tuple[float, float]]
) -> Iterator[tuple[float, float]]:
    """(start, length) of what lies between ends, going round, without the bare sides."""
    ends = _distinct(ends)
    for start, end in itertools.pairwise([*ends, *(p + whole for p in ends[:1])]):
        middle = ((start + end) / 2) % whole
        if not any(low < middle < high for low, high in bare):
            yield start, end - start


def _sides(job: Job, ring: LinearRing) -> Iterator[tuple[float, float, bool]]:
    """(from, to, whether there is a thickened edge) of every side of the plan, along its outline."""
    far = 0.0
    for (p, q), edge in zip(
        itertools.pairwise(ring.coords), in_plan_order(job, edges_of(job)), strict=True
    ):
        length = math.dist(p, q)
        yield far, far + length, bool(edge.depth.magnitude)
        far += length


def _distinct(places: Iterator[float] | list[float]) -> list[float]:
    """Places in their order, those at one spot once."""
    found: list[float] = []
    for place in sorted(places):
        if not found or place > found[-1] + _SAME:
            found.append(place)
    return found
