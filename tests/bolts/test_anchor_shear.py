"""Anchors in shear: ACI 349.2R-07 Example A2, laws of the edge, pryout, interaction."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.basis.units import Q
from calcbook.bolts.anchor_shear import (
    basic_breakout_shear,
    breakout_shear,
    interaction,
    pryout,
    pryout_factor,
    steel_shear,
)
from calcbook.bolts.anchors import basic_breakout


def inch(x):
    return Q(x, "in")


def lbf(quantity):
    return quantity.m_as("lbf")


@pytest.mark.published(
    "ACI 349.2R-07",
    "Example A2",
    "basic_breakout_shear",
    "breakout_shear_towards",
    "breakout_shear_along",
    "breakout_shear_front",
    "pryout",
)
def test_aci_349_2r_example_a2():
    """ACI 349.2R-07, Example A2: welded 1/2 in. stud, edges 10 and 18 in., 18 in. deep concrete, h_ef 3.06 in."""
    assert lbf(steel_shear(Q(0.19635, "in2"), "65000 psi", 1.0)) == pytest.approx(12762.7, rel=1e-4)
    V_b = basic_breakout_shear("4000 psi", inch(0.5), inch(3.06), inch(10), 8.0)
    assert lbf(breakout_shear(V_b, inch(10), inch(18), inch(18), inch(18))) == pytest.approx(
        16253.8, rel=1e-4
    )
    N_cb = basic_breakout("4000 psi", inch(3.06))
    assert lbf(pryout(N_cb, pryout_factor(inch(3.06)))) == pytest.approx(16250.0, rel=1e-4)


def test_a_bolt_that_is_not_welded():
    """Own arithmetic with the data of A2: coefficient 7 gives 14,222 lbf."""
    assert lbf(basic_breakout_shear("4000 psi", inch(0.5), inch(3.06), inch(10))) == pytest.approx(
        14222, abs=0.6
    )


def test_a_sill_bolt_near_its_edge():
    """Own arithmetic: 5/8 in., 7 in. deep, 1-3/4 in. from the edge, 2,500 psi: V_b 971 lbf, along the edge 1,942."""
    V_b = basic_breakout_shear("2500 psi", inch(0.625), inch(7), inch(1.75))
    assert lbf(V_b) == pytest.approx(970.92, abs=0.01)
    sides = dict(c_a1=inch(1.75), c_2=inch(60), c_3=inch(60), h_a=inch(12))
    assert lbf(breakout_shear(V_b, **sides)) == pytest.approx(970.92, abs=0.01)
    assert lbf(breakout_shear(V_b, direction="along", **sides)) == pytest.approx(1941.84, abs=0.02)


@pytest.mark.remembered("ACI 318-19", "Eq. 17.7.2.2.1b")
def test_thick_bolts_are_capped():
    """ACI 318-19 Eq. 17.7.2.2.1b, own arithmetic: 9 root(2500) 4^1.5 = 3,600 lbf; lightweight 0.75."""
    assert lbf(basic_breakout_shear("2500 psi", inch(2), inch(16), inch(4))) == pytest.approx(3600)
    assert lbf(basic_breakout_shear("2500 psi", inch(2), inch(16), inch(4), lam=0.75)) == pytest.approx(
        2700
    )
    thin = basic_breakout_shear("2500 psi", inch(0.625), inch(7), inch(1.75), lam=0.75)
    assert lbf(thin) == pytest.approx(0.75 * 970.92, abs=0.01)


@pytest.mark.parametrize(
    ("direction", "side", "twice"), [("towards", 0.7 + 0.3 * 4 / 9, 1), ("along", 1.0, 2)]
)
def test_a_row_in_thin_concrete_at_a_corner(direction, side, twice):
    """Own arithmetic: c_a1 6 in., corner 4 in., other side far, 5 in. thick, two bolts 7 in. apart, 1 in. off centre."""
    found = breakout_shear(
        Q(5000, "lbf"),
        inch(6),
        inch(4),
        inch(50),
        inch(5),
        inch(7),
        2.0,
        1.4,
        inch(1),
        direction=direction,
    )
    A = (4 + 7 + 9) * 5 / (4.5 * 36)
    expected = twice * A / (1 + 1 / 9) * side * 1.4 * (9 / 5) ** 0.5 * 5000
    assert lbf(found) == pytest.approx(expected)


@pytest.mark.parametrize("direction", ["towards", "along"])
def test_a_row_is_never_more_than_its_bolts(direction):
    """Own arithmetic: bolts 100 in. apart do not share a cone, so three carry three times one."""
    one = breakout_shear(Q(5000, "lbf"), inch(4), inch(90), inch(90), inch(30), direction=direction)
    row = breakout_shear(
        Q(5000, "lbf"), inch(4), inch(90), inch(90), inch(30), inch(100), 3.0, direction=direction
    )
    assert lbf(row) == pytest.approx(3 * lbf(one))


@settings(max_examples=40, deadline=None)
@given(st.floats(1.5, 12), st.floats(2, 20), st.floats(3, 20), st.sampled_from(["towards", "along"]))
def test_an_edge_that_comes_nearer_never_helps(c_a1, side, h_a, direction):
    def held(c):
        V_b = basic_breakout_shear("3000 psi", inch(0.5), inch(7), inch(c))
        return breakout_shear(V_b, inch(c), inch(side), inch(50), inch(h_a), direction=direction)

    assert held(0.95 * c_a1) <= held(c_a1) * (1 + 1e-12)
    V_b = basic_breakout_shear("3000 psi", inch(0.5), inch(7), inch(c_a1))
    there = breakout_shear(V_b, inch(c_a1), inch(side), inch(50), inch(h_a), direction=direction)
    nearer = breakout_shear(V_b, inch(c_a1), inch(0.9 * side), inch(50), inch(h_a), direction=direction)
    assert nearer <= there * (1 + 1e-12)


@pytest.mark.parametrize(("size", "expected"), [("0.1419", 4938), ("0.226", 7865)])
def test_steel_in_shear(size, expected):
    """F1554 Grade 36, 0.6 A_se f_uta (own arithmetic with the printed areas)."""
    V = steel_shear(Q(float(size), "in2"), "58000 psi")
    assert lbf(V) == pytest.approx(expected, abs=1)
    assert lbf(steel_shear(Q(float(size), "in2"), "58000 psi", k_g=0.8)) == pytest.approx(0.8 * lbf(V))


@pytest.mark.remembered("ACI 318-19", "17.7.3.1")
def test_pryout_factor():
    """ACI 318-19 17.7.3.1: 1 below 2.5 in., else 2."""
    assert (pryout_factor(inch(2.49)), pryout_factor(inch(2.5)), pryout_factor(inch(7))) == (
        1.0,
        2.0,
        2.0,
    )
    assert lbf(pryout(Q(1000, "lbf"))) == pytest.approx(2000)


@pytest.mark.remembered("ACI 318-19", "Eq. 17.8.3")
def test_interaction():
    """ACI 318-19 Eq. 17.8.3: 0.5 and 0.7 make 1.2."""
    assert interaction("500 lbf", "1000 lbf", "1400 lbf", "2000 lbf") == pytest.approx(1.2)
