"""A top that falls: heights, and volumes against sums by other means."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapes import L_SHAPE, outlines

from calcbook.plan.outline import disc, rectangle
from calcbook.plan.slope import Dish, Fall


def by_triangles(shape, heights):
    """Integral of a plane over a shape: triangles, each by the mean of its corners."""
    total = 0.0
    for piece in shapely.get_parts(shapely.constrained_delaunay_triangles(shape)):
        corners = np.array(piece.exterior.coords)[:3]
        total += piece.area * heights(corners).mean()
    return total


@settings(max_examples=60, deadline=None)
@given(outlines, st.floats(0.001, 0.1), st.floats(-math.pi, math.pi))
def test_the_mean_of_a_fall_against_triangles(outline, grade, angle):
    x, y = outline.representative_point().coords[0]
    slab = outline.difference(disc(x, y, 1.0))
    fall = Fall.over(outline, grade, angle)
    assert fall.mean(slab) * slab.area == pytest.approx(by_triangles(slab, fall.heights), rel=1e-9)
    assert fall.heights(np.array(outline.exterior.coords)).min() == pytest.approx(0, abs=1e-12)


@settings(max_examples=25, deadline=None)
@given(outlines, st.floats(0.001, 0.1), st.floats(-3, 3), st.floats(-3, 3), st.floats(-40, 40))
def test_turning_slab_and_fall_together_changes_nothing(outline, grade, angle, turn, way):
    there = affinity.translate(
        affinity.rotate(outline, turn, origin=(0, 0), use_radians=True), way, -way
    )
    one, two = Fall.over(outline, grade, angle), Fall.over(there, grade, angle + turn)
    assert two.mean(there) == pytest.approx(one.mean(outline), rel=1e-9)
    assert two.greatest(there) == pytest.approx(one.greatest(outline), rel=1e-9)


@settings(max_examples=25, deadline=None)
@given(st.floats(0.2, 0.8), st.floats(0.001, 0.1), st.floats(-3, 3))
def test_a_slab_cut_in_two_under_one_plane_has_the_volume_of_the_whole(share, grade, angle):
    fall = Fall.over(L_SHAPE, grade, angle)
    halves = [L_SHAPE & shapely.box(0, 0, 40 * share, 28), L_SHAPE & shapely.box(40 * share, 0, 40, 28)]
    parts = sum(fall.mean(half) * half.area for half in halves)
    assert parts == pytest.approx(fall.mean(L_SHAPE) * L_SHAPE.area, rel=1e-9)


def test_a_fall_by_hand():
    """24 x 30 ft towards y = 0 at 1 in 96: 3.75 in. at the far side, half of it in the mean."""
    outline = rectangle(24, 30)
    fall = Fall.over(outline, 1 / 96, -math.pi / 2)
    assert fall.heights(np.array([[5, 30], [5, 0], [1, 12]])) == pytest.approx([0.3125, 0, 0.125])
    assert fall.mean(outline) == pytest.approx(0.15625)


@settings(max_examples=40, deadline=None)
@given(st.floats(0.001, 0.1), st.floats(2, 10), st.floats(0.1, 1))
def test_a_dish_against_rings(grade, rim, drain):
    """Gauss points along the radius: what a level top is lower, times the ring."""
    dish = Dish(grade, (3.0, 4.0), rim, drain)
    nodes, weights = np.polynomial.legendre.leggauss(6)
    radii = (rim + drain) / 2 + nodes * (rim - drain) / 2
    lower = -dish.heights(np.column_stack([3 + radii, np.full(6, 4.0)]))
    rings = float(np.sum(weights * 2 * math.pi * radii * lower)) * (rim - drain) / 2
    assert dish.volume == pytest.approx(rings, rel=1e-9)
    assert dish.least == pytest.approx(-grade * (rim - drain))
    assert dish.heights(np.array([[3 + rim + 1, 4]])) == pytest.approx([0])


def test_the_way_down_goes_down():
    for plane in (Fall.over(L_SHAPE, 0.02, 0.7), Dish(0.02, (10, 9), 5, 0.5)):
        start, end = plane.way_down(L_SHAPE)
        near = start + 0.1 * (end - start) / np.hypot(*(end - start))
        assert plane.heights(near[None])[0] < plane.heights(start[None])[0]
