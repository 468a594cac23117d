"""Heat between surface and weather: published figures, identities and laws."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import constants

from calcbook.basis.formula import FormulaError, OutsideRange
from calcbook.basis.units import Q
from calcbook.pour.surface import (
    cloudy_sun,
    cloudy_sun_linear,
    convection_coefficient,
    convection_leeward,
    convection_mcadams,
    evaporation_heat,
    radiation_coefficient,
)

BOLTZMANN = constants.Stefan_Boltzmann  # CODATA, as SciPy has it


@pytest.mark.form("Watmuff 1977", "")
def test_convection_of_watmuff():
    # Watmuff 1977: 2.8 + 3.0 V, read in another library; 11.8 at 3 m/s by hand
    assert convection_coefficient("3 m/s").m == pytest.approx(11.8)
    assert convection_coefficient("0 m/s").m == pytest.approx(2.8)
    assert convection_coefficient("5 m/s").m == pytest.approx(17.8)
    assert convection_coefficient("10 mph").m == pytest.approx(2.8 + 3 * 4.4704)
    with pytest.warns(OutsideRange, match="wind"):
        convection_coefficient("7.1 m/s")
    with pytest.raises(FormulaError, match="V"):
        convection_coefficient("46 m/s")


@pytest.mark.form("McAdams 1954", "", "convection_mcadams")
@pytest.mark.form("MoWiTT", "leeward 3.55 V^0.617", "convection_leeward")
def test_rivals_of_the_film():
    """McAdams 1954: 5.7 + 3.8 V; MoWiTT leeward 3.55 V^0.617; both read in another library, numbers by hand."""
    assert convection_mcadams("3 m/s").m == pytest.approx(17.1)
    assert convection_leeward("3 m/s").m == pytest.approx(7.0, abs=0.05)
    assert convection_leeward("1 m/s").m == pytest.approx(3.55)


@pytest.mark.library("SciPy", "constants.Stefan_Boltzmann", "radiation_coefficient")
@settings(max_examples=50, deadline=None)
@given(st.floats(250, 330), st.floats(200, 320))
def test_radiation_coefficient_is_exact(T_s, T_sky):
    h = radiation_coefficient(Q(T_s, "K"), Q(T_sky, "K")).m
    assert h * (T_s - T_sky) == pytest.approx(
        0.90 * BOLTZMANN * (T_s**4 - T_sky**4), rel=1e-9, abs=1e-9
    )


def test_radiation_bulk_is_the_same():
    """A law: in bulk as one by one."""
    h = radiation_coefficient.bulk(T_s=np.array([280.0, 300.0]), T_sky=260.0, eps=0.9)
    assert h == pytest.approx(
        [radiation_coefficient(Q(t, "K"), "260 K").m for t in (280, 300)], rel=1e-9
    )


@pytest.mark.form("Kasten 1980", "", "cloudy_sun")
def test_sun_through_cloud_of_kasten_and_czeplak():
    # Kasten 1980: 1 - 0.75 N^3.4; an overcast sky leaves a quarter, half cloud 93 %
    assert cloudy_sun("1000 W/m2", 0.0).m == pytest.approx(1000)
    assert cloudy_sun("1000 W/m2", 1.0).m == pytest.approx(250)
    assert cloudy_sun("1000 W/m2", 0.5).m == pytest.approx(1000 * (1 - 0.75 * 0.5**3.4))
    with pytest.raises(FormulaError, match="I_0"):
        cloudy_sun("1500 W/m2", 0.5)


@pytest.mark.form("Larson 2016", "", "cloudy_sun_linear")
def test_sun_through_cloud_by_a_line():
    """The documentation of pvlib 0.9: a clear sky takes nothing, a closed one leaves 35 %; between, own arithmetic."""
    assert [cloudy_sun_linear("800 W/m2", n).m for n in (0.0, 0.5, 1.0)] == pytest.approx(
        [800, 540, 280]
    )


@pytest.mark.form("FAO 56", "2.45 MJ/kg", "evaporation_heat")
def test_drying_takes_heat():
    # 1 kg/(m2 h) at 2.45 MJ/kg (FAO 56) is 680.6 W/m2
    assert evaporation_heat("1 kg/m2/h").m == pytest.approx(2450e3 / 3600, rel=1e-6)
