"""Anchors against printed examples: ACI 349.2R-07, as the tests of an open finite-element library quote it."""

import pytest

from calcbook.basis.units import Q
from calcbook.bolts.anchor_shear import basic_breakout_shear, interaction, pryout, steel_shear
from calcbook.bolts.anchors import (
    basic_breakout,
    basic_breakout_deep,
    bolt_stress_area,
    headed_pullout,
    steel_tension,
)

kN = 1 / 4.4482216e-3  # lbf


@pytest.mark.published(
    "ACI 349.2R-07",
    "Example A3",
    "steel_tension",
    "basic_breakout",
    "headed_pullout",
    "steel_shear",
    "pryout",
)
def test_single_stud_in_tension_and_shear():
    """Example A3: 5/8 in. stud of 65 ksi, h_ef 6.63 in., A_brg 0.92 in2, 4,000 psi; printed in kips."""
    A_se = "0.306796 in2"
    assert steel_tension(A_se, "65 ksi").m == pytest.approx(19941.76, abs=0.5)
    N_cb = basic_breakout("4000 psi", "6.63 in")
    assert N_cb.m == pytest.approx(25912.6, abs=0.5)
    assert headed_pullout("4000 psi", "0.92 in2").m == pytest.approx(29440, abs=0.5)
    assert steel_shear(A_se, "65 ksi", k_V=1).m == pytest.approx(19941.76, abs=0.5)  # a stud: factor 1
    assert pryout(N_cb).m == pytest.approx(51825.24, abs=1)


@pytest.mark.published("ACI 349.2R-07", "Example A3", "basic_breakout_shear")
def test_shear_of_the_single_stud_before_the_cap_of_today():
    """Example A3: 25.20286 kip with the factor 8; ACI 318-19 caps it at 9 sqrt(f'c) c^1.5, by hand 23,662 lb."""
    V_b = basic_breakout_shear("4000 psi", "0.625 in", "6.63 in", "12 in", k_b=8)
    assert V_b.m == pytest.approx(9 * 4000**0.5 * 12**1.5, rel=1e-6)
    uncapped = basic_breakout_shear("4000 psi", "0.625 in", "6.63 in", "12 in", k_b=7).m * 8 / 7
    assert uncapped == pytest.approx(25202.86, abs=1)


@pytest.mark.published("ACI 349.2R-07", "Example A3, article D.7", "interaction")
def test_interaction_of_the_single_stud():
    """Example A3: 8 of 15.9534 and 6 of 14.9563 kip, at most 1.2; the sum 0.9026 is own arithmetic."""
    found = interaction("8000 lbf", "15953.4 lbf", "6000 lbf", "14956.3 lbf")
    assert float(found) == pytest.approx(0.9026, abs=5e-5)


@pytest.mark.published(
    "ACI 349.2R-07",
    "Example A4",
    "bolt_stress_area",
    "steel_tension",
    "basic_breakout_deep",
    "headed_pullout",
)
def test_single_deep_bolt():
    """Example A4: F1554 Grade 105, 1-1/8 in., h_ef 17.57 in., washer 2-1/4 in. square; printed in mm2 and kN."""
    A_se = bolt_stress_area("1.125 in", "7 1/in")
    assert A_se.m == pytest.approx(492.433431 / 25.4**2, rel=1e-4)
    assert steel_tension(A_se, "125 ksi").m == pytest.approx(424.4776 * kN, rel=5e-4)  # there 862 MPa
    assert basic_breakout_deep("4000 psi", "17.57 in").m == pytest.approx(534.5107 * kN, rel=5e-4)
    net = Q(2.25**2 - 3.14159265 * 1.125**2 / 4, "in2")
    assert headed_pullout("4000 psi", net).m == pytest.approx(579.1201 * kN, rel=1e-4)
