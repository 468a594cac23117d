"""The key of a chart: a sample of each line and area, and its name. matplotlib's own measures all of it several times."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from matplotlib.artist import Artist
from matplotlib.collections import Collection
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle
from matplotlib.transforms import IdentityTransform

from calcbook.plan.drawing import SMALL
from calcbook.plan.words import Words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes

# in type sizes: height of a row, length of a sample, room before its name and between two columns
_ROW, _SAMPLE, _GAP, _BETWEEN = 1.5, 2.0, 0.8, 2.0


class Key(Artist):
    """What stands on a chart with a label, in columns.

    at: where the key stands, in shares of the axes, by its ``ha`` (left, center, right) and ``va`` (top, center); size:
    of the letters, in points; title: above it.
    """

    def __init__(
        self, ax: Axes, at: tuple[float, float], columns: int = 1, size: float = SMALL, ha: str = "left", va: str = "top",
        title: str = "",
    ) -> None:  # fmt: skip
        super().__init__()
        self.zorder = 5
        self._at, self._columns, self._size, self._ha, self._va = at, columns, size, ha, va
        self.shown, self.names = ax.get_legend_handles_labels()
        self.title, self._on = title, ax
        ax.get_figure().add_artist(self)  # type: ignore[union-attr]

    def draw(self, renderer: Any) -> None:
        """Draw it by what is labelled."""
        size = renderer.points_to_pixels(self._size)
        many = -(-len(self.names) // self._columns)
        columns = [range(n, min(n + many, len(self.names))) for n in range(0, len(self.names), many)]
        wide = [self._width(column, renderer) for column in columns]
        head = 1 if self.title else 0
        whole, high = sum(wide) + (len(wide) - 1) * _BETWEEN * size, (many + head) * _ROW * size
        x, top = self._on.transAxes.transform(self._at)
        x -= {"left": 0.0, "center": whole / 2, "right": whole}[self._ha]
        top += {"top": 0.0, "center": high / 2}[self._va] - _ROW / 2 * size
        if self.title:
            self._write(renderer, x + whole / 2, top, self.title, "center")
        for column, width in zip(columns, wide, strict=True):
            for row, n in enumerate(column, head):
                y = top - row * _ROW * size
                self._put(renderer, _sample_of(self.shown[n], x, y, _SAMPLE * size, size))
                self._write(renderer, x + (_SAMPLE + _GAP) * size, y, self.names[n])
            x += width + _BETWEEN * size

    def _width(self, column: Sequence[int], renderer: Any) -> float:
        words = [Words(0, 0, self.names[n], fontsize=self._size) for n in column]
        size: float = renderer.points_to_pixels(self._size)
        return (_SAMPLE + _GAP) * size + max(one.room(renderer)[0] for one in words)

    def _write(self, renderer: Any, x: float, y: float, words: str, ha: str = "left") -> None:
        self._put(renderer, Words(x, y, words, fontsize=self._size, ha=ha, va="center"))

    def _put(self, renderer: Any, artist: Artist) -> None:
        artist.set_figure(self._on.get_figure())  # type: ignore[arg-type]
        artist.set_transform(IdentityTransform())
        artist.set_clip_on(False)
        artist.draw(renderer)


def _sample_of(shown: Any, x: float, y: float, wide: float, size: float) -> Artist:
    """A short piece of a line with its mark, or a box of an area, from a place on, in dots."""
    if isinstance(shown, Line2D):
        piece = Line2D([x, x + wide / 2, x + wide], [y] * 3, markevery=[1])
        piece.update_from(shown)
        return piece
    corner, high = (x, y - 0.35 * size), 0.7 * size
    if isinstance(shown, Collection):
        told: Any = shown.get_facecolor(), shown.get_edgecolor(), shown.get_linewidth()
        face, edge, width = (next(iter(found), "none") for found in told)
        return Rectangle(corner, wide, high, fc=face, ec=edge, lw=width, hatch=shown.get_hatch())
    box = Rectangle(corner, wide, high)
    box.update_from(shown[0])  # of several bars
    return box
