"""The weather at a slab, on the steps of the heat model: air, sky, wind near the ground, sun by side."""

from __future__ import annotations

import functools
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import TYPE_CHECKING

import numpy as np

from calcbook.basis.coherent import to_coherent
from calcbook.job.clock import clock_hours
from calcbook.pour.sky import CLEAR_SKIES, clear_skies, sky_kelvin
from calcbook.pour.sun import clock_offset, in_shade, sky_and_sun
from calcbook.pour.weather import surface_wind

if TYPE_CHECKING:
    from datetime import datetime

    from numpy.typing import NDArray

    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job
    from calcbook.job.forecast import Forecast

STEP = 1 / 4  # hours
LONGEST = 7 * 24.0  # hours


class NoWeather(ValueError):
    """The job has no date or forecast; the message says what to add."""


@dataclass(frozen=True)
class Missing:
    """What a job lacks to be worked out under its weather, as a sentence."""

    what: str


@dataclass(frozen=True, eq=False)
class Site:
    """The weather at a slab on the steps of the model, from the first truck on.

    hours; air, sky: K (the sky by the law of the day); humidity; wind: mph near the slab; sun, diffuse: W/m2; cloud; begin: clock
    time of hour 0; ground: K; place_known: False where no latitude was given, and sun is left out.
    """

    begin: datetime
    hours: np.ndarray
    air: np.ndarray
    sky: np.ndarray
    humidity: np.ndarray
    wind: np.ndarray
    sun: np.ndarray
    diffuse: np.ndarray
    cloud: np.ndarray
    ground: float
    place_known: bool

    @functools.cached_property
    def clear_skies(self) -> dict[str, NDArray]:
        """How strongly the clear sky radiates, by the name of each law of it."""
        names = [law.name for law in CLEAR_SKIES]
        return dict(zip(names, clear_skies(self.air, self.humidity), strict=True))

    def later(self, steps: int) -> Site:
        """The same weather from some steps of the model on."""
        found = {
            name: getattr(self, name)[..., steps:]
            for name in ("air", "sky", "humidity", "wind", "sun", "diffuse", "cloud")
        }
        begin = self.begin + timedelta(hours=steps * STEP)
        return replace(self, begin=begin, hours=self.hours[: len(self.hours) - steps], **found)

    def sun_on(self, side: str, shade: tuple[str, str]) -> NDArray:
        """Sun on one side: "sun" all of it; "shade" only the diffuse part while it lies in shade.

        shade: times of day, such as ``("13:00", "19:00")``, at which the shade begins and ends.
        """
        if side == "sun":
            return self.sun
        dark = in_shade(self.begin, self.hours, *map(clock_hours, shade))
        return np.where(dark, self.diffuse, self.sun)


def site_or_missing(job: Job) -> Site | Missing:
    """The Site of a job, or what it lacks. Raises ForecastError where the rows are too short."""
    try:
        return site_of(job)
    except NoWeather as missing:
        return Missing(f"{str(missing)[0].upper()}{str(missing)[1:]}.")


def site_of(job: Job) -> Site:
    """The Site of a job. Raises NoWeather, or ForecastError where the rows are too short."""
    pour = job.pour
    forecast, begin = pour.weather(), pour.moment()
    if forecast is None or begin is None:
        missing = (
            "pour.date" if begin is None else "[[pour.forecast]] rows (time, air, humidity, wind, sky)"
        )
        raise NoWeather(f"give {missing} in the job file to see set, drying and the nights")
    numbers = (
        None if given is None else given.m_as(unit_name)
        for given, unit_name in (
            (pour.latitude, "degree"), (pour.longitude, "degree"), (pour.clock_offset, "hour"),
            (pour.soil_temperature, "kelvin"),
        )
    )  # fmt: skip
    return _site(forecast, begin, pour.wind_height, *numbers)


def _site(
    forecast: Forecast,
    begin: datetime,
    wind_height: Quantity,
    latitude: float | None,
    longitude: float | None,
    offset: float | None,
    soil: float | None,
) -> Site:
    lead = forecast.since(begin)
    last = min(forecast.hours[-1] - lead, LONGEST)
    hours = np.arange(0, last + 1e-9, STEP)
    at = lead + hours
    air = to_coherent(forecast.at("air_F", at), "degF")
    humidity = forecast.at("humidity", at)
    wind = surface_wind.bulk(V=forecast.at("wind_mph", at), z_m=wind_height)
    sun, diffuse, cloud, known = _sky(forecast, at, latitude, longitude, offset)
    first_day = forecast.hours <= 24
    ground = to_coherent(np.mean(forecast.air_F[first_day]), "degF") if soil is None else soil
    return Site(begin, hours, air, sky_kelvin(air, humidity, cloud), humidity, wind,
                sun, diffuse, cloud, float(ground), known)  # fmt: skip


def _sky(
    forecast: Forecast,
    at: NDArray,
    latitude: float | None,
    longitude: float | None,
    offset: float | None,
) -> tuple[NDArray, NDArray, NDArray, bool]:
    """(sun, diffuse, cloud, place known) at hours since the forecast's first row."""
    if latitude is None or longitude is None:
        cloud = forecast.at("sky", at) if not np.isnan(forecast.sky).any() else np.zeros_like(at)
        return np.zeros_like(at), np.zeros_like(at), cloud, False
    given = forecast.offset if offset is None else offset
    grid = sky_and_sun(forecast, latitude, longitude, clock_offset(longitude, given), STEP)
    return (*(np.interp(at, grid[0], column) for column in grid[1:]), True)
