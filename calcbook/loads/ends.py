"""The ends of shear walls: what lifts the windward end of each piece and presses on the lee one.

Service level: the shear along a wall is given so; the uplift of the same wind acts with it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from calcbook.loads.closing import LIFT, LIFT_STRENGTH, SERVICE, combination, combinations
from calcbook.loads.path import on_plate, upward
from calcbook.loads.statics import end_compression, hold_down_force, plate_shear

if TYPE_CHECKING:
    from calcbook.loads.path import Factors
    from calcbook.loads.wall import Braced, Wall


@dataclass(frozen=True)
class End:
    """The ends of one piece: the piece, its unit shear (plf), its shear V, net uplift u on it (plf), what a header
    or post adds at its harder end, hold-down force T with that in it, and the compression C (pounds), all at
    service level; T_u: the hold-down force at strength level; beyond, beyond_u: the part of both that does not come
    from the piece's own line, which lifts the edge along its length."""

    piece: Braced
    unit: float
    V: float
    u: float
    added: float
    T: float
    w: float
    C: float
    T_u: float
    beyond: float
    beyond_u: float

    @property
    def at(self) -> float:
        """The harder end; the first where both are alike."""
        return self.piece.start

    @property
    def pushed(self) -> float:
        """The part of the compression that the shear brings to the lee end; the line loads spread evenly."""
        return self.C - self.w * self.piece.length / 2

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
    v = unit_shear(wall)
    w = max(-upward(wall.top, {**r, "W": 0.0}, wall.own) for r in combinations("allowable"))
    found = []
    for piece in wall.shear_pieces:
        V = v * piece.length
        u, added, T, beyond = _pull(wall, piece, V, combination(LIFT))
        *_, T_u, beyond_u = _pull(wall, piece, V / SERVICE, combination(LIFT_STRENGTH))
        C = end_compression.body(V, wall.height, piece.length, w)
        found.append(End(piece, v, V, u, added, T, w, C, T_u, beyond, beyond_u))
    return found


def _pull(wall: Wall, piece: Braced, V: float, row: Factors) -> tuple[float, float, float, float]:
    """(net uplift on the piece, what a header or post adds at its harder end, hold-down force, and of it what does
    not come from the lift of the piece's own line) in a combination."""
    u = upward(wall.top, row, wall.own)
    at_ends = [
        p.load
        for p in on_plate(wall, row).points
        for end in (piece.start, piece.end)
        if abs(p.at - end) < 1e-6
    ]
    added = max([0.0, *at_ends])
    T, beyond = (
        hold_down_force.body(V, wall.height, piece.length, line, piece.anchor_in) + added
        for line in (u, min(u, 0.0))
    )
    return u, added, T, beyond
