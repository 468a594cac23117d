"""Laws and their rivals: what each empirical law of the book decides, and what another published one would say."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from calcbook.basis.calculation import Calculation, Found
from calcbook.basis.coherent import from_coherent
from calcbook.basis.showing import show
from calcbook.basis.sources import cite
from calcbook.basis.table import lookup
from calcbook.basis.units import Q, unit
from calcbook.bolts.anchor_bond import default_bond_stress
from calcbook.concrete.curing import strength_aci209, strength_mc90
from calcbook.concrete.maturity import E_TYPE_I, hansen_energy, maturity_rate
from calcbook.pour.site import Missing
from calcbook.pour.sky import CLEAR_SKIES, CLOUD_RIVALS, sky_brutsaert, sky_clouded
from calcbook.pour.surface import convection_coefficient, convection_leeward, convection_mcadams
from calcbook.pour.weather import dew_point, evaporation_uno, saturation_pressure
from calcbook.reinforcement.fiber import collapse_moment, fiber_collapse_load
from calcbook.slab.properties import joint_stress, modulus_of_rupture, safety_factor, size_effect
from calcbook.slab.westergaard import edge_stress, interior_stress, radius_of_relative_stiffness

if TYPE_CHECKING:
    from calcbook.concrete.hydration import Mix
    from calcbook.job.file import Job
    from calcbook.pour.plan import Day
    from calcbook.pour.week import FirstWeek
    from calcbook.slab.check import SlabFound

HEAD = ("law", "decides", "by the book", "by the rival", "rival", "side taken")
WIDE = Q(10, "ft")  # ground loaded over the width of a panel
MOST_FIBER = 30.0  # R_e3 in percent, a usual dosage, to show what the law is worth


class Rows:
    """The rows of the table, each a law against one rival."""

    def __init__(self, calc: Calculation) -> None:
        self.calc = calc
        self.rows: list[dict[str, str]] = []

    def add(self, law: str, decides: str, book: str, other: str, rival: str, side: str) -> None:
        """Enter a row; the cells are finished text, under ``HEAD``."""
        self.rows.append(dict(zip(HEAD, (law, decides, book, other, rival, side), strict=True)))


def chapter(
    job: Job, mix: Mix, day: Day | Missing, nights: FirstWeek | Missing, slab: SlabFound
) -> Found:
    """Every empirical law that decides something, and its rivals; what each is: see the names."""
    calc = Calculation(
        "laws", "Laws and their rivals",
        "Fitted laws disagree: what would another published one decide on this job?", job.system,
    )  # fmt: skip
    rows = Rows(calc)
    if isinstance(nights, Missing):
        calc.note(f"{nights.what} Until then the laws of the weather are not compared.")
    else:
        _night(calc, nights)
        night = Rows(calc)
        _surface(night, job, nights)
        calc.table("What each law of the night makes of the planned slab", night.rows)
    if not isinstance(day, Missing):
        _set_and_drying(rows, job, day)
    _clocks(rows, job, mix)
    _strength(rows, job)
    if slab.wheel is not None:
        _slab(rows, job, slab.wheel)
    _bond(rows, job)
    calc.table("What each other law decides, and what its rival would say", rows.rows)
    calc.note(
        'A row that says "spread shown" takes no side: read both figures. No rival could be read for the curve of '
        "hydration itself, the sun through cloud, and the bond of a given adhesive (its maker's report goes before "
        "any default)."
    )
    return Found(calc)


def _night(calc: Calculation, nights: FirstWeek) -> None:
    """Each law of sky and film once, at the planned slab's coldest hour."""
    site, at = nights.week.site, nights.planned.at
    air, humidity, cloud, wind = (
        float(np.interp(at, site.hours, getattr(site, name))) for name in ("air", "humidity", "cloud", "wind")
    )  # fmt: skip
    celsius = from_coherent(air, "degC")
    known: dict[str, Any] = {
        "T_a": Q(air, "K"),
        "e_a": Q(humidity * float(saturation_pressure.bulk(T=celsius)), "kPa"),
        "T_d": Q(float(dew_point.bulk(T=celsius, RH=humidity)), "degC").to("K"),
    }
    calc.note("The laws of sky and wind at the hour in which the planned slab is coldest:")
    for law in CLEAR_SKIES:
        calc.step(law, symbol="eps_0", **{name: known[name] for name in law.arguments if name in known})
    clear = sky_brutsaert(known["e_a"], known["T_a"])
    for law in (sky_clouded, *CLOUD_RIVALS):
        calc.step(law, symbol="eps_sky", eps_0=clear, N=min(max(cloud, 0.0), 1.0))
    V = Q(wind, "mph").to("m/s")
    for law in (convection_coefficient, convection_mcadams, convection_leeward):
        calc.step(law, symbol="h_c", V=V)


def _surface(rows: Rows, job: Job, nights: FirstWeek) -> None:
    def told(kelvin: float) -> str:
        return show(Q(kelvin, "K").to("degF"), "degF", job.system)

    book = nights.by_law[0][1]
    for law, outcome in nights.by_law[1:]:
        verdict = "" if outcome.survives == book.survives else (
            " (survives)" if outcome.survives else " (FREEZES)"
        )  # fmt: skip
        rows.add(law.kind, "frost: coldest surface", told(book.lowest), told(outcome.lowest) + verdict, law.words,
                 "the coldest of all decides")  # fmt: skip
    spread = max(abs(outcome.lowest - book.lowest) for _, outcome in nights.by_law)
    rows.calc.finding(
        "The worst difference that a law of sky, cloud or wind makes to the planned slab's coldest surface.",
        "Delta T_law", Q(spread, "K").to("delta_degF"), "delta_degF", cite("Li 2017", "laws compared"),
        name="spread", label="spread of the laws of the night",
    )  # fmt: skip


def _set_and_drying(rows: Rows, job: Job, day: Day) -> None:
    for side, bands in day.bands.items():
        for event, band in bands.items():
            if np.isfinite(band.late):
                (first, early), *others = band.by_series
                for series, hours in others:
                    rows.add(f"set by temperature, {side}", f"{event} set", f"{float(early):.1f} h ({first.name})",
                             f"{float(hours):.1f} h", f"{series.name} ({series.source})",
                             "both ends are the band: be there for the early one")  # fmt: skip
    n = day.drying.peak
    menzel, uno = (
        show(Q(float(rate[n]), "lb/ft2/h"), "lb/ft2/h", job.system)
        for rate in (day.drying.menzel, day.drying.uno)
    )
    rows.add("evaporation", "precautions against drying", menzel, uno, f"Uno ({evaporation_uno.source})",
             "spread shown; Menzel is what the limits were set for")  # fmt: skip


def _clocks(rows: Rows, job: Job, mix: Mix) -> None:
    T, T_ref = Q(50, "degF"), Q(70, "degF")
    book = maturity_rate(T, E_TYPE_I, T_ref)
    cold = show(T, "degF", job.system)
    for energy, words in ((mix.E_a, "Schindler 2004"), (hansen_energy(T), str(hansen_energy.source))):
        rows.add("hydration: speed in the cold", f"strength: what an hour at {cold} counts", f"{book:.2f}",
                 f"{maturity_rate(T, energy, T_ref):.2f}", f"energy of {words}",
                 "strength takes the slower of ASTM C1074 and Hansen's")  # fmt: skip


def _strength(rows: Rows, job: Job) -> None:
    gain = lookup("strength_gain", cement="III" if job.concrete.cement == "III" else "I")
    f_28 = job.concrete.strength
    for days in (1, 3):
        age = Q(days, "day")
        book = strength_aci209(age, f_28, Q(gain["a_days"], "day"), gain["b"])
        other = strength_mc90(age, f_28, gain["s"])
        rows.add("strength by age", f"loading, after {days} d at {show(Q(70, 'degF'), 'degF', job.system)}", show(book, "psi", job.system),
                 show(other, "psi", job.system), f"Model Code ({strength_mc90.source})",
                 "the lowest curve decides on frost and loading")  # fmt: skip


def _slab(rows: Rows, job: Job, wheel: dict[str, Any]) -> None:
    edge, inside = edge_stress(**wheel), interior_stress(**wheel)
    share = job.vehicle.transfer.m_as("")
    given, full = joint_stress(edge, share), joint_stress(edge, 0.25)
    psi = [show(x, "psi", job.system) for x in (given, full, inside)]
    rows.add("load transfer at a joint", "wheel at a joint", psi[0], psi[1],
             f"25 % crosses ({joint_stress.source}), where the joint's deflection ratio is 0.76 or more",
             "none crosses an undoweled joint unless the job says so")  # fmt: skip
    wide = size_effect(wheel["k"], WIDE)
    softer = show(interior_stress(**(wheel | {"k": wide})), "psi", job.system)
    rows.add("stiffness of the ground", "wheel inside a panel", f"{psi[2]} at k = {show(wheel['k'], 'pci', job.system)}",
             f"{softer} at k = {show(wide, 'pci', job.system)}", f"size of the loaded area ({size_effect.source})",
             "spread shown; a plate test goes before any table")  # fmt: skip
    _after_crack(rows, job, wheel)


def _after_crack(rows: Rows, job: Job, wheel: dict[str, Any]) -> None:
    f_r = modulus_of_rupture(job.concrete.strength)
    length = radius_of_relative_stiffness(wheel["E_c"], wheel["h"], wheel["nu"], wheel["k"])
    band = Q(1, "in")
    M_o = collapse_moment(f_r, MOST_FIBER, band, wheel["h"]) / band
    collapse = fiber_collapse_load(M_o, wheel["a"], length)
    first_crack = wheel["P"] * safety_factor(f_r, interior_stress(**wheel))
    rows.add("fiber after the crack", f"load inside a panel, R_e3 {MOST_FIBER:g} %", "not counted",
             f"{show(collapse, 'lbf', job.system)} at collapse against {show(first_crack, 'lbf', job.system)} at the "
             f"first crack", f"Meyerhof ({fiber_collapse_load.source}); Subba Rao 1986 objects",
             "fiber adds nothing to what the slab bears here")  # fmt: skip


def _bond(rows: Rows, job: Job) -> None:
    tau = default_bond_stress(job.bolts.place_of_use, job.bolts.concrete)
    row = lookup("bond_metric", place_of_use=job.bolts.place_of_use)
    metric = Q(1000 * row[f"{job.bolts.concrete}_MPa"], "kPa")
    rows.add("bond of an adhesive", "drilled bolts without a maker's report", show(tau, "psi", job.system),
             show(metric.to(unit("psi")), "psi", job.system), "the metric edition's own table (ACI 318M-19)",
             "the lower one, and the maker's report before either")  # fmt: skip
