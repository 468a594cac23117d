"""Loads, soil pressure and forces of a pad, against McCormac and by hand."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.basis.formula import FormulaError
from calcbook.basis.units import Q
from calcbook.footings.footing import (  # fmt: skip
    area_for_pressure,
    bearing_pressure,
    dug_soil,
    load_with_wall,
    net_bearing,
    pad_area,
    required_pad_area,
    slab_weight,
    uplift_resistance,
)
from calcbook.footings.pad_forces import (
    factored_pressure,
    pad_moment,
    pad_one_way_shear,
    pad_reach,
    punching_load,
    punching_perimeter,
)
from calcbook.loads.combinations import combined_load

MCCORMAC = {"q_a": "4000 psf", "d": "24 in", "gamma_c": "145 pcf", "q_over": "300 psf"}


@pytest.mark.published("McCormac", "Example 12.10")
def test_net_pressure_of_the_mccormac_footing():
    """McCormac Example 12.10 (read in a reprint): 4000 - 2 x 145 - 3 x 100 = 3,410 psf."""
    assert net_bearing(**MCCORMAC).m_as("psf") == pytest.approx(3410)
    assert net_bearing(**MCCORMAC, q_soil="250 psf").m_as("psf") == pytest.approx(3660)


@pytest.mark.published("McCormac", "Example 12.10", "area_for_pressure", "required_pad_area")
def test_width_of_the_mccormac_footing():
    """The same: 18 kip/ft over 3.41 ksf asks for 5.28 ft, here for a strip one foot long."""
    assert required_pad_area("18 kip", **MCCORMAC).m_as("ft**2") == pytest.approx(5.28, abs=0.005)
    assert area_for_pressure("18 kip", "3410 psf").m_as("ft**2") == pytest.approx(5.28, abs=0.005)


@pytest.mark.published("McCormac", "Example 12.10", "combined_load", "factored_pressure", "pad_moment")
def test_pressure_and_moment_of_the_mccormac_footing():
    """The same: (1.2 x 12 + 1.6 x 6) / 5.5 = 4.36 ksf; 4.36 x 2.25^2 / 2 = 11.04 ft-kip per foot."""
    P_u = combined_load("12 kip", "6 kip", "0 kip", 1.2, 1.6, 0.5)
    q_u = factored_pressure(P_u, "5.5 ft2")
    assert q_u.m_as("ksf") == pytest.approx(4.36, abs=0.005)
    assert pad_moment(q_u, "12 in", "2.25 ft").m_as("kip*foot") == pytest.approx(11.04, abs=0.01)


def test_required_area_just_fills_the_soil():
    """A law: the area is the inverse of the pressure; soil weight of 100 psf taken off gives 1,400."""
    area = required_pad_area("8 kip", "1500 psf", "8 in", q_over="50 psf")
    assert bearing_pressure("8 kip", area, "8 in", q_over="50 psf").m_as("psf") == pytest.approx(1500)
    lighter = bearing_pressure("8 kip", area, "8 in", q_over="50 psf", q_soil="100 psf")
    assert lighter.m_as("psf") == pytest.approx(1400)


def test_a_pad_heavier_than_its_soil_bears_is_refused():
    with pytest.raises(FormulaError, match="net allowable bearing pressure"):
        required_pad_area("8 kip", "1500 psf", "120 in")


@pytest.mark.published("McCormac", "Example 12.10", "uplift_resistance")
@pytest.mark.worked("dug_soil", "load_with_wall", "pad_area", "slab_weight")
def test_weights_and_sizes():
    assert slab_weight("5 in").m_as("psf") == pytest.approx(62.5)
    assert pad_area("36 in", "30 in").m_as("ft**2") == pytest.approx(7.5)
    assert dug_soil("9 in").m_as("psf") == pytest.approx(75)  # McCormac Example 12.10: 100 pcf
    assert dug_soil("9 in", "120 pcf").m_as("psf") == pytest.approx(90)
    assert load_with_wall("4 kip", "320 plf", "5 ft").m_as("lbf") == pytest.approx(5600)
    held = uplift_resistance("9 ft2", "8 in", q_over="62.5 psf")
    assert held.m_as("lbf") == pytest.approx(0.6 * 9 * (100 + 62.5))


@pytest.mark.form("ACI 318M-19", "14.4.3.2", "pad_reach")
def test_reach_takes_the_longer_overhang():
    assert pad_reach("36 in", "30 in", "6 in", "4 in").magnitude == pytest.approx(15)
    assert pad_reach("30 in", "36 in", "6 in", "4 in").magnitude == pytest.approx(16)
    assert pad_reach("5 in", "5 in", "6 in", "6 in").magnitude == 0


@pytest.mark.form("ACI 318M-19", "14.4.3.3: critical sections h from the face", "pad_one_way_shear")
def test_one_way_shear_by_hand():
    """2 ksf on a foot, 15 in. out, 10 in. thick: 2000 x 5/12 lbf."""
    assert pad_one_way_shear("2000 psf", "12 in", "15 in", "10 in").magnitude == pytest.approx(
        2000 * 5 / 12
    )
    assert pad_one_way_shear("2000 psf", "12 in", "9 in", "10 in").magnitude == 0


@pytest.mark.form(
    "ACI 318M-19", "14.4.3.4: perimeter h/2 from the face", "punching_load", "punching_perimeter"
)
def test_punching_by_hand():
    """30 x 36 in., post 6 x 4, 8 in. counted: perimeter 52 in., 2 psf/144 on 1080 - 14 x 12 in2."""
    assert punching_perimeter("6 in", "4 in", "8 in").magnitude == pytest.approx(52)
    load = punching_load("288 psf", "36 in", "30 in", "6 in", "4 in", "8 in")
    assert load.magnitude == pytest.approx(2 * (1080 - 14 * 12))
    assert punching_load("288 psf", "12 in", "10 in", "6 in", "4 in", "8 in").magnitude == 0
    one_side = punching_load("288 psf", "36 in", "10 in", "6 in", "4 in", "8 in")
    assert one_side.magnitude == pytest.approx(2 * (360 - 14 * 10))


@settings(max_examples=40, deadline=None)
@given(st.floats(12, 96), st.floats(12, 96), st.floats(4, 36), st.floats(1e3, 3e4))
def test_a_bigger_pad_never_presses_harder(L, B, d, P):
    def pressure(L, B):
        return bearing_pressure.bulk(P=P, A=pad_area.bulk(L=L, B=B), d=d)

    assert pressure(L * 1.1, B) < pressure(L, B)
    assert pressure(L, B * 1.1) < pressure(L, B)


@settings(max_examples=20, deadline=None)
@given(st.floats(500, 30000), st.floats(1, 40))
def test_si_inputs_give_the_same_ratio(P, A):
    us = bearing_pressure(Q(P, "lbf"), Q(A, "ft2"), "10 in").m_as("psf") / 1500
    si = bearing_pressure(
        f"{P * 4.4482216152605e-3:.12g} kN", f"{A * 0.09290304:.12g} m2", "254 mm"
    ).m_as("kPa") / (1500 * 0.04788025898033584)
    assert si == pytest.approx(us, rel=1e-9)
