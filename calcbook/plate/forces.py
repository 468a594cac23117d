"""Loads as forces on the unknowns of a plate."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import shapely
from shapely import LineString

from calcbook.plate.hermite import GAUSS, WEIGHTS, along
from calcbook.plate.joints import along_line
from calcbook.plate.kept import once
from calcbook.plate.model import Case, Line, Load, Patch, PlateError, amount, inches, place, rigidity
from calcbook.plate.pieces import places_in

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from calcbook.plate.model import Area
    from calcbook.plate.space import Space

_PCF, _PSF, _PLF = 1 / 1728, 1 / 144, 1 / 12


def case_forces(space: Space, case: Case) -> NDArray:
    """All forces of a case on the unknowns: own weight, loads, temperature."""
    total = once(space, own_weight, lambda: own_weight(space)) * case.own_weight
    for load in case.loads:
        total = total + load_forces(space, load)
    if case.warmer_top:
        total = total + temperature_forces(space, case)
    return total


def own_weight(space: Space) -> NDArray:
    """The concrete's own weight."""
    return space.from_places(space.plate.weight * _PCF * space.thickness * space.weight)


def load_forces(space: Space, load: Load) -> NDArray:
    """One load. Raises PlateError where it stands off the slab or is no number."""
    return sound_amount(load) * once(space, place(load), lambda: unit_forces(space, load))


def sound_amount(load: Load) -> float:
    """How much of a load there is. Raises PlateError where that is no number."""
    size = amount(load)
    if not np.isfinite(size):
        raise PlateError(f"{load.name}: its load is {size:g}; it must be a number.")
    return size


def unit_forces(space: Space, load: Load) -> NDArray:
    """A load of 1, in the unit of its kind, where one stands. Raises PlateError where that is off the slab."""
    if isinstance(load, Patch):
        return _patch(space, load)
    return _line(space, load) if isinstance(load, Line) else _area(space, load)


def _patch(space: Space, load: Patch) -> NDArray:
    shape = inches(load.shape)
    if not shape.area > 0:
        raise PlateError(f"{load.name}: its print has no area; give the size of what it stands on.")
    parts, owners = _in_elements(space, shape)
    places = places_in(parts, owners)
    area = places.weight.sum()
    if space.part:  # what of the print lies in other parts of the plan counts too
        area = shapely.area(shapely.intersection(space.pieces, shape)).sum()
    if not area > 1e-3 * shape.area:
        raise PlateError(f"{load.name}: it stands off the slab; check its place.")
    return space.from_points(places.x, places.y, places.element, places.weight / area)


def _in_elements(space: Space, shape: Any) -> tuple[NDArray, NDArray]:
    """What of a shape (in.) lies in each element that it meets, and the numbers of these."""
    x0, y0, x1, y1 = shape.bounds
    i = _between(space.xs, x0, x1)
    j = _between(space.ys, y0, y1)
    cells = space.cells
    near = space.where[:, i, j].ravel()
    e = near[near >= 0]
    c_i, c_j = cells.i[e], cells.j[e]
    boxes = shapely.box(space.xs[c_i], space.ys[c_j], space.xs[c_i + 1], space.ys[c_j + 1])
    parts = shapely.intersection(boxes, shape)
    cut = np.flatnonzero(~cells.whole[e])
    if len(cut):
        owners = np.array(space.pieces, object)[cells.piece[e[cut]]]
        parts[cut] = shapely.intersection(parts[cut], owners)
    return parts, e


def _between(lines: NDArray, low: float, high: float) -> slice:
    """The steps between lines that reach into a stretch."""
    first = max(int(np.searchsorted(lines, low, "right")) - 1, 0)
    return slice(first, max(int(np.searchsorted(lines, high, "left")), first + 1))


def _line(space: Space, load: Line) -> NDArray:
    points = np.asarray(inches(LineString(load.line)).coords)
    x, y, weight, way = along_line(space, points)
    piece = space.piece_at(x, y)
    for turn in (1e-3, -1e-3):  # a wall on the edge itself
        if (piece >= 0).all():
            break
        beside = space.piece_at(x - turn * way[:, 1], y + turn * way[:, 0])
        piece = np.where(piece < 0, beside, piece)
    on = piece >= 0
    if not on.any() and not space.part:
        raise PlateError(f"{load.name}: it stands off the slab; check its place.")
    element = space.element_at(x[on], y[on], piece[on])
    good = element >= 0
    return space.from_points(x[on][good], y[on][good], element[good], weight[on][good] * _PLF)


def _area(space: Space, load: Area) -> NDArray:
    if load.shape is None:
        return space.from_places(_PSF * space.weight)
    parts, owners = _in_elements(space, inches(load.shape))
    places = places_in(parts, owners)
    if not places.weight.sum() > 0 and not space.part:
        raise PlateError(f"{load.name}: it stands off the slab; check its place.")
    return space.from_points(places.x, places.y, places.element, places.weight * _PSF)


def free_curvature(h: NDArray, case: Case) -> NDArray:
    """Curvature that a free slab would take with its top warmer than its bottom, 1/in. h: in."""
    return case.expansion * case.warmer_top / h


def temperature_forces(space: Space, case: Case) -> NDArray:
    """What a temperature difference through the thickness does: no force, bending alone.

    The same difference is taken through a thickening as through the slab.
    """
    plate, cells = space.plate, space.cells
    node, weight = GAUSS, WEIGHTS

    def push(h: NDArray) -> NDArray:
        return rigidity(h, plate.E, plate.nu) * (1 + plate.nu) * free_curvature(h, case)

    # whole elements: the integral of w_xx + w_yy, from the integrals along each side
    e = space.whole
    a, b = space.a[e], space.b[e]

    def mean(side: NDArray, derivative: int) -> NDArray:
        return sum(
            w * side[:, None] * along(np.full(len(side), t), side, derivative)
            for t, w in zip(node, weight, strict=True)
        )

    bent = (
        mean(a, 2)[:, :, None] * mean(b, 0)[:, None, :]
        + mean(a, 0)[:, :, None] * mean(b, 2)[:, None, :]
    )
    local = bent.reshape(-1, 16) * push(cells.thickness[e])[:, None]
    total = space.summed(space.dofs[e], local)
    cut = cells.cut
    if len(cut.x):
        at = cut.x, cut.y, cut.element
        values = space.functions(*at, 2, 0) + space.functions(*at, 0, 2)
        values *= (push(cells.cut_thickness) * cut.weight)[:, None]
        total += space.summed(space.dofs[cut.element], values)
    return total
