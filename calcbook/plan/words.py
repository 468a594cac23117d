"""Texts in one line on a drawing, set by what its font says of itself; matplotlib reads that anew for each text."""

from __future__ import annotations

from math import cos, radians, sin
from typing import Any

from matplotlib.path import Path
from matplotlib.text import Text
from matplotlib.transforms import Affine2D

ABOVE, BELOW = (
    1556 / 2048,
    492 / 2048,
)  # how far letters of FONT reach from their line, in type sizes: its ascender, descender
_PAD = 1.0  # points of white paper around a text


class Words(Text):
    """A text that is turned about its place and holds no mathematics.

    ground: whether white paper lies behind it; all else as for matplotlib's text.
    """

    def __init__(self, x: float, y: float, text: str, ground: bool = False, **style: Any) -> None:
        super().__init__(x, y, text, parse_math=False, rotation_mode="anchor", **style)
        self._ground = ground

    def room(self, renderer: Any) -> tuple[float, float, float]:
        """How far it reaches along its line, above it and below, in dots."""
        text, size = self.get_text(), renderer.points_to_pixels(self.get_fontsize())
        wide, high, below = renderer.get_text_width_height_descent(
            text, self.get_fontproperties(), False
        )
        return wide, max(high - below, ABOVE * size), max(below, BELOW * size)

    def draw(self, renderer: Any) -> None:
        """Draw it."""
        if not self.get_text() or not self.get_visible():
            return
        wide, above, below = self.room(renderer)
        left = {"left": 0.0, "center": wide / 2, "right": wide}[self.get_horizontalalignment()]
        up = {
            "top": above, "center": (above - below) / 2, "center_baseline": above / 2, "baseline": 0.0, "bottom": -below,
        }[self.get_verticalalignment()]  # fmt: skip
        (x, y), turned = self.get_transform().transform(self.get_position()), self.get_rotation()
        along, across = cos(radians(turned)), sin(radians(turned))
        x, y = x - along * left + across * up, y - across * left - along * up
        gc = renderer.new_gc()
        if self._ground:
            _lay_ground(
                renderer, gc, (wide, above, below), Affine2D().rotate_deg(turned).translate(x, y)
            )
        gc.set_foreground(self.get_color())
        if renderer.flipy():
            y = renderer.get_canvas_width_height()[1] - y
        renderer.draw_text(gc, x, y, self.get_text(), self.get_fontproperties(), turned)
        gc.restore()


def _lay_ground(renderer: Any, gc: Any, room: tuple[float, float, float], place: Affine2D) -> None:
    """White paper behind a text. place: of the text's begin, on its line."""
    wide, above, below = room
    pad = renderer.points_to_pixels(_PAD)
    left, low, right, high = -pad, -below - pad, wide + pad, above + pad
    gc.set_linewidth(0)
    renderer.draw_path(
        gc, Path([(left, low), (right, low), (right, high), (left, high), (left, low)], closed=True), place, (1, 1, 1)
    )  # fmt: skip
