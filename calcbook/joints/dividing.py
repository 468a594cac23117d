"""A layout of control joints for any outline: it leaves no inner corner without a joint, and says what it breaks."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import shapely
from shapely import LineString, Polygon

from calcbook.basis.arguments import quantities
from calcbook.basis.formula import arg, cite, procedure
from calcbook.basis.showing import show_length
from calcbook.basis.units import Q, Quantity
from calcbook.joints.ends import bent, cut_across, pieces, without_slivers
from calcbook.joints.inner import inner_corners
from calcbook.joints.panel_lines import FREE, ByHand, Lines, best_lines
from calcbook.joints.rules import Rules, cells, is_rectangle, parts, turned
from calcbook.joints.telling import told_blind, told_missed, told_problems

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from calcbook.basis.units import Given
    from calcbook.joints.rules import Judged, Shape

BARS = "lay a bar across each of its corners"
_ALIKE = 0.5  # degrees: sides that differ by less count together, the less they differ the more
_MOST = 0.25  # of the way round: so much of it must run one way for the joints to follow that
_MOST_BENT = 80  # pieces: of more, no joint's end is bent, as trying each takes long
_HAIR = 1e-7  # ft


@dataclass(frozen=True)
class JointLayout:
    """A layout of joints.

    panels: polygons in feet that tile the slab; cuts: lines in feet; boxes: isolation around posts;
    length: of all cuts; isolation: length around posts; judged: what each panel measures, openings counted in, along
    the joints; areas: of the same without openings, ft2; problems: sentences; missed: the openings and boxes of posts that no joint meets, in words; each is
    among the problems; broken: panels that break a limit; open_corners: inner corners of the outline without a joint;
    angle: degrees by which the joints are turned from x and y.
    """

    panels: tuple[Polygon, ...]
    cuts: tuple[LineString, ...]
    boxes: tuple[Polygon, ...]
    length: Quantity
    isolation: Quantity
    judged: tuple[Judged, ...]
    areas: tuple[float, ...]
    problems: tuple[str, ...]
    missed: tuple[str, ...]
    broken: tuple[Polygon, ...] = ()
    open_corners: int = 0
    angle: float = 0.0

    @property
    def worst_aspect(self) -> float:
        """Longest over shortest side of the most elongated panel."""
        return max(one.aspect for one in self.judged)

    @property
    def longest(self) -> Quantity:
        """Longest side of a panel."""
        return Q(max(one.long for one in self.judged), "ft")

    @property
    def sharpest(self) -> float:
        """Sharpest corner that a joint makes, in degrees."""
        return min(one.sharpest for one in self.judged)

    @property
    def square(self) -> bool:
        """Whether all panels are rectangles along x and y."""
        return not self.angle and all(is_rectangle(one.shape) for one in self.judged)

    def __str__(self) -> str:
        return (
            f"{len(self.panels)} panels, {show_length(self.length)} of cut, longest side "
            f"{show_length(self.longest)}, aspect {self.worst_aspect:.2f}"
            + "".join(f"; {problem}" for problem in self.problems)
        )


@procedure(
    "Layout of control joints",
    cite("ACI 302.1R", "panels near square, at most 1.5 to 1"),
    "lines run along the main sides of the outline, through every inner corner; even lines fill the rest, moved to posts "
    "and openings where they can be; of all choices the one with the fewest panels too large or too long "
    "wins, then the one with the least cutting; a panel that is still too long for its width is cut across by itself, where the builder "
    "does not forbid it; at a slanting or round side a sliver goes to its neighbor, and a joint "
    "that would meet the side sharply is bent to meet it squarely",
)
def joint_layout(
    outline: Polygon,
    max_spacing: Given,
    max_aspect: float = 1.5,
    openings: Sequence[Polygon] = (),
    posts: Sequence[Polygon] = (),
    small: Given = Q(2, "ft"),
    system: str = "us",
    by_hand: ByHand = FREE,
) -> JointLayout:
    """Control joints for any outline with notches, slanting and round sides, and openings. Returns a JointLayout.

    outline: shapely Polygon in feet (its holes count as openings);
    max_spacing: length; max_aspect: longest over shortest side; openings: Polygons in feet; posts:
    Polygons in feet, the isolation box around each post; small: an opening whose shorter side is
    no longer is isolated, not cut to; system: units of the messages; by_hand: lines that the builder fixes, forbids
    or moves. A panel is measured by the smallest rectangle around it. Raises FormulaError for a spacing that cannot be.
    """
    given = quantities("joint_layout", {"max_spacing": arg("ft", "largest spacing", above=0, high=100),
                                        "small": arg("ft", "largest side of a small opening", low=0)},
                       max_spacing=max_spacing, small=small)  # fmt: skip
    limit, least = (given[name].m_as("foot") for name in ("max_spacing", "small"))
    angle = 0.0 if by_hand.upright else main_direction(outline)
    outline, *shapes = _turned(-angle, (outline, *openings, *posts))
    holes = [*shapes[: len(openings)], *(Polygon(ring) for ring in outline.interiors)]
    boxes = shapes[len(openings) :]
    whole = Polygon(outline.exterior)
    rules = Rules(limit, max_aspect, whole, tuple(inner_corners(whole)), angle)
    paths = [
        path for line in by_hand.paths for path in _inside(turned(LineString(line), -angle), whole)
    ]
    large = [h for h in holes if min(_extent(h)) > least]
    found = _divided(rules, large, boxes + holes, by_hand, paths)
    gone = shapely.union_all([*holes, *boxes])
    solid = shapely.difference(found, gone)
    cuts = _cut_lines(found, whole, gone)
    judged = [rules.judge(cell) for cell in found]
    lone = (
        holes if by_hand.only else [h for h in holes if h not in large]
    )  # those that joints are not led around
    boxes = [b & whole for b in boxes]
    missed = told_missed(
        [("opening", h) for h in lone] + [("box of the post", b) for b in boxes], cuts, rules, system
    )
    problems = told_problems(judged, rules, cuts, system), told_blind(paths, found, gone, rules, system)
    return JointLayout(
        panels=_turned(angle, [p for left in solid for p in parts(left)]),
        cuts=_turned(angle, cuts),
        boxes=_turned(angle, boxes),
        length=Q(math.fsum(c.length for c in cuts), "ft"),
        isolation=Q(
            math.fsum(shapely.length(shapely.difference(shapely.boundary(boxes), whole.boundary))), "ft"
        ),
        judged=tuple(judged),
        areas=tuple(shapely.area(solid).tolist()),
        problems=(*problems[0], *problems[1], *(f"no joint meets {m}: {BARS}" for m in missed)),
        missed=missed,
        broken=_turned(angle, [one.shape for one in judged if rules.broken(one)]),
        open_corners=sum(any(c in one.inner for one in judged) for c in rules.corners),
        angle=angle,
    )


def _turned(angle: float, shapes: Iterable[Shape]) -> tuple[Shape, ...]:
    """Shapes of the frame of the joints in that of the plan; the other way round with the angle's minus."""
    return tuple(turned(shape, angle) for shape in shapes)


def main_direction(outline: Polygon) -> float:
    """Degrees, from 0 to 90, by which most of the sides are turned from x and y; 0 where as many run along those."""
    sides = []
    for (xa, ya), (xb, yb) in itertools.pairwise(outline.exterior.coords):
        sides.append((math.degrees(math.atan2(yb - ya, xb - xa)) % 90, math.hypot(xb - xa, yb - ya)))

    def along(way: float) -> float:
        off = ((min(abs(own - way), 90 - abs(own - way)), length) for own, length in sides)
        return round(sum(length * (1 - a / _ALIKE) for a, length in off if a < _ALIKE), 6)

    way = max(dict.fromkeys([0.0, *(own for own, _ in sides)]), key=along)
    return way if along(way) > _MOST * outline.exterior.length else 0.0


def _inside(path: LineString, whole: Polygon) -> list[LineString]:
    """The parts of a line by hand that run over the slab."""
    found = shapely.get_parts(path & whole)
    return [p for p in found if p.geom_type == "LineString" and p.length > 1e-3]


def _divided(
    rules: Rules,
    large: Sequence[Polygon],
    meets: Sequence[Polygon],
    by_hand: ByHand,
    paths: Sequence[LineString],
) -> list[Polygon]:
    """The pieces that the joints make of an outline; meets: posts and openings, which lines are moved to."""
    whole = rules.outline
    kept = shapely.union_all([*paths, *_by_place(by_hand, whole)])
    open_ = shapely.union_all(large)

    def made(lines: Lines) -> list[Polygon]:
        found = [p for cell in cells(whole, lines) for p in _around(cell, large, rules)]
        return found if all(map(is_rectangle, found)) else without_slivers(found, rules, kept, open_)

    def judge(lines: Lines) -> int:
        return sum(rules.broken(rules.judge(p)) for p in made(lines))

    square = all(abs(turn) < 1e-6 for turn in _off_square(whole))
    spots = [spot for corner in rules.corners for spot in corner.spots]
    lines = best_lines(whole, rules.limit, rules.aspect, [shape.centroid for shape in meets], by_hand, spots,
                       None if square else judge)  # fmt: skip
    found = cells(whole, lines) if by_hand.only else made(lines)
    if by_hand.only and large:
        found = [p for cell in found for p in parts(cell.difference(open_))]
    if paths:
        own = _cut_lines(found, whole, Polygon())
        found = pieces(whole, [*own, *paths], large)
    straight = by_hand.only or square or len(found) > _MOST_BENT
    found = found if straight else _with_bent_ends(found, rules, kept, large)
    return [piece for panel in found for piece in cut_across(panel, rules, by_hand)]


def _off_square(whole: Polygon) -> Iterator[float]:
    """For every side, how far from along x or y it runs, in feet."""
    for (xa, ya), (xb, yb) in itertools.pairwise(whole.exterior.coords):
        yield min(abs(xb - xa), abs(yb - ya))


def _by_place(by_hand: ByHand, whole: Polygon) -> list[LineString]:
    """The lines that the builder puts at a place along x or y."""
    x0, y0, x1, y1 = whole.bounds
    places = [(axis, v) for axis, some in enumerate(by_hand.fixed) for v in some]
    places += [(axis, to) for axis, _, to in by_hand.moved]
    return [LineString([(v, y0), (v, y1)] if axis == 0 else [(x0, v), (x1, v)]) for axis, v in places]


def _with_bent_ends(
    found: list[Polygon], rules: Rules, kept: shapely.Geometry, large: Sequence[Polygon]
) -> list[Polygon]:
    """The pieces with the ends of joints bent, one after another, where that leaves fewer rules broken."""
    whole, by_hand = rules.outline, kept.buffer(_HAIR)
    known: dict[shapely.Geometry, int] = {}  # most pieces stay as they are

    def broken_of(shapes: Sequence[Polygon]) -> int:
        for one in (shape.normalize() for shape in shapes):
            known.setdefault(one, -1)
            if known[one] < 0:
                known[one] = rules.broken(rules.judge(one))
        return sum(known[shape.normalize()] for shape in shapes)

    broken = broken_of(found)
    lines = list(_cut_lines(found, whole, Polygon()))
    for line in list(lines):
        if not broken:
            break
        if by_hand.covers(line):
            continue
        rest = [other for other in lines if other is not line]
        new = bent(line, rules, rest)
        if len(new) == 1:
            continue
        after = pieces(whole, [*rest, *new], large)
        left = broken_of(after)
        if left < broken:
            found, lines, broken = after, [*rest, *new], left
    return found


def _around(cell: Polygon, large: Sequence[Polygon], rules: Rules) -> list[Polygon]:
    """A cell cut along the sides of a large opening in it, or through the middle of one that is no rectangle, the way
    that leaves better panels."""
    x0, y0, x1, y1 = cell.bounds
    for index, hole in enumerate(large):
        a0, b0, a1, b1 = hole.bounds
        if (hole & cell).area < 1e-9:
            continue
        if is_rectangle(hole):
            tries = [(_between(x0, x1, a0, a1), _between(y0, y1, *across)) for across in ((), (b0, b1))]
            tries.append((_between(x0, x1), _between(y0, y1, b0, b1)))
        else:
            tries = [(_between(x0, x1, (a0 + a1) / 2), _between(y0, y1, (b0 + b1) / 2))]
        ways = [[p for c in cells(cell, t) for p in parts(c - hole)] for t in tries]
        best = min(ways, key=lambda way: (
            sum(len(inner_corners(p)) for p in way), sum(rules.too_long(rules.judge(p)) for p in way), len(way)
        ))  # fmt: skip
        return [piece for p in best for piece in _around(p, large[index + 1 :], rules)]
    return [cell]


def _between(low: float, high: float, *between: float) -> list[float]:
    return [low, *(v for v in between if low + 1e-9 < v < high - 1e-9), high]


def _cut_lines(
    found: Sequence[Polygon], whole: Polygon, gone: shapely.Geometry
) -> tuple[LineString, ...]:
    """The sides of all pieces that lie inside the slab, joined into straight lines."""
    sides = shapely.union_all([c.boundary for c in found]).difference(whole.boundary.buffer(_HAIR))
    sides = sides.difference(gone.buffer(_HAIR)) if not gone.is_empty else sides
    merged = shapely.line_merge(shapely.union_all(sides))
    straight = []
    for part in shapely.get_parts(merged):
        if isinstance(part, LineString) and part.length > 1e-3:
            straight += [LineString(pair) for pair in itertools.pairwise(part.simplify(1e-9).coords)]
    return tuple(sorted(straight, key=lambda c: (c.coords[0], c.coords[-1])))


def _extent(shape: Polygon) -> tuple[float, float]:
    x0, y0, x1, y1 = shape.bounds
    return x1 - x0, y1 - y0
