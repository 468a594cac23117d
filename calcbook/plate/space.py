"""The unknowns of a plate: four at each node of each piece, and the values they give anywhere."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely
from scipy import sparse
from shapely import MultiPoint, Polygon

from calcbook.plate.hermite import scales, surface, unit_points
from calcbook.plate.lines import fine_spots, steps_along
from calcbook.plate.model import Plate
from calcbook.plate.pieces import Cells, cells_of, pieces_of
from calcbook.plate.sharp import sharp_corners, steps_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

_NUDGE = 1e-4  # in.: a place on a line of the mesh belongs to the element on its inner side


@dataclass
class Space:
    """Mesh and unknowns of a plate: lines xs and ys (in.), the pieces, their elements.

    kinks: lines across x and across y on which a wall stands, in.: the bending has a kink there;
    pieces: of the plate, None to have them found; part: True where the lines cover a part of the plan only.
    """

    plate: Plate
    xs: NDArray
    ys: NDArray
    kinks: tuple[list[float], list[float]] = ([], [])
    pieces: list[Polygon] = field(default_factory=list)
    part: bool = False

    def __post_init__(self) -> None:
        if not self.pieces:
            self.pieces = pieces_of(self.plate)
        self.cells: Cells = cells_of(self.plate, self.pieces, self.xs, self.ys)
        self._number()
        c = self.cells
        self.a, self.b = np.diff(self.xs)[c.i], np.diff(self.ys)[c.j]
        shape = len(self.pieces), len(self.xs) - 1, len(self.ys) - 1
        self.where = np.full(shape, -1)
        self.where[c.piece, c.i, c.j] = np.arange(len(c.i))

    def _number(self) -> None:
        """Nodes in order along the longer way, so that an element's unknowns stand close together."""
        c, nx, ny = self.cells, len(self.xs), len(self.ys)
        self.long_x = long_x = nx >= ny
        outer, inner, n = (c.i, c.j, ny) if long_x else (c.j, c.i, nx)
        many = len(self.pieces)
        # where two pieces meet along a line across the way, one piece's nodes follow the other's
        lower = np.unique(((outer + 1) * n + inner) * many + c.piece)
        lower = np.union1d(lower, ((outer + 1) * n + inner + 1) * many + c.piece)
        keys = []
        for di in (0, 1):
            for dj in (0, 1):
                d_outer, d_inner = (di, dj) if long_x else (dj, di)
                plain = ((outer + d_outer) * n + inner + d_inner) * many + c.piece
                starts = ~np.isin(plain, lower)
                keys.append((((outer + d_outer) * 2 + starts) * n + inner + d_inner) * many + c.piece)
        used, node = np.unique(np.array(keys), return_inverse=True)
        node = node.reshape(4, -1)  # nodes of an element: (0, 0), (0, 1), (1, 0), (1, 1)
        self.nodes, self.size = len(used), 4 * len(used)
        # local order: (value, slope) at both ends along x, times the same along y
        dofs = np.empty((len(c.i), 4, 4), int)
        for p in range(4):
            for q in range(4):
                corner, kind = 2 * (p // 2) + q // 2, p % 2 + 2 * (q % 2)
                dofs[:, p, q] = 4 * node[corner] + kind
        self.dofs = dofs.reshape(-1, 16)
        line, place = np.divmod(used // many, n)
        self.node_x = self.xs[line // 2 if long_x else place]
        self.node_y = self.ys[place if long_x else line // 2]
        self.node_piece = used % many

    def unknowns_between(self, low: float, high: float) -> slice:
        """The unknowns of the nodes from low to high (in.) along the longer way."""
        along = self.node_x if self.long_x else self.node_y
        first, end = np.searchsorted(along, low), np.searchsorted(along, high, "right")
        return slice(4 * int(first), 4 * int(end))

    @cached_property
    def rigid(self) -> NDArray:
        """Going down by 1, and turning about both axes, piece by piece: (3 pieces, unknowns)."""
        found = np.zeros((len(self.pieces), 3, self.nodes, 4))
        for number in range(len(self.pieces)):
            own = self.node_piece == number
            found[number, 0, own, 0] = 1
            found[number, 1, own, 0], found[number, 1, own, 1] = self.node_x[own], 1
            found[number, 2, own, 0], found[number, 2, own, 2] = self.node_y[own], 1
        return found.reshape(-1, self.size)

    @cached_property
    def fine_spots(self) -> NDArray:
        """Where a fine mesh has small elements, as ``lines`` finds it."""
        return fine_spots(self.plate)

    @cached_property
    def steps_along(self) -> list[tuple[Polygon, list[float], list[float]]]:
        """Where thickenings are, as ``lines`` finds it."""
        return steps_along(self.plate)

    @cached_property
    def steps(self) -> Any:
        """Where the thickness changes inside the slab, as lines in inches."""
        return steps_of(self.plate, self.pieces)

    @cached_property
    def sharp(self) -> MultiPoint | None:
        """Corners at which stress has no limit, in inches; None where there are none."""
        return sharp_corners(self.plate, self.pieces)

    # --- places ---
    def piece_at(self, x: NDArray, y: NDArray) -> NDArray:
        """The piece at places x, y (in.), -1 where there is no concrete."""
        found = np.full(np.shape(x), -1)
        for number in self.near:
            left = np.flatnonzero(found < 0)
            found[left[shapely.intersects_xy(self.pieces[number], x[left], y[left])]] = number
        return found

    @cached_property
    def own(self) -> NDArray:
        """Which pieces are of the slab itself, not of one beside."""
        if not self.plate.beside:
            return np.ones(len(self.pieces), bool)
        within = shapely.point_on_surface(np.array(self.pieces, object))
        beside = shapely.union_all([shape for shape, _ in self.plate.parts_beside])
        return ~np.asarray(shapely.intersects(beside, within))

    @cached_property
    def near(self) -> list[int]:
        """The pieces that the mesh covers, or a part of them."""
        around = self.box.buffer(1.0)
        return [n for n, piece in enumerate(self.pieces) if not self.part or piece.intersects(around)]

    @cached_property
    def box(self) -> Polygon:
        """What the lines of the mesh cover, in."""
        return shapely.box(self.xs[0], self.ys[0], self.xs[-1], self.ys[-1])

    def covers(self, x: NDArray, y: NDArray) -> NDArray:
        """True for places x, y (in.) within the lines of the mesh."""
        xs, ys = self.xs, self.ys
        return (x >= xs[0]) & (x <= xs[-1]) & (y >= ys[0]) & (y <= ys[-1])

    def element_at(self, x: NDArray, y: NDArray, piece: NDArray) -> NDArray:
        """The element of a piece at places x, y (in.); the nearest one beside where it has none there."""
        found = np.full(np.shape(x), -1)
        for dx in (_NUDGE, -_NUDGE):
            for dy in (_NUDGE, -_NUDGE):
                i = np.clip(np.searchsorted(self.xs, x + dx) - 1, 0, len(self.xs) - 2)
                j = np.clip(np.searchsorted(self.ys, y + dy) - 1, 0, len(self.ys) - 2)
                found = np.where(found < 0, self.where[piece, i, j], found)
        return found

    def functions(self, x: NDArray, y: NDArray, element: NDArray, dx: int = 0, dy: int = 0) -> NDArray:
        """Values at places x, y (in.) of their element's sixteen functions, derived dx and dy times."""
        c = self.cells
        a, b = self.a[element], self.b[element]
        t, s = (x - self.xs[c.i[element]]) / a, (y - self.ys[c.j[element]]) / b
        return surface(t, s, a, b, dx, dy)

    def value(
        self, u: NDArray, x: NDArray, y: NDArray, element: NDArray, dx: int = 0, dy: int = 0
    ) -> NDArray:
        """Deflection at places x, y (in.), each in its element, or a derivative of it. u: all unknowns."""
        return np.einsum("ij,ij->i", self.functions(x, y, element, dx, dy), u[self.dofs[element]])

    def rows(self, x: NDArray, y: NDArray, element: NDArray) -> sparse.csr_matrix:
        """The matrix that gives the deflection at places x, y (in.), each in its element."""
        values = self.functions(x, y, element)
        start = np.arange(len(x) + 1) * 16
        columns = self.dofs[element].ravel()
        return sparse.csr_matrix((values.ravel(), columns, start), shape=(len(x), self.size))

    # --- the soil's places: sixteen in a whole element, as many as it takes in a cut one ---
    @cached_property
    def whole(self) -> NDArray:
        """Numbers of the whole elements."""
        return np.flatnonzero(self.cells.whole)

    @cached_property
    def of_whole(self) -> tuple[NDArray, NDArray]:
        """The unknowns of the whole elements, and what turns the unit square's functions into theirs."""
        return self.dofs[self.whole], self.scale[self.whole]

    @cached_property
    def unit(self) -> tuple[NDArray, NDArray]:
        """The sixteen functions at the sixteen places of the unit square, and the places' weights."""
        t, s, weight = unit_points()
        one = np.ones(16)
        return surface(t, s, one, one), weight

    @cached_property
    def scale(self) -> NDArray:
        """What turns the unit square's functions into an element's."""
        return scales(self.a, self.b)

    @cached_property
    def cut_rows(self) -> sparse.csr_matrix:
        """Deflection at the places of the cut elements."""
        cut = self.cells.cut
        return self.rows(cut.x, cut.y, cut.element)

    @cached_property
    def weight(self) -> NDArray:
        """Area that each place stands for, in.2: of whole elements one by one, then of the cut ones."""
        area = (self.a * self.b)[self.whole]
        return np.concatenate([np.multiply.outer(area, self.unit[1]).ravel(), self.cells.cut.weight])

    @cached_property
    def thickness(self) -> NDArray:
        """Thickness of the concrete at each place, in."""
        return np.concatenate(
            [np.repeat(self.cells.thickness[self.whole], 16), self.cells.cut_thickness]
        )

    @cached_property
    def places(self) -> tuple[NDArray, NDArray, NDArray]:
        """x, y (in.) and element of each place."""
        t, s, _ = unit_points()
        e, c, cut = self.whole, self.cells, self.cells.cut
        x = self.xs[c.i[e]][:, None] + self.a[e][:, None] * t
        y = self.ys[c.j[e]][:, None] + self.b[e][:, None] * s
        return (
            np.concatenate([x.ravel(), cut.x]),
            np.concatenate([y.ravel(), cut.y]),
            np.concatenate([np.repeat(e, 16), cut.element]),
        )

    def at_places(self, u: NDArray) -> NDArray:
        """Deflection at every place. u: all unknowns."""
        dofs, scale = self.of_whole
        return np.concatenate([((u[dofs] * scale) @ self.unit[0].T).ravel(), self.cut_rows @ u])

    def from_places(self, force: NDArray) -> NDArray:
        """The forces on the unknowns that a force (lbf) at each place makes."""
        dofs, scale = self.of_whole
        local = force[: dofs.size].reshape(-1, 16) @ self.unit[0] * scale
        return self.summed(dofs, local) + self.cut_rows.T @ force[dofs.size :]

    def summed(self, dofs: NDArray, local: NDArray) -> NDArray:
        """Forces on the unknowns. local: on the functions of some elements; dofs: the unknowns of these."""
        return np.bincount(dofs.ravel(), local.ravel(), self.size)

    def from_points(self, x: NDArray, y: NDArray, element: NDArray, force: NDArray) -> NDArray:
        """The same from a force (lbf) at each of some places x, y (in.), each in its element."""
        return self.summed(self.dofs[element], self.functions(x, y, element) * force[:, None])
