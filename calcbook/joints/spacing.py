"""Control joints: how far apart, how deep, and a layout that leaves no inner corner without a cut."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import shapely
from numpy import maximum, minimum
from shapely import LineString, Polygon, box

from calcbook.basis.arguments import quantities
from calcbook.basis.formula import FORMULAS, Choice, FormulaError, arg, cite, formula, procedure, result
from calcbook.basis.showing import show_length
from calcbook.basis.table import table
from calcbook.basis.units import Q, Quantity
from calcbook.joints.panel_lines import FREE, ByHand, best_lines, inner_corners

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from shapely.geometry import MultiPolygon

    from calcbook.basis.formula import Formula
    from calcbook.basis.units import Given

BARS = "lay a bar across each of its corners"
THICKNESS = arg("in", "slab thickness", above=0, high=48)


@formula(
    "Largest spacing of joints",
    cite("ACI 302.1R", "24 to 36 times the thickness, at most 18 ft"),
    result("ft", "largest spacing of joints"),
    h=THICKNESS,
    factor=arg("1", "spacing over thickness", above=0, high=60, valid=(24, 36)),
    s_max=arg("ft", "spacing never to be passed", above=0),
)
def max_joint_spacing(h, factor=24.0, s_max=Q(18, "ft")):
    """Largest spacing of control joints in a slab without much steel.

    factor: 24 to 36 by slump and aggregate (``joint_factor``).

    >>> print(max_joint_spacing("5 in"))
    10.0 foot
    """
    s = minimum(factor * h, s_max)
    return s


@procedure(
    "Spacing of joints over thickness",
    cite("PCA joints", "table by slump and aggregate"),
    "looked up by the slump and the largest size of aggregate: wet, fine concrete shrinks most",
    returns=result("1", "spacing over thickness"),
    slump=arg("in", "slump", above=0, high=12),
    aggregate=arg("in", "largest size of aggregate", above=0, high=3),
)
def joint_factor(slump: Given, aggregate: Given) -> float:
    """24, 30 or 36 times the thickness. slump, aggregate: in. Returns a number.

    A metric order of 100 mm is the trade's 4 in.: the table takes 100 mm (3.937 in.) as the border.
    """
    given = quantities("joint_factor", joint_factor.arguments, slump=slump, aggregate=aggregate)
    s, a = (round(given[name].m_as("inch"), 6) for name in ("slump", "aggregate"))
    row = next(
        r for r in table("joint_spacing")
        if r["slump_from_in"] <= s <= r["slump_to_in"] and r["aggregate_from_in"] <= a <= r["aggregate_to_in"]
    )  # fmt: skip
    return row["times_thickness"]


@formula(
    "Depth of a sawn joint",
    cite("ACI 302.1R", "a quarter of the thickness, at least 1 in."),
    result("in", "depth of the saw cut"),
    h=THICKNESS,
    d_min=arg("in", "least depth", above=0),
)
def sawcut_conventional(h, d_min=Q(1, "in")):
    """Depth of a conventional saw cut in slab thickness h, at least d_min."""
    d = maximum(h / 4, d_min)
    return d


@formula(
    "Depth of a sawn joint in fiber concrete",
    cite("ACI 302.1R", "a third of the thickness with fiber"),
    result("in", "depth of the saw cut"),
    h=THICKNESS,
    d_min=arg("in", "least depth", above=0),
)
def sawcut_fiber(h, d_min=Q(1, "in")):
    """Depth of a saw cut where fiber crosses the crack, slab thickness h, at least d_min. Inches."""
    d = maximum(h / 3, d_min)
    return d


@formula(
    "Depth of an early-entry cut",
    cite("ACI 302.1R-15", "1 in. in slabs up to 9 in."),
    result("in", "depth of the saw cut"),
    h=arg("in", "slab thickness", above=0, valid=(0, 9)),
    d_early=arg("in", "depth of an early cut", above=0),
)
def sawcut_early(h, d_early=Q(1, "in")):
    """Depth of an early-entry cut d_early, in slabs of thickness h up to 9 in."""
    d = minimum(d_early, h)
    return d


class _Sawcut(Choice):
    """Picks by ``early_entry`` and ``fiber``."""

    def pick(self, kwargs: dict[str, Any]) -> Formula:
        early, fiber = (
            kwargs.pop(name, False) in (True, "true", "yes") for name in ("early_entry", "fiber")
        )
        kwargs.setdefault(self.keyword, "early" if early else "fiber" if fiber else "conventional")
        return super().pick(kwargs)


sawcut_depth = FORMULAS["sawcut_depth"] = _Sawcut(
    "sawcut_depth", "kind",
    {"conventional": sawcut_conventional, "fiber": sawcut_fiber, "early": sawcut_early}, "conventional",
)  # fmt: skip


# --- layout ------------------------------------------------------------------------------------


@dataclass(frozen=True)
class JointLayout:
    """A layout of joints.

    panels: polygons in feet that tile the slab; cuts: lines in feet; boxes: isolation around posts;
    length: of all cuts; isolation: length around posts; worst_aspect: longest over shortest side of
    the most elongated panel; longest: longest side of a panel; problems: sentences; missed: the
    openings and boxes of posts that no joint meets, in words; each is among the problems; broken: panels that
    break a limit.
    """

    panels: tuple[Polygon, ...]
    cuts: tuple[LineString, ...]
    boxes: tuple[Polygon, ...]
    length: Quantity
    isolation: Quantity
    worst_aspect: float
    longest: Quantity
    problems: tuple[str, ...]
    missed: tuple[str, ...]
    broken: tuple[Polygon, ...] = ()

    def __str__(self) -> str:
        return (
            f"{len(self.panels)} panels, {show_length(self.length)} of cut, longest side "
            f"{show_length(self.longest)}, aspect {self.worst_aspect:.2f}"
            + "".join(f"; {problem}" for problem in self.problems)
        )


@procedure(
    "Layout of control joints",
    cite("ACI 302.1R", "panels near square, at most 1.5 to 1"),
    "lines run from every inner corner of the outline; even lines fill the rest, moved to posts and "
    "openings where they can be; of all choices the one with the fewest panels too large or too long "
    "wins, then the one with the least cutting",
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
    """Control joints for any outline with right angles, notches and openings. Returns a JointLayout.

    outline: shapely Polygon in feet, sides along x and y (its holes count as openings);
    max_spacing: length; max_aspect: longest over shortest side; openings: Polygons in feet; posts:
    Polygons in feet, the isolation box around each post; small: an opening whose shorter side is
    no longer is isolated, not cut to; system: units of the messages; by_hand: lines that the builder fixes, forbids
    or moves. Raises FormulaError for an
    outline with slanting sides.
    """
    given = quantities("joint_layout", {"max_spacing": arg("ft", "largest spacing", above=0, high=100),
                                        "small": arg("ft", "largest side of a small opening", low=0)},
                       max_spacing=max_spacing, small=small)  # fmt: skip
    limit, least = (given[name].m_as("foot") for name in ("max_spacing", "small"))
    _right_angled(outline, system)
    holes = [*openings, *(Polygon(ring) for ring in outline.interiors)]
    whole = Polygon(outline.exterior)
    lines = best_lines(
        whole, limit, max_aspect, [shape.centroid for shape in (*posts, *holes)], by_hand
    )
    cells = _cells(whole, lines)
    large = [h for h in holes if _sides(h)[0] > least]
    cells = [piece for cell in cells for piece in _around(cell, large, max_aspect)]
    gone = shapely.union_all([*holes, *posts]) if holes or posts else Polygon()
    panels = tuple(
        p for cell in cells for p in shapely.get_parts(cell.difference(gone)) if p.area > 1e-9
    )
    cuts = _cut_lines(cells, whole, gone)
    boxes = tuple(b & whole for b in posts)
    small_ones = [("opening", h) for h in holes if h not in large] + [
        ("box of the post", b) for b in boxes
    ]
    missed = tuple(_missed(small_ones, cuts, system))
    return JointLayout(
        panels, cuts, boxes, Q(math.fsum(c.length for c in cuts), "ft"),
        Q(math.fsum((b.boundary.difference(whole.boundary)).length for b in boxes), "ft"),
        max(_aspect(c) for c in cells), Q(max(_sides(c)[1] for c in cells), "ft"),
        (*_problems(cells, limit, max_aspect, system), *(f"no joint meets {m}: {BARS}" for m in missed)), missed,
        tuple(cell for cell in cells if _breaks(cell, limit, max_aspect)),
    )  # fmt: skip


def _right_angled(outline: Polygon, system: str) -> None:
    for pair in itertools.pairwise(outline.exterior.coords):
        (x0, y0), (x1, y1) = pair
        if abs(x0 - x1) > 1e-6 and abs(y0 - y1) > 1e-6:
            start, end = (", ".join(show_length(Q(v, "ft"), system) for v in point) for point in pair)
            raise FormulaError(
                f"joint_layout: the side from ({start}) to ({end}) slants; joints are laid out only for "
                "sides along x and y, so plan the joints of this slab by hand"
            )


def _cells(whole: Polygon, lines: tuple[list[float], list[float]]) -> list[Polygon]:
    """Rectangles between the lines, inside the outline."""
    xs, ys = lines
    found = []
    for (x0, x1), (y0, y1) in itertools.product(itertools.pairwise(xs), itertools.pairwise(ys)):
        found += [p for p in shapely.get_parts(box(x0, y0, x1, y1) & whole) if p.area > 1e-9]
    return found


def _around(cell: Polygon, large: Sequence[Polygon], max_aspect: float) -> list[Polygon]:
    """A cell cut along the sides of a large opening in it, the way that leaves better panels."""
    x0, y0, x1, y1 = cell.bounds
    for index, hole in enumerate(large):
        a0, b0, a1, b1 = hole.bounds
        if (hole & cell).area < 1e-9:
            continue
        ways = [
            _cells(cell, (_inside(x0, x1, a0, a1), _inside(y0, y1, *across)))
            for across in ((), (b0, b1))
        ] + [_cells(cell, (_inside(x0, x1), _inside(y0, y1, b0, b1)))]
        ways = [[p for c in way for p in shapely.get_parts(c - hole) if p.area > 1e-9] for way in ways]
        ways = [way for way in ways if not any(inner_corners(p) for p in way)]
        best = min(ways, key=lambda way: (sum(_aspect(p) > max_aspect for p in way), len(way)))
        return [piece for p in best for piece in _around(p, large[index + 1 :], max_aspect)]
    return [cell]


def _inside(low: float, high: float, *between: float) -> list[float]:
    return [low, *(v for v in between if low + 1e-9 < v < high - 1e-9), high]


def _cut_lines(
    cells: Sequence[Polygon], whole: Polygon, gone: MultiPolygon | Polygon
) -> tuple[LineString, ...]:
    """The sides of all cells that lie inside the slab, joined into straight lines."""
    sides = shapely.union_all([c.boundary for c in cells]).difference(whole.boundary.buffer(1e-7))
    sides = sides.difference(gone.buffer(1e-7)) if not gone.is_empty else sides
    merged = shapely.line_merge(shapely.union_all(sides))
    straight = []
    for part in shapely.get_parts(merged):
        if isinstance(part, LineString):
            straight += [LineString(pair) for pair in itertools.pairwise(part.simplify(1e-9).coords)]
    return tuple(sorted(straight, key=lambda c: (c.coords[0], c.coords[-1])))


def _sides(shape: Polygon) -> list[float]:
    x0, y0, x1, y1 = shape.bounds
    return sorted((x1 - x0, y1 - y0))


def _aspect(shape: Polygon) -> float:
    short, long = _sides(shape)
    return long / short


def _problems(cells: Sequence[Polygon], limit: float, max_aspect: float, system: str) -> Iterator[str]:
    """A sentence for every panel that breaks a limit."""
    for cell in cells:
        (short, long), (x, y) = _sides(cell), (cell.centroid.x, cell.centroid.y)
        size = f"{show_length(Q(short, 'ft'), system)} by {show_length(Q(long, 'ft'), system)}"
        where = f"at x {show_length(Q(x, 'ft'), system)}, y {show_length(Q(y, 'ft'), system)}"
        if long > limit * (1 + 1e-6):
            yield f"the panel {size} {where} is larger than the spacing allows{_mend(cell, limit, max_aspect, system)}"
        if long / short > max_aspect * (1 + 1e-6):
            yield (f"the panel {size} {where} is longer than {max_aspect:g} to 1"
                   f"{_mend(cell, limit, max_aspect, system)}")  # fmt: skip


def _breaks(cell: Polygon, limit: float, max_aspect: float) -> bool:
    """True for a panel too large or too long."""
    short, long = _sides(cell)
    return long > limit * (1 + 1e-6) or long > short * max_aspect * (1 + 1e-6)


def _mend(cell: Polygon, limit: float, max_aspect: float, system: str) -> str:
    """The fewest even joints across a panel that mend it, in words that follow the problem."""
    x0, y0, x1, y1 = cell.bounds
    wide, high = x1 - x0, y1 - y0
    ways = sorted(
        ((n, m) for n in range(1, 7) for m in range(1, 7) if n * m > 1), key=lambda way: way[0] * way[1]
    )
    for n, m in ways:
        if not _breaks(box(0, 0, wide / n, high / m), limit, max_aspect):
            cuts = [("x", x0 + wide * k / n) for k in range(1, n)] + [
                ("y", y0 + high * k / m) for k in range(1, m)
            ]
            places = ", ".join(f"{axis} {show_length(Q(v, 'ft'), system)}" for axis, v in cuts)
            return f"; cut across at {places}, it would not be"
    return ""


def _missed(
    shapes: Iterable[tuple[str, Polygon]], cuts: Sequence[LineString], system: str
) -> Iterator[str]:
    """In words, every small opening or box of a post that no joint meets."""
    crossing = shapely.union_all(cuts)
    for what, shape in shapes:
        if not cuts or crossing.distance(shape) > 0.1:
            where = ", ".join(
                show_length(Q(v, "ft"), system) for v in (shape.centroid.x, shape.centroid.y)
            )
            yield f"the {what} at ({where})"
