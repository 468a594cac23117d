"""The plan with the levels of its top: grade marks at corners, lines of equal height, and the way down."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from shapely import Point

from calcbook.plan.drawing import (
    ACCENT,
    GREY,
    HEAVY,
    SMALL,
    THIN,
    area,
    arrow,
    canvas,
    label,
    length_text,
    line,
)
from calcbook.plan.outline import centre
from calcbook.plan.slab_drawing import finish_plan

if TYPE_CHECKING:
    from collections.abc import Callable

    from matplotlib.figure import Figure
    from numpy.typing import NDArray

    from calcbook.plan.drawing import Canvas
    from calcbook.plan.outline import Plan
    from calcbook.plan.slope import Dish, Fall

_CLOSE = 26.0  # a mark nearer to another one, in points, is left out
_LINES = 6


def level_drawing(plan: Plan, plane: Fall | Dish, system: str = "us", highest: float = 0.0) -> Figure:
    """The levels of a slab's top for the crew that sets the forms.

    plan: a Plan; plane: its top; highest: height of its highest place, in feet. Every mark says how far below
    the highest place the top lies there.
    """
    heights = plane.heights
    on = canvas(plan.bounds, (72, 60, 72, 40), 6.5, 6.2, system)
    area(on, plan.outline, width=HEAVY)
    for opening in plan.openings:
        area(on, opening.shape, edge=GREY, width=THIN, fill="white", zorder=3)
    _contours(on, plan, heights)
    corners = np.array(plan.outline.exterior.coords)[:-1]
    for p in _apart(on, corners):
        _mark(on, plan, p, heights, system, highest)
    for opening in plan.openings:
        spot = np.array(centre(opening.shape))
        edge = np.array([[opening.shape.bounds[2], spot[1]]])
        _mark(on, plan, edge[0], heights, system, highest, inside=True)
    _arrow(on, plane.way_down(plan.outline), plane.grade, system)
    finish_plan(
        on,
        plan.bounds,
        {"left": 60.0, "right": 60.0, "top": 22.0, "bottom": 22.0},
        system,
        "Levels of the top",
    )
    return on.figure


def _apart(on: Canvas, corners: NDArray) -> list[NDArray]:
    """Corners that are not close to one before."""
    found: list[NDArray] = []
    for p in corners:
        if all(np.hypot(*(p - q)) > _CLOSE * on.point for q in found):
            found.append(p)
    return found


def _mark(
    on: Canvas, plan: Plan, at: NDArray, heights: Callable[[NDArray], NDArray], system: str, highest: float,
    inside: bool = False,
) -> None:  # fmt: skip
    """A grade mark with how far below the highest place the top is."""
    below = highest - float(heights(at[None])[0])
    text = "0, highest" if below < 1e-9 else f"−{length_text(below, system, True)}"
    arm = 2.5 * on.point
    line(on, [(at[0] - arm, at[1]), (at[0] + arm, at[1])], ACCENT)
    line(on, [(at[0], at[1] - arm), (at[0], at[1] + arm)], ACCENT)
    spot = at + (np.array([22, -7]) if inside else _outward(on, plan, at)) * on.point
    label(on, spot, text, SMALL, ACCENT, ground=True)


def _outward(on: Canvas, plan: Plan, at: NDArray) -> NDArray:
    """Where the text of a corner stands: off the slab, in points."""
    away = np.where(at >= centre(plan.outline), 1.0, -1.0)
    tries = [away * (dx, dy) for dx in (26.0, -26.0) for dy in (9.0, -9.0)]
    return next((t for t in tries if not plan.outline.covers(Point(at + t * on.point))), tries[0])


def _contours(on: Canvas, plan: Plan, heights: Callable[[NDArray], NDArray]) -> None:
    """Lines of equal height, clipped to the slab."""
    x0, y0, x1, y1 = plan.bounds
    xs, ys = np.linspace(x0, x1, 121), np.linspace(y0, y1, 121)
    grid = heights(np.stack(np.meshgrid(xs, ys), axis=-1).reshape(-1, 2)).reshape(121, 121)
    levels = np.linspace(grid.min(), grid.max(), _LINES + 2)[1:-1]
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path

    drawn = on.ax.contour(
        xs, ys, grid, levels=levels, colors=GREY, linewidths=THIN, linestyles="dashed"
    )
    clip = PathPatch(
        Path(np.array(plan.outline.exterior.coords), closed=True), transform=on.ax.transData
    )
    drawn.set_clip_path(clip)
    on.fit_axes()


def _arrow(on: Canvas, way: tuple[NDArray, NDArray], grade: float, system: str) -> None:
    """The way down: from a place to another, with the fall beside it."""
    start, end = way
    along = (end - start) / np.hypot(*(end - start))
    tip = start + along * min(float(np.hypot(*(end - start))), 44 * on.point)
    arrow(on, start, tip, ACCENT, 1.0)
    per = (
        f"{1000 * grade:.3g} mm per m"
        if system == "si"
        else f"{length_text(grade, system, True)} per ft"
    )
    label(
        on,
        start - along * 8 * on.point,
        f"falls {per}, {100 * grade:.3g} %",
        SMALL,
        ACCENT,
        ground=True,
    )
