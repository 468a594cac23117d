"""The heat solver against analytical solutions (Carslaw and Jaeger), and its energy account."""

import time

import numpy as np
import pytest
from scipy.special import erfc

from calcbook.basis.units import Q
from calcbook.concrete.hydration import mix_of
from calcbook.pour.ground_heat import Cure, Layer, Outside, grid_of, march

MIX = mix_of("I", 0.5, Q(560, "lb/yd3"))
SLAB = Layer("slab", 0.127, 2.0, 2400, 1000, 10)
STONE = Layer("stone", 0.10, 1.0, 1900, 900, 4)
SOIL = Layer("soil", 2.0, 2.1, 1800, 1180, 14, 1.3)


def _outside(steps, air=280.0, film=10.0, cover=0.0, gain=0.0, sky=None, emissivity=0.0):
    one = np.ones(steps)
    return Outside(air * one, (sky or air) * one, film * one, gain * one, cover * one, emissivity)


def test_steady_state_through_blanket_slab_and_stone():
    grid = grid_of(SLAB, STONE)
    run = march(grid, np.full(14, 290.0), _outside(3000, cover=0.2), 1.0, base=300.0)
    U = 1 / (1 / 10 + 0.2 + 0.127 / 2 + 0.10 / 1)
    q = U * 20
    assert run.top[0, -1] == pytest.approx(280 + q * 0.3, abs=1e-6)
    assert run.outer[0, -1] == pytest.approx(280 + q * 0.1, abs=1e-6)
    assert run.bottom[0, -1] == pytest.approx(300 - q * 0.1, abs=1e-6)
    assert run.middle[0, -1] == pytest.approx(300 - q * (0.1 + 0.127 / 4), abs=1e-6)


def test_sun_warms_a_surface_to_the_sol_air_temperature():
    grid = grid_of(SLAB)
    run = march(grid, np.full(10, 280.0), _outside(2000, gain=300.0), 1.0)
    assert run.top[0, -1] == pytest.approx(280 + 30, abs=1e-6)


def test_night_sky_cools_below_the_air():
    grid = grid_of(SLAB)
    run = march(grid, np.full(10, 280.0), _outside(3000, sky=260.0, emissivity=0.9), 1.0)
    T = run.top[0, -1]
    assert 10 * (280 - T) == pytest.approx(0.9 * 5.670374419e-8 * (T**4 - 260**4), rel=1e-4)
    assert T < 280


@pytest.mark.library("SciPy", "special.erfc, with the march that it runs on", "slab_temperature")
# Carslaw and Jaeger 2.7: half space at T_0, film h to air at T_a, and 2.5: a held surface
@pytest.mark.parametrize(("film", "hours"), [(10.0, 24), (10.0, 72), (1e7, 24)])
def test_semi_infinite_solid_within_one_percent(film, hours):
    k, rho, c = 1.5, 2000.0, 1000.0
    a, t = k / rho / c, hours * 3600
    layer = Layer("ground", 4.0, k, rho, c, 30, 1.12)
    grid = grid_of(layer)
    run = march(grid, np.full(30, 290.0), _outside(hours * 4 + 1, film=film), 0.25)
    x = grid.centers
    root = np.sqrt(a * t)
    with np.errstate(over="ignore", invalid="ignore"):
        film_part = np.exp(film * x / k + film**2 * a * t / k**2) * erfc(x / 2 / root + film * root / k)
    share = erfc(x / 2 / root) - (0.0 if film > 1e6 else film_part)
    exact = 290 - 10 * share
    assert np.max(np.abs(run.cells[0, -1] - exact)) < 0.01 * 10


# Carslaw and Jaeger 3.3/3.4: slab of half thickness L, one face insulated, the other held at T_a
def test_insulated_slab_against_its_series():
    k, rho, c, L = 2.0, 2400.0, 1000.0, 0.127
    a, hours = k / rho / c, 3
    grid = grid_of(Layer("slab", L, k, rho, c, 20))
    run = march(grid, np.full(20, 300.0), _outside(hours * 60 + 1, film=1e7), 1 / 60)
    n = np.arange(200)
    lam = (2 * n + 1) * np.pi / 2
    t = hours * 3600
    y = 1 - grid.centers[:, None] / L  # from the insulated face
    series = np.sum(2 * (-1.0) ** n / lam * np.exp(-(lam**2) * a * t / L**2) * np.cos(lam * y), axis=1)
    assert np.max(np.abs(run.cells[0, -1] - (280 + 20 * series))) < 0.01 * 20


def test_a_slab_that_loses_nothing_warms_by_its_heat():
    cure = Cure(MIX, (1, 10), 1e-3)
    run = march(grid_of(SLAB), np.full(10, 290.0), _outside(72 * 4 + 1, film=0.0), 0.25, cure)
    assert run.top[0, -1] - 290 == pytest.approx(cure.full * run.degree[0, 0] / 2.4e6, rel=1e-9)
    assert 30 < run.top[0, -1] - 290 < 60


def test_equivalent_age_runs_with_the_temperature():
    cure = Cure(MIX, (1, 10), 2.0)
    march(grid_of(SLAB), np.full(10, 294.25), _outside(41, air=294.25, film=1e7), 0.25, cure)
    assert cure.age[0, 0] == pytest.approx(12.0, rel=0.05)
    cold = Cure(MIX, (1, 10), 2.0)
    march(grid_of(SLAB), np.full(10, 275.0), _outside(41, air=275.0, film=1e7), 0.25, cold)
    assert cold.age[0, 0] < 7


@pytest.mark.parametrize("base", [None, 285.0])
def test_energy_account_closes(base):
    steps = 72 * 4 + 1
    air = 280 + 8 * np.sin(np.arange(steps) / 15)
    outside = Outside(air, air - 15, np.full(steps, 12.0), np.maximum(400 * np.sin(np.arange(steps) / 15), 0),
                      np.where(np.arange(steps) > 50, 0.7, 0.0), 0.9)  # fmt: skip
    grid = grid_of(SLAB, STONE, SOIL)
    run = march(grid, np.full(28, 288.0), outside, 0.25, Cure(MIX, (1, 10), 0.5), base)
    assert run.imbalance < 1e-10
    assert run.energy["hydration"][0] > 0
    if base is None:
        assert run.energy["base"][0] == 0


def _fine(factor):
    steps = 48 * 4 * factor + 1
    hours = np.arange(steps) / 4 / factor
    air = 282 + 8 * np.sin(hours / 24 * 2 * np.pi)
    outside = Outside(air, air - 18, np.full(steps, 10.0), np.maximum(350 * np.sin(hours / 24 * 2 * np.pi), 0),
                      np.zeros(steps), 0.9)  # fmt: skip
    layers = [Layer("slab", 0.127, 2, 2400, 1000, 10 * factor), Layer("stone", 0.1, 1, 1900, 900, 4 * factor),
              Layer("soil", 2.0, 2.1, 1800, 1180, 14 * factor, 1.3 ** (1 / factor))]  # fmt: skip
    grid = grid_of(*layers)
    start = np.full(len(grid.capacity), 285.0)
    start[: grid.first] = 292.0
    run = march(grid, start, outside, 0.25 / factor, Cure(MIX, (1, grid.first), 0.5), 285.0)
    return run.top[0, ::factor], run.bottom[0, ::factor]


def test_grid_and_step_have_converged():
    coarse, fine = _fine(1), _fine(4)
    span = np.ptp(fine[0])
    after = 8  # the very first steps hold the jump between warm concrete and cold ground
    for c, f in zip(coarse, fine, strict=True):
        assert np.max(np.abs(c[after:] - f[after:])) < 0.02 * span
        assert np.sqrt(np.mean((c[after:] - f[after:]) ** 2)) < 0.01 * span


@pytest.mark.parametrize("cover", [0.1, 0.3, 0.7, 1.5])
def test_more_insulation_never_makes_the_night_colder(cover):
    steps = 24 * 4 + 1
    less = _outside(steps, air=268.0, sky=250.0, emissivity=0.9, cover=cover - 0.1)
    more = _outside(steps, air=268.0, sky=250.0, emissivity=0.9, cover=cover)
    grid = grid_of(SLAB, STONE, SOIL)
    runs = [
        march(grid, np.full(28, 285.0), o, 0.25, Cure(MIX, (1, 10), 0.5), 285.0) for o in (less, more)
    ]
    assert np.all(runs[1].top >= runs[0].top - 1e-9)


def test_draws_side_by_side_are_the_single_runs():
    grid = grid_of(SLAB, STONE, SOIL)
    steps = 97
    air = np.array([np.full(steps, 275.0), np.full(steps, 285.0)])
    rest = dict(sky=air - 10, film=np.full(steps, 9.0), gain=np.zeros(steps), cover=np.zeros(steps))
    both = march(
        grid, np.full((2, 28), 290.0), Outside(air, **rest), 0.25, Cure(MIX, (2, 10), 0.5), 285.0
    )
    for k in range(2):
        one = Outside(
            air[k], sky=rest["sky"][k], film=rest["film"], gain=rest["gain"], cover=rest["cover"]
        )
        single = march(grid, np.full(28, 290.0), one, 0.25, Cure(MIX, (1, 10), 0.5), 285.0)
        assert both.top[k] == pytest.approx(single.top[0], abs=1e-9)


def test_each_step_ends_with_its_surface_in_balance():
    """What the outer surface takes in by the law of radiation and by drying at its own temperature is what goes down.

    A hot surface that dries, then a blanket, then none: what a step ends with is worked out once or twice only.
    """
    steps, sigma = 40 * 4 + 1, 5.670374419e-8
    n = np.arange(steps)
    air = 300 + 6 * np.sin(n / 15)
    gain, blanket = np.maximum(500 * np.sin(n / 15), 0), np.where((n > 60) & (n < 120), 0.5, 0.0)
    film, wet = 25.0, 48

    def drying(surface, _):
        return 0.4 * np.maximum(surface - 285, 0) ** 2

    outside = Outside(air, air - 15, np.full(steps, film), gain, blanket, 0.9, drying, wet)
    grid = grid_of(SLAB, STONE, SOIL)
    run = march(grid, np.full(28, 305.0), outside, 0.25, Cure(MIX, (1, 10), 0.5), 290.0)
    outer = run.outer[0]
    taken = (
        film * (air - outer) + gain + 0.9 * sigma * ((air - 15) ** 4 - outer**4)
        - np.where(n <= wet, drying(outer, n), 0)
    )  # fmt: skip
    down = (run.top[0] - run.cells[0, :, 0]) / grid.half[0]
    off = np.abs(taken - down)[1:] / film  # in kelvins of the air
    assert np.max(off) < 0.2 and np.mean(off) < 0.01


def test_drying_takes_its_heat():
    steps = 4 * 24 + 1
    wet = _outside(steps)
    wet = Outside(wet.air, wet.sky, wet.film, wet.gain, wet.cover, 0.0, lambda surface, n: 50.0)
    run = march(grid_of(SLAB), np.full(10, 280.0), wet, 0.25)
    assert run.top[0, -1] == pytest.approx(275, abs=0.5)
    assert run.imbalance < 1e-10


def test_three_nights_are_quick():
    grid, steps = grid_of(SLAB, STONE, SOIL), 72 * 4 + 1
    best = 9.0
    for _ in range(5):
        start = time.process_time()
        march(
            grid,
            np.full(28, 288.0),
            _outside(steps, emissivity=0.9),
            0.25,
            Cure(MIX, (1, 10), 0.5),
            285.0,
        )
        best = min(best, time.process_time() - start)
    assert best < 0.3
