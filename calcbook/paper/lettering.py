"""Drawings written as lines, their letters too."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any

from matplotlib.backends.backend_svg import RendererSVG
from matplotlib.colors import to_hex

from calcbook.paper.letters import UNITS, shape

if TYPE_CHECKING:
    from matplotlib.figure import Figure
    from matplotlib.font_manager import FontProperties

_BARE: dict[str, Any] = dict.fromkeys(("Date", "Creator", "Format", "Type"))  # nothing about its maker


def svg(figure: Figure) -> str:
    """A drawing as the text of an SVG file, the same for the same drawing."""
    out = io.StringIO()
    figure.dpi = 72
    width, height = figure.get_size_inches() * 72
    renderer = _Lettered(width, height, out, metadata=_BARE)
    figure.draw(renderer)
    renderer.finalize()
    return out.getvalue()


class _Lettered(RendererSVG):
    """matplotlib's way of writing SVG, with texts that are known already."""

    def get_text_width_height_descent(self, s: str, prop: FontProperties, ismath: Any) -> Any:
        """How large a text is, in points."""
        if ismath or not s:
            return super().get_text_width_height_descent(s, prop, ismath)
        unit, text = prop.get_size_in_points() / UNITS, shape(s, prop)
        return text.wide * unit, (text.above + text.below) * unit, text.below * unit

    def draw_text(
        self, gc: Any, x: float, y: float, s: str, prop: FontProperties, angle: float, ismath: Any = False, mtext: Any = None,
    ) -> None:  # fmt: skip
        """Write a text as one path."""
        red, green, blue, alpha = gc.get_rgb()
        if ismath or alpha != 1 or gc.get_clip_rectangle() is not None:
            super().draw_text(gc, x, y, s, prop, angle, ismath, mtext)
            return
        scale = prop.get_size_in_points() / UNITS
        turned = f" rotate({-angle:g})" if angle else ""
        self.writer.element(
            "path",
            d=shape(s, prop).path,
            fill=to_hex((red, green, blue)),
            transform=f"translate({x:.3f} {y:.3f}){turned} scale({scale:.6g} {-scale:.6g})",
        )
