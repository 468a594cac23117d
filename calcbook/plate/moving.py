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
from calcbook.plate.model import Case, Patch, Plate, PlateError, print_at
from calcbook.plate.pieces import thickness_at
from calcbook.plate.readings import EDGE, JOINT, PLAN, Places
from calcbook.plate.recovery import curvature_rows
from calcbook.plate.result import PlateResult, moments, stresses

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from calcbook.plate.front import Prepared
    from calcbook.plate.space import Space

CORNER = "at a corner"
KINDS = {"inside": PLAN, "joint": JOINT, "edge": EDGE, "corner": CORNER}  # of a job's words
SPACING = 2.0  # ft, between the places that are ranked
_RANKING = 0.4  # of the reach of a load: elements of the mesh that ranks
_THINNED = (
    4  # of the places inside panels, one in so many is enough to rank; the wheels' own are read too
)
_PARTS = (np.arange(4) - 1.5) / 4
_PARTS = (np.arange(4) - 1.5) / 4
# places of each kind and face that are worked out, if they rank so near to the highest
_TRIED, _CONFUSED = 3, 0.8
_PARTS = (np.arange(4) - 1.5) / 4
_TRIED, _CONFUSED = (
    2,
    0.8,
)  # places of each kind and face that are worked out, if so near to the highest rank
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
    c, s = np.cos(np.radians(turned)), np.sin(np.radians(turned))
    found = []
    for n, wheel in enumerate(wheels):
        at = x + wheel.dx * c - wheel.dy * s, y + wheel.dx * s + wheel.dy * c
        patch = print_at(*at, wheel.force, wheel.area, plate.thickness, f"wheel {n + 1}")
        if plate.slab.covers(patch.shape) or (
            plate.slab.intersection(patch.shape).area > 0.5 * patch.shape.area
        ):
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
    for some in by_kind(ranked).values():
        found += dict.fromkeys((max(some, key=lambda r: r.bottom), max(some, key=lambda r: r.top)))
    return found


def by_kind(ranked: Sequence[Ranked]) -> dict[str, list[Ranked]]:
    """Places by their kind, the worst first."""
    ordered = sorted(ranked, key=lambda r: -r.stress)
    return {
        kind: [r for r in ordered if r.where == kind] for kind in dict.fromkeys(r.where for r in ranked)
    }


def standing(
    plate: Plate, wheels: tuple[Wheel, ...], steady: Case, place: Ranked, what: str = "wheel"
) -> Case:
    """The case of a vehicle at a place, with what acts besides. what: it is called."""
    prints = placed(plate, wheels, place.x, place.y, place.turned)
    name = f"{steady.name}, {what} {place.where}"
    return replace(steady, name=name, loads=(*steady.loads, *prints))


def ranked_on(
    ready: Prepared, steady: PlateResult, wheels: tuple[Wheel, ...], spacing: float, kind: str = ""
) -> list[Ranked]:
    """Every place of a vehicle, ranked on a mesh at hand; steady: what acts besides, on that mesh; wheels,
    spacing: as for ``moved_over``; kind: of the places that are tried, if the slab has any; "" for all."""
    space, plate, base = ready.space, ready.plate, steady.solution
    factor = ready.contact.without(space.at_places(base) < 0)
    kept = _thinned(ready.read_at)
    near, curved = ready.read_at.thickness[kept], [rows[kept] for rows in ready.reader.curved]
    resting = [rows @ base for rows in curved]
    half = np.sqrt(wheels[0].area) / 24
    turns = (0.0, 90.0) if len(wheels) > 1 else (0.0,)
    places = _places(ready, half, spacing)
    places = [p for p in places if p[2] == kind] or places
    spots = [(x, y, where, t) for x, y, where in places for t in turns]
    loads = [placed(plate, wheels, x, y, t) for x, y, _, t in spots]
    # where only the first wheel stands on the slab, both ways round are the same
    both = [
        n
        for n, (spot, some) in enumerate(zip(spots, loads, strict=True))
        if len(some) > 1 or not spot[3]
    ]
    spots, loads = [spots[n] for n in both], [loads[n] for n in both]
    found = []
    for start in range(0, len(spots), _BATCH):
        some = slice(start, start + _BATCH)
        wheels_on = _wheels_on(ready, loads[some])
        u = factor.solve(wheels_on.forces(space))
        bent = [rows @ u + old[:, None] for rows, old in zip(curved, resting, strict=True)]
        stress = _greatest(plate, bent, near[:, None])
        under = wheels_on.stress(ready, u + base[:, None])
        found += [
            Ranked(
                x, y, t, where, *(float(max(v[n], w[n])) for v, w in zip(stress, under, strict=True))
            )
            for n, (x, y, where, t) in enumerate(spots[some])
        ]
    return found


def _greatest(plate: Plate, bent: list[NDArray], h: NDArray) -> list[NDArray]:
    """The greatest stress at the bottom and at the top, psi, over the first axis of curvatures."""
    return [face.max(0) for face in stresses(*moments(plate, h, *bent), h)]


@dataclass(frozen=True)
class _Wheels:
    """Wheels at the places of a batch: where each stands (``at``), which place it belongs to, its force and
    the side of its print, in."""

    at: Places
    owner: NDArray
    force: NDArray
    side: NDArray
    count: int

    def forces(self, space: Space) -> NDArray:
        """Forces on the unknowns, a column for each place: each wheel as sixteen points of its print."""
        dx, dy = (v.ravel() * self.side[:, None] for v in np.meshgrid(_PARTS, _PARTS))
        x, y = (self.at.x[:, None] + dx).ravel(), (self.at.y[:, None] + dy).ravel()
        piece = space.piece_at(x, y)
        n = np.repeat(np.arange(len(self.owner)), dx.shape[1])
        on = piece >= 0
        share = (self.force / np.bincount(n[on], minlength=len(self.owner)))[n[on]]
        rows = space.rows(x[on], y[on], space.element_at(x[on], y[on], piece[on]))
        shape = len(share), self.count
        shares = sparse.csr_matrix((share, (np.arange(len(share)), self.owner[n[on]])), shape)
        return np.asarray((rows.T @ shares).todense())

    def stress(self, ready: Prepared, u: NDArray) -> tuple[NDArray, NDArray]:
        """The greatest stress right under the wheels of each place, each with its own column of unknowns."""
        n, at, space = np.arange(len(self.owner)), self.at, ready.space
        curved = curvature_rows(space, at.x, at.y, space.element_at(at.x, at.y, at.piece))
        bent = [(rows @ u)[n, self.owner] for rows in curved]
        found = np.zeros((2, self.count))
        faces = stresses(*moments(ready.plate, at.thickness, *bent), at.thickness)
        for face, values in zip(found, faces, strict=True):
            np.maximum.at(face, self.owner, values)
        return found[0], found[1]


def _wheels_on(ready: Prepared, loads: list[tuple[Patch, ...]]) -> _Wheels:
    owner = np.repeat(np.arange(len(loads)), [len(ps) for ps in loads])
    at = shapely.get_coordinates([p.shape.centroid for ps in loads for p in ps]).reshape(-1, 2) * 12
    force, area = np.array([(p.force, p.shape.area) for ps in loads for p in ps]).reshape(-1, 2).T
    piece = ready.space.piece_at(at[:, 0], at[:, 1])
    on = piece >= 0
    at, piece = at[on], piece[on]
    h = thickness_at(ready.plate, at[:, 0], at[:, 1])
    return _Wheels(
        Places(at[:, 0], at[:, 1], piece, h, piece),
        owner[on],
        force[on],
        12 * np.sqrt(area[on]),
        len(loads),
    )


def _thinned(at: Places) -> NDArray:
    """Which places are read: of those inside panels every few are enough to rank, all others may hold a peak."""
    return np.flatnonzero((at.where != PLAN) | (np.arange(len(at.x)) % _THINNED == 0))


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
