"""How much of each kind of reinforcement a job takes: steel by width, sheets, bars, bags, hours."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from calcbook.basis.pricing import person_hours
from calcbook.basis.rounding import ceil
from calcbook.basis.showing import magnitude, show
from calcbook.basis.table import lookup
from calcbook.basis.units import TRADE_UNITS, Q, Quantity
from calcbook.job.bars import bar_key, bars_bought
from calcbook.reinforcement.fiber import fiber_bags, fiber_weight
from calcbook.reinforcement.mesh import bars_laid, mesh_sheets
from calcbook.slab.steel import (
    development_length,
    lap_splice,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from calcbook.concrete.trucks import TruckPlan
    from calcbook.job.file import Job
    from calcbook.reinforcement.mesh import BarsLaid, MeshSheets

KINDS = ("micro fiber", "macro fiber", "steel fiber", "mesh", "bars")
FIBERS = KINDS[:3]


@dataclass(frozen=True)
class Steel:
    """Steel laid over a slab: sheets of mesh, or bars both ways."""

    sheets: MeshSheets
    bars: BarsLaid


def steel_of(job: Job) -> Steel:
    """The Steel of a job, whichever of the two it chooses."""
    r, slab = job.reinforcement, job.plan.slab
    return Steel(
        mesh_sheets(slab, (r.sheet_length, r.sheet_width), r.mesh_lap),
        bars_laid(slab, r.bar_spacing, r.bar_length, lap_of(job)),
    )


def needed_lap(
    job: Job, run: Callable[..., Any] = lambda formula, words, **inputs: formula(**inputs)
) -> Quantity:
    """Lap of the job's bars by its rule; run: as for ``amount``."""
    r = job.reinforcement
    d_b = Q(lookup("bars", size=r.bar)["diameter_in"], "in")
    l_d = run(
        development_length, "The length in which a bar takes up its full strength.",
        f_y=r.bar_yield, f_c=job.concrete.strength, d_b=d_b,
    )  # fmt: skip
    return run(lap_splice, "Lap of two bars.", l_d=l_d)


def lap_of(job: Job) -> Quantity:
    """Lap that bars are laid with: as given, else by its rule, up to a whole inch or 10 mm."""
    given = job.reinforcement.bar_lap
    if given is not None:
        return given
    unit_name, step = ("in", 1.0) if job.system == "us" else ("mm", 10.0)
    return Quantity(float(ceil(needed_lap(job).m_as(unit_name) / step)) * step, unit_name)


def amount(
    job: Job,
    kind: str,
    steel: Steel,
    order: Quantity,
    run: Callable[..., Any] = lambda formula, words, **inputs: formula(**inputs),
) -> tuple[str, Any, str, str, Quantity]:
    """(words, quantity bought, its unit, price key, person-hours) of a kind of reinforcement.

    steel: as it is laid; order: concrete ordered; run: uses a formula, ``run(formula, words,
    **inputs)``; a calculation's own way shows the steps.
    """
    r, system = job.reinforcement, job.system
    if kind == "mesh":
        sheets = float(steel.sheets.count)
        hours = _hours(run, "Hours to lay it", job.plan.area, r.mesh_rate, "ft2", system)
        return f"{r.wire}, {sheets:g} sheet{'s' * (sheets != 1)}", sheets, "1", "mesh", hours
    if kind == "bars":
        hours = _hours(run, "Hours to tie them", steel.bars.length, r.bar_rate, "ft", system)
        count, length = bars_bought(job, steel.bars.count)
        words = f"{r.bar} at {show(r.bar_spacing, 'in', system)} both ways, laps {show(lap_of(job), 'in', system)}, {count}"
        return words, length, "ft", bar_key(r.bar), hours
    dosage = getattr(r, f"{kind.split()[0]}_dosage")
    mass = run(fiber_weight, "Fiber for all the concrete ordered.", V=order, dosage=dosage)
    bags = run(fiber_bags, "Bags of it.", m=mass, m_bag=r.bag)
    return (
        f"{kind.capitalize()}, {show(dosage, 'lb/yd3', system)}",
        bags,
        "bag",
        kind.replace(" ", "_"),
        Q(0, "h"),
    )


def fiber_order(job: Job, kind: str, trucks: TruckPlan, bags: Quantity) -> str:
    """What the dispatcher is told of a fiber: dosage, weight for each load, and the bags of the takeoff."""
    r, system = job.reinforcement, job.system
    dosage = getattr(r, f"{kind.split()[0]}_dosage")
    loads = [Q(load, "yd3") for load in trucks.loads]
    weights = [show(fiber_weight(V=load, dosage=dosage), "lb", system) for load in loads]
    by_load = f"{' + '.join(weights)} by load" if len(loads) > 1 else weights[0]
    count = f"bags in all: {bags.m_as('bag'):,.0f} of {show(r.bag, 'lb', system)}"
    return f"{kind}, {show(dosage, 'lb/yd3', system)}: {by_load}, {count}"


def _hours(
    run: Callable[..., Any], words: str, amount: Quantity, rate: Quantity, unit_name: str, system: str
) -> Quantity:
    """Person-hours for an amount at a rate of one person in an hour, in the job's own unit."""
    by = f"{words}; n is in {TRADE_UNITS[unit_name].label_for(system)}."
    n, r = (magnitude(value, unit_name, system) for value in (amount, rate))
    return run(person_hours, by, n=n, rate=Q(r, "1/h"))
