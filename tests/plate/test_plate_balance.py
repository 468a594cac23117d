"""What comes in is what the ground gives; alike sides bear alike; too much uplift is refused."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, box

from calcbook.plate.front import plate_of, prepared
from calcbook.plate.model import Area, Case, Joint, Line, Patch, Plate, PlateError, Region, joint_spring

L_SHAPE = Polygon([(0, 0), (20, 0), (20, 9), (14, 9), (14, 14), (0, 14)])
SLAB = Plate(
    (L_SHAPE,), 5.0, 150.0, 3.6e6,
    openings=(Point(10, 5).buffer(0.5, quad_segs=16), box(2, 10, 5, 11)),
    regions=(Region(box(6, 6, 9, 9), 14.0, "pad"), Region(L_SHAPE.difference(L_SHAPE.buffer(-1.2, join_style="mitre")), 16.0, "edge")),
    joints=(Joint(((14, 0), (14, 9)), joint_spring(0.6, 150, 25)),),
)  # fmt: skip
WEIGHT = 5000.0


def square(x, y, force, half=0.25):
    return Patch(box(x - half, y - half, x + half, y + half), force)


def test_a_free_plate_under_an_even_load_goes_down_evenly_and_is_not_bent():
    plate = Plate((L_SHAPE,), 5.0, 150.0, 3.6e6)
    result = plate_of(plate, Case("", (Area(250.0),)))
    even = (250 + 150 * 5 / 12) / 144 / 150
    assert result.values.deflection == pytest.approx(even, rel=1e-9)
    assert result.worst["stress at the bottom"].value < 1e-4
    assert result.worst["stress at the top"].value < 1e-4


@settings(max_examples=12, deadline=None)
@given(
    x=st.floats(1, 13), y=st.floats(1, 8), force=st.floats(100, 20000), uplift=st.floats(0, 250),
    warm=st.floats(-30, 30),
)  # fmt: skip
def test_the_ground_gives_what_comes_down(x, y, force, uplift, warm):
    """Force and both moments balance to 1e-8 of the load, whatever lifts off."""
    loads = (
        square(x, y, force),
        Line(((0.3, 0.3), (0.3, 13.7)), -uplift),
        Line(((1, 4), (9, 12)), 200.0),
    )
    result = plate_of(SLAB, Case("", loads, 1.0, warm), step=18.0)
    assert result.unbalanced < 1e-8
    concrete = sum(
        shape.area * h / 12
        for shape, h in (
            (L_SHAPE.difference(SLAB.openings[0]).difference(SLAB.openings[1]), 5.0),
            (SLAB.regions[0].shape, 9.0),
            (SLAB.regions[1].shape, 11.0),
        )
    )
    down = concrete * 150 + force - uplift * 13.4 + 200 * np.hypot(8, 8)
    assert result.soil == pytest.approx(down, rel=1e-6)


def test_alike_sides_bear_alike():
    plate = Plate((box(0, 0, 20, 12),), 5.0, 150.0, 3.6e6)
    loads = (square(4, 6, WEIGHT), square(16, 6, WEIGHT))
    result = prepared(plate, loads).solve(Case("", loads, 1.0, 12.0))
    x, y = np.meshgrid(np.linspace(0.3, 9.7, 9), np.linspace(0.2, 5.8, 7))
    here = result.at(x, y)
    for there in (result.at(20 - x, y), result.at(x, 12 - y), result.at(20 - x, 12 - y)):
        assert there.deflection == pytest.approx(here.deflection, abs=1e-9)
        assert there.bottom == pytest.approx(here.bottom, abs=1e-5 * here.bottom.max())


def test_what_bends_one_way_turned_around_bends_the_other_way():
    first = Plate((box(0, 0, 20, 12),), 5.0, 150.0, 3.6e6)
    turned = Plate((box(0, 0, 12, 20),), 5.0, 150.0, 3.6e6)
    a = plate_of(first, Case("", (square(5, 3, WEIGHT),))).at([7.0], [4.0])
    b = plate_of(turned, Case("", (square(3, 5, WEIGHT),))).at([4.0], [7.0])
    assert (a.m_x[0], a.m_y[0], a.m_xy[0]) == pytest.approx((b.m_y[0], b.m_x[0], b.m_xy[0]), rel=1e-6)


def test_loads_that_press_add_up():
    """While all soil is pressed the plate is linear."""
    plate = Plate((box(0, 0, 12, 10),), 6.0, 150.0, 3.6e6)
    one, two = square(4, 5, 3000.0), square(8, 5, 2000.0)
    even = Area(2000.0)
    ready = prepared(plate, (one, two))
    both, a, b, none = (
        ready.solve(Case("", (*ls, even), 0.0)).values.m_x for ls in ((one, two), (one,), (two,), ())
    )
    assert both == pytest.approx(a + b - none, abs=1e-6 * np.abs(both).max())


# --- uplift ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(("x", "share"), [(10.0, 1.0), (0.1, 0.5025)])
def test_the_reserve_against_lifting_is_that_of_a_stiff_slab(x, share):
    """Mechanics: in the middle the whole weight holds; at a side the slab tips about the other."""
    plate = Plate((box(0, 0, 20, 10),), 6.0, 150.0, 3.6e6)
    weight = 200 * 0.5 * 150
    result = plate_of(plate, Case("", (Line(((x, 0.0), (x, 10.0)), -300.0),)), step=24.0)
    assert result.reserve == pytest.approx(share * weight / 3000, rel=1e-3)


def test_uplift_of_more_than_all_weight_is_refused_in_one_sentence():
    plate = Plate((box(0, 0, 20, 10),), 6.0, 150.0, 3.6e6)
    with pytest.raises(
        PlateError, match=r"^wind: the uplift of 16,000 lbf is more than the 15,000 lbf .*\.$"
    ):
        plate_of(plate, Case("wind", (Line(((10, 0), (10, 10)), -1600.0),)))


def test_uplift_that_tips_the_slab_is_refused():
    plate = Plate((box(0, 0, 20, 10),), 6.0, 150.0, 3.6e6)
    with pytest.raises(PlateError, match="tips the slab"):
        plate_of(plate, Case("wind", (Line(((0.1, 0), (0.1, 10)), -900.0),)))


def test_uplift_just_below_what_tips_the_slab_still_finds_its_balance():
    plate = Plate((box(0, 0, 20, 10),), 6.0, 150.0, 3.6e6)
    result = plate_of(plate, Case("wind", (Line(((0.1, 0), (0.1, 10)), -720.0),)))
    assert result.unbalanced < 1e-8 and result.lifted_area > 100


def test_a_piece_behind_an_isolation_joint_has_its_own_weight_only():
    """The piece weighs 3,750 lbf; the other one cannot help it."""
    joint = Joint(((5, 0), (5, 10)), 0.0)
    plate = Plate((box(0, 0, 20, 10),), 6.0, 150.0, 3.6e6, joints=(joint,))
    lifted = Case("wind", (Line(((2.5, 0), (2.5, 10)), -400.0),))
    with pytest.raises(PlateError, match="tips the slab, or a part of it"):
        plate_of(plate, lifted)
    assert plate_of(Plate((box(0, 0, 20, 10),), 6.0, 150.0, 3.6e6), lifted).reserve > 1


@pytest.mark.parametrize(
    "load", [square(30, 3, 100.0), Line(((30, 0), (30, 5)), 100.0), Area(10.0, box(30, 0, 31, 1))]
)
def test_a_load_off_the_slab_is_refused(load):
    with pytest.raises(PlateError, match="off the slab"):
        plate_of(Plate((box(0, 0, 20, 10),), 6.0, 150.0, 3.6e6), Case("", (load,)))


@pytest.mark.parametrize(
    "change",
    [
        {"thickness": 0.0},
        {"k": -1.0},
        {"E": float("nan")},
        {"nu": 0.5},
        {"weight": -1.0},
        {"outlines": ()},
    ],
)
def test_numbers_that_make_no_plate_are_refused(change):
    sound = {"outlines": (box(0, 0, 20, 10),), "thickness": 6.0, "k": 150.0, "E": 3.6e6}
    with pytest.raises(PlateError, match=r"^plate: .*\.$"):
        Plate(**{**sound, **change})


@pytest.mark.parametrize(
    ("load", "words"),
    [(square(5, 5, float("nan")), "must be a number"), (square(5, 5, 100.0, half=0.0), "no area")],
)
def test_a_load_that_is_none_is_refused(load, words):
    with pytest.raises(PlateError, match=words):
        plate_of(Plate((box(0, 0, 20, 10),), 6.0, 150.0, 3.6e6), Case("", (load,)))


@settings(max_examples=10, deadline=None)
@given(
    corners=st.lists(st.tuples(st.integers(0, 20), st.integers(0, 20)), min_size=3, max_size=6, unique=True),
    h=st.floats(3, 12), k=st.floats(20, 600), force=st.floats(-4000, 9000), warm=st.floats(-40, 40),
)  # fmt: skip
def test_any_outline_is_balanced_or_refused(corners, h, k, force, warm):
    outline = Polygon(corners)
    if not outline.is_valid or outline.area < 4:
        return
    at = outline.representative_point()
    case = Case("any", (square(at.x, at.y, force, 0.1),), 1.0, warm)
    try:
        # a stiff sliver on soft ground keeps a digit less than a slab; the chapter tells what is left
        assert plate_of(Plate((outline,), h, k, 3.6e6), case, step=24.0).unbalanced < 1e-7
    except PlateError as error:
        assert "uplift" in str(error) and force < 0
