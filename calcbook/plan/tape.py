"""The tape: places along a wall in whole sixteenths or millimetres, rules of a layout, and its bolts.

All places are whole steps of the tape (1/16 in. or 1 mm) from the start of the wall, so nothing is
rounded after the rules are applied; they are told from the corner where the tape is held.
"""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from calcbook.basis.showing import feet_inches
from calcbook.basis.units import Q, number_in

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.units import Quantity

TAPE = {"us": (16, 16), "si": (1, 10)}  # steps to an inch or a millimetre, steps of a round figure
STEPS_TO_AN_INCH = {"us": 16.0, "si": 25.4}
_TOUCH = 1e-6


@dataclass(frozen=True)
class Rules:
    """The rules of a layout, all in steps of the tape.

    most, least: distance of neighbouring bolts; end_most, end_least: of the outer bolts from the ends
    of their piece; system: "us" or "si", for the words; comfort: kept from what bolts must miss, where
    that costs no bolt; origin: from where the tape is held to the start of the wall; round_to: steps of a
    round figure.
    """

    most: int
    least: int
    end_most: int
    end_least: int
    system: str = "us"
    comfort: int = 0
    origin: int = 0

    @property
    def round_to(self) -> int:
        """Steps from one round figure to the next: a whole inch, or a whole centimetre."""
        return TAPE[self.system][1]

    def text(self, steps: int) -> str:
        """A distance in words."""
        return tape_text(steps, self.system)

    def at(self, steps: int) -> str:
        """A place along the wall in words, as the tape reads there."""
        return tape_text(self.origin + steps, self.system)


@dataclass(frozen=True)
class Block:
    """A stretch that a bolt's centre must keep out of: from, to (steps, both free), and what stands there."""

    low: int
    high: int
    name: str


@dataclass(frozen=True)
class Bolt:
    """A bolt: its place from the start of the wall, and why it is not where even spacing has it.

    place, even: in steps; moved_for: what stood in the way, or ""; piece: number of the plate piece;
    tied: whether it stands beside a vertical bar.
    """

    place: int
    even: int
    moved_for: str = ""
    piece: int = 0
    tied: bool = False


@dataclass
class Layout:
    """The bolts of one wall and what could not be satisfied.

    bolts: in order; pieces: (start, end) of each piece of plate; blocks: what bolts keep out of;
    problems: one sentence for each piece that cannot be bolted by the rules.
    """

    bolts: list[Bolt]
    pieces: Sequence[tuple[int, int]]
    blocks: Sequence[Block]
    rules: Rules
    problems: list[str] = field(default_factory=list)

    @property
    def places(self) -> list[Quantity]:
        """Running distances from the start of the wall, as quantities."""
        return [from_steps(b.place, self.rules.system) for b in self.bolts]

    @property
    def gaps(self) -> list[int]:
        """Distances between neighbours in the same piece, in steps."""
        pairs = zip(self.bolts, self.bolts[1:], strict=False)
        return [b.place - a.place for a, b in pairs if a.piece == b.piece]

    def __str__(self) -> str:
        words = ", ".join(self.rules.at(b.place) for b in self.bolts)
        return "; ".join([f"{len(self.bolts)} bolts at {words}", *self.problems])


def to_steps(length: Quantity, system: str = "us", up: bool | None = None) -> int:
    """A length as whole steps of the tape: nearest, or rounded up (True) or down (False)."""
    return inch_steps(number_in(length, "in"), system, up)


def inch_steps(inches: float, system: str = "us", up: bool | None = None) -> int:
    """The same of a plain number of inches."""
    exact = inches * STEPS_TO_AN_INCH[system]
    if up is None:
        return round(exact)
    return math.ceil(exact - _TOUCH) if up else math.floor(exact + _TOUCH)


def from_steps(steps: float, system: str = "us") -> Quantity:
    """A length from steps of the tape: sixteenths of an inch ("us") or millimetres ("si")."""
    return Q(steps / TAPE[system][0], "in", system)


@functools.lru_cache(maxsize=4096)
def tape_text(steps: int, system: str = "us") -> str:
    """A place as it is read from the tape: feet, inches and sixteenths, or millimetres."""
    if system == "si":
        return f"{steps:,} mm"
    return feet_inches(from_steps(steps))
