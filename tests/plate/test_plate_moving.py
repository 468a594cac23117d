"""A wheel moved over the plan; the plate at half and double the soil's stiffness."""

import pytest
from shapely import box

from calcbook.plate.front import plate_of, soil_spread
from calcbook.plate.model import Case, Joint, Plate, PlateError, joint_spring
from calcbook.plate.moving import CORNER, Wheel, moved_over, placed
from calcbook.plate.readings import EDGE, JOINT, PLAN

SLAB = Plate(
    (box(0, 0, 24, 12),), 4.0, 150.0, 3.6e6,
    joints=(Joint(((12, 0), (12, 12)), joint_spring(0.7, 150, 20)),),
)  # fmt: skip
CAR = (Wheel(1800.0, 36.0),)


@pytest.fixture(scope="module")
def moved():
    return moved_over(SLAB, CAR, Case("own weight"), spacing=3.0)


def test_every_kind_of_place_is_tried_and_worked_out(moved):
    assert set(moved.worst) == {PLAN, EDGE, JOINT, CORNER}
    assert {r.where for r in moved.ranked} == set(moved.worst)


def test_a_free_edge_is_worse_than_a_joint_and_a_joint_worse_than_inside(moved):
    bottom = {
        where: result.worst["stress at the bottom"].value for where, (_, result) in moved.worst.items()
    }
    assert bottom[EDGE] > bottom[JOINT] > bottom[PLAN]
    assert moved.governing[0].where == EDGE


def test_at_a_corner_the_top_is_in_tension(moved):
    worst = moved.worst[CORNER][1].worst
    assert worst["stress at the top"].value > 0.5 * worst["stress at the bottom"].value


def test_no_place_that_was_ranked_is_worse_than_the_governing_one(moved):
    """The ranking mesh is coarse under the wheel, so a few places are worked out on their own mesh."""
    governing = moved.governing[1]
    greatest = max(governing.worst[k].value for k in ("stress at the bottom", "stress at the top"))
    for place in moved.ranked[::25]:
        loads = placed(SLAB, CAR, place.x, place.y)
        worst = plate_of(SLAB, Case("", loads)).worst
        assert (
            max(worst["stress at the bottom"].value, worst["stress at the top"].value) < greatest * 1.02
        )


def test_a_car_of_3600_lbf_axle_on_a_4_in_slab_gets_an_answer(moved):
    """Below the modulus of rupture of 4,000 psi concrete, 7.5 sqrt(f'c) = 474 psi (ACI 318-19, 19.2.3)."""
    stress = max(v[1].worst["stress at the bottom"].value for v in moved.worst.values())
    assert 150 < stress < 474


def test_wheels_off_the_slab_bear_on_something_else():
    car = (Wheel(1800.0, 36.0), Wheel(1800.0, 36.0, 0.0, 5.0))
    assert len(placed(SLAB, car, 6.0, 3.0)) == 2
    assert len(placed(SLAB, car, 6.0, 10.0)) == 1
    assert len(placed(SLAB, car, 6.0, 10.0, 180.0)) == 2


def test_a_vehicle_without_a_wheel_is_refused():
    with pytest.raises(PlateError, match="no wheel"):
        moved_over(SLAB, (), Case(""))


def test_softer_soil_bends_the_slab_more_and_is_pressed_less():
    case = Case("", placed(SLAB, CAR, 6.0, 6.0))
    soft, given, stiff = soil_spread(SLAB, case).values()
    stress = [r.worst["stress at the bottom"].value for r in (soft, given, stiff)]
    assert stress[0] > stress[1] > stress[2]
    pressure = [r.at([6.0], [6.0]).pressure[0] for r in (soft, given, stiff)]
    assert pressure[0] < pressure[1] < pressure[2]
