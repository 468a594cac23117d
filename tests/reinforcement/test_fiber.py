"""Fiber: amounts, test strengths, residual moments, and what matches steel."""

import pytest

from calcbook.basis.formula import FormulaError
from calcbook.basis.table import lookup
from calcbook.basis.units import Q
from calcbook.reinforcement.fiber import (
    c1609_strength,
    collapse_moment,
    cracking_moment,
    equivalent_in_bending,
    equivalent_in_tension,
    equivalent_wire,
    fiber_bags,
    fiber_collapse_load,
    fiber_weight,
    residual_moment_strength,
    residual_tension,
)  # fmt: skip

SLAB = {"f_r": Q(570, "psi"), "R_e3": 30.0, "b": Q(1, "in"), "h": Q(6, "in")}


@pytest.mark.published("ASTM C1609", "6 x 6 x 18 in")
def test_beam_test_strengths():
    """ASTM C1609, 6 x 6 x 18 in.: 7,200 lbf is 600 psi, 3,000 lbf is 250 psi (own arithmetic)."""
    assert c1609_strength("7200 lbf", "18 in", "6 in", "6 in").magnitude == pytest.approx(600)
    assert c1609_strength("3000 lbf", "18 in", "6 in", "6 in").magnitude == pytest.approx(250)


@pytest.mark.remembered("ACI 360R-10", "ch. 11")
def test_the_residual_moment_is_not_the_sum():
    """ACI 360R-10 ch. 11 (from memory), 570 psi, 30 %, 6 in.: 1,026 after the crack, 4,446 together."""
    part, whole = residual_moment_strength(**SLAB), collapse_moment(**SLAB)
    plain = cracking_moment(SLAB["f_r"], SLAB["b"], SLAB["h"])
    assert part.magnitude == pytest.approx(1026) and plain.magnitude == pytest.approx(3420)
    assert whole.magnitude == pytest.approx(4446) and whole == part + plain
    strong = residual_moment_strength(**(SLAB | {"R_e3": 177.0}))  # Fibers 2025 13(10) 133: above 100 %
    assert strong.magnitude == pytest.approx(1.77 * 3420)


@pytest.mark.remembered("ACI 360R-10", "after Meyerhof")
@pytest.mark.parametrize(("c_0", "c_1", "expected"), [(6, 2, 31835), (3.5, 3, 20075), (2, 4, 12331)])
def test_collapse_loads(c_0, c_1, expected):
    """ACI 360R-10 after Meyerhof (from memory), a = 2.764, l = 28.544 in.; own arithmetic."""
    found = fiber_collapse_load(Q(4446, "lbf*in/in"), "2.764 in", "28.544 in", c_0, c_1)
    assert found.magnitude == pytest.approx(expected, rel=5e-4)


@pytest.mark.remembered("ACI 544.4R-18", "")
@pytest.mark.parametrize(
    ("A_s", "f_y", "h", "f_c", "bending", "tension"),
    [
        pytest.param(0.028, 65000, 4, 3000, 112.1, 102.5, id="6x6-W1.4"),
        pytest.param(0.058, 65000, 4, 3000, 228.4, 212.3, id="6x6-W2.9"),
        pytest.param(0.0733, 60000, 6, 4000, 180.0, 165.1, id="#3 at 18 in."),
    ],
)
def test_residual_strength_that_matches_steel(A_s, f_y, h, f_c, bending, tension):
    """ACI 544.4R-18 (from memory), steel at mid-depth; own arithmetic to four figures."""
    steel = {"A_s": Q(A_s, "in2/ft"), "f_y": Q(f_y, "psi"), "h": Q(h, "in")}
    more = {"d": Q(h / 2, "in"), "f_c": Q(f_c, "psi")}
    assert equivalent_in_bending(**steel, **more).magnitude == pytest.approx(bending, abs=0.06)
    assert equivalent_in_tension(**steel).magnitude == pytest.approx(tension, abs=0.1)
    assert equivalent_wire(**steel, **more) == equivalent_in_bending(**steel, **more)
    shallow = more | {"d": Q(h / 4, "in")}
    assert equivalent_wire(**steel, **shallow) == equivalent_in_tension(**steel)


@pytest.mark.worked("residual_tension")
def test_tension_matches_the_steel_it_stands_for():
    f_150 = equivalent_in_tension("0.058 in2/ft", "65000 psi", "4 in")
    assert residual_tension(f_150, "12 in", "4 in").magnitude == pytest.approx(0.058 * 65000)


@pytest.mark.worked("fiber_bags", "fiber_weight")
def test_amounts():
    assert fiber_weight("17 yd3", "4 lb/yd3").magnitude == pytest.approx(68)
    assert fiber_bags("68 lb", "5 lb").magnitude == 14
    assert fiber_bags("70 lb", "5 lb").magnitude == 14
    assert fiber_bags("0.3 lb", "0.1 lb").magnitude == 3  # no bag for the noise of floating point


def test_dosages_of_aci_faq_926():
    """Read in a reprint: 0.5 to 1.5 lb/yd3 micro, 3.0 lb/yd3 and more macro; 1.68555 lb/yd3 for 1 kg/m3."""
    assert lookup("fiber", kind="micro fiber")["least_lb_per_yd3"] == 0.5
    assert lookup("fiber", kind="macro fiber")["least_lb_per_yd3"] == 3.0
    assert Q(30, "lb/yd3").m_as("kg/m**3") == pytest.approx(30 / 1.68555, rel=1e-4)


def test_a_ratio_given_as_a_share_is_refused():
    with pytest.raises(FormulaError, match="in percent"):
        residual_moment_strength(**(SLAB | {"R_e3": 0.3}))
