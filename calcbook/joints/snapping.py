"""How a crew finds the lines of the joints: by running distance from two sides, or from end to end."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from shapely import LineString, Point

from calcbook.basis.table import records
from calcbook.job.corners import taken_by
from calcbook.job.wall_lines import corner_name, side_points
from calcbook.plan.drawing import length_text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.job.file import Job
    from calcbook.joints.dividing import JointLayout
    from calcbook.plan.outline import Plan

RUNNING, ENDS = "Lines to snap, by running distance", "Lines to snap, from end to end"
_SAME = 1e-4  # ft
_GRAZED = 0.25  # ft: a line is snapped through over so little of a box or a sleeve (common practice)
_LEAST_SIDE = 0.25  # of the slab's height or width: so long a side is measured from

Place = tuple[float, float]


@dataclass(frozen=True)
class Snapped:
    """A whole joint in plan, in feet; axis: 0 where it stands along x, 1 along y, None where it slants."""

    start: Place
    end: Place

    @property
    def length(self) -> float:
        """From end to end."""
        return math.dist(self.start, self.end)

    @property
    def axis(self) -> int | None:
        """Along which axis its place is told."""
        (xa, ya), (xb, yb) = self.start, self.end
        return 0 if abs(xa - xb) < _SAME else 1 if abs(ya - yb) < _SAME else None


def whole_lines(layout: JointLayout) -> list[Snapped]:
    """The cuts of a layout, pieces that go on in one line together, also where a box or a sleeve is only grazed between them;
    upright ones first, then those across."""
    lines: dict[tuple[float, float], list[tuple[float, float]]] = {}
    ways: dict[tuple[float, float], tuple[Place, Place]] = {}
    for cut in layout.cuts:
        (xa, ya), (xb, yb) = cut.coords
        ux, uy = (xb - xa) / cut.length, (yb - ya) / cut.length
        if ux < -1e-7 or (abs(ux) <= 1e-7 and uy < 0):
            ux, uy = -ux, -uy
        off = xa * -uy + ya * ux
        key = (round(math.degrees(math.atan2(uy, ux)), 3), round(off, 4))
        along = sorted(x * ux + y * uy for x, y in ((xa, ya), (xb, yb)))
        lines.setdefault(key, []).append((along[0], along[1]))
        ways.setdefault(key, ((ux, uy), (-off * uy, off * ux)))
    found = []
    for key, pieces in lines.items():
        (ux, uy), (fx, fy) = ways[key]
        for low, high in _joined(pieces):
            found.append(Snapped((fx + low * ux, fy + low * uy), (fx + high * ux, fy + high * uy)))
    return sorted(found, key=_order)


def _order(line: Snapped) -> tuple[int, float, float]:
    axis = line.axis
    if axis is None:
        return 2, *line.start
    return axis, round(line.start[axis], 4), line.start[1 - axis]


def _joined(pieces: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    joined: list[tuple[float, float]] = []
    for low, high in sorted(pieces):
        if joined and low <= joined[-1][1] + _GRAZED:
            joined[-1] = (joined[-1][0], max(high, joined[-1][1]))
        else:
            joined.append((low, high))
    return joined


def measured_from_sides(plan: Plan) -> bool:
    """Whether the slab has a left and a lower side along y and x, from which lines can be measured."""
    x0, y0, x1, y1 = plan.bounds
    found = []
    for a, b, span in (((x0, y0), (x0, y1), y1 - y0), ((x0, y0), (x1, y0), x1 - x0)):
        found.append(plan.outline.exterior.intersection(LineString([a, b])).length > _LEAST_SIDE * span)
    return all(found)


def by_running(layout: JointLayout, plan: Plan) -> tuple[list[Snapped], list[Snapped]]:
    """(lines told by running distance, lines told by their ends)."""
    lines = whole_lines(layout)
    if not measured_from_sides(plan):
        return [], lines
    return [one for one in lines if one.axis is not None], [one for one in lines if one.axis is None]


def running_rows(lines: Sequence[Snapped], job: Job) -> list[dict[str, str]]:
    """Every line as a crew snaps it: how far from the left or the lower side of the slab, and from where to where."""
    start = job.plan.bounds[:2]
    ways = ("up, from the left side", "across, from the lower side")
    rows = []
    for one in lines:
        axis = one.axis
        assert axis is not None  # slanting lines are told by their ends
        ends = sorted((one.start[1 - axis], one.end[1 - axis]))
        lengths = (one.start[axis] - start[axis], *(v - start[1 - axis] for v in ends))
        rows.append((ways[axis], *(length_text(v, job.system) for v in lengths)))
    return records(("line", "at", "starts at", "ends at"), rows)


def line_name(number: int) -> str:
    """How a line that is told by its ends is called, on the plan and in the table."""
    return f"J{number}"


def end_rows(lines: Sequence[Snapped], layout: JointLayout, job: Job) -> list[dict[str, str]]:
    """Every line by its number on the joint plan, and where its two ends stand on sides or on other lines."""
    rows = []
    for number, one in enumerate(lines, 1):
        ends = [_end_words(p, number, lines, layout, job) for p in (one.start, one.end)]
        rows.append((line_name(number), *ends, length_text(one.length, job.system)))
    return records(("line", "from", "to", "length"), rows)


def _end_words(at: Place, number: int, lines: Sequence[Snapped], layout: JointLayout, job: Job) -> str:
    here = Point(at)
    corners = side_points(job.slab)
    for k, corner in enumerate(corners):
        if math.dist(corner, at) < _SAME:
            return f"corner {corner_name(k)}"
    on_side = _on_side(at, job)
    if on_side:
        return on_side
    if job.plan.outline.exterior.distance(here) < 0.01:
        return _on_round(at, job)
    for name, shape in job.plan.openings:
        if shape.distance(here) < 0.01:
            return f"the opening {name!r}"
    if any(shape.distance(here) < 0.01 for shape in layout.boxes):
        return "the box of a post"
    for other, one in enumerate(lines, 1):
        if other != number and LineString([one.start, one.end]).distance(here) < _SAME:
            return f"{line_name(other)}, {length_text(math.dist(one.start, at), job.system)} from its start"
    x, y = (length_text(v, job.system) for v in at)
    return f"x {x}, y {y}"


def _on_side(at: Place, job: Job) -> str:
    """Where a place stands on a straight side; "" where it stands on none."""
    corners = side_points(job.slab)
    taken = {entry.corner.strip().upper(): taken_by(job, entry) for entry in job.corners}
    for k, corner in enumerate(corners):
        if LineString([corner, corners[(k + 1) % len(corners)]]).distance(Point(at)) > _SAME:
            continue
        name = corner_name(k)
        far = math.dist(corner, at) - taken.get(name, 0.0)
        if far < -_SAME:
            continue
        whence = f"the end of the round or cut corner {name}" if name in taken else f"corner {name}"
        if far < _SAME:
            return whence
        return f"side {k + 1}, {length_text(far, job.system)} from {whence}"
    return ""


def _on_round(at: Place, job: Job) -> str:
    """Where a place stands on a round or cut corner: straight from where that leaves the side before it."""
    corners = side_points(job.slab)
    names = [corner_name(k) for k in range(len(corners))]
    entries = {names.index(e.corner.strip().upper()): e for e in job.corners}
    k = min(entries, key=lambda n: math.dist(corners[n], at))
    (x, y), (bx, by) = corners[k], corners[k - 1]
    share = taken_by(job, entries[k]) / math.dist((x, y), (bx, by))
    leaves = (x + share * (bx - x), y + share * (by - y))
    side = k if k else len(corners)
    return f"round or cut corner {names[k]}, {length_text(math.dist(leaves, at), job.system)} straight from the end of side {side}"
