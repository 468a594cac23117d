"""The ends of shear walls: what lifts the windward end of each piece and presses on the lee one.

Service level: the shear along a wall is given so; the uplift of the same wind acts with it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from calcbook.loads.closing import LIFT, combination, combinations
from calcbook.loads.path import on_plate, upward
from calcbook.loads.statics import end_compression, hold_down_force, plate_shear

if TYPE_CHECKING:
    from calcbook.loads.wall import Braced, Wall


@dataclass(frozen=True)
class End:
    """The ends of one piece: the piece, its unit shear (plf), its shear V, net uplift u on it (plf), what a header
    or post adds at its harder end, hold-down force T with that in it, and the compression C (pounds)."""

    piece: Braced
    unit: float
    V: float
    u: float
    added: float
    T: float
    w: float
    C: float

    @property
    def at(self) -> float:
        """The harder end; the first where both are alike."""
        return self.piece.start

    @property
    def held(self) -> bool | None:
        """Whether the hold-down named holds it; True where nothing lifts; None where none is named."""
        if self.T <= 0:
            return True
        return None if self.piece.hold_down is None else self.T <= self.piece.hold_down


def unit_shear(wall: Wall) -> float:
    """Shear by length of the shear-wall pieces: they pass all of the wall's shear down. Pounds per foot."""
    b = sum(p.length for p in wall.shear_pieces)
    return plate_shear.body(wall.along, wall.length, b) if b else 0.0


def shear_ends(wall: Wall) -> list[End]:
    """The ends of every piece of a wall's shear walls; none without shear or height."""
    if not wall.along or not wall.height:
        return []
    row = combination(LIFT)
    v, on = unit_shear(wall), on_plate(wall, row)
    u = upward(wall.top, row, wall.own)
    w = max(-upward(wall.top, {**r, "W": 0.0}, wall.own) for r in combinations("allowable"))
    found = []
    for piece in wall.shear_pieces:
        added = max(
            (p.load for p in on.points for end in (piece.start, piece.end) if abs(p.at - end) < 1e-6),
            default=0.0,
        )
        V = v * piece.length
        T = hold_down_force.body(V, wall.height, piece.length, u) + max(added, 0.0)
        C = end_compression.body(V, wall.height, piece.length, w)
        found.append(End(piece, v, V, u, max(added, 0.0), T, w, C))
    return found
