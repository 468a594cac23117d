"""How many cast bolts come up in the way: odds as a chart."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING

import numpy as np

from calcbook.plan.charted import key
from calcbook.plan.drawing import ACCENT, GREY, INK, LINE, PALE, THIN, chart

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from calcbook.bolts.misplacement import Misses


def misses_chart(misses: Misses, n: int, p_0: float) -> Figure:
    """Chart of drawn numbers of bolts in the way, cast by the list and without regard to the studs.

    misses: Misses; n: bolts; p_0: odds of each without regard to the studs. Returns a matplotlib Figure.
    """
    values, counts = np.unique(misses.counts, return_counts=True)
    share = counts / misses.counts.size * 100
    careless = np.arange(n + 1)
    odds = functools.reduce(np.convolve, [[1 - p_0, p_0]] * n, np.ones(1))  # of so many, bolt by bolt
    figure, ax = chart(
        6.5, 3.0, "Bolts in the way of studs, if cast", f"bolts in the way, of {n}", "share of jobs, %"
    )
    ax.bar(
        values, share, width=0.8, facecolor=ACCENT, edgecolor=INK, lw=LINE,
        label=f"cast by the tape list: {misses.expected:.2g} expected",
    )  # fmt: skip
    ax.bar(
        careless, odds * 100, width=0.8, facecolor=PALE, edgecolor=INK, lw=LINE, hatch="///",
        label=f"without regard to the studs: {p_0 * n:.0f} expected",
    )  # fmt: skip
    ax.set_ylim(0, 100)
    ax.set_xlim(-0.7, float(np.searchsorted(np.cumsum(odds), 0.9999)) + 1)
    ax.locator_params(axis="x", integer=True)
    key(ax, (0.99, 0.5), ha="right", va="center")
    for level in range(20, 101, 20):
        ax.axhline(level, color=GREY, lw=THIN / 2, alpha=0.4, zorder=1.5)
    return figure
