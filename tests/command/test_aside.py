"""The process beside the pages: what it works out is what the page would have shown, and stands with its job."""

from calcbook.book.chapters import Book
from calcbook.command.aside import Aside
from calcbook.command.state import JobState
from calcbook.job.file import Job
from calcbook.job.files import read_notes
from calcbook.paper.late import late_file, mark
from calcbook.paper.screen import choices_html, headlines_html

SMALL = '[slab]\nlength = "20 ft"\nwidth = "16 ft"\nplate = false\n[prices]\nconcrete = "$170 / yd3"\n'


def test_checks_headlines_and_choices_of_a_job_stand_in_the_file_of_late_results(tmp_path):
    path, draft = tmp_path / "small.toml", tmp_path / "draft.toml"
    path.write_text(SMALL, encoding="utf-8")
    beside = Aside(path, draft)
    assert beside.step() and not beside.step()
    found, job = read_notes(late_file(draft)), Job.read(path)
    assert found["of"] == mark(job)
    parts = found["parts"]
    assert parts["choices"]["answer"] == choices_html(job) and "as it stands" in choices_html(job)
    assert parts["headlines"]["answer"] == headlines_html(Book(job))
    state = JobState(path, draft)
    assert state.told()["checks"] and not state.told()["more"]
    assert f" {len(Book(job).checks)} checks" in state.told()["checks"], "as many as on the page"
    path.write_text(SMALL.replace("170", "180"), encoding="utf-8")
    assert state.told()["checks"] == "", "what was found of another job is not told of this one"
    assert beside.step() and state.told()["checks"]
    assert read_notes(late_file(draft))["of"] == mark(Job.read(path))
