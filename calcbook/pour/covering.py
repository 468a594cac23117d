"""What comes on top of a slab: the flatness that it asks, how that is struck off, and the drying before it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from calcbook.basis.formula import arg, cite, formula, procedure, result
from calcbook.basis.showing import show, show_length
from calcbook.basis.table import lookup, records, table
from calcbook.basis.units import Q

if TYPE_CHECKING:
    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job

_BREWER = Q(4, "in")  # thickness of the specimens
_PASSES = 3  # that make a hard troweled floor, the float included
TESTS = cite("ASTM F710", "limits of F2170 and F1869, from memory")


@formula(
    "Drying by the rule of the trade",
    cite("Construction Specifier drying", "28 to 30 days for each inch, only an approximation"),
    result("day", "drying by the rule of the trade"),
    t=arg("in", "slab thickness", above=0),
    one=arg("in", "the inch of the rule", above=0, symbol="t_1"),
    D_1=arg("day", "drying of one inch", above=0),
)
def drying_rule(t, one=Q(1, "in"), D_1=Q(30, "day")):
    """Days that a slab over a vapor retarder dries before it may be covered, by the maxim. Counted from a closed building.

    >>> print(drying_rule("4 in"))
    120.0 day
    """
    D = t / one * D_1
    return D


@procedure(
    "Drying as it was measured",
    cite("Brewer 1965", "4 in. slabs that dry on one side, to 3 lb/1000 ft²/24 h; from memory"),
    "Days between the mixes measured are read off along a straight line by w/cm; outside them the nearest stands.",
    returns=result("day", "drying measured"),
)
def drying_measured(w_cm: float) -> Quantity:
    """Days by Brewer's measurements. w_cm: water-cement ratio of the mix (plain). Returns a quantity in days."""
    rows = table("drying")
    return Q(float(np.interp(w_cm, [r["w_cm"] for r in rows], [r["days"] for r in rows])), "day")


def enter_covering(calc: Calculation, job: Job, w_cm: float) -> None:
    """Enter what [slab] covering asks; nothing where none is named. w_cm: of the mix."""
    if job.slab.covering is None:
        return
    kind = calc.given(job, "slab.covering")
    row = lookup("toppings", kind=kind)
    rank = lookup("floor_classes", **{"class": row["class"]})
    gap = show_length(Q(row["gap_in"], "in"), job.system, small=True)
    under = show(Q(10, "ft"), "ft", job.system)
    cells = [
        ("gap under a straightedge", f"{gap} in {under}", str(row["source"])),
        ("class of the floor", row["class"], str(rank["source"])),
        (
            "F-numbers (ASTM E1155)",
            f"flatness FF {rank['FF']}, levelness FL {rank['FL']}",
            str(rank["source"]),
        ),
        ("strike-off", rank["strike_off"], "common practice"),
        ("finish", row["finish"], str(row["source"])),
    ]
    calc.table(
        f"On top comes: {kind}. What it asks of the surface",
        records(("of", "what", "says"), cells),
        rank["source"],
    )
    _passes(calc, job, kind)
    if job.slope.fall is not None:
        calc.note(
            "The top slopes: FL is for level floors only, and the gap is measured along the slope."
        )
    if rank["FF"] > 35:
        calc.ask_engineer(f"Flatness for {kind}", rank["source"],
                          "So flat a floor is beyond most small crews.", job,
                          "Agree with the tile setter on a leveling bed, or on who measures it and when.")  # fmt: skip
    if row["moisture"] == "yes":
        _drying(calc, job, kind, w_cm)


def _passes(calc: Calculation, job: Job, kind: str) -> None:
    if kind in ("bare", "sealed"):
        calc.check("Passes for a hard troweled floor", float(_PASSES), float(job.crew.passes), "1", cite("common practice"),
                   to_do="Plan one more pass (crew.passes).", least=True)  # fmt: skip


def _drying(calc: Calculation, job: Job, kind: str, w_cm: float) -> None:
    calc.step(drying_rule, "How long it dries from the day the roof and walls are closed, by the trade's rule of thumb.",
              "D", "drying_rule", t=job.slab.thickness)  # fmt: skip
    calc.finding(
        f"Measured on slabs {show_length(_BREWER, job.system, small=True)} thick, for this w/cm; "
        "elsewhere published times run from two months to many months (Suprenant and Malisch, Concrete Construction).",
        "D", drying_measured(w_cm), "day", drying_measured.source, "drying", "drying, as measured",
    )  # fmt: skip
    if job.slab.thickness != _BREWER:
        calc.note(
            "The slab has another thickness than those measured: the book does not scale the figure."
        )
    calc.not_worked_out(
        f"No sum tells when it is dry enough for {kind}. Measure: 75 % relative humidity in the slab (ASTM F2170) or "
        "3 lb/1000 ft² in 24 h (ASTM F1869) where the maker of the covering says nothing; the maker's own limit goes first.",
        f"Moisture of the slab before {kind} comes on it", TESTS,
    )  # fmt: skip
