"""Section at a sill bolt: mark, embedment, plate, edge distance."""

from __future__ import annotations

from typing import TYPE_CHECKING

from shapely import LineString, Polygon, box

from calcbook.basis.showing import show_length
from calcbook.basis.units import Q
from calcbook.bolts.capacity import bolt_row
from calcbook.bolts.drawing import spread_out
from calcbook.job.edges import edge_of
from calcbook.plan.dimensions import chain
from calcbook.plan.drawing import (
    ACCENT,
    GREY,
    HEAVY,
    LINE,
    PALE,
    SMALL,
    THIN,
    area,
    canvas,
    leader,
    line,
    scale_bar,
    trim,
)
from calcbook.plan.section_drawing import DASHES

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from calcbook.basis.units import Quantity
    from calcbook.bolts.bolted import Bolted
    from calcbook.job.file import Job
    from calcbook.job.schema.bolts import Bolts
    from calcbook.job.schema.walls import Wall
    from calcbook.plan.drawing import Canvas

_RIGHT = 1.3  # feet of slab shown
_BESIDE = 0.6  # and at least so much beside the bolt


def sill_section(job: Job, w: Bolted, stick_up: Quantity, length: Quantity) -> Figure:
    """Section through the slab's edge at a bolt, at a true scale.

    job: a Job; w: Bolted wall; stick_up, length: of the bolt (lengths). Returns a matplotlib Figure.
    """
    sill, bolts, system = w.sill, job.bolts, job.system
    x, h_s, L_b, d = (
        q.m_as("foot") for q in (sill.edge_distance, stick_up, length, Q(bolt_row(job)["d_in"], "in"))
    )
    edge = edge_of(job, sill.side)
    t, depth, b = (q.m_as("foot") for q in (job.slab.thickness, edge.depth, edge.width))
    low, right = -(t + depth), max(b, _RIGHT, x + _BESIDE)
    slope = b + edge.slope.m_as("") * depth
    on = canvas((0, low, right, h_s), (92, 76, 120, 34), 6.5, 3.9, system)
    under = [(b, low), (slope, -t), (max(right, slope), -t)]
    shape = Polygon([(0, 0), (0, low), *under, (max(right, slope), 0)]) & box(0, low, right, 0)
    area(on, shape, edge="none", fill=PALE)
    line(on, [(right, 0), (0, 0), (0, low), (min(b, right), low)], width=HEAVY)
    below = LineString(under) & box(0, low, right, 0)
    if below.geom_type == "LineString" and not below.is_empty:
        line(on, list(below.coords), width=HEAVY)
    top = _draw_plate(on, sill, bolts, x)
    _draw_bolt(on, x, h_s, h_s - L_b, d, top, job, w)
    chain(on, [(h_s - L_b, x), (0.0, 0.0), (h_s, x)], 0.0, -34, "y", system, True)
    chain(on, [(low, 0.0), (0.0, 0.0)], 0.0, -70, "y", system, True)
    chain(on, [(0.0, low), (x, low)], low, -18, "x", system, True)
    _names(on, right, x, h_s, h_s - L_b, top, job, w)
    foot = low - 40 * on.point
    scale_bar(on, (0, foot), system)
    title = f"Section at a sill bolt, wall {sill.name}"
    trim(on, (-88 * on.point, foot - 13 * on.point, right + 116 * on.point, h_s + 12 * on.point), title)
    return on.figure


def _draw_plate(on: Canvas, sill: Wall, bolts: Bolts, x: float) -> float:
    """The plies of the plate and the washer; returns the washer's top, in feet."""
    left, width = sill.inset.m_as("foot"), sill.plate_width.m_as("foot")
    y = bolts.seal.m_as("foot")
    for _ in range(sill.plies):
        area(
            on,
            box(left, y, left + width, y + sill.ply.m_as("foot")),
            fill="white",
            hatch="///",
            width=LINE,
        )
        y += sill.ply.m_as("foot")
    half, thick = bolts.washer.m_as("foot") / 2, bolts.washer_thickness.m_as("foot")
    area(on, box(x - half, y, x + half, y + thick), fill=GREY, width=THIN, zorder=3)
    return y + thick


def _draw_bolt(
    on: Canvas, x: float, top: float, bottom: float, d: float, washer_top: float, job: Job, w: Bolted
) -> None:
    area(on, box(x - d / 2, bottom, x + d / 2, top), fill="white", width=LINE, zorder=5)
    nut = bolt_row(job)["nut_in"] / 12
    area(
        on,
        box(x - 0.9 * d, washer_top, x + 0.9 * d, washer_top + nut),
        fill="white",
        width=LINE,
        zorder=6,
    )
    if w.sill.method == "drilled":
        gap = job.bolts.hole.m_as("foot") / 2
        for side in (-gap, gap):
            line(on, [(x + side, 0), (x + side, bottom)], ACCENT, LINE, DASHES)
    elif job.bolts.kind == "hooked":
        hook = job.bolts.hook.m_as("foot")
        area(
            on, box(x - d / 2, bottom, x + d / 2 + hook, bottom + d), fill="white", width=LINE, zorder=5
        )
    else:
        area(
            on,
            box(x - 0.9 * d, bottom - 0.6 * d, x + 0.9 * d, bottom),
            fill="white",
            width=LINE,
            zorder=5,
        )


def _names(
    on: Canvas,
    right: float,
    x: float,
    top: float,
    bottom: float,
    washer_top: float,
    job: Job,
    w: Bolted,
) -> None:
    """Names to the right of the drawing, each with a line to its part."""
    to, sill = right + 8 * on.point, w.sill
    plate = sill.inset.m_as("foot") + sill.plate_width.m_as("foot")
    names = [
        (_foot_name(job, w), (x, bottom)),
        (f"plate, {sill.plies} × {show_length(sill.ply, job.system, True)}", (plate, 0.06)),
        ("nut and plate washer", (x, washer_top)),
        ("mark: top of bolt", (x, top)),
    ]
    heights = spread_out([at[1] for _, at in names], 12 * on.point)
    for (words, at), y in zip(names, heights, strict=True):
        leader(on, at, (to, y), words, SMALL)


def _foot_name(job: Job, w: Bolted) -> str:
    if w.sill.method == "drilled":
        return "rod in adhesive"
    return "hook" if job.bolts.kind == "hooked" else "head"
