"""Outcomes against what was promised, job after job."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from calcbook.basis.next_job import SURE
from calcbook.basis.showing import magnitude, money_mark
from calcbook.basis.units import TRADE_UNITS, Q
from calcbook.plan.charted import key
from calcbook.plan.drawing import ACCENT, GREY, INK, LINE, PALE, SMALL, chart

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from numpy.typing import NDArray

    from calcbook.records.estimate import Estimate
    from calcbook.records.file import Record
    from calcbook.records.prices import Prices


def outcome_chart(estimate: Estimate, system: str, whose: str = "own") -> Figure:
    """Outcomes of a figure job by job, with the band that the jobs before had promised for each; whose: own or invented."""
    figure = estimate.figure
    percent = 100.0 if figure.name == "waste" else 1.0
    one = (
        percent * magnitude(Q(1.0, figure.unit), figure.unit, system) if figure.unit != "1" else percent
    )
    low, middle, high = (one * np.asarray(estimate.figured(row)) for row in estimate.bands)
    seen = one * np.asarray(estimate.figured(estimate.outcomes.y))
    unit = "%" if figure.name == "waste" else TRADE_UNITS[figure.unit].label_for(system)
    drawn, ax = chart(6.5, 3.2, figure.words.capitalize(), f"{whose} jobs, by year and month of their pour",
                      f"{figure.name}, {unit}" if unit else figure.name, left=54, bottom=70)  # fmt: skip
    at = np.arange(1, len(seen) + 1)
    _steps(ax, at, low, high, f"band promised for {100 * SURE:.0f} of 100 jobs")
    ax.plot(at, middle, color=INK, lw=LINE, ls="--", label="estimate from the jobs before")
    counts = estimate.counted
    ax.plot(at[counts], seen[counts], "o", color=INK, ms=5, label="as it came out")
    if not counts.all():
        ax.plot(at[~counts], seen[~counts], "s", mfc="none", mec=ACCENT, ms=7, label="asked about, does not count")  # fmt: skip
    if figure.log:
        ax.set_ylim(bottom=0)
    _finish(ax, estimate.outcomes.records)
    return drawn


def price_chart(prices: Prices, system: str, whose: str = "own") -> Figure:
    """The price each job would have needed, over the price promised to be enough."""
    drawn, ax = chart(6.5, 3.2, "Did the price hold?", f"{whose} jobs, by year and month of their pour",
                      f"price, {money_mark(system)}", left=54, bottom=70)  # fmt: skip
    at = np.arange(1, len(prices.needed) + 1)
    ax.plot(at, prices.sure, "_", color=INK, ms=16, mew=2, label=f"price promised for {100 * prices.confidence:.0f} of 100 jobs")  # fmt: skip
    ax.plot(at, prices.quoted, "_", color=GREY, ms=12, mew=1.5, label="price quoted")
    held = prices.needed <= prices.sure
    ax.plot(at[held], prices.needed[held], "o", color=INK, ms=5, label="price it would have needed")
    if not held.all():
        ax.plot(at[~held], prices.needed[~held], "s", mfc="none", mec=ACCENT, ms=7, label="needed more: did not hold")  # fmt: skip
    ax.set_ylim(bottom=0)
    ax.yaxis.set_major_formatter(lambda value, _: f"{value:,.0f}")
    _finish(ax, prices.records)
    return drawn


def _steps(ax: Axes, at: NDArray, low: NDArray, high: NDArray, words: str) -> None:
    """A band with a step for each job."""
    edges = np.repeat(np.arange(len(at) + 1) + 0.5, 2)[1:-1]
    ax.fill_between(edges, np.repeat(low, 2), np.repeat(high, 2), color=PALE, lw=0, label=words)


def _finish(ax: Axes, records: Sequence[Record]) -> None:
    """Days below the jobs (every one, or every few of many), and the key below them."""
    step = max(1, len(records) // 12)
    at: Any = np.arange(1, len(records) + 1, step)
    ax.set_xticks(at)
    ax.set_xticklabels([records[n - 1].file.record.date[2:7] for n in at], fontsize=SMALL)
    ax.set_xlim(0.4, len(records) + 0.6)
    key(ax, (0, -0.22), 2)
