"""Every line of the quote against what came out: hours and cost, job by job, by the same rule as every figure."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from calcbook.basis.next_job import SURE, ends
from calcbook.job.raw import plain
from calcbook.pour.day import WAITING
from calcbook.records.estimate import InUse, Starts, estimate_of
from calcbook.records.figures import FIGURES, LEAST_JOBS, LINES, PACES, Figure
from calcbook.records.file import LINE_UNITS
from calcbook.records.learned import mean_end
from calcbook.records.observed import TIMES, Outcomes

if TYPE_CHECKING:
    from calcbook.job.own import Own
    from calcbook.records.estimate import Estimate
    from calcbook.records.file import Record

COLUMNS = (
    "line of the quote",
    "own jobs",
    "own, times the quote",
    "combined",
    "band of the next job",
    "held",
)
_SPREAD: dict[str, tuple[str | float, ...]] = {
    "hours": PACES, "cost": ("risk.market", "risk.item_price"),
}  # fmt: skip
_SLIGHT = 0.05  # logarithm below which a line is not spoken of: a choice of this book


def line_estimates(records: Sequence[Record], own: Own | None = None) -> list[Estimate]:
    """The estimate of every line that any record tells of, hours first: own over promised, learned as a logarithm."""
    found: dict[tuple[str, str], tuple[str, list[tuple[Record, float]]]] = {}
    for record in records:
        for line, kind, _, times in record.lines_told:
            found.setdefault((kind, plain(line)), (line, []))[1].append((record, times))
    starts = Starts(own)
    return [
        _estimate(kind, line, told, starts)
        for kind in LINE_UNITS
        for (of, _), (line, told) in found.items()
        if of == kind
    ]


def _estimate(kind: str, line: str, told: list[tuple[Record, float]], starts: Starts) -> Estimate:
    low, high = TIMES
    figure = Figure(line, f"{kind} of {line}", "", "1", True, _SPREAD[kind])
    fits = [(record, math.log(times)) for record, times in told if low <= times <= high]
    problems = tuple(
        f"{record.path.name}: {kind} of {line} came to {times:.3g} times the quote; look for a mistyped number. The record is left "
        "out of this line"
        for record, times in told if not low <= times <= high
    )  # fmt: skip
    outcomes = Outcomes(figure, tuple(r for r, _ in fits), np.array([y for _, y in fits]), problems)
    return estimate_of(outcomes, InUse(1.0, 0.0, starts.spread(figure)), LINES)


def row(estimate: Estimate) -> tuple[str, ...]:
    """The cells of a line in a table of ``COLUMNS``."""

    def times(y: float) -> str:
        return f"{math.exp(y):.2f}"

    low, high = (estimate.end(p) for p in ends(SURE))
    kind = estimate.figure.words.split(" ")[0]
    return (
        f"{estimate.figure.name}, {kind}", f"{estimate.n}", times(estimate.y) if estimate.n else "–", times(estimate.mu),
        f"{times(low)} to {times(high)}", f"{estimate.held} of {len(estimate.outcomes.y)}",
    )  # fmt: skip


def off_words(estimate: Estimate, places: dict[str, str]) -> str:
    """A sentence where enough jobs say that a line comes out otherwise than quoted; "" else, and where its rate says it.

    places: field behind a line, by the line's words.
    """
    if estimate.n < LEAST_JOBS:
        return ""
    low, high = (
        math.exp(float(mean_end.bulk(mu=estimate.mu, sigma=estimate.sigma, kappa=estimate.kappa, nu=estimate.kappa, p=p)))
        for p in ends(SURE)
    )  # fmt: skip
    if low <= 1 <= high or abs(estimate.mu) < _SLIGHT:
        return ""
    line, place = estimate.figure.words, places.get(estimate.figure.name, "")
    if any(figure.place == place for figure in FIGURES.values() if place):
        return ""  # told, and proposed, with its rate
    said = (
        f"{line[0].upper()}{line[1:]}: {math.exp(estimate.mu):.2f} times the quote, from {estimate.n} own jobs (8 in 10 sure: "
        f"{low:.2f} to {high:.2f})."
    )
    if place.startswith("prices."):
        return (
            f"{said} Ask anew for {place}, or look at its amount; a price is never taken from old jobs."
        )
    if estimate.figure.name == WAITING:
        return f"{said} It follows the forecast and pour.own_set, or crew.waiting where that is given."
    return f"{said} No field stands behind it; look at how it is quoted."


def odd_lines(estimate: Estimate) -> list[str]:
    """One question for each outcome of a line that lies too far from all others."""
    return [
        f"{record.path.name}: {estimate.figure.words} came to {math.exp(y):.2f} times the quote, far from your other jobs. Is that "
        f'right? Then write counts = "{LINES}" under [record] there; until then it does not count.'
        for record, y in estimate.asked
    ]


def off_lines(records: Sequence[Record], own: Own | None = None) -> list[str]:
    """A sentence for each line that enough jobs say comes out otherwise than quoted."""
    places = fields_behind(records)
    return [words for one in line_estimates(records, own) if (words := off_words(one, places))]


def fields_behind(records: Sequence[Record]) -> dict[str, str]:
    """The field behind each line, by the line's words."""
    return {line: place for record in records for line, _, place, _ in record.lines_told if place}
