"""What a layout of joints breaks or leaves out, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

import shapely
from shapely import Point

from calcbook.basis.showing import show_length
from calcbook.basis.units import Q
from calcbook.joints.ends import end_bent
from calcbook.joints.rules import turned

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from shapely.geometry import LineString, Polygon

    from calcbook.joints.rules import Judged, Rules

_MEETS, _OVER = 0.1, 0.02  # ft: nearer a joint meets a box; less of it over a pad is none


def told_problems(
    judged: Sequence[Judged], rules: Rules, cuts: Sequence[LineString], system: str
) -> Iterator[str]:
    """A sentence for every rule that a panel breaks."""
    for one in judged:
        bend = None
        if rules.too_sharp(one):
            at = Point(one.sharp_at)
            near = [(c, k) for c in cuts for k in (0, -1) if at.distance(Point(c.coords[k])) < 1e-5]
            for cut, end in near:
                bend = bend or end_bent(cut, end, rules, [c for c in cuts if c is not cut])
        yield from rules.problems(one, system, bend)


def told_missed(
    shapes: Iterable[tuple[str, Polygon]], cuts: Sequence[LineString], rules: Rules, system: str
) -> tuple[str, ...]:
    """In words, every small opening or box of a post that no joint meets."""
    crossing = shapely.union_all(cuts)
    missed = [(what, shape) for what, shape in shapes if not cuts or crossing.distance(shape) > _MEETS]
    return tuple(f"the {what} at {_at(shape.centroid, rules, system)}" for what, shape in missed)


def over_rims(
    cuts: Sequence[LineString], pads: Sequence[Polygon], boxes: Sequence[Polygon]
) -> list[int]:
    """Numbers of the pads over which a joint runs past the box of their posts: where the concrete is so thick it leads no crack.

    pads: as they are built; boxes: of their posts, in the same order.
    """
    return [
        k
        for k, (pad, box) in enumerate(zip(pads, boxes, strict=True))
        if any(cut.distance(box) > _MEETS and (cut & pad).length > _OVER for cut in cuts)
    ]


def told_blind(
    paths: Sequence[LineString],
    found: Sequence[Polygon],
    gone: shapely.Geometry,
    rules: Rules,
    system: str,
) -> Iterator[str]:
    """A sentence for every line by hand a part of which is no side of any panel; found: the panels."""
    if not paths:
        return
    drawn = shapely.union_all([c.boundary for c in found]).buffer(1e-4)
    for path in paths:
        if path.difference(drawn).difference(gone).length > 0.01:
            ends = " to ".join(_at(Point(path.coords[k]), rules, system) for k in (0, -1))
            yield (
                f"the line by hand from {ends} ends inside a panel and parts nothing there: lead it to a side or a joint"
            )


def _at(place: Point, rules: Rules, system: str) -> str:
    """A place in words, in the plan."""
    there = turned(place, rules.angle)
    return f"({', '.join(show_length(Q(v, 'ft'), system) for v in (there.x, there.y))})"
