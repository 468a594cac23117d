"""Hourly weather from a CSV file that the user exported from anywhere."""

import csv
import math
import re
from pathlib import Path

import tomlkit

from calcbook.forecast import ForecastError, build, clock

_LARGEST_FILE = 1_000_000

_HEADS = {
    "time": r"time|date|hour|valid",
    "air": r"air|temp",
    "humidity": r"humid|\brh\b",
    "wind": r"wind(?!.*dir)",
    "sky": r"cloud|sky",
    "sun": r"sun|solar|irradiance|radiation",
}


def read_csv(path):
    """A Forecast from a CSV file with a line of headings.

    A heading says what the column is (time, air or temperature, humidity, wind, cloud or sky,
    sun or solar) and its unit in brackets, such as ``wind (mph)`` or ``air [C]``; a unit may also
    stand in each cell. Comma, semicolon or tab separates. Raises ForecastError.
    """
    path = Path(path)
    lines = _csv_text(path).splitlines()
    try:
        dialect = csv.Sniffer().sniff(lines[0], ",;\t") if lines else None
        table = list(csv.reader(lines, dialect)) if dialect else []
    except csv.Error:
        raise ForecastError(f"{path.name} is not a CSV file with headings in its first line") from None
    if len(table) < 2:
        raise ForecastError(f"{path.name} has no weather rows under its headings")
    places = _places(table[0], path.name)
    try:
        return build([_cells(line, places) for line in table[1:] if any(line)])
    except ForecastError as error:
        raise ForecastError(f"{path.name}: {error}") from None


def _csv_text(path):
    try:
        data = path.read_bytes()
    except OSError as error:
        raise ForecastError(
            f"{path} could not be read ({error.strerror or error}); give the path of a CSV file"
        ) from None
    if len(data) > _LARGEST_FILE:
        raise ForecastError(f"{path.name} is larger than 1 MB, too large for a forecast")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise ForecastError(f"{path.name} is not text in UTF-8; save it as CSV in UTF-8") from None


def _places(headings, name):
    """Column number and unit for each thing a row holds; the first heading that fits counts."""
    found = {}
    for key, pattern in _HEADS.items():
        for number, heading in enumerate(headings):
            words, _, unit_text = re.match(r"([^(\[]*)([(\[]([^)\]]*)[)\]])?", heading).groups()
            taken = any(number == place for place, _ in found.values())
            if (
                not taken
                and re.search(pattern, words.lower().replace("dew", ""))
                and "dew" not in words.lower()
            ):
                found[key] = number, (unit_text or "").strip()
                break
    missing = [key for key in ("time", "air", "humidity", "wind") if key not in found]
    if missing or not {"sky", "sun"} & set(found):
        missing = missing or ["sky or sun"]
        raise ForecastError(
            f"{name}: no column for {', '.join(missing)} among the headings "
            f"{', '.join(h[:20] for h in headings[:12])}"
        )
    return found


def _cells(line, places):
    row = {}
    for key, (number, unit_text) in places.items():
        cell = line[number].strip() if number < len(line) else ""
        bare = re.fullmatch(r"[-+]?[\d.,]+", cell)
        row[key] = f"{cell} {unit_text}" if bare and unit_text and key != "time" else cell
    return row


def rows_for_job(forecast):
    """A forecast as the ``forecast`` array of a job file, one row a line (a tomlkit array)."""
    array = tomlkit.array().multiline(True)
    for n, moment in enumerate(forecast.times):
        row = tomlkit.inline_table()
        row["time"] = clock(moment)
        row["air"] = f"{forecast.air_F[n]:.4g} F"
        row["humidity"] = f"{100 * forecast.humidity[n]:.3g} %"
        row["wind"] = f"{forecast.wind_mph[n]:.4g} mph"
        if not math.isnan(forecast.sky[n]):
            row["sky"] = f"{100 * forecast.sky[n]:.3g} %"
        if not math.isnan(forecast.sun_W[n]):
            row["sun"] = f"{forecast.sun_W[n]:.4g} W/m2"
        array.append(row)
    return array
