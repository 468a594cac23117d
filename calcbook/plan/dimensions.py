"""Dimension lines as a builder draws them; and around an outline: every side shown once, in chains outside it or in its notches."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely import Polygon

from calcbook.plan.drawing import (
    GAP,
    GREY,
    INK,
    LINE,
    SMALL,
    THIN,
    label,
    length_text,
    stroke,
    text_width,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from calcbook.plan.drawing import Canvas

FIRST = 16.0  # from the slab to the first dimension line, in points
NOTCH = 13.0  # from a side to its own dimension line
_LEAST = 12.0  # a side shorter than this on paper is told by its neighbours, unless a chain shows it
_MOST_STATIONS = 12
_SIDES = {"bottom": (0, -1), "right": (1, 0), "top": (0, 1), "left": (-1, 0)}


def dimension(
    on: Canvas,
    p: NDArray | tuple[float, float],
    q: NDArray | tuple[float, float],
    offset: float,
    text: str,
    size: float = SMALL,
    color: str = INK,
    step: int = 0,
    feet: Sequence[tuple[float, float]] | None = None,
) -> None:
    """A dimension line with extension lines, slanted ticks and its text.

    on: a Canvas; p, q: the two points measured, (x, y) in feet; offset: distance of the line from
    p-q in points, positive to the left of the way from p to q; text: what it says; size: of its letters, in points; step: where the
    line is too short for its text, the text stands outside it, this many lines further out
    (so that short neighbours do not collide); feet: the two points that the extension lines come
    from, where not p and q.
    """
    p, q = (np.asarray(end, float) for end in (p, q))
    along = (q - p) / np.hypot(*(q - p))
    across = np.array([-along[1], along[0]]) * np.sign(offset or 1.0)
    shift = across * abs(offset) * on.point
    a, b = p + shift, q + shift
    for foot, end in zip(feet or (p, q), (a, b), strict=True):
        start, stop = np.asarray(foot) + across * 2.5 * on.point, end + across * 2.5 * on.point
        if (stop - start) @ across > 4 * on.point:
            stroke(on, (start, stop), GREY, THIN)
    stroke(on, (a, b), color, THIN)
    slant = (along + np.array([-along[1], along[0]])) / np.sqrt(2) * 3.0 * on.point
    for end in (a, b):
        stroke(on, (end - slant, end + slant), color, LINE)
    fitting = fits(on, np.hypot(*(q - p)), text, size)
    aside = _upward(along) * 0.66 if fitting else across * (0.85 + 1.2 * step)
    label(
        on,
        (a + b) / 2 + aside * size * on.point,
        text,
        size,
        color,
        _readable(along),
        ground=not fitting,
    )


def fits(on: Canvas, length: float, text: str, size: float = SMALL) -> bool:
    """True where a text in letters of a size (points) fits along a length in feet."""
    return text_width(text, size) + 4 <= length / on.point


def chain(
    on: Canvas,
    stations: Sequence[tuple[float, float]],
    level: float,
    offset: float,
    axis: str = "x",
    system: str = "us",
    small: bool = False,
) -> float:
    """Dimension lines end to end, along x or y.

    stations: (place along the axis, where its extension line starts on the other axis), in feet, in
    order; level: what the offset counts from, on the other axis, in feet; offset: in points, towards
    smaller values where negative; system, small: how lengths are written. Returns how far out it
    reaches, in points.
    """
    # where texts stand outside the line anyhow, one that is too long goes further out
    nearest = int((offset > 0) == (axis == "x"))
    reach, step = abs(offset) + 1.3 * SMALL, -1
    for (a, foot_a), (b, foot_b) in itertools.pairwise(stations):
        text = length_text(b - a, system, small)
        step = -1 if fits(on, b - a, text) else (step + 1) % 2
        out = nearest + max(step, 0)
        ends, feet = ((a, level), (b, level)), ((a, foot_a), (b, foot_b))
        if axis == "y":
            ends, feet = (((x0, y0), (x1, y1)) for (y0, x0), (y1, x1) in (ends, feet))
        dimension(on, *ends, offset if axis == "x" else -offset, text, step=out, feet=feet)
        if step >= 0:
            reach = max(reach, abs(offset) + (1.5 + 1.2 * out) * SMALL)
    return reach


def _upward(along: NDArray) -> NDArray:
    """The side of a line on which its text stands, as read from below or from the right."""
    normal = np.array([-along[1], along[0]])
    angle = np.deg2rad(_readable(along))
    return normal if normal @ np.array([-np.sin(angle), np.cos(angle)]) > 0 else -normal


def _readable(along: NDArray) -> float:
    """Angle of text along a line, so that it reads from below or from the right."""
    angle = np.degrees(np.arctan2(along[1], along[0]))
    if angle > 90 + 1e-6:
        return angle - 180
    return angle + 180 if angle <= -90 + 1e-6 else angle


def outer_dimensions(
    on: Canvas,
    outline: Polygon,
    system: str = "us",
    inner: Sequence[Sequence[float] | NDArray] = ((), ()),
) -> dict[str, float]:
    """Dimension every side of an outline: chains outside, overall lengths, and sides in notches.

    on: a Canvas; outline: Polygon in feet; inner: further places along x and along y (of pads,
    openings), for chains of their own below and left of it. Returns how far each of "bottom",
    "right", "top" and "left" reaches outside, in points.
    """
    x0, y0, x1, y1 = outline.bounds
    levels = {"bottom": y0, "top": y1, "left": x0, "right": x1}
    seen, reach = set(), {}
    for side, level in levels.items():
        stations, used = _visible(on, outline, side)
        seen |= used
        across = side in ("bottom", "top")
        span = (x0, x1) if across else (y0, y1)
        rows = [] if _is_whole(stations, span) else [stations]
        if side in ("bottom", "left"):
            own = _inner_row(inner[0 if across else 1], span, level)
            rows = [*own, *rows, [(v, level) for v in span]]
        sign, offset = -1 if side in ("bottom", "left") else 1, FIRST
        for row in rows:
            offset = (
                GAP - 0.3 * SMALL + chain(on, row, level, sign * offset, "x" if across else "y", system)
            )
        reach[side] = offset if rows else 6.0
    _inside_dimensions(on, outline, system, seen)
    return reach


def _is_whole(stations: Sequence[tuple[float, float]], span: tuple[float, float]) -> bool:
    return len(stations) == 2 and np.allclose([s[0] for s in stations], span)


def _inner_row(
    places: Sequence[float] | NDArray, span: tuple[float, float], level: float
) -> list[list[tuple[float, float]]]:
    inside = [p for p in places if span[0] < p < span[1]]
    if not inside or len(inside) > _MOST_STATIONS:
        return []
    return [[(span[0], level), *((p, level) for p in inside), (span[1], level)]]


def _sides(outline: Polygon) -> Iterator[tuple[int, tuple[NDArray, NDArray]]]:
    corners = np.asarray(shapely.orient_polygons(outline).exterior.coords)[:, :2]
    return enumerate(itertools.pairwise(corners))


def _visible(on: Canvas, outline: Polygon, side: str) -> tuple[list[tuple[float, float]], set[int]]:
    """Stations of the sides that one sees from outside in one direction, and which sides those are."""
    direction, axis = np.array(_SIDES[side]), 0 if side in ("bottom", "top") else 1
    far = dict(zip(("left", "bottom", "right", "top"), outline.bounds, strict=True))[side]
    nearer = max if direction[1 - axis] > 0 else min
    stations: dict[float, float] = {}
    used = set()
    for k, (p, q) in _sides(outline):
        way = q - p
        outward = np.array([way[1], -way[0]]) / np.hypot(*way)
        small = _is_slanted(way) and abs(way[axis]) / on.point < _LEAST
        if outward @ direction < 1e-9 or small or _is_hidden(p, q, axis, far, outline):
            continue
        used.add(k)
        for c in (p, q):
            place, foot = round(float(c[axis]), 6), float(c[1 - axis])
            stations[place] = nearer(foot, stations.get(place, foot))
    return sorted(stations.items()), used


def _is_slanted(way: NDArray) -> bool:
    return min(abs(way)) > 1e-9


def _is_hidden(p: NDArray, q: NDArray, axis: int, far: float, outline: Polygon) -> bool:
    """True where the slab stands between a side and the place that one looks from."""
    view = [p, q, q.copy(), p.copy()]
    for corner in view[2:]:
        corner[1 - axis] = far
    return Polygon(view).buffer(0).intersection(outline).area > 1e-6


def _inside_dimensions(on: Canvas, outline: Polygon, system: str, seen: set[int]) -> None:
    """Sides that no chain shows: slanted ones (dimensioned inside), and those facing into a notch."""
    done = set()
    for k, (p, q) in _sides(outline):
        way = q - p
        length, slanted = float(np.hypot(*way)), _is_slanted(way)
        if (k in seen and not slanted) or length / on.point < _LEAST:
            continue
        axis = 0 if abs(way[0]) > abs(way[1]) else 1
        extent = None if slanted else (axis, *np.round(sorted((p[axis], q[axis])), 4))
        if extent is None or extent not in done:
            ends = (p, q) if slanted else (q, p)
            dimension(on, *ends, NOTCH, length_text(length, system))
            done.add(extent)
