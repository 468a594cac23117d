"""The data of a job file that has one further slab alone, and which slabs are poured together."""

from __future__ import annotations

import datetime
from typing import TYPE_CHECKING, Any

from calcbook.job.clock import clock_hours, read_day
from calcbook.job.seen import same

if TYPE_CHECKING:
    from collections.abc import Sequence

# sections that a slab has for itself, and those of the job that it may change in part
OWN = (
    "corners",
    "openings",
    "slope",
    "edge",
    "edges",
    "ledges",
    "curbs",
    "pads",
    "posts",
    "walls",
    "answers",
)
CHANGED = ("soil", "base", "concrete", "joints", "reinforcement", "retarder", "bolts", "pour")
_OF_JOB = ("job", "design", "vehicle", "crew", "prices", "terms", "suppliers", "risk")
_OF_ONE_ORDER = ("waste", "order_step", "short_risk")  # of concrete: how much, not which
STONE, ROLLS, MESH, ADHESIVE = "stone", "rolls", "mesh", "adhesive"
# what is bought once for several slabs -> its section, and what must be the same there
_BOUGHT = {
    STONE: ("base", ("material", "density", "compaction")),
    ROLLS: ("retarder", ("laid", "product", "roll_width", "roll_length", "lap", "tape_roll")),
    MESH: ("reinforcement", ("kind", "wire", "sheet_length", "sheet_width", "mesh_lap")),
    ADHESIVE: (
        "bolts",
        ("cartridge", "bond_cracked", "bond_uncracked", "category", "cure", "least_temperature"),
    ),
}


def raw_of(whole: Any, number: int) -> dict[str, Any]:
    """The data of a job file that has this slab alone.

    whole: a Job; number: of the slab's entry, from 0.
    """
    filled, entry = whole._filled, whole._filled["slabs"][number]
    raw = {name: filled[name] for name in _OF_JOB if name in filled}
    plain = {k: v for k, v in entry.items() if k not in (*OWN, *CHANGED, "driven")}
    raw |= {"slab": plain} | {name: entry[name] for name in OWN if name in entry}
    for name in CHANGED:
        usual = dict(filled.get(name, {}))
        if name == "joints":
            usual.pop("lines", None)  # fixed on the other slab
        if name == "pour" and not _same_weather(whole, number):
            usual.pop("forecast", None)
        if usual or name in entry:
            raw[name] = {**usual, **entry.get(name, {})}
    if entry.get("driven") is False:
        raw.pop("vehicle", None)
    return raw


def _same_weather(whole: Any, number: int) -> bool:
    """Whether the weather rows of the job hold for the day of a slab."""
    weather, own = whole.file.pour.weather(), whole.file.slabs[number].pour
    if weather is None or not own.date:
        return True
    usual = whole.file.pour.start
    start = own.start if "start" in own.model_fields_set else usual
    begin = datetime.datetime.combine(read_day(own.date), datetime.time()) + datetime.timedelta(
        hours=clock_hours(start)
    )
    try:
        weather.covers(begin, begin + datetime.timedelta(hours=1))
    except ValueError:
        return False
    return True


def poured_together(a: Any, b: Any) -> bool:
    """Whether two slabs come from one order: the same day and hour, the same concrete, the same fiber."""
    if not same(a.file.pour, b.file.pour):
        return False
    mixes = [
        {key: getattr(job.file.concrete, key) for key in type(job.file.concrete).model_fields if key not in _OF_ONE_ORDER}
        for job in (a, b)
    ]  # fmt: skip
    return same(*mixes) and same(_fiber(a), _fiber(b))


def sharing(job: Any, what: str) -> tuple[Any, ...]:
    """The slabs that share an order of STONE, ROLLS, MESH or ADHESIVE with one of them, itself too; the first holds the order.

    They take the same thing, for pours of one day.
    """
    whole = getattr(job, "whole", job)
    slabs = (whole, *whole.others)
    return slabs if len(slabs) == 1 else tuple(s for s in slabs if _bought_together(s, job, what))


def _bought_together(a: Any, b: Any, what: str) -> bool:
    if a.slab.called == b.slab.called:
        return True
    section, keys = _BOUGHT[what]
    here, there = getattr(a, section), getattr(b, section)
    return a.pour.date == b.pour.date and all(
        same(getattr(here, key), getattr(there, key)) for key in keys
    )


def for_slabs(names: Sequence[str]) -> str:
    """The slabs that a line of the takeoff is for, behind its words; "" for one alone."""
    return f", for {', '.join(names)}" if len(names) > 1 else ""


def _fiber(job: Any) -> Any:
    r = job.file.reinforcement
    if "fiber" not in r.kind:
        return None
    return r.kind, getattr(r, f"{r.kind.split()[0]}_dosage")


def checked_of(whole: Any, number: int, raw: dict[str, Any], before: Any = None) -> dict[str, Any]:
    """The same data with the sections that were checked already: those of the whole job, as they were checked there,
    and those of ``before``, this slab in an earlier version of the job, that are written as they were then."""
    entry = whole._filled["slabs"][number]
    shared = {name for name in (*_OF_JOB, *CHANGED) if name not in (*entry, "joints")}
    kept = {
        name for name, given in raw.items() if before is not None and same(given, before.raw.get(name))
    }
    return raw | {
        name: getattr((whole if name in shared else before).file, name)
        for name in raw
        if name in shared | kept
    }
