"""Soil that pushes and does not pull.

Where the plate lifts off, its springs let go. Newton's method on the energy settles which: each round
takes the springs that are pressed now and solves for the rest. A coarser mesh tells first about where
that is. The last factor serves again where little has changed since (conjugate gradients do the
rest), else it is made anew. Whether there is an answer at all is asked before (``reserve``).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
from scipy import sparse

from calcbook.plate.factor import Factor
from calcbook.plate.model import PlateError

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
    """A plate in balance: its unknowns, how many rounds it took, what is left over (share of the load),
    and the last factor with the springs it leaves out, where another case may start."""

    unknowns: NDArray
    rounds: int
    left_over: float
    factor: Factor
    let_go: NDArray


class Contact:
    """A plate on its springs: stiffness with all of them pressed, and its factor.

    coarse: the same plate on a coarser mesh, which tells about where it lifts off, or None; free: which
    unknowns are to be found, None for all; the others stay as they are at the start.
    """

    def __init__(
        self,
        space: Space,
        matrix: sparse.csr_matrix,
        coarse: Contact | None = None,
        free: NDArray | None = None,
    ) -> None:
        self.space, self.matrix, self.coarse, self.free = space, matrix, coarse, free
        self.springs = space.plate.k * space.weight

    @cached_property
    def first(self) -> Factor:
        """The factor with all springs pressed."""
        return Factor(self.matrix, self.free)

    def settle(
        self,
        force: NDArray,
        on_coarse: Callable[[Space], NDArray] | None = None,
        start: Settled | NDArray | None = None,
    ) -> Settled:
        """Balance under a force on each unknown.

        on_coarse: the same force on another mesh; start: another case in balance, or unknowns, from
        which the search starts. Raises PlateError where none was found.
        """
        size = max(float(np.abs(force).max()), 1e-9)
        u, factor, let_go = self._begun(force, on_coarse, start)
        w = self.space.at_places(u)
        before, share, last = let_go, 1.0, np.inf
        for rounds in range(1, _ROUNDS + 1):
            rest = self._rest(u, w, force)
            left = float(np.abs(rest).max()) / size
            off = w < 0
            settled = share == 1.0 and (off == before).all()  # a full step, and the same springs
            if settled and (left < _EXACT or left > last / 2):  # as near as rounding lets it come
                return Settled(u, rounds, left, factor, let_go)
            before, last = off, left if settled else np.inf
            step, factor, let_go = self._step(rest, off, factor, let_go)
            change = self.space.at_places(step)
            share = self._share(u, w, step, change, force)
            u, w = u + share * step, w + share * change
        if left < _NEAR:
            return Settled(u, _ROUNDS, left, factor, let_go)
        raise PlateError(
            "plate: it was not found where the slab lifts off; the uplift is close to all that holds it down."
        )

    def nearly(self, force: NDArray, start: Settled) -> Settled:
        """One step towards balance: what changes with the springs that another case presses."""
        u, factor, let_go = self._begun(force, None, start)
        return Settled(u, 0, float("nan"), factor, let_go)

    def _begun(
        self,
        force: NDArray,
        on_coarse: Callable[[Space], NDArray] | None,
        start: Settled | NDArray | None,
    ) -> tuple[NDArray, Factor, NDArray]:
        """Unknowns to start from, with the factor that gave them and the springs it leaves out."""
        none = np.zeros(self.springs.shape, bool)
        if isinstance(start, Settled):
            u, factor, let_go = start.unknowns, start.factor, start.let_go
        elif start is not None:
            u, let_go = start, self.space.at_places(start) < 0
            factor = self.without(let_go)
        else:
            u, factor, let_go = np.zeros(force.shape), self.first, none
            if self.coarse and on_coarse and (self.space.at_places(factor.solve(force)) < 0).any():
                let_go = self._guess(on_coarse)
                factor = self.without(let_go)
        w = self.space.at_places(u)
        gone = self.springs * let_go * (1 - _HOLD) * w
        return (
            u + factor.solve(self._held(force - self.matrix @ u + self.space.from_places(gone))),
            factor,
            let_go,
        )

    def without(self, let_go: NDArray) -> Factor:
        """The factor without the springs that are let go."""
        return Factor(self._without(let_go), self.free) if let_go.any() else self.first

    def _held(self, force: NDArray) -> NDArray:
        return force if self.free is None else force * self.free

    def _guess(self, on_coarse: Callable[[Space], NDArray]) -> NDArray:
        """Where the coarser mesh lifts off, at the places of this one."""
        assert self.coarse
        other = self.coarse.space
        u = self.coarse.settle(on_coarse(other)).unknowns
        x, y, element = self.space.places
        there = other.element_at(x, y, self.space.cells.piece[element])
        return other.value(u, x, y, there) < 0

    def _rest(self, u: NDArray, w: NDArray, force: NDArray) -> NDArray:
        """Forces out of balance: springs that would pull are let go."""
        pull = self.space.from_places(self.springs * np.minimum(w, 0))
        return self._held(force - self.matrix @ u + pull)

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
                return self._held(self.matrix @ u - rows.T @ (gone * (rows @ u)))

            step, done = _conjugate(stiff, rest, factor.solve)
            if done:
                return step, factor, let_go
        factor = self.without(off)
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
