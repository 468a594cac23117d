"""Fiber formulas against mechanics worked out by an open library: sections by integration, yield lines by search."""

import numpy as np
import pytest
from scipy.integrate import quad, trapezoid
from scipy.optimize import brentq, minimize

from calcbook.basis.units import Q
from calcbook.reinforcement.fiber import (
    collapse_moment,
    cracking_moment,
    equivalent_in_bending,
    equivalent_in_tension,
    equivalent_wire,
    fiber_collapse_load,
    residual_moment_strength,
    residual_tension,
)

SLAB = {"f_r": Q(570, "psi"), "b": Q(1, "in"), "h": Q(6, "in")}


def elastic_moment(stress, b, h):
    """Moment of a stress that grows in a straight line to both faces."""
    return quad(lambda z: b * stress * z / (h / 2) * z, -h / 2, h / 2)[0]


@pytest.mark.library(
    "SciPy", "integrate.quad: stress in a straight line to both faces", "cracking_moment"
)
def test_the_slab_cracks_where_the_outer_stress_is_the_modulus_of_rupture():
    assert cracking_moment(**SLAB).magnitude == pytest.approx(elastic_moment(570, 1, 6))


@pytest.mark.library(
    "SciPy", "integrate.trapezoid: mean load of a beam after its crack", "residual_moment_strength"
)
def test_the_ratio_is_the_mean_load_after_the_crack_over_that_at_the_crack():
    """A third-point beam of the slab's own section: its moment is P L / 6 by statics, at the crack and after it."""
    span, first = 18.0, 6 * cracking_moment(**SLAB).m_as("lbf*in") / 18.0
    deflection = np.linspace(0, span / 150, 400)
    load = first * (0.25 + 0.3 * np.exp(-deflection / 0.03))  # a curve of our own, as fiber sheds load
    mean = trapezoid(load, deflection) / deflection[-1]
    found = residual_moment_strength(**SLAB, R_e3=100 * mean / first)
    assert found.m_as("lbf*in") == pytest.approx(mean * span / 6)


def fan(angle, positive, negative, lines=12):
    """Least work of yield lines under a point load in a corner of an angle, found by search; 2 pi: inside a slab.

    Radial lines crack the bottom, the outer ring cracks the top; the load goes down by one.
    """
    whole = angle > 6.28

    def work(free):
        radii, turn = np.exp(free[: lines + 1]), np.exp(free[lines + 1 :])
        if whole:
            radii[-1] = radii[0]
        theta = np.concatenate([[0], np.cumsum(turn)]) / turn.sum() * angle
        points = radii[:, None] * np.stack([np.cos(theta), np.sin(theta)], 1)
        chord = np.diff(points, axis=0)
        length = np.hypot(*chord.T)
        cross = points[:-1, 0] * points[1:, 1] - points[:-1, 1] * points[1:, 0]
        slope = np.stack([-chord[:, 1], chord[:, 0]], 1) / cross[:, None]  # of each triangle, 1 to 0
        kink = np.diff(np.concatenate([slope, slope[:1]]) if whole else slope, axis=0)
        ends = points[1:] if whole else points[1:-1]
        radial = np.abs(kink[:, 0] * ends[:, 1] - kink[:, 1] * ends[:, 0])
        return negative * (length * np.hypot(*slope.T)).sum() + positive * radial.sum()

    start = 0.1 * np.sin(np.arange(2 * lines + 1))
    return minimize(work, start, method="L-BFGS-B").fun


@pytest.mark.library(
    "SciPy",
    "optimize.minimize: yield lines under a point load",
    "collapse_moment",
    "fiber_collapse_load",
)
def test_a_point_load_inside_breaks_the_slab_at_2_pi_times_the_sum_and_6_lies_below():
    """Least work of yield lines is an upper bound. How the load grows with the wheel is remembered, not proved here."""
    bottom = residual_moment_strength(**SLAB, R_e3=30).magnitude
    top = cracking_moment(**SLAB).magnitude
    bound = fan(2 * np.pi, bottom, top)
    whole = collapse_moment(**SLAB, R_e3=30)
    assert bound == pytest.approx(
        2 * np.pi * whole.magnitude, rel=0.025
    )  # twelve lines, not infinitely many
    book = fiber_collapse_load(whole / Q(1, "in"), "1e-6 in", "28 in").magnitude
    assert book == pytest.approx(2 * np.pi * whole.magnitude, rel=0.05) and book < bound


def test_at_an_edge_and_a_corner_yield_lines_bear_less_than_the_remembered_factors():
    """At most pi at an edge, and at a corner at most twice the top moment: the note of the formula says so."""
    top, bottom = 1.0, 0.3
    whole = top + bottom
    edge, corner = fan(np.pi, bottom, top), fan(np.pi / 2, bottom, top, lines=1)
    assert edge < 1.01 * np.pi * whole < 3.5 * whole
    assert corner == pytest.approx(2 * top, rel=1e-3) and corner < 2 * whole
    assert "3.5 and 2 lie above" in fiber_collapse_load.note


@pytest.mark.library(
    "SciPy", "integrate.quad: even pull over a section cracked nine tenths", "residual_tension",
    "equivalent_in_tension",
)  # fmt: skip
def test_037_is_an_even_pull_over_nine_tenths_of_the_depth():
    """The pull that gives the moment of the flexural strength f: over 0.9 of the depth, against an even push above."""
    h, b, f = 6.0, 12.0, 150.0

    def moment(pull):
        push = 9 * pull  # the same force on a tenth of the depth
        return quad(lambda z: b * z * (pull if z < 0.9 * h else -push), 0, h, points=[0.9 * h])[0]

    pull = brentq(lambda p: -moment(p) - elastic_moment(f, b, h), 0, f)
    assert pull / f == pytest.approx(0.37, abs=0.005)  # two digits are printed
    assert residual_tension(Q(f, "psi"), Q(b, "in"), Q(h, "in")).m_as("lbf") == pytest.approx(
        pull * b * h, rel=0.005
    )
    steel = {"A_s": Q(0.058, "in2/ft"), "f_y": Q(65000, "psi"), "h": Q(h, "in")}
    assert equivalent_in_tension(**steel).m_as("psi") == pytest.approx(
        f * (0.058 * 65000) / (pull * b * h), rel=0.005
    )


@pytest.mark.library(
    "SciPy", "optimize.brentq: equilibrium of a section with steel", "equivalent_in_bending",
    "equivalent_wire",
)  # fmt: skip
@pytest.mark.parametrize(("A_s", "d"), [(0.058, 2.0), (0.12, 3.0), (0.028, 1.0)])
def test_the_matching_strength_gives_the_moment_of_the_steel_by_integration(A_s, d):
    h, f_c, f_y = 4.0, 3000.0, 65000.0
    block = brentq(lambda a: quad(lambda z: 12 * 0.85 * f_c, 0, a)[0] - A_s * f_y, 1e-9, d)
    steel = A_s * f_y * d - quad(lambda z: 12 * 0.85 * f_c * z, 0, block)[0]
    match = brentq(lambda f: elastic_moment(f, 12, h) - steel, 0, 5000)
    inputs = {
        "A_s": Q(A_s, "in2/ft"),
        "f_y": Q(f_y, "psi"),
        "h": Q(h, "in"),
        "d": Q(d, "in"),
        "f_c": Q(f_c, "psi"),
    }
    assert equivalent_in_bending(**inputs).m_as("psi") == pytest.approx(match, rel=1e-6)
    pull = equivalent_in_tension(inputs["A_s"], inputs["f_y"], inputs["h"]).m_as("psi")
    assert equivalent_wire(**inputs).m_as("psi") == pytest.approx(max(match, pull), rel=1e-6)
