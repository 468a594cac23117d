"""How the joints of a slab whose sides slant or bend are ended: slivers given to a neighbor, ends turned square.

Plain numbers in feet, angles in degrees.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely import LineString, Point

from calcbook.joints.inner import turns
from calcbook.joints.rules import LEAST_ANGLE, cells, is_rectangle, parts

if TYPE_CHECKING:
    from collections.abc import Sequence

    from shapely.geometry import Polygon

    from calcbook.joints.panel_lines import ByHand
    from calcbook.joints.rules import Judged, Rules

NARROW = 2.0  # a piece at a slanting or round side that is not wider goes to its neighbor
BENT = 2.0  # so far from the side a joint bends to meet it squarely (common practice)
_HALF = 185.0  # degrees
_HAIR, _PROBE = 1e-6, 0.01


def without_slivers(
    shapes: Sequence[Polygon], rules: Rules, kept: shapely.Geometry, holes: shapely.Geometry
) -> list[Polygon]:
    """Pieces at slanting or round sides that are narrow or break a rule, joined to a neighbor where both together keep
    the rules. kept: joints given by hand, which stay; holes: openings, of whose sides no panel may go round more than half.
    """
    found = list(shapes)
    for piece in sorted((s for s in shapes if not is_rectangle(s)), key=lambda s: s.area):
        if piece not in found:
            continue  # it has gone to a neighbor
        one = rules.judge(piece)
        if one.short > NARROW and not rules.broken(one):
            continue
        least = 0 if one.short <= NARROW else 1
        better = [(gain, shared, k, both) for k, other in enumerate(found) if other is not piece
                  for shared, both in [_together(piece, other, kept, holes)] if shared
                  for gain in [_gain(one, other, both, rules)] if gain >= least]  # fmt: skip
        if better:
            _, _, k, both = max(better, key=lambda b: (b[0], b[1], -b[2]))
            other = found[k]
            found = [s for s in found if s is not piece and s is not other] + [both]
    return found


def cut_across(panel: Polygon, rules: Rules, by_hand: ByHand) -> list[Polygon]:
    """A panel too long for its width, which no lines over the whole slab mend, cut across by itself; as it is where that
    breaks other rules, where its lines are the builder's alone, or where the builder forbids one there."""
    one = rules.judge(panel)
    if by_hand.only or rules.too_large(one) or not rules.too_long(one):
        return [panel]
    lines = rules.mending(panel)
    if lines is None or any(by_hand.bars(axis, v) for axis, own in enumerate(lines) for v in own[1:-1]):
        return [panel]
    made = cells(panel, lines)
    return [panel] if any(rules.breaks(piece) for piece in made) else made


def _gain(one: Judged, other: Polygon, both: Polygon, rules: Rules) -> int:
    """How many rules fewer two pieces break once they are one; -1 for one that is too large or too long."""
    joined = rules.judge(both)
    if rules.too_large(joined) or rules.too_long(joined):
        return -1
    return rules.broken(one) + rules.broken(rules.judge(other)) - rules.broken(joined)


def _together(
    one: Polygon, two: Polygon, kept: shapely.Geometry, holes: shapely.Geometry
) -> tuple[float, Polygon]:
    """(length of the joint between two pieces, both in one); no length where they cannot be joined."""
    if not one.intersects(two):
        return 0.0, one
    shared = one.boundary.intersection(two.boundary)
    both = one.union(two)
    stays = kept.buffer(_HAIR).intersection(shared).length > _PROBE
    if (
        shared.length < _PROBE
        or stays
        or _round(both, holes) > _HALF
        or both.geom_type != "Polygon"
        or both.interiors
    ):
        return 0.0, one
    return shared.length, both


def _round(shape: Polygon, holes: shapely.Geometry) -> float:
    """By how many degrees a panel goes round openings."""
    if holes.is_empty or shape.geom_type != "Polygon" or holes.distance(shape) > _HAIR:
        return 0.0
    return sum(-turn for p, turn in turns(shape) if turn < 0 and holes.distance(Point(p)) < _HAIR)


def bent(line: LineString, rules: Rules, others: Sequence[LineString]) -> list[LineString]:
    """A straight joint with its ends turned, where they meet the outline at a sharp angle: one, two or three lines.

    others: the joints that it must not run into.
    """
    ends = [end_bent(line, k, rules, others) for k in (0, -1)]
    p, q = (end.coords[0] if end else line.coords[k] for k, end in zip((0, -1), ends, strict=True))
    return [*(end for end in ends if end), LineString([p, q])]


def end_bent(
    line: LineString, which: int, rules: Rules, others: Sequence[LineString]
) -> LineString | None:
    """The way in which an end (0 or -1) of a joint would meet the outline squarely; None where it does, or cannot."""
    end, far = np.array(line.coords[which]), np.array(line.coords[-1 - which])
    side, long, whole = rules.outline.exterior, line.length, rules.outline
    way = (far - end) / long
    if (
        rules.starts(tuple(end))
        or side.distance(Point(end)) > _HAIR
        or _slant(side, end, way) > math.sin(math.radians(LEAST_ANGLE))
    ):
        return None
    for reach in (BENT, BENT / 2):
        back = min(reach / max(_slant(side, end, way), 0.2), 0.5 * long)
        start = Point(end + back * way)
        foot = side.interpolate(side.project(start))
        turned = LineString([start, foot])
        if turned.length < reach / 4 or not whole.buffer(_HAIR).covers(turned):
            continue
        apart = float(np.min(shapely.distance(turned, others), initial=math.inf))
        back_way = (np.array(start.coords[0]) - np.array(foot.coords[0])) / turned.length
        if apart > reach / 4 and _slant(side, np.array(foot.coords[0]), back_way) > 0.9:
            return turned
    return None


def _slant(side: LineString, end: np.ndarray, way: np.ndarray) -> float:
    """Sine of the angle between a line that leaves the outline and the outline there, 1 where it is square or obtuse."""
    return float(side.distance(Point(end + _PROBE * way)) / _PROBE)


def pieces(whole: Polygon, lines: Sequence[LineString], holes: Sequence[Polygon]) -> list[Polygon]:
    """The parts of an outline between lines, without the holes: exact, whatever way the lines run."""
    drawn = shapely.union_all(
        [whole.boundary, *(h.boundary for h in holes), *(_longer(line) for line in lines)]
    )
    open_ = shapely.union_all(holes)
    found = parts(shapely.polygonize([drawn]))
    return [p for p in found if whole.covers(p.representative_point()) and not open_.covers(p.representative_point())]  # fmt: skip


def _longer(line: LineString) -> LineString:
    """A line a hair longer at both ends, so that it surely meets what it ends at."""
    points = np.array(line.coords)
    for end, beside in ((0, 1), (-1, -2)):
        way = points[end] - points[beside]
        points[end] = points[end] + _HAIR * way / max(float(np.hypot(*way)), _HAIR)
    return LineString(points)
