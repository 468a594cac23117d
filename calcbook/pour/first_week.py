"""First week: frost, cover, strength, and what may go on the slab when."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from calcbook.basis.calculation import PRACTICE, Calculation, Found
from calcbook.basis.safety import caution
from calcbook.basis.showing import show
from calcbook.basis.sources import cite
from calcbook.basis.table import lookup, table
from calcbook.basis.units import Q, number_in
from calcbook.concrete.curing import age_for_strength, protection_days
from calcbook.concrete.hydration import (
    LIME,
    adiabatic_rise,
    cement_heat,
    hydration_heat,
    total_heat,
    ultimate_hydration,
)
from calcbook.concrete.maturity import maturity_rate
from calcbook.pour.arriving import COLD, placed_in_cold
from calcbook.pour.charts import SIDE_WORDS, clock_text, strength_chart, week_chart
from calcbook.pour.covering import enter_covering
from calcbook.pour.site import Missing
from calcbook.pour.week import freezes_at, removal_drop, removal_gap, strength_at_hour

if TYPE_CHECKING:
    from datetime import datetime

    from calcbook.basis.units import Quantity
    from calcbook.concrete.hydration import Mix
    from calcbook.job.file import Job
    from calcbook.pour.week import FirstWeek

MATURITY = cite("ASTM C1074", "maturity with the slab temperatures of this chapter")


def chapter(job: Job, mix: Mix, found: FirstWeek | Missing) -> Found:
    """Frost, cover, strength and loading in the first week; mix: of the concrete; found: its nights."""
    calc = Calculation(
        "first_week", "First week", "Will it freeze before it is strong enough, and when may what go on it?",
        job.system,
    )  # fmt: skip
    f_c = calc.given(job, "concrete.strength", "f_c")
    _cover(calc, job)
    _heat(calc, job, mix)
    _five_hundred(calc, job, f_c)
    if isinstance(found, Missing):
        calc.note(found.what)
        calc.not_worked_out(found.what)
        _loading(calc, job, None)
        enter_covering(calc, job, mix.w_cm)
        return Found(calc)
    for place in ("pour.soil", "pour.soil_temperature", "pour.blanket", "pour.blanket_days"):
        if job.field(place).value is not None:
            calc.given(job, place)
    begin = job.pour.moment()
    _frost(calc, job, found, begin)
    _covers(calc, job, found, begin)
    _cold_rules(calc, job, found)
    _strength(calc, job, found, begin)
    _loading(calc, job, found)
    enter_covering(calc, job, mix.w_cm)
    safe, system = found.planned.safe, job.system
    calc.figure("The slab's first nights", lambda: week_chart(
        found.week, 0, begin, safe, system, f"The slab's first nights, {SIDE_WORDS[found.planned.case.side]}"
    ))  # fmt: skip
    calc.figure("Strength by maturity", lambda: strength_chart(found, begin, system))
    calc.caution("The temperatures of the model are those of the middle of the slab.")
    return Found(calc)


def _heat(calc: Calculation, job: Job, mix: Mix) -> None:
    if job.concrete.cement_content is None:
        calc.caution(
            "The cement content is not given and was taken from ACI 211.1 without admixtures; a leaner mix makes less "
            "heat and sets and hardens later. Ask the producer."
        )
    row = lookup("cements", type=job.concrete.cement)
    heat = calc.step(
        cement_heat, f"Heat of Type {job.concrete.cement} cement of mean composition.", C3S=row["C3S"], C2S=row["C2S"],
        C3A=row["C3A"], C4AF=row["C4AF"], SO3=row["SO3"], CaO=row["free_CaO"], MgO=row["MgO"],
    )  # fmt: skip
    p_FA = number_in(job.concrete.fly_ash, "1")
    total = calc.step(
        total_heat, "With the fly ash, if any.", H_cem=heat, p_FA=p_FA, p_CaO=LIME if p_FA else 0.0
    )
    alpha = calc.step(ultimate_hydration, "Share that reacts in the end.", w_cm=mix.w_cm, p_FA=p_FA)
    H = calc.step(hydration_heat, "Heat in a volume of concrete.", alpha=alpha, H_u=total, C_c=mix.C_c)
    calc.step(
        adiabatic_rise, "It would warm the concrete by this much if none were lost. A slab loses most of it.",
        symbol="Delta T_ad", name="rise", label="rise without loss", H=H,
    )  # fmt: skip


def _five_hundred(calc: Calculation, job: Job, f_c: Quantity) -> None:
    psi = Q(lookup("freezing", rule="single freezing")["strength_psi"], "psi")
    row = lookup("strength_gain", cement="III" if job.concrete.cement == "III" else "I")
    warm, cold = (show(Q(t, "degF"), "degF", job.system) for t in (70, 50))
    age = calc.step(
        age_for_strength, f"Age at about {warm} at which one freezing is survived, by ACI 209.", f=psi, f_28=f_c,
        a=Q(row["a_days"], "day"), b=row["b"],
    )  # fmt: skip
    gamma = calc.step(
        maturity_rate,
        f"At {cold} an hour counts for less.",
        symbol="gamma_cold",
        T=Q(50, "degF"),
    )
    calc.note(
        f"So at a steady {cold} it would take about {age.m_as('hour') / gamma:.0f} h; NRMCA CIP 27 says about two days, "
        "and PCA within a day at normal temperature. The latest of them is used below."
    )


def _frost(calc: Calculation, job: Job, found: FirstWeek, begin: datetime) -> None:
    planned, week = found.planned, found.week
    side = SIDE_WORDS[planned.case.side]
    for words, hours in planned.rows:
        calc.finding(
            f"One freezing is survived from then on, by {words}.", "t_500",
            clock_text(begin, float(hours)) if np.isfinite(hours) else "not within the forecast", "h",
            cite("NRMCA CIP 27") if "CIP" in words else MATURITY,
            label="time to 500 psi",
        )  # fmt: skip
    calc.results["safe"] = Q(planned.safe, "h") if np.isfinite(planned.safe) else None
    calc.finding(
        f"The surface is coldest before that at {clock_text(begin, planned.at)}, {side}, under the coldest sky that a "
        "published law gives for each hour.", "T_min",
        Q(planned.lowest, "K").to("degF"), "degF", cite("Carslaw and Jaeger", "one-dimensional model, see its account"),
        name="lowest", label="coldest surface before one freezing is survived",
    )  # fmt: skip
    law, _ = min(found.by_law, key=lambda pair: pair[1].lowest)
    lowest = calc.finding(
        f"The same by the coldest of all rival laws of sky, cloud and wind, which decides: {law.words}.", "T_law",
        Q(planned.coldest, "K").to("degF"), "degF", cite("Li 2017", "laws of the sky compared; see Laws and their rivals"),
        name="coldest", label="coldest surface by any law",
    )  # fmt: skip
    remark = "The model's account of heat closes." if week.march.imbalance < 1e-9 else (
        f"The model's account of heat is open by {week.march.imbalance:.0e} of all heat moved."
    )  # fmt: skip
    if not np.isfinite(planned.safe):
        remark = "The forecast ends before a freezing would be survived. " + remark
    calc.verdict(
        "Surface temperature until one freezing is survived", planned.survives,
        cite("NRMCA CIP 27", "500 psi (3.5 MPa) before one freezing"), show(lowest, "degF", job.system),
        f"above {show(Q(32, 'degF'), 'degF', job.system)} required", remark,
        to_do="A cover, or a thicker one (pour.blanket), warmer concrete, an accelerator, or another day"
        + (".", "; and more hours of forecast.")[not np.isfinite(planned.safe)],
    )  # fmt: skip
    first = freezes_at(week, found.index)
    if np.isfinite(first):
        calc.note(f"The surface first lies below freezing at {clock_text(begin, first)}.")


def _covers(calc: Calculation, job: Job, found: FirstWeek, begin: datetime) -> None:
    rows = []
    for outcome in (found.planned, *found.others):
        cover = outcome.case.cover
        days = (cover.off - cover.on) / 24 if np.isfinite(cover.on) else 0
        strength = strength_at_hour(found.week, outcome, 72)
        rows.append(
            {
                "cover": cover.blanket if days else "none (bare)", "R": f"{cover.resistance.m:.3g}" if days else "0",
                "days": f"{days:g}" if days else "-",
                "coldest surface": show(Q(outcome.coldest, "K"), "degF", job.system),
                "one freezing survived from": clock_text(begin, outcome.safe) if np.isfinite(outcome.safe) else "past the forecast",
                "survives": "yes" if outcome.survives else "NO",
                "at 72 h": show(strength[0], "psi", job.system) if strength else "",
            }
        )  # fmt: skip
    calc.table(
        "Covers compared by the coldest law (first row: as planned; strength is the lowest estimate)",
        rows,
    )
    best = found.least_cover()
    if best is None:
        words = "none of those in the table within this forecast"
    elif not np.isfinite(best.case.cover.on):
        words = "none: the bare slab survives"
    else:
        cover = best.case.cover
        words = f"{cover.blanket}, {(cover.off - cover.on) / 24:g} d"
    calc.finding("The lightest cover that keeps frost off until one freezing is survived.", "cover", words, "R",
                 PRACTICE, name="cover", label="lightest cover that survives frost")  # fmt: skip


def _cold_rules(calc: Calculation, job: Job, found: FirstWeek) -> None:
    limits = placed_in_cold(calc, job, found.week.site)
    if limits is None:
        limit = show(COLD, "degF", job.system)
        calc.note(f"The air stays above {limit} for three days: not cold weather by ACI 306R.")
        return
    least = show(limits["placed"], "degF", job.system)
    faster = job.concrete.cement == "III" or number_in(job.pour.slowing, "1") < 1
    days = protection_days("faster" if faster else "usual")
    planned = job.pour.blanket_days if job.pour.blanket != "none" else Q(0, "day")
    calc.check("Days of protection", days, planned, "day", cite("ACI 306.1-90"),
               "Three days; two with Type III cement, an accelerator, or 100 lb/yd³ more cement.", least=True,
               to_do="Leave the cover on longer (pour.blanket_days).")  # fmt: skip
    outcome, week = found.planned, found.week
    on, off = outcome.case.cover.on, min(outcome.case.cover.off, week.hours[-1])
    if np.isfinite(on):
        inside = (week.hours >= on + 6) & (week.hours <= off - 0.01)
        if inside.any():
            kept = Q(float(np.min(week.march.top[0][inside])), "K").to("degF")
            calc.verdict(
                "Surface temperature under the cover, from 6 h on",
                kept >= limits["placed"], limits["source"], show(kept, "degF", job.system), f"at least {least} required",
                to_do="A thicker cover, warmer concrete, or heat below it.",
            )  # fmt: skip
    gap, fall = (of(week, outcome, found.index) for of in (removal_gap, removal_drop))
    if gap is not None and fall is not None:
        calc.check("Surface warmer than the air when the cover comes off", Q(max(gap, 0.0), "K"),
                   Q(20, "delta_degF"), "delta_degF", cite("ACI 306.1-90", "3.2.3"),
                   to_do="Take it off in steps, or wait for a warmer hour.")  # fmt: skip
        drop = Q(max(fall, 0.0), "K")
        calc.check("Cooling of the surface in the day after, as far as the forecast goes", drop,
                   limits["drop"], "delta_degF", limits["source"],
                   to_do="Take the cover off in steps, or leave it on another day.")  # fmt: skip


def _strength(calc: Calculation, job: Job, found: FirstWeek, begin: datetime) -> None:
    rows = []
    for days in (1, 2, 3, 4, 5, 6, 7):
        strength = strength_at_hour(found.week, found.planned, 24.0 * days)
        if strength is None:
            break
        shown = [show(s, "psi", job.system) for s in strength]
        share = strength[0] / job.concrete.strength
        rows.append({"after": f"{days} d", "clock": clock_text(begin, 24.0 * days), "lowest": shown[0], "ACI 209": shown[1],
                     "highest": shown[2], "lowest, share of f'c": f"{share.m_as('') * 100:.0f} %"})  # fmt: skip
    if rows:
        calc.table("Strength by maturity, in the coldest part of the slab", rows, MATURITY)
        last = found.week.hours[-1]
        day = min(3.0, np.floor(last / 24))
        if day:
            strength = strength_at_hour(found.week, found.planned, 24 * day)
            if strength is not None:
                calc.results["strength"] = strength[0]


def _loading(calc: Calculation, job: Job, found: FirstWeek | None) -> None:
    rows = [{"what": row["step"], "from": f"{row['days']:g} d", "strength by then": _strength_then(job, found, row["days"]),
             "says": row["says"], "source": str(row["source"])} for row in table("loading")]  # fmt: skip
    calc.table(
        "What may go on it when: published practice disagrees (strength is the lowest estimate)",
        rows,
    )
    calc.ask_engineer(
        "Construction loads on the slab, from walls, trusses and anchors",
        cite("29 CFR 1926", "1926.701(a)"),
        f"No standard fixes a time. {caution('loads')} Show them the strengths above.", job,
    )  # fmt: skip
    above, reach = ("40 °F", "200 ft²/gal") if job.system == "us" else ("5 °C", "5 m²/L")
    calc.note(
        f"Cure 7 days above {above} (Type I), 3 days (Type III), by wet cover, sheet or compound at about {reach} "
        "(ACI 308 and C309, from memory). Stay off until final set."
    )


def _strength_then(job: Job, found: FirstWeek | None, days: float) -> str:
    """The lowest estimate of strength at a day, as text; a dash past the forecast."""
    strength = found and strength_at_hour(found.week, found.planned, 24 * days)
    return show(strength[0], "psi", job.system) if strength else "–"


def _cover(calc: Calculation, job: Job) -> None:
    """The cover's line in the quote, which hangs on no weather."""
    if job.pour.blanket != "none":
        days = show(job.pour.blanket_days, "day", job.system)
        calc.take(f"Cover: {job.pour.blanket}", job.plan.gross_area, "ft2", "blanket", "equipment",
                  f"the slab's area, for {days}; laps and double edges not counted")  # fmt: skip
