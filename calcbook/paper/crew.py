"""The crew's page: what is built where, the clock of the day, what to load, and what to watch for."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import numpy as np

from calcbook.basis.calculation import OK, Found, Table
from calcbook.basis.safety import DEFERRAL, cautions_of
from calcbook.basis.showing import show, show_length
from calcbook.basis.units import Q
from calcbook.bolts.lists import ANCHOR_TAPE, ANCHOR_WORDS, TAPE_LIST, UNBOLTED
from calcbook.bolts.post_anchors import POST_TAPE
from calcbook.job.edges import sides_alike
from calcbook.job.together import all_joints, all_slabs
from calcbook.job.top import top_of
from calcbook.job.wall_lines import corner_name, named_corners, side_points
from calcbook.joints.drawing import name_lines
from calcbook.joints.snapping import ENDS, by_running
from calcbook.paper.evening import load_list
from calcbook.paper.missing_machine import decide_by, if_it_does_not_come
from calcbook.plan.corner_letters import name_corners
from calcbook.plan.drawing import ACCENT, LINE, line
from calcbook.plan.several_drawing import several_drawing
from calcbook.plan.taping_drawing import name_below, pad_rows, taping_drawing
from calcbook.pour.charts import SIDE_WORDS, clock_between, clock_text
from calcbook.pour.day import STOP_SIGNS
from calcbook.pour.go_no_go import NO_GO
from calcbook.pour.site import Missing

if TYPE_CHECKING:
    import datetime
    from collections.abc import Iterator

    from matplotlib.figure import Figure

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.book.chapters import Book
    from calcbook.book.further import FurtherBook
    from calcbook.book.parts import Parts
    from calcbook.job.file import Job
    from calcbook.plan.drawing import Canvas
    from calcbook.pour.plan import Day

Rows = list[tuple[str, ...]]
PADS = (
    "pad or strip",
    "size",
    "middle, from the left side",
    "middle, from the lower side",
)
SNAP = "Lines to snap"  # how the titles of the chapters' tables for the crew begin
SET = "Levels for the crew", "Set before the pour"
EMERGENCY = "911, or the local emergency number; buried lines before digging: 811"


def crew_data(book: Book) -> dict[str, Any]:
    """What the page says, as plain data; without the plan, which ``crew_plan`` draws."""
    job, slabs = book.job, (book, *book.others)
    begin, day = job.pour.moment(), _known_day(book)
    further = [other for other in book.others if not other.job.follows]
    ends = [_last_hour(one) for one in (book, *further) if one.job.pour.date == job.pour.date]
    last = None if None in ends else max(end for end in ends if end is not None)
    return {
        "title": job.job.name,
        "preparer": job.job.preparer,
        "paper": "a4" if job.system == "si" else "us-letter",
        "where": job.job.address or "address to be given",
        "when": _when(job),
        "calls": calls(job),
        "concrete": [list(row) for row in _concrete(book)],
        "grades": [[f"{row[0]}{_of(slab)}", *row[1:]] for slab in slabs for row in grade_marks(slab.job)],
        "joints": [f"{words}{_of(slab)}" for slab in slabs for words in joints_to_snap(slab)],
        "tables": [
            {"title": f"Pads and strips to dig{_of(slab)}", "columns": [*PADS, _bottom_words(slab.job)], "rows": rows}
            for slab in slabs if (rows := _pads(slab.job))
        ] + [
            {"title": t.title + _of(slab), "columns": list(t.columns), "rows": [list(row) for row in t.rows]}
            for slab in slabs for t in (*_tables(slab, "base", SET), *_tables(slab, "bolts", (UNBOLTED,)))
        ],
        "bolts": [found for slab in slabs for found in tape_lists(slab)],
        "anchors": [found for slab in slabs for found in _anchors(slab)],
        "clock": [list(row) for row in _clock(book, day, begin)],
        "no_clock": "" if day else _why_no_clock(book.day),
        "pours": [_pour(other) for other in further],
        "decide": decide_by(job, begin),
        "missing": [list(row) for row in if_it_does_not_come(book, day, begin)],
        "load": [[kind, things] for kind, things in load_list(book, last).items() if things],
        "signs": [[when, sign] for when, sign, _ in STOP_SIGNS],
        "cautions": list(cautions_of("pour_day")),
        "deferral": DEFERRAL,
        "no_go": NO_GO if book.no_go else "",
        "open": _open_of_the_day(book, further),
    }  # fmt: skip


def _of(slab: Parts) -> str:
    """The name of a further slab, behind what is said of it."""
    return f" ({slab.job.slab.called})" if slab.job.place_of("slab") != "slab" else ""


def _open_of_the_day(book: Book, further: list[FurtherBook]) -> list[str]:
    """Open checks of the day of each pour, and how many more are open elsewhere, such as the depth of an edge."""
    found = [
        f"{k.status}: {k.claim}{_of(slab)}"
        for slab in (book, *further) for name in _OF_THE_DAY for k in _calculation(slab, name).checks if k.status != OK
    ]  # fmt: skip
    more = sum(check.status != OK for _, check in book.priced_checks) - len(found)
    found = list(dict.fromkeys(found))  # the morning page checks some of the pour day again
    if more > 0:
        found.append(f"{more} more in other chapters: ask before digging or pouring")
    return found


def _calculation(slab: Parts, chapter: str) -> Calculation:
    found: Found = getattr(slab, chapter)
    return found.calculation


def _known_day(slab: Parts) -> Day | None:
    """The pour on its clock; None where it is not known, or the slab does not set."""
    pour = slab.day
    known = not isinstance(pour, Missing) and pour.sets and slab.job.pour.moment() is not None
    return pour if known and not isinstance(pour, Missing) else None


def _last_hour(slab: Parts) -> float | None:
    """Hour of the clock at which finishing may end; None where it is not known."""
    begin, day = slab.job.pour.moment(), _known_day(slab)
    return (
        None if day is None or begin is None else begin.hour + begin.minute / 60 + day.plan.finished[1]
    )


def _when(job: Job) -> str:
    begin = job.pour.moment()
    return f"{begin:%A, %Y-%m-%d}, first truck {begin:%H:%M}" if begin else "day to be given"


def _pour(slab: FurtherBook) -> dict[str, Any]:
    """A pour from another order: its slabs, when, its concrete and its clock."""
    job, day = slab.job, _known_day(slab)
    return {
        "name": " and ".join(one.slab.called for one in (job, *job.poured_with)),
        "when": _when(job),
        "concrete": [list(row) for row in _concrete(slab)],
        "clock": [list(row) for row in _clock(slab, day, job.pour.moment())],
        "no_clock": "" if day else _why_no_clock(slab.day),
    }


_OF_THE_DAY = ("pour_day", "go", "mix", "first_week")


def crew_plan(book: Book, width: float = 6.5, height: float = 5.4) -> Figure:
    """The plan with what the crew tapes and snaps: dimensions, corners, joints, bolts. width, height: inches."""
    job = book.job
    slabs = [(one.slab.called, one) for one in (job, *job.others)]

    def more(on: Canvas) -> None:
        for slab in (book, *book.others):
            layout = slab.joint_plan.layout
            for cut in layout.cuts:
                line(on, list(cut.coords), ACCENT, 1.3 * LINE, (0, (6, 2.5)))
            name_lines(on, by_running(layout, slab.job.plan)[1])
            if job.others:
                name_below(on, slab.job.plan, job.system, edges=False)
        for name, one in slabs:
            beside = [other.plan.outline for of, other in slabs if of != name]
            name_corners(on, one.plan.outline, named_corners(one.slab), 7.0, beside)

    if job.others:
        title = "Plan of all slabs; joints dashed"
        plans, joints = all_slabs(job), all_joints(job)
        return several_drawing(plans, joints, job.system, title, width, height, more, trade=False)
    return taping_drawing(job.plan, job.system, "Plan; joints dashed", width, height, more)


def calls(job: Job) -> list[list[str]]:
    """Who to call: names with telephones."""
    found = [["Emergency", EMERGENCY], ["On this job", job.job.contact or "contact not given"]]
    found += [[s.name, f"{s.phone or 'no telephone given'} ({s.brings})"] for s in job.suppliers]
    return found


def _concrete(book: Parts) -> Iterator[tuple[str, str]]:
    job, concrete = book.job, book.job.concrete
    yield (
        "Concrete",
        f"{show(concrete.strength, 'psi', job.system)}, slump {show(concrete.slump, 'in', job.system)}",
    )
    yield "Loads", book.volume.trucks.text(job.system)
    yield "Placed", "by pump" if job.pour.pump else "by chute, off the truck"
    yield "Reinforcement", _steel(book)


def _steel(book: Parts) -> str:
    """What lies in the slab, its edge and across its corners, as the takeoff has it, without what is bought for it."""
    steel = book.job.reinforcement
    lines = [line for name in ("reinforcement", "joints") for line in _calculation(book, name).takeoff]
    found = [
        re.sub(r", [\d,]+ (sheet|bars? of|bent).*", "", line.words)
        for line in lines
        if line.price == "mesh" or line.price.startswith("bar") or line.price.endswith("fiber")
    ]
    if steel.kind == "mesh":
        lap = f"{steel.wire}, laps {show(steel.mesh_lap, 'in', book.job.system)}"
        found = [lap, *(words for words in found if words != steel.wire)]
    return "; ".join(found).replace("Bars across", "bars across") or steel.kind


def grade_marks(job: Job) -> Iterator[tuple[str, str]]:
    """Depths to set and to check, measured down from the top of the forms: of a slope over a level base from where they
    are highest, else from the finished top."""
    (t, ground, whence), stone = _measured_down(job), job.base.thickness

    def told(depth: Any) -> str:
        return show_length(depth, job.system, small=True)

    if whence:
        yield f"from {whence}", ""
    low = top_of(job).parallel and top_of(job).highest > 0
    yield f"ground outside{', at the low side' if low else ''}", told(ground)
    yield "top of the stone, under the slab", told(t)
    if stone.m > 0:
        yield "bottom of the stone", told(t + stone)
    alike = sides_alike(job)
    for sides, edge in alike:
        if edge.depth.m > 0:
            where = "" if len(alike) == 1 else f", {_sides_by_corners(job, sides)}"
            yield (
                f"bottom of the thickened edge{where}, {told(edge.width)} wide",
                told(t + edge.depth),
            )


def _measured_down(job: Job) -> tuple[Quantity, Quantity, str]:
    """(thickness, height above the ground, from where both are measured) for what the crew sets below the forms."""
    top = top_of(job)
    if top.plane is None:
        return job.slab.thickness, job.slab.above_grade, ""
    if top.parallel:
        return job.slab.thickness, top.above_grade, "the finished top at each place"
    return top.greatest, top.above_grade + Q(top.highest, "ft"), "the highest place"


def _bottom_words(job: Job) -> str:
    """The head over depths of pads."""
    whence = _measured_down(job)[2]
    return f"bottom, from {whence}" if whence else "bottom below the form tops"


def _sides_by_corners(job: Job, sides: list[int]) -> str:
    """Sides by the letters of their corners, as the plan has them."""
    count = len(side_points(job.slab))
    return ", ".join(f"{corner_name(k - 1)} to {corner_name(k % count)}" for k in sides)


def _pads(job: Job) -> list[list[str]]:
    x0, y0 = job.plan.bounds[:2]
    return list(pad_rows(job.plan, _measured_down(job)[0].m_as("foot"), (x0, y0), job.system))


def joints_to_snap(book: Parts) -> list[str]:
    """Each line of the joints by running distance, as the chapter on joints lists it; pieces of a line together."""
    lines: dict[tuple[str, str], list[str]] = {}
    by_ends = []
    for table in _tables(book, "joints", (SNAP,)):
        for first, second, third, fourth in table.rows:
            if table.title == ENDS:
                by_ends.append(f"{first}, from {second} to {third}: {fourth} long")
            else:
                lines.setdefault((first, second), []).append(f"{third} to {fourth}")
    return [f"{way} {at}: {', '.join(spans)}" for (way, at), spans in lines.items()] + by_ends


def _tables(book: Parts, chapter: str, titles: tuple[str, ...]) -> list[Table]:
    """The tables of a chapter whose titles begin so."""
    blocks = _calculation(book, chapter).blocks
    return [b for b in blocks if isinstance(b, Table) and b.title.startswith(titles)]


def _anchors(slab: Parts) -> list[dict[str, Any]]:
    """The anchors of hold-downs, those of posts in rows below them; or those of posts alone."""
    tables = [(t, [list(row) for row in t.rows]) for t in _tables(slab, "bolts", (ANCHOR_TAPE,))]
    posts = _tables(slab, "bolts", (POST_TAPE,))
    if not tables:
        return [
            {"title": t.title + _of(slab), "words": "", "columns": list(t.columns), "rows": [list(row) for row in t.rows]}
            for t in posts
        ]  # fmt: skip
    for t in posts:
        tables[0][1].extend(
            [f"post {name}", "", f"{x} from the left side, {y} from the lower side", kind, deep, "", ""]
            for name, x, y, kind, deep in t.rows
        )
    return [
        {"title": f"Anchors of hold-downs{' and posts' if posts else ''}{_of(slab)}", "words": ANCHOR_WORDS,
         "columns": list(t.columns), "rows": rows}
        for t, rows in tables
    ]  # fmt: skip


def tape_lists(book: Parts) -> list[dict[str, Any]]:
    """The tape list of each wall: how to hold the tape, and (bolt, place, may stray) of each."""
    tables = _tables(book, "bolts", (TAPE_LIST,))
    return [
        {"title": b.title.removeprefix(TAPE_LIST).strip(), "rows": [[r[0], r[1], r[3]] for r in b.rows]}
        for b in tables
    ]


# --- the clock -----------------------------------------------------------------------------------


def _why_no_clock(pour: Day | Missing) -> str:
    if isinstance(pour, Missing):
        return f"No clock: {pour.what}"
    return "No clock: by this forecast the slab does not set within two days. Do not pour on this day."


def _clock(
    book: Parts, day: Day | None, begin: datetime.datetime | None
) -> Iterator[tuple[str, str, str]]:
    """(clock, work, how) in the order of the clock."""
    if day is None or begin is None:
        for work in (
            "trucks and placing",
            "strike-off and bull float",
            "floating",
            "troweling",
            "sawing",
            "cover",
        ):
            yield "", work, "by the slab's own signs"
        return
    rows = []
    for truck in day.plan.trucks:
        load = show(Q(float(truck.load), "yd3"), "yd3", book.job.system)
        words = f"truck {truck.number}, {load}", f"empty at {clock_text(begin, truck.ends)}"
        rows.append((truck.arrives, truck.arrives, *words))
    placed = day.plan.placed
    rows.append(
        (placed, placed, "placing done", "bull float at once, then wait for the bleed water to go")
    )
    for task in day.plan.tasks[1:]:
        side = f", {SIDE_WORDS[task.side]}" if task.side and len(day.bands) > 1 else ""
        rows.append((task.early[0], task.late[0], f"{task.name} begins{side}", task.what))
    first, last = day.saw[0][0], day.saw[1][1]
    rows.append((first, last, "saw the joints", "as soon as the cut edge does not ravel"))
    if np.isfinite(day.cover.on):
        rows.append((*day.plan.finished, f"cover: {day.cover.blanket}", "as soon as it does not mark"))
    for early, late, work, how in sorted(rows):
        yield clock_between(begin, early, late), work, how
