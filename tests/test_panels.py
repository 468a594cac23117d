"""Panels: what is typed, what is refused, what is kept and what is saved."""

import pytest

from calcbook import volume
from calcbook.job import Job
from calcbook.panels import Panel

PLACES = ["slab.thickness", "concrete.waste", "pour.pump", "job.units"]


@pytest.fixture
def panel(demo_copy):
    return Panel(Job.read(demo_copy), volume.calculation, PLACES)


def test_a_changed_field_changes_the_result_as_the_calculation_of_the_changed_job_does(panel):
    panel.set("slab.thickness", "6 in")
    changed = panel.saved_job.changed({"slab.thickness": "6 in"})
    assert panel.result.text("order") == volume.calculation(changed).text("order")


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("6 psi", "is a pressure, not a length"),
        ("6", "has no unit"),
        ("1 in", "at least 3.5 in."),
        ("", "not a number"),
    ],
)
def test_a_wrong_entry_is_explained_beside_its_field_and_the_last_good_result_stays(panel, typed, said):
    good = panel.result
    panel.set("slab.thickness", typed)
    assert said in panel.messages["slab.thickness"].value
    assert ".toml" not in panel.messages["slab.thickness"].value
    assert panel.result is good


def test_a_mended_entry_clears_the_complaint(panel):
    panel.set("slab.thickness", "6 psi")
    panel.set("slab.thickness", "6 in")
    assert "✗" not in panel.messages["slab.thickness"].value + panel.status.value


def test_saving_writes_only_good_changes_and_keeps_remarks(panel, demo_copy):
    panel.set("slab.thickness", "6 in")
    panel.set("concrete.waste", "900 %")
    panel.save()
    text = demo_copy.read_text(encoding="utf-8")
    assert 'thickness = "6 in"' in text and "900 %" not in text and "# all prices invented" in text


def test_fields_that_another_notebook_saved_are_kept_and_told(panel, demo_copy):
    other = Panel(Job.read(demo_copy), volume.calculation, PLACES)
    other.set("concrete.waste", "9 %")
    other.save()
    panel.set("slab.thickness", "6 in")
    panel.save()
    text = demo_copy.read_text(encoding="utf-8")
    assert 'waste = "9 %"' in text and 'thickness = "6 in"' in text
    assert "they are kept" in panel.status.value and "they are kept" not in other.status.value


def test_a_field_changed_by_someone_else_is_not_overwritten(panel, demo_copy):
    text = demo_copy.read_text(encoding="utf-8").replace('thickness = "5 in"', 'thickness = "7 in"')
    demo_copy.write_text(text, encoding="utf-8")
    panel.set("slab.thickness", "6 in")
    panel.save()
    assert "someone else" in panel.status.value and "7 in" in panel.status.value
    assert demo_copy.read_text(encoding="utf-8") == text


def test_words_typed_by_a_user_are_shown_as_text_not_as_markup(panel):
    panel.set("slab.thickness", "<img src=x onerror=alert(1)>")
    assert "<img" not in panel.messages["slab.thickness"].value
