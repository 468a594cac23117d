"""Tape lists, schedule, takeoff and drawings of bolted walls."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.pricing import person_hours
from calcbook.basis.showing import show, show_length
from calcbook.basis.table import records
from calcbook.basis.units import number_in
from calcbook.bolts.drawing import tape_strips, wall_plan
from calcbook.bolts.misplacement import rooms_of
from calcbook.bolts.path_drawing import path_drawing
from calcbook.bolts.section import sill_section
from calcbook.bolts.sill import sentence, sill_rule
from calcbook.job.wall_lines import named_corners
from calcbook.plan.tape import to_steps

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.bolts.bolted import Bolted, Heights
    from calcbook.job.file import Job
    from calcbook.job.schema.walls import BracedPiece
    from calcbook.plan.tape import Bolt, Rules

_TAPE_COLUMNS = ["Bolt", "On the tape", "From the one before", "May stray", "Why it stands there"]
TAPE_LIST, BOUGHT = "Tape list, wall", "To order for the bolts"  # begins of the tables' titles
UNBOLTED = "Plate without a tape list: set no bolt there before this is answered"
ANCHOR_TAPE = "Anchors of hold-downs, from the same corners as the bolts"
_ANCHOR_COLUMNS = [
    "Wall", "Tape from", "On the tape", "Bolt", "In the concrete", "Top above concrete", "From slab's edge",
]  # fmt: skip
ANCHOR_WORDS = (
    "Set the anchors of hold-downs before the pour, each in a template, plumb, head down, clear of bars; never push one into placed "
    "concrete. Kind, depth and top are what the frame's engineer and the hold-down's own sheet ask: no other bolt, no bend "
    "and no move without asking."
)
COATING = (
    "Bolts, nuts and washers in a treated plate need a coating: hot-dip galvanized, or stainless steel, all of one kind, as the "
    "maker of the treated wood says. The code exempts bolts of 1/2 in. and more (IRC 2021 R317.3.1, from memory)."
)
_STRIPS = 6  # walls to a drawing of tape strips


def tape_lists(
    calc: Calculation,
    job: Job,
    walls: Sequence[Bolted],
    heights: Heights,
) -> None:
    """Where each bolt stands, as the tape reads, complete for the one who sets it."""
    calc.note(
        "Tape lists, one for each wall. The corners carry letters on the plan; hold the tape where the inner faces of the "
        "forms meet. Snap a line for the bolts at their distance from the slab's edge; set each with its middle on the mark. "
        "May stray: so far to either side it still clears studs, bars, joints and the slab's end."
    )
    for w in walls:
        rules, rows, before = w.layout.rules, [], None
        rooms = rooms_of(w.layout, 1)
        for number, (bolt, room) in enumerate(zip(w.layout.bolts, rooms, strict=True), 1):
            step = "" if before is None else rules.text(bolt.place - before)
            rows.append(
                [number, rules.at(bolt.place), step, rules.text(round(min(room))), _why(bolt, rules)]
            )
            before = bolt.place
        if rows:
            calc.table(_tape_title(job, w, heights), records(_TAPE_COLUMNS, rows))
    unbolted = [[w.sill.name, sentence(problem)] for w in walls for problem in w.layout.problems]
    if unbolted:
        calc.table(UNBOLTED, records(["Wall", "Why, and what to do"], unbolted))
    _hold_down_tape(calc, job, walls)
    moved = sum(bool(b.moved_for) for w in walls for b in w.layout.bolts)
    if moved:
        calc.note(
            f"{moved} bolts would meet a stud, a jack, a bar, a joint or the slab's end at even spacing and are moved. Where bolt "
            "and stud spacing are alike, like 16 in. bolts against 16 in. studs, every bolt would meet a stud "
            "if it were not for this."
        )


def _hold_down_tape(calc: Calculation, job: Job, walls: Sequence[Bolted]) -> None:
    """Where the anchors of hold-downs stand, on the same tape as the bolts of their wall, and how they are set."""
    alike: dict[tuple[str, ...], list[str]] = {}  # places by wall, corner and kind
    for w in walls:
        for piece in w.sill.braced:
            if piece.hold_down is not None:
                places = [w.layout.rules.at(to_steps(at, job.system)) for at in piece.anchors]
                alike.setdefault(_anchor_kind(job, w, piece), []).extend(places)
    rows = [[name, corner, "; ".join(places), *kind] for (name, corner, *kind), places in alike.items()]
    if rows:
        calc.table(ANCHOR_TAPE, records(_ANCHOR_COLUMNS, rows))
        calc.note(ANCHOR_WORDS)


def _anchor_kind(job: Job, w: Bolted, piece: BracedPiece) -> tuple[str, ...]:
    """Wall and corner of the tape, then bolt, embedment, top and distance from the edge of the anchors of a piece."""

    def told(depth: Quantity | None) -> str:
        return "NOT GIVEN: ask" if depth is None else show_length(depth, job.system, True)

    edge = w.sill.edge_distance if piece.anchor_edge is None else piece.anchor_edge
    where = w.sill.name, w.line.corners[0]
    if piece.anchor is None:
        return (*where, "NOT NAMED: ask", "", "", "")
    return (*where, f"{piece.anchor} in.", told(piece.anchor_depth), told(piece.anchor_top), told(edge))


def _why(bolt: Bolt, rules: Rules) -> str:
    """Why a bolt is not where even spacing has it."""
    moved = rules.text(abs(bolt.place - bolt.even))
    words = []
    if bolt.moved_for:
        words.append(f"even spacing, {rules.at(bolt.even)}, is {bolt.moved_for}: moved {moved}")
    if bolt.tied:
        words.append("tied beside a vertical bar")
    return "; ".join(words)


def _tape_title(job: Job, w: Bolted, heights: Heights) -> str:
    (first, second), (h_s, _, _) = w.line.corners, heights[w.sill.plated]
    edge, top = (show_length(x, job.system, True) for x in (w.sill.edge_distance, h_s))
    set_as = "cast" if w.sill.method == "cast" else "drill later"
    return (
        f"{TAPE_LIST} {w.sill.name}: hold the tape on corner {first}, pull it towards {second}; {set_as}, "
        f"{edge} in from the slab's edge, top {top} above the concrete"
    )


def schedule(
    calc: Calculation,
    job: Job,
    walls: Sequence[Bolted],
    heights: Heights,
    cartridges: int,
) -> None:
    """What to set in each wall, what to buy (cartridges: of adhesive), and the hours."""
    rows = []
    bought: dict[tuple[str, str], int] = {}  # by what one of them is called, and what it must be
    for w in walls:
        h_s, L_b, _ = heights[w.sill.plated]
        cast = w.sill.method == "cast"
        length = show_length(L_b if cast else w.h_ef + h_s, job.system, True)
        noun, kind = (
            (f"{job.bolts.kind} bolt", f"{job.bolts.size} in.")
            if cast
            else ("threaded rod", f"{job.bolts.size} in., bonded")
        )
        rows.append([
            w.sill.name, len(w.layout.bolts), f"{noun}, {kind}", length, show_length(h_s, job.system, True),
            show_length(w.sill.edge_distance, job.system, True),
        ])  # fmt: skip
        item = noun, f"{kind}, {length} long, {job.bolts.grade}"
        bought[item] = bought.get(item, 0) + len(w.layout.bolts)
    columns = ["Wall", "Bolts", "Kind", "Length", "Top above concrete", "From slab's edge"]
    calc.table("Bolt schedule", records(columns, rows))
    total = sum(bought.values())
    bought["plate washer", _washer(job)] = bought["nut", f"{job.bolts.size} in."] = total
    if cartridges:
        holds = show(job.bolts.cartridge, "fl_oz", job.system)
        bought["adhesive cartridge", f"{holds} each"] = cartridges
    bought |= hold_downs_bought(job)
    with calc.for_builder():
        calc.table(
            BOUGHT,
            [
                {"Number": n, "What": f"{noun}{'s' * (n != 1)}, {rest}"}
                for (noun, rest), n in bought.items()
            ],
        )
        calc.note(COATING)
    calc.finding(
        "Bolts in all; as many plate washers and nuts.", "n", float(total), "1", sill_rule("bolts in a piece")[1], "bolts",
        "bolts, washers and nuts in all",
    )  # fmt: skip
    with calc.for_builder():
        _takeoff(calc, job, walls)


def _washer(job: Job) -> str:
    side, thick = (
        show_length(x, job.system, True) for x in (job.bolts.washer, job.bolts.washer_thickness)
    )
    if job.system == "us":
        thick = f"{job.bolts.washer_thickness.m_as('inch'):.3g} in."
    return f"{side} square, {thick} thick"


def _takeoff(calc: Calculation, job: Job, walls: Sequence[Bolted]) -> None:
    count = {
        m: sum(len(w.layout.bolts) for w in walls if w.sill.method == m) for m in ("cast", "drilled")
    }
    for method, words, price, rate in (
        ("cast", f"Sill bolts, {job.bolts.size} in., with washer and nut", "bolt", "bolts.set_rate"),
        (
            "drilled",
            f"Threaded rods, {job.bolts.size} in., with washer and nut",
            "rod",
            "bolts.drill_rate",
        ),
    ):
        if count[method]:
            calc.take(words, float(count[method]), "1", price)
            r = calc.given(job, rate, "r")
            calc.work(
                f"Setting {method} bolts",
                calc.step(person_hours, f"Setting {method} bolts.", n=float(count[method]), rate=r),
            )

    take_hold_downs(calc, job)


def hold_downs_bought(job: Job) -> dict[tuple[str, str], int]:
    """Hold-downs that are named and anchors that are named for them, two to a piece of shear wall, by what they must be;
    and the anchors of posts, whose bases come with the frame."""
    found: dict[tuple[str, str], int] = {}
    for wall in job.walls:
        for piece in wall.braced:
            if piece.hold_down is None:
                continue
            item = "hold-down", f"allowable tension {show(piece.hold_down, 'lbf', job.system)}"
            found[item] = found.get(item, 0) + 2
            if piece.anchor is not None:
                deep = show_length(piece.anchor_depth, job.system, True)
                kind = f"{piece.anchor} in., hexagonal head, {job.bolts.grade}, {deep} deep{_above(job, piece)}"
                found["hold-down anchor", kind] = found.get(("hold-down anchor", kind), 0) + 2
    for post in (p for pad in job.pads for p in pad.standing if p.anchored):
        deep = show_length(post.anchor_depth, job.system, True)
        item = "hold-down anchor", f"{post.anchor} in., hexagonal head, {job.bolts.grade}, {deep} deep"
        found[item] = found.get(item, 0) + post.anchors
    return found


def _above(job: Job, piece: BracedPiece) -> str:
    top = piece.anchor_top
    return "" if top is None else f" and {show_length(top, job.system, True)} above the concrete"


def take_hold_downs(calc: Calculation, job: Job) -> None:
    """Takeoff of hold-downs and their anchors; the anchors are set before the pour."""
    bought = hold_downs_bought(job)
    for noun, price in (("hold-down", "hold_down"), ("hold-down anchor", "hold_down_anchor")):
        count = sum(n for (what, _), n in bought.items() if what == noun)
        if not count:
            continue
        calc.take(f"{noun[0].upper()}{noun[1:]}s", float(count), "1", price)
        if price == "hold_down_anchor":
            r = calc.given(job, "bolts.set_rate", "r")
            calc.work(
                "Setting the anchors of hold-downs",
                calc.step(person_hours, "Setting the anchors of hold-downs.", n=float(count), rate=r),
            )


def figures(
    calc: Calculation,
    job: Job,
    walls: Sequence[Bolted],
    heights: Heights,
) -> None:
    """Enter the drawings: bolts on the plan, a section at a bolt, and each wall as the tape reads."""
    system, corners = job.system, named_corners(job.slab)
    plan = job.plan
    lifted = [w for w in walls if any(w.forces["uplift"])]
    for w in sorted(lifted, key=lambda w: -max(w.uses["uplift"], default=0.0)):
        calc.figure("Where the load goes", lambda w=w: path_drawing(w, system))
    calc.figure("Bolts on the plan", lambda: wall_plan(plan, corners, walls, system))
    w = min(walls, key=lambda w: number_in(w.spacing, "in"))
    h_s, L_b, _ = heights[w.sill.plated]
    calc.figure(
        "Section at a sill bolt",
        lambda: sill_section(job, w, h_s, L_b if w.sill.method == "cast" else w.h_ef + h_s),
    )
    for k in range(0, len(walls), _STRIPS):
        part = walls[k : k + _STRIPS]
        calc.figure("Bolts along the walls", lambda part=part: tape_strips(part, system))
