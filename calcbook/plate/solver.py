"""Soil that pushes and does not pull.

Where the plate lifts off, its springs let go. Newton's method on the energy settles which: each round
takes the springs that are pressed now and solves for the rest. A coarser mesh tells first about where
that is. The last factor serves again where little has changed since (conjugate gradients do the
rest), else it is made anew. Whether there is an answer at all is asked first.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely
from scipy import sparse
from scipy.optimize import linprog
from shapely import LineString

from calcbook.plate.factor import Factor
from calcbook.plate.model import PlateError
from calcbook.plate.pieces import inches

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from calcbook.plate.space import Space

_ROUNDS = 60
_STEPS = 8  # of conjugate gradients, before the factor is made anew
_FEW = 0.002  # share of the springs: where more have changed, the factor is made anew at once
_NEAR = 1e-7  # of the greatest force: what may be left over
_EXACT = 1e-14  # the same, where nothing is gained by going on
_HOLD = 1e-7  # share of a spring that the search keeps where the plate has lifted off


@dataclass(frozen=True)
class Settled:
    """A plate in balance: its unknowns, how many rounds it took, what is left over (share of the load)."""

    unknowns: NDArray
    rounds: int
    left_over: float


class Contact:
    """A plate on its springs: stiffness with all of them pressed, and its factor.

    coarse: the same plate on a coarser mesh, which tells about where it lifts off.
    """

    def __init__(self, space: Space, matrix: sparse.csr_matrix, coarse: Contact | None = None) -> None:
        self.space, self.matrix, self.coarse = space, matrix, coarse
        self.springs = space.plate.k * space.weight
        self.first = Factor(matrix)

    def settle(self, force: NDArray, on_coarse: Callable[[Space], NDArray]) -> Settled:
        """Balance under a force on each unknown; on_coarse: the same on another mesh.

        Raises PlateError where none was found.
        """
        size = max(float(np.abs(force).max()), 1e-9)
        factor, let_go = self.first, np.zeros(self.springs.shape, bool)
        u = factor.solve(force)
        w = self.space.at_places(u)
        if self.coarse and (w < 0).any():
            let_go = self._guess(on_coarse)
            factor = Factor(self._without(let_go))
            u = factor.solve(force)
            w = self.space.at_places(u)
        before, share, last = let_go, 1.0, np.inf
        for rounds in range(1, _ROUNDS + 1):
            rest = self._rest(u, w, force)
            left = float(np.abs(rest).max()) / size
            off = w < 0
            settled = share == 1.0 and (off == before).all()  # a full step, and the same springs
            if settled and (left < _EXACT or left > last / 2):  # as near as rounding lets it come
                return Settled(u, rounds, left)
            before, last = off, left if settled else np.inf
            step, factor, let_go = self._step(rest, off, factor, let_go)
            change = self.space.at_places(step)
            share = self._share(u, w, step, change, force)
            u, w = u + share * step, w + share * change
        if left < _NEAR:
            return Settled(u, _ROUNDS, left)
        raise PlateError(
            "plate: it was not found where the slab lifts off; the uplift is close to all that holds it down."
        )

    def tangent(self, u: NDArray) -> Factor:
        """The factor for small changes about a plate in balance. u: its unknowns."""
        off = self.space.at_places(u) < 0
        return Factor(self._without(off)) if off.any() else self.first

    def _guess(self, on_coarse: Callable[[Space], NDArray]) -> NDArray:
        """Where the coarser mesh lifts off, at the places of this one."""
        assert self.coarse
        other = self.coarse.space
        u = self.coarse.settle(on_coarse(other), on_coarse).unknowns
        x, y, element = self.space.places
        there = other.element_at(x, y, self.space.cells.piece[element])
        return other.value(u, x, y, there) < 0

    def _rest(self, u: NDArray, w: NDArray, force: NDArray) -> NDArray:
        """Forces out of balance: springs that would pull are let go."""
        return force - self.matrix @ u + self.space.from_places(self.springs * np.minimum(w, 0))

    def _gone(self, off: NDArray) -> tuple[sparse.csr_matrix, NDArray]:
        """Deflection where the slab has lifted off, and the springs that are let go there."""
        x, y, element = self.space.places
        return self.space.rows(x[off], y[off], element[off]), self.springs[off] * (1 - _HOLD)

    def _without(self, off: NDArray) -> sparse.csr_matrix:
        """The stiffness without the springs that are let go."""
        rows, gone = self._gone(off)
        return (self.matrix - rows.T @ sparse.diags_array(gone) @ rows).tocsr()

    def _step(
        self, rest: NDArray, off: NDArray, factor: Factor, let_go: NDArray
    ) -> tuple[NDArray, Factor, NDArray]:
        """Newton's step, by the factor at hand where little has changed since, else by a new one."""
        changed = off != let_go
        if not changed.any():
            return factor.solve(rest), factor, let_go
        if changed.mean() < _FEW:
            rows, gone = self._gone(off)

            def stiff(u: NDArray) -> NDArray:
                return self.matrix @ u - rows.T @ (gone * (rows @ u))

            step, done = _conjugate(stiff, rest, factor.solve)
            if done:
                return step, factor, let_go
        factor = Factor(self._without(off))
        return factor.solve(rest), factor, off

    def _share(self, u: NDArray, w: NDArray, step: NDArray, change: NDArray, force: NDArray) -> float:
        """How much of a step to take: the energy along it is convex, and its slope must not turn up."""

        # along the step all but the springs is straight, so only they are looked at anew
        flat = float(step @ (force - self.matrix @ u))
        bend = float(step @ (self.matrix @ step))

        def slope(t: float) -> float:
            pull = self.springs * np.minimum(w + t * change, 0)
            return -(flat - t * bend + float(change @ pull))

        start = abs(slope(0.0))
        if slope(1.0) <= 1e-6 * start:
            return 1.0
        low, high, share = 0.0, 1.0, 0.5
        for _ in range(30):
            share = (low + high) / 2
            now = slope(share)
            if abs(now) < 0.01 * start:
                break
            low, high = (share, high) if now < 0 else (low, share)
        return share


def _conjugate(
    stiff: Callable[[NDArray], NDArray], force: NDArray, guess: Callable[[NDArray], NDArray]
) -> tuple[NDArray, bool]:
    """Conjugate gradients from a good guess of the inverse. Returns (unknowns, whether they are found)."""
    u = np.zeros_like(force)
    rest = force.copy()
    near = guess(rest)
    way, now = near, float(rest @ near)
    start = now
    for _ in range(_STEPS):
        image = stiff(way)
        share = now / float(way @ image)
        u, rest = u + share * way, rest - share * image
        near = guess(rest)
        before, now = now, float(rest @ near)
        if now <= 1e-18 * start:
            return u, True
        way = near + (now / before) * way
    return u, now <= 1e-12 * start


# --- is there a balance at all? ------------------------------------------------------------------


def uplift_reserve(space: Space, steady: NDArray, lifting: NDArray) -> float:
    """How many times the lifting loads may act before the slab, taken as stiff, leaves the ground or tips.

    steady, lifting: forces on the unknowns. Infinite where nothing lifts; below 1 there is no balance.
    The pieces turn about their joints; they hold each other by shear where a joint has a spring.
    """
    rigid = space.rigid
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
    count = 3 * len(space.pieces)
    for number, piece in enumerate(space.pieces):
        for x, y in np.asarray(piece.convex_hull.exterior.coords)[:-1]:
            column = np.zeros(count)
            column[3 * number : 3 * number + 3] = 1, x, y
            columns.append(column)
    own = len(columns)
    for a in range(len(space.pieces)):
        for b in range(a):
            if not _tied(space, a, b):
                continue
            shared = space.pieces[a].intersection(space.pieces[b])
            for x, y in shapely.get_coordinates(shared):
                column = np.zeros(count)
                column[3 * a : 3 * a + 3] = 1, x, y
                column[3 * b : 3 * b + 3] = -1, -x, -y
                columns.append(column)
    return np.column_stack(columns), own


def _tied(space: Space, a: int, b: int) -> bool:
    """True where a joint with a spring ties two pieces."""
    shared = space.pieces[a].intersection(space.pieces[b]).buffer(0.1)
    return any(
        joint.spring > 0 and inches(LineString(joint.line)).intersection(shared).length > 1.0
        for joint in space.plate.joints
    )
