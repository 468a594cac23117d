"""The pads of a job under their posts: every check shown, uplift, neighbours, and a drawing."""

import itertools

import pandas as pd

from calcbook import footing
from calcbook.calculation import Calculation
from calcbook.drawing import ACCENT, GREY, HEAVY, INK, PALE, SMALL, THIN, area, canvas, label
from calcbook.eccentric import eccentric_pressure, pressure_beyond_kern, pressure_in_kern
from calcbook.formula import FormulaError, cite
from calcbook.pad_drawing import pad_section
from calcbook.pads import (
    check_pad,
    dug_weight,
    governing_load,
    quick_checks,
    smallest_pad,
    soil_bearing,
)
from calcbook.plans import finish_plan
from calcbook.units import Q, show, show_length

CONCRETE = Q(150, "pcf")  # usual weight of concrete with its steel; PCA EB001, from memory
REMEDY = "Make the pad wider or deeper; the smallest that passes is named above."
ASK_SOIL = "Give bearing or kind under [soil]: the plans, the building office or a soils report say it."


def calculation(job):
    """The pads of a job. job: a Job. Returns a Calculation."""
    calc = Calculation(
        "pads", "Pads under posts", "Does each pad carry its post, and how small may it be?", job.system
    )
    q_a = _bearing(calc, job)
    if not job.pads:
        calc.note("There are no pads in this job.")
    full = None if q_a is None else hardest(job, q_a)
    for index in sorted(range(len(job.pads)), key=lambda i: i != full):
        pad = job.pads[index]
        if pad.dead is None:
            calc.ask_engineer(
                f"What does {pad.name} carry?", footing.combined_load.source,
                "Its loads are not given: the truss or frame engineer must name dead, live, roof load and uplift.",
            )  # fmt: skip
        elif q_a is not None:
            _pad(calc, job, index, q_a, index == full)
    _neighbours(calc, job, q_a)
    if job.pads:
        calc.table("All pads", summary(job, calc))
        calc.figure("Pads and their loads", lambda: loads_drawing(job))
        calc.figure("Section through a pad", lambda: pad_section(job, 0))
    calc.caution(
        "The bottom of every pad must be firm, undisturbed, dry ground: no mud, no loose fill, no frost."
    )
    calc.caution("Loads come from the engineer of the frame. A builder's guess is not a load.")
    return calc


def _bearing(calc, job):
    if job.soil.bearing is not None:
        return calc.given(job, "soil.bearing", r"q_{\mathrm{a}}")
    calc.given(job, "soil.kind")
    q_a = soil_bearing(job.soil)
    if q_a is None:
        calc.ask_engineer("What does the soil bear?", cite("IBC 2012", "Table 1806.2"), ASK_SOIL)
        return None
    calc.caution(
        "The bearing value is the building code's for a class of soil; who has seen the open hole must agree to it."
    )
    return calc.finding(f"The code's value for {job.soil.kind}.", r"q_{\mathrm{a}}", q_a, "psf",
                        cite("IBC 2012", "Table 1806.2"), "q_a", "allowable bearing")  # fmt: skip


def pad_size(job, index):
    """(length, width, depth) of a pad as it is built, in inches, whether given or designed."""
    thickening = job.plan.thickenings[index]
    x0, y0, x1, y1 = thickening.bottom.bounds
    return tuple(Q(round(12 * v, 6), "in") for v in (x1 - x0, y1 - y0, thickening.depth))


def _pad_inputs(job, index, q_a, P_a, P_u):
    """What ``check_pad`` asks for, by name."""
    pad, (L, B, d) = job.pads[index], pad_size(job, index)
    return {
        "L": L, "B": B, "d": d, "t": job.slab.thickness, "c_1": pad.post_length, "c_2": pad.post_width,
        "P_a": P_a, "P_u": P_u, "q_a": q_a, "f_c": job.concrete.strength, "gamma_c": CONCRETE,
        "q_soil": dug_weight(job.soil, d),
    }  # fmt: skip


def hardest(job, q_a):
    """Index of the pad that works hardest: its steps are shown in full."""
    worst = {}
    for index, pad in enumerate(job.pads):
        if pad.dead is not None:
            loads = [
                a + b
                for a, b in zip((pad.dead, pad.live, pad.roof), wall_share(job, index), strict=True)
            ]
            P = [governing_load(kind, *loads) for kind in ("allowable", "strength")]
            worst[index] = max(c.ratio for c in quick_checks(**_pad_inputs(job, index, q_a, *P)))
    return max(worst, key=worst.get) if worst else None


def _pad(calc, job, index, q_a, in_full):
    pad, place = job.pads[index], f"pads.{index}"
    size = " × ".join(show_length(v, job.system, True) for v in pad_size(job, index))
    calc.note(
        f"{pad.name}: {size} deep below the slab."
        + ("" if in_full else " The steps are those of the pad shown in full.")
    )
    loads = [calc.given(job, f"{place}.{key}", symbol, f"{pad.name}, {key} load")
             for key, symbol in (("dead", "P_{D}"), ("live", "P_{L}"), ("roof", "P_{S}"))]  # fmt: skip
    shared = wall_share(job, index)
    if any(w.magnitude for w in shared):
        calc.note(
            f"{pad.name} reaches under the thickened edge, so the heaviest wall there stands on it as well."
        )
    loads = [a + b for a, b in zip(loads, shared, strict=True)]
    P_a, P_u = (_combined(calc, pad, kind, loads) for kind in ("allowable", "strength"))
    P_a, P_u = _off_centre(calc, job, index, (P_a, P_u))
    if P_a is None:
        return
    inputs = _pad_inputs(job, index, q_a, P_a, P_u)
    if in_full:
        checks = check_pad(
            lambda formula, words, **given: calc.step(formula, f"{words}.", **given), **inputs
        )
    else:
        checks = quick_checks(**inputs)
    for check in checks:
        calc.check(
            f"{pad.name}: {check.question}",
            check.demand,
            check.capacity,
            check.unit,
            check.clause,
            REMEDY if check.ratio > 1 else "",
        )
    _smallest(calc, job, pad, loads, q_a)
    _uplift(calc, job, index)


def _combined(calc, pad, kind, loads):
    row = footing.governing_combination(kind, *loads)
    words = "unfactored, for the soil" if kind == "allowable" else "factored, for the concrete"
    symbol = r"P_{\mathrm{a}}" if kind == "allowable" else r"P_{\mathrm{u}}"
    return calc.step(
        footing.combined_load, f"{pad.name}: {words}, {row['name']} governs.", symbol,
        P_D=loads[0], P_L=loads[1], P_S=loads[2], g_D=row["D"], g_L=row["L"], g_S=row["S"],
    )  # fmt: skip


def wall_share(job, index):
    """(dead, live, roof) of the heaviest edge wall on the part of the outline over a pad."""
    walls = [w for w in job.walls if w.place == "edge" and w.dead is not None]
    bottom = job.plan.thickenings[index].bottom
    length = Q(bottom.intersection(job.plan.outline.exterior).length, "ft")
    if not walls or length.magnitude < 1e-6:
        return [Q(0, "lbf")] * 3
    wall = max(walls, key=lambda w: (w.dead + w.live + w.roof).m_as("plf"))
    return [(w * length).to("lbf") for w in (wall.dead, wall.live, wall.roof)]


def _off_centre(calc, job, index, loads):
    """The loads that would press as hard on the whole pad as the offset post does on its worst edge."""
    pad, sides = job.pads[index], pad_size(job, index)[:2]
    offsets = [getattr(pad, f"offset_{axis}") for axis in "xy"]
    if not any(v.magnitude for v in offsets):
        return loads
    for axis, symbol in (("x", "e_x"), ("y", "e_y")):
        calc.given(
            job, f"pads.{index}.offset_{axis}", symbol, f"{pad.name}, post off the centre along {axis}"
        )
    try:
        worst = [eccentric_pressure(P, *sides, *offsets) for P in loads]
    except FormulaError as error:
        calc.ask_engineer(
            f"{pad.name}: does the pad stay down?", eccentric_pressure.source, f"{error}."
        )
        return None, None
    (L, B), (e_x, e_y) = sides, offsets
    if (e_x / L + e_y / B).m_as("") <= 1 / 6:
        calc.step(
            pressure_in_kern,
            "The post stands off the centre, inside the kern.",
            P=loads[0],
            L=L,
            B=B,
            e_x=e_x,
            e_y=e_y,
        )
    else:
        turned = (L, B, e_x) if e_x.magnitude else (B, L, e_y)
        calc.step(pressure_beyond_kern, "The post stands beyond the kern: one side of the pad lifts.",
                  P=loads[0], L=turned[0], B=turned[1], e_x=turned[2])  # fmt: skip
    calc.note("From here the worst edge is taken to press all over, which is on the safe side.")
    return [(q * L * B).to("lbf") for q in worst]


def _smallest(calc, job, pad, loads, q_a):
    try:
        found = smallest_pad(
            *(float(v.m_as("lbf")) for v in loads), float(q_a.m_as("psf")), float(job.concrete.strength.m_as("psi")),
            *(float(v.m_as("inch")) for v in (job.slab.thickness, pad.post_length, pad.post_width)),
        )  # fmt: skip
    except FormulaError as error:
        calc.ask_engineer(
            f"{pad.name}: which pad would do?", cite("ACI 318-19", "chapter 14"), f"{error}."
        )
        return
    sizes = " × ".join(show_length(v, job.system, True) for v in (found.L, found.B, found.d))
    calc.finding(
        f"{pad.name}: the smallest square pad in trade steps that passes ({found.governs.question} governs, "
        f"ratio {found.governs.ratio:.2f}).", "", f"{sizes} deep", "", cite("ACI 318-19", "chapter 14"),
        f"smallest {pad.name}", f"smallest pad for {pad.name}",
    )  # fmt: skip


def _uplift(calc, job, index):
    pad = job.pads[index]
    if pad.uplift is None:
        calc.note(
            f"{pad.name}: no uplift is named, so none is checked. Ask the frame's engineer whether wind lifts it."
        )
        return
    W = calc.given(job, f"pads.{index}.uplift", "W", f"{pad.name}, net uplift")
    L, B, d = pad_size(job, index)
    A, q_over = footing.pad_area(L, B), footing.slab_weight(job.slab.thickness, CONCRETE)
    R = calc.step(footing.uplift_resistance, f"{pad.name}: what its weight holds down.",
                  A=A, d=d, gamma_c=CONCRETE, q_over=q_over)  # fmt: skip
    calc.check(f"{pad.name}: does its weight hold the uplift?", W, R, "lbf", cite("ASCE 7-16", "2.4.1 combination 7"),
               "A heavier pad, or an engineer's anchorage into more of the slab.", needs_engineer=True)  # fmt: skip


def _neighbours(calc, job, q_a):
    """Pads that touch: the ground under both carries both."""
    pads = list(enumerate(job.pads))
    for (i, one), (j, other) in itertools.combinations(pads, 2):
        shapes = [job.plan.thickenings[k].bottom for k in (i, j)]
        if shapes[0].distance(shapes[1]) > 1e-6 or None in (one.dead, other.dead, q_a):
            continue
        loads = [
            sum((getattr(p, key) for p in (one, other)), Q(0, "lbf"))
            for key in ("dead", "live", "roof")
        ]
        P = _combined(calc, one, "allowable", loads)
        A = Q(shapes[0].union(shapes[1]).area, "ft2")
        d = max(job.plan.thickenings[k].depth for k in (i, j))
        q = calc.step(footing.bearing_pressure, f"{one.name} and {other.name} touch: their common ground.", P=P, A=A,
                      d=Q(d, "ft"), gamma_c=CONCRETE, q_over=footing.slab_weight(job.slab.thickness, CONCRETE))  # fmt: skip
        calc.check(
            f"Does the soil carry {one.name} and {other.name} together?",
            q,
            q_a,
            "psf",
            cite("ASCE 7-16", "2.4.1"),
            REMEDY,
        )
        calc.ask_engineer(f"How do {one.name} and {other.name} bend as one piece?", cite("ACI 318-19", "chapter 14"),
                          "Two posts on one piece of concrete are more than these formulas cover: move them apart or ask.")  # fmt: skip


def loads_drawing(job):
    """The plan with every pad, its post's governing unfactored load and its uplift.

    job: a Job. Returns a matplotlib Figure.
    """
    system, plan = job.system, job.plan
    on = canvas(plan.bounds, (44, 60, 60, 40), 6.5, 6.2, system)
    area(on, plan.outline, width=HEAVY)
    for index, pad in enumerate(job.pads):
        shape = plan.thickenings[index].bottom & plan.outline
        area(on, shape, edge=INK, fill=PALE, width=THIN)
        x, y = pad.x.m_as("foot"), pad.y.m_as("foot")
        on.ax.plot(x, y, marker="x", ms=5, color=ACCENT)
        top = shape.bounds[3]
        label(on, (shape.centroid.x, top + 15 * on.point), pad.name, SMALL, INK, ground=True)
        label(
            on,
            (shape.centroid.x, top + 6 * on.point),
            _load_text(pad, system),
            SMALL,
            ACCENT,
            ground=True,
        )
        if pad.uplift is not None and pad.uplift.magnitude:
            text = f"uplift {show(pad.uplift, 'lbf', system)}"
            label(
                on, (shape.centroid.x, shape.bounds[1] - 6 * on.point), text, SMALL, GREY, ground=True
            )
    finish_plan(
        on, plan.bounds, {"left": 8, "right": 8, "top": 8, "bottom": 8}, system, "Pads and their loads"
    )
    return on.figure


def _load_text(pad, system):
    if pad.dead is None:
        return "load not given"
    loads = (pad.dead, pad.live, pad.roof)
    row = footing.governing_combination("allowable", *loads)
    return show(footing.combined_load(*loads, row["D"], row["L"], row["S"]), "lbf", system)


def summary(job, calc):
    """All pads in one table: size, load, worst ratio. Returns a pandas DataFrame."""
    rows = []
    for index, pad in enumerate(job.pads):
        ratios = [
            c.ratio
            for c in calc.checks
            if c.question.startswith(f"{pad.name}:") and c.ratio is not None
        ]
        size = " × ".join(show_length(v, job.system, True) for v in pad_size(job, index))
        rows.append(
            (
                pad.name,
                size,
                _load_text(pad, job.system),
                f"{max(ratios):.2f}" if ratios else "not checked",
            )
        )
    return pd.DataFrame(
        rows, columns=["pad", "length × width × depth", "unfactored load", "worst ratio"]
    )
