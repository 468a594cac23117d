"""Banded Cholesky factors: written once, used for many loads.

The unknowns are numbered row by row along the longer way of the plan, which keeps them within a band
half as wide as reverse Cuthill-McKee ordering gives on a rectangle of such elements.
"""

from __future__ import annotations

import contextlib
import functools
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
from numpy.lib.stride_tricks import as_strided
from scipy.linalg import cho_solve_banded, cholesky_banded
from scipy.linalg.blas import dtrmm
from scipy.linalg.lapack import dtrtri
from threadpoolctl import ThreadpoolController

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray
    from scipy import sparse


@functools.cache
def _threads() -> ThreadpoolController:
    return ThreadpoolController()


_alone = False  # whether linear algebra runs on one thread already: to ask for it costs more than a small solve


@contextlib.contextmanager
def one_thread() -> Iterator[None]:
    """Linear algebra on one thread: threads that wait for each other cost more than they bring here."""
    global _alone
    if _alone:
        yield
        return
    with _threads().limit(limits=1):
        _alone = True
        try:
            yield
        finally:
            _alone = False


class Factor:
    """The Cholesky factor of a sparse symmetric matrix, its unknowns scaled to a like stiffness.

    free: which unknowns are to be found, None for all; the others stay 0.
    """

    def __init__(self, matrix: sparse.csr_matrix, free: NDArray | None = None) -> None:
        self.free = None if free is None or free.all() else np.flatnonzero(free)
        if self.free is not None:
            matrix = matrix[self.free][:, self.free]
        self.size = n = matrix.shape[0]
        self.scale = 1 / np.sqrt(matrix.diagonal())
        row = np.repeat(np.arange(n, dtype=np.int32), np.diff(matrix.indptr))
        low = row >= matrix.indices
        row, col = row[low], matrix.indices[low]
        below = row - col
        self.width = max(int(below.max(initial=0)), 1)
        band = np.zeros((self.width + 1, n), order="F")
        band[below, col] = matrix.data[low] * self.scale[row] * self.scale[col]
        with one_thread():
            self.band = cholesky_banded(band, overwrite_ab=True, lower=True, check_finite=False)

    def solve(self, force: NDArray) -> NDArray:
        """The unknowns under a force on each: one load, or a column for each load."""
        if self.free is not None:
            found = np.zeros(force.shape)
            found[self.free] = self._solve(force[self.free])
            return found
        return self._solve(force)

    def roughly(self, force: NDArray) -> NDArray:
        """The same under one load (``force``), to six figures or so: the factor takes half the time to read."""
        if self.free is not None:
            return self.solve(force)  # a part of the plan is small
        scaled = (force * self.scale).astype(np.float32)
        with one_thread():
            found = cho_solve_banded((self._single, True), scaled, check_finite=False)
        return found * self.scale

    @cached_property
    def _single(self) -> NDArray:
        return self.band.astype(np.float32)

    def near(self, force: NDArray, within: slice) -> NDArray:
        """The unknowns under loads (``force``, a column for each) within some rows of them; what comes before and
        after these rows is left 0. All unknowns must be free."""
        assert self.free is None
        w = self.width
        blocks = slice(within.start // w, -(-within.stop // w))
        rows = slice(blocks.start * w, min(blocks.stop * w, self.size))
        found = np.zeros(force.shape)
        scale = self.scale[rows, None]
        with one_thread():
            found[rows] = self._columns(force[rows] * scale, self._blocks[blocks]) * scale
        return found

    def _solve(self, force: NDArray) -> NDArray:
        scale = self.scale if force.ndim == 1 else self.scale[:, None]
        with one_thread():
            if force.ndim == 1:
                found = cho_solve_banded((self.band, True), force * scale, check_finite=False)
            else:
                found = self._columns(force * scale, self._blocks)
        return found * scale

    def _columns(self, force: NDArray, blocks: list[tuple[NDArray, NDArray]]) -> NDArray:
        """Many loads at once, block by block: several times as fast as one after the other.

        blocks: of the factor, those of the rows of ``force``. Where they end before the last one, the unknowns
        beyond are held at 0; where they begin after the first, no load may act before.
        """
        u = np.asfortranarray(force)
        starts = [*range(0, len(u), self.width), len(u)]
        parts = [np.asfortranarray(u[a:b]) for a, b in pairwise(starts)]
        for k, (inverse, below) in enumerate(blocks):
            parts[k] = dtrmm(1.0, inverse, parts[k], lower=1, overwrite_b=1)
            if k + 1 < len(blocks):
                parts[k + 1] -= dtrmm(1.0, below, parts[k])[: len(parts[k + 1])]
        for k in range(len(blocks) - 1, -1, -1):
            inverse, below = blocks[k]
            if k + 1 < len(blocks):
                after = np.zeros(parts[k].shape, order="F")
                after[: len(parts[k + 1])] = parts[k + 1]
                parts[k] -= dtrmm(1.0, below, after, trans_a=1, overwrite_b=1)
            parts[k] = dtrmm(1.0, inverse, parts[k], lower=1, trans_a=1, overwrite_b=1)
        return np.concatenate(parts)

    @cached_property
    def _blocks(self) -> list[tuple[NDArray, NDArray]]:
        """The factor in squares as wide as the band: the inverse of each on the diagonal, which multiplies several
        times as fast as one solves with it, and the one below it."""
        w, n, flat = self.width, self.size, self.band.ravel(order="K")

        def square(row: int, col: int, high: int, wide: int) -> NDArray:
            # entry (i, j) of the factor stands at i + j w of the band's memory
            start = row + col * w
            return as_strided(flat[start:], (high, wide), (8, 8 * w), writeable=False)

        found = []
        for at in range(0, n, w):
            side = min(w, n - at)
            inverse, _ = dtrtri(square(at, at, side, side), lower=1)
            below, rest = np.zeros((w, w), order="F"), min(w, n - at - w)
            if rest > 0:
                below[:rest] = np.triu(square(at + w, at, rest, w))
            found.append((inverse, below))
        return found
