"""How own jobs scatter about their own means: what is common to a job, and what each line has by itself."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from calcbook.basis.formula import cite, procedure
from calcbook.basis.next_job import WEIGHT
from calcbook.records.estimate import Starts
from calcbook.records.figures import LEAST_JOBS, PACES
from calcbook.records.learned import own_spread
from calcbook.records.observed import TIMES
from calcbook.records.proposal import MOST_SPREAD, Value, value_of, values_words

if TYPE_CHECKING:
    from calcbook.job.own import Own
    from calcbook.records.estimate import Estimate
    from calcbook.records.file import Record

Told = tuple[str, int, float]  # (line or task, number of the job, logarithm of its outcome)
_CONCRETE = "prices.concrete"  # what comes out dearer by depth and waste is drawn by itself


@dataclass(frozen=True)
class Split:
    """Spread common to all lines of a job, and of each line by itself, as logarithms; the degrees of freedom behind
    them; jobs."""

    common: float
    each: float
    jobs_free: int
    lines_free: int
    jobs: int


@dataclass(frozen=True)
class Spread:
    """What is said of a pair of spreads: ``name`` as it is accepted by, ``words``, ``values`` for the own file."""

    name: str
    words: str
    values: tuple[Value, ...] = ()


@procedure(
    "Spread of jobs, and of lines within them",
    cite("statistics", "analysis of variance, one effect at random"),
    "Outcomes less the mean of their line; what the lines of a job have in common is the job's, the rest is the line's own.",
)
def spreads_of_jobs(told: Sequence[Told]) -> Split | None:
    """The two spreads of outcomes; None from fewer than three jobs, or without two lines that several jobs tell.

    told: (line, job, logarithm of the outcome).
    """
    by_line: dict[str, list[Told]] = {}
    for one in told:
        by_line.setdefault(one[0], []).append(one)
    lines = [found for found in by_line.values() if len(found) > 1]
    means = [math.fsum(one[2] for one in found) / len(found) for found in lines]
    off = [(job, y - mean) for found, mean in zip(lines, means, strict=True) for _, job, y in found]
    jobs, at = np.unique([job for job, _ in off], return_inverse=True)
    free = len(off) - len(jobs) - len(lines) + 1
    if len(jobs) < LEAST_JOBS or len(lines) < 2 or free < 2:
        return None
    y, n = np.array([value for _, value in off]), np.bincount(at)
    mean = np.bincount(at, y) / n
    each = float(np.sum((y - mean[at]) ** 2)) / free
    between = float(np.sum(n * mean**2)) / (len(jobs) - 1)
    size = (len(y) - float(np.sum(n**2)) / len(y)) / (len(jobs) - 1)
    return Split(
        math.sqrt(max(between - each, 0.0) / size), math.sqrt(each), len(jobs) - 1, free, len(jobs)
    )


def paces(estimates: Sequence[Estimate]) -> list[Told]:
    """Outcomes of every rate that count, by job."""
    rates = [one for one in estimates if one.figure.spread == PACES and one.figure.place]
    jobs: dict[str, int] = {}
    return [
        (one.figure.name, jobs.setdefault(str(record.path), len(jobs)), y)
        for one in rates
        for record, y in one.counting
    ]


def costs(records: Sequence[Record]) -> list[Told]:
    """Cost of every line but the concrete, over that quoted, by job."""
    low, high = TIMES
    return [
        (line, job, math.log(times))
        for job, record in enumerate(records)
        for line, kind, place, times in record.lines_told
        if kind == "cost" and place != _CONCRETE and low <= times <= high
    ]


def spreads(records: Sequence[Record], estimates: Sequence[Estimate], own: Own | None) -> list[Spread]:
    """What own jobs say of the spreads by which the odds on a price are drawn; those that nothing is told of are left out."""
    found = [
        _spread("pace", "Pace of the crew", "single tasks", PACES, paces(estimates), own),
        _spread("prices", "Cost of what is bought, against the quote", "single lines", ("risk.market", "risk.item_price"),
                costs(records), own),
    ]  # fmt: skip
    return [one for one in found if one]


def _spread(
    name: str, common: str, each: str, places: tuple[str, str], told: list[Told], own: Own | None
) -> Spread | None:
    if not told:
        return None
    own_split = spreads_of_jobs(told)
    if own_split is None:
        return Spread(
            name,
            f"{common}: how far it spreads is told by {LEAST_JOBS} jobs that each write down two lines or more.",
        )
    starts, values, said = Starts(own), [], []
    found = ((own_split.common, own_split.jobs_free), (own_split.each, own_split.lines_free))
    for place, words, (s, free) in zip(places, ("whole jobs differ", each), found, strict=True):
        in_use = starts.number(place)
        sigma = float(own_spread.bulk(sigma_0=in_use, nu_0=WEIGHT, s=s, nu=float(free)))
        said.append(
            f"{words} by {100 * s:.0f} % ({100 * in_use:.0f} % in use, {100 * sigma:.0f} % combined)"
        )
        values.append(value_of(place, min(sigma, MOST_SPREAD), own, own_split.jobs))
    return Spread(
        name,
        f"{common}: {', '.join(said)}, in {own_split.jobs} own jobs. {values_words(values)}",
        tuple(values),
    )
