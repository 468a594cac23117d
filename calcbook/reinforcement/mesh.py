"""Sheets of welded wire and bars laid out on a plan."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import shapely
from shapely import box

from calcbook.basis.arguments import quantities
from calcbook.basis.formula import FormulaError, arg, cite, procedure, result
from calcbook.basis.showing import show_length
from calcbook.basis.units import Q, Quantity, number_in
from calcbook.job.bars import bars_for_runs, lapped
from calcbook.plan.cutting import whole_from

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from shapely.geometry import Polygon

    from calcbook.basis.units import Given


@dataclass(frozen=True)
class MeshSheets:
    """Sheets on a plan: rectangles in feet, how many are bought, their area with laps, and how long each piece is, ft."""

    pieces: tuple[Polygon, ...]
    count: int
    along: str
    area: Quantity
    lengths: tuple[float, ...] = ()

    def __str__(self) -> str:
        return f"{self.count} sheets, {len(self.pieces)} pieces laid along {self.along}"


@procedure(
    "Sheets of welded wire on a plan",
    cite("geometry", "strips with laps; cut-offs are used again where they fit"),
    "strips of a sheet's width less its lap cover the slab, along x and along y; each strip is filled "
    "with sheets that lap; a cut-off that is long enough is used again; the way with fewer sheets is taken",
)
def mesh_sheets(
    outline: Polygon,
    sheet: tuple[Given, Given] = (Q(10, "ft"), Q(5, "ft")),
    lap: Given = Q(8, "in"),
    cover: Given = Q(2, "in"),
) -> MeshSheets:
    """Sheets of welded wire for a slab. Returns MeshSheets.

    outline: shapely Polygon in feet; sheet: (length, width); lap: of neighbours both ways; cover:
    between the wire and the edge of the slab. Raises FormulaError where the lap uses a sheet up.
    """
    length, width = sheet
    specs = {name: arg("ft", name, above=0, high=400) for name in ("length", "width")}
    specs |= {name: arg("in", name, low=0, high=120) for name in ("lap", "cover")}
    given = quantities("mesh_sheets", specs, length=length, width=width, lap=lap, cover=cover)
    long, wide, over, rim = (number_in(v, "ft") for v in given.values())
    if over >= min(long, wide) / 2:
        raise FormulaError(
            f"mesh_sheets: a lap of {show_length(given['lap'])} is too much for a sheet "
            f"{show_length(given['width'])} wide"
        )
    inner = outline.buffer(-rim, join_style="mitre")
    if inner.is_empty:
        raise FormulaError("mesh_sheets: the cover leaves no room for wire; check outline and cover")
    ways = [_laid(inner, long, wide, over, along) for along in ("x", "y")]
    return min(ways, key=lambda way: way.count)


def _laid(inner: Polygon, long: float, wide: float, over: float, along: str) -> MeshSheets:
    pieces = [
        p
        for strip in _strips(inner, wide, over, along)
        for p in _filled(inner, strip, long, over, along)
    ]
    lengths = tuple(_length(p, along) for p in pieces)
    area = math.fsum(lengths) * wide
    return MeshSheets(tuple(pieces), whole_from(lengths, long), along, Q(area, "ft2"), lengths)


def sheets_together(slabs: Sequence[MeshSheets], long: Quantity) -> int:
    """Sheets bought for several slabs at once: a cut-off of one may serve another, so never more than each by itself.

    long: length of a sheet.
    """
    pooled = whole_from((v for one in slabs for v in one.lengths), number_in(long, "ft"))
    return min(pooled, sum(one.count for one in slabs))


def _length(piece: Polygon, along: str) -> float:
    x0, y0, x1, y1 = piece.bounds
    return x1 - x0 if along == "x" else y1 - y0


def _strips(inner: Polygon, wide: float, over: float, along: str) -> Iterator[Polygon]:
    """Bands across the slab, one sheet wide, lapping."""
    x0, y0, x1, y1 = inner.bounds
    low, high = (y0, y1) if along == "x" else (x0, x1)
    n = max(1, math.ceil((high - low - over) / (wide - over) - 1e-9))
    for i in range(n):
        a = low + i * (wide - over)
        yield box(x0, a, x1, a + wide) if along == "x" else box(a, y0, a + wide, y1)


def _filled(inner: Polygon, strip: Polygon, long: float, over: float, along: str) -> Iterator[Polygon]:
    """The sheets of one band: as long as the slab is there, each but the last whole."""
    for part in shapely.get_parts(strip & inner):
        if part.area < 1e-9:
            continue
        x0, y0, x1, y1 = part.bounds
        start, stop = (x0, x1) if along == "x" else (y0, y1)
        while start < stop - 1e-9:
            end = min(start + long, stop)
            yield box(start, y0, end, y1) if along == "x" else box(x0, start, x1, end)
            if end >= stop - 1e-9:
                break
            start = end - over


@dataclass(frozen=True)
class BarsLaid:
    """Bars both ways on a plan: their length with laps, and how many bars of the stock length they take."""

    length: Quantity
    count: int


COVER = Q(3, "in")  # between the end of a bar and the edge of the slab
_BARS = {"spacing": arg("in", "spacing", above=0, high=60), "stock": arg("ft", "stock length", above=0),
         "lap": arg("in", "lap", low=0), "cover": arg("in", "cover", low=0)}  # fmt: skip


@procedure(
    "Bars on a plan",
    cite("geometry", "lines at the spacing, both ways, with laps"),
    "lines at the spacing, half a spacing from the rim, run both ways across the slab; a line longer than "
    "the stock length has laps",
    returns=result("ft", "length of bar, laps included"),
)
def bar_length(
    outline: Polygon,
    spacing: Given,
    stock: Given = Q(20, "ft"),
    lap: Given = Q(18, "in"),
    cover: Given = COVER,
) -> Quantity:
    """Length of bar for a mat both ways, laps included. Returns feet.

    outline: shapely Polygon in feet; spacing: in.; stock: length of a bar; lap: of two bars; cover:
    between bar end and edge.
    """
    return bars_laid(outline, spacing, stock, lap, cover).length


def bars_laid(
    outline: Polygon, spacing: Given, stock: Given, lap: Given, cover: Given = COVER
) -> BarsLaid:
    """The BarsLaid of a mat both ways.

    outline: shapely Polygon in feet; spacing: in.; stock: length of a bar, ft; lap: of two bars, in.; cover: between bar
    end and edge, in.
    """
    given = quantities("bar_length", _BARS, spacing=spacing, stock=stock, lap=lap, cover=cover)
    step, long, over, rim = (number_in(v, "ft") for v in given.values())
    if over >= long:
        raise FormulaError(
            "bar_length: the lap is as long as the bar; give a shorter lap or longer stock"
        )
    inner = outline.buffer(-rim, join_style="mitre")
    runs = list(_runs(inner, step))
    length = math.fsum(piece for run in runs for piece in lapped(run, long, over))
    return BarsLaid(Q(length, "ft"), bars_for_runs(runs, long, over))


def _runs(inner: Polygon, step: float) -> Iterator[float]:
    """Lengths of the lines at a spacing, both ways."""
    x0, y0, x1, y1 = inner.bounds
    for low, high, line in (
        (y0, y1, lambda v: ((x0, v), (x1, v))),
        (x0, x1, lambda v: ((v, y0), (v, y1))),
    ):
        n = max(1, math.ceil((high - low) / step - 1e-9))
        lines = [shapely.LineString(line(low + (i + 0.5) * (high - low) / n)) for i in range(n)]
        yield from (p.length for v in lines for p in shapely.get_parts(v & inner))
