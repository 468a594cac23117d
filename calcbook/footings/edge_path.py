"""Walls on the thickened edge by the load path: pressure at jambs, and what holds each wall down.

Its bending under a lift is in ``lifted_edge``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from calcbook.basis.showing import show
from calcbook.basis.table import records
from calcbook.basis.units import Q, number_in
from calcbook.footings import footing, plain, uplift
from calcbook.footings.edge_drawing import LIFTED, LiftedRow, lifted_drawing
from calcbook.footings.footing import CONCRETE
from calcbook.footings.held_level import free_slab
from calcbook.footings.hold_downs import hold_down_check, pulled_ends
from calcbook.footings.lifted_edge import Hold, jamb_check, piece_check
from calcbook.footings.pads import STRIP
from calcbook.footings.reinforced import edge_strength, strength_at_joint
from calcbook.footings.remedies import HEAVIER_EDGE
from calcbook.job.edges import edge_of, sides_of, sides_text
from calcbook.job.wall_lines import wall_line
from calcbook.joints.layout import enter_cut
from calcbook.loads.closing import LIFT, LIFT_STRENGTH, combination
from calcbook.loads.path import on_plate

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.footings.edge_run import EdgeRun
    from calcbook.job.edges import EdgeOf
    from calcbook.job.file import Job
    from calcbook.loads.from_job import Brought

_NEAR = 1e-6
_WITHOUT_PADS = "; pads under or beside the wall are not counted, on the safe side"
_LIFTED = {
    "name": "lifted",
    "label": "slab lifted with the edge",
}  # told once: it is the slab's, not the edge's


def enter_hold(calc: Calculation, job: Job, edge: EdgeOf, run: EdgeRun) -> Hold:
    """Enter what an edge and the slab beside it weigh, how much of the slab the edge can lift, and what it bears as a beam."""
    t, d, b = job.slab.thickness, edge.depth, edge.width
    where = sides_of(job, edge)
    calc.note(
        f"What holds walls down{f' on {sides_text(where)}' if where else ''}: the edge, and the slab beside it as far as it can "
        "be lifted without breaking."
    )
    A_e = calc.step(
        uplift.edge_section,
        "The edge with the slab over it.",
        t=t,
        d=d,
        b=b,
        m=number_in(edge.slope, "1"),
    )
    w_e = calc.step(
        uplift.edge_weight,
        "Weight of the edge with the slab over it, by length.",
        A_e=A_e,
        gamma_c=CONCRETE,
    )
    q_s = calc.step(footing.slab_weight, "The slab beside it.", t=t, gamma_c=CONCRETE)
    h_s = calc.step(plain.soil_deduction, "What counts of the slab in bending.", h=t)
    f_c = job.concrete.strength
    M_s = calc.step(
        plain.plain_moment_strength,
        "Strength of the slab, a strip one foot wide.",
        f_c=f_c,
        b=STRIP,
        h=h_s,
    )
    L_s = calc.step(
        uplift.lifted_slab, "So much of the slab is lifted with the edge; less where a joint runs nearer.",
        phiM_n=M_s, q_s=q_s, **_LIFTED if "lifted" not in calc.results else {},
    )  # fmt: skip
    h = calc.step(
        plain.thickness_under_post, "The edge as a beam, slab and edge in one piece.", t=t, d=d
    )
    h_e = calc.step(plain.soil_deduction, "What counts of that thickness.", h=h)
    M_e = calc.step(
        plain.plain_moment_strength,
        "Bending strength of the edge as plain concrete.",
        f_c=f_c,
        b=b,
        h=h_e,
    )
    bends = edge_strength(calc, job, edge, h, M_e)
    across = strength_at_joint(calc, job, edge, h, enter_cut(calc, job, None)) if run.joints else None
    return Hold(w_e, q_s, L_s, bends, across)


# --- uplift ----------------------------------------------------------------------------------


def uplift_checks(calc: Calculation, job: Job, walls: Sequence[Brought], run: EdgeRun) -> None:
    """Check that edge and slab hold every wall that lifts: its whole length, its jambs and its hold-downs."""
    lifting = [b for b in walls if b.lifts or pulled_ends(b)]
    if not lifting:
        return
    holds: dict[Any, Hold] = {}  # by the kind of edge
    rows = []
    for b in lifting:
        edge = edge_of(job, job.walls[b.index].side)
        if edge.spec[:3] not in holds:
            holds[edge.spec[:3]] = enter_hold(calc, job, edge, run)
        hold = holds[edge.spec[:3]]
        free = free_slab(job, job.walls[b.index], run.cuts)
        L_s = Q(min(number_in(hold.L_s, "ft"), free), "ft")
        R = calc.step(
            uplift.hold_of_edge, f"{b.name}: what edge and slab hold, 0.6 of their weight.",
            w_e=hold.w_e, q_s=hold.q_s, L_s=L_s, g_D=0.6,
        )  # fmt: skip
        by_length = number_in(R, "plf")
        hold_down_check(calc, job, b, by_length, hold, run)
        if b.lifts:
            rows.append(_whole_wall(calc, job, b, hold, L_s))
            piece_check(calc, job, b, run, hold, L_s)
            jamb_check(calc, job, b, run, hold, by_length)
    _drawn(calc, job, lifting, run, all(hold.across is not None for hold in holds.values()))
    if not rows:
        return
    columns = [
        "Wall",
        "Combination",
        "Uplift",
        "Slab counted",
        "Edge and slab resist",
        "Ground reaction",
        "Remainder",
    ]
    calc.table(
        f"What lifts each wall and what holds it{_WITHOUT_PADS if job.pads else ''}",
        records(columns, rows),
    )


def _drawn(calc: Calculation, job: Job, walls: Sequence[Brought], run: EdgeRun, barred: bool) -> None:
    """Draw the edge of each wall that lifts with the joints that cross it, where any does."""
    rows, system = [], job.system
    for b in walls:
        jambs = tuple(p.at for p in on_plate(b.model, combination(LIFT)).points if p.load > 0)
        pulled = tuple(at for e in pulled_ends(b) for at in (e.piece.start, e.piece.end))
        crossed = tuple(run.joints_along(wall_line(job.slab, job.walls[b.index], system)))
        rows.append(LiftedRow(b.name, b.model.length, crossed, jambs, pulled))
    if any(row.joints for row in rows):
        calc.figure(LIFTED, lambda: lifted_drawing(rows, barred, system))


def _whole_wall(calc: Calculation, job: Job, b: Brought, hold: Hold, L_s: Quantity) -> list[str]:
    """The whole wall in both combinations; the harder one is the check. Returns its row of the table."""
    found = []
    for name in (LIFT, LIFT_STRENGTH):
        row = combination(name)
        up = max(on_plate(b.model, row).total, 0.0)
        R = number_in(hold.by_length(L_s, row["D"]), "plf") * b.model.length
        found.append((up / R, name, up, R))
    _, name, up, R = max(found)
    calc.check(
        f"Uplift on edge and slab, wall {b.name}", Q(up, "lbf"), Q(R, "lbf"), "lbf",
        combination(name)["source"], f"{name}; the whole wall, {show(L_s, 'ft', job.system)} of slab beside the edge"
        + (_WITHOUT_PADS if job.pads else "") + ".",
        to_do=HEAVIER_EDGE,
    )  # fmt: skip
    ground = max(R - up, 0.0)
    left = up + ground - max(R, up)
    left = 0.0 if abs(left) < 1e-9 * R else left
    numbers = [show(Q(x, "lbf"), "lbf", job.system, exact=False) for x in (up, R, ground, left)]
    return [b.name, name, numbers[0], show(L_s, "ft", job.system), *numbers[1:]]
