"""How much of each kind of reinforcement a job takes: steel by width, sheets, bars, bags, hours."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING, Any

import shapely

from calcbook.basis.pricing import person_hours
from calcbook.basis.showing import magnitude, show
from calcbook.basis.units import TRADE_UNITS, Q
from calcbook.concrete.loads import loads_of
from calcbook.reinforcement.fiber import fiber_bags, fiber_weight
from calcbook.reinforcement.mesh import bar_length, mesh_sheets
from calcbook.reinforcement.steel import bar_area, steel_by_width, wire_area

if TYPE_CHECKING:
    from collections.abc import Callable

    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job
    from calcbook.reinforcement.mesh import MeshSheets

KINDS = ("micro fiber", "macro fiber", "steel fiber", "mesh", "bars")
FIBERS = KINDS[:3]


def steel_layer(job: Job, kind: str) -> tuple[Quantity, Quantity]:
    """(area by width, yield strength) of the job's mesh or bars."""
    chosen = job.reinforcement
    if kind == "mesh":
        return wire_area(chosen.wire), chosen.mesh_yield
    return steel_by_width(bar_area(chosen.bar), chosen.bar_spacing), chosen.bar_yield


@functools.lru_cache(64)
def _sheets(outline: bytes, length: float, width: float, lap: float) -> MeshSheets:
    return mesh_sheets(shapely.from_wkb(outline), (Q(length, "ft"), Q(width, "ft")), Q(lap, "in"))


@functools.lru_cache(64)
def _bars(outline: bytes, spacing: float, stock: float, lap: float) -> Quantity:
    return bar_length(shapely.from_wkb(outline), Q(spacing, "in"), Q(stock, "ft"), Q(lap, "in"))


def sheets_of(job: Job) -> MeshSheets:
    """The sheets of mesh of a job, kept between calls."""
    r = job.reinforcement
    return _sheets(
        job.plan.slab.wkb,
        *(float(v.m_as("foot")) for v in (r.sheet_length, r.sheet_width)),
        float(r.mesh_lap.m_as("inch")),
    )


def bar_run(job: Job) -> Quantity:
    """Length of all bars of a job, laps included, kept between calls."""
    r = job.reinforcement
    sizes = r.bar_spacing.m_as("inch"), r.bar_length.m_as("foot"), r.bar_lap.m_as("inch")
    return _bars(job.plan.slab.wkb, *map(float, sizes))


def amount(
    job: Job, kind: str, run: Callable[..., Any] = lambda formula, words, **inputs: formula(**inputs)
) -> tuple[str, Any, str, str, Quantity]:
    """(words, quantity bought, its unit, price key, person-hours) of a kind of reinforcement.

    run: uses a formula, ``run(formula, words, **inputs)``; a calculation's own way shows the steps.
    """
    r, system = job.reinforcement, job.system
    if kind == "mesh":
        sheets = float(sheets_of(job).count)
        hours = _hours(run, "Hours to lay it", job.plan.area, r.mesh_rate, "ft2", system)
        return f"{r.wire}, {sheets:g} sheets", sheets, "1", "mesh", hours
    if kind == "bars":
        length = bar_run(job)
        hours = _hours(run, "Hours to tie them", length, r.bar_rate, "ft", system)
        words = f"{r.bar} at {show(r.bar_spacing, 'in', system)} both ways"
        return words, length, "ft", "bar", hours
    dosage = getattr(r, f"{kind.split()[0]}_dosage")
    mass = run(
        fiber_weight, "Fiber for all the concrete ordered.", V=loads_of(job).total, dosage=dosage
    )
    bags = run(fiber_bags, "Bags of it.", m=mass, m_bag=r.bag)
    return (
        f"{kind.capitalize()}, {show(dosage, 'lb/yd3', system)}",
        bags,
        "bag",
        kind.replace(" ", "_"),
        Q(0, "h"),
    )


def fiber_order(job: Job, kind: str, bags: Quantity) -> str:
    """What the dispatcher is told of a fiber: dosage, weight for each load, and the bags of the takeoff."""
    r, system = job.reinforcement, job.system
    dosage = getattr(r, f"{kind.split()[0]}_dosage")
    loads = [Q(load, "yd3") for load in loads_of(job).loads]
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
