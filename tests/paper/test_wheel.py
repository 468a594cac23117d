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


def test_a_moved_line_shows_another_section_of_the_same_answer(wheel, monkeypatch):
    wheel.sliders[0].value, wheel.sliders[1].value = 5.0, 16.0
    _, (_, before) = wheel._seen()
    monkeypatch.setattr(wheel, "at", None)  # would fail if it were worked out anew
    wheel.ends[1].value = wheel.ends[3].value = 16.0
    told, (_, after) = wheel._seen()
    assert "goes down" in told
    deepest = [max(f.axes[0].lines[0].get_ydata()) for f in (before, after)]
    assert deepest[1] > 1.2 * deepest[0]  # under the wheel


def test_a_section_between_one_place_and_itself_says_so(wheel):
    wheel.ends[2].value, wheel.ends[3].value = wheel.ends[0].value, wheel.ends[1].value
    told, figures = wheel._seen()
    assert "one place" in told and len(figures) == 1
