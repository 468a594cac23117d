"""Curvatures of the computed surface, read better than the elements give them.

Along its own direction a curvature is a straight line within each element, and right to a higher order
at two places of it only (those of Gauss with two places). So it is read from a curve through these
places of the element and of its neighbors. A neighbor across a change of thickness, a joint or a wall's
line does not count: the bending has a step or a kink there.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy import sparse

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from calcbook.plate.space import Space

_GOOD = (0.5 - 0.5 / np.sqrt(3), 0.5 + 0.5 / np.sqrt(3))


def curvature_rows(
    space: Space, x: NDArray, y: NDArray, element: NDArray
) -> tuple[sparse.csr_matrix, sparse.csr_matrix, sparse.csr_matrix]:
    """The matrices that give w_xx, w_yy and w_xy (1/in.) at places from the unknowns. x, y: in.; element: of each."""
    twist = space.functions(x, y, element, 1, 1)
    own = np.arange(len(x))
    return (
        _along(space, x, y, element, 0),
        _along(space, x, y, element, 1),
        _matrix(space, len(x), [(own, element, twist)]),
    )


def _matrix(
    space: Space, count: int, parts: list[tuple[NDArray, NDArray, NDArray]]
) -> sparse.csr_matrix:
    """Parts of rows as one matrix: which rows, the element of each, the values of its sixteen functions. What several
    parts bring to one unknown is left side by side: to sum it up takes longer than it saves."""
    many = sum(np.bincount(row, minlength=count) for row, _, _ in parts) * 16
    ends = np.concatenate([[0], np.cumsum(many)])
    columns, values = np.empty(ends[-1], int), np.empty(ends[-1])
    start = ends[:-1, None] + np.arange(16)
    for row, cell, of_functions in parts:
        columns[start[row]], values[start[row]] = space.dofs[cell], of_functions
        start[row] += 16
    return sparse.csr_matrix((values, columns, ends), shape=(count, space.size))


def _along(space: Space, x: NDArray, y: NDArray, element: NDArray, axis: int) -> sparse.csr_matrix:
    """The rows of the curvature along one axis."""
    c = space.cells
    order = (2, 0) if axis == 0 else (0, 2)
    start = (space.xs[c.i], space.ys[c.j])[axis]
    side = (space.a, space.b)[axis]
    before, after = (_neighbor(space, element, axis, way) for way in (-1, 1))
    good = c.whole[element] & ((before >= 0) | (after >= 0))
    alone = np.flatnonzero(~good)
    plain = space.functions(x[alone], y[alone], element[alone], order[0], order[1])
    parts = [(alone, element[alone], plain)]
    number = np.flatnonzero(good)
    e, low, high = element[number], before[number], after[number]
    # two places in the element and one on each side; where a side is missing, two on the other
    picks = [
        (e, 0), (e, 1), (np.where(low >= 0, low, high), np.where(low >= 0, 1, 0)),
        (np.where(high >= 0, high, low), np.where(high >= 0, np.where(low >= 0, 0, 1), 0)),
    ]  # fmt: skip
    places = [
        start[cell] + np.where(np.asarray(which) == 0, *_GOOD) * side[cell] for cell, which in picks
    ]
    shares = _through(np.array(places), (x, y)[axis][number])
    for (cell, _), place, share in zip(picks, places, shares, strict=True):
        where = (place, y[number]) if axis == 0 else (x[number], place)
        parts.append(
            (
                number,
                cell,
                share[:, None] * space.functions(where[0], where[1], cell, order[0], order[1]),
            )
        )
    return _matrix(space, len(x), parts)


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


def _through(places: NDArray, at: NDArray) -> NDArray:
    """How much each of four places counts in the cubic through them: an array (4, places)."""
    found = np.ones(places.shape)
    for k in range(4):
        for m in range(4):
            if m != k:
                found[k] *= (at - places[m]) / (places[k] - places[m])
    return found
