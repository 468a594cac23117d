"""Tape lists, schedule, takeoff and drawings of bolted walls."""

import pandas as pd

from calcbook.bolt_drawing import tape_strips, wall_plan
from calcbook.bolt_section import sill_section
from calcbook.bolts import sill_rule
from calcbook.pricing import person_hours
from calcbook.units import Q, show_length

_STRIPS = 6  # walls to a drawing of tape strips


def tape_lists(calc, job, walls):
    for w in walls:
        rules, rows, before = w.layout.rules, [], None
        for number, bolt in enumerate(w.layout.bolts, 1):
            step = "" if before is None else rules.text(bolt.place - before)
            moved = ""
            if bolt.moved_for:
                moved = f"even spacing, {rules.text(bolt.even)}, is {bolt.moved_for}: moved {rules.text(abs(bolt.place - bolt.even))}"
            rows.append([number, rules.text(bolt.place), step, moved])
            before = bolt.place
        title = f"Tape list, wall {w.sill.name}: hook the tape at its start, {_start_words(w)}; {w.sill.method}"
        calc.table(
            title,
            pd.DataFrame(
                rows, columns=["Bolt", "On the tape", "From the one before", "Why it stands there"]
            ),
        )
    moved = sum(bool(b.moved_for) for w in walls for b in w.layout.bolts)
    if moved:
        calc.note(
            f"{moved} bolts would meet a stud, a jack, a bar or a joint at even spacing and are moved. Where bolt "
            "and stud spacing are alike, like 16 in. bolts against 16 in. studs, every bolt would meet a stud "
            "if it were not for this."
        )


def _start_words(w):
    corner = f"the start of side {w.sill.side}"
    if w.line.before > 0:
        return f"{show_length(Q(w.line.before, 'ft'), w.layout.rules.system)} from {corner}"
    return corner


def schedule(calc, job, walls, heights):
    """What to buy and set."""
    rows, grade = [], job.bolts.grade
    for w in walls:
        h_s, L_b, _ = heights[w.sill.plies, w.sill.ply]
        cast = w.sill.method == "cast"
        length = L_b if cast else w.h_ef + h_s
        kind = f"{job.bolts.kind} bolt" if cast else "threaded rod, bonded"
        rows.append([
            w.sill.name, len(w.layout.bolts), f"{job.bolts.size} in. {kind}", show_length(length, job.system, True),
            show_length(h_s, job.system, True), show_length(w.sill.edge_distance, job.system, True),
        ])  # fmt: skip
    columns = ["Wall", "Bolts", "Kind", "Length", "Mark above concrete", "From slab's edge"]
    calc.table("Bolt schedule", pd.DataFrame(rows, columns=columns))
    count = {
        m: sum(len(w.layout.bolts) for w in walls if w.sill.method == m) for m in ("cast", "drilled")
    }
    total = float(sum(count.values()))
    calc.finding(
        f"Bolts in all, {grade}; as many {show_length(job.bolts.washer, job.system, True)} square plate washers and nuts.", "n",
        total, "1", sill_rule("bolts in a piece")[1], "bolts", "bolts, washers and nuts in all",
    )  # fmt: skip
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


def figures(calc, job, walls, heights):
    system = job.system
    calc.figure("Bolts on the plan", lambda: wall_plan(job.plan, walls, system))
    for k in range(0, len(walls), _STRIPS):
        part = walls[k : k + _STRIPS]
        calc.figure("Bolts along the walls", lambda part=part: tape_strips(part, system))
    w = min(walls, key=lambda w: w.spacing)
    h_s, L_b, _ = heights[w.sill.plies, w.sill.ply]
    calc.figure(
        "Section at a sill bolt",
        lambda: sill_section(job, w, h_s, L_b if w.sill.method == "cast" else w.h_ef + h_s),
    )
