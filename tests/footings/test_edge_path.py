"""Walls on the edge by the load path: toe, jambs, what holds a wall down. Benchmarks derived by statics."""

import re

import pytest
from shapely import LineString
from structure import POST, SIZE
from structure import job as base

from calcbook.basis.reading import read
from calcbook.book.chapters import run
from calcbook.footings.edge_run import edge_run
from calcbook.footings.held_level import free_slab
from calcbook.footings.uplift import (
    edge_section,
    edge_weight,
    end_lift_moment,
    hold_of_edge,
    lift_moment,
    lifted_length,
    lifted_slab,
    overturning_moment,
    righting_moment,
    sliding_resistance,
    turning_moment,
)
from calcbook.job.wall_lines import wall_line
from calcbook.joints.layout import joints_of

EDGE = {"depth": "13 in", "width": "16 in", "slope": 0.0}
WALL = {"name": "w", "side": 1, "height": "9 ft"}
NO_JOINTS = {"by_hand": True}


def job(wall, **sections):
    return base(**{"edge": EDGE, "walls": [WALL | wall], **sections})


def check(made, words):
    (found,) = (c for c in run("edges", made).checks if words in c.title)
    return found


@pytest.mark.worked("edge_section", "edge_weight", "hold_of_edge", "lifted_slab")
def test_edge_and_slab_by_hand():
    """Derived: 12 x 12 in. weighs 150 plf; 5 in. of slab at 3,000 psi, 3 in. counted, is lifted 2.96 ft."""
    assert edge_weight(edge_section("4 in", "8 in", "12 in")).m_as("plf") == pytest.approx(150)
    assert edge_section("5 in", "13 in", "12 in", 1.0).m_as("in**2") == pytest.approx(216 + 84.5)
    assert lifted_slab("2958 lbf*in", "62.5 psf").m_as("ft") == pytest.approx(2.96, abs=0.005)
    assert lifted_slab("8216 lbf*in", "62.5 psf").m_as("ft") == pytest.approx(4.93, abs=0.005)
    assert hold_of_edge("0 plf", "62.5 psf", "2.96 ft").m_as("plf") == pytest.approx(111)
    assert hold_of_edge("150 plf", "62.5 psf", "0 ft", 0.9).m_as("plf") == pytest.approx(135)


@pytest.mark.worked("lift_moment", "lifted_length", "turning_moment")
def test_one_bolt_s_lift_takes_more_edge_than_the_wall_is_long():
    """Derived: 2,587.5 lb over 0.6 x 150 plf is 28.75 ft; it bends it by P l/8."""
    assert lifted_length("2587.5 lbf", "90 plf").m_as("ft") == pytest.approx(28.75)
    assert lift_moment("1000 lbf", "8 ft").m_as("lbf*in") == pytest.approx(12000)
    assert turning_moment("2000 lbf", "3 in").m_as("lbf*in") == pytest.approx(6000)


@pytest.mark.worked("sliding_resistance")
def test_sliding_of_one_wall_alone():
    """Derived: 0.25 x 0.6 x (1,200 + 900) lb is 315 lb against 1,800 lb."""
    assert sliding_resistance(0.25, "2100 lbf").m_as("lbf") == pytest.approx(315)


@pytest.mark.parametrize(("inset", "toe"), [("2.25 in", 3200), ("3.25 in", 2625)])
def test_an_edge_toe_over_the_soil_s_limit_is_not_ok(inset, toe):
    """Derived: 2,000 plf on 16 in., 3 and 2 in. off the middle; the slab cannot hold it level either."""
    made = job({"dead": "2000 plf", "inset": inset})
    (step,) = (s for s in run("edges", made).steps if s.words.startswith("If the edge were free"))
    assert step.value.m_as("psf") == pytest.approx(toe)
    assert check(made, "slab that holds the edge level").status == "NOT OK"


@pytest.mark.parametrize(("system", "step"), [("us", "0.5 in"), ("si", "10 mm")])
def test_the_thickness_that_is_named_for_a_slab_that_holds_its_edge_does_it_and_a_step_less_does_not(
    system, step
):
    def held(**slab):
        sides = {"length": "30 ft", "width": "24 ft"} | slab
        made = job({"dead": "2000 plf", "inset": "3.25 in"}, slab=sides, job={"units": system})
        return check(made, "slab that holds the edge level")

    to_do = held(thickness="4 in").to_do
    named = read(re.search(r"Thicken the slab to ([\d.]+ (in|mm))", to_do)[1], "in")
    assert held(thickness=named).status == "OK"
    assert held(thickness=named - read(step, "in")).status == "NOT OK"


def test_a_joint_along_the_edge_ends_the_slab_that_holds_it_level():
    """Own arithmetic: 1,000 plf factored by 1.4 and 2 in. off the middle turns the edge by 2,800 lbf in.; at 0.9 of 62.5 psf it
    takes 2.88 ft of slab, and a joint 3 ft from the outline leaves 1 ft 8 in. beside the edge of 16 in."""
    wall, soil = {"dead": "1000 plf", "inset": "3.25 in"}, {"bearing": "1300 psf"}
    title = "Slab without a joint beside the edge"
    near, far = (
        check(job(wall, soil=soil, joints={"by_hand": True, "lines": [{"y": y}]}), title)
        for y in ("3 ft", "8 ft")
    )
    assert (near.status, far.status) == ("NOT OK", "OK")
    assert near.values[0].m_as("ft") == pytest.approx(2.88, abs=0.005)
    assert near.values[1].m_as("ft") == pytest.approx(3 - 16 / 12)


def test_only_a_joint_in_the_slab_beside_a_wall_ends_it():
    """Own plan: an L whose wall on side 3 stands before 18 ft of slab. A joint 8 in. behind its line, round the inner corner, parts
    nothing of it; half of the 18 ft counts, less 16 in. of edge. A joint 6 ft before it ends the slab there."""
    shape = [
        [f"{x} ft", f"{y} ft"] for x, y in ((0, 0), (40, 0), (40, 18), (28, 18), (28, 28), (0, 28))
    ]
    made = job({"dead": "500 plf", "side": 3}, slab={"points": shape, "thickness": "5 in"})
    behind, before = LineString([(0, 18.67), (28, 18.67)]), LineString([(0, 12), (40, 12)])
    wall = made.walls[0]
    assert free_slab(made, wall, [behind]) == pytest.approx(18 / 2 - 16 / 12)
    assert free_slab(made, wall, [behind, before]) == pytest.approx(6 - 16 / 12)


def test_a_wall_near_the_middle_needs_no_hold_of_the_slab():
    found = check(job({"dead": "1500 plf", "inset": "5.25 in"}), "toe of the edge")
    assert found.status == "OK" and found.ratio == pytest.approx((1500 / 16 * 12 + 225) / 2000)


def test_a_jamb_presses_by_half_its_header():
    """860 plf over 16 ft: 6,880 lb spread over 2 x 18 + 3 in. of a 16 in. edge, with the line beside it."""
    door = [{"start": "4 ft", "width": "16 ft"}]
    wall = {"dead": "860 plf", "inset": "5.25 in", "openings": door}
    found = check(job(wall, joints=NO_JOINTS), "jamb that presses most")
    assert found.status == "NOT OK"
    assert found.ratio == pytest.approx((6880 / (39 * 16) * 144 + 860 * 12 / 16 + 225) / 2000)
    crossed = check(job(wall), "jamb that presses most")  # a joint right at the jamb: to one side only
    assert crossed.ratio == pytest.approx((6880 / (21 * 16) * 144 + 860 * 12 / 16 + 225) / 2000)


def test_3000_plf_on_one_wall_fail_the_edge_and_a_wider_door_raises_its_jamb():
    wall = {"dead": "200 plf", "uplift": "3000 plf"}
    assert check(job(wall), "Uplift on edge and slab").status == "NOT OK"
    doors = ([{"start": "8 ft", "width": w}] for w in ("9 ft", "16 ft"))
    nine, sixteen = (
        check(job({"dead": "100 plf", "uplift": "120 plf", "openings": door}), "Length of edge beside")
        for door in doors
    )
    assert sixteen.ratio > nine.ratio


def test_no_slab_is_lifted_across_a_joint():
    wall = {"dead": "100 plf", "uplift": "150 plf"}
    free, cut = (
        check(job(wall, joints={"spacing": s}), "Uplift on edge and slab") for s in ("10 ft", "4 ft")
    )
    assert cut.ratio > free.ratio


def test_what_lifts_and_what_holds_close():
    calc = run("edges", job({"dead": "100 plf", "uplift": "100 plf"}))
    (table,) = (
        b.frame
        for b in calc.blocks
        if getattr(b, "title", "") == "What lifts each wall and what holds it"
    )
    assert set(table["Remainder"]) == {"0 lbf"}


CODE_S = ("Depth of the edge below the ground", "Width of the edge", "Thickness of the edge")


def test_metric_and_us_jobs_agree():
    """All but the code's least lengths, which a metric job has at 25 mm to the inch: 300 mm for 12 in."""
    wall = {
        "dead": "400 plf",
        "roof": "200 plf",
        "uplift": "150 plf",
        "openings": [{"start": "6 ft", "width": "9 ft"}],
    }
    slab = {"length": "30 ft", "width": "24 ft", "thickness": "5 in", "above_grade": "6 in"}
    us, si = (run("edges", job(wall, slab=slab, job={"units": u})).checks for u in ("us", "si"))
    assert len(us) == len(si)
    for a, b in zip(us, si, strict=True):
        by_the_code = any(words in a.title for words in CODE_S)
        ratio = (a.ratio or 0) * (25 / 25.4 if by_the_code else 1)
        assert (b.ratio or 0) == pytest.approx(ratio, rel=2e-3), a.title


def test_paper_says_that_pads_are_not_counted_against_uplift():
    said = "pads under or beside the wall are not counted"
    lifted, question = {"uplift": "300 plf", "dead": "50 plf"}, "Uplift on edge and slab"
    for pads, told in (([], False), ([POST | SIZE], True)):
        made = job(lifted, pads=pads)
        titles = (getattr(b, "title", "") for b in run("edges", made).blocks)
        (title,) = (t for t in titles if "what holds it" in t)
        assert (said in check(made, question).remark, said in title) == (told, told)
    bare, beside = (check(job(lifted, pads=p), question) for p in ([], [POST | SIZE]))
    assert bare.ratio == beside.ratio


BRACED = {
    "dead": "0 plf",
    "uplift": "0 plf",
    "braced": [{"start": "0 ft", "length": "8 ft", "hold_down": "9000 lbf"}],
}


@pytest.mark.worked("overturning_moment", "righting_moment", "end_lift_moment")
def test_a_wall_and_its_edge_turn_over_about_their_lee_end():
    """Derived: 100 plf on 30 ft, 9 ft high, turn by 27,000 lbf ft; 200 plf left over hold 200 x 30 x 15 = 90,000."""
    assert overturning_moment("100 plf", "30 ft", "9 ft").m_as("lbf*ft") == pytest.approx(27000)
    assert righting_moment("200 plf", "30 ft").m_as("lbf*ft") == pytest.approx(90000)
    # at a very end M = P^2/(2 w), a simple beam of length 2 P/w under its weight w: w (2 P/w)^2/8
    assert end_lift_moment("1000 lbf", "8 ft").m_as("lbf*ft") == pytest.approx(125 * 16**2 / 8)


def test_hold_downs_are_weighed_against_their_edge():
    """Derived: 100 plf on 30 ft of wall, 9 ft high: 324,000 lbf in.; tenfold is more than edge and slab hold."""
    weighed = "Overturning moment of wall and edge"
    light, heavy = (job(BRACED | {"shear": v}) for v in ("100 plf", "1000 plf"))
    demand, capacity = (x.m_as("lbf*in") for x in check(light, weighed).values)
    assert demand == pytest.approx(324000) and check(light, weighed).status == "OK"
    assert check(heavy, weighed).status == "NOT OK"
    assert check(heavy, weighed).ratio == pytest.approx(10 * demand / capacity)
    assert not any("hold-downs" in c.title for c in run("edges", job({"uplift": "0 plf"})).checks)


def test_a_hold_down_without_an_anchor_is_asked_about_with_its_number():
    further = "Anchors of the hold-downs"
    asked = check(job(BRACED | {"shear": "100 plf"}), further)
    assert asked.status == "NEEDS ENGINEER" and "3,375 lb" in asked.remark
    bare = base(edge={"depth": "0 in"}, walls=[WALL | BRACED | {"shear": "100 plf"}])
    assert "no thickened edge" in check(bare, further).remark
    anchored = [BRACED["braced"][0] | {"anchor": "5/8"}]
    named = job(BRACED | {"shear": "100 plf", "braced": anchored})
    assert not any(further in c.title for c in run("edges", named).checks)


def test_the_edge_bends_under_a_hold_down():
    """Derived: 3,375 lb beyond its line at service, /0.6 at strength level, over the weight w left: M = P_u P/(8 w)."""
    made = job(BRACED | {"shear": "100 plf"}, joints=NO_JOINTS)
    steps = {s.formula.name: s.value for s in run("edges", made).steps if hasattr(s, "formula")}
    w = 3375 / steps["lifted_length"].m_as("ft")
    expected = 5625 * 3375 / (8 * w) * 12
    found = check(made, "at the governing hold-down")
    assert found.values[0].m_as("lbf*in") == pytest.approx(expected)
    ends = [{"side": 4, "depth": "0 in"}]
    alone = job(BRACED | {"shear": "100 plf"}, edges=ends, joints=NO_JOINTS)
    assert check(alone, "at the governing hold-down").ratio == pytest.approx(4 * found.ratio)


@pytest.mark.worked("end_lift_moment")
def test_a_lift_near_the_end_of_an_edge():
    """Derived: of 1,000 lbf at a corner, one side of 3 ft and 125 plf holds 187.5 at its tip and tips about its far end; the
    other bears 812.5, at its very end P^2/(2 w) = 2,640.6 lbf ft. With 8 ft on both sides each takes half: P l_e/8."""
    assert end_lift_moment("1000 lbf", "8 ft", "3 ft").m_as("lbf*ft") == pytest.approx(812.5**2 / 250)
    both = end_lift_moment("1000 lbf", "8 ft", "8 ft")
    assert both.m_as("lbf*ft") == pytest.approx(lift_moment("1000 lbf", "8 ft").m_as("lbf*ft"))


def test_a_joint_ends_a_plain_edge_beside_a_hold_down():
    """A hold-down at 8 ft, a joint 1 ft beside it: by half of P/w and the distance as above; and twice P/w in one piece, round two corners."""
    line = NO_JOINTS | {"lines": [{"x": "9 ft"}]}
    made = job(BRACED | {"shear": "100 plf"}, joints=line)
    steps = {s.formula.name: s.value for s in run("edges", made).steps if hasattr(s, "formula")}
    l_e = steps["lifted_length"].m_as("ft")
    M_u = 5625 * l_e / 2 * (1 - 1 / (2 * l_e)) ** 2
    assert check(made, "at the governing hold-down").values[0].m_as("lbf*ft") == pytest.approx(M_u)
    demand, there = (x.m_as("ft") for x in check(made, "Length of edge in one piece").values)
    assert (demand, there) == (pytest.approx(2 * l_e), pytest.approx(9 + 24 + 9))
    barred = job(BRACED | {"shear": "100 plf"}, joints=line, edge=EDGE | {"bars": 2})
    assert check(barred, "at the governing hold-down").status == "OK"
    assert not any("in one piece" in c.title for c in run("edges", barred).checks)


def test_each_piece_of_a_plain_edge_holds_what_lifts_on_it():
    """150 plf, 250 at strength level, and a door from 12 to 26 ft: of the pieces of 10 ft the last has a jamb of 7 ft of header and
    4 ft of wall; it weighs a third of all, at 0.9."""
    wall = {
        "dead": "0 plf",
        "uplift": "150 plf",
        "openings": [{"start": "12 ft", "width": "14 ft"}],
    }
    found = check(job(wall), "piece of edge that lifts most")
    up, R = (x.m_as("lbf") for x in found.values)
    assert "0.9 D" in found.remark and up == pytest.approx(250 * 11)
    assert R == pytest.approx(check(job(wall), "Uplift on edge and slab").values[1].m_as("lbf") / 3)
    barred = job(wall, edge=EDGE | {"bars": 2})
    assert not any("lifts most between" in c.title for c in run("edges", barred).checks)


def test_where_joints_and_bare_sides_end_the_edge():
    """30 x 24 ft, joints at x 10 and y 8; no edge on side 2: from (30, 24) round to (30, 0) less the joints, 3 of them."""
    lines = NO_JOINTS | {"lines": [{"x": "10 ft"}, {"y": "8 ft"}]}
    made = base(edge=EDGE, edges=[{"side": 2, "depth": "0 in"}], walls=[WALL], joints=lines)
    found = edge_run(made, joints_of(made))
    assert sorted(length for _, length in found.pieces) == pytest.approx([18, 20, 20, 26])
    assert found.joints_along(wall_line(made.slab, made.walls[0])) == pytest.approx([10])
    at = found.piece_at(found.place(wall_line(made.slab, made.walls[0]), 12))
    assert (at.near, at.length) == pytest.approx((2, 20))
    beam = found.piece_at(found.place(wall_line(made.slab, made.walls[0]), 12), beam=True)
    assert (beam.near, beam.length) == pytest.approx((18, 84))
    corner = found.piece_at(found.place(wall_line(made.slab, made.walls[0]), 0))
    assert (corner.near, corner.length) == pytest.approx((8, 18))


def test_the_soil_takes_the_thrust_of_a_shear_wall():
    """Derived: 3,375 lb over 3 + 18 in. at the corner of a 16 in. edge, with 225 psf of concrete."""
    found = check(job(BRACED | {"shear": "100 plf"}), "under the ends of its shear wall")
    assert found.values[0].m_as("psf") == pytest.approx(3375 / (21 * 16 / 144) + 225)


@pytest.mark.parametrize(
    "question",
    ["Overturning moment of wall", "at the governing hold-down", "under the ends of its shear wall"],
)
def test_more_shear_never_helps_the_ground(question):
    ratios = [check(job(BRACED | {"shear": f"{v} plf"}), question).ratio for v in (50, 100, 200, 400)]
    assert ratios == sorted(ratios) and ratios[0] < ratios[-1]
