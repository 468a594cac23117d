"""Sections through the slab as drawings: slab, stone, sheet, thickened edge and its dimensions."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

from shapely import LineString, Polygon, box

from calcbook.basis.units import Q
from calcbook.plan.dimensions import chain
from calcbook.plan.drawing import (
    ACCENT,
    GREY,
    HEAVY,
    LINE,
    PALE,
    SMALL,
    THIN,
    area,
    canvas,
    label,
    leader,
    length_text,
    line,
    scale_bar,
    text_width,
    trim,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.figure import Figure

    from calcbook.basis.units import Quantity
    from calcbook.plan.drawing import Canvas
    from calcbook.plan.edge import EdgeRing, Ledge

_SLAB, _SOIL = 3.0, 1.3  # feet of slab and of ground shown beyond the thickened edge
_MARGINS = (84, 100, 44, 50)
DASHES = (0, (6, 2))
_ROW = 24.0  # between dimension lines, in points


def section_drawing(
    t: Quantity,
    base: Quantity,
    edge: EdgeRing | None = None,
    above_grade: Quantity = Q(0, "in"),
    system: str = "us",
    title: str = "Section at the edge",
    sheet: Sequence[tuple[float, float]] = (),
    ledge: Ledge | None = None,
    against: bool = False,
) -> Figure:
    """Section through the edge of a slab, at a true scale, with its dimensions.

    t: slab thickness; base: stone thickness; above_grade: top of slab above the ground (lengths);
    edge: EdgeRing, or None; system: "us" or "si"; sheet: where the sheet on the stone goes at the edge,
    as ``sheet_edge.sheet_line`` gives it, none without; ledge: where the top is lowered at the outline;
    against: whether a wall stands there. Returns a matplotlib Figure.
    """
    thick, bed, top = (q.m_as("foot") for q in (t, base, above_grade))
    d, b, slope = (edge.depth, edge.width, edge.slope) if edge else (0.0, 0.0, 0.0)
    under, right = top - thick, b + slope * d + _SLAB
    lowest = min(under - max(d, bed), 0.0)
    on = canvas((-_SOIL, lowest, right, max(top, 0.0)), _MARGINS, 6.5, 4.5, system)
    face = (
        [(0.0, top - ledge.drop), (ledge.width, top - ledge.drop), (ledge.width, top)]
        if ledge
        else [(0.0, top)]
    )
    profile = [(right, under), (b + slope * d, under), (b, under - d), (0, under - d)]
    if not d:
        profile = [(right, under), (0, under)]
    concrete = Polygon([*face, (right, top), *profile])
    stone = box(0, under - bed, right, under).difference(Polygon([(0, top), (right, top), *profile]))
    _draw_ground(on, under - bed, concrete, stone, outside=not against)
    area(on, stone, edge=GREY, width=THIN, hatch="oo")
    area(on, concrete, edge="none", fill=PALE)
    line(on, [*profile, *face, (right, top)], width=HEAVY)
    if against:
        _draw_wall(on, under - bed, top)
    if sheet:
        laid = LineString([(right, under), *((x, under + y) for x, y in sheet)])
        off = laid.offset_curve(2.4 * on.point, join_style="mitre")
        line(on, off.coords, ACCENT, HEAVY, DASHES)
    _draw_break(on, right, top, under - bed)
    chain(on, [(under - bed, right), (under, right), (top, right)] if bed else [(under, right), (top, right)],
          right, 18, "y", system, True)  # fmt: skip
    if not against:
        _draw_left(on, under - d, under, top, system)
    if ledge:
        chain(on, [(0.0, top), (ledge.width, top)], top, 12, "x", system, True)
        leader(on, (ledge.width, top - ledge.drop / 2), (ledge.width + 10 * on.point, top + 26 * on.point),
               f"{length_text(ledge.drop, system, True)} lower")  # fmt: skip
    if d:
        chain(on, [(0, under - d), (b, under - d), *([(b + slope * d, under)] if slope else [])],
              lowest, -20, "x", system, True)  # fmt: skip
    _name_parts(on, right, top, under, bed, bool(sheet))
    foot = lowest - (64 if d else 36) * on.point
    bar = scale_bar(on, (0, foot), system)
    edges = -_SOIL - 3.2 * _ROW * on.point, foot - 16 * on.point, max(bar, right + 40 * on.point)
    trim(on, (*edges, max(top, 0.0) + (42 if ledge or against else 28) * on.point), title)
    return on.figure


def _draw_ground(on: Canvas, cut: float, concrete: Polygon, stone: Polygon, outside: bool) -> None:
    """The ground outside, and the bottom of what is dug, with short strokes for soil."""
    if outside:
        _draw_soil(on, -_SOIL, 0.0, 0.0)
        label(on, (-_SOIL / 2, 6 * on.point), "ground", SMALL, GREY, ground=True)
    right = concrete.bounds[2]
    for shape in (concrete, stone):
        corners = list(shape.exterior.coords) if not shape.is_empty else []
        for (xa, ya), (xb, yb) in itertools.pairwise(corners):
            if ya == yb == shape.bounds[1]:
                _draw_soil(on, min(xa, xb), max(xa, xb), min(ya, 0.0) if shape is stone else ya)
    if cut > 0:
        label(on, (right * 0.7, cut / 2), "fill", SMALL, GREY)


def _draw_wall(on: Canvas, bottom: float, top: float) -> None:
    """The wall that is there, with the isolation strip between it and the slab."""
    strip, thick = 3.0 * on.point, 0.5
    foot, head = bottom - 8 * on.point, top + 12 * on.point
    area(on, box(-strip - thick, foot, -strip, head), fill="white", hatch="////", width=LINE, zorder=3)
    area(on, box(-strip, bottom, 0, top), edge="none", fill=ACCENT, zorder=3)
    words = "wall, and isolation strip"
    middle = -strip - thick / 2 - text_width(words, SMALL) * on.point / 2
    label(on, (middle + thick, head + 8 * on.point), words, SMALL)


def _draw_soil(on: Canvas, left: float, right: float, y: float) -> None:
    line(on, [(left, y), (right, y)], GREY, THIN)
    step = 7 * on.point
    for k in range(1, int((right - left) / step) + 1):
        x = left + k * step
        line(on, [(x, y), (x - 0.7 * step, y - 0.7 * step)], GREY, THIN)


def _draw_break(on: Canvas, right: float, top: float, bottom: float) -> None:
    """The sign that the slab goes on."""
    middle, tooth = (top + bottom) / 2, 5 * on.point
    line(on, [
        (right, top + tooth), (right, middle + tooth), (right - tooth, middle + tooth / 3),
        (right + tooth, middle - tooth / 3), (right, middle - tooth), (right, bottom - tooth),
    ], GREY, LINE)  # fmt: skip


def _draw_left(on: Canvas, bottom: float, under: float, top: float, system: str) -> None:
    """Height above ground, then slab and thickened edge, then the two together."""
    rows = [[(0.0, 0.0), (top, 0.0)]] if top > 0 else []
    if bottom < under:
        rows += [[(bottom, 0.0), (under, 0.0), (top, 0.0)], [(bottom, 0.0), (top, 0.0)]]
    for number, row in enumerate(rows, 1):
        chain(on, row, -_SOIL, -_ROW * (number - 0.4), "y", system, True)


def _name_parts(
    on: Canvas, right: float, top: float, under: float, base: float, retarder: bool
) -> None:
    """Names above the slab, each with a line down to its part."""
    parts = [("concrete", (top + under) / 2)]
    parts += [("vapor retarder", under - 2.4 * on.point)] * retarder
    parts += [("stone", under - base / 2)] * (base > 0)
    x = right
    for name, y in reversed(parts):
        x -= (text_width(name, SMALL) + 14) * on.point
        leader(on, (x, y), (x, top + 14 * on.point), name)
