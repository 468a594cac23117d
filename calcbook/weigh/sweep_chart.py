"""The chart of a sweep: price above, and below it the worst check against its limit."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from matplotlib.gridspec import GridSpec
from matplotlib.ticker import FuncFormatter

from calcbook.basis.calculation import NEEDS_ENGINEER, NOT_OK, UNKNOWN
from calcbook.job.files import JobError
from calcbook.plan.drawing import ACCENT, GREY, INK, LINE, SMALL, TEXT, THIN, chart

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from numpy.typing import NDArray

    from calcbook.weigh.outcome import Seen
    from calcbook.weigh.sweep import Row, Sweep
    from calcbook.weigh.sweep_axis import Axis

_MOST_LINES, _MOST_DOTS = 6, 60
_MOST_NAMES = 24  # places along the axis that are words
_STYLES = ("-", (0, (6, 2)), (0, (2, 2)), (0, (6, 2, 1, 2)), (0, (1, 1)), (0, (10, 2)))
_DOTS = "oDsvPh"
_MARKS = {
    NOT_OK: ("X", "not OK"), UNKNOWN: ("s", "not worked out"), NEEDS_ENGINEER: ("^", "needs engineer"),
}  # fmt: skip


def check_axes(axes: Sequence[Axis]) -> None:
    """Refuse, before anything runs, what cannot be drawn. Raises JobError."""
    if len(axes) > 2:
        raise JobError("a chart shows one or two fields; leave --chart out, or vary fewer fields")
    if len(axes) == 2 and len(axes[1].values) > _MOST_LINES:
        raise JobError(
            f"a chart draws a line for each value of the second field, at most {_MOST_LINES}; "
            f"{axes[1].place} has {len(axes[1].values):,}: name it first, or give fewer values"
        )
    if axes[0].numbers is None and len(axes[0].values) > _MOST_NAMES:
        raise JobError(f"a chart has room for {_MOST_NAMES} words along its axis; give fewer values")


def sweep_chart(sweep: Sweep) -> Figure:
    """A Sweep over one or two fields as a matplotlib Figure. Raises JobError where it has more.

    The first field runs along the axis, the second makes lines of its own. An open check that
    the varied fields bring about is marked by shape: a cross for not OK, a square for not worked out, a triangle for an engineer.
    """
    check_axes(sweep.axes)
    first, *others = sweep.axes
    label = f"{first.meaning}{f', {first.unit}' if first.unit else ''}"
    figure, upper = chart(height=4.6, title=f"Price and worst check by {first.meaning}", y="price, $")
    grid = GridSpec(2, 1, figure, height_ratios=(3, 2))
    upper.set_subplotspec(grid[0])
    lower = figure.add_subplot(grid[1], sharex=upper)
    _styled(lower, upper, label)
    places = np.arange(len(first.values)) if first.numbers is None else np.array(first.numbers)
    many = len(others[0].values) if others else 1
    found = list(zip(sweep.rows, sweep.named, strict=True))
    for k in range(many):
        style: dict[str, Any] = {"ls": _STYLES[k] if first.numbers else "none"}
        style["marker"] = _DOTS[k] if len(places) <= _MOST_DOTS or not first.numbers else None
        _lines(upper, lower, places, found[k::many], style, others[0].texts[k] if others else "")
    _limit(lower)
    if not any(check for _, check in found):
        lower.text(
            0.5,
            0.4,
            "no check differs",
            transform=lower.transAxes,
            ha="center",
            color=GREY,
            fontsize=SMALL,
        )
    if first.numbers is None:
        upper.set_xticks(places, first.texts)
    if others:
        upper.legend(
            title=others[0].meaning, fontsize=SMALL, title_fontsize=SMALL, frameon=False, handlelength=4
        )
    _shapes(lower, found)
    return figure


def _styled(lower: Axes, upper: Axes, label: str) -> None:
    """The lower chart as ``chart`` makes the upper one."""
    lower.set_xlabel(label, fontsize=TEXT)
    lower.set_ylabel("demand over capacity", fontsize=TEXT)
    lower.tick_params(labelsize=SMALL, width=THIN, length=3)
    upper.tick_params(labelbottom=False)
    upper.yaxis.set_major_formatter(FuncFormatter(lambda y, _: f"{y:,.0f}"))
    for side in ("top", "right"):
        lower.spines[side].set_visible(False)
    for side in ("left", "bottom"):
        lower.spines[side].set_linewidth(THIN)


def _lines(
    upper: Axes,
    lower: Axes,
    places: NDArray,
    rows: Sequence[tuple[Row, Seen | None]],
    style: dict[str, Any],
    name: str,
) -> None:
    prices = [row.outcome.price if row.outcome else np.nan for row, _ in rows]
    ratios = [
        c.ratio if c and c.ratio is not None and np.isfinite(c.ratio) else np.nan for _, c in rows
    ]
    upper.plot(places, prices, color=INK, lw=LINE, ms=3.5, label=name, **style)
    lower.plot(places, ratios, color=INK, lw=LINE, ms=3.5, **style)
    for place, price, ratio, (_, check) in zip(places, prices, ratios, rows, strict=True):
        if check and check.status in _MARKS:
            mark: dict[str, Any] = {
                "marker": _MARKS[check.status][0],
                "ms": 8,
                "mfc": "none",
                "mec": ACCENT,
                "ls": "none",
            }
            upper.plot(place, price, **mark)
            lower.plot(place, ratio, **mark)


def _limit(ax: Axes) -> None:
    ax.axhline(1, color=GREY, lw=LINE, ls=(0, (5, 3)))
    ax.annotate("limit", (1, 1), (-2, 2), xycoords=("axes fraction", "data"), textcoords="offset points",
                ha="right", fontsize=SMALL, color=GREY)  # fmt: skip
    ax.set_ylim(bottom=0)


def _shapes(ax: Axes, found: Sequence[tuple[Row, Seen | None]]) -> None:
    """What the shapes mean, where there are any."""
    seen = [status for status in _MARKS if any(check and check.status == status for _, check in found)]
    for status in seen:
        shape, words = _MARKS[status]
        ax.plot([], [], marker=shape, ms=8, mfc="none", mec=ACCENT, ls="none", label=words)
    if seen:
        ax.legend(fontsize=SMALL, frameon=False, loc="lower left", bbox_to_anchor=(0, 0.97), ncols=2)
