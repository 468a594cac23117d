"""Moving the sides of a polygon in or out by a distance, corners mitred, exactly.

A general polygon buffer straightens small jogs and the facets of curves; a trench does not. Here
every corner moves along its mitre. Where that leaves a proper polygon it is the answer, and many
distances are done at once; where sides vanish or meet, the answer comes from the band that each
side sweeps.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import shapely

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from shapely.geometry import Polygon
    from shapely.geometry.base import BaseGeometry


def moved_in(polygon: Polygon, distances: NDArray | float) -> NDArray:
    """The polygon with all its sides moved inward, for an array of distances.

    polygon: a simple polygon without holes; distances: in its units, negative to move outward.
    Returns an array of shapely geometries; empty where nothing is left, several parts where the
    polygon falls apart.
    """
    distances = np.atleast_1d(np.asarray(distances, float))
    found, proper = _mitred(polygon, distances)
    for i in np.flatnonzero(~proper):
        band = _band(polygon, distances[i])
        found[i] = polygon.difference(band) if distances[i] > 0 else polygon.union(band)
    return found


def keeps_sides(polygon: Polygon, distance: float) -> bool:
    """True where no side vanishes and none meet when all are moved inward by a distance."""
    return bool(_mitred(polygon, np.array([float(distance)]))[1][0])


def _mitred(polygon: Polygon, distances: NDArray) -> tuple[NDArray, NDArray]:
    """The polygon with its corners moved along their mitres, and where that is a proper polygon."""
    corners, lengths, along, mitres = _frame(polygon)
    found = shapely.polygons(corners + distances[:, None, None] * mitres)
    closing = np.sum((np.roll(mitres, -1, axis=0) - mitres) * along, axis=1)
    proper = np.all(lengths + distances[:, None] * closing > 0, axis=1)
    return found, proper & shapely.is_valid(found)


def _frame(polygon: Polygon) -> tuple[NDArray, NDArray, NDArray, NDArray]:
    """Corners, side lengths, side directions and mitres: how a corner moves for an inward step of 1."""
    corners = np.asarray(shapely.orient_polygons(polygon).exterior.coords)[:-1, :2]
    sides = np.roll(corners, -1, axis=0) - corners
    lengths = np.hypot(*sides.T)
    along = sides / lengths[:, None]
    inward = np.column_stack([-along[:, 1], along[:, 0]])
    before = np.roll(inward, 1, axis=0)
    mitres = (before + inward) / (1 + np.einsum("ij,ij->i", before, inward))[:, None]
    return corners, lengths, along, mitres


def _band(polygon: Polygon, distance: float) -> BaseGeometry:
    """What the sides sweep over: a strip along each, and a kite where a corner opens a gap."""
    corners, _, along, mitres = _frame(polygon)
    step = distance * np.column_stack([-along[:, 1], along[:, 0]])
    ends = np.roll(corners, -1, axis=0)
    strips = shapely.polygons(np.stack([corners, ends, ends + step, corners + step], axis=1))
    before = np.roll(along, 1, axis=0)
    turn = before[:, 0] * along[:, 1] - before[:, 1] * along[:, 0]
    gaps = turn * distance < 0
    kite = np.stack(
        [corners, corners + np.roll(step, 1, axis=0), corners + distance * mitres, corners + step],
        axis=1,
    )
    return shapely.union_all([*strips, *shapely.polygons(kite[gaps])])


def corner_sum(polygon: Polygon) -> float:
    """Sum of cot(a/2) over the corners, a the angle inside: 4 for every plan of right angles.

    While no side vanishes, an inward step w leaves the area A - P w + C w2 (P the perimeter, C
    this sum). polygon: a simple polygon without holes. Returns a plain number.
    """
    _, _, along, mitres = _frame(polygon)
    return float(np.sum((mitres - np.roll(mitres, -1, axis=0)) * along) / 2)
