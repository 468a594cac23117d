"""Soil that pushes and does not pull.

Where the plate lifts off, its springs let go. Newton's method on the energy settles which: each round
takes the springs that are pressed now and solves for the rest. One factor, with all springs pressed, serves
every round of every case: conjugate gradients do the rest, roughly at first, and to the end once no spring
changes any more. Whether there is an answer at all is asked before (``reserve``).
"""

from __future__ import annotations

import copy
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
_STEPS = 16  # of conjugate gradients, before a factor is made for them
# how much of what is out of balance a round leaves, by energy: while springs still change, and to choose among cases
_ROUGH, _CHOICE = 0.03, 1e-3
_EXACT = 1e-10  # of the whole deflection, by energy: the same at the end
_LEAST = (
    1e-10  # of the greatest force: so little may be left over where a spring stands just on the ground
)
_NEAR = 1e-7  # the same, after the last round
_TURNED = 0.01  # of the slope of the energy where a step starts: so much it may turn up
_HOLD = 1e-7  # share of a spring that the search keeps where the plate has lifted off
_FEW = 0.25  # share of the springs: up to so many that have changed are taken one by one


@dataclass(frozen=True)
class Settled:
    """A plate in balance: its unknowns, how many rounds it took, what is left over (share of the load)."""

    unknowns: NDArray
    rounds: int
    left_over: float


class Contact:
    """A plate on its springs: stiffness with all of them pressed, and its factor.

    free: which unknowns are to be found, None for all; the others stay as they are at the start.
    """

    def __init__(self, space: Space, matrix: sparse.csr_matrix, free: NDArray | None = None) -> None:
        self.space, self.matrix, self.free = space, matrix, free
        self.springs = self.within = (
            space.plate.k * space.weight
        )  # as they are, and those in the matrix

    @cached_property
    def first(self) -> Factor:
        """The factor of the matrix."""
        return Factor(self.matrix, self.free)

    def of(self, space: Space, joined: sparse.csr_matrix | None) -> Contact:
        """The same mesh with the springs of another space, which the matrix and factor serve too. joined: how much
        stiffer its joints are, None where they are the same."""
        assert joined is not None or self.first
        other = copy.copy(self)
        other.space, other.springs = space, space.plate.k * space.weight
        if joined is not None:
            other.matrix = self.matrix + joined
            vars(other).pop("first", None)
        return other

    def settle(self, force: NDArray, start: NDArray | None = None) -> Settled:
        """Balance under a force on each unknown. start: unknowns from which the search starts. Raises PlateError
        where none was found."""
        most = max(float(np.abs(force).max()), 1e-9)
        u = np.zeros(force.shape) if start is None else start
        w = self.space.at_places(u)
        rest, search, last = self._rest(u, w, force), _Search(self), False
        for rounds in range(1, _ROUNDS + 1):
            off = w < 0
            step = search.step(rest, off, 0.0 if last else _ROUGH, float(u @ force))
            u, w, rest, whole = self._moved(u, w, rest, step, force)
            left = float(np.abs(rest).max()) / most
            same = whole and bool(((w < 0) == off).all())
            if last and (same or left < _LEAST):
                return Settled(u, rounds, left)
            last = same
        if left < _NEAR:
            return Settled(u, _ROUNDS, left)
        raise PlateError(
            "plate: it was not found where the slab lifts off; the uplift is close to all that holds it down."
        )

    def nearly(self, force: NDArray, start: NDArray) -> Settled:
        """About the balance under a force on each unknown, with the springs that another case presses. start: its
        unknowns."""
        off = self.space.at_places(start) < 0
        rest = self._held(force) - self.stiff(off)(start)
        return Settled(start + _Search(self).step(rest, off, _CHOICE, 0.0), 0, float("nan"))

    def without(self, let_go: NDArray) -> Factor:
        """The factor without some springs. let_go: which."""
        lack = self.lacking(let_go)
        some = np.flatnonzero(lack)
        if not len(some):
            return self.first
        rows = self._rows(some)
        matrix = self.matrix - rows.T @ sparse.diags_array(lack[some]) @ rows
        return Factor(matrix.tocsr(), self.free)

    def lacking(self, off: NDArray) -> NDArray:
        """What the springs lack of those in the matrix. off: which are let go."""
        return self.within - self.springs * np.where(off, _HOLD, 1.0)

    def stiff(self, off: NDArray) -> Callable[[NDArray], NDArray]:
        """What gives the forces of any unknowns. off: which springs are let go."""
        lack = self.lacking(off)
        some = np.flatnonzero(lack)
        if len(some) > _FEW * len(lack):

            def lacks(u: NDArray) -> NDArray:
                return self.space.from_places(lack * self.space.at_places(u))

        else:
            rows, few = self._rows(some), lack[some]

            def lacks(u: NDArray) -> NDArray:
                return np.asarray(rows.T @ (few * (rows @ u)))

        return lambda u: self._held(self.matrix @ u - lacks(u))

    def _held(self, force: NDArray) -> NDArray:
        return force if self.free is None else force * self.free

    def _rows(self, some: NDArray) -> sparse.csr_matrix:
        x, y, element = self.space.places
        return self.space.rows(x[some], y[some], element[some])

    def _less(self, w: NDArray) -> NDArray:
        """How much less than in the matrix each spring pushes: it does not pull. w: deflection at every place."""
        return self.within * w - self.springs * np.maximum(w, 0)

    def _rest(self, u: NDArray, w: NDArray, force: NDArray) -> NDArray:
        """Forces out of balance."""
        return self._held(force - self.matrix @ u + self.space.from_places(self._less(w)))

    def _moved(
        self, u: NDArray, w: NDArray, rest: NDArray, step: NDArray, force: NDArray
    ) -> tuple[NDArray, NDArray, NDArray, bool]:
        """Unknowns, deflections, forces out of balance after a step, and whether all of it was taken: the energy
        along it is convex, and its slope must not turn up."""
        change = self.space.at_places(step)
        u_1, w_1 = u + step, w + change
        rest_1 = self._rest(u_1, w_1, force)
        start, end = float(step @ rest), float(step @ rest_1)
        if end >= -_TURNED * start or bool(((w < 0) == (w_1 < 0)).all()):
            return u_1, w_1, rest_1, True
        # along the step all but the springs is straight, so only they are looked at anew
        flat = start - float(change @ self._less(w))
        bend = flat + float(change @ self._less(w_1)) - end
        low, high, share = 0.0, 1.0, 0.5
        for _ in range(30):
            share = (low + high) / 2
            now = flat - share * bend + float(change @ self._less(w + share * change))
            if abs(now) < _TURNED * start:
                break
            low, high = (share, high) if now > 0 else (low, share)
        u, w = u + share * step, w + share * change
        return u, w, self._rest(u, w, force), False


class _Search:
    """Newton's steps of one case, by the factor at hand, or by one of their own where that is too far from them."""

    def __init__(self, contact: Contact) -> None:
        self.contact, self.factor = contact, contact.first
        self.lacking = np.zeros(contact.springs.shape)  # of the springs in the factor

    def step(self, rest: NDArray, off: NDArray, near: float, size: float) -> NDArray:
        """Unknowns under forces out of balance. off: springs that are let go; near: which share of them may stay, by
        energy; size: energy of the whole deflection."""
        lacking = self.contact.lacking(off)
        if np.array_equal(lacking, self.lacking):
            return self.factor.solve(rest)
        guess = self.factor.roughly(rest)
        now = float(rest @ guess)
        least = max(near**2 * now, _EXACT**2 * max(abs(size), now))
        if now <= least:
            return guess
        stiff = self.contact.stiff(off)
        found, way = np.zeros(rest.shape), guess
        left = rest
        for _ in range(_STEPS):  # conjugate gradients
            image = stiff(way)
            share = now / float(way @ image)
            found, left = found + share * way, left - share * image
            guess = self.factor.roughly(left)
            before, now = now, float(left @ guess)
            if now <= least:
                return found
            way = guess + (now / before) * way
        self.factor, self.lacking = self.contact.without(off), lacking
        return self.factor.solve(rest)
