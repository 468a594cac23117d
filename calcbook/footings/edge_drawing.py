"""Sections through the edges of a job: one for each kind of edge, sill and ledge."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING

from calcbook.job.edges import edge_of, main_edge, ring_of, sides_alike, sides_text
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
    title = section_title(sides, ledge) if sides else "Section at the edge"
    return functools.partial(
        section_drawing, slab.thickness, job.base.thickness, ring, slab.above_grade, job.system, title,
        sheet, ledge, edge.against,
    )  # fmt: skip


def section_title(sides: Sequence[int], ledge: Ledge | None = None) -> str:
    """Title of the section of some sides, or of a lowered stretch of one."""
    return f"Section at the {ledge.name}" if ledge else f"Section at {sides_text(list(sides))}"


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
