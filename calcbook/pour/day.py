"""Pour day: drying, set, finishing and sawing of a job, hour by hour."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from calcbook.basis.calculation import PRACTICE, Calculation, Found
from calcbook.basis.next_job import SURE, WEIGHT, ends, next_job, times_in_use
from calcbook.basis.showing import show
from calcbook.basis.sources import cite
from calcbook.basis.table import table
from calcbook.basis.units import Q, number_in
from calcbook.concrete.crew import finishing_hours
from calcbook.concrete.hydration import age_at_degree
from calcbook.concrete.labor import OTHER_SCREED, finishing_inputs
from calcbook.concrete.setting import EVENTS, set_degree, set_time
from calcbook.pour.arriving import arriving, not_too_warm
from calcbook.pour.charts import SIDE_WORDS, clock_text, drying_chart, timeline
from calcbook.pour.hands import hands, known_of
from calcbook.pour.plan import FINISHABLE, KEEPS_UP, saw_method, waiting_beyond
from calcbook.pour.site import Missing
from calcbook.pour.weather import (
    evaporation_level,
    evaporation_levels,
    evaporation_rate,
    saturation_pressure,
    surface_wind,
)

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime

    from numpy.typing import NDArray

    from calcbook.concrete.hydration import Mix
    from calcbook.concrete.setting import Series
    from calcbook.job.file import Job
    from calcbook.pour.plan import Day, PourBefore

ONE_SHIFT = 12.0  # hours, common practice
WAITING = "Waiting for set"  # the line of the takeoff
STOP_SIGNS = (
    ("before floating", "no bleed water to be seen, and a footprint not deeper than 1/4 in. (6 mm)", "ASCC PS 15"),
    ("before floating", "a pebble tossed on the slab bounces rather than sticks", "common practice"),
    ("floating", "blade flat and slow; edges and corners first; half a machine's width of overlap", "Concrete Construction"),
    ("first troweling", "blade as flat as it will run, at right angles to the float", "Concrete Construction"),
    ("later troweling", "a little more pitch and speed each pass; pitch too early chatters", "Concrete Construction"),
    ("end of finishing", "boots only scuff: final set is near, stop; never sprinkle water to go on", "common practice"),
)  # fmt: skip


def chapter(job: Job, mix: Mix, day: Day | Missing, earlier: Sequence[PourBefore] = ()) -> Found:
    """Drying, set bands, finishing and sawing on pour day; mix: of the concrete; day: the pour; earlier: other pours
    of the same day by the same crew."""
    calc = Calculation(
        "pour_day", "Pour day", "When do we float, trowel and saw, can this crew keep up, and will it dry too fast?",
        job.system,
    )  # fmt: skip
    if isinstance(day, Missing):
        return _without_weather(calc, job, day, [other.called for other in earlier])
    begin = job.pour.moment()
    for place in (
        "pour.date",
        "pour.start",
        "pour.concrete_temperature",
        "pour.haul",
        "pour.slowing",
        "pour.own_set",
    ):
        calc.given(job, place)
    if not day.setting.week.site.place_known:
        calc.caution(
            "No latitude and longitude are given, so the sun is left out: it would dry and set the slab faster."
        )
    if job.poured_with:
        names = " and ".join(one.slab.called for one in job.poured_with)
        calc.caution(
            f"Set and temperatures are worked out for {job.slab.called}. {names}, poured with it, may set sooner or "
            "later: go by the foot print on each."
        )
    _set(calc, job, mix, day, begin)
    if not day.sets:
        return _never_sets(calc)
    _own_set(calc, job, day, begin)
    arriving(calc, job, day)
    calc.figure("The day on the clock", lambda: timeline(day, begin, [span[:2] for span in day.saw]))
    _drying(calc, job, day, begin)
    _finishing(calc, job, day)
    known = known_of(earlier)
    hands(calc, job, day, known)
    _waiting(calc, job, day, known)
    _sawing(calc, job, day, begin)
    _signs(calc)
    return Found(calc)


def _without_weather(calc: Calculation, job: Job, missing: Missing, earlier: Sequence[str]) -> Found:
    """What can be said without a forecast: setting time at held temperatures; earlier: slabs of other pours of the day."""
    calc.note(missing.what)
    calc.not_worked_out(missing.what)
    T = calc.given(job, "pour.concrete_temperature", "T")
    calc.step(set_time, "Setting time if the slab kept the temperature of the concrete, by the reprinted table.",
              symbol="t", name="set", label="setting time at that temperature", T=T)  # fmt: skip
    rows = [{"concrete": show(Q(row["temperature_F"], "degF"), "degF", job.system), "hours": f"{row['hours']:g}",
              "what": EVENTS[row["event"]].split(",")[0], "source": str(row["source"])} for row in table("set_time")]  # fmt: skip
    calc.table("Published setting times", rows)
    not_too_warm(calc, job)
    _signs(calc)
    given = job.crew.waiting
    if given is None:
        calc.work(WAITING, None, "only the weather of the pour tells it: give pour.date and [[pour.forecast]] "
                  "rows, or your own hours as crew.waiting")  # fmt: skip
    elif earlier:
        calc.note(f"The crew's hours of waiting, as given, are counted with the slab {earlier[0]!r}.")
    else:
        calc.work(WAITING, calc.given(job, "crew.waiting"), "as given, until there is a forecast")
    return Found(calc)


def _never_sets(calc: Calculation) -> Found:
    calc.work(WAITING, None, "the slab does not set under this forecast: another day, or a warmer mix")
    calc.verdict(
        "Setting time under this forecast", False, cite("ASTM C1074"),
        remark="Too cold, or the forecast is too short.",
        to_do="Warmer concrete, an accelerator, or another day.",
    )  # fmt: skip
    return Found(calc)


def _set(calc: Calculation, job: Job, mix: Mix, day: Day, begin: datetime) -> None:
    for row in table("set_degree"):
        alpha = calc.step(
            set_degree, f"Hydration model, {row['event']} set: cement that must have reacted.",
            symbol=f"alpha_{row['event']}", k=row["k"], w_cm=mix.w_cm,
        )  # fmt: skip
        calc.step(
            age_at_degree, f"The age at {show(Q(70, 'degF'), 'degF', job.system)} at which that much cement has reacted.", symbol=f"t_e_{row['event']}",
            alpha=alpha, **mix.curve,
        )  # fmt: skip
    rows = []
    for name, bands in day.bands.items():
        slab = day.setting.week.march.top[list(day.bands).index(name)]
        for event, band in bands.items():
            rows += [
                _series_row(series, hours, name, begin, job.system) for series, hours in band.by_series
            ]
            for series, hours in band.by_series:
                if series.leaves(day.setting.week.hours, slab, hours):
                    calc.caution(
                        f"{SIDE_WORDS[name].capitalize()}, {event} set: the slab leaves "
                        f'{_span(series, job.system)}, for which the series "{series.name}" was published; '
                        "beyond, its clock is drawn on and proves nothing."
                    )
            if np.isfinite(band.late):
                calc.finding(
                    f"{EVENTS[event].capitalize()}, {SIDE_WORDS[name]}: between these hours after placing.",
                    f"t_{event}", f"{band.early:.1f} to {band.late:.1f} h", "h",
                    cite("ASTM C1074", "equivalent age, spread of the published series"),
                    name=f"{event}_{name}", label=f"{event} set, {SIDE_WORDS[name]}",
                )  # fmt: skip
    calc.table("Set by every published series, run under this slab's temperature", rows)


def _own_set(calc: Calculation, job: Job, day: Day, begin: datetime) -> None:
    """Between which hours the foot print holds by own jobs, where the own file's factor was learned from them."""
    jobs = job.field("pour.own_set").jobs
    if not jobs:
        return
    first = min((bands["initial"] for bands in day.bands.values()), key=lambda band: float(band.early))
    behind = jobs + WEIGHT
    hours = []
    for p, words in zip(
        ends(SURE), ("one pour in ten is earlier", "nine in ten are earlier"), strict=True
    ):
        y = calc.step(next_job, f"First footprint by {jobs} own jobs, about the middle of the band above, as a logarithm: {words}.",
                      symbol="y", mu=0.0, sigma=number_in(job.risk.set_wait, "1"), kappa=behind, nu=behind, p=round(p, 6))  # fmt: skip
        r = calc.step(times_in_use, "Times the middle of that band.", symbol="r", y=y)
        hours.append(float(np.sqrt(first.early * first.late)) * float(r))
    calc.finding(
        f"First footprint that holds, by {jobs} own jobs: 8 pours in 10 lie between, on the side that sets first; "
        f"{clock_text(begin, hours[0])} to {clock_text(begin, hours[1])}.",
        "t_own", f"{hours[0]:.1f} to {hours[1]:.1f} h", "h", next_job.source, name="own_set", label="first footprint by own jobs",
    )  # fmt: skip


def _series_row(
    series: Series, hours: float, side: str, begin: datetime, system: str
) -> dict[str, str]:
    energies = [Q(piece[2], "J/mol") for piece in series.pieces]
    low, high = (show(end, "J/mol") for end in (min(energies), max(energies)))
    return {
        "side": SIDE_WORDS[side], "event": f"{series.event} set", "series": series.name,
        "published for": _span(series, system),
        f"hours at {show(Q(70, 'degF'), 'degF', system)}": f"{series.t_ref.m_as('hour'):.2f}",
        "activation energy": low if low == high else f"{low.split(' ')[0]} to {high}",
        "hours here": f"{hours:.1f}", "clock": clock_text(begin, hours) if np.isfinite(hours) else "never",
        "source": series.source.key,
    }  # fmt: skip


def _span(series: Series, system: str) -> str:
    low, high = (show(Q(end, "K"), "degF", system) for end in series.span)
    return f"{low} to {high}"


def _drying(calc: Calculation, job: Job, day: Day, begin: datetime) -> None:
    drying, system = day.drying, job.system
    n = drying.peak
    wind = Q(float(np.interp(drying.hours[n], *_forecast_wind(job))), "mph")
    V = calc.step(
        surface_wind, f"Wind at the slab in the worst hour, {clock_text(begin, drying.hours[n])}.", symbol="V",
        V=wind, z_m=job.pour.wind_height,
    )  # fmt: skip
    inputs = dict(
        T_c=Q(drying.surface_F[n], "degF"),
        T_a=Q(drying.air_F[n], "degF"),
        RH=float(drying.humidity[n]),
        wind=V,
    )
    limits = evaporation_rate.pick({}).arguments
    if any(limits[name].breaks(number_in(inputs[name], "degF")) for name in ("T_c", "T_a")):
        calc.note(
            f"In the hour that dries most the air is {show(inputs['T_a'], 'degF', job.system)} and the slab "
            f"{show(inputs['T_c'], 'degF', job.system)}: the formulas for drying do not reach there, and nothing "
            "is poured in such weather."
        )
        calc.not_worked_out(
            "It is colder or hotter than the formulas for drying reach.",
            "Drying rate of the surface", cite("ACI 305R"),
        )  # fmt: skip
        return
    calc.step(
        saturation_pressure,
        "Vapor pressure of saturated air at the slab's surface (6.895 kPa is 1 psi).",
        symbol="esat", T=inputs["T_c"],
    )  # fmt: skip
    W = calc.step(evaporation_rate, "Evaporation then.", symbol="W", name="evaporation",
                  label="evaporation, worst hour", **inputs)  # fmt: skip
    calc.step(
        evaporation_rate,
        "Evaporation then, by Uno's formula.",
        symbol="W_Uno",
        method="uno",
        **inputs,
    )
    if number_in(inputs["T_c"], "degF") - number_in(inputs["T_a"], "degF") > 20:
        calc.caution(
            f"The concrete is more than {show(Q(20, 'delta_degF'), 'delta_degF', job.system)} warmer than the air: "
            "there Uno's fit runs up to 20 % too high."
        )
    limit = evaporation_levels()[-1]["limit"]
    calc.check("Drying rate of the surface", W, limit, "lb/ft2/h",
               cite("ACI 305R"), "The estimate can be off by 40 % either way (Hover 2020).",
               to_do="Windbreaks, fog, evaporation retarder, cooler concrete, or an earlier start.")  # fmt: skip
    level = evaporation_level(W)
    calc.note(
        level["do"]
        if level
        else "Below both published limits; watch the surface all the same, above all in wind."
    )
    calc.figure("Drying of the fresh surface", lambda: drying_chart(drying, begin, system))


def _forecast_wind(job: Job) -> tuple[NDArray, NDArray]:
    forecast = job.pour.weather()
    return forecast.hours - forecast.since(job.pour.moment()), forecast.wind_mph


def _finishing(calc: Calculation, job: Job, day: Day) -> None:
    area = job.poured_area  # of all slabs that the crew finishes that day
    inputs = finishing_inputs(job)
    work = calc.step(finishing_hours, "Floating and troweling with the machines.", symbol="t_f",
                     name="work", label="finishing, hours of work", A=area, **inputs)  # fmt: skip
    if inputs["n_m"]:
        calc.step(finishing_hours, "Floating and troweling without any machine.", symbol="t_hand", name="work_by_hand",
                  label="finishing by hand, hours of work", A=area, **finishing_inputs(job, power=False))  # fmt: skip
    for name, bands in day.last.items():
        final = bands["final"]
        calc.finding(
            f"Final set of the strip placed last, {SIDE_WORDS[name]}: between these hours after it is placed.",
            "t_last", f"{final.early:.1f} to {final.late:.1f} h", "h",
            cite("ASTM C1074", "equivalent age, under the hours that are left of the day"),
            name=f"last_{name}", label=f"final set of the last strip, {SIDE_WORDS[name]}",
        )  # fmt: skip
    window = Q(day.plan.window, "h")
    calc.check(
        KEEPS_UP, work, window, "h", FINISHABLE,
        "From the initial set of the strip placed first to the final set of the one placed last, the shorter of the two bands.",
        to_do="More machines, more finishers, or a pour in two days.",
    )  # fmt: skip
    rows = []
    screed = OTHER_SCREED[job.crew.screed]
    for words, plan in (("as planned", day.plan), ("without power trowels", day.by_hand),
                        (f"with a {screed} screed", day.screeded)):  # fmt: skip
        rows.append(
            {
                "crew": words, "placing, h": f"{plan.placed:.1f}", "finishing, h": f"{plan.work:.1f}", "window, h": f"{plan.window:.1f}",
                "keeps up": "yes" if plan.keeps_up else "NO",
                "end, h after the first truck": f"{plan.finished[0]:.1f} to {plan.finished[1]:.1f}",
                "person-hours": f"{plan.total_hours:.0f}",
            }
        )  # fmt: skip
    calc.table("What a machine is worth", rows)
    there, paid = day.plan.person_hours["finishing"], day.plan.work * job.crew.finishers
    calc.note(
        f"Finishers are on site for {there:.0f} person-hours, from the early initial set to the late end; the quote pays the "
        f"{paid:.0f} of their work. Waits between passes have no line: they belong in your rate of finishing (crew.trowel_rate)."
    )
    calc.results |= {"placed": Q(day.plan.placed, "h"), "window": window,
                     "finished_early": Q(day.plan.finished[0], "h"), "finished_late": Q(day.plan.finished[1], "h")}  # fmt: skip
    _published_rates(calc, job)


def _waiting(calc: Calculation, job: Job, day: Day, earlier: Sequence[PourBefore]) -> None:
    """Enter the hours of waiting, those at another pour of the day left out."""
    words = "finishers, from the end of placing to the early start of floating"
    if earlier:
        words += f", less the hours at {' and '.join(other.called for other in earlier)}"
    calc.work(WAITING, waiting_beyond(job, day, earlier), words)


def _published_rates(calc: Calculation, job: Job) -> None:
    rows = []
    for row in table("rates"):
        low, high = (show(Q(row[key], row["unit"]), row["unit"], job.system) for key in ("low", "high"))
        span = high if low == high else f"{low.split(' ')[0]} to {high}"
        rows.append({"work": row["work"], "by": row["machine"], "output": span, "says": row["says"], "source": str(row["source"])})  # fmt: skip
    calc.table("Published outputs differ; the rates used are yours, so keep records", rows)


def _sawing(calc: Calculation, job: Job, day: Day, begin: datetime) -> None:
    calc.given(job, "joints.early_entry")
    method = saw_method(job)
    spans = day.saw
    text = f"{clock_text(begin, spans[0][0])} to {clock_text(begin, spans[1][1])}"
    _long_day(calc, begin, spans[1][1])
    calc.finding(
        "Joints are sawn in this window, from the earliest after the early set to the latest after the late one. "
        "Saw as soon as the cut edge does not ravel.", "t_saw", text, "h",
        cite("ACI FAQ 915"), name="saw", label=f"sawing, {method}",
    )  # fmt: skip
    rows = [{"window": f"{r['low_h']:g} to {r['high_h']:g} h after {r['counted_from']}", "when": r["when"],
              "source": str(r["source"])} for r in spans[0][2]]  # fmt: skip
    calc.table("Published windows for this way of sawing disagree", rows)


def _long_day(calc: Calculation, begin: datetime, end: float) -> None:
    """From the first truck to the late end of sawing, where that is more than one shift."""
    if end > ONE_SHIFT:
        calc.caution(
            f"From the first truck at {clock_text(begin, 0)} to the late end of sawing at {clock_text(begin, end)} it is "
            f"{end:.0f} h, more than the {ONE_SHIFT:g} h of one long shift: name who relieves whom, and when."
        )


def _signs(calc: Calculation) -> None:
    rows = [{"when": when, "the sign": sign, "source": key} for when, sign, key in STOP_SIGNS]
    calc.table("The slab's own signs count more than any clock", rows, PRACTICE)
