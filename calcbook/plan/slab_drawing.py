"""The plan of a slab as a drawing: outline, openings, thickened edge, pads, all with dimensions."""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely import box

from calcbook.basis.showing import magnitude, number_text
from calcbook.basis.units import TRADE_UNITS, Q
from calcbook.plan.dimensions import outer_dimensions
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
    length_text,
    line,
    scale_bar,
    text_width,
    trim,
)
from calcbook.plan.offset import moved_in
from calcbook.plan.outline import centre, is_round

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.figure import Figure
    from numpy.typing import NDArray
    from shapely.geometry import Polygon

    from calcbook.plan.drawing import Canvas
    from calcbook.plan.outline import Plan, Thickening

DASHED = (0, (5, 3))  # for what lies under the slab
_MARGINS = (84, 96, 40, 60)
_MOST_NOTES = 24  # more would hide the plan: then names only
_ROWS = np.arange(1, 3)  # how many heights of a note it may stand away
_TRIED = 12  # places of a note that are looked at in one go: the best is mostly among the first
_LEADING = 1.25  # from line to line of a note, in type sizes


def plan_drawing(
    plan: Plan,
    system: str = "us",
    title: str = "Plan",
    height: float = 7.0,
) -> Figure:
    """The plan with its dimensions.

    plan: a Plan; system: "us" or "si"; title: set above; height: the most paper it takes, in inches.
    Returns a matplotlib Figure. What lies under the slab is pale and dashed.
    """
    on = canvas(plan.bounds, _MARGINS, 6.5, height, system)
    draw_below_slab(on, plan)
    area(on, plan.outline, width=HEAVY)
    notes = [draw_pad(on, t, system) for t in plan.thickenings]
    notes += [draw_opening(on, *o, system) for o in plan.openings]
    notes += edge_notes(on, plan, system)
    place_notes(on, plan, notes)
    reach = outer_dimensions(on, plan.outline, system, _stations(plan))
    finish_plan(on, plan.bounds, reach, system, title)
    return on.figure


def plan_sketch(
    plan: Plan,
    system: str = "us",
    width: float = 6.5,
    height: float = 4.0,
    beside: Sequence[Plan] = (),
) -> Figure:
    """The plan without dimensions, notes and scale, as for a cover. Arguments as for ``plan_drawing``; beside: further slabs."""
    bounds = shapely.union_all([one.outline for one in (plan, *beside)]).bounds
    on = canvas(bounds, (6, 6, 6, 6), width, height, system)
    for one in (plan, *beside):
        draw_below_slab(on, one)
        area(on, one.outline, width=HEAVY)
        for thickening in one.thickenings:
            draw_pad(on, thickening, system)
        for opening in one.openings:
            draw_opening(on, opening.name, opening.shape, system)
    return on.figure


def finish_plan(
    on: Canvas,
    bounds: tuple[float, float, float, float],
    reach: dict[str, float],
    system: str,
    title: str,
) -> None:
    """Scale bar and axes below a plan, and the paper cut to what is drawn.

    on: a Canvas; bounds: of the slab, in feet; reach: of the dimensions on each side, in points.
    """
    x0, y0, x1, y1 = bounds
    foot = y0 - (reach["bottom"] + 22) * on.point
    bar = scale_bar(on, (x0, foot), system)
    left = x0 - (reach["left"] + 6) * on.point
    _axes_mark(on, (x0 - 38 * on.point, foot - 4 * on.point))
    edges = (
        min(left, x0 - 46 * on.point), foot - 16 * on.point, max(bar, x1 + (reach["right"] + 6) * on.point),
        y1 + (reach["top"] + 4) * on.point,
    )  # fmt: skip
    trim(on, edges, title)


def draw_below_slab(on: Canvas, plan: Plan) -> None:
    """Thickened edge, pads and strips: pale, with dashed lines, as they lie under the slab."""
    if plan.depths:
        area(on, plan.digging.shapes(np.zeros(1))[0], edge="none", fill=PALE, zorder=1)
    if plan.edge and plan.edge.sides:
        for shape in (plan.within_edge, plan.edging.middle):
            area(on, shape, edge=GREY, width=THIN, style=DASHED)
    elif plan.edge:
        for inset in (plan.edge.width, plan.edge.width + plan.edge.slope * plan.edge.depth):
            area(on, moved_in(plan.outline, inset)[0], edge=GREY, width=THIN, style=DASHED)
    for thickening in plan.thickenings:
        area(on, thickening.bottom & plan.outline, width=1.4 * THIN, style=DASHED)


def edge_notes(on: Canvas, plan: Plan, system: str) -> list[tuple[Polygon, str, str, str]]:
    """What tells the sides apart: edges other than that of the longest part of the outline, sills and ledges."""
    found = []
    for ledge in plan.ledges:
        area(on, ledge.shape, edge=ACCENT, width=THIN, zorder=3)
        size = f"{length_text(ledge.drop, system, True)} lower, {length_text(ledge.width, system, True)} wide"
        found.append((ledge.shape, ledge.name, size, ACCENT))
    for one in plan.raised:
        area(on, one.shape, edge=ACCENT, width=LINE, zorder=3)
        high, wide = (length_text(v, system, True) for v in (one.height, one.width))
        steps = f"{one.count} steps, each " if one.count > 1 else ""
        found.append((one.shape, one.name, f"{steps}{high} high, {wide} wide", ACCENT))
    for arc in plan.arcs:
        spot = shapely.Point(arc.top(plan.outline)).buffer(2 * on.point)
        found.append((spot, "round corner", f"radius {length_text(arc.radius, system)}", INK))
    sides = plan.edge.sides if plan.edge else ()
    ends = list(itertools.pairwise(plan.outline.exterior.coords))
    lengths = [math.dist(*side) for side in ends]
    usual = max(
        sides, key=lambda e: sum(x for x, s in zip(lengths, sides, strict=True) if s == e), default=None
    )
    for edge in dict.fromkeys(sides):
        if edge == usual:
            continue
        _, k = max((lengths[k], k) for k, side in enumerate(sides) if side == edge)
        spot = shapely.LineString(ends[k]).interpolate(0.25, normalized=True).buffer(2 * on.point)
        deep, wide = (length_text(v, system, True) for v in (edge.depth, edge.width))
        name = "edge here" if edge.depth else "plain edge here"
        found.append(
            (spot, name, f"{deep} below the slab, {wide} wide" if edge.depth else "no thickening", INK)
        )
    return found


def draw_opening(on: Canvas, name: str, shape: Polygon, system: str) -> tuple[Polygon, str, str, str]:
    """An opening; returns its note: shape, name, size, color."""
    area(on, shape, fill="white", zorder=3)
    x0, y0, x1, y1 = shape.bounds
    if is_round(shape):
        return (
            shape,
            name,
            f"{length_text(math.sqrt(4 * shape.area / math.pi), system, True)} round",
            INK,
        )
    if shape.equals(box(*shape.bounds)):  # the draughtsman's mark of a hole
        line(on, [(x0, y0), (x1, y1)], GREY, THIN)
        line(on, [(x0, y1), (x1, y0)], GREY, THIN)
    return shape, name, f"{length_text(x1 - x0, system)} × {length_text(y1 - y0, system)}", INK


def draw_pad(on: Canvas, thickening: Thickening, system: str) -> tuple[Polygon, str, str, str]:
    """The cross in the middle of a pad; returns its note: shape, name, size, color."""
    x, y = centre(thickening.bottom)
    arm = 3 * on.point
    line(on, [(x - arm, y), (x + arm, y)], ACCENT, THIN)
    line(on, [(x, y - arm), (x, y + arm)], ACCENT, THIN)
    x0, y0, x1, y1 = thickening.bottom.bounds
    sides = (magnitude(Q(v, "ft"), "in", system) for v in (x1 - x0, y1 - y0, thickening.depth))
    size = " × ".join(f"{side:,.0f}" if system == "si" else number_text(side) for side in sides)
    unit_label = TRADE_UNITS["in"].label_for(system)
    return thickening.bottom, thickening.name, f"{size} {unit_label} deep", ACCENT


def _stations(plan: Plan) -> Sequence[Sequence[float] | NDArray]:
    """Centres of pads and round openings and sides of other openings, along x and along y."""
    places = [np.array([centre(t.bottom)]) for t in plan.thickenings]
    places += [
        np.array([centre(shape)]) if is_round(shape) else np.reshape(shape.bounds, (2, 2))
        for _, shape in plan.openings
    ]
    return (
        [np.unique(np.round(np.concatenate(places)[:, axis], 4)) for axis in (0, 1)]
        if places
        else ((), ())
    )


# --- notes -----------------------------------------------------------------------------------


def place_notes(on: Canvas, plan: Plan, notes: Sequence[tuple[Polygon, str, str, str]]) -> None:
    """Set notes of two lines beside shapes, where they hide least, nearest first.

    notes: (shape, name, second line or "", color) each.
    """
    if len(notes) > _MOST_NOTES:
        for shape, name, _, color in notes:
            label(on, (shape.bounds[2] + 2 * on.point, centre(shape)[1]), name, SMALL, color, ha="left")
        return
    taken = [shape.buffer(2.5 * on.point).bounds for shape, *_ in notes]
    widths = [max(1.1 * text_width(name, SMALL), text_width(size, SMALL)) for _, name, size, _ in notes]
    for k in np.argsort(widths)[::-1]:  # the widest first, as it has least choice
        (shape, name, size, color), wide = notes[k], widths[k] * on.point
        high = (2 if size else 1) * _LEADING * SMALL * on.point
        x, y = _free_place(on, plan, shape, wide, high, taken)
        taken.append((x, y, x + wide, y + high))
        link = shapely.shortest_line(shape, box(*taken[-1]))
        if link.length > 6 * on.point:
            line(on, link.coords, GREY, THIN)
        step = _LEADING * SMALL * on.point
        at = (x, y + (1.5 if size else 0.5) * step)
        label(on, at, name, SMALL, color, ha="left", weight="bold", ground=not size)
        if size:
            label(on, (x, y + 0.5 * step), size, SMALL, GREY, ha="left")


def _free_place(
    on: Canvas,
    plan: Plan,
    shape: Polygon,
    wide: float,
    high: float,
    taken: Sequence[tuple[float, float, float, float]],
) -> NDArray:
    """Lower left corner of the best box of that size around a shape."""
    x0, y0, x1, y1 = shape.bounds
    gap = 4 * on.point
    xs = np.append(np.linspace(x0 - gap - wide, x1 + gap, 15), [x0, x1 - wide])
    ys = np.concatenate(
        [
            np.linspace(y0 - gap - high, y1 + gap, 9),
            y1 + gap + high * _ROWS,
            y0 - gap - high * (1 + _ROWS),
        ]
    )
    low = np.stack(np.meshgrid(xs, ys), axis=-1).reshape(-1, 2)
    size = np.array([wide, high])
    top = low + size
    others = np.array(taken)
    overlap = np.minimum(top[:, None], others[:, 2:]) - np.maximum(low[:, None], others[:, :2])
    hidden = np.prod(np.clip(overlap, 0, None), axis=2).sum(axis=1)
    gaps = np.maximum(np.maximum(low - [x1, y1], [x0, y0] - top), 0)
    middle = low + size / 2 - [(x0 + x1) / 2, (y0 + y1) / 2]
    away = np.hypot(*gaps.T) / 30 + np.hypot(*middle.T) / 400  # beside it rather than centred on it
    least = 400 * hidden / (wide * high) + away / on.point
    order = np.argsort(least, kind="stable")
    cost = np.full(len(low), np.inf)
    for some in np.array_split(order, range(_TRIED, len(low), _TRIED)):
        if least[some[0]] > cost.min():
            break  # none that is left can be better: cutting boxes takes longest
        boxes = shapely.box(*low[some].T, *top[some].T)
        off_slab, off_clear = (
            wide * high - shapely.area(shapely.intersection(inside, boxes))
            for inside in (plan.outline, _clear(plan))
        )
        cost[some] = least[some] + (40 * off_slab + 4 * off_clear) / (wide * high)
    return low[np.argmin(cost)]


def _clear(plan: Plan) -> Polygon:
    """Where notes stand best: inside the thickened edge."""
    return plan.within_edge


def _axes_mark(on: Canvas, at: tuple[float, float]) -> None:
    """Which way x and y run."""
    x, y = at
    arm = 16 * on.point
    for dx, dy, name in ((arm, 0, "x"), (0, arm, "y")):
        arrow(on, (x, y), (x + dx, y + dy), GREY, THIN)
        label(on, (x + 1.35 * dx, y + 1.35 * dy), name, SMALL, GREY)
