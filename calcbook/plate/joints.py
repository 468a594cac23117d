"""Joints: which pieces meet along each one, and the springs between them."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
import shapely
from scipy import sparse
from shapely import LineString

from calcbook.plate.hermite import GAUSS, WEIGHTS
from calcbook.plate.model import Joint

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from calcbook.plate.model import Plate
    from calcbook.plate.space import Space

_BESIDE = 0.05  # in.: so far from a joint it is asked which piece lies there
HELD = 1e12  # psi: more than any joint can use
RIGID = 1e4  # times k l: a spring stiffer than this is as good as none that gives


def along_line(space: Space, points: NDArray) -> tuple[NDArray, NDArray, NDArray, NDArray]:
    """Places along a line, between the lines of the mesh: x, y (in.), length of each (in.), direction.

    points: of the line, in.
    """
    found = []
    for p, q in pairwise(points):
        length = float(np.hypot(*(q - p)))
        if not length:
            continue
        cuts = [np.array([0.0, 1.0])]
        for axis, lines in ((0, space.xs), (1, space.ys)):
            if abs(q[axis] - p[axis]) > 1e-9:
                t = (lines - p[axis]) / (q[axis] - p[axis])
                cuts.append(t[(t > 1e-9) & (t < 1 - 1e-9)])
        t = np.unique(np.concatenate(cuts))
        step = np.diff(t)
        at = (t[:-1, None] + step[:, None] * GAUSS).ravel()
        weight = (step[:, None] * WEIGHTS).ravel() * length
        x, y = p[0] + at * (q[0] - p[0]), p[1] + at * (q[1] - p[1])
        found.append(np.column_stack([x, y, weight, np.tile((q - p) / length, (len(x), 1))]))
    if not found:
        return np.zeros(0), np.zeros(0), np.zeros(0), np.zeros((0, 2))
    every = np.concatenate(found)
    if space.part:
        every = every[space.covers(every[:, 0], every[:, 1])]
    return every[:, 0], every[:, 1], every[:, 2], every[:, 3:]


def held_where_thick(plate: Plate) -> tuple[Joint, ...]:
    """The joints of a plate, level where the concrete is more than twice as thick as the slab: a cut that leads
    the crack of a slab does not lead one there."""
    thick = shapely.union_all([r.shape for r in plate.regions if r.thickness > 2 * plate.thickness])
    found: list[Joint] = []
    for joint in plate.joints:
        line = LineString(joint.line)
        parts = [(line.difference(thick), joint.spring), (line.intersection(thick), HELD)]
        if parts[1][0].length < 0.01 or not joint.sawn:
            found.append(joint)
            continue
        for part, spring in parts:
            pieces = [
                p for p in shapely.get_parts(part) if isinstance(p, LineString) and p.length > 0.01
            ]
            found += [Joint(tuple(p.coords), spring, joint.name) for p in pieces]
    return tuple(found)


def joint_matrix(space: Space) -> tuple[sparse.csr_matrix, list[str]]:
    """Stiffness of all joints' springs, and what was not modeled as it was drawn, in words."""
    plate = space.plate
    lines = list(enumerate(plate.joint_lines))
    if space.part:
        lines = [(n, line) for n, line in lines if space.box.intersects(line)]
    if not lines:
        return sparse.csr_matrix((space.size, space.size)), []
    along = [along_line(space, np.asarray(line.coords)) for _, line in lines]
    x, y, weight, way = (np.concatenate(found) for found in zip(*along, strict=True))
    number = np.repeat([n for n, _ in lines], [len(found[0]) for found in along])
    side = np.column_stack([-way[:, 1], way[:, 0]]) * _BESIDE
    left = space.piece_at(x + side[:, 0], y + side[:, 1])
    right = space.piece_at(x - side[:, 0], y - side[:, 1])
    spring = np.array([min(joint.spring, RIGID * plate.k * plate.reach) for joint in plate.joints])
    stiff = weight * spring[number]
    tied = np.flatnonzero((left >= 0) & (right >= 0) & (left != right) & (stiff > 0))
    of_left, of_right = (
        space.element_at(x[tied] + sign * side[tied, 0], y[tied] + sign * side[tied, 1], piece[tied])
        for sign, piece in ((1, left), (-1, right))
    )
    on = (of_left >= 0) & (
        of_right >= 0
    )  # a joint on the border of a part of the plan has one side outside
    at = tied[on]
    blind = np.bincount(number, weight * ((left >= 0) & (left == right)), len(plate.joints))
    return _summed(space, x[at], y[at], of_left[on], of_right[on], stiff[at]), _told(plate, blind)


def _summed(
    space: Space, x: NDArray, y: NDArray, left: NDArray, right: NDArray, stiff: NDArray
) -> sparse.csr_matrix:
    """The matrix of springs at places x, y (in.) between two elements. stiff: of each, lbf/in."""
    shape = space.size, space.size
    if not len(x):
        return sparse.csr_matrix(shape)
    drop = np.hstack([space.functions(x, y, left), -space.functions(x, y, right)])
    dofs = np.hstack([space.dofs[left], space.dofs[right]])
    # places between the same two elements follow each other, and are summed up before the matrix is
    starts = np.flatnonzero((np.diff([left, right], prepend=-1) != 0).any(0))
    local = np.add.reduceat(drop[:, :, None] * (drop * stiff[:, None])[:, None, :], starts)
    rows, columns = np.repeat(dofs[starts], 32, axis=1), np.tile(dofs[starts], 32)
    return sparse.coo_matrix((local.ravel(), (rows.ravel(), columns.ravel())), shape=shape).tocsr()


def _told(plate: Plate, blind: NDArray) -> list[str]:
    """What of the joints ends inside a slab, in words. blind: length of each that does, in."""
    return [
        f"{joint.name}: {length / 12:.1f} ft of it end inside the slab and part nothing; there the slab was taken as whole."
        for joint, length in zip(plate.joints, blind, strict=True) if length > 1.0
    ]  # fmt: skip
