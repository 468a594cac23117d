"""The wheel that two sliders move over the plan."""

import time

import pytest

from calcbook.job.file import Job
from calcbook.paper.wheel import WheelOnPlan
from calcbook.plate.front import prepared
from calcbook.plate.model import PlateError

GARAGE = {
    "slab": {"length": "20 ft", "width": "22 ft", "thickness": "4 in"}, "soil": {"k": "100 pci"},
    "vehicle": {"axle": "3500 lbf"}, "openings": [{"x": "10 ft", "y": "4 ft", "length": "4 ft", "width": "2 ft"}],
}  # fmt: skip


@pytest.fixture(scope="module")
def wheel():
    return WheelOnPlan(Job(GARAGE))


def test_a_plain_side_at_an_opening_is_worse_than_the_middle_of_a_panel(wheel):
    side, middle = (wheel.at(x, y).worst["stress at the bottom"] for x, y in ((13, 6.2), (5, 16)))
    assert side.value > 1.2 * middle.value
    assert (middle.x, middle.y) == pytest.approx((5, 16)) and middle.where == "under a load"


def test_it_comes_within_a_tenth_of_a_mesh_made_for_its_place(wheel):
    for x, y in ((13, 6.2), (5, 16)):
        result = wheel.at(x, y)
        own = prepared(result.plate, result.case.loads).solve(result.case)
        found, fine = (r.worst["stress at the bottom"].value for r in (result, own))
        assert found == pytest.approx(fine, rel=0.1)


def test_it_presses_by_half_the_axle_and_moves_in_less_than_half_a_second(wheel):
    wheel.at(5, 5)
    begun = time.process_time()
    result = wheel.at(6, 14)
    assert time.process_time() - begun < 0.5
    assert result.case.loads[-1].force == 1750


def test_off_the_slab_or_over_an_opening_it_says_so(wheel):
    for x, y in ((30, 5), (12, 5)):
        with pytest.raises(PlateError, match="off the slab"):
            wheel.at(x, y)
