"""Is there a balance at all? How much uplift a slab bears before it, or a part of it, leaves the ground."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import shapely

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

    from calcbook.plate.space import Space


def uplift_reserve(space: Space, steady: NDArray, lifting: NDArray) -> float:
    """How many times the lifting loads may act before the slab, taken as stiff, leaves the ground or tips.

    steady, lifting: forces on the unknowns. Infinite where nothing lifts; below 1 there is no balance.
    The pieces turn about their joints; they hold each other by shear where a joint has a spring. A slab beside
    holds nothing down.
    """
    from scipy.optimize import linprog  # takes its time to load, and few cases lift

    rigid = space.rigid.reshape(len(space.pieces), 3, -1)[space.own].reshape(-1, space.size)
    down, up = rigid @ steady, rigid @ lifting
    if not np.abs(up).max() > 1e-9 * max(float(np.abs(down).max()), 1e-9):
        return np.inf if _stands(space, down) else 0.0
    # soil pressures at the corners of each piece and joint forces that carry steady + s * lifting
    held, own = _holding(space)
    matrix = np.column_stack([held, -up])
    limits = [(0, None)] * own + [(None, None)] * (held.shape[1] - own) + [(0, 1e6)]
    scale = np.maximum(np.abs(matrix).max(1), 1e-9)
    cost = np.zeros(matrix.shape[1])
    cost[-1] = -1
    found = linprog(cost, A_eq=matrix / scale[:, None], b_eq=down / scale, bounds=limits)
    if found.status != 0:
        return 0.0
    return np.inf if found.x[-1] > 0.999e6 else float(found.x[-1])


def _stands(space: Space, down: NDArray) -> bool:
    from scipy.optimize import linprog

    held, own = _holding(space)
    scale = np.maximum(np.abs(held).max(1), 1e-9)
    limits = [(0, None)] * own + [(None, None)] * (held.shape[1] - own)
    found = linprog(
        np.zeros(held.shape[1]), A_eq=held / scale[:, None], b_eq=down / scale, bounds=limits
    )
    return found.status == 0


def _holding(space: Space) -> tuple[NDArray, int]:
    """What unit forces of the ground at the corners of the pieces, then of the joints, do to their balance."""
    columns = []
    pieces = [piece for piece, own in zip(space.pieces, space.own, strict=True) if own]
    count = 3 * len(pieces)
    for number, piece in enumerate(pieces):
        for x, y in np.asarray(piece.convex_hull.exterior.coords)[:-1]:
            column = np.zeros(count)
            column[3 * number : 3 * number + 3] = 1, x, y
            columns.append(column)
    own = len(columns)
    for a in range(len(pieces)):
        for b in range(a):
            shared = pieces[a].intersection(pieces[b])
            if not _tied(space, shared):
                continue
            for x, y in shapely.get_coordinates(shared):
                column = np.zeros(count)
                column[3 * a : 3 * a + 3] = 1, x, y
                column[3 * b : 3 * b + 3] = -1, -x, -y
                columns.append(column)
    return np.column_stack(columns), own


def _tied(space: Space, shared: BaseGeometry) -> bool:
    """True where a joint with a spring ties two pieces. shared: where they meet, in."""
    near = shared.buffer(0.1)
    return any(
        joint.spring > 0 and line.intersection(near).length > 1.0
        for joint, line in zip(space.plate.joints, space.plate.joint_lines, strict=True)
    )
