"""The band of a next job, from the jobs that are known and the figure in use, which stands for some of them."""

from __future__ import annotations

from typing import Any

from numpy import exp, sqrt

from calcbook.basis.formula import arg, cite, formula, number, result, with_unit

WEIGHT = 5.0  # own jobs that the figure in use counts for, in mean and in spread: a choice of this book
SURE = 0.8  # share of the next jobs that a band is to hold
MU_N = arg("1", "mean, combined", symbol="mu_n")
SIGMA_N = arg("1", "spread from job to job, combined", low=0, symbol="sigma_n")


def tinv(p: Any, nu: Any) -> Any:
    """Score with the share p of Student's distribution of nu degrees of freedom below it."""
    from scipy.special import stdtrit  # takes a quarter of a second: loaded where it is needed

    return with_unit(stdtrit(number(nu, "1"), number(p, "1")), "1", p)


@formula(
    "Band of the next job",
    cite("Gelman BDA", "section 3.3, predictive distribution, Student's t"),
    result("1", "end of the band"),
    mu=MU_N,
    sigma=SIGMA_N,
    kappa=arg("1", "jobs behind the mean, with those of the figure in use", above=0, symbol="kappa_n"),
    nu=arg("1", "jobs behind the spread, with those of the figure in use", above=0, symbol="nu_n"),
    p=arg("1", "share of next jobs below it", above=0, below=1),
)
def next_job(mu, sigma, kappa, nu, p):
    """Outcome that the next job stays below with the odds p. Few jobs give a wide band.

    Source: Gelman and others, Bayesian Data Analysis.
    """
    t = tinv(p, nu)
    y_p = mu + t * sigma * sqrt(1 + 1 / kappa)
    return y_p


@formula(
    "Figure behind a logarithm",
    cite("statistics", "logarithm normally distributed"),
    result("1", "times the figure in use"),
    y=arg("1", "logarithm", low=-10, high=10),
)
def times_in_use(y):
    """What a combined mean of logarithms makes of the figure in use. Source: derived here."""
    r = exp(y)
    return r


def ends(share: float) -> tuple[float, float]:
    """Odds at the two ends of a band that holds a share."""
    return (1 - share) / 2, (1 + share) / 2
