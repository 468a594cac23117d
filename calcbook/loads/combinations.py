"""Loads of a post or wall put together: the combinations of the standard, and which one governs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from calcbook.basis.arguments import quantity
from calcbook.basis.formula import FormulaError, arg, cite, formula, procedure, result
from calcbook.basis.table import table
from calcbook.basis.units import Q, number_in
from calcbook.loads.from_job import on_line, own_weight
from calcbook.loads.statics import spread_reaction, wall_weight

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Given, Quantity
    from calcbook.job.file import Job
    from calcbook.job.schema.walls import Wall

LOAD = arg("lbf", "load of the post", low=0)
NONE = Q(0, "lbf")


@formula(
    "Combined load",
    cite("ASCE 7-16", "2.3.1 and 2.4.1"),
    result("lbf", "combined load"),
    P_D=arg("lbf", "dead load"),
    P_L=arg("lbf", "floor live load"),
    P_S=arg("lbf", "roof load, the greater of snow and roof live"),
    g_D=arg("1", "factor on dead load", low=0, high=2),
    g_L=arg("1", "factor on floor live load", low=0, high=2),
    g_S=arg("1", "factor on roof load", low=0, high=2),
)
def combined_load(P_D, P_L, P_S, g_D, g_L, g_S):
    """A post's load in one load combination. Loads in lbf, factors from the table."""
    P = g_D * P_D + g_L * P_L + g_S * P_S
    return P


@procedure(
    "Governing load combination",
    cite("ASCE 7-16", "2.3.1 and 2.4.1"),
    "every combination of the table is computed; the greatest load governs",
)
def governing_combination(
    kind: str, P_D: Given, P_L: Given = NONE, P_S: Given = NONE
) -> dict[str, Any]:
    """The row of the combination that gives the greatest downward load.

    kind: "strength" (factored) or "allowable" (for soil pressure); P_D, P_L, P_S: dead, floor live
    and roof load, lbf. Returns the row of the table of combinations.
    """
    loads = [quantity("governing_combination", n, v, LOAD).m_as("lbf") for n, v in
             (("P_D", P_D), ("P_L", P_L), ("P_S", P_S))]  # fmt: skip
    return governing_row(kind, *loads)


def governing_row(kind: str, P_D: float, P_L: float, P_S: float) -> dict[str, Any]:
    """``governing_combination`` for plain numbers: P_D, P_L, P_S, all in one unit of load."""
    rows = [row for row in table("combinations") if row["kind"] == kind and not row["W"]]
    if not rows:
        raise FormulaError(f"governing_combination: kind = {kind!r}; choose strength or allowable")
    return max(rows, key=lambda row: _load(row, P_D, P_L, P_S))


def governing_load(kind: str, P_D: float, P_L: float, P_S: float) -> float:
    """The greatest load that P_D, P_L and P_S combine to, of a kind ("strength" or "allowable").

    Plain numbers, all in one unit of load.
    """
    return _load(governing_row(kind, P_D, P_L, P_S), P_D, P_L, P_S)


def _load(row: dict[str, Any], P_D: float, P_L: float, P_S: float) -> float:
    return combined_load.body(P_D, P_L, P_S, row["D"], row["L"], row["S"])


def combined(
    calc: Calculation, kind: str, loads: Sequence[Quantity], words: str, symbol: str
) -> Quantity:
    """Enter the governing combination of three loads as a step of a calculation; returns lbf.

    calc: a Calculation; kind: "allowable" or "strength"; loads: dead, floor live and roof load, lbf;
    words: who carries them and for what; symbol: of the result.
    """
    row = governing_row(kind, *(number_in(load, "lbf") for load in loads))
    P_D, P_L, P_S = loads
    return calc.step(
        combined_load, f"{words}, {row['name']} governs.", symbol,
        P_D=P_D, P_L=P_L, P_S=P_S, g_D=row["D"], g_L=row["L"], g_S=row["S"],
    )  # fmt: skip


def wall_loads(wall: Wall) -> list[Quantity]:
    """(dead, floor, roof) of a wall as loads on one foot of it, in lbf, from its line loads."""
    dead, live, roof = on_line(wall)
    D, L, S, own = (number_in(w, "plf") for w in (dead, live, roof, own_weight(wall)))
    return [Q(D + own, "lbf"), Q(L, "lbf"), Q(S, "lbf")]


def enter_trusses(calc: Calculation, job: Job, index: int) -> None:
    """Enter what the trusses of a wall bring by length; it is counted with the loads of its line."""
    wall = job.walls[index]
    for n, t in enumerate(wall.trusses):
        place = f"walls.{index}.trusses.{n}"
        s = calc.given(job, f"{place}.spacing", "s", f"{wall.name}, {t.name}, spacing")
        for key, words in (("dead", "dead load"), ("live", "floor load"), ("roof", "roof load")):
            if getattr(t, key).magnitude:
                P = calc.given(job, f"{place}.{key}", "P", f"{wall.name}, {words} of one of {t.name}")
                calc.step(spread_reaction, f"{wall.name}, {t.name}: their {words} by length.", P=P, s=s)


def wall_line_load(calc: Calculation, job: Job, index: int) -> Quantity:
    """Enter a wall's loads and their governing combination. Returns lbf on one foot of wall."""
    name = job.walls[index].name
    for key, symbol in (("dead", "w_D"), ("live", "w_L"), ("roof", "w_S")):
        calc.given(job, f"walls.{index}.{key}", symbol, f"{name}, {key} load")
    enter_trusses(calc, job, index)
    if job.walls[index].weight.magnitude:
        p = calc.given(job, f"walls.{index}.weight", "p", f"{name}, its own weight by area")
        h = calc.given(job, f"walls.{index}.height", "h", f"{name}, height")
        calc.step(wall_weight, f"{name} itself; it is counted with the dead load.", p=p, h=h)
    loads = wall_loads(job.walls[index])
    return combined(calc, "allowable", loads, f"{name}: one foot of wall, unfactored", "P_a")
