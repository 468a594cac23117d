"""Laying out sheets from rolls over a plan: strips side by side, lapped, cut to the outline."""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely import LineString, Polygon, box

from calcbook.basis.formula import arg, cite, procedure
from calcbook.basis.showing import show, show_length
from calcbook.basis.units import Q, Quantity, number_in
from calcbook.plan.cutting import Cutting, cut_rolls
from calcbook.plan.offset import moved_by_side, moved_in

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

    from calcbook.plan.outline import Plan
    from calcbook.plan.sheet_edge import Lining

LEAST_PIECE = 3.0  # ft; no divided run has a shorter piece (common practice)
_MOST_OFFSETS = 40
_EPS = 1e-7
Strip = tuple[float, list[tuple[float, float]]]  # lower edge, and what is covered along it


class SheetError(ValueError):
    """Rolls that cannot be laid; the message says why."""


@dataclass(frozen=True)
class Sheet:
    """One piece as laid: its number (from 1), its place (Polygon in feet), length in feet, and the
    roll (from 1) that it is cut from."""

    number: int
    shape: Polygon
    length: float
    roll: int


@dataclass(frozen=True)
class Layout:
    """Sheets laid over a plan in one direction.

    direction: "x" or "y", along which the sheets run; outline, region: what is covered, without and
    with what reaches beyond it, rolled out flat (shapely, feet); sheets: tuple of Sheet; seams: lines that are taped, between
    strips and at end laps; cutting: how the rolls are cut; roll_width, roll_length: in plain feet;
    shift: how far the first sheet is moved out over the side it starts from, in feet; linings: of pads
    and strips; other: the best layout in the other direction.
    """

    direction: str
    outline: Polygon
    region: BaseGeometry
    sheets: tuple[Sheet, ...]
    seams: tuple[LineString, ...]
    cutting: Cutting
    roll_width: float
    roll_length: float
    shift: float
    linings: tuple[Lining, ...] = ()
    other: Layout | None = None
    strips: tuple[Strip, ...] = ()
    lap: float = 0.0

    @property
    def runs(self) -> tuple[float, ...]:
        """Lengths to cut, in feet: those of the sheets, then those of the linings."""
        laid = tuple(b - a for _, intervals in self.strips for a, b in intervals)
        return laid + tuple(piece.along for piece in self.linings for _ in range(piece.widths))

    @property
    def rolls(self) -> int:
        """Rolls to buy."""
        return self.cutting.rolls

    @property
    def end_laps(self) -> int:
        """Joints within the runs of sheet."""
        return self.cutting.end_laps

    @property
    def lap_length(self) -> Quantity:
        """Length of all laps, to be taped, ft; those around linings apart."""
        within = math.fsum(piece.inner_laps for piece in self.linings)
        whole = sum(piece.widths for piece in self.linings)
        cuts = sum(p.run >= self._runs for p in self.cutting.pieces) - whole  # end laps of linings
        return Q(math.fsum(s.length for s in self.seams) + within + cuts * self.roll_width, "ft")

    @property
    def _runs(self) -> int:
        """How many runs are sheets; those behind them are widths of linings."""
        runs = len({piece.run for piece in self.cutting.pieces})
        return runs - sum(piece.widths for piece in self.linings)

    @property
    def lining_rolls(self) -> list[list[int]]:
        """For each lining the rolls (from 1) that its pieces are cut from."""
        first, found = self._runs, []
        for lining in self.linings:
            own = range(first, first + lining.widths)
            found.append(sorted({p.roll + 1 for p in self.cutting.pieces if p.run in own}))
            first += lining.widths
        return found

    @property
    def lining_tape(self) -> Quantity:
        """Length around all linings at the slab's underside, ft."""
        return Q(math.fsum(piece.rim.length for piece in self.linings), "ft")

    @property
    def area_covered(self) -> Quantity:
        """Area that the sheet must cover, with what goes down and up at the edge and into linings, ft2."""
        return Q(self.region.area + math.fsum(piece.area for piece in self.linings), "ft2")

    @property
    def key(self) -> tuple[int, float, float]:
        """What is made small: rolls, then tape, then sheet laid."""
        laid = math.fsum(s.length for s in self.sheets)
        return self.rolls, round(self.lap_length.m, 4), round(laid, 4)

    def summary(self, system: str = "us") -> str:
        """Rolls and tape as text."""
        rolls = f"{self.rolls} roll{'s' if self.rolls != 1 else ''}"
        return f"{rolls} and {show(self.lap_length, 'ft', system)} of lap to tape"

    def why(self, system: str = "us") -> str:
        """Why the sheets run this way."""
        said = f"Sheets run along {self.direction}: {self.summary(system)}."
        if self.other is None:
            return said
        turned = f"Along {self.other.direction} it would be {self.other.summary(system)}"
        same = self.key[:2] == self.other.key[:2]
        laid = [
            show(Q(math.fsum(s.length for s in x.sheets), "ft"), "ft", system)
            for x in (self, self.other)
        ]
        return f"{said} {turned}" + (
            f", with {laid[1]} of sheet laid instead of {laid[0]}." if same else "."
        )

    def __str__(self) -> str:
        cuts = ", ".join(
            f"{s.number}: {show_length(Q(s.length, 'ft'))} of roll {s.roll}" for s in self.sheets
        )
        return f"{self.why()} Sheets {cuts}."


def check_roll(roll_width: Quantity, roll_length: Quantity, lap: Quantity) -> None:
    """Raise SheetError where laps leave nothing of a sheet, or a roll is too short.

    roll_width, roll_length, lap: lengths.
    """
    width, length, overlap = (number_in(q, "ft") for q in (roll_width, roll_length, lap))
    wide, long, over = (show_length(q) for q in (roll_width, roll_length, lap))
    if width <= 2 * overlap:
        raise SheetError(
            f"a lap of {over} leaves nothing of a roll {wide} wide; "
            "the lap must be less than half the width"
        )
    if length < 2 * LEAST_PIECE or overlap >= LEAST_PIECE:
        least = show_length(Q(LEAST_PIECE, "ft"))
        raise SheetError(
            f"a roll of {long} with laps of {over} cannot be laid; "
            f"a roll must hold two pieces of {least}, and a lap must be shorter than one"
        )


@procedure(
    "Layout of the vapor retarder",
    cite("geometry", "strips over the outline in both directions"),
    "Strips side by side over the outline and what the sheet reaches beyond it, each as long as what it must cover; the first "
    "one is moved to where corners of the outline fall on laps, if that saves. Sheets run across openings "
    "and are cut there, without credit. Rolls are cut as a cutting problem. Of all this, in both "
    "directions: fewest rolls, then least tape, then least sheet.",
    roll_width=arg("ft", "width of a roll", above=0),
    roll_length=arg("ft", "length of a roll", above=0),
    lap=arg("in", "lap of neighboring sheets", low=0),
    beyond=arg("in", "sheet beyond the outline, rolled out flat; below 0 where it ends inside"),
)
def sheet_layout(
    outline: Plan | Polygon,
    roll_width: Quantity,
    roll_length: Quantity,
    lap: Quantity,
    beyond: Quantity | Sequence[Quantity] = Q(0, "in"),
    linings: Sequence[Lining] = (),
) -> Layout:
    """Lay sheets from rolls over an outline.

    outline: a Plan, or a Polygon in feet; roll_width, roll_length, lap, beyond: lengths, the last one for each
    side of the outline where they differ; linings: pieces for
    pads and strips, cut from the same rolls. Returns the better Layout of the two directions, with the
    other one in it. Raises SheetError where the laps leave nothing of a sheet, a roll is too short, or the
    sheet ends so far inside that nothing is left. Source: geometry.
    """
    shape: Polygon = getattr(outline, "outline", outline)
    check_roll(roll_width, roll_length, lap)
    width, length, over = (number_in(q, "ft") for q in (roll_width, roll_length, lap))
    region = _region(shape, beyond)
    if region.is_empty:
        raise SheetError(
            "nothing of the sheet is left inside of the thickened edge; write another end under [retarder] ends"
        )
    make = functools.partial(_best, shape, region, tuple(linings), width, length, over)
    best, other = sorted((make("x"), make("y")), key=lambda layout: layout.key)
    return Layout(**{**vars(best), "other": other})


def _region(shape: Polygon, beyond: Quantity | Sequence[Quantity]) -> Polygon:
    """What the sheet covers, rolled out flat."""
    if not isinstance(beyond, Quantity):
        return moved_by_side(shape, np.array([-number_in(q, "ft") for q in beyond]))
    out = number_in(beyond, "ft")
    # square folds at right corners; sharp corners are cut short
    return shape.buffer(out, join_style="mitre", mitre_limit=2) if out > 0 else moved_in(shape, -out)[0]


def _best(
    outline: Polygon, region: Polygon, linings: tuple[Lining, ...], width: float, length: float, lap: float,
    direction: str,
) -> Layout:  # fmt: skip
    """The best layout in one direction, over the places where the first sheet may start."""
    turned = region if direction == "x" else _swapped(region)
    options = [(shift, _strips(turned, width, lap, shift)) for shift in _shifts(turned, width, lap)]
    cut = {}
    for shift, strips in options:
        runs = tuple(b - a for _, intervals in strips for a, b in intervals)
        cutting = cut_rolls(runs, length, lap, LEAST_PIECE)
        tape = _tape(turned, strips, width, lap) + cutting.end_laps * width
        cut[shift] = (cutting.rolls, round(tape, 4), round(sum(runs), 4), shift), strips, cutting
    (*_, shift), strips, cutting = min(cut.values(), key=lambda found: found[0])
    bare = Layout(
        direction,
        outline,
        region,
        (),
        (),
        cutting,
        width,
        length,
        shift,
        linings,
        None,
        tuple(strips),
        lap,
    )
    return _cut(bare, cut_rolls(bare.runs, length, lap, LEAST_PIECE) if linings else cutting)


def _cut(layout: Layout, cutting: Cutting) -> Layout:
    """A layout with its runs cut in a way: the sheets in their places, and what is taped."""
    width, lap, strips = layout.roll_width, layout.lap, layout.strips
    turned = layout.region if layout.direction == "x" else _swapped(layout.region)
    sheets, joints = _sheets(turned, strips, cutting, width, lap)
    seams = [*_seams(turned, strips, lap), *joints]
    if layout.direction == "y":
        sheets = [Sheet(s.number, _swapped(s.shape), s.length, s.roll) for s in sheets]
        seams = [_swapped(seam) for seam in seams]
    return replace(layout, sheets=tuple(sheets), seams=tuple(seams), cutting=cutting)


def cut_together(layouts: Sequence[Layout]) -> list[Layout]:
    """The layouts of slabs that share their rolls, cut from them as one; of each ``rolls`` are those of all.

    layouts: of one kind of roll and lap. Returns the same layouts, each with its own pieces of the cutting.
    """
    first, found, start = layouts[0], [], 0
    if len(layouts) == 1:
        return [first]
    cutting = cut_rolls(
        tuple(run for one in layouts for run in one.runs), first.roll_length, first.lap, LEAST_PIECE
    )
    for layout in layouts:
        end = start + len(layout.runs)
        own = tuple(p._replace(run=p.run - start) for p in cutting.pieces if start <= p.run < end)
        laps = len(own) - len(layout.runs)
        found.append(_cut(layout, replace(cutting, pieces=own, end_laps=laps)))
        start = end
    return found


def _swapped(shape: BaseGeometry) -> BaseGeometry:
    return shapely.transform(shape, lambda xy: xy[:, ::-1])


def _shifts(region: Polygon, width: float, lap: float) -> list[float]:
    """How far the first sheet may start below the region: flush, or so that a corner of the region
    lies where one sheet takes over from the next."""
    pitch, lowest = width - lap, region.bounds[1]
    corners = np.round(shapely.get_coordinates(region)[:, 1], 6)
    # no np.unique, which loads numpy's masked arrays
    shifts = sorted(set(np.round((lowest + width - corners) % pitch, 6).tolist()))
    if len(shifts) > _MOST_OFFSETS:
        shifts = [shifts[n] for n in np.linspace(0, len(shifts) - 1, _MOST_OFFSETS).astype(int)]
    return [0.0, *(s for s in shifts if _EPS < s < pitch - _EPS)]


def _strips(region: Polygon, width: float, lap: float, shift: float) -> list[Strip]:
    """Strips over a region, along x: pairs of (lower edge, [(start, end), ...]).

    Each strip but the first takes over where the one below it ends, and reaches a lap further down.
    """
    x0, y0, x1, y1 = region.bounds
    pitch, start = width - lap, y0 - shift
    count = max(1, math.ceil((y1 - start - width) / pitch - _EPS) + 1)
    lower = start + pitch * np.arange(count)
    own = lower + np.where(np.arange(count) > 0, lap, 0.0)
    parts = shapely.intersection(region, shapely.box(x0 - 1, own, x1 + 1, lower + width))
    pieces, strip = shapely.get_parts(parts, return_index=True)
    whole = (shapely.get_type_id(pieces) == shapely.GeometryType.POLYGON) & (
        shapely.area(pieces) > _EPS
    )
    spans = shapely.bounds(pieces[whole])[:, ::2]
    return [(float(y), _intervals(spans[strip[whole] == k], lap)) for k, y in enumerate(lower)]


def _intervals(spans: NDArray, gap: float) -> list[tuple[float, float]]:
    """Spans along the x axis (start, end) as intervals; those nearer than a gap are one."""
    found: list[tuple[float, float]] = []
    for start, end in sorted(spans.tolist()):
        if found and start <= found[-1][1] + gap:
            found[-1] = (found[-1][0], max(found[-1][1], end))
        else:
            found.append((start, end))
    return found


def _tape(region: Polygon, strips: Sequence[Strip], width: float, lap: float) -> float:
    return math.fsum(shapely.length(_seams(region, strips, lap)))


def _seams(region: Polygon, strips: Sequence[Strip], lap: float) -> list[LineString]:
    """The lines along which a strip takes over from the one below it, inside the region."""
    x0, _, x1, _ = region.bounds
    edges = [lower + lap for lower, _ in strips[1:]]
    if not edges:
        return []
    # a hair above the edge: where the region ends on it there is nothing to take over
    lines = shapely.linestrings([((x0 - 1, y + _EPS), (x1 + 1, y + _EPS)) for y in edges])
    return list(shapely.get_parts(shapely.intersection(region, lines)))


def _sheets(
    region: Polygon,
    strips: Sequence[Strip],
    cutting: Cutting,
    width: float,
    lap: float,
) -> tuple[list[Sheet], list[LineString]]:
    """Sheets in their places, left to right in each run, and the lines of their end laps."""
    spots = [(lower, a, b) for lower, intervals in strips for a, b in intervals]
    sheets: list[Sheet] = []
    joints = []
    for run, (lower, start, _) in enumerate(spots):
        at = start
        for piece in (p for p in cutting.pieces if p.run == run):
            if at > start:
                join = LineString([(at + lap / 2, lower), (at + lap / 2, lower + width)])
                joints += [p for p in shapely.get_parts(region.intersection(join)) if p.length > _EPS]
            shape = box(at, lower, at + piece.length, lower + width)
            sheets.append(Sheet(len(sheets) + 1, shape, piece.length, piece.roll + 1))
            at += piece.length - lap
    return sheets, joints
