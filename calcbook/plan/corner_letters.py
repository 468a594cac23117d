"""Letters at the corners of a slab, to hold the tape on: off the slab, clear of other texts and of the slabs beside it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from shapely import Point, box, union_all

from calcbook.plan.drawing import ACCENT, SMALL, label, text_width

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from matplotlib.text import Text
    from numpy.typing import NDArray
    from shapely.geometry import Polygon

    from calcbook.plan.drawing import Canvas

_TURNS = (0, 45, -45, 90, -90, 180)  # degrees from straight off the corner, the best first


def name_corners(
    on: Canvas,
    outline: Polygon,
    named: Sequence[tuple[str, tuple[float, float]]],
    off: float = 10.0,
    beside: Sequence[Polygon] = (),
) -> None:
    """Letters at the corners of an outline: on the line that halves each, or turned from it where that is taken.

    named: (letter, (x, y) in feet) of each corner, in order; off: how far from it, in points; beside: outlines of other
    slabs, on which no letter of this one may stand.
    """
    taken = [_box(on, text) for text in on.ax.texts]
    others = union_all(list(beside))
    for k, (letter, here) in enumerate(named):
        back, ahead = (np.array(named[j % len(named)][1]) - here for j in (k - 1, k + 1))
        off_it = [
            here + way * off * on.point for way in _ways(outline, np.array(here), back, ahead, on.point)
        ]
        spots = [spot for spot in off_it if not others.intersects(Point(spot))] or off_it
        clear = (s for s in spots if not any(_about(s, letter, on.point).intersects(t) for t in taken))
        spot = next(clear, spots[0])
        taken.append(_about(spot, letter, on.point))
        label(on, spot, letter, SMALL, ACCENT, weight="bold")


def _ways(
    outline: Polygon, here: NDArray, back: NDArray, ahead: NDArray, point: float
) -> Iterator[NDArray]:
    """Unit vectors away from a corner, straight off the slab first, into it last; back, ahead: to the corners beside it."""
    one, two = back / np.hypot(*back), ahead / np.hypot(*ahead)
    out = one + two
    if np.hypot(*out) < 1e-6:  # a straight corner
        out = np.array((one[1], -one[0]))
    out = out / np.hypot(*out)
    if outline.contains(Point(here + out * 10 * point)):
        out = -out
    for turn in np.radians(_TURNS):
        c, s = np.cos(turn), np.sin(turn)
        yield np.array((c * out[0] - s * out[1], s * out[0] + c * out[1]))


def _about(at: NDArray, text: str, point: float) -> Polygon:
    wide, high = text_width(text, SMALL) * point, SMALL * point
    return box(at[0] - wide / 2, at[1] - high / 2, at[0] + wide / 2, at[1] + high / 2)


def _box(on: Canvas, text: Text) -> Polygon:
    """About the paper that a text on a drawing takes."""
    x, y = text.get_position()
    size = float(text.get_fontsize())
    wide, high = text_width(text.get_text(), size) * on.point, 1.2 * size * on.point
    left = {"left": 0.0, "right": -wide}.get(text.get_horizontalalignment(), -wide / 2)
    if text.get_rotation() in (90, 270):
        return box(x - high / 2, y + left, x + high / 2, y + left + wide)
    return box(x + left, y - high / 2, x + left + wide, y + high / 2)
