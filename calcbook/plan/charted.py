"""What stands on a chart: marks along an axis, and words beside a place."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes
    from matplotlib.axis import Axis
    from numpy.typing import NDArray


def marks(axis: Axis, at: Sequence[float] | NDArray, texts: Sequence[str]) -> None:
    """Set the marks of an axis and what stands at them; ``set_xticks`` would make the objects of each."""
    from matplotlib.ticker import FixedFormatter, FixedLocator

    axis.set_major_locator(FixedLocator(list(at)))
    axis.set_major_formatter(FixedFormatter(texts))


def key(ax: Axes, at: tuple[float, float], columns: int = 1, **style: Any) -> None:
    """A sample of all that is labelled, and its name. at, columns and style: as for ``Key``."""
    from calcbook.plan.key import Key

    Key(ax, at, columns, **style)


def note(
    ax: Axes,
    x: float,
    y: float,
    words: str,
    dx: float = 0,
    dy: float = 0,
    across: str = "",
    **style: Any,
) -> None:
    """Words beside a place of a chart. x, y: the place; dx, dy: away from it, in points; style: as for ``Words``.

    across: the axis ("x" or "y") whose number of the place is a share of the chart's width or height.
    """
    from matplotlib.transforms import ScaledTranslation

    from calcbook.plan.words import Words

    figure: Any = ax.get_figure()
    place = {"": ax.transData, "x": ax.get_yaxis_transform(), "y": ax.get_xaxis_transform()}[across]
    beside = ScaledTranslation(dx / 72, dy / 72, figure.dpi_scale_trans)
    figure.add_artist(Words(x, y, words, transform=place + beside, **style))
