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
from shapely import Polygon

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry


_BEND = 0.2  # sine of a turn below which sides are part of an arc
_GRID = 1e-9  # ft


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
    frame = Frame(polygon)
    found = shapely.polygons(frame.corners + distances[:, None, None] * frame.mitres)
    proper = np.all(frame.lengths + distances[:, None] * frame.closing > 0, axis=1)
    return found, proper & shapely.is_valid(found)


class Frame:
    """The sides of a polygon, counterclockwise.

    corners, ends: where each begins and ends; lengths, along, inward: of each side, its direction and the one square
    to it; mitres: how a corner moves for an inward step of 1; closing: how much a side then gains in length; turns:
    sine of the turn after each side, below 0 at a corner that points in; before, after: numbers of the sides beside.
    """

    def __init__(self, polygon: Polygon) -> None:
        self.corners = shapely.get_coordinates(shapely.orient_polygons(polygon).exterior)[:-1]
        numbers = np.arange(len(self.corners))
        self.before, self.after = numbers - 1, (numbers + 1) % len(numbers)
        self.ends = self.corners[self.after]
        sides = self.ends - self.corners
        self.lengths = np.hypot(sides[:, 0], sides[:, 1])
        self.along = sides / self.lengths[:, None]
        self.inward = self.along[:, ::-1] * (-1.0, 1.0)
        square = self.inward[self.before]
        self.mitres = (square + self.inward) / (1 + np.sum(square * self.inward, axis=1))[:, None]
        self.closing = np.sum((self.mitres[self.after] - self.mitres) * self.along, axis=1)
        x, y = self.along.T
        self.turns = x * y[self.after] - y * x[self.after]


def _band(polygon: Polygon, distance: float) -> BaseGeometry:
    """What the sides sweep over: a strip along each, and a kite where a corner opens a gap."""
    frame = Frame(polygon)
    corners, step = frame.corners, distance * frame.inward
    strips = _strips(frame, step)
    gaps = frame.turns[frame.before] * distance < 0
    kite = np.stack(
        [corners, corners + step[frame.before], corners + distance * frame.mitres, corners + step],
        axis=1,
    )
    return united([*strips, *shapely.polygons(kite[gaps])])


def _strips(frame: Frame, step: NDArray) -> NDArray:
    """A strip along each side, as far as a step (x, y) reaches from it."""
    corners, ends = frame.corners, frame.ends
    return shapely.polygons(np.stack([corners, ends, ends + step, corners + step], axis=1))


def side_bands(frame: Frame, widths: NDArray) -> list[BaseGeometry]:
    """The strip along each side of a polygon, each as wide as its side says, in the order of its sides.

    frame: of a simple polygon without holes; widths: one for each side, 0 for none. A strip
    runs square to its side from corner to corner. Where a corner points in, the gap after the side is filled
    as far as both strips reach, so that equal widths meet in their mitre. Strips may leave the polygon. Below 0
    a strip lies outside, and the gaps are those of corners that point out.
    """
    strips, gaps = _strips_and_gaps(frame, widths)
    return [strip if k not in gaps else strip.union(gaps[k]) for k, strip in enumerate(strips)]


def united(shapes: Sequence[BaseGeometry]) -> BaseGeometry:
    """The union of shapes, its corners to a billionth of a foot: unrounded, one of those that share slanting sides may be
    lost from it without a word."""
    return shapely.union_all(shapes, grid_size=_GRID)


def _strips_and_gaps(
    frame: Frame, widths: NDArray
) -> tuple[list[BaseGeometry], dict[int, BaseGeometry]]:
    """The strip along each side, and the gap after a side, by its number, where there is one."""
    strips = _strips(frame, widths[:, None] * frame.inward)
    gaps = _gaps(
        frame, widths, np.flatnonzero(frame.turns * np.sign(widths) < 0)
    )  # only there a gap can be
    return [strip if width else Polygon() for strip, width in zip(strips, widths, strict=True)], gaps


def band_shapes(frame: Frame, widths: NDArray) -> list[BaseGeometry]:
    """What ``side_bands`` covers, in as few shapes as there are bends, gaps apart: sides of one width that turn little from each
    to the next, as the short sides of an arc, are one band with mitred inside. widths: as there, none below 0."""
    goes_on = (np.abs(frame.turns) < _BEND) & (widths == widths[frame.after])
    starts = np.flatnonzero(~goes_on[frame.before])
    if not goes_on.any() or not len(starts):
        strips, gaps = _strips_and_gaps(frame, widths)
        return [*strips, *gaps.values()]
    crossed = frame.lengths + widths * frame.closing <= 0
    corners, inward, mitres, n = frame.corners, frame.inward, frame.mitres, len(widths)
    found: list[BaseGeometry] = []
    for first, beyond in zip(starts, [*starts[1:], starts[0] + n], strict=True):
        sides, last = np.arange(first, beyond) % n, (beyond - 1) % n
        if crossed[sides].any() and len(sides) > 1:
            return side_bands(frame, widths)
        width = widths[first]
        if width:
            outer = corners[np.arange(first, beyond + 1) % n]
            step = np.concatenate([inward[first][None], mitres[sides[1:]], inward[last][None]])
            found.append(Polygon(np.concatenate([outer, (outer + width * step)[::-1]])))
    ends = (np.roll(starts, -1) - 1) % n
    return [*found, *_gaps(frame, widths, ends[(widths[ends] > 0) & (frame.turns[ends] < 0)]).values()]


def moved_by_side(polygon: Polygon, distances: NDArray) -> BaseGeometry:
    """The polygon with each side moved inward by its own distance, below 0 outward; widths as for ``side_bands``."""
    frame = Frame(polygon)
    inward = united(side_bands(frame, np.maximum(distances, 0.0)))
    outward = united(side_bands(frame, np.minimum(distances, 0.0)))
    return polygon.union(outward).difference(inward)


def _gaps(frame: Frame, widths: NDArray, sides: NDArray) -> dict[int, BaseGeometry]:
    """What lies between the strips of a side and of the next at a corner that points in, by the number of the side, of
    some sides: square off both, within w of the first one's line and v of the second's."""
    first, then = sides, frame.after[sides]
    w, v, corner = widths[first], widths[then], frame.ends[first]
    one, two = frame.inward[first], frame.inward[then]
    turn = one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]
    there = (turn * np.sign(w) <= -1e-9) & (w * v > 0)
    first, w, v, corner, one, two, turn = (x[there] for x in (first, w, v, corner, one, two, turn))
    straight, out = np.sum(one * two, axis=1), np.sign(w)
    w, v = np.abs(w), np.abs(v)
    with np.errstate(divide="ignore"):
        near = np.where(straight > 0, np.minimum(w, v / straight), w)
        far = np.where(straight > 0, np.minimum(v, w / straight), v)
    along, beside = out * near, out * far
    mitre = (
        out[:, None]
        * (one * (w - v * straight)[:, None] + two * (v - w * straight)[:, None])
        / turn[:, None] ** 2
    )
    ring = np.stack(
        [corner, corner + along[:, None] * one, corner + mitre, corner + beside[:, None] * two], axis=1
    )
    meet = (near == w) & (far == v)  # where they do not, the gap has three corners
    found = np.empty(len(first), dtype=object)
    found[meet], found[~meet] = (
        shapely.polygons(ring[meet]),
        shapely.polygons(ring[~meet][:, [0, 1, 3]]),
    )
    return dict(zip(first.tolist(), found, strict=True))


def corner_sum(polygon: Polygon) -> float:
    """Sum of cot(a/2) over the corners, a the angle inside: 4 for every plan of right angles.

    While no side vanishes, an inward step w leaves the area A - P w + C w2 (P the perimeter, C
    this sum). polygon: a simple polygon without holes. Returns a plain number.
    """
    return float(-np.sum(Frame(polygon).closing) / 2)
