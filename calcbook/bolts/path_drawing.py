"""The path of a wall as a drawing: its elevation with openings, what lifts, what each bolt takes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from shapely import box

from calcbook.basis.showing import show
from calcbook.basis.units import Q
from calcbook.loads.closing import combination
from calcbook.loads.path import on_plate
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
    line,
    scale_bar,
    trim,
)

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from calcbook.bolts.bolted import Bolted
    from calcbook.plan.drawing import Canvas

_LEAST_HEIGHT = 6.0  # feet drawn where a wall's height is not given
_HEAD = 6.8  # feet to the head of an opening, as drawn
_SILL = 3.0  # feet to the sill of a window, as drawn
_ARROW = 26.0  # points of the longest arrow


def path_drawing(w: Bolted, system: str = "us") -> Figure:
    """Elevation of a bolted wall: wind less dead load on top, lift at jambs, and the tension of every bolt.

    w: Bolted wall; system: units of the words. Arrows are drawn to one scale. Returns a matplotlib Figure.
    """
    model, (level, name, forces) = w.brought.model, w.hardest_lift
    on = on_plate(model, combination(name))
    high = max(model.height, _LEAST_HEIGHT)
    pic = canvas((0, 0, model.length, high), (34, 70, 34, 60), 6.5, 4.2, system)
    area(pic, box(0, 0, model.length, high), edge=INK, fill="white", width=LINE)
    for o in model.openings:
        top = min(_HEAD, 0.8 * high)
        area(
            pic,
            box(o.start, 0 if o.door else min(_SILL, top / 2), o.end, top),
            edge=INK,
            fill=PALE,
            width=THIN,
        )
    jambs = [(p.at, level * p.load) for p in on.points if p.load > 0]
    most = max([*forces, *(load for _, load in jambs), 1.0])
    line(pic, [(0, 0), (model.length, 0)], width=HEAVY)
    for at, load in jambs:
        _arrow(pic, at, 0.15 * high, load / most, GREY)
        aside, ha = _beside(w, at)
        spot = (at + aside * pic.point, 0.15 * high + (_ARROW + 6) * pic.point)
        label(pic, spot, _pounds(load, system), SMALL, GREY, ha=ha)
    for (_, at), force in zip(w.plate[1], forces, strict=True):
        _arrow(pic, at, -4 * pic.point, -force / most, ACCENT)
    k = max(range(len(forces)), key=lambda n: forces[n], default=None)
    if k is not None and forces[k] > 0:
        at = w.plate[1][k][1]
        label(
            pic,
            (at, -(_ARROW + 12) * pic.point),
            f"bolt {k + 1}: {_pounds(forces[k], system)}",
            SMALL,
            ACCENT,
        )
    net = level * next((u for _, _, u in on.lines), 0.0)
    label(pic, (model.length / 2, high + 14 * pic.point), _on_top(net, system), SMALL, INK)
    foot = -(_ARROW + 30) * pic.point
    scale_bar(pic, (0, foot), system)
    label(pic, (0, foot - 17 * pic.point), "grey: lift at jambs and posts; color: tension of the bolts, to one scale",
          SMALL, GREY, ha="left")  # fmt: skip
    bounds = (
        -26 * pic.point,
        foot - 26 * pic.point,
        model.length + 26 * pic.point,
        high + 24 * pic.point,
    )
    told = name if level == 1.0 else f"{level:g} ({name})"
    trim(pic, bounds, f"Where the load goes, wall {w.sill.name}: {told}")
    return pic.figure


def _beside(w: Bolted, at: float) -> tuple[float, str]:
    """How many points beside a jamb its load is written, and aligned how: outside the opening, off its line."""
    for o in w.brought.model.openings:
        if at in (o.start, o.end):
            return (-3.0, "right") if at == o.start else (3.0, "left")
    return 0.0, "center"


def _arrow(pic: Canvas, x: float, y: float, share: float, color: str) -> None:
    """An arrow from (x, y) upward for a share above zero, downward below it."""
    if abs(share) < 1e-3:
        return
    arrow(pic, (x, y), (x, y + share * _ARROW * pic.point), color)


def _pounds(load: float, system: str) -> str:
    return show(Q(load, "lbf"), "lbf", system)


def _on_top(net: float, system: str) -> str:
    told = show(Q(abs(net), "plf"), "plf", system)
    return f"net {told} upward at the plate" if net > 0 else f"net {told} downward at the plate"
