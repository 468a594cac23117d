"""Hourly weather from a CSV file that the user exported from anywhere."""

from __future__ import annotations

import csv
import math
import re
from pathlib import Path
from typing import TYPE_CHECKING

import tomlkit

from calcbook.job.files import read_text
from calcbook.job.forecast import ForecastError, build, clock

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tomlkit.items import Array

    from calcbook.job.forecast import Forecast

_PREAMBLE = 30  # lines that may stand above the headings

_HEADS = {
    "time": r"time|hour|valid",
    "date": r"date|day",
    "air": r"air|temp",
    "humidity": r"humid|\brh\b",
    "wind": r"wind",
    "sky": r"cloud|sky",
    "sun": r"sun|solar|irradiance|radiation",
}
# headings that hold one of those words and mean something else
_OTHERS = (
    r"dew|gust|dir|chill|feels|apparent|heat|wet.?bulb|soil|surface|pressure|sunrise|sunset|sunshine|"
    r"precip|rain|snow|probab|chance|zone|diffuse|direct|ceiling"
)
_CLOCK = r"\d{1,2}(:\d{2}){0,2}(\s*[ap]m)?"  # a cell that gives no day


def read_csv(path: str | Path) -> Forecast:
    """A Forecast from a CSV file with a line of headings.

    A heading says what the column is (time, air or temperature, humidity, wind, cloud or sky,
    sun or solar) and its unit in brackets, such as ``wind (mph)`` or ``air [C]``; a unit may also
    stand in each cell. The day may stand in a column of its own (date). Comma, semicolon or tab
    separates; lines above the headings are passed over. Raises ForecastError.
    """
    path = Path(path)
    text = read_text(path, "CSV file", ForecastError)
    lines = [line for line in text.splitlines() if line.strip()]
    first, separator, places = _headings(lines, path.name)
    table = list(csv.reader(lines[first + 1 :], delimiter=separator))
    if not table:
        raise ForecastError(f"{path.name} has no weather rows under its headings")
    try:
        rows = [line for line in table if any(cell.strip() for cell in line)]
        return build([_cells(line, places, separator) for line in rows])
    except ForecastError as error:
        raise ForecastError(f"{path.name}: {error}") from None


def _headings(lines: Sequence[str], name: str) -> tuple[int, str, dict[str, tuple[int, str]]]:
    """(number, separator, places) of the line of headings."""
    problem = None
    for number, line in enumerate(lines[:_PREAMBLE]):
        separator = max(",;\t", key=line.count)
        cells = next(csv.reader([line], delimiter=separator))
        try:
            return number, separator, _places(cells, name)
        except ForecastError as error:
            if problem is None or len(cells) > problem[0]:
                problem = len(cells), error
    if problem is None or problem[0] < 2:
        raise ForecastError(f"{name} is not a CSV file with headings above its weather rows")
    raise problem[1]


def _places(headings: Sequence[str], name: str) -> dict[str, tuple[int, str]]:
    """Column number and unit for each thing a row holds; the first heading that fits counts."""
    found, taken = {}, set()
    for key, pattern in _HEADS.items():
        for number, heading in enumerate(headings):
            words, _, unit_text = re.findall(r"([^(\[]*)([(\[]([^)\]]*)[)\]])?", heading)[0]
            words = words.lower()
            if number not in taken and re.search(pattern, words) and not re.search(_OTHERS, words):
                found[key] = number, unit_text.strip()
                taken.add(number)
                break
    if "date" in found:
        found.setdefault("time", found["date"])
    missing = [key for key in ("time", "air", "humidity", "wind") if key not in found]
    if missing or not {"sky", "sun"} & set(found):
        missing = missing or ["sky or sun"]
        raise ForecastError(
            f"{name}: no column for {', '.join(missing)} among the headings "
            f"{', '.join(h[:20] for h in headings[:12])}"
        )
    return found


def _cells(line: Sequence[str], places: dict[str, tuple[int, str]], separator: str) -> dict[str, str]:
    """A row's texts with their units; where no comma separates, one in a number is its decimal."""
    row = {}
    for key, (number, unit_text) in places.items():
        cell = line[number].strip() if number < len(line) else ""
        if separator != "," and re.match(r"[-+]?\d+,\d", cell):
            cell = cell.replace(",", ".", 1)
        bare = re.fullmatch(r"[-+]?[\d.,]+", cell)
        row[key] = f"{cell} {unit_text}" if bare and unit_text and key not in ("time", "date") else cell
    day = row.pop("date", "")
    if day and re.fullmatch(_CLOCK, row["time"].lower()):
        row["time"] = f"{day} {row['time'] if ':' in row['time'] else _full_hour(row['time'])}"
    return row


def _full_hour(text: str) -> str:
    """``7`` or ``7 PM`` as ``7:00`` or ``7:00 PM``."""
    return re.sub(r"(\d+)\s*(\D*)", r"\1:00 \2", text, count=1).strip()


def rows_for_job(forecast: Forecast) -> Array:
    """A forecast as the ``forecast`` array of a job file, one row a line (a tomlkit array)."""
    array = tomlkit.array().multiline(True)
    for n, moment in enumerate(forecast.times):
        row = tomlkit.inline_table()
        row["time"] = clock(moment) + _offset_text(forecast.offset)
        row["air"] = f"{forecast.air_F[n]:.4g} F"
        row["humidity"] = f"{100 * forecast.humidity[n]:.3g} %"
        row["wind"] = f"{forecast.wind_mph[n]:.4g} mph"
        if not math.isnan(forecast.sky[n]):
            row["sky"] = f"{100 * forecast.sky[n]:.3g} %"
        if not math.isnan(forecast.sun_W[n]):
            row["sun"] = f"{forecast.sun_W[n]:.4g} W/m2"
        array.append(row)
    return array


def _offset_text(hours: float | None) -> str:
    """``-05:00`` for five hours behind UTC; nothing where the rows name no offset."""
    if hours is None:
        return ""
    minutes = round(abs(hours) * 60)
    return f"{'-' if hours < 0 else '+'}{minutes // 60:02d}:{minutes % 60:02d}"
