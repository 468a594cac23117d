"""What a plate does under one case: a record that drawings, checks and words read."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely import LineString, Polygon

from calcbook.plate.forces import free_curvature
from calcbook.plate.kept import once
from calcbook.plate.model import FAINT, STRESSES, Case, Plate, inches, rigidity
from calcbook.plate.pieces import thickness_at
from calcbook.plate.readings import Places
from calcbook.plate.recovery import curvature_rows

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from calcbook.plate.closeup import CloseUp
    from calcbook.plate.space import Space

# what is read of a plate -> the field of its values that holds it
FIELDS = {
    "stress at the bottom": "bottom", "stress at the top": "top", "deflection": "deflection",
    "lift": "deflection", "soil pressure": "pressure",
}  # fmt: skip
_PSF = 144.0
ALIKE = 1e-6  # share: values that come nearer differ by rounding


@dataclass(frozen=True)
class Values:
    """A plate at places: deflection (in., down), moments of each inch of width (lbf in/in, tension at the
    bottom positive), stresses (psi, tension) at the bottom and the top, pressure of the soil (psf)."""

    deflection: NDArray
    m_x: NDArray
    m_y: NDArray
    m_xy: NDArray
    bottom: NDArray
    top: NDArray
    pressure: NDArray

    def joined(self, other: Values) -> Values:
        """These places and others."""
        pairs = zip(vars(self).values(), vars(other).values(), strict=True)
        return Values(*(np.concatenate(pair) for pair in pairs))


@dataclass(frozen=True)
class Reading:
    """One value at one place. x, y: ft; what: the value's name; where: in the plan, in words; value: in
    the unit of its kind (psi, in., psf); error: how far a mesh twice as fine was from it, None if not
    asked."""

    what: str
    value: float
    x: float
    y: float
    where: str
    thickness: float
    error: float | None = None


@dataclass(frozen=True)
class PlateResult:
    """A case worked out.

    load, soil: what comes down and what the ground gives, lbf; unbalanced: what is missing between the
    two and in their moments, as a share of the load; lifted_area: where the slab has left the ground,
    ft2; lifted_weight: concrete over that area, lbf; reserve: how many times the uplift of the case may
    act before the slab leaves the ground or tips (infinite without uplift); worst: readings by name;
    unknowns, rounds: of the solver; told: what was not modeled as drawn, in words; closeups: places that were looked at closer, on meshes of their own.
    """

    plate: Plate
    case: Case
    load: float
    soil: float
    unbalanced: float
    lifted_area: float
    lifted_weight: float
    reserve: float
    worst: dict[str, Reading]
    unknowns: int
    rounds: int
    told: tuple[str, ...]
    space: Space = field(repr=False, compare=False)
    solution: NDArray = field(repr=False, compare=False)
    read_at: Places = field(repr=False, compare=False)
    values: Values = field(repr=False, compare=False)
    closeups: tuple[CloseUp, ...] = field(default=(), repr=False, compare=False)

    def at(self, x: NDArray, y: NDArray) -> Values:
        """The plate at any places; not a number where there is no concrete. x, y: ft."""
        x, y = (np.asarray(v, float).ravel() * 12 for v in (x, y))
        piece = self.space.piece_at(x, y)
        on = piece >= 0
        h = thickness_at(self.plate, x, y)
        at = Places(x[on], y[on], piece[on], h[on], piece[on])
        found = self.read(at, values_at(self.space, self.solution, self.case, at))
        return Values(*(_filled(on, v) for v in vars(found).values()))

    def read(self, at: Places, values: Values) -> Values:
        """Values at places, those that a close-up shows taken from it, the latest first."""
        found = {name: v.copy() for name, v in vars(values).items()}
        for shown in self.closeups:
            near = shown.shows(at.x, at.y)
            if near.any():
                there = Places(*(v[near] for v in vars(at).values()))
                for name, v in vars(values_at(shown.space, shown.unknowns, self.case, there)).items():
                    found[name][near] = v
        return Values(**found)

    def section(
        self, a: tuple[float, float], b: tuple[float, float], n: int = 200
    ) -> tuple[NDArray, Values]:
        """The plate along a line from a to b (ft), at n places: (distance from a in ft, values)."""
        t = np.linspace(0, 1, n)
        x, y = (a[k] + t * (b[k] - a[k]) for k in (0, 1))
        return t * float(np.hypot(b[0] - a[0], b[1] - a[1])), self.at(x, y)

    def soil_under(self, shape: Polygon) -> float:
        """What the ground gives under a part of the plan, lbf. shape: polygon in feet.

        It is summed at the places of the solver: exact where the shape's sides are lines of the mesh, as
        those of pads, edges and strips are.
        """
        x, y, _ = self.space.places
        inside = shapely.intersects_xy(inches(shape), x, y)
        push = self.plate.k * self.space.weight * np.maximum(self.space.at_places(self.solution), 0)
        return float(push[inside].sum())

    def faint(self, name: str) -> bool:
        """Whether a stress is so small beside that of the other face that no one asks how near it is."""
        return self.worst[name].value <= FAINT * max(self.worst[other].value for other in STRESSES)

    def weight_of(self, shape: Polygon) -> float:
        """The concrete's own weight on a part of the plan, as far as the case counts it, lbf. shape: polygon in feet."""
        x, y, _ = self.space.places
        inside = shapely.intersects_xy(inches(shape), x, y)
        volume = float((self.space.weight * self.space.thickness)[inside].sum())
        return volume * self.plate.weight / 1728 * self.case.own_weight

    def shear_passed(self, line: tuple[tuple[float, float], ...]) -> float:
        """The largest drop between both sides of a joint, in. line: its points, ft."""
        points = shapely.line_interpolate_point(
            LineString(line), np.linspace(0.01, 0.99, 99), normalized=True
        )
        x, y = shapely.get_coordinates(points).T
        dx, dy = np.subtract(line[-1], line[0]) / np.hypot(*np.subtract(line[-1], line[0])) * 0.005
        drop = self.at(x - dy, y + dx).deflection - self.at(x + dy, y - dx).deflection
        return float(np.nanmax(np.abs(drop)))


def _filled(on: NDArray, values: NDArray) -> NDArray:
    found = np.full(on.shape, np.nan)
    found[on] = values
    return found


def values_at(space: Space, u: NDArray, case: Case, at: Places) -> Values:
    """A plate at places. u: unknowns; case: what acts."""
    key = tuple(v.tobytes() for v in (at.x, at.y, at.piece, at.thickness))
    return once(space, key, lambda: Reader(space, at)).values(space.plate, u, case)


class Reader:
    """What gives the values at places from any unknowns of a mesh."""

    def __init__(self, space: Space, at: Places) -> None:
        self.at = at
        element = space.element_at(at.x, at.y, at.piece)
        self.rows = space.rows(at.x, at.y, element)
        self.curved = curvature_rows(space, at.x, at.y, element)

    def values(self, plate: Plate, u: NDArray, case: Case) -> Values:
        """The values of a case. u: its unknowns."""
        h, w = self.at.thickness, self.rows @ u
        xx, yy, xy = (rows @ u for rows in self.curved)
        free = free_curvature(h, case)
        m_x, m_y, m_xy = moments(plate, h, xx - free, yy - free, xy)
        bottom, top = stresses(m_x, m_y, m_xy, h)
        return Values(w, m_x, m_y, m_xy, bottom, top, plate.k * np.maximum(w, 0) * _PSF)


def moments(
    plate: Plate, h: NDArray, xx: NDArray, yy: NDArray, xy: NDArray
) -> tuple[NDArray, NDArray, NDArray]:
    """Moments of each inch of width, lbf in/in. h: thickness, in.; xx, yy, xy: curvatures, 1/in."""
    bend, nu = rigidity(h, plate.E, plate.nu), plate.nu
    return -bend * (xx + nu * yy), -bend * (yy + nu * xx), -bend * (1 - nu) * xy


def stresses(m_x: NDArray, m_y: NDArray, m_xy: NDArray, h: NDArray) -> tuple[NDArray, NDArray]:
    """The greatest tension at the bottom and at the top, psi, whichever way it runs. m_x, m_y, m_xy: moments,
    lbf in/in; h: thickness, in."""
    middle, half = (m_x + m_y) / 2, (m_x - m_y) / 2
    reach = np.sqrt(half * half + m_xy * m_xy)  # several times as fast as hypot
    modulus = h**2 / 6
    return np.maximum(middle + reach, 0) / modulus, np.maximum(reach - middle, 0) / modulus


def greatest_at(values: NDArray) -> int:
    """Number of the greatest of some values; the first of those that only rounding tells apart, as like places are."""
    top = float(values.max())
    return int(np.argmax(values >= top - ALIKE * abs(top)))


def worst_of(at: Places, values: Values) -> dict[str, Reading]:
    """The greatest of each kind, and where it is."""
    asked = {
        "stress at the bottom": values.bottom,
        "stress at the top": values.top,
        "deflection": values.deflection,
        "lift": -values.deflection,
        "soil pressure": values.pressure,
    }
    found = {}
    for name, field_ in asked.items():
        n = greatest_at(field_)
        found[name] = reading(name, float(field_[n]), at, n)
    return found


def reading(name: str, value: float, at: Places, n: int, error: float | None = None) -> Reading:
    """The reading at the n-th place. name: what it is; value: nothing below 0; error: as a share."""
    x, y = float(at.x[n]) / 12, float(at.y[n]) / 12
    return Reading(name, max(value, 0.0), x, y, str(at.where[n]), float(at.thickness[n]), error)
