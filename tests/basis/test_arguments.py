"""One reader of arguments, for formulas and procedures, single values and arrays."""

import numpy as np
import pytest

from calcbook.basis.arguments import FormulaError, arg, quantities, quantity, reason
from calcbook.basis.units import Q

THICKNESS = arg("in", "thickness", above=0, high=48)


@pytest.mark.parametrize("given", ["5 in", '5"', Q(5, "in"), "127 mm", Q(5 / 12, "ft")])
def test_a_length_is_read_in_the_declared_unit(given):
    assert THICKNESS.read("f", "t", given) == pytest.approx(5)
    found = quantity("f", "t", given, THICKNESS)
    assert found.units == Q(1, "in").units and found.m == pytest.approx(5)


def test_a_number_without_a_unit_is_taken_only_where_it_is_asked_for():
    with pytest.raises(FormulaError, match=r"f: t \(thickness\): 5"):
        THICKNESS.read("f", "t", 5)
    assert THICKNESS.read("f", "t", 5, bare=True) == 5
    assert arg("1", "share").read("f", "s", 0.3) == 0.3
    assert arg("1", "share").read("f", "s", "30 %") == pytest.approx(0.3)


def test_an_array_is_held_to_the_limits_whole():
    assert THICKNESS.read("f", "t", Q(np.array([1.0, 2.0]), "ft")) == pytest.approx([12, 24])
    with pytest.raises(
        FormulaError, match="is an array with a value; it must be above 0 in. and at most"
    ):
        THICKNESS.read("f", "t", Q(np.array([1.0, 5.0]), "ft"))


def test_a_difference_of_temperatures_is_no_temperature():
    for given in (Q(5, "delta_degF"), "5 delta_degF"):
        with pytest.raises(FormulaError, match="mixes up a temperature and a difference"):
            arg("degF", "air").read("f", "T", given)
    assert arg("degF", "air").read("f", "T", Q(0, "degC")) == pytest.approx(32)


def test_a_word_is_one_of_its_choices():
    kind = arg("1", "kind", choices=("cast", "drilled"))
    assert quantity("f", "kind", "cast", kind) == "cast"
    with pytest.raises(FormulaError, match="f: kind = 'glued'; choose cast or drilled"):
        kind.read("f", "kind", "glued")


def test_several_are_read_by_name_and_a_refusal_makes_a_sentence():
    specs = {"t": THICKNESS, "n": arg("1", "number", low=1)}
    assert quantities("f", specs, t="5 in", n=2) == {"t": Q(5, "in"), "n": 2}
    with pytest.raises(FormulaError) as caught:
        quantities("f", specs, t="50 in", n=2)
    assert reason(caught.value) == "T (thickness) is 50 in.; it must be above 0 in. and at most 48 in."
