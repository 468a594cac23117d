"""Plan geometry of a slab: outline, openings, thickened edge, pads and strips.

Plan coordinates are plain numbers in feet, x to the right and y up. Shapes that cannot be built
are refused in one sentence that names the points.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
import shapely
from shapely import Polygon

from calcbook.basis.units import Q, Quantity
from calcbook.plan.arc import Arc
from calcbook.plan.digging import Digging
from calcbook.plan.edge import EdgeRing, Edging, Ledge, Raised
from calcbook.plan.problems import shape_problem
from calcbook.plan.thickening import Thickening, feet

if TYPE_CHECKING:
    from calcbook.plan.thickening import Length

_FACETS = 64  # sides of the polygon that stands for a circle, of the same area


class OutlineError(ValueError):
    """A shape that cannot be built. ``place``: where in the job file, as ``pads.0``."""

    def __init__(self, message: str, place: str = "slab") -> None:
        super().__init__(message)
        self.place = place


# --- reading shapes ------------------------------------------------------------------------


def read_outline(
    points: Iterable[tuple[Length, Length]],
    what: str = "the outline",
    place: str = "slab",
    smallest: float = 1.0,
    system: str = "us",
) -> Polygon:
    """A polygon from corner points, checked.

    points: (x, y) pairs in order around it, lengths as quantities or plain feet; the last side
    closes by itself. what, place: how messages name it and its section; smallest: least area in
    ft2; system: units of the messages. Returns a shapely Polygon in feet, counterclockwise.
    Raises OutlineError.
    """
    corners = [(feet(x), feet(y)) for x, y in points]
    problem = shape_problem(corners, smallest, system)
    if problem:
        raise OutlineError(f"{what}: {problem}", place)
    return shapely.orient_polygons(Polygon(corners))


def rectangle(L: Length, W: Length, x: Length = 0.0, y: Length = 0.0) -> Polygon:
    """A rectangle L along x and W along y, its lower left corner at (x, y).

    L, W, x, y: lengths as quantities or plain feet. Returns a Polygon in feet. Raises OutlineError.
    """
    x, y, L, W = (feet(v) for v in (x, y, L, W))
    return read_outline(
        [(x, y), (x + L, y), (x + L, y + W), (x, y + W)], "the rectangle", smallest=1 / 144
    )


def disc(x: Length, y: Length, diameter: Length) -> Polygon:
    """A round shape about (x, y): a polygon of 64 sides with the area of the circle.

    x, y, diameter: lengths as quantities or plain feet. Returns a Polygon in feet.
    """
    x, y, radius = feet(x), feet(y), feet(diameter) / 2
    turn = 2 * math.pi / _FACETS
    reach = radius * math.sqrt(turn / math.sin(turn))
    angles = turn * np.arange(_FACETS)
    return Polygon(np.column_stack([x + reach * np.cos(angles), y + reach * np.sin(angles)]))


def is_round(polygon: Polygon) -> bool:
    """True for a shape as near to a circle as ``disc`` makes it."""
    return 4 * math.pi * polygon.area / polygon.length**2 > 0.99


# --- the plan ------------------------------------------------------------------------------


class Opening(NamedTuple):
    """A hole in the slab: its name and shape (Polygon in feet)."""

    name: str
    shape: Polygon


@dataclass(frozen=True)
class Plan:
    """The plan of a slab. Making one checks it. Raises OutlineError.

    outline: Polygon in feet (from ``read_outline`` or ``rectangle``); openings: (name, Polygon)
    pairs; thickenings: Thickening objects; edge: EdgeRing, or None without a thickened edge; ledges: Ledge
    objects, where the top is lowered; raised: Raised objects, what stands above it;
    arcs: the Arcs of round corners, for which short sides stand in the outline.
    """

    outline: Polygon
    openings: tuple[Opening, ...] = ()
    thickenings: tuple[Thickening, ...] = ()
    edge: EdgeRing | None = None
    ledges: tuple[Ledge, ...] = ()
    raised: tuple[Raised, ...] = ()
    arcs: tuple[Arc, ...] = ()

    def __post_init__(self) -> None:
        object.__setattr__(self, "openings", tuple(Opening(*o) for o in self.openings))
        object.__setattr__(self, "thickenings", tuple(self.thickenings))
        for index, opening in enumerate(self.openings):
            self._check_opening(opening, f"openings.{index}")
        self._check_overlaps()
        for index, thickening in enumerate(self.thickenings):
            self._check_centre(thickening, thickening.place or f"pads.{index}")

    def _check_opening(self, opening: Opening, place: str) -> None:
        if self.outline.contains_properly(opening.shape):
            return
        if not self.outline.intersects(opening.shape):
            problem = "lies outside the slab; check its x and y"
        elif self.outline.covers(opening.shape):
            problem = "touches the edge of the slab; draw it as a notch of the outline"
        else:
            problem = (
                "crosses the edge of the slab; move it inside, or draw it as a notch of the outline"
            )
        raise OutlineError(f"opening {opening.name!r} {problem}", place)

    def _check_overlaps(self) -> None:
        shapes = np.array([o.shape for o in self.openings], dtype=object)
        for k, j in shapely.STRtree(shapes).query(shapes, "intersects").T:
            if k < j:
                names = f"{self.openings[k].name!r} and {self.openings[j].name!r}"
                raise OutlineError(
                    f"openings {names} overlap or touch; make one opening of them", f"openings.{j}"
                )

    def _check_centre(self, thickening: Thickening, place: str) -> None:
        centre = thickening.bottom.centroid
        words = f"{thickening.kind} {thickening.name!r} has its center"
        if not self.outline.covers(centre):
            raise OutlineError(f"{words} off the slab; check its x and y", place)
        for name, shape in self.openings:
            if shape.contains(centre):
                raise OutlineError(f"{words} in the opening {name!r}; move one of them", place)

    # --- quantities ---
    @functools.cached_property
    def slab(self) -> Any:
        """The outline with its openings cut out, as a polygon in feet."""
        return self.outline.difference(self._holes)

    @functools.cached_property
    def _holes(self) -> Any:
        return shapely.union_all([o.shape for o in self.openings])

    @property
    def area(self) -> Quantity:
        """Plan area without the openings, ft2."""
        return Q(self.slab.area, "ft2")

    @property
    def gross_area(self) -> Quantity:
        """Plan area inside the outline, openings included, ft2."""
        return Q(self.outline.area, "ft2")

    @property
    def perimeter(self) -> Quantity:
        """Length of the outline, ft."""
        return Q(self.outline.length + math.fsum(arc.excess for arc in self.arcs), "ft")

    @property
    def opening_perimeter(self) -> Quantity:
        """Length around all openings, ft."""
        return Q(math.fsum(o.shape.length for o in self.openings), "ft")

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """(x0, y0, x1, y1) of the outline in plain feet."""
        return self.outline.bounds

    @functools.cached_property
    def digging(self) -> Digging:
        """What is dug below the slab's underside: thickened edge, pads and strips."""
        return Digging(self.outline, self._holes, self.thickenings, self.edge, self.arcs)

    @property
    def depths(self) -> list[float]:
        """Depths below the slab's underside at which something ends, in feet, smallest first."""
        return self.digging.depths

    @functools.cached_property
    def edging(self) -> Edging:
        """The thickened edge along the outline."""
        return Edging(self.outline, self.edge)

    @functools.cached_property
    def within_edge(self) -> Polygon:
        """The outline without what the thickened edge takes at the slab's underside."""
        return self.outline.difference(self.digging.widest_ring)

    @functools.cached_property
    def lowered(self) -> Quantity:
        """Volume that door sills and ledges take off the top, each place once to its lowest, ft3."""
        found, above = 0.0, 0.0
        for drop in sorted({ledge.drop for ledge in self.ledges}):
            there = shapely.union_all([x.shape for x in self.ledges if x.drop >= drop])
            found += (drop - above) * (there & self.slab).area
            above = drop
        return Q(found, "ft3")

    def dug_area(self, z: Length) -> Quantity:
        """Area dug at a depth z below the slab's underside.

        z: a length as quantity, or plain feet. Returns a quantity in ft2.
        """
        return Q(float(self.digging.areas(np.array([feet(z)]))[0]), "ft2")


def centre(shape: Any) -> tuple[float, float]:
    """(x, y) of a shape's centre, in feet; a place inside it where the centre is not."""
    found = shape.centroid if shape.contains(shape.centroid) else shape.representative_point()
    return found.x, found.y


__all__ = [
    "EdgeRing", "Edging", "Ledge", "Opening", "OutlineError", "Plan", "Raised", "Thickening", "centre", "disc", "is_round", "read_outline",
    "rectangle",
]  # fmt: skip
