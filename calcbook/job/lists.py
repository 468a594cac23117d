"""Entries of a job file's lists, such as pads: what a new one starts with."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import tomli

from calcbook.job.catalog import catalog

if TYPE_CHECKING:
    from calcbook.job.file import Job

# what a new entry says beside the fields that every entry must have
_STARTS: dict[str, dict[str, Any]] = {
    "openings": {"name": "new opening", "length": "1 ft", "width": "1 ft"},
    "pads": {"name": "new pad", "length": "24 in", "width": "24 in", "depth": "8 in"},
    "pads.posts": {"name": "new post", "offset_x": "9 in"},
    "posts": {"name": "new post"},
    "walls": {"name": "new wall"},
    "walls.openings": {"start": "1 ft"},
    "walls.points": {"name": "new point", "at": "1 ft"},
    "walls.braced": {"start": "0 ft", "length": "4 ft"},
    "prices.rental": {"name": "new rental", "days": 1},
    "prices.extra": {"name": "new line"},
    "terms.stages": {"name": "new payment"},
    "suppliers": {"name": "new supplier", "brings": "concrete"},
    "answers": {"check": "the title of the check, word for word", "by": "name", "words": "the answer"},
    "corners": {"radius": "1 ft"},
    "slabs": {"name": "new slab", "length": "4 ft", "width": "4 ft"},
    "pour.forecast": {"sky": "0 %"},
}
FORECAST = "pour.forecast"
_PLACED = ("openings", "pads")  # those with a place x, y on the slab
_ON_A_SIDE = ("edges", "ledges", "curbs", "walls")
_TRIES = 5  # places along and across the slab, one of which is free


def new_entries(section: str, job: Job, first: bool) -> Iterator[list[dict[str, Any]]]:
    """What could be added to a list, the most natural first; what the job refuses is passed over.

    It is one entry, but for the first hours of a forecast, which come as two. first: the list is empty.
    """
    for entry in _new(section, job):
        yield _two_hours(entry, job) if first and section == FORECAST else [entry]


def _two_hours(entry: dict[str, Any], job: Job) -> list[dict[str, Any]]:
    """A row of weather for the hour that the pour begins, or of the example, and one for the next."""
    day = f"{job.pour.date} {job.pour.start:0>5}" if job.pour.date else str(entry["time"])
    begin = datetime.datetime.fromisoformat(day)
    hours = (begin + datetime.timedelta(hours=n) for n in (0, 1))
    return [{**entry, "time": f"{hour:%Y-%m-%d %H:%M}"} for hour in hours]


def _new(section: str, job: Job) -> Iterator[dict[str, Any]]:
    needed = {
        row.key: tomli.loads(row.example)[row.key]
        for row in catalog()
        if row.section == section and row.default == "needed"
    }
    start = needed | _STARTS.get(section, {})
    if section in _PLACED:
        yield from ({**start, **place} for place in _places(job))
    elif section in _ON_A_SIDE:
        sides = len(job.plan.outline.exterior.coords) - 1
        yield from ({**start, "side": side} for side in range(1, sides + 1))
    elif section == "corners":
        letters = (chr(ord("A") + n) for n in range(min(26, len(job.plan.outline.exterior.coords) - 1)))
        yield from ({**start, "corner": letter} for letter in letters)
    elif section == "slabs":  # to the right of what is there, beside it or a step away
        right = max([job.plan.bounds[2], *map(_right, job.slabs)])
        yield from ({**start, "x": f"{right + gap:.6g} ft", "y": "0 ft"} for gap in (0, 2))
    elif section == "between":
        yield from ({**start, "beside": slab.name} for slab in job.slabs)
    elif section == "joints.lines":
        yield from ({**start, axis: place[axis]} for place in _places(job) for axis in ("x", "y"))
    elif section == "terms.stages":  # what deposit and stages leave open
        yield from ({**start, "share": f"{share} %"} for share in range(100, 0, -5))
    elif section == FORECAST and job.pour.forecast:
        last = datetime.datetime.fromisoformat(str(job.raw["pour"]["forecast"][-1]["time"]))
        later = last + datetime.timedelta(hours=1)
        yield {**job.raw["pour"]["forecast"][-1], "time": f"{later:%Y-%m-%d %H:%M}"}
    yield start


def _right(slab: Any) -> float:
    """The right end of a slab, in feet."""
    if slab.points:
        return max(float(x.m_as("foot")) for x, _ in slab.points)
    return sum(float(v.m_as("foot")) for v in (slab.x, slab.length) if v is not None)


def _places(job: Job) -> Iterator[dict[str, str]]:
    x0, y0, x1, y1 = job.plan.bounds
    for n in range(1, _TRIES + 1):
        for m in range(1, _TRIES + 1):
            x, y = (
                low + (high - low) * at / (_TRIES + 1) for low, high, at in ((x0, x1, n), (y0, y1, m))
            )
            yield {"x": f"{x:.1f} ft", "y": f"{y:.1f} ft"}
