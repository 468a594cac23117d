"""A close-up: the surroundings of one place on a fine mesh of their own.

The mesh of the whole plan is as coarse as deflections allow, and stresses under a wheel or beside a
thickening need a finer one. So a part of the plan about the place is worked out once more, its border held
as the whole plan's mesh moved it (a submodel). Far from the border that is the answer of a fine mesh
everywhere: what is small spreads no farther than the reach of a load.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from calcbook.plate.forces import case_forces
from calcbook.plate.joints import joint_matrix
from calcbook.plate.kept import once
from calcbook.plate.lines import kinks, lines_about, reaches
from calcbook.plate.solver import Contact
from calcbook.plate.space import Space
from calcbook.plate.stiffness import stiffness

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from calcbook.plate.model import Case

HALF = 1.3  # of the reach of a load: from the place to the border
_TRUSTED = 0.6  # of that: so near to the place it is read
_KINDS = ((0, 0), (1, 0), (0, 1), (1, 1))  # derivatives by x and y that a node carries


@dataclass(frozen=True)
class CloseUp:
    """A part of the plan worked out. x, y: its place, in.; trusted: it is read so far from it both ways, in."""

    space: Space
    unknowns: NDArray
    x: float
    y: float
    trusted: float

    def shows(self, x: NDArray, y: NDArray) -> NDArray:
        """True for places x, y (in.) that are read here."""
        near = (np.abs(x - self.x) <= self.trusted) & (np.abs(y - self.y) <= self.trusted)
        return near & self.space.covers(x, y)


def close_up(space: Space, u: NDArray, case: Case, x: float, y: float) -> CloseUp:
    """The surroundings of a place of the whole plan on a mesh made for what stands there.

    space, u: mesh and unknowns of the whole plan; case: what acts; x, y: the place, in.
    """
    half = HALF * space.plate.reach
    xs, ys = _about(space.xs, x, half), _about(space.ys, y, half)
    case = _near(case, xs, ys)
    plan = space.fine_spots, space.steps_along
    xs, ys = lines_about(space.plate, case.loads, *plan, (xs, ys), (x, y))
    return _worked(space, u, case, xs, ys, (x, y, half * _TRUSTED))


def twice_as_fine(shown: CloseUp, case: Case, x: float, y: float) -> CloseUp:
    """The middle of a close-up on a mesh twice as fine, its border held by the close-up. x, y: in."""
    half = shown.trusted
    found = []
    for lines, at in ((shown.space.xs, x), (shown.space.ys, y)):
        own = _about(lines, at, half)
        found.append(np.append(own[0], np.concatenate([[(a + b) / 2, b] for a, b in pairwise(own)])))
    case = _near(case, *found)
    return _worked(shown.space, shown.unknowns, case, found[0], found[1], (x, y, half * _TRUSTED))


def _near(case: Case, xs: NDArray, ys: NDArray) -> Case:
    """A case with those of its loads that stand within the lines of a mesh."""
    box = xs[0], ys[0], xs[-1], ys[-1]
    return replace(case, loads=tuple(load for load in case.loads if reaches(load, box)))


def _about(lines: NDArray, at: float, half: float) -> NDArray:
    """The lines of a mesh about a place, as far as the first ones beyond a distance."""
    low = max(int(np.searchsorted(lines, at - half, "right")) - 1, 0)
    return lines[low : int(np.searchsorted(lines, at + half, "left")) + 1]


def _worked(
    outer: Space, u: NDArray, case: Case, xs: NDArray, ys: NDArray, at: tuple[float, float, float]
) -> CloseUp:
    kinked = kinks(case.loads)
    key = xs.tobytes(), ys.tobytes(), tuple(map(tuple, kinked))
    part = once(outer, key, lambda: _Part(outer, xs, ys, kinked))
    forces = case_forces(part.space, case)
    return CloseUp(part.space, part.contact.settle(forces, start=part.as_outside(u)).unknowns, *at)


class _Part:
    """A part of the plan on a mesh of its own, ready for any case on the mesh around it."""

    def __init__(
        self, outer: Space, xs: NDArray, ys: NDArray, kinked: tuple[list[float], list[float]]
    ) -> None:
        self.outer = outer
        self.space = space = Space(outer.plate, xs, ys, kinked, outer.pieces, part=True)
        element = outer.element_at(space.node_x, space.node_y, space.node_piece)
        self.known = element >= 0  # nodes that the mesh around it has too
        self.at = space.node_x[self.known], space.node_y[self.known], element[self.known]
        held = np.repeat(_on_border(space) & self.known, 4)
        self.contact = Contact(space, stiffness(space, joint_matrix(space)[0]), free=~held)

    def as_outside(self, u: NDArray) -> NDArray:
        """The unknowns as the mesh around it has them. u: of that mesh."""
        start = np.zeros((self.space.nodes, 4))
        for n, order in enumerate(_KINDS):
            start[self.known, n] = self.outer.value(u, *self.at, *order)
        return start.ravel()


def _on_border(space: Space) -> NDArray:
    """Nodes on the outer lines of a close-up where the plan goes on beyond."""
    bounds = np.array([o.bounds for o in space.plate.every]) * 12
    low, high = bounds[:, :2].min(0), bounds[:, 2:].max(0)
    on = np.zeros(space.nodes, bool)
    for at, lines, a, b in (
        (space.node_x, space.xs, low[0], high[0]),
        (space.node_y, space.ys, low[1], high[1]),
    ):
        on |= (at == lines[0]) & (lines[0] > a + 1e-6)
        on |= (at == lines[-1]) & (lines[-1] < b - 1e-6)
    return on
