"""Exercises: right, wrong, nearly right, and unreadable answers."""

import pytest

from calcbook.basis.units import Q
from calcbook.concrete.volume import slab_volume
from calcbook.paper.exercise import Exercise

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
