"""Texts as paths, put together of letters that are each worked out once: matplotlib sets every text anew, and reads
the font again for each of its letters, which takes a third of what drawing takes.

All lengths are in units of a font, of which ``UNITS`` are its size.
"""

from __future__ import annotations

import functools
from typing import Any, NamedTuple

import numpy as np
from matplotlib.font_manager import FontProperties, findfont, get_font
from matplotlib.path import Path
from matplotlib.textpath import text_to_path

UNITS = 2048
_UNIT = UNITS / text_to_path.FONT_SCALE  # of what matplotlib tells
_SAID = {Path.MOVETO: "m", Path.LINETO: "l", Path.CURVE3: "q", Path.CURVE4: "c"}


class Shape(NamedTuple):
    """A path as SVG has it, how wide it is, and how far it reaches above its line and below."""

    path: str
    wide: float
    above: float
    below: float


def shape(text: str, font: FontProperties) -> Shape:
    """A text in one line, from where it begins."""
    return _text(text, _file(font.copy()))  # of the font itself the size may still change


_file = functools.lru_cache(50)(findfont)


@functools.lru_cache(5000)
def _text(text: str, file: str) -> Shape:
    x, letters, at = 0.0, [text[:1]], [0.0]
    for letter in text[1:]:
        step = _step(letters[-1], letter, file)
        if step is None:
            letters[-1] += letter
        else:
            x += step
            letters.append(letter)
            at.append(x)
    shapes = [_letter(letter, file) for letter in letters]
    return Shape(
        "".join(f"M{x:.0f} 0{one.path}" for x, one in zip(at, shapes, strict=True)),
        x + shapes[-1].wide,
        max(one.above for one in shapes),
        max(one.below for one in shapes),
    )


@functools.lru_cache(5000)
def _step(letter: str, after: str, file: str) -> float | None:
    """From a letter to the next; None where the font draws both as one."""
    places, _ = _set(letter + after, file)
    return places[1] * _UNIT if len(places) == 2 else None


@functools.lru_cache(1000)
def _letter(letter: str, file: str) -> Shape:
    """A letter, or some that are drawn as one."""
    prop = FontProperties(fname=file, size=UNITS)
    wide, high, below = text_to_path.get_text_width_height_descent(letter, prop, False)
    _, [(corners, codes)] = _set(letter, file)
    return Shape(_path(np.rint(np.asarray(corners) * _UNIT), codes), wide, high - below, below)


def _set(text: str, file: str) -> tuple[list[float], list[Any]]:
    """Where each letter begins, and the corners and codes of each different one."""
    font = get_font(file)
    font.set_size(text_to_path.FONT_SCALE, text_to_path.DPI)
    placed, shapes, _ = text_to_path.get_glyphs_with_font(font, text)
    return [x for _, x, _, _ in placed], list(shapes.values())


def _path(corners: Any, codes: Any) -> str:
    """A path, each place told from the one before: short to send."""
    parts, begun = list[str](), np.zeros(2)
    here = begun
    for ends, code in Path(corners, codes).iter_segments(simplify=False, curves=True):
        if code == Path.CLOSEPOLY:
            parts.append("z")
            here = begun
            continue
        steps = ends.reshape(-1, 2) - here
        parts.append(_SAID[code] + " ".join(f"{v:.0f}" for v in steps.ravel()))
        here = ends[-2:]
        begun = here if code == Path.MOVETO else begun
    return "".join(parts)
