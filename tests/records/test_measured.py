"""Loggers, the heat model set by them, and a strength curve of own tests: known slabs must be found again."""

import datetime
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from scipy.optimize import curve_fit

from calcbook.basis.units import Q
from calcbook.concrete.curing import strength_hyperbolic
from calcbook.job.file import Job
from calcbook.job.files import JobError
from calcbook.pour.site import Missing, site_of
from calcbook.pour.slab_heat import Case, Cover
from calcbook.records.calibrate import LIMITS, Settings, Slab, calibrated, misses, row_of
from calcbook.records.logger import Logged, read_log
from calcbook.records.measured import Measured, measured, measured_of
from calcbook.records.strength import WITHIN_TEST, fitted

BEGIN = datetime.datetime(2026, 10, 27, 7, 30)


# --- the logger's file -----------------------------------------------------------------------------


def log(tmp_path, text, place="top"):
    path = tmp_path / "top.csv"
    path.write_text(text, encoding="utf-8")
    return read_log(path, place, BEGIN)


@pytest.mark.parametrize(
    "text",
    [
        "time,temperature (F)\n2026-10-27 07:30,68\n2026-10-27 09:30,77\n",
        "Logger 7 (invented)\n\nDate-Time;Temp °C\n27.10.2026 07:30;20,0\n27.10.2026 09:30;25,0\n",
        "#,Time,Slab probe\n1,10/27/2026 7:00 AM,15 C\n2,10/27/2026 9:30 AM,25 C\n3,10/27/2026 7:30 AM,20 C\n4,10/27/2026 10:00 AM,\n",
    ],
)  # fmt: skip
def test_rows_of_any_logger_after_placing_began(tmp_path, text):
    found = log(tmp_path, text)
    assert found.hours == pytest.approx([0, 2]) and found.kelvin == pytest.approx([293.15, 298.15])


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (
            "time,temperature\n2026-10-27 07:30,68\n2026-10-27 09:30,77\n",
            "the temperatures have no unit",
        ),
        ("a,b\n1,2\n", "no line of headings names a time and a temperature"),
        ("time,temp (F)\n2026-10-26 07:30,68\n", "fewer than two rows lie after placing began"),
        ("time,temp (C)\n2026-10-27 08:30,168\n2026-10-27 09:30,77\n", "is no temperature of a slab"),
        ("time,temp (F)\nsoon,68\n", "is not a time"),
        ("time,temp (F)\n2026-10-28,68\n2026-10-29,68\n", "'2026-10-28' is a day without a time"),
        ("time,temp (F)\n2026-10-27T07:30Z,68\n", "names a time zone"),
        ("time,temp (psi)\n2026-10-27 07:30,68\n", "heading of the temperatures: .* is a pressure"),
        (f"time,temp (F)\n2026-10-27 07:30,{'6' * 140000}\n", "is no CSV file that can be read"),
    ],
)
def test_a_file_that_cannot_be_used_is_one_sentence(tmp_path, text, words):
    with pytest.raises(JobError, match=words) as error:
        log(tmp_path, text)
    assert str(error.value).startswith("top.csv") and "\n" not in str(error.value)


def test_a_logger_that_writes_every_minute_counts_no_more():
    hours = np.arange(0, 3, 1 / 60)
    found = Logged("top", hours, 290 + hours).hourly()
    assert len(found.hours) == 3 and found.kelvin == pytest.approx(290 + found.hours)


# --- the heat model --------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def slab(demo, demo_book):
    """The demo's slab under its forecast, with its blanket."""
    case = Case("shade", Cover("1 in. foam blanket", 12.0, 84.0))
    return Slab(demo, demo_book.mix.mix, site_of(demo), case, 5.0)


@pytest.fixture(scope="module")
def warmer(slab):
    """(settings, week) of a slab that had warmer air and a tighter cover than planned."""
    settings = Settings(2.5, 0.0, 1.3)
    return settings, slab.week(settings, 50.0)


def logged(week, place, until=31.0):
    hours = np.arange(0.25, until + 0.01, 0.25)  # the model's own steps
    return Logged(place, hours, np.interp(hours, week.hours, row_of(week, place)))


@pytest.mark.worked("calibrated")
def test_the_model_finds_the_weather_that_a_slab_really_had(slab, warmer):
    """Own law: temperatures made with known settings; air within half a kelvin, and four fifths of the error gone."""
    logs = [logged(warmer[1], place) for place in ("top", "bottom")]
    found = calibrated(slab, logs)
    assert (
        found.air == pytest.approx(2.5, abs=0.5) and 1.0 < found.cover < 1.6 and abs(found.soil) < 1.0
    )
    before, after = (misses(slab, logs, x) for x in (np.zeros(3), np.array([found.air, found.soil, np.log(found.cover)])))  # fmt: skip
    assert np.sqrt(np.mean(after**2)) < 0.2 * np.sqrt(np.mean(before**2))


def test_a_logger_that_agrees_moves_nothing_and_a_wild_one_no_farther_than_the_limits(slab):
    week = slab.week(Settings(), 40.0)
    still = calibrated(slab, [logged(week, "middle", 20.0)])
    # hourly means lie a little off the curve between them
    assert (still.air, still.soil, still.cover) == pytest.approx((0, 0, 1), abs=0.03)
    hot = logged(week, "middle", 20.0)
    wild = calibrated(slab, [Logged("middle", hot.hours, hot.kelvin + 40)])
    assert abs(wild.air) <= LIMITS[0] and abs(wild.soil) <= LIMITS[1] and 0.5 <= wild.cover <= 2.0
    assert wild.air == pytest.approx(LIMITS[0])


def test_air_that_was_logged_is_taken_as_it_was(slab):
    """Own arithmetic: 1.5 K off the forecast at every hour."""
    hours = np.arange(0, 20.0)
    air = np.interp(hours, slab.site.hours, slab.site.air) - 1.5
    assert calibrated(slab, [Logged("air", hours, air)]).air == pytest.approx(-1.5)


# --- strength --------------------------------------------------------------------------------------


@pytest.mark.library("SciPy", "optimize.curve_fit", "fitted")
def test_the_curve_is_the_least_squares_of_scipy():
    random = np.random.default_rng(3)
    days = np.array([1.0, 2.0, 3.0, 7.0, 14.0, 28.0])
    psi = (
        4800
        * 0.35
        * (days - 0.3)
        / (1 + 0.35 * (days - 0.3))
        * np.exp(0.08 * random.standard_normal(6))
    )

    def logarithm(t, f_u, k):
        return np.log(f_u * k * (t - 0.3) / (1 + k * (t - 0.3)))

    (f_u, k), covariance = curve_fit(logarithm, days, np.log(psi), p0=(4000, 0.3))
    found = fitted(days, psi, 0.3)
    assert (found.f_u, found.k) == pytest.approx((f_u, k), rel=1e-5)
    assert np.sqrt(found.known[0, 0]) == pytest.approx(np.sqrt(covariance[0, 0]) / f_u, rel=1e-3)
    assert found.strength(7.0) == pytest.approx(
        strength_hyperbolic(Q(7, "day"), Q(f_u, "psi"), Q(k, "1/day"), Q(0.3, "day")).m_as("psi"),
        rel=1e-5,
    )


def test_the_band_of_the_curve_holds_as_often_as_it_says():
    """Drawn tests: five of a curve, and one more at 5 days; 80 of 100 in the band, at least: small spreads are widened."""
    random, held = np.random.default_rng(8), 0
    days = np.array([1.5, 3.0, 7.0, 14.0, 28.0])
    true = 4500 * 0.4 * (days - 0.3) / (1 + 0.4 * (days - 0.3))
    for _ in range(300):
        curve = fitted(days, true * np.exp(0.1 * random.standard_normal(5)), 0.3)
        low, high = curve.band(5.0)
        new = 4500 * 0.4 * 4.7 / (1 + 0.4 * 4.7) * np.exp(0.1 * random.standard_normal())
        held += low <= new <= high
    assert held / 300 == pytest.approx(
        0.82, abs=0.07
    )  # three standard errors, and what the widening adds


def test_too_few_tests_give_no_curve_and_exact_ones_no_false_certainty():
    """Own law: tests made of a hyperbola to 4,000 psi give it back."""
    assert fitted([3.0, 7.0], [2000, 3000], 0.3) is None
    assert fitted([3.0, 3.0, 3.0], [2000, 2100, 1900], 0.3) is None
    assert fitted([0.1, 0.2, 0.2], [20, 30, 30], 0.3) is None
    days = np.array([2.0, 7.0, 28.0])
    exact = fitted(days, 4000 * 0.3 * (days - 0.3) / (1 + 0.3 * (days - 0.3)), 0.3)
    assert exact.f_u == pytest.approx(4000) and exact.spread == WITHIN_TEST


def test_a_hammer_counts_a_quarter_of_a_cylinder():
    days, psi = [2.0, 7.0, 28.0, 28.0], [1500.0, 2900.0, 3900.0, 5500.0]
    both, less = (
        fitted(days, psi, 0.3).strength(28.0),
        fitted(days, psi, 0.3, [0, 0, 0, 1]).strength(28.0),
    )
    assert 3900 < less < both


# --- the page --------------------------------------------------------------------------------------

RECORD = """[record]
job = "{job}"
date = "2026-10-27"
[[work]]
task = "placing"
start = "07:30"
[[logs]]
file = "top.csv"
place = "top"
"""
TESTS = "".join(
    f'[[strengths]]\nage = "{age}"\nstrength = "{psi} psi"\ncured = "in the laboratory"\n'
    for age, psi in (("1 day", 900), ("3 day", 2300), ("7 day", 3200))
)


@pytest.fixture
def told(slab, warmer, demo_copy):
    """A book as ``measured_of`` asks of it, without its first week worked out anew; the record beside the job."""
    there = logged(warmer[1], "top")
    rows = "".join(
        f"{BEGIN + datetime.timedelta(hours=float(h)):%Y-%m-%d %H:%M},{k - 273.15:.2f}\n"
        for h, k in zip(there.hours, there.kelvin, strict=True)
    )
    demo_copy.with_name("top.csv").write_text("time,temp (C)\n" + rows, encoding="utf-8")

    def book(text):
        demo_copy.with_name("demo.record.toml").write_text(text, encoding="utf-8")
        nights = SimpleNamespace(
            planned=SimpleNamespace(case=slab.case), week=SimpleNamespace(wet_until=5.0)
        )
        return SimpleNamespace(job=Job.read(demo_copy), site=slab.site, nights=nights, mix=SimpleNamespace(mix=slab.mix))  # fmt: skip

    return book


def test_the_page_goes_on_from_what_was_measured(told, warmer, monkeypatch):
    """Temperatures are the logger's until now and near the true slab's afterwards; strength follows own tests."""
    book = told(RECORD.format(job="demo.toml") + TESTS)
    found = measured_of(book)
    assert isinstance(found, Measured) and found.now == pytest.approx(31.0)
    truth = np.interp(found.hours, warmer[1].hours, warmer[1].march.top[0])
    until, ahead = found.hours <= 31, (found.hours > 31) & (found.hours < 49)
    assert np.abs(found.kelvin - truth)[until].max() < 0.01  # as the file rounds
    off, planned = (np.abs(row - truth)[ahead].mean() for row in (found.kelvin, found.planned))
    assert off < 0.35 * planned
    assert found.curve is not None and found.strengths()[1] == pytest.approx(
        found.curve.strength(found.ages / 24)
    )
    monkeypatch.setattr("calcbook.records.measured.Book", lambda job: book)
    page = measured(book.job)
    assert page.results["now"] == "hour 31, 14:30 (+1 d)" and page.status == "OK"
    assert page.results["strength"].m == pytest.approx(np.interp(31, found.hours, found.strengths()[0]))
    page.figures[0].draw()


def test_a_slab_that_froze_before_it_could_bear_it_is_not_ok(told, monkeypatch):
    book = told(RECORD.format(job="demo.toml"))
    found = measured_of(book)
    colder = replace(found, kelvin=np.where(found.hours > 4, found.kelvin - 30, found.kelvin))
    monkeypatch.setattr("calcbook.records.measured.Book", lambda job: book)
    monkeypatch.setattr("calcbook.records.measured.measured_of", lambda book: colder)
    (check,) = measured(book.job).checks
    assert check.title.startswith("Slab where measured") and check.status == "NOT OK"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('[record]\njob = "demo.toml"\n', "No logger's file is named"),
        (RECORD.format(job="demo.toml").replace('start = "07:30"', ""), "lacks the day, or the time"),
        (RECORD.format(job="demo.toml").replace("10-27", "11-27"), "is not that of the job's forecast"),
        (RECORD.format(job="demo.toml").replace('"top"\n', '"soil"\n'), "in air or soil only"),
    ],
)
def test_what_cannot_be_told_says_why(told, text, words):
    assert words in measured_of(told(text))


def test_a_job_without_weather_says_what_to_add(told):
    book = told(RECORD.format(job="demo.toml"))
    book.site = Missing("Give pour.date.")
    assert measured_of(book) == "Give pour.date."
