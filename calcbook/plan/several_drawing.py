"""Several slabs on one plan: each with its name, and the joints where they touch."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import shapely

from calcbook.plan.dimensions import outer_dimensions
from calcbook.plan.drawing import (
    ACCENT,
    GREY,
    HEAVY,
    INK,
    SMALL,
    THIN,
    area,
    canvas,
    label,
    line,
)
from calcbook.plan.outline import centre
from calcbook.plan.slab_drawing import draw_below_slab, finish_plan

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from matplotlib.figure import Figure

    from calcbook.plan.drawing import Canvas
    from calcbook.plan.outline import Plan

Touching = tuple[
    tuple[tuple[float, float], ...], str
]  # a stretch where two slabs touch, and the joint there
_MARGINS, _TIGHT = (84, 96, 40, 60), (66, 80, 34, 46)  # with a trade scale; as large as it fits


def several_drawing(
    slabs: Sequence[tuple[str, Plan]],
    touching: Sequence[Touching] = (),
    system: str = "us",
    title: str = "Plan of all slabs",
    width: float = 6.5,
    height: float = 6.0,
    more: Callable[[Canvas], None] | None = None,
    trade: bool = True,
) -> Figure:
    """All slabs of a job with their names, overall dimensions and the joints between them.

    slabs: (name, Plan) each; touching: where two touch, each once; the rest as for ``plan_drawing``;
    trade: as for ``canvas``.
    """
    whole = shapely.union_all([plan.outline for _, plan in slabs])
    on = canvas(whole.bounds, _MARGINS if trade else _TIGHT, width, height, system, trade=trade)
    for _, plan in slabs:
        draw_below_slab(on, plan)
        area(on, plan.outline, width=HEAVY)
        for _, shape in plan.openings:
            area(on, shape, edge=GREY, fill="white", width=THIN, zorder=3)
    for name, plan in slabs:
        label(on, centre(plan.slab), name, SMALL, INK, weight="bold", ground=True)
    for points, words in touching:
        line(on, list(points), ACCENT, 2 * HEAVY)
        _name_joint(on, points, words)
    if more:
        more(on)
    one = whole if whole.geom_type == "Polygon" else shapely.box(*whole.bounds)
    reach = outer_dimensions(on, shapely.Polygon(one.exterior), system)
    finish_plan(on, whole.bounds, reach, system, title)
    return on.figure


def _name_joint(on: Canvas, points: Sequence[tuple[float, float]], words: str) -> None:
    """The kind of a joint beside the middle of its longest piece, turned along it."""
    pieces = list(zip(points, points[1:], strict=False))
    p, q = (np.array(end) for end in max(pieces, key=lambda piece: np.hypot(*np.subtract(*piece))))
    along = (q - p) / np.hypot(*(q - p))
    if along[0] < -1e-9 or (abs(along[0]) < 1e-9 and along[1] < 0):
        along = -along
    at = (p + q) / 2 + np.array([-along[1], along[0]]) * 0.9 * SMALL * on.point
    label(
        on,
        at,
        words,
        SMALL,
        ACCENT,
        angle=float(np.degrees(np.arctan2(along[1], along[0]))),
        ground=True,
    )
