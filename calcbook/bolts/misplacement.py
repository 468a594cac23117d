"""Odds that a cast bolt comes up under a stud or too near a joint, once the wall is built."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy import sqrt

from calcbook.basis.formula import arg, cite, formula, procedure, result
from calcbook.basis.normal import share_below

if TYPE_CHECKING:
    from calcbook.basis.units import Quantity
    from calcbook.plan.tape import Layout

_SIGMA = {"low": 0, "high": 12}


@formula(
    "Spread of a bolt against its stud bay",
    cite("statistics", "independent errors add by their squares"),
    result("in", "standard deviation of bolt against bay"),
    sigma_b=arg("in", "spread of a bolt's place", above=0, high=12),
    sigma_s=arg("in", "spread of a stud's place", **_SIGMA),
    sigma_t=arg("in", "spread of where the tape starts", **_SIGMA),
)
def total_spread(sigma_b, sigma_s, sigma_t):
    """Standard deviation of the place of a bolt relative to the studs beside it.

    Source: statistics.
    """
    sigma = sqrt(sigma_b**2 + sigma_s**2 + sigma_t**2)
    return sigma


@formula(
    "Odds of a bolt set without regard to the studs",
    cite("geometry", "blocked share of a stud bay"),
    result("1", "odds of hitting a stud"),
    t_s=arg("in", "thickness of a stud", above=0),
    a=arg("in", "from a stud's face to the nearest bolt", low=0),
    s=arg("in", "stud spacing", above=0),
)
def blocked_share(t_s, a, s):
    """Share of a wall's length in which a bolt's centre would be in a stud's way.

    a: least distance of a bolt's centre from its face; s: stud spacing, more than t_s + 2 a.
    Source: geometry.
    """
    p_0 = (t_s + 2 * a) / s
    return p_0


@procedure(
    "Odds that one bolt leaves its room",
    cite("statistics", "normal distribution"),
    "The bolt's error is normal; it misses where the error exceeds the room on that side.",
    returns=result("1", "odds of a miss"),
    left=arg("in", "room on the left", low=0),
    right=arg("in", "room on the right", low=0),
    sigma=arg("in", "standard deviation of the error", above=0),
)
def odds_of_miss(left: Quantity, right: Quantity, sigma: Quantity) -> float:
    """Probability that a normal error leaves the room on either side.

    left, right: room on each side; sigma: standard deviation (lengths). Returns a plain number.
    Source: statistics.
    """
    return _odds(*(length.m_as("inch") for length in (left, right, sigma)))


def _odds(left: float, right: float, sigma: float) -> float:
    return share_below(-float(left) / sigma) + share_below(-float(right) / sigma)


@dataclass(frozen=True)
class Misses:
    """Draws of how many bolts of a job must be done again.

    counts: one number for each drawn job; expected: by the exact sum of the bolts' own odds.
    """

    counts: np.ndarray
    expected: float

    @property
    def mean(self) -> float:
        """Bolts in the way in a drawn job, on average."""
        return float(self.counts.mean())

    def at(self, share: float) -> float:
        """Number that is not exceeded in that share of the jobs."""
        return float(np.quantile(self.counts, share, method="inverted_cdf"))

    @property
    def any(self) -> float:
        """Share of the jobs with at least one."""
        return float((self.counts > 0).mean())


@functools.lru_cache(maxsize=64)
def simulate_misses(
    rooms: tuple[tuple[tuple[float, float], ...], ...],
    sigma_b: float,
    sigma_s: float,
    sigma_t: float,
    draws: int = 4000,
    seed: int = 7,
) -> Misses:
    """Draw how many bolts miss, for many jobs at once.

    rooms: for each wall a tuple of (left, right) rooms of its bolts; sigma_b, sigma_s, sigma_t: standard
    deviations of a bolt's place, of a stud's, and of the start of a wall's tape, which shifts all its
    bolts together; all plain inches. Returns Misses. The same seed gives the same draws.
    """
    generator, counts, expected = np.random.default_rng(seed), np.zeros(draws, int), 0.0
    sigma = float(np.sqrt(sigma_b**2 + sigma_s**2 + sigma_t**2))
    for wall in filter(None, rooms):
        left, right = np.array(wall, float).T
        shift = generator.normal(0.0, sigma_t, (draws, 1))
        own = generator.normal(0.0, np.hypot(sigma_b, sigma_s), (draws, len(wall)))
        error = shift + own
        counts += ((error < -left) | (error > right)).sum(axis=1)
        expected += sum(_odds(*room, sigma) for room in wall)
    return Misses(counts, expected)


def rooms_of(layout: Layout, inch: float) -> tuple[tuple[float, float], ...]:
    """(left, right) room of each bolt of a Layout, in plain inches; inch: steps to an inch."""
    found = []
    for bolt in layout.bolts:
        start, end = layout.pieces[bolt.piece - 1]
        low = max(
            [b.high for b in layout.blocks if b.high <= bolt.place] + [start + layout.rules.end_least]
        )
        high = min(
            [b.low for b in layout.blocks if b.low >= bolt.place] + [end - layout.rules.end_least]
        )
        found.append(((bolt.place - low) / inch, (high - bolt.place) / inch))
    return tuple(found)
