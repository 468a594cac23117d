"""Where a plate is read: places that the plan and the loads give, the same on every mesh.

Right at a corner that points into the slab, at a corner of a thickening, and right under a point,
stress grows without end as the mesh gets finer. So nothing is read nearer to such a corner than one
slab thickness, and every force stands on a print.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely
from shapely import LineString, MultiPoint, Polygon

from calcbook.plate.lines import thickenings
from calcbook.plate.model import Line, Load, Patch
from calcbook.plate.pieces import inches, thickness_at

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

    from calcbook.plate.model import Plate
    from calcbook.plate.space import Space

SPACING = 6.0  # in., between the places that are read
_INSIDE = 0.01  # in.: a place on an edge is read so far inside it
_STEP = 0.5  # in.: so far on both sides of a change of thickness
_SHARP = np.pi / 6  # a corner that turns less is part of a round
PLAN, EDGE, JOINT, STEP, LOAD = (
    "inside",
    "at an edge",
    "at a joint",
    "beside a thickening",
    "under a load",
)


@dataclass(frozen=True)
class Places:
    """Places that are read: x, y (in.), piece, thickness (in.), and where in the plan each lies."""

    x: NDArray
    y: NDArray
    piece: NDArray
    thickness: NDArray
    where: NDArray


def places_to_read(space: Space, loads: Iterable[Load], spacing: float = SPACING) -> Places:
    """Every place that is read, in the order inside, edges, thickenings, loads. spacing: in."""
    plate = space.plate
    found: list[tuple[NDArray, str]] = []
    for piece in space.pieces:
        found.append((_lattice(piece, spacing), PLAN))
        edge = _beside(piece.boundary, spacing, _INSIDE)
        rest = shapely.union_all([p for p in space.pieces if p is not piece])
        at_joint = (
            shapely.distance(rest, shapely.points(edge)) < 2 * _INSIDE
            if len(space.pieces) > 1
            else np.zeros(len(edge), bool)
        )
        found += [(edge[~at_joint], EDGE), (edge[at_joint], JOINT)]
    for shape in thickenings(plate):
        found.append((_beside(inches(shape).boundary, spacing, _STEP), STEP))
    found += [(_under(load, spacing), LOAD) for load in loads if isinstance(load, Patch | Line)]
    at = np.concatenate([f[0] for f in found])
    where = np.concatenate([np.full(len(f[0]), f[1], dtype=object) for f in found])
    piece = space.piece_at(at[:, 0], at[:, 1])
    steps = shapely.union_all([inches(s).boundary for s in thickenings(plate)])
    steps = steps.difference(shapely.union_all([p.boundary for p in space.pieces]).buffer(0.1))
    shapely.prepare(steps)
    spots = shapely.points(at)
    on_step = shapely.dwithin(steps, spots, _STEP * 0.99) if plate.regions else np.zeros(len(at), bool)
    kept = (piece >= 0) & ~on_step & (_from_corners(plate, space.pieces, spots) >= plate.thickness)
    at, where, piece = at[kept], where[kept], piece[kept]
    return Places(at[:, 0], at[:, 1], piece, thickness_at(plate, at[:, 0], at[:, 1]), where)


def _lattice(piece: Polygon, spacing: float) -> NDArray:
    x0, y0, x1, y1 = piece.bounds
    axes = [
        low + (np.arange(n := max(1, round((high - low) / spacing))) + 0.5) * (high - low) / n
        for low, high in ((x0, x1), (y0, y1))
    ]
    x, y = (v.ravel() for v in np.meshgrid(*axes))
    inside = shapely.contains_xy(piece, x, y)
    return np.column_stack([x[inside], y[inside]])


def _beside(boundary: Any, spacing: float, distance: float) -> NDArray:
    """Places along a boundary, a little to both sides of it, and one near every corner."""
    found = []
    for ring in shapely.get_parts(boundary):
        points = np.asarray(ring.coords)
        for p, q in pairwise(points):
            length = float(np.hypot(*(q - p)))
            n = max(1, round(length / spacing))
            ends = [min(distance / max(length, 1e-9), 0.5)]
            t = np.array([*ends, *(np.arange(1, n) / n), *(1 - e for e in ends)])
            at = p + t[:, None] * (q - p)
            side = np.array([p[1] - q[1], q[0] - p[0]]) / max(length, 1e-9) * distance
            found += [at + side, at - side]
    return np.concatenate(found)


def _under(load: Patch | Line, spacing: float) -> NDArray:
    if isinstance(load, Patch):
        at = inches(load.shape).centroid
        return np.array([[at.x, at.y]])
    line = inches(LineString(load.line))
    n = max(2, round(line.length / spacing))
    return shapely.get_coordinates(
        shapely.line_interpolate_point(line, (np.arange(n) + 0.5) / n * line.length)
    )


def _from_corners(plate: Plate, pieces: list[Polygon], spots: NDArray) -> NDArray:
    """How far places are from the nearest corner at which stress has no limit, in."""
    corners = [_corners(piece, inward=True) for piece in pieces]
    corners += [_corners(inches(s), inward=False) for s in thickenings(plate)]
    every = np.concatenate(corners)
    every = every[[_within(pieces, x, y) for x, y in every]]
    if not len(every):
        return np.full(len(spots), np.inf)
    cloud = MultiPoint(every)
    shapely.prepare(cloud)
    return shapely.distance(cloud, spots)


def _within(pieces: list[Polygon], x: float, y: float) -> bool:
    """True for a corner inside the slab or where concrete is on more than half of a turn about it."""
    around = shapely.Point(x, y).buffer(0.1)
    return sum(piece.intersection(around).area for piece in pieces) > 0.55 * around.area


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
