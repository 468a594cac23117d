"""What is dug below a slab's underside, by depth: shapes, areas, and the stretches over which the area is a quadratic.

Plan coordinates and depths are plain feet.
"""

from __future__ import annotations

import functools
import itertools
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely
from shapely import Polygon

from calcbook.plan.offset import Frame

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from calcbook.plan.arc import Arc
    from calcbook.plan.edge import EdgeRing
    from calcbook.plan.thickening import Thickening

TOLERANCE = 1e-9  # of depth x greatest area, for each stretch of the integral
_DEEPEST = 40  # halvings; far below what floating point can tell apart
_UNDERSIDE = np.zeros(1)


@dataclass(frozen=True)
class Stretches:
    """Depths between which the dug area is a quadratic: tops and bottoms (feet, side by side), and the areas (square
    feet) at the top, halfway down and at the bottom of each, one row for each of the three."""

    tops: NDArray
    bottoms: NDArray
    areas: NDArray

    def between(self, top: float, bottom: float) -> tuple[NDArray, NDArray]:
        """What lies between two depths, top and bottom: heights of the stretches, and their areas as in ``areas``."""
        tops, bottoms = np.maximum(self.tops, top), np.minimum(self.bottoms, bottom)
        inside = bottoms > tops
        tops, bottoms = tops[inside], bottoms[inside]
        at = np.stack([tops, (tops + bottoms) / 2, bottoms])
        share = (at - self.tops[inside]) / (self.bottoms - self.tops)[inside]
        first, middle, last = self.areas[:, inside]
        return bottoms - tops, (
            first * (1 - share) * (1 - 2 * share) + middle * 4 * share * (1 - share) + last * share * (2 * share - 1)
        )  # fmt: skip


@dataclass(frozen=True)
class Digging:
    """What is dug inside an outline: its edge, pads and strips, without the holes; arcs: as of a Plan."""

    outline: Polygon
    holes: Any
    thickenings: tuple[Thickening, ...]
    edge: EdgeRing | None
    arcs: tuple[Arc, ...]

    @property
    def depths(self) -> list[float]:
        """Depths below the slab's underside at which something ends, smallest first."""
        found = {t.depth for t in self.thickenings}
        if self.edge:
            found |= {edge.depth for edge in self.edge.each}
        return sorted(d for d in found if d > 0)

    def shapes(self, z: NDArray) -> NDArray:
        """What is dug at depths z: union of the ring and the pads' and strips' sections, without the holes."""
        found = self._through(z)
        return found if self._holes_undug else shapely.difference(found, self.holes)

    def areas(self, z: NDArray) -> NDArray:
        """Areas of ``shapes`` at depths z, exact along round corners unless something else is dug or open there."""
        found: NDArray = shapely.area(self.shapes(z))
        if self.edge is not None:
            for arc in self.arcs:
                found = found + arc.lacking(self.edge, z)
        return found

    def _through(self, z: NDArray) -> NDArray:
        """The same as ``shapes`` if the slab had no holes."""
        depths, shapes = self._straight
        found = shapes[np.searchsorted(depths, z, side="right")]
        if self.edge is not None:
            found = shapely.union(self._ring(z), found)
        for thickening in self.thickenings:
            if thickening.slope:
                found = shapely.union(found, shapely.intersection(thickening.sections(z), self.outline))
        return found

    @functools.cached_property
    def _straight(self) -> tuple[NDArray, NDArray]:
        """Pads and strips with straight sides, inside the outline: their depths, smallest first, and
        the union of all that reach at least as deep; nothing below the last."""
        straight = [t for t in self.thickenings if not t.slope]
        depths, shapes = sorted({t.depth for t in straight}, reverse=True), [Polygon()]
        for depth in depths:
            own = shapely.union_all([t.bottom for t in straight if t.depth == depth])
            shapes.append(shapely.union(shapes[-1], shapely.intersection(own, self.outline)))
        return np.array(depths[::-1]), np.array(shapes[::-1], dtype=object)

    @functools.cached_property
    def _holes_undug(self) -> bool:
        """True where no hole meets anything dug, which is widest at the slab's underside."""
        return self.holes.is_empty or self._through(_UNDERSIDE)[0].disjoint(self.holes)

    def _ring(self, z: NDArray) -> NDArray:
        return np.full(z.shape, Polygon()) if self.edge is None else self.edge.dug(self.outline, z)

    @functools.cached_property
    def widest_ring(self) -> Any:
        """What the thickened edge takes at the slab's underside."""
        return self._ring(_UNDERSIDE)[0]

    # --- by depth ---
    @functools.cached_property
    def stretches(self) -> Stretches:
        """The whole depth in stretches over which the dug area is a quadratic, or nearly."""
        found = [one for part in self._parts for one in part._own_stretches()]
        if not found:
            return Stretches(np.empty(0), np.empty(0), np.empty((3, 0)))
        tops, bottoms, areas = zip(*found, strict=True)
        return Stretches(np.concatenate(tops), np.concatenate(bottoms), np.concatenate(areas, axis=1))

    @property
    def _upright(self) -> bool:
        """Whether nothing that is dug has a sloping side."""
        edges = self.edge.each if self.edge else ()
        return not any(t.slope for t in self.thickenings) and not any(edge.slope for edge in edges)

    @property
    def _parts(self) -> list[Digging]:
        """What is dug without touching anything else, each with its own depths, and all that is upright together: their
        dug areas add up to the whole. Everything is widest at the slab's underside."""
        if self._upright or not self.thickenings:
            return [self]
        shapes = [t.sections(_UNDERSIDE)[0] for t in self.thickenings] + [self.widest_ring]
        group = list(range(len(shapes)))
        for k, j in shapely.STRtree(np.array(shapes, dtype=object)).query(shapes, "intersects").T:
            group = [group[k] if g == group[j] else g for g in group]
        parts = []
        for g in dict.fromkeys(group):
            own = tuple(t for t, of in zip(self.thickenings, group, strict=False) if of == g)
            parts.append(replace(self, thickenings=own, edge=self.edge if group[-1] == g else None))
        upright = tuple(
            t for part in parts if part._upright and not part.edge for t in part.thickenings
        )
        rest = [part for part in parts if part.edge or not part._upright]
        return rest + [replace(self, thickenings=upright, edge=None)] * bool(upright)

    def _own_stretches(self) -> list[tuple[NDArray, NDArray, NDArray]]:
        """Tops, bottoms and areas, from each depth where something ends to the next."""
        ends = np.array([0.0, *self.depths])
        if self._upright:
            areas = self.areas((ends[1:] + ends[:-1]) / 2)
            return [(ends[:-1], ends[1:], np.stack([areas] * 3))]
        # no np.unique, which loads numpy's masked arrays
        ends = np.array(sorted({*ends.tolist(), *self._crossings(ends[-1]).tolist()}))
        return [found for a, b in itertools.pairwise(ends) for found in self._halved(a, b)]

    def _crossings(self, deepest: float) -> NDArray:
        """Depths at which a sloping side of the edge passes a corner of a pad or strip: no quadratic goes on there."""
        if self.edge is None or not self.thickenings:
            return np.empty(0)
        frame = Frame(self.outline)
        sides = self.edge.sides or (self.edge,) * len(frame.lengths)
        depth, width, slope = np.array([(side.depth, side.width, side.slope) for side in sides]).T
        off = shapely.get_coordinates([t.bottom for t in self.thickenings])[:, None] - frame.corners
        away, along = (np.sum(off * way, axis=2) for way in (frame.inward, frame.along))
        beside = (along > -away) & (along < frame.lengths + away) & (slope > 0)
        found = np.round((depth - (away - width) / np.where(slope > 0, slope, 1.0))[beside], 12)
        return found[(found > 0) & (found < deepest)]

    def _halved(self, top: float, bottom: float) -> list[tuple[NDArray, NDArray, NDArray]]:
        """One stretch without an end of anything, halved wherever its area is no quadratic: told by five places, over
        which the third differences of a quadratic are 0."""
        # a hair inside, as an area jumps where something ends
        inside = np.array([top, bottom]) + np.array([1, -1]) * 1e-10 * (bottom - top)
        places = np.linspace(top, bottom, 5)[:, None]
        areas = self.areas(np.clip(places[:, 0], *inside))[:, None]
        allowed = TOLERANCE * max(areas.max(), 1e-12) * (bottom - top)
        found = []
        for level in range(_DEEPEST):
            step = (bottom - top) / 4 / 2**level
            uneven = step * np.abs(np.diff(areas, 3, axis=0)).max(axis=0) > allowed
            even = ~uneven if level < _DEEPEST - 1 else np.ones_like(uneven)
            for k in (0, 2):
                found.append((places[k, even], places[k + 2, even], areas[k : k + 3, even]))
            if even.all():
                break
            places, areas = (
                np.concatenate([known[:3, uneven], known[2:, uneven]], axis=1)
                for known in (places, areas)
            )
            between = (places[1:] + places[:-1]) / 2
            new = self.areas(np.clip(between.ravel(), *inside)).reshape(between.shape)
            places, areas = (_woven(*pair) for pair in ((places, between), (areas, new)))
        return found


def _woven(known: NDArray, between: NDArray) -> NDArray:
    """Rows of ``known`` with those of ``between`` between them."""
    found = np.empty((len(known) + len(between), known.shape[1]))
    found[::2], found[1::2] = known, between
    return found
