"""Bars along the thickened edge: their laps by the rule, on the straight and around the corners, and how much is bought.

They hold cracks together, and stand where a code or an engineer asks for them; the chapter on edges counts their strength
where a wall lifts the edge.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.formula import arg, cite, formula, result
from calcbook.basis.pricing import person_hours
from calcbook.basis.rounding import ceil
from calcbook.basis.showing import magnitude, show, show_length
from calcbook.basis.table import lookup
from calcbook.basis.units import Q, Quantity
from calcbook.job.bars import bar_key, bars_bought, lapped, whole_bars
from calcbook.job.edges import edges_of, side_lengths
from calcbook.slab.steel import development_length, lap_splice

if TYPE_CHECKING:
    from calcbook.basis.calculation import Calculation
    from calcbook.job.file import Job

_SEISMIC = ("D0", "D1", "D2", "E", "F")
_LEAST = 2.0  # one at the top and one at the bottom
_CLAUSE = cite(
    "IRC 2021", "R403.1.3: one No. 4 bar at top and bottom of a turned-down footing, D0 to D2"
)


@formula(
    "Length of the bars along an edge",
    cite("geometry", "runs, laps on them, and a bent bar with two laps at each corner"),
    result("ft", "length of bars along the edge"),
    n=arg("1", "bars side by side", low=0),
    L=arg("ft", "length of the edge", low=0),
    m=arg("1", "laps on the straight", low=0),
    n_c=arg("1", "corners that the edge goes around", low=0),
    l_st=arg("in", "lap", low=0),
)
def edge_bar_length(n, L, m, n_c, l_st):
    """What is bought of bars that run all around: at a corner a bent bar laps with both runs."""
    L_b = n * (L + (m + 2 * n_c) * l_st)
    return L_b


def runs(job: Job, stock: float, lap: float) -> tuple[list[list[float]], float, int]:
    """(bars of a line along each side that has an edge, length of those sides, corners that the edge goes around).

    stock, lap: length of a bar and lap, ft, as what is returned.
    """
    lengths, there = side_lengths(job), [edge.depth.magnitude > 0 for edge in edges_of(job)]
    own = [s for s, has in zip(lengths, there, strict=True) if has]
    corners = sum(a and b for a, b in zip(there, [*there[1:], there[0]], strict=True))
    return [lapped(s, stock, lap) for s in own], sum(own), corners


def edge_bars(calc: Calculation, job: Job) -> None:
    """Enter the bars of the edge: lap, length, takeoff and hours; and whether the seismic category asks for them."""
    if not any(edge.depth.magnitude for edge in edges_of(job)):
        return
    if job.design.seismic in _SEISMIC:
        calc.check(
            "Bars along the thickened edge", _LEAST, float(job.edge.bars), "1", _CLAUSE,
            f"Seismic category {job.design.seismic}.", least=True, to_do="Give edge.bars, and #4 or more.",
        )  # fmt: skip
    if not job.edge.bars:
        return
    n = float(calc.given(job, "edge.bars", "n"))
    size = calc.given(job, "edge.bar")
    f_y = calc.given(job, "reinforcement.bar_yield", "f_y")
    stock = calc.given(job, "reinforcement.bar_length", "l_s")
    l_d = calc.step(
        development_length, f"Bars along the edge, {size}: the length in which one takes up its full strength.",
        f_y=f_y, f_c=job.concrete.strength, d_b=Q(lookup("bars", size=size)["diameter_in"], "in"),
    )  # fmt: skip
    needed = calc.step(lap_splice, "Lap of two of them, on the straight and at each leg of a corner bar.", l_d=l_d)  # fmt: skip
    unit_name, step = ("in", 1.0) if job.system == "us" else ("mm", 10.0)
    lap = Quantity(float(ceil(needed.m_as(unit_name) / step)) * step, unit_name)
    l_st = float(lap.m_as("foot"))
    sides, length, corners = runs(job, float(stock.m_as("foot")), l_st)
    laps = sum(len(side) - 1 for side in sides)
    L = calc.step(
        edge_bar_length, f"All around: {laps} laps on the straight in each line, {corners} corners with bent bars, laps of "
        f"{show_length(lap, job.system)}.", n=n, L=Q(length, "ft"), m=float(laps), n_c=float(corners), l_st=lap,
        name="edge_bars", label="bars along the edge",
    )  # fmt: skip
    with calc.for_builder():
        pieces = [piece for side in sides for piece in side] + [2 * l_st] * corners
        count, bought = bars_bought(job, whole_bars(job, pieces * round(n)))
        words = f"{size} along the edge, {n:g} bars, laps {show(lap, 'in', job.system)}, {corners * n:g} bent bars at corners, {count}"
        calc.take(words, bought, "ft", bar_key(size))
        at, rate = (magnitude(v, "ft", job.system) for v in (L, job.reinforcement.bar_rate))
        calc.work("Tying the bars of the edge", calc.step(person_hours, "Hours to tie them.", n=at, rate=Q(rate, "1/h")))  # fmt: skip
    calc.note(
        "A lap at a corner is no lap: bars that only cross there pull out. Each corner gets bent bars that lap with both sides. "
        "Half of the bars lie at the top of the edge and half at its bottom (a bar more there where the number is odd). Their "
        "strength is counted where a wall lifts the edge (chapter on edges), nowhere else: across its width, and in shear, the edge "
        "counts as plain concrete."
    )
