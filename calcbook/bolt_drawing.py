"""Bolts on the plan, and along each wall as a strip that reads like the tape."""

import numpy as np
from shapely import Point, box

from calcbook.bolt_layout import from_steps
from calcbook.drawing import (
    ACCENT,
    GREY,
    HEAVY,
    INK,
    LINE,
    PALE,
    SMALL,
    THIN,
    area,
    canvas,
    label,
    leader,
    line,
    scale_bar,
    text_width,
    trim,
)
from calcbook.walls import door_spans, stud_places

_ROW = 84.0  # height of a wall's strip, in points
_PLATE = 10.0  # height of the plate in a strip, in points
_NOTE = 66.0  # room for the names beside a strip, in points


def wall_plan(plan, walls, system="us", title="Bolts on the plan"):
    """Outline with the walls, every bolt, and where each wall's tape starts.

    plan: Plan; walls: Bolted walls. Returns a matplotlib Figure.
    """
    on = canvas(plan.bounds, (40, 46, 40, 30), 6.5, 6.0, system)
    area(on, plan.outline, width=HEAVY)
    for w in walls:
        _draw_wall(on, w)
    x0, y0, x1, y1 = plan.bounds
    scale_bar(on, (x0, y0 - 26 * on.point), system)
    label(
        on,
        (x0, y0 - 44 * on.point),
        "filled: cast   open: drilled   arrow: start of the tape",
        SMALL,
        GREY,
        ha="left",
    )
    trim(on, (x0 - 30 * on.point, y0 - 52 * on.point, x1 + 30 * on.point, y1 + 16 * on.point), title)
    return on.figure


def _draw_wall(on, w):
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
    start, tip = (
        wall.at(0.0, inset + width + 7 * on.point),
        wall.at(20 * on.point, inset + width + 7 * on.point),
    )
    on.ax.annotate(
        "",
        tip,
        start,
        arrowprops={"arrowstyle": "-|>", "lw": LINE, "color": ACCENT, "shrinkA": 0, "shrinkB": 0},
    )
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


def _bolt(on, at, method):
    fill = ACCENT if method == "cast" else "white"
    area(on, Point(at).buffer(2.3 * on.point), edge=ACCENT, fill=fill, width=LINE, zorder=6)


def _feet(steps, w):
    return from_steps(steps, w.layout.rules.system).m_as("foot")


# --- strips --------------------------------------------------------------------------------


def tape_strips(walls, system="us", title="Bolts along the walls, as the tape reads"):
    """Each wall as a strip: plate, studs, doors, bolts with their running distance from the start.

    walls: Bolted walls. Lengths are at scale, heights are not. Returns a matplotlib Figure.
    """
    longest = max(w.line.length for w in walls)
    high = _ROW * len(walls)
    on = canvas((0, 0, longest, 1e-6), (_NOTE, high + 34, 24, 0), 6.5, (high + 60) / 72 + 1, system)
    for row, w in enumerate(walls):
        _strip(on, w, -(row + 1) * _ROW + 22, system)
    foot = -high - 8
    scale_bar(on, (0, foot * on.point), system)
    _key(on, (longest, (foot + 3) * on.point))
    trim(on, (-_NOTE * on.point, (foot - 16) * on.point, longest + 22 * on.point, 0.0), title)
    return on.figure


def _strip(on, w, y, system):
    """One wall; y: of the plate's lower side, in points."""
    p, low, top = on.point, y * on.point, (y + _PLATE) * on.point
    _studs(on, w, low, top, system)
    for start, end in w.layout.pieces:
        area(on, box(_feet(start, w), low, _feet(end, w), top), fill="none", width=LINE)
    for a, b in door_spans(w.sill, _length(w), system):
        middle = (_feet(a, w) + _feet(b, w)) / 2
        label(on, (middle, (low + top) / 2), "door", SMALL, GREY)
    name = (-8 * p, (y + _PLATE / 2 + 5) * p)
    label(on, name, w.line.name, SMALL, ha="right", weight="bold")
    label(
        on,
        (name[0], name[1] - 9 * p),
        f"{len(w.layout.bolts)} {w.sill.method}",
        SMALL,
        GREY,
        ha="right",
    )
    places = [_feet(b.place, w) for b in w.layout.bolts]
    for x in places:
        area(
            on,
            Point(x, (low + top) / 2).buffer(2.6 * p),
            edge=ACCENT,
            fill=ACCENT if w.sill.method == "cast" else "white",
            zorder=6,
        )
    spread = spread_out(places, (SMALL + 1.5) * p)
    for bolt, x, shown in zip(w.layout.bolts, places, spread, strict=True):
        line(on, [(x, top + 1 * p), (x, top + 4 * p), (shown, top + 10 * p)], GREY, THIN)
        label(on, (shown, top + 12 * p), w.layout.rules.text(bolt.place), SMALL, angle=90, ha="left")
    for number, x in enumerate(places, 1):
        if number in (1, len(places)) or number % 5 == 0:
            label(on, (x, low - 7 * p), str(number), SMALL, GREY)
    if w.layout.problems:
        leader(
            on, (0, low), (6 * p, low - 8 * p), "NOT BOLTED BY THE RULES: see the checks", color=ACCENT
        )


def _length(w):
    return from_steps(w.layout.pieces[-1][1], w.layout.rules.system)


def _studs(on, w, low, top, system):
    half = 0.75 / 12
    for s in stud_places(w.sill, _length(w), system):
        x = _feet(s, w)
        area(on, box(x - half, low, x + half, top), edge="none", fill="#cfcfcf", zorder=1)
    trim_width = 1.5 * (w.sill.jacks + 1) / 12
    for a, b in door_spans(w.sill, _length(w), system):
        for x0, x1 in (
            (_feet(a, w) - trim_width, _feet(a, w)),
            (_feet(b, w), _feet(b, w) + trim_width),
        ):
            area(on, box(x0, low, x1, top), edge=INK, fill=PALE, width=THIN, zorder=1)


def _key(on, at):
    words = "filled: cast, open: drilled; grey: studs, jacks"
    label(on, at, words, SMALL, GREY, ha="right")
    return text_width(words, SMALL)


def spread_out(places, least):
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
