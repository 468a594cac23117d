"""Corners of an outline that point into the slab, where a crack starts by itself.

Plain numbers in feet, angles in degrees. A corner that is rounded or cut is one corner with several points.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import shapely
from shapely import LineString

if TYPE_CHECKING:
    from collections.abc import Iterator

    from shapely.geometry import Polygon

SHARP = 15.0  # a bend of less starts no crack (common practice)
ROUNDED = 60.0  # so much of a rounded or cut corner may be left in a panel (common practice)
_QUARTER = 90.0  # one that turns more gets several joints
_NEAR = 2.0  # ft: points that are closer, or an arc's, are one corner


@dataclass(frozen=True)
class Inner:
    """One inner corner: its points along the outline, and by how much the outline turns at all of them."""

    points: tuple[tuple[float, float], ...]
    turn: float

    @property
    def spots(self) -> list[tuple[float, float]]:
        """Where joints start: at the corner, or spread along one that is rounded or cut."""
        if len(self.points) == 1:
            return [self.points[0]]
        along, n = LineString(self.points), self._shares
        places = [along.interpolate(k / n, normalized=True) for k in range(1, n)]
        return [(p.x, p.y) for p in places]

    @property
    def _shares(self) -> int:
        """How many parts joints make of a corner that is rounded or cut."""
        return max(2, math.ceil(self.turn / _QUARTER - 1e-6))

    @property
    def most(self) -> float:
        """How much of it may be left in a panel, in degrees."""
        return SHARP if len(self.points) == 1 else max(ROUNDED, self.turn / self._shares) + 4


def key(place: tuple[float, ...]) -> tuple[float, float]:
    """A place by which it is found again."""
    return round(place[0], 5), round(place[1], 5)


def turns(polygon: Polygon) -> Iterator[tuple[tuple[float, float], float]]:
    """Every corner of a polygon, and by how many degrees it turns there going round to the left."""
    points = shapely.orient_polygons(polygon).simplify(0).exterior.coords[:-1]
    for k, here in enumerate(points):
        before, after = points[k - 1], points[(k + 1) % len(points)]
        (ax, ay), (bx, by) = ((q[0] - p[0], q[1] - p[1]) for p, q in ((before, here), (here, after)))
        yield here, math.degrees(math.atan2(ax * by - ay * bx, ax * bx + ay * by))


def inner_corners(polygon: Polygon) -> list[Inner]:
    """The inner corners of an outline, without its bends that are too slight to matter."""
    runs: list[list[tuple[tuple[float, float], float]]] = []
    joined = False
    around = list(turns(polygon))
    first = next(k for k, (_, turn) in enumerate(around) if turn > 0)  # no run goes on across it
    for here, turn in around[first:] + around[:first]:
        if turn > -1e-6:
            joined = False
            continue
        if joined and _one_corner(runs[-1][-1], (here, turn)):
            runs[-1].append((here, turn))
        else:
            runs.append([(here, turn)])
        joined = True
    found = [Inner(tuple(p for p, _ in run), -sum(t for _, t in run)) for run in runs]
    return [corner for corner in found if corner.turn > SHARP]


def _one_corner(one: tuple[tuple[float, float], float], two: tuple[tuple[float, float], float]) -> bool:
    """Whether two neighbors belong to one corner that is rounded or cut."""
    bent = max(-one[1], -two[1])
    return bent < SHARP or (bent < ROUNDED and math.dist(one[0], two[0]) <= _NEAR)
