"""Bolts beside joints, boxes of posts and openings: kept off them, or counted with a free edge there."""

from dataclasses import replace
from math import sqrt

import pytest
from bolt_jobs import bolted, check, notes, one_wall, tape_lists
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Point, box

from calcbook.basis.units import Q
from calcbook.bolts.bolted import Row, place_of_row
from calcbook.bolts.breaks import AT_LEAST, JOINT, Breaks, around, beside, breaks_of, stretches
from calcbook.bolts.parted import beside_words, place_of_one, with_own
from calcbook.book.chapters import Book
from calcbook.job.schema.sections import Slab
from calcbook.job.schema.walls import Wall
from calcbook.job.wall_lines import wall_line

LINE = wall_line(Slab(length="30 ft", width="20 ft"), Wall(name="w", side=1, start="1 ft", end="21 ft"))
CORNER = Q(9.375, "in")


def parted(*lines):
    return Breaks(tuple(lines), (JOINT,) * len(lines))


def test_what_stands_beside_a_bolt():
    """Own arithmetic: the wall starts at x = 1 ft; bolts 2 ft and 9 ft along it, 3 in. from the edge at y = 0."""
    across, along = LineString([(8, 0), (8, 20)]), LineString([(0, 1), (4, 1)])
    near = beside(parted(across, along), LINE, [2, 9], 0.25)
    assert near.after[0] == pytest.approx(5) and near.before[1] == pytest.approx(2)
    assert near.inside[0] == pytest.approx(0.75) and near.before[0] == near.outside[0] == float("inf")
    assert near.cuts == pytest.approx([7]) and near.parts(2, 9) and not near.parts(2, 6)
    assert near.nearest(0) == pytest.approx(0.75)
    on = beside(parted(across), LINE, [7], 0.25)
    assert on.before == on.after == [AT_LEAST]
    slanted = beside(parted(LineString([(8, 0), (13, 20)])), LINE, [6], 0.25)
    assert slanted.after[0] == pytest.approx((1 + 0.25 / 4) / sqrt(1 + 1 / 16))
    sides, what = around(parted(across), box(5, 4, 6, 5))
    assert sides == [float("inf"), pytest.approx(2), float("inf"), float("inf")] and what == JOINT


def test_a_box_that_the_outline_cuts_ends_at_it(demo):
    """Of the box about the ridge beam's post only what lies in the slab parts it; openings and cuts part it too."""
    found = breaks_of(demo, Book(demo).joint_plan.layout)
    assert {*found.names} == {JOINT, "the box of a post", "an opening"}
    assert all(demo.plan.outline.buffer(1e-6).covers(line) for line in found.lines)
    assert not any(line.buffer(1e-4).covers(Point(0, 14)) for line in found.lines)


def test_stretches_are_kept_on_both_sides_of_a_joint():
    """7 ft along the wall, 9 in. to both sides; a joint that runs beside the whole wall keeps no bolt off."""
    cut = LineString([(8, 0), (8, 20)])
    assert list(stretches(parted(LineString([(0, 0.5), (30, 0.5)])), LINE, 0.25, [0.75])) == [[]]
    assert list(stretches(parted(cut), LINE, 0.25, [0.75, 0.25])) == [
        [(pytest.approx(7 - far), pytest.approx(7 + far), JOINT)] for far in (0.75, 0.25)
    ]
    assert not list(stretches(parted(LineString([(25, 0), (25, 20)])), LINE, 0.25, [0.75]))


def test_the_demo_s_bolts_keep_off_its_joints(demo):
    """At even spacing one of the east wall would stand on the joint 9 ft from its corner."""
    calc = Book(demo).bolts.calculation
    found = check(calc, "Distance of the sill bolts from joints")
    assert (
        found.status == "OK" and found.values[1].m_as("in") >= 9.375 and "holds as much" in found.remark
    )
    told = [why for t in tape_lists(calc).values() for why in t["Why it stands there"]]
    assert any("is too near a sawn joint: moved" in why for why in told)
    assert "counts as a free edge, in the whole depth" in notes(calc)


def test_a_bolt_beside_a_joint_holds_what_is_left_of_its_cone(demo):
    """ACI 318-19 17.6.2 as read in the metric reprint; own arithmetic. 4 in. to a joint, 2-3/4 in. to the edge, 7 in. deep:
    A_Nc = 13.25 x 14.5 of 441 in.2; along the wall it is no longer exempt (15 diameters, IBC 1905.1.8)."""
    w = bolted(16 * 60, 16 * 180)
    w = replace(w, breaks=parted(LineString([(6 + 4 / 12, 0), (6 + 4 / 12, 20)])))
    (done,) = with_own(demo, [w], CORNER)
    assert list(done.own) == [0]
    cone = 24 * sqrt(4000) * 7**1.5 * (13.25 * 14.5 / 441) * (0.7 + 0.3 * 2.75 / 10.5)
    assert done.own[0].uplift["breakout"].m_as("lbf") == pytest.approx(0.42 * cone, rel=1e-6)
    assert beside_words(demo, done, 0) == '; a sawn joint 4" away counts as an edge'
    assert not done.own[0].exempt and "breakout at a sawn joint" in done.own[0].along
    assert place_of_one(demo, w, 0).c_3.m_as("in") == pytest.approx(4)


def test_no_row_goes_on_over_a_joint(demo):
    """Bolts 20, 36 and 46 in. along the wall, a joint 40 in. along it: two in a row before it, one alone behind."""
    w = bolted(320, 576, 736)
    assert [(r.start, r.end) for r in w.rows(Q(21, "in"))] == [(0, 3)]
    cut = replace(w, breaks=parted(LineString([(1 + 40 / 12, 0), (1 + 40 / 12, 20)])))
    (row,) = cut.rows(Q(21, "in"))
    assert (row.start, row.end) == (0, 2)
    assert place_of_row(demo, row).c_4.m_as("in") == pytest.approx(4)
    poked = replace(w, breaks=parted(LineString([(1 + 38 / 12, 8 / 12), (1 + 38 / 12, 2)])))
    (whole,) = poked.rows(Q(21, "in"))  # it ends before it reaches the bolts
    at = place_of_row(demo, whole)
    assert whole.count == 3 and at.c_2.m_as("in") == pytest.approx(sqrt(2**2 + 5.25**2))


@given(near=st.floats(0.2, 14), nearer=st.floats(0.05, 1))
def test_a_nearer_joint_never_leaves_more_concrete(near, nearer):
    """A law, no number of its own: of each distance to the concrete's end none grows as a joint comes nearer."""
    bolt = bolted(16 * 120)
    far_at, near_at = (
        Row(replace(bolt, breaks=parted(LineString([(11 + d, 0), (11 + d, 20)]))), 0, 1).span
        for d in (near, near * nearer)
    )
    assert all(a >= b - 1e-9 for a, b in zip(far_at, near_at, strict=True))


def test_a_joint_at_a_bolt_that_cannot_move_is_not_ok(demo):
    """Beside the door the plate ends: between its last stud and the joint there is no other place for the bolt."""
    calc = Book(demo.changed({"joints.lines": [{"x": "15.1 ft"}]})).bolts.calculation
    found = check(calc, "Distance of the sill bolts from joints")
    assert found.status == "NOT OK" and "Move the joint (joints.lines)" in found.to_do
    assert "away counts as an edge" in check(calc, "Uplift on the governing bolt").remark


def test_close_bolts_stand_near_a_joint_and_hold_less(demo):
    """Where every 10 in. asks for a bolt none can keep off: each joint takes some strength, never adds any."""
    wall = {"side": 2, "end": "18 ft", "stud_spacing": "24 in", "uplift": "2400 plf"}
    free, cut = (
        one_wall(demo, wall, joints={"by_hand": True, "lines": lines})
        for lines in ([], [{"y": "8 ft"}])
    )
    assert "takes some of their strength" in check(cut, "Distance of the sill bolts from joints").remark
    assert check(cut, "Uplift on").ratio >= check(free, "Uplift on").ratio - 1e-9


def test_the_cone_of_a_hold_down_ends_at_a_joint(demo):
    """Derived: 2 in. beyond the anchor of the door's shear wall, 14 ft 4 in. along it, a joint; cut by it, the cone holds less."""
    plain, cut = (
        check(
            Book(demo.changed(BRACED | lines)).bolts.calculation, "Tension of the anchors of hold-downs"
        )
        for lines in ({}, {"joints.lines": [{"x": "14.5 ft"}]})
    )
    assert "away counts as an edge" in cut.remark and "counts as an edge" not in plain.remark
    assert cut.values[1] < plain.values[1]


BRACED = {
    "walls.0.braced": [
        {"start": "0 ft", "length": "14 ft 8 in", "hold_down": "9000 lbf", "anchor": "5/8", "anchor_depth": "10 in"}
    ]
}  # fmt: skip
