"""Pictures of a plate: contour maps on the plan, a section, the deflected shape.

Black and white is enough to read them: contours carry their value, greater values stand on darker gray,
and where the slab has left the ground it is hatched.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely
from matplotlib.ticker import MaxNLocator
from shapely import LineString, Polygon

from calcbook.plan import drawing
from calcbook.plan.dimensions import dimension
from calcbook.plan.drawing import (
    ACCENT,
    GREY,
    INK,
    LINE,
    SMALL,
    THIN,
    Canvas,
    area,
    canvas,
    label,
    line,
)
from calcbook.plate.model import Line, Patch

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.figure import Figure
    from numpy.typing import NDArray

    from calcbook.plate.result import PlateResult, Values
    from calcbook.plate.section import Ends

_SIDE = 110  # places along the longer side of a map: contours are smooth, and the file stays small
_LEVELS = 7
_SHADES = [str(v) for v in np.linspace(1.0, 0.62, _LEVELS + 2)]


@dataclass(frozen=True)
class Kind:
    """What a map shows: name; title; the field of the values; reading: its worst; per: what turns it into
    US and SI units; units: their names; digits: behind the point."""

    title: str
    field: str
    reading: str
    us: tuple[float, str, int]
    si: tuple[float, str, int]


KINDS = {
    "bottom": Kind("Stress at the bottom", "bottom", "stress at the bottom", (1, "psi", 0), (0.00689476, "MPa", 2)),
    "top": Kind("Stress at the top", "top", "stress at the top", (1, "psi", 0), (0.00689476, "MPa", 2)),
    "deflection": Kind("Deflection", "deflection", "deflection", (1, "in.", 3), (25.4, "mm", 2)),
    "pressure": Kind("Pressure on the soil", "pressure", "soil pressure", (1, "psf", 0), (0.0478803, "kPa", 1)),
}  # fmt: skip


def plate_map(
    result: PlateResult,
    kind: str = "bottom",
    system: str = "us",
    section: Ends | None = None,
) -> Figure:
    """A contour map of one case on the plan, its worst place marked and dimensioned.

    result: a PlateResult; kind: "bottom", "top", "deflection" or "pressure"; system: "us" or "si";
    section: ends of a line that is marked A-A, ft.
    """
    shown = KINDS[kind]
    factor, unit, digits = getattr(shown, system)
    outline = shapely.union_all(result.plate.every)
    on = canvas(
        outline.bounds,
        (44, 54, 40, 46),
        6.5,
        5.6,
        system,
        f"{shown.title}, {unit}",
    )
    under = on.paper.x0 + 4 * on.point, on.paper.y1 - 2.3 * drawing.TITLE * on.point
    label(on, under, f"Case: {result.case.name}", ha="left")
    _contours(on, result, shown.field, factor, digits)
    _plan(on, result)
    _loads(on, result)
    if section:
        _mark(on, section)
    _worst(on, result, shown, factor, f"{unit}", digits, system)
    x0, y0, _, _ = outline.bounds
    drawing.scale_bar(on, (x0, y0 - 38 * on.point), system)
    return on.figure


def _grid(result: PlateResult) -> tuple[NDArray, NDArray, Values]:
    """Values on an even grid over the slab, a little inside its sides."""
    x0, y0, x1, y1 = shapely.union_all(result.plate.every).bounds
    step = max(x1 - x0, y1 - y0) / _SIDE
    nx, ny = (max(2, round(d / step)) for d in (x1 - x0, y1 - y0))
    e = 1e-4
    xs, ys = np.linspace(x0 + e, x1 - e, nx + 1), np.linspace(y0 + e, y1 - e, ny + 1)
    x, y = np.meshgrid(xs, ys)
    return x, y, result.at(x, y)


def _contours(on: Canvas, result: PlateResult, field: str, factor: float, digits: int) -> None:
    x, y, values = _grid(result)
    z = np.ma.masked_invalid(getattr(values, field).reshape(x.shape) * factor)
    low, high = float(z.min()), float(np.percentile(z.compressed(), 99.7))  # a peak alone sets no scale
    if high - low > 1e-9 * max(abs(high), 1):
        levels = np.asarray(MaxNLocator(_LEVELS, min_n_ticks=4).tick_values(low, high))
        levels = levels[levels > low + 0.02 * (high - low)]  # no contour where there is nothing
        shades = [_SHADES[min(n, len(_SHADES) - 1)] for n in range(len(levels) + 1)]
        on.ax.contourf(x, y, z, levels=levels, colors=shades, extend="both", zorder=1)
        drawn = on.ax.contour(x, y, z, levels=levels, colors=INK, linewidths=THIN, zorder=2)
        for text in on.ax.clabel(
            drawn, fmt=lambda v: f"{v:.{digits}f}", fontsize=SMALL - 1, inline_spacing=2
        ):
            text.remove()  # they stand among the lines of the plan, not below them
            on.add(text)
    off = np.ma.masked_invalid(values.deflection.reshape(x.shape))
    if off.min() < -1e-6:
        on.ax.contourf(
            x, y, off, levels=[float(off.min()) - 1, -1e-6], colors="none", hatches=["////"], zorder=2
        )


def _plan(on: Canvas, result: PlateResult) -> None:
    plate = result.plate
    holes = shapely.union_all(plate.openings)
    for region in plate.regions:
        area(on, region.shape.difference(holes), edge=GREY, width=THIN, style=(0, (4, 3)), zorder=3)
    for joint in plate.joints:
        line(on, joint.line, INK, LINE, (0, (7, 2, 1.5, 2)))
    for outline in plate.every:
        area(on, outline, width=1.4, zorder=4)
    for opening in plate.openings:
        area(on, opening, fill="white", zorder=4)


def _loads(on: Canvas, result: PlateResult) -> None:
    for load in result.case.loads:
        if isinstance(load, Patch):
            area(on, load.shape, edge=INK, fill=INK, width=THIN, zorder=5)
        elif isinstance(load, Line):
            line(on, load.line, ACCENT, 1.6, (0, (2, 1)))


def _mark(on: Canvas, section: Ends) -> None:
    """The line of a section, with an A at each end."""
    line(on, section, INK, LINE, (0, (9, 3)))
    way = np.subtract(section[1], section[0])
    beyond = 7 * on.point * way / np.hypot(*way)
    for end, sign in zip(section, (-1, 1), strict=True):
        x, y = np.asarray(end) + sign * beyond
        label(on, (float(x), float(y)), "A", SMALL, INK)


def _worst(
    on: Canvas, result: PlateResult, shown: Kind, factor: float, unit: str, digits: int, system: str
) -> None:
    """A cross at the worst place, its value, and how far it is from two sides of the drawing."""
    reading = result.worst[shown.reading]
    x, y = reading.x, reading.y
    arm = 4 * on.point
    for sign in (1, -1):
        line(on, [(x - arm, y - sign * arm), (x + arm, y + sign * arm)], ACCENT, 1.4)
    x0, y0, x1, y1 = shapely.union_all(result.plate.every).bounds
    right = x < (x0 + x1) / 2
    to = x + (26 if right else -26) * on.point, y + (18 if y < (y0 + y1) / 2 else -18) * on.point
    drawing.leader(
        on,
        (x, y),
        to,
        f"{reading.value * factor:.{digits}f} {unit}",
        ha="left" if right else "right",
        color=ACCENT,
    )
    corner_x, corner_y, _, _ = result.plate.outlines[0].bounds  # a slab beside may reach farther
    if x - corner_x > 2 * arm:
        text = drawing.length_text(x - corner_x, system)
        dimension(on, (corner_x, y0), (x, y0), -14, text, color=ACCENT)
    if y - corner_y > 2 * arm:
        text = drawing.length_text(y - corner_y, system)
        dimension(on, (x0, corner_y), (x0, y), 16, text, color=ACCENT)


def deflected_shape(result: PlateResult, system: str = "us") -> Figure:
    """The slab seen from above one corner, its deflection drawn many times too large.

    result: a PlateResult; system: "us" or "si".
    """
    outline = shapely.union_all(result.plate.every)
    x0, y0, x1, y1 = outline.bounds
    lines = _strings(outline, max(x1 - x0, y1 - y0) / 26)
    down = np.split(
        result.at(*np.concatenate(lines).T).deflection, len(lines)
    )  # as many places on each
    most = max((float(np.nanmax(np.abs(d))) for d in down if np.isfinite(d).any()), default=0.0)
    tall = 0.12 * max(x1 - x0, y1 - y0) / max(most, 1e-9)
    drawn = [_seen(p, d * tall) for p, d in zip(lines, down, strict=True)]
    every = np.concatenate(drawn)
    bounds = (*np.nanmin(every, 0), *np.nanmax(every, 0))
    factor, unit, digits = getattr(KINDS["deflection"], system)
    words = f"Deflected shape: {result.case.name}"
    on = canvas(bounds, (20, 30, 20, 10), 6.5, 5.0, system, words)
    for points in drawn:
        for part in _runs(points):
            line(on, part, INK, THIN)
    told = (
        f"deflection drawn {tall * 12:,.0f} times too large; greatest {most * factor:.{digits}f} {unit}"
    )
    label(on, (bounds[0], bounds[1] - 18 * on.point), told, SMALL, GREY, ha="left")
    return on.figure


def _strings(outline: Polygon, step: float) -> list[NDArray]:
    """Lines across the slab both ways, as places close to each other."""
    x0, y0, x1, y1 = outline.bounds
    found = []
    for low, high, other in (((x0, y0), (x1, y1), 0), ((y0, x0), (y1, x1), 1)):
        n = max(2, round((high[0] - low[0]) / step))
        across = np.linspace(low[1] + 1e-4, high[1] - 1e-4, 120)
        for at in np.linspace(low[0] + 1e-4, high[0] - 1e-4, n + 1):
            pair = np.full(120, at), across
            found.append(np.column_stack(pair if other == 0 else pair[::-1]))
    return found


def _seen(points: NDArray, down: NDArray) -> NDArray:
    """Places of the plan as they look from above a corner."""
    return np.column_stack([points[:, 0] + 0.45 * points[:, 1], 0.5 * points[:, 1] - down])


def _runs(points: NDArray) -> Sequence[NDArray]:
    """A line where it is on the slab, thinned where it is straight."""
    on = np.isfinite(points).all(1)
    cuts = np.flatnonzero(np.diff(on.astype(int))) + 1
    parts = [p for p, flag in zip(np.split(points, cuts), np.split(on, cuts), strict=True) if flag[0]]
    return [np.asarray(LineString(p).simplify(0.01).coords) for p in parts if len(p) > 1]
