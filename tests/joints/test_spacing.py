"""Control joints: spacing and depth by source, and what every layout must hold to."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, box, union_all

from calcbook.basis.formula import FormulaError, OutsideRange
from calcbook.basis.units import Q
from calcbook.joints.dividing import joint_layout
from calcbook.joints.spacing import (
    joint_factor,
    max_joint_spacing,
    sawcut_conventional,
    sawcut_depth,
    sawcut_early,
    sawcut_fiber,
)  # fmt: skip

L_SHAPE = Polygon([(0, 0), (40, 0), (40, 18), (28, 18), (28, 28), (0, 28)])
U_SHAPE = Polygon([(0, 0), (36, 0), (36, 30), (24, 30), (24, 12), (12, 12), (12, 30), (0, 30)])


@pytest.mark.published("ACI 302.1R", "")
@pytest.mark.parametrize(
    ("h", "factor", "feet"),
    [
        pytest.param(4, 24, 8, id="ACI 302.1R-96, read in a reprint: 4 in., 8 ft"),
        pytest.param(4, 36, 12, id="ACI 302.1R-96: 4 in., 12 ft"),
        pytest.param(6, 36, 18, id="ACI 302.1R-80 2.3.2: 6 in., 18 ft at most"),
        pytest.param(8, 36, 18, id="never more than 18 ft"),
    ],
)
def test_largest_spacing(h, factor, feet):
    assert max_joint_spacing(Q(h, "in"), factor).m_as("ft") == pytest.approx(feet)


@pytest.mark.worked("joint_factor")
@pytest.mark.parametrize(
    ("h", "slump", "aggregate", "feet"),
    [(4, 4, 0.5, 8), (4, 5, 0.75, 10), (4, 3.5, 0.5, 12), (6, 5, 0.5, 12), (6, 4, 1, 15), (6, 3, 1, 18), (5, 4, 0.5, 10),
     (5, 100 / 25.4, 20 / 25.4, 12.5)],  # 100 and 20 mm: the trade orders them for 4 and 3/4 in.
)  # fmt: skip
def test_the_pca_table_of_joint_spacing(h, slump, aggregate, feet):
    """PCA, Building Movements and Joints, as reprinted in Masonry and Concrete p. 31."""
    factor = joint_factor(Q(slump, "in"), Q(aggregate, "in"))
    assert max_joint_spacing(Q(h, "in"), factor).m_as("ft") == pytest.approx(feet)


@pytest.mark.published("ACI 302.1R", "")
@pytest.mark.published("Concrete Construction", "")
@pytest.mark.parametrize(("h", "inches"), [(4, 1.0), (5, 1.25), (6, 1.5), (3.5, 1.0)])
def test_depth_of_cuts(h, inches):
    """ACI 302.1R as quoted in Concrete Construction: a quarter, at least 1 in., a third with fiber."""
    assert sawcut_depth(h=Q(h, "in")).magnitude == pytest.approx(inches)
    assert sawcut_conventional(Q(h, "in")) == sawcut_depth(h=Q(h, "in"))
    assert sawcut_fiber(Q(h, "in")) == sawcut_depth(h=Q(h, "in"), fiber=True)
    assert sawcut_depth(h=Q(h, "in"), fiber=True).magnitude == pytest.approx(max(h / 3, 1))
    assert sawcut_depth(h=Q(h, "in"), early_entry=True).magnitude == pytest.approx(1)


def test_early_cuts_are_for_slabs_up_to_9_in():
    with pytest.warns(OutsideRange, match="slab thickness 10 in. is outside"):
        sawcut_early("10 in")
    with pytest.raises(FormulaError, match="missing a required argument: 'h'"):
        sawcut_depth(depth="5 in")


@pytest.mark.worked("joint_layout")
def test_twenty_by_fifty():
    """20 x 50 ft, at most 12 ft: ten panels of 10 x 10 ft, 1 x 50 + 4 x 20 = 130 ft; own arithmetic."""
    found = joint_layout(box(0, 0, 50, 20), "12 ft")
    assert len(found.panels) == 10 and found.worst_aspect == pytest.approx(1)
    assert found.length.m_as("ft") == pytest.approx(130) and found.longest.m_as("ft") == pytest.approx(
        10
    )
    assert found.problems == () and len(found.cuts) >= 5
    assert str(found) == "10 panels, 130'-0\" of cut, longest side 10'-0\", aspect 1.00"


def check_laws(outline, found, limit, aspect, gone=()):
    """Panels tile the slab; none breaks a limit unless it is reported; inner corners have a cut."""
    whole = union_all(found.panels)
    expected = outline.difference(union_all(list(gone))) if gone else outline
    assert whole.symmetric_difference(expected).area == pytest.approx(0, abs=1e-6)
    assert sum(p.area for p in found.panels) == pytest.approx(expected.area)
    too_large = found.longest.m_as("ft") > limit + 1e-6
    too_long = found.worst_aspect > aspect + 1e-6
    assert any("larger" in p for p in found.problems) == too_large
    assert any("longer" in p for p in found.problems) == too_long
    cuts = union_all(found.cuts)
    points = list(outline.exterior.coords)[:-1]
    for i, here in enumerate(points):
        before, after = points[i - 1], points[(i + 1) % len(points)]
        turn = (here[0] - before[0]) * (after[1] - here[1]) - (here[1] - before[1]) * (
            after[0] - here[0]
        )
        if turn * (1 if outline.exterior.is_ccw else -1) < -1e-9:
            assert cuts.distance(Point(here)) < 1e-6
    assert sum(c.length for c in found.cuts) == pytest.approx(found.length.m_as("ft"))
    assert cuts.difference(outline.buffer(1e-6)).length == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize("shape", [L_SHAPE, U_SHAPE], ids=["L", "U"])
@pytest.mark.parametrize("limit", [8, 10, 12.5, 18])
def test_notched_slabs(shape, limit):
    found = joint_layout(shape, Q(limit, "ft"))
    check_laws(shape, found, limit, 1.5)
    assert found.longest.m_as("ft") <= limit + 1e-6


@settings(max_examples=15, deadline=None)
@given(
    st.integers(16, 60), st.integers(16, 50), st.floats(0.2, 0.8), st.floats(0.2, 0.8), st.sampled_from([8, 10, 12, 15])
)  # fmt: skip
def test_any_notch_is_tiled(length, width, share_x, share_y, limit):
    x, y = round(length * share_x, 2), round(width * share_y, 2)
    shape = Polygon([(0, 0), (length, 0), (length, y), (x, y), (x, width), (0, width)])
    check_laws(shape, joint_layout(shape, Q(limit, "ft")), limit, 1.5)


def test_openings_and_posts_are_left_out():
    """Own arithmetic: an isolation joint round a post of 1 ft square is 4 ft."""
    large, drain = box(12, 5, 16, 10), Point(20, 14).buffer(0.5)
    post = box(9.5, 19.5, 10.5, 20.5)
    found = joint_layout(L_SHAPE, "12 ft", openings=[large, drain], posts=[post])
    check_laws(L_SHAPE, found, 12, 1.5, [large, drain, post])
    assert found.isolation.m_as("ft") == pytest.approx(4)
    cuts = union_all(found.cuts)
    for corner in list(large.exterior.coords)[:-1]:
        assert cuts.distance(Point(corner)) < 1e-5
    assert cuts.intersection(large).length == pytest.approx(0, abs=1e-6)


def test_lines_are_moved_to_posts():
    post = box(8.7, 9.7, 9.3, 10.3)
    found = joint_layout(box(0, 0, 20, 20), "11 ft", posts=[post])
    xs = {round(c.coords[0][0], 3) for c in found.cuts if abs(c.coords[0][0] - c.coords[-1][0]) < 1e-6}
    assert xs == {9.0}
    far = joint_layout(box(0, 0, 20, 20), "10.5 ft", posts=[post])  # 11 ft would be left: not moved
    assert far.longest.m_as("ft") == pytest.approx(10)


def test_an_outline_with_holes_counts_them_as_openings():
    """A law: panels and holes make up the outline."""
    ring = L_SHAPE.difference(box(12, 5, 16, 10))
    found = joint_layout(ring, "12 ft")
    assert union_all(found.panels).area == pytest.approx(ring.area)


def test_a_small_opening_off_every_joint_is_reported():
    found = joint_layout(box(0, 0, 20, 20), "11 ft", openings=[box(4, 4, 5, 7)])
    assert found.problems == (
        "no joint meets the opening at (4'-6\", 5'-6\"): lay a bar across each of its corners",
    )
    metric = joint_layout(box(0, 0, 20, 20), "11 ft", openings=[box(4, 4, 5, 7)], system="si")
    assert "1.372 m" in metric.problems[0]
    met = joint_layout(box(0, 0, 20, 20), "11 ft", openings=[box(9.5, 4, 10.5, 7)])
    assert met.problems == () and met.missed == () and len(found.missed) == 1


def test_a_post_off_every_joint_is_reported():
    post = box(4.5, 4.5, 5.5, 5.5)
    found = joint_layout(box(0, 0, 20, 20), "11 ft", posts=[post])
    assert found.missed == ("the box of the post at (5'-0\", 5'-0\")",)
    assert found.problems == (
        "no joint meets the box of the post at (5'-0\", 5'-0\"): lay a bar across each of its corners",
    )
    small = joint_layout(box(0, 0, 10, 10), "11 ft", posts=[post])  # one panel, no joint at all
    assert small.cuts == () and len(small.missed) == 1


def test_a_narrow_strip_is_reported():
    found = joint_layout(box(0, 0, 40, 2), "12 ft", 1.5)
    assert found.problems or found.worst_aspect <= 1.5
    thin = Polygon([(0, 0), (30, 0), (30, 20), (15, 20), (15, 19.5), (0, 19.5)])
    assert any("longer than 1.5 to 1" in p for p in joint_layout(thin, "12 ft").problems) or (
        joint_layout(thin, "12 ft").worst_aspect <= 1.5
    )


def test_a_spacing_of_nothing_is_refused():
    with pytest.raises(FormulaError, match="max_spacing"):
        joint_layout(box(0, 0, 10, 10), "0 ft")
