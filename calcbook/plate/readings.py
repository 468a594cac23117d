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
from shapely import LineString, Polygon

from calcbook.plate.model import Line, Load, Patch, inches
from calcbook.plate.pieces import thickness_at

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

    from calcbook.plate.space import Space

SPACING = 6.0  # in., between the places that are read
_INSIDE = 0.01  # in.: a place on an edge is read so far inside it
_STEP = 0.5  # in.: so far on both sides of a change of thickness
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


def places_to_read(space: Space, loads: Iterable[Load]) -> Places:
    """Every place that is read, in the order inside, edges, thickenings, loads."""
    return joined(places_of_plan(space), places_of_loads(space, loads))


def joined(one: Places, other: Places) -> Places:
    """Both as one."""
    pairs = zip(vars(one).values(), vars(other).values(), strict=True)
    return Places(*(np.concatenate(pair) for pair in pairs))


def places_of_loads(space: Space, loads: Iterable[Load]) -> Places:
    """Places under loads."""
    found = [(_under(load, SPACING), LOAD) for load in loads if isinstance(load, Patch | Line)]
    return _kept(space, found)


def places_of_plan(space: Space) -> Places:
    """Places that the plan gives: inside, at edges and joints, beside thickenings."""
    plate = space.plate
    found: list[tuple[NDArray, str]] = []
    for piece in (p for p, own in zip(space.pieces, space.own, strict=True) if own):
        found.append((_lattice(piece, SPACING), PLAN))
        edge = _beside(piece.boundary, SPACING, _INSIDE)
        rest = shapely.union_all([p for p in space.pieces if p is not piece])
        at_joint = (
            shapely.distance(rest, shapely.points(edge)) < 2 * _INSIDE
            if len(space.pieces) > 1
            else np.zeros(len(edge), bool)
        )
        found += [(edge[~at_joint], EDGE), (edge[at_joint], JOINT)]
    for shape in plate.thickenings:
        found.append((_beside(inches(shape).boundary, SPACING, _STEP), STEP))
    return _kept(space, found)


def _kept(space: Space, found: list[tuple[NDArray, str]]) -> Places:
    """The places that lie on the slab and not at a sharp corner."""
    plate = space.plate
    if not found:
        none = np.zeros(0)
        return Places(none, none, none.astype(int), none, none.astype(object))
    at = np.concatenate([f[0] for f in found])
    where = np.concatenate([np.full(len(f[0]), f[1], dtype=object) for f in found])
    piece = space.piece_at(at[:, 0], at[:, 1])
    spots = shapely.points(at)
    on_step = (
        shapely.dwithin(space.steps, spots, _STEP * 0.99) if plate.regions else np.zeros(len(at), bool)
    )
    near = plate.thickness * (1 - 1e-9)
    sharp = shapely.dwithin(space.sharp, spots, near) if space.sharp else False
    kept = (piece >= 0) & space.own[piece] & ~on_step & ~np.asarray(sharp)
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
