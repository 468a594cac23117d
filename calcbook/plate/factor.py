"""Banded Cholesky factors: written once, used for many loads.

The unknowns are numbered row by row along the longer way of the plan, which keeps them within a band
half as wide as reverse Cuthill-McKee ordering gives on a rectangle of such elements.
"""

from __future__ import annotations

import contextlib
import functools
from typing import TYPE_CHECKING

import numpy as np
from scipy.linalg import cho_solve_banded, cholesky_banded
from threadpoolctl import ThreadpoolController

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from scipy import sparse


@functools.cache
def _threads() -> ThreadpoolController:
    return ThreadpoolController()


def one_thread() -> contextlib.AbstractContextManager[object]:
    """Linear algebra on one thread: threads that wait for each other cost more than they bring here."""
    return _threads().limit(limits=1)


class Factor:
    """The Cholesky factor of a sparse symmetric matrix, its unknowns scaled to a like stiffness."""

    def __init__(self, matrix: sparse.csr_matrix) -> None:
        n = matrix.shape[0]
        self.scale = 1 / np.sqrt(matrix.diagonal())
        entries = matrix.tocoo()
        low = entries.row >= entries.col
        row, col = entries.row[low], entries.col[low]
        below = row - col
        self.width = int(below.max())
        band = np.zeros((self.width + 1, n), order="F")
        band[below, col] = entries.data[low] * self.scale[row] * self.scale[col]
        with one_thread():
            self.band = cholesky_banded(band, overwrite_ab=True, lower=True, check_finite=False)

    def solve(self, force: NDArray) -> NDArray:
        """The unknowns under a force on each: one load, or a column for each load."""
        scale = self.scale if force.ndim == 1 else self.scale[:, None]
        with one_thread():
            found = cho_solve_banded((self.band, True), force * scale, check_finite=False)
        return found * scale
