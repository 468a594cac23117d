"""Every place of a wheel, ranked by the stress that it brings there.

One factor serves all places and all that the slab carries besides: the mesh of all cases, with the springs that
the first of these presses. A wheel bends the slab about itself alone, so the places of a batch are solved and read within some reaches of them,
the slab beyond held as it lies.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely
from scipy import sparse
from shapely import Polygon

from calcbook.plate.moving import CORNER, Ranked, placed
from calcbook.plate.pieces import thickness_at
from calcbook.plate.readings import EDGE, JOINT, PLAN, Places
from calcbook.plate.recovery import curvature_rows
from calcbook.plate.result import moments, stresses

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    from calcbook.plate.front import Prepared
    from calcbook.plate.model import Patch
    from calcbook.plate.moving import Rest, Wheel
    from calcbook.plate.space import Space

Spot = tuple[float, float, str, float]  # x, y in ft, kind of place, degrees turned
_THINNED = (
    4  # of the places inside panels, one in so many is enough to rank; the wheels' own are read too
)
_PARTS = (np.arange(4) - 1.5) / 4
_BATCH = 32
# of the reach of a load: so far beyond the wheels stresses are read, and the slab is held
_READ, _HELD = 3.0, 4.0
_BLIND = 0.5  # of the reach of a load: so near to a sharp corner nothing is read


def ranked_on(
    ready: Prepared, rests: Sequence[Rest], wheels: tuple[Wheel, ...], spacing: float, kind: str = "",
    whole: bool = False,
) -> list[Ranked]:  # fmt: skip
    """Every place of a vehicle, ranked on a mesh at hand; rests: what may act besides, each worked out on that mesh,
    and each place is ranked with every one of them; wheels: the first one leads; spacing: between the places, ft; kind: of the places that are tried, if the slab has any; ""
    for all; whole: True where all must stand on the slab, as the legs of a rack do."""
    slab = _Slab(ready, rests)
    spots = _spots(ready, wheels, spacing, kind, (0.0, 90.0, 180.0, 270.0) if whole else (0.0, 90.0))
    loads = [placed(ready.plate, wheels, x, y, turned) for x, y, _, turned in spots]
    # where only the first wheel stands on the slab, both ways round are the same
    told = [(s, some) for s, some in zip(spots, loads, strict=True) if len(some) > 1 or not s[3]]
    if whole:
        told = [(s, some) for s, some in told if len(some) == len(wheels)]
    axis = 0 if ready.space.long_x else 1
    told.sort(key=lambda pair: (pair[0][3], pair[0][axis]))
    found: list[Ranked] = []
    for start in range(0, len(told), _BATCH):
        found += slab.ranked(told[start : start + _BATCH])
    return found


def _spots(
    ready: Prepared, wheels: Sequence[Wheel], spacing: float, kind: str, turns: tuple[float, ...]
) -> list[Spot]:
    half = np.sqrt(wheels[0].area) / 24
    places = _places(ready, half, spacing)
    places = [p for p in places if p[2] == kind] or places
    turns = turns if len(wheels) > 1 else (0.0,)
    return [(x, y, where, turned) for x, y, where in places for turned in turns]


class _Slab:
    """A slab at rest, ready for wheels: the factor without springs that are let go, and what is read."""

    def __init__(self, ready: Prepared, rests: Sequence[Rest]) -> None:
        space, at = ready.space, ready.read_at
        self.ready, self.bases = ready, [rest.result.solution for rest in rests]
        self.shares = [rest.share for rest in rests]
        self.factor = ready.contact.without(space.at_places(self.bases[0]) < 0)
        few = (at.where != PLAN) | (np.arange(len(at.x)) % _THINNED == 0)
        kept = np.flatnonzero(few & _clear(space, at))
        self.along = (at.x if space.long_x else at.y)[kept]
        order = np.argsort(self.along, kind="stable")
        kept, self.along = kept[order], self.along[order]
        self.thickness = at.thickness[kept]
        self.curved = [rows[kept] for rows in ready.reader.curved]
        for rows in self.curved:
            rows.sum_duplicates()  # they are used for many places
        self.resting = [self._moments(self.curved, self.thickness, base) for base in self.bases]

    def _moments(
        self, curved: Iterable[sparse.csr_matrix], h: NDArray, u: NDArray
    ) -> Sequence[NDArray]:
        """Moments from unknowns. curved: what gives the curvatures; h: thickness there, in."""
        return moments(self.ready.plate, h, *(rows @ u for rows in curved))

    def ranked(self, told: Sequence[tuple[Spot, tuple[Patch, ...]]]) -> Iterable[Ranked]:
        """Some places, with the loads at each, ranked with all that may act besides."""
        ready = self.ready
        wheels = _wheels_on(ready, [loads for _, loads in told])
        along = wheels.at.x if ready.space.long_x else wheels.at.y
        low, high = float(along.min()), float(along.max())
        far = _HELD * ready.plate.reach
        u = self.factor.near(
            wheels.forces(ready.space), ready.space.unknowns_between(low - far, high + far)
        )
        far = _READ * ready.plate.reach
        read = slice(*np.searchsorted(self.along, (low - far, high + far)))
        h = self.thickness[read, None]
        alone = self._moments((rows[read] for rows in self.curved), h, u)
        under = wheels.curved(ready.space)
        alone_under = wheels.own(under, u)
        found = []
        for number, (share, base, resting) in enumerate(
            zip(self.shares, self.bases, self.resting, strict=True)
        ):
            m_x, m_y, m_xy = (share * a + r[read, None] for a, r in zip(alone, resting, strict=True))
            stress = [face.max(0) for face in stresses(m_x, m_y, m_xy, h)]
            bent = [share * new + rows @ base for new, rows in zip(alone_under, under, strict=True)]
            bottom, top = map(np.maximum, stress, wheels.greatest(ready, bent))
            found += [
                Ranked(x, y, turned, where, float(bottom[n]), float(top[n]), number)
                for n, ((x, y, where, turned), _) in enumerate(told)
            ]
        return found


def _clear(space: Space, at: Places) -> NDArray:
    """True for places not so near to a sharp corner that this mesh reads nothing true there."""
    if space.sharp is None:
        return np.ones(len(at.x), bool)
    far = _BLIND * space.plate.reach
    return ~np.asarray(shapely.dwithin(space.sharp, shapely.points(at.x, at.y), far))


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

    def curved(self, space: Space) -> tuple[sparse.csr_matrix, ...]:
        """What gives the curvatures right under each wheel."""
        at = self.at
        return curvature_rows(space, at.x, at.y, space.element_at(at.x, at.y, at.piece))

    def own(self, curved: Sequence[sparse.csr_matrix], u: NDArray) -> list[NDArray]:
        """The curvatures under each wheel that its place's column of unknowns brings."""
        n = np.arange(len(self.owner))
        return [(rows @ u)[n, self.owner] for rows in curved]

    def greatest(self, ready: Prepared, bent: list[NDArray]) -> NDArray:
        """The greatest stress at the bottom and at the top right under the wheels of each place. bent: curvatures."""
        found, at = np.zeros((2, self.count)), self.at
        faces = stresses(*moments(ready.plate, at.thickness, *bent), at.thickness)
        for face, values in zip(found, faces, strict=True):
            np.maximum.at(face, self.owner, values * ready.space.own[at.piece])
        return found


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


def _places(ready: Prepared, half: float, spacing: float) -> list[tuple[float, float, str]]:
    """Where the first wheel is tried, in ft: its print inside each piece, down to touching the sides."""
    found = []
    pieces = [shapely.transform(p, lambda xy: xy / 12) for p in ready.space.pieces]
    for number, piece in enumerate(pieces):
        if not ready.space.own[number]:
            continue
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
