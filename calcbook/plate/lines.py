"""The lines of the mesh: at every straight side of the plan, close where a load or a corner asks for it.

Between two sides the lines stand so that their distance grows evenly away from what is small.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
import shapely
from shapely import LineString, Polygon

from calcbook.plate.model import Area, Line, Load, Patch, Plate

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from calcbook.plate.model import Points

Bounds: TypeAlias = tuple[float, float, float, float]

FOOT = 12.0  # inches
CLOSEST = 1.0  # in.: sides closer than this share a line, and the element between is cut
TOGETHER = 0.3  # of the reach of a load: the same on a rough mesh
# chosen so that stresses of a slab with pads, openings and posts come within 2 % of a mesh twice as fine
GROWTH = 1.5  # how much longer an element may get for each inch away from what is small
ACROSS = 3  # elements over a print
AROUND = 6  # elements over a round opening
COARSEST = 0.6  # of the reach of a load in the slab
CORNER, STEP = 0.12, 0.3  # of the slab's thickness: elements at its corners, at those of a thickening


@dataclass(frozen=True)
class Need:
    """How fine the mesh must be along one axis: step (in.) from low to high (in.)."""

    low: float
    high: float
    step: float


def mesh_lines(
    plate: Plate, loads: Iterable[Load], finer: int, step: float | None = None, rough: bool = False
) -> tuple[NDArray, NDArray]:
    """The lines across x and across y, in inches.

    loads: whose prints are to be meshed; finer: into how many parts each step is cut; step: the
    widest, in., or None for one that suits the slab; rough: True leaves out what is finer than that.
    """
    loads = list(loads)
    widest = step or plate.reach * COARSEST
    made = []
    for axis in (0, 1):
        marks, needs = _of_loads(plate, loads, axis)
        # a rough mesh keeps the sides of the plain slab, where it bends most, and few of what is thicker
        apart = plate.reach * TOGETHER if rough else CLOSEST
        marks = _added(
            _merged(_sides_of_plan(plate, axis)), [*_steps_of_plan(plate, axis), *marks], apart
        )
        needs = [] if rough else [*needs, *_needs(fine_spots(plate), axis)]
        lines = _spaced(marks, needs, widest)
        parts = [np.linspace(a, b, finer, endpoint=False) for a, b in pairwise(lines)]
        made.append(np.append(np.concatenate(parts), lines[-1]))
    return made[0], made[1]


def lines_about(
    plate: Plate,
    loads: Iterable[Load],
    spots: NDArray,
    steps: Sequence[tuple[Polygon, list[float], list[float]]],
    lines: tuple[NDArray, NDArray],
    at: tuple[float, float],
) -> tuple[NDArray, NDArray]:
    """Lines of a fine mesh for a part of the plan: those given, and more where something small asks for it.

    loads: those that reach into it; spots, steps: of the whole plan, by ``fine_spots`` and
    ``steps_along``; lines: of the mesh around it,
    across x and across y, in.; at: the place that is read, in.
    """
    low, high = (np.array([own[end] for own in lines]) for end in (0, -1))
    near = spots[((spots[:, 2:4] >= low) & (spots[:, :2] <= high)).all(1)]
    around = shapely.box(*(low / FOOT), *(high / FOOT))
    thick = [sides for shape, *sides in steps if shape.intersects(around)]
    made = []
    for axis, own in enumerate(lines):
        marks, needs = _of_loads(plate, loads, axis)
        marks += [mark for sides in thick for mark in sides[axis]]
        needs += [Need(at[axis], at[axis], plate.thickness * STEP), *_needs(near, axis)]
        inside = [m for m in marks if own[0] < m < own[-1]]
        made.append(_spaced(_merged([*own, *inside]), needs, plate.reach * COARSEST))
    return made[0], made[1]


def kinks(loads: Iterable[Load]) -> tuple[list[float], list[float]]:
    """Where walls stand along the mesh: across x and across y, in."""
    walls = [load.line for load in loads if isinstance(load, Line)]
    return _sides(walls, 0), _sides(walls, 1)


def _sides_of_plan(plate: Plate, axis: int) -> list[float]:
    """Where the plain slab ends or is cut, in."""
    marks: list[float] = []
    outermost = [
        s for s in plate.thickenings if not any(o is not s and o.contains(s) for o in plate.thickenings)
    ]
    shapes = [*plate.every, *plate.openings, *outermost]
    for shape in shapes:
        marks += _sides(_rings(shape), axis)
        marks += [shape.bounds[axis] * FOOT, shape.bounds[axis + 2] * FOOT]
    marks += _sides([j.line for j in plate.joints], axis)
    low = min(o.bounds[axis] for o in plate.every) * FOOT
    high = max(o.bounds[axis + 2] for o in plate.every) * FOOT
    return [low, high, *(m for m in marks if low < m < high)]


def _steps_of_plan(plate: Plate, axis: int) -> list[float]:
    """Where a thickening gets thicker still, in."""
    return [mark for region in plate.regions for mark in _sides(_rings(region.shape), axis)]


def _of_loads(plate: Plate, loads: Iterable[Load], axis: int) -> tuple[list[float], list[Need]]:
    """Where lines must stand for loads (in.), and how close to each other."""
    marks: list[float] = []
    needs: list[Need] = []
    for load in loads:
        if isinstance(load, Patch):
            low, high = load.shape.bounds[axis] * FOOT, load.shape.bounds[axis + 2] * FOOT
            needs.append(Need(low, high, max((high - low) / ACROSS, CLOSEST / 2)))
            marks += [low, high]
        elif isinstance(load, Line):
            at = _sides([load.line], axis)
            needs += [Need(x, x, plate.reach / 5) for x in at]
            marks += at
        elif isinstance(load, Area) and load.shape is not None:
            marks += _sides(_rings(load.shape), axis)
    return marks, needs


def reaches(load: Load, about: Bounds) -> bool:
    """Whether a load stands within bounds, in."""
    shape = LineString(load.line) if isinstance(load, Line) else load.shape
    return shape is None or bool(shape.intersects(shapely.box(*(v / FOOT for v in about))))


def fine_spots(plate: Plate) -> NDArray:
    """Where elements must be small whatever stands there: corners, thickenings' too, and round openings.

    Rows of low x, low y, high x, high y and step, in.
    """
    sharp = [(o, CORNER) for o in (*plate.outlines, *plate.openings)]
    found = [
        (*at, *at, plate.thickness * part)
        for shape, part in [*sharp, *((s, STEP) for s in plate.thickenings)]
        for at in _turns(shape)
    ]
    for shape in plate.openings:
        if not len(_turns(shape)):
            bounds = np.array(shape.bounds) * FOOT
            found.append((*bounds, (bounds[2] - bounds[0]) / AROUND))
    return np.array(found).reshape(-1, 5)


def steps_along(plate: Plate) -> list[tuple[Polygon, list[float], list[float]]]:
    """The thickenings, made ready for many questions, and where their sides run across x and across y, in."""
    shapely.prepare(plate.thickenings)
    rings = [(shape, _rings(shape)) for shape in plate.thickenings]
    return [(shape, _sides(own, 0), _sides(own, 1)) for shape, own in rings]


def _needs(spots: NDArray, axis: int) -> list[Need]:
    return [Need(*spot) for spot in sorted({*map(tuple, spots[:, (axis, axis + 2, 4)].tolist())})]


def _rings(shape: Polygon) -> list[Points]:
    return [tuple(shape.exterior.coords), *(tuple(i.coords) for i in shape.interiors)]


def _sides(rings: Iterable[Points], axis: int) -> list[float]:
    """Where sides run along the other axis, in."""
    return [
        p[axis] * FOOT
        for ring in rings
        for p, q in pairwise(ring)
        if abs(p[axis] - q[axis]) < 1e-9 and p != q
    ]


def _turns(shape: Polygon) -> NDArray:
    """Corners, in.; a many-sided round has none."""
    found = [np.zeros((0, 2))]
    for ring in _rings(shape):
        p = np.array(ring[:-1])
        a, b = p - np.roll(p, 1, 0), np.roll(p, -1, 0) - p
        turn = np.abs(np.arctan2(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0], (a * b).sum(1)))
        found.append(p[turn > np.pi / 6] * FOOT)
    return np.concatenate(found)


def _merged(marks: list[float]) -> list[float]:
    """Marks in order, without those that stand too close to the one before; the ends stay."""
    ordered = sorted(marks)
    kept = [ordered[0]]
    for mark in ordered[1:]:
        if mark - kept[-1] > CLOSEST:
            kept.append(mark)
    if len(kept) > 1:
        kept[-1] = ordered[-1]
    else:
        kept.append(ordered[-1])
    return kept


def _added(kept: list[float], marks: list[float], closest: float) -> list[float]:
    """Marks and those of others that stand farther (in.) from all."""
    for mark in marks:
        if min(kept) < mark < max(kept) and min(abs(mark - k) for k in kept) > closest:
            kept = [*kept, mark]
    return sorted(kept)


def _spaced(marks: list[float], needs: list[Need], widest: float) -> NDArray:
    """Lines between the marks, as close as the needs ask."""
    every = np.linspace(marks[:-1], marks[1:], 33, axis=1)
    step = np.full(every.shape, widest)
    for need in needs:
        away = np.maximum(np.maximum(need.low - every, every - need.high), 0)
        step = np.minimum(step, need.step + GROWTH * away)
    shares = np.zeros(every.shape)
    np.cumsum((1 / step[:, 1:] + 1 / step[:, :-1]) / 2 * np.diff(every), axis=1, out=shares[:, 1:])
    lines = [marks[0]]
    for at, share in zip(every, shares, strict=True):
        count = max(1, int(np.ceil(share[-1] - 1e-6)))
        lines += list(np.interp(np.arange(1, count + 1) / count * share[-1], share, at))
        lines[-1] = at[-1]
    return np.array(lines)
