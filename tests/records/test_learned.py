"""The rule by which own jobs and the figure in use are combined: by hand, beside scipy, and by simulation.

Builders are drawn whose own mean and spread the rule does not know; what it promises must then hold.
"""

import math

import numpy as np
import pytest
from scipy import stats

from calcbook.basis.next_job import SURE, WEIGHT, ends, next_job, times_in_use
from calcbook.basis.units import Q
from calcbook.records.estimate import before, combined, odd
from calcbook.records.learned import (
    combined_mean,
    combined_odds,
    combined_scatter,
    cost_against,
    depth_off,
    held_by_chance,
    hours_against,
    log_outcome,
    lost_share,
    mean_end,
    outlier_score,
    own_spread,
    pace,
    set_against_band,
    share_of_allowance,
    strength_against,
    time_between,
)

SIGMA = 0.18  # spread in use, as of a pace
BUILDERS = 6000

# --- by hand ---------------------------------------------------------------------------------------


@pytest.mark.worked(
    "pace", "hours_against", "cost_against", "depth_off", "set_against_band", "log_outcome", "times_in_use",
    "share_of_allowance", "strength_against", "time_between",
)  # fmt: skip
def test_what_one_job_says():
    assert pace(Q(12, "h"), Q(16, "h")) == pytest.approx(0.75)  # 12 h of work took 16
    assert pace(Q(12, "h"), Q(16, "h"), 1.2) == pytest.approx(
        0.9
    )  # promised at 1.2 times the rate in use
    assert hours_against(Q(55, "h"), Q(50, "h")) == pytest.approx(1.1)
    assert cost_against(Q(9000, "$"), Q(10000, "$")) == pytest.approx(0.9)
    assert strength_against(Q(3600, "psi"), Q(3000, "psi")) == pytest.approx(1.2)
    assert time_between(Q(54, "min"), Q(45, "min")) == pytest.approx(1.2)
    assert depth_off(Q(5.25, "in"), Q(5, "in")).m_as("inch") == pytest.approx(0.25)
    assert set_against_band(Q(6, "h"), Q(4, "h"), Q(9, "h")) == pytest.approx(1.0)  # 4 x 9 is 6 x 6
    assert log_outcome(2.0) == pytest.approx(-log_outcome(0.5))
    assert times_in_use(log_outcome(1.37)) == pytest.approx(1.37)
    assert share_of_allowance(0.048, 0.08) == pytest.approx(0.6)


@pytest.mark.worked("lost_share")
def test_waste_is_what_came_less_what_is_in_the_slab():
    """27.5 yd3 less 0.5 left, 0.5 in the pump, 24 by the plan; 972 ft2 half an inch deeper take 1.5 yd3: 1 of 24."""
    w = lost_share(
        Q(27.5, "yd3"), Q(0.5, "yd3"), Q(24, "yd3"), Q(972, "ft2"), Q(0.5, "in"), Q(0.5, "yd3")
    )
    assert w == pytest.approx(1 / 24)


@pytest.mark.worked("outlier_score")
def test_the_score_of_an_odd_job():
    """Own arithmetic: 1.0 off in a spread of 1.4826 x 0.2; with jobs all alike the spread in use is taken."""
    assert outlier_score(1.5, 0.5, 0.2, 0.1) == pytest.approx(1 / (1.4826 * 0.2))
    assert outlier_score(1.5, 0.5, 0.0, 0.1) == pytest.approx(10)


@pytest.mark.worked("combined_mean")
def test_two_jobs_move_little_and_twenty_decide():
    """Own arithmetic on the weight of five jobs: 2 of 7 and 20 of 25 of the way."""
    way = [combined_mean(mu_0=0.0, kappa_0=WEIGHT, y=1.0, n=n) for n in (0, 2, 20)]
    assert way == pytest.approx([0, 2 / 7, 0.8])


@pytest.mark.library("SciPy", "stats.beta", "combined_odds")
def test_odds_of_a_lost_day_are_the_mean_of_scipys_beta():
    """Five days at 15 % and 3 lost of 17 planned: a beta distribution of 0.75 + 3 and 4.25 + 14."""
    found = combined_odds(p_0=0.15, n_0=5, k=3, n=17)
    assert found == pytest.approx(stats.beta(0.75 + 3, 4.25 + 14).mean())


# --- beside scipy ----------------------------------------------------------------------------------


@pytest.mark.library("SciPy", "stats.normal_inverse_gamma", "combined_mean", "combined_scatter")
def test_the_rule_is_bayes_worked_out_on_a_grid():
    """Prior of scipy times the likelihood of scipy, summed over a fine grid: mean of the mean, mean of the variance.

    An inverse chi-squared of nu and sigma^2 is an inverse gamma of nu/2 and nu sigma^2/2, whose mean is
    nu sigma^2/(nu - 2).
    """
    y, mu_0, kappa_0, nu_0, sigma_0 = np.array([0.31, 0.12, 0.44, 0.25]), 0.0, 5.0, 5.0, 0.2
    mu = np.linspace(-0.6, 0.9, 700)[:, None]
    v = np.geomspace(0.004, 1.5, 700)[None, :]
    prior = stats.normal_inverse_gamma(mu_0, kappa_0, nu_0 / 2, nu_0 * sigma_0**2 / 2)
    density = prior.pdf(mu + 0 * v, v + 0 * mu)
    for one in y:
        density = density * stats.norm.pdf(one, mu, np.sqrt(v))
    weight = density * v  # the grid of v is even in its logarithm
    weight /= weight.sum()
    n, s = len(y), float(np.std(y, ddof=1))
    mean = combined_mean(mu_0=mu_0, kappa_0=kappa_0, y=float(y.mean()), n=n)
    spread = combined_scatter(
        sigma_0=sigma_0, nu_0=nu_0, mu_0=mu_0, kappa_0=kappa_0, y=float(y.mean()), s=s, n=n
    )
    nu = nu_0 + n
    assert mean == pytest.approx((weight * mu).sum(), abs=1e-5)
    assert spread**2 * nu / (nu - 2) == pytest.approx((weight * v).sum(), rel=2e-3)


@pytest.mark.library("SciPy", "stats.invgamma", "own_spread")
@pytest.mark.parametrize(("s", "nu"), [(0.3, 7), (0.05, 40), (0.2, 0)])
def test_a_spread_is_that_of_a_grid_of_variances(s, nu):
    """Prior of scipy times the chi-squared of scipy for what the jobs scatter, summed over a fine grid.

    An inverse chi-squared of nu and sigma^2 has the mean nu sigma^2/(nu - 2).
    """
    sigma_0, nu_0 = 0.15, 5.0
    v = np.geomspace(1e-4, 100.0, 6000)
    density = stats.invgamma.pdf(v, nu_0 / 2, scale=nu_0 * sigma_0**2 / 2)
    if nu:
        density = density * stats.chi2.pdf(nu * s**2 / v, nu) / v
    weight = density * v / (density * v).sum()
    found = own_spread(sigma_0=sigma_0, nu_0=nu_0, s=s, nu=float(nu))
    behind = nu_0 + nu
    assert found**2 * behind / (behind - 2) == pytest.approx((weight * v).sum(), rel=3e-3)


@pytest.mark.library("SciPy", "stats.t", "next_job")
@pytest.mark.parametrize("p", [0.1, 0.5, 0.9, 0.95])
def test_the_band_is_students_distribution_of_scipy(p):
    low = next_job(mu=0.2, sigma=0.15, kappa=11, nu=11, p=p)
    assert low == pytest.approx(
        stats.t(11, loc=0.2, scale=0.15 * math.sqrt(12 / 11)).ppf(p), rel=1e-9, abs=1e-9
    )


@pytest.mark.library("SciPy", "stats.t", "mean_end")
@pytest.mark.parametrize("p", [0.1, 0.9, 0.975])
def test_the_band_of_the_mean_is_students_distribution_of_scipy(p):
    found = mean_end(mu=0.2, sigma=0.15, kappa=11, nu=9, p=p)
    assert found == pytest.approx(stats.t(9, loc=0.2, scale=0.15 / math.sqrt(11)).ppf(p), rel=1e-9)


@pytest.mark.library("SciPy", "stats.median_abs_deviation", "outlier_score")
def test_the_robust_spread_is_that_of_scipy():
    """Its scale "normal" is the same 1.4826, to more digits."""
    y = np.array([0.3, -0.4, 0.1, 0.9, 2.4, 0.2, -0.1])
    away = stats.median_abs_deviation(y)
    robust = stats.median_abs_deviation(y, scale="normal")
    for one in y:
        score = outlier_score(one, float(np.median(y)), float(away), 0.01)
        assert score == pytest.approx(abs(one - np.median(y)) / robust, rel=1e-5)


@pytest.mark.library("SciPy", "stats.binom", "held_by_chance")
def test_how_often_a_right_band_holds_is_scipys_binomial():
    for n in (1, 5, 12, 40):
        low, high = held_by_chance(n)
        assert stats.binom.cdf(low - 1, n, SURE) <= 0.025 < stats.binom.cdf(low, n, SURE)
        assert stats.binom.sf(high, n, SURE) <= 0.025 < stats.binom.sf(high - 1, n, SURE)


NEWCOMB = np.array([
    28, -44, 29, 30, 24, 28, 37, 32, 36, 27, 26, 28, 29, 26, 27, 22, 23, 20, 25, 25, 36, 23, 31, 32, 24, 27, 33, 16, 24,
    29, 36, 21, 28, 26, 27, 27, 32, 25, 28, 24, 40, 21, 31, 32, 28, 26, 30, 27, 26, 24, 32, 29, 34, -2, 25, 19, 36, 29,
    30, 22, 28, 33, 39, 25, 16, 23,
], float)  # fmt: skip


@pytest.mark.remembered(
    "Gelman BDA", "section 3.2, Newcomb's 66 measurements of the speed of light", "mean_end"
)
def test_newcombs_measurements():
    """Mean 26.2, standard deviation 10.8, 95 of 100: 23.6 to 28.8 (from memory; the two inputs to their last digit)."""
    assert NEWCOMB.mean() == pytest.approx(26.2, abs=0.05) and np.std(NEWCOMB, ddof=1) == pytest.approx(
        10.8, abs=0.06
    )
    low, high = (mean_end(mu=26.2, sigma=10.8, kappa=66, nu=65, p=p) for p in (0.025, 0.975))
    assert low == pytest.approx(23.6, abs=0.06) and high == pytest.approx(28.8, abs=0.06)


def test_newcombs_two_odd_values_are_the_ones_asked_about():
    """-44 and -2, which reprints of the data point at; their median stands in for a figure in use."""
    assert NEWCOMB[odd(NEWCOMB, 27.0, 5.0)].tolist() == [-44, -2]


# --- by simulation ---------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def drawn():
    """(own mean, spread, outcomes of 21 jobs) of builders as the rule takes them to be."""
    random = np.random.default_rng(4)
    spread = SIGMA * np.sqrt(WEIGHT / random.chisquare(WEIGHT, BUILDERS))
    mean = spread / math.sqrt(WEIGHT) * random.standard_normal(BUILDERS)
    jobs = mean[:, None] + spread[:, None] * random.standard_normal((BUILDERS, 21))
    return mean, spread, jobs


@pytest.fixture(scope="module")
def learned(drawn):
    """(counted, n, combined mean, combined spread) before each job and after the last."""
    jobs = drawn[2]
    counted = np.ones(jobs.shape, bool)
    n, y, s = before(jobs, counted)
    return n, *combined(0.0, SIGMA, y, s, n)


@pytest.mark.parametrize("n", [0, 5, 10, 20])
def test_the_promised_band_holds_as_often_as_promised(drawn, learned, n):
    """Four standard errors of a share of 6,000: 2 of 100."""
    behind, mu, sigma = (part[:, n] for part in learned)
    low, high = (
        next_job.bulk(mu=mu, sigma=sigma, kappa=WEIGHT + behind, nu=WEIGHT + behind, p=p)
        for p in ends(SURE)
    )
    held = np.mean((drawn[2][:, n] >= low) & (drawn[2][:, n] <= high))
    assert held == pytest.approx(SURE, abs=4 * math.sqrt(SURE * (1 - SURE) / BUILDERS))


STARTS = {
    "set": 0.25,
    "trucks": 0.25,
    "a line's hours": 0.18,
    "a line's cost": 0.058,
    "tests of strength": 0.15,
}


@pytest.mark.parametrize("sigma_0", STARTS.values(), ids=STARTS.keys())
def test_every_thing_learned_holds_its_bands_and_errs_less_with_each_job(sigma_0):
    """True values are drawn about the start: of 20 jobs the odd ones are left out as the book does, the rest is learned.

    Bands within four standard errors of a share of 2,000, 3.6 of 100, and as much for the jobs that are left out.
    """
    random = np.random.default_rng(round(1000 * sigma_0))
    spread = sigma_0 * np.sqrt(WEIGHT / random.chisquare(WEIGHT, 2000))
    mean = spread / math.sqrt(WEIGHT) * random.standard_normal(2000)
    jobs = mean[:, None] + spread[:, None] * random.standard_normal((2000, 21))
    counted = ~odd(jobs, 0.0, sigma_0)
    n, y, s = before(jobs, counted)
    mu, sigma = combined(0.0, sigma_0, y, s, n)
    error = np.median(np.abs(mu - mean[:, None]), axis=0)
    assert error[20] < error[10] < error[5] < error[0]
    for jobs_before in (5, 10, 20):
        behind = WEIGHT + n[:, jobs_before]
        low, high = (
            next_job.bulk(
                mu=mu[:, jobs_before], sigma=sigma[:, jobs_before], kappa=behind, nu=behind, p=p
            )
            for p in ends(SURE)
        )
        held = np.mean((jobs[:, jobs_before] >= low) & (jobs[:, jobs_before] <= high))
        assert held == pytest.approx(SURE, abs=4 * math.sqrt(SURE * (1 - SURE) / 2000) + 0.02)


@pytest.mark.parametrize("n", [5, 10, 20])
def test_the_error_falls_as_theory_says(drawn, learned, n):
    """In own spreads the error of the mean is 1/(5 + n) squared, from 1/5 at the published start."""
    mean, spread, _ = drawn
    error = np.mean(((learned[1][:, n] - mean) / spread) ** 2)
    assert error == pytest.approx(1 / (WEIGHT + n), rel=0.1)


def test_a_builder_who_is_as_published_is_never_led_away_by_more_than_stated():
    """Theory: sqrt(n)/(5 + n) spreads, at most 1/(2 sqrt 5) = 0.224 of one, at five jobs."""
    random = np.random.default_rng(5)
    jobs = random.standard_normal((BUILDERS, 30))
    n, y, s = before(jobs, np.ones(jobs.shape, bool))
    error = np.sqrt(np.mean(combined(0.0, 1.0, y, s, n)[0] ** 2, axis=0))
    assert error == pytest.approx(np.sqrt(n[0]) / (WEIGHT + n[0]), abs=0.01)
    assert error.max() < 0.224 * 1.05 and error[20] < error[5]


def test_a_builder_twice_as_fast_is_found_and_no_job_of_his_is_odd(drawn):
    """Published rates scatter by half: after twenty jobs four fifths of the way are gone, the rest is told by the band."""
    random = np.random.default_rng(6)
    jobs = math.log(2) + SIGMA * random.standard_normal((500, 20))
    assert np.mean(odd(jobs, 0.0, SIGMA)) < 0.001
    n, y, s = before(jobs, np.ones(jobs.shape, bool))
    mu, _ = combined(0.0, SIGMA, y, s, n)
    assert mu[:, 20].mean() == pytest.approx(0.8 * math.log(2), abs=0.01)


@pytest.mark.parametrize("n", [2, 5, 12])
def test_one_wild_job_is_asked_about_and_cannot_ruin_the_figure(n):
    """A job of 4.5 times the figure, eight spreads off: nearly always asked about, and never worth more than one spread.

    Own bound: where it is not asked about, the others lie so far apart that it is one of them; it moves the
    figure by its share, 1 of (5 + n + 1).
    """
    random = np.random.default_rng(7)
    jobs = SIGMA * random.standard_normal((400, n))
    wild = np.concatenate([jobs, np.full((400, 1), math.log(4.5))], axis=1)
    found = odd(wild, 0.0, SIGMA)
    assert found[:, -1].mean() > 0.95 and found[:, :-1].mean() < 0.01
    with_it, alone = (
        combined(0.0, SIGMA, *before(y, ~odd(y, 0.0, SIGMA))[1:], before(y, ~odd(y, 0.0, SIGMA))[0])[0][
            :, -1
        ]
        for y in (wild, jobs)
    )
    assert np.abs(with_it - alone).max() < SIGMA * 1.2
    assert np.median(np.abs(with_it - alone)) == pytest.approx(0, abs=1e-9)
