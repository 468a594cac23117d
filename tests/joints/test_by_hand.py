"""Joints that the builder fixes, forbids or moves: the layout keeps to it, and says what it costs."""

import pytest
from shapely import Polygon, box

from calcbook.basis.calculation import Table
from calcbook.book.chapters import run
from calcbook.job.file import Job, JobError
from calcbook.joints.dividing import joint_layout
from calcbook.joints.panel_lines import ByHand
from calcbook.joints.snapping import whole_lines

SLAB = box(0, 0, 40, 20)  # by itself: three lines up at 10, 20 and 30 ft, one across at 10 ft


def lines(layout):
    """Places of the cuts: (along x, along y)."""
    upright = {round(c.coords[0][0], 3) for c in layout.cuts if c.coords[0][0] == c.coords[-1][0]}
    across = {round(c.coords[0][1], 3) for c in layout.cuts if c.coords[0][1] == c.coords[-1][1]}
    return sorted(upright), sorted(across)


def test_a_fixed_line_is_cut_and_the_rest_fits_in_around_it():
    found = joint_layout(SLAB, "12 ft", by_hand=ByHand(fixed=((13.0,), ())))
    upright, _ = lines(found)
    assert 13.0 in upright
    assert not found.problems
    assert found.longest.m <= 12


def test_a_moved_line_stands_where_it_was_moved_to():
    before, after = (
        lines(joint_layout(SLAB, "12 ft", by_hand=b))
        for b in (ByHand(), ByHand(moved=((0, 21.0, 22.0),)))
    )
    assert before[0] == [10, 20, 30]
    assert after == ([10, 22, 30], before[1])


def test_a_forbidden_line_is_left_out_and_the_page_says_what_it_breaks_and_what_would_mend_it():
    found = joint_layout(SLAB, "12 ft", by_hand=ByHand(barred=((0, 20.0, 1.0),)))
    assert lines(found)[0] == [10, 30]
    large = [p for p in found.problems if "larger than the spacing" in p]
    assert len(large) == 2
    assert all("cut across at x 20'-0\"" in p for p in large)
    assert sorted(p.bounds for p in found.broken) == [(10, 0, 30, 10), (10, 10, 30, 20)]


def test_a_narrow_end_panel_is_cut_across_where_the_builder_does_not_forbid_it():
    """A line moved from 30 to 36 ft leaves 10 ft beside it and 4 ft at the end, 10 ft long: cut into 2 of 4 x 5 ft, the 2 beside
    them as they were."""
    by_hand = {"fixed": ((26.0, 36.0), ()), "barred": ((0, 30.0, 3.0),)}
    found = joint_layout(SLAB, "12 ft", by_hand=ByHand(**by_hand))
    end = sorted(p.bounds for p in found.panels if p.bounds[2] == 40)
    assert end == [(36, 0, 40, 5), (36, 5, 40, 10), (36, 10, 40, 15), (36, 15, 40, 20)]
    assert not found.problems and not found.broken
    assert (26, 0, 36, 10) in {p.bounds for p in found.panels}
    forbidden = joint_layout(
        SLAB, "12 ft", by_hand=ByHand(**by_hand | {"barred": ((0, 30.0, 3.0), (1, 5.0, 0.5))})
    )
    (told,) = forbidden.problems
    assert "longer than 1.5 to 1; cut across at y 5'-0\"" in told
    assert sorted(p.bounds for p in forbidden.broken) == [(36, 0, 40, 10)]


def test_only_lines_by_hand():
    found = joint_layout(SLAB, "12 ft", by_hand=ByHand(fixed=((20.0,), ()), only=True))
    assert lines(found) == ([20], [])
    assert len(found.broken) == 2


@pytest.mark.parametrize(("tip", "lines"), [(0.04, 1), (0.5, 2)])
def test_a_box_that_a_line_only_grazes_leaves_no_gap_in_what_is_snapped(tip, lines):
    """A box turned on its corner whose tip reaches so far over the line at x 20 ft: a gap of twice that."""
    post = Polygon([(20 - tip, 10), (21 - tip, 9), (22 - tip, 10), (21 - tip, 11)])
    found = joint_layout(SLAB, "22 ft", posts=[post], by_hand=ByHand(fixed=((20.0,), ()), only=True))
    whole = whole_lines(found)
    assert len(whole) == lines
    assert sum(one.length for one in whole) == pytest.approx(20 if lines == 1 else 20 - 2 * tip)
    assert sum(c.length for c in found.cuts) == pytest.approx(20 - 2 * tip)


def test_nothing_by_hand_is_the_layout_as_before():
    assert joint_layout(SLAB, "12 ft", by_hand=ByHand()).cuts == joint_layout(SLAB, "12 ft").cuts


def job(entries, **joints):
    return Job(
        {
            "slab": {"length": "40 ft", "width": "20 ft"},
            "joints": {"spacing": "10 ft", "lines": entries, **joints},
        }
    )


def test_a_job_says_its_lines_and_gets_them_by_running_distance():
    found = run("joints", job([{"kind": "move", "x": "20 ft", "to": "21 ft"}, {"y": "9 ft"}]))
    table = next(b.frame for b in found.blocks if isinstance(b, Table))
    rows = [tuple(row) for row in table.itertuples(index=False)]
    assert ("up, from the left side", "21'-0\"", '0"', "20'-0\"") in rows
    assert any(row[:2] == ("across, from the lower side", "9'-0\"") for row in rows)
    assert found.status == "NOT OK"  # 11 ft are left between 10 and 21
    assert found.figures[0].draw()


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        ({"x": "3 ft", "y": "4 ft"}, "give one of the three"),
        ({}, "give one of the three"),
        ({"kind": "move", "x": "3 ft"}, "give both or neither"),
        ({"x": "3 ft", "to": "4 ft"}, "give both or neither"),
        ({"points": [["0 ft", "3 ft"]]}, "give two at least"),
        ({"kind": "none", "points": [["0 ft", "3 ft"], ["9 ft", "3 ft"]]}, "points are for kind"),
    ],
)
def test_a_line_that_says_too_much_or_too_little_is_refused(entry, words):
    with pytest.raises(JobError, match=words):
        job([entry])


@pytest.mark.parametrize(("thickness", "asked"), [("5 in", False), ("8 in", True)])
def test_where_a_wheel_is_counted_on_to_cross_sawn_joints_dowels_are_bought_for_every_line(
    thickness, asked
):
    job = Job({
        "slab": {"length": "24 ft", "width": "16 ft", "thickness": thickness}, "joints": {"spacing": "12 ft"},
        "vehicle": {"axle": "3000 lbf", "transfer": "25 %"},
    })  # fmt: skip
    made = run("joints", job)
    (line,) = [item for item in made.takeoff if item.price == "dowel"]
    # one line of 16 ft and one of 24 ft, a dowel for each foot (by hand)
    assert line.amount == 16 + 24
    assert any("sawn joints" in check.title for check in made.checks) == asked
    without = run("joints", job.changed({"vehicle.transfer": "0 %"}))
    assert not [item for item in without.takeoff if item.price == "dowel"]
