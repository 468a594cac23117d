"""Cast now or drilled later: cost, and the risk that a cast bolt comes up under a stud."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.showing import show
from calcbook.basis.units import Q
from calcbook.bolts.capacity import bolt_row
from calcbook.bolts.chart import misses_chart
from calcbook.bolts.epoxy import epoxy_volume
from calcbook.bolts.misplacement import (
    blocked_share,
    odds_of_miss,
    rooms_of,
    simulate_misses,
    total_spread,
)
from calcbook.bolts.sill import expected_cost, hole_material
from calcbook.bolts.walls import STUD
from calcbook.plan.tape import STEPS_TO_AN_INCH

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.bolts.bolted import Bolted
    from calcbook.job.file import Job


def compare(calc: Calculation, job: Job, walls: Sequence[Bolted]) -> None:
    """Enter odds and costs of casting against drilling, for all bolts of the job."""
    n = sum(len(w.layout.bolts) for w in walls)
    if not n:
        return
    bolts = job.bolts
    spreads = [calc.given(job, f"bolts.{name}", s) for name, s in (
        ("place_spread", "sigma_b"), ("stud_spread", "sigma_s"), ("tape_spread", "sigma_t"),
    )]  # fmt: skip
    calc.step(
        total_spread,
        "How far a cast bolt strays from its place in the stud bay.",
        sigma_b=spreads[0],
        sigma_s=spreads[1],
        sigma_t=spreads[2],
    )
    misses = simulate_misses(
        tuple(rooms_of(w.layout, STEPS_TO_AN_INCH[job.system]) for w in walls),
        *(s.m_as("inch") for s in spreads),
    )
    n_miss = calc.finding(
        "Bolts expected to come up in the way, if all are cast by the tape list: each bolt's room beside it against the spread.",
        "n_miss", misses.expected, "1", odds_of_miss.source, "misses", "bolts expected in the way, cast by the list",
    )  # fmt: skip
    spacing = min(w.sill.stud_spacing for w in walls)
    p_0 = calc.step(
        blocked_share, "Odds for each bolt, if they are cast without regard to the studs.", t_s=Q(STUD, "in"),
        a=bolts.washer / 2 + bolts.clear, s=spacing,
    )  # fmt: skip
    calc.note(
        f"In {misses.counts.size:,} drawn jobs, {misses.any * 100:.0f} % had at least one bolt in the way, and 19 of 20 had at most "
        f"{misses.at(0.95):.0f}. Without regard to the studs it would be about {p_0 * n:.0f} of {n}. A drilled bolt goes "
        "where the finished wall leaves room; its risk is a bar in the way of the drill."
    )
    calc.figure("Bolts in the way, if cast", lambda: misses_chart(misses, n, p_0))
    _costs(calc, job, n, n_miss, p_0 * n)


def _costs(calc: Calculation, job: Job, n: int, n_miss: float, n_careless: float) -> None:
    prices, bolts = job.prices, job.bolts
    needed = {"bolt": prices.bolt, "rod": prices.rod, "epoxy": prices.epoxy, "wage": prices.wage}
    if any(v is None for v in needed.values()):
        missing = ", ".join(k for k, v in needed.items() if v is None)
        calc.note(f"For the cost of casting against drilling, give the prices of: {missing}.")
        return
    d_a = Q(bolt_row(job)["d_in"], "in")
    if bolts.hole <= d_a:
        return
    V_1 = epoxy_volume(bolts.hole, d_a, bolts.depth, 1.0, bolts.epoxy_waste.m_as(""))
    c_r = calc.step(
        hole_material,
        "Material of one drilled bolt.",
        p_r=prices.rod,
        p_k=prices.epoxy,
        V_1=V_1,
        V_k=bolts.cartridge,
    )
    again = dict(c_fix=c_r, r_fix=bolts.repair_rate, wage=prices.wage)
    rows = (
        (
            "cast",
            "All cast by the tape list, those in the way replaced.",
            prices.bolt,
            bolts.set_rate,
            n_miss,
        ),
        ("careless", "All cast without regard to the studs.", prices.bolt, bolts.set_rate, n_careless),
        ("drilled", "All drilled after the walls stand.", c_r, bolts.drill_rate, 0.0),
    )
    costs = {
        key: calc.step(expected_cost, words, name=f"cost_{key}", label=words.rstrip(".").lower(), n=float(n), c_1=c_1, r=r, n_miss=m, **again)
        for key, words, c_1, r, m in rows
    }  # fmt: skip
    cheaper = "casting" if costs["cast"] <= costs["drilled"] else "drilling"
    calc.note(
        f"On these prices {cheaper} is cheaper, by {show(abs(costs['drilled'] - costs['cast']), '$', job.system)} for the job. Cast bolts "
        "also hold more, and hold on the day the walls stand; drilled ones wait for 21-day concrete and for the adhesive."
    )
