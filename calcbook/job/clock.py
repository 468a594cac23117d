"""Days and times of day as a job file writes them."""

from __future__ import annotations

import datetime
import functools
import re

from calcbook.basis.units import UnitError

FIRST_YEAR, LAST_YEAR = 1900, 2199  # of a pour and of its weather
FARTHEST_CLOCK = 3.0  # hours between a local clock and the sun's, daylight saving included


_TIME = re.compile(r"(\d{1,2})(?::(\d{2})(?::\d{2})?)?\s*([ap])?\.?(?:m\.?)?", re.IGNORECASE)


@functools.lru_cache(
    maxsize=1024
)  # a day has few times that are written down, and records say them again and again
def clock_hours(value: str) -> float:
    """Hours of the day from a text such as ``07:30``, ``6:30`` or ``6:30 pm``; UnitError where it is none."""
    match = _TIME.fullmatch(value.strip())
    if match and (match[2] or match[3]):
        hour, minute, half = int(match[1]), int(match[2] or 0), (match[3] or "").lower()
        if minute < 60 and (1 <= hour <= 12 if half else hour < 24):
            return (hour % 12 + 12 * (half == "p") if half else hour) + minute / 60
    raise UnitError(f"{value[:40]!r} is not a time of day; write it like 07:30")


def clock_text(value: str) -> str:
    """A time of day as the book writes it: ``06:30``; UnitError where it is none."""
    minutes = round(clock_hours(value) * 60)
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def no_clock(value: str) -> str:
    """Words for a day, as they are; UnitError for a time of day."""
    match = _TIME.fullmatch(value.strip())
    if match and (match[2] or match[3]):
        raise UnitError(f"{value[:40]!r} is a time of day; write a day like 2026-06-01")
    return value


def day_text(value: str) -> str:
    """A date as the book writes it, ``2026-06-01``, also from ``6/1/2026`` with the month first or ``1.6.2026`` with the day first.

    "" stays.
    """
    slashed = re.fullmatch(r"(\d{1,2})/(\d{1,2})/(\d{4})", value.strip())
    if slashed:
        value = f"{slashed[3]}-{int(slashed[1]):02d}-{int(slashed[2]):02d}"
    dotted = re.fullmatch(r"(\d{1,2})\.(\d{1,2})\.(\d{4})", value.strip())
    if dotted:
        value = f"{dotted[3]}-{int(dotted[2]):02d}-{int(dotted[1]):02d}"
    return read_day(value).isoformat() if value else ""


def read_day(value: str) -> datetime.date:
    """A date from a text such as ``2026-06-01``; UnitError where it is none that a slab is poured on."""
    try:
        day = datetime.date.fromisoformat(value[:10])
    except ValueError:
        raise UnitError(f"{value[:40]!r} is not a date; write it like 2026-06-01") from None
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise UnitError(f"{value[:40]!r} is not in the years {FIRST_YEAR} to {LAST_YEAR}")
    return day
