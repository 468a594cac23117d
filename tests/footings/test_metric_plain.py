"""Plain concrete against the metric edition, ACI 318M-19 chapter 14, read in a reprint; constants rounded there."""

import math

import pytest

from calcbook.basis.units import Q
from calcbook.footings.plain import (
    plain_bearing_strength,
    plain_moment_strength,
    plain_one_way_shear_strength,
    plain_two_way_shear_strength,
    soil_deduction,
)

ROOT = math.sqrt(145.0377)  # psi of a root of MPa, over psi of the root of psi
F_C, B, H = 3000.0, 12.0, 8.0
PHI = 0.60  # Table 21.2.1


def coefficient(metric):
    """The coefficient of sqrt(f'c in psi) that a metric coefficient of sqrt(f'c in MPa) stands for."""
    return metric * ROOT


@pytest.mark.form("ACI 318M-19", "14.5.2.1", "plain_moment_strength")
def test_bending():
    """M_n = 0.42 sqrt(f'c) S_m."""
    wanted = PHI * coefficient(0.42) * math.sqrt(F_C) * B * H**2 / 6
    assert plain_moment_strength("3000 psi", "12 in", "8 in").m == pytest.approx(wanted, rel=0.015)


@pytest.mark.form(
    "ACI 318M-19", "Table 14.5.5.1", "plain_one_way_shear_strength", "plain_two_way_shear_strength"
)
@pytest.mark.parametrize(("beta", "metric"), [(1.0, 0.22), (2.0, 0.22), (4.0, 0.11 * 1.5)])
def test_shear(beta, metric):
    """0.11 sqrt(f'c) b h; two-way 0.11 (1 + 2/beta), at most 0.22."""
    one = plain_one_way_shear_strength("3000 psi", "12 in", "8 in").m
    assert one == pytest.approx(PHI * coefficient(0.11) * math.sqrt(F_C) * B * H, rel=0.01)
    two = plain_two_way_shear_strength("3000 psi", "40 in", "8 in", beta).m
    assert two == pytest.approx(PHI * coefficient(metric) * math.sqrt(F_C) * 40 * H, rel=0.01)


@pytest.mark.form("ACI 318M-19", "Table 14.5.6.1", "plain_bearing_strength")
@pytest.mark.parametrize(("A_2", "raised"), [(36, 1), (81, 1.5), (900, 2)])
def test_bearing(A_2, raised):
    """sqrt(A2/A1), at most 2, times 0.85 f'c A1."""
    found = plain_bearing_strength("3000 psi", Q(36, "in2"), Q(A_2, "in2")).m
    assert found == pytest.approx(PHI * raised * 0.85 * F_C * 36)


@pytest.mark.form("ACI 318M-19", "14.5.1.7", "soil_deduction")
def test_concrete_cast_against_soil():
    """50 mm less is counted: 2 in."""
    assert soil_deduction("8 in").m_as("inch") == pytest.approx(8 - 50 / 25.4, abs=0.04)
