"""The walls of a job as the model has them, and what of their loads is not known."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import TYPE_CHECKING

from calcbook.basis.units import Q, number_in
from calcbook.job.wall_lines import opening_spans, wall_length
from calcbook.loads.closing import LIFT, LIFT_STRENGTH, SERVICE, combination, combinations
from calcbook.loads.ends import shear_ends
from calcbook.loads.path import on_plate, upward
from calcbook.loads.statics import spread_reaction, wall_weight, wind_behind
from calcbook.loads.wall import Braced, Loads, Opening, Point, Wall
from calcbook.plan.tape import from_steps, to_steps

if TYPE_CHECKING:
    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job
    from calcbook.job.schema import walls as schema
    from calcbook.loads.ends import End

END = "end of its shear wall"
STUDS = Q(3, "in")  # along the wall, of the studs at an opening, below a post or at the end of a piece


@dataclass(frozen=True)
class Brought:
    """A wall of the job (by its place among the walls) and its model; what is known of its loads.

    measured: whether its length is known; without it the model is one foot of wall; the others: whether that load
    is given.
    """

    index: int
    model: Wall
    measured: bool
    dead_known: bool
    uplift_known: bool
    shear_known: bool
    across_known: bool

    @property
    def name(self) -> str:
        """Name of the wall."""
        return self.model.name

    @property
    def lift(self) -> float:
        """Net uplift of its line by what counts most, at service level: plf; below zero it stays down."""
        return _net(self.model.top, self.model.own)

    @functools.cached_property
    def ends(self) -> list[End]:
        """The ends of every piece of its shear walls."""
        return shear_ends(self.model)

    @functools.cached_property
    def pressing(self) -> list[tuple[float, str, float]]:
        """(pounds, name, feet along the wall) of every jamb and post that presses, by each allowable combination."""
        return [
            (-p.load, p.name, p.at)
            for row in combinations("allowable")
            for p in on_plate(self.model, row).points
            if p.load < 0
        ]

    @property
    def thrusts(self) -> list[tuple[float, str, float]]:
        """The same of the ends of its shear walls."""
        return [
            (e.pushed, END, at)
            for e in self.ends
            for at in (e.piece.start, e.piece.end)
            if e.pushed > 0
        ]

    @property
    def lifts(self) -> bool:
        """Whether anything lifts: the line, a jamb or a post."""
        on = on_plate(self.model, combination(LIFT_STRENGTH))
        return self.lift > 0 or any(p.load > 0 for p in on.points)


def _net(top: Loads, own: float) -> float:
    return max(
        upward(top, combination(LIFT), own), SERVICE * upward(top, combination(LIFT_STRENGTH), own)
    )


def net_lift(wall: schema.Wall) -> float:
    """Net uplift of a wall's line by what counts most, plf at service level; 0 where it stays down."""
    return max(_net(line_loads(wall), number_in(own_weight(wall), "plf")), 0.0)


@dataclass(frozen=True)
class LoadPath:
    """What the walls of a job bring."""

    walls: tuple[Brought, ...]

    def of(self, index: int) -> Brought:
        """The wall at a place among the walls of the job."""
        return self.walls[index]


def load_path(job: Job) -> LoadPath:
    """The LoadPath of a job."""
    return LoadPath(tuple(_brought(job, n, wall) for n, wall in enumerate(job.walls)))


def _brought(job: Job, index: int, wall: schema.Wall) -> Brought:
    system = job.system
    length = wall_length(job.slab, wall, system)
    steps = to_steps(length if length is not None else Q(1, "ft"), system)
    model = Wall(
        wall.name,
        _feet(steps, system),
        0.0 if wall.height is None else number_in(wall.height, "ft"),
        _openings(wall, length, system),
        line_loads(wall),
        number_in(own_weight(wall), "plf"),
        tuple(Point(p.name, _snapped(p.at, system), _point_loads(p)) for p in wall.points),
        0.0 if wall.shear is None else number_in(wall.shear, "plf"),
        0.0 if wall.shear_out is None else number_in(wall.shear_out, "plf"),
        tuple(_braced(b, system) for b in wall.braced),
    )
    return Brought(
        index, model, length is not None, wall.dead is not None, wall.uplift is not None or bool(wall.trusses),
        wall.shear is not None, wall.shear_out is not None,
    )  # fmt: skip


def _openings(wall: schema.Wall, length: Quantity | None, system: str) -> tuple[Opening, ...]:
    if length is None:
        return ()
    doors = set(opening_spans(wall, length, system, ("door",)))
    spans = opening_spans(wall, length, system)
    return tuple(Opening(_feet(a, system), _feet(b, system), (a, b) in doors) for a, b in spans)


def _feet(steps: float, system: str) -> float:
    return float(number_in(from_steps(steps, system), "ft"))


def _snapped(length: Quantity, system: str) -> float:
    return _feet(to_steps(length, system), system)


def own_weight(wall: schema.Wall) -> Quantity:
    """The wall itself by length, where its weight by area is given."""
    height = wall.height if wall.height is not None else Q(0, "ft")
    return wall_weight(wall.weight, height)


def dead_taken_off(wall: schema.Wall) -> Quantity:
    """Dead load that whoever gave the uplift has already taken off: none of it where the value is gross."""
    if wall.uplift_is == "gross" or wall.dead is None:
        return Q(0.0, "plf")
    return wall.dead + own_weight(wall)


def on_line(wall: schema.Wall) -> tuple[Quantity, Quantity, Quantity]:
    """(dead, live, roof) by length at a wall's top, its trusses spread evenly; the wall itself not counted."""
    given = (wall.dead if wall.dead is not None else Q(0.0, "plf"), wall.live, wall.roof)
    dead, live, roof = (
        sum((spread_reaction(getattr(t, key), t.spacing) for t in wall.trusses), load)
        for key, load in zip(("dead", "live", "roof"), given, strict=True)
    )
    return dead, live, roof


def line_loads(wall: schema.Wall) -> Loads:
    """Loads on one foot of a wall's top: dead, live, roof, and the wind behind its uplift; trusses spread evenly."""
    W = sum(number_in(spread_reaction(t.uplift, t.spacing), "plf") / SERVICE for t in wall.trusses)
    if wall.uplift is not None and wall.uplift.magnitude:
        W += wind_behind.body(number_in(wall.uplift, "plf"), number_in(dead_taken_off(wall), "plf"))
    D, L, S = (number_in(load, "plf") for load in on_line(wall))
    return Loads(D, L, S, W)


def _point_loads(p: schema.WallPoint) -> Loads:
    D, L, S, up = (number_in(x, "lbf") for x in (p.dead, p.live, p.roof, p.uplift))
    return Loads(D, L, S, up / SERVICE)


def _braced(piece: schema.BracedPiece, system: str) -> Braced:
    held = None if piece.hold_down is None else number_in(piece.hold_down, "lbf")
    inside = number_in(piece.anchor_in, "ft") if piece.anchor is not None else 0.0
    return Braced(
        _snapped(piece.start, system), _snapped(piece.start + piece.length, system), held, inside
    )
