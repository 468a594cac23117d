"""The plan for the hand and the telephone: outline with its sides, joints, and names; sizes and places stand in tables."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.showing import show_length
from calcbook.basis.units import Q
from calcbook.plan.dimensions import outer_dimensions
from calcbook.plan.drawing import HEAVY, area, canvas
from calcbook.plan.outline import centre
from calcbook.plan.slab_drawing import (
    draw_below_slab,
    draw_opening,
    draw_pad,
    edge_notes,
    finish_plan,
    place_notes,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from matplotlib.figure import Figure

    from calcbook.plan.drawing import Canvas
    from calcbook.plan.outline import Plan

MARGINS = (52, 70, 34, 46)


def taping_drawing(
    plan: Plan, system: str, title: str, width: float, height: float, more: Callable[[Canvas], None]
) -> Figure:
    """The plan as large as it fits, with no scale but its bar. Arguments as for ``plan_drawing``."""
    on = canvas(plan.bounds, MARGINS, width, height, system, trade=False)
    draw_below_slab(on, plan)
    area(on, plan.outline, width=HEAVY)
    more(on)
    name_below(on, plan, system)
    reach = outer_dimensions(on, plan.outline, system)
    finish_plan(on, plan.bounds, reach, system, title)
    return on.figure


def name_below(on: Canvas, plan: Plan, system: str, edges: bool = True) -> None:
    """Pads, openings and edges that differ, each with its name alone; edges: False leaves them out."""
    notes = [draw_pad(on, t, system) for t in plan.thickenings]
    notes += [draw_opening(on, *o, system) for o in plan.openings]
    found = [(shape, name, "", color) for shape, name, _, color in notes]
    if edges:
        wider = (
            plan.edge is not None and len({edge.width for edge in plan.edge.sides if edge.depth}) > 1
        )
        found += [
            (spot, _told_alone(name, size, wider), "", color)
            for spot, name, size, color in edge_notes(on, plan, system)
        ]
    place_notes(on, plan, found)


def _told_alone(name: str, size: str, wider: bool) -> str:
    """The name of an edge by what tells it apart, as its size is not told beside it: ``edge 1'-4" wide``, or its depth."""
    if not name.endswith(" here"):
        return name
    deep, _, wide = size.rpartition(", ")
    told = wide if wider or not deep else deep.replace(" below the slab", " deep")
    return f"{name.removesuffix(' here')} {told}".removesuffix(" no thickening")


def pad_rows(
    plan: Plan, thickness: float, origin: tuple[float, float], system: str
) -> Iterator[list[str]]:
    """(name, size, middle from the left and from the lower side, bottom below the top) of each pad and strip.

    thickness: of the slab, in feet; origin: the lower left of its outline.
    """
    for pad in plan.thickenings:
        x, y = centre(pad.bottom)
        x0, y0, x1, y1 = pad.bottom.bounds
        size = " × ".join(show_length(Q(v, "ft"), system, small=True) for v in (x1 - x0, y1 - y0))
        size = size.replace(" mm ×", " ×")  # the unit once
        places = (show_length(Q(v - o, "ft"), system) for v, o in zip((x, y), origin, strict=True))
        yield [pad.name, size, *places, show_length(Q(pad.depth + thickness, "ft"), system, small=True)]
