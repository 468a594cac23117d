"""Marks and numbers along both axes of a chart, in the place of matplotlib's.

Its own keep six objects for each mark and measure each number twice: half the time of a whole chart.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from matplotlib.artist import Artist
from matplotlib.lines import TICKDOWN, TICKLEFT, Line2D
from matplotlib.text import Text
from matplotlib.ticker import FixedFormatter, FixedLocator
from matplotlib.transforms import Bbox, ScaledTranslation

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes
    from matplotlib.axis import Axis
    from numpy.typing import NDArray

_PAD = 3.5  # points between a mark and its number
_BESIDE = {"x": "bottom", "y": "left"}  # where an axis stands


class Scales(Artist):
    """Draws the marks, numbers and label of both axes by their limits, ``marks`` and ``tick_params``; no grid.

    size: of the numbers; length, width: of the marks; all in points.
    """

    def __init__(self, ax: Axes, size: float, length: float, width: float) -> None:
        super().__init__()
        ax.tick_params(labelsize=size, length=length, width=width)
        self.zorder = ax.xaxis.zorder
        ax.ticklabel_format(
            style="plain", useOffset=False
        )  # numbers as they are: no power of ten beside them
        for axis in (ax.xaxis, ax.yaxis):
            axis.set_visible(False)
        ax.add_artist(self)

    def draw(self, renderer: Any) -> None:
        """Draw them by what the axes show now."""
        assert self.axes is not None
        for axis in (self.axes.xaxis, self.axes.yaxis):
            _draw(axis, axis.get_tick_params(), renderer)


def marks(axis: Axis, at: Sequence[float] | NDArray, texts: Sequence[str]) -> None:
    """Set the marks of an axis and what stands at them; ``set_xticks`` would make the objects of each."""
    axis.set_major_locator(FixedLocator(at))
    axis.set_major_formatter(FixedFormatter(texts))


def note(ax: Axes, x: float, y: float, words: str, dx: float = 0, dy: float = 0, **style: Any) -> None:
    """Words beside a place of a chart. x, y: the place; dx, dy: away from it, in points; style: as for ``ax.text``."""
    beside = ScaledTranslation(dx / 72, dy / 72, ax.get_figure().dpi_scale_trans)
    ax.text(x, y, words, transform=ax.transData + beside, **style)


def _draw(axis: Axis, set_to: dict[str, Any], renderer: Any) -> None:
    ax, name, size = axis.axes, axis.axis_name, set_to["length"]
    low, high = sorted(axis.get_view_interval())
    places, texts = axis.get_majorticklocs(), axis.get_major_formatter()
    shown = [
        (at, words)
        for at, words in zip(places, texts.format_ticks(places), strict=False)
        if low - 1e-9 * (high - low) <= at <= high + 1e-9 * (high - low)
    ]
    along, across = [at for at, _ in shown], [0.0] * len(shown)
    x, y, mark, marked, numbered = (
        (along, across, TICKDOWN, ax.get_xaxis_transform("tick1"), ax.get_xaxis_text1_transform(size + _PAD))
        if name == "x" else
        (across, along, TICKLEFT, ax.get_yaxis_transform("tick1"), ax.get_yaxis_text1_transform(size + _PAD))
    )  # fmt: skip
    _put(axis, Line2D(x, y, ls="none", marker=mark, ms=size, mew=set_to["width"], color="black", transform=marked), renderer)  # fmt: skip
    transform, va, ha = numbered
    text = Text(fontsize=set_to["labelsize"], va=va, ha=ha, transform=transform)
    boxes = [ax.bbox]
    for at, words in shown if set_to[f"label{_BESIDE[name]}"] else ():
        text.set(text=words, **{name: at})
        _put(axis, text, renderer)
        if (
            words and axis.label.get_text() and (name == "y" or len(boxes) == 1)
        ):  # in a row all stand as high
            boxes.append(text.get_window_extent(renderer))
    _label(axis, Bbox.union(boxes), renderer)


def _put(axis: Axis, artist: Artist, renderer: Any) -> None:
    artist.set_figure(axis.get_figure())
    artist.draw(renderer)


def _label(axis: Axis, taken: Bbox, renderer: Any) -> None:
    """The name of an axis, beyond what marks and numbers have taken."""
    gap, (x, y) = axis.labelpad * axis.get_figure().dpi / 72, axis.label.get_position()
    axis.label.set_position((x, taken.y0 - gap) if axis.axis_name == "x" else (taken.x0 - gap, y))
    axis.label.draw(renderer)
