"""The joint plan: cuts, panels with their sizes, boxes around posts, and where the lines run."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from calcbook.basis.showing import magnitude
from calcbook.basis.units import Q
from calcbook.joints.rules import is_rectangle, turned
from calcbook.joints.snapping import by_running, line_name
from calcbook.plan.corner_letters import name_corners
from calcbook.plan.drawing import (
    ACCENT,
    GREY,
    HEAVY,
    INK,
    LINE,
    PALE,
    SMALL,
    area,
    canvas,
    label,
    length_text,
    line,
    text_width,
)
from calcbook.plan.outline import centre
from calcbook.plan.slab_drawing import finish_plan

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.figure import Figure

    from calcbook.joints.dividing import JointLayout
    from calcbook.joints.snapping import Place, Snapped
    from calcbook.plan.drawing import Canvas
    from calcbook.plan.outline import Plan

_SHARES = 0.38, 0.25, 0.5, 0.62, 0.75  # of a line: where its name may stand


def joint_drawing(
    plan: Plan, layout: JointLayout, system: str, named: Sequence[tuple[str, Place]] = ()
) -> Figure:
    """The joint plan: cuts heavy and dashed, panels with their size, boxes around posts.

    plan: of the slab; layout: its JointLayout; system: units; named: letter and place of each corner, which show where
    lines are told by their ends. Returns a matplotlib Figure.
    """
    on = canvas(plan.bounds, (44, 60, 40, 40), 6.5, 6.2, system)
    area(on, plan.outline, width=HEAVY)
    for shape in (o.shape for o in plan.openings):
        area(on, shape, edge=GREY, fill=PALE, zorder=3)
    for cut in layout.cuts:
        line(on, list(cut.coords), ACCENT, 1.3 * LINE, (0, (6, 2.5)))
    for shape in layout.boxes:
        area(on, shape, edge=INK, fill="white", zorder=5)
    for panel in layout.broken:
        area(on, panel, edge="none", hatch="//", zorder=1)
    _panels(on, layout, system)
    running, by_ends = by_running(layout, plan)
    name_lines(on, by_ends, [centre(panel) for panel in layout.panels])
    reach = {"right": 8.0, "top": 8.0, **_running(on, plan, running, system)}
    if by_ends and named:
        name_corners(on, plan.outline, named)
        reach = {side: max(far, 20.0) for side, far in reach.items()}
    finish_plan(on, plan.bounds, reach, system, "Joint plan")
    return on.figure


def name_lines(on: Canvas, by_ends: Sequence[Snapped], texts: Sequence[Place] = ()) -> None:
    """The names of lines that are told by their ends, each on its line where it is farthest from other texts.

    texts: where such stand already, in feet.
    """
    taken = list(texts)
    for number, one in enumerate(by_ends, 1):
        places = [
            (one.start[0] + share * (one.end[0] - one.start[0]), one.start[1] + share * (one.end[1] - one.start[1]))
            for share in _SHARES
        ]  # fmt: skip
        at = max(places, key=lambda p: min((math.dist(p, t) for t in taken), default=0.0))
        label(on, at, line_name(number), SMALL, ACCENT, ground=True)
        taken.append(at)


def _panels(on: Canvas, layout: JointLayout, system: str) -> None:
    """Sizes of the panels; where some are no rectangles, each has the letter that the table of panels has."""
    if layout.square:
        for panel in layout.panels:
            x0, y0, x1, y1 = panel.bounds
            text = _size_text(x1 - x0, y1 - y0, system)
            label(on, ((x0 + x1) / 2, y0 + 10 * on.point), text, SMALL, GREY, ground=True)
        return
    for number, one in enumerate(layout.judged):
        shape = turned(one.shape, layout.angle)
        x0, y0, x1, y1 = shape.bounds
        text = panel_name(number)
        if is_rectangle(shape):
            text += f": {_size_text(x1 - x0, y1 - y0, system)}"
        label(on, centre(shape), text, SMALL, GREY, ground=True)


def panel_name(number: int) -> str:
    """How a panel is called on the joint plan and in the table of panels; counted from 0."""
    turn, letter = divmod(number, 26)
    return chr(ord("a") + letter) + (str(turn + 1) if turn else "")


def _size_text(width: float, height: float, system: str) -> str:
    """Size of a panel for the plan; centimetres are fine enough there."""
    if system == "us":
        return f"{length_text(width, system)} × {length_text(height, system)}"
    return " × ".join(f"{magnitude(Q(v, 'ft'), 'ft', system):.2f}" for v in (width, height)) + " m"


def _running(on: Canvas, plan: Plan, lines: Sequence[Snapped], system: str) -> dict[str, float]:
    """Running dimensions of the cuts, below and left: each from the corner of the slab's bounds."""
    x0, y0, *_ = plan.bounds
    places: tuple[set[float], set[float]] = (set(), set())
    for one in lines:
        assert one.axis is not None  # slanting lines have numbers
        places[one.axis].add(round(one.start[one.axis], 6))
    for axis, start in ((0, x0), (1, y0)):
        for row, v in enumerate(sorted(places[axis])):
            text = length_text(v - start, system)
            away = (12 + 9 * (row % 2)) * on.point  # neighbors that are close stand in two rows
            at = (v, y0 - away) if axis == 0 else (x0 - 4 * on.point, v)
            label(on, at, text, SMALL, ACCENT, ha="center" if axis == 0 else "right")
    wide = max((text_width(length_text(v - y0, system), SMALL) for v in places[1]), default=0.0)
    return {"bottom": 30.0 if places[0] else 8.0, "left": wide + 8.0}
