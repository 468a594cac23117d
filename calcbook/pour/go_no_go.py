"""Go or no-go: the one page to read on the morning of the pour."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from calcbook.basis.calculation import Calculation
from calcbook.basis.coherent import from_coherent
from calcbook.basis.showing import show
from calcbook.basis.sources import cite
from calcbook.basis.table import records
from calcbook.basis.units import Q
from calcbook.concrete.loads import loads_of
from calcbook.concrete.setting import saw_window
from calcbook.pour.charts import SIDE_WORDS, clock_text
from calcbook.pour.evaporation import drying_of
from calcbook.pour.plan import day_of, saw_method
from calcbook.pour.site import NoWeather
from calcbook.pour.weather import evaporation_levels
from calcbook.pour.week import first_week_of

if TYPE_CHECKING:
    from datetime import datetime

    from calcbook.job.file import Job
    from calcbook.pour.evaporation import Drying
    from calcbook.pour.plan import Day
    from calcbook.pour.week import FirstWeek


def calculation(job: Job) -> Calculation:
    """The morning page of a job, as a Calculation."""
    calc = Calculation("go", "Go or no-go", "Shall the first truck be called this morning?", job.system)
    try:
        day, found = day_of(job), first_week_of(job)
    except NoWeather as missing:
        calc.note(f"{str(missing)[0].upper()}{str(missing)[1:]}. Without it this page stays empty.")
        return calc
    if not day.sets:
        calc.verdict("Does the slab set within two days?", False, cite("ASTM C1074"), remark="NO GO.")
        return calc
    begin = job.pour.moment()
    calc.table(f"The morning of {begin:%Y-%m-%d}", _page(job, day, found, begin))
    _verdicts(calc, job, day, found)
    go = all(check.status == "OK" for check in calc.checks)
    calc.results["go"] = go
    calc.note(
        "GO by these figures. Look at the sky, the radar and the ground yourself before calling the plant."
        if go
        else "NO GO by these figures, until what is not OK is mended or the day is moved."
    )
    return calc


def _page(job: Job, day: Day, found: FirstWeek, begin: datetime) -> list[dict[str, str]]:
    plan, pour = day.plan, job.pour
    site = day.early.site
    night = (site.hours > 8) & (site.hours < 32)
    drying = _drying(day)
    n = drying.peak
    saw = [saw_window(end, saw_method(job)) for end in plan.finished]
    bands = "; ".join(
        f"{SIDE_WORDS[name]}: initial {b['initial'].early:.1f} to {b['initial'].late:.1f} h, "
        f"final {b['final'].early:.1f} to {b['final'].late:.1f} h"
        for name, b in day.bands.items()
    )
    floating = min(task.early[0] for task in plan.tasks if task.name == "floating")
    cover = found.planned.case.cover
    coldest = float(np.min(site.air[night])) if night.any() else float(np.min(site.air))
    rows = {
        "order": f"{loads_of(job).text(job.system)} of {show(job.concrete.strength, 'psi', job.system)}, slump "
        f"{show(job.concrete.slump, 'in', job.system)}, {'pump' if pour.pump else 'chute'}",
        "trucks": ", ".join(clock_text(begin, t.arrives) for t in plan.trucks),
        "crew": f"{job.crew.size} to place, {job.crew.finishers} to finish, {job.crew.power_trowels} power trowel(s), "
        f"{job.crew.screed} screed",
        "placing done": clock_text(begin, plan.placed),
        "set after placing": bands,
        "floating can start": f"from {clock_text(begin, floating)}, by the slab's own signs",
        "finishing ends": f"{clock_text(begin, plan.finished[0])} to {clock_text(begin, plan.finished[1])}",
        f"sawing ({saw_method(job)})": f"{clock_text(begin, saw[0][0])} to {clock_text(begin, saw[1][1])}",
        "drying, worst hour": f"{show(Q(drying.menzel[n], 'lb/ft2/h'), 'lb/ft2/h', job.system)} at "
        f"{clock_text(begin, drying.hours[n])}",
        "first night": f"air down to {_temperature(coldest, job)}, slab surface down to "
        f"{_temperature(found.planned.lowest, job)} before one freezing is survived",
        "protection": f"{cover.blanket} from {clock_text(begin, cover.on)}, {(cover.off - cover.on) / 24:g} d"
        if np.isfinite(cover.on)
        else "none planned",
    }  # fmt: skip
    return records(("what", "figures"), rows.items())


def _temperature(kelvin: float, job: Job) -> str:
    return show(Q(round(from_coherent(kelvin, "degF")), "degF"), "degF", job.system)


def _drying(day: Day) -> Drying:
    name = next(iter(day.bands))
    return drying_of(day.early, day.bands[name]["final"].late)


def _verdicts(calc: Calculation, job: Job, day: Day, found: FirstWeek) -> None:
    drying = _drying(day)
    W = Q(float(drying.menzel[drying.peak]), "lb/ft2/h")
    calc.check(
        "Drying below the limit for precautions?",
        W,
        evaporation_levels()[-1]["limit"],
        "lb/ft2/h",
        cite("ACI 305R"),
    )
    calc.verdict("Can the crew keep up with the set?", day.plan.keeps_up, cite("Concrete News 2008"),
                 f"{day.plan.work:.1f} h", f"{day.plan.window:.1f} h")  # fmt: skip
    worst = max(t.age for t in day.plan.trucks)
    calc.check(
        "Every load out within the drum's time limit?",
        Q(worst, "h"),
        job.pour.drum_limit,
        "min",
        cite("ASTM C94"),
    )
    calc.verdict(
        "No frost at the surface before one freezing is survived?", found.planned.survives, cite("NRMCA CIP 27"),
        show(Q(found.planned.lowest, "K").to("degF"), "degF", job.system),
        f"above {show(Q(32, 'degF'), 'degF', job.system)}",
    )  # fmt: skip
    ground = Q(found.week.site.ground, "K")
    calc.verdict("Base and ground not frozen?", ground.to("degF").m > 32, cite("NFBA 2020"),
                 show(ground.to("degF"), "degF", job.system),
                 f"above {show(Q(32, 'degF'), 'degF', job.system)}")  # fmt: skip
    gap = abs(job.pour.concrete_temperature.m_as("degF") - ground.to("degF").m)
    better = show(Q(20, "delta_degF"), "delta_degF", job.system)
    calc.check("Concrete and base near enough in temperature?", Q(gap, "delta_degF"), Q(30, "delta_degF"), "delta_degF",
               cite("NFBA 2020", "after ACI 302.1R-15"), f"At most {better} is better.")  # fmt: skip
