"""The page on what was learned: what it shows is what the estimates hold, and prices are those of the quote's formulas."""

import re
import shutil

import numpy as np
import pytest
from invented_records import FOLDER

from calcbook.job.file import Job
from calcbook.records.chapter import learned, step_by_step
from calcbook.records.estimate import estimates
from calcbook.records.file import records_in
from calcbook.records.prices import prices_of
from calcbook.records.proposal import shown_number

SMALL = {"slab": {"length": "24 ft", "width": "30 ft"}}


def test_without_records_the_invented_ones_are_shown_and_said_to_be(tmp_path):
    page = learned(Job(SMALL, tmp_path / "garage.toml"))
    assert "invented" in page.blocks[0].words
    assert any("Is that right?" in caution for caution in page.cautions)
    assert page.status == "OK" and len(page.figures) == 1
    page.figures[0].draw()


def test_records_beside_the_job_are_shown_instead(tmp_path):
    for path in records_in(FOLDER)[:4]:
        shutil.copy(path, tmp_path)
    (tmp_path / "broken.record.toml").write_text("[record\n", encoding="utf-8")
    page = learned(Job(SMALL, tmp_path / "garage.toml"))
    titles = [block.title for block in page.blocks if hasattr(block, "title")]
    assert "4 own jobs" in titles and not any("invented, to show" in str(b) for b in page.blocks)
    assert any(c.startswith("broken.record.toml") for c in page.cautions)


@pytest.mark.parametrize(("times", "status"), [(0.5, "OK"), (3, "NOT OK")])
def test_prices_that_held_less_often_than_promised_are_not_ok(tmp_path, times, status):
    for path in records_in(FOLDER):
        text = re.sub(
            r'spent = "\$(\d+)"',
            lambda m: f'spent = "${times * int(m[1]):.0f}"',
            path.read_text("utf-8"),
        )
        (tmp_path / path.name).write_text(text, encoding="utf-8")
    (check,) = learned(Job(SMALL, tmp_path / "garage.toml")).checks
    assert check.title.startswith("Price that is to keep the margin") and check.status == status


@pytest.mark.parametrize("name", ["forms", "depth", "waste"])
def test_step_by_step_comes_to_what_the_table_says(twelve, tmp_path, name):
    (one,) = (e for e in estimates(twelve) if e.figure.name == name)
    page = step_by_step(Job(SMALL, tmp_path / "garage.toml"), name)
    assert page.results["mean"] == pytest.approx(one.mu) and page.results["spread"] == pytest.approx(
        one.sigma
    )
    assert page.results["combined"] == shown_number(one, one.mu, "us")
    page.figures[0].draw()


def test_a_figure_that_no_record_tells_of_says_so(tmp_path):
    page = step_by_step(Job(SMALL, tmp_path / "garage.toml"), "bars")
    assert page.status == "NOT WORKED OUT"


def test_prices_that_jobs_would_have_needed(twelve):
    """Own arithmetic: cost, 12 % of overhead on it, over one less 15 % of margin."""
    prices = prices_of(twelve)
    spent = np.array([r.file.money.spent.m for r in twelve])
    assert prices.needed == pytest.approx(spent * 1.12 / 0.85)
    assert prices.held == sum(prices.needed <= prices.sure) and prices.confidence == pytest.approx(0.8)
    assert prices.by_chance == (7, 12)
    assert prices_of(twelve[:0]) is None
