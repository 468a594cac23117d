"""Formulas that take lines from other formulas."""

import pytest

from calcbook.basis.formula import FORMULAS, arg, cite, formula, result
from calcbook.basis.inline import inline


def _made(name, body, **arguments):
    """A formula made for a test, taken out of the registry again."""
    made = formula(name, cite("mechanics"), result("in", name), **arguments)(body)
    del FORMULAS[made.name]
    return made


def half_for_test(x, share=0.5):
    y = x * share
    h = y + 0 * x
    return h


LENGTH, NUMBER = arg("in", "a length"), arg("1", "a share")
half = _made("half", half_for_test, x=LENGTH, share=NUMBER)


def outer_for_test(a):
    b = half.body(a)
    c = b + a
    return c


def test_the_lines_of_the_other_formula_stand_in_place_of_the_call():
    made = inline(_made("outer", outer_for_test, a=LENGTH))
    shown = [(line.name, line.value.magnitude) for line in made.lines(made.bind("4 in"))]
    assert shown == [("y", 2.0), ("b", 2.0), ("c", 6.0)]
    assert made("4 in").magnitude == 6.0


def by_keyword_for_test(a):
    b = half.body(a, share=0.2)
    return b


def with_sum_for_test(a):
    b = half.body(a + a)
    return b


def clash_for_test(a, y):
    b = half.body(a)
    c = b + y
    return c


@pytest.mark.parametrize(
    ("body", "said", "more"),
    [
        (by_keyword_for_test, "by position", {}),
        (with_sum_for_test, "plain names", {}),
        (clash_for_test, "both have a line y", {"y": LENGTH}),
    ],
)
def test_what_cannot_be_shown_is_refused(body, said, more):
    made = _made("wrong", body, a=LENGTH, **more)
    with pytest.raises(TypeError, match=said):
        inline(made)
