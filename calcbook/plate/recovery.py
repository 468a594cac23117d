"""Curvatures of the computed surface, read better than the elements give them.

Along its own direction a curvature is a straight line within each element, and right to a higher order
at two places of it only (those of Gauss with two places). So it is read from a curve through these
places of the element and of its neighbors. A neighbor across a change of thickness, a joint or a wall's
line does not count: the bending has a step or a kink there.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from calcbook.plate.space import Space

_GOOD = (0.5 - 0.5 / np.sqrt(3), 0.5 + 0.5 / np.sqrt(3))


def curvatures(
    space: Space, u: NDArray, x: NDArray, y: NDArray, element: NDArray
) -> tuple[NDArray, NDArray, NDArray]:
    """w_xx, w_yy and w_xy at places of elements, 1/in. u: unknowns; x, y: in.; element: of each place."""
    return (
        _along(space, u, x, y, element, 0),
        _along(space, u, x, y, element, 1),
        space.value(u, x, y, element, 1, 1),
    )


def _along(space: Space, u: NDArray, x: NDArray, y: NDArray, element: NDArray, axis: int) -> NDArray:
    """The curvature along one axis."""
    c = space.cells
    order = (2, 0) if axis == 0 else (0, 2)
    at = (x, y)[axis]
    start = (space.xs[c.i], space.ys[c.j])[axis]
    side = (space.a, space.b)[axis]
    plain = space.value(u, x, y, element, *order)
    before, after = (_neighbor(space, element, axis, way) for way in (-1, 1))
    good = c.whole[element] & ((before >= 0) | (after >= 0))
    if not good.any():
        return plain
    e, low, high, at = element[good], before[good], after[good], at[good]
    # two places in the element and one on each side; where a side is missing, two on the other
    picks = [
        (e, 0), (e, 1), (np.where(low >= 0, low, high), np.where(low >= 0, 1, 0)),
        (np.where(high >= 0, high, low), np.where(high >= 0, np.where(low >= 0, 0, 1), 0)),
    ]  # fmt: skip
    places, values = [], []
    for cell, which in picks:
        t = np.where(np.asarray(which) == 0, *_GOOD)
        place = start[cell] + t * side[cell]
        where = (place, y[good]) if axis == 0 else (x[good], place)
        places.append(place)
        values.append(space.value(u, *where, cell, *order))
    found = plain.copy()
    found[good] = _through(np.array(places), np.array(values), at)
    return found


def _neighbor(space: Space, element: NDArray, axis: int, way: int) -> NDArray:
    """The element beside along an axis, -1 where none counts."""
    c = space.cells
    i, j = c.i[element] + (way if axis == 0 else 0), c.j[element] + (way if axis == 1 else 0)
    inside = (i >= 0) & (j >= 0) & (i < len(space.xs) - 1) & (j < len(space.ys) - 1)
    beside = np.where(
        inside, space.where[c.piece[element], np.where(inside, i, 0), np.where(inside, j, 0)], -1
    )
    lines, number = ((space.xs, i), (space.ys, j))[axis]
    between = lines[np.clip(number + (1 if way < 0 else 0), 0, len(lines) - 1)]
    kink = np.isin(np.round(between, 6), np.round(space.kinks[axis], 6))
    alike = c.whole[beside] & (c.thickness[beside] == c.thickness[element])
    return np.where((beside >= 0) & alike & ~kink, beside, -1)


def _through(places: NDArray, values: NDArray, at: NDArray) -> NDArray:
    """The cubic through four places, place by place."""
    total = np.zeros(at.shape)
    for k in range(4):
        part = values[k]
        for m in range(4):
            if m != k:
                part = part * (at - places[m]) / (places[k] - places[m])
        total = total + part
    return total
