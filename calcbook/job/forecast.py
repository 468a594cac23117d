"""The hourly weather of a pour: reading it, and checking it for gaps and impossible values.

A row holds the local clock time, air temperature, humidity, wind, and either the sky (cloud
cover) or the sun (on level ground). Rows come from the job file or from a CSV file that the user
exported from anywhere.
"""

from __future__ import annotations

import contextlib
import datetime
import functools
import itertools
import math
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from calcbook.basis.reading import read
from calcbook.basis.showing import show
from calcbook.basis.units import Q, Quantity, UnitError, number_in
from calcbook.job.clock import FARTHEST_CLOCK, FIRST_YEAR, LAST_YEAR

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray


LONGEST_GAP = 3.0  # hours that a straight line may bridge
MOST_ROWS = 400

# what a row holds -> (trade unit, lowest, highest that can be true, words)
LIMITS = {
    "air": ("degF", -60, 130, "air temperature"),
    "humidity": ("1", 0.01, 1, "relative humidity"),
    "wind": ("mph", 0, 150, "wind"),
    "sky": ("1", 0, 1, "cloud cover"),
    "sun": ("W/m2", 0, 1400, "sun on level ground"),
}
FASTEST_CHANGE = 30  # °F in an hour


class ForecastError(ValueError):
    """Weather rows that cannot be used; the message names the row and says how to mend it."""


@dataclass(frozen=True, eq=False)
class Forecast:
    """Checked hourly weather. Arrays of equal length, plain numbers in the unit named.

    times: local clock times; air_F, humidity (0 to 1), wind_mph; sky: cloud cover 0 to 1 and
    sun_W: W/m2, each nan where the other is given; notes: what was filled in; offset: hours that
    the clock of the rows is ahead of UTC, where they say so, else None.
    """

    times: tuple[datetime.datetime, ...]
    air_F: np.ndarray
    humidity: np.ndarray
    wind_mph: np.ndarray
    sky: np.ndarray
    sun_W: np.ndarray
    notes: tuple[str, ...] = field(default=())
    offset: float | None = None

    @property
    def start(self) -> datetime.datetime:
        """Clock time of the first row."""
        return self.times[0]

    @functools.cached_property
    def hours(self) -> NDArray:
        """Hours since the first row."""
        return np.array([(t - self.start).total_seconds() / 3600 for t in self.times])

    def at(self, name: str, hours: NDArray) -> NDArray:
        """A column at hours since the first row, by straight lines between rows."""
        return np.interp(hours, self.hours, getattr(self, name))

    def since(self, moment: datetime.datetime) -> float:
        """Hours from the first row to a clock time."""
        return (moment - self.start).total_seconds() / 3600

    def covers(self, begin: datetime.datetime, end: datetime.datetime) -> None:
        """Raise ForecastError where the rows do not reach from ``begin`` to ``end``."""
        for missing, side in ((begin < self.start, "start at"), (end > self.times[-1], "end at")):
            if missing:
                edge = self.start if side == "start at" else self.times[-1]
                raise ForecastError(
                    f"the forecast rows {side} {clock(edge)}, but the work needs weather from "
                    f"{clock(begin)} to {clock(end)}; add the hours that are missing"
                )

    def changed(self, **columns: Any) -> Forecast:
        """The same Forecast with other columns, by name."""
        return replace(self, **columns)

    def on_clock(self, offset: float | None, longitude: float | None) -> Forecast:
        """The same rows on the clock of the site.

        offset: hours of that clock ahead of UTC, or None where the job does not say; longitude:
        degrees east, or None. Rows that name no offset are taken to be on that clock already.
        Without ``offset`` the rows' own is kept, unless it cannot be the clock at that longitude
        (rows in UTC, say), which is refused with a ForecastError.
        """
        if self.offset is None or self.offset == offset:
            return self
        if offset is None:
            if longitude is not None and abs(self.offset - longitude / 15) > FARTHEST_CLOCK:
                raise ForecastError(
                    f"the weather rows are on a clock {self.offset:+g} h from UTC, which is not the clock of the "
                    f"site; give pour.clock_offset, such as {round(longitude / 15):g} h"
                )
            return self
        shift = datetime.timedelta(hours=offset - self.offset)
        return replace(self, times=tuple(t + shift for t in self.times), offset=offset)


def clock(moment: datetime.datetime) -> str:
    """A moment as the book writes it: ``2026-10-27 07:30``."""
    return moment.strftime("%Y-%m-%d %H:%M")


_DAYS, _CLOCKS = ("%Y-%m-%d", "%m/%d/%Y", "%d.%m.%Y"), ("%H:%M", "%H:%M:%S", "%I:%M %p", "%I:%M:%S %p")
_TIME_FORMATS = tuple(f"{day} {hour}" for day in _DAYS for hour in _CLOCKS)


def read_time(text: str) -> datetime.datetime:
    """A local clock time: ``2026-10-27 07:30``, ``10/27/2026 7:30 AM`` or ``27.10.2026 07:30``.

    Slashes mean month first, dots day first. An offset such as ``-05:00`` (or Z, for UTC) is kept.
    """
    text = str(text).strip()
    moment = _moment(text)
    if moment is None:
        raise ForecastError(f"{text[:40]!r} is not a time; write it like '2026-10-27 07:30'")
    if not FIRST_YEAR <= moment.year <= LAST_YEAR:
        raise ForecastError(f"{text[:40]!r} is not in the years {FIRST_YEAR} to {LAST_YEAR}")
    return moment


def _moment(text: str) -> datetime.datetime | None:
    with contextlib.suppress(ValueError):
        return datetime.datetime.fromisoformat(text)
    for pattern in _TIME_FORMATS:
        with contextlib.suppress(ValueError):
            return datetime.datetime.strptime(text, pattern)
    return None


def build(rows: Sequence[dict[str, Any]]) -> Forecast:
    """A Forecast from rows, each a mapping with time, air, humidity, wind and sky or sun.

    Values are quantities or text with a unit. Raises ForecastError for a gap of more than 3 h,
    times out of order, values that cannot be true, or a row with neither sky nor sun.
    """
    if not 2 <= len(rows) <= MOST_ROWS:
        raise ForecastError(
            f"{len(rows)} weather rows; give from 2 to {MOST_ROWS}, one for each hour of the pour "
            "and the nights after"
        )
    times, offset = _local([_row_time(row, n) for n, row in enumerate(rows, 1)])
    columns = {
        name: np.array([_value(row, name, n) for n, row in enumerate(rows, 1)]) for name in LIMITS
    }
    _check_sky(columns, times)
    notes = _check_times(times)
    _check_jumps(columns["air"], times)
    return Forecast(times, columns["air"], columns["humidity"], columns["wind"],
                    _filled(columns["sky"]), columns["sun"], tuple(notes), offset)  # fmt: skip


def _filled(sky: NDArray) -> NDArray:
    """Cloud cover where only some rows give it: the night takes the nearest hours' value."""
    known = ~np.isnan(sky)
    if not known.any() or known.all():
        return sky
    index = np.arange(len(sky))
    return np.interp(index, index[known], sky[known])


def _row_time(row: dict[str, Any], number: int) -> datetime.datetime:
    try:
        return read_time(row["time"])
    except KeyError:
        raise ForecastError(f"weather row {number} has no time") from None
    except ForecastError as error:
        raise ForecastError(f"weather row {number}: {error}") from None


def _local(times: Sequence[datetime.datetime]) -> tuple[tuple[datetime.datetime, ...], float | None]:
    """Clock times brought to the offset of the first row, and that offset in hours (None without)."""
    offsets = {t.utcoffset() for t in times}
    if None in offsets and len(offsets) > 1:
        raise ForecastError(
            "some weather rows give an offset from UTC and some do not; write all alike"
        )
    first = times[0].utcoffset()
    if first is None:
        return tuple(times), None
    fixed = datetime.timezone(first)
    return tuple(t.astimezone(fixed).replace(tzinfo=None) for t in times), first.total_seconds() / 3600


def _value(row: dict[str, Any], name: str, number: int) -> float:
    unit_name, low, high, words = LIMITS[name]
    given = row.get(name)
    if given is None or (isinstance(given, str) and not given):
        if name in ("sky", "sun"):
            return math.nan
        raise ForecastError(f"weather row {number} has no {words} ({name})")
    try:
        value = number_in(given if isinstance(given, Quantity) else read(given, unit_name), unit_name)
    except UnitError as error:
        raise ForecastError(f"weather row {number}, {name}: {error}") from None
    if not low <= value <= high:
        limits = f"{_shown(low, unit_name)} to {_shown(high, unit_name)}"
        raise ForecastError(
            f"weather row {number}: {words} {given} cannot be true; it must be {limits}"
        )
    return value


def _shown(value: float, unit_name: str) -> str:
    return f"{value * 100:g} %" if unit_name == "1" else show(Q(value, unit_name), unit_name)


def _check_sky(columns: dict[str, NDArray], times: Sequence[datetime.datetime]) -> None:
    neither = np.isnan(columns["sky"]) & np.isnan(columns["sun"])
    if neither.any():
        where = clock(times[int(np.argmax(neither))])
        raise ForecastError(
            f"the weather row at {where} gives neither sky nor sun; give one of the two"
        )


def _check_times(times: Sequence[datetime.datetime]) -> list[str]:
    notes = []
    for before, after in itertools.pairwise(times):
        step = (after - before).total_seconds() / 3600
        if step <= 0:
            raise ForecastError(
                f"the weather row at {clock(after)} stands after {clock(before)}; "
                "put the rows in order, each hour once"
            )
        if step > LONGEST_GAP:
            raise ForecastError(
                f"no weather rows between {clock(before)} and {clock(after)} ({step:g} h); "
                f"add them: at most {LONGEST_GAP:g} h may be missing"
            )
        if step > 1.001:
            notes.append(f"{clock(before)} to {clock(after)}: filled by a straight line")
    return notes


def _check_jumps(air: NDArray, times: Sequence[datetime.datetime]) -> None:
    for n in range(1, len(air)):
        step = (times[n] - times[n - 1]).total_seconds() / 3600
        if abs(air[n] - air[n - 1]) > FASTEST_CHANGE * max(step, 1):
            raise ForecastError(
                f"air goes from {air[n - 1]:.0f} °F to {air[n]:.0f} °F at {clock(times[n])}; more than "
                f"{FASTEST_CHANGE} °F in an hour cannot be true"
            )
