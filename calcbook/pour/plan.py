"""The plan of a job's pour: its trucks, set bands and crew put on one clock."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from calcbook.basis.formula import cite
from calcbook.basis.units import Q, number_in
from calcbook.concrete.crew import PourPlan, Side, finishing_hours, placing_rate, pour_plan, truck_clock
from calcbook.concrete.labor import OTHER_SCREED, finishing_inputs, placing_inputs
from calcbook.concrete.setting import SetBand, saw_window, set_band
from calcbook.pour.evaporation import Drying, drying_of
from calcbook.pour.site import STEP, Missing, Site
from calcbook.pour.slab_heat import BARE, Case, Cover, Week, run

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime

    from calcbook.basis.units import Quantity
    from calcbook.concrete.crew import Truck
    from calcbook.concrete.hydration import Mix
    from calcbook.concrete.volume import VolumeFound
    from calcbook.job.file import Job

KEEPS_UP = (
    "Hours of work between initial and final set"  # a check of the pour day and of the morning page
)
FINISHABLE = cite("ACI 302.1R-15", "window of finishability, initial to final set")
SET_HORIZONS = 24.0, 48.0  # hours in which set is looked for: most slabs set within the first
FREE_DRYING = 12.0  # hours that the surface dries before curing, as long as set is not known


def shares(job: Job) -> list[tuple[str, float]]:
    """(name, share of the area) of each side that is not empty, the sunny one first."""
    shaded = number_in(job.pour.shaded, "1")
    return [(name, share) for name, share in (("sun", 1 - shaded), ("shade", shaded)) if share > 0]


@dataclass(frozen=True)
class Setting:
    """The slab's temperatures as far as set is looked for, and the set bands by side."""

    week: Week
    bands: dict[str, dict[str, SetBand]]

    @property
    def sets(self) -> bool:
        """False where a side does not set within the time looked at."""
        return _all_set(self.bands)


@dataclass(frozen=True)
class Day:
    """A job's pour: the plan, what a missing machine makes of it, when it sets, and the cover after it.

    by_hand: without power trowels; screeded: with the other way of striking off (``OTHER_SCREED``);
    colder: the side that stays colder; saw: (first hour, last hour, published windows) after the
    early end of finishing and after the late one; last: set bands of the strip placed last, hours after it is placed.
    """

    plan: PourPlan
    by_hand: PourPlan
    screeded: PourPlan
    setting: Setting
    cover: Cover
    colder: str
    saw: tuple[tuple[float, float, list[dict[str, Any]]], ...]
    last: dict[str, dict[str, SetBand]]

    @property
    def sets(self) -> bool:
        """False where a side does not set within the time looked at."""
        return self.setting.sets and _all_set(self.last)

    @property
    def bands(self) -> dict[str, dict[str, SetBand]]:
        """Set bands of the strip placed first by side, the sunny one first."""
        return self.setting.bands

    @functools.cached_property
    def drying(self) -> Drying:
        """Drying of the first side, until the strip placed last has its final set."""
        return drying_of(self.setting.week, self.plan.hard[1], self.plan.placed)


def day_of(job: Job, setting: Setting, volume: VolumeFound) -> Day:
    """The Day of a job; setting: of its slab; volume: what comes, and how fast it is placed."""
    loads, rate = volume.trucks.loads, volume.rate
    other = placing_rate(**placing_inputs(job, OTHER_SCREED[job.crew.screed]))
    trucks = trucks_of(job, loads, rate)
    last = last_strip(job, setting, trucks)
    plan, by_hand = (_plan(job, trucks, setting.bands, last, power) for power in (True, False))
    screeded = plan
    if other != rate:
        coming = trucks_of(job, loads, other)
        screeded = _plan(job, coming, setting.bands, last_strip(job, setting, coming), True)
    # a crew that is behind does not put off the saw: final set ends finishing, and the slab begins to crack
    ends = map(min, plan.finished, plan.hard)
    saw = tuple(saw_window(end, saw_method(job)) for end in ends)
    return Day(plan, by_hand, screeded, setting, _cover(job, plan), shares(job)[-1][0], saw, last)


@dataclass(frozen=True)
class PourBefore:
    """The pour of an earlier slab of the job: what that slab is called, when placing begins, and its Day."""

    called: str
    begin: datetime | None
    day: Day | Missing


def waiting_beyond(job: Job, day: Day, earlier: Sequence[PourBefore]) -> Quantity:
    """Person-hours of waiting for set that are not spent at another pour of the same day by the same crew.

    earlier: the other pours of the day, all known; the crew is there from the first truck to the early end.
    """
    waiting = day.plan.person_hours["waiting"]
    begin = job.pour.moment()
    if not waiting or begin is None:
        return Q(waiting, "h")
    hours = waiting / job.crew.finishers
    busy = []
    for other in earlier:
        assert other.begin is not None and not isinstance(other.day, Missing)
        there = (other.begin - begin).total_seconds() / 3600
        busy.append((there, there + other.day.plan.finished[0]))
    steps = np.arange(day.plan.placed, day.plan.placed + hours, 1 / 60)  # minute by minute
    free = [not any(start <= t < end for start, end in busy) for t in steps]
    return Q(waiting * float(np.mean(free)), "h")


def setting_of(job: Job, mix: Mix, site: Site, soon: float = np.inf) -> Setting:
    """The Setting of a job's concrete under its weather. soon: hours in which it is looked for first."""
    names = [name for name, _ in shares(job)]
    in_drum, slowing = number_in(job.pour.haul, "h"), job.pour.set_times()
    for horizon in sorted({min(soon, SET_HORIZONS[0]), *SET_HORIZONS}):
        week = run(job, mix, site, [Case(name) for name in names], FREE_DRYING, horizon)
        bands = {
            name: set_band(mix, week.hours, week.march.top[k], in_drum, slowing)
            for k, name in enumerate(names)
        }
        if _all_set(bands):
            break
    return Setting(week, bands)


def last_strip(job: Job, setting: Setting, trucks: Sequence[Truck]) -> dict[str, dict[str, SetBand]]:
    """Set bands of the strip placed last, hours after it is placed: the day warms or cools in between."""
    last = len(setting.week.site.hours) - 2  # where the forecast ends before, no set is found
    steps = min(round(trucks[-1].ends / STEP), last)
    if not steps:
        return setting.bands
    latest = max(band.late for side in setting.bands.values() for band in side.values())
    return setting_of(job, setting.week.mix, setting.week.site.later(steps), 1.25 * latest).bands


def _all_set(bands: dict[str, dict[str, SetBand]]) -> bool:
    return all(np.isfinite(band.late) for side in bands.values() for band in side.values())


def trucks_of(job: Job, loads: Sequence[float], rate: Quantity) -> list[Truck]:
    """The trucks of a job on the clock; loads: yd3 of each; rate: of placing."""
    pour = job.pour
    return truck_clock(
        loads, number_in(pour.truck_spacing, "h"), number_in(rate, "yd3/h"), number_in(pour.haul, "h")
    )  # fmt: skip


def sooner_empty(job: Job, truck: Truck) -> str:
    """What gets a load out of its truck sooner, in words for the builder: none that the job has already."""
    apart = ["trucks farther apart"] if truck.waits > 1e-9 else []
    ways = [*apart, "more hands", *([] if job.pour.pump else ["a pump"])]
    told = f"{', '.join(ways)}{',' if len(ways) > 1 else ''} or smaller loads"
    return told[0].upper() + told[1:]


def _plan(
    job: Job,
    trucks: Sequence[Truck],
    first: dict[str, dict[str, SetBand]],
    last: dict[str, dict[str, SetBand]],
    power: bool,
) -> PourPlan:
    area = number_in(job.poured_area, "ft2")
    sides = [
        Side(name, area * share, _pair(first[name]["initial"]), _pair(last[name]["final"]))
        for name, share in shares(job)
    ]
    inputs = finishing_inputs(job, power)

    def hours_for(square_feet: float) -> float:
        return float(finishing_hours.bulk(A=square_feet, **inputs))

    crew = job.crew
    return pour_plan(trucks, sides, hours_for, crew.passes, crew.size, crew.finishers, power)


def _pair(band: SetBand) -> tuple[float, float]:
    return float(band.early), float(band.late)


def saw_method(job: Job) -> str:
    """The way of sawing, in the words of the table of sawing windows."""
    return "early entry" if job.joints.early_entry else "conventional"


def _cover(job: Job, plan: PourPlan) -> Cover:
    """The job's cover: on when finishing ends (late set), off after its days."""
    if job.pour.blanket == "none" or not np.isfinite(plan.finished[1]):
        return BARE
    on = plan.finished[1]
    return Cover(job.pour.blanket, on, on + number_in(job.pour.blanket_days, "h"))
