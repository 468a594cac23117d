"""The top of a job's slab: its heights and thickness from place to place."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from shapely import Point

from calcbook.basis.showing import show_length
from calcbook.basis.units import Q, number_in
from calcbook.job.schema.slope import PARALLEL
from calcbook.job.wall_lines import no_side, side_of, side_points
from calcbook.plan.outline import OutlineError, is_round
from calcbook.plan.slope import Dish, Fall

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from calcbook.basis.units import Quantity
    from calcbook.plan.outline import Plan

_THICKEST = Q(24, "in")  # of a slab in the job file


@dataclass(frozen=True)
class Top:
    """The top of a slab: its Fall or Dish, None where it is level; thickness: the least; parallel: whether the
    underside slopes with it; above_grade: of the low side, or of the floor around a dish."""

    plane: Fall | Dish | None
    thickness: Quantity
    above_grade: Quantity
    parallel: bool
    plan: Plan

    def heights(self, points: Any) -> NDArray:
        """Height of the top at (x, y) points in feet, above the level of ``above_grade``, in feet."""
        points = np.asarray(points, float).reshape(-1, 2)
        return np.zeros(len(points)) if self.plane is None else self.plane.heights(points)

    def thickness_at(self, points: Any) -> NDArray:
        """Thickness at (x, y) points, in feet."""
        t, there = number_in(self.thickness, "ft"), self.heights(points)
        return np.full(len(there), t) if self.even else t + there - self.lowest

    @property
    def even(self) -> bool:
        """True where the slab has one thickness."""
        return self.plane is None or self.parallel

    @property
    def lowest(self) -> float:
        """Height of the lowest place of the top, in feet."""
        return 0.0 if self.plane is None else self.plane.least

    @property
    def highest(self) -> float:
        """Height of the highest place of the top, in feet."""
        return 0.0 if self.plane is None else self.plane.greatest(self.plan.slab)

    @property
    def rise(self) -> Quantity:
        """How much higher the top is on average than at its lowest place."""
        mean = 0.0 if self.plane is None else self.plane.mean(self.plan.slab)
        return Q(mean - self.lowest, "ft")

    @property
    def greatest(self) -> Quantity:
        """The greatest thickness."""
        return self.thickness if self.even else self.thickness + Q(self.highest - self.lowest, "ft")

    @property
    def at_grade(self) -> tuple[Quantity, Quantity]:
        """(thickness, height above the ground) of a level slab with the same volume of soil below it: where the
        height is given, or the mean of a slope that the underside follows."""
        if self.plane is None:
            return self.thickness, self.above_grade
        if self.parallel:
            return self.thickness, self.above_grade + Q(self.plane.mean(self.plan.slab), "ft")
        return self.thickness - Q(self.lowest, "ft"), self.above_grade


def top_of(job: Any) -> Top:
    """The Top of a job. Raises OutlineError with its place.

    job: a Job.
    """
    slope, plan = job.slope, job.plan
    return Top(
        plane_of(job, plan), job.slab.thickness, job.slab.above_grade, slope.underside == PARALLEL, plan
    )


def plane_of(file: Any, plan: Plan) -> Fall | Dish | None:
    """What the top of a slab is, None where it is level. Raises OutlineError with its place.

    file: a Job or JobFile.
    """
    slope = file.slope
    if slope.fall is None:
        return None
    grade = number_in(slope.fall, "1")
    if slope.drain:
        return _dish(file, plan, grade)
    angle = _towards(file) if slope.side is not None else slope.direction.m_as("radian")
    found = Fall.over(plan.outline, grade, angle)
    greatest = file.slab.thickness + Q(found.greatest(plan.outline), "ft")
    if slope.underside != PARALLEL and greatest > _THICKEST:
        thick, most = (show_length(q, file.job.units, small=True) for q in (greatest, _THICKEST))
        raise OutlineError(
            f"the slab would be {thick} thick at its high side, and {most} is the most here; make fall less, or let the "
            f'underside slope with it (underside = "{PARALLEL}")', "slope.fall",
        )  # fmt: skip
    return found


def _towards(file: Any) -> float:
    """Angle of the way out of the slab square to a side."""
    points, side = side_points(file.slab), file.slope.side
    if wrong := no_side(points, side):
        raise OutlineError(wrong, "slope.side")
    x, y = side_of(points, side).inward
    return math.atan2(-y, -x)


def _dish(file: Any, plan: Plan, grade: float) -> Dish:
    slope = file.slope
    names = [o.name for o in plan.openings]
    if slope.drain not in names:
        known = ", ".join(map(repr, names)) or "none"
        raise OutlineError(
            f"drain {slope.drain!r} is not an opening of this slab; its openings: {known}",
            "slope.drain",
        )
    opening = file.openings[names.index(slope.drain)]
    if opening.diameter is None or not is_round(plan.openings[names.index(slope.drain)].shape):
        raise OutlineError(
            f"drain {slope.drain!r} must be a round opening: give its x, y and diameter", "slope.drain"
        )
    x, y, r = (number_in(q, "ft") for q in (opening.x, opening.y, opening.diameter / 2))
    found = Dish(grade, (x, y), number_in(slope.radius, "ft"), r)
    shown = show_length(slope.radius, file.job.units)
    if found.rim <= r:
        raise OutlineError(f"the dish must be wider than its drain; {shown} is not", "slope.radius")
    around = Point(x, y).buffer(1.001 * found.rim)  # a hair wider than its polygon
    others = [o.name for o in plan.openings if o.name != slope.drain and o.shape.intersects(around)]
    if not plan.outline.covers(around) or others:
        what = f"the opening {others[0]!r}" if others else "the edge of the slab"
        raise OutlineError(
            f"a dish of {shown} around {slope.drain!r} reaches {what}; make its radius less",
            "slope.radius",
        )
    return found
