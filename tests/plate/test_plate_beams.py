"""A narrow strip of a plate is a beam on an elastic foundation; a stiff one is a footing.

Sources: M. Hetenyi, Beams on Elastic Foundation, 1946 (formulas from memory, recomputed); where a test
says so, mechanics worked out there.
"""

import numpy as np
import pytest
from shapely import box

from calcbook.plate.front import plate_of, prepared
from calcbook.plate.model import Area, Case, Line, Patch, Plate

H, K, E_C = 6.0, 100.0, 3e6
RIGIDITY = E_C * H**3 / 12  # nu = 0: a beam, for each inch of width
LAMBDA = (K / (4 * RIGIDITY)) ** 0.25  # 1/in.
Q = 600.0  # plf across the strip
PER_INCH = Q / 12
EVEN = 20_000.0  # psf: keeps all soil pressed


def strip(length, weight=0.0):
    """A strip one foot wide. length: ft."""
    return Plate((box(0, 0, length, 1),), H, K, E_C, 0.0, weight)


def across(x):
    return Line(((x, 0.0), (x, 1.0)), Q, "load across")


def pressed(plate, *loads):
    """All soil pressed: (deflection without the even part, moment along the strip) as functions of x."""
    result = prepared(plate, loads).solve(Case("", (*loads, Area(EVEN)), 0.0))

    def of(x):
        found = result.at(np.atleast_1d(x), np.full(np.size(x), 0.5))
        return found.deflection - EVEN / 144 / K, found.m_x

    return of


def test_an_endless_beam_under_a_force_is_hetenyi_s():
    length = 24 / LAMBDA / 12
    of = pressed(strip(length), across(length / 2))
    w, m = of(length / 2)
    assert w[0] == pytest.approx(PER_INCH * LAMBDA / (2 * K), rel=1e-3)
    assert m[0] == pytest.approx(PER_INCH / (4 * LAMBDA), rel=0.01)


def test_an_endless_beam_away_from_the_force_is_hetenyi_s():
    length = 24 / LAMBDA / 12
    x = np.array([0.5, 1.0, 2.0, 3.0]) / LAMBDA
    w, m = pressed(strip(length), across(length / 2))(length / 2 + x / 12)
    decay = np.exp(-LAMBDA * x)
    expected = PER_INCH * LAMBDA / (2 * K) * decay * (np.cos(LAMBDA * x) + np.sin(LAMBDA * x))
    assert w == pytest.approx(expected, abs=2e-3 * expected[0])
    bent = PER_INCH / (4 * LAMBDA) * decay * (np.cos(LAMBDA * x) - np.sin(LAMBDA * x))
    assert m == pytest.approx(bent, abs=0.01 * PER_INCH / (4 * LAMBDA))


def test_a_force_at_the_end_of_a_long_beam_is_hetenyi_s():
    length = 12 / LAMBDA / 12
    w, _ = pressed(strip(length), across(1e-6))(1e-6)
    assert w[0] == pytest.approx(2 * PER_INCH * LAMBDA / K, rel=1e-3)
    _, m = pressed(strip(length), across(1e-6))(np.pi / 4 / LAMBDA / 12)
    assert -m[0] == pytest.approx(0.3224 * PER_INCH / LAMBDA, rel=0.01)  # e^(-pi/4) sin(pi/4)


@pytest.mark.parametrize("reach", [1.0, 2.0, 4.0])
def test_a_short_beam_under_a_force_in_its_middle_is_hetenyi_s(reach):
    length = reach / LAMBDA / 12
    w, m = pressed(strip(length), across(length / 2))(length / 2)
    sinh, cosh, sin, cos = np.sinh(reach), np.cosh(reach), np.sin(reach), np.cos(reach)
    assert w[0] == pytest.approx(
        PER_INCH * LAMBDA / (2 * K) * (cosh + cos + 2) / (sinh + sin), rel=2e-3
    )
    assert m[0] == pytest.approx(PER_INCH / (4 * LAMBDA) * (cosh - cos) / (sinh + sin), rel=0.01)


def test_a_strip_without_weight_on_soil_that_does_not_pull_touches_it_for_pi_over_lambda():
    """Worked out here from Hetenyi's short beam: the parts that have lifted bear nothing, so the rest is
    a short beam whose free ends neither press nor lift, and that is the one of length pi / lambda."""
    length = 10 / LAMBDA / 12
    result = plate_of(strip(length), Case("", (across(length / 2),), 0.0), finer=2)
    w = result.at(np.array([length / 2]), np.array([0.5]))
    sides = np.cosh(np.pi) + 1, np.sinh(np.pi)
    assert w.deflection[0] == pytest.approx(PER_INCH * LAMBDA / (2 * K) * sides[0] / sides[1], rel=2e-3)
    assert w.m_x[0] == pytest.approx(PER_INCH / (4 * LAMBDA) * sides[0] / sides[1], rel=0.01)
    x, along = result.section((length / 2, 0.5), (length, 0.5), 4000)
    assert x[np.argmax(along.deflection < 0)] * 12 == pytest.approx(np.pi / 2 / LAMBDA, rel=0.005)
    assert length - result.lifted_area == pytest.approx(np.pi / LAMBDA / 12, rel=0.02)


def test_a_stiff_pad_under_a_force_off_its_middle_presses_as_a_footing_does():
    """Mechanics: within the kern q = P/A (1 + 6 e/L); beyond it q = 2 P / (3 B (L/2 - e))."""
    side, force = 36.0, 20_000.0
    pad = Plate((box(0, 0, 3, 3),), 80.0, 50.0, 4e6, 0.15, 0.0)

    def pressure(e):
        x = 1.5 + e / 12
        load = Patch(box(x - 0.1, 1.4, x + 0.1, 1.6), force)
        return plate_of(pad, Case("", (load,), 0.0)).at(np.array([3.0]), np.array([1.5])).pressure[0]

    assert pressure(3.0) == pytest.approx(force / 9 * (1 + 6 * 3.0 / side), rel=0.005)
    assert pressure(10.0) == pytest.approx(144 * 2 * force / (3 * side * (18 - 10.0)), rel=0.005)


def test_a_large_slab_warmer_on_top_is_bent_as_if_held_flat():
    """Westergaard 1927, from memory: far from all edges the stress is E alpha dT / (2 (1 - nu))."""
    nu, warm = 0.15, 20.0
    reach = (E_C * H**3 / (12 * (1 - nu**2)) / K) ** 0.25
    side = 16 * reach / 12
    plate = Plate((box(0, 0, side, side),), H, K, E_C, nu, 0.0)
    result = plate_of(plate, Case("", (Area(EVEN),), 0.0, warm))
    middle = result.at(np.array([side / 2]), np.array([side / 2]))
    assert middle.bottom[0] == pytest.approx(E_C * 5.5e-6 * warm / (2 * (1 - nu)), rel=0.01)


def test_a_small_slab_that_nothing_holds_curls_freely_without_stress():
    """Mechanics: a plate with the same curvature everywhere has no stress. Its springs hardly hold it."""
    plate = Plate((box(0, 0, 2, 2),), H, 0.01, E_C, 0.15, 0.0)
    result = plate_of(plate, Case("", (Area(1.0),), 0.0, 20.0))
    held = E_C * 5.5e-6 * 20 / (2 * (1 - 0.15))
    assert result.worst["stress at the bottom"].value < 0.001 * held
    assert result.worst["stress at the top"].value < 0.001 * held
