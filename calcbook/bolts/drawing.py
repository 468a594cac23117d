"""Bolts on the plan, and along each wall as a strip that reads like the tape."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from shapely import Point, box, buffer, get_parts, points

from calcbook.basis.units import Q
from calcbook.bolts.walls import bar_places, stud_places
from calcbook.job.wall_lines import door_spans
from calcbook.plan.corner_letters import name_corners
from calcbook.plan.drawing import (
    ACCENT,
    GREY,
    HEAVY,
    INK,
    LINE,
    PALE,
    SMALL,
    THIN,
    area,
    arrow,
    canvas,
    label,
    leader,
    line,
    scale_bar,
    trim,
)
from calcbook.plan.section_drawing import DASHES
from calcbook.plan.tape import from_steps

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.figure import Figure

    from calcbook.bolts.bolted import Bolted
    from calcbook.bolts.breaks import Breaks
    from calcbook.plan.drawing import Canvas
    from calcbook.plan.outline import Plan

_ROW = 84.0  # height of a wall's strip, in points
_PLATE = 10.0  # height of the plate in a strip, in points
_NOTE = 84.0  # room for the names beside a strip, in points
_NAMED = 60  # corners at most, for their letters to be read


def wall_plan(
    plan: Plan,
    named: Sequence[tuple[str, tuple[float, float]]],
    walls: Sequence[Bolted],
    system: str = "us",
) -> Figure:
    """Outline with its corners named, the walls, every bolt, and which way each wall's tape runs.

    plan: Plan; named: letter and place of each corner, in feet; walls: Bolted walls. Returns a matplotlib Figure.
    """
    on = canvas(plan.bounds, (40, 46, 40, 30), 6.5, 6.0, system)
    area(on, plan.outline, width=HEAVY)
    if len(named) <= _NAMED:
        name_corners(on, plan.outline, named)
    _parted(on, walls[0].breaks)
    for w in walls:
        _draw_wall(on, w)
    x0, y0, x1, y1 = plan.bounds
    scale_bar(on, (x0, y0 - 22 * on.point), system)
    label(
        on,
        (x0, y0 - 39 * on.point),
        "filled: cast; open: drilled; dashed: joints, boxes, openings; arrow: way of the tape",
        SMALL,
        GREY,
        ha="left",
    )
    trim(
        on,
        (x0 - 30 * on.point, y0 - 46 * on.point, x1 + 30 * on.point, y1 + 16 * on.point),
        "Bolts on the plan",
    )
    return on.figure


def _parted(on: Canvas, breaks: Breaks) -> None:
    """The lines along which the slab is parted, which the bolts are kept off."""
    for part in get_parts(breaks.lines):
        line(on, list(part.coords), GREY, THIN, DASHES)


def _draw_wall(on: Canvas, w: Bolted) -> None:
    sill, wall = w.sill, w.line
    inset, width = sill.inset.m_as("foot"), sill.plate_width.m_as("foot")
    for start, end in w.layout.pieces:
        a, b = (_feet(s, w) for s in (start, end))
        corners = [
            wall.at(a, inset),
            wall.at(b, inset),
            wall.at(b, inset + width),
            wall.at(a, inset + width),
        ]
        line(on, [*corners, corners[0]], GREY, THIN)
    edge = sill.edge_distance.m_as("foot")
    for bolt in w.layout.bolts:
        _bolt(on, wall.at(_feet(bolt.place, w), edge), sill.method)
    foot, tip = (
        wall.at(12 * on.point, inset + width + 7 * on.point),
        wall.at(32 * on.point, inset + width + 7 * on.point),
    )
    arrow(on, foot, tip, ACCENT)
    middle = wall.at(wall.length / 2, inset + width + 13 * on.point)
    upright = abs(wall.along[1]) > abs(wall.along[0])
    label(
        on,
        middle,
        f"{wall.name}: {len(w.layout.bolts)}",
        SMALL,
        angle=90 if upright else 0,
        ground=True,
    )


def _bolt(on: Canvas, at: tuple[float, float], method: str) -> None:
    fill = ACCENT if method == "cast" else "white"
    area(on, Point(at).buffer(2.3 * on.point), edge=ACCENT, fill=fill, width=LINE, zorder=6)


def _feet(steps: int, w: Bolted) -> float:
    return from_steps(steps, w.layout.rules.system).m_as("foot")


# --- strips --------------------------------------------------------------------------------


def tape_strips(walls: Sequence[Bolted], system: str = "us") -> Figure:
    """Each wall as a strip from the corner where the tape is held: plate, studs, doors, bars, bolts.

    walls: Bolted walls. Lengths are at scale, heights are not. Returns a matplotlib Figure.
    """
    longest = max(w.line.before + w.line.length + w.line.after for w in walls)
    high = _ROW * len(walls)
    on = canvas((0, 0, longest, 1e-6), (_NOTE, high + 46, 24, 0), 6.5, (high + 72) / 72 + 1, system)
    for row, w in enumerate(walls):
        _strip(on, w, -(row + 1) * _ROW + 22, system, w.line.before)
    foot = -high - 8
    scale_bar(on, (0, foot * on.point), system)
    words = "filled: cast; open: drilled; gray: studs; dashed: joint; ×: vertical bar; letters: where to hold the tape"
    label(on, (0, (foot - 20) * on.point), words, SMALL, GREY, ha="left")
    trim(
        on,
        (-_NOTE * on.point, (foot - 28) * on.point, longest + 22 * on.point, 0.0),
        "Bolts along the walls, as the tape reads",
    )
    return on.figure


def _strip(on: Canvas, w: Bolted, y: float, system: str, shift: float) -> None:
    """One wall; y: of the plate's lower side, in points; shift: feet from the corner to the wall's start."""
    p, low, top = on.point, y * on.point, (y + _PLATE) * on.point
    end = shift + w.line.length + w.line.after
    line(on, [(0, low), (end, low)], INK, THIN)
    for x, name, side in ((0, w.line.corners[0], "right"), (end, w.line.corners[1], "left")):
        line(on, [(x, low - 3 * p), (x, top + 3 * p)], ACCENT, LINE)
        label(
            on,
            (x + (4 if side == "left" else -4) * p, (low + top) / 2),
            name,
            SMALL,
            ACCENT,
            ha=side,
            weight="bold",
        )
    _framing(on, w, low, top, system, shift)
    for cut in w.beside.cuts:
        line(on, [(shift + cut, low - 4 * p), (shift + cut, top + 4 * p)], GREY, LINE, DASHES)
    for start, stop in w.layout.pieces:
        area(
            on, box(shift + _feet(start, w), low, shift + _feet(stop, w), top), fill="none", width=LINE
        )
    at = (-20 * p, (y + _PLATE / 2 + 5) * p)
    label(on, at, w.line.name, SMALL, ha="right", weight="bold")
    label(
        on, (at[0], at[1] - 9 * p), f"{len(w.layout.bolts)} {w.sill.method}", SMALL, GREY, ha="right"
    )  # fmt: skip
    _bolts(on, w, low, top, shift)
    if w.layout.problems:
        leader(
            on, (0, low), (6 * p, low - 8 * p), "NOT BOLTED BY THE RULES: see the checks", color=ACCENT
        )


def _bolts(on: Canvas, w: Bolted, low: float, top: float, shift: float) -> None:
    """The bolts of a strip with their places on the tape above and some of their numbers below."""
    p, places = on.point, [shift + _feet(b.place, w) for b in w.layout.bolts]
    holes = buffer(points(places, (low + top) / 2), 2.6 * p)
    area(on, holes, edge=ACCENT, fill=ACCENT if w.sill.method == "cast" else "white", zorder=6)
    spread = spread_out(places, (SMALL + 1.5) * p)
    for bolt, x, shown in zip(w.layout.bolts, places, spread, strict=True):
        line(on, [(x, top + 1 * p), (x, top + 4 * p), (shown, top + 10 * p)], GREY, THIN)
        label(on, (shown, top + 12 * p), w.layout.rules.at(bolt.place), SMALL, angle=90, ha="left")
    for number, x in enumerate(places, 1):
        if number in (1, len(places)) or number % 5 == 0:
            label(on, (x, low - 7 * p), str(number), SMALL, GREY)


def _framing(on: Canvas, w: Bolted, low: float, top: float, system: str, shift: float) -> None:
    """Studs, jacks, doors and vertical bars of a strip."""
    half, length = 0.75 / 12, Q(w.line.length, "ft")
    studs = shift + np.array([_feet(s, w) for s in stud_places(w.sill, length, system)])
    area(on, box(studs - half, low, studs + half, top), edge="none", fill="#cfcfcf", zorder=1)
    for s in bar_places(w.sill, length, system):
        label(on, (shift + _feet(s, w), (low + top) / 2), "×", SMALL, INK)
    trim_width = 1.5 * (w.sill.jacks + 1) / 12
    for a, b in door_spans(w.sill, length, system):
        start, stop = shift + _feet(a, w), shift + _feet(b, w)
        label(on, ((start + stop) / 2, (low + top) / 2), "door", SMALL, GREY, ground=True)
        for x0, x1 in ((start - trim_width, start), (stop, stop + trim_width)):
            area(on, box(x0, low, x1, top), edge=INK, fill=PALE, width=THIN, zorder=1)


def spread_out(places: Sequence[float], least: float) -> list[float]:
    """Places of labels at least that far apart, each as near to its own as can be.

    places: in order; least: the least distance. Returns a list. Neighbours that collide are moved apart
    evenly, as a group about its middle.
    """
    groups = [[x, 1] for x in places]  # (middle, members)
    merged = []
    for group in groups:
        merged.append(group)
        while (
            len(merged) > 1
            and merged[-1][0] - merged[-2][0] < least * (merged[-1][1] + merged[-2][1]) / 2
        ):
            (b, m), (a, n) = merged.pop(), merged.pop()
            merged.append([(a * n + b * m) / (n + m), n + m])
    return [float(x) for middle, n in merged for x in middle + least * (np.arange(n) - (n - 1) / 2)]
