"""Temperatures that a logger kept, from its CSV file: hours after placing began, and kelvins.

The weather reader of the job wants humidity and wind too; headings, units and times are read as it reads them.
"""

from __future__ import annotations

import csv
import datetime
import re
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from calcbook.basis.reading import read
from calcbook.basis.units import UnitError
from calcbook.job.files import JobError, read_text
from calcbook.job.forecast import ForecastError, read_time
from calcbook.job.weather_columns import NOTHING, split_heading

if TYPE_CHECKING:
    from numpy.typing import NDArray

_PREAMBLE = 30  # lines that may stand above the headings
_TIME, _TEMPERATURE = (
    re.compile(r"time|date|stamp|hour"),
    re.compile(r"temp|probe|sensor|channel|slab|°|^\W*t\W*$"),
)
_LEAST, _MOST = 220.0, 370.0  # K, which no slab leaves


@dataclass(frozen=True)
class Logged:
    """What a logger kept at one place: hours after placing began, in rising order, and K."""

    place: str
    hours: NDArray
    kelvin: NDArray

    def hourly(self) -> Logged:
        """Means over whole hours, so that a logger that writes every minute counts no more than another."""
        _, hour, count = np.unique(np.floor(self.hours), return_inverse=True, return_counts=True)
        hours, kelvin = (
            np.bincount(hour, weights=values) / count for values in (self.hours, self.kelvin)
        )
        return Logged(self.place, hours, kelvin)


def read_log(path: Path, place: str, begin: datetime.datetime) -> Logged:
    """What a logger kept, from placing on. begin: clock time at which placing began. Raises JobError."""
    lines = [line for line in read_text(path, "logger's CSV file").splitlines() if line.strip()]
    separator = max(",;\t", key=lambda mark: sum(line.count(mark) for line in lines[:_PREAMBLE]))
    try:
        rows = list(csv.reader(lines, delimiter=separator))
    except csv.Error as error:
        raise JobError(f"{path.name} is no CSV file that can be read ({error})") from None
    first, time, heat, unit = _columns(path.name, rows)
    scale = _scale(path.name, unit)
    found = [_row(path.name, row, time, heat, scale, separator) for row in rows[first + 1 :]]
    told = [pair for pair in found if pair is not None]
    hours = np.array([(moment - begin).total_seconds() / 3600 for moment, _ in told])
    kelvin = np.array([value for _, value in told])
    order = np.argsort(hours, kind="stable")
    after = order[hours[order] >= 0]
    if len(after) < 2:
        raise JobError(
            f"{path.name}: fewer than two rows lie after placing began ({begin:%Y-%m-%d %H:%M}); look at the logger's clock"
        )
    return Logged(place, hours[after], kelvin[after])


def _columns(name: str, rows: list[list[str]]) -> tuple[int, int, int, str]:
    """(number of the line of headings, column of the times, column of the temperatures, its unit)."""
    for number, row in enumerate(rows[:_PREAMBLE]):
        words = [split_heading(cell) if cell.strip() else ("", "") for cell in row]
        times = [n for n, (said, _) in enumerate(words) if _TIME.search(said)]
        heats = [n for n, (said, _) in enumerate(words) if n not in times and _TEMPERATURE.search(said)]
        if times and heats:
            return number, times[0], heats[0], words[heats[0]][1]
    raise JobError(
        f"{name}: no line of headings names a time and a temperature, such as: time, temperature (F)"
    )


def _scale(name: str, unit: str) -> tuple[float, float] | None:
    """(K at 0, K for each degree) of the unit of a heading; None where it names none."""
    if not unit:
        return None
    try:
        zero, ten = (float(read(f"{number} {unit}", "degF").m_as("kelvin")) for number in (0, 10))
    except UnitError as error:
        raise JobError(f"{name}: heading of the temperatures: {error}") from None
    return zero, (ten - zero) / 10


def _row(
    name: str, row: list[str], time: int, heat: int, scale: tuple[float, float] | None, separator: str
) -> tuple[datetime.datetime, float] | None:
    """(moment, K) of a row; None where the logger wrote nothing."""
    if max(time, heat) >= len(row) or row[heat].strip().lower() in NOTHING:
        return None
    cell = row[heat].strip().replace(",", ".") if separator != "," else row[heat].strip()
    bare = re.fullmatch(r"[-+]?([0-9]+\.?[0-9]*|\.[0-9]+)", cell)
    if bare and scale is None:
        raise JobError(
            f"{name}: the temperatures have no unit; name it in the heading: temperature (F) or (C)"
        )
    try:
        value = (
            scale[0] + scale[1] * float(cell)
            if bare and scale
            else float(read(cell, "degF").m_as("kelvin"))
        )
        moment = read_time(row[time])
        if re.fullmatch(r"[0-9W-]{8,10}", row[time].strip()):
            raise ForecastError(f"{row[time].strip()!r} is a day without a time")
    except (UnitError, ForecastError) as error:
        raise JobError(f"{name}: {error}") from None
    if moment.tzinfo:
        raise JobError(
            f"{name}: {row[time].strip()[:40]} names a time zone; let the logger write the clock of the place"
        )
    if not _LEAST <= value <= _MOST:
        raise JobError(
            f"{name}: {cell[:40]} at {row[time].strip()[:40]} is no temperature of a slab; look at the unit in the heading"
        )
    return moment, value
