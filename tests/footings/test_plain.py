"""Strength of plain concrete, ACI 318-19 chapter 14."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.basis.formula import FormulaError, OutsideRange
from calcbook.footings.plain import (
    contact_area,
    plain_bearing_strength,
    plain_moment_strength,
    plain_one_way_shear_strength,
    plain_two_way_shear_strength,
    side_ratio,
    soil_deduction,
    spread_area,
    thickness_under_post,
)  # fmt: skip


@pytest.mark.published("McCormac", "Example 12.10")
def test_two_inches_are_not_counted():
    """McCormac Example 12.10: 24 in. counts as 22."""
    assert soil_deduction("24 in").magnitude == pytest.approx(22)
    assert thickness_under_post("5 in", "9 in").magnitude == pytest.approx(14)


@pytest.mark.worked("plain_moment_strength")
def test_bending_of_the_mccormac_footing():
    """Example 12.10 (read in a reprint) has phi 0.55; with today's 0.60: 159,059 lbf in, 13.25 ft-kip."""
    found = plain_moment_strength("3000 psi", "12 in", soil_deduction("24 in"))
    assert found.m_as("lbf*inch") == pytest.approx(159_059, abs=1)
    assert found.m_as("kip*foot") == pytest.approx(13.25, abs=0.005)
    older = plain_moment_strength("3000 psi", "12 in", "22 in", phi=0.55)
    assert older.magnitude == pytest.approx(found.magnitude * 0.55 / 0.60)
    light = plain_moment_strength("3000 psi", "12 in", "22 in", lam=0.75)
    assert light.magnitude == pytest.approx(found.magnitude * 0.75)


@pytest.mark.worked("plain_one_way_shear_strength")
def test_one_way_shear():
    """4/3 root(3600) 12 x 10, times 0.60: 5,760 lbf; own arithmetic with Table 14.5.5.1(a)."""
    found = plain_one_way_shear_strength("3600 psi", "12 in", "10 in")
    assert found.magnitude == pytest.approx(5760)
    light = plain_one_way_shear_strength("3600 psi", "12 in", "10 in", lam=0.75, phi=1.0)
    assert light.magnitude == pytest.approx(5760 * 0.75 / 0.6)


@pytest.mark.remembered("ACI 318-19", "Table 14.5.5.1")
@pytest.mark.parametrize(("beta", "coefficient"), [(1, 2.667), (2, 2.667), (3, 2.222), (4, 2.000)])
def test_two_way_shear_by_shape_of_post(beta, coefficient):
    """ACI 318-19 Table 14.5.5.1(b)(c); the 2011 code prints 2.66, 0.3 % less (recomputed)."""
    found = plain_two_way_shear_strength("3600 psi", "100 in", "10 in", beta, phi=1.0)
    assert found.magnitude == pytest.approx(coefficient * 60 * 1000, rel=3e-4)
    assert found.magnitude == pytest.approx(min(coefficient, 2.66) * 60 * 1000, rel=3e-3)


def test_two_way_shear_is_reduced():
    """Own arithmetic on ACI 318-19 Table 14.5.5.1, from memory: 8/3 of the root, 0.75 for light
    aggregate, phi 0.60.
    """
    found = plain_two_way_shear_strength("3600 psi", "100 in", "10 in", 2, lam=0.75)
    assert found.magnitude == pytest.approx(0.6 * 0.75 * 8 / 3 * 60 * 1000)


@pytest.mark.remembered("ACI 318-19", "14.5.6.1")
@pytest.mark.parametrize(
    ("around", "more"), [("30.25 in2", 1), ("68.0625 in2", 1.5), ("121 in2", 2), ("900 in2", 2)]
)
def test_bearing_under_a_post(around, more):
    """0.60 x 0.85 f'c A1 root(A2/A1), at most double: ACI 318-19 14.5.6.1; own arithmetic."""
    found = plain_bearing_strength("4000 psi", "30.25 in2", around)
    assert found.magnitude == pytest.approx(0.6 * 0.85 * 4000 * 30.25 * more)


@pytest.mark.form("ACI 318M-19", "22.8.3.2: sides 1 to 2", "spread_area")
@pytest.mark.parametrize(
    ("L", "B", "c_1", "c_2", "h", "wide"),
    [
        pytest.param(36, 30, 5.5, 5.5, 14, (30 / 5.5) ** 2, id="as wide as the pad"),
        pytest.param(96, 96, 6, 6, 8, (38 / 6) ** 2, id="2 along for 1 down"),
        pytest.param(96, 96, 4, 8, 8, (40 / 8) ** 2, id="2 for 1, oblong post"),
        pytest.param(96, 96, 8, 4, 8, (40 / 8) ** 2, id="2 for 1, oblong post the other way"),
        pytest.param(60, 24, 12, 4, 30, 5**2, id="oblong post"),
        pytest.param(5, 5, 5.5, 5.5, 8, 1, id="pad no wider than the post"),
    ],
)
def test_spread_under_a_post(L, B, c_1, c_2, h, wide):
    sizes = dict(
        zip(("L", "B", "c_1", "c_2", "h"), (f"{x} in" for x in (L, B, c_1, c_2, h)), strict=True)
    )
    assert spread_area(**sizes).magnitude == pytest.approx(c_1 * c_2 * wide)


@pytest.mark.worked("contact_area", "side_ratio")
def test_shape_of_a_post():
    assert side_ratio("4 in", "6 in") == pytest.approx(1.5)
    assert side_ratio("6 in", "4 in") == pytest.approx(1.5)
    assert contact_area("4 in", "6 in").magnitude == pytest.approx(24)


@settings(max_examples=30, deadline=None)
@given(st.floats(2500, 9000), st.floats(6, 60), st.floats(1, 4))
def test_strength_grows_with_thickness_and_concrete(f_c, h, beta):
    for formula, more in (
        (plain_moment_strength, {"b": 12.0}),
        (plain_one_way_shear_strength, {"b": 12.0}),
        (plain_two_way_shear_strength, {"b_o": 60.0, "beta": beta}),
    ):
        base = formula.bulk(f_c=f_c, h=h, **more)
        assert formula.bulk(f_c=f_c * 1.1, h=h, **more) > base
        assert formula.bulk(f_c=f_c, h=h * 1.1, **more) > base


def test_arrays_and_single_values_agree():
    """A law: in bulk as one by one."""
    h = np.array([6.0, 10.0, 22.0])
    many = plain_moment_strength.bulk(f_c=3000.0, b=12.0, h=h)
    assert many[2] == pytest.approx(plain_moment_strength("3000 psi", "12 in", "22 in").magnitude)


def test_weak_concrete_is_flagged_and_nonsense_refused():
    with pytest.warns(OutsideRange, match="2,000 psi is outside 2,500 psi to 10,000 psi"):
        plain_moment_strength("2000 psi", "12 in", "10 in")
    with pytest.raises(FormulaError, match="thickness counted in strength"):
        plain_moment_strength("3000 psi", "12 in", "0 in")
