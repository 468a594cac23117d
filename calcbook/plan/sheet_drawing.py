"""The layout of the vapor retarder as a drawing: sheets, laps, rolls."""

from __future__ import annotations

from typing import TYPE_CHECKING

from shapely import box

from calcbook.plan.dimensions import FIRST, chain
from calcbook.plan.drawing import (
    ACCENT,
    GAP,
    GREY,
    HEAVY,
    INK,
    SMALL,
    THIN,
    area,
    canvas,
    label,
    length_text,
    text_width,
)
from calcbook.plan.outline import centre
from calcbook.plan.slab_drawing import DASHED, finish_plan

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.figure import Figure
    from shapely.geometry import Polygon

    from calcbook.plan.drawing import Canvas
    from calcbook.plan.outline import Opening
    from calcbook.plan.sheets import Layout, Sheet

_MARGINS = (84, 96, 40, 60)
_SPOTS = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82)  # along a sheet, for its words
_ASIDE = 2.0  # sizes of type that they may stand out of its middle


def retarder_drawing(
    layout: Layout,
    openings: Sequence[Opening] = (),
    system: str = "us",
) -> Figure:
    """Every sheet in its place, with number, length and roll; laps hatched; the slab's edge heavy; its
    reach beyond it dashed; pads and strips that are lined by name.

    layout: a Layout; openings: (name, Polygon) pairs; system: "us" or "si". Returns a matplotlib Figure.
    """
    bounds = _around([layout.outline, *(s.shape for s in layout.sheets)])
    on = canvas(bounds, _MARGINS, 6.5, 7.0, system)
    for sheet in layout.sheets:
        area(on, sheet.shape, edge=INK, width=1.4 * THIN)
    for k, sheet in enumerate(layout.sheets):
        for other in layout.sheets[k + 1 :]:
            lap = sheet.shape & other.shape
            if lap.area > 1e-9:
                area(on, lap, edge=ACCENT, width=THIN, hatch="//////")
    area(on, layout.region, edge=GREY, width=THIN, style=DASHED, zorder=3)
    area(on, layout.outline, width=HEAVY, zorder=3)
    for _, shape in openings:
        area(on, shape, edge=GREY, width=THIN, style=DASHED, zorder=3)
    for lining in layout.linings:
        area(on, lining.rim, edge=ACCENT, width=THIN, zorder=3)
        label(on, centre(lining.rim), lining.name, SMALL, ACCENT, ground=True)
    for sheet in layout.sheets:
        _name_sheet(on, sheet, layout, system)
    finish_plan(on, bounds, _dimension_sheets(on, layout, bounds, system), system, "Vapor retarder")
    return on.figure


def _around(shapes: Sequence[Polygon]) -> tuple[float, float, float, float]:
    boxes = [s.bounds for s in shapes]
    return tuple(f(b[i] for b in boxes) for i, f in enumerate((min, min, max, max)))


def _name_sheet(on: Canvas, sheet: Sheet, layout: Layout, system: str) -> None:
    text = f"{sheet.number}: {length_text(sheet.length, system)}, roll {sheet.roll}"
    along = sheet.length / on.point
    across = sheet.shape.area / sheet.length / on.point
    angle = 0 if layout.direction == "x" else 90
    if layout.direction == "y" and across > text_width(text, SMALL) + 4:
        angle = 0
    if min(along, across) < SMALL or (text_width(text, SMALL) > along and angle != 0):
        text = str(sheet.number)
    label(on, _clear_spot(on, sheet, layout, text, angle), text, SMALL, angle=angle, ground=True)


def _clear_spot(
    on: Canvas, sheet: Sheet, layout: Layout, text: str, angle: float
) -> tuple[float, float]:
    """Where a sheet's words hide no name of a lining: its middle, or the nearest such place along it."""
    part = sheet.shape & layout.region
    x, y = centre(part)
    x0, y0, x1, y1 = part.bounds
    names = [_text_box(on, centre(n.rim), n.name, 0) for n in layout.linings]
    spots = [(x, y)]
    for aside in (0.0, _ASIDE, -_ASIDE):
        for share in _SPOTS:
            across = aside * SMALL * on.point
            lengthwise = (x0 + share * (x1 - x0), y + across), (x + across, y0 + share * (y1 - y0))
            spots.append(lengthwise[0 if layout.direction == "x" else 1])
    clear = (at for at in spots if not any(_text_box(on, at, text, angle).intersects(n) for n in names))
    return next(clear, (x, y))


def _text_box(on: Canvas, at: tuple[float, float], text: str, angle: float) -> Polygon:
    wide, high = 0.42 * text_width(text, SMALL) * on.point, 0.6 * SMALL * on.point
    if angle:
        wide, high = high, wide
    return box(at[0] - wide, at[1] - high, at[0] + wide, at[1] + high)


def _dimension_sheets(
    on: Canvas, layout: Layout, bounds: tuple[float, float, float, float], system: str
) -> dict[str, float]:
    """Where strips begin, on the side across them, and the slab's own size."""
    x0, y0, x1, y1 = bounds
    ox0, oy0, ox1, oy1 = layout.outline.bounds
    lowers = sorted(
        {round(s.shape.bounds[0 if layout.direction == "y" else 1], 4) for s in layout.sheets}
    )
    last = x1 if layout.direction == "y" else y1
    rows = {"x": [[(ox0, oy0), (ox1, oy0)]], "y": [[(oy0, ox0), (oy1, ox0)]]}
    across, level = ("x", y0) if layout.direction == "y" else ("y", x0)
    if len(lowers) <= 12:
        rows[across].insert(0, [(v, level) for v in [*lowers, last]])
    reach = {"top": 6.0, "right": 6.0}
    for axis, side, start in (("x", "bottom", y0), ("y", "left", x0)):
        offset = FIRST
        for row in rows[axis]:
            offset = GAP - 0.3 * SMALL + chain(on, row, start, -offset, axis, system)
        reach[side] = offset
    return reach
