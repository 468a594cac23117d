"""One wall and what it brings, in plain feet and pounds: the model that every load path starts from.

Lines are by length of wall, downward except wind, which is upward at strength level. A wall knows
nothing of bolts or soil; ``path.py`` follows what it brings.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass


@dataclass(frozen=True)
class Opening:
    """An opening with its header, from the wall's start. ``door``: no plate below it."""

    start: float
    end: float
    door: bool = True

    @property
    def width(self) -> float:
        """Width of the rough opening."""
        return self.end - self.start


@dataclass(frozen=True)
class Loads:
    """What a wall or a point brings: D dead, L floor live, S roof (snow or live), W wind upward."""

    D: float = 0.0
    L: float = 0.0
    S: float = 0.0
    W: float = 0.0


@dataclass(frozen=True)
class Point:
    """A post or truss that stands on the wall: its name, place from the wall's start, and loads."""

    name: str
    at: float
    loads: Loads


@dataclass(frozen=True)
class Braced:
    """A piece of shear wall: from, to, what its hold-downs may be asked to hold (None: there are none), and how
    far inside each end its anchor stands (0 where none is named)."""

    start: float
    end: float
    hold_down: float | None = None
    anchor_in: float = 0.0

    @property
    def length(self) -> float:
        """Between its two ends."""
        return self.end - self.start


@dataclass(frozen=True)
class Wall:
    """A wall: name, length, height, openings in order, loads on one foot of its top, its own weight on one
    foot, points, shear along and across on one foot (service level), shear-wall pieces."""

    name: str
    length: float
    height: float = 0.0
    openings: tuple[Opening, ...] = ()
    top: Loads = Loads()
    own: float = 0.0
    points: tuple[Point, ...] = ()
    along: float = 0.0
    across: float = 0.0
    braced: tuple[Braced, ...] = ()

    @functools.cached_property
    def full(self) -> list[tuple[float, float]]:
        """Stretches of full height between the openings, doors and windows alike."""
        return _between(self.length, self.openings)

    @functools.cached_property
    def plated(self) -> list[tuple[float, float]]:
        """Stretches that have a plate: between the doors."""
        return _between(self.length, [o for o in self.openings if o.door])

    @functools.cached_property
    def shear_pieces(self) -> tuple[Braced, ...]:
        """The shear-wall pieces: those named, or else every stretch of full height."""
        return self.braced or tuple(Braced(a, b) for a, b in self.full)


def _between(length: float, openings: list[Opening] | tuple[Opening, ...]) -> list[tuple[float, float]]:
    found, at = [], 0.0
    for o in sorted(openings, key=lambda o: o.start):
        if o.start > at:
            found.append((at, o.start))
        at = max(at, o.end)
    return [*found, (at, length)] if length > at else found
