"""Marks and numbers along both axes of a chart, in the place of matplotlib's.

Its own keep six objects for each mark and measure each number twice: half the time of a whole chart.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.lines import Line2D
from matplotlib.markers import TICKDOWN, TICKLEFT

from calcbook.plan.words import Words

if TYPE_CHECKING:
    pass


_PAD = 3.5  # points between a mark and its number


class BareAxes(Axes):
    """Axes without marks of their own; those that matplotlib makes before any is asked for take half of its time."""

    def clear(self) -> None:
        """As matplotlib has it."""
        own: tuple[Any, ...] = self.xaxis, self.yaxis
        for axis in own:
            axis.majorTicks, axis.minorTicks = [], []
            axis.reset_ticks = _nothing
        super().clear()


def _nothing() -> None:
    """There is no mark to make anew."""


class Scales(Artist):
    """Draws the marks, numbers and label of both axes by their limits, ``marks`` and ``tick_params``; no grid.

    size: of the numbers; length, width: of the marks; all in points.
    """

    def __init__(self, ax: Axes, size: float, length: float, width: float) -> None:
        super().__init__()
        ax.tick_params(labelsize=size, length=length, width=width)
        self.zorder = ax.xaxis.zorder
        ax.ticklabel_format(style="plain", useOffset=False)  # no power of ten at the end of an axis
        for axis in (ax.xaxis, ax.yaxis):
            axis.set_visible(False)
        ax.add_artist(self)

    def draw(self, renderer: Any) -> None:
        """Draw them by what the axes show now."""
        assert self.axes is not None
        for axis in (self.axes.xaxis, self.axes.yaxis):
            _draw(axis, axis.get_tick_params(), renderer)


def _draw(axis: Any, set_to: dict[str, Any], renderer: Any) -> None:
    ax, level, length = axis.axes, axis.axis_name == "x", set_to["length"]
    shown = _shown(axis)
    along, across = [at for at, _ in shown], [0.0] * len(shown)
    x, y = (along, across) if level else (across, along)
    mark: Any = TICKDOWN if level else TICKLEFT
    place = ax.get_xaxis_transform if level else ax.get_yaxis_transform
    line = Line2D(
        x, y, ls="none", marker=mark, ms=length, mew=set_to["width"], color="black", transform=place("tick1")
    )  # fmt: skip
    _put(axis, line, renderer)
    beside = ax.get_xaxis_text1_transform if level else ax.get_yaxis_text1_transform
    transform, va, ha = beside(length + _PAD)
    text = Words(0, 0, "", fontsize=set_to["labelsize"], va=va, ha=ha, transform=transform)
    room = 0.0  # of the numbers, away from the axis
    for at, words in shown if set_to["labelbottom" if level else "labelleft"] else ():
        text.set(text=words, **{axis.axis_name: at})
        _put(axis, text, renderer)
        if words:
            wide, above, below = text.room(renderer)
            room = max(room, above + below if level else wide)
    _label(axis, room, length, renderer)


def _shown(axis: Any) -> list[tuple[float, str]]:
    """Places and numbers of the marks within the limits."""
    low, high = sorted(axis.get_view_interval())
    off, places = 1e-9 * (high - low), axis.get_majorticklocs()
    texts = axis.get_major_formatter().format_ticks(places)
    return [
        (at, words) for at, words in zip(places, texts, strict=False) if low - off <= at <= high + off
    ]


def _put(axis: Any, artist: Artist, renderer: Any) -> None:
    artist.set_figure(axis.get_figure())
    artist.draw(renderer)


def _label(axis: Any, room: float, length: float, renderer: Any) -> None:
    """The name of an axis, beyond its marks and numbers. room: of the numbers, in dots; length: of the marks, in points."""
    point, (x, y) = axis.get_figure().dpi / 72, axis.label.get_position()
    off = (length + (_PAD if room else 0) + axis.labelpad) * point + room
    left, bottom = axis.axes.bbox.min - off
    axis.label.set_position((x, bottom) if axis.axis_name == "x" else (left, y))
    axis.label.draw(renderer)
