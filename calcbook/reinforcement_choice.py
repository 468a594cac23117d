"""Fiber, mesh or bars for a job: all side by side on one basis, and the takeoff of the one chosen."""

import functools

import pandas as pd
import shapely

from calcbook.calculation import Calculation
from calcbook.dig import dig_volume
from calcbook.drawing import ACCENT, GREY, HEAVY, INK, SMALL, THIN, area, canvas, chart, text_width
from calcbook.fiber import (
    cracking_moment,
    equivalent_in_bending,
    equivalent_wire,
    fiber_bags,
    fiber_weight,
    residual_moment_strength,
    residual_tension,
)  # fmt: skip
from calcbook.footing import slab_weight
from calcbook.formula import cite
from calcbook.joint_plan import largest_spacing
from calcbook.mesh import bar_length, mesh_sheets
from calcbook.plans import finish_plan
from calcbook.pricing import person_hours
from calcbook.reinforcement import (
    bar_area,
    drag_steel_area,
    mesh_lap,
    steel_by_width,
    steel_stress,
    wire_area,
    wire_style,
)
from calcbook.slab import modulus_of_rupture
from calcbook.slab_check import HEAVY_AXLE
from calcbook.table import lookup, table
from calcbook.units import TRADE_UNITS, Q, magnitude, show
from calcbook.volume import order_volume, plan_volume, slab_volume

FOOT = Q(12, "in")
KINDS = ("micro fiber", "macro fiber", "steel fiber", "mesh", "bars")
CRACK_CLAUSE = cite("CRSI EDR 37", "subgrade drag")


def calculation(job):
    """Fiber, mesh or bars. job: a Job. Returns a Calculation."""
    calc = Calculation(
        "reinforcement", "Fiber or mesh", "What goes into the slab against cracks, and what does it do?", job.system
    )  # fmt: skip
    kind = calc.given(job, "reinforcement.kind")
    drag = _drag(calc, job)
    steel = _steel(calc, job, kind, drag)
    f_r = modulus_of_rupture(job.concrete.strength)
    calc.step(cracking_moment, "What the plain slab bears before it cracks, one foot of it.", name="cracking",
              f_r=f_r, b=FOOT, h=job.slab.thickness)  # fmt: skip
    _fiber(calc, job, kind, steel, f_r)
    amounts = {name: amount(job, name) for name in KINDS}
    calc.table("What each is for", _purposes())
    calc.table("Amount and cost, on the same slab", _costs(job, amounts))
    calc.table("Welded wire, style by style", _styles(job, drag))
    _takeoff(calc, job, kind, amounts)
    _basis(calc, job, kind)
    if kind == "mesh":
        calc.figure("Sheets of welded wire", lambda: mesh_drawing(job))
    calc.figure("Moment after a crack", lambda: moment_chart(job, f_r))
    calc.caution(
        "Steel works only where it lies: a third from the top, on chairs. Mesh walked into the mud holds nothing."
    )
    calc.caution(
        "Cut ends of wire and bar tear hands and faces: gloves, glasses, caps on upright bars (29 CFR 1926.701(b))."
    )
    return calc


def _drag(calc, job):
    F = calc.given(job, "reinforcement.friction", "F").m_as("")
    f_y = calc.given(job, "reinforcement.mesh_yield", r"f_{y}")
    w = calc.step(slab_weight, "Weight of the slab by area.", "w", t=job.slab.thickness)
    f_s = calc.step(steel_stress, "What the steel may be asked to bear.", f_y=f_y)
    return calc.step(drag_steel_area, "Steel that pulls half a panel over its base when it shrinks.", name="drag",
                     F=F, L=largest_spacing(job), w=w, f_s=f_s)  # fmt: skip


def steel_layer(job, kind):
    """(area by width, yield strength) of the job's mesh or bars."""
    chosen = job.reinforcement
    if kind == "mesh":
        return wire_area(chosen.wire), chosen.mesh_yield
    return steel_by_width(bar_area(chosen.bar), chosen.bar_spacing), chosen.bar_yield


def _steel(calc, job, kind, drag):
    """The steel chosen, or else the job's mesh as the measure of what fiber must match."""
    which = kind if kind in ("mesh", "bars") else "mesh"
    if which == "mesh":
        style = calc.given(job, "reinforcement.wire")
        s, s_t, A_w, _ = wire_style(style)
        A_s = calc.step(steel_by_width, f"Steel of {style}.", A_b=A_w, s=s, name="steel")
        lap = calc.step(mesh_lap, "Lap of its sheets.", s_t=s_t)
        if kind == "mesh":
            calc.check(
                "Do the sheets lap enough?",
                lap,
                job.reinforcement.mesh_lap,
                "in",
                mesh_lap.source,
                "Lap them wider.",
            )
    else:
        size = calc.given(job, "reinforcement.bar")
        spacing = calc.given(job, "reinforcement.bar_spacing", "s")
        A_s = calc.step(
            steel_by_width, f"Steel of {size}.", A_b=bar_area(size), s=spacing, name="steel"
        )
    if kind in ("mesh", "bars"):
        calc.check("Is it enough to hold cracks closed?", drag, A_s, "in2/ft", CRACK_CLAUSE,
                   "A heavier style, closer bars, or closer joints.")  # fmt: skip
    return A_s, steel_layer(job, which)[1]


def _fiber(calc, job, kind, steel, f_r):
    h, f_c = job.slab.thickness, job.concrete.strength
    A_s, f_y = steel
    needed = calc.finding(
        "For fiber to stand in for that steel at mid-depth, in bending and in tension, its residual strength by "
        "ASTM C1609 must reach this.", r"f_{150}", equivalent_wire(A_s, f_y, h / 2, h, f_c), "psi",
        equivalent_wire.source, "needed", "residual strength that matches the steel",
    )  # fmt: skip
    if job.reinforcement.ratio is not None:
        R = calc.given(job, "reinforcement.ratio", r"R_{\mathrm{e,3}}").m_as("percent")
        calc.step(residual_moment_strength, "What fiber carries after the crack.", name="residual", f_r=f_r, R_e3=R,
                  b=FOOT, h=h)  # fmt: skip
    if kind not in ("macro fiber", "steel fiber"):
        return
    if job.reinforcement.residual is None:
        calc.ask_engineer(
            "What does this fiber carry after a crack?", cite("ASTM C1609"),
            "The maker's residual strength at this dosage is not given (reinforcement.residual), so nothing is "
            "counted on: ask the maker for the test report.",
        )  # fmt: skip
        return
    f_150 = calc.given(job, "reinforcement.residual", r"f_{150}")
    calc.step(
        residual_tension,
        "Pull that fiber carries across a crack, one foot of slab.",
        f_e3=f_150,
        b=FOOT,
        h=h,
    )
    calc.check("Does the fiber match that steel?", needed, f_150, "psi", equivalent_wire.source,
               "More fiber, with the maker's test at that dosage, or steel.", needs_engineer=True)  # fmt: skip


@functools.lru_cache(64)
def _sheets(outline, length, width, lap):
    return mesh_sheets(shapely.from_wkb(outline), (Q(length, "ft"), Q(width, "ft")), Q(lap, "in"))


@functools.lru_cache(64)
def _bars(outline, spacing, stock, lap):
    return bar_length(shapely.from_wkb(outline), Q(spacing, "in"), Q(stock, "ft"), Q(lap, "in"))


def sheets_of(job):
    """The sheets of mesh of a job, kept between calls."""
    r = job.reinforcement
    return _sheets(
        job.plan.slab.wkb,
        *(float(v.m_as("foot")) for v in (r.sheet_length, r.sheet_width)),
        float(r.mesh_lap.m_as("inch")),
    )


def amount(job, kind):
    """(words, quantity bought, its unit, price key, person-hours) of a kind of reinforcement."""
    r, area_ft2 = job.reinforcement, job.plan.area.m_as("foot**2")
    if kind == "mesh":
        sheets = sheets_of(job)
        hours = person_hours(area_ft2, Q(r.mesh_rate.m_as("foot**2"), "1/h"))
        return f"{r.wire}, {sheets.count} sheets", float(sheets.count), "1", "mesh", hours
    if kind == "bars":
        length = _bars(
            job.plan.slab.wkb,
            *(
                float(v)
                for v in (r.bar_spacing.m_as("inch"), r.bar_length.m_as("foot"), r.bar_lap.m_as("inch"))
            ),
        )
        hours = person_hours(length.m_as("foot"), Q(r.bar_rate.m_as("foot"), "1/h"))
        return (
            f"{r.bar} at {show(r.bar_spacing, 'in', job.system)} both ways",
            length,
            "ft",
            "bar",
            hours,
        )
    dosage = getattr(r, f"{kind.split()[0]}_dosage")
    bags = fiber_bags(fiber_weight(_order(job), dosage), r.bag)
    return (
        f"{kind}, {show(dosage, 'lb/yd3', job.system)}",
        bags,
        "bag",
        kind.replace(" ", "_"),
        Q(0, "h"),
    )


def _order(job):
    dug = dig_volume(job) if job.plan.depths else Q(0, "yd3")
    whole = plan_volume(slab_volume(job.plan.area, job.slab.thickness), dug)
    return order_volume(whole, job.concrete.waste.m_as(""), job.concrete.order_step)


def _purposes():
    rows = [(row["kind"], row["serves"], row["does_not"], row["needs"]) for row in table("fiber")]
    rows += [
        ("mesh", "holds cracks narrow after the slab has hardened", "does not stop a crack; adds no strength before it",
         "chairs, laps, a third from the top"),
        ("bars", "the same, and stays where it is put", "the same", "chairs, laps, a third from the top"),
    ]  # fmt: skip
    return pd.DataFrame(
        rows, columns=["kind", "what it is for", "what it does not do", "what it needs"]
    )


def _costs(job, amounts):
    rows = []
    for kind, (words, quantity, unit_name, key, hours) in amounts.items():
        price, wage = getattr(job.prices, key), job.prices.wage
        bought = show(quantity, unit_name, job.system) if unit_name != "1" else f"{quantity:g}"
        material = None if price is None else (quantity * price).to("dollar")
        labor = None if wage is None else (hours * wage).to("dollar")
        both = None if None in (material, labor) else (material + labor) / job.plan.area
        rows.append(
            (
                kind,
                words,
                bought,
                *(_money(v, "$", job) for v in (material, labor)),
                _money(both, "$/ft2", job),
            )
        )
    area_label = TRADE_UNITS["$/ft2"].label_for(job.system)
    return pd.DataFrame(
        rows, columns=["kind", "what", "to buy", "material", "labor", f"together, {area_label}"]
    )


def _money(value, unit_name, job):
    return "no price" if value is None else show(value, unit_name, job.system)


def _styles(job, drag):
    rows = []
    for row in table("wire"):
        A_s = wire_area(row["style"])
        enough = "yes" if A_s >= drag else "no"
        f_150 = equivalent_wire(
            A_s,
            job.reinforcement.mesh_yield,
            job.slab.thickness / 2,
            job.slab.thickness,
            job.concrete.strength,
        )
        rows.append(
            (
                row["style"],
                row["old_name"],
                show(A_s, "in2/ft", job.system),
                enough,
                show(f_150, "psi", job.system),
            )
        )
    return pd.DataFrame(
        rows,
        columns=[
            "style",
            "old name",
            "steel each way",
            "enough for drag",
            "residual strength of a fiber that matches it",
        ],
    )


def _takeoff(calc, job, kind, amounts):
    if kind == "none":
        calc.note("No reinforcement is chosen: plain concrete with close joints.")
        return
    words, quantity, unit_name, key, hours = amounts[kind]
    calc.take(words[0].upper() + words[1:], quantity, unit_name, key)
    if hours.magnitude:
        calc.work(f"Laying {kind}", hours)


def _basis(calc, job, kind):
    if kind in ("micro fiber", "macro fiber", "steel fiber"):
        row = lookup("fiber", kind=kind)
        dosage = getattr(job.reinforcement, f"{kind.split()[0]}_dosage")
        calc.check("Is the dosage at least what its source names?", Q(row["least_lb_per_yd3"], "lb/yd3"), dosage, "lb/yd3",
                   row["source"], "Raise the dosage.")  # fmt: skip
    heavy = job.vehicle.axle is not None and job.vehicle.axle > HEAVY_AXLE
    if heavy:
        calc.ask_engineer("Does the reinforcement carry load?", cite("ACI 360R-10", "structural slabs"),
                          "Heavy wheels make steel or fiber part of the structure: an engineer designs it.")  # fmt: skip
    calc.verdict(
        "On what basis is it chosen?", True, CRACK_CLAUSE,
        {"none": "none: close joints alone", "micro fiber": "plastic shrinkage only"}.get(kind, "crack width only, no load counted on it"),
    )  # fmt: skip


def mesh_drawing(job):
    """Sheets on the plan. job: a Job with mesh. Returns a matplotlib Figure."""
    plan, sheets = job.plan, sheets_of(job)
    on = canvas(plan.bounds, (44, 60, 40, 40), 6.5, 6.2, job.system)
    for index, piece in enumerate(sheets.pieces):
        area(
            on,
            piece,
            edge=ACCENT if index % 2 else GREY,
            width=THIN,
            style="-" if index % 2 else (0, (5, 2)),
        )
    area(on, plan.outline, width=HEAVY)
    title = f"{sheets.count} sheets laid along {sheets.along}"
    finish_plan(on, plan.bounds, {"left": 8, "right": 8, "top": 8, "bottom": 8}, job.system, title)
    return on.figure


def moment_chart(job, f_r):
    """Moment of one foot of slab: before the crack, and after it by each kind. Returns a Figure.

    job: a Job; f_r: modulus of rupture. Kinds without the maker's data stand as not known.
    """
    h, f_c, r = job.slab.thickness, job.concrete.strength, job.reinforcement
    values = {"plain, before the crack": cracking_moment(f_r, FOOT, h)}
    for kind in ("mesh", "bars"):
        A_s, f_y = steel_layer(job, kind)
        values[kind] = equivalent_in_bending(A_s, f_y, h / 2, h, f_c) * FOOT * h**2 / 6
    values["fiber"] = None if r.residual is None else r.residual * FOOT * h**2 / 6
    label = TRADE_UNITS["lbf*ft"].label_for(job.system)
    names = list(values)[::-1]
    figure, ax = chart(height=2.4, title="Moment of one foot of slab", x=f"moment, {label}",
                       left=12 + max(text_width(name, SMALL) for name in names))  # fmt: skip
    for y, name in enumerate(names):
        value = values[name]
        if value is None:
            ax.annotate(
                "not known without the maker's test",
                (0, y),
                (4, 0),
                textcoords="offset points",
                va="center",
                fontsize=SMALL,
                color=GREY,
            )
            continue
        x = magnitude(value.to("lbf*foot"), "lbf*ft", job.system)
        ax.barh(
            y,
            x,
            0.55,
            facecolor="white",
            edgecolor=INK,
            hatch=None if name.startswith("plain") else "////",
            lw=0.9,
        )
        ax.annotate(
            show(value, "lbf*ft", job.system),
            (x, y),
            (4, 0),
            textcoords="offset points",
            va="center",
            fontsize=SMALL,
        )
    ax.set_yticks(range(len(names)), names)
    ax.set_ylim(-0.6, len(names) - 0.4)  # a kind that is not known has no bar to make room
    ax.margins(x=0.18)
    return figure


__all__ = ["amount", "calculation", "mesh_drawing", "moment_chart", "sheets_of", "steel_layer"]
