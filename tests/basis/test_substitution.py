"""Every formula of the book, read back from what is printed: the numbers shown give the result shown.

Each line is printed with all its digits, then read as an engineer reads it and worked out again, with
units. A formula that is bound to its units may also be worked out with the bare numbers.
"""

import warnings

import numpy as np
import pint
import pytest
from formula_values import FORMULAS, bound
from reading import read_back, read_typst

from calcbook.basis import by_hand
from calcbook.basis.markup import TYPST
from calcbook.basis.units import ureg


@pytest.fixture
def all_digits(monkeypatch):
    monkeypatch.setattr(by_hand, "number_text", lambda value, digits=3: f"{value:.15g}")
    monkeypatch.setattr(by_hand, "money_text", lambda value, system="us": f"${value:.15g}")


def same(a, b):
    a, b = (x if isinstance(x, ureg.Quantity) else ureg.Quantity(x) for x in (a, b))
    if a.dimensionality != b.dimensionality:
        return False
    return a.to_base_units().m == pytest.approx(b.to_base_units().m, rel=1e-6, abs=1e-12)


def agrees(pieces, read):
    """True where the substituted side gives a result shown, with units or with the bare numbers."""
    results = pieces.result.split(" = ")  # a metric job shows a unit-bound result in both units
    for units in (True, False):
        try:
            value = read(pieces.substituted, units)
        except (pint.DimensionalityError, pint.OffsetUnitCalculusError):
            continue
        if any(same(value, read(result, units)) for result in results):
            return True
    return False


@pytest.mark.parametrize("system", ["us", "si"])
@pytest.mark.parametrize("name", FORMULAS)
def test_the_numbers_shown_give_the_result_shown(name, system, all_digits):
    f = FORMULAS[name]
    with np.errstate(all="ignore"), warnings.catch_warnings():
        warnings.simplefilter("ignore")
        values = bound(f)
        lines = by_hand.shown_lines(f, values, f.lines(values), system)
    for line in lines:
        assert agrees(line.on_screen, read_back), line.latex()
        assert agrees(line.on_paper, read_typst), line.typst()
    last = lines[-1].results[0 if f.unit_bound else -1]  # and it is the value that the formula gives
    assert same(read_typst(TYPST.value(last)), f.evaluate(values))


@pytest.mark.parametrize(
    ("latex", "value"),
    [
        (r"\frac{ \text{3 ft}^{2} {} }{ \text{2 ft} } \cdot \left( 1 + 2 \cdot \text{0.5} ^{ 2 } \right)", "2.25 ft"),
        (r"- \left( 3 - \text{5} \right) ^{ 2 }", "-4"), (r"\sqrt { \text{9 psi} \cdot \text{4 psi} }", "6 psi"),
        (r"\min \left( \text{2 in.} ,\  \text{1 ft} \right)", "2 inch"), (r"\left \lceil \frac{ \text{7 ft} {} }{ \text{2 ft} } \right \rceil", "4"),
        (r"\text{4.8}\times 10^{-6}\text{ per F°} \cdot \text{10 F°}", "4.8e-5"), (r"\text{\$1,250.50/yd}^{3} \cdot \text{2 yd}^{3}", "2501 dollar"),
        (r"\exp \left( \left( - 1 \right) \cdot \text{0} \right) - 6 \cdot 2 - 1", "-12"), (r"\text{50\%}", "0.5"),
    ],
)  # fmt: skip
def test_the_reader_reads_mathematics_as_it_is_written(latex, value):
    assert same(read_back(latex), ureg.Quantity(value))


@pytest.mark.parametrize(
    "latex", [r"\text{3 ft} \text{2 ft}", r"\left( 3", r"\unknown \left( 3 \right)", r"3 +"]
)
def test_the_reader_refuses_what_it_does_not_know(latex):
    with pytest.raises((ValueError, TypeError)):
        read_back(latex)
