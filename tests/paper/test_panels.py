"""Panels: what is typed, what is refused, what is kept and what is saved."""

import pytest

from calcbook.book.chapters import run
from calcbook.job.file import Job
from calcbook.paper.panels import Panel, check_wiring

PLACES = ["slab.thickness", "concrete.waste", "pour.pump", "job.units"]


@pytest.fixture
def panel(demo_copy):
    return Panel(Job.read(demo_copy), "volume", PLACES)


def test_a_changed_field_changes_the_result_as_the_calculation_of_the_changed_job_does(panel):
    panel.set("slab.thickness", "6 in")
    changed = panel.live.saved.changed({"slab.thickness": "6 in"})
    assert panel.result.text("order") == run("volume", changed).text("order")


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("6 psi", "is a pressure, not a length"),
        ("6", "has no unit"),
        ("1 in", "at least 3.5 in."),
    ],
)
def test_a_wrong_entry_is_explained_beside_its_field_and_the_last_good_result_stays(panel, typed, said):
    good = panel.result
    panel.set("slab.thickness", typed)
    assert said in panel.messages["slab.thickness"].value
    assert ".toml" not in panel.messages["slab.thickness"].value
    assert panel.result is good


def test_an_emptied_field_takes_its_default_and_leaves_the_job_file(panel, demo_copy):
    panel.set("slab.thickness", "")
    assert panel.messages["slab.thickness"].value.count("4 in., assumed") == 1
    panel.save()
    assert Job.read(demo_copy).field("slab.thickness").assumed


def test_an_emptied_field_that_has_no_default_is_asked_for(demo_copy):
    panel = Panel(Job.read(demo_copy), "volume", ["pads.*.x"])
    panel.set("pads.0.x", "")
    assert "is missing" in panel.messages["pads.0.x"].value


def test_one_pad_is_shown_at_a_time(demo_copy):
    panel = Panel(Job.read(demo_copy), "volume", ["slab.thickness", "pads.*.dead"])
    box = panel.box

    def shown():
        rows = {row.children[0]: row for row in box.children if hasattr(row, "children")}
        return [p for p, field in panel.fields.items() if rows[field].layout.display != "none"]

    assert shown() == ["slab.thickness", "pads.0.dead"]
    panel.pickers["pads"].value = 2
    assert shown() == ["slab.thickness", "pads.2.dead"]


def test_a_job_without_pads_is_told_so_and_the_panel_stands(tmp_path):
    path = tmp_path / "bare.toml"
    path.write_text('[slab]\nlength = "20 ft"\nwidth = "20 ft"\n', encoding="utf-8")
    panel = Panel(Job.read(path), "volume", ["slab.thickness", "pads.*.dead"])
    assert list(panel.fields) == ["slab.thickness"]
    assert "no [[pads]] yet" in panel.box.children[1].value


def test_the_author_is_told_of_a_panel_that_does_not_follow(demo, monkeypatch):
    check_wiring(demo, "volume", "slab.thickness", "6 in")
    monkeypatch.setattr(Panel, "_typed", lambda self, place, value: None)
    with pytest.raises(AssertionError, match="does not follow"):
        check_wiring(demo, "volume", "slab.thickness", "6 in")


def test_every_whole_number_of_a_job_can_be_typed_and_saved(demo_copy):
    job = Job.read(demo_copy)
    places = ["crew.size", "crew.finishers", "crew.power_trowels", "crew.passes", "prices.valid_days"]
    panel = Panel(job, "volume", places)
    for place, field in panel.fields.items():
        panel.set(place, "2" if field.value != "2" else "3")
        assert "✗" not in panel.messages[place].value + panel.status.value, place
    panel.save()
    assert [Job.read(demo_copy).field(p).value for p in places[:2]] == [2, 2]
    panel.set("crew.size", "2.5")
    assert "not a whole number from 1 to 60" in panel.messages["crew.size"].value


def test_a_place_typed_without_degrees_is_in_degrees(demo_copy):
    panel = Panel(Job.read(demo_copy), "volume", ["pour.latitude"])
    panel.set("pour.latitude", "44.2")
    assert "44.2°" in panel.messages["pour.latitude"].value
    assert panel.job.pour.latitude.m_as("degree") == pytest.approx(44.2)


def test_a_mended_entry_clears_the_complaint(panel):
    panel.set("slab.thickness", "6 psi")
    panel.set("slab.thickness", "6 in")
    assert "✗" not in panel.messages["slab.thickness"].value + panel.status.value


def test_saving_refuses_while_a_field_is_wrong_and_then_says_what_was_written(panel, demo_copy):
    before = demo_copy.read_text(encoding="utf-8")
    panel.set("slab.thickness", "6 in")
    panel.set("concrete.waste", "900 %")
    panel.save()
    assert "mend concrete.waste first" in panel.status.value
    assert demo_copy.read_text(encoding="utf-8") == before
    panel.set("concrete.waste", "9 %")
    panel.save()
    assert "slab.thickness, concrete.waste" in panel.status.value
    text = demo_copy.read_text(encoding="utf-8")
    assert 'thickness = "6 in"' in text and "# all prices invented" in text


def test_changes_are_taken_back_one_by_one_and_a_wrong_entry_goes_back_to_the_last_good_one(panel):
    start = panel.result.text("order")
    panel.set("slab.thickness", "6 in")
    six = panel.result.text("order")
    panel.set("concrete.waste", "9 %")
    panel.set("slab.thickness", "6 psi")
    panel.undo()
    assert panel.fields["slab.thickness"].value == "6 in" and not panel.live.broken
    panel.undo()
    assert panel.result.text("order") == six
    panel.undo()
    assert panel.result.text("order") == start and not panel.changes
    assert panel.fields["slab.thickness"].value == "5 in"


def test_fields_that_another_notebook_saved_are_kept_and_told(panel, demo_copy):
    other = Panel(Job.read(demo_copy), "volume", PLACES)
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


def test_an_entry_added_elsewhere_comes_into_the_picker_with_its_fields_and_goes_again(demo):
    """As on a page of pads, when the page of all fields adds one."""
    panel = Panel(demo, "pads", ["slab.thickness", "pads.*.dead"])
    box = panel.box
    before = len(box.children)
    pads = demo.raw["pads"]
    panel.set("slab.thickness", "6 in")
    panel.live.keep("pads", [*pads, {**pads[0], "name": "P9", "x": "34 ft", "y": "5 ft"}])
    picker = panel.pickers["pads"]
    assert picker in box.children and [name for name, _ in picker.options][-1] == "P9"
    assert len(box.children) == before + 1 and panel.fields["slab.thickness"].value == "6 in"
    panel.set(f"pads.{len(pads)}.dead", "1000 lbf")
    assert panel.job.pads[-1].dead.m_as("lbf") == 1000
    panel.undo(), panel.undo()
    assert len(box.children) == before and f"pads.{len(pads)}.dead" not in panel.fields
