"""One job on several pages: changes that are not saved, files that change meanwhile, two who save at once."""

import threading

import pytest

from calcbook.job.file import Job, JobError
from calcbook.job.files import read_notes
from calcbook.paper.live import Live, current
from calcbook.paper.panels import Panel
from calcbook.paper.served import draft_file
from calcbook.paper.views import Shown


@pytest.fixture
def pair(demo_copy, tmp_path):
    """Two pages of one job, with one draft."""
    draft = draft_file(demo_copy, tmp_path)
    return Live(Job.read(demo_copy), draft), Live(Job.read(demo_copy), draft), draft


def test_a_change_on_one_page_is_on_the_other_and_not_yet_in_the_job_file(pair, demo_copy):
    one, other, _ = pair
    before = demo_copy.read_bytes()
    one.keep("slab.thickness", "6 in")
    assert other.look() and other.job.raw == one.job.raw
    assert demo_copy.read_bytes() == before and not other.look()


def test_changes_of_two_pages_are_both_kept_and_saved_together(pair, demo_copy):
    one, other, draft = pair
    one.keep("slab.thickness", "6 in")
    other.keep("concrete.waste", "9 %")
    assert set(other.save()) == {"slab.thickness", "concrete.waste"}
    saved = Job.read(demo_copy)
    assert saved.raw["slab"]["thickness"] == "6 in" and saved.raw["concrete"]["waste"] == "9 %"
    assert read_notes(draft) == {} and one.look() and not one.changes


def test_undo_takes_back_what_another_page_has_changed_too(pair):
    one, other, draft = pair
    one.keep("slab.thickness", "6 in")
    one.keep("concrete.waste", "9 %")
    other.look()
    assert other.undo() == "concrete.waste" and read_notes(draft) == {"slab.thickness": "6 in"}
    assert other.undo() == "slab.thickness" and other.job.raw == other.saved.raw
    assert other.undo() is None


def test_what_another_page_saves_is_told_as_saved(pair):
    one, other, _ = pair
    one.keep("slab.thickness", "6 in")
    other.look()
    one.save()
    assert other.look() and other.news == "Saved on another page." and not one.news
    other.keep("slab.thickness", "7 in")
    assert not other.news


def test_a_field_that_is_changed_here_and_in_the_file_is_told_until_it_is_saved(pair, demo_copy):
    one, _, _ = pair
    panel = Panel(one.job, lambda book: Shown("volume"), ["slab.thickness"], one)
    one.keep("slab.thickness", "6 in")
    text = demo_copy.read_text(encoding="utf-8")
    demo_copy.write_text(text.replace('waste = "8 %"', 'waste = "9 %"'), encoding="utf-8")
    assert one.look() and not one.crossed, "another field is not in the way"
    demo_copy.write_text(text.replace('thickness = "5 in"', 'thickness = "8 in"'), encoding="utf-8")
    assert one.look() and one.crossed == {"slab.thickness": "8 in"}
    assert "Someone else has changed the file: slab.thickness is now 8 in" in panel.status.value
    assert one.job.raw["slab"]["thickness"] == "6 in", "what is typed here is not lost"
    panel.save()
    assert not one.crossed and one.saved.raw["slab"]["thickness"] == "6 in"


def test_a_value_set_back_to_what_is_saved_is_no_change(pair):
    one, _, draft = pair
    one.keep("slab.thickness", "6 in")
    one.keep("slab.thickness", "5 in")
    assert read_notes(draft) == {} == one.changes


def test_a_file_broken_meanwhile_is_told_and_its_mending_is_followed(pair, demo_copy):
    one, _, _ = pair
    good = demo_copy.read_text(encoding="utf-8")
    demo_copy.write_text(good.replace("above_grade", "above_grad"), encoding="utf-8")
    assert one.look() and "line" in one.problem
    demo_copy.write_text(good.replace('thickness = "5 in"', 'thickness = "7 in"'), encoding="utf-8")
    assert one.look() and not one.problem and one.job.raw["slab"]["thickness"] == "7 in"


def test_a_change_that_no_longer_fits_the_file_is_left_out_and_the_others_hold(pair, demo_copy):
    one, _, draft = pair
    one.keep("pads.2.depth", "12 in")
    one.keep("slab.thickness", "6 in")
    demo_copy.write_text('[slab]\nlength = "20 ft"\nwidth = "20 ft"\n', encoding="utf-8")
    assert current(demo_copy, draft)[2] == {"slab.thickness": "6 in"}


@pytest.mark.parametrize(
    "text", ["", "[", "[]", "3", "\x00", '{"nosuch.field": "1"}', '{"slab.thickness": ["x"]}']
)
def test_a_draft_that_makes_no_sense_changes_nothing(pair, demo_copy, text):
    _, _, draft = pair
    draft.write_text(text, encoding="utf-8")
    saved, job, changes = current(demo_copy, draft)
    assert job.raw == saved.raw and changes == {}


def test_saving_refuses_while_a_field_is_wrong(pair, demo_copy):
    one, _, _ = pair
    one.keep("slab.thickness", "6 in")
    one.broken["concrete.waste"] = "too much"
    before = demo_copy.read_bytes()
    with pytest.raises(JobError, match=r"mend concrete\.waste"):
        one.save()
    assert demo_copy.read_bytes() == before


@pytest.mark.parametrize("turn", range(10))
def test_two_who_save_different_fields_at_the_same_moment_are_both_kept(demo_copy, turn):
    start, jobs = threading.Barrier(2), [Job.read(demo_copy) for _ in range(2)]
    changes = [{"slab.thickness": "6 in"}, {"concrete.waste": "9 %"}]

    def save(n):
        start.wait()
        jobs[n].save(changes[n])

    both = [threading.Thread(target=save, args=(n,)) for n in range(2)]
    for thread in both:
        thread.start()
    for thread in both:
        thread.join()
    saved = Job.read(demo_copy).raw
    assert saved["slab"]["thickness"] == "6 in" and saved["concrete"]["waste"] == "9 %"
    assert not list(demo_copy.parent.glob(".*.lock"))
