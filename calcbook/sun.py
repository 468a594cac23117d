"""Sun on the slab: position and clear sky by pvlib, cloud, and the shaded side.

pvlib is loaded when it is first needed, as it takes a second or two.
"""

import numpy as np

from calcbook.forecast import ForecastError
from calcbook.formula import cite, procedure
from calcbook.surface import cloudy_sun

MOST_OVER_CLEAR = 1.4  # measured sun may pass the clear-sky figure at cloud edges, not by more


def _times_utc(start, hours, utc_offset):
    import pandas as pd

    first = pd.Timestamp(start).tz_localize("UTC") - pd.Timedelta(hours=utc_offset)
    return first + pd.to_timedelta(np.asarray(hours, float), unit="h")


@procedure(
    "Position of the sun",
    cite("pvlib", "solarposition.get_solarposition"),
    "The zenith angle of the sun at each time, refraction included, by the solar position algorithm.",
)
def sun_zenith(start, hours, latitude, longitude, utc_offset):
    """Angle of the sun from straight up, in degrees.

    start: local clock time (datetime); hours: hours after it (array); latitude, longitude:
    degrees, north and east positive; utc_offset: hours that the clock is ahead of UTC (negative
    in the Americas). Returns an array; above 90 the sun is down.
    """
    from pvlib import solarposition

    times = _times_utc(start, hours, utc_offset)
    return solarposition.get_solarposition(times, latitude, longitude)["apparent_zenith"].to_numpy()


@procedure(
    "Sun on level ground under a clear sky",
    cite("Haurwitz 1945", "as computed by pvlib, clearsky.haurwitz"),
    "1098 W/m2 times the cosine of the zenith angle, less what the air takes on its longer way.",
)
def clear_sun(zenith):
    """Sun on level ground under a clear sky, W/m2, from zenith angles in degrees (array)."""
    import pandas as pd
    from pvlib import clearsky

    return clearsky.haurwitz(pd.Series(np.asarray(zenith, float)))["ghi"].to_numpy()


@procedure(
    "Cloud cover from measured sun",
    cite("Kasten 1980", "solved for the cloud cover"),
    "By day from the share of clear-sky sun that arrives; at night by straight lines from the days.",
)
def cloud_from_sun(sun, clear):
    """Cloud cover 0 to 1 from sun and clear-sky sun (arrays, W/m2). Nights are bridged.

    Raises ForecastError where there is no daylight hour to judge by.
    """
    light = clear > 50
    if not light.any():
        raise ForecastError("the weather rows give sun but no daylight hour; give sky as well")
    share = np.clip(sun[light] / clear[light], 0.25, 1)
    found = ((1 - share) / 0.75) ** (1 / 3.4)
    return np.interp(np.arange(len(clear)), np.flatnonzero(light), found)


def sky_and_sun(forecast, latitude, longitude, utc_offset, step=1.0):
    """Sun and cloud over the span of a forecast, on a grid of ``step`` hours.

    Returns (hours, sun, diffuse, cloud): arrays; sun and its diffuse part on level ground, W/m2.
    Sun follows the rows where they give it, else the clear sky through the cloud cover. Raises
    ForecastError where given sun cannot be true at this place and time.
    """
    rows = forecast.hours
    hours = np.arange(0, rows[-1] + 1e-9, step)
    zenith = sun_zenith(forecast.start, hours, latitude, longitude, utc_offset)
    clear = clear_sun(zenith)
    given = ~np.isnan(forecast.sun_W)
    sky = forecast.sky
    if given.any():
        row_clear = clear_sun(sun_zenith(forecast.start, rows, latitude, longitude, utc_offset))
        _check_sun(forecast, given, row_clear)
        if np.isnan(sky).any():
            sky = cloud_from_sun(forecast.sun_W, row_clear)
    cloud = np.interp(hours, rows, sky)
    sun = cloudy_sun.bulk(I_0=clear, N=np.clip(cloud, 0, 1))
    if given.all():
        sun = np.where(clear > 0, np.interp(hours, rows, forecast.sun_W), 0.0)
    return hours, sun, diffuse_sun(forecast.start, hours, sun, zenith, utc_offset), cloud


def _check_sun(forecast, given, clear):
    wrong = given & (forecast.sun_W > MOST_OVER_CLEAR * clear + 60)
    if wrong.any():
        n = int(np.argmax(wrong))
        raise ForecastError(
            f"sun {forecast.sun_W[n]:.0f} W/m² at {forecast.times[n]:%Y-%m-%d %H:%M} cannot be true: a clear "
            f"sky gives {clear[n]:.0f} W/m² there and then; check the place, the clock and the rows"
        )


@procedure(
    "Diffuse part of the sun",
    cite("pvlib", "irradiance.erbs, after Erbs, Klein and Duffie 1982"),
    "What a shaded slab still gets from the bright sky, by the clearness of the air.",
)
def diffuse_sun(start, hours, sun, zenith, utc_offset):
    """Diffuse sun on level ground, W/m2.

    start, hours, utc_offset: times as for ``sun_zenith``; sun: the whole, W/m2; zenith: angles
    (arrays). Returns an array.
    """
    from pvlib import irradiance

    days = _times_utc(start, hours, utc_offset)
    diffuse = np.asarray(irradiance.erbs(sun, zenith, days.day_of_year.to_numpy())["dhi"])
    return np.clip(np.nan_to_num(diffuse), 0, sun)


def in_shade(start, hours, shade_from, shade_to):
    """True for each hour at which the shaded side lies in shade.

    shade_from, shade_to: clock hours of the day (0 to 24); shade may pass midnight.
    """
    of_day = (start.hour + start.minute / 60 + np.asarray(hours)) % 24
    if shade_from <= shade_to:
        return (of_day >= shade_from) & (of_day < shade_to)
    return (of_day >= shade_from) | (of_day < shade_to)


def clock_offset(longitude, given=None):
    """Hours of the local clock ahead of UTC: as given, or standard time by the longitude."""
    return round(longitude / 15) if given is None else given
