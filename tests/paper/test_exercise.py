"""Exercises: right, wrong, nearly right, and unreadable answers."""

import json
import re

import pytest
from server import NOTEBOOKS

from calcbook.basis.units import Q
from calcbook.concrete.volumes import slab_volume
from calcbook.paper.exercise import Exercise
from calcbook.paper.learning import LESSONS, path_html, solved
from calcbook.paper.served import DRAFT

EXERCISE = Exercise(
    "How much concrete for 320 ft² at 4 in.?",
    slab_volume("320 ft2", "4 in"),
    "yd3",
    "Area by thickness, in one unit.",
    misses=[(Q(106.67, "yd3"), "That is cubic feet: 27 of them make a cubic yard.")],
)


@pytest.mark.parametrize("typed", ["3.95 yd3", "3.95 cu yd", "106.67 ft3", "3.02 m3"])
def test_a_right_answer_in_any_unit_is_right(typed):
    right, sentence = EXERCISE.check(typed)
    assert right and "Area by thickness" in sentence


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("106.67 yd3", "27 of them"),
        ("3.95", "no unit"),
        ("4.05 yd3", "Close"),
        ("12 yd3", "too large"),
        ("1 yd3", "too small"),
        ("about four", "not a number"),
    ],
)
def test_a_wrong_answer_is_explained(typed, said):
    right, sentence = EXERCISE.check(typed)
    assert not right and said in sentence


DRAWN = {"A": [Q(320, "ft2"), Q(500, "ft2")], "t": [Q(4, "in"), Q(5, "in"), Q(6, "in")]}


@pytest.fixture
def drawn():
    exercise = Exercise(
        "How much concrete for {A} at {t}?", slab_volume, "yd3", "Area by thickness.",
        misses=[(lambda A, t: 27 * slab_volume(A, t), "That is cubic feet.")], given=DRAWN,
    )  # fmt: skip
    exercise.show()
    return exercise


def test_another_go_has_other_numbers_and_the_answer_and_the_known_mistakes_follow_them(drawn):
    """The exercise against the formula that it asks of."""
    seen = set()
    for _ in range(3):
        seen.add(drawn.question)
        numbers = dict(drawn.numbers)
        assert drawn.answer == pytest.approx(slab_volume(**numbers).m_as("yd**3"))
        assert drawn.check(f"{27 * drawn.answer} yd3") == (False, "Not yet. That is cubic feet.")
        drawn.again()
    assert len(seen) == 3 and "320 ft² at 4 in." in min(seen)


def test_the_worked_solution_comes_after_two_wrong_tries_and_not_before(drawn):
    drawn.field.value = "1 yd3"
    assert not drawn.worked.value
    drawn.field.value = "2 yd3"
    assert "3.95" in drawn.worked.value and "Area by thickness" in drawn.worked.value
    drawn._new()
    assert not drawn.worked.value and drawn.tries == 0 and drawn.field.value == ""


def test_every_exercise_of_the_notebooks_stands_on_the_path_of_the_apprentice_once():
    found = [
        (key, path.stem)
        for path in sorted(NOTEBOOKS.glob("*.ipynb"))
        for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]
        for key in re.findall(r'\n    key="([\w-]+)",\n\)', "".join(cell["source"]))
    ]
    exercises = sum(
        path.read_text(encoding="utf-8").count(" = Exercise(") for path in NOTEBOOKS.glob("*.ipynb")
    )
    assert sorted(found) == sorted((lesson.key, lesson.stem) for lesson in LESSONS)
    assert len(found) == exercises


def test_what_is_solved_is_kept_in_a_file_of_the_readers_own_and_only_once(tmp_path, monkeypatch):
    (tmp_path / "drafts").mkdir()
    monkeypatch.setenv(DRAFT, str(tmp_path / "drafts" / "job.json"))
    exercise = Exercise("2 + 2?", 4, "1", "Four.", key="volume-1")
    exercise.show()
    for typed in ("5", "4", "4.0"):
        exercise.field.value = typed
    assert solved() == ["volume-1"] and "1 of" in path_html()
    (tmp_path / "progress.json").write_text("{broken", encoding="utf-8")
    assert solved() == []


def test_what_was_told_is_not_counted_as_solved(tmp_path, monkeypatch):
    (tmp_path / "drafts").mkdir()
    monkeypatch.setenv(DRAFT, str(tmp_path / "drafts" / "job.json"))
    exercise = Exercise("2 + 2?", 4, "1", "Four.", key="volume-1")
    exercise.show()
    for typed in ("5", "6", "4"):
        exercise.field.value = typed
    assert solved() == []
