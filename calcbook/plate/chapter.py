"""The slab as a plate on the ground: what the whole plan does under all that stands on it at once."""

from __future__ import annotations

from typing import TYPE_CHECKING

import shapely

from calcbook.basis.calculation import Found
from calcbook.basis.formula import cite
from calcbook.basis.showing import show, show_length
from calcbook.basis.table import records
from calcbook.basis.units import Q
from calcbook.footings.footing import CONCRETE
from calcbook.plate.as_drawn import EDGE_NAME
from calcbook.plate.begun import begun
from calcbook.plate.beside import KINDS, beside_hand
from calcbook.plate.figures import enter_figures
from calcbook.plate.from_job import plate_job
from calcbook.plate.limits import enter_limits
from calcbook.plate.model import SOIL, force_on
from calcbook.plate.worked import (
    NotWorked,
    Worked,
    axle_wheels,
    worked_out,
    worst_stress,
)
from calcbook.slab.check import BENDING, REMEDY
from calcbook.slab.properties import allowable_stress
from calcbook.slab.soil import ASK_SOIL
from calcbook.slab.with_sun import GRADIENT, NIGHT

if TYPE_CHECKING:
    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.footings.edges import EdgesFound
    from calcbook.footings.pad_check import PadsFound
    from calcbook.job.file import Job
    from calcbook.joints.layout import Joints
    from calcbook.loads.from_job import LoadPath
    from calcbook.plate.from_job import PlateJob
    from calcbook.plate.moving import Wheel
    from calcbook.plate.result import PlateResult, Reading
    from calcbook.slab.check import SlabFound
    from calcbook.slab.soil import Ground

METHOD = cite("plate on springs")
_HEAVIER = "A heavier edge, bars through the joints, or an engineer's anchors in the ground."
_LEAST_ON = 1.0  # lbf
_LIFTED = 1.0  # ft2: less than this that lies hollow is not told


def plate_of_job(job: Job, path: LoadPath, joints: Joints, slab: SlabFound) -> PlateJob:
    """The plate of a job and its loads; arguments as for ``worked_of``."""
    return plate_job(job, path, joints, slab.k.m_as("pci"), slab.E_c.m_as("psi"), CONCRETE.m_as("pcf"))


def worked_of(job: Job, path: LoadPath, joints: Joints, slab: SlabFound) -> Worked | NotWorked | None:
    """The plate of a job worked out, or why not; None where nothing stands on it."""
    axle, wheels = job.vehicle.axle, tuple["Wheel", ...]()
    plate = plate_of_job(job, path, joints, slab)
    if axle is not None:
        vehicle = job.vehicle
        apart = vehicle.wheel_spacing.m_as("foot")
        given = vehicle.wheels.m_as(""), vehicle.tire_pressure.m_as("psi")
        wheels = axle_wheels(axle.m_as("lbf"), *given, apart)
    if not (plate.loaded or wheels):
        return None
    warmer = float((GRADIENT * job.slab.thickness.m_as("inch")).m_as("delta_degF"))
    return worked_out(plate, wheels, warmer, NIGHT * warmer)


def chapter(
    job: Job, worked: Worked | NotWorked | None, ground: Ground, slab: SlabFound, pads: PadsFound, edges: EdgesFound
) -> Found:  # fmt: skip
    """The slab as a plate. worked: its cases, why there are none, or None where nothing stands on it; ground:
    what it bears; slab, pads, edges: what the hand formulas found."""
    calc = begun(job)
    if worked is None:
        calc.note("No vehicle, post or wall load is named for the slab, so no plate is worked out.")
    elif isinstance(worked, NotWorked):
        calc.not_worked_out(worked.reason, clause=METHOD)
    else:
        _whole(calc, job, worked, ground, slab)
        beside_hand(calc, job, worked, slab, pads, edges)
        enter_limits(calc, worked)
        enter_figures(calc, job, worked)
    return Found(calc)


def _whole(calc: Calculation, job: Job, worked: Worked, ground: Ground, slab: SlabFound) -> None:
    calc.given(job, "slab.thickness", "h")
    margin = calc.given(job, "vehicle.margin", "SF").m_as("")
    for term, symbol, value, unit in (
        ("modulus of subgrade reaction", "k", slab.k, "pci"),
        ("modulus of elasticity of concrete", "E_c", slab.E_c, "psi"),
        ("radius of relative stiffness", "l", slab.length, "in"),
    ):
        calc.finding("From the chapter on the slab.", symbol, value, unit, METHOD, label=term)
    f_a = calc.step(
        allowable_stress, "What the concrete is asked to bear.", f_r=slab.f_r, SF=margin,
    )  # fmt: skip
    _cases(calc, worked)
    _bending(calc, job, worked, slab.f_r, f_a)
    _soil(calc, worked, ground)
    _passed_on(calc, worked)
    _uplift(calc, worked)


def _cases(calc: Calculation, worked: Worked) -> None:
    """One row for each case."""
    system, rows = calc.system, []
    for result in worked.cases:
        worst, most = result.worst, worst_stress(result)
        rows.append([
            result.case.name,
            *(show(Q(worst[f"stress at the {face}"].value, "psi"), "psi", system) for face in ("bottom", "top")),
            place(most, system),
            show(Q(worst["deflection"].value, "in"), "in", system),
            show(Q(worst[SOIL].value, "psf"), "psf", system),
            show(Q(result.lifted_area, "ft2"), "ft2", system) if result.lifted_area >= _LIFTED else "none",
        ])  # fmt: skip
    columns = [
        "Case", "Stress, bottom", "Stress, top", "Place of the greater", "Deflection", "Soil pressure", "Off the ground",
    ]  # fmt: skip
    calc.table(
        "Cases of the plate at service level, each with the concrete's own weight; x and y from the corner 0, 0",
        records(columns, rows), METHOD,
    )  # fmt: skip


def place(reading: Reading, system: str) -> str:
    """Where a reading is, in words, to the inch: readings are some inches apart."""
    x, y = (show_length(Q(round(v * 12) / 12, "ft"), system) for v in (reading.x, reading.y))
    return f"{reading.where}, x {x}, y {y}"


def _bending(calc: Calculation, job: Job, worked: Worked, f_r: Quantity, f_a: Quantity) -> None:
    for result, title in _asked(worked):
        reading = worst_stress(result)
        sigma = Q(reading.value, "psi")
        face = reading.what.removeprefix("stress ")
        where = f"{result.case.name}: {face}, {place(reading, job.system)}."
        calc.check(title, sigma, f_a, "psi", BENDING, where, to_do=REMEDY)
    most = worked.bends_most
    calc.finding(f"The greatest stress of all ({most.case.name}).", "sigma", Q(worst_stress(most).value, "psi"), "psi",
                 METHOD, "stress", "greatest bending stress of the plate")  # fmt: skip
    for result, words, told in (
        (worked.sun, "the sun on it", "With the sun on it the top is warmer than the bottom."),
        (
            worked.night,
            "a cold night",
            "In a cold night the top is colder than the bottom, by half as much.",
        ),
    ):
        sigma = Q(worst_stress(result).value, "psi")
        calc.finding(told, "Delta T", Q(result.case.warmer_top, "delta_degF"), "delta_degF",
                     cite("Westergaard 1927", "temperature that falls evenly through the thickness"),
                     label=f"temperature difference, top over bottom, {words}")  # fmt: skip
        calc.check(
            f"Bending stress of the plate with {words}", sigma, f_r, "psi", METHOD,
            f"No margin is asked here: no code limits it. Worst {place(worst_stress(result), job.system)}.",
            to_do="Closer joints, shade and a cover.",
        )  # fmt: skip


def _asked(worked: Worked) -> list[tuple[PlateResult, str]]:
    """The cases of load and what is asked of each."""
    found = []
    if worked.down:
        found.append((worked.down, "Bending stress of the plate under walls, pads and posts"))
    for kind, (_, result) in worked.wheel.items():
        found.append((result, f"Bending stress of the plate under the wheel {KINDS[kind]}"))
    for name, (best, result) in worked.posts.items():
        found.append((result, f"Bending stress of the plate under {name} {KINDS[best.where]}"))
    if worked.uncracked:
        question = "Bending stress of the plate where the joint has not cracked the thickened edge"
        found.append((worked.uncracked, question))
    if worked.lift:
        found.append((worked.lift, "Bending stress of the plate from uplift"))
    return found


def _soil(calc: Calculation, worked: Worked, ground: Ground) -> None:
    title = "Bearing pressure under the plate"
    if ground.bearing is None:
        calc.not_worked_out(ASK_SOIL, title, cite("ASCE 7-16", "2.4.1"))
        return
    most = max(worked.loaded, key=lambda result: result.worst[SOIL].value)
    reading = most.worst[SOIL]
    q = calc.finding(f"The greatest pressure on the soil ({most.case.name}; {place(reading, calc.system)}).", "q",
                     Q(reading.value, "psf"), "psf", METHOD, "pressure", "greatest pressure of the plate on the soil")  # fmt: skip
    calc.check(title, q, ground.bearing, "psf", cite("ASCE 7-16", "2.4.1"),
               to_do="Widen the edge or pad there.")  # fmt: skip


def _passed_on(calc: Calculation, worked: Worked) -> None:
    """How much of what stands on the thickened edge the slab beside takes."""
    down = worked.down
    edge = shapely.union_all([r.shape for r in worked.job.plate.regions if r.name == EDGE_NAME])
    if down is None or edge.is_empty:
        return
    on = sum(force_on(load, edge, down.plate.slab) for load in down.case.loads)
    if on < _LEAST_ON:
        return
    taken = on + down.weight_of(edge) - down.soil_under(edge)
    most, part = (show(Q(abs(v), "lbf"), "lbf", calc.system) for v in (on, taken))
    share = f"{100 * abs(taken) / on:.0f} %"
    calc.note(
        f"{down.case.name}: {most} stand on the thickened edge, walls and posts together. "
        + (f"The slab beside takes {part} of it ({share}), the ground under the edge the rest." if taken > 0 else
           f"The ground under the edge takes it all, and {part} more ({share}) that the slab brings to it.")
    )  # fmt: skip


def _uplift(calc: Calculation, worked: Worked) -> None:
    title, clause = "Safety factor against uplift, all walls and posts at once", METHOD
    if worked.too_much:
        calc.verdict(title, False, clause, remark=worked.too_much, to_do=_HEAVIER)
        return
    lift = worked.lift
    if lift is None:
        calc.note("Nothing named lifts the slab.")
        return
    system = calc.system
    calc.check(title, 1.0, lift.reserve, "1", clause,
               f"{lift.case.name}: so many times its uplift before the slab, or a part between joints, leaves the ground.",
               least=True, to_do=_HEAVIER)  # fmt: skip
    if lift.lifted_area >= _LIFTED:
        calc.note(
            f"{lift.case.name}: {show(Q(lift.lifted_area, 'ft2'), 'ft2', system)} of slab leave the ground, with "
            f"{show(Q(lift.lifted_weight, 'lbf'), 'lbf', system)} of concrete: that much weight the lifting walls find."
        )
    else:
        calc.note(f"{lift.case.name}: the slab stays on the ground everywhere.")
