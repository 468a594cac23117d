"""Sliders beside the numbers that are played with."""

import pytest

from calcbook.job.file import Job
from calcbook.paper import live as living
from calcbook.paper.panels import Panel
from calcbook.paper.play import RANGES, slider_for
from calcbook.paper.turns import Turns


@pytest.fixture
def panel(demo_copy, monkeypatch):
    """A panel as it stands on a page."""
    monkeypatch.setattr("calcbook.paper.turns.TURNS", Turns())
    monkeypatch.setenv(living.DRAFT, "")
    monkeypatch.setattr("calcbook.paper.panels.live", lambda job: living.Live(job))
    return Panel(Job.read(demo_copy), "volume", ["slab.thickness", "concrete.waste", "pour.pump"])


@pytest.mark.parametrize("name", ["demo", "demo_si"])
@pytest.mark.parametrize("place", RANGES)
def test_whatever_a_slider_can_say_is_allowed_in_the_job_file(request, name, place):
    job, place = request.getfixturevalue(name), place.replace("*", "0")
    slider = slider_for(place, job)
    for value in (slider.low, slider.low + slider.step, slider.high):
        slider.widget.value = value
        job.changed({place: slider.written})


def test_field_slider_and_result_move_together_in_both_directions(panel):
    slider = panel.sliders["slab.thickness"].widget
    assert slider.value == 5 and "pour.pump" not in panel.sliders
    slider.value = 6.5
    assert panel.fields["slab.thickness"].value == "6.5 in"
    assert panel.job.field("slab.thickness").text == "6.5 in."
    panel.set("slab.thickness", "7 in")
    assert slider.value == 7
    panel.set("concrete.waste", "12 %")
    assert panel.sliders["concrete.waste"].widget.value == pytest.approx(12)


def test_a_slider_dragged_over_many_places_is_one_change_to_undo(panel):
    for value in (5.5, 6, 6.5, 7):
        panel.sliders["slab.thickness"].widget.value = value
    panel.undo()
    panel._catch_up()  # its turn has come
    assert panel.job.field("slab.thickness").text == "5 in." and not panel.changes
    assert panel.sliders["slab.thickness"].widget.value == 5


def test_a_field_beyond_the_slider_keeps_what_was_typed(panel):
    panel.set("slab.thickness", "20 in")
    assert panel.sliders["slab.thickness"].widget.value == 12
    assert panel.job.field("slab.thickness").text == "20 in."


def test_a_slider_stands_on_a_step_so_that_a_browser_has_nothing_to_set_and_to_tell(demo):
    assert demo.field("pads.1.dead").text == "2,600 lbf"
    slider = slider_for("pads.1.dead", demo)
    assert slider.widget.value == 2500 and not slider.moved


def test_what_a_browser_tells_of_a_panel_that_is_closed_changes_nothing(panel):
    panel.close()
    panel.sliders["slab.thickness"].widget.value = 9
    panel.fields["slab.thickness"].value = "8 in"
    assert not panel.changes
