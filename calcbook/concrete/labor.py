"""Labor of the pour: how fast a job's crew places and finishes, and the person-hours of both."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from calcbook.basis.units import Q, number_in
from calcbook.concrete.crew import finishing_hours, finishing_labor, placing_labor, placing_rate

if TYPE_CHECKING:
    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job

PLACING = "Placing and striking off"  # lines of the takeoff
FINISHING = "Floating and troweling"
OTHER_SCREED = {"power": "hand", "hand": "power"}


def placing_inputs(job: Job, screed: str | None = None) -> dict[str, Any]:
    """The arguments of ``placing_rate`` for a job; screed: "power" or "hand", else the job's."""
    crew = job.crew
    struck = crew.power_screed_rate if (screed or crew.screed) == "power" else crew.screed_rate
    return dict(
        Q_d=job.pour.empty_rate,
        n=float(crew.size),
        q_p=Q(number_in(crew.place_rate, "yd3"), "yd3/h"),
        R_s=Q(number_in(struck, "ft2"), "ft2/h"),
        t=min([job.slab.thickness, *(one.slab.thickness for one in job.poured_with)]),  # the safe side
    )


def finishing_inputs(job: Job, power: bool = True) -> dict[str, Any]:
    """The arguments of ``finishing_hours`` for a job, without the area. power: False without machines."""
    crew = job.crew
    machines = min(crew.power_trowels, crew.finishers) if power else 0
    return dict(
        n_m=float(machines),
        R_m=Q(number_in(crew.trowel_rate, "ft2"), "ft2/h"),
        n_h=float(crew.finishers - machines),
        R_h=Q(number_in(crew.hand_rate, "ft2"), "ft2/h"),
    )


def take_labor(calc: Calculation, job: Job, need: Quantity) -> Quantity:
    """Enter placing and finishing into the takeoff of a calculation, at the rates of the pour's plan.

    calc: a Calculation; job: a Job; need: volume placed. Returns the rate of placing.
    """
    screed = "crew.power_screed_rate" if job.crew.screed == "power" else "crew.screed_rate"
    for place, symbol in (("pour.empty_rate", "Q_d"), ("crew.size", "n"), ("crew.place_rate", "q_p"),
                          ("crew.screed", ""), (screed, "R_s")):  # fmt: skip
        calc.given(job, place, symbol)
    Q_p = calc.step(placing_rate, "What the crew places in an hour: the slowest of truck or pump, hands and strike-off.",
                    symbol="Q_p", name="rate", **placing_inputs(job))  # fmt: skip
    calc.work(PLACING, calc.step(placing_labor, f"{PLACING}.", name="placing", V=need, Q_p=Q_p,
                                 n=float(job.crew.size)))  # fmt: skip
    for place, symbol in (("crew.finishers", "n_f"), ("crew.power_trowels", ""), ("crew.trowel_rate", "R_m"),
                          ("crew.hand_rate", "R_h")):  # fmt: skip
        calc.given(job, place, symbol)
    t_f = calc.step(finishing_hours, "Hours of all passes, with the machines and by hand.",
                    symbol="t_f", A=job.poured_area, **finishing_inputs(job))  # fmt: skip
    calc.work(FINISHING, calc.step(finishing_labor, f"{FINISHING}.", name="finishing", t_f=t_f,
                                   n_f=float(job.crew.finishers)))  # fmt: skip
    return Q_p
