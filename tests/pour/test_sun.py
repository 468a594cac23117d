"""Sun: positions that astronomy fixes, clear sky and shade."""

import datetime

import numpy as np
import pandas as pd
import pytest
from pvlib import clearsky, irradiance

from calcbook.job.forecast import ForecastError, build, clock
from calcbook.pour.sun import (
    clear_day,
    clock_offset,
    cloud_from_sun,
    diffuse_share,
    diffuse_share_murky,
    diffuse_sun,
    in_shade,
    sky_and_sun,
    sun_zenith,
)

DAY = np.arange(0, 24, 1 / 60)
START = datetime.datetime(2026, 10, 27)


def _noon(date, latitude):
    zenith = sun_zenith(datetime.datetime(*date), DAY, latitude, 0.0, 0.0)
    return zenith.min(), DAY[zenith.argmin()]


# the sun's declination is 0 at the equinoxes and 23.44 deg at the solstices (astronomy)
@pytest.mark.parametrize(
    ("date", "latitude", "zenith"),
    [((2026, 3, 20), 44.0, 44.0), ((2026, 6, 21), 44.0, 44 - 23.44), ((2026, 12, 21), 44.0, 44 + 23.44),
     ((2026, 3, 20), -30.0, 30.0)],
)  # fmt: skip
def test_noon_height_at_solstice_and_equinox(date, latitude, zenith):
    assert _noon(date, latitude)[0] == pytest.approx(zenith, abs=0.35)


def test_noon_is_near_twelve_on_the_zones_meridian_and_shifts_with_the_clock():
    # the equation of time in late October is about 16 minutes early
    _, noon = _noon((2026, 10, 27), 44.0)
    assert noon == pytest.approx(12 - 16 / 60, abs=0.05)
    east = sun_zenith(datetime.datetime(2026, 10, 27), DAY, 44.0, 15.0, 1.0)
    assert DAY[east.argmin()] == pytest.approx(noon, abs=0.02)
    saving = sun_zenith(datetime.datetime(2026, 10, 27), DAY, 44.0, 15.0, 2.0)
    assert DAY[saving.argmin()] == pytest.approx(noon + 1, abs=0.02)


# Haurwitz 1945 as pvlib computes it
@pytest.mark.library("pvlib", "clearsky.haurwitz", "clear_sun")
def test_clear_sky_of_haurwitz():
    zenith = np.array([0.0, 40, 70, 89, 90.5, 120])
    wanted = clearsky.haurwitz(pd.Series(zenith))["ghi"]
    assert clear_day(zenith) == pytest.approx(wanted.to_numpy(), abs=1e-9)


# Erbs 1982 as pvlib computes it, with its own sun above the air (1366.1 W/m2 at the mean distance)
@pytest.mark.form("Erbs 1982", "as pvlib computes it, with its own sun above the air")
@pytest.mark.library("pvlib", "")
@pytest.mark.parametrize("zenith", [20.0, 60.0, 80.0, 86.5, 87.5])
def test_diffuse_sun_of_erbs(zenith):
    sun = np.linspace(0, 1300, 40)
    zeniths = np.full(40, zenith)
    days = pd.DatetimeIndex([START] * 40)
    wanted = irradiance.erbs(sun, zeniths, days.day_of_year)["dhi"]
    assert diffuse_sun(START, np.zeros(40), sun, zeniths, 0) == pytest.approx(np.asarray(wanted), abs=5)


@pytest.mark.worked("diffuse_share", "diffuse_share_murky")
@pytest.mark.parametrize(
    ("share", "k_t", "wanted"),  # the pieces of eq. 1 meet at its joints (hand computation)
    [(diffuse_share_murky, 0.0, 1.0), (diffuse_share_murky, 0.22, 0.9802), (diffuse_share, 0.22, 0.9799),
     (diffuse_share, 0.8, 0.1653), (diffuse_share, 0.5, 0.6591)],
)  # fmt: skip
def test_pieces_of_the_diffuse_share(share, k_t, wanted):
    assert share(k_t) == pytest.approx(wanted, abs=5e-4)


def _forecast(start, count=25, **row):
    usual = {"air": "50 F", "humidity": "60 %", "wind": "5 mph"}
    return build(
        [{"time": clock(start + datetime.timedelta(hours=n)), **usual, **row} for n in range(count)]
    )


def test_clouds_take_sun_and_the_night_has_none():
    clear = sky_and_sun(_forecast(START, sky="0 %"), 44, -87.6, -5, 0.5)
    cloudy = sky_and_sun(_forecast(START, sky="100 %"), 44, -87.6, -5, 0.5)
    assert clear[1].max() == pytest.approx(4 * cloudy[1].max(), rel=1e-6)
    assert 450 < clear[1].max() < 700
    assert clear[1][:10].max() == 0
    assert np.all(clear[2] <= clear[1] + 1e-9)
    assert cloudy[2].max() / cloudy[1].max() > clear[2].max() / clear[1].max()
    assert clear[3].max() == 0 and cloudy[3].min() == 1
    assert clear[0][1] == 0.5


def test_given_sun_is_used_and_gives_the_cloud():
    clear = sky_and_sun(_forecast(START, sky="0 %"), 44, -87.6, -5, 1.0)
    rows = [
        {"time": clock(START + datetime.timedelta(hours=n)), "air": "50 F", "humidity": "60 %", "wind": "5 mph",
         "sun": f"{0.5 * clear[1][n]} W/m2"} for n in range(25)
    ]  # fmt: skip
    found = sky_and_sun(build(rows), 44, -87.6, -5, 1.0)
    assert found[1] == pytest.approx(0.5 * clear[1], abs=1e-6)
    assert found[3][12] == pytest.approx((0.5 / 0.75) ** (1 / 3.4), rel=1e-3)


def test_sun_that_cannot_be_true_is_refused():
    with pytest.raises(ForecastError, match="cannot be true: a clear sky gives 0 W/m² there and then"):
        sky_and_sun(_forecast(START, sun="300 W/m2"), 44, -87.6, -5)
    with pytest.raises(ForecastError, match="no daylight"):
        cloud_from_sun(np.zeros(3), np.zeros(3))


def test_a_night_is_dark_but_for_the_meter():
    """A meter may show up to 60 W/m2 too much; more at night cannot be."""
    with pytest.raises(ForecastError, match="cannot be true"):
        sky_and_sun(_forecast(START, sun="60.5 W/m2"), 44, -87.6, -5)
    assert sky_and_sun(_forecast(START, sun="59.5 W/m2"), 44, -87.6, -5)[1][0] == 0


@pytest.mark.form("Kasten 1980", "solved for the cloud cover", "cloud_from_sun")
def test_a_low_sun_counts_and_more_than_clear_is_no_cloud():
    assert cloud_from_sun(np.array([50.5 / 4, 700]), np.array([50.5, 600.0])) == pytest.approx([1, 0])


def test_cloud_from_sun_is_the_inverse_of_cloud_taking_sun():
    """A law: one form is solved for the other's input; the night between is bridged in a straight line."""
    cloud = np.array([0.2, 0.6, 0.9])
    clear = np.full(3, 600.0)
    assert cloud_from_sun(clear * (1 - 0.75 * cloud**3.4), clear) == pytest.approx(cloud)
    dark = cloud_from_sun(np.array([600.0, 0, 600 * 0.25]), np.array([600.0, 0, 600]))
    assert dark == pytest.approx([0, 0.5, 1], abs=1e-9)


def test_diffuse_is_a_part_of_the_whole():
    found = diffuse_sun(
        START, np.array([12.0, 12.0]), np.array([600.0, 100.0]), np.array([58.0, 58.0]), -5
    )
    assert 0 < found[0] < 0.4 * 600
    assert 0.9 * 100 < found[1] <= 100


def test_shade_by_the_clock_also_past_midnight():
    begin = datetime.datetime(2026, 10, 27, 7, 30)
    assert in_shade(begin, np.array([0, 5.4, 5.5, 11.4, 11.5, 29.6]), 13, 19).tolist() == [
        False, False, True, True, False, True
    ]  # fmt: skip
    assert in_shade(begin, np.array([0.0, 14.6, 22.0]), 22, 6).tolist() == [False, True, True]


def test_clock_offset():
    assert clock_offset(-87.6) == -6
    assert clock_offset(-87.6, -5) == -5
    assert clock_offset(13.4) == 1
