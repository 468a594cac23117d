"""The page on what was learned: what it shows is what the estimates hold, and prices are those of the quote's formulas."""

import re
import shutil

import numpy as np
import pytest
from invented_records import FOLDER

from calcbook.basis.showing import money_text
from calcbook.job.file import Job
from calcbook.records.chapter import by_line, learned, step_by_step
from calcbook.records.estimate import estimates
from calcbook.records.file import read_records, records_in
from calcbook.records.lines import line_estimates
from calcbook.records.prices import prices_of
from calcbook.records.proposal import shown_number
from calcbook.records.telling import units_of

SMALL = {"slab": {"length": "24 ft", "width": "30 ft"}}


def test_without_records_the_invented_ones_are_shown_and_said_to_be(tmp_path):
    page = learned(Job(SMALL, tmp_path / "garage.toml"))
    assert "invented" in page.blocks[0].words
    assert any("Is that right?" in caution for caution in page.cautions)
    assert not page.checks and len(page.figures) == 1  # no verdict on a job by what is invented
    assert any("Invented: The price for" in str(block) for block in page.blocks)
    titles = [block.title for block in page.blocks if hasattr(block, "title")]
    assert "12 invented jobs" in titles and "What they would propose, were they yours" in titles
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


def test_a_record_that_was_only_begun_says_so(tmp_path):
    path = tmp_path / "garage.record.toml"
    path.write_text('[record]\njob = "garage.toml"\n', encoding="utf-8")
    job = Job(SMALL, tmp_path / "garage.toml")
    assert [block.words for block in learned(job).blocks] == [
        "Nothing measured stands in a record beside this job yet."
    ]
    assert by_line(job).blocks[0].words == "No record tells hours or cost of a line."
    path.write_text(
        path.read_text("utf-8")
        + '[cracks]\nseen = 0\n[money]\nspent = "$9"\n[promised]\ndirect = "$10"\n',
        "utf-8",
    )
    page = learned(job)
    assert any("Too few jobs tell a figure" in str(block) for block in page.blocks)
    assert any(getattr(block, "title", "") == "1 own job" for block in page.blocks)


def test_the_page_by_line_shows_the_estimates_of_the_lines(tmp_path, twelve):
    page = by_line(Job(SMALL, tmp_path / "garage.toml"))
    tables = {block.title: block for block in page.blocks if hasattr(block, "title")}
    assert list(tables) == ["Lines of the quote against what came out", "Trucks", "Tasks on the clock",
                            "Cracks at 28 days, outside of joints"]  # fmt: skip
    told = {one.figure.name: one for one in line_estimates(twelve)}
    for cells in tables["Lines of the quote against what came out"].rows:
        one = told[cells[0].rpartition(", ")[0]]
        assert cells[1] == f"{one.n}" and cells[3] == f"{np.exp(one.mu):.2f}"


def test_records_in_meters_and_another_money_say_the_same(tmp_path, twelve):
    """The first three, each quantity written in its metric unit: the same estimates, shown in meters and euros."""
    metric = {"yd3": ("m3", 0.9144**3), "ft2": ("m2", 0.3048**2), "in": ("mm", 25.4), "psi": ("MPa", 0.00689476), "ft": ("m", 0.3048)}  # fmt: skip

    def turned(match):
        unit, times = metric[match[2]]
        return f'"{float(match[1]) * times:.6g} {unit}"'

    for record in twelve[:3]:
        text = re.sub(r'"([\d.]+) (yd3|ft2|in|psi|ft)"', turned, record.text).replace('"$', '"€')
        text = text.replace("[record]", '[record]\nunits = "si"\ncurrency = "EUR"')
        (tmp_path / record.path.name).write_text(text, encoding="utf-8")
    records, problems = read_records(records_in(tmp_path))
    system = units_of(records)
    assert problems == [] and system == "si" and money_text(5, system) == "€5.00"
    for us, si in zip(estimates(twelve[:3]), estimates(records), strict=True):
        assert si.figure == us.figure and si.mu == pytest.approx(us.mu, abs=2e-4)
    assert estimates(records, None, "si")[2].in_use.value == pytest.approx(
        2 / 0.9144**3
    )  # a round 2 m3 an hour


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
    assert not page.checks and not page.figures  # what is not measured yet is no verdict on a job
    assert "tells of bars yet." in page.blocks[-1].words


def test_prices_that_jobs_would_have_needed(twelve):
    """Own arithmetic: cost, 12 % of overhead on it, over one less 15 % of margin."""
    prices = prices_of(twelve)
    spent = np.array([r.file.money.spent.m for r in twelve])
    assert prices.needed == pytest.approx(spent * 1.12 / 0.85)
    assert prices.held == sum(prices.needed <= prices.sure) and prices.confidence == pytest.approx(0.8)
    assert prices.by_chance == (7, 12)
    assert prices_of(twelve[:0]) is None
