"""Moving the sides of a polygon, mitred: against closed forms and against shapely's buffer."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapes import C_SHAPE, CUT_CORNER, L_SHAPE, U_SHAPE, outlines, turned

from calcbook.plan.offset import corner_sum, keeps_sides, moved_in
from calcbook.plan.outline import disc, rectangle


def test_a_rectangle_shrinks_on_all_sides():
    shapes = moved_in(rectangle(10, 6), [0.0, 1.0, 2.9, 3.0, 4.0])
    assert shapely.area(shapes) == pytest.approx([60, 32, 4.2 * 0.2, 0, 0])
    assert shapes[1].bounds == pytest.approx((1, 1, 9, 5))


def test_a_rectangle_grows_with_square_corners():
    (grown,) = moved_in(rectangle(10, 6), -0.5)
    assert grown.equals(shapely.box(-0.5, -0.5, 10.5, 6.5))


def test_the_arms_of_a_u_part_and_vanish():
    # arms 12 ft wide, foot 12 ft high: at 5.9 ft the strips left are 0.2 ft wide and still joined
    (left,) = moved_in(U_SHAPE, 5.9)
    assert left.area == pytest.approx(0.2 * (28.2 + 2 * 0 + (30 - 11.8 - 0.2) + (26 - 11.8 - 0.2)))
    assert moved_in(U_SHAPE, 6.1)[0].is_empty


def test_a_dumbbell_falls_apart():
    ends = shapely.union_all(
        [shapely.box(0, 0, 10, 10), shapely.box(20, 0, 30, 10), shapely.box(9, 4, 21, 6)]
    )
    (parts,) = moved_in(ends, 2.0)
    assert shapely.get_num_geometries(parts) == 2
    assert parts.area == pytest.approx(72)


def test_small_jogs_are_not_straightened():
    jogged = shapely.Polygon([(0, 0), (20, 0), (20, -0.01), (40, -0.01), (40, 28), (0, 28)])
    (inner,) = moved_in(jogged, 1.92)
    assert inner.area == pytest.approx(jogged.area - jogged.length * 1.92 + 4 * 1.92**2, abs=1e-9)


@settings(max_examples=50, deadline=None)
@given(outlines, st.floats(0.1, 12))
def test_inner_offsets_agree_with_the_mitred_buffer(outline, distance):
    (mine,) = moved_in(outline, distance)
    theirs = outline.buffer(-distance, join_style="mitre", mitre_limit=50)
    assert mine.symmetric_difference(theirs).area < 0.02 * distance * outline.length * 0.05


@settings(max_examples=40, deadline=None)
@given(outlines, st.floats(0.05, 3))
def test_outer_offsets_agree_with_the_mitred_buffer(outline, distance):
    (mine,) = moved_in(outline, -distance)
    theirs = outline.buffer(distance, join_style="mitre", mitre_limit=50)
    assert shapely.area(mine) == pytest.approx(shapely.Polygon(theirs.exterior).area, rel=2e-3)


@settings(max_examples=50, deadline=None)
@given(outlines, st.floats(0, 12), st.floats(0.01, 3))
def test_a_larger_step_leaves_less(outline, first, more):
    near, far = moved_in(outline, [first, first + more])
    assert near.difference(outline).area < 1e-6
    assert far.difference(near).area < 1e-6


@settings(max_examples=50, deadline=None)
@given(outlines, st.floats(0.05, 2))
def test_area_follows_perimeter_and_corner_sum_while_no_side_vanishes(outline, distance):
    if keeps_sides(outline, distance):
        wanted = outline.area - outline.length * distance + corner_sum(outline) * distance**2
        assert moved_in(outline, distance)[0].area == pytest.approx(wanted, rel=1e-9)


@pytest.mark.parametrize("outline", [L_SHAPE, U_SHAPE, C_SHAPE, turned(L_SHAPE)])
def test_corner_sum_is_four_for_right_angles(outline):
    assert corner_sum(outline) == pytest.approx(4)


def test_corner_sum_of_other_shapes():
    triangle = shapely.Polygon([(0, 0), (2, 0), (1, 3**0.5)])
    assert corner_sum(triangle) == pytest.approx(3 * 3**0.5)  # cot 30 degrees, three times
    assert corner_sum(disc(0, 0, 2)) == pytest.approx(64 * np.tan(np.pi / 64))
    # three of 90 degrees, three of 135, one of 225
    assert corner_sum(CUT_CORNER) == pytest.approx(3 + 2 * (2**0.5 - 1))


def test_sides_are_kept_until_they_meet():
    assert keeps_sides(rectangle(10, 6), 2.99)
    assert not keeps_sides(rectangle(10, 6), 3.01)
    assert not keeps_sides(C_SHAPE, 4.2)  # the arm of 8 ft is used up


def test_direction_of_the_points_does_not_matter():
    assert moved_in(L_SHAPE.reverse(), 1.0)[0].equals(moved_in(L_SHAPE, 1.0)[0])
