"""Pads as drawings: the plan with their loads, and the section through one under its post."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import shapely
from shapely import LineString, box

from calcbook.basis.showing import show
from calcbook.plan.dimensions import dimension
from calcbook.plan.drawing import (
    ACCENT,
    GREY,
    HEAVY,
    INK,
    LINE,
    PALE,
    SMALL,
    THIN,
    area,
    arrow,
    canvas,
    label,
    length_text,
)
from calcbook.plan.slab_drawing import finish_plan

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.figure import Figure

    from calcbook.basis.units import Quantity
    from calcbook.footings.pad_fit import Footprint
    from calcbook.job.schema.pads import Pad
    from calcbook.plan.outline import Plan

_CONCRETE: dict[str, Any] = {"fill": "#f3f3f3", "hatch": "...", "width": HEAVY}


def loads_drawing(plan: Plan, pads: Sequence[Pad], texts: Sequence[str], system: str) -> Figure:
    """The plan with every pad, its governing unfactored load and its uplift.

    plan: of the slab; pads: of the job, in the order of its thickenings; texts: the loads as the table shows
    them. Returns a matplotlib Figure.
    """
    on = canvas(plan.bounds, (44, 60, 60, 40), 6.5, 6.2, system)
    from matplotlib.lines import Line2D

    area(on, plan.outline, width=HEAVY)
    for index, pad in enumerate(pads):
        shape = plan.thickenings[index].bottom & plan.outline
        area(on, shape, edge=INK, fill=PALE, width=THIN)
        for p in pad.standing:
            post = [(v + off).m_as("foot") for v, off in ((pad.x, p.offset_x), (pad.y, p.offset_y))]
            on.add(Line2D(*([v] for v in post), marker="x", ms=5, color=ACCENT))
        middle, top = shape.centroid.x, shape.bounds[3]
        label(on, (middle, top + 15 * on.point), pad.name, SMALL, INK, ground=True)
        label(on, (middle, top + 6 * on.point), texts[index], SMALL, ACCENT, ground=True)
        lifts = [p.uplift for p in pad.standing if p.uplift is not None and p.uplift.magnitude]
        if lifts:
            below = (middle, shape.bounds[1] - 6 * on.point)
            told = f"uplift {show(sum(lifts[1:], lifts[0]), 'lbf', system)}"
            label(on, below, told, SMALL, GREY, ground=True)
    reach = dict.fromkeys(("left", "right", "top", "bottom"), 8.0)
    finish_plan(on, plan.bounds, reach, system, "Pads and their loads")
    return on.figure


def pad_section(
    plan: Plan, pad: Pad, seat: Footprint, index: int, load: str, levels: tuple[Quantity, Quantity], system: str
) -> Figure:  # fmt: skip
    """Section through a pad along x: post, slab, pad, stone, with sizes and load.

    plan: of the slab; seat: the pad as it is built; index: its place in the job; load: as the table shows it;
    levels: thickness of slab and stone. Slab and stone end where the outline does. Returns a matplotlib
    Figure.
    """
    middle, left, right = _along_x(plan, index)
    half, d = seat.L.m_as("foot") / 2, seat.d.m_as("foot")
    t, s = (v.m_as("foot") for v in levels)
    reach = half + max(1.2, 0.6 * half)
    left, right = max(-reach, left - middle), min(reach, right - middle)
    on = canvas((left, -t - d - 0.3, right, 1.3), (58, 40, 58, 24), 6.5, 4.0, system,
                f"Section through {pad.name}")  # fmt: skip
    for a, b in ((left, -half), (half, right)):
        if s and b > a:
            area(on, box(a, -t - s, b, -t), edge=GREY, fill="#ffffff", hatch="oo", width=THIN, zorder=1)
    concrete = box(left, -t, right, 0) | box(-half, -t - d, half, -t)
    area(on, concrete, edge=INK, **_CONCRETE)
    ends = []
    for post in pad.standing:
        off, c = (pad.x + post.offset_x).m_as("foot") - middle, post.post_length.m_as("foot")
        area(on, box(off - c / 2, 0, off + c / 2, 1.05), edge=INK, fill="white", width=LINE, zorder=3)
        arrow(on, (off, 0.75), (off, 0.02), ACCENT, 1.2, zorder=6, gap=2)
        ends.append(off + c / 2)
    text = load + ("" if pad.dead is None else ", unfactored" + (", in all" if pad.posts else ""))
    label(on, (max(ends) + 4 * on.point, 0.6), text, SMALL, ACCENT, ha="left")
    dimension(on, (-half, -t - d), (half, -t - d), -18, length_text(2 * half, system, True))
    dimension(on, (right, -t), (right, 0), -16, length_text(t, system, True))
    dimension(on, (left, -t - d), (left, -t), 16, length_text(d, system, True))
    if s and right > half + 0.5:
        label(on, (right - 2 * on.point, -t - s / 2), "stone", SMALL, GREY, ha="right", ground=True)
    return on.figure


def _along_x(plan: Plan, index: int) -> tuple[float, float, float]:
    """Middle of a pad's concrete, and where the slab begins and ends along x through it, in feet."""
    x0, y0, x1, y1 = (plan.thickenings[index].bottom & plan.slab).bounds
    outer = plan.bounds
    level = LineString([(outer[0], (y0 + y1) / 2), (outer[2], (y0 + y1) / 2)])
    runs = shapely.get_parts(level & plan.outline)
    run = min(runs, key=lambda part: part.distance(box(x0, y0, x1, y1)))
    return (x0 + x1) / 2, run.bounds[0], run.bounds[2]
