"""Loads of a job: the design basis, what each wall brings, and what its header, jambs and ends pass on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.calculation import Calculation, Found
from calcbook.basis.formula import cite
from calcbook.basis.showing import show, show_length
from calcbook.basis.table import records
from calcbook.basis.units import Q
from calcbook.loads import basis
from calcbook.loads.closing import LIFT, LIFT_STRENGTH, combination, combinations
from calcbook.loads.editions import enter_editions
from calcbook.loads.from_job import SERVICE, dead_taken_off, on_line, own_weight
from calcbook.loads.path import on_plate
from calcbook.loads.statics import (
    end_compression,
    header_reaction,
    hold_down_force,
    net_uplift,
    plate_shear,
    spread_reaction,
    wind_behind,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job
    from calcbook.job.schema.walls import Wall
    from calcbook.loads.ends import End
    from calcbook.loads.from_job import Brought, LoadPath

_ASK = "Wind loads are not guessed: take them from the engineer or the adopted code's tables."


def chapter(job: Job, path: LoadPath) -> Found:
    """Design basis and loads of a job. job: a Job; path: what its walls bring."""
    calc = Calculation(
        "loads", "Design basis and loads", "What is the building designed by, and what does it bring to the slab?",
        job.system,
    )  # fmt: skip
    _basis(calc, job)
    _unknown(calc, job, path)
    _unbolted(calc, job, path)
    if path.walls:
        _table(calc, job, path.walls)
        _uplift(calc, job, path.walls)
        _ends(calc, job, path.walls)
    calc.note(
        "Where the loads go: a header gives half to each jamb; the plate is a row of simple beams from bolt to bolt that "
        "reaches out beyond its last bolts, so a jamb out there loads the last bolt by lever; each load counts on each bolt by "
        "the larger of this and its share by length. Trusses at an even spacing count as an even line; a girder truss is a "
        "point of its own (walls.points). Wind upward counts against 0.6 (service level) or 0.9 (strength level) of "
        "the dead load. The bolts, the edge and the pads take their forces from here."
    )
    return Found(calc)


def _basis(calc: Calculation, job: Job) -> None:
    for key, _, symbol in basis.ROWS:
        if basis.given(job, key):
            calc.given(job, f"design.{key}", symbol)
    lacking = basis.missing(job)
    if lacking:
        calc.ask_engineer(
            "Design basis of the building", combination(LIFT)["source"],
            f"Not given: {', '.join(lacking)}.", job,
            "Ask the building department and the engineer, and enter it under [design].",
        )  # fmt: skip
    enter_editions(calc, job)


def _unknown(calc: Calculation, job: Job, path: LoadPath) -> None:
    """Loads that are missing and matter."""
    no_uplift = [b.name for b in path.walls if not b.uplift_known]
    standing = [p for pad in job.pads for p in pad.standing]
    no_uplift += [p.name for p in standing if p.uplift is None and p.dead is not None]
    if no_uplift and job.design.wind is not None:
        calc.ask_engineer(
            f"Wind uplift on {', '.join(no_uplift)}", combination(LIFT)["source"],
            "The design wind is given but its uplift there is not.", job, f"{_ASK} Where there is none, write 0.",
        )  # fmt: skip
    no_weight = [b.name for b in path.walls if not b.dead_known and b.uplift_known and b.lift > 0]
    if no_weight:
        calc.note(f"No dead load is given for {', '.join(no_weight)}, so none holds the uplift there.")


def _unbolted(calc: Calculation, job: Job, path: LoadPath) -> None:
    """Walls without bolts laid out (inner ones, or not bolted): what lifts or pushes them is said, not passed over."""
    for b in path.walls:
        wall = job.walls[b.index]
        if wall.side is not None and wall.bolted:
            continue
        on = on_plate(b.model, combination(LIFT_STRENGTH))
        jamb = SERVICE * max((p.load for p in on.points), default=0.0)
        told = [
            f"{show(Q(value, unit), unit, job.system)} {words}"
            for value, unit, words in (
                (b.lift, "plf", "of net uplift"),
                (jamb, "lbf", "of lift at its governing jamb or post"),
                (b.model.along, "plf", "of shear along it"),
                (b.model.across, "plf", "of shear across it"),
            )
            if value > 0
        ]
        if told:
            calc.ask_engineer(
                f"Anchorage of wall {b.name}", combination(LIFT)["source"],
                f"It brings {', '.join(told)}. No bolts are laid out for it and its anchors are not worked out "
                "here: the engineer names them, and what holds them down.", job,
            )  # fmt: skip


def _table(calc: Calculation, job: Job, walls: Sequence[Brought]) -> None:
    def plf(value: float) -> str:
        return show(Q(value, "plf"), "plf", job.system) if value else "0"

    rows = []
    for b in walls:
        top = b.model.top
        rows.append([
            b.name, plf(top.D) if b.dead_known else "not given", plf(b.model.own), plf(top.L), plf(top.S),
            plf(top.W) if b.uplift_known else "not given",
            plf(b.model.along) if b.shear_known else "not given",
            plf(b.model.across) if b.across_known else "not given",
            job.walls[b.index].by or job.design.loads_by or "not said",
        ])  # fmt: skip
    columns = ["Wall", "Dead", "Self-weight", "Floor", "Roof", "Wind up", "Along", "Across", "Given by"]
    by = {row[-1] for row in rows}
    if len(by) == 1:
        columns, rows = columns[:-1], [row[:-1] for row in rows]
    calc.table(
        "What the walls bring, by length; wind up at strength level, along and across at service level",
        records(columns, rows),
    )
    if len(by) == 1:
        calc.note(f"Loads of the walls by: {by.pop()}.")


# --- uplift ----------------------------------------------------------------------------------


def _uplift(calc: Calculation, job: Job, walls: Sequence[Brought]) -> None:
    """Steps for the wall that lifts most, and what every wall passes to its jambs."""
    lifting = [b for b in walls if b.model.top.W]
    if not lifting:
        return
    b = max(lifting, key=lambda b: b.lift)
    wall = job.walls[b.index]
    calc.note(f"Uplift of the wall {b.name}, which lifts most by its length.")
    w_W = Q(0, "plf")
    if wall.uplift is not None:
        u = calc.given(job, f"walls.{b.index}.uplift", "u_0", f"{b.name}, uplift as given")
        calc.given(job, f"walls.{b.index}.uplift_is", "", f"{b.name}, uplift is a net or a gross value")
        w_W = calc.step(wind_behind, "The wind behind it.", u=u, w_D=dead_taken_off(wall))
    if wall.trusses:
        w_W = _trusses(calc, job, b)
    w_D = on_line(wall)[0] + own_weight(wall)
    found = {}
    for name, words in ((LIFT, "service level"), (LIFT_STRENGTH, "strength level")):
        row = combination(name)
        found[name] = calc.step(
            net_uplift, f"{name}, {words}.", w_W=w_W, w_D=w_D, g_W=row["W"], g_D=row["D"],
            name=f"uplift {words}", label=f"net uplift of the wall {b.name}, {words}",
        )  # fmt: skip
    widest = max(b.model.openings, key=lambda o: o.width, default=None)
    if widest is not None:
        calc.step(
            header_reaction, "The header over its widest opening lifts each jamb by its half; "
            "the wall's own weight is not counted over an opening.",
            w=_header_line(wall, w_W), b=Q(widest.width, "ft"), name="jamb",
            label=f"lift at the jamb, wall {b.name}",
        )  # fmt: skip
    _jambs(calc, job, walls)


def _trusses(calc: Calculation, job: Job, b: Brought) -> Quantity:
    """Steps of the trusses' uplift; returns the wind of line and trusses together, strength level."""
    wall = job.walls[b.index]
    for n, t in enumerate(wall.trusses):
        place = f"walls.{b.index}.trusses.{n}"
        P, s = (
            calc.given(job, f"{place}.{key}", symbol, f"{b.name}, {t.name}, {key}")
            for key, symbol in (("uplift", "P"), ("spacing", "s"))
        )
        calc.step(spread_reaction, f"Uplift of {t.name} by length, service level.", P=P, s=s)
    return calc.finding(
        "All of it at strength level: the trusses' uplift over 0.6, with the line's own wind.", "w_W", Q(b.model.top.W, "plf"),
        "plf", wind_behind.source, label="wind uplift at strength level",
    )  # fmt: skip


def _header_line(wall: Wall, w_W: Quantity) -> Quantity:
    """Net uplift on a header: the wall itself is not over an opening."""
    row = combination(LIFT)
    return row["W"] * w_W - row["D"] * on_line(wall)[0]


def _jambs(calc: Calculation, job: Job, walls: Sequence[Brought]) -> None:
    rows = []
    heaviest = max(combinations("allowable"), key=lambda r: r["D"] + r["L"] + r["S"])
    for b in walls:
        for o in b.model.openings:
            loads = []
            for row in (combination(LIFT), combination(LIFT_STRENGTH), heaviest):
                on = on_plate(b.model, row)
                loads.append(next(p.load for p in on.points if abs(p.at - o.start) < 1e-9))
            rows.append([
                b.name, "door" if o.door else "window",
                *(show_length(Q(x, "ft"), job.system) for x in (o.start, o.width)),
                *(show(Q(x, "lbf"), "lbf", job.system, exact=False) for x in loads),
            ])  # fmt: skip
    columns = [
        "Wall",
        "Opening",
        "From",
        "Width",
        f"Jamb, {LIFT}",
        f"Jamb, {LIFT_STRENGTH}",
        f"Jamb, {heaviest['name']}",
    ]
    calc.table("What headers pass to each jamb; upward counts positive", records(columns, rows))


# --- ends of shear walls -----------------------------------------------------------------------


def _ends(calc: Calculation, job: Job, walls: Sequence[Brought]) -> None:
    found = [(b, end) for b in walls for end in b.ends]
    low = [b.name for b in walls if b.model.along and not b.model.height]
    if low:
        calc.ask_engineer(
            f"Hold-down force of the shear walls {', '.join(low)}", hold_down_force.source,
            "Their height is not given, so the hold-down force is not worked out.", job, "Give it (walls.height).",
        )  # fmt: skip
    if not found:
        return
    b, end = max(found, key=lambda f: f[1].T)
    calc.note(
        f"Ends of the shear walls; the wall {b.name} has the greatest uplift. "
        + (
            "Its shear-wall pieces are as named."
            if b.model.braced
            else "Every stretch of full height counts as a piece."
        )
    )
    _end_steps(calc, b, end)
    rows = []
    for b, end in found:
        a, z = end.piece.start, end.piece.end
        held = end.piece.hold_down
        rows.append([
            b.name, f"{show_length(Q(a, 'ft'), job.system)} to {show_length(Q(z, 'ft'), job.system)}",
            show(Q(end.unit, "plf"), "plf", job.system),
            *(show(Q(x, "lbf"), "lbf", job.system, exact=False) for x in (end.T, end.C)),
            "none named" if held is None else show(Q(held, "lbf"), "lbf", job.system),
        ])  # fmt: skip
    columns = ["Wall", "Piece", "Shear", "Tension at its end", "Compression at its end", "Hold-down"]
    calc.table("Ends of shear walls, service level", records(columns, rows), hold_down_force.source)
    _end_checks(calc, job, walls)


def _end_steps(calc: Calculation, b: Brought, end: End) -> None:
    m, piece = b.model, end.piece
    feet = sum(p.length for p in m.shear_pieces)
    calc.step(
        plate_shear,
        "The pieces pass all of the wall's shear down.",
        v=Q(m.along, "plf"),
        L=Q(m.length, "ft"),
        b=Q(feet, "ft"),
    )
    V, h, length = Q(end.V, "lbf"), Q(m.height, "ft"), Q(piece.length, "ft")
    calc.step(
        hold_down_force, f"The windward end of the piece, {LIFT}"
        + (f"; the header there adds {show(Q(end.added, 'lbf'), 'lbf', calc.system)}." if end.added else "."),
        V=V, h=h, b=length, u=Q(end.u, "plf"), a_i=Q(piece.anchor_in, "ft"),
    )  # fmt: skip
    calc.step(end_compression, "The lee end of the piece.", V=V, h=h, b=length, w=Q(end.w, "plf"))


def _end_checks(calc: Calculation, job: Job, walls: Sequence[Brought]) -> None:
    """One check for each wall: the end that lifts most."""
    for b in walls:
        ends = b.ends
        if not ends:
            continue
        end = max(ends, key=lambda e: (e.held is not True, e.T - (e.piece.hold_down or 0.0)))
        title = f"Hold-down force at the ends of shear wall {b.name}"
        clause = cite("mechanics", "moments about the other end of the piece")
        if end.held is None:
            calc.ask_engineer(
                title, clause, f"Up to {show(Q(end.T, 'lbf'), 'lbf', job.system)} lifts an end and no hold-down is named: "
                "the engineer names hold-downs and their anchors.", job, "Give them in the job file (walls.braced).",
            )  # fmt: skip
        else:
            calc.check(
                title, Q(max(end.T, 0.0), "lbf"), Q(end.piece.hold_down or 0.0, "lbf"), "lbf", clause,
                "" if end.T <= 0 else _named_by(job, b, end), needs_engineer=True,
                to_do="A stronger hold-down, by its maker's sheet (walls.braced).",
            )  # fmt: skip


def _named_by(job: Job, b: Brought, end: End) -> str:
    """Who named a hold-down, and where its anchor is followed."""
    piece = job.walls[b.index].braced[b.model.braced.index(end.piece)]
    by = piece.by or job.walls[b.index].by or job.design.loads_by
    said = f"Hold-down named by {by}." if by else "Who named the hold-down is not said."
    return said + (
        " Its anchor, edge and soil are followed further."
        if piece.anchor
        else " Its anchor is not named."
    )
