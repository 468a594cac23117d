"""The slab under a job's weather."""

import time

import numpy as np
import pytest
from pours import heat, mix_for

from calcbook.basis.units import Q
from calcbook.job.file import Job, JobError
from calcbook.pour.alone import slab_temperature
from calcbook.pour.site import NoWeather, site_of
from calcbook.pour.slab_heat import (
    BARE,
    Case,
    Cover,
    grid_for,
)


def celsius(kelvin):
    return kelvin - 273.15


@pytest.fixture(scope="module")
def plain(demo):
    return heat(demo, [Case("sun"), Case("shade")], 10.0)


def test_energy_account_closes(plain):
    assert plain.march.imbalance < 1e-9


def test_start_is_the_concrete_as_delivered(demo, plain):
    assert plain.march.cells[0, 0, 0] == pytest.approx(demo.pour.concrete_temperature.m_as("kelvin"))
    assert plain.march.cells[0, 0, -1] == pytest.approx(demo.pour.soil_temperature.m_as("kelvin"))


def test_shade_is_cooler_in_the_afternoon_and_never_warmer(plain):
    sun, shade = plain.march.top
    assert np.all(shade <= sun + 1e-9)
    assert sun[40] - shade[40] > 0.5  # 10 h after the first truck, late afternoon


def test_sun_in_shade_is_the_diffuse_part(demo):
    site = site_of(demo)
    shaded = site.sun_on("shade", ("13:00", "19:00"))
    of_day = (7.5 + site.hours) % 24
    dark = (of_day >= 13) & (of_day < 19)
    assert np.array_equal(shaded[dark], site.diffuse[dark])
    assert np.array_equal(shaded[~dark], site.sun[~dark])
    assert np.array_equal(site.sun_on("sun", ("13:00", "19:00")), site.sun)


def test_site_is_the_forecast_on_the_clock(demo):
    site, forecast = site_of(demo), demo.pour.weather()
    noon = np.argmin(np.abs(site.hours - 4.5))  # 12:00
    assert site.air[noon] * 1.8 - 459.67 == pytest.approx(forecast.air_F[12])
    assert site.humidity[noon] == pytest.approx(forecast.humidity[12])
    assert site.wind[noon] == pytest.approx(0.5172 * forecast.wind_mph[12], rel=1e-3)
    assert np.all(site.sky < site.air)
    assert site.place_known


@pytest.mark.parametrize(
    "names", [("none", "1/2 in. foam blanket", "1 in. foam blanket", "2 in. foam board")]
)
def test_more_insulation_never_makes_the_slab_colder_at_night(demo, names):
    cases = [Case("sun", Cover(name, 10.0, 90.0)) for name in names]
    week = heat(demo, cases, 10.0)
    night = (week.hours > 14) & (week.hours < 24)  # 21:30 to 07:30
    for less, more in zip(week.march.top, week.march.top[1:], strict=False):
        assert np.all(more[night] >= less[night] - 1e-9)


def test_a_cover_does_nothing_before_it_lies(demo):
    week = heat(demo, [Case(), Case("sun", Cover("1 in. foam blanket", 12.0, 84.0))], 10.0)
    before = week.hours < 12
    assert week.march.top[0][before] == pytest.approx(week.march.top[1][before])
    assert week.march.top[1][80] > week.march.top[0][80] + 3


def test_cover_resistance():
    assert Cover("1 in. foam blanket").resistance.m == 4
    assert BARE.resistance.m == 0
    on = Cover("1 in. foam blanket", 2.0, 5.0).at(np.array([1.9, 2.0, 4.9, 5.0]))
    assert on.tolist() == [False, True, True, False]


def test_drying_cools_the_fresh_surface(demo):
    dry, wet = (heat(demo, until=12, wet_until=w).march.top[0] for w in (0.0, 12.0))
    assert dry[8] - wet[8] > 2.0
    assert np.all(wet <= dry + 1e-9)


def test_grid_has_converged(demo):
    coarse = heat(demo, until=72, wet_until=10.0)
    fine = heat(demo, until=72, wet_until=10.0, fine=3)
    difference = coarse.march.top[0] - fine.march.top[0][::3]
    assert np.max(np.abs(difference[4:])) < 0.02 * np.ptp(fine.march.top)


def test_mix_from_what_the_job_gives(demo):
    mix = mix_for(demo)
    assert mix.w_cm == 0.5
    assert mix.C_c.m == 565
    bare = Job({"slab": {"length": "20 ft", "width": "20 ft"}, "concrete": {"strength": "4000 psi"}})
    assert mix_for(bare).w_cm == pytest.approx(0.57)  # ACI 211.1 Table 6.3.4(a)
    assert mix_for(bare).C_c.m == pytest.approx(345 / 0.57, rel=0.02)


def test_layers_of_the_job(demo):
    grid = grid_for(demo.slab.thickness, demo.base.thickness, "moist sand")
    assert grid.edges[10] == pytest.approx(0.127)
    assert grid.edges[14] == pytest.approx(0.127 + 0.1016)
    assert grid.edges[-1] == pytest.approx(0.2286 + 2.0)
    without = grid_for(demo.slab.thickness, Q(0, "in"), "moist sand")
    assert [layer.name for layer in without.layers] == ["concrete", "moist sand"]


def test_jobs_without_weather_say_what_is_missing():
    bare = {"slab": {"length": "20 ft", "width": "20 ft"}}
    with pytest.raises(NoWeather, match="pour.date"):
        site_of(Job(bare))
    with pytest.raises(NoWeather, match="pour.forecast"):
        site_of(Job({**bare, "pour": {"date": "2026-06-01"}}))


def test_without_a_place_the_sun_is_left_out(demo):
    raw = {
        **demo.raw,
        "pour": {k: v for k, v in demo.raw["pour"].items() if k not in ("latitude", "longitude")},
    }
    site = site_of(Job(raw))
    assert not site.place_known
    assert site.sun.max() == 0


def test_a_date_outside_the_forecast_is_a_mistake_of_the_file(demo):
    with pytest.raises(JobError, match="the forecast rows end at"):
        demo.changed({"pour.date": "2026-12-01"})
    with pytest.raises(JobError, match="not a time of day"):
        demo.changed({"pour.start": "half past seven"})
    with pytest.raises(JobError, match="not a date"):
        demo.changed({"pour.date": "tomorrow"})


@pytest.mark.worked("slab_temperature")
def test_slab_temperature_of_the_contract(demo):
    week = slab_temperature(demo)
    assert "surface coldest" in str(week)
    T, hour = week.lowest_top()
    assert T == week.march.top[0].min()
    assert week.hours[np.argmin(week.march.top[0])] == hour
    assert slab_temperature(demo, "shade").march.top.min() <= week.march.top.min()


def test_the_slab_follows_its_thickness(demo):
    thick = heat(demo.changed({"slab.thickness": "8 in"}), until=30)
    thin = heat(demo.changed({"slab.thickness": "4 in"}), until=30)
    assert thick.march.top[0].min() > thin.march.top[0].min()


def test_three_nights_are_quick(demo):
    site_of(demo), mix_for(demo)
    best = 9.0
    for _ in range(4):
        begin = time.process_time()
        heat(demo, until=72, wet_until=12.0)
        best = min(best, time.process_time() - begin)
    assert best < 0.3


def test_si_and_us_jobs_give_the_same_slab(demo):
    metric = demo.changed(
        {"slab.thickness": "127 mm", "pour.concrete_temperature": f"{(70 - 32) / 1.8} C"}
    )
    us = demo.changed({"slab.thickness": "5 in"})
    assert heat(metric, until=24).march.top == pytest.approx(heat(us, until=24).march.top, abs=1e-6)


def test_colder_air_never_makes_the_slab_warmer(demo):
    import dataclasses

    site = site_of(demo)
    colder = dataclasses.replace(site, air=site.air - 5, sky=site.sky - 5)
    warm, cold = heat(demo, until=48), heat(demo, until=48, site=colder)
    assert np.all(cold.march.top[0][1:] < warm.march.top[0][1:])


def test_draws_of_weather_run_together(demo):
    import dataclasses

    site = site_of(demo)
    draws = dataclasses.replace(site, air=np.array([site.air, site.air - 5]), sky=np.array([site.sky, site.sky - 5]),
                                humidity=np.array([site.humidity] * 2), wind=np.array([site.wind] * 2))  # fmt: skip
    both = heat(demo, until=48, wet_until=8.0, site=draws).march.top
    assert both[0] == pytest.approx(heat(demo, until=48, wet_until=8.0).march.top[0], abs=1e-9)
    assert np.all(both[1][1:] < both[0][1:])
    assert Q(celsius(both[1].min()), "degC") < Q(celsius(both[0].min()), "degC")


@pytest.mark.parametrize(
    "changes",
    [
        {"slab.thickness": "6 in"}, {"base.thickness": "6 in"}, {"pour.soil": "dry sand"},
        {"pour.concrete_temperature": "66 F"}, {"pour.haul": "50 min"}, {"pour.slowing": 1.4},
        {"pour.shade_from": "10:00"}, {"concrete.w_cm": 0.45}, {"concrete.cement": "III"},
        {"concrete.fly_ash": "20 %"}, {"concrete.cement_content": "500 lb/yd3"}, {"pour.soil_temperature": "60 F"},
        {"pour.wind_height": "10 ft"}, {"pour.start": "09:30"}, {"pour.clock_offset": "-6 h"}, {"pour.latitude": "30 deg"},
        {"pour.longitude": "-75 deg"},
    ],
    ids=lambda changes: next(iter(changes)),
)  # fmt: skip
def test_nothing_kept_is_stale(demo, changes):
    """Each thing that the temperatures depend on gives other temperatures."""
    before, after = (
        heat(job, (Case("shade"),), 10.0).march.top[0] for job in (demo, demo.changed(changes))
    )
    steps = min(len(before), len(after))
    assert np.abs(before[:steps] - after[:steps]).max() > 0.01
