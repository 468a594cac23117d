"""From the sections of a job file to its plan geometry."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely

from calcbook.basis.showing import show_length
from calcbook.basis.units import Q, UnitError
from calcbook.job.corners import ring_of_corners
from calcbook.job.edges import edge_of, edges_of, in_plan_order, ring_of
from calcbook.job.schema.curbs import STEPS
from calcbook.job.top import plane_of
from calcbook.job.wall_lines import (
    WallError,
    check_wall,
    is_clockwise,
    no_side,
    side_of,
    side_points,
    wall_line,
)
from calcbook.plan.outline import (
    EdgeRing,
    Edging,
    Ledge,
    OutlineError,
    Plan,
    Raised,
    Thickening,
    disc,
    read_outline,
    rectangle,
)

if TYPE_CHECKING:
    from shapely import Polygon

    from calcbook.basis.units import Quantity
    from calcbook.job.schema.curbs import Curb
    from calcbook.job.schema.edges import Lowered
    from calcbook.job.schema.pads import Pad
    from calcbook.job.schema.walls import Wall
    from calcbook.plan.arc import Arc

_LEAST_UNDER = Q(3.5, "in")  # the least slab that the book takes
_LEAST_WIDTH = Q(1, "ft")  # a slab that is narrower all over is a slip of a unit; no steel fits into it


def build_plan(file: Any) -> Plan:
    """The Plan of a checked job file (schema.JobFile, or one that notes what is read). Raises OutlineError with its ``place``."""
    system = file.job.units
    outline = _outline(file.slab, system)
    ring = ring_of_corners(file)
    if file.corners:
        outline = read_outline(ring.points, system=system)
    edge = _edge(file)
    edging = Edging(outline, edge)
    for index, wall in enumerate(file.walls):
        try:
            check_wall(file.slab, wall, system)
        except WallError as error:
            raise OutlineError(str(error), f"walls.{index}.{error.key}") from None
    plan = Plan(
        outline,
        openings=tuple(_named("openings", file.openings, lambda o: (o.name, _opening(o, system)))),
        thickenings=(
            *_named("pads", file.pads, lambda pad: _pad(pad, file, edging)),
            *filter(None, _named("walls", file.walls, _strip)),
        ),
        edge=edge,
        ledges=tuple(_named("ledges", file.ledges, lambda ledge: _ledge(ledge, file, outline))),
        arcs=_in_plan(ring.arcs, len(ring.points), is_clockwise(side_points(file.slab))),
        raised=tuple(_named("curbs", file.curbs, lambda curb: _raised(curb, file, outline))),
    )
    _refuse_walls_in_the_air(file, plan)
    if plan.slab.buffer(-_LEAST_WIDTH.m_as("foot") / 2).is_empty:
        least = show_length(_LEAST_WIDTH, system)
        raise OutlineError(f"is nowhere {least} wide; check its measures and their units")
    plane_of(file, plan)  # a slope that cannot be is a mistake of the file
    return plan


def _in_plan(arcs: Sequence[Arc], sides: int, turned: bool) -> tuple[Arc, ...]:
    """Arcs with their sides as the plan counts them, which goes round counterclockwise."""
    if not turned:
        return tuple(arcs)
    return tuple(
        replace(arc, halves=(sides - 1 - arc.halves[0], sides - 1 - arc.halves[1])) for arc in arcs
    )


def _refuse_walls_in_the_air(file: Any, plan: Plan) -> None:
    """Refuse a wall along a side that reaches beyond a round or cut corner."""
    for index, wall in enumerate(file.walls if file.corners else ()):
        if wall.side is None:
            continue
        at = wall_line(file.slab, wall, file.job.units)
        if not plan.outline.buffer(1e-4).covers(shapely.LineString([at.at(0.0), at.at(at.length)])):
            raise OutlineError(
                f"wall {wall.name!r} reaches beyond a round or cut corner; give its start and end so that it stands on the slab",
                f"walls.{index}",
            )


def _outline(slab: Any, system: str) -> Polygon:
    if slab.points is not None:
        return read_outline(slab.points, system=system)
    return rectangle(slab.length, slab.width, *slab.corner)


def _opening(opening: Any, system: str) -> Polygon:
    if opening.diameter is not None:
        return disc(opening.x, opening.y, opening.diameter)
    points = opening.points or _corners(opening)
    return read_outline(
        points, f"opening {opening.name!r}", "openings", smallest=1 / 144, system=system
    )


def _corners(box: Any) -> list[tuple[Quantity, Quantity]]:
    x, y, right, top = box.x, box.y, box.x + box.length, box.y + box.width
    return [(x, y), (right, y), (right, top), (x, top)]


def _pad(pad: Pad, file: Any, edging: Edging) -> Thickening:
    length, width, depth = pad.length, pad.width, pad.depth
    if length is None or width is None or depth is None:
        length, width, depth = _designed(pad, file, edging)
    return Thickening.pad(pad.name, pad.x, pad.y, length, width, depth, pad.slope.m_as(""))


def _designed(pad: Pad, file: Any, edging: Edging) -> tuple[Quantity, Quantity, Quantity]:
    """Size of a pad that the job file leaves to its loads."""
    from calcbook.basis.formula import FormulaError
    from calcbook.footings.pad_size import pad_for

    try:
        return pad_for(pad, file, edging)
    except FormulaError as error:
        raise OutlineError(f"pad {pad.name!r}: {error}") from None


def _strip(wall: Wall) -> Thickening | None:
    try:
        strip = wall.strip()
    except UnitError as error:
        raise OutlineError(str(error)) from None
    if strip is None:
        return None
    x1, y1, x2, y2, width, depth = strip
    along_x = y1 == y2
    length = abs(x2 - x1 if along_x else y2 - y1)
    sides = (length, width) if along_x else (width, length)
    made = Thickening.pad(wall.name, (x1 + x2) / 2, (y1 + y2) / 2, *sides, depth)
    return replace(made, kind="strip")


def _edge(file: Any) -> EdgeRing | None:
    """The thickened edge: one all round, or each side's own; None where no side has one."""
    if not file.edges:
        whole = edge_of(file, None)
        return ring_of(whole, EdgeRing) if whole.depth.magnitude else None
    _check_edges(file)
    sides = in_plan_order(file, [ring_of(edge, EdgeRing) for edge in edges_of(file)])
    if not any(side.depth for side in sides):
        return None
    return replace(max(sides, key=lambda side: (side.depth, side.width)), sides=tuple(sides))


def _check_edges(file: Any) -> None:
    seen: dict[int, int] = {}
    corners = side_points(file.slab)
    for index, entry in enumerate(file.edges):
        if wrong := no_side(corners, entry.side):
            raise OutlineError(wrong, f"edges.{index}.side")
        if entry.side in seen:
            raise OutlineError(
                f"side {entry.side} has two edges here, numbers {seen[entry.side] + 1} and {index + 1}; keep one, or add "
                "a point to [slab] points where the edge changes", f"edges.{index}.side",
            )  # fmt: skip
        seen[entry.side] = index


def _ledge(ledge: Lowered, file: Any, outline: Polygon) -> Ledge:
    """A door sill or ledge in plan; what would leave too little concrete is refused."""
    a, along, inward, (start, end) = _stretch(ledge, file)
    system = file.job.units
    edge, t = edge_of(file, ledge.side), file.slab.thickness
    on_edge = edge.depth.magnitude > 0 and ledge.width <= edge.width
    under = t + (edge.depth if on_edge else Q(0, "in")) - ledge.drop
    if under < _LEAST_UNDER:
        left, least = (
            show_length(q, system, small=True) for q in (max(under, Q(0, "in")), _LEAST_UNDER)
        )
        raise OutlineError(
            f"{ledge.called}: it would leave {left} of concrete below it, and {least} is the least here; make its drop "
            f"less, or the edge of side {ledge.side} deeper and at least as wide as it"
        )
    inward = inward * ledge.width.m_as("foot")
    p, q = a + start * along, a + end * along
    shape = shapely.Polygon([p, q, q + inward, p + inward]) & outline
    return Ledge(ledge.called, ledge.side, shape, ledge.drop.m_as("foot"), ledge.width.m_as("foot"))


def _stretch(entry: Any, file: Any) -> tuple[Any, Any, Any, tuple[float, float]]:
    """A stretch of a side: its first corner, the ways along and into the slab, start and end in feet.

    entry: with side, start, end and called. Raises OutlineError where it is not on the side.
    """
    points, system = side_points(file.slab), file.job.units
    if wrong := no_side(points, entry.side):
        raise OutlineError(f"{entry.called}: {wrong}")
    corner, along, inward, span = side_of(points, entry.side)
    start, end = entry.start.m_as("foot"), span if entry.end is None else entry.end.m_as("foot")
    if end > span + 1e-6 or start >= end:
        low, high, whole = (show_length(Q(v, "ft"), system) for v in (start, end, span))
        raise OutlineError(
            f"{entry.called}: it runs from {low} to {high}, but side {entry.side} is {whole} long; change start or end"
        )
    return np.array(corner), np.array(along), np.array(inward), (start, end)


def _raised(curb: Curb, file: Any, outline: Polygon) -> Raised:
    """A curb or wall on the slab, or steps before it, in plan."""
    a, along, inward, (start, end) = _stretch(curb, file)
    wide, p, q = curb.width.m_as("foot"), a + start * along, a + end * along
    out = inward * (-wide * curb.count if curb.kind == STEPS else wide)
    shape = shapely.Polygon([p, q, q + out, p + out])
    if curb.kind == STEPS and (shape & outline).area > 1e-6:
        raise OutlineError(
            f"{curb.called}: they would stand on the slab; make them narrower or shorter"
        )
    found = shape if curb.kind == STEPS else shape & outline
    height = curb.height.m_as("foot")
    return Raised(curb.called, curb.kind, curb.side, found, height, wide, end - start, curb.count)


def _named(place: str, entries: Sequence[Any], make: Callable[[Any], Any]) -> list[Any]:
    """Make a shape of every entry; a mistake is pinned to the entry it stands in."""
    found = []
    for index, entry in enumerate(entries):
        try:
            made = make(entry)
            found.append(
                replace(made, place=f"{place}.{index}") if isinstance(made, Thickening) else made
            )
        except OutlineError as error:
            raise OutlineError(str(error), f"{place}.{index}") from None
    return found
