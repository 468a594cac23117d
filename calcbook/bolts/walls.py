"""Walls on the slab with plate, studs, doors and bars, ready to be bolted."""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING

from calcbook.basis.table import lookup
from calcbook.basis.units import Q, number_in
from calcbook.bolts.layout import cached_layout
from calcbook.job.wall_lines import door_spans, opening_spans
from calcbook.plan.tape import Block, Rules, inch_steps, to_steps

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from calcbook.basis.units import Quantity
    from calcbook.job.schema.walls import Wall
    from calcbook.job.wall_lines import WallLine
    from calcbook.plan.tape import Layout

# all in inches
STUD = 1.5  # thickness of a stud, dressed
_LEAST_PIECE = 48.0  # of plate, where lengths are free
_END_ROOM = 4.0  # room for an outer bolt beyond its least end distance, where bolts are close
_COMFORT = 1.5  # room beside a bolt, for its misplacement, where that costs no bolt
_HALF_BASE = 1.5  # half of a hold-down's base along the wall (common practice)
_BAR_GAP = 0.25  # between a bar and a bolt tied beside it


# --- plate, studs, bars --------------------------------------------------------------------


def plate_pieces(
    wall: Wall,
    length: Quantity,
    system: str = "us",
    joints: Sequence[Quantity] | None = None,
    first: float = 1.0,
) -> list[tuple[int, int]]:
    """(start, end) of the pieces of plate of a wall, in steps: cut at doors and at joints.

    wall: a section of the job file; length: of the wall; joints: their places (quantities), or None for
    pieces of ``wall.piece``; first: share of a piece's length that the first one has.
    """
    total = to_steps(length, system)
    edges = [0, *itertools.chain(*door_spans(wall, length, system)), total]
    runs = [(a, b) for a, b in zip(edges[::2], edges[1::2], strict=True) if b > a]
    if joints is not None:
        cuts = sorted(to_steps(j, system) for j in joints)
        return [piece for run in runs for piece in _cut(run, [c for c in cuts if run[0] < c < run[1]])]
    step, least = to_steps(wall.piece, system), inch_steps(_LEAST_PIECE, system)
    return [piece for run in runs for piece in _cut(run, _free_cuts(run, step, least, first))]


def _cut(run: tuple[int, int], cuts: Sequence[int]) -> list[tuple[int, int]]:
    return list(itertools.pairwise([run[0], *cuts, run[1]]))


def _free_cuts(run: tuple[int, int], step: int, least: int, first: float) -> list[int]:
    """Joints every full piece; the last full piece is shortened where too little would be left."""
    cuts, place = [], run[0] + round(step * first)
    while place < run[1]:
        cuts.append(place)
        place += step
    if cuts and run[1] - cuts[-1] < least:
        cuts[-1] = run[1] - least
        before = cuts[-2] if len(cuts) > 1 else run[0]
        if cuts[-1] <= before:
            cuts.pop()
    return cuts


def stud_places(wall: Wall, length: Quantity, system: str = "us") -> list[int]:
    """Centres of studs along a wall's length, in steps: one at each end, and on the layout from its start."""
    total, half = to_steps(length, system), inch_steps(STUD / 2, system)
    spacing = number_in(wall.stud_spacing, "in")
    count = int(number_in(length, "in") / spacing)
    field = [inch_steps(spacing * k, system) for k in range(1, count + 1)]
    openings, doors = (f(wall, length, system) for f in (opening_spans, door_spans))
    reach = half + inch_steps(STUD * (wall.jacks + 1), system)
    inner = [
        p
        for p in field
        if 2 * half <= p <= total - 3 * half and not _in_the_way(p, openings, doors, reach)
    ]
    return [half, *inner, total - half]


def _in_the_way(
    place: int, openings: Sequence[tuple[int, int]], doors: Sequence[tuple[int, int]], reach: int
) -> bool:
    """Whether a stud on the layout would meet the studs beside an opening, or stand in a door."""
    beside = any(a - reach < place < a or b < place < b + reach for a, b in openings)
    return beside or any(a <= place <= b for a, b in doors)


def wall_blocks(
    wall: Wall,
    line: WallLine,
    keep_out: Quantity,
    bolt: Quantity,
    end_least: int,
    corner: Quantity | None = None,
    system: str = "us",
) -> tuple[Block, ...]:
    """What the bolts of a wall must miss, as Blocks.

    line: WallLine; keep_out: least distance of a bolt's centre from the face of a stud (length); bolt: its
    diameter; end_least: steps to keep from a joint of the upper ply; corner: least distance from the end
    of the slab (length), or None.
    """
    length = Q(line.length, "ft")
    half = inch_steps(STUD / 2 + number_in(keep_out, "in"), system, up=True)
    blocks = [Block(p - half, p + half, "on a stud") for p in stud_places(wall, length, system)]
    blocks += _opening_blocks(wall, length, keep_out, system)
    beside = _beside(wall, bolt, system)
    blocks += [
        Block(p - beside, p + beside, "on a vertical bar") for p in bar_places(wall, length, system)
    ]
    if wall.plies > 1:
        upper = plate_pieces(wall, length, system, wall.upper_splices, first=0.5)
        joints = [a for (_, a), (b, _) in itertools.pairwise(upper) if a == b]
        blocks += [Block(j - end_least, j + end_least, "at a joint of the upper ply") for j in joints]
    if corner is not None:
        blocks += _corner_blocks(line, corner, system)
    blocks += _hold_down_blocks(wall, keep_out, system)
    return tuple(sorted(blocks, key=lambda b: (b.low, b.high)))


def _opening_blocks(wall: Wall, length: Quantity, keep_out: Quantity, system: str) -> Iterator[Block]:
    total, reach = (
        to_steps(length, system),
        inch_steps(STUD * (wall.jacks + 1) + number_in(keep_out, "in"), system, up=True),
    )
    name = "on king or jack studs"
    for start, end in opening_spans(wall, length, system):
        if start > 0:
            yield Block(start - reach, start, name)
        if end < total:
            yield Block(end, end + reach, name)


def _hold_down_blocks(wall: Wall, keep_out: Quantity, system: str) -> Iterator[Block]:
    """Where the hold-downs stand whose anchors are named."""
    half = inch_steps(number_in(keep_out, "in") + _HALF_BASE, system, up=True)
    for piece in wall.braced:
        if piece.anchor is None:
            continue
        for at in piece.anchors:
            place = to_steps(at, system)
            yield Block(place - half, place + half, "at a hold-down")


def _corner_blocks(line: WallLine, corner: Quantity, system: str) -> Iterator[Block]:
    """Stretches too near to the end of the slab."""
    total, name = to_steps(Q(line.length, "ft"), system), "too near the end of the slab"
    clear = [
        inch_steps(number_in(corner, "in") - 12 * gap, system, up=True)
        for gap in (line.before, line.after)
    ]
    if line.free_ends[0] and clear[0] > 0:
        yield Block(-1, clear[0], name)
    if line.free_ends[1] and clear[1] > 0:
        yield Block(total - clear[1], total + 1, name)


def bar_places(wall: Wall, length: Quantity, system: str = "us") -> list[int]:
    """Vertical bars along a wall's length, in steps; none where the wall has no bar spacing."""
    if wall.bar_spacing is None:
        return []
    first, spacing = number_in(wall.bar_start, "in"), number_in(wall.bar_spacing, "in")
    count = math.floor((number_in(length, "in") - first) / spacing) + 1
    return [inch_steps(first + spacing * k, system) for k in range(max(count, 0))]


def _beside(wall: Wall, bolt: Quantity, system: str) -> int:
    """Steps from a bar to a bolt tied beside it."""
    inches = number_in(wall.bar_diameter, "in") / 2 + number_in(bolt, "in") / 2 + _BAR_GAP
    return inch_steps(inches, system, up=True)


# --- rules and layout ----------------------------------------------------------------------


def layout_rules(
    bolt: Quantity, spacing: Quantity, system: str = "us", even_shares: bool = True, before: float = 0.0
) -> Rules:
    """The Rules of a layout by IRC R403.1.6 for a bolt diameter and a greatest spacing (lengths).

    even_shares: whether the outer bolts are kept within half a spacing of their ends, so that none holds
    more than its share of the wall; before: feet from the corner where the tape is held to the wall's start.
    """
    least, end_least, end_most = _room_rules(number_in(bolt, "in"))
    most = number_in(spacing, "in")
    if even_shares:
        end_most = min(end_most, max(most / 2, end_least + _END_ROOM))
    return Rules(
        inch_steps(most, system, up=False), inch_steps(least, system, up=True), inch_steps(end_most, system, up=False),
        inch_steps(end_least, system, up=True), system, inch_steps(_COMFORT, system), inch_steps(12 * before, system),
    )  # fmt: skip


def _room_rules(d: float) -> tuple[float, float, float]:
    """Least distance of neighbours, least and most from the end of a piece, for a bolt diameter, all in inches."""
    rules = (
        lookup("sill_rules", rule=rule)
        for rule in ("least spacing", "least end distance", "most end distance")
    )
    least, end_least, end_most = (row["value"] for row in rules)
    return d * least, d * end_least, end_most


def wall_layout(
    wall: Wall,
    line: WallLine,
    bolt: Quantity,
    spacing: Quantity,
    keep_out: Quantity,
    corner: Quantity | None = None,
    beside_bars: bool = True,
    system: str = "us",
) -> Layout:
    """Lay out the bolts of a wall of the job file.

    line: WallLine; bolt: diameter; spacing: the most between neighbours; keep_out: from a stud's face to a
    bolt's centre; corner: from the end of the slab to a bolt (lengths), or None; beside_bars: whether bolts
    stand beside bars where they fit. Outer bolts hold no more than the others where that can be; the code's
    end distances hold always. Returns a bolt_layout.Layout.
    """
    rules, length = layout_rules(bolt, spacing, system, True, line.before), Q(line.length, "ft")
    pieces = tuple(plate_pieces(wall, length, system, wall.splices))
    blocks = wall_blocks(wall, line, keep_out, bolt, rules.end_least, corner, system)
    wanted: tuple[int, ...] = ()
    if beside_bars:
        step = _beside(wall, bolt, system)
        wanted = tuple(p + side for p in bar_places(wall, length, system) for side in (-step, step))
    layout = cached_layout(pieces, blocks, rules, wanted)
    if layout.problems:
        rules = layout_rules(bolt, spacing, system, False, line.before)
        layout = cached_layout(pieces, blocks, rules, wanted)
    return layout
