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


def joint_places(space: Space, line: LineString) -> tuple[NDArray, NDArray, NDArray, float]:
    """How much lower the left side of a joint is than the right, from the unknowns of both elements, at places
    along it: how much each unknown counts, its number, the length that each place stands for (in.); and the length of
    joint that does not part two pieces (in.). line: of the joint, in."""
    x, y, weight, way = along_line(space, np.asarray(line.coords))
    side = np.column_stack([-way[:, 1], way[:, 0]]) * _BESIDE
    left = space.piece_at(x + side[:, 0], y + side[:, 1])
    right = space.piece_at(x - side[:, 0], y - side[:, 1])
    parted = (left >= 0) & (right >= 0) & (left != right)
    blind = float(weight[(left >= 0) & (left == right)].sum())
    x, y, weight, side = x[parted], y[parted], weight[parted], side[parted]
    left, right = (
        space.element_at(x + sign * side[:, 0], y + sign * side[:, 1], piece[parted])
        for sign, piece in ((1, left), (-1, right))
    )
    on = (left >= 0) & (right >= 0)  # a joint on the border of a part of the plan has one side outside
    x, y, left, right = x[on], y[on], left[on], right[on]
    drop = np.hstack([space.functions(x, y, left), -space.functions(x, y, right)])
    return drop, np.hstack([space.dofs[left], space.dofs[right]]), weight[on], blind


def joint_matrix(space: Space) -> tuple[sparse.csr_matrix, list[str]]:
    """Stiffness of all joints' springs, and what was not modeled as it was drawn, in words."""
    plate = space.plate
    parts: list[tuple[NDArray, NDArray, NDArray]] = []
    told = []
    for joint, line in zip(plate.joints, plate.joint_lines, strict=True):
        if space.part and not space.box.intersects(line):
            continue
        drop, dofs, weight, blind = joint_places(space, line)
        if blind > 1.0:
            told.append(
                f"{joint.name}: {blind / 12:.1f} ft of it end inside the slab and part nothing; there the "
                "slab was taken as whole."
            )
        spring = min(joint.spring, RIGID * plate.k * plate.reach)
        if spring and len(weight):
            parts.append((drop, dofs, weight * spring))
    if not parts:
        return sparse.csr_matrix((space.size, space.size)), told
    drop, dofs, stiff = (np.concatenate(v) for v in zip(*parts, strict=True))
    # places between the same two elements follow each other, and are summed up before the matrix is
    starts = np.flatnonzero((np.diff(dofs[:, ::16], axis=0, prepend=-1) != 0).any(1))
    local = np.add.reduceat(drop[:, :, None] * (drop * stiff[:, None])[:, None, :], starts)
    own = dofs[starts]
    shape = local.shape
    rows, columns = (
        np.broadcast_to(own[index], shape) for index in (np.s_[:, :, None], np.s_[:, None])
    )
    entries = local.ravel(), (rows.ravel(), columns.ravel())
    return sparse.coo_matrix(entries, shape=(space.size, space.size)).tocsr(), told
