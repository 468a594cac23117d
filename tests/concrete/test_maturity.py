"""Maturity: published rates and the laws of the clock."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.basis.formula import FormulaError
from calcbook.basis.units import Q
from calcbook.concrete.maturity import (
    apparent_energy,
    equivalent_age,
    equivalent_ages,
    first_below,
    first_reach,
    grown_age,
    hansen_energy,
    maturity,
    maturity_rate,
    maturity_step,
    time_of_age,
)

DAY = Q(np.array([0.0, 24.0]), "h")


# the form of Arrhenius with Q = 5,000 K: rates recomputed, 0.001
@pytest.mark.form("ASTM C1074 in code", "equivalent age", "maturity_rate")
@pytest.mark.parametrize(
    ("T", "at_20", "at_23"), [(0, 0.287, 0.241), (5, 0.399, 0.335), (30, 1.755, 1.477)]
)
def test_rates_with_5000_kelvin(T, at_20, at_23):
    assert maturity_rate(Q(T, "degC")) == pytest.approx(at_20, abs=6e-4)
    assert maturity_rate(Q(T, "degC"), T_ref="23 degC") == pytest.approx(at_23, abs=6e-4)


@pytest.mark.parametrize(
    ("T", "low", "high"), [(0, 0.366, 0.301), (5, 0.477, 0.413), (30, 1.574, 1.718)]
)
def test_rates_with_33_and_40_kilojoules(T, low, high):
    """Own arithmetic with the Arrhenius form of ASTM C1074, from memory, in a second program; to 0.001."""
    assert maturity_rate(Q(T, "degC"), E_a="33500 J/mol") == pytest.approx(low, abs=6e-4)
    assert maturity_rate(Q(T, "degC"), E_a="40000 J/mol") == pytest.approx(high, abs=6e-4)


# own arithmetic on the energy of Hansen and Pedersen: 0 C about 0.15, 10 C about 0.50, 30 C about 1.57
@pytest.mark.form("Hansen Pedersen 1977", "", "hansen_energy")
@pytest.mark.parametrize(("T", "rate"), [(0, 0.15), (10, 0.50), (30, 1.57), (5, 0.293)])
def test_hansen_and_pedersen(T, rate):
    assert maturity_rate(Q(T, "degC"), E_a=hansen_energy(Q(T, "degC"))) == pytest.approx(
        rate, abs=0.006
    )


def test_hansen_energy_by_hand():
    """Own arithmetic on Hansen and Pedersen's energy: 33.5 kJ/mol, and 1.47 more for each
    degree below 20.
    """
    assert hansen_energy("20 degC").m == pytest.approx(33500)
    assert hansen_energy("40 degC").m == pytest.approx(33500)
    assert hansen_energy("10 degC").m == pytest.approx(48200)


@pytest.mark.form("ASTM C1074 in code", "Nurse-Saul", "maturity", "maturity_step")
def test_nurse_saul():
    # own arithmetic: 24 h at 20 C is 480 C-h above 0 C and 720 above -10 C; below the datum nothing
    hours = "delta_degC*hour"
    assert maturity(DAY, Q(20.0, "degC")).m_as(hours) == pytest.approx(480)
    assert maturity(DAY, Q(20.0, "degC"), T_0=Q(-10.0, "degC")).m_as(hours) == pytest.approx(720)
    assert maturity(DAY, Q(-5.0, "degC")).m == 0
    ramp = maturity(Q(np.array([0.0, 10, 20]), "h"), Q(np.array([10.0, 20, 0]), "degC"))
    assert ramp.m_as(hours) == pytest.approx(150 + 100)
    assert maturity_step("50 degF", "2 h").m == pytest.approx(36)


@pytest.mark.form("ASTM C1074 in code", "equivalent age", "equivalent_age", "equivalent_ages")
def test_equivalent_age_runs_with_the_clock():
    assert equivalent_age(DAY, Q(20.0, "degC")).m == pytest.approx(24)
    assert equivalent_age(DAY, Q(10.0, "degC")).m == pytest.approx(24 * 0.5475, abs=0.01)
    running = equivalent_ages([Q(0, "h"), Q(6, "h"), Q(12, "h")], Q(np.array([20.0, 20, 20]), "degC"))
    assert running.m == pytest.approx([0, 6, 12])
    assert equivalent_age(Q(24, "h"), Q(20.0, "degC")).m == pytest.approx(24)  # one age counts from 0
    assert maturity(Q(24, "h"), Q(20.0, "degC")).m_as("delta_degC*hour") == pytest.approx(480)
    mean = equivalent_age(DAY, Q(np.array([10.0, 30.0]), "degC"))  # by the mean of the stretch
    assert mean.m == pytest.approx(24)


def test_wrong_histories_are_refused():
    with pytest.raises(FormulaError, match="rising order"):
        equivalent_age(Q(np.array([0.0, 5, 3]), "h"), Q(20.0, "degC"))


@pytest.mark.published("NRMCA CIP 27", "", "apparent_energy")
def test_apparent_energy():
    # NRMCA CIP 27: 20 F colder about doubles setting time; from 70 to 50 F that is 43 kJ/mol
    assert apparent_energy("2 h", "50 degF", "1 h", "70 degF").m == pytest.approx(43200, abs=50)
    E = apparent_energy("3 h", "45 degF", "2 h", "75 degF")
    ratio = maturity_rate("75 degF", E_a=E) / maturity_rate("45 degF", E_a=E)
    assert ratio == pytest.approx(1.5, rel=1e-9)


@settings(max_examples=50, deadline=None)
@given(st.floats(293.2, 313), st.floats(0.1, 20), st.floats(20000, 60000))
def test_colder_is_always_slower(T, colder, E):
    assert maturity_rate(Q(T - colder, "K"), E_a=Q(E, "J/mol")) < maturity_rate(
        Q(T, "K"), E_a=Q(E, "J/mol")
    )


def test_grown_age_and_the_moment_it_is_reached():
    hours = np.array([0.0, 1, 2, 3])
    assert grown_age(hours, np.array([1.0, 1, 2, 2]), before=0.5) == pytest.approx([0.5, 1.5, 3.0, 5.0])
    assert time_of_age(hours, np.array([1.0, 1, 1, 1]), 2.5) == pytest.approx(2.5)
    two = time_of_age(hours, np.array([[1.0, 1, 1, 1], [2.0, 2, 2, 2]]), np.array([2.0, 3.0]))
    assert two == pytest.approx([2.0, 1.5])
    assert time_of_age(hours, np.ones(4), 9) == math.inf


def test_grown_age_by_hand_over_uneven_hours():
    """Half an hour at a speed of 2, then 1.5 x 2 h and 3 x 1 h."""
    rate = np.array([2.0, 1.0, 5.0])
    assert grown_age(np.array([0.0, 2, 3]), rate, before=0.5) == pytest.approx([1.0, 4.0, 7.0])


def test_stretches_shorter_than_an_hour_are_histories_too():
    """By definition: an hour at the reference temperature is an hour."""
    ages, held = Q(np.array([0.0, 0.5, 1.0]), "h"), Q(np.full(3, 293.15), "K")
    assert equivalent_age(ages, held).m == pytest.approx(1.0)


def test_first_reach_and_first_below():
    hours = np.array([0.0, 2, 4])
    assert first_reach(hours, np.array([0.0, 4, 8]), 6) == pytest.approx(3)
    assert first_reach(hours, np.array([7.0, 8, 9]), 6) == 0
    assert first_reach(hours, np.array([1.0, 2, 3]), 6) == math.inf
    assert first_below(hours, np.array([4.0, 2, 0]), 1) == pytest.approx(3, abs=1e-6)
    assert first_below(hours, np.array([4.0, 2, 1]), 1) == math.inf
