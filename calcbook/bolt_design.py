"""Sill bolts of a job, from loads to a tape list: the calculation."""

import pandas as pd

from calcbook.bolt_checks import layout_checks, load_checks
from calcbook.bolt_compare import compare
from calcbook.bolt_drilled import drilled
from calcbook.bolt_lists import figures, schedule, tape_lists
from calcbook.bolt_strength import bolt_row, capacity
from calcbook.bolted import Bolted, place
from calcbook.bolts import (
    bolt_length,
    bolt_stick_up,
    embedment_left,
    sill_rule,
    spacing_for_both,
    spacing_for_shear,
    spacing_for_uplift,
)
from calcbook.calculation import Calculation
from calcbook.formula import cite
from calcbook.units import Q, show, show_length
from calcbook.walls import wall_layout, wall_line

_KEPT = {}  # strengths of bolts by what they follow from
_MOST_KEPT = 32


def calculation(job):
    """Sill bolts of a job: what one bolt holds, spacing, places, drilled bolts, odds and cost. Returns a
    Calculation."""
    calc = Calculation(
        "bolts", "Sill bolts", "Which bolts, how far apart, where exactly, and cast now or drilled later?", job.system
    )  # fmt: skip
    if not job.sills:
        calc.note(
            "The job file names no sill plates. Add a [[sills]] block for each wall to be bolted."
        )
        return calc
    lines = [wall_line(job.slab, sill) for sill in job.sills]
    heights = _stick_up(calc, job)
    walls = _walls(calc, job, lines, heights)
    _spacing_table(calc, job, walls)
    load_checks(calc, job, walls)
    layout_checks(calc, job, walls)
    tape_lists(calc, job, walls)
    drilled(calc, job, [w for w in walls if w.sill.method == "drilled"])
    schedule(calc, job, walls, heights)
    figures(calc, job, walls, heights)
    compare(calc, job, walls)
    _cautions(calc, job)
    return calc


# --- height and length ---------------------------------------------------------------------


def _stick_up(calc, job):
    """Stick-up, length and embedment for each kind of plate in use, and a table for one and two plies.

    Returns {(plies, ply): (stick-up, length to buy, embedment left)}."""
    bolts, found, rows = job.bolts, {}, []
    nut = Q(bolt_row(job)["nut_in"], "in")
    calc.given(job, "bolts.size", "d_{\\mathrm{a}}")
    h_w = calc.given(job, "bolts.embedment", r"h_{\mathrm{ef}}")
    kinds = dict.fromkeys((s.plies, s.ply) for s in job.sills)
    ply = job.sills[0].ply
    for plies, t in [*kinds, *(k for k in ((1, ply), (2, ply)) if k not in kinds)]:
        inputs = dict(
            plies=float(plies), t_ply=t, t_washer=bolts.washer_thickness, t_nut=nut, spare=bolts.spare, t_seal=bolts.seal
        )  # fmt: skip
        if (plies, t) in kinds:
            h_s = calc.step(
                bolt_stick_up, f"Mark for {_plies(plies)}: plate, washer, nut, spare thread.",
                name=f"stick_up_{plies}", label=f"stick-up, {_plies(plies)}", **inputs,
            )  # fmt: skip
            L_b = calc.step(bolt_length, "Length to buy.", h_ef=h_w, h_s=h_s, step=bolts.length_step)
            h_ef = calc.step(embedment_left, "Embedment when set at the mark.", L_b=L_b, h_s=h_s)
            found[plies, t] = h_s, L_b, h_ef
        else:
            h_s = bolt_stick_up(**inputs)
            L_b = bolt_length(h_w, h_s, bolts.length_step)
            h_ef = embedment_left(L_b, h_s)
        rows.append([_plies(plies), *(show_length(x, job.system, True) for x in (h_s, L_b, h_ef))])
    columns = ["Plate", "Mark above concrete", "Bolt to buy", "Embedment left"]
    calc.table(
        "Stick-up with one and two plies",
        pd.DataFrame(sorted(rows), columns=columns),
        bolt_stick_up.source,
    )
    return found


def _plies(plies):
    return "one ply" if plies == 1 else f"{plies} plies"


# --- strength and spacing ------------------------------------------------------------------


def _walls(calc, job, lines, heights):
    """A Bolted for every wall; the strength of a bolt is shown once for each kind of wall."""
    strengths, walls = {}, []
    d_a = Q(bolt_row(job)["d_in"], "in")
    keep_out = job.bolts.washer / 2 + job.bolts.clear
    corner = sill_rule("exempt end", d_a)[0]
    for sill, line in zip(job.sills, lines, strict=True):
        h_ef = heights[sill.plies, sill.ply][2] if sill.method == "cast" else job.bolts.depth
        kind = (sill.method, sill.species, sill.plies, sill.ply, sill.edge_distance)
        if kind not in strengths:
            names = ", ".join(s.name for s in job.sills if _kind(s) == kind)
            calc.note(f"What one bolt holds, {sill.method}, in the walls: {names}.")
            strengths[kind] = _strength(calc, job, sill, h_ef, place(job, sill, corner))
        spacings = _spacings(job, sill, strengths[kind])
        layout = wall_layout(
            sill, line, d_a, min(spacings.values()), keep_out, corner, job.bolts.beside_bars, job.system
        )
        walls.append(Bolted(sill, line, strengths[kind], h_ef, spacings, layout))
    return walls


def _strength(calc, job, sill, h_ef, at):
    """``capacity`` of a bolt, with its steps kept: a panel asks for the same bolt again and again."""
    # the written fields stand for the bolt, as they also say which of its values were assumed
    key = repr(job.raw.get("bolts")), job.concrete.strength, job.system, _kind(sill), h_ef, at
    if key not in _KEPT:
        if len(_KEPT) >= _MOST_KEPT:
            _KEPT.pop(next(iter(_KEPT)))
        part = Calculation("bolt", "One bolt", "What does one bolt hold?", job.system)
        _KEPT[key] = part, capacity(part, job, sill, sill.method, h_ef, at)
    part, held = _KEPT[key]
    calc.inputs += part.inputs
    calc.blocks += part.blocks
    calc.checks += part.checks
    for words in part.cautions:
        calc.caution(words)
    return held


def _kind(sill):
    return (sill.method, sill.species, sill.plies, sill.ply, sill.edge_distance)


def _spacings(job, sill, held):
    """Greatest spacing by each reason."""
    tall = job.bolts.stories > 2 and job.bolts.seismic in ("D0", "D1", "D2")
    found = {"the code's rule": sill_rule("most spacing tall" if tall else "most spacing")[0]}
    T = held.least("uplift")[1]
    s_u = spacing_for_uplift(T, sill.uplift) if sill.uplift else None
    if s_u is not None:
        found["uplift"] = s_u
    for direction, load in (("along", sill.shear), ("out", sill.shear_out)):
        if not load:
            continue
        word = "shear along the wall" if direction == "along" else "shear across the wall"
        s_v = found[word] = spacing_for_shear(held.least(direction)[1], load)
        if s_u is not None:
            found[f"uplift with {word}"] = spacing_for_both(s_u, s_v)
    return found


def _hardest(walls):
    return min(walls, key=lambda w: w.spacing)


def _spacing_table(calc, job, walls):
    """All spacings by wall, and the steps of the wall with the closest bolts."""
    hardest = _hardest(walls)
    _spacing_steps(calc, hardest)
    rows = []
    for w in walls:
        loads = [
            show(v, "plf", job.system) if v is not None else "not given"
            for v in (w.sill.uplift, w.sill.shear, w.sill.shear_out)
        ]
        rows.append([w.sill.name, *loads, show_length(w.spacing, job.system, True), w.governs])
    columns = ["Wall", "Uplift", "Shear along", "Shear across", "Largest spacing", "Governed by"]
    calc.table(
        "Largest spacing, wall by wall", pd.DataFrame(rows, columns=columns), spacing_for_uplift.source
    )
    missing = [w.sill.name for w in walls if w.sill.uplift is None or w.sill.shear is None]
    if missing:
        calc.ask_engineer(
            f"Which uplift and shear act on the walls {', '.join(missing)}?", sill_rule("most spacing")[1],
            "Wind loads are not guessed: take them from the engineer or the adopted code's tables. Until then "
            "only the code's largest spacing is used there.",
        )  # fmt: skip


def _spacing_steps(calc, w):
    rule = next(iter(w.spacings.values()))
    calc.note(
        f"Spacing in the wall {w.sill.name}, the hardest: the code's rule is {show_length(rule, calc.system, True)}."
    )
    name, T = w.capacity.least("uplift")
    s_u = None
    if w.sill.uplift:
        s_u = calc.step(
            spacing_for_uplift, f"Uplift; one bolt is limited by {name}.", T=T, w=w.sill.uplift
        )
    for direction, load, words in (
        ("along", w.sill.shear, "along"),
        ("out", w.sill.shear_out, "across"),
    ):
        if load:
            name, Z = w.capacity.least(direction)
            s_v = calc.step(
                spacing_for_shear,
                f"Shear {words} the wall; one bolt is limited by {name}.",
                Z=Z,
                v=load,
            )
            if s_u is not None:
                calc.step(
                    spacing_for_both, f"Uplift and shear {words} the wall at once.", s_u=s_u, s_v=s_v
                )
    calc.finding(
        f"The smallest of these, by {w.governs}.", r"s_{\max}", w.spacing, "in", sill_rule("most spacing")[1],
        "spacing", "largest spacing, hardest wall",
    )  # fmt: skip


def _cautions(calc, job):
    if job.bolts.seismic is None:
        calc.ask_engineer(
            "Which seismic design category is it?", cite("ACI 318-19", "17.10"),
            "Ask the building department. From category C on, anchors need an engineer's seismic design.",
        )  # fmt: skip
    elif job.bolts.seismic not in ("A", "B"):
        calc.ask_engineer(
            f"Are the anchors designed for earthquake, category {job.bolts.seismic}?", cite("ACI 318-19", "17.10"),
            "This book does not do seismic anchor design; plate washers are required in D0 to D2 (IRC R602.11.1).",
        )  # fmt: skip
    calc.caution(
        "Uplift through a bolt bends the plate across its grain, which splits it: straps or hold-downs carry uplift past "
        "the plate where the engineer says so. At corners the concrete of two walls is shared; hold-downs there are the engineer's."
    )
    calc.caution(
        "Set bolts before the pour and hold them in a template; do not push them into stiff concrete."
    )
    calc.caution(
        "Cap or guard bolts and rods that stand up where someone could fall on them (29 CFR 1926.701(b))."
    )
    if any(s.plies > 1 for s in job.sills):
        calc.caution("Two plies count as one thickness only if they are nailed together to act as one.")
    calc.note(
        "Anchor strengths are taken to service level with the ratio of wind in allowable stress design to strength design; "
        "dead load that helps against uplift is left out."
    )
