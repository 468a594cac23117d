"""Fiber, mesh or bars for a job: all side by side on one basis, and the takeoff of the one chosen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.calculation import Calculation, Found
from calcbook.basis.formula import cite
from calcbook.basis.table import lookup, records
from calcbook.basis.units import Q
from calcbook.footings.footing import enter_concrete, slab_weight
from calcbook.job.schema.structure import ON_CHAIRS
from calcbook.job.slabs import for_slabs
from calcbook.job.wire import wire_style
from calcbook.reinforcement.amounts import (
    FIBERS,
    KINDS,
    amount,
    fiber_order,
    lap_of,
    needed_lap,
)
from calcbook.reinforcement.drawing import FOOT, mesh_drawing, moment_chart
from calcbook.reinforcement.edge_bars import edge_bars
from calcbook.reinforcement.fiber import (
    cracking_moment,
    equivalent_in_bending,
    equivalent_in_tension,
    equivalent_wire,
    residual_moment_strength,
    residual_tension,
)  # fmt: skip
from calcbook.reinforcement.mesh import bar_length, mesh_sheets, sheets_together
from calcbook.reinforcement.tables import costs, purposes, styles
from calcbook.slab.check import HEAVY_AXLE
from calcbook.slab.properties import modulus_of_rupture
from calcbook.slab.steel import (
    bar_area,
    drag_steel_area,
    lap_splice,
    mesh_lap,
    steel_by_width,
    steel_layer,
    steel_stress,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.units import Quantity
    from calcbook.concrete.trucks import TruckPlan
    from calcbook.concrete.volume import VolumeFound
    from calcbook.job.file import Job
    from calcbook.joints.layout import Joints
    from calcbook.reinforcement.amounts import Steel
    from calcbook.reinforcement.mesh import MeshSheets
    from calcbook.slab.check import SlabFound

CRACK_CLAUSE = cite("CRSI EDR 37", "subgrade drag")
PLACE = cite("IRC 2021", "R506.2.4")
STRUCTURAL = cite("ACI 360R-10", "structural slabs")


def chapter(
    job: Job,
    joints: Joints,
    slab: SlabFound,
    volume: VolumeFound,
    laid: Steel,
    sharing: Sequence[tuple[str, MeshSheets]] = (),
) -> Found:
    """Fiber, mesh or bars. joints: for the size of a panel; volume: for what is ordered; laid: steel; sharing: name and
    sheets of mesh of each slab that they are bought for at once, this one too, the first of which holds them."""
    calc = Calculation(
        "reinforcement", "Fiber or mesh", "What goes into the slab against cracks, and what does it do?", job.system
    )  # fmt: skip
    kind = calc.given(job, "reinforcement.kind")
    calc.given(job, "slab.thickness", "h")
    calc.given(job, "concrete.strength", "f_c")
    drag = _drag(calc, job, joints.spacing, "bar_yield" if kind == "bars" else "mesh_yield")
    steel = _steel(calc, job, kind, drag)
    f_r = calc.step(
        modulus_of_rupture, "The bending stress at which the slab cracks.", f_c=job.concrete.strength
    )
    calc.step(cracking_moment, "What the plain slab bears before it cracks, one foot of it.", name="cracking",
              f_r=f_r, b=FOOT, h=job.slab.thickness)  # fmt: skip
    _fiber(calc, job, kind, steel, f_r)
    order = volume.trucks.total
    with calc.for_builder():
        _takeoff(calc, job, kind, laid, volume.trucks, sharing)
    edge_bars(calc, job)
    calc.table("What each is for", purposes())
    with calc.for_builder():
        calc.table(
            "Amount and cost, on the same slab",
            costs(job, {name: amount(job, name, laid, order) for name in KINDS}),
        )
    calc.table("Wire and bars, one by one", styles(job, drag))
    _basis(calc, job, kind, slab.overloaded)
    if kind == "mesh":
        plan, system = job.plan, job.system
        calc.figure("Sheets of welded wire", lambda: mesh_drawing(plan, laid.sheets, system))
    shown = (
        job.slab.thickness, job.concrete.strength, f_r, {kind: steel_layer(job, kind) for kind in ("mesh", "bars")},
        job.reinforcement.residual, job.system,
    )  # fmt: skip
    calc.figure("Moment after a crack", lambda: moment_chart(*shown))
    calc.caution(
        "Steel works only where it lies: a third from the top, on chairs. Mesh walked into the mud holds nothing."
    )
    calc.caution(
        "Cut ends of wire and bar tear hands and faces: gloves, glasses, caps on upright bars (29 CFR 1926.701(b))."
    )
    return Found(calc)


def _drag(calc: Calculation, job: Job, spacing: Quantity, yield_key: str) -> Quantity:
    F = calc.given(job, "reinforcement.friction", "F").m_as("")
    f_y = calc.given(job, f"reinforcement.{yield_key}", "f_y")
    w = calc.step(
        slab_weight,
        "Weight of the slab by area.",
        "w",
        t=job.slab.thickness,
        gamma_c=enter_concrete(calc),
    )
    f_s = calc.step(steel_stress, "What the steel may be asked to bear.", f_y=f_y)
    return calc.step(drag_steel_area, "Steel that pulls half a panel over its base when it shrinks.", name="drag",
                     F=F, L=spacing, w=w, f_s=f_s)  # fmt: skip


def _steel(calc: Calculation, job: Job, kind: str, drag: Quantity) -> tuple[Quantity, Quantity]:
    """(area by width, yield strength) of the steel chosen, or else of the job's mesh, which is the
    measure of what fiber must match."""
    if kind == "bars":
        size = calc.given(job, "reinforcement.bar")
        spacing = calc.given(job, "reinforcement.bar_spacing", "s")
        A_s = calc.step(
            steel_by_width, f"Steel of {size}.", A_b=bar_area(size), s=spacing, name="steel"
        )
    else:
        style = calc.given(job, "reinforcement.wire")
        s, s_t, A_w, _ = wire_style(style)
        A_s = calc.step(steel_by_width, f"Steel of {style}.", A_b=A_w, s=s, name="steel")
    if kind == "mesh":
        need = calc.step(mesh_lap, "Lap of its sheets.", s_t=s_t)
        lap = calc.given(job, "reinforcement.mesh_lap")
        calc.check("Lap of the sheets", need, lap, "in", mesh_lap.source,
                   least=True, to_do="Lap them wider.")  # fmt: skip
    if kind == "bars":
        need = needed_lap(job, calc.step)
        if job.reinforcement.bar_lap is not None:
            calc.given(job, "reinforcement.bar_lap")
        calc.check("Lap of the bars", need, lap_of(job), "in", lap_splice.source,
                   least=True, to_do="Lap them longer.")  # fmt: skip
    if kind in ("mesh", "bars"):
        _place(calc, job)
        calc.check("Area of steel to hold cracks closed, A_s", drag, A_s, "in2/ft", CRACK_CLAUSE,
                   least=True, to_do="A heavier style, closer bars, or closer joints.")  # fmt: skip
    return A_s, job.reinforcement.bar_yield if kind == "bars" else job.reinforcement.mesh_yield


def _place(calc: Calculation, job: Job) -> None:
    """Enter where mesh or bars lie, where the job says so."""
    if job.reinforcement.support is None:
        return
    calc.given(job, "reinforcement.support")
    calc.verdict(
        "Place of the steel in the slab", job.reinforcement.support == ON_CHAIRS, PLACE,
        "on chairs" if job.reinforcement.support == ON_CHAIRS else "on the ground",
        "between the middle and the upper third required",
        "Steel at the bottom holds no crack of the top closed, and is counted nowhere.",
        to_do="Set it on chairs (reinforcement.support).",
    )  # fmt: skip


def _fiber(
    calc: Calculation, job: Job, kind: str, steel: tuple[Quantity, Quantity], f_r: Quantity
) -> None:
    h, f_c = job.slab.thickness, job.concrete.strength
    A_s, f_y = steel
    calc.step(equivalent_in_bending, "For fiber to stand in for that steel at mid-depth, its residual strength "
              "by ASTM C1609 must reach this in bending.", "f_150",
              A_s=A_s, f_y=f_y, d=h / 2, h=h, f_c=f_c, b=FOOT)  # fmt: skip
    calc.step(
        equivalent_in_tension,
        "For equal tension the residual strength must reach this.",
        "f_150",
        A_s=A_s,
        f_y=f_y,
        h=h,
    )
    needed = calc.finding(
        "The larger of the two is needed.", "f_150", equivalent_wire(A_s, f_y, h / 2, h, f_c), "psi",
        equivalent_wire.source, "needed", "residual strength that matches the steel",
    )  # fmt: skip
    if job.reinforcement.ratio is not None:
        R = calc.given(job, "reinforcement.ratio", "R_e_3").m_as("percent")
        calc.step(residual_moment_strength, "What fiber carries after the crack.", name="residual", f_r=f_r, R_e3=R,
                  b=FOOT, h=h)  # fmt: skip
    if kind not in ("macro fiber", "steel fiber"):
        return
    if job.reinforcement.residual is None:
        calc.ask_engineer(
            "Maker's test of the fiber after a crack", cite("ASTM C1609"),
            "The maker's residual strength at this dosage is not given (reinforcement.residual), so nothing is "
            "counted on: ask the maker for the test report.",
        )  # fmt: skip
        return
    f_150 = calc.given(job, "reinforcement.residual", "f_150")
    calc.step(residual_tension, "Pull that fiber carries across a crack, one foot of slab.",
              f_e3=f_150, b=FOOT, h=h)  # fmt: skip
    calc.check("Residual strength of the fiber concrete, f_150", needed, f_150, "psi", equivalent_wire.source,
               needs_engineer=True, least=True, to_do="More fiber, with the maker's test at that dosage, or steel.")  # fmt: skip


def _takeoff(
    calc: Calculation,
    job: Job,
    kind: str,
    laid: Steel,
    trucks: TruckPlan,
    sharing: Sequence[tuple[str, MeshSheets]],
) -> None:
    """How the amount of the chosen kind comes about, and its lines in the quote."""
    if kind == "none":
        calc.note("No reinforcement is chosen: plain concrete with close joints.")
        return
    if kind in FIBERS and job.follows:
        calc.note(
            f"The fiber comes in the concrete ordered with the slab {job.follows!r}, where it is counted."
        )
        return
    if kind == "mesh":
        sheets = laid.sheets
        calc.finding(f"Sheets laid along {sheets.along}, with laps; cut-offs are used again where they fit.", "n",
                     float(sheets.count), "1", mesh_sheets.source, "sheets", "sheets of welded wire")  # fmt: skip
    elif kind == "bars":
        calc.finding("Bars both ways, laps included.", "L", laid.bars.length, "ft", bar_length.source,
                     "bars", "length of bars")  # fmt: skip
        calc.finding("Bars that they take; what is left of one begins the next line with one more lap, unless it is shorter than "
                     "two laps.", "n", float(laid.bars.count), "1",
                     bar_length.source, "bars_bought", "bars of the stock length")  # fmt: skip
    words, quantity, unit_name, key, hours = amount(
        job,
        kind,
        laid,
        trucks.total,
        lambda formula, words, **inputs: calc.step(formula, words, **inputs),
    )
    if len(sharing) > 1:
        _mesh_bought(calc, job, sharing)
    else:
        calc.take(words, quantity, unit_name, key)
    if kind in FIBERS:
        calc.order_lines.append(("Fiber", fiber_order(job, kind, trucks, quantity)))
    if hours.magnitude:
        calc.work(f"Laying {kind}", hours)


def _mesh_bought(calc: Calculation, job: Job, slabs: Sequence[tuple[str, MeshSheets]]) -> None:
    """Enter the sheets of several slabs, rounded up once; they stand with the first."""
    names, long = [name for name, _ in slabs], job.reinforcement.sheet_length
    if job.slab.called != names[0]:
        calc.note(f"Its sheets are bought with those of the slab {names[0]!r}, rounded up once.")
        return
    rows = [
        (name, str(one.count), f"{sum(one.lengths) / long.m_as('foot'):.2f}") for name, one in slabs
    ]
    head = ("slab", "sheets by itself", "sheets' worth laid, with laps")
    calc.table("Slabs that sheets are bought for at once", records(head, rows), mesh_sheets.source)
    n = calc.finding(
        "Sheets for all of them: a cut-off of one slab is used in another where it fits.", "n",
        float(sheets_together([one for _, one in slabs], long)), "1", mesh_sheets.source, "sheets_together",
        "sheets of welded wire for all slabs",
    )  # fmt: skip
    calc.take(
        f"{job.reinforcement.wire}, {n:g} sheet{'s' * (n != 1)}{for_slabs(names)}", n, "1", "mesh"
    )


def _basis(calc: Calculation, job: Job, kind: str, overloaded: bool) -> None:
    """What the choice rests on, and where it is more than a builder may choose."""
    if kind in FIBERS:
        row = lookup("fiber", kind=kind)
        dosage = calc.given(job, f"reinforcement.{kind.split()[0]}_dosage")
        least = Q(row["least_lb_per_yd3"], "lb/yd3")
        calc.check("Dosage of the fiber", least, dosage, "lb/yd3", row["source"],
                   least=True, to_do="Raise the dosage.")  # fmt: skip
    heavy = job.vehicle.axle is not None and job.vehicle.axle > HEAVY_AXLE
    if heavy or overloaded:
        why = "Heavy wheels make" if heavy else "The plain slab does not bear its vehicle, which makes"
        calc.ask_engineer("Reinforcement that carries load", STRUCTURAL,
                          f"{why} steel or fiber part of the structure: an engineer designs it.", job)  # fmt: skip
        return
    basis = {"none": "none: close joints alone", "micro fiber": "plastic shrinkage only"}
    calc.verdict("Basis of the choice", True, CRACK_CLAUSE,
                 basis.get(kind, "crack width only, no load counted on it"))  # fmt: skip
