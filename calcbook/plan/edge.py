"""What runs along the sides of a slab: its thickened edge, alike all round or not, and lowered stretches."""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely
from shapely import Polygon

from calcbook.plan.offset import Frame, band_shapes, moved_in, side_bands, united

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray


@dataclass(frozen=True)
class Ledge:
    """A stretch along a side where the top of the concrete is lowered: a door sill or a brick ledge.

    name; side: of the outline, from 1 as in the job file; shape: in plan (Polygon in feet); drop: below the
    slab's top, width: in from the outline, both in feet.
    """

    name: str
    side: int
    shape: Polygon
    drop: float
    width: float


@dataclass(frozen=True)
class Raised:
    """What stands above a slab along a side, or before it: a curb, a stem wall or steps.

    name; kind; side: of the outline, from 1; shape: in plan (Polygon in feet); height: above the slab, of steps each;
    width: of steps each tread; length; count: of steps. All in feet.
    """

    name: str
    kind: str
    side: int
    shape: Polygon
    height: float
    width: float
    length: float
    count: int = 1


@dataclass(frozen=True)
class EdgeRing:
    """The thickened edge along the outline: all in plain feet.

    depth: below the slab's underside; width: at its bottom; slope: of its inner side, run per rise;
    sides: where they differ, the edge of each side in the order of the outline's sides, depth 0 for none.
    """

    depth: float
    width: float
    slope: float = 1.0
    sides: tuple[EdgeRing, ...] = ()

    @property
    def each(self) -> tuple[EdgeRing, ...]:
        """The different edges that there are: this one, or those of the sides."""
        return tuple(dict.fromkeys(self.sides)) or (self,)

    def reach(self, z: float) -> float:
        """How far in from its side it is dug at a depth z; 0 below its bottom."""
        return self.width + self.slope * (self.depth - z) if z < self.depth else 0.0

    def dug(self, outline: Polygon, z: NDArray) -> NDArray:
        """What is dug for it inside an outline at depths z (array, feet)."""
        if not self.sides:
            inner = moved_in(outline, self.width + self.slope * np.maximum(self.depth - z, 0.0))
            return np.where(z < self.depth, shapely.difference(outline, inner), Polygon())
        reach = np.array([[side.reach(depth) for side in self.sides] for depth in z])
        frame = Frame(outline)
        return np.array([_along(outline, frame, row) for row in reach], dtype=object)

    def bottom(self, outline: Polygon) -> Any:
        """Its bottom, with the bottoms of all sides; empty where it has no width."""
        if not self.sides:
            return edge_bottom(outline, self.width) if self.width else Polygon()
        return _along(outline, Frame(outline), self.bottoms)

    def kinds(
        self, outline: Polygon, levels: Sequence[tuple[float, float]]
    ) -> list[tuple[EdgeRing, list[tuple[float, Any]]]]:
        """Each different edge in plan, level by level.

        levels: pairs of a share of the depth, at which it is asked how far the edge reaches, and a number that is
        given back beside the shape. An edge with an upright side has the first level only.
        """
        found, frame = [], Frame(outline)
        for kind in self.each:
            parts = []
            for z, given in levels if kind.slope else levels[:1]:
                width = kind.width + kind.slope * kind.depth * (1 - z)
                widths = np.array([width if side == kind else 0.0 for side in self.sides])
                whole = _along(outline, frame, widths) if self.sides else edge_bottom(outline, width)
                parts.append((given, whole))
            if kind.depth:
                found.append((kind, [(given, shape) for given, shape in parts if not shape.is_empty]))
        return found

    @property
    def bottoms(self) -> NDArray:
        """Width of the bottom of each side, 0 for none."""
        return np.array([side.width if side.depth else 0.0 for side in self.sides])


@dataclass(frozen=True)
class Edging:
    """The thickened edge along an outline, None where there is none; what is asked of it again is worked out once."""

    outline: Polygon
    edge: EdgeRing | None = None

    @functools.cached_property
    def rim(self) -> Polygon | None:
        """Its bottom, in feet; None without one."""
        found = self.edge.bottom(self.outline) if self.edge else Polygon()
        return None if found.is_empty else found

    @functools.cached_property
    def middle(self) -> Polygon:
        """The outline without its bottom."""
        return self.outline if self.rim is None else self.outline.difference(self.rim)

    @functools.cached_property
    def _bands(self) -> tuple[NDArray, NDArray]:
        """The bottom along each side that has one, and its width."""
        assert self.edge is not None
        widths = self.edge.bottoms
        bands = np.array(side_bands(Frame(self.outline), widths), dtype=object)
        return bands[widths > 0], widths[widths > 0]

    def length_on(self, shape: Any) -> float:
        """How much length of the edge a shape covers: each side by the width of its bottom."""
        if self.edge is None:
            return 0.0
        if not self.edge.sides:
            return 0.0 if self.rim is None else (shape & self.rim).area / self.edge.width
        bands, widths = self._bands
        there = shapely.area(shapely.intersection(bands, shape & self.outline))
        return math.fsum(there / widths)


def _along(outline: Polygon, frame: Frame, reach: NDArray) -> Any:
    """What the sides take of an outline, each as far in as it reaches."""
    return united(band_shapes(frame, reach)) & outline


def edge_bottom(outline: Polygon, width: float) -> Polygon:
    """The bottom of a thickened edge as wide as width (feet), a Polygon in feet."""
    return outline.difference(moved_in(outline, width)[0])
