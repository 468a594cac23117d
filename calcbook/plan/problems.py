"""What is wrong with a shape given by its corner points, in words that name the points.

Points are counted from 1, as in the job file; places are written as lengths.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np
from shapely import LineString, Polygon

from calcbook.basis.showing import show_length
from calcbook.basis.units import Q

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

LARGEST = 1000.0  # ft, across; nothing a builder pours in one job is wider
CLOSEST = 1 / 192  # ft, 1/16 in.: what the book's lengths are read and written to
SHARPEST = 5.0  # degrees; a narrower corner cannot be formed


def shape_problem(
    corners: Sequence[tuple[float, float]], smallest: float = 1.0, system: str = "us"
) -> str | None:
    """What keeps corner points from being a shape that can be built; None where nothing does.

    corners: (x, y) pairs in plain feet; smallest: least area in ft2; system: units of the message.
    """
    return (
        _points_problem(corners)
        or _size_problem(corners, system)
        or _repeat_problem(corners, system)
        or _spike_problem(corners, system)
        or _crossing_problem(corners, system)
        or _area_problem(corners, smallest)
    )


def _at(point: Iterable[float], system: str) -> str:
    return f"({', '.join(show_length(Q(float(c), 'ft'), system) for c in point)})"


def _side(k: int, n: int) -> str:
    return f"side {k + 1} (point {k + 1} to point {(k + 1) % n + 1})"


def _points_problem(corners: Sequence[tuple[float, float]]) -> str | None:
    if len(corners) < 3:
        return f"{len(corners)} points are given; a shape needs at least 3"
    for k, corner in enumerate(corners, 1):
        if not all(map(math.isfinite, corner)):
            return f"point {k} is not a finite place; give x and y as lengths"
    spread = np.linalg.svd(np.array(corners) - np.mean(corners, axis=0), compute_uv=False)
    if spread[1] < CLOSEST:
        return "all points lie on one line, so it has no area; give the corners around it"
    return None


def _size_problem(corners: Sequence[tuple[float, float]], system: str) -> str | None:
    low, high = np.min(corners, axis=0), np.max(corners, axis=0)
    if max(high - low) > LARGEST or np.max(np.abs(corners)) > 10 * LARGEST:
        k = int(np.argmax(np.max(np.abs(np.array(corners) - np.median(corners, axis=0)), axis=1)))
        return (
            f"it is more than {show_length(Q(LARGEST, 'ft'), system)} across; "
            f"look at point {k + 1} {_at(corners[k], system)} and its units"
        )
    return None


def _repeat_problem(corners: Sequence[tuple[float, float]], system: str) -> str | None:
    places = np.array(corners)
    n = len(places)
    for k in range(n):
        gaps = np.hypot(*(places[k + 1 :] - places[k]).T)
        for j in k + 1 + np.flatnonzero(gaps < CLOSEST):
            where = f"points {k + 1} and {j + 1} are both at {_at(places[k], system)}"
            if k == 0 and j == n - 1:
                return f"{where}; the last side closes by itself, so leave the last point out"
            if j == k + 1:
                return f"{where}; leave one of them out"
            return f"{where}; the outline touches itself there: move one of them"
    return None


def _spike_problem(corners: Sequence[tuple[float, float]], system: str) -> str | None:
    places = np.array(corners)
    back, ahead = np.roll(places, 1, axis=0) - places, np.roll(places, -1, axis=0) - places
    cross = back[:, 0] * ahead[:, 1] - back[:, 1] * ahead[:, 0]
    angles = np.degrees(np.abs(np.arctan2(cross, np.sum(back * ahead, axis=1))))
    k = int(np.argmin(angles))
    if angles[k] >= SHARPEST:
        return None
    return (
        f"point {k + 1} {_at(corners[k], system)} is a spike: the outline runs to it and back at "
        f"{angles[k]:.1f} degrees, and less than {SHARPEST:.0f} cannot be formed; move or leave it out"
    )


def _crossing_problem(corners: Sequence[tuple[float, float]], system: str) -> str | None:
    if Polygon(corners).is_valid:
        return None
    n = len(corners)
    sides = [LineString([corners[k], corners[(k + 1) % n]]) for k in range(n)]
    for k in range(n):
        for j in range(k + 2, n - (k == 0)):
            common = sides[k].intersection(sides[j])
            if not common.is_empty:
                return _meeting(k, j, common, corners, system)
    return "it crosses itself; give the points in order around it"


def _meeting(k: int, j: int, common: Any, corners: Sequence[tuple[float, float]], system: str) -> str:
    n = len(corners)
    if common.geom_type != "Point":
        return f"{_side(k, n)} and {_side(j, n)} run over each other; move one of their points"
    where = (common.x, common.y)
    for point, side in ((k, j), (k + 1, j), (j, k), (j + 1, k)):
        if math.dist(corners[point % n], where) < CLOSEST:
            return (
                f"point {point % n + 1} {_at(corners[point % n], system)} lies on {_side(side, n)}; "
                "the outline touches itself there: move the point"
            )
    return (
        f"{_side(k, n)} crosses {_side(j, n)} at {_at(where, system)}; "
        "give the points in order around it"
    )


def _area_problem(corners: Sequence[tuple[float, float]], smallest: float) -> str | None:
    found = Polygon(corners).area
    if found < smallest:
        return (
            f"its area is {found:.3g} sq ft, and less than {smallest:.3g} is refused; check the units"
        )
    return None
