"""A wheel moved over the plan; the plate at half and double the soil's stiffness."""

from dataclasses import replace

import pytest
from shapely import box

from calcbook.plate.from_job import PlateJob, Somewhere
from calcbook.plate.front import plate_of, prepared
from calcbook.plate.model import Case, Joint, Patch, Plate, joint_spring
from calcbook.plate.moving import CORNER, Rest, Wheel, placed, standing
from calcbook.plate.ranking import ranked_on
from calcbook.plate.readings import EDGE, JOINT, PLAN
from calcbook.plate.worked import element, stress, worked_out
from calcbook.plate.worst import looked_closer

SLAB = Plate(
    (box(0, 0, 24, 12),), 4.0, 150.0, 3.6e6,
    joints=(Joint(((12, 0), (12, 12)), joint_spring(0.7, 150, 20)),),
)  # fmt: skip
CAR = (Wheel(1800.0, 36.0),)
STEADY = Case("own weight")


@pytest.fixture(scope="module")
def moved():
    return worked_out(PlateJob(SLAB, STEADY, None, None, ()), CAR, 10.0, 5.0).wheel


def test_the_sun_pulls_on_the_bottom_and_a_cold_night_on_the_top_whose_edges_leave_the_ground():
    """By sense: a top that shrinks curls up. Of the same difference the middle feels the same, turned round."""
    found = worked_out(PlateJob(SLAB, STEADY, None, None, ()), (), 10.0, 10.0)
    day, night = (
        {face: r.worst[f"stress at the {face}"].value for face in ("bottom", "top")}
        for r in found.warped
    )
    assert day["bottom"] > 3 * day["top"] and night["top"] > 3 * night["bottom"]
    assert night["top"] == pytest.approx(day["bottom"], rel=0.25)
    assert found.night.lifted_area > 0.05 * 288
    assert found.night.unbalanced < 1e-8


@pytest.fixture(scope="module")
def at_rest():
    ready = prepared(SLAB, step=element(SLAB), rough=True)
    return ready, ready.solve(STEADY)


def test_every_kind_of_place_is_tried_and_worked_out(moved):
    assert set(moved) == {PLAN, EDGE, JOINT, CORNER}


def test_a_free_edge_is_worse_than_a_joint_and_a_joint_worse_than_inside(moved):
    bottom = {where: result.worst["stress at the bottom"].value for where, (_, result) in moved.items()}
    assert bottom[EDGE] > bottom[JOINT] > bottom[PLAN]


def test_at_a_corner_the_top_is_in_tension(moved):
    worst = moved[CORNER][1].worst
    assert worst["stress at the top"].value > 0.5 * worst["stress at the bottom"].value


def test_a_place_ranks_as_the_whole_slab_reads_it_and_none_is_worse_than_the_governing_one(
    moved, at_rest
):
    """The slab far from a wheel is held for the ranking, and its mesh is coarse: a few places are worked out on
    the whole slab, and on a mesh of their own."""
    greatest, rest = max(stress(result) for _, result in moved.values()), Rest(at_rest[1])
    for place in ranked_on(at_rest[0], [rest], CAR, 3.0)[::25]:
        case = standing(SLAB, CAR, rest, place)
        assert place.stress == pytest.approx(stress(at_rest[0].nearly(case, at_rest[1])), rel=0.12)
        assert stress(plate_of(SLAB, case)) < greatest * 1.02


def test_a_car_of_3600_lbf_axle_on_a_4_in_slab_gets_an_answer(moved):
    """Below the modulus of rupture of 4,000 psi concrete, 7.5 sqrt(f'c) = 474 psi (ACI 318-19, 19.2.3)."""
    stress = max(v[1].worst["stress at the bottom"].value for v in moved.values())
    assert 150 < stress < 474


def test_wheels_off_the_slab_bear_on_something_else():
    car = (Wheel(1800.0, 36.0), Wheel(1800.0, 36.0, 0.0, 5.0))
    assert len(placed(SLAB, car, 6.0, 3.0)) == 2
    assert len(placed(SLAB, car, 6.0, 10.0)) == 1
    assert len(placed(SLAB, car, 6.0, 10.0, 180.0)) == 2


def test_a_rack_is_tried_with_all_its_legs_on_the_slab_and_bends_it_more_than_one_leg():
    one = Somewhere("shelf", 900.0, 16.0, "edge")
    rack = replace(one, name="rack", legs=((0.0, 0.0), (0.0, 1.0), (1.5, 0.0), (1.5, 1.0)))
    job = PlateJob(SLAB, STEADY, None, None, (), (one, rack))
    posts = worked_out(job, (), 10.0, 5.0).posts
    legs = [load for load in posts["rack"][1].case.loads if load.name.startswith("rack ")]
    assert len(legs) == 4 and all(SLAB.slab.buffer(1e-6).covers(leg.shape) for leg in legs)
    assert stress(posts["rack"][1]) > 1.2 * stress(posts["shelf"][1])


def test_a_rack_wider_than_the_slab_is_refused_in_a_sentence():
    wide = Somewhere("rack", 900.0, 16.0, "inside", ((0.0, 0.0), (30.0, 0.0)))
    found = worked_out(PlateJob(SLAB, STEADY, None, None, (), (wide,)), (), 10.0, 5.0)
    assert "do not fit" in found.reason


def test_softer_soil_bends_the_slab_more_and_is_pressed_less(at_rest):
    case = Case("", placed(SLAB, CAR, 6.0, 6.0))
    soft, given, stiff = (
        at_rest[0].of(replace(SLAB, k=SLAB.k * n)).solve(case) for n in (0.5, 1.0, 2.0)
    )
    bottom = [r.worst["stress at the bottom"].value for r in (soft, given, stiff)]
    assert bottom[0] > bottom[1] > bottom[2]
    pressure = [r.at([6.0], [6.0]).pressure[0] for r in (soft, given, stiff)]
    assert pressure[0] < pressure[1] < pressure[2]


def test_a_wheel_is_tried_with_roof_loads_too_and_the_case_that_brings_more_is_told(moved):
    """ASCE 7-16, 2.4.1: D + L, or D + 0.75 L + 0.75 S, the wheel being the live load. A post whose roof load bends the slab
    inside makes that case govern there; the places it does not reach keep the wheel alone, and none is lower than before."""
    roof = Case("D + 0.75 L + 0.75 S", (Patch(box(17.8, 5.8, 18.2, 6.2), 3000.0, "post"),))
    job = PlateJob(SLAB, STEADY, roof, None, (), with_wheel=((roof, 0.75),))
    found = worked_out(job, CAR, 10.0, 5.0).wheel
    for where, (place, result) in found.items():
        assert stress(result) > 0.98 * stress(moved[where][1])
        wheel = next(p.force for p in result.case.loads if p.name == "wheel 1")
        assert wheel == pytest.approx((0.75 if place.rest else 1.0) * CAR[0].force)
        assert result.case.name.startswith("D + 0.75" if place.rest else "own weight")
    place, result = found[PLAN]
    assert place.rest == 1 and abs(place.x - 18) < 3
    assert stress(result) == pytest.approx(stress(looked_closer(plate_of(SLAB, result.case))), rel=0.02)
