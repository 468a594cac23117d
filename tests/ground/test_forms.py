"""Edge forms and stakes."""

import pytest
from shapes import demo_like

from calcbook.ground.forms import form_length, form_stakes, formed_openings


@pytest.mark.worked("form_length")
def test_forms_around_the_demo():
    assert form_length("136 ft", "15 ft").m == pytest.approx(151)
    assert [o.name for o in formed_openings(demo_like())] == ["trench"]  # the drain takes a sleeve


@pytest.mark.parametrize(("length", "corners", "spacing", "stakes"), [
    ("96 ft", 4, "4 ft", 28), ("97 ft", 4, "4 ft", 29), ("96 ft", 6, "3 ft", 38), ("10 ft", 0, "4 ft", 3),
])  # fmt: skip
def test_stakes_by_hand(length, corners, spacing, stakes):
    assert form_stakes(length, float(corners), spacing) == stakes


@pytest.mark.worked("form_stakes")
def test_stakes_stand_four_feet_apart_unless_told():
    assert form_stakes("96 ft", 4.0) == 28


def test_the_table_of_forms_has_the_sides_of_the_outline_in_their_order(demo, demo_book):
    """The corner points of the demo: 40, 18, 12, 10, 28 and 28 ft; 6 in. above the ground, a 2x8 is the next board."""
    blocks = demo_book.calculation("base").blocks
    (forms,) = [b for b in blocks if getattr(b, "title", "") == "Forms, side by side"]
    lengths = ["40'-0\"", "18'-0\"", "12'-0\"", "10'-0\"", "28'-0\"", "28'-0\""]
    assert [row[:2] for row in forms.rows] == [(str(n), length) for n, length in enumerate(lengths, 1)]
    assert {row[2:] for row in forms.rows} == {('6"', '6"', "2x8")}
