"""Control joints of a job: spacing, depth, layout, cutting time."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from shapely import affinity, box

from calcbook.basis.calculation import PRACTICE, Calculation, Found
from calcbook.basis.formula import cite
from calcbook.basis.pricing import person_hours
from calcbook.basis.showing import magnitude, show, show_length
from calcbook.basis.table import records
from calcbook.basis.units import TRADE_UNITS, Q, number_in
from calcbook.job.bars import bar_key, bars_bought, whole_bars
from calcbook.job.top import top_of
from calcbook.job.wall_lines import named_corners
from calcbook.joints.between import enter_dowels_of_cuts, enter_joints_between
from calcbook.joints.dividing import BARS, joint_layout
from calcbook.joints.drawing import joint_drawing, panel_name
from calcbook.joints.panel_lines import ByHand
from calcbook.joints.rules import LEAST_ANGLE
from calcbook.joints.snapping import ENDS, RUNNING, by_running, end_rows, running_rows, whole_lines
from calcbook.joints.spacing import joint_factor, max_joint_spacing, sawcut_depth
from calcbook.joints.telling import over_rims

if TYPE_CHECKING:
    from shapely.geometry import Polygon

    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job
    from calcbook.job.schema.pads import Pad
    from calcbook.joints.dividing import JointLayout

_ACROSS = 4.0  # ft, a bar across a corner
FIBERS = ("micro fiber", "macro fiber", "steel fiber")


def largest_spacing(job: Job) -> Quantity:
    """The largest spacing of joints of a job: given, or by thickness, slump and aggregate."""
    if job.joints.spacing is not None:
        return job.joints.spacing.to("foot")
    factor = joint_factor(job.concrete.slump, job.concrete.aggregate)
    return max_joint_spacing(job.slab.thickness, factor)


def isolation_boxes(job: Job) -> tuple[Polygon, ...]:
    """A box turned on its corner around the post of every pad, around all of them where there are several; feet."""
    if not job.joints.isolate:
        return ()
    return tuple(_box_around(pad, number_in(job.joints.box, "ft") / 2) for pad in job.pads)


def _box_around(pad: Pad, half: float) -> Polygon:
    """The box of one pad; half: of its side around a single post. Its place among the boxes is that of its pad."""
    x, y = number_in(pad.x, "ft"), number_in(pad.y, "ft")
    if pad.posts:  # measured along the box's own sides, which lie at 45 degrees
        off = [(p.offset_x.m_as("foot"), p.offset_y.m_as("foot")) for p in pad.standing]
        ends = [(min(v), max(v)) for v in zip(*((a + b, a - b) for a, b in off), strict=True)]
        u, v = ((low + high) / 2 for low, high in ends)
        x, y = x + (u + v) / 2, y + (u - v) / 2
        half += max(high - low for low, high in ends) / 2 / math.sqrt(2)
    return affinity.rotate(box(x - half, y - half, x + half, y + half), 45)


def lines_by_hand(job: Job) -> ByHand:
    """What the job file says of the lines of its joints."""
    fixed: tuple[list[float], list[float]] = ([], [])
    barred, moved, paths = [], [], []
    for entry in job.joints.lines:
        if entry.points is not None:
            paths.append(tuple((x.m_as("foot"), y.m_as("foot")) for x, y in entry.points))
            continue
        axis = 0 if entry.x is not None else 1
        place = (entry.x, entry.y)[axis].m_as("foot")
        if entry.kind == "cut":
            fixed[axis].append(place)
        elif entry.kind == "none":
            barred.append((axis, place, entry.within.m_as("foot")))
        elif entry.to is not None:
            moved.append((axis, place, entry.to.m_as("foot")))
    return ByHand((tuple(fixed[0]), tuple(fixed[1])), tuple(barred), tuple(moved), job.joints.by_hand,
                  tuple(paths))  # fmt: skip


@dataclass(frozen=True)
class Joints:
    """Joints as they are planned: the largest spacing, and their layout."""

    spacing: Quantity
    layout: JointLayout


def joints_of(job: Job) -> Joints:
    """The Joints of a job."""
    spacing = largest_spacing(job)
    layout = joint_layout(
        job.plan.outline, spacing, number_in(job.joints.aspect, "1"), [o.shape for o in job.plan.openings],
        isolation_boxes(job), system=job.system, by_hand=lines_by_hand(job),
    )  # fmt: skip
    return Joints(spacing, layout)


def chapter(job: Job, joints: Joints) -> Found:
    """Joints of a job. job: a Job; joints: as planned."""
    calc = Calculation(
        "joints", "Control joints", "Where are the joints cut, how deep, and when?", job.system
    )
    calc.caution(
        "Cut as soon as the saw no longer tears the edge, the same day: a joint cut tomorrow is a crack tonight."
    )
    h = calc.given(job, "slab.thickness", "h")
    _spacing(calc, job, h)
    _depth(calc, job)
    _when(calc, job)
    enter_joints_between(calc, job)
    layout, plan, system = joints.layout, job.plan, job.system
    _laid_out(calc, job, joints.spacing, layout)
    named = named_corners(job.slab)
    calc.figure("Joint plan", lambda: joint_drawing(plan, layout, system, named))
    return Found(calc)


def _spacing(calc: Calculation, job: Job, h: Quantity) -> None:
    clause = cite("ACI 302.1R", "24 to 36 times the thickness, at most 18 ft")
    if job.joints.spacing is None:
        slump, aggregate = (calc.given(job, f"concrete.{key}") for key in ("slump", "aggregate"))
        factor = calc.finding("Spacing over thickness, by slump and aggregate.", "c",
                              joint_factor(slump, aggregate), "1", joint_factor.source, label="joint factor")  # fmt: skip
        calc.step(max_joint_spacing, "The largest spacing.", name="spacing", h=h, factor=factor)
        return
    given = calc.given(job, "joints.spacing", "s")
    most = calc.step(max_joint_spacing, "The most that the source allows.", h=h, factor=36.0)
    calc.check("Joint spacing, as given", given, most, "ft", clause,
               needs_engineer=True,
               to_do="Closer joints; a wider spacing, also with fiber, needs the engineer and the maker's data.")  # fmt: skip


def enter_cut(calc: Calculation, job: Job, name: str | None = "depth") -> Quantity:
    """Enter how deep the joints are cut; returns it. name: of the result, None where another chapter tells it."""
    calc.given(job, "joints.early_entry")
    top, fiber = top_of(job), job.reinforcement.kind in FIBERS
    h = job.slab.thickness
    if not top.even:
        h = calc.finding(
            "The slab's greatest thickness, as its top slopes.", "h", top.greatest, "in", cite("geometry"),
            label="slab thickness, greatest",
        )  # fmt: skip
    return calc.step(sawcut_depth, "How deep the cut must be to lead the crack.", name=name, h=h,
                     early_entry=job.joints.early_entry, fiber=fiber)  # fmt: skip


def _depth(calc: Calculation, job: Job) -> None:
    enter_cut(calc, job)
    if job.reinforcement.kind in FIBERS:
        calc.note(
            ("" if job.joints.early_entry else
             "Fiber holds the crack shut above the cut, so the source asks for a third, not a quarter. ")
            + "It sets no wider spacing for fiber, so none is taken; the maker's engineer may give one."
        )  # fmt: skip


def _when(calc: Calculation, job: Job) -> None:
    if job.joints.early_entry:
        when = "an early-entry saw starts 1 to 4 hours after finishing (ACI 302.1R-15, from memory)"
    else:
        when = "a wet saw starts about 4 hours after finishing in hot weather, 12 in cold (common practice)"
    calc.note(f"When: {when}, as soon as the edge of the cut no longer ravels. The chapter on the pour day "
              "puts its hours to it.")  # fmt: skip


def _laid_out(calc: Calculation, job: Job, spacing: Quantity, layout: JointLayout) -> None:
    source = joint_layout.source
    calc.finding(
        "Panels that the joints make.", "n", float(len(layout.panels)), "1", source, "panels", "panels"
    )
    longest = calc.finding(
        "The longest side of a panel.", "a", layout.longest, "ft", source, "longest", "longest side"
    )
    length = calc.finding(
        "All cuts together.", "L", layout.length, "ft", source, "length", "length of cuts"
    )
    calc.check("Longest side of a panel", longest, spacing, "ft", source,
               to_do="Set a smaller spacing, or plan the joints by hand ([[joints.lines]]).")  # fmt: skip
    most = calc.given(job, "joints.aspect").m_as("")
    calc.check(
        "Length over width of a panel", layout.worst_aspect, most, "1", source,
        to_do="A notch or an opening makes a narrow strip: cut that strip across, or move the joint.",
    )  # fmt: skip
    _rims(calc, job, layout)
    if not layout.square:
        _not_square(calc, job, layout)
    for problem in layout.problems:
        if problem.startswith(("the panel", "the line")):
            calc.note(f"Note: {problem}.")
    if job.joints.lines or job.joints.by_hand:
        calc.note("Lines fixed, forbidden or moved by hand ([[joints.lines]]) come before the rules of the layout; a panel "
                  "that breaks a rule is hatched on the plan.")  # fmt: skip
    _lines(calc, job, layout)
    _corner_bars(calc, job, layout)
    enter_dowels_of_cuts(calc, job, [one.length for one in whole_lines(layout)])
    with calc.for_builder():
        _work(calc, job, length)
    if layout.boxes:
        around = calc.finding("Isolation strip around the posts.", "L_i", layout.isolation, "ft", source,
                              "isolation", "isolation strip")  # fmt: skip
        calc.take("Isolation strip at posts", around, "ft", "isolation")


def _rims(calc: Calculation, job: Job, layout: JointLayout) -> None:
    """Whether the joints keep off the pads, or meet the boxes of their posts."""
    if not layout.boxes:
        return
    pads = [t.bottom for t in job.plan.thickenings[: len(job.pads)]]
    over = over_rims(layout.cuts, pads, layout.boxes)
    names = ", ".join(job.pads[k].name for k in over)
    calc.verdict(
        "Joints over a pad, past the box of its post", not over, PRACTICE, names or "none", "none allowed",
        "" if not over else "Slab and pad are too thick there for the cut to lead the crack, which then runs round the pad.",
        to_do="Lead the joint through the middle of the post, or clear of the pad (joints.lines).",
    )  # fmt: skip


def _not_square(calc: Calculation, job: Job, layout: JointLayout) -> None:
    """Enter what is told of panels that are no rectangles."""
    calc.note("Panels at slanting or round sides are measured by the smallest rectangle around each; the areas are their own. "
              "A sliver is given to its neighbor, and a joint that would meet a side sharply is bent to meet it squarely, "
              "where that keeps the rules; lines by hand stay as they are given.")  # fmt: skip
    sharpest = min(one.degrees for one in layout.judged)
    calc.check(
        "Sharpest corner that a joint makes", LEAST_ANGLE, sharpest, "deg", PRACTICE,
        least=True,
        to_do="A sharp corner breaks off: bend the end of the joint as the note says, by points in [[joints.lines]], or move it.",
    )  # fmt: skip
    system = job.system
    rows = [
        (panel_name(k), show(Q(own, "ft2"), "ft2", system), *(show_length(Q(v, "ft"), system) for v in (one.short, one.long)),
         f"{one.aspect:.2f}", f"{one.degrees}°")
        for k, (one, own) in enumerate(zip(layout.judged, layout.areas, strict=True))
    ]  # fmt: skip
    head = (
        "panel",
        "area",
        "rectangle, width",
        "length",
        "length over width",
        "sharpest corner at a joint",
    )
    calc.table("Panels", records(head, rows), joint_layout.source)


def _lines(calc: Calculation, job: Job, layout: JointLayout) -> None:
    """Enter the lines as a crew finds them."""
    running, by_ends = by_running(layout, job.plan)
    if running:
        calc.table(RUNNING, running_rows(running, job), joint_layout.source)
    if by_ends:
        calc.table(ENDS, end_rows(by_ends, layout, job), joint_layout.source)


def _work(calc: Calculation, job: Job, length: Quantity) -> None:
    rate = calc.given(job, "joints.saw_rate", "r")
    hours = calc.step(
        person_hours, f"Hours at the saw; n is in {TRADE_UNITS['ft'].label_for(job.system)}.",
        n=magnitude(length, "ft", job.system), rate=Q(magnitude(rate, "ft", job.system), "1/h"),
    )  # fmt: skip
    calc.work("Sawing joints", hours)


def _corner_bars(calc: Calculation, job: Job, layout: JointLayout) -> None:
    """Bars across the corners of openings and boxes that no joint meets: found, told, and bought."""
    source = cite(
        "common practice", "a crack starts at an inner corner; a bar across it keeps it narrow"
    )
    if layout.missed:
        bars = calc.finding(f"No joint meets {'; '.join(layout.missed)}. For each, {BARS}.", "n",
                            4.0 * len(layout.missed), "1", source, "corner_bars", "bars across corners")  # fmt: skip
        count, length = bars_bought(job, whole_bars(job, [_ACROSS] * round(bars)))
        calc.take(
            f"Bars across corners, #4, {show_length(Q(_ACROSS, 'ft'), job.system)}, {count}",
            length,
            "ft",
            bar_key("#4"),
        )
    bare = layout.open_corners
    calc.verdict("Inner corners of the outline without a joint", not bare, joint_layout.source,
                 str(bare), "none allowed",
                 to_do="A joint that begins at each, by hand ([[joints.lines]]).")  # fmt: skip
