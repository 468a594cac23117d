"""Control joints of a job: spacing, depth, layout, cutting time."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import shapely
from shapely import Point, affinity, box

from calcbook.basis.arguments import reason
from calcbook.basis.calculation import Calculation, Found
from calcbook.basis.formula import cite
from calcbook.basis.pricing import person_hours
from calcbook.basis.showing import magnitude
from calcbook.basis.table import records
from calcbook.basis.units import TRADE_UNITS, Q, number_in
from calcbook.job.top import top_of
from calcbook.joints.between import enter_dowels_of_cuts, enter_joints_between
from calcbook.joints.panel_lines import ByHand, inner_corners
from calcbook.joints.spacing import BARS, joint_factor, joint_layout, max_joint_spacing, sawcut_depth
from calcbook.plan.drawing import (
    ACCENT,
    GREY,
    HEAVY,
    INK,
    LINE,
    PALE,
    SMALL,
    area,
    canvas,
    label,
    length_text,
    line,
    text_width,
)
from calcbook.plan.slab_drawing import finish_plan

if TYPE_CHECKING:
    from matplotlib.figure import Figure
    from shapely.geometry import Polygon

    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job
    from calcbook.job.schema.pads import Pad
    from calcbook.joints.spacing import JointLayout
    from calcbook.plan.drawing import Canvas
    from calcbook.plan.outline import Plan

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
    return tuple(_box_around(pad, job.joints.box.m_as("foot") / 2) for pad in job.pads)


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
    barred, moved = [], []
    for entry in job.joints.lines:
        axis = 0 if entry.x is not None else 1
        place = (entry.x, entry.y)[axis].m_as("foot")
        if entry.kind == "cut":
            fixed[axis].append(place)
        elif entry.kind == "none":
            barred.append((axis, place, entry.within.m_as("foot")))
        elif entry.to is not None:
            moved.append((axis, place, entry.to.m_as("foot")))
    return ByHand((tuple(fixed[0]), tuple(fixed[1])), tuple(barred), tuple(moved), job.joints.by_hand)


@dataclass(frozen=True)
class Joints:
    """Joints as they are planned: the largest spacing, and their layout, or why there is none."""

    spacing: Quantity
    layout: JointLayout | None
    problem: str = ""


def joints_of(job: Job) -> Joints:
    """The Joints of a job."""
    spacing = largest_spacing(job)
    try:
        layout = joint_layout(
            job.plan.outline, spacing, job.joints.aspect.m_as(""), [o.shape for o in job.plan.openings],
            isolation_boxes(job), system=job.system, by_hand=lines_by_hand(job),
        )  # fmt: skip
    except ValueError as error:
        return Joints(spacing, None, reason(error))
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
    _depth(calc, job, h)
    _when(calc, job)
    enter_joints_between(calc, job)
    layout, plan, system = joints.layout, job.plan, job.system
    if layout is None:
        calc.ask_engineer("Layout of the joints", joint_layout.source, joints.problem)
        return Found(calc)
    _laid_out(calc, job, joints.spacing, layout)
    calc.figure("Joint plan", lambda: joint_drawing(plan, layout, system))
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
               "A wider spacing, also with fiber, needs the engineer and the maker's data.", needs_engineer=True)  # fmt: skip


def _depth(calc: Calculation, job: Job, h: Quantity) -> None:
    kind = {"early_entry": job.joints.early_entry, "fiber": job.reinforcement.kind in FIBERS}
    calc.given(job, "joints.early_entry")
    top = top_of(job)
    if not top.even:
        h = calc.finding(
            "The slab's greatest thickness, as its top slopes.",
            "h",
            top.greatest,
            "in",
            cite("geometry"),
            label="slab thickness, greatest",
        )
    calc.step(sawcut_depth, "How deep the cut must be to lead the crack.", name="depth", h=h, **kind)
    if kind["fiber"]:
        calc.note(
            ("" if kind["early_entry"] else
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
               "Set a smaller spacing, or plan the joints by hand." if longest > spacing else "")  # fmt: skip
    most = calc.given(job, "joints.aspect").m_as("")
    calc.check(
        "Length over width of a panel", layout.worst_aspect, most, "1", source,
        "A notch or an opening makes a narrow strip: cut that strip across, or move the joint."
        if layout.worst_aspect > most else "",
    )  # fmt: skip
    for problem in layout.problems:
        if problem.startswith("the panel"):
            calc.note(f"Note: {problem}.")
    if job.joints.lines or job.joints.by_hand:
        calc.note("Lines fixed, forbidden or moved by hand ([[joints.lines]]) come before the rules of the layout; a panel "
                  "that breaks a rule is hatched on the plan.")  # fmt: skip
    calc.table("Lines to snap, by running distance", _snap_rows(layout, job), source)
    _corner_bars(calc, job, layout)
    runs = [high - low for some in _runs(layout).values() for low, high in some]
    enter_dowels_of_cuts(calc, job, runs)
    with calc.for_builder():
        _work(calc, job, length)
    if layout.boxes:
        around = calc.finding("Isolation strip around the posts.", "L_i", layout.isolation, "ft", source,
                              "isolation", "isolation strip")  # fmt: skip
        calc.take("Isolation strip at posts", around, "ft", "isolation")


def _work(calc: Calculation, job: Job, length: Quantity) -> None:
    rate = calc.given(job, "joints.saw_rate", "r")
    hours = calc.step(
        person_hours, f"Hours at the saw; n is in {TRADE_UNITS['ft'].label_for(job.system)}.",
        n=magnitude(length, "ft", job.system), rate=Q(magnitude(rate, "ft", job.system), "1/h"),
    )  # fmt: skip
    calc.work("Sawing joints", hours)


def _snap_rows(layout: JointLayout, job: Job) -> list[dict[str, str]]:
    """Every line as a crew snaps it: how far from the left or the lower side of the slab, and from where to where."""
    x0, y0, *_ = job.plan.bounds
    ways = ("up, from the left side", "across, from the lower side")
    rows = []
    for (axis, place), runs in sorted(_runs(layout).items()):
        start = (x0, y0)[axis]
        for low, high in runs:
            lengths = (place - start, low - (y0, x0)[axis], high - (y0, x0)[axis])
            rows.append((ways[axis], *(length_text(v, job.system) for v in lengths)))
    return records(("line", "at", "starts at", "ends at"), rows)


def _runs(layout: JointLayout) -> dict[tuple[int, float], list[tuple[float, float]]]:
    """The cuts as whole lines: by axis (0 where it stands along x) and place, from where to where, in feet."""
    found: dict[tuple[int, float], list[tuple[float, float]]] = {}
    for cut in layout.cuts:
        (xa, ya), (xb, yb) = cut.coords
        axis, place, ends = (0, xa, (ya, yb)) if abs(xa - xb) < 1e-6 else (1, ya, (xa, xb))
        found.setdefault((axis, round(place, 6)), []).append((min(ends), max(ends)))
    for key, pieces in found.items():
        joined: list[tuple[float, float]] = []
        for low, high in sorted(pieces):
            if joined and low <= joined[-1][1] + 1e-6:
                joined[-1] = (joined[-1][0], max(high, joined[-1][1]))
            else:
                joined.append((low, high))
        found[key] = joined
    return found


def _corner_bars(calc: Calculation, job: Job, layout: JointLayout) -> None:
    """Bars across the corners of openings and boxes that no joint meets: found, told, and bought."""
    source = cite(
        "common practice", "a crack starts at an inner corner; a bar across it keeps it narrow"
    )
    if layout.missed:
        bars = calc.finding(f"No joint meets {'; '.join(layout.missed)}. For each, {BARS}.", "n",
                            4.0 * len(layout.missed), "1", source, "corner_bars", "bars across corners")  # fmt: skip
        calc.take("Bars across corners, No. 4, 4 ft", Q(4, "ft") * bars, "ft", "bar")
    outline = job.plan.outline
    cuts = shapely.union_all(layout.cuts)
    bare = sum(cuts.is_empty or cuts.distance(Point(c)) > 1e-5 for c in inner_corners(outline))
    calc.verdict("Inner corners of the outline without a joint", not bare, joint_layout.source,
                 str(bare), "none allowed")  # fmt: skip


def _size_text(width: float, height: float, system: str) -> str:
    """Size of a panel for the plan; centimetres are fine enough there."""
    if system == "us":
        return f"{length_text(width, system)} × {length_text(height, system)}"
    return " × ".join(f"{magnitude(Q(v, 'ft'), 'ft', system):.2f}" for v in (width, height)) + " m"


def _running(on: Canvas, plan: Plan, layout: JointLayout, system: str) -> dict[str, float]:
    """Running dimensions of the cuts, below and left: each from the corner of the slab's bounds."""
    x0, y0, *_ = plan.bounds
    places: tuple[set[float], set[float]] = (set(), set())
    for axis, place in _runs(layout):
        places[axis].add(place)
    for axis, start in ((0, x0), (1, y0)):
        for row, v in enumerate(sorted(places[axis])):
            text = length_text(v - start, system)
            away = (12 + 9 * (row % 2)) * on.point  # neighbors that are close stand in two rows
            at = (v, y0 - away) if axis == 0 else (x0 - 4 * on.point, v)
            label(on, at, text, SMALL, ACCENT, ha="center" if axis == 0 else "right")
    wide = max((text_width(length_text(v - y0, system), SMALL) for v in places[1]), default=0.0)
    return {"bottom": 30.0 if places[0] else 8.0, "left": wide + 8.0}


def joint_drawing(plan: Plan, layout: JointLayout, system: str) -> Figure:
    """The joint plan: cuts heavy and dashed, panels with their size, boxes around posts.

    plan: of the slab; layout: its JointLayout; system: units. Returns a matplotlib Figure.
    """
    on = canvas(plan.bounds, (44, 60, 40, 40), 6.5, 6.2, system)
    area(on, plan.outline, width=HEAVY)
    for shape in (o.shape for o in plan.openings):
        area(on, shape, edge=GREY, fill=PALE, zorder=3)
    for cut in layout.cuts:
        line(on, list(cut.coords), ACCENT, 1.3 * LINE, (0, (6, 2.5)))
    for shape in layout.boxes:
        area(on, shape, edge=INK, fill="white", zorder=5)
    for panel in layout.broken:
        area(on, panel, edge="none", hatch="//", zorder=1)
    for panel in layout.panels:
        x0, y0, x1, y1 = panel.bounds
        text = _size_text(x1 - x0, y1 - y0, system)
        label(on, ((x0 + x1) / 2, y0 + 10 * on.point), text, SMALL, GREY, ground=True)
    reach = {"right": 8.0, "top": 8.0, **_running(on, plan, layout, system)}
    finish_plan(on, plan.bounds, reach, system, "Joint plan")
    return on.figure
