"""Where a plate cannot be read: on the line where its thickness changes, and at corners without a limit of stress."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import shapely
from shapely import MultiPoint, Polygon

from calcbook.plate.model import Plate, inches

if TYPE_CHECKING:
    from numpy.typing import NDArray

_SHARP = np.pi / 6  # a corner that turns less is part of a round


def steps_of(plate: Plate, pieces: list[Polygon]) -> Any:
    """Where the thickness changes inside the slab, as lines in inches."""
    steps = shapely.union_all([inches(s).boundary for s in plate.thickenings])
    steps = steps.difference(shapely.union_all([p.boundary for p in pieces]).buffer(0.1))
    shapely.prepare(steps)
    return steps


def sharp_corners(plate: Plate, pieces: list[Polygon]) -> MultiPoint | None:
    """Corners at which stress has no limit, in inches; None where there are none."""
    corners = [_corners(piece, inward=True) for piece in pieces]
    corners += [_corners(inches(s), inward=False) for s in plate.thickenings]
    every = np.concatenate(corners)
    every = every[_within(pieces, every)]
    if not len(every):
        return None
    cloud = MultiPoint(every)
    shapely.prepare(cloud)
    return cloud


def _within(pieces: list[Polygon], corners: NDArray) -> NDArray:
    """True for corners inside the slab or where concrete is on more than half of a turn about them."""
    around = shapely.buffer(shapely.points(corners), 0.1)
    on = np.zeros(len(corners))
    for piece in pieces:
        near = np.flatnonzero(shapely.intersects(piece, around))
        on[near] += shapely.area(shapely.intersection(piece, around[near]))
    return on > 0.55 * shapely.area(around)


def _corners(shape: Polygon, inward: bool) -> NDArray:
    """Corners of a shape; inward: only those at which more than a straight angle is inside it."""
    found = []
    shape = shapely.orient_polygons(shape)
    for ring in (shape.exterior, *shape.interiors):
        p = np.asarray(ring.coords)[:-1]
        a, b = p - np.roll(p, 1, 0), np.roll(p, -1, 0) - p
        turn = np.arctan2(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0], (a * b).sum(1))
        found.append(p[turn < -_SHARP] if inward else p[np.abs(turn) > _SHARP])
    return np.concatenate(found)
