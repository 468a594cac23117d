"""What own jobs say beside the figure in use: the two combined by a stated rule.

The rule is the conjugate one for a normal distribution whose mean and variance are both unknown. The figure
in use stands for a stated number of jobs, so that two own jobs move little and twenty decide. y is the outcome
of a job: as it is, or for what is so many times another its logarithm.
"""

from __future__ import annotations

import math

from numpy import abs, log, maximum, sqrt

from calcbook.basis.formula import arg, cite, formula, procedure, result
from calcbook.basis.next_job import MU_N, SIGMA_N, SURE, tinv

ASKED = 3.5  # robust spreads from the middle beyond which an outcome is asked about
_N = arg("1", "own jobs", low=0)
_MU_0 = arg("1", "outcome by the figure in use")
_KAPPA_0 = arg("1", "jobs that the figure in use counts for", above=0)
_Y = arg("1", "mean of the own jobs", symbol="y_bar")


@formula(
    "Outcome against the figure in use, as a logarithm",
    cite("statistics", "logarithm normally distributed"),
    result("1", "logarithm of own over in use"),
    r=arg("1", "outcome, times the figure in use", above=0),
)
def log_outcome(r):
    """What is so many times another, so that half and double lie equally far. Source: derived here.

    >>> print(round(log_outcome(2), 4))
    0.6931
    """
    y = log(r)
    return y


@formula(
    "Extra depth of the base",
    cite("geometry", "mean of the places measured"),
    result("in", "average extra depth as measured"),
    h_m=arg("in", "mean depth, top of the forms down to the stone", above=0, high=48),
    h=arg("in", "slab thickness", above=0, high=24),
)
def depth_off(h_m, h):
    """How much deeper a finished base came out than planned. Source: geometry."""
    d = h_m - h
    return d


@formula(
    "Setting time against the published band",
    cite("statistics", "middle of a band on a scale of logarithms"),
    result("1", "setting time, times the middle of the published band"),
    t=arg("h", "first footprint that holds, after placing begins", above=0),
    t_1=arg("h", "early end of the band that was promised", above=0),
    t_2=arg("h", "late end of the band that was promised", above=0),
    f=arg("1", "own factor that the band was worked out with", above=0),
)
def set_against_band(t, t_1, t_2, f=1.0):
    """Setting time of the builder's own mixes, times that of the published bands; an admixture's slowing is in the band.

    Source: derived here.
    """
    r = f * t / sqrt(t_1 * t_2)
    return r


@formula(
    "Time between trucks",
    cite("common practice", "from one arrival to the next"),
    result("1", "time between trucks, times that in use"),
    t=arg("min", "mean time between trucks by the tickets", above=0),
    t_0=arg("min", "time between trucks in use", above=0),
)
def time_between(t, t_0):
    """How fast the plant really sends its trucks."""
    r = t / t_0
    return r


@formula(
    "Strength against that ordered",
    cite("common practice", "mean of the tests at 28 days"),
    result("1", "strength, times that ordered"),
    S=arg("psi", "mean of the tests at 28 days", above=0, high=20000),
    f_c=arg("psi", "strength ordered", above=0, high=20000),
)
def strength_against(S, f_c):
    """How far the producer's concrete lies above what was ordered; cylinders and cores, no hammer."""
    r = S / f_c
    return r


@formula(
    "Hours against those promised",
    cite("common practice"),
    result("1", "hours, times those promised"),
    H=arg("h", "person-hours as they came out", above=0),
    H_p=arg("h", "person-hours promised", above=0),
)
def hours_against(H, H_p):
    """All lines of work that were written down, against the same lines of the quote."""
    r = H / H_p
    return r


@formula(
    "Cost against that promised",
    cite("common practice"),
    result("1", "direct cost, times that promised"),
    C=arg("$", "direct cost as it came out", above=0),
    C_p=arg("$", "direct cost promised", above=0),
)
def cost_against(C, C_p):
    """What the job cost without overhead, against the quote."""
    r = C / C_p
    return r


@formula(
    "Own rate of a job",
    cite("common practice", "the same work in other hours"),
    result("1", "own rate, times the rate in use"),
    H_p=arg("h", "person-hours promised", above=0),
    H=arg("h", "person-hours as they came out", above=0),
    f=arg("1", "rate that was promised with, times the rate in use", above=0),
)
def pace(H_p, H, f=1.0):
    """How fast a crew was: what took more hours than promised was done at a lower rate.

    f: where the promise was made with another rate than the one now in use (plain). Source: common practice.
    """
    r = f * H_p / H
    return r


@formula(
    "Concrete lost on the way",
    cite("geometry", "what came, less what is in the slab"),
    result("1", "share of the volume by the plan that was lost"),
    V_d=arg("yd3", "concrete delivered", above=0),
    V_r=arg("yd3", "concrete left over", low=0),
    V=arg("yd3", "concrete by the plan", above=0),
    A=arg("ft2", "plan area of the slab", above=0),
    d=arg("in", "average extra depth as measured", low=-6, high=24),
    V_l=arg("yd3", "concrete left in the pump and its line", low=0, high=5),
)
def lost_share(V_d, V_r, V, A, d, V_l):
    """Waste of a job as it came out: spill, forms that spread, washed out of the truck.

    The base's extra depth is not waste and is taken off. Source: geometry.
    """
    w = (V_d - V_r - V_l - V - A * d) / V
    return w


@formula(
    "Mean, own jobs and figure in use combined",
    cite("Gelman BDA", "section 3.3, conjugate prior of a normal distribution"),
    result("1", "mean, combined"),
    mu_0=_MU_0,
    kappa_0=_KAPPA_0,
    y=_Y,
    n=_N,
)
def combined_mean(mu_0, kappa_0, y, n):
    """Mean that own jobs and the figure in use agree on, each by the jobs that it counts for.

    Source: Gelman and others, Bayesian Data Analysis.

    >>> print(combined_mean(mu_0=0, kappa_0=5, y=0.3, n=10))
    0.2
    """
    mu_n = (kappa_0 * mu_0 + n * y) / (kappa_0 + n)
    return mu_n


@formula(
    "Spread from job to job, combined",
    cite("Gelman BDA", "section 3.3, conjugate prior of a normal distribution"),
    result("1", "spread from job to job, combined"),
    sigma_0=arg("1", "spread in use", above=0),
    nu_0=arg("1", "jobs that the spread in use counts for", above=0),
    mu_0=_MU_0,
    kappa_0=_KAPPA_0,
    y=_Y,
    s=arg("1", "spread of the own jobs", low=0),
    n=_N,
)
def combined_scatter(sigma_0, nu_0, mu_0, kappa_0, y, s, n):
    """Spread of the next jobs: that in use, that among own jobs, and how far their means lie apart.

    s: standard deviation of the own jobs, over n - 1; 0 for one job. Source: Gelman and others.
    """
    S_jobs = maximum(n - 1, 0) * s**2
    S_apart = kappa_0 * n / (kappa_0 + n) * (y - mu_0) ** 2
    sigma_n = sqrt((nu_0 * sigma_0**2 + S_jobs + S_apart) / (nu_0 + n))
    return sigma_n


@formula(
    "Spread about own means, combined",
    cite("Gelman BDA", "section 2.6, conjugate prior of a variance, the mean known"),
    result("1", "spread, combined"),
    sigma_0=arg("1", "spread in use", above=0),
    nu_0=arg("1", "jobs that the spread in use counts for", above=0),
    s=arg("1", "spread of own jobs about their own means", low=0),
    nu=arg("1", "degrees of freedom behind it", low=0),
)
def own_spread(sigma_0, nu_0, s, nu):
    """A spread that own jobs and the figure in use agree on, each by what it counts for.

    Source: Gelman and others, Bayesian Data Analysis.

    >>> print(round(own_spread(sigma_0=0.15, nu_0=5, s=0.3, nu=5), 4))
    0.2372
    """
    sigma_n = sqrt((nu_0 * sigma_0**2 + nu * s**2) / (nu_0 + nu))
    return sigma_n


@formula(
    "Band of the mean",
    cite("Gelman BDA", "section 3.2, marginal distribution of the mean, Student's t"),
    result("1", "end of the band"),
    mu=MU_N,
    sigma=SIGMA_N,
    kappa=arg("1", "jobs behind the mean", above=0, symbol="kappa_n"),
    nu=arg("1", "jobs behind the spread", above=0, symbol="nu_n"),
    p=arg("1", "odds that the mean lies below it", above=0, below=1),
)
def mean_end(mu, sigma, kappa, nu, p):
    """How well the figure itself is known: its mean lies below with the odds p. It narrows with every job.

    Source: Gelman and others, Bayesian Data Analysis.
    """
    t = tinv(p, nu)
    mu_p = mu + t * sigma / sqrt(kappa)
    return mu_p


@formula(
    "Modified score of an outcome",
    cite("Iglewicz Hoaglin 1993", "modified Z-scores; 3.5 is their limit"),
    result("1", "robust spreads from the middle"),
    y=arg("1", "outcome of a job"),
    y_m=arg("1", "median of the jobs"),
    D=arg("1", "median distance from the median", low=0),
    sigma_0=arg("1", "spread in use", above=0),
)
def outlier_score(y, y_m, D, sigma_0):
    """How far a job lies from the middle of all, in a spread that one odd job cannot stretch.

    The spread in use is the least that is taken, so that three jobs alike make no outlier of a fourth. Beyond 3.5
    the job is asked about and does not count until the builder says so. Source: Iglewicz and Hoaglin.
    """
    M = abs(y - y_m) / maximum(1.4826 * D, sigma_0)
    return M


@formula(
    "Share of an allowance that is used",
    cite("common practice", "an allowance is more than most jobs need"),
    result("1", "share of the allowance used"),
    w=arg("1", "concrete lost on the way, or its spread", low=0, high=1),
    w_a=arg("1", "allowance for waste", above=0, high=0.5),
)
def share_of_allowance(w, w_a):
    """Mean or spread of the waste as a share of the allowance, as the odds on the price take it."""
    u = w / w_a
    return u


@formula(
    "Odds, own days and figure in use combined",
    cite("Gelman BDA", "section 2.4, conjugate prior of a share"),
    result("1", "odds, combined"),
    p_0=arg("1", "odds in use", above=0, below=1),
    n_0=arg("1", "days that the odds in use count for", above=0),
    k=arg("1", "days lost", low=0),
    n=arg("1", "days planned", low=0),
)
def combined_odds(p_0, n_0, k, n):
    """Odds that a planned day is lost, from own days and those that the figure in use stands for.

    Source: Gelman and others, Bayesian Data Analysis.

    >>> print(combined_odds(p_0=0.2, n_0=5, k=4, n=15))
    0.25
    """
    p_n = (n_0 * p_0 + k) / (n_0 + n)
    return p_n


@procedure(
    "How often a right band holds by chance",
    cite("statistics", "binomial distribution"),
    "Jobs inside a band that is right are counted as tosses of a coin with that share; both tails are cut off.",
)
def held_by_chance(n: int, share: float = SURE, odds: float = 0.95) -> tuple[int, int]:
    """From how many to how many of n jobs a band holds that is meant to hold a share of them.

    odds: of the count lying between the two (plain).

    >>> held_by_chance(12)
    (7, 12)
    """
    weights = [math.comb(n, k) * share**k * (1 - share) ** (n - k) for k in range(n + 1)]
    tail, low, high = (1 - odds) / 2, 0, n
    while sum(weights[: low + 1]) <= tail:
        low += 1
    while sum(weights[high:]) <= tail:
        high -= 1
    return low, high
