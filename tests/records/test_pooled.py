"""Heat model and strength curve over several jobs: each slab counts once, and what cannot be told says so."""

import math
from types import SimpleNamespace

import numpy as np
import pytest

from calcbook.basis.units import Q
from calcbook.concrete.curing import strength_band
from calcbook.job.file import Job
from calcbook.records import pooled as module
from calcbook.records.calibrate import Settings
from calcbook.records.file import read_records
from calcbook.records.logger import Logged
from calcbook.records.measured import LABORATORY
from calcbook.records.pooled import Off, off_of, pooled, pooled_of

SMALL = {"slab": {"length": "24 ft", "width": "30 ft"}}
HOURS = np.arange(0, 48.0)


def measured(warmer, on=10.0):
    """A slab that was planned at 290 K, and logged so much colder."""
    return SimpleNamespace(
        settings=Settings(1.0, -0.5, 1.2), logs=(Logged("top", HOURS, 290.0 - warmer + 0 * HOURS),), place="top",
        hours=HOURS, planned=290.0 + 0 * HOURS, kelvin=290.0 - warmer + 0 * HOURS,
        slab=SimpleNamespace(case=SimpleNamespace(cover=SimpleNamespace(on=on))),
    )  # fmt: skip


def test_how_far_the_plan_lay_from_a_logger():
    y, hourly = module._heat(measured(2.0))
    assert y == pytest.approx({"slab": 3.6, "air": 1.8, "soil": -0.9, "cover": math.log(1.2)})
    assert len(hourly) == 48 and hourly[0] == pytest.approx(2.0)
    assert (
        "cover" not in module._heat(measured(2.0, np.inf))[0]
    )  # a slab without a cover tells nothing of one


def test_tests_are_held_against_the_published_curve_at_their_age():
    """A test that breaks at the curve is 0 off, one at twice it log 2; hammers, and slab tests without a logger, do not count."""
    job = Job(SMALL)
    middle = strength_band(
        np.linspace(0, 168, 200), np.full(200, LABORATORY.m_as("kelvin")), job.concrete.strength, job.concrete.cement,
        job.pour.haul.m_as("hour"),
    )[1][-1]  # fmt: skip
    tests = [("cylinder", "in the laboratory", 1), ("core", "in the laboratory", 2), ("hammer", "in the laboratory", 3),
             ("cylinder", "with the slab", 1)]  # fmt: skip
    strengths = [
        SimpleNamespace(by=by, cured=cured, age=Q(168, "h"), strength=Q(times * middle, "psi"))
        for by, cured, times in tests
    ]
    record = SimpleNamespace(file=SimpleNamespace(strengths=strengths))
    assert list(module._tests(record, job, None)) == pytest.approx([0, math.log(2)], abs=1e-6)


def test_each_job_counts_once_whatever_its_hours(twelve, monkeypatch):
    """Own arithmetic: three jobs against the five of the start; hours are pooled for their scatter alone."""
    offs = {
        r.path: Off(r, {"slab": y}, (y,) * hours)
        for r, y, hours in zip(twelve, (2.0, 4.0, 3.0), (500, 2, 30), strict=False)
    }
    monkeypatch.setattr(
        module, "off_of", lambda record: offs.get(record.path, "this one cannot be told")
    )
    found, hourly, problems = pooled_of(twelve)
    (slab,) = found
    assert slab.n == 3 and slab.mu == pytest.approx(9.0 / 8) and len(hourly) == 532
    assert problems == ["this one cannot be told"] * 9


def test_a_record_without_its_job_and_a_job_without_weather_are_told(twelve, tmp_path):
    assert "its job file bait-shop.toml is not beside it" in off_of(twelve[0])
    (tmp_path / "bait-shop.toml").write_text(
        '[slab]\nlength = "24 ft"\nwidth = "30 ft"\n', encoding="utf-8"
    )
    path = tmp_path / twelve[0].path.name
    path.write_text(twelve[0].text + '\n[[logs]]\nfile = "top.csv"\nplace = "top"\n', encoding="utf-8")
    (record,) = read_records([path])[0]
    told = off_of(record)
    assert told.startswith("bait-shop.record.toml: ") and "\n" not in told
    page = pooled(Job(SMALL, tmp_path / "bait-shop.toml"))
    assert told in page.cautions


def test_tests_of_a_job_without_a_logger_are_pooled(twelve, tmp_path):
    (tmp_path / "bait-shop.toml").write_text(
        '[slab]\nlength = "24 ft"\nwidth = "30 ft"\n', encoding="utf-8"
    )
    (tmp_path / twelve[0].path.name).write_text(twelve[0].text, encoding="utf-8")
    page = pooled(Job(SMALL, tmp_path / "bait-shop.toml"))
    (table,) = (block for block in page.blocks if hasattr(block, "rows"))
    assert table.rows[0][0].startswith("strength by tests") and table.rows[0][2] == "1"


def test_without_records_nothing_is_said_of_the_model(tmp_path):
    page = pooled(Job(SMALL, tmp_path / "garage.toml"))
    assert "nothing is said of the heat model" in page.blocks[0].words and not page.checks
