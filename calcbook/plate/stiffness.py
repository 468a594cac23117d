"""The stiffness of a plate on its springs, as one sparse matrix."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy import sparse

from calcbook.plate.hermite import energies
from calcbook.plate.model import rigidity

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from calcbook.plate.space import Space

_OUTSIDE = (
    1e-6  # share of its stiffness that an element keeps outside the slab, so that no node is loose
)


def stiffness(space: Space, joints: sparse.csr_matrix) -> sparse.csr_matrix:
    """Bending, all soil pressed, and the joints' springs."""
    local = element_matrices(space)
    rows = np.repeat(space.dofs, 16, axis=1).astype(np.int32)
    columns = np.tile(space.dofs, (1, 16)).astype(np.int32)
    entries = local.ravel(), (rows.ravel(), columns.ravel())
    made = sparse.coo_matrix(entries, shape=(space.size, space.size)).tocsr()
    return made + joints if joints.nnz else made


def element_matrices(space: Space) -> NDArray:
    """Bending and soil of every element: (elements, 16, 16)."""
    plate, cells = space.plate, space.cells
    h = np.where(cells.whole, cells.thickness, plate.thickness)
    rigid = rigidity(h, plate.E, plate.nu) * np.where(cells.whole, 1.0, _OUTSIDE)
    local = energies(space.a, space.b, plate.nu, rigid, plate.k * cells.whole)
    _add_cut(space, local)
    return local


def _add_cut(space: Space, local: NDArray) -> None:
    """The inside of the cut elements, place by place."""
    plate, cut = space.plate, space.cells.cut
    if not len(cut.x):
        return
    at = cut.x, cut.y, cut.element
    w, xx, yy, xy = (space.functions(*at, *d) for d in ((0, 0), (2, 0), (0, 2), (1, 1)))
    bend = rigidity(space.cells.cut_thickness, plate.E, plate.nu) * cut.weight
    one = np.stack([w, xx, yy, xy], axis=1)
    by = np.stack([plate.k * cut.weight, bend, bend, 2 * (1 - plate.nu) * bend], axis=1)
    other = np.stack([w, xx + plate.nu * yy, yy + plate.nu * xx, xy], axis=1) * by[:, :, None]
    # the places of an element stand together, so their rows times columns are summed run by run
    starts = np.flatnonzero(np.diff(cut.element, prepend=-1))
    ends = np.append(starts[1:], len(cut.element))
    for a, b in zip(starts, ends, strict=True):
        local[cut.element[a]] += one[a:b].reshape(-1, 16).T @ other[a:b].reshape(-1, 16)
