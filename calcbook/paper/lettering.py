"""Drawings written as lines, their letters too: texts and letters are worked out once for all drawings that show
them, where matplotlib sets every letter anew each time, which takes a third of what drawing takes."""

from __future__ import annotations

import functools
import io
from typing import TYPE_CHECKING, Any

import numpy as np
from matplotlib.backends.backend_svg import RendererSVG
from matplotlib.colors import to_hex
from matplotlib.font_manager import findfont, get_font
from matplotlib.path import Path
from matplotlib.textpath import text_to_path

if TYPE_CHECKING:
    from matplotlib.figure import Figure
    from matplotlib.font_manager import FontProperties

_UNITS = 2048  # of a letter's height, in which fonts are drawn
_UNIT = _UNITS / text_to_path.FONT_SCALE  # of what matplotlib tells
_SAID = {Path.MOVETO: "m", Path.LINETO: "l", Path.CURVE3: "q", Path.CURVE4: "c"}
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
        return _size(s, prop.copy(), ismath)

    def draw_text(
        self, gc: Any, x: float, y: float, s: str, prop: FontProperties, angle: float, ismath: Any = False, mtext: Any = None,
    ) -> None:  # fmt: skip
        """Write a text as one path."""
        red, green, blue, alpha = gc.get_rgb()
        if ismath or alpha != 1 or gc.get_clip_rectangle() is not None:
            super().draw_text(gc, x, y, s, prop, angle, ismath, mtext)
            return
        scale = prop.get_size_in_points() / _UNITS
        turned = f" rotate({-angle:g})" if angle else ""
        self.writer.element(
            "path",
            d=_outline(s, prop.copy()),
            fill=to_hex((red, green, blue)),
            transform=f"translate({x:.3f} {y:.3f}){turned} scale({scale:.6g} {-scale:.6g})",
        )


@functools.lru_cache(5000)
def _size(s: str, prop: FontProperties, ismath: Any) -> Any:
    return text_to_path.get_text_width_height_descent(s, prop, ismath)


@functools.lru_cache(2000)
def _outline(s: str, prop: FontProperties) -> str:
    """A text as a path in whole units of its font: each letter at its place."""
    font = get_font(findfont(prop))
    font.set_size(text_to_path.FONT_SCALE, text_to_path.DPI)
    placed, shapes, _ = text_to_path.get_glyphs_with_font(font, s)
    for name in shapes.keys() - _LETTERS.keys():
        _LETTERS[name] = _letter(*shapes[name])
    return "".join(f"M{x * _UNIT:.0f} {y * _UNIT:.0f}{_LETTERS[name]}" for name, x, y, _ in placed)


_LETTERS: dict[str, str] = {}  # by the names of font and letter


def _letter(places: Any, codes: Any) -> str:
    """A letter as a path, each place told from the one before: short to send."""
    parts, begun = list[str](), np.zeros(2)
    here = begun
    path = Path(np.rint(np.asarray(places) * _UNIT), codes)
    for ends, code in path.iter_segments(simplify=False, curves=True):
        if code == Path.CLOSEPOLY:
            parts.append("z")
            here = begun
            continue
        steps = ends.reshape(-1, 2) - here
        parts.append(_SAID[code] + " ".join(f"{v:.0f}" for v in steps.ravel()))
        here = ends[-2:]
        begun = here if code == Path.MOVETO else begun
    return "".join(parts)
