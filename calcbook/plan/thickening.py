"""Pads and strips below a slab, where they stand in its plan."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
from shapely import Polygon, box

from calcbook.basis.units import Quantity, number_in
from calcbook.plan.offset import moved_in

if TYPE_CHECKING:
    Length: TypeAlias = Quantity | float


def feet(length: Length) -> float:
    """A length as a plain number of feet."""
    return float(number_in(length, "ft") if isinstance(length, Quantity) else length)


@dataclass(frozen=True)
class Thickening:
    """A pad or strip below the slab.

    name; bottom: shape at its bottom (Polygon in feet); depth: below the slab's underside, in feet;
    slope: of its sides, run per rise; kind: "pad" or "strip"; place: in the job file, as ``pads.0``.
    """

    name: str
    bottom: Polygon
    depth: float
    slope: float = 0.0
    kind: str = "pad"
    place: str = ""

    @classmethod
    def pad(
        cls,
        name: str,
        x: Length,
        y: Length,
        length: Length,
        width: Length,
        depth: Length,
        slope: float = 0.0,
    ) -> Thickening:
        """A pad about the centre (x, y), length along x.

        name: as it is shown; x, y, length, width, depth: quantities or plain feet; slope: of its sides, run
        per rise.
        """
        x, y, a, b = feet(x), feet(y), feet(length) / 2, feet(width) / 2
        return cls(name, box(x - a, y - b, x + a, y + b), feet(depth), float(slope))

    def sections(self, z: np.ndarray) -> np.ndarray:
        """Its shape at depths z (array, feet); empty below its bottom."""
        found = moved_in(self.bottom, -self.slope * np.maximum(self.depth - z, 0.0))
        return np.where(z < self.depth, found, Polygon())
