"""The outline of a slab with its round and cut corners, and which side of the job file each side of it belongs to.

An arc is drawn with short sides. They are set a hair off it, so that the area is that of the arc; its length, and what
lies along it, are kept beside the outline (plan.arc).
"""

from __future__ import annotations

import math
from typing import Any, NamedTuple

import numpy as np

from calcbook.basis.showing import show_length
from calcbook.basis.units import Q
from calcbook.job.wall_lines import corner_name, is_clockwise, side_points
from calcbook.plan.arc import Arc
from calcbook.plan.outline import OutlineError

_FACETS = 24  # short sides of a quarter circle
_LEAST_TURN = math.radians(1)


class Ring(NamedTuple):
    """points: around the outline in feet, in the order of the job file; owners: the side of the job file, from 0, that
    each of its sides belongs to; arcs: its round corners, their halves numbered in the same order."""

    points: list[tuple[float, float]]
    owners: list[int]
    arcs: list[Arc]


def ring_of_corners(file: Any) -> Ring:
    """The Ring of a slab. Raises OutlineError for a corner that cannot be so. file: a Job or JobFile."""
    corners = side_points(file.slab)
    if not file.corners:
        return Ring(corners, list(range(len(corners))), [])
    changed = _changed(file, corners)
    points: list[tuple[float, float]] = []
    owners: list[int] = []
    arcs: list[Arc] = []
    for k, corner in enumerate(corners):
        entry, before = changed.get(k), (k - 1) % len(corners)
        if entry is None:
            points.append(corner)
            owners.append(k)
            continue
        found = _turned(corners, k, entry)
        half = (len(found) - 1) // 2
        owners += [before] * half + [k] * (len(found) - 1 - half) + [k]
        if entry.radius is not None:
            arcs.append(_arc(corners, k, entry, found, len(points)))
        points += found
    return Ring(points, owners, arcs)


def _changed(file: Any, corners: list[tuple[float, float]]) -> dict[int, Any]:
    """The entries of [[corners]] by the number of their corner, checked against the outline."""
    names = [corner_name(k) for k in range(len(corners))]
    found: dict[int, Any] = {}
    for index, entry in enumerate(file.corners):
        name, place = entry.corner.strip().upper(), f"corners.{index}"
        if name not in names:
            raise OutlineError(
                f"corner {entry.corner!r} is not there; the corners are {names[0]} to {names[-1]}",
                place,
            )
        k = names.index(name)
        if k in found:
            raise OutlineError(f"corner {name} is given twice; keep one of the two", place)
        if abs(_turn(corners, k)) < _LEAST_TURN:
            raise OutlineError(
                f"the sides at corner {name} are all but one line; leave the entry out, as there is nothing to round or cut",
                place,
            )
        found[k] = entry
    _check_room(file, corners, found)
    return found


def _check_room(file: Any, corners: list[tuple[float, float]], found: dict[int, Any]) -> None:
    """Refuse corners that take more of a side than there is."""
    taken = {k: _taken(corners, k, entry) for k, entry in found.items()}
    for k in found:
        for near, far in (
            (k, (k + 1) % len(corners)),
            ((k - 1) % len(corners), (k - 1) % len(corners)),
        ):
            span = math.dist(corners[near], corners[(near + 1) % len(corners)])
            needs = taken[k] + taken.get(far, 0.0)
            if needs > span - 1e-3:
                index = list(file.corners).index(found[k])
                need, there = (show_length(Q(v, "ft"), file.job.units) for v in (needs, span))
                raise OutlineError(
                    f"corner {corner_name(k)} takes too much: side {near + 1} is {there} long, and its corners take {need} "
                    "of it; make radius or cut less", f"corners.{index}",
                )  # fmt: skip


def taken_by(job: Any, entry: Any) -> float:
    """How much of each side an entry of [[corners]] takes, in feet."""
    corners = side_points(job.slab)
    names = [corner_name(k) for k in range(len(corners))]
    return _taken(corners, names.index(entry.corner.strip().upper()), entry)


def _taken(corners: list[tuple[float, float]], k: int, entry: Any) -> float:
    """How much of each side a corner takes, in feet."""
    if entry.cut is not None:
        return float(entry.cut.m_as("foot"))
    return float(entry.radius.m_as("foot") * math.tan(_turn(corners, k) / 2))


def _turn(corners: list[tuple[float, float]], k: int) -> float:
    """Angle by which the outline turns at a corner."""
    one, two = _ways(corners, k)
    return math.acos(min(max(float(-one @ two), -1.0), 1.0))


def _ways(corners: list[tuple[float, float]], k: int) -> tuple[Any, Any]:
    """Unit vectors from a corner back along the side before it, and on along its own."""
    here = np.array(corners[k])
    ways = [np.array(corners[j % len(corners)]) - here for j in (k - 1, k + 1)]
    return ways[0] / np.hypot(*ways[0]), ways[1] / np.hypot(*ways[1])


def points_in(corners: list[tuple[float, float]], k: int) -> bool:
    """Whether corner number k points into the slab; corners: of the outline, in feet."""
    (ax, ay), (bx, by), (cx, cy) = corners[k - 1], corners[k], corners[(k + 1) % len(corners)]
    turn = -1 if is_clockwise(corners) else 1
    return turn * ((bx - ax) * (cy - by) - (by - ay) * (cx - bx)) < 0


def _arc(
    corners: list[tuple[float, float]],
    k: int,
    entry: Any,
    points: list[tuple[float, float]],
    first: int,
) -> Arc:
    """The Arc of a round corner; points: that stand for it; first: the number of its first side in the ring."""
    halves = first, first + len(points) - 2
    return Arc.of(points, entry.radius.m_as("foot"), _turn(corners, k), points_in(corners, k), halves)


def _turned(corners: list[tuple[float, float]], k: int, entry: Any) -> list[tuple[float, float]]:
    """The points that stand for a corner; of a round one an odd number, so that its halves are alike."""
    one, two = _ways(corners, k)
    here, t = np.array(corners[k]), _taken(corners, k, entry)
    first, last = here + t * one, here + t * two
    if entry.cut is not None:
        return [_pair(first), _pair(last)]
    r, angle = entry.radius.m_as("foot"), _turn(corners, k)
    middle = here + (one + two) / np.hypot(*(one + two)) * r / math.cos(angle / 2)
    n = 2 * max(1, math.ceil(_FACETS * angle / math.pi))
    reach = _reach(r, angle, n)
    side = np.sign((first - middle)[0] * (last - middle)[1] - (first - middle)[1] * (last - middle)[0])
    start = math.atan2(*(first - middle)[::-1])
    inner = [start + side * angle * j / n for j in range(1, n)]
    points = [first, *(middle + reach * np.array([math.cos(a), math.sin(a)]) for a in inner), last]
    return [_pair(p) for p in points]


def _reach(r: float, angle: float, n: int) -> float:
    """How far from the middle the points between the ends stand, so that the area is that of the sector.

    Half the sine of a step times (2 r x + (n - 2) x^2) is the area of the short sides, r^2 angle / 2 that of the sector.
    """
    whole = r * r * angle / math.sin(angle / n)
    if n == 2:
        return whole / (2 * r)
    return (-r + math.sqrt(r * r + (n - 2) * whole)) / (n - 2)


def _pair(point: Any) -> tuple[float, float]:
    return float(point[0]), float(point[1])
