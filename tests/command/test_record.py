"""A record by questions in a real terminal, and what stands for it without one."""

import os

import pytest

from calcbook.command.cli import main
from calcbook.records.entering import entry_of, line_value
from calcbook.records.file import read_record
from calcbook.records.questions import QUESTIONS

JOB = """[job]
name = "Bait shop (invented)"
[slab]
length = "24 ft"
width = "30 ft"
"""


@pytest.fixture
def job(tmp_path, monkeypatch):
    monkeypatch.setenv("CALCBOOK_OWN", str(tmp_path / "own.toml"))
    path = tmp_path / "shop.toml"
    path.write_text(JOB, encoding="utf-8")
    return path


@pytest.mark.skipif(os.name == "nt", reason="a pseudo-terminal is needed")
def test_a_record_is_asked_for_and_every_question_may_be_skipped(job):
    from terminal import talk

    answers = [("Day of the pour", "6/1/2026"), ("lost to the weather", "1"), ("delivered", "?"),
               ("delivered", "a lot"), ("delivered", "10"), ("left over", "0.25 yd3"),
               ("A truck", "9 yd3, 07:30, 08:05"), ("A truck", ""), ("Depths", "4, 4 1/8 in, 4.25"),
               ("A task", "placing, 7:30, 9:45, 5"), ("A task", ""), ("footprint", "1:10 pm"), ("Machine on", ""),
               ("Air while", ""), ("Setting forms", "11.5"), ("cost in all", ""), ("Cracks", "0"),
               ("A test of strength", "72 h, 2100 psi, cylinder"), ("A test of strength", ""), ("logger", ""),
               ("went wrong", "")]  # fmt: skip
    places = {question.place for question in QUESTIONS}
    assert len(places) == len(QUESTIONS)
    status, shown = talk(
        ["record", job], [*answers[:14], *_skipped(shown_lines(job)), *answers[15:]], job.parent
    )
    assert status == 0 and "shop.toml is as it was" in shown and "write it like '9 yd3'" in shown
    assert job.read_text(encoding="utf-8") == JOB
    file = read_record(job.with_name("shop.record.toml")).file
    assert (file.record.date, file.record.lost_days, file.set.foot_print) == ("2026-06-01", 1, "13:10")
    assert file.concrete.delivered.m == 10 and len(file.base.depths) == 3 and file.cracks.seen == 0
    assert [(line.line, line.hours.m) for line in file.lines] == [("Setting forms", 11.5)]
    assert (
        file.work[0].people == 5
        and file.trucks[0].empty == "08:05"
        and file.strengths[0].strength.m == 2100
    )


def shown_lines(job):
    """The lines of work that are asked for, in order."""
    from calcbook.book.chapters import Book
    from calcbook.job.file import Job
    from calcbook.records.promise import promise

    return [line["line"] for line in promise(Book(Job.read(job)))["lines"] if "hours" in line]


def _skipped(lines):
    return [(line, "11.5" if line == "Setting forms" else "") for line in lines]


def test_without_a_terminal_it_is_begun_as_a_file_once(job, capsys):
    assert main(["record", str(job)]) == 2
    assert "record" in capsys.readouterr().err
    assert main(["record", str(job), "--blank"]) == 0
    path = job.with_name("shop.record.toml")
    text = path.read_text(encoding="utf-8")
    assert read_record(path).file.promised.volume.m > 0 and "leave it as it is" in text
    assert main(["record", str(job), "--blank"]) == 0
    assert path.read_text(encoding="utf-8") == text
    assert main(["learn", str(job.parent)]) == 2
    assert "nothing measured stands in these records yet" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("name", "typed", "entry"),
    [
        ("trucks", "9, 7:30, 8:05", {"load": "9 yd3", "arrived": "07:30", "empty": "08:05"}),
        ("trucks", ", 07:30", {"arrived": "07:30"}),
        ("work", "Sawing, 15:00, 17:30", {"task": "sawing", "start": "15:00", "end": "17:30"}),
        ("strengths", "7 day, 24 MPa, core", {"age": "7 day", "strength": "24 MPa", "by": "core"}),
        ("logs", "top.csv, top", {"file": "top.csv", "place": "top"}),
    ],
)
def test_an_entry_is_read_from_one_line(name, typed, entry):
    assert entry_of(name, "us", typed) == entry


@pytest.mark.parametrize(
    ("name", "typed", "words"),
    [
        ("trucks", "9, 7:30, 8:05, 7:40, 70, 1", "at most 5 values"),
        ("trucks", "9, half past", "is not a time of day"),
        ("logs", "top.csv", "place is missing"),
        ("strengths", "72 h, -5 psi", "is not allowed"),
    ],
)
def test_an_entry_that_cannot_be_used_is_told_in_words(name, typed, words):
    with pytest.raises(ValueError, match=words):
        entry_of(name, "us", typed)


def test_bare_hours_are_hours_and_bare_money_is_money():
    hours = [line_value("hours", typed, "us") for typed in ("11.5", "90 min", "")]
    assert hours == ["11.5 h", "90 min", ""]
    assert line_value("cost", "1,250.50", "us") == "1250.50 $"
