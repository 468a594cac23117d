"""Concrete properties, margins, joints, curling and soil tables."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.basis.formula import FormulaError, OutsideRange
from calcbook.basis.table import table
from calcbook.basis.units import Q
from calcbook.slab.properties import (
    allowable_stress,
    concrete_modulus,
    curling_coefficient,
    curling_stress,
    joint_stress,
    modulus_of_rupture,
    presumptive_bearing,
    safety_factor,
    subgrade_modulus,
)  # fmt: skip


@pytest.mark.form("ACI 318M-19", "19.2.2.1(b)", "concrete_modulus")
def test_modulus_of_3000_psi_concrete():
    """3,122,019 psi: 57000 root(3000), own arithmetic; the metric edition has 4700 root(f'c), rounded."""
    assert concrete_modulus("3000 psi").magnitude == pytest.approx(3122019, abs=1)
    metric = 4700 * Q(3000, "psi").m_as("megapascal") ** 0.5
    assert concrete_modulus("3000 psi").m_as("megapascal") == pytest.approx(metric, rel=0.008)


@pytest.mark.published("UFC 3-320-06A", "Table 3-2 note a")
@pytest.mark.remembered("ACI 318-19", "19.2.3.1")
@pytest.mark.parametrize(
    ("factor", "expected"),
    [
        pytest.param(7.5, 410.8, id="ACI 318-19 19.2.3.1, own arithmetic"),
        pytest.param(9, 492.95, id="UFC 3-320-06A Table 3-2 note a, own arithmetic"),
    ],
)
def test_modulus_of_rupture(factor, expected):
    found = modulus_of_rupture("3000 psi", factor)
    assert found.magnitude == pytest.approx(expected, abs=0.01)
    assert modulus_of_rupture("3000 psi", factor, 0.75).magnitude == pytest.approx(
        0.75 * expected, abs=0.01
    )


@pytest.mark.remembered("ACI 360R-10", "appendix 1")
@pytest.mark.form(
    "UFC 3-250-10FA", "5-3, Eq. 5-1: flexural strength over stress", "allowable_stress", "safety_factor"
)
def test_working_stress_of_the_aci_360r_example():
    """ACI 360R-10 appendix 1 (from memory): 640 psi over 1.7 is 376 psi. That strength stands over stress was read."""
    assert allowable_stress("640 psi", 1.7).magnitude == pytest.approx(376, abs=0.5)
    assert safety_factor("640 psi", "376.47 psi") == pytest.approx(1.7, abs=1e-4)


@pytest.mark.published("UFC 3-260-03", "chapter 4, at Figure 4-11", "joint_stress")
def test_a_joint_takes_a_quarter_off():
    """UFC 3-260-03: 75 percent stress at a deflection ratio of 0.76, 100 percent at 0 (page text read)."""
    assert joint_stress("400 psi").magnitude == pytest.approx(300)
    assert joint_stress("400 psi", 0).magnitude == pytest.approx(400)
    with pytest.warns(OutsideRange, match="share of the load"):
        joint_stress("400 psi", 0.4)


@pytest.mark.published("Huang 2004", "Example 4.1", "curling_coefficient")
@pytest.mark.parametrize(("feet", "printed"), [(25, 1.07), (12, 0.63)])
def test_curling_coefficients_of_huang_4_1(feet, printed):
    """Huang 2004 Example 4.1, as another library's tests quote it: read off a chart, so within 0.01."""
    assert curling_coefficient(Q(feet, "ft"), "30.57 in") == pytest.approx(printed, abs=0.01)


@pytest.mark.published("Huang 2004", "Example 4.1", "curling_stress")
def test_curling_stress_of_huang_4_1():
    """238 psi inside the panel, with the printed coefficients (Huang 2004 Example 4.1)."""
    found = curling_stress("4e6 psi", Q(5e-6, "1/degF"), Q(20, "delta_degF"), 0.15, 1.07, 0.63)
    assert found.magnitude == pytest.approx(238, abs=0.5)
    turned = curling_stress("4e6 psi", Q(5e-6, "1/degF"), Q(-20, "delta_degF"), 0.15, 1.07, 0.63)
    assert turned.magnitude == pytest.approx(-238, abs=0.5)


@settings(max_examples=30, deadline=None)
@given(st.floats(4, 20))
def test_a_shorter_panel_curls_with_less_stress(feet):
    longer = curling_coefficient(Q(feet * 1.05, "ft"), "40 in")
    assert 0 < curling_coefficient(Q(feet, "ft"), "40 in") < longer < 1.09


@pytest.mark.published("IBC 2012", "Table 1806.2")
def test_the_code_s_soil_classes():
    """IBC 2012 Table 1806.2, read in a reprint."""
    classes = {"bedrock": 12000, "foliated rock": 4000, "gravel": 3000, "sand": 2000, "clay": 1500}
    assert {s: presumptive_bearing(s).m_as("psf") for s in classes} == classes
    assert {row["soil"] for row in table("soil")} == set(classes)
    with pytest.raises(FormulaError, match="'mud' is not in the table soil; known are bedrock"):
        presumptive_bearing("mud")


@pytest.mark.published("UFC 3-250-01", "Table 10-1", "subgrade_modulus")
@pytest.mark.parametrize(
    ("group", "moisture", "k"),
    [("CL", 0.14, 150), ("CH", "22 %", 75), ("SM", 0.17, 150), ("GW", 0.05, 450), ("CH", 0.29, 25), ("SP", 0.044, 350)],
)  # fmt: skip
def test_subgrade_modulus_of_the_table(group, moisture, k):
    """UFC 3-250-01, Table 10-1, as an open library transcribes it; every cell in test_table_cells.py."""
    assert subgrade_modulus(group, moisture).m_as("pci") == k


def test_wetter_soil_is_softer():
    for group in {row["group"] for row in table("subgrade")}:
        values = [row["k_pci"] for row in table("subgrade") if row["group"] == group]
        assert values == sorted(values, reverse=True) and len(set(values)) == len(values)


def test_soil_outside_the_table_is_refused():
    with pytest.raises(FormulaError, match="30 % is outside 1 to 20 %, what the table gives for SM"):
        subgrade_modulus("SM", 0.30)
    with pytest.raises(FormulaError, match="soil group 'XX' is not known; choose one of OH"):
        subgrade_modulus("XX", 0.1)
    with pytest.raises(FormulaError, match="moisture: '12 psi'"):
        subgrade_modulus("CL", "12 psi")
