"""Volume dug below the slab: closed forms, laws, and a slow sum by other means."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapes import (
    EDGE,
    L_SHAPE,
    NAMED,
    RECTANGLE,
    U_SHAPE,
    demo_like,
    moved,
    outlines,
    skylines,
    turned,
)

from calcbook.basis.units import Q, unit
from calcbook.concrete.volumes import (
    ring_corner_volume,
    ring_section_area,
    ring_volume,
)
from calcbook.job.file import Job
from calcbook.plan.dug import depth_integral, dig_volume, edge_volume, prismoidal_volume, volume_alone
from calcbook.plan.offset import corner_sum, keeps_sides
from calcbook.plan.outline import EdgeRing, Plan, Thickening, disc, rectangle

FT3 = unit("ft3")


def volume(plan):
    return dig_volume(plan).m_as(FT3)


def ring(P, d, b, slope, C=4.0):
    section = ring_section_area(d, b, slope)
    return ring_volume(P, section, ring_corner_volume(d, b, slope), C)


# --- closed forms ----------------------------------------------------------------------------


def test_section_of_an_edge_by_hand():
    # 12 in. wide and 12 in. deep, 45 degrees: a square of 1 ft and half of one
    assert ring_section_area("12 in", "12 in", 1.0).m_as("foot**2") == pytest.approx(1.5)
    assert ring_section_area("8 in", "12 in", 0.0).m_as("inch**2") == pytest.approx(96)
    assert ring_section_area("10 in", "0 in", 2.0).m_as("inch**2") == pytest.approx(100)


def test_corner_volume_by_hand():
    # integral of (b + s (d - z))^2: b = d = 1 ft, s = 1 gives 1 + 1 + 1/3
    assert ring_corner_volume("12 in", "12 in", 1.0).m_as(FT3) == pytest.approx(7 / 3)
    assert ring_corner_volume("12 in", "24 in", 0.0).m_as(FT3) == pytest.approx(4)
    assert ring_corner_volume("6 in", "12 in", 2.0).m_as(FT3) == pytest.approx(0.5 * (1 + 1 + 1 / 3))


def test_ring_of_a_rectangle_by_hand():
    # straight sides, 1 ft wide and 1 ft deep around 10 x 8 ft: 80 - 8 x 6 = 32 ft3
    assert ring("36 ft", "12 in", "12 in", 0.0).m_as(FT3) == pytest.approx(32)


@pytest.mark.worked("dig_volume", "ring_corner_volume", "ring_section_area", "ring_volume")
@settings(max_examples=40, deadline=None)
@given(st.floats(10, 60), st.floats(10, 60), st.floats(1, 30), st.floats(4, 24), st.floats(0, 1.5))
def test_the_closed_form_of_a_rectangle(L, W, d, b, slope):
    """The integral of L W - (L - 2w)(W - 2w) over the depth, three ways."""
    deep, wide = d / 12, b / 12
    z = (np.arange(20000) + 0.5) / 20000 * deep
    w = wide + slope * (deep - z)
    if 2 * w.max() >= min(L, W):
        return
    wanted = float(np.mean(L * W - (L - 2 * w) * (W - 2 * w)) * deep)
    closed = ring(Q(2 * (L + W), "ft"), Q(d, "in"), Q(b, "in"), slope).m_as(FT3)
    assert closed == pytest.approx(wanted, rel=1e-7)
    assert volume(Plan(rectangle(L, W), edge=EdgeRing(deep, wide, slope))) == pytest.approx(
        closed, rel=1e-9
    )


@settings(max_examples=40, deadline=None)
@given(outlines, st.floats(0.1, 2), st.floats(0.3, 2), st.floats(0, 1))
def test_the_closed_form_of_any_outline_whose_sides_last(outline, d, b, slope):
    if keeps_sides(outline, b + slope * d):
        closed = ring(Q(outline.length, "ft"), Q(d, "ft"), Q(b, "ft"), slope, corner_sum(outline))
        assert volume(Plan(outline, edge=EdgeRing(d, b, slope))) == pytest.approx(
            closed.m_as(FT3), rel=1e-8
        )


def test_the_edge_by_itself_counts_corners_once_and_leaves_out_what_pads_share():
    """Derived: 20 x 10 ft, upright edge 1 ft wide and 1 ft deep: 20 x 10 - 18 x 8 = 56 ft3; a pad of 2 x 2 ft, half of it on the
    edge and 1 ft deep, takes 4 ft3 of which 2 are the edge's: 56 + 2 - 4 = 54."""
    outline, ring = rectangle(20, 10), EdgeRing(1.0, 1.0, 0.0)
    assert edge_volume(Plan(outline, edge=ring)).m_as(FT3) == pytest.approx(56)
    pad = Thickening.pad("P", 10, 1, 2, 2, 1)
    assert edge_volume(Plan(outline, thickenings=(pad,), edge=ring)).m_as(FT3) == pytest.approx(54)
    assert edge_volume(Plan(outline, thickenings=(pad,))).m_as(FT3) == pytest.approx(0, abs=1e-9)


@pytest.mark.worked("prismoidal_volume")
def test_prismoidal_rule_by_hand():
    # frustum of a pyramid, 4 x 4 ft to 2 x 2 ft over 3 ft: 3/3 (16 + 4 + 8) = 28 ft3
    assert prismoidal_volume("16 ft2", "9 ft2", "4 ft2", "3 ft").m_as(FT3) == pytest.approx(28)
    assert prismoidal_volume("0 ft2", "1 ft2", "0 ft2", "6 ft").m_as(FT3) == pytest.approx(4)


def test_a_straight_pad_and_a_sloping_pad():
    """Own arithmetic: a box, and a frustum of 4 and 16 ft2, 1 ft deep."""
    straight = Thickening.pad("P", 12, 15, 3, 2.5, 0.75)
    assert volume(Plan(RECTANGLE, [], [straight])) == pytest.approx(3 * 2.5 * 0.75)
    sloping = Thickening.pad("P", 12, 15, 2, 2, 1.0, slope=1.0)
    frustum = (16 + 4 + 8) / 3
    assert volume(Plan(RECTANGLE, [], [sloping])) == pytest.approx(frustum)
    assert volume_alone(Plan(RECTANGLE), sloping).m_as(FT3) == pytest.approx(frustum)


def test_a_pad_over_the_edge_counts_inside_only():
    """Own arithmetic: 2 ft by 3 ft of it lie inside."""
    pad = Thickening.pad("P", 0.5, 15, 3, 3, 1.0)
    assert volume_alone(Plan(RECTANGLE), pad).m_as(FT3) == pytest.approx(6)
    assert volume(Plan(RECTANGLE, [], [pad])) == pytest.approx(6)


def test_an_edge_that_fills_the_whole_slab():
    # 24 x 30 ft, bottom 11 ft wide, 2 ft deep, slope 1: full from w = 12 up, that is below z = 1
    z = np.linspace(1, 2, 100001)
    w = 11 + (2 - z)
    wanted = 720 * 1 + np.trapezoid(720 - (24 - 2 * w) * (30 - 2 * w), z)
    assert volume(Plan(RECTANGLE, edge=EdgeRing(2, 11, 1.0))) == pytest.approx(wanted, rel=1e-8)


def test_the_demo_by_hand():
    """Edge in closed form; three posts clear of it; the pad at the edge less what the ring took."""
    edge = ring("136 ft", "11 in", "12 in", 1.0).m_as(FT3)
    posts = 9 * 0.75 + 2 * 6.25 * 0.75
    z = np.linspace(0, 11 / 12, 200001)
    beyond = np.trapezoid(3.5 * np.maximum(2.5 - (1 + 11 / 12 - z), 0), z)
    assert volume(demo_like()) == pytest.approx(edge + posts + beyond, rel=1e-8)


# --- laws ------------------------------------------------------------------------------------

depths = st.floats(0.2, 2.0)


@settings(max_examples=25, deadline=None)
@given(outlines, depths, st.floats(-180, 180), st.floats(-60, 60))
def test_place_and_direction_do_not_matter(outline, d, angle, way):
    x, y = outline.representative_point().coords[0]
    plan = Plan(outline, [], [Thickening.pad("P", x, y, 3, 2, d, 0.5)], EdgeRing(0.9, 1.0, 1.0))
    other = moved(plan, lambda shape: turned(shape, angle, way, 2 * way))
    assert volume(other) == pytest.approx(volume(plan), rel=1e-7)


@settings(max_examples=25, deadline=None)
@given(outlines, st.floats(0.5, 3))
def test_volume_grows_with_the_cube_of_size(outline, k):
    plan = Plan(outline, edge=EdgeRing(0.9, 1.0, 1.0))
    grown = Plan(affinity.scale(outline, k, k, origin=(0, 0)), edge=EdgeRing(0.9 * k, k, 1.0))
    assert volume(grown) == pytest.approx(k**3 * volume(plan), rel=1e-7)


@settings(max_examples=25, deadline=None)
@given(st.floats(2, 22), st.floats(2, 28), st.floats(2, 22), st.floats(2, 28), st.floats(0.2, 2))
def test_two_pads_together_are_both_less_what_they_share(x, y, u, v, d):
    pads = [Thickening.pad("P", x, y, 4, 3, d), Thickening.pad("Q", u, v, 3, 5, d)]
    shared = (pads[0].bottom & pads[1].bottom & RECTANGLE).area * d
    alone = sum(volume(Plan(RECTANGLE, [], [p])) for p in pads)
    assert volume(Plan(RECTANGLE, [], pads)) == pytest.approx(alone - shared, abs=1e-6)


@settings(max_examples=25, deadline=None)
@given(skylines(), st.floats(0.25, 0.75), depths)
def test_a_slab_cut_in_two_has_the_pads_of_both_parts(outline, share, d):
    x0, y0, x1, y1 = outline.bounds
    x = x0 + share * (x1 - x0)
    strip = Thickening("strip", shapely.box(x0, 9, x1, 12), d, 0.0, "strip")
    parts = [
        (side & outline, Thickening("strip", strip.bottom & side, d, 0.0, "strip"))
        for side in (shapely.box(x0, y0, x, y1), shapely.box(x, y0, x1, y1))
    ]
    halves = sum(volume(Plan(part, [], [piece])) for part, piece in parts)
    assert halves == pytest.approx(volume(Plan(outline, [], [strip])), rel=1e-7)


@settings(max_examples=25, deadline=None)
@given(outlines, depths, depths)
def test_ring_and_pad_together_lie_between_the_larger_and_the_sum(outline, d, depth):
    x, y = outline.exterior.interpolate(0.3, normalized=True).coords[0]
    pad = Thickening("P", shapely.box(x - 2, y - 2, x + 2, y + 2) & outline, depth)
    if pad.bottom.geom_type != "Polygon" or not outline.covers(pad.bottom.centroid):
        return
    edge = EdgeRing(d, 1.0, 0.5)
    alone = volume(Plan(outline, edge=edge)), volume(Plan(outline, [], [pad]))
    both = volume(Plan(outline, [], [pad], edge))
    assert max(alone) - 1e-6 <= both <= sum(alone) + 1e-6


@settings(max_examples=20, deadline=None)
@given(outlines, st.floats(0, 0.4), st.floats(0.45, 1.2))
def test_stretches_of_the_depth_add_up(outline, middle, bottom):
    plan = Plan(outline, edge=EdgeRing(1.0, 1.0, 1.0))
    whole = depth_integral(plan, 0.0, bottom)
    assert depth_integral(plan, 0.0, middle) + depth_integral(plan, middle, bottom) == pytest.approx(
        whole, rel=1e-8
    )


def test_an_integral_upside_down_or_below_everything_is_nothing():
    plan = Plan(RECTANGLE, edge=EDGE)
    assert depth_integral(plan, 0.5, 0.2) == 0
    assert depth_integral(plan, 1.0, 3.0) == 0
    assert volume(Plan(RECTANGLE)) == 0


@pytest.mark.parametrize("outline", NAMED.values(), ids=NAMED)
def test_against_a_slow_sum_with_the_general_buffer(outline):
    """Many thin layers, each made with shapely's own mitred buffer: another way to the same sum."""
    x, y = outline.representative_point().coords[0]
    pads = [Thickening.pad("P", x, y, 4, 3, 1.4, 0.4), Thickening.pad("Q", x + 1, y - 1, 3, 3, 0.7)]
    plan = Plan(outline, [("drain", disc(x, y + 0.2 + 2.5, 0.4))], pads, EdgeRing(1.0, 1.5, 1.2))
    layers = (np.arange(1400) + 0.5) / 1000
    total = 0.0
    for z in layers:
        shapes = [
            p.bottom.buffer(p.slope * (p.depth - z), join_style="mitre") & outline
            for p in pads
            if z < p.depth
        ]
        if z < 1.0:
            shapes.append(outline - outline.buffer(-(1.5 + 1.2 * (1 - z)), join_style="mitre"))
        total += (shapely.union_all(shapes) - shapely.union_all([o.shape for o in plan.openings])).area
    assert volume(plan) == pytest.approx(total / 1000, rel=2e-5)


def test_arms_that_are_used_up_part_way_down():
    """The U is full where the ring is wider than 6 ft, half of 12 ft, which is above z = 1 ft; below,
    864 - 168 w + 4 w2 is left inside."""
    below = 84 * (6**2 - 5**2) - 4 / 3 * (6**3 - 5**3)
    assert volume(Plan(U_SHAPE, edge=EdgeRing(2.0, 5.0, 1.0))) == pytest.approx(864 + below, rel=1e-8)


def test_many_pads_are_quick_and_right():
    """Own arithmetic: a sum of boxes that do not touch."""
    pads = [
        Thickening.pad(f"P{k}", 2 + 2.5 * (k % 14), 2 + 2.5 * (k // 14), 2, 2, 0.5 + 0.05 * k)
        for k in range(70)
    ]
    plan = Plan(rectangle(40, 16), [], pads)
    assert volume(plan) == pytest.approx(sum(4 * p.depth for p in pads), rel=1e-8)


def test_a_job_and_its_plan_give_the_same(demo):
    assert dig_volume(demo) == dig_volume(demo.plan)
    assert isinstance(demo, Job)
    assert L_SHAPE.equals(demo.plan.outline)
