"""The night sky by its rival laws: forms read in open libraries, numbers by hand or printed there."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.basis.formula import FormulaError, OutsideRange
from calcbook.basis.units import Q
from calcbook.pour.sky import (
    CLEAR_SKIES,
    DAY,
    clear_skies,
    coldest_sky,
    sky_berdahl,
    sky_brunt,
    sky_brutsaert,
    sky_clark,
    sky_clouded,
    sky_clouded_deardorff,
    sky_clouded_tva,
    sky_idso,
    sky_kelvin,
    sky_prata,
    sky_temperature,
    under_cloud,
)

BOLTZMANN = 5.670374419e-8  # CODATA 2018
# vapor pressure at a dew point of 10 and -6 C, kPa, by the book's own saturation pressure
WARM, COLD = dict(e_a=Q(1.2283, "kPa"), T_a="293.15 K"), dict(e_a=Q(0.3896, "kPa"), T_a="273.15 K")
# emissivity at air 20 C with dew point 10 C, and at 0 C with -6 C: worked by hand from each form as read
BY_HAND = [
    (sky_clark, 0.815, 0.770),
    (sky_idso, 0.822, 0.756),
    (sky_brunt, 0.814, 0.729),
    (sky_prata, 0.793, 0.721),
    (sky_brutsaert, 0.788, 0.676),
    (sky_berdahl, 0.774, 0.680),
]


@pytest.mark.form("Berdahl 1984", "", "sky_berdahl")
@pytest.mark.form("Brutsaert 1975", "", "sky_brutsaert")
@pytest.mark.form("Prata 1996", "", "sky_prata")
@pytest.mark.form("Li 2017", "", "sky_brunt")
@pytest.mark.form("Idso 1981", "", "sky_idso")
@pytest.mark.parametrize(("law", "warm", "cold"), BY_HAND, ids=lambda x: getattr(x, "name", ""))
def test_the_laws_of_the_clear_sky_by_hand(law, warm, cold):
    for known, dew, wanted in ((WARM, "283.15 K", warm), (COLD, "267.15 K", cold)):
        inputs = {**known, "T_d": dew}
        found = law(**{name: inputs[name] for name in law.arguments if name in inputs})
        assert found == pytest.approx(wanted, abs=0.0015)


@pytest.mark.published(
    "Clark 1978",
    "EnergyPlus Engineering Reference, Sky Radiation Modeling, example",
    "sky_clark",
    "sky_clouded",
    "sky_temperature",
)
def test_the_worked_number_of_the_engineering_reference():
    """EnergyPlus Engineering Reference, Sky Radiation Modeling: clear, 293 K, dew point 283 K: 0.815, 340.6 W/m2."""
    eps = sky_clouded(sky_clark("283 K"), 0.0)
    assert eps == pytest.approx(0.815, abs=0.0006)
    T = sky_temperature("293 K", eps)
    assert BOLTZMANN * T.m**4 == pytest.approx(340.6, abs=0.3)


@pytest.mark.form("Clark 1978", "")
def test_clark_and_allen_at_their_reference():
    # Clark 1978: 0.787 + 0.764 ln(T/273), read in another library
    assert sky_clark("273 K") == pytest.approx(0.787)
    assert sky_clark("263 K") == pytest.approx(0.787 + 0.764 * math.log(263 / 273))


def test_cloud_of_walton():
    """Walton 1983: factor 1.154 when overcast (1 + 0.224 - 0.35 + 0.28), read in another library."""
    assert sky_clouded(0.7, 1.0) == pytest.approx(0.7 * 1.154)
    assert sky_clouded(0.787, 0.5) == pytest.approx(0.787 * (1 + 0.112 - 0.0875 + 0.035))
    assert sky_clouded(0.95, 1.0) == 1  # never more than a black body
    with pytest.raises(FormulaError, match="N"):
        sky_clouded(0.7, 1.01)
    with pytest.warns(OutsideRange):  # a dew point of 95 °F
        sky_clark("308 K")


@pytest.mark.form("Deardorff 1978", "", "sky_clouded_deardorff")
@pytest.mark.form("TVA 1972", "", "sky_clouded_tva")
def test_cloud_of_the_rivals():
    """TVA 1972: (1 + 0.17 N2); Deardorff 1978: N + (1 - N) eps; by hand at 35 % and full cover."""
    assert sky_clouded_tva(0.7, 0.35) == pytest.approx(0.7 * 1.020825)
    assert sky_clouded_tva(0.7, 1.0) == pytest.approx(0.819)
    assert sky_clouded_deardorff(0.7, 0.35) == pytest.approx(0.35 + 0.65 * 0.7)
    assert sky_clouded_deardorff(0.7, 1.0) == 1


def test_sky_temperature_is_that_of_the_black_body():
    """By definition of a black body (Stefan and Boltzmann)."""
    T = sky_temperature("280 K", 0.8)
    assert BOLTZMANN * T.m**4 == pytest.approx(0.8 * BOLTZMANN * 280**4, rel=1e-9)
    assert sky_temperature("280 K", 1.0).m == pytest.approx(280)


@settings(max_examples=40, deadline=None)
@given(st.floats(255, 280), st.floats(0.3, 0.99), st.floats(0, 1))
def test_frost_is_judged_by_the_coldest_law_of_each_hour(air, humidity, cloud):
    """Berdahl and Martin's on usual nights, Brutsaert's in deep cold; never warmer than any of them."""
    at = (np.array([air]), np.array([humidity]), np.array([cloud]))
    judged = coldest_sky(*at)[0]
    assert judged == min(sky_kelvin(*at, law)[0] for law in CLEAR_SKIES)
    assert judged < sky_kelvin(*at, DAY)[0] and judged < air


@settings(max_examples=20, deadline=None)
@given(st.floats(255, 300), st.floats(0.3, 0.99), st.floats(0, 1))
def test_under_any_cloud_the_coldest_sky_radiates_least_where_it_is_clear(air, humidity, cloud):
    """No source: every law of cloud grows with what the clear sky sends down."""
    T, N, clear = np.array([air]), np.array([cloud]), clear_skies(np.array([air]), np.array([humidity]))
    for law in (sky_clouded, sky_clouded_tva, sky_clouded_deardorff):
        coldest = under_cloud(T, np.min(clear, axis=0), N, law)[0]
        assert coldest == min(under_cloud(T, eps_0, N, law)[0] for eps_0 in clear)


def test_which_law_is_the_coldest():
    """Hand numbers above: at 0 C and a dew point of -6 C Brutsaert's 0.676 and Berdahl's 0.680."""
    usual = (np.array([270.0]), np.array([0.8]), np.array([0.0]))
    assert coldest_sky(*usual)[0] in (
        sky_kelvin(*usual, sky_berdahl)[0],
        sky_kelvin(*usual, sky_brutsaert)[0],
    )
