"""Slabs whose sides have different edges: laws, and volumes summed by other means."""

import itertools

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapes import L_SHAPE, NAMED, outlines, turned

from calcbook.plan.dug import dig_volume, dug_of
from calcbook.plan.edge import EdgeRing, Ledge
from calcbook.plan.offset import Frame, side_bands
from calcbook.plan.outline import Plan, rectangle


def volume(plan):
    return dig_volume(plan).m_as("foot**3")


def side_count(outline):
    return len(outline.exterior.coords) - 1


kinds = st.sampled_from(
    [
        EdgeRing(0, 1, 1),
        EdgeRing(1, 1, 1),
        EdgeRing(2, 1.5, 0.5),
        EdgeRing(0.7, 0.5, 0),
        EdgeRing(1, 2, 1.5),
    ]
)


@st.composite
def mixed(draw):
    """An outline and an edge for each of its sides."""
    outline = draw(outlines)
    count = side_count(outline)
    sides = tuple(draw(st.lists(kinds, min_size=count, max_size=count)))
    return outline, EdgeRing(1, 1, 1, sides)


def by_slices(outline, edge, layers=250):
    """Thin layers between the depths where a side ends, each by its middle."""
    ends = sorted({0.0, *(s.depth for s in edge.sides)})
    total = 0.0
    for low, high in itertools.pairwise(ends):
        count = max(int(layers * (high - low)), 1)
        middles = low + (np.arange(count) + 0.5) / count * (high - low)
        areas = [slice_area(outline, [s.reach(z) for s in edge.sides]) for z in middles]
        total += sum(areas) * (high - low) / count
    return total


def slice_area(outline, reach):
    """The dug area with general buffers of single sides: flat at the ends, corners pointing in by a cut box."""
    corners = np.array(outline.exterior.coords)[:-1]
    n, parts = len(corners), []
    for k in range(n):
        p, q = corners[k], corners[(k + 1) % n]
        if reach[k]:
            parts.append(
                shapely.LineString([p, q]).buffer(reach[k], single_sided=True, cap_style="flat")
            )
        parts.append(inner_gap(p, q, corners[(k + 2) % n], reach[k], reach[(k + 1) % n]))
    # rounded: of parts that share slanting sides an unrounded union may lose one
    return (shapely.union_all(parts, grid_size=1e-9) & outline).area


def inner_gap(p, q, r, w, v):
    one, two = (q - p) / np.hypot(*(q - p)), (r - q) / np.hypot(*(r - q))
    if one[0] * two[1] - one[1] * two[0] >= -1e-9 or not w or not v:
        return shapely.Polygon()
    box = 50.0
    # long rectangles beyond the end of the first side and before the start of the second
    ahead = shapely.LineString([q, q + box * one]).buffer(w, single_sided=True, cap_style="flat")
    back = shapely.LineString([q - box * two, q]).buffer(v, single_sided=True, cap_style="flat")
    return ahead & back


NINE = [  # a union of the strips along its sides lost one of them at every fifth depth
    (8.870108331782218, 4.617486132350338), (3.8268343236508984, 9.238795325112868), (-3.0070579950427296, 9.53716950748227),
    (-8.433914458128855, 5.372996083468241), (-9.914448613738106, -1.3052619222005133), (-8.782672699003584, -9.58460537853161),
    (-0.4361938736533613, -9.990482215818577), (8.522660006122088, -11.106946764077293), (9.762960071199334, -2.164396139381029),
]  # fmt: skip


def test_no_strip_is_lost_where_slanting_sides_share_a_corner():
    """Derived: down to 0.95 ft the dug area is one quadratic of the depth, so its third differences are 0."""
    none = EdgeRing(0, 1, 1)
    sides = (*[none] * 5, EdgeRing(2, 1.5, 0.5), EdgeRing(1, 2, 1.5), none, none)
    digging = Plan(shapely.Polygon(NINE), edge=EdgeRing(1, 1, 1, sides)).digging
    areas = digging.areas(np.arange(0.002, 0.95, 0.004))
    assert np.abs(np.diff(areas, 3)).max() < 1e-6 and areas[35] == pytest.approx(50.1959244, abs=1e-6)


@settings(max_examples=15, deadline=None)
@given(mixed())
def test_volume_against_slices_by_other_means(case):
    outline, edge = case
    found = volume(Plan(outline, edge=edge))
    assert found == pytest.approx(by_slices(outline, edge), rel=1e-6, abs=2e-5)


@pytest.mark.parametrize("outline", NAMED.values(), ids=NAMED)
def test_equal_sides_are_the_edge_all_round(outline):
    """A law: two ways to say the same edge."""
    one = EdgeRing(1.0, 1.2, 0.7)
    sides = EdgeRing(1.0, 1.2, 0.7, (one,) * side_count(outline))
    assert volume(Plan(outline, edge=sides)) == pytest.approx(volume(Plan(outline, edge=one)), rel=1e-9)


def test_a_rectangle_by_hand():
    """20 x 10 ft, straight sides: 2 ft deep and 1 ft wide along one long side, 1 ft deep and 2 ft wide along one
    short side: 20 x 1 x 2 + (10 x 2 - 2 x 1) x 1 ft3, as above 1 ft the corner is in both."""
    sides = (EdgeRing(2, 1, 0), EdgeRing(1, 2, 0), EdgeRing(0, 1, 0), EdgeRing(0, 1, 0))
    plan = Plan(rectangle(20, 10), edge=EdgeRing(2, 1, 0, sides))
    assert volume(plan) == pytest.approx(40 + 18)
    assert [(s, v.m_as("foot**3")) for s, v in dug_of(plan).sides] == [
        ((0,), pytest.approx(40)), ((1,), pytest.approx(20))
    ]  # fmt: skip


def test_sloping_edges_that_meet_at_a_corner_by_hand():
    """Both 1 ft deep, slope 1: reach 1 + s and 2 + s, s = 1 - z. Area (1 + s) 20 + (2 + s) 10 - (1 + s)(2 + s)."""
    sides = (EdgeRing(1, 1, 1), EdgeRing(1, 2, 1), EdgeRing(0, 1, 0), EdgeRing(0, 1, 0))
    wanted = 20 * 1.5 + 10 * 2.5 - (2 + 3 / 2 + 1 / 3)
    assert volume(Plan(rectangle(20, 10), edge=EdgeRing(1, 1, 1, sides))) == pytest.approx(wanted)


def test_a_plain_side_at_an_inner_corner_ends_the_trench_square():
    """L shape, edge only along side 4 (10 ft, from the inner corner up): 1 ft x 1 ft x 10 ft."""
    none = EdgeRing(0, 1, 0)
    sides = (none, none, none, EdgeRing(1, 1, 0), none, none)
    assert volume(Plan(L_SHAPE, edge=EdgeRing(1, 1, 0, sides))) == pytest.approx(10)


@settings(max_examples=25, deadline=None)
@given(mixed(), st.floats(-180, 180), st.floats(-60, 60))
def test_place_and_direction_do_not_matter(case, angle, way):
    outline, edge = case
    there = turned(outline, angle, way, 2 * way)
    assert volume(Plan(there, edge=edge)) == pytest.approx(volume(Plan(outline, edge=edge)), rel=1e-7)


@settings(max_examples=25, deadline=None)
@given(mixed())
def test_the_mirror_image_takes_the_same(case):
    outline, edge = case
    image = affinity.scale(outline, -1, 1, origin=(0, 0))
    corners = np.array(image.exterior.coords)[:-1][::-1]  # counterclockwise again
    sides = edge.sides[:-1][::-1] + edge.sides[-1:]
    mirrored = Plan(shapely.Polygon(corners), edge=EdgeRing(1, 1, 1, sides))
    assert volume(mirrored) == pytest.approx(volume(Plan(outline, edge=edge)), rel=1e-7, abs=1e-9)


@settings(max_examples=25, deadline=None)
@given(mixed(), st.integers(0, 100), st.floats(0.2, 0.8))
def test_a_point_added_on_a_side_changes_nothing(case, k, share):
    outline, edge = case
    corners = [np.array(c) for c in outline.exterior.coords[:-1]]
    k %= len(corners)
    middle = corners[k] + share * (corners[(k + 1) % len(corners)] - corners[k])
    more = shapely.Polygon([*corners[: k + 1], middle, *corners[k + 1 :]])
    sides = (*edge.sides[: k + 1], edge.sides[k], *edge.sides[k + 1 :])
    found = volume(Plan(more, edge=EdgeRing(1, 1, 1, sides)))
    assert found == pytest.approx(volume(Plan(outline, edge=edge)), rel=1e-7, abs=1e-9)


@settings(max_examples=25, deadline=None)
@given(mixed())
def test_all_sides_together_take_at_least_what_the_largest_takes_alone(case):
    outline, edge = case
    plan = Plan(outline, edge=edge)
    alone = [v.m_as("foot**3") for _, v in dug_of(plan).sides]
    assert volume(plan) >= max(alone, default=0) - 1e-6


def test_two_ledges_that_meet_count_their_corner_once():
    """1 ft and 2 ft wide, 0.5 ft and 0.25 ft low on a 20 x 10 ft slab: the deeper one has the corner."""
    ledges = (
        Ledge("door", 1, shapely.box(0, 0, 20, 1), 0.5, 1),
        Ledge("brick", 2, shapely.box(18, 0, 20, 10), 0.25, 2),
    )
    plan = Plan(rectangle(20, 10), ledges=ledges)
    assert plan.lowered.m == pytest.approx(20 * 0.5 + (20 - 2) * 0.25)


def test_strips_outside_meet_square_at_corners():
    bands = side_bands(Frame(rectangle(4, 3)), np.array([-1.0, -2.0, -1.0, -2.0]))
    assert shapely.union_all(bands).union(rectangle(4, 3)).area == pytest.approx(8 * 5)
