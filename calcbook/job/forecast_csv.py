"""Hourly weather from a file that the user exported from anywhere: CSV with headings, or the JSON of
the US weather service's hourly forecast (``forecast_json.py``)."""

from __future__ import annotations

import csv
import datetime
import math
import re
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeAlias

import tomlkit

from calcbook.basis.reading import read
from calcbook.basis.units import Quantity, UnitError, number_in
from calcbook.job.files import read_text
from calcbook.job.forecast import ForecastError, build, clock, read_time
from calcbook.job.weather_columns import NOTHING, Column, columns_of
from calcbook.job.weather_words import clock_offset, says_local, sky_share, wind_text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tomlkit.items import Array

    from calcbook.job.forecast import Forecast

ByDew: TypeAlias = "Callable[[Quantity, Quantity], Any]"
MPH = 0.44704  # m/s in a mile an hour
_PREAMBLE = 30  # lines that may stand above the headings
_ROUNDED = 1.0  # F, by which a rounded dew point may stand above a rounded air temperature

_AVIATION = re.compile(r"^\s*(?:(?:TAF|METAR|SPECI)\b|[A-Z]{4} \d{6}Z\b)", re.MULTILINE)
_NO_AVIATION = (
    "this is an aviation report: a TAF gives no hourly temperature or humidity, and a METAR tells the past; "
    "save an hourly forecast of the site as CSV, or as JSON of the US weather service"
)
_CLOCK = r"\d{1,2}(:\d{2}){0,2}(\s*[ap]m)?"  # a cell that gives no day


@dataclass
class _Table:
    """The rows of a file by what their cells are."""

    columns: dict[str, Column]
    rows: list[dict[str, str]]
    notes: list[str] = field(default_factory=list)


def read_csv(path: str | Path, humidity_by_dew: ByDew | None = None) -> Forecast:
    """A Forecast from a CSV file with a line of headings, or from a file of JSON.

    humidity_by_dew: relative humidity from air and dew point (quantities), where a file has no column of it.

    A heading says what the column is (time, air or temperature, humidity, wind, cloud or sky, sun or
    solar), its unit in brackets, and of a time whether it is UTC: ``wind (mph)``, ``air [C]``, ``time
    (UTC)``. A unit may also stand in each cell, the day in a column of its own, the sky in words.
    Comma, semicolon or tab separates; lines above the headings are passed over. What was filled in,
    left out or taken for granted stands in ``notes``. Raises ForecastError.
    """
    path = Path(path)
    text = read_text(path, "CSV file", ForecastError)
    try:
        if text.lstrip()[:1] == "{":
            from calcbook.job.forecast_json import hourly_rows

            return build(hourly_rows(text))
        if _AVIATION.search(text[:2000]):
            raise ForecastError(_NO_AVIATION)
        table = _table(text, path.name, humidity_by_dew)
        made = build(_in_order(table))
        return made.changed(notes=(*table.notes, *made.notes))
    except csv.Error as error:
        raise ForecastError(f"{path.name} is no CSV file that can be read ({error})") from None
    except ForecastError as error:
        named = str(error).startswith(path.name)
        raise ForecastError(str(error) if named else f"{path.name}: {error}") from None


def _table(text: str, name: str, by_dew: ByDew | None) -> _Table:
    lines = [line for line in text.splitlines() if line.strip()]
    first, separator, headings = _headings(lines, name, by_dew is not None)
    below = [
        cells
        for cells in csv.reader(lines[first + 1 :], delimiter=separator)
        if any(c.strip() for c in cells)
    ]
    if not below:
        raise ForecastError("there are no weather rows under its headings")
    columns = columns_of(headings, below, name, by_dew is not None)
    table = _Table(columns, [_cells(cells, columns, separator) for cells in below])
    _name_units(table)
    if by_dew is not None and "dew" in columns:
        _humidities(table, by_dew)
    _clocks(table)
    return table


def _headings(lines: Sequence[str], name: str, by_dew: bool) -> tuple[int, str, list[str]]:
    """(number, separator, cells) of the line of headings."""
    problem = None
    for number, line in enumerate(lines[:_PREAMBLE]):
        separator = max(",;\t", key=line.count)
        cells = next(csv.reader([line], delimiter=separator))
        try:
            columns_of(cells, [], name, by_dew)
            return number, separator, cells
        except ForecastError as error:
            if problem is None or len(cells) > problem[0]:
                problem = len(cells), error
    if problem is None or problem[0] < 2:
        raise ForecastError(f"{name} is not a CSV file with headings above its weather rows")
    raise problem[1]


def _cells(line: Sequence[str], columns: dict[str, Column], separator: str) -> dict[str, str]:
    """A row's texts, without units; where no comma separates, one in a number is its decimal."""
    row = {}
    for key, column in columns.items():
        cell = line[column.number].strip() if column.number < len(line) else ""
        cell = "" if cell.lower() in NOTHING else cell
        if separator != "," and re.match(r"[-+]?\d+,\d", cell):
            cell = cell.replace(",", ".", 1)
        row[key] = wind_text(cell) if key == "wind" else cell
    day = row.pop("date", "")
    if day and re.fullmatch(_CLOCK, row["time"].lower()):
        row["time"] = f"{day} {row['time'] if ':' in row['time'] else _full_hour(row['time'])}"
    return row


def _full_hour(text: str) -> str:
    """``7`` or ``7 PM`` as ``7:00`` or ``7:00 PM``."""
    return re.sub(r"(\d+)\s*(\D*)", r"\1:00 \2", text, count=1).strip()


# --- units, words, clocks --------------------------------------------------------------------------


def _name_units(table: _Table) -> None:
    """Give every bare number its unit; a share without one is in percent where any is above 1."""
    makers: dict[str, Callable[[str, str], str]] = {"humidity": _share, "sky": _sky}
    for key, column in table.columns.items():
        unit_text = column.unit or (table.columns["air"].unit if key == "dew" else "")
        if key in ("time", "date"):
            continue
        if (
            key in ("humidity", "sky")
            and not unit_text
            and any(_above_one(row[key]) for row in table.rows)
        ):
            unit_text = "%"
            table.notes.append(f"{column.heading}: no unit is given; taken as percent")
        for row in table.rows:
            row[key] = makers.get(key, _with_unit)(row[key], unit_text)


def _above_one(cell: str) -> bool:
    return bool(re.fullmatch(r"\d+(\.\d+)?", cell)) and float(cell) > 1


def _with_unit(cell: str, unit_text: str) -> str:
    return f"{cell} {unit_text}" if unit_text and re.fullmatch(r"[-+]?[\d.,]+", cell) else cell


def _share(cell: str, unit_text: str) -> str:
    return _with_unit(cell, unit_text)


def _sky(cell: str, unit_text: str) -> str:
    """Cloud cover as a number: given as one, in eighths or tenths, or in words."""
    bare = re.fullmatch(r"\d+(\.\d+)?", cell)
    parts = {"oktas": 8, "okta": 8, "eighths": 8, "tenths": 10}.get(unit_text.lower())
    if bare and parts:
        return f"{float(cell) / parts:.4g}"
    if not cell or any(c.isdigit() for c in cell):
        return _with_unit(cell, unit_text)
    share = sky_share(cell)
    if share is None:
        raise ForecastError(
            f"{cell[:40]!r} is no word for the sky that is known; write a cloud cover such as 60 %, or clear, fair, partly "
            "cloudy, mostly cloudy, overcast"
        )
    return f"{share:.4g}"


def _humidities(table: _Table, by_dew: ByDew) -> None:
    """Give every row the relative humidity that its air and dew point make; a dew point rounded above the air is the air's."""
    for row in table.rows:
        air, dew = row["air"], row.pop("dew")
        row["humidity"] = ""
        if air and dew:
            try:
                T, T_d = (read(text, "degF") for text in (air, dew))
            except UnitError as error:
                raise ForecastError(f"air {air}, dew point {dew}: {error}") from None
            above = number_in(T_d, "degF") - number_in(T, "degF")
            if above > _ROUNDED:
                raise ForecastError(f"a dew point of {dew} is above the air's {air}; check the columns")
            row["humidity"] = f"{100 * float(by_dew(T, min(T, T_d))):.3g} %"
    heading = table.columns["dew"].heading
    table.notes.append(f"the relative humidity is worked out from the air and {heading!r}")


def _clocks(table: _Table) -> None:
    """Times with the offset that heading or cell names; told where nothing says which clock it is."""
    heading = (
        table.columns["time"].heading
        + " "
        + (table.columns["date"].heading if "date" in table.columns else "")
    )
    offset, said = clock_offset(heading), says_local(heading)
    for row in table.rows:
        words = re.search(r"\s*\(?\b([A-Za-z]{3,4}|Z)\)?$", row["time"])
        own = clock_offset(words[1]) if words else None
        text = row["time"][: words.start()] if words and own is not None else row["time"]
        row["time"], named = _stamped(text, own if own is not None else offset)
        said = said or named
    if not said:
        table.notes.append(
            "the file does not say UTC or local: its times are taken for the clock of the site"
        )


def _stamped(text: str, offset: float | None) -> tuple[str, bool]:
    """A time with its offset written out, and whether it has one; as it stands where it cannot be read."""
    try:
        moment = read_time(text)
    except ForecastError:
        return text, offset is not None
    if moment.tzinfo is None and offset is not None:
        moment = moment.replace(tzinfo=datetime.timezone(datetime.timedelta(hours=offset)))
    return moment.isoformat(), moment.tzinfo is not None


def _in_order(table: _Table) -> list[dict[str, Any]]:
    """Whole rows, first hour first, each hour once; what was left out or turned round is noted."""
    needed = ("air", "humidity", "wind")
    whole, told = [], []
    for row in table.rows:
        without: list[str] = [key for key in needed if not row[key]]
        if not (row.get("sky") or row.get("sun")):
            without.append("sky or sun")
        if without and row["time"]:
            told.append(
                f"{row['time'][:16].replace('T', ' ')}: row left out, no {', '.join(without)} in it"
            )
        elif row["time"]:
            whole.append({key: cell for key, cell in row.items() if cell})
    table.notes += told[:10] + [f"and {len(told) - 10} more rows left out"] * (len(told) > 10)
    try:
        times = [read_time(row["time"]) for row in whole]
        turned = (
            len(times) > 1
            and all(b <= a for a, b in zip(times, times[1:], strict=False))
            and times[0] > times[-1]
        )
    except (ForecastError, TypeError):
        return whole  # told with its row
    if turned:
        whole.reverse()
        table.notes.append("the rows run from the last hour to the first; turned round")
    once = {row["time"]: row for row in reversed(whole)}
    if len(once) < len(whole):
        table.notes.append(
            f"{len(whole) - len(once)} rows at a time that was there before are left out"
        )
    return [row for row in whole if once[row["time"]] is row]


# --- into the job file -----------------------------------------------------------------------------


def rows_for_job(forecast: Forecast, system: str = "us") -> Array:
    """A forecast as the ``forecast`` array of a job file, one row a line (a tomlkit array).

    system: units of the rows: F and mph, or C and m/s.
    """
    si = system == "si"
    array = tomlkit.array().multiline(True)
    for n, moment in enumerate(forecast.times):
        row = tomlkit.inline_table()
        row["time"] = clock(moment) + _offset_text(forecast.offset)
        air, wind = forecast.air_F[n], forecast.wind_mph[n]
        row["air"] = f"{(air - 32) / 1.8:.3f}".rstrip("0").rstrip(".") + " C" if si else f"{air:.4g} F"
        row["humidity"] = f"{100 * forecast.humidity[n]:.3g} %"
        row["wind"] = f"{wind * MPH:.4g} m/s" if si else f"{wind:.4g} mph"
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
