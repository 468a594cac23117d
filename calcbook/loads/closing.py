"""What comes in against what takes it: the sums of a wall, which close in every combination."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from calcbook.basis.table import table
from calcbook.loads.path import bolt_forces, on_plate, upward

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.loads.path import BoltForce, Factors
    from calcbook.loads.wall import Wall

LIFT = "0.6 D + 0.6 W"  # the combination that lifts most at service level
LIFT_STRENGTH = "0.9 D + 1.0 W"
SERVICE = 0.6  # wind at service level against strength level (ASCE 7-16 2.4.1)


def combinations(kind: str | None = None) -> list[Factors]:
    """Rows of the table of combinations: all, or those of a kind ("strength" or "allowable")."""
    return [row for row in table("combinations") if kind in (None, row["kind"])]


def combination(name: str) -> Factors:
    """One row by its name."""
    return next(row for row in table("combinations") if row["name"] == name)


@dataclass(frozen=True)
class Closing:
    """The sums of one wall in one combination, pounds. Upward: what came in from the wind; down: dead, floor and
    roof loads with the wall's own weight; what bolts hold, what presses on the concrete, and what reaches
    no bolted plate (upward positive)."""

    name: str
    wind: float
    down: float
    bolts: float
    pressed: float
    loose: float

    @property
    def remainder(self) -> float:
        """What came in less what was taken: 0 where the path is closed."""
        return self.wind - self.down - (self.bolts - self.pressed + self.loose)

    @property
    def scale(self) -> float:
        """The size that the remainder is judged by."""
        return max(self.wind, self.down, 1.0)


def close(
    wall: Wall,
    row: Factors,
    pieces: Sequence[tuple[float, float]],
    bolts: Sequence[tuple[int, float]],
) -> tuple[Closing, list[BoltForce]]:
    """Sums and bolt forces of a wall in one combination.

    row: of the table of combinations; pieces, bolts: as for ``bolt_forces``; no bolts: what lifts is loose.
    """
    on = on_plate(wall, row)
    forces, pressed, loose = bolt_forces(on, pieces, bolts)
    wind, down = brought(wall, row)
    taken = sum(f.reaction for f in forces)
    return Closing(row["name"], wind, down, taken, pressed, sum(p.load for p in loose)), forces


def brought(wall: Wall, row: Factors) -> tuple[float, float]:
    """(wind upward, all that comes down) of a wall in one combination, summed without following it."""
    parts = [(wall.top, wall.length), *((p.loads, 1.0) for p in wall.points)]
    wind = sum(row["W"] * loads.W * n for loads, n in parts)
    down = sum(-upward(loads, {**row, "W": 0.0}) * n for loads, n in parts)
    length = sum(b - a for a, b in wall.full) if row["W"] > 0 else wall.length
    return wind, down + row["D"] * wall.own * length
