"""Days and times of day as a job file writes them."""

from __future__ import annotations

import datetime

from calcbook.basis.units import UnitError

FIRST_YEAR, LAST_YEAR = 1900, 2199  # of a pour and of its weather


def clock_hours(value: str) -> float:
    """Hours of the day from a text such as ``07:30``; UnitError where it is none."""
    try:
        moment = datetime.time.fromisoformat(value)
    except ValueError:
        raise UnitError(f"{value!r} is not a time of day; write it like 07:30") from None
    return moment.hour + moment.minute / 60


def read_day(value: str) -> datetime.date:
    """A date from a text such as ``2026-06-01``; UnitError where it is none that a slab is poured on."""
    try:
        day = datetime.date.fromisoformat(value[:10])
    except ValueError:
        raise UnitError(f"{value!r} is not a date; write it like 2026-06-01") from None
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise UnitError(f"{value!r} is not in the years {FIRST_YEAR} to {LAST_YEAR}")
    return day
