"""Laws and their rivals: what each empirical law of the book decides, and what another published one would say."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from calcbook.basis.calculation import Calculation, Found
from calcbook.basis.coherent import from_coherent
from calcbook.basis.showing import show
from calcbook.basis.sources import cite
from calcbook.basis.table import lookup
from calcbook.basis.units import Q, number_in, unit
from calcbook.bolts.anchor_bond import default_bond_stress
from calcbook.concrete.curing import strength_aci209, strength_mc90
from calcbook.concrete.maturity import E_TYPE_I, hansen_energy, maturity_rate
from calcbook.pour.site import Missing
from calcbook.pour.sky import CLEAR_SKIES, CLOUD_RIVALS, sky_brutsaert, sky_clouded
from calcbook.pour.surface import (
    cloudy_sun,
    cloudy_sun_linear,
    convection_coefficient,
    convection_leeward,
    convection_mcadams,
)
from calcbook.pour.weather import dew_point, evaporation_uno, saturation_pressure
from calcbook.reinforcement.fiber import collapse_moment, fiber_collapse_load
from calcbook.slab.properties import joint_stress, modulus_of_rupture, safety_factor, size_effect
from calcbook.slab.westergaard import edge_stress, interior_stress, radius_of_relative_stiffness

if TYPE_CHECKING:
    from collections.abc import Iterable

    from calcbook.concrete.hydration import Mix
    from calcbook.job.file import Job
    from calcbook.pour.plan import Day
    from calcbook.pour.week import FirstWeek
    from calcbook.slab.check import SlabFound

HEAD = ("law", "decides", "by the book", "by the rival", "rival", "difference", "side taken")
WIDE = Q(5, "ft")  # the widest load that the rival law of the ground covers
MOST_FIBER = 30.0  # R_e3 in percent, a usual dosage, to show what the law is worth


@dataclass(frozen=True)
class Apart:
    """How far a rival stands from the book, as a number to compare by and as it is shown."""

    size: float
    text: str


def by_share(book: Any, other: Any) -> Apart:
    """The difference as a share of the book's value."""
    share = float(other / book) - 1
    return Apart(abs(share), f"{100 * share:+.0f} %")


class Rows:
    """The rows of the table, each a law against one rival."""

    def __init__(self, calc: Calculation) -> None:
        self.calc = calc
        self.rows: list[dict[str, str]] = []
        self.apart: list[Apart] = []

    def add(
        self, law: str, decides: str, book: str, other: str, rival: str, apart: Apart, side: str
    ) -> None:
        """Enter a row; the cells are finished text, under ``HEAD``."""
        cells = (law, decides, book, other, rival, apart.text, side)
        self.rows.append(dict(zip(HEAD, cells, strict=True)))
        self.apart.append(apart)


def worst(tables: Iterable[Rows]) -> list[dict[str, str]]:
    """One row for each law: its rivals, and the difference of the one that stands farthest off."""
    by_law: dict[str, list[tuple[Apart, str]]] = {}
    for table in tables:
        for row, apart in zip(table.rows, table.apart, strict=True):
            by_law.setdefault(row["law"], []).append((apart, row["rival"]))
    return [
        {
            "law": law,
            "rivals": "; ".join(dict.fromkeys(rival for _, rival in found)),
            "worst difference": max(found, key=lambda pair: pair[0].size)[0].text,
        }
        for law, found in by_law.items()
    ]


def chapter(
    job: Job, mix: Mix, day: Day | Missing, nights: FirstWeek | Missing, slab: SlabFound
) -> Found:
    """Every empirical law that decides something, and its rivals; what each is: see the names."""
    calc = Calculation(
        "laws", "Laws and their rivals",
        "Fitted laws disagree: what would another published one decide on this job?", job.system,
    )  # fmt: skip
    rows, night = Rows(calc), Rows(calc)
    if isinstance(nights, Missing):
        calc.note(f"{nights.what} Until then the laws of the weather are not compared.")
    else:
        _night(calc, nights)
        _surface(night, job, nights)
        calc.table("What each law of the night makes of the planned slab", night.rows)
        _sun_by_day(rows, job, nights)
    if not isinstance(day, Missing):
        _set_and_drying(rows, job, day)
    _clocks(rows, job, mix)
    _strength(rows, job)
    if slab.wheel is not None:
        _slab(rows, job, slab.wheel)
    _bond(rows, job)
    calc.table("What each other law decides, and what its rival would say", rows.rows)
    calc.table("Each law, its rivals and the worst difference on this job", worst((night, rows)))
    calc.note(
        'A row that says "spread shown" takes no side: read both figures. No rival could be read for the curve of '
        "hydration itself and for the bond of a given adhesive (its maker's report goes before any default)."
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
        return show(Q(kelvin, "K"), "degF", job.system)

    book = nights.by_law[0][1]
    for law, outcome in nights.by_law[1:]:
        verdict = "" if outcome.survives == book.survives else (
            " (survives)" if outcome.survives else " (FREEZES)"
        )  # fmt: skip
        off = outcome.lowest - book.lowest
        apart = Apart(abs(off), f"{1.8 * off:+.1f} F°" if job.system == "us" else f"{off:+.1f} C°")
        rows.add(law.kind, "frost: coldest surface", told(book.lowest), told(outcome.lowest) + verdict, law.words,
                 apart, "the coldest of all decides")  # fmt: skip
    spread = max(abs(outcome.lowest - book.lowest) for _, outcome in nights.by_law)
    rows.calc.finding(
        "The worst difference that a law of sky, cloud or wind makes to the planned slab's coldest surface.",
        "Delta T_law", Q(spread, "K").to("delta_degF"), "delta_degF", cite("Li 2017", "laws compared"),
        name="spread", label="spread of the laws of the night",
    )  # fmt: skip


def _sun_by_day(rows: Rows, job: Job, nights: FirstWeek) -> None:
    """Sun through cloud, at the hour at which the two laws stand farthest apart."""
    site = nights.week.site
    book = site.sun
    clear = book / cloudy_sun.bulk(I_0=1.0, N=site.cloud)
    other = cloudy_sun_linear.bulk(I_0=np.minimum(clear, 1400), N=site.cloud)
    n = int(np.argmax(np.abs(other - book)))
    if book[n] <= 0:
        return
    ours, theirs = (show(Q(float(x[n]), "W/m2"), "W/m2", job.system) for x in (book, other))
    rows.add("sun through cloud", "warming and drying by day, at the hour with the widest gap", ours, theirs,
             f"a straight line ({cloudy_sun_linear.source})", by_share(book[n], other[n]),
             "spread shown; frost falls at night")  # fmt: skip


def _set_and_drying(rows: Rows, job: Job, day: Day) -> None:
    for side, bands in day.bands.items():
        for event, band in bands.items():
            if np.isfinite(band.late):
                (first, early), *others = band.by_series
                for series, hours in others:
                    rows.add(f"set by temperature, {side}", f"{event} set", f"{float(early):.1f} h ({first.name})",
                             f"{float(hours):.1f} h", f"{series.name} ({series.source})",
                             Apart(abs(float(hours - early)), f"{float(hours - early):+.1f} h"),
                             "both ends are the band: be there for the early one")  # fmt: skip
    n = day.drying.peak
    menzel, uno = (
        show(Q(float(rate[n]), "lb/ft2/h"), "lb/ft2/h", job.system)
        for rate in (day.drying.menzel, day.drying.uno)
    )
    rows.add("evaporation", "precautions against drying", menzel, uno, f"Uno ({evaporation_uno.source})",
             by_share(day.drying.menzel[n], day.drying.uno[n]),
             "spread shown; Menzel is what the limits were set for")  # fmt: skip


def _clocks(rows: Rows, job: Job, mix: Mix) -> None:
    T, T_ref = Q(50, "degF"), Q(70, "degF")
    book = maturity_rate(T, E_TYPE_I, T_ref)
    cold = show(T, "degF", job.system)
    for energy, words in ((mix.E_a, "Schindler 2004"), (hansen_energy(T), str(hansen_energy.source))):
        rows.add("hydration: speed in the cold", f"strength: what an hour at {cold} counts", f"{book:.2f}",
                 f"{maturity_rate(T, energy, T_ref):.2f}", f"energy of {words}",
                 by_share(book, maturity_rate(T, energy, T_ref)),
                 "strength takes the slower of ASTM C1074 and Hansen's")  # fmt: skip


def _strength(rows: Rows, job: Job) -> None:
    gain = lookup("strength_gain", cement="III" if job.concrete.cement == "III" else "I")
    f_28 = job.concrete.strength
    for days in (1, 3):
        age = Q(days, "day")
        book = strength_aci209(age, f_28, Q(gain["a_days"], "day"), gain["b"])
        other = strength_mc90(age, f_28, gain["s"])
        rows.add("strength by age", f"loading, after {days} d at {show(Q(70, 'degF'), 'degF', job.system)}", show(book, "psi", job.system),
                 show(other, "psi", job.system), f"Model Code ({strength_mc90.source})", by_share(book, other),
                 "the lowest curve decides on frost and loading")  # fmt: skip


def _slab(rows: Rows, job: Job, wheel: dict[str, Any]) -> None:
    edge, inside = edge_stress(**wheel), interior_stress(**wheel)
    share = number_in(job.vehicle.transfer, "1")
    given, full = joint_stress(edge, share), joint_stress(edge, 0.25)
    psi = [show(x, "psi", job.system) for x in (given, full, inside)]
    rows.add("load transfer at a joint", "wheel at a joint", psi[0], psi[1],
             f"25 % crosses ({joint_stress.source}), where the joint's deflection ratio is 0.76 or more", by_share(given, full),
             "none crosses an undoweled joint unless the job says so")  # fmt: skip
    wide = size_effect(wheel["k"], WIDE)
    soft = interior_stress(**(wheel | {"k": wide}))
    softer = show(soft, "psi", job.system)
    rows.add("stiffness of the ground", "wheel inside a panel", f"{psi[2]} at k = {show(wheel['k'], 'pci', job.system)}",
             f"{softer} at k = {show(wide, 'pci', job.system)}", f"size of the loaded area ({size_effect.source})",
             by_share(inside, soft), "spread shown; a plate test goes before any table")  # fmt: skip
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
             f"first crack", f"Meyerhof ({fiber_collapse_load.source}); Subba Rao 1986 objects", by_share(first_crack, collapse),
             "fiber adds nothing to what the slab bears here")  # fmt: skip


def _bond(rows: Rows, job: Job) -> None:
    tau = default_bond_stress(job.bolts.place_of_use, job.bolts.concrete)
    row = lookup("bond_metric", place_of_use=job.bolts.place_of_use)
    metric = Q(1000 * row[f"{job.bolts.concrete}_MPa"], "kPa")
    rows.add("bond of an adhesive", "drilled bolts without a maker's report", show(tau, "psi", job.system),
             show(metric.to(unit("psi")), "psi", job.system), "the metric edition's own table (ACI 318M-19)", by_share(tau, metric),
             "the lower one, and the maker's report before either")  # fmt: skip
