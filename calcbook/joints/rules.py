"""The rules for the shape of a panel, whatever its sides: how it is measured, what it breaks, and what would mend it.

A panel is measured by the smallest rectangle around it. Plain numbers in feet, angles in degrees.
"""

from __future__ import annotations

import functools
import itertools
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeVar

import shapely
from shapely import Point, affinity, box

from calcbook.basis.showing import show_length
from calcbook.basis.units import Q
from calcbook.joints.inner import key, turns

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from shapely.geometry import LineString, Polygon

    from calcbook.joints.inner import Inner

LEAST_ANGLE = 60.0  # of a panel at a joint (common practice)
_HOOK = 75.0  # by more a panel must not turn round another: a bent end turns by up to 60
_AT_INNER = 44.0  # where a joint starts from the middle of a rounded or cut inner corner
_HAIR = 1 + 1e-6
_SAME = 1e-5  # ft
_TURNED = 0.99  # a turned rectangle is taken where it is so much smaller than the one along the joints


Shape = TypeVar("Shape", bound=shapely.Geometry)


def turned(shape: Shape, angle: float) -> Shape:
    """A shape turned about the plan's origin. angle: degrees, against the clock."""
    return affinity.rotate(shape, angle, origin=(0, 0)) if angle else shape


def is_rectangle(shape: Polygon) -> bool:
    """Whether a shape fills the rectangle along x and y around it."""
    return bool(shape.area > box(*shape.bounds).area * (1 - 1e-9))


def sides(shape: Polygon) -> tuple[float, float]:
    """(shorter, longer) side of the smallest rectangle around a shape."""
    x0, y0, x1, y1 = shape.bounds
    upright = sorted((x1 - x0, y1 - y0))
    if is_rectangle(shape):
        return upright[0], upright[1]
    around = shapely.oriented_envelope(shape)
    if around.geom_type != "Polygon" or around.area > upright[0] * upright[1] * _TURNED:
        return upright[0], upright[1]
    p, q, r = around.exterior.coords[:3]
    found = sorted((math.dist(p, q), math.dist(q, r)))
    return found[0], found[1]


@dataclass(frozen=True)
class Judged:
    """A panel with its measures: sides of the smallest rectangle around it, and its sharpest corner at a joint, in
    degrees, with its place, 180 where no corner is sharp; inner: corners of the outline left in it; hooks: places where
    it goes round the corner of another panel, as an L does."""

    shape: Polygon
    short: float
    long: float
    sharpest: float
    sharp_at: tuple[float, float]
    inner: tuple[Inner, ...]
    hooks: tuple[tuple[float, float], ...] = ()

    @property
    def aspect(self) -> float:
        """Longer over shorter side."""
        return self.long / self.short

    @property
    def degrees(self) -> int:
        """The sharpest corner as a joint can be laid out, to whole degrees: this is judged and told."""
        return round(self.sharpest)


@dataclass(frozen=True)
class Rules:
    """What a panel must keep to: largest side, largest ratio of its sides, and no inner corner or sharp corner.

    limit: ft; aspect: plain; outline: of the slab; corners: its inner corners; angle: by which the plan was turned so
    that the joints run along x and y, which words turn back.
    """

    limit: float
    aspect: float
    outline: Polygon
    corners: tuple[Inner, ...] = ()
    angle: float = 0.0

    @functools.cached_property
    def _outline_turns(self) -> dict[tuple[float, float], float]:
        return {key(place): turn for place, turn in turns(self.outline)}

    @functools.cached_property
    def _corner_at(self) -> dict[tuple[float, float], Inner]:
        return {key(place): corner for corner in self.corners for place in corner.points}

    @functools.cached_property
    def _starts(self) -> set[tuple[float, float]]:
        return {key(spot) for corner in self.corners if len(corner.points) > 1 for spot in corner.spots}

    def judge(self, shape: Polygon) -> Judged:
        """Measure a panel."""
        short, long = sides(shape)
        if is_rectangle(shape):
            return Judged(shape, short, long, 90.0, (0.0, 0.0), ())
        found = list(turns(shape))
        sharpest, at = min(((180 - turn, p) for p, turn in found if not self._own(p, turn)),
                           default=(180.0, (0.0, 0.0)))  # fmt: skip
        left: dict[Inner, float] = {}
        hooks = []
        for place, turn in found:
            if turn < 0 and key(place) in self._corner_at:
                corner = self._corner_at[key(place)]
                left[corner] = left.get(corner, 0.0) - turn
            elif turn < -_HOOK and self.outline.exterior.distance(Point(place)) > _SAME:
                hooks.append(place)
        inner = tuple(corner for corner, turn in left.items() if turn > corner.most)
        return Judged(shape, short, long, sharpest, at, inner, tuple(hooks))

    def starts(self, place: tuple[float, ...]) -> bool:
        """Whether a joint starts at a place from a rounded or cut inner corner. place: x and y, ft."""
        return key(place) in self._starts

    def _own(self, place: tuple[float, float], turn: float) -> bool:
        """Whether a corner is the outline's own, or one that a joint from a rounded inner corner cannot help."""
        if turn < 90:
            return False
        if turn < 180 - _AT_INNER and self.starts(place):
            return True
        own = self._outline_turns.get(key(place))
        return own is not None and abs(own - turn) < 0.1

    def too_large(self, one: Judged) -> bool:
        """Whether the longer side is more than the spacing of the joints."""
        return one.long > self.limit * _HAIR

    def too_long(self, one: Judged) -> bool:
        """Whether it is too long for its width."""
        return one.aspect > self.aspect * _HAIR

    def too_sharp(self, one: Judged) -> bool:
        """Whether a joint leaves it a corner that breaks off."""
        return one.degrees < LEAST_ANGLE

    def broken(self, one: Judged) -> int:
        """How many rules it breaks."""
        return sum(
            (self.too_large(one), self.too_long(one), self.too_sharp(one), bool(one.inner or one.hooks))
        )

    def breaks(self, shape: Polygon) -> bool:
        """Whether a shape breaks a rule."""
        return self.broken(self.judge(shape)) > 0

    def problems(self, one: Judged, system: str, bend: LineString | None = None) -> Iterator[str]:
        """A sentence for every rule that a panel breaks. bend: the way a joint would have to end instead."""
        where = f"{_size(one, system)} at {self._place(one.shape.centroid.coords[0], system)}"
        mend = self._mend(one.shape, system) if self.too_large(one) or self.too_long(one) else ""
        if self.too_large(one):
            yield f"the panel {where} is larger than the spacing allows{mend}"
        if self.too_long(one):
            yield f"the panel {where} is longer than {self.aspect:g} to 1{mend}"
        for corner in one.inner:
            at = self._place(corner.spots[0], system)
            yield f"the panel {where} has an inner corner in it; start a joint there, at {at}"
        for hook in one.hooks:
            yield f"the panel {where} is L-shaped; cut it across from its inner corner at {self._place(hook, system)}"
        if self.too_sharp(one):
            at = self._place(one.sharp_at, system)
            yield (f"the panel {where} has a corner of {one.degrees}° at {at}, which breaks off easily; "
                   f"{self._bend_words(bend, system)}")  # fmt: skip

    def _mend(self, shape: Polygon, system: str) -> str:
        """The joints across a panel that mend it, in words that follow the problem."""
        lines = self.mending(shape)
        return (
            ""
            if lines is None
            else f"; cut across {self._across(shape, lines, system)}, it would not be"
        )

    def mending(self, shape: Polygon) -> tuple[list[float], list[float]] | None:
        """The fewest even joints across a panel that is too large or too long which mend it, its own bounds included."""
        x0, y0, x1, y1 = shape.bounds
        most = 7 if is_rectangle(shape) else 4
        ways = sorted(itertools.product(range(1, most), repeat=2), key=lambda way: way[0] * way[1])
        for n, m in ways[1:]:
            xs, ys = (
                [low + (high - low) * k / c for k in range(c + 1)]
                for low, high, c in ((x0, x1, n), (y0, y1, m))
            )
            if most == 7:  # all pieces are alike
                short, long = sorted((xs[1] - xs[0], ys[1] - ys[0]))
                made = [Judged(shape, short, long, 90.0, (0.0, 0.0), ())]
            else:
                made = [self.judge(piece) for piece in cells(shape, (xs, ys))]
            if not any(self.too_large(j) or self.too_long(j) for j in made):
                return xs, ys
        return None

    def _across(self, shape: Polygon, lines: tuple[list[float], list[float]], system: str) -> str:
        """Where lines run across a panel, in words; along neither x nor y of the plan by their ends."""
        x0, y0, x1, y1 = shape.bounds
        if not self.angle:
            places = [f"{name} {show_length(Q(v, 'ft'), system)}"
                      for name, own in zip("xy", lines, strict=True) for v in own[1:-1]]  # fmt: skip
            return f"at {', '.join(places)}"
        ends = [((x, y0), (x, y1)) for x in lines[0][1:-1]] + [
            ((x0, y), (x1, y)) for y in lines[1][1:-1]
        ]
        return ", ".join(f"from {self._place(p, system)} to {self._place(q, system)}" for p, q in ends)

    def _place(self, at: tuple[float, ...], system: str) -> str:
        there = turned(Point(at), self.angle)
        x, y = (show_length(Q(v, "ft"), system) for v in (there.x, there.y))
        return f"x {x}, y {y}"

    def _bend_words(self, bend: LineString | None, system: str) -> str:
        if bend is None:
            return "move the joint, or bend its end so that it meets the other squarely"
        start, end = (self._place(p, system) for p in bend.coords)
        return f"bend the joint at {start}, so that it ends squarely at {end}"


def cells(whole: Polygon, lines: tuple[Sequence[float], Sequence[float]]) -> list[Polygon]:
    """The pieces of a shape between lines along x and y: exact parts of it, whatever its sides."""
    xs, ys = lines
    found = []
    for x0, x1 in zip(xs, xs[1:], strict=False):
        for y0, y1 in zip(ys, ys[1:], strict=False):
            found += parts(box(x0, y0, x1, y1) & whole)
    return found


def parts(shape: shapely.Geometry) -> list[Polygon]:
    """The polygons of a shape, without what is but a hair."""
    return [p for p in shapely.get_parts(shape) if p.geom_type == "Polygon" and p.area > 1e-9]


def _size(one: Judged, system: str) -> str:
    short, long = (show_length(Q(v, "ft"), system) for v in (one.short, one.long))
    return f"{short} by {long}" if is_rectangle(one.shape) else f"within {short} by {long}"
