"""Formulas compute on plain numbers of one coherent set: pint says the same, line by line."""

import ast

import numpy as np
import pytest
from formula_values import FORMULAS, bound

from calcbook.basis.calculation import Calculation
from calcbook.basis.coherent import from_coherent, to_coherent
from calcbook.basis.formula import Formula, FormulaError, arg, cite, result
from calcbook.basis.units import TRADE_UNITS, Q, Quantity, number_in, unit, ureg


def by_pint(f, values):
    """Every line of a body on quantities, by name."""
    scope = dict(values)
    with np.errstate(all="ignore"):
        for name, expression in f.assignments:
            code = compile(ast.fix_missing_locations(ast.Expression(expression)), name, "eval")
            scope[name] = eval(code, f.body.__globals__, scope)
    return scope


@pytest.mark.parametrize("name", FORMULAS)
@pytest.mark.parametrize("share", [0.05, 0.37, 0.48])
def test_every_line_on_plain_numbers_is_what_pint_gives_and_in_its_dimension(name, share):
    f = FORMULAS[name]
    values = bound(f, share)
    expected = by_pint(f, values)
    with np.errstate(all="ignore"):
        lines = f.lines(values)
    for line in lines:
        given = expected[line.name]
        dimension = given.dimensionality if isinstance(given, Quantity) else {}
        assert dimension == unit(line.unit).dimensionality, line.name
        found, given = (
            number_in(x, line.unit) if isinstance(x, Quantity) else x for x in (line.value, given)
        )
        assert found == pytest.approx(given, rel=1.5e-14, abs=0, nan_ok=True), line.name


@pytest.mark.parametrize("name", TRADE_UNITS)
def test_a_unit_goes_to_the_coherent_set_and_back(name):
    for value in (0.0, 1.0, 24.25, 1e-3, 4.0e5):
        assert from_coherent(to_coherent(value, name), name) == pytest.approx(
            value, rel=1e-15, abs=2e-13
        )


def test_temperatures_turn_to_kelvins_by_the_fixed_points_of_water():
    for kelvin, fahrenheit, celsius in ((273.15, 32, 0), (373.15, 212, 100), (0, -459.67, -273.15)):
        assert to_coherent(fahrenheit, "degF") == pytest.approx(kelvin, abs=1e-12)
        assert to_coherent(celsius, "degC") == pytest.approx(kelvin, abs=1e-12)
        assert from_coherent(kelvin, "degF") == pytest.approx(fahrenheit, abs=1e-12)
        assert from_coherent(kelvin, "degC") == pytest.approx(celsius, abs=1e-12)


def test_whole_multiples_of_the_coherent_set_stay_whole():
    assert to_coherent(24.25, "yd3") == 24.25 * 46656 and to_coherent(3, "ft2") == 432
    assert to_coherent(1728, "pcf") == 1 and to_coherent(30, "min") == 0.5


# --- the proof ------------------------------------------------------------------------------


def made(body, unit_name, shows=None, **arguments):
    """A formula for these tests that is in no registry."""
    specs = {name: arg(unit, name, low=0) for name, unit in arguments.items()}
    return Formula(body, "Test", cite("geometry"), result(unit_name, "result"), specs, shows or {})


def test_a_result_of_another_kind_is_refused_at_the_first_use():
    def body(L, B):
        A = L * B
        return A

    for use in (lambda f: f("3 in", "2 in"), lambda f: f.bulk(L=3, B=np.array([2, 5]))):
        with pytest.raises(FormulaError, match=r"body gave 6(\.0)? inch"):
            use(made(body, "in", L="in", B="in"))
    assert made(body, "in2", L="in", B="in")("3 in", "2 in") == Q(6.0, "in2")


def test_lines_that_do_not_agree_are_refused():
    def body(L, P):
        both = L + P
        return both

    with pytest.raises(FormulaError, match="do not agree in their units"):
        made(body, "in", L="in", P="psi")("3 in", "2 psi")


def test_a_line_shown_in_a_unit_of_another_kind_is_refused():
    def body(L, B):
        A = L * B
        x = A / L
        return x

    f = made(body, "in", {"A": "psi"}, L="in", B="in")
    with pytest.raises(FormulaError, match="body: A is 6.0 inch"):
        f.lines(f.bind("3 in", "2 in"))


def test_an_empty_array_proves_nothing():
    def body(L):
        x = L * L
        return x

    f = made(body, "in", L="in")
    assert f.bulk(L=np.array([])).size == 0
    with pytest.raises(FormulaError, match="gave 9 inch"):
        f.bulk(L=3)


def test_the_body_runs_on_quantities_once_only():
    def body(L):
        x = 2 * L
        return x

    f, seen = made(body, "in", L="in"), []

    def watched(L):
        seen.append(type(L))
        return body(L)

    f.body = watched
    for _ in range(3):
        f("3 in")
    assert seen == [ureg.Quantity, float, float, float]


def test_raw_takes_coherent_numbers_and_fills_in_the_defaults():
    order = FORMULAS["order_volume"]
    whole = {n: to_coherent(v, order.arguments[n].unit) for n, v in (("V", 10.0), ("waste", 0.08))}
    expected = order.bulk(V=10.0)
    assert from_coherent(order.raw(**whole), "yd3") == pytest.approx(expected)
    assert order.raw(V=whole["V"]) == order.raw(**whole)  # its own waste


def test_a_step_of_another_kind_is_refused_when_it_is_shown():
    """A step is computed on numbers alone; its lines, which papers and pages show, prove it."""

    def body(L, B):
        A = L * B
        return A

    calc = Calculation("slab", "Test", "")
    calc.step(made(body, "in", L="in", B="in"), L="3 in", B="2 in")
    with pytest.raises(FormulaError, match="body: A is 6.0 inch"):
        _ = calc.blocks[0].shown
