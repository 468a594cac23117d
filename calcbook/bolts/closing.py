"""What a wall brings against what its bolts and the concrete under its plate take: sums that close."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.showing import show
from calcbook.basis.table import records
from calcbook.basis.units import Q
from calcbook.loads.closing import LIFT, LIFT_STRENGTH, combinations

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.bolts.bolted import Bolted

_TIGHT = 1e-9  # of the largest sum
_LEAST = 1e-6  # pounds, more than noise


def closing_table(calc: Calculation, walls: Sequence[Bolted]) -> None:
    """The sums of every wall in every combination with wind, and a check that nothing is lost."""
    rows, worst, loose = [], 0.0, []
    for w in walls:
        for found, _ in w.closed.values():
            worst = max(worst, abs(found.remainder) / found.scale)
            if found.loose > _LEAST and w.sill.name not in loose:
                loose.append(w.sill.name)
            if found.name not in (LIFT, LIFT_STRENGTH):
                continue
            told = (found.wind, found.down, found.bolts, found.pressed, found.loose, found.remainder)
            rows.append([
                w.sill.name, found.name, *(show(Q(round(x, 6) + 0.0, "lbf"), "lbf", calc.system, exact=False) for x in told)
            ])  # fmt: skip
    columns = ["Wall", "Combination", "Wind lifts", "Dead and other press", "Bolts hold", "Pressed on the concrete",
               "Without bolts", "Remainder"]  # fmt: skip
    calc.table(
        "What comes to each plate and what takes it, the combinations that lift most",
        records(columns, rows),
    )
    calc.verdict(
        "Load of the walls that reaches no bolt and no concrete", worst <= _TIGHT, combinations()[0]["source"],
        "0" if worst <= _TIGHT else f"{worst:.2g} of the load", "none allowed",
    )  # fmt: skip
    if loose:
        calc.ask_engineer(
            f"Uplift where no bolted plate is, walls {', '.join(loose)}", combinations()[0]["source"],
            "A jamb or post there stands on no bolted piece of plate: it needs a strap or hold-down of its own.",
        )  # fmt: skip
