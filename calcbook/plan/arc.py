"""Round corners: what the short sides that stand for an arc lack of its length and of the area along it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray
    from shapely import Polygon

    from calcbook.plan.edge import EdgeRing


@dataclass(frozen=True)
class Arc:
    """A round corner: radius in feet, angle turned in radians; inward: whether the corner points into the slab.

    length: of its short sides, in feet; tangents: sum of the tangents of half the turns between them, without the one
    in the middle; middle: the tangent of half that turn; halves: a side of the plan on each half of it, from 0.
    """

    radius: float
    angle: float
    inward: bool
    length: float
    tangents: float
    middle: float
    halves: tuple[int, int]

    @classmethod
    def of(
        cls, points: Sequence[tuple[float, float]], radius: float, angle: float, inward: bool, halves: tuple[int, int]
    ) -> Arc:  # fmt: skip
        """The Arc that an odd number of points stand for, the first and last where it leaves the sides.

        points, radius: in feet; angle: turned, in radians; inward, halves: as of an Arc.
        """
        steps = np.diff(np.array(points), axis=0)
        ways = np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))
        turns = np.abs(np.diff(ways))
        ends = (angle - float(turns.sum())) / 2  # from a straight side to the first short one
        half = [math.tan(t / 2) for t in (ends, *turns, ends)]
        middle = half[len(half) // 2]
        return cls(
            radius, angle, inward, float(np.hypot(*steps.T).sum()), sum(half) - middle, middle, halves
        )

    def top(self, outline: Polygon) -> tuple[float, float]:
        """The place in the middle of the arc, on the outline of the plan that it is part of."""
        x, y = outline.exterior.coords[(sum(self.halves) + 1) // 2]
        return x, y

    @property
    def excess(self) -> float:
        """How much longer the arc is than its short sides, in feet."""
        return self.radius * self.angle - self.length

    @property
    def turn_excess(self) -> float:
        """What its short sides lack of its part of ``offset.corner_sum``: of half the angle, in the sense of the corner."""
        return (self.angle / 2 - self.tangents - self.middle) * (-1 if self.inward else 1)

    def lacking(self, edge: EdgeRing, z: NDArray) -> NDArray:
        """Area of an edge along the arc at depths z (feet), less what is found along its short sides.

        A band of width w along an arc has its mean length at w / 2 from it (Pappus), so its area is
        angle (r w - w^2 / 2), and with + for an arc about a place outside the slab. An edge as wide as the radius or wider
        ends in the corner of the straight sides, where nothing lacks.
        """
        widths = [np.array([self._ring(edge, k).reach(depth) for depth in z]) for k in self.halves]
        sign = -1 if self.inward else 1
        found = sign * self.middle * np.minimum(*widths) ** 2
        for w in widths:
            true = self.angle / 2 * (self.radius * w - sign * w**2 / 2)
            found += true - (self.length / 2 * w - sign * self.tangents / 2 * w**2)
        used_up = (np.maximum(*widths) >= self.radius) & (not self.inward)
        return np.where(used_up, 0.0, found)

    @staticmethod
    def _ring(edge: EdgeRing, side: int) -> EdgeRing:
        return edge.sides[side] if edge.sides else edge
