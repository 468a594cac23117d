"""Places measured from a side of the slab, turned into x and y when a job file is read."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from calcbook.basis.showing import feet_inches
from calcbook.basis.units import Q, Quantity, number_in
from calcbook.job.files import JobError
from calcbook.job.problems import shown_place
from calcbook.job.wall_lines import no_side, side_of, side_points

if TYPE_CHECKING:
    from collections.abc import Callable

PLACED = ("pads", "posts", "openings")
BY_XY, BY_SIDE = ("x", "y"), ("from_side", "along", "off")
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
            if problem := no_side(side_points(file.slab), entry.from_side):
                _refuse(f"{name}.{index}.from_side", problem, place_of, where)
            x, y = _point(file, entry)
            dx, dy = _to_middle(name, entry)
            x, y = x - dx, y - dy
            found[index] = entry.model_copy()
            found[index].__dict__.update(x=Q(x, "ft"), y=Q(y, "ft"))
        file.__dict__[name] = found


def _refuse(
    place: str, words: str, place_of: Callable[[str], str], where: Callable[[str], str]
) -> None:
    raise JobError(f"{where(place)}: {shown_place(place_of(place).split('.'))}: {words}")


def _point(file: Any, entry: Any) -> tuple[float, float]:
    """The place in feet: along the side from its first corner (below 0 back from its last), and off it into the slab."""
    (x, y), way, inward, span = side_of(side_points(file.slab), entry.from_side)
    along, off = entry.along.m_as("foot"), entry.off.m_as("foot")
    along = span + along if along < 0 else along
    return x + along * way[0] + off * inward[0], y + along * way[1] + off * inward[1]


# --- from one way of telling a place to the other --------------------------------------------------


def told_otherwise(job: Any, section: str, number: int) -> dict[str, Any]:
    """The fields that tell the place of an entry the other way: by its nearest side, or by x and y; it stays where it is.

    job: a Job; section: of ``PLACED``; number: of the entry. The fields of the way it was told come as None.
    """
    entry = getattr(job, section)[number]
    x, y = (float(v.m_as("foot")) for v in (entry.x, entry.y))
    if entry.from_side is not None:
        return dict.fromkeys(BY_SIDE) | {"x": _written(x, job.system), "y": _written(y, job.system)}
    dx, dy = _to_middle(section, entry)
    side, along, off = _nearest_side(side_points(job.file.slab), (x + dx, y + dy))
    lengths = {"along": _written(along, job.system), "off": _written(off, job.system)}
    return dict.fromkeys(BY_XY) | {"from_side": side} | lengths


def _to_middle(section: str, entry: Any) -> tuple[float, float]:
    """From what x and y tell, the lower left corner of a rectangular opening, to the middle, in feet."""
    if section == "openings" and entry.diameter is None and entry.length is not None:
        return entry.length.m_as("foot") / 2, entry.width.m_as("foot") / 2
    return 0.0, 0.0


def _nearest_side(
    points: list[tuple[float, float]], point: tuple[float, float]
) -> tuple[int, float, float]:
    """(number of the side, distance along it, distance off it into the slab), in feet."""
    found = []
    for n in range(1, len(points) + 1):
        corner, way, inward, span = side_of(points, n)
        dx, dy = point[0] - corner[0], point[1] - corner[1]
        along, off = dx * way[0] + dy * way[1], dx * inward[0] + dy * inward[1]
        if span and along >= 0 and off >= 0:
            found.append((max(0.0, along - span), off, n, along))
    _, off, side, along = min(found)
    return side, along, off


def _written(feet: float, system: str) -> str:
    """A distance as it is typed, no coarser than it was."""
    length: Quantity = Q(feet, "ft")
    if system != "us":
        return f"{number_in(length, 'ft', 'si'):.10g} m"
    sixteenths = feet * 192
    return feet_inches(length) if abs(sixteenths - round(sixteenths)) < 1e-6 else f"{feet:.10g} ft"
