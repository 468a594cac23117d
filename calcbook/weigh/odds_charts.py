"""The odds on a price as pictures: how prices spread, and what moves them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from matplotlib.patches import PathPatch
from matplotlib.path import Path
from matplotlib.ticker import FuncFormatter, MaxNLocator

from calcbook.basis.showing import money_mark, money_text
from calcbook.plan.charted import note
from calcbook.plan.drawing import ACCENT, GREY, INK, LINE, PALE, SMALL, TEXT, THIN, chart
from calcbook.weigh.odds import LEVELS

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from calcbook.weigh.odds import Driver, Odds

_BINS = 60


def distribution_chart(odds: Odds) -> Figure:
    """Share of jobs by price (bars), with the quote and the prices of some confidences marked.

    odds: an Odds. Returns a matplotlib Figure.
    """
    low, high = odds.at(0.002), max(odds.at(0.995), odds.quoted)
    if high - low < 0.02:  # nothing moves
        low, high = low - 1, high + 1
    figure, ax = chart(
        height=3.6,
        title="Price that keeps the margin whole",
        x=_money_axis(odds, "price"),
        y="share of jobs, %",
    )
    counts, edges = np.histogram(odds.ranked, np.linspace(low, high, _BINS + 1))
    shares = 100 * counts / len(odds.prices)
    bars = Path.make_compound_path(*(
        Path([(a, 0), (b, 0), (b, share), (a, share), (a, 0)], closed=True)
        for a, b, share in zip(edges[:-1], edges[1:], shares, strict=True)
    ))  # fmt: skip
    top = shares.max()
    ax.set(xlim=(low, high), ylim=(0, 1.62 * top))
    # all bars as one: each by itself takes as long as the rest of the chart
    ax.add_artist(PathPatch(bars, fc=PALE, ec=GREY, lw=THIN, joinstyle="miter"))
    marks: list[tuple[float, str, str, Any, float]] = [
        (odds.quoted, f"quoted {_whole(odds.quoted, odds.system)}", ACCENT, "-", LINE * 1.6)
    ]
    marks += [
        (odds.at(p), f"{name} {_whole(odds.at(p), odds.system)}", INK, (0, (5, 3)), LINE)
        for p, name in LEVELS[1:]
    ]
    for row, (price, words, color, style, width) in enumerate(sorted(marks)):
        height = top * (1.54 - 0.13 * row)
        ax.plot((price, price), (0, height), color=color, ls=style, lw=width)
        right = price < low + 0.72 * (high - low)
        note(
            ax,
            price,
            height,
            words,
            3 if right else -3,
            -6,
            ha="left" if right else "right",
            fontsize=SMALL,
            color=color,
        )
    _dollars(ax)
    return figure


def cumulative_chart(odds: Odds, confidence: float) -> Figure:
    """Confidence against price: what to quote so that the margin stays whole so often.

    odds: an Odds; confidence: wanted, 0 to 1. Returns a matplotlib Figure.
    """
    figure, ax = chart(height=3.4, title="What to quote for a confidence", x=_money_axis(odds, "price quoted"),
                       y="jobs that keep their margin whole, %")  # fmt: skip
    shares = np.linspace(0.005, 0.995, 199)
    ax.plot(np.quantile(odds.ranked, shares), 100 * shares, color=INK, lw=LINE)
    price = odds.at(confidence)
    low = odds.at(0.005)
    ax.plot(
        (low, price, price),
        (100 * confidence, 100 * confidence, 0),
        color=ACCENT,
        lw=LINE,
        ls=(0, (5, 3)),
    )
    _mark(
        ax,
        price,
        100 * confidence,
        f"{100 * confidence:g} %: quote {_whole(price, odds.system)}",
        "D",
        ACCENT,
        1,
    )
    words = f"quoted {_whole(odds.quoted, odds.system)}: {100 * odds.kept:.0f} %"
    _mark(ax, odds.quoted, 100 * odds.kept, words, "o", INK, 1 if odds.quoted > price else -1)
    ax.set_ylim(0, 100)
    _dollars(ax)
    return figure


def _mark(
    ax: Axes, price: float, percent: float, words: str, marker: str, color: str, side: int
) -> None:
    """A mark on the curve with its words below to the right (side 1), or above to the left (-1)."""
    ax.plot(price, percent, marker=marker, ms=7, mfc="none", mec=color, ls="none")
    note(ax, price, percent, words, 8 * side, -9 if side > 0 else 4, ha="left" if side > 0 else "right",
         fontsize=SMALL, color=color)  # fmt: skip


def tornado_chart(odds: Odds) -> Figure:
    """What each driver alone does to the price, from its 10th to its 90th of 100 draws, the strongest on top.

    odds: an Odds. Returns a matplotlib Figure. Where a bar is short and its share is not, the driver
    strikes seldom and hard.
    """
    drivers = [d for d in odds.drivers if d.share > 0] or list(odds.drivers)
    figure, ax = chart(height=1.25 + 0.36 * len(drivers), title="What moves the price, each alone",
                       x=f"{_money_axis(odds, 'price')}; bars: eight jobs in ten; percent: share of all spread", left=168)  # fmt: skip
    places = np.arange(len(drivers))[::-1]
    ends = np.array([(d.low, d.high) for d in drivers])
    low, high = min(ends.min(), odds.quoted), max(ends.max(), odds.quoted)
    room = max(high - low, 1.0)
    ax.set(xlim=(low - 0.22 * room, high + 0.3 * room), ylim=(-0.7, len(drivers) - 0.3))
    ax.barh(places, ends[:, 1] - ends[:, 0], 0.55, ends[:, 0], fc=PALE, ec=INK, lw=LINE)
    ax.axvline(odds.quoted, color=ACCENT, lw=LINE * 1.6)
    note(ax, odds.quoted, 1, "quoted", 3, -7, "y", fontsize=SMALL, color=ACCENT)
    for place, driver in zip(places, drivers, strict=True):
        _ends(ax, place, driver, odds.system)
    ax.set_yticks(places, [d.words for d in drivers])
    ax.tick_params(axis="y", length=0, labelsize=TEXT)
    _dollars(ax)
    return figure


def _ends(ax: Axes, place: int, driver: Driver, system: str) -> None:
    """What stands at the ends of a bar: the two prices, and the share of all spread."""
    beside: dict[str, Any] = {"va": "center", "fontsize": SMALL}
    note(ax, driver.low, place, _whole(driver.low, system), -3, ha="right", **beside)
    note(
        ax,
        driver.high,
        place,
        f"{_whole(driver.high, system)}   {100 * driver.share:.0f} %",
        3,
        **beside,
    )


def _dollars(ax: Axes) -> None:
    ax.xaxis.set_major_locator(MaxNLocator(6, steps=[1, 2, 5, 10]))
    ax.xaxis.set_major_formatter(FuncFormatter(lambda x, _: f"{x:,.0f}"))


def _money_axis(odds: Odds, words: str) -> str:
    return f"{words}, {money_mark(odds.system).strip()}"


def _whole(price: float, system: str) -> str:
    """A price without cents, as odds are not known to the cent."""
    return money_text(round(price), system).removesuffix(".00")
