"""The top of a slab that is not level: a fall in one direction, or a dish about a drain.

Heights are plain feet above the level at which the job file gives the slab's height: the low side of a
fall, the floor around a dish.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from shapely.geometry import Polygon


@dataclass(frozen=True)
class Fall:
    """A plane: how much it falls for each foot of run, the way it falls (unit vector), and how far that way its
    lowest corner lies."""

    grade: float
    way: tuple[float, float]
    foot: float

    @classmethod
    def over(cls, outline: Polygon, grade: float, angle: float) -> Fall:
        """The Fall over an outline; grade: fall over run; angle: of the way down, in radians from x towards y."""
        way = (math.cos(angle), math.sin(angle))
        return cls(grade, way, float(np.max(shapely.get_coordinates(outline) @ way)))

    def heights(self, points: NDArray) -> NDArray:
        """Height at (x, y) points, an array of pairs."""
        return self.grade * (self.foot - np.asarray(points, float) @ self.way)

    def mean(self, shape: Any) -> float:
        """Mean height over a shape: that of its centroid, as the top is a plane."""
        return float(self.heights(np.array([[shape.centroid.x, shape.centroid.y]]))[0])

    def greatest(self, shape: Any) -> float:
        """Greatest height over a shape."""
        return float(np.max(self.heights(shapely.get_coordinates(shape))))

    def way_down(self, outline: Polygon) -> tuple[NDArray, NDArray]:
        """Two places, the second one lower, for an arrow: from the middle of an outline."""
        middle = np.array([outline.centroid.x, outline.centroid.y])
        return middle, middle + 1000.0 * np.array(self.way)

    @property
    def least(self) -> float:
        """Height of the lowest place."""
        return 0.0


@dataclass(frozen=True)
class Dish:
    """A cone that falls to a round drain: grade as for a Fall, its center, and its radii at the rim and at the
    drain."""

    grade: float
    center: tuple[float, float]
    rim: float
    drain: float

    def heights(self, points: NDArray) -> NDArray:
        """Height at (x, y) points, an array of pairs; below 0 inside the dish."""
        away = np.hypot(*(np.asarray(points, float) - self.center).T)
        return -self.grade * np.maximum(self.rim - np.maximum(away, self.drain), 0.0)

    def mean(self, shape: Any) -> float:
        """Mean height over a shape that holds the whole dish but the drain."""
        return -self.volume / shape.area

    def greatest(self, shape: Any) -> float:
        """Greatest height over a shape: that of the floor around the dish."""
        return 0.0

    def way_down(self, outline: Polygon) -> tuple[NDArray, NDArray]:
        """Two places, the second one lower, for an arrow: from below the rim to the drain."""
        down = np.array([0.0, -1.0])
        return self.center + self.rim * down, self.center + self.drain * down

    @property
    def least(self) -> float:
        """Height at the drain."""
        return -self.grade * (self.rim - self.drain)

    @property
    def volume(self) -> float:
        """What it takes off a level top, from the drain to its rim, in cubic feet."""
        R, r = self.rim, self.drain
        return self.grade * math.pi * (R**3 / 3 - R * r**2 + 2 * r**3 / 3)
