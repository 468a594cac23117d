"""Sill bolts of a job, from loads to a tape list: the calculation."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from calcbook.basis.calculation import Calculation, Found
from calcbook.basis.formula import cite
from calcbook.basis.showing import show_length
from calcbook.basis.table import records
from calcbook.basis.units import Q, number_in
from calcbook.bolts.bolted import DIRECTIONS, Bolted, place
from calcbook.bolts.breaks import breaks_of
from calcbook.bolts.capacity import bolt_row
from calcbook.bolts.checks import bolt_table, hardest_use, layout_checks, load_checks
from calcbook.bolts.closing import closing_table
from calcbook.bolts.compare import compare
from calcbook.bolts.drilled import drilled
from calcbook.bolts.exemption import both_numbers
from calcbook.bolts.groups import row_checks
from calcbook.bolts.hold_downs import hold_down_anchors
from calcbook.bolts.lists import COATING, figures, schedule, take_hold_downs, tape_lists
from calcbook.bolts.parted import blocks_beside, parted_checks, with_own
from calcbook.bolts.post_anchors import post_anchors
from calcbook.bolts.sill import bolt_length, bolt_stick_up, embedment_left, sill_rule
from calcbook.bolts.spacing import spacing_tables, spacings
from calcbook.bolts.strength import capacities
from calcbook.bolts.walls import layout_rules, wall_layout
from calcbook.bolts.washers import cross_grain, washer_checks
from calcbook.job.wall_lines import wall_line
from calcbook.plan.tape import Layout

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.units import Quantity
    from calcbook.bolts.bolted import Heights
    from calcbook.bolts.breaks import Breaks
    from calcbook.bolts.walls import WallLine
    from calcbook.job.file import Job
    from calcbook.joints.layout import Joints
    from calcbook.loads.from_job import Brought, LoadPath

_HARDWARE = (
    ("size", "d_a"), ("grade", ""), ("washer", "b"), ("washer_thickness", "t_washer"),
    ("seal", "t_seal"), ("spare", "t_spare"), ("length_step", "Delta L"),
)  # fmt: skip
_USE = (
    ("concrete.strength", "f_c"), ("bolts.concrete", ""), ("bolts.load", ""), ("bolts.wet", ""), ("bolts.clear", ""),
)  # fmt: skip


NOTHING = Layout([], [], [], layout_rules(Q(0.5, "in"), Q(72, "in")))


def chapter(
    job: Job, path: LoadPath, joints: Joints, adhesive: Sequence[tuple[str, Quantity]] = ()
) -> Found:
    """Sill bolts of a job: what one bolt holds, spacing, places, drilled bolts, odds and cost.

    path: what its walls bring; joints: as planned; adhesive: of slabs before it, whose cartridges are bought with its own.
    """
    calc = Calculation(
        "bolts", "Sill bolts", "Which bolts, how far apart, where exactly, and cast now or drilled later?", job.system
    )  # fmt: skip
    breaks = breaks_of(job, joints.layout)
    if not job.bolted_walls:
        calc.note(
            "No wall stands on a side of the slab. Add a [[walls]] block with its side for each wall to be bolted."
        )
        post_anchors(calc, job, [], breaks)
        with calc.for_builder():
            take_hold_downs(calc, job)
        return Found(calc)
    lines = [wall_line(job.slab, sill) for sill in job.bolted_walls]
    heights = _stick_up(calc, job)
    brought = [path.of(n) for n, wall in enumerate(job.walls) if wall.side is not None and wall.bolted]
    walls = _walls(calc, job, lines, heights, brought, breaks)
    both_numbers(calc, job, walls)
    spacing_tables(calc, job, walls)
    load_checks(calc, job, walls)
    parted_checks(calc, job, walls, hardest_use)
    bolt_table(calc, walls)
    closing_table(calc, walls)
    row_checks(calc, job, walls)
    hold_down_anchors(calc, job, walls)
    post_anchors(calc, job, walls, breaks)
    layout_checks(calc, job, walls)
    washer_checks(calc, job, walls)
    cross_grain(calc, job, walls)
    cartridges = drilled(calc, job, [w for w in walls if w.sill.method == "drilled"], adhesive)
    schedule(calc, job, walls, heights, cartridges)
    tape_lists(calc, job, walls, heights)
    figures(calc, job, walls, heights)
    with calc.for_builder():
        compare(calc, job, walls)
    _cautions(calc, job)
    return Found(calc)


# --- height and length ---------------------------------------------------------------------


def _stick_up(calc: Calculation, job: Job) -> Heights:
    """Stick-up, length and embedment for each kind of plate in use, and a table for one and two plies.

    Returns {``plated`` of a wall: (stick-up, length to buy, embedment left)}."""
    bolts, found = job.bolts, {}
    rows: list[list[str]] = []
    nut = Q(bolt_row(job)["nut_in"], "in")
    for field, symbol in _HARDWARE:
        calc.given(job, f"bolts.{field}", symbol)
    h_w = calc.given(job, "bolts.embedment", "h_ef")
    kinds, first = {s.plated: s.ply for s in job.bolted_walls}, job.bolted_walls[0]
    beside = {(plies, first.plated[1]): first.ply for plies in (1, 2)}
    for kind, t in (kinds | beside).items():
        plies, _ = kind
        inputs = dict(
            plies=float(plies), t_ply=t, t_washer=bolts.washer_thickness, t_nut=nut, spare=bolts.spare, t_seal=bolts.seal
        )  # fmt: skip
        if kind in kinds:
            h_s = calc.step(
                bolt_stick_up, f"Mark for {_plies(plies)}: plate, washer, nut, spare thread.",
                name=f"stick_up_{plies}", label=f"stick-up, {_plies(plies)}", **inputs,
            )  # fmt: skip
            L_b = calc.step(bolt_length, "Length to buy.", h_ef=h_w, h_s=h_s, step=bolts.length_step)
            h_ef = calc.step(embedment_left, "Embedment when set at the mark.", L_b=L_b, h_s=h_s)
            found[kind] = h_s, L_b, h_ef
        else:
            h_s = bolt_stick_up(**inputs)
            L_b = bolt_length(h_w, h_s, bolts.length_step)
            h_ef = embedment_left(L_b, h_s)
        rows.append([_plies(plies), *(show_length(x, job.system, True) for x in (h_s, L_b, h_ef))])
    rows.sort(key=lambda row: (row[0] != "one ply", row))
    columns = ["Plate", "Mark above concrete", "Bolt to buy", "Embedment left"]
    calc.table("Stick-up with one and two plies", records(columns, rows), bolt_stick_up.source)
    return found


def _plies(plies: int) -> str:
    return "one ply" if plies == 1 else f"{plies} plies"


# --- strength and spacing ------------------------------------------------------------------


def _walls(
    calc: Calculation,
    job: Job,
    lines: Sequence[WallLine],
    heights: Heights,
    brought: Sequence[Brought],
    breaks: Breaks,
) -> list[Bolted]:
    """A Bolted for every wall. breaks: where the slab is parted, which the bolts are kept off as off its ends."""
    for field, symbol in _USE:
        calc.given(job, field, symbol)
    d_a = Q(bolt_row(job)["d_in"], "in")
    keep_out = job.bolts.washer / 2 + job.bolts.clear
    corner = sill_rule("exempt end", d_a)[0]
    embedments = [
        heights[s.plated][2] if s.method == "cast" else job.bolts.depth for s in job.bolted_walls
    ]
    if job.bolts.kind == "hooked" and any(s.method == "cast" for s in job.bolted_walls):
        _hook(calc, job, d_a)
    held = capacities(
        calc,
        job,
        [(s, h, place(job, s, corner)) for s, h in zip(job.bolted_walls, embedments, strict=True)],
    )
    unlaid = [
        Bolted(sill, line, holds, h_ef, {}, NOTHING, b, breaks)
        for sill, line, holds, h_ef, b in zip(
            job.bolted_walls, lines, held, embedments, brought, strict=True
        )
    ]
    loads = [{d: w.load(d) for d in DIRECTIONS} for w in unlaid]
    walls = []
    for w, found in zip(unlaid, spacings(job, held, loads), strict=True):
        layout = wall_layout(
            w.sill, w.line, d_a, min(found.values(), key=lambda s: number_in(s, "in")), keep_out, corner, job.bolts.beside_bars,
            job.system, blocks_beside(breaks, w.line, w.sill.edge_distance, corner, job.system),
        )  # fmt: skip
        walls.append(replace(w, spacings=found, layout=layout))
    return with_own(job, walls, corner)


def _hook(calc: Calculation, job: Job, d_a: Quantity) -> None:
    e_h = calc.given(job, "bolts.hook", "e_h")
    calc.check(
        "Extension of the hook, e_h", 3 * d_a, e_h, "in", cite("ACI 318-19", "17.6.3.2.2(b), 3 to 4.5 diameters"),
        "At least three bolt diameters.", least=True, to_do="Order a longer hook (bolts.hook).",
    )  # fmt: skip


def _cautions(calc: Calculation, job: Job) -> None:
    if job.design.seismic is None:
        calc.ask_engineer(
            "Seismic design category", cite("ACI 318-19", "17.10"),
            "Ask the building department. From category C on, anchors need an engineer's seismic design.",
        )  # fmt: skip
    elif job.design.seismic not in ("A", "B"):
        calc.ask_engineer(
            f"Seismic design of the anchors, category {job.design.seismic}", cite("ACI 318-19", "17.10"),
            "This book does not do seismic anchor design; plate washers are required in D0 to D2 (IRC R602.11.1).",
            job,
        )  # fmt: skip
    elif job.bolts.load == "earthquake":
        calc.ask_engineer(
            "Seismic design of the anchors, for the load that bolts.load names", cite("ACI 318-19", "17.10"),
            "This book does not do seismic anchor design.", job,
        )  # fmt: skip
    calc.note(
        "Left out, on the safe side: the shorter embedment and edge distance that ACI 318-19 17.6.2.1.2 and 17.7.2.1.2 "
        "allow to be counted where three or more edges, or a thin and narrow member, are near."
    )
    calc.caution(
        "Uplift through a bolt bends the plate across its grain, which splits it: straps or hold-downs carry uplift past "
        "the plate where the engineer says so. At corners the concrete of two walls is shared; hold-downs there are the engineer's."
    )
    calc.caution(
        "Set bolts before the pour and hold them in a template; do not push them into stiff concrete. Turn hooks along the "
        "wall or inward, never towards the edge (common practice, no source)."
    )
    calc.caution(COATING)
    if any(s.plies > 1 for s in job.bolted_walls):
        calc.caution("Two plies count as one thickness only if they are nailed together to act as one.")
    calc.note(
        "Anchor strengths are taken to service level with the ratio of wind in allowable stress design to strength design; "
        "uplift is what the load path brings, by the larger of 0.6 D + 0.6 W and 0.6 (0.9 D + 1.0 W). Shear along a wall and shear across it come from wind on different "
        "faces and are not added to each other; the engineer says where they must be."
    )
