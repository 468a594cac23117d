"""Hourly weather from the JSON of the US weather service's open interface, saved as a file.

It is what ``forecast/hourly`` of a grid point gives (api.weather.gov): a list of ``periods``, each with
its start, temperature, humidity, wind and a short forecast in words, which tells the sky.
"""

from __future__ import annotations

import json
from typing import Any

from calcbook.job.forecast import MOST_ROWS, ForecastError
from calcbook.job.weather_words import sky_share, wind_text

_UNITS = {"degF": "F", "degC": "C", "km_h-1": "km/h", "percent": "%", "F": "F", "C": "C"}


def hourly_rows(text: str) -> list[dict[str, Any]]:
    """Rows for ``forecast.build`` from a saved hourly forecast. Raises ForecastError."""
    try:
        data = json.loads(text)
    except (ValueError, RecursionError):
        raise ForecastError("this is not whole JSON; save the hourly forecast once more") from None
    periods = _part(_part(data, "properties") or data, "periods")
    if not isinstance(periods, list) or not periods:
        raise ForecastError(
            "no hourly periods in this JSON; save what forecast/hourly of the grid point gives (properties, periods)"
        )
    return [_row(period, number) for number, period in enumerate(periods[:MOST_ROWS], 1)]


def _part(data: Any, key: str) -> Any:
    return data.get(key) if isinstance(data, dict) else None


def _row(period: Any, number: int) -> dict[str, Any]:
    if not isinstance(period, dict):
        raise ForecastError(f"period {number} is not an hour of weather")
    words = str(period.get("shortForecast") or "")
    share = sky_share(words)
    if share is None:
        raise ForecastError(
            f"period {number}: {words[:40]!r} does not tell the sky; write its row by hand"
        )
    return {
        "time": period.get("startTime", ""),
        "air": _measured(period.get("temperature"), period.get("temperatureUnit")),
        "humidity": _measured(period.get("relativeHumidity"), "%"),
        "wind": wind_text(_measured(period.get("windSpeed"), "")),
        "sky": f"{share:.4g}",
    }


def _measured(value: Any, unit_text: Any) -> str:
    """A value as text with its unit: a number, a text, or an object with ``value`` and ``unitCode``."""
    if isinstance(value, dict):
        unit_text = str(value.get("unitCode", unit_text)).rpartition(":")[2]
        value = value.get("value")
    if value is None:
        return ""
    return f"{value} {_UNITS.get(str(unit_text), unit_text or '')}".strip()
