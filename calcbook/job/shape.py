"""From the sections of a job file to its plan geometry."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from calcbook.basis.showing import show_length
from calcbook.basis.units import Q, UnitError
from calcbook.job.wall_lines import WallError, check_wall
from calcbook.plan.outline import (
    EdgeRing,
    OutlineError,
    Plan,
    Thickening,
    disc,
    read_outline,
    rectangle,
)

if TYPE_CHECKING:
    from shapely import Polygon

    from calcbook.basis.units import Quantity
    from calcbook.job.schema.sections import Edge, Pad
    from calcbook.job.schema.walls import Wall

_LEAST_WIDTH = Q(1, "ft")  # a slab that is narrower all over is a slip of a unit; no steel fits into it


def build_plan(file: Any) -> Plan:
    """The Plan of a checked job file (schema.JobFile, or one that notes what is read). Raises OutlineError with its ``place``."""
    system = file.job.units
    outline, edge = _outline(file.slab, system), _edge(file.edge)
    for index, wall in enumerate(file.walls):
        try:
            check_wall(file.slab, wall, system)
        except WallError as error:
            raise OutlineError(str(error), f"walls.{index}.{error.key}") from None
    plan = Plan(
        outline,
        openings=tuple(_named("openings", file.openings, lambda o: (o.name, _opening(o, system)))),
        thickenings=(
            *_named("pads", file.pads, lambda pad: _pad(pad, file, outline, edge)),
            *filter(None, _named("walls", file.walls, _strip)),
        ),
        edge=edge,
    )
    if plan.slab.buffer(-_LEAST_WIDTH.m_as("foot") / 2).is_empty:
        least = show_length(_LEAST_WIDTH, system)
        raise OutlineError(f"is nowhere {least} wide; check its measures and their units")
    return plan


def _outline(slab: Any, system: str) -> Polygon:
    if slab.points is not None:
        return read_outline(slab.points, system=system)
    return rectangle(slab.length, slab.width)


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


def _pad(pad: Pad, file: Any, outline: Polygon, edge: EdgeRing | None) -> Thickening:
    length, width, depth = pad.length, pad.width, pad.depth
    if length is None or width is None or depth is None:
        length, width, depth = _designed(pad, file, outline, edge)
    return Thickening.pad(pad.name, pad.x, pad.y, length, width, depth, pad.slope.m_as(""))


def _designed(
    pad: Pad, file: Any, outline: Polygon, edge: EdgeRing | None
) -> tuple[Quantity, Quantity, Quantity]:
    """Size of a pad that the job file leaves to its loads."""
    from calcbook.basis.formula import FormulaError
    from calcbook.footings.pad_fit import pad_for

    try:
        return pad_for(pad, file, outline, edge)
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


def _edge(edge: Edge) -> EdgeRing | None:
    if edge.depth.magnitude == 0:
        return None
    return EdgeRing(edge.depth.m_as("foot"), edge.width.m_as("foot"), edge.slope.m_as(""))


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
