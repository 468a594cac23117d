"""A drawing written as lines, its letters too: those of a text are made once, however often it is drawn."""

from __future__ import annotations

import functools
import itertools
from typing import Any

import numpy as np
from matplotlib.backends.backend_svg import RendererSVG
from matplotlib.colors import to_hex
from matplotlib.path import Path
from matplotlib.textpath import text_to_path

_EM = 1000  # the letters stand in whole thousandths of their size: no eye sees less
_COMMANDS: dict[Any, str] = {
    Path.MOVETO: "M", Path.LINETO: "L", Path.CURVE3: "Q", Path.CURVE4: "C", Path.CLOSEPOLY: "Z"
}  # fmt: skip


class Lines(RendererSVG):
    """Writes a drawing as SVG, each text as one path in place of one use of a glyph for each letter."""

    def draw_text(
        self, gc: Any, x: float, y: float, s: str, prop: Any, angle: float, ismath: Any = False, mtext: Any = None
    ) -> None:  # fmt: skip
        """A text on one line; x, y: where it begins, in points from the upper left corner."""
        if ismath:
            super().draw_text(gc, x, y, s, prop, angle, ismath, mtext)
            return
        size, turn = prop.get_size_in_points() / _EM, f" rotate({-angle:g})" if angle else ""
        alpha = gc.get_rgb()[3]
        self.writer.element(
            "path", d=_letters(s, prop.copy()), style=f"fill: {to_hex(gc.get_rgb())}",
            transform=f"translate({x:.3f} {y:.3f}){turn} scale({size:g} {-size:g})",
            **({} if alpha == 1 else {"opacity": f"{alpha:g}"}),
        )  # fmt: skip

    def get_text_width_height_descent(
        self, s: str, prop: Any, ismath: Any
    ) -> tuple[float, float, float]:
        """Of a text on one line, in points."""
        return _size(s, prop.copy(), ismath)


@functools.lru_cache(4096)
def _size(s: str, prop: Any, ismath: Any) -> tuple[float, float, float]:
    width, height, descent = text_to_path.get_text_width_height_descent(s, prop, ismath)
    return width, height, descent


@functools.lru_cache(4096)
def _letters(s: str, prop: Any) -> str:
    """A text as the path of an SVG, from its start on the line upward."""
    places, codes = text_to_path.get_text_path(prop, s)
    at = np.rint(np.asarray(places) * (_EM / text_to_path.FONT_SCALE)).astype(int).tolist()
    path = []
    for code, run in itertools.groupby(zip(codes, at, strict=True), lambda pair: int(pair[0])):
        path.append(_COMMANDS[code])
        if code != Path.CLOSEPOLY:
            path.append(" ".join(f"{x} {y}" for _, (x, y) in run))
    return "".join(path)
