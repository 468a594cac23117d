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
