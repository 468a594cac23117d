"""Posts off the centre of their pads, by statics."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.basis.formula import FormulaError
from calcbook.basis.units import Q
from calcbook.footings.eccentric import (
    eccentric_pressure,
    even_load,
    kern,
    pressure_beyond_kern,
    pressure_in_kern,
)


@pytest.mark.worked("kern")
def test_kern_is_a_sixth():
    assert kern("36 in").magnitude == pytest.approx(6)


@pytest.mark.worked("eccentric_pressure", "pressure_in_kern")
def test_pressures_by_hand():
    """9 kip on 3 x 3 ft: 1 ksf in the centre, doubled at the edge of the kern."""
    assert eccentric_pressure("9 kip", "36 in", "36 in", "0 in").m_as("psf") == pytest.approx(1000)
    assert eccentric_pressure("9 kip", "36 in", "36 in", "3 in").m_as("psf") == pytest.approx(1500)
    assert eccentric_pressure("9 kip", "36 in", "36 in", "6 in").m_as("psf") == pytest.approx(2000)
    assert eccentric_pressure("9 kip", "36 in", "36 in", "3 in", "1.5 in").m_as("psf") == pytest.approx(
        1750
    )
    assert pressure_in_kern("9 kip", "48 in", "27 in", "4 in", "2.25 in").m_as("psf") == pytest.approx(
        2000
    )


def test_just_inside_the_kern():
    """9 kip, 5.9 in. off on 36 in.: 1 + 6 x 5.9 / 36 times the even pressure (own arithmetic)."""
    found = eccentric_pressure("9 kip", "36 in", "36 in", "5.9 in")
    assert found.m_as("psf") == pytest.approx(1000 * (1 + 6 * 5.9 / 36))


@pytest.mark.worked("even_load")
def test_the_load_that_presses_so_all_over():
    """2,667 psf on 3 x 2.5 ft: 20,000 lbf; a load on the centre is its own."""
    assert even_load("2666.6667 psf", "36 in", "30 in").m_as("lbf") == pytest.approx(20000)
    even = eccentric_pressure("9 kip", "36 in", "24 in", "0 in")
    assert even_load(even, "36 in", "24 in").m_as("kip") == pytest.approx(9)


def test_partial_contact_by_hand():
    """9 kip, 9 in. off on 36 in.: contact over 27 in., 2 x 9000 / (3 ft x 2.25 ft) = 2,667 psf."""
    found = eccentric_pressure("9 kip", "36 in", "36 in", "9 in")
    assert found.m_as("psf") == pytest.approx(18000 / 6.75)
    turned = eccentric_pressure("9 kip", "24 in", "36 in", "0 in", "9 in")
    assert turned.m_as("psf") == pytest.approx(18000 / (2 * 2.25))


@pytest.mark.worked("pressure_beyond_kern")
def test_the_two_formulas_meet_at_the_kern():
    inside = pressure_in_kern("9 kip", "36 in", "24 in", "6 in")
    beyond = pressure_beyond_kern("9 kip", "36 in", "24 in", "6 in")
    assert inside.magnitude == pytest.approx(beyond.magnitude)


@settings(max_examples=40, deadline=None)
@given(st.floats(0.01, 0.45), st.floats(1000, 20000))
def test_the_soil_carries_the_load_where_it_stands(share, P):
    """The pressure diagram has the load's size and its place, whole or partial contact."""
    L, B, e = 40.0, 30.0, 40.0 * share
    q_max = eccentric_pressure(Q(P, "lbf"), Q(L, "in"), Q(B, "in"), Q(e, "in")).m_as("psi")
    if e <= L / 6:
        q_min = 2 * P / (L * B) - q_max
        moment = (q_max - q_min) * B * L**2 / 12
        assert q_min >= -1e-9
    else:
        reach = 2 * P / (q_max * B)
        moment = P * (L / 2 - reach / 3)
        assert reach < L
    assert moment == pytest.approx(P * e)


@pytest.mark.parametrize(
    ("values", "said"),
    [
        (("9 kip", "36 in", "36 in", "8 in", "1 in"), "beyond the kern"),
        (("9 kip", "36 in", "36 in", "0.9 in", "8 in"), "beyond the kern"),
        (
            ("9 kip", "36 in", "36 in", "18 in"),
            "18 in. puts the load off the pad, which reaches 18 in.",
        ),
        (("9 kip", "36 in", "24 in", "0 in", "13 in"), "reaches 12 in."),
        (("9 kip", "36 psi", "36 in", "2 in"), "L (length of the pad along the offset): '36 psi'"),
        (("9 kip", "36 in", "36 in", "-2 in"), "it must be at least 0 in."),
    ],
)
def test_what_cannot_be_is_refused(values, said):
    with pytest.raises(FormulaError) as error:
        eccentric_pressure(*values)
    assert said in str(error.value)
