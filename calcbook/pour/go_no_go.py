"""Go or no-go: the one page to read on the morning of the pour."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from calcbook.basis.calculation import OK, Calculation, Found
from calcbook.basis.coherent import from_coherent
from calcbook.basis.showing import show
from calcbook.basis.sources import cite
from calcbook.basis.table import records
from calcbook.basis.units import Q, number_in
from calcbook.pour.charts import SIDE_WORDS, clock_text
from calcbook.pour.plan import FINISHABLE, KEEPS_UP, saw_method, sooner_empty
from calcbook.pour.site import Missing
from calcbook.pour.weather import evaporation_levels

if TYPE_CHECKING:
    from datetime import datetime

    from calcbook.concrete.volume import VolumeFound
    from calcbook.job.file import Job
    from calcbook.pour.plan import Day
    from calcbook.pour.week import FirstWeek


NO_GO = "NO GO by these figures: do not call the first truck for this day."


def chapter(job: Job, volume: VolumeFound, day: Day | Missing, found: FirstWeek | Missing) -> Found:
    """The morning page of a job; volume: what comes; day: the pour; found: the nights after it."""
    calc = Calculation("go", "Go or no-go", "Shall the first truck be called this morning?", job.system)
    if isinstance(day, Missing):
        return _empty(calc, day)
    if isinstance(found, Missing):
        return _empty(calc, found)
    if not day.sets:
        calc.verdict(
            "Setting time under this forecast",
            False,
            cite("ASTM C1074"),
            remark="NO GO.",
            to_do="Warmer concrete, an accelerator, or another day.",
        )
        calc.results["go"] = False
        return Found(calc)
    begin = job.pour.moment()
    calc.table(f"The morning of {begin:%Y-%m-%d}", _page(job, volume, day, found, begin))
    _verdicts(calc, job, day, found)
    go = all(check.status == OK for check in calc.checks)
    calc.results["go"] = go
    calc.note(
        "GO by these figures. Look at the sky, the radar and the ground yourself before calling the plant."
        if go
        else "NO GO by these figures, until what is not OK is mended or the day is moved."
    )
    return Found(calc)


def _empty(calc: Calculation, missing: Missing) -> Found:
    calc.note(f"{missing.what} Without it this page stays empty.")
    calc.not_worked_out(missing.what)
    return Found(calc)


def _page(
    job: Job, volume: VolumeFound, day: Day, found: FirstWeek, begin: datetime
) -> list[dict[str, str]]:
    plan, pour = day.plan, job.pour
    site = day.setting.week.site
    night = (site.hours > 8) & (site.hours < 32)
    drying, saw = day.drying, day.saw
    n = drying.peak
    bands = "; ".join(
        f"{SIDE_WORDS[name]}: initial {b['initial'].early:.1f} to {b['initial'].late:.1f} h, "
        f"final {b['final'].early:.1f} to {b['final'].late:.1f} h"
        for name, b in day.bands.items()
    )
    floating = min(task.early[0] for task in plan.tasks if task.name == "floating")
    cover = found.planned.case.cover
    coldest = float(np.min(site.air[night])) if night.any() else float(np.min(site.air))
    rows = {
        "order": f"{volume.trucks.text(job.system)} of {show(job.concrete.strength, 'psi', job.system)}, slump "
        f"{show(job.concrete.slump, 'in', job.system)}, {'pump' if pour.pump else 'chute'}",
        "trucks": ", ".join(clock_text(begin, t.arrives) for t in plan.trucks),
        "crew": f"{job.crew.size} to place, {job.crew.finishers} to finish, {job.crew.power_trowels} power trowel{'s' * (job.crew.power_trowels != 1)}, "
        f"{job.crew.screed} screed",
        "placing done": clock_text(begin, plan.placed),
        "set after placing": bands,
        "floating can start": f"from {clock_text(begin, floating)}, by the slab's own signs",
        "finishing ends": f"{clock_text(begin, plan.finished[0])} to {clock_text(begin, plan.finished[1])}",
        f"sawing ({saw_method(job)})": f"{clock_text(begin, saw[0][0])} to {clock_text(begin, saw[1][1])}",
        "drying, worst hour": f"{show(Q(drying.menzel[n], 'lb/ft2/h'), 'lb/ft2/h', job.system)} at "
        f"{clock_text(begin, drying.hours[n])}",
        "first night": f"air down to {_temperature(coldest, job)}, slab surface down to "
        f"{_temperature(found.planned.coldest, job)} before one freezing is survived",
        "protection": f"{cover.blanket} from {clock_text(begin, cover.on)}, {(cover.off - cover.on) / 24:g} d"
        if np.isfinite(cover.on)
        else "none planned",
    }  # fmt: skip
    return records(("what", "figures"), rows.items())


def _temperature(kelvin: float, job: Job) -> str:
    return show(Q(round(from_coherent(kelvin, "degF")), "degF"), "degF", job.system)


def _verdicts(calc: Calculation, job: Job, day: Day, found: FirstWeek) -> None:
    drying = day.drying
    W = Q(float(drying.menzel[drying.peak]), "lb/ft2/h")
    calc.check(
        "Drying rate of the surface",
        W,
        evaporation_levels()[-1]["limit"],
        "lb/ft2/h",
        cite("ACI 305R"),
        to_do="Windbreaks, fog, evaporation retarder, cooler concrete, an earlier start, or another day.",
    )
    calc.check(
        KEEPS_UP,
        Q(day.plan.work, "h"),
        Q(day.plan.window, "h"),
        "h",
        FINISHABLE,
        to_do="More machines, more finishers, or a pour in two days.",
    )
    worst = max(day.plan.trucks, key=lambda truck: truck.age)
    calc.check(
        "Time of a load from batching to discharge",
        Q(worst.age, "h"),
        job.pour.drum_limit,
        "min",
        cite("ASTM C94"),
        to_do=f"{sooner_empty(job, worst)}.",
    )
    calc.verdict(
        "Surface temperature until one freezing is survived", found.planned.survives, cite("NRMCA CIP 27"),
        show(Q(found.planned.coldest, "K"), "degF", job.system),
        f"above {show(Q(32, 'degF'), 'degF', job.system)} required",
        to_do="A thicker cover, warmer concrete, an accelerator, or another day.",
    )  # fmt: skip
    ground = Q(found.week.site.ground, "K")
    calc.verdict("Temperature of base and ground", ground.to("degF").m > 32, cite("NFBA 2020"),
                 show(ground, "degF", job.system),
                 f"above {show(Q(32, 'degF'), 'degF', job.system)} required",
                 to_do="Thaw and warm the base first, or wait: never pour on frozen ground.")  # fmt: skip
    gap = abs(number_in(job.pour.concrete_temperature, "degF") - ground.to("degF").m)
    better = show(Q(20, "delta_degF"), "delta_degF", job.system)
    calc.check("Temperature difference of concrete and base", Q(gap, "delta_degF"), Q(30, "delta_degF"), "delta_degF",
               cite("NFBA 2020", "after ACI 302.1R-15"), f"At most {better} is better.",
               to_do="Warm the base under blankets, or order cooler concrete.")  # fmt: skip
