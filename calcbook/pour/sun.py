"""Sun on the slab: clear sky, cloud, the diffuse part, and the shaded side."""

from __future__ import annotations

import datetime
from typing import TYPE_CHECKING

import numpy as np
from numpy import exp

from calcbook.basis.formula import arg, cite, formula, procedure, result
from calcbook.basis.units import Q
from calcbook.job.forecast import ForecastError
from calcbook.pour.sun_position import (
    obliquity,
    refraction,
    sidereal_angle,
    sun_longitude,
    sun_outside,
    zenith_cosine,
)
from calcbook.pour.surface import cloudy_sun

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from calcbook.job.forecast import Forecast

MOST_OVER_CLEAR = 1.4  # measured sun may pass the clear-sky figure at cloud edges, not by more
LOWEST_COSINE = 0.065  # nearer the horizon the clearness of the air cannot be told
_EPOCH = datetime.datetime(2000, 1, 1, 12)


def _days(start: datetime.datetime, hours: NDArray, utc_offset: float) -> NDArray:
    """Days since the almanac's epoch, universal time."""
    return (start - _EPOCH).total_seconds() / 86400 + (np.asarray(hours, float) - utc_offset) / 24


@procedure(
    "Position of the sun",
    zenith_cosine.source,
    "The zenith angle of the sun at each time, refraction included.",
)
def sun_zenith(
    start: datetime.datetime, hours: NDArray, latitude: float, longitude: float, utc_offset: float
) -> NDArray:
    """Angle of the sun from straight up, in degrees.

    start: local clock time (datetime); hours: hours after it (array); latitude, longitude:
    degrees, north and east positive; utc_offset: hours that the clock is ahead of UTC (negative
    in the Americas). Returns an array; above 90 the sun is down. Source: ``sun_position``.
    """
    d = _days(start, hours, utc_offset)
    mu = zenith_cosine.bulk(
        lam_s=sun_longitude.bulk(d=d), eps=obliquity.bulk(d=d),
        theta=sidereal_angle.bulk(d=d, t_u=24 * ((d + 0.5) % 1), l_o=longitude), phi_o=latitude,
    )  # fmt: skip
    height = np.degrees(np.arcsin(np.clip(mu, -1, 1)))
    seen = height > -1  # lower, no refraction brings the sun up
    return 90 - height - np.where(seen, refraction.bulk(h=np.where(seen, height, 0.0)), 0.0)


@formula(
    "Global solar radiation on level ground, clear sky",
    cite("Haurwitz 1945", "as reprinted in the documentation of pvlib"),
    result("W/m2", "sun on level ground"),
    mu=arg("1", "cosine of the zenith angle of the sun", above=0, high=1),
    I_H=arg("W/m2", "sun overhead, before the air's part is taken off", above=0),
)
def clear_sun(mu, I_H=Q(1098, "W/m2")):
    """Sun on level ground under a clear sky: less by height, and by its longer way through the air.

    mu: cosine of the zenith angle, sun up; I_H: as published.
    """
    I_0 = I_H * mu * exp(-0.059 / mu)
    return I_0


def clear_day(zenith: NDArray) -> NDArray:
    """Clear-sky sun on level ground, W/m2, from zenith angles in degrees (array); 0 at night."""
    mu = np.cos(np.radians(zenith))
    up = mu > 0
    return np.where(up, clear_sun.bulk(mu=np.where(up, mu, 1.0)), 0.0)


@procedure(
    "Cloud cover from measured sun",
    cite("Kasten 1980", "solved for the cloud cover"),
    "By day from the share of clear-sky sun that arrives; at night by straight lines from the days.",
)
def cloud_from_sun(sun: NDArray, clear: NDArray) -> NDArray:
    """Cloud cover 0 to 1 from sun and clear-sky sun (arrays, W/m2). Nights are bridged.

    Raises ForecastError where there is no daylight hour to judge by.
    """
    light = clear > 50
    if not light.any():
        raise ForecastError("the weather rows give sun but no daylight hour; give sky as well")
    share = np.clip(sun[light] / clear[light], 0.25, 1)
    found = ((1 - share) / 0.75) ** (1 / 3.4)
    return np.interp(np.arange(len(clear)), np.flatnonzero(light), found)


def sky_and_sun(
    forecast: Forecast, latitude: float, longitude: float, utc_offset: float, step: float = 1.0
) -> tuple[NDArray, NDArray, NDArray, NDArray]:
    """Sun and cloud over the span of a forecast, on a grid of ``step`` hours.

    latitude, longitude: degrees, north and east positive; utc_offset: hours of the clock ahead of UTC.
    Returns (hours, sun, diffuse, cloud): arrays; sun and its diffuse part on level ground, W/m2.
    Sun follows the rows where they give it, else the clear sky through the cloud cover. Raises
    ForecastError where given sun cannot be true at this place and time.
    """
    rows = forecast.hours
    hours = np.arange(0, rows[-1] + 1e-9, step)
    zenith = sun_zenith(forecast.start, hours, latitude, longitude, utc_offset)
    clear = clear_day(zenith)
    given = ~np.isnan(forecast.sun_W)
    sky = forecast.sky
    if given.any():
        row_clear = clear_day(sun_zenith(forecast.start, rows, latitude, longitude, utc_offset))
        _check_sun(forecast, given, row_clear)
        if np.isnan(sky).any():
            sky = cloud_from_sun(forecast.sun_W, row_clear)
    cloud = np.interp(hours, rows, sky)
    sun = cloudy_sun.bulk(I_0=clear, N=np.clip(cloud, 0, 1))
    if given.all():
        sun = np.where(clear > 0, np.interp(hours, rows, forecast.sun_W), 0.0)
    return hours, sun, diffuse_sun(forecast.start, hours, sun, zenith, utc_offset), cloud


def _check_sun(forecast: Forecast, given: NDArray, clear: NDArray) -> None:
    wrong = given & (forecast.sun_W > MOST_OVER_CLEAR * clear + 60)
    if wrong.any():
        n = int(np.argmax(wrong))
        raise ForecastError(
            f"sun {forecast.sun_W[n]:.0f} W/m² at {forecast.times[n]:%Y-%m-%d %H:%M} cannot be true: a clear "
            f"sky gives {clear[n]:.0f} W/m² there and then; check the place, the clock and the rows"
        )


@formula(
    "Diffuse share of the sun, murky air",
    cite("Erbs 1982", "eq. 1, k_t to 0.22"),
    result("1", "share of the sun that comes from the whole sky"),
    k_t=arg("1", "clearness: sun on level ground over that above the air", low=0, high=0.22),
)
def diffuse_share_murky(k_t):
    """Share of the sun on level ground that is diffuse, where little gets through.

    k_t: clearness, at most 0.22.
    """
    k_d = 1 - 0.09 * k_t
    return k_d


@formula(
    "Diffuse share of the sun",
    cite("Erbs 1982", "eq. 1, k_t 0.22 to 0.80"),
    result("1", "share of the sun that comes from the whole sky"),
    k_t=arg("1", "clearness: sun on level ground over that above the air", low=0.22, high=0.8),
)
def diffuse_share(k_t):
    """Share of the sun on level ground that is diffuse, between murky and very clear air.

    k_t: clearness, 0.22 to 0.80.
    """
    k_d = 0.9511 - 0.1604 * k_t + 4.388 * k_t**2 - 16.638 * k_t**3 + 12.336 * k_t**4
    return k_d


@procedure(
    "Diffuse part of the sun",
    cite("Erbs 1982", "eq. 1; 0.165 above a clearness of 0.80"),
    "What a shaded slab still gets from the bright sky, by the clearness of the air.",
)
def diffuse_sun(
    start: datetime.datetime, hours: NDArray, sun: NDArray, zenith: NDArray, utc_offset: float
) -> NDArray:
    """Diffuse sun on level ground, W/m2.

    start, hours, utc_offset: times as for ``sun_zenith``; sun: the whole, W/m2; zenith: angles
    (arrays). Returns an array; with the sun within 3 degrees of the horizon all of it is diffuse.
    """
    outside = sun_outside.bulk(d=_days(start, hours, utc_offset))
    mu = np.cos(np.radians(zenith))
    k_t = np.clip(sun / (outside * np.maximum(mu, LOWEST_COSINE)), 0, 1)
    share = np.select(
        [np.asarray(zenith) > 87, k_t <= 0.22, k_t <= 0.8],
        [1.0, diffuse_share_murky.bulk(k_t=np.minimum(k_t, 0.22)),
         diffuse_share.bulk(k_t=np.clip(k_t, 0.22, 0.8))],
        0.165,
    )  # fmt: skip
    return share * sun


def in_shade(start: datetime.datetime, hours: NDArray, shade_from: float, shade_to: float) -> NDArray:
    """True for each hour at which the shaded side lies in shade.

    shade_from, shade_to: clock hours of the day (0 to 24); shade may pass midnight.
    """
    of_day = (start.hour + start.minute / 60 + np.asarray(hours)) % 24
    if shade_from <= shade_to:
        return (of_day >= shade_from) & (of_day < shade_to)
    return (of_day >= shade_from) | (of_day < shade_to)


def clock_offset(longitude: float, given: float | None = None) -> float:
    """Hours of the local clock ahead of UTC: as given, or standard time by the longitude."""
    return round(longitude / 15) if given is None else given
