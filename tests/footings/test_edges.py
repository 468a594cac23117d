"""Thickened edges: pressure, width, depth, and the edges of a job."""

import pytest

from calcbook.basis.units import Q
from calcbook.book.chapters import run
from calcbook.footings.eccentric import edge_offset
from calcbook.footings.edges import (
    depth_below_ground,
    edge_bearing,
    strip_reach,
    strip_width,
)
from calcbook.footings.footing import bearing_pressure
from calcbook.job.file import Job

WALL = {"name": "wall", "side": 1, "inset": "3.25 in", "dead": "900 plf", "roof": "600 plf"}


def job(**sections):
    raw = {
        "slab": {"length": "30 ft", "width": "24 ft", "thickness": "5 in"},
        "edge": {"depth": "13 in", "width": "12 in"},
    }
    return Job({**raw, "soil": {"kind": "sand", "frost_depth": "12 in"}, "walls": [WALL], **sections})


def checks(job):
    return {c.title: c for c in run("edges", job).checks}


@pytest.mark.published("McCormac", "Example 12.10")
def test_width_of_the_mccormac_footing():
    """McCormac Example 12.10: 18 kip/ft over 3,410 psf is 5.28 ft."""
    assert strip_width("18000 plf", "3410 psf").m_as("foot") == pytest.approx(5.28, abs=0.005)


@pytest.mark.worked("bearing_pressure", "edge_bearing")
def test_pressure_is_that_of_a_pad_one_foot_long():
    found = edge_bearing("1500 plf", "18 in", "13 in", q_over="62.5 psf", q_soil="20 psf")
    same = bearing_pressure("1500 lbf", "1.5 ft2", "13 in", q_over="62.5 psf", q_soil="20 psf")
    assert found.m_as("psf") == pytest.approx(same.m_as("psf")) == pytest.approx(1000 + 162.5 + 42.5)


@pytest.mark.worked("depth_below_ground", "edge_offset", "strip_reach")
def test_depths_and_reaches_by_hand():
    assert depth_below_ground("5 in", "13 in", "6 in").magnitude == pytest.approx(12)
    assert depth_below_ground("4 in", "0 in", "6 in").magnitude == 0
    assert strip_reach("18 in", "5.5 in").magnitude == pytest.approx(6.25)
    assert strip_reach("4 in", "5.5 in").magnitude == 0
    assert edge_offset("12 in", "5.5 in").magnitude == pytest.approx(3.25)
    assert edge_offset("12 in", "5.5 in", "4 in").magnitude == pytest.approx(0.75)


def test_soil_that_does_not_carry_the_strip_alone_is_not_ok():
    """Found by fuzz.py: strip and slab alone press 150 x 13/12 + 62.5 = 225 psf on the soil."""
    calc = run("edges", job(soil={"bearing": "200 psf"}))
    assert (
        checks(job(soil={"bearing": "200 psf"}))["Bearing pressure under wall wall"].status == "NOT OK"
    )
    assert any("no width would do" in getattr(block, "words", "") for block in calc.blocks)
    assert "width wall" not in calc.results


def test_a_sound_edge_passes():
    calc = run("edges", job())
    assert calc.status == "OK" and len(calc.checks) == 8
    assert calc.results["depth"].m_as("inch") == pytest.approx(12)
    net = 2000 - 150 * 13 / 12 - 62.5
    assert calc.results["width wall"].m_as("inch") == pytest.approx(1500 / net * 12)
    assert checks(job())[
        "Bearing pressure under the toe of the edge, wall wall"
    ].ratio == pytest.approx((1500 + 225) / 2000)


def test_frost_and_soil_are_asked_for_never_guessed():
    found = checks(job(soil={"kind": "sand"}))
    assert found["Depth of the edge against frost"].status == "NEEDS ENGINEER"
    found = checks(job(soil={"frost_depth": "12 in"}))
    assert found["Allowable bearing pressure of the soil"].status == "NEEDS ENGINEER"
    found = checks(job(walls=[{"name": "wall", "side": 1}]))
    assert found["Load of wall wall"].status == "NEEDS ENGINEER"


def test_a_shallow_edge_fails():
    found = checks(
        job(edge={"depth": "8 in", "width": "12 in"}, soil={"kind": "sand", "frost_depth": "36 in"})
    )
    assert found["Depth of the edge below the ground"].status == "NOT OK"
    assert found["Depth of the edge against frost"].status == "NEEDS ENGINEER"
    narrow = checks(job(edge={"depth": "13 in", "width": "8 in"}))
    assert narrow["Width of the edge"].status == "NOT OK"
    heavy = checks(job(walls=[WALL | {"dead": "2500 plf", "roof": "0 plf"}]))
    assert heavy["Bearing pressure under wall wall"].status == "NOT OK"


def test_a_remedy_is_said_only_where_something_fails():
    assert {c.to_do for c in checks(job()).values()} == {""}
    weak = checks(
        job(
            edge={"depth": "12 in", "width": "10 in"},
            soil={"kind": "sand", "frost_depth": "36 in"},
            walls=[WALL | {"dead": "6000 plf"}],
        )
    )
    failed = {q for q, c in weak.items() if c.status != "OK"}
    assert failed == {q for q, c in weak.items() if c.to_do} and len(failed) >= 4
    wide = job(edge={"depth": "6 in", "width": "36 in"}, walls=[WALL | {"dead": "40000 plf"}])
    broken = {q: c for q, c in checks(wide).items() if "bending" in q or "shear" in q}
    assert {c.status for c in broken.values()} == {"NOT OK"}
    assert {c.to_do for c in broken.values()} == {"Deepen the edge or strip."}


def test_an_interior_strip_enters_the_plan_and_is_checked():
    strip = {"name": "ridge wall", "place": "interior", "dead": "1400 plf", "live": "600 plf", "x1": "10 ft", "y1": "4 ft",
             "x2": "10 ft", "y2": "20 ft", "strip_width": "18 in", "strip_depth": "8 in"}  # fmt: skip
    made = job(walls=[strip])
    (thickening,) = made.plan.thickenings
    assert thickening.kind == "strip" and thickening.bottom.area == pytest.approx(16 * 1.5)
    found = checks(made)
    assert found["Bearing pressure under wall ridge wall"].ratio == pytest.approx(
        (2000 / 1.5 + 100 + 62.5) / 2000
    )
    assert found["Bending moment of the strip, wall ridge wall"].status == "OK"


def test_a_strip_half_given_is_refused_in_words():
    inside = {"name": "w", "place": "interior"}
    with pytest.raises(
        ValueError, match="a strip needs x1, y1, x2, y2, strip_width and strip_depth, all six"
    ):
        _ = job(walls=[inside | {"strip_width": "12 in"}]).plan
    with pytest.raises(ValueError, match="its two ends are x1, y1, x2 and y2; give all four"):
        _ = job(walls=[inside | {"x1": "1 ft"}]).plan
    slanting = {
        **inside,
        "x1": "1 ft",
        "y1": "1 ft",
        "x2": "5 ft",
        "y2": "6 ft",
        "strip_width": "12 in",
        "strip_depth": "8 in",
    }
    with pytest.raises(ValueError, match="a wall inside runs along x or along y"):
        _ = job(walls=[slanting]).plan


def test_a_slab_without_an_edge_says_so():
    calc = run("edges", job(edge={"depth": "0 in"}))
    assert calc.checks == [] and any("no thickened edge" in b.words for b in calc.blocks)


def test_metric_and_us_jobs_agree():
    us = {q: c.ratio for q, c in checks(job()).items()}
    si = {
        q: c.ratio
        for q, c in checks(
            job(job={"units": "si"}, edge={"depth": "330.2 mm", "width": "304.8 mm"},
                slab={"length": "30 ft", "width": "24 ft", "thickness": "5 in", "above_grade": "6 in"},
                concrete={"strength": "3000 psi"})
        ).items()
    }  # fmt: skip
    # the code's least lengths in whole inches are 25 mm to the inch in a metric job: 300 mm for 12 in.
    for question in ("Depth of the edge below the ground", "Width of the edge",
                     "Thickness of the edge"):  # fmt: skip
        assert si.pop(question) == pytest.approx(us.pop(question) * 25 / 25.4)
    assert si == pytest.approx(us)
    assert Q(330.2, "in").magnitude == 330.2


def test_sides_with_an_edge_of_their_own_are_named(demo):
    """Own output, frozen: the demo's side 4 is wide, the others are alike."""
    meanings = [i.meaning for i in run("edges", demo).inputs]
    assert meanings.count("side 4, depth of the edge") == 1
    assert "sides 1, 2, 3, 5 and 6, width of the edge" in meanings
