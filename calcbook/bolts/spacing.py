"""How far apart the bolts of each wall may be: by the code's rule, uplift, shear, and both at once."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from calcbook.basis.showing import show, show_length
from calcbook.basis.table import records
from calcbook.basis.units import Q, number_in
from calcbook.bolts.sill import (
    sill_rule,
    spacing_for_both,
    spacing_for_shear,
    spacing_for_uplift,
)
from calcbook.job.wall_lines import door_spans

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.formula import Formula
    from calcbook.basis.sources import Citation
    from calcbook.basis.units import Quantity
    from calcbook.bolts.bolted import Bolted
    from calcbook.bolts.capacity import Capacity
    from calcbook.job.file import Job

RULE = "the code's rule"
_LOADS = {"uplift": "uplift", "along": "shear along", "out": "shear across"}
_SHEARS = {key: _LOADS[key] for key in ("along", "out")}


def code_rule(job: Job) -> tuple[Quantity, Citation, str]:
    """(greatest spacing by the code, citation, words)."""
    tall = job.bolts.stories > 2 and job.design.seismic in ("D0", "D1", "D2")
    return sill_rule("most spacing tall" if tall else "most spacing")


def spacings(
    job: Job, capacities: Sequence[Capacity], loads: Sequence[dict[str, Quantity | None]]
) -> list[dict[str, Quantity]]:
    """For each bolted wall of the job, greatest spacing by each reason (a dict of lengths).

    loads: of each wall by length of plate, by direction.
    """
    found = [{RULE: code_rule(job)[0]} for _ in capacities]
    _alone(loads, capacities, found, "uplift", "uplift", spacing_for_uplift)
    for direction, words in _SHEARS.items():
        _alone(loads, capacities, found, direction, words, spacing_for_shear)
        both = [f for f in found if "uplift" in f and words in f]
        if both:
            s_u, s_v = (_array([number_in(f[k], "in") for f in both], "in") for k in ("uplift", words))
            for f, s in zip(both, spacing_for_both.bulk(s_u=s_u, s_v=s_v), strict=True):
                f[f"uplift with {words}"] = Q(float(s), "in")
    return found


def _alone(
    loads: Sequence[dict[str, Quantity | None]],
    capacities: Sequence[Capacity],
    found: Sequence[dict[str, Quantity]],
    direction: str,
    words: str,
    formula: Formula,
) -> None:
    """Enter the spacing for one load in the walls that have it."""
    given = [one[direction] for one in loads]
    loaded = {k: load for k, load in enumerate(given) if load is not None and load.magnitude}
    if loaded:
        held = _array([number_in(capacities[k].least(direction)[1], "lbf") for k in loaded], "lbf")
        load = _array([number_in(load, "plf") for load in loaded.values()], "plf")
        names = list(formula.arguments)
        for k, s in zip(loaded, formula.bulk(**{names[0]: held, names[1]: load}), strict=True):
            found[k][words] = Q(float(s), "in")


def _array(values: Sequence[float], unit: str) -> Quantity:
    return Q(np.array(values), unit)


# --- showing -------------------------------------------------------------------------------


def spacing_tables(calc: Calculation, job: Job, walls: Sequence[Bolted]) -> None:
    """Steps of the wall with the closest bolts, loads and spacings of all, and what is not given."""
    _steps(calc, job, min(walls, key=lambda w: number_in(w.spacing, "in")))
    _loads_table(calc, job, walls)
    _framing_table(calc, job, walls)
    rows = []
    for w in walls:
        both = [s for name, s in w.spacings.items() if name.startswith("uplift with")]
        found = [
            *(w.spacings.get(k) for k in (RULE, "uplift", *_SHEARS.values())),
            min(both, default=None),
        ]
        rows.append(
            [
                w.sill.name,
                *("" if s is None else show_length(s, job.system, True) for s in found),
                w.governs,
            ]
        )
    columns = [
        "Wall",
        "Rule",
        "Uplift",
        "Shear along",
        "Shear across",
        "Uplift with shear",
        "Smallest, by",
    ]
    calc.table(
        "Largest spacing, wall by wall, by each reason",
        records(columns, rows),
        spacing_for_uplift.source,
    )
    missing = {
        w.sill.name: [words for key, words in _LOADS.items() if w.load(key) is None] for w in walls
    }
    missing = {name: lacks for name, lacks in missing.items() if lacks}
    if missing:
        calc.ask_engineer(
            f"Uplift and shear on the walls {', '.join(missing)}", sill_rule("most spacing")[1],
            f"Not given: {'; '.join(f'{name}: ' + ', '.join(lacks) for name, lacks in missing.items())}. Wind loads are not guessed: take them from the engineer or the adopted code's tables. Until then "
            "only the code's largest spacing is used there.",
        )  # fmt: skip


def _loads_table(calc: Calculation, job: Job, walls: Sequence[Bolted]) -> None:
    rows = []
    for w in walls:
        loads = (w.sill.uplift, w.sill.shear, w.sill.shear_out)
        rows.append([
            w.sill.name, f"{w.line.corners[0]} to {w.line.corners[1]}",
            w.sill.species,
            f"{w.sill.plies} × {show_length(w.sill.ply, job.system, True)}", w.sill.method,
            *(show(v, "plf", job.system) if v is not None else "not given" for v in loads),
        ])  # fmt: skip
    columns = ["Wall", "Corners", "Wood", "Plate", "Bolts", "Uplift", "Shear along", "Shear across"]
    calc.table("Walls and their loads, service level (ASD)", records(columns, rows))


def _framing_table(calc: Calculation, job: Job, walls: Sequence[Bolted]) -> None:
    """What stands in each wall, for the engineer and for the one who frames it."""
    rows = []
    for w in walls:
        sill, length = w.sill, Q(w.line.length, "ft")
        doors = [
            f"{w.layout.rules.at(a)} to {w.layout.rules.at(b)}"
            for a, b in door_spans(sill, length, job.system)
        ]
        rows.append([
            sill.name, show_length(length, job.system), ", ".join(w.layout.rules.text(b - a) for a, b in w.layout.pieces),
            ", ".join(doors) or "none", show_length(sill.stud_spacing, job.system, True), sill.jacks,
            "none" if sill.bar_spacing is None else show_length(sill.bar_spacing, job.system, True),
        ])  # fmt: skip
    calc.note(
        "The bolts miss studs that stand flush at both ends of each wall and on centers from its start, near the corner where "
        "its tape is held. Frame them so, or lay the bolts out anew."
    )
    columns = [
        "Wall",
        "Length",
        "Pieces of plate",
        "Doors, on the tape",
        "Studs at",
        "Jacks",
        "Bars at",
    ]
    calc.table("What stands in the walls", records(columns, rows))


def _steps(calc: Calculation, job: Job, w: Bolted) -> None:
    rule, source, _ = code_rule(job)
    calc.note(
        f"Spacing in the wall {w.sill.name}, where it is smallest: the code's rule is {show_length(rule, calc.system, True)}."
    )
    name, T = w.capacity.least("uplift")
    s_u = None
    u = w.load("uplift")
    if u:
        s_u = calc.step(spacing_for_uplift, f"Uplift; one bolt is limited by {name}.", T=T, w=u)
    for direction, words in _SHEARS.items():
        load = w.load(direction)
        if not load:
            continue
        name, Z = w.capacity.least(direction)
        s_v = calc.step(
            spacing_for_shear,
            f"{words.capitalize()} the wall; one bolt is limited by {name}.",
            Z=Z,
            v=load,
        )
        if s_u is not None:
            calc.step(spacing_for_both, f"Uplift and {words} the wall at once.", s_u=s_u, s_v=s_v)
    calc.finding(
        f"The smallest of the spacings above, by {w.governs}.", "s_max", w.spacing, "in", source, "spacing",
        "largest spacing, governing wall",
    )  # fmt: skip
