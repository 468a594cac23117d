"""A wheel, or several, on a plan: where they stand, and the places at which they are tried.

``ranking`` tells which of these places may be the worst; those are then looked at closer.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from calcbook.plate.model import Case, Patch, Plate, print_at
from calcbook.plate.readings import EDGE, JOINT, PLAN

if TYPE_CHECKING:
    from calcbook.plate.result import PlateResult

CORNER = "at a corner"
WHEEL = "wheel"  # begins the name of a print of a vehicle
KINDS = {"inside": PLAN, "joint": JOINT, "edge": EDGE, "corner": CORNER}  # of a job's words


@dataclass(frozen=True)
class Wheel:
    """One wheel of a vehicle: dx, dy from its first wheel, ft; force, lbf; area of its print, in.2."""

    force: float
    area: float
    dx: float = 0.0
    dy: float = 0.0


@dataclass(frozen=True, eq=False)
class Rest:
    """What acts beside a vehicle, worked out, and how much of the vehicle counts with it."""

    result: PlateResult
    share: float = 1.0


@dataclass(frozen=True)
class Ranked:
    """A place of the first wheel (x, y in ft), the way the vehicle stands (degrees), where in the plan
    that is, and the greatest stress at the bottom and the top that it brings by the ranking mesh, psi; rest: which
    of those that may act beside it, by number, it is ranked with."""

    x: float
    y: float
    turned: float
    where: str
    bottom: float
    top: float
    rest: int = 0

    @property
    def stress(self) -> float:
        """The greater of the two, psi."""
        return max(self.bottom, self.top)


def placed(
    plate: Plate, wheels: tuple[Wheel, ...], x: float, y: float, turned: float = 0.0, what: str = WHEEL
) -> tuple[Patch, ...]:
    """The prints of a vehicle whose first wheel stands at x, y (ft), turned by an angle in degrees. what: it is called.

    Wheels that stand off the slab bear on something else and are left out.
    """
    c, s = np.cos(np.radians(turned)), np.sin(np.radians(turned))
    found = []
    for n, wheel in enumerate(wheels):
        at = x + wheel.dx * c - wheel.dy * s, y + wheel.dx * s + wheel.dy * c
        patch = print_at(*at, wheel.force, wheel.area, plate.thickness, f"{what} {n + 1}")
        if plate.slab.covers(patch.shape) or (
            plate.slab.intersection(patch.shape).area > 0.5 * patch.shape.area
        ):
            found.append(patch)
    return tuple(found)


def is_wheel(print_: Patch) -> bool:
    """Whether a print is one of a vehicle's."""
    return print_.name.startswith(f"{WHEEL} ")


def five_figures(value: float) -> float:
    """A value by which one of several is chosen: among like places rounding must not choose."""
    return float(f"{value:.5g}")


def by_kind(ranked: Sequence[Ranked]) -> dict[str, list[Ranked]]:
    """Places by their kind, the worst first; of like places that whose other face has more too."""
    ordered = sorted(
        ranked, key=lambda r: (-five_figures(r.stress), -five_figures(min(r.bottom, r.top)))
    )
    return {
        kind: [r for r in ordered if r.where == kind] for kind in dict.fromkeys(r.where for r in ranked)
    }


def standing(
    plate: Plate, wheels: tuple[Wheel, ...], rest: Rest, place: Ranked, what: str = WHEEL
) -> Case:
    """The case of a vehicle at a place, with what acts besides. what: it is called."""
    steady, share = rest.result.case, rest.share
    counted = tuple(replace(wheel, force=share * wheel.force) for wheel in wheels)
    prints = placed(plate, counted, place.x, place.y, place.turned, what)
    part = f"{share:g} " if share != 1 else ""
    name = f"{steady.name}, {part}{what} {place.where}"
    return replace(steady, name=name, loads=(*steady.loads, *prints))
