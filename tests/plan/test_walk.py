"""An outline told by walking round it: legs, closing error, corners; and its drawing in letters."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.plan.text_plan import text_plan
from calcbook.plan.walk import (
    WalkError,
    corners,
    gap,
    l_walk,
    leg_text,
    read_walk,
    rectangle_walk,
    sides,
)

L = [(40, 0), (0, 18), (-12, 0), (0, 10), (-28, 0), (0, -28)]


@pytest.mark.parametrize(
    "text",
    [
        "right 40 ft, up 18 ft, left 12 ft, up 10 ft, left 28 ft, down 28 ft", "r 40 u 18 l 12 u 10 l 28 d 28",
        "40' east; 18' north; 12' west; 10' north; 28' west; 28' south", "Right 40'-0\" then up 18 then left 12 then up 10, l 28, d 28",
        "right 40, up 18\nleft 12, up 10\nleft 28, down 28",
    ],
)  # fmt: skip
def test_a_walk_is_read_in_several_ways(text):
    legs = read_walk(text)
    assert [pytest.approx(leg) for leg in L] == legs and gap(legs) == (0, 0)
    assert corners(legs) == [(0, 0), (40, 0), (40, 18), (28, 18), (28, 28), (0, 28)]
    assert sides(corners(legs))[2] == "left 12'-0\""


def test_meters_and_slanting_sides():
    legs = read_walk("right 7,5 m, right 1.2 m and up 0.9 m, up 3, left 8.7 m", "si")
    assert [round(v * 0.3048, 9) for v in legs[1]] == [1.2, 0.9]
    assert leg_text(gap(legs), "si") == "up 3.900 m"
    assert sides(corners(legs), "si")[1] == "right 1.200 m and up 0.900 m, 1.500 m long"


@pytest.mark.parametrize(
    ("text", "said"),
    [("hello", "names no way"), ("right", "write it like"), ("right 5 psi", "is a pressure, not a length"),
     ("right -3 ft", "more than 0"), ("right 0 ft", "more than 0"), ("40 ft right up 3 ft", "each leg alike")],
)  # fmt: skip
def test_a_walk_that_cannot_be_followed_is_refused_in_words(text, said):
    with pytest.raises(WalkError, match=said):
        read_walk(text)


@given(
    st.lists(
        st.tuples(st.integers(-9600, 9600), st.integers(-9600, 9600)).filter(any),
        min_size=1,
        max_size=9,
    )
)
def test_what_is_told_of_a_leg_can_be_typed_again_and_closes_the_walk(sixteenths):
    legs = [(x / 192, y / 192) for x, y in sixteenths]
    left = gap(legs)
    back = [(-left[0], -left[1])] if any(left) else []
    assert gap([*legs, *back]) == (0, 0)
    for leg in legs:
        assert read_walk(leg_text(leg)) == [pytest.approx(leg, abs=1e-9)]


def test_common_shapes():
    assert corners(rectangle_walk(24, 30)) == [(0, 0), (24, 0), (24, 30), (0, 30)]
    assert corners(l_walk(40, 28, 12, 10)) == [(0, 0), (40, 0), (40, 18), (28, 18), (28, 28), (0, 28)]
    with pytest.raises(WalkError, match="as large as the slab"):
        l_walk(40, 28, 40, 10)


def test_a_plan_in_letters_is_to_scale_and_numbers_its_sides():
    lines = text_plan(corners(L)).splitlines()
    assert len(lines) == 21 and max(map(len, lines)) == 57
    assert lines[-1] == "+---------------------------1---------------------------+"
    assert [line.count("+") for line in lines if "+" in line] == [2, 2, 2]
    assert sum(text_plan(corners(L)).count(n) for n in "123456") == 6


@settings(max_examples=50)
@given(st.integers(10, 10000), st.integers(10, 10000))
def test_a_plan_in_letters_keeps_its_room(length, width):
    lines = text_plan(corners(rectangle_walk(length / 10, width / 10))).splitlines()
    assert len(lines) <= 21 and max(map(len, lines)) <= 57
