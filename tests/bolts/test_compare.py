"""Cast or drilled: odds and costs."""

import pytest
from bolt_jobs import changed, notes, steps, values

from calcbook.basis.calculation import Calculation
from calcbook.basis.units import Q
from calcbook.bolts.breaks import breaks_of
from calcbook.bolts.design import _stick_up, _walls
from calcbook.bolts.misplacement import odds_of_miss, rooms_of
from calcbook.book.chapters import run
from calcbook.job.wall_lines import wall_line
from calcbook.joints.layout import joints_of
from calcbook.loads.from_job import load_path


@pytest.fixture(scope="module")
def made(demo):
    return run("bolts", demo)


def test_costs_need_prices(demo):
    raw = {
        **demo.raw,
        "prices": {k: v for k, v in demo.raw["prices"].items() if k not in ("rod", "epoxy")},
    }
    calc = run("bolts", type(demo)(raw))
    assert "cost_cast" not in calc.results
    assert any("give the prices of: rod, epoxy" in getattr(b, "words", "") for b in calc.blocks)


def test_casting_by_the_list_beats_casting_blind(made):
    assert made.results["cost_cast"] < made.results["cost_careless"]
    assert 0 < made.results["misses"] < 1
    assert made.results["cost_cast"] < made.results["cost_drilled"]


def test_costs_by_own_arithmetic(demo, made):
    """48 bolts; p_0 = (1.5 + 2 x 1.625) / 16; rods of $5.60 with 0.9449 x 1.3 in.3 of a $38 cartridge of 39.70 in.3."""
    p, n = demo.prices, made.results["bolts"]
    bolt, rod, epoxy = (q.m_as("dollar") for q in (p.bolt, p.rod, p.epoxy))
    wage = p.wage.m_as("dollar/hour")
    one = rod + epoxy * 0.944942 * 1.3 / (22 * 231 / 128)
    again = one + wage / 2
    expected = [
        n * (bolt + wage / 12) + made.results["misses"] * again,
        n * (bolt + wage / 12) + n * (1.5 + 2 * 1.625) / 16 * again,
        n * (one + wage / 4),
    ]
    assert values(made, "expected_cost", "dollar") == pytest.approx(expected, rel=1e-5)
    assert f"casting is cheaper, by ${expected[2] - expected[0]:,.2f}" in notes(made)


def test_drilling_can_be_cheaper(demo):
    calc = changed(demo, prices__bolt="$60")
    assert calc.results["cost_drilled"] < calc.results["cost_cast"]
    assert "drilling is cheaper" in notes(calc)


@pytest.mark.worked("odds_of_miss")
@pytest.mark.parametrize(("units", "to_an_inch"), [("us", 16.0), ("si", 25.4)])
def test_misses_are_the_sum_of_the_bolts_odds(demo, units, to_an_inch):
    """Each bolt's room by its wall's layout, in sixteenths or millimetres; spread by the root of the squares."""
    job = demo.changed({"job.units": units})
    calc = Calculation("x", "x", "x")
    lines = [wall_line(job.slab, s) for s in job.bolted_walls]
    walls = _walls(calc, job, lines, _stick_up(calc, job), load_path(job).walls[: len(lines)],
                   breaks_of(job, joints_of(job).layout))  # fmt: skip
    sigma = Q((0.5**2 + 0.125**2 + 0.25**2) ** 0.5, "in")
    exact = sum(
        odds_of_miss(Q(a, "in"), Q(b, "in"), sigma)
        for w in walls
        for a, b in rooms_of(w.layout, to_an_inch)
    )
    assert run("bolts", job).results["misses"] == pytest.approx(exact)


def test_closest_studs_count_for_casting_blind(demo):
    calc = changed(demo, walls__1__stud_spacing="12 in")
    assert float(steps(calc, "blocked_share")[0].value) == pytest.approx((1.5 + 3.25) / 12)


def test_no_costs_for_a_hole_that_cannot_be(demo):
    assert "cost_cast" not in changed(demo, bolts__hole="5/8 in").results


def test_no_bolts_nothing_to_compare(demo):
    raw = {**demo.raw, "walls": [{"name": "stub", "side": 1, "end": "8 in"}]}
    calc = run("bolts", type(demo)(raw))
    assert "misses" not in calc.results and calc.status == "NOT OK"
