"""Where the lines of a joint layout run: through inner corners, near posts, evenly between.

Plain numbers in feet. The choices are few, so they are simply compared.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from shapely.geometry import Point, Polygon

Lines = tuple[list[float], list[float]]  # places along x and along y

_MOST_CORNERS = 6  # beyond that many inner corners a line runs through each both ways
_MOST_POINTS = 6  # posts and openings that the lines of one gap are moved to


@dataclass(frozen=True)
class ByHand:
    """What the builder says of the lines: fixed places (xs, ys); barred (axis, place, within) and moved (axis,
    from, to), axis 0 for x; only: whether no other lines are wanted; paths: lines from point to point. All in feet."""

    fixed: tuple[tuple[float, ...], tuple[float, ...]] = ((), ())
    barred: tuple[tuple[int, float, float], ...] = ()
    moved: tuple[tuple[int, float, float], ...] = ()
    only: bool = False
    paths: tuple[tuple[tuple[float, float], ...], ...] = ()

    @property
    def upright(self) -> bool:
        """Whether a line is given by its place along x or y, so that the joints run along those."""
        return bool(any(self.fixed) or self.barred or self.moved)

    def bars(self, axis: int, place: float) -> bool:
        """Whether the builder forbids a line at a place along an axis."""
        return any(a == axis and abs(place - v) <= within + 1e-9 for a, v, within in self.barred)

    def changed(self, lines: tuple[list[float], list[float]]) -> tuple[list[float], list[float]]:
        """The lines of a layout with those moved and barred; their first and last are the slab's own sides."""
        found = [list(axis) for axis in lines]
        for axis, place, to in self.moved:
            inside = found[axis][1:-1]
            if inside:
                found[axis].remove(min(inside, key=lambda v: abs(v - place)))
            found[axis].append(to)
        for axis, own in enumerate(found):
            low, high = lines[axis][0], lines[axis][-1]
            found[axis] = [v for v in own if v in (low, high) or not self.bars(axis, v)]
        xs, ys = (_distinct([v for v in axis if own[0] <= v <= own[-1]])
                  for axis, own in zip(found, lines, strict=True))  # fmt: skip
        return xs, ys


FREE = ByHand()


def _distinct(places: Iterable[float]) -> list[float]:
    """Places in their order, those within a hair of each other once."""
    found: list[float] = []
    for place in sorted(places):
        if not found or place > found[-1] + 1e-6:
            found.append(place)
    return found


def best_lines(
    polygon: Polygon,
    limit: float,
    max_aspect: float,
    points: Sequence[Point],
    by_hand: ByHand = FREE,
    corners: Sequence[tuple[float, float]] = (),
    judge: Callable[[Lines], int] | None = None,
) -> Lines:
    """(xs, ys): coordinates of all lines, the outline's bounds included.

    polygon: without holes; limit: largest spacing; max_aspect: of a panel; points: places that a line should meet;
    by_hand: what the builder says; corners: through each of which a line runs; judge: rules that lines break, where
    the bounds of the panels do not tell it.
    """
    x0, y0, x1, y1 = polygon.bounds
    costs = _Costs(polygon, max_aspect)
    own_x, own_y = ([v for v in own if low < v < high]
                    for own, low, high in zip(by_hand.fixed, (x0, y0), (x1, y1), strict=True))  # fmt: skip
    if by_hand.only:
        return by_hand.changed((_distinct([x0, x1, *own_x]), _distinct([y0, y1, *own_y])))
    best: tuple[Any, tuple[list[float], list[float]]] | None = None
    for through_x, through_y in _coverings(corners):
        fixed = _distinct([x0, x1, *through_x, *own_x]), _distinct([y0, y1, *through_y, *own_y])
        for near in (
            (points, ()) if points else ((),)
        ):  # not moved to them where that makes worse panels
            lines = _refined(costs, fixed, limit, near)
            too_long, length = costs.of(lines)
            # of ways that cut as much, the squarer, whichever way the slab lies
            cost = (judge(lines) if judge else 0, too_long, not near, length, costs.longest(lines))
            if best is None or cost < best[0]:
                best = cost, lines
            if not cost[0] and not too_long:
                break
    assert best is not None  # there is always one way at least
    return by_hand.changed(best[1])


def _coverings(
    corners: Sequence[tuple[float, float]],
) -> list[tuple[frozenset[float], frozenset[float]]]:
    """Ways to run a line through every inner corner: its x, its y, or (of many) both."""
    if len(corners) > _MOST_CORNERS:
        return [(frozenset(x for x, _ in corners), frozenset(y for _, y in corners))]
    ways = set()
    for choice in itertools.product((0, 1), repeat=len(corners)):
        through_x, through_y = (
            frozenset(c[axis] for c, a in zip(corners, choice, strict=True) if a == axis)
            for axis in (0, 1)
        )
        ways.add((through_x, through_y))
    return sorted(ways, key=lambda way: [sorted(w) for w in way])


def _refined(
    costs: _Costs,
    fixed: tuple[list[float], list[float]],
    limit: float,
    points: Sequence[Point],
) -> tuple[list[float], list[float]]:
    """Even lines between the fixed ones; more of them while that mends panels too long."""
    counts = [
        [max(1, math.ceil((b - a) / limit - 1e-9)) for a, b in itertools.pairwise(f)] for f in fixed
    ]
    near = [[p.x for p in points], [p.y for p in points]]

    def lines(counts: Sequence[list[int]]) -> tuple[list[float], list[float]]:
        xs, ys = (_fill(f, c, limit, n) for f, c, n in zip(fixed, counts, near, strict=True))
        return xs, ys

    best = costs.of(lines(counts)), counts
    for _ in range(12):
        if not best[0][0]:
            break  # none is too long
        tries = []
        for axis, gap in [(0, i) for i in range(len(counts[0]))] + [
            (1, i) for i in range(len(counts[1]))
        ]:
            more = [list(c) for c in best[1]]
            more[axis][gap] += 1
            tries.append((costs.of(lines(more)), more))
        found = min(tries, key=lambda t: t[0])
        if found[0][0] >= best[0][0]:
            break
        best = found
    return lines(best[1])


def _fill(
    fixed: Sequence[float], counts: Sequence[int], limit: float, near: Sequence[float]
) -> list[float]:
    found = [fixed[0]]
    for (a, b), n in zip(itertools.pairwise(fixed), counts, strict=True):
        found += [*_between(a, b, n, limit, near), b]
    return found


def _between(a: float, b: float, n: int, limit: float, near: Sequence[float]) -> list[float]:
    """n - 1 lines between a and b, moved to as many of the places near as the spacing allows."""
    if n == 1:
        return []
    even = (b - a) / n
    places = sorted({round(p, 6) for p in near if a + even / 2 <= p <= b - even / 2})[:_MOST_POINTS]
    best = None
    for size in range(min(len(places), n - 1), -1, -1):
        for chosen in itertools.combinations(places, size):
            marks = _spread([a, *chosen, b], n)
            gaps = [high - low for low, high in itertools.pairwise([a, *marks, b])]
            if max(gaps) <= limit + 1e-9 and min(gaps) >= 0.6 * even:
                uneven = max(gaps) / min(gaps)
                if best is None or uneven < best[0]:
                    best = uneven, marks
        if best:
            return best[1]
    return [a + even * i for i in range(1, n)]


def _spread(ends: Sequence[float], n: int) -> list[float]:
    """Divide the gaps between ends so that n pieces come out, the longest gaps first."""
    pieces = [1] * (len(ends) - 1)
    widths = [high - low for low, high in itertools.pairwise(ends)]
    while sum(pieces) < n:
        parts = [width / k for width, k in zip(widths, pieces, strict=True)]
        pieces[parts.index(max(parts))] += 1
    marks = []
    for a, b, k in zip(ends[:-1], ends[1:], pieces, strict=True):
        marks += [a + (b - a) * i / k for i in range(1, k + 1)]
    return marks[:-1]


class _Costs:
    """What layouts of lines over a polygon are compared by. Most of their cells and lines they have in common, so each
    is measured once."""

    def __init__(self, polygon: Polygon, max_aspect: float) -> None:
        self.polygon, self.most = polygon, max_aspect * (1 + 1e-6)
        shapely.prepare(polygon)
        self.inner = polygon.buffer(-1e-9)  # less a hair all round
        self._too_long: dict[tuple[float, ...], int] = {}  # panels, by the bounds of their cell
        self._longest: dict[tuple[float, ...], float] = {}  # length over width of the longest of them
        self._lengths: dict[tuple[int, float], float] = {}  # of a line, by axis and place

    def of(self, lines: Lines) -> tuple[int, float]:
        """(panels too long, length of cuts)."""
        xs, ys = lines
        cells = self._cells(lines)
        self._measure([cell for cell in cells if cell not in self._too_long])
        too_long = sum(self._too_long[cell] for cell in cells)
        places = [(0, x) for x in xs[1:-1]] + [(1, y) for y in ys[1:-1]]
        self._measure_lines([place for place in places if place not in self._lengths])
        return too_long, round(float(np.sum([self._lengths[place] for place in places])), 6)

    def longest(self, lines: Lines) -> float:
        """Greatest length over width of a panel of lines that were asked for by ``of``."""
        return round(max(self._longest[cell] for cell in self._cells(lines)), 6)

    @staticmethod
    def _cells(lines: Lines) -> list[tuple[float, ...]]:
        xs, ys = lines
        return [(a, c, b, d) for a, b in itertools.pairwise(xs) for c, d in itertools.pairwise(ys)]

    def _measure(self, new: list[tuple[float, ...]]) -> None:
        """Count the panels too long in some cells."""
        if not new:
            return
        boxes = shapely.box(*np.array(new).T)
        whole = shapely.covers(self.polygon, boxes)  # most are, and need not be cut
        cut, cell = shapely.get_parts(
            shapely.intersection(boxes[~whole], self.polygon), return_index=True
        )
        parts = np.concatenate([boxes[whole], cut])
        cell = np.concatenate([np.flatnonzero(whole), np.flatnonzero(~whole)[cell]])
        bounds = shapely.bounds(parts)
        sides = np.sort(
            np.column_stack([bounds[:, 2] - bounds[:, 0], bounds[:, 3] - bounds[:, 1]]), axis=1
        )
        there = shapely.area(parts) > 1e-9
        too_long = (sides[:, 1] > sides[:, 0] * self.most) & there
        shape = np.zeros(len(new))
        np.maximum.at(shape, cell[there], sides[there, 1] / sides[there, 0])
        self._longest.update(zip(new, shape.tolist(), strict=True))
        counts = np.bincount(cell[too_long], minlength=len(new))
        self._too_long.update(zip(new, counts.tolist(), strict=True))

    def _measure_lines(self, new: list[tuple[int, float]]) -> None:
        """How much of some lines across the polygon lies inside it."""
        if not new:
            return
        x0, y0, x1, y1 = self.polygon.bounds
        ends = [((x0, v), (x1, v)) if axis else ((v, y0), (v, y1)) for axis, v in new]
        inside = shapely.length(shapely.intersection(shapely.linestrings(ends), self.inner))
        self._lengths.update(zip(new, inside.tolist(), strict=True))
