"""Reading outlines, what a plan refuses, and its quantities."""

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapes import EDGE, L_SHAPE, RECTANGLE, demo_like, moved, outlines, turned

from calcbook.basis.units import Q, ureg
from calcbook.plan.outline import (
    EdgeRing,
    OutlineError,
    Plan,
    Thickening,
    centre,
    disc,
    is_round,
    read_outline,
    rectangle,
)  # fmt: skip


def test_points_may_have_units():
    outline = read_outline(
        [(Q(0, "ft"), Q(0, "ft")), (Q(120, "in"), Q(0, "in")), (Q(10, "ft"), Q(2, "yd"))]
    )
    assert outline.area == pytest.approx(30)
    metres = read_outline([(0, 0), (ureg.Quantity(3.048, "m"), 0), (10, 6)])
    assert metres.area == pytest.approx(30)


def test_the_order_of_points_does_not_matter():
    points = [(0, 0), (40, 0), (40, 18), (28, 18), (28, 28), (0, 28)]
    assert read_outline(points[::-1]).equals(L_SHAPE)
    assert read_outline(points[::-1]).exterior.is_ccw


def test_a_broken_outline_names_what_and_where():
    with pytest.raises(OutlineError, match=r"^opening 'pit': side 1 .* crosses side 3") as caught:
        read_outline([(0, 0), (1, 1), (1, 0), (0, 1)], "opening 'pit'", "openings.2", smallest=0)
    assert caught.value.place == "openings.2"


def test_rectangle_stands_where_it_is_put():
    assert rectangle(Q(6, "ft"), Q(18, "in"), 2, 21).bounds == (2, 21, 8, 22.5)
    with pytest.raises(OutlineError):
        rectangle(0, 5)


def test_a_disc_has_the_area_of_the_circle():
    drain = disc(20, 9, Q(12, "in"))
    assert drain.area == pytest.approx(math.pi / 4, rel=1e-12)
    assert drain.length == pytest.approx(math.pi, rel=2e-3)
    assert centre(drain) == pytest.approx((20, 9))
    assert is_round(drain)
    assert not is_round(rectangle(1, 1))
    assert not is_round(
        shapely.Polygon([(math.cos(k * math.pi / 4), math.sin(k * math.pi / 4)) for k in range(8)])
    )


REFUSED = {
    "outside": ([("a", rectangle(1, 1, 50, 1))], "lies outside the slab"),
    "in the notch": ([("a", rectangle(2, 2, 35, 24))], "lies outside the slab"),
    "touching the edge": ([("a", rectangle(1, 1, 0, 1))], "touches the edge"),
    "touching at a corner": ([("a", rectangle(1, 1, 27, 17))], "touches the edge"),
    "crossing the edge": ([("a", rectangle(2, 2, 39, 1))], "crosses the edge"),
    "round the slab": ([("a", rectangle(80, 80, -20, -20))], "crosses the edge"),
}  # fmt: skip


@pytest.mark.parametrize(("openings", "words"), REFUSED.values(), ids=REFUSED)
def test_openings_off_the_slab_are_refused(openings, words):
    with pytest.raises(OutlineError, match=f"^opening 'a' {words}") as caught:
        Plan(L_SHAPE, openings)
    assert caught.value.place == "openings.0"


@pytest.mark.parametrize("x", [4, 5, 3])
def test_openings_that_overlap_or_touch_are_refused(x):
    with pytest.raises(OutlineError, match="openings 'a' and 'b' overlap or touch") as caught:
        Plan(
            L_SHAPE,
            [
                ("a", rectangle(2, 2, 3, 3)),
                ("far", rectangle(1, 1, 20, 1)),
                ("b", rectangle(2, 2, x, 3)),
            ],
        )
    assert caught.value.place == "openings.2"
    Plan(L_SHAPE, [("a", rectangle(2, 2, 3, 3)), ("b", rectangle(2, 2, 5.1, 3))])


def test_pads_off_the_slab_or_in_an_opening_are_refused():
    with pytest.raises(OutlineError, match="pad 'P' has its center off the slab") as caught:
        Plan(L_SHAPE, [], [Thickening.pad("Q", 3, 3, 1, 1, 1), Thickening.pad("P", 38, 25, 3, 3, 1)])
    assert caught.value.place == "pads.1"
    with pytest.raises(OutlineError, match="pad 'P' has its center in the opening 'pit'"):
        Plan(L_SHAPE, [("pit", rectangle(2, 2, 3, 3))], [Thickening.pad("P", 4, 4, 1, 1, 1)])
    Plan(L_SHAPE, [], [Thickening.pad("P", 0, 14, 3, 3, 1)])  # half of it hangs over the edge


def test_quantities_of_the_demo_plan():
    plan = demo_like()
    drain = math.pi / 4
    assert plan.gross_area.m_as("foot**2") == pytest.approx(1000)
    assert plan.area.m_as("foot**2") == pytest.approx(1000 - 9 - drain)
    assert plan.perimeter.m_as("foot") == pytest.approx(136)
    assert plan.opening_perimeter.m_as("foot") == pytest.approx(15 + math.pi, rel=1e-3)
    assert plan.bounds == (0, 0, 40, 28)
    assert plan.depths == [0.75, 11 / 12]
    assert Plan(L_SHAPE).depths == []
    assert Plan(L_SHAPE, edge=EdgeRing(0, 1)).depths == []


def test_plans_are_equal_by_value():
    assert demo_like() == demo_like()
    assert hash(demo_like()) == hash(demo_like())
    assert demo_like() != demo_like(None)


def test_dug_area_of_a_ring_at_top_middle_and_bottom():
    plan = Plan(RECTANGLE, edge=EdgeRing(1.0, 1.0, 0.5))  # 24 x 30 ft; 1 ft deep, 1 ft wide, 1 in 2
    for z, w in ((0.0, 1.5), (0.5, 1.25), (0.999999, 1.0)):
        assert plan.dug_area(z).m == pytest.approx(24 * 30 - (24 - 2 * w) * (30 - 2 * w), rel=1e-5)
    assert plan.dug_area(Q(12, "in")).m == 0
    assert plan.dug_area(Q(6, "in")).m == pytest.approx(plan.dug_area(0.5).m)


def test_a_ring_wider_than_half_the_slab_is_the_whole_slab():
    assert Plan(RECTANGLE, edge=EdgeRing(1, 12.5)).dug_area(0).m == pytest.approx(720)


def test_dug_area_of_a_sloping_pad():
    plan = Plan(RECTANGLE, [], [Thickening.pad("P", 12, 15, 2, 3, 1.0, slope=0.5)])
    assert plan.dug_area(0).m == pytest.approx(3 * 4)
    assert plan.dug_area(0.5).m == pytest.approx(2.5 * 3.5)
    assert plan.dug_area(1.01).m == 0


def test_pads_are_cut_at_the_outline_and_counted_once():
    at_edge = Plan(RECTANGLE, [], [Thickening.pad("P", 0.5, 15, 3, 3, 1)])
    assert at_edge.dug_area(0.5).m == pytest.approx(2 * 3)
    twice = Plan(RECTANGLE, [], [Thickening.pad(n, 12, 15, 3, 3, 1) for n in "PQ"])
    assert twice.dug_area(0.5).m == pytest.approx(9)
    over = Plan(
        RECTANGLE, [], [Thickening.pad("P", 12, 15, 4, 4, 1), Thickening.pad("Q", 14, 15, 4, 4, 0.5)]
    )
    assert over.dug_area(0.25).m == pytest.approx(24)
    assert over.dug_area(0.75).m == pytest.approx(16)


def test_openings_are_not_dug():
    pit = [("pit", rectangle(2, 2, 12.5, 14))]
    plan = Plan(RECTANGLE, pit, [Thickening.pad("P", 12, 15, 4, 4, 1)])
    assert plan.dug_area(0.5).m == pytest.approx(16 - 1.5 * 2)
    at_edge = Plan(RECTANGLE, [("pit", rectangle(1, 1, 0.5, 10))], edge=EDGE)
    assert at_edge.dug_area(0.9).m == pytest.approx(
        Plan(RECTANGLE, edge=EDGE).dug_area(0.9).m - (1 + 11 / 12 - 0.9 - 0.5)
    )


@settings(max_examples=30, deadline=None)
@given(outlines, st.floats(0, 1), st.floats(-180, 180), st.floats(-50, 50))
def test_dug_area_does_not_depend_on_place_and_direction(outline, z, angle, way):
    plan = Plan(outline, edge=EdgeRing(1.0, 1.0, 1.0))
    other = moved(plan, lambda shape: turned(shape, angle, way, -way))
    assert other.dug_area(z).m == pytest.approx(plan.dug_area(z).m, rel=1e-7)
    assert other.perimeter.m == pytest.approx(plan.perimeter.m)
    assert other.area.m == pytest.approx(plan.area.m)


@settings(max_examples=30, deadline=None)
@given(outlines, st.floats(0.2, 0.8))
def test_split_outlines_add_up(outline, share):
    x0, y0, x1, y1 = outline.bounds
    x = x0 + share * (x1 - x0)
    halves = outline & shapely.box(x0, y0, x, y1), outline & shapely.box(x, y0, x1, y1)
    parts = [p for half in halves for p in shapely.get_parts(half)]
    assert sum(Plan(p).area.m for p in parts) == pytest.approx(Plan(outline).area.m)


def test_the_centre_of_a_bent_shape_lies_inside_it():
    bent = read_outline([(0, 0), (10, 0), (10, 10), (9, 10), (9, 1), (0, 1)])
    assert bent.contains(shapely.Point(centre(bent)))
    assert centre(rectangle(4, 2)) == (2, 1)
