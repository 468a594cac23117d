"""Where walls run: lines along the outline's sides, and the openings in them."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from calcbook.basis.showing import show_length
from calcbook.basis.units import Q, UnitError, number_in
from calcbook.plan.tape import inch_steps, to_steps

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from calcbook.basis.units import Quantity
    from calcbook.job.schema.sections import Slab
    from calcbook.job.schema.walls import Wall


class WallError(ValueError):
    """A wall that does not fit its slab; the message names the wall, ``key`` the field of its section."""

    def __init__(self, message: str, key: str = "side") -> None:
        super().__init__(message)
        self.key = key


@dataclass(frozen=True)
class WallLine:
    """Where a wall runs, in plain feet: its start, unit vectors along it and into the slab, its length,
    how far its ends are from the corners of its side, and the names of those corners."""

    name: str
    origin: tuple[float, float]
    along: tuple[float, float]
    inward: tuple[float, float]
    length: float
    before: float
    after: float
    free_ends: tuple[bool, bool] = (
        False,
        False,
    )  # whether the slab ends beyond the wall's start and end
    corners: tuple[str, str] = ("A", "B")

    def at(self, distance: float, aside: float = 0.0) -> tuple[float, float]:
        """(x, y) of a point at a distance along the wall and so far aside, into the slab; all in feet."""
        x, y = (self.origin[k] + distance * self.along[k] + aside * self.inward[k] for k in (0, 1))
        return x, y


def side_points(slab: Slab) -> list[tuple[float, float]]:
    """Corners of the outline in the order of the job file, in feet."""
    if slab.points is not None:
        return [(number_in(x, "ft"), number_in(y, "ft")) for x, y in slab.points]
    assert slab.length is not None and slab.width is not None  # the job file has points or both
    x, y, L, W = (number_in(q, "ft") for q in (*slab.corner, slab.length, slab.width))
    return [(x, y), (x + L, y), (x + L, y + W), (x, y + W)]


class Side(NamedTuple):
    """A side of the outline in plain feet: its first corner, unit vectors along it and into the slab, its length."""

    corner: tuple[float, float]
    along: tuple[float, float]
    inward: tuple[float, float]
    span: float


def side_of(corners: Sequence[tuple[float, float]], side: int) -> Side:
    """A side by its number, from 1, which must be there. corners: of the outline, in feet."""
    (x0, y0), (x1, y1) = corners[side - 1], corners[side % len(corners)]
    span = math.hypot(x1 - x0, y1 - y0)
    u, v = ((x1 - x0) / span, (y1 - y0) / span) if span else (0.0, 0.0)
    turn = -1.0 if is_clockwise(corners) else 1.0
    return Side((x0, y0), (u, v), (-v * turn, u * turn), span)


def no_side(corners: Sequence[tuple[float, float]], side: int) -> str:
    """What is wrong with the number of a side, in words; "" where it is there. corners: as for ``side_of``."""
    there = len(corners)
    return "" if side <= there else f"side {side} is not there; the outline has {there} sides"


def corner_name(k: int) -> str:
    """Letter of a corner of the outline, counted from 0 in the order of the job file: A ... Z, A2 ..."""
    turn, letter = divmod(k, 26)
    return chr(ord("A") + letter) + (str(turn + 1) if turn else "")


def named_corners(slab: Slab) -> list[tuple[str, tuple[float, float]]]:
    """Letter and place of every corner of a slab's outline, in feet."""
    return [(corner_name(k), point) for k, point in enumerate(side_points(slab))]


def wall_line(slab: Slab, wall: Wall, system: str = "us") -> WallLine:
    """The WallLine of a wall of the job file. Raises WallError where it does not fit its side.

    slab, wall: sections of the job file; system: units of the message.
    """
    corners = side_points(slab)
    if wall.side is None:
        raise WallError(f"wall {wall.name!r} does not stand on a side of the slab")
    if wrong := no_side(corners, wall.side):
        raise WallError(f"wall {wall.name!r}: {wrong}")
    (x0, y0), along, inward, span = side_of(corners, wall.side)
    start = number_in(wall.start, "ft")
    end = span if wall.end is None else number_in(wall.end, "ft")
    if end > span + 1e-6 or start >= end:
        first, last, whole = (show_length(Q(v, "ft"), system) for v in (start, end, span))
        raise WallError(
            f"wall {wall.name!r}: it runs from {first} to {last}, but side {wall.side} is {whole} long; "
            "change start or end",
            "start" if wall.end is None else "end",
        )
    origin = (x0 + start * along[0], y0 + start * along[1])
    a, b = wall.side - 1, wall.side % len(corners)
    free = _is_outer(corners, a), _is_outer(corners, b)
    names = corner_name(a), corner_name(b)
    return WallLine(wall.name, origin, along, inward, end - start, start, span - end, free, names)


def _is_outer(corners: Sequence[tuple[float, float]], k: int) -> bool:
    """True where the outline turns outward at a corner, so that the slab ends there."""
    (xa, ya), (xb, yb), (xc, yc) = corners[k - 1], corners[k], corners[(k + 1) % len(corners)]
    turn = -1 if is_clockwise(corners) else 1
    return turn * ((xb - xa) * (yc - yb) - (yb - ya) * (xc - xb)) > 0


def is_clockwise(corners: Sequence[tuple[float, float]]) -> bool:
    """True where the points go round the slab with it on their right; corners: in feet."""
    return _area(corners) < 0


def _area(corners: Sequence[tuple[float, float]]) -> float:
    pairs = itertools.pairwise([*corners, corners[0]])
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs) / 2


def opening_spans(
    wall: Wall, length: Quantity, system: str = "us", kinds: Sequence[str] = ("door", "window")
) -> list[tuple[int, int]]:
    """(start, end) of the openings in a wall's length, in steps, in order; kinds: which of them.

    Raises WallError where one does not fit.
    """
    spans = sorted(
        (inch_steps(start, system), inch_steps(start + number_in(o.width, "in"), system), n)
        for n, o in enumerate(wall.openings)
        for start in (number_in(o.start, "in"),)
    )
    for (_, end, _), (start, _, n) in itertools.pairwise(spans):
        if start < end:
            raise WallError(
                f"wall {wall.name!r}: two openings overlap; check start and width", f"openings.{n}"
            )
    for _, end, n in spans:
        if end > to_steps(length, system):
            raise WallError(
                f"wall {wall.name!r}: an opening reaches beyond its end at {show_length(length, system)}; "
                "check start and width",
                f"openings.{n}",
            )
    return [(start, end) for start, end, n in spans if wall.openings[n].kind in kinds]


def door_spans(wall: Wall, length: Quantity, system: str = "us") -> list[tuple[int, int]]:
    """(start, end) of the doors, where there is no plate; length of the wall and errors as for ``opening_spans``."""
    return opening_spans(wall, length, system, ("door",))


def wall_length(slab: Slab, wall: Wall, system: str = "us") -> Quantity | None:
    """Length of a wall: along its side, or between its two ends; None where it has neither."""
    return wall.run() if wall.side is None else Q(wall_line(slab, wall, system).length, "ft")


def check_wall(slab: Slab, wall: Wall, system: str = "us") -> None:
    """Raise WallError where a wall does not fit its side of the slab, or what stands in it does not fit it."""
    try:
        length = wall_length(slab, wall, system)
    except UnitError as error:
        raise WallError(str(error), "x1") from None
    if length is None:
        return
    opening_spans(wall, length, system)
    ends = [(p.at, f"points.{n}") for n, p in enumerate(wall.points)]
    ends += [(b.start + b.length, f"braced.{n}") for n, b in enumerate(wall.braced)]
    for end, key in ends:
        if to_steps(end, system) > to_steps(length, system):
            raise WallError(
                f"wall {wall.name!r}: what stands in it reaches beyond its end at {show_length(length, system)}",
                key,
            )


def place_on_wall(slab: Slab, wall: Wall, system: str = "us") -> Callable[[float], tuple[float, float]]:
    """Function from feet along a wall to (x, y) on the middle of its plate; the wall has a side or its two ends."""
    if wall.side is not None:
        line = wall_line(slab, wall, system)
        aside = number_in(wall.inset + wall.plate_width / 2, "ft")
        return lambda at: line.at(at, aside)
    ends = (wall.x1, wall.y1, wall.x2, wall.y2)
    x1, y1, x2, y2 = (number_in(v, "ft") for v in ends if v is not None)
    run = math.hypot(x2 - x1, y2 - y1)
    return lambda at: (x1 + (x2 - x1) * at / run, y1 + (y2 - y1) * at / run)
