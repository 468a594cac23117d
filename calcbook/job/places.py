"""Places measured from a side of the slab, turned into x and y when a job file is read."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from calcbook.basis.units import Q
from calcbook.job.files import JobError
from calcbook.job.problems import shown_place
from calcbook.job.wall_lines import is_clockwise, side_points

if TYPE_CHECKING:
    from collections.abc import Callable

PLACED = ("pads", "posts", "openings")
_NOWHERE = {"x": "0 ft", "y": "0 ft"}  # until the outline is known


def with_places(raw: Any) -> Any:
    """The data of a job file in which what is measured from a side has an x and y for the time being.

    raw: not changed; what is not as it should be is left for the reading to tell.
    """
    if not isinstance(raw, dict):
        return raw
    made = dict(raw)
    for name in PLACED:
        if isinstance(raw.get(name), list):
            made[name] = [_with_place(entry) for entry in raw[name]]
    if isinstance(raw.get("slabs"), list):
        made["slabs"] = [with_places(entry) for entry in raw["slabs"]]
    return made


def _with_place(entry: Any) -> Any:
    measured = isinstance(entry, dict) and "from_side" in entry
    return {**_NOWHERE, **entry} if measured else entry


def placed(
    file: Any, raw: dict[str, Any], place_of: Callable[[str], str], where: Callable[[str], str]
) -> None:
    """Put the x and y of what is measured from a side into a checked job file. Raises JobError.

    file: a JobFile, which is changed, its sections not; raw: as written; place_of, where: words for a place.
    """
    for name in PLACED:
        found = list(getattr(file, name))
        for index, entry in enumerate(found):
            if entry.from_side is None:
                continue
            key = next((key for key in ("x", "y") if key in raw[name][index]), None)
            if key:
                _refuse(
                    f"{name}.{index}.{key}",
                    "from_side says where it is: leave x and y out",
                    place_of,
                    where,
                )
            problem = _off_outline(file, entry)
            if problem:
                _refuse(f"{name}.{index}.from_side", problem, place_of, where)
            x, y = _point(file, entry)
            if name == "openings" and entry.diameter is None and entry.length is not None:
                x, y = x - entry.length.m_as("foot") / 2, y - entry.width.m_as("foot") / 2
            found[index] = entry.model_copy()
            found[index].__dict__.update(x=Q(x, "ft"), y=Q(y, "ft"))
        file.__dict__[name] = found


def _refuse(
    place: str, words: str, place_of: Callable[[str], str], where: Callable[[str], str]
) -> None:
    raise JobError(f"{where(place)}: {shown_place(place_of(place).split('.'))}: {words}")


def _off_outline(file: Any, entry: Any) -> str:
    count = len(side_points(file.slab))
    known = entry.from_side <= count
    return "" if known else f"side {entry.from_side} is not there; the outline has {count} sides"


def _point(file: Any, entry: Any) -> tuple[float, float]:
    """The place in feet: along the side from its first corner (below 0 back from its last), and off it into the slab."""
    points = side_points(file.slab)
    (x0, y0), (x1, y1) = points[entry.from_side - 1], points[entry.from_side % len(points)]
    span = math.hypot(x1 - x0, y1 - y0)
    if not span:
        return x0, y0  # a side of no length, which the outline refuses
    way = (x1 - x0) / span, (y1 - y0) / span
    along, off = entry.along.m_as("foot"), entry.off.m_as("foot")
    along = span + along if along < 0 else along
    turn = -1 if is_clockwise(points) else 1
    return x0 + along * way[0] - turn * off * way[1], y0 + along * way[1] + turn * off * way[0]
