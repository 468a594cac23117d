"""Concrete: published check values, rounding for the order, and the calculation of a job."""

import warnings

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pours import loads_of

from calcbook.basis.calculation import NOT_OK, OK, Table
from calcbook.basis.formula import FormulaError, OutsideRange
from calcbook.basis.units import Q
from calcbook.book.chapters import run
from calcbook.concrete.volume import order_volume, waste_volume
from calcbook.concrete.volumes import coverage, lowered_volume, plan_volume, slab_volume, sloped_volume
from calcbook.ground.levels import fall_over
from calcbook.job.file import Job

# coverage of a cubic yard, a general engineering reference table (read in a reprint); 5 and 7 in.
# are printed as 65 and 46.3
COVERAGE = [
    (2, 162, 0.5), (3, 108, 0.5), (4, 81, 0.5), (5, 65, 0.5), (6, 54, 0.5), (7, 46.3, 0.05), (8, 40.5, 0.05),
    (9, 36, 0.5), (12, 27, 0.5),
]  # fmt: skip


@pytest.mark.worked("coverage")
@pytest.mark.parametrize(("t", "printed", "half_digit"), COVERAGE)
def test_coverage_table(t, printed, half_digit):
    assert coverage(Q(t, "in")).m == pytest.approx(printed, abs=half_digit)
    assert coverage(Q(t, "in")).m == pytest.approx(324 / t, rel=1e-12)


# concrete for 100 ft2: common published table, NRMCA and PCA (from memory), two decimals
@pytest.mark.parametrize(("t", "printed"), [(4, 1.24), (5, 1.54), (6, 1.85)])
def test_a_hundred_square_feet(t, printed):
    assert slab_volume("100 ft2", Q(t, "in")).m == pytest.approx(printed, abs=0.0055)


@pytest.mark.published("NRMCA CIP 8", "1/8 in. in a 4 in. slab", "slab_volume")
def test_an_eighth_of_an_inch_too_much():
    """NRMCA CIP 8, read in a reprint: 1/8 in. too much in a 4 in. slab is 3 percent short, or 1 yd3 in 32."""
    ordered, placed = (slab_volume(Q(32 * 324 / 4, "ft2"), Q(t, "in")).m for t in (4, 4.125))
    assert ordered == pytest.approx(32)
    assert placed - ordered == pytest.approx(1, abs=0.05) and placed / ordered == pytest.approx(
        1.03, abs=0.005
    )


@pytest.mark.worked("order_volume", "slab_volume")
def test_a_small_slab_and_its_order_by_hand():
    """Own arithmetic: 16 x 20 ft, 4 in.: 106.667 ft3, 3.95 yd3; ordered as 4 yd3, or 4.25 yd3 with 5 %."""
    V = slab_volume(Q(320, "ft2"), "4 in")
    assert V.m_as("foot**3") == pytest.approx(106.667, abs=0.0005)
    assert V.m == pytest.approx(3.95, abs=0.005)
    assert order_volume(V, 0.0, "0.25 yd3").m == 4.0
    assert order_volume(V, 0.05, "0.25 yd3").m == 4.25
    assert order_volume(V, 0.10, "0.25 yd3").m == 4.5


@pytest.mark.worked("plan_volume", "waste_volume")
def test_plan_volume_and_waste():
    assert plan_volume("15 yd3", "7 yd3").m == pytest.approx(22)
    assert waste_volume("20 yd3", 0.08).m == pytest.approx(1.6)


@pytest.mark.parametrize(
    ("waste", "flagged"), [(0.03, True), (0.04, False), (0.10, False), (0.12, True)]
)
def test_waste_outside_four_to_ten_percent_is_flagged(waste, flagged):
    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always", OutsideRange)
        waste_volume("20 yd3", waste)
    assert bool(caught) == flagged


def test_impossible_inputs_are_refused_by_name():
    with pytest.raises(FormulaError, match=r"slab_volume: A \(plan area"):
        slab_volume("-5 ft2", "4 in")
    with pytest.raises(FormulaError, match=r"slab_volume: t \(thickness"):
        slab_volume("100 ft2", "49 in")
    with pytest.raises(FormulaError, match="order_volume: waste"):
        order_volume("20 yd3", 0.6)
    with pytest.raises(FormulaError, match="coverage: t"):
        coverage("0 in")


@settings(max_examples=50, deadline=None)
@given(st.floats(0.01, 500), st.floats(0, 0.5), st.sampled_from([0.1, 0.25, 0.5, 1.0]))
def test_the_order_is_never_below_the_need_nor_a_step_above_it(V, waste, step):
    order = order_volume(Q(V, "yd3"), waste, Q(step, "yd3")).m
    need = V * (1 + waste)
    assert order >= need * (1 - 1e-8)
    assert order < need + step
    assert order / step == pytest.approx(round(order / step), abs=1e-9)


@settings(max_examples=50, deadline=None)
@given(st.integers(1, 400), st.sampled_from([0.0, 0.04, 0.05, 0.08, 0.1]))
def test_noise_never_costs_a_step(steps, waste):
    assert order_volume(Q(0.25 * steps / (1 + waste), "yd3"), waste, "0.25 yd3").m == pytest.approx(
        0.25 * steps
    )


@pytest.mark.parametrize("governs", ["allowance", "risk"])
def test_what_stays_in_the_pump_is_ordered_whichever_way_governs(governs):
    """2 yd3 in the line are 2 yd3 more to order, and what is ordered follows the plan's loads."""
    waste = "10 %" if governs == "allowance" else "0 %"
    chute = simple(**{"concrete.waste": waste, "pour.minimum_load": "0 yd3"})
    pumped = chute.changed({"pour.pump": True, "pour.line_loss": "2 yd3"})
    orders = [run("volume", job).results["order"].m for job in (chute, pumped)]
    assert orders[1] - orders[0] == pytest.approx(2)
    assert [loads_of(job).total.m for job in (chute, pumped)] == pytest.approx(orders)
    said = [s.words for s in run("volume", pumped).steps]
    assert sum("pump and its line comes on top" in words for words in said) == 1
    assert not any("pump" in s.words for s in run("volume", chute).steps if "llowance" in s.words)


def test_metric_and_us_give_the_same_volume():
    """A law: the same slab in other units, which are exact."""
    us = slab_volume("1000 ft2", "5 in").m_as("m**3")
    assert slab_volume("92.90304 m2", "127 mm").m_as("m**3") == pytest.approx(us, rel=1e-12)


# --- the calculation of a job ----------------------------------------------------------------


def simple(**changes):
    raw = {
        "slab": {"length": "20 ft", "width": "16 ft", "thickness": "4 in"},
        "edge": {"depth": "0 in"},
    }
    job = Job(raw)
    return job.changed(changes) if changes else job


def test_a_plain_rectangle_from_job_to_order():
    calc = run("volume", simple())
    assert calc.results["area"].m == pytest.approx(320)
    assert calc.results["slab"].m == pytest.approx(3.9506, abs=5e-5)
    assert calc.results["net"].m == pytest.approx(3.9506, abs=5e-5)
    assert "dig" not in calc.results
    # 8 % more is 4.267, so 4.5; the base's records ask 3.951 + 320 ft2 x (1 + 1.645) / 8 in. = 4.277, so 4.5
    assert calc.results["risk_volume"].m == pytest.approx(4.277, abs=0.001)
    assert calc.results["order"].m == 4.5
    assert calc.results["trucks"] == 1
    assert calc.status == OK


def test_the_larger_of_allowance_and_risk_is_ordered():
    """Half an inch extra over 320 ft2 is 0.494 yd3, and 1.645 spreads of 1/8 in. 0.203: 4.648."""
    calc = run("volume", simple(**{"base.extra_depth": "0.5 in"}))
    assert calc.results["risk_volume"].m == pytest.approx(4.648, abs=0.001)
    assert calc.results["order"].m == 4.75
    assert calc.results["odds"].m < 5
    assert calc.status == OK


def test_a_pump_keeps_concrete_back():
    """As above, and half a yard in hopper and line: 5.148, ordered 5.25; the odds tell it too."""
    calc = run("volume", simple(**{"base.extra_depth": "0.5 in", "pour.pump": True}))
    assert calc.results["risk_volume"].m == pytest.approx(5.148, abs=0.001)
    assert calc.results["order"].m == 5.25
    assert calc.results["odds"].m < 5
    chute = run("volume", simple(**{"base.extra_depth": "0.5 in"}))
    assert abs(chute.results["odds"].m - calc.results["odds"].m) < 1e-9


def test_without_a_spread_there_are_no_odds():
    calc = run("volume", simple(**{"base.depth_spread": "0 in"}))
    assert "odds" not in calc.results
    assert calc.results["order"].m == 4.5
    assert [f.title for f in calc.figures] == ["Plan"]


def test_a_small_order_without_a_known_fee_is_not_ok():
    small = {"slab.length": "10 ft", "slab.width": "10 ft"}
    calc = run("volume", simple(**small))
    assert calc.status == NOT_OK
    assert "short-load fee" in calc.checks[0].remark
    assert [line.price for line in calc.takeoff if line.price == "short_load_fee"]
    paid = run("volume", simple(**small, **{"prices.short_load_fee": "$140"}))
    assert paid.status == OK
    assert run("volume", simple(**small, **{"pour.minimum_load": "0 yd3"})).status == OK


def test_a_raised_load_is_what_is_ordered():
    prices = {"prices.concrete": "$168 / yd3", "prices.short_load_fee": "$140"}
    calc = run("volume", simple(**{"slab.length": "17 ft", "slab.width": "16 ft"}, **prices))
    assert calc.results["order"].m == 4.0
    assert "raising it" in calc.checks[0].remark
    assert calc.takeoff[0].amount.m == 4.0


def test_the_demo_order(demo):
    calc = run("volume", demo)
    assert calc.results["area"].m == pytest.approx(990.215, abs=0.001)
    parts = calc.results["slab"] + calc.results["dig"]
    assert calc.results["net"].m_as("yd**3") == pytest.approx(parts.m_as("yd**3"), rel=1e-14)
    assert calc.results["order"].m >= 1.08 * calc.results["net"].m
    takeoff = {line.price: line for line in calc.takeoff}
    assert takeoff["concrete"].amount == calc.results["order"]
    assert takeoff["pump"].kind == "equipment"
    assert {line.price for line in calc.takeoff if line.kind == "labor"} == {"wage"}
    assert [f.title for f in calc.figures] == ["Plan", "Plan of all slabs", "Odds of coming up short"]


def test_the_table_of_thickenings_adds_up(demo):
    (table,) = [b for b in run("volume", demo).blocks if isinstance(b, Table)]
    amounts = [float(cell.removesuffix(" yd³")) for cell in table.frame["volume"]]
    assert sum(amounts[:-1]) == pytest.approx(amounts[-1], abs=0.02)
    assert list(table.frame["below the slab"])[:3] == [
        "edge of sides 1, 2, 3, 5 and 6",
        "edge of side 4",
        "P1",
    ]


def test_edges_that_meet_have_no_closed_form():
    calc = run("volume", simple(**{"edge.depth": "12 in", "edge.width": "100 in"}))
    assert any("no closed form" in getattr(b, "words", "") for b in calc.blocks)
    assert calc.results["dig"].m == pytest.approx(320 / 27, rel=1e-6)  # the ring is the whole slab


def test_pads_without_an_edge():
    pad = {
        "name": "P",
        "x": "10 ft",
        "y": "8 ft",
        "length": "36 in",
        "width": "36 in",
        "depth": "12 in",
    }
    raw = {"slab": {"length": "20 ft", "width": "16 ft"}, "edge": {"depth": "0 in"}, "pads": [pad]}
    assert run("volume", Job(raw)).results["dig"].m == pytest.approx(9 / 27)


def test_metric_shows_the_same_job_in_metric(demo):
    us, si = (run("volume", demo.shown_in(units)) for units in ("us", "si"))
    assert si.results["order"].m_as("m**3") == pytest.approx(us.results["order"].m_as("m**3"))
    assert si.text("order").endswith("m³")
    assert us.text("order").endswith("yd³")


@pytest.mark.worked("lowered_volume")
def test_lowered_strips_are_taken_off():
    """Own arithmetic: 17.3 less 0.4 cubic yards."""
    assert lowered_volume("17.3 yd3", "0.4 yd3").m_as("yard**3") == pytest.approx(16.9)


@pytest.mark.worked("sloped_volume", "fall_over")
def test_fall_and_slope_by_hand():
    """Own arithmetic: 1/8 in. in a foot over 30 ft is 3.75 in.; 720 ft2, 5 in. and 1.875 in. more are 412.5 ft3."""
    assert fall_over(0.125 / 12, "30 ft").m_as("inch") == pytest.approx(3.75)
    assert sloped_volume("720 ft2", "5 in", "1.875 in").m_as("foot**3") == pytest.approx(412.5)
