"""The pieces of a slab between its joints, and the elements of the mesh that each one covers.

Every piece has nodes of its own, also where it meets another: a joint is what is tied between them.
An element that a slanted or round side crosses is cut there: only its inside has stiffness, weight
and soil. As all sides of a slab on ground are free, nothing else is asked of them, and the shape is
followed exactly.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely
from shapely import LineString, Polygon

from calcbook.plate.hermite import GAUSS, WEIGHTS
from calcbook.plate.model import Plate, PlateError, inches

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

_HAIR = 0.01  # in.: so much longer a joint is taken where it is cut
_SLIVER = 1e-6  # of an element: less of it than this is left out
_FIVE = np.polynomial.legendre.leggauss(5)
_NODE, _WEIGHT = (_FIVE[0] + 1) / 2, _FIVE[1] / 2
_TIGHT = 1e-7  # in.: by so much an element is smaller where it is asked what lies in it


@dataclass(frozen=True)
class Places:
    """Places where something is summed up: x, y (in.), the weight of each (in.2), the element of each."""

    x: NDArray
    y: NDArray
    weight: NDArray
    element: NDArray


@dataclass
class Cells:
    """The elements of all pieces.

    piece, i, j: which piece, and which columns and rows of lines; whole: True where all of it is
    concrete of one thickness; thickness: in., of whole ones; cut: places in the others, with their
    thickness (in.) in ``cut_thickness``.
    """

    piece: NDArray
    i: NDArray
    j: NDArray
    whole: NDArray
    thickness: NDArray
    cut: Places
    cut_thickness: NDArray


def pieces_of(plate: Plate) -> list[Polygon]:
    """The slab in inches, cut along its joints and without its openings."""
    holes = shapely.union_all([inches(o) for o in plate.openings])
    pieces = [part for o in plate.every for part in _polygons(inches(o).difference(holes))]
    lines = [_longer(inches(LineString(joint.line))) for joint in plate.joints]
    pieces = [part for piece in pieces for part in _parted(piece, lines)]
    shapely.prepare(pieces)
    for a in range(len(pieces)):
        for b in range(a):
            if pieces[a].intersection(pieces[b]).area > 1.0:
                raise PlateError("plate: two outlines overlap; let them touch along a side.")
    return pieces


def _parted(piece: Polygon, lines: list[LineString]) -> list[Polygon]:
    """A piece cut along all lines at once, so that a joint may end at another that is named later."""
    if not any(line.intersects(piece) for line in lines):
        return [piece]
    drawn = shapely.union_all([piece.boundary, *lines])
    return [
        p for p in _polygons(shapely.polygonize([drawn])) if piece.contains(p.representative_point())
    ]


def _longer(line: LineString) -> LineString:
    """A joint a hair longer at both ends, so that it surely meets what it ends at."""
    p = np.asarray(line.coords)
    for end, beside in ((0, 1), (-1, -2)):
        way = p[end] - p[beside]
        p[end] = p[end] + way / max(float(np.hypot(*way)), 1e-9) * _HAIR
    return LineString(p)


def _polygons(shape: Any) -> list[Polygon]:
    parts = shapely.get_parts(shapely.get_parts(shape))
    return [p for p in parts if isinstance(p, Polygon) and p.area > 1.0]


def thickness_at(plate: Plate, x: NDArray, y: NDArray) -> NDArray:
    """Thickness of the concrete at places, in.: the greatest of what meets there. x, y: in."""
    return _thickest(plate, plate.thick_parts, x, y)


def _thickest(plate: Plate, thick: Sequence[tuple[Polygon, float]], x: NDArray, y: NDArray) -> NDArray:
    found = np.full(np.shape(x), float(plate.thickness))
    for shape, h in plate.parts_beside:
        found[shapely.intersects_xy(shape, x, y)] = h
    for shape, h in thick:
        inside = shapely.intersects_xy(shape, x, y)
        found = np.where(inside, np.maximum(found, h), found)
    return found


def cells_of(plate: Plate, pieces: list[Polygon], xs: NDArray, ys: NDArray) -> Cells:
    """The elements that the pieces cover. xs, ys: lines of the mesh, in."""
    i, j = (
        n.ravel() for n in np.meshgrid(np.arange(len(xs) - 1), np.arange(len(ys) - 1), indexing="ij")
    )
    box = xs[i], ys[j], xs[i + 1], ys[j + 1]
    around = shapely.box(xs[0], ys[0], xs[-1], ys[-1])
    thick = [(shape, h) for shape, h in plate.thick_parts if shape.intersects(around)]
    tight = shapely.box(box[0] + _TIGHT, box[1] + _TIGHT, box[2] - _TIGHT, box[3] - _TIGHT)
    mixed = np.zeros(len(i), bool)
    for shape, _ in thick:
        mixed |= shapely.intersects(shape, tight) & ~shapely.contains_properly(shape, tight)
    middle = _thickest(plate, thick, (box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
    found: list[tuple[NDArray, NDArray, NDArray]] = []
    parts: list[Any] = []
    for number, piece in enumerate(pieces):
        if not piece.intersects(around):
            continue
        touched = np.flatnonzero(shapely.intersects(piece, tight))
        whole = shapely.covers(piece, tight[touched]) & ~mixed[touched]
        clipped = shapely.intersection(piece, shapely.box(*(b[touched[~whole]] for b in box)))
        kept = np.ones(len(touched), bool)
        size = (box[2] - box[0]) * (box[3] - box[1])
        kept[~whole] = shapely.area(clipped) > _SLIVER * size[touched[~whole]]
        parts += [c for c, keep in zip(clipped, kept[~whole], strict=True) if keep]
        found.append((np.full(kept.sum(), number), touched[kept], whole[kept]))
    owner, cell, whole = (np.concatenate([f[n] for f in found]) for n in range(3))
    cut, h = _cut_places(plate, thick, parts, np.flatnonzero(~whole))
    return Cells(owner, i[cell], j[cell], whole, middle[cell], cut, h)


def _cut_places(
    plate: Plate, thick: Sequence[tuple[Polygon, float]], parts: list[Any], elements: NDArray
) -> tuple[Places, NDArray]:
    """Places in the cut elements, each part of one thickness on its own."""
    pieces, owners = np.asarray(parts, object), elements
    for shape, _ in thick:
        through = shapely.intersects(shape, pieces) & ~shapely.contains_properly(shape, pieces)
        both = pieces[through]
        inside, outside = shapely.intersection(both, shape), shapely.difference(both, shape)
        pieces = np.concatenate([pieces[~through], inside, outside])
        owners = np.concatenate([owners[~through], owners[through], owners[through]])
    places = places_in(pieces, owners)
    return places, _thickest(plate, thick, places.x, places.y)


def places_in(parts: Any, owners: Any) -> Places:
    """Places and weights over shapes in inches, exact for the products of the element's functions
    in rectangles. owners: the element of each shape; those of one element stand together."""
    parts, owners = np.asarray(parts, object), np.asarray(owners, int)
    for _ in range(2):  # a collection may hold shapes of several parts
        parts, which = shapely.get_parts(parts, return_index=True)
        owners = owners[which]
    area = shapely.area(parts)
    solid = (shapely.get_type_id(parts) == shapely.GeometryType.POLYGON) & (area > 0)
    parts, owners, area = parts[solid], owners[solid], area[solid]
    if not len(parts):
        none = np.zeros(0)
        return Places(none, none, none, none.astype(int))
    x0, y0, x1, y1 = shapely.bounds(parts).T
    plain = area > (1 - 1e-12) * (x1 - x0) * (y1 - y0)
    found = _in_rectangles(*(v[plain] for v in (x0, y0, x1 - x0, y1 - y0)))
    owner = [np.repeat(owners[plain], 16)]
    if not plain.all():
        made = shapely.constrained_delaunay_triangles(parts[~plain])
        triangles, which = shapely.get_parts(made, return_index=True)
        corners = shapely.get_coordinates(triangles).reshape(-1, 4, 2)[:, :3]
        found = np.concatenate([found, _in_triangles(corners)], axis=1)
        owner.append(np.repeat(owners[~plain][which], 25))
    element = np.concatenate(owner)
    order = np.argsort(element, kind="stable")
    x, y, weight = found[:, order]
    return Places(x, y, weight, element[order])


def _in_rectangles(x: NDArray, y: NDArray, wide: NDArray, high: NDArray) -> NDArray:
    """Places x and y and their weights."""
    t, s = np.repeat(GAUSS, 4), np.tile(GAUSS, 4)
    w = np.repeat(WEIGHTS, 4) * np.tile(WEIGHTS, 4)
    found = x[:, None] + wide[:, None] * t, y[:, None] + high[:, None] * s, (wide * high)[:, None] * w
    return np.array([v.ravel() for v in found])


def _in_triangles(corners: NDArray) -> NDArray:
    """The same: those of a square, one side of it drawn together into a corner."""
    t, s = np.repeat(_NODE, 5), np.tile(_NODE, 5)
    w = np.repeat(_WEIGHT, 5) * np.tile(_WEIGHT, 5) * t
    a, b = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 1]
    twice = np.abs(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])
    x, y = (
        corners[:, 0, axis, None] + a[:, axis, None] * t + b[:, axis, None] * (t * s) for axis in (0, 1)
    )
    return np.array([x.ravel(), y.ravel(), (twice[:, None] * w).ravel()])
