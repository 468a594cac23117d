"""Stone, soil and fill: published values, closed forms, laws, and the calculation of a job."""

import warnings

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapes import RECTANGLE, outlines

from calcbook.basis.calculation import NEEDS_ENGINEER, NOT_OK, OK
from calcbook.basis.formula import OutsideRange
from calcbook.basis.units import Q, unit
from calcbook.book.chapters import run
from calcbook.ground.base import (
    cut_depth,
    excavation_volume,
    fill_volume,
    soil_dug,
    spoil_volume,
)  # fmt: skip
from calcbook.ground.stone import compacted_stone, loose_stone, stone_mass, stone_order, stone_volume
from calcbook.job.file import Job
from calcbook.plan.outline import EdgeRing, Plan, Thickening, rectangle

FT3 = unit("ft3")


@pytest.mark.worked("stone_mass", "stone_order")
def test_stone_for_a_garage():
    """24 x 30 ft, 4 in. at 1.35 ton/yd3, common practice:
    8.89 yd3, 12.0 ton."""
    V = compacted_stone(Plan(RECTANGLE), Q(4, "in"))
    assert V.m == pytest.approx(8.89, abs=0.005)
    assert stone_mass(V).m == pytest.approx(12.0, abs=0.05)
    assert stone_order(stone_mass(V)).m == 12


def test_crushed_stone_by_the_table():
    """2,700 lb/yd3, 1.35 ton/yd3 and 100 lb/ft3 are one figure: own arithmetic."""
    assert stone_mass("1 yd3").m_as("pound") == pytest.approx(2700)
    assert stone_mass("1 ft3").m_as("pound") == pytest.approx(100)


@pytest.mark.worked("spoil_volume")
def test_swell_example():
    """10 yd3 in the ground become 13 yd3: swell 30 % (textbook example, read in a reprint)."""
    assert spoil_volume("10 yd3").m == pytest.approx(13)
    assert spoil_volume("10 yd3", 0.0).m == pytest.approx(10)


@pytest.mark.worked("loose_stone")
def test_loose_stone_and_its_range():
    assert loose_stone("10 yd3").m == pytest.approx(11.5)
    for compaction, flagged in ((0.09, True), (0.1, False), (0.2, False), (0.21, True)):
        with warnings.catch_warnings(record=True) as caught:
            warnings.simplefilter("always", OutsideRange)
            assert loose_stone("10 yd3", compaction).m == pytest.approx(10 * (1 + compaction))
        assert bool(caught) == flagged


@pytest.mark.parametrize(
    ("density", "flagged"), [(1.29, True), (1.31, False), (1.61, False), (1.63, True)]
)
def test_density_outside_the_tables_is_flagged(density, flagged):
    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always", OutsideRange)
        stone_mass("1 yd3", Q(density, "ton/yd3"))
    assert bool(caught) == flagged


@pytest.mark.parametrize(("need", "order"), [(12.0, 12), (12.01, 13), (0.2, 1), (0.0, 0)])
def test_stone_is_ordered_in_whole_tons(need, order):
    assert stone_order(Q(need, "ton")).m == order
    assert stone_order(Q(need, "ton"), Q(0.5, "ton")).m >= need


def test_stone_makes_room_for_the_thickenings():
    """1 ft wide, straight, deeper than the stone: stone lies inside 22 x 28 ft, less a 3 x 3 ft pad."""
    plan = Plan(RECTANGLE, [], [Thickening.pad("P", 12, 15, 3, 3, 0.75)], EdgeRing(1.0, 1.0, 0.0))
    assert compacted_stone(plan, Q(4, "in")).m_as(FT3) == pytest.approx((22 * 28 - 9) / 3)
    # a pad only 2 in. deep leaves stone under it
    shallow = Plan(RECTANGLE, [], [Thickening.pad("P", 12, 15, 3, 3, 2 / 12)])
    assert compacted_stone(shallow, Q(4, "in")).m_as(FT3) == pytest.approx(720 / 3 - 9 / 6)


def test_no_stone_in_openings_or_without_a_base():
    plan = Plan(RECTANGLE, [("pit", rectangle(4, 5, 10, 10))])
    assert compacted_stone(plan, Q(12, "in")).m_as(FT3) == pytest.approx(700)
    assert compacted_stone(plan, Q(0, "in")).m == 0


@pytest.mark.worked("cut_depth")
def test_cut_depth_by_hand():
    assert cut_depth("5 in", "4 in", "6 in").m == pytest.approx(3)
    assert cut_depth("4 in", "4 in", "12 in").m == pytest.approx(-4)


def test_soil_of_a_plain_slab():
    """24 x 30 ft cut 3 in. deep."""
    dug = soil_dug(Plan(RECTANGLE), Q(5, "in"), Q(4, "in"), Q(6, "in"))
    assert dug.m_as(FT3) == pytest.approx(720 / 4)


def test_soil_of_a_straight_edge_below_the_cut():
    """Straight ring 1 ft wide, 12 in. below the slab; stone 4 in., so 8 in. of it below the cut."""
    plan = Plan(RECTANGLE, edge=EdgeRing(1.0, 1.0, 0.0))
    ring = 720 - 22 * 28
    dug = soil_dug(plan, Q(5, "in"), Q(4, "in"), Q(6, "in"))
    assert dug.m_as(FT3) == pytest.approx(720 / 4 + ring * 8 / 12)
    # slab and stone above the ground: underside of slab 8 in. up, so 4 in. of the ring in the ground
    high = soil_dug(plan, Q(4, "in"), Q(4, "in"), Q(12, "in"))
    assert high.m_as(FT3) == pytest.approx(ring * 4 / 12)
    assert soil_dug(plan, Q(4, "in"), Q(4, "in"), Q(17, "in")).m == 0


@pytest.mark.worked("fill_volume")
def test_fill_by_hand():
    assert fill_volume("720 ft2", "4 in").m_as(FT3) == pytest.approx(240)


@settings(max_examples=30, deadline=None)
@given(outlines, st.floats(0.05, 1.2), st.floats(0.05, 1.2), st.floats(0, 1))
def test_stone_and_dug_concrete_fill_what_lies_under_the_slab(outline, t_b, d, slope):
    """Stone, and concrete down to the stone's underside, together fill the layer of the stone."""
    plan = Plan(outline, edge=EdgeRing(d, 1.0, slope))
    from calcbook.plan.dug import depth_integral

    stone = compacted_stone(plan, Q(t_b, "ft")).m_as(FT3)
    assert stone >= -1e-6
    assert stone + depth_integral(plan, 0.0, t_b) == pytest.approx(outline.area * t_b, rel=1e-7)


@settings(max_examples=30, deadline=None)
@given(outlines, st.floats(0, 24), st.floats(0, 12), st.floats(0.5, 8))
def test_a_higher_slab_never_digs_more(outline, above, t_b, raised):
    plan = Plan(outline, edge=EdgeRing(1.0, 1.0, 0.5))
    low, high = (soil_dug(plan, Q(5, "in"), Q(t_b, "in"), Q(h, "in")) for h in (above, above + raised))
    assert high <= low + Q(1e-6, "yd3")
    deepest = (outline.area * max(5 + t_b - above, 17 - above, 0) / 12) / 27
    assert 0 <= low.m <= deepest + 1e-6


# --- the calculation of a job ----------------------------------------------------------------


def job(**changes):
    raw = {
        "slab": {"length": "24 ft", "width": "30 ft", "thickness": "5 in", "above_grade": "6 in"},
        "edge": {"depth": "0 in"}, "base": {"thickness": "4 in"},
    }  # fmt: skip
    return Job(raw).changed(changes) if changes else Job(raw)


def test_a_plain_rectangle_from_job_to_takeoff():
    calc = run("base", job())
    assert calc.results["stone_volume"].m == pytest.approx(8.89, abs=0.005)
    assert calc.results["loose_stone"].m == pytest.approx(8.889 * 1.15, abs=0.005)
    assert calc.results["stone_order"].m == 12
    assert calc.results["soil"].m == pytest.approx(720 / 4 / 27)
    assert calc.results["spoil"].m == pytest.approx(1.3 * 720 / 4 / 27)
    assert calc.results["forms"].m == pytest.approx(108)
    assert calc.results["stakes"] == 31
    takeoff = {line.price: line.amount.m for line in calc.takeoff if line.kind == "material"}
    assert takeoff == pytest.approx({"stone": 12, "spoil": 8.6667, "forms": 108}, rel=1e-4)
    assert "fill" not in calc.results
    assert calc.checks == []


def test_hours_follow_the_rates_of_the_crew():
    hours = {line.words: line.amount.m for line in run("base", job()).takeoff if line.kind == "labor"}
    assert hours["Setting forms"] == pytest.approx(108 / 12)
    assert hours["Spreading and compacting the base"] == pytest.approx(8.889 / 2, abs=0.001)


@pytest.mark.parametrize(("thickness", "status"), [("4 in", OK), ("3 in", NOT_OK), ("0 in", NOT_OK)])
def test_a_slab_below_the_ground_needs_four_inches_of_base(thickness, status):
    """IRC R506.2.2: 4 in. of base where the slab is below the ground (from memory)."""
    low = run("base", job(**{"slab.above_grade": "2 in", "base.thickness": thickness}))
    assert low.status == status
    questions = [c.title for c in run("base", job(**{"base.thickness": thickness})).checks]
    assert not any("below the ground" in q for q in questions)


@pytest.mark.parametrize(
    ("above", "status"), [("20 in", OK), ("33 in", OK), ("33.5 in", NEEDS_ENGINEER)]
)
def test_fill_above_the_ground_is_counted_and_limited(above, status):
    """IRC R506.2.1: at most 24 in. of clean sand or gravel (from memory)."""
    calc = run("base", job(**{"slab.above_grade": above}))
    assert calc.status == status
    depth = float(above.split()[0]) - 9
    assert calc.results["fill"].m == pytest.approx(720 * depth / 12 / 27)
    assert calc.results["soil"].m == 0


def test_without_stone_nothing_is_ordered():
    calc = run("base", job(**{"base.thickness": "0 in"}))
    assert "stone_order" not in calc.results
    assert not [line for line in calc.takeoff if line.price == "stone"]


@pytest.mark.worked("excavation_volume", "stone_volume")
def test_the_demo(demo):
    calc = run("base", demo)
    assert calc.results["stone_volume"] == stone_volume(demo)
    assert calc.results["soil"] == excavation_volume(demo)
    assert calc.results["forms"].m == pytest.approx(151)
