"""Position of the sun: worked examples of astronomy, and pvlib as an independent check."""

import datetime

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pvlib import solarposition, spa
from pvlib.irradiance import get_extra_radiation

from calcbook.basis.formula import FormulaError
from calcbook.basis.units import Q
from calcbook.pour.sun import sun_zenith
from calcbook.pour.sun_position import (
    mean_anomaly,
    obliquity,
    refraction,
    sidereal_angle,
    sun_longitude,
    sun_outside,
    zenith_cosine,
)

EPOCH = datetime.datetime(2000, 1, 1, 12)


def days(*moment):
    return Q((datetime.datetime(*moment) - EPOCH).total_seconds() / 86400, "day")


# Meeus, Astronomical Algorithms, 2nd ed., example 25.a (from memory): 1992 October 13, 0 h
def test_longitude_obliquity_and_distance_of_the_worked_example():
    d = days(1992, 10, 13)
    assert sun_longitude(d).m_as("degree") % 360 == pytest.approx(199.909, abs=0.01)
    assert np.degrees(mean_anomaly(d)) % 360 == pytest.approx(278.994, abs=0.002)
    assert obliquity(d).m_as("degree") == pytest.approx(23.4402, abs=0.0006)
    assert sun_outside(d, Q(1000, "W/m2")).m_as("W/m**2") == pytest.approx(1000 / 0.99766**2, rel=1e-4)


def test_the_suns_declination_of_the_worked_example():
    # the same example: declination -7.78507 degrees; from the pole the sun stands at it
    d = days(1992, 10, 13)
    mu = zenith_cosine(sun_longitude(d), obliquity(d), Q(40, "deg"), Q(90, "deg"))
    assert np.degrees(np.arcsin(mu)) == pytest.approx(-7.785, abs=0.005)


# Meeus, 2nd ed., examples 12.a and 12.b (from memory)
@pytest.mark.parametrize(
    ("moment", "angle"), [((1987, 4, 10), 197.693195), ((1987, 4, 10, 19, 21), 128.7378734)]
)
def test_sidereal_angle_of_the_worked_examples(moment, angle):
    clock = Q(sum(part / 60**n for n, part in enumerate(moment[3:])), "h")
    found, east = (
        sidereal_angle(days(*moment), clock, Q(place, "deg")).m_as("degree") % 360 for place in (0, 15)
    )
    assert found == pytest.approx(angle, abs=2e-4)
    assert east == pytest.approx(angle + 15, abs=2e-4)


def test_obliquity_shrinks_by_47_seconds_of_arc_in_a_century():
    # Meeus, 2nd ed., eq. 22.2 (from memory): 23 deg 26 min 21.448 s, less 46.815 s a century
    start, end = (obliquity(Q(d, "day")).m_as("degree") for d in (0, 18262))
    assert start == pytest.approx(23.43929, abs=0.0005)
    assert start - end == pytest.approx(46.815 / 3600 / 2, abs=0.001)


def test_refraction_at_the_horizon_is_half_a_degree_and_overhead_none():
    # Meeus, 2nd ed., chapter 16: about 29 minutes at a true height of 0, 1 minute at 45 degrees
    found = {h: refraction(Q(h, "deg")).m_as("degree") * 60 for h in (0, 45, 90)}
    assert found == pytest.approx({0: 29.0, 45: 1.0, 90: 0.0}, abs=0.05)


def test_the_sun_is_strongest_in_january():
    # the earth's distance goes from 0.9833 to 1.0167 of the mean (astronomy)
    january, july = (sun_outside(days(2026, month, 4)).m_as("W/m**2") for month in (1, 7))
    assert january == pytest.approx(1361 / 0.98330**2, rel=2e-4)
    assert july == pytest.approx(1361 / 1.01667**2, rel=2e-4)


@pytest.mark.library(
    "pvlib", "spa", "obliquity", "refraction", "sidereal_angle", "sun_longitude", "mean_anomaly"
)
@pytest.mark.parametrize("year", [1960, 2000, 2026, 2045])
def test_angles_agree_with_the_full_algorithm_of_pvlib(year):
    """The full algorithm of the National Renewable Energy Laboratory, angle by angle, well within the 0.01 degree of the almanac."""
    for month in (1, 4, 7, 10):
        d = days(year, month, 9, 18)
        since = d.m_as("day")
        century = since / 36525
        assert obliquity(d).m_as("degree") == pytest.approx(
            spa.mean_ecliptic_obliquity(century / 10) / 3600, abs=0.0015
        )
        turned = sidereal_angle(d, Q(18, "h"), Q(0, "deg")).m_as("degree")
        stars = spa.mean_sidereal_time(2451545 + since, century)
        assert (turned - stars + 180) % 360 - 180 == pytest.approx(0, abs=5e-4)
        seen = spa.geocentric_longitude(spa.heliocentric_longitude(century / 10))
        assert (sun_longitude(d).m_as("degree") - seen + 180) % 360 - 180 == pytest.approx(
            0, abs=0.015
        )  # of it, 0.0057 is aberration
        anomaly = spa.mean_anomaly_sun(century)
        assert (np.degrees(mean_anomaly(d)) - anomaly + 180) % 360 - 180 == pytest.approx(0, abs=0.001)
    for height in (0.5, 5, 30, 80):
        lifted = spa.atmospheric_refraction_correction(1010.0, 10.0, height, 0.5667)
        assert refraction(Q(height, "deg")).m_as("degree") == pytest.approx(lifted, abs=1e-9)


@pytest.mark.library("pvlib", "get_extra_radiation", "sun_outside")
def test_the_sun_above_the_air_agrees_with_pvlib():
    """pvlib's fit of Spencer is good to 0.0001 of the distance squared; the solar constant is set alike."""
    for month in range(1, 13):
        moment = pd.Timestamp(2026, month, 15, tz="UTC")
        wanted = get_extra_radiation(moment, solar_constant=1000, method="nrel")
        found = sun_outside(days(2026, month, 15), Q(1000, "W/m2")).m_as("W/m**2")
        assert found == pytest.approx(float(wanted), rel=3e-4)


@pytest.mark.library("pvlib", "", "zenith_cosine", "sun_zenith")
@settings(max_examples=40, deadline=None)
@given(
    year=st.integers(1950, 2049), day=st.integers(0, 364), hour=st.floats(0, 24),
    latitude=st.floats(-70, 70), longitude=st.floats(-180, 180),
)  # fmt: skip
def test_zenith_agrees_with_pvlib_by_day(year, day, hour, latitude, longitude):
    """pvlib runs the full algorithm of the National Renewable Energy Laboratory (0.0003 degree)."""
    start = datetime.datetime(year, 1, 1) + datetime.timedelta(days=day)
    hours = hour + np.arange(0, 24, 3)
    times = pd.Timestamp(start).tz_localize("UTC") + pd.to_timedelta(hours, unit="h")
    wanted = solarposition.get_solarposition(times, latitude, longitude)["apparent_zenith"].to_numpy()
    found = sun_zenith(start, hours, latitude, longitude, 0.0)
    up = wanted < 90
    assert found[up] == pytest.approx(wanted[up], abs=0.02)
    assert np.all(found[~up] > 89.9)


def test_days_outside_the_almanac_are_refused():
    with pytest.raises(FormulaError, match="days since noon"):
        sun_longitude(Q(40000, "day"))
