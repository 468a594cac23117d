"""A wheel, or several, moved over the plan for the place where the slab bears it worst.

One factor serves all places: a mesh of even elements ranks them, with the springs that the slab's own
weight and the steady loads press. Then the worst place of each kind (inside, at an edge, at a joint, at
a corner) is worked out on a mesh made for it, with all that lifts off.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
import shapely
from scipy import sparse
from shapely import Polygon

from calcbook.plate.front import prepared
from calcbook.plate.model import Case, Patch, Plate, PlateError, print_at, rigidity
from calcbook.plate.pieces import thickness_at
from calcbook.plate.readings import EDGE, JOINT, PLAN, Places
from calcbook.plate.result import PlateResult

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from calcbook.plate.front import Prepared
    from calcbook.plate.space import Space

CORNER = "at a corner"
SPACING = 2.0  # ft, between the places that are ranked
_RANKING = 0.4  # of the reach of a load: elements of the mesh that ranks
_THINNED = 4  # of the places inside panels, one in so many is enough to rank; the wheels' own are read too
_BATCH = 64


@dataclass(frozen=True)
class Wheel:
    """One wheel of a vehicle: dx, dy from its first wheel, ft; force, lbf; area of its print, in.2."""

    force: float
    area: float
    dx: float = 0.0
    dy: float = 0.0


@dataclass(frozen=True)
class Ranked:
    """A place of the first wheel (x, y in ft), the way the vehicle stands (degrees), where in the plan
    that is, and the greatest stress at the bottom and the top that it brings by the ranking mesh, psi."""

    x: float
    y: float
    turned: float
    where: str
    bottom: float
    top: float

    @property
    def stress(self) -> float:
        """The greater of the two, psi."""
        return max(self.bottom, self.top)


@dataclass(frozen=True)
class Moved:
    """A vehicle moved over the plan: all places ranked, and the worst of each kind worked out."""

    ranked: tuple[Ranked, ...]
    worst: dict[str, tuple[Ranked, PlateResult]]

    @property
    def governing(self) -> tuple[Ranked, PlateResult]:
        """The place of the greatest stress, and the plate with the wheel there."""

        return max(self.worst.values(), key=_stress)


def _stress(one: tuple[Ranked, PlateResult]) -> float:
    found = one[1].worst
    return max(found["stress at the bottom"].value, found["stress at the top"].value)


def placed(
    plate: Plate, wheels: tuple[Wheel, ...], x: float, y: float, turned: float = 0.0
) -> tuple[Patch, ...]:
    """The prints of a vehicle whose first wheel stands at x, y (ft), turned by an angle in degrees.

    Wheels that stand off the slab bear on something else and are left out.
    """
    slab = shapely.union_all(plate.outlines).difference(shapely.union_all(plate.openings))
    c, s = np.cos(np.radians(turned)), np.sin(np.radians(turned))
    found = []
    for n, wheel in enumerate(wheels):
        at = x + wheel.dx * c - wheel.dy * s, y + wheel.dx * s + wheel.dy * c
        patch = print_at(*at, wheel.force, wheel.area, plate.thickness, f"wheel {n + 1}")
        if slab.intersection(patch.shape).area > 0.5 * patch.shape.area:
            found.append(patch)
    return tuple(found)


def moved_over(
    plate: Plate, wheels: tuple[Wheel, ...], steady: Case, spacing: float = SPACING
) -> Moved:
    """The worst places of a vehicle. wheels: the first one leads; steady: what acts besides;
    spacing: between the places that are ranked, ft. Raises PlateError."""
    ranked = ranked_over(plate, wheels, steady, spacing)
    worst: dict[str, tuple[Ranked, PlateResult]] = {}
    for best in worst_places(ranked):
        case = standing(plate, wheels, steady, best)
        found = best, prepared(plate, case.loads).solve(case)
        worst[best.where] = max(worst.get(best.where, found), found, key=_stress)
    return Moved(tuple(ranked), worst)


def ranked_over(
    plate: Plate,
    wheels: tuple[Wheel, ...],
    steady: Case,
    spacing: float = SPACING,
    step: float | None = None,
) -> list[Ranked]:
    """Every place of a vehicle, ranked; step: of the mesh, in.; else as for ``moved_over``. Raises PlateError."""
    if not wheels:
        raise PlateError("vehicle: it has no wheel.")
    ranking = prepared(plate, step=step or plate.reach * _RANKING, rough=True)
    return ranked_on(ranking, ranking.solve(steady), wheels, spacing)


def worst_places(ranked: Sequence[Ranked]) -> list[Ranked]:
    """The worst places of each kind, for the bottom and for the top of the slab."""
    found: list[Ranked] = []
    for kind in dict.fromkeys(r.where for r in ranked):
        some = [r for r in ranked if r.where == kind]
        found += dict.fromkeys((max(some, key=lambda r: r.bottom), max(some, key=lambda r: r.top)))
    return found


def standing(plate: Plate, wheels: tuple[Wheel, ...], steady: Case, place: Ranked) -> Case:
    """The case of a vehicle at a place, with what acts besides."""
    prints = placed(plate, wheels, place.x, place.y, place.turned)
    name = f"{steady.name}, wheel {place.where}"
    return replace(steady, name=name, loads=(*steady.loads, *prints))


def ranked_on(
    ready: Prepared, steady: PlateResult, wheels: tuple[Wheel, ...], spacing: float
) -> list[Ranked]:
    """Every place of a vehicle, ranked on a mesh at hand; steady: what acts besides, on that mesh; wheels,
    spacing: as for ``moved_over``."""
    space, plate, base = ready.space, ready.plate, steady.solution
    factor = ready.contact.without(space.at_places(base) < 0)
    near = _thinned(ready.read_at)
    moments = _moment_rows(ready, near)
    resting = [rows @ base for rows in moments]
    half = np.sqrt(wheels[0].area) / 24
    turns = (0.0, 90.0) if len(wheels) > 1 else (0.0,)
    spots = [(x, y, where, t) for x, y, where in _places(ready, half, spacing) for t in turns]
    loads = [placed(plate, wheels, x, y, t) for x, y, _, t in spots]
    found = []
    for start in range(0, len(spots), _BATCH):
        some = slice(start, start + _BATCH)
        wheels_on = _wheels_on(ready, loads[some])
        u = factor.solve(wheels_on.forces(space))
        m = [rows @ u + old[:, None] for rows, old in zip(moments, resting, strict=True)]
        stress = _greatest(m, near.thickness[:, None])
        under = wheels_on.stress(ready, u + base[:, None])
        found += [
            Ranked(
                x, y, t, where, *(float(max(v[n], w[n])) for v, w in zip(stress, under, strict=True))
            )
            for n, (x, y, where, t) in enumerate(spots[some])
        ]
    return found


def _greatest(m: list[NDArray], thickness: NDArray) -> tuple[NDArray, NDArray]:
    """The greatest stress at the bottom and at the top, psi, over the first axis of moments."""
    middle, reach = (m[0] + m[1]) / 2, np.hypot((m[0] - m[1]) / 2, m[2])
    by = 6 / thickness**2
    return ((reach + middle) * by).max(0), ((reach - middle) * by).max(0)


@dataclass(frozen=True)
class _Wheels:
    """Wheels at the places of a batch: where each stands (``at``), which place it belongs to, its force."""

    at: Places
    owner: NDArray
    force: NDArray
    count: int

    def forces(self, space: Space) -> NDArray:
        """Forces on the unknowns, a column for each place; a print is a point to so coarse a mesh."""
        rows = space.rows(self.at.x, self.at.y, space.element_at(self.at.x, self.at.y, self.at.piece))
        n = len(self.owner)
        shares = sparse.csr_matrix((self.force, (np.arange(n), self.owner)), (n, self.count))
        return np.asarray((rows.T @ shares).todense())

    def stress(self, ready: Prepared, u: NDArray) -> tuple[NDArray, NDArray]:
        """The greatest stress right under the wheels of each place, each with its own column of unknowns."""
        n = np.arange(len(self.owner))
        m = [(rows @ u)[n, self.owner][None, :] for rows in _moment_rows(ready, self.at)]
        found = np.zeros((2, self.count))
        for face, values in zip(found, _greatest(m, self.at.thickness[None, :]), strict=True):
            np.maximum.at(face, self.owner, values)
        return found[0], found[1]


def _wheels_on(ready: Prepared, loads: list[tuple[Patch, ...]]) -> _Wheels:
    owner = np.repeat(np.arange(len(loads)), [len(ps) for ps in loads])
    at = shapely.get_coordinates([p.shape.centroid for ps in loads for p in ps]).reshape(-1, 2) * 12
    force = np.array([p.force for ps in loads for p in ps])
    piece = ready.space.piece_at(at[:, 0], at[:, 1])
    on = piece >= 0
    at, piece = at[on], piece[on]
    h = thickness_at(ready.plate, at[:, 0], at[:, 1])
    return _Wheels(Places(at[:, 0], at[:, 1], piece, h, piece), owner[on], force[on], len(loads))


def _thinned(at: Places) -> Places:
    """Of the places inside panels every few are enough to rank; all others may hold a peak."""
    kept = (at.where != PLAN) | (np.arange(len(at.x)) % _THINNED == 0)
    return Places(*(v[kept] for v in vars(at).values()))


def _moment_rows(ready: Prepared, at: Places) -> list[sparse.csr_matrix]:
    """The matrices that give m_x, m_y and m_xy at places from the unknowns."""
    space, nu = ready.space, ready.plate.nu
    element = space.element_at(at.x, at.y, at.piece)
    bend = -rigidity(at.thickness, ready.plate.E, nu)[:, None]
    xx, yy, xy = (space.functions(at.x, at.y, element, *d) for d in ((2, 0), (0, 2), (1, 1)))
    start, columns = np.arange(len(at.x) + 1) * 16, space.dofs[element].ravel()
    shape = len(at.x), space.size

    def rows(values: NDArray) -> sparse.csr_matrix:
        return sparse.csr_matrix(((bend * values).ravel(), columns, start), shape=shape)

    return [rows(xx + nu * yy), rows(yy + nu * xx), rows((1 - nu) * xy)]


def _places(ready: Prepared, half: float, spacing: float) -> list[tuple[float, float, str]]:
    """Where the first wheel is tried, in ft: its print inside each piece, down to touching the sides."""
    found = []
    pieces = [shapely.transform(p, lambda xy: xy / 12) for p in ready.space.pieces]
    for number, piece in enumerate(pieces):
        others = shapely.union_all([p for n, p in enumerate(pieces) if n != number])
        inner = piece.buffer(-half, join_style="mitre")
        for part in shapely.get_parts(inner):
            if isinstance(part, Polygon) and not part.is_empty:
                found += _in_part(part, others, half, spacing)
    return found


def _in_part(
    part: Polygon, others: Polygon, half: float, spacing: float
) -> list[tuple[float, float, str]]:
    corners = shapely.get_coordinates(part.simplify(half).exterior)[:-1]
    shapes = [(x, y, CORNER) for x, y in corners]
    length = part.boundary.length
    along = part.boundary.segmentize(spacing)
    border = shapely.get_coordinates(along) if length else np.zeros((0, 2))
    for x, y in border:
        if np.hypot(*(corners - (x, y)).T).min() > spacing / 2:
            at_joint = not others.is_empty and others.distance(shapely.Point(x, y)) < 1.5 * half
            shapes.append((x, y, JOINT if at_joint else EDGE))
    x0, y0, x1, y1 = part.bounds
    xs, ys = np.arange(x0 + spacing, x1, spacing), np.arange(y0 + spacing, y1, spacing)
    inside = part.buffer(-spacing / 2)
    shapes += [(x, y, PLAN) for x in xs for y in ys if inside.contains(shapely.Point(x, y))]
    return [(float(x), float(y), where) for x, y, where in shapes]
