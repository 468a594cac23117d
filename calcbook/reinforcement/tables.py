"""Fiber, mesh and bars side by side: what each is for, what it costs, what fiber matches it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from calcbook.basis.showing import show, unit_text
from calcbook.basis.table import records, table
from calcbook.basis.units import Q, number_in
from calcbook.job.bars import price_key
from calcbook.reinforcement.fiber import equivalent_wire
from calcbook.slab.steel import bar_area, steel_by_width, wire_area

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job

BARS = ("#3", "#4", "#5")  # what a house slab may hold


def purposes() -> list[dict[str, str]]:
    """What each kind of reinforcement is for, what it does not do and what it needs, as rows of a table."""
    rows = [(row["kind"], row["serves"], row["does_not"], row["needs"]) for row in table("fiber")]
    rows += [
        ("mesh", "holds cracks narrow after the slab has hardened", "does not stop a crack; adds no strength before it",
         "chairs, laps, a third from the top"),
        ("bars", "the same, and stays where it is put", "the same", "chairs, laps, a third from the top"),
    ]  # fmt: skip
    return records(("kind", "what it is for", "what it does not do", "what it needs"), rows)


def costs(job: Job, amounts: dict[str, tuple[str, Any, str, str, Quantity]]) -> list[dict[str, str]]:
    """What each kind costs, material and labor, as rows of a table.

    job: a Job; amounts: what ``amount`` gives, by kind.
    """
    rows, area = [], number_in(job.plan.area, "ft2")
    for kind, (words, quantity, unit_name, key, hours) in amounts.items():
        price, wage = getattr(job.prices, price_key(job, key)), job.prices.wage
        bought = show(quantity, unit_name, job.system)
        material, labor = (
            None if rate is None else number_in(of * rate, "$")
            for of, rate in ((quantity, price), (hours, wage))
        )
        both = None if material is None or labor is None else (material + labor) / area
        told = ((material, "$"), (labor, "$"), (both, "$/ft2"))
        rows.append((kind, words, bought, *(_money(v, unit, job) for v, unit in told)))
    area_label = unit_text("$/ft2", job.system)
    columns = ("kind", "what", "to buy", "material", "labor", f"together, {area_label}")
    return records(columns, rows)


def _money(value: float | None, unit_name: str, job: Job) -> str:
    return "no price" if value is None else show(Q(value, unit_name), unit_name, job.system)


def styles(job: Job, drag: Quantity) -> list[dict[str, str]]:
    """Every style of wire, and every bar at the job's spacing, with the fiber that would match it.

    drag: steel by width that subgrade drag asks for.
    """
    r, spacing = job.reinforcement, show(job.reinforcement.bar_spacing, "in", job.system)
    layers = [
        (row["style"], row["old_name"], wire_area(row["style"]), r.mesh_yield) for row in table("wire")
    ]
    layers += [
        (f"{row['size']} at {spacing}", "", steel_by_width(bar_area(row["size"]), r.bar_spacing), r.bar_yield)
        for row in table("bars")
        if row["size"] in BARS
    ]  # fmt: skip
    least = number_in(drag, "in2/ft")
    matching = _matching(job, *zip(*(layer[2:] for layer in layers), strict=True))
    rows = [
        (name, old, show(A_s, "in2/ft", job.system), "yes" if number_in(A_s, "in2/ft") >= least else "no", show(f_150, "psi", job.system))
        for (name, old, A_s, _), f_150 in zip(layers, matching, strict=True)
    ]  # fmt: skip
    columns = ("style", "old name", "steel each way", "enough for drag", "fiber that matches it")
    return records(columns, rows)


def _matching(job: Job, areas: Sequence[Quantity], yields: Sequence[Quantity]) -> list[Quantity]:
    """Residual strength of the fiber that stands in for each layer of steel at mid-depth."""
    h = job.slab.thickness
    A_s, f_y = (
        Q(np.array([number_in(x, unit) for x in some]), unit)
        for some, unit in ((areas, "in2/ft"), (yields, "psi"))
    )
    return list(equivalent_wire(A_s, f_y, h / 2, h, job.concrete.strength))
