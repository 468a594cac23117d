"""Drawings of the edges of a job: a section for each kind of edge, sill and ledge, and what lifts them between joints."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import TYPE_CHECKING

from shapely import box

from calcbook.job.edges import edge_of, main_edge, ring_of, sides_alike, sides_of, sides_text
from calcbook.plan.drawing import (
    ACCENT,
    GREY,
    INK,
    LINE,
    PALE,
    SMALL,
    area,
    arrow,
    canvas,
    label,
    line,
    scale_bar,
    text_width,
    trim,
)
from calcbook.plan.edge import EdgeRing
from calcbook.plan.section_drawing import section_drawing
from calcbook.plan.sheet_edge import sheet_line

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from matplotlib.figure import Figure

    from calcbook.basis.calculation import Calculation
    from calcbook.job.file import Job
    from calcbook.plan.edge import Ledge


def edge_section(
    job: Job, sides: Sequence[int] = (), ledge: Ledge | None = None
) -> Callable[[], Figure]:
    """What draws the section through the slab's edge, the sheet drawn to the end that the job names.

    sides: numbers of the sides that it stands for, by their first; none for the deepest edge of the job;
    ledge: a lowered stretch of them that it goes through.
    """
    slab, retarder = job.slab, job.retarder
    edge = edge_of(job, sides[0]) if sides else main_edge(job)
    ring = ring_of(edge, EdgeRing) if edge.depth.magnitude else None
    sheet = sheet_line(ring, retarder.ends, retarder.turn_up.m_as("foot")) if retarder.laid else ()
    title = section_title(sides or sides_of(job, edge), ledge)
    return functools.partial(
        section_drawing, slab.thickness, job.base.thickness, ring, slab.above_grade, job.system, title,
        sheet, ledge, edge.against,
    )  # fmt: skip


def section_title(sides: Sequence[int], ledge: Ledge | None = None) -> str:
    """Title of the section of some sides, none for all alike, or of a lowered stretch of one."""
    if ledge:
        return f"Section at the {ledge.name}"
    return f"Section at {sides_text(list(sides))}" if sides else "Section at the edge"


def enter_sections(calc: Calculation, job: Job) -> None:
    """A section for each kind of edge, and for each door sill and ledge."""
    alike = sides_alike(job)
    shown: list[tuple[Sequence[int], Ledge | None]] = []
    if len(alike) > 1:
        shown += [(sides, None) for sides, _ in alike]
    seen = set()
    for ledge in job.plan.ledges:
        key = edge_of(job, ledge.side).spec, ledge.drop, ledge.width
        if key not in seen:
            shown.append(((ledge.side,), ledge))
        seen.add(key)
    if len(alike) == 1 and job.plan.edge is not None:
        calc.figure("Section at the edge", edge_section(job))
    for sides, through in shown:
        calc.figure(section_title(sides, through), edge_section(job, sides, through))


# --- what lifts the edge between joints -----------------------------------------------------------

_ROW, _DEEP, _NAMES, _ARROW = (
    40.0,
    9.0,
    84.0,
    14.0,
)  # points: of a row, of the edge, beside it, of arrows


@dataclass(frozen=True)
class LiftedRow:
    """One wall on its edge, in feet along it: where joints cross, jambs or posts lift, and hold-downs pull."""

    name: str
    length: float
    joints: tuple[float, ...]
    jambs: tuple[float, ...]
    hold_downs: tuple[float, ...]


def lifted_drawing(rows: Sequence[LiftedRow], barred: bool, system: str) -> Figure:
    """The edge under each wall that lifts, cut by the joints that cross it. barred: whether bars run through them.

    Lengths are at scale, heights are not; system: units of the scale. Returns a matplotlib Figure.
    """
    longest = max(row.length for row in rows)
    high = _ROW * len(rows)
    on = canvas((0, 0, longest, 1e-6), (_NAMES, high + 56, 24, 0), 6.5, (high + 82) / 72 + 1, system)
    p = on.point
    for k, row in enumerate(rows):
        low, top = (-(k + 1) * _ROW + 8) * p, (-(k + 1) * _ROW + 8 + _DEEP) * p
        area(on, box(0, low, row.length, top), edge=INK, fill=PALE, width=LINE)
        label(on, (-6 * p, (low + top) / 2), row.name, SMALL, ha="right", weight="bold")
        for at in row.joints:
            line(on, [(at, low - 4 * p), (at, top + 4 * p)], INK, LINE, (0, (4, 2)))
        for places, color in ((row.jambs, GREY), (row.hold_downs, ACCENT)):
            for at in places:
                arrow(on, (at, top), (at, top + _ARROW * p), color)
    foot = -high - 8
    scale_bar(on, (0, foot * p), system)
    ends = (
        "bars run through it below the cut" if barred else "the edge ends there, as no bars run through"
    )
    words = "grey: jambs and posts that lift; color: hold-downs", f"dashed: a joint; {ends}"
    for n, text in enumerate(words):
        label(on, (0, (foot - 20 - 10 * n) * p), text, SMALL, GREY, ha="left")
    wide = max(longest + 22 * p, 1.1 * text_width(words[1], SMALL) * p)
    trim(on, (-_NAMES * p, (foot - 38) * p, wide, 0.0), LIFTED)
    return on.figure


LIFTED = "What lifts the edge between its joints"
