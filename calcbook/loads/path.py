"""The load path of a wall by statics: header to jamb, jamb and plate to bolts; every sum closes.

Plain feet and pounds, upward positive. The convention, which the papers state: the plate is a row of
simple beams from bolt to bolt and reaches out beyond its outer bolts, so that a jamb beyond the last
bolt loads it by lever and presses at the bolt before. Each load counts on each bolt by the larger of
this reading and the reading by tributary length; what presses at one place relieves nothing elsewhere.
"""

from __future__ import annotations

import bisect
import itertools
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from calcbook.loads.statics import far_reaction, header_reaction

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.loads.wall import Loads, Opening, Wall

Factors = dict[str, Any]  # a row of tables/combinations.csv: D, L, S, W


@dataclass(frozen=True)
class Jamb:
    """What comes down or up a jamb, or at a post: name, place, load (upward positive)."""

    name: str
    at: float
    load: float


@dataclass(frozen=True)
class OnPlate:
    """What a wall puts on its plate in one combination: a line on every stretch, and points."""

    lines: tuple[tuple[float, float, float], ...]  # (from, to, plf)
    points: tuple[Jamb, ...]

    @property
    def total(self) -> float:
        """All of it, upward positive."""
        return sum((b - a) * w for a, b, w in self.lines) + sum(p.load for p in self.points)


def upward(loads: Loads, row: Factors, own: float = 0.0) -> float:
    """Net load of one foot or one post in a combination, upward positive; own: the wall itself, on that foot."""
    down = row["D"] * (loads.D + own) + row["L"] * loads.L + row["S"] * loads.S
    return row["W"] * loads.W - down


def on_plate(wall: Wall, row: Factors) -> OnPlate:
    """Follow a wall's loads to its plate in one combination (a row of the table of combinations).

    The wall's own weight counts over openings only where it adds to the load, never where it would hold.
    """
    lifts = row["W"] > 0
    line = upward(wall.top, row, wall.own)
    over = upward(wall.top, row, 0.0 if lifts else wall.own)
    points = []
    for o in wall.openings:
        R = header_reaction.body(over, o.width)
        points += [Jamb("jamb", o.start, R), Jamb("jamb", o.end, R)]
    for p in wall.points:
        points += _to_plate(p.name, p.at, upward(p.loads, row), wall.openings)
    return OnPlate(tuple((a, b, line) for a, b in wall.full), tuple(_merged(points)))


def _to_plate(name: str, at: float, load: float, openings: Sequence[Opening]) -> list[Jamb]:
    for o in openings:
        if o.start < at < o.end:
            far = far_reaction.body(load, at - o.start, o.width)
            return [Jamb("jamb", o.start, load - far), Jamb("jamb", o.end, far)]
    return [Jamb(name, at, load)]


def _merged(points: list[Jamb]) -> list[Jamb]:
    """Points at one place as one, in order along the wall."""
    found: list[Jamb] = []
    for p in sorted(points, key=lambda p: p.at):
        if found and abs(found[-1].at - p.at) < 1e-9:
            found[-1] = Jamb(found[-1].name, p.at, found[-1].load + p.load)
        else:
            found.append(p)
    return found


def across_plate(wall: Wall) -> OnPlate:
    """Shear across the wall on its plate: over an opening it goes to the jambs, as on a header."""
    points = [
        Jamb("jamb", at, header_reaction.body(wall.across, o.width))
        for o in wall.openings
        for at in (o.start, o.end)
    ]
    return OnPlate(tuple((a, b, wall.across) for a, b in wall.full), tuple(_merged(points)))


# --- plate to bolts ------------------------------------------------------------------------


@dataclass(frozen=True)
class BoltForce:
    """One bolt: its piece and place, length of plate that is its own, tension that counts, reaction by statics
    of the plate and load by its own length (the sums of both close), and the part of the tension that comes by
    jambs and posts."""

    piece: int
    at: float
    share: float
    tension: float
    reaction: float
    own: float
    by_points: float


def bolt_forces(
    on: OnPlate, pieces: Sequence[tuple[float, float]], bolts: Sequence[tuple[int, float]]
) -> tuple[list[BoltForce], float, list[Jamb]]:
    """Forces of all bolts of a wall from what lifts its plate.

    pieces: (from, to) of each piece of plate; bolts: (number of the piece from 0, place), in order. Returns
    (forces, what presses straight down, loads where no bolted plate is).
    """
    found, loose, pressed = [], [], 0.0
    taken: set[int] = set()
    for number, (start, end) in enumerate(pieces):
        places = [at for piece, at in bolts if piece == number]
        points = [
            (k, p) for k, p in enumerate(on.points)
            if start - 1e-9 <= p.at <= end + 1e-9 and k not in taken
        ]  # fmt: skip
        lines = [(max(a, start), min(b, end), w) for a, b, w in on.lines if a < end and b > start]
        if not places:
            loose += [Jamb("plate", (a + b) / 2, (b - a) * w) for a, b, w in lines]
            continue
        taken |= {k for k, _ in points}
        pressed += sum(-(b - a) * w for a, b, w in lines if w < 0)
        pressed += sum(-p.load for _, p in points if p.load < 0)
        found += _piece(
            number, (start, end), places,
            [x for x in lines if x[2] > 0], [p for _, p in points if p.load > 0],
        )  # fmt: skip
    loose += [p for k, p in enumerate(on.points) if k not in taken]
    return found, pressed, loose


def _piece(
    number: int,
    span: tuple[float, float],
    places: Sequence[float],
    lines: Sequence[tuple[float, float, float]],
    points: Sequence[Jamb],
) -> list[BoltForce]:
    edges = [span[0], *((a + b) / 2 for a, b in itertools.pairwise(places)), span[1]]
    n = len(places)
    tension, reaction, by_points, share = ([0.0] * n for _ in range(4))
    uniform = [0.0] * n
    for a, b, w in lines:
        for k, R in enumerate(_line_reactions(places, a, b, w)):
            uniform[k] += R
            reaction[k] += R
    for k in range(n):
        own = sum(w * max(min(b, edges[k + 1]) - max(a, edges[k]), 0.0) for a, b, w in lines)
        tension[k] = max(uniform[k], own)
        share[k] = own
    for p in points:
        nearest = min(range(n), key=lambda k: abs(places[k] - p.at))
        share[nearest] += p.load
        for k, part in _shares(places, p.at):
            reaction[k] += p.load * part
            counted = p.load * max(part, 1.0 if k == nearest else 0.0, 0.0)
            tension[k] += counted
            by_points[k] += counted
    return [
        BoltForce(
            number, places[k], edges[k + 1] - edges[k], tension[k], reaction[k], share[k], by_points[k]
        )
        for k in range(n)
    ]


def _shares(places: Sequence[float], at: float) -> tuple[tuple[int, float], ...]:
    """(number, share of one load) of the two bolts that take it by statics; beyond the outer bolts by lever."""
    n = len(places)
    if n == 1:
        return ((0, 1.0),)
    k = min(max(bisect.bisect_right(places, at) - 1, 0), n - 2)
    far = (at - places[k]) / (places[k + 1] - places[k])
    return (k, 1.0 - far), (k + 1, far)


def _line_reactions(places: Sequence[float], a: float, b: float, w: float) -> list[float]:
    """Reactions of an even line from a to b: each stretch between bolts acts at its own middle."""
    cuts = sorted({a, b, *(x for x in places if a < x < b)})
    found = [0.0] * len(places)
    for low, high in itertools.pairwise(cuts):
        for k, share in _shares(places, (low + high) / 2):
            found[k] += w * (high - low) * share
    return found
