"""Heights that the crew sets: the top at every corner, and what boards the forms of each side take."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from calcbook.basis.calculation import PRACTICE
from calcbook.basis.formula import arg, cite, formula, result
from calcbook.basis.showing import show_length
from calcbook.basis.table import records
from calcbook.basis.units import Q, number_in
from calcbook.job.corners import taken_by
from calcbook.job.edges import edges_of, side_lengths
from calcbook.job.top import top_of
from calcbook.job.wall_lines import corner_name, side_points
from calcbook.plan.level_drawing import level_drawing
from calcbook.plan.outline import is_round

if TYPE_CHECKING:
    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job

# dressed heights of lumber in inches, with the names it is sold by
BOARDS = ((3.5, "2x4"), (5.5, "2x6"), (7.25, "2x8"), (9.25, "2x10"), (11.25, "2x12"))
TALLER = "panel, braced"


@formula(
    "Fall over a length",
    cite("geometry"),
    result("in", "difference of level"),
    m=arg("1", "fall over run", low=0, high=1),
    l=arg("ft", "length in the way of the fall", low=0),
)  # fmt: skip
def fall_over(m, l):  # noqa: E741
    """How much lower the top lies at the end of a length that runs straight down its slope.

    Returns a length. Source: geometry.
    """
    h = m * l
    return h


def enter_levels(calc: Calculation, job: Job) -> None:
    """Levels of a top that slopes: at every corner, at the drain, and drawn for the crew."""
    top, system = top_of(job), job.system
    plane = top.plane
    if plane is None:
        return
    fall = calc.given(job, "slope.fall", "m")
    span = Q((top.highest - top.lowest) / number_in(fall, "1"), "ft")
    calc.step(
        fall_over, "From the highest to the lowest place of the top.", name="fall", label="fall of the top",
        m=number_in(fall, "1"), l=span,
    )  # fmt: skip
    points = side_points(job.slab)
    heights, thick = top.heights(points), top.thickness_at(points)
    ground = number_in(top.above_grade, "ft")

    def shown(feet: float) -> str:
        return show_length(Q(float(feet), "ft"), system, small=True)

    rows = [
        (corner_name(k), shown(top.highest - h), shown(t), shown(ground + h))
        for k, (h, t) in enumerate(zip(heights, thick, strict=True))
    ]
    if job.slope.drain:
        h = top.lowest
        rows.append(
            (
                job.slope.drain,
                shown(top.highest - h),
                shown(number_in(top.thickness, "ft")),
                shown(ground + h),
            )
        )
    columns = ("place", "below the highest place", "slab thickness", "top above the ground")
    calc.table("Levels for the crew: stretch the string or set the laser at the highest place", records(columns, rows),
               cite("geometry"))  # fmt: skip
    plan, highest = job.plan, top.highest
    calc.figure("Levels", lambda: level_drawing(plan, plane, system, highest))


def enter_boards(calc: Calculation, job: Job) -> None:
    """What the forms of each side stand, and how much of each board that is."""
    heights = form_heights(job)
    lengths = side_lengths(job)
    rows = [
        (str(k + 1), show_length(Q(lengths[k], "ft"), job.system),
         *(show_length(Q(h, "ft"), job.system, small=True) for h in pair), board_for(12 * max(pair)))
        for k, pair in heights.items()
    ]  # fmt: skip
    calc.note("A form stands from the ground, or from the slab's underside where that is higher, to the top; what is "
              "thickened below is cast against the soil.")  # fmt: skip
    calc.table("Forms, side by side", records(("side", "length", "height at its start", "height at its end", "board"), rows),
               PRACTICE)  # fmt: skip


def enter_openings(calc: Calculation, job: Job) -> None:
    """What must be in place before the pour: every opening with its size and its middle, by running distance."""
    plan, system = job.plan, job.system
    if not plan.openings:
        return
    x0, y0, *_ = plan.bounds

    def shown(feet: float) -> str:
        return show_length(Q(float(feet), "ft"), system)

    rows = []
    for name, shape in plan.openings:
        a, b, c, d = shape.bounds
        size = (
            f"{shown(2 * math.sqrt(shape.area / math.pi))} round"
            if is_round(shape)
            else f"{shown(c - a)} × {shown(d - b)}"
        )
        rows.append((name, size, shown((a + c) / 2 - x0), shown((b + d) / 2 - y0)))
    columns = (
        "opening, sleeve or pipe",
        "size",
        "middle, from the left side",
        "middle, from the lower side",
    )
    calc.table("Set before the pour", records(columns, rows), cite("geometry"))


def enter_corners(calc: Calculation, job: Job) -> None:
    """Round and cut corners as the crew lays them out: where each begins on its two sides, and its middle."""

    def shown(length: Quantity) -> str:
        return show_length(length, job.system)

    rows = [
        (entry.corner.upper(), f"round, radius {shown(entry.radius)}" if entry.radius is not None else "cut straight",
         shown(Q(taken_by(job, entry), "ft")))
        for entry in job.corners
    ]  # fmt: skip
    columns = ("corner", "shape", "begins so far from the corner, on both sides")
    calc.table("Set before the pour: corners", records(columns, rows), cite("geometry"))


def form_heights(job: Job) -> dict[int, tuple[float, float]]:
    """Height of the form at the start and at the end of each side that has one, in feet, by its number from 0."""
    top, points = top_of(job), side_points(job.slab)
    heights, thick = top.heights(points), top.thickness_at(points)
    ground = number_in(top.above_grade, "ft")
    found = {}
    for k, edge in enumerate(edges_of(job)):
        if edge.against:
            continue
        ends = [k, (k + 1) % len(points)]
        deep = thick[ends] + number_in(edge.depth, "ft")
        stands = np.clip(ground + heights[ends], thick[ends], deep)
        found[k] = (float(stands[0]), float(stands[1]))
    return found


def board_for(inches: float) -> str:
    """The lowest board that reaches so many inches up."""
    return next((name for height, name in BOARDS if inches <= height + 1e-6), TALLER)
