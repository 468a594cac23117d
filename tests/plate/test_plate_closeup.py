"""Close-ups of a place: what they show is what a fine mesh everywhere shows."""

from dataclasses import replace

import numpy as np
import pytest
from shapely import Point, Polygon, box

from calcbook.plate.factor import Factor
from calcbook.plate.front import prepared
from calcbook.plate.joints import held_where_thick
from calcbook.plate.model import (
    AGREE,
    STRESSES,
    Case,
    Joint,
    Line,
    Plate,
    PlateError,
    Region,
    joint_spring,
    print_at,
)
from calcbook.plate.moving import five_figures
from calcbook.plate.readings import STEP
from calcbook.plate.result import greatest_at
from calcbook.plate.worst import greatest_closer, looked_closer

OUTLINE = Polygon([(0, 0), (24, 0), (24, 12), (16, 12), (16, 20), (0, 20)])
EDGE = Region(OUTLINE.difference(OUTLINE.buffer(-1.5, join_style="mitre")), 16.0, "edge")
SPRING = joint_spring(0.6, 150.0, 22.0)
PLATE = Plate(
    (OUTLINE,), 5.0, 150.0, 3.6e6, openings=(Point(6, 6).buffer(0.5), box(10, 14, 13, 16)), regions=(EDGE,),
    joints=(Joint(((12, 0), (12, 12)), SPRING), Joint(((0, 12), (16, 12)), 0.0)),
)  # fmt: skip
WALL = Line(((0.2, 0.2), (23.8, 0.2)), 500.0)


@pytest.fixture(scope="module")
def rough():
    return prepared(PLATE, (WALL,), rough=True)


def on(x, y, **more):
    return Case("", (WALL, print_at(x, y, 1800.0, 36.0, 5.0)), **more)


# with 10 degrees parts of it lift off
PLACES = [(3.0, 3.0, 10.0), (11.7, 6.0, 0.0), (12.3, 2.4, 0.0), (13.3, 15.0, 10.0)]


@pytest.fixture(scope="module")
def finer():
    """One mesh for all the places, twice as fine as one that is made for a place alone."""
    return prepared(PLATE, [load for x, y, _ in PLACES for load in on(x, y).loads], finer=2)


@pytest.mark.parametrize(("x", "y", "warm"), PLACES)
def test_a_stress_looked_at_closer_is_that_of_a_fine_mesh_within_2_percent(rough, finer, x, y, warm):
    """Where the side of a thickening runs out at a joint the fine mesh itself is up to 4 % from one twice as fine
    (222 and 102 psi against 213 and 98 psi, where the close-ups show 211 and 99): there 5 % are asked."""
    result = looked_closer(rough.solve(on(x, y, warmer_top=warm)))
    fine = finer.solve(result.case)
    for name, field in zip(STRESSES, ("bottom", "top"), strict=True):
        reading = result.worst[name]
        there = float(getattr(fine.at([reading.x], [reading.y]), field)[0])
        near = 0.05 if reading.where == STEP else AGREE
        assert reading.value == pytest.approx(there, rel=near)
        assert reading.value == pytest.approx(fine.worst[name].value, rel=near)
        assert reading.error < near


def test_map_and_reading_show_the_same_stress(rough):
    result = looked_closer(rough.solve(on(3.0, 3.0)))
    for name, field in zip(STRESSES, ("bottom", "top"), strict=True):
        reading = result.worst[name]
        assert float(getattr(result.at([reading.x], [reading.y]), field)[0]) == pytest.approx(
            reading.value
        )


def test_a_place_that_another_case_starts_from_is_the_same(rough):
    steady = rough.solve(Case("", (WALL,)))
    alone, after = rough.solve(on(20.0, 6.0)), rough.solve(on(20.0, 6.0), steady)
    assert after.solution == pytest.approx(alone.solution, abs=1e-9 * abs(alone.solution).max())
    near = rough.nearly(on(20.0, 6.0), steady)
    greatest = [
        max(r.worst[name].value for name in STRESSES)
        for r in (greatest_closer(near), looked_closer(alone))
    ]
    assert greatest[0] == pytest.approx(greatest[1], rel=0.05)


def test_one_factor_for_all_rounds_finds_what_a_factor_for_each_round_finds(rough, monkeypatch):
    """A part of the slab lifts off, also on soil twice as stiff as in the factor."""
    case = on(3.0, 3.0, warmer_top=10.0)
    stiffer = rough.of(replace(PLATE, k=300.0))
    searched = [ready.solve(case) for ready in (rough, stiffer)]
    monkeypatch.setattr("calcbook.plate.solver._STEPS", 0)
    for ready, found in zip((rough, stiffer), searched, strict=True):
        direct = ready.solve(case)
        assert found.lifted_area == pytest.approx(direct.lifted_area) and found.lifted_area > 1
        assert found.solution == pytest.approx(direct.solution, abs=1e-8 * abs(direct.solution).max())


def test_of_like_places_the_first_is_told_whatever_rounding_says():
    assert greatest_at(np.array([1.0, 2.0, 2.0 * (1 + 1e-12)])) == 1
    assert greatest_at(np.array([1.0, 2.0, 2.001])) == 2
    assert greatest_at(np.array([-3.0, -1.0, -2.0])) == 1  # nothing lifts
    assert five_figures(123.4561) == five_figures(123.4559) != five_figures(123.47)


def test_a_close_up_that_finds_no_balance_leaves_the_rough_reading_and_tells_no_error(
    rough, monkeypatch
):
    def refuse(*_):
        raise PlateError("no balance")

    result = rough.solve(on(3.0, 3.0))
    monkeypatch.setattr("calcbook.plate.worst.close_up", refuse)
    looked = looked_closer(result)
    for name in STRESSES:
        assert looked.worst[name].value == result.worst[name].value and looked.worst[name].error is None


def test_other_soil_and_joints_on_the_same_mesh_are_as_made_for_them(rough):
    other = Plate(
        **{**vars_of(PLATE), "k": 75.0, "joints": (Joint(PLATE.joints[0].line, 0.0), PLATE.joints[1])}
    )
    case = on(12.3, 2.4)
    found, own = (
        rough.of(other).solve(case),
        prepared(other, (WALL,), step=11.0, rough=True).solve(case),
    )
    assert found.worst["deflection"].value == pytest.approx(own.worst["deflection"].value, rel=0.02)


def vars_of(plate):
    return {name: getattr(plate, name) for name in plate.__dataclass_fields__}


def test_a_joint_holds_where_the_concrete_is_more_than_twice_as_thick():
    held = held_where_thick(PLATE)
    lengths = {}
    for joint in held:
        (a, b), (c, d) = joint.line[0], joint.line[-1]
        lengths[joint.spring] = lengths.get(joint.spring, 0.0) + np.hypot(c - a, d - b)
    stiff = max(lengths)
    assert stiff > 1e9 and lengths[stiff] == pytest.approx(1.5 + 1.5 + 1.5)
    assert sum(lengths.values()) == pytest.approx(12 + 16)


def test_many_loads_at_once_are_each_as_alone():
    from scipy import sparse

    rng = np.random.default_rng(1)
    n, width = 157, 12
    lower = [
        sparse.diags_array(rng.normal(size=n - k), offsets=-k, shape=(n, n))
        for k in range(1, width + 1)
    ]
    matrix = sum(lower) + sum(lower).T + 60 * sparse.eye_array(n)
    factor, forces = Factor(matrix.tocsr()), rng.normal(size=(n, 5))
    together = factor.solve(forces)
    assert matrix @ together == pytest.approx(forces, abs=1e-12)
    assert factor.roughly(forces[:, 0]) == pytest.approx(together[:, 0], abs=1e-6)
    for k in range(5):
        assert together[:, k] == pytest.approx(factor.solve(forces[:, k]), abs=1e-13)
