"""Joints of outlines with slanting, round and cut sides: exact pieces, judged by the rectangle around each."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon, affinity, box, union_all

from calcbook.basis.calculation import Table
from calcbook.book.chapters import run
from calcbook.job.file import Job
from calcbook.joints.dividing import joint_layout, main_direction
from calcbook.joints.inner import inner_corners
from calcbook.joints.layout import joints_of
from calcbook.joints.panel_lines import ByHand
from calcbook.joints.rules import Rules, sides

TRAPEZOID = Polygon([(0, 0), (30, 0), (24, 20), (0, 20)])


def arc(x, y, r, start, end, n=24):
    steps = (math.radians(start + (end - start) * k / n) for k in range(n + 1))
    return [(x + r * math.cos(a), y + r * math.sin(a)) for a in steps]


def facts(found):
    """What does not change when a slab is moved, turned or mirrored."""
    return (len(found.panels), len(found.broken), pytest.approx(found.length.m, abs=1e-4),
            pytest.approx(found.worst_aspect, abs=1e-4), pytest.approx(sum(found.areas), abs=1e-4))  # fmt: skip


def check_pieces(outline, found):
    """Panels tile the slab, and each foot of cut has a panel on both sides."""
    assert sum(p.area for p in found.panels) == pytest.approx(outline.area, abs=1e-5)
    assert union_all(found.panels).symmetric_difference(outline).area == pytest.approx(0, abs=1e-4)
    inner = sum(p.length for p in found.panels) - outline.length
    assert found.length.m == pytest.approx(inner / 2, abs=1e-3)
    assert union_all(found.cuts).difference(outline.buffer(1e-5)).length == pytest.approx(0, abs=1e-6)


def test_a_slanting_side_is_met_by_the_lines_of_the_square_sides():
    """30 and 24 by 20 ft at most 12.5 ft apart: lines at 10 and 20 ft, one across at 10 ft, which is 27 ft long
    (own arithmetic: 2 x 20 + 27 = 67 ft)."""
    found = joint_layout(TRAPEZOID, "12.5 ft")
    check_pieces(TRAPEZOID, found)
    assert len(found.panels) == 6 and not found.problems
    assert found.length.m == pytest.approx(67, abs=1e-4)
    assert found.sharpest == pytest.approx(math.degrees(math.atan2(20, 6)), abs=1e-4)  # 73 degrees


def test_a_circle_is_cut_into_nine():
    """Lines at 10 and 20 ft of 30: each a chord 5 ft off the middle, 2 sqrt(15^2 - 5^2) ft (own arithmetic)."""
    round_one = Polygon(arc(15, 15, 15, 0, 360, 96)[:-1])
    found = joint_layout(round_one, "12.5 ft")
    check_pieces(round_one, found)
    assert len(found.panels) == 9 and found.angle == 0
    assert found.length.m == pytest.approx(8 * math.sqrt(200), rel=1e-3)


def test_joints_follow_the_main_sides_of_a_turned_slab():
    """Own arithmetic: as upright, 50 + 4 x 20 = 130 ft, at the angle by which it was turned."""
    turned = affinity.rotate(box(0, 0, 50, 20), 30, origin=(0, 0))
    found = joint_layout(turned, "12 ft")
    assert found.angle == pytest.approx(30)
    assert len(found.panels) == 10 and found.length.m == pytest.approx(130, abs=1e-3)
    assert main_direction(Polygon(arc(0, 0, 9, 0, 360, 60)[:-1])) == 0


@settings(max_examples=6, deadline=None)
@given(
    st.floats(26, 40),
    st.floats(22, 30),
    st.floats(3, 9),
    st.floats(12, 18),
    st.floats(9, 12),
    st.floats(-80, 80),
)
def test_moving_turning_and_mirroring_change_nothing(length, width, slant, notch, deep, angle):
    """An L with one slanting side."""
    shape = Polygon([(0, 0), (length, 0), (length - slant, width - deep), (notch, width - deep), (notch, width), (0, width)])  # fmt: skip
    found = joint_layout(shape, "12 ft")
    check_pieces(shape, found)
    assert found.open_corners == 0
    for other in (
        affinity.translate(shape, 71.3, -12.7),
        affinity.rotate(shape, angle),
        affinity.scale(shape, -1, 1),
    ):
        assert facts(joint_layout(other, "12 ft")) == facts(found)


def test_an_inner_corner_that_is_rounded_or_cut_is_one_corner_with_a_joint_from_its_middle():
    """Own arithmetic: the middle of the arc lies r / sqrt(2) in x and y from its centre, that of the cut halfway."""
    rounded = Polygon([(0, 0), (40, 0), (40, 18), *arc(33, 23, 5, 270, 180), (28, 28), (0, 28)])
    cut = Polygon([(0, 0), (40, 0), (40, 18), (29, 18), (28, 19), (28, 28), (0, 28)])
    for shape, spot in ((rounded, (33 - 5 / math.sqrt(2), 23 - 5 / math.sqrt(2))), (cut, (28.5, 18.5))):
        (corner,) = inner_corners(shape)
        assert corner.turn == pytest.approx(90)
        assert corner.spots == [pytest.approx(spot, abs=1e-6)]
        found = joint_layout(shape, "12.5 ft")
        check_pieces(shape, found)
        assert found.open_corners == 0 and not found.problems
        bare = joint_layout(shape, "12.5 ft", by_hand=ByHand(fixed=((10.0,), ()), only=True))
        assert bare.open_corners == 1 and any("inner corner in it" in p for p in bare.problems)


def test_a_joint_that_meets_a_side_sharply_is_bent_and_one_by_hand_is_told_where_to_bend():
    """A side at 45 degrees from (12, 0) to (30, 18): the line across at 9 ft would meet it at 45."""
    shape = Polygon([(0, 0), (12, 0), (30, 18), (0, 18)])
    found = joint_layout(shape, "14 ft")
    check_pieces(shape, found)
    assert found.sharpest > 59.5 and any(
        c.coords[0][0] != c.coords[1][0] and c.coords[0][1] != c.coords[1][1] for c in found.cuts
    )
    by_hand = joint_layout(shape, "30 ft", by_hand=ByHand(fixed=((), (9.0,)), only=True))
    (told,) = [p for p in by_hand.problems if "breaks off" in p]
    assert "has a corner of 45° at x 21'-0\", y 9'-0\"" in told
    # 2 ft off the side is 2 sqrt(2) ft back along the joint; its foot 2 / sqrt(2) from there in x and y, by hand
    assert (
        "bend the joint at x 18'-2 1/16\", y 9'-0\", so that it ends squarely at x 19'-7\", y 7'-7\""
        in told
    )


def test_a_panel_is_measured_by_the_smallest_rectangle_around_it():
    """Own arithmetic: the rectangle along the legs of 6 and 8 ft is as large as that along the slope."""
    assert sides(box(2, 3, 6, 9)) == (4, 6)
    assert sides(affinity.rotate(box(0, 0, 4, 9), 30)) == pytest.approx((4, 9))
    assert sides(Polygon([(0, 0), (8, 0), (0, 6)])) == pytest.approx(
        (6, 8)
    )  # not 10 by 4.8, which is as large


def test_an_l_shaped_panel_is_told():
    """Own arithmetic: 10 ft up and 10 ft across."""
    slab = box(0, 0, 20, 20)
    corner = ByHand(paths=(((10.0, 0.0), (10.0, 10.0), (0.0, 10.0)),), only=True)
    found = joint_layout(slab, "30 ft", by_hand=corner)
    check_pieces(slab, found)
    assert len(found.panels) == 2 and found.length.m == pytest.approx(20)
    assert [
        p
        for p in found.problems
        if "is L-shaped; cut it across from its inner corner at x 10'-0\", y 10'-0\"" in p
    ]


def test_a_line_by_hand_from_point_to_point_parts_panels_and_one_that_ends_inside_is_told():
    """Own arithmetic: through the middle of 20 by 10 ft, so half each, and sqrt(4^2 + 10^2) ft long."""
    slab = box(0, 0, 20, 10)
    across = joint_layout(slab, "30 ft", 3.0, by_hand=ByHand(paths=(((8.0, 0.0), (12.0, 10.0)),)))
    check_pieces(slab, across)
    assert [round(p.area) for p in across.panels] == [100, 100]
    assert across.length.m == pytest.approx(math.hypot(4, 10))
    blind = joint_layout(slab, "30 ft", 3.0, by_hand=ByHand(paths=(((8.0, 0.0), (9.0, 5.0)),)))
    assert len(blind.panels) == 1 and any(
        "ends inside a panel and parts nothing" in p for p in blind.problems
    )


def test_an_own_sharp_corner_of_the_outline_is_not_laid_to_the_joints():
    """A triangle with 26.6 degrees at (20, 0); a joint at x 10 ft makes one of 90 and one of atan(2), 63.4 degrees."""
    rules = Rules(30, 3, Polygon([(0, 0), (20, 0), (0, 10)]))
    left, right = (rules.judge(box(x, 0, x + 10, 10) & rules.outline).sharpest for x in (0, 10))
    assert (left, right) == (
        90,
        pytest.approx(math.degrees(math.atan(2))),
    )
    assert rules.judge(rules.outline).sharpest == 180


def test_a_round_pit_is_met_through_its_middle():
    """Own arithmetic: 20 ft less the pit's 4, both ways."""
    pit = Polygon(arc(10, 10, 2, 0, 360, 64)[:-1])
    found = joint_layout(box(0, 0, 20, 20), "21 ft", openings=[pit])
    assert sum(p.area for p in found.panels) == pytest.approx(400 - pit.area, abs=1e-6)
    assert found.length.m == pytest.approx(4 * 8, abs=0.01)
    assert not found.problems


def job(**sections):
    return Job(
        {
            "slab": {
                "points": [["0 ft", "0 ft"], ["30 ft", "0 ft"], ["24 ft", "20 ft"], ["0 ft", "20 ft"]]
            }
        }
        | sections
    )


def table(found, title):
    (made,) = [b for b in found.blocks if isinstance(b, Table) and b.title == title]
    return [list(row) for row in made.rows]


def test_the_page_lists_panels_that_are_no_rectangles_and_how_lines_are_found():
    found = run("joints", job(joints={"spacing": "12.5 ft"}))
    rows = table(found, "Panels")
    assert len(rows) == 6 and sum(float(row[1].split()[0]) for row in rows) == pytest.approx(
        540, abs=0.5
    )
    assert ["across, from the lower side", "10'-0\"", '0"', "27'-0\""] in table(
        found, "Lines to snap, by running distance"
    )
    (check,) = [c for c in found.checks if c.title == "Sharpest corner that a joint makes"]
    assert check.status == "OK"
    (hours,) = [t for t in found.takeoff if t.words == "Sawing joints"]
    assert found.results["length"].m_as("ft") == pytest.approx(67, abs=1e-3) and hours.amount.m > 0
    assert found.figures[0].draw()


def test_lines_of_a_turned_slab_are_told_from_end_to_end():
    turned = affinity.rotate(box(0, 0, 20, 10), 30, origin=(0, 0))
    points = [[f"{x} ft", f"{y} ft"] for x, y in turned.exterior.coords[:-1]]
    found = run("joints", job(slab={"points": points}, joints={"spacing": "12 ft"}))
    ((name, *ends, length),) = table(found, "Lines to snap, from end to end")
    assert name == "J1" and length == "10'-0\""
    assert sorted(end.split(", ")[1][:6] for end in ends) == ["10'-0\"", "10'-0\""]


def test_a_round_corner_keeps_its_exact_area_in_its_panel():
    """28 by 22 ft less 3^2 (1 - pi / 4) (geometry)."""
    round_one = job(
        slab={"length": "28 ft", "width": "22 ft"}, corners=[{"corner": "A", "radius": "3 ft"}]
    )
    assert sum(joints_of(round_one).layout.areas) == pytest.approx(
        28 * 22 - 9 * (1 - math.pi / 4), abs=1e-6
    )


def test_a_line_of_a_job_runs_from_point_to_point():
    entry = {"points": [["0 ft", "8 ft"], ["30 ft", "8 ft"]]}
    found = run("joints", job(joints={"lines": [entry], "by_hand": True, "spacing": "30 ft"}))
    # where y is 8 ft the slanting side has x 30 - 6 x 8 / 20 (own arithmetic)
    assert found.results["length"].m_as("ft") == pytest.approx(27.6, abs=1e-4)
    assert LineString([(0, 8), (27.6, 8)]).length == pytest.approx(27.6)


@pytest.mark.parametrize(("degrees", "status"), [(59.7, "OK"), (58.0, "NOT OK")])
def test_a_corner_at_a_joint_is_judged_alike_by_the_layout_and_by_its_check(degrees, status):
    """Own arithmetic: across 10 ft a joint at an angle to the side runs 10 / tan(angle) along it; whole degrees count."""
    ends = [["6 ft", "0 ft"], [f"{6 + 10 / math.tan(math.radians(degrees))} ft", "10 ft"]]
    job = Job({"slab": {"length": "20 ft", "width": "10 ft"}, "joints": {"by_hand": True, "aspect": 3, "lines": [{"points": ends}]}})  # fmt: skip
    told = [words for words in joints_of(job).layout.problems if "breaks off" in words]
    (check,) = [c for c in run("joints", job).checks if c.title.startswith("Sharpest")]
    assert (check.status, bool(told), bool(check.to_do)) == (status, status != "OK", status != "OK")
