"""Wheels near each other act together: what a point load adds at a distance on a plate on springs."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.special import j0, j1
from structure import checks, job

from calcbook.basis.units import Q
from calcbook.book.chapters import Book, run
from calcbook.slab.kelvin import ker_keip
from calcbook.slab.together import added_stress, wheels_together
from calcbook.slab.wheel import wheel_stresses

SLAB = {"h": "5 in", "l": "25 in"}


@pytest.mark.worked("added_stress")
def test_moments_of_a_point_load_by_series():
    """Kelvin functions at x = 1 (Abramowitz and Stegun Table 9.12, from memory): ker 0.2867, kei' 0.3524."""
    radial = 0.2867 - 0.85 * 0.3524
    tangential = 0.15 * 0.2867 + 0.85 * 0.3524
    expected = 6 * 1000 / (2 * 3.14159) * max(radial, tangential) / 25
    found = added_stress("1000 lbf", s="25 in", **SLAB).m_as("psi")
    assert found == pytest.approx(expected, rel=1e-3)


@pytest.mark.library("SciPy", "integrate.quad", "added_stress")
@pytest.mark.parametrize("s", [12.0, 25.0, 60.0])
def test_added_stress_is_the_point_load_on_a_plate_on_springs(s):
    """The deflection as an integral over waves (Hertz), its curvatures worked out numerically (SciPy)."""
    length, nu = 25.0, 0.15

    def integral(of):  # w = P l^2 / (2 pi D) times the integral of J0(t r/l) t / (1 + t^4)
        return quad(
            lambda t: of(t * s / length) * t**3 / (1 + t**4) * np.exp(-1e-4 * t * t), 0, 60, limit=800
        )[0]

    radial = integral(lambda x: (1 - nu) * (j0(x) - j1(x) / x) + nu * j0(x))
    tangential = integral(lambda x: (1 - nu) * j1(x) / x + nu * j0(x))
    expected = 6 * 1000 / (2 * np.pi) * max(radial, tangential, 0) / 25
    found = added_stress("1000 lbf", s=Q(s, "in"), **SLAB).m_as("psi")
    assert found == pytest.approx(expected, rel=5e-3)


@given(st.floats(6, 240))
def test_no_wheel_relieves_another_and_none_adds_more_than_one_beside_it(s):
    beside, there = (added_stress("1000 lbf", s=Q(x, "in"), **SLAB) for x in (6, s))
    assert beside >= there >= Q(0, "psi")


@pytest.mark.worked("wheels_together")
def test_sum_by_hand():
    assert wheels_together("200 psi", 3, "20 psi", 1.5).m_as("psi") == pytest.approx(290)


def test_four_wheels_are_checked_together():
    """7,900 lbf on each: 2 ft apart they ask more of the slab than one of them alone."""
    vehicle = {"axle": "31600 lbf", "wheels": 4, "wheel_spacing": "24 in", "tire_pressure": "100 psi"}
    one = {"axle": "7900 lbf", "wheels": 1, "tire_pressure": "100 psi"}
    question = "Bending stress under the wheels inside a panel"
    alone, four = (checks("slab", job(vehicle=v))[question] for v in (one, vehicle))
    assert four.ratio > 1.2 * alone.ratio


def test_the_least_thickness_is_where_all_wheels_together_are_borne():
    """A quarter inch less and the checks of all wheels fail; one wheel alone would take less."""
    vehicle = {"axle": "12000 lbf", "wheels": 4, "wheel_spacing": "12 in", "tire_pressure": "80 psi"}

    def made(v, h="6 in"):
        return job(vehicle=v, slab={"length": "30 ft", "width": "24 ft", "thickness": h})

    least = run("slab", made(vehicle)).results["least"]
    one = {"axle": "3000 lbf", "wheels": 1, "tire_pressure": "80 psi"}
    assert least > run("slab", made(one)).results["least"]
    thin, enough = (
        max(c.ratio for q, c in checks("slab", made(vehicle, h)).items() if "under the wheels" in q)
        for h in (least - Q(0.25, "in"), least)
    )
    assert thin > 1 >= enough


def test_the_chart_reads_what_the_checks_read():
    vehicle = {"axle": "12000 lbf", "wheels": 4, "wheel_spacing": "12 in", "tire_pressure": "80 psi"}
    found = Book(job(vehicle=vehicle)).slab
    wheel = {key: found.wheel[key] for key in ("P", "a")}
    here = wheel_stresses(
        np.array([5.0]), **wheel, f_c=Q(4000, "psi"), k=found.k, LT=0.0, n=4, s=Q(12, "in")
    )
    assert {p: float(x[0]) for p, x in here.items()} == pytest.approx(
        {p: x.m_as("psi") for p, x in found.stresses.items()}
    )


@pytest.mark.library("SciPy", "special.ker, special.keip", "added_stress")
def test_kelvin_functions_are_those_of_scipy():
    from scipy.special import keip, ker

    x = np.geomspace(1e-3, 4, 60)
    for mine, theirs in zip(ker_keip(x), (ker(x), keip(x)), strict=True):
        assert mine == pytest.approx(theirs, rel=1e-11)
    x = np.linspace(4, 20, 60)  # where scipy itself goes by polynomials of nine digits
    for mine, theirs in zip(ker_keip(x), (ker(x), keip(x)), strict=True):
        assert mine == pytest.approx(theirs, rel=2e-8, abs=1e-14)
    assert ker_keip(0.7) == pytest.approx((ker(0.7), keip(0.7)), rel=1e-14)
