"""Dimensions around an outline: every side shown once, in chains outside it or in its notches."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely import Polygon

from calcbook.plan.drawing import GAP, SMALL, chain, dimension, length_text

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from calcbook.plan.drawing import Canvas

FIRST = 16.0  # from the slab to the first dimension line, in points
NOTCH = 13.0  # from a side to its own dimension line
_LEAST = 12.0  # a side shorter than this on paper is told by its neighbours, unless a chain shows it
_MOST_STATIONS = 12
_SIDES = {"bottom": (0, -1), "right": (1, 0), "top": (0, 1), "left": (-1, 0)}


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
