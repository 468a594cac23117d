"""The first week worked out: temperatures, strength and safety from frost, for each cover."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from calcbook.basis.table import lookup
from calcbook.basis.units import Q
from calcbook.concrete.curing import freeze_safe, strength_band
from calcbook.concrete.maturity import first_below
from calcbook.job.schema.pour import BLANKETS
from calcbook.pour.rivals import HARDEST, JUDGING, RIVALS
from calcbook.pour.slab_heat import BARE, FREEZING, Case, Cover, Week, run

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from calcbook.basis.units import Quantity
    from calcbook.concrete.hydration import Mix
    from calcbook.job.file import Job
    from calcbook.pour.plan import Day
    from calcbook.pour.rivals import Law

DAYS_TRIED = (1.0, 2.0, 3.0)


@dataclass(frozen=True)
class Outcome:
    """What a cover brings on one side.

    lowest: K of the surface before a freeze is survived (or at all, if it is not); at: its hour;
    safe: hour from which one freezing is survived (inf if never in the forecast); rows: what each
    source says; low, mid, high: strength by hour, psi, at the coldest depth of the slab; harder: what it
    would be by the coldest of the rival laws of surface and sky.
    """

    case: Case
    lowest: float
    at: float
    safe: float
    rows: tuple[Any, ...]
    low: np.ndarray
    mid: np.ndarray
    high: np.ndarray
    harder: Outcome | None = None

    @property
    def survives(self) -> bool:
        """True where by every law the surface stays above freezing until a freeze is survived."""
        if self.harder is not None and not self.harder.survives:
            return False
        return bool(np.isfinite(self.safe) and self.lowest > FREEZING)

    @property
    def coldest(self) -> float:
        """K of the surface before a freeze is survived, by the coldest law."""
        return self.lowest if self.harder is None else min(self.lowest, self.harder.lowest)


@dataclass(frozen=True)
class FirstWeek:
    """The planned case and the others tried, with the Week they come from.

    planned: the Outcome on the colder side; others: Outcomes of other covers on that side; by_law: the
    planned cover by each rival law.
    """

    week: Week
    planned: Outcome
    others: tuple[Outcome, ...]
    index: int
    by_law: tuple[tuple[Law, Outcome], ...] = ()

    def least_cover(self) -> Outcome | None:
        """The lightest cover, and the fewest of its days, that survives; None if none does."""
        fit = [o for o in (*self.others, self.planned) if o.survives]
        return min(fit, key=lambda o: (o.case.cover.resistance.m, o.case.cover.off), default=None)


def covers_to_try(on: float) -> list[Cover]:
    """Bare, and each blanket for a day and for three, from the hour ``on``; none where that is never."""
    if not np.isfinite(on):
        return []
    tried = [BARE]
    for name in BLANKETS:
        if name != "none" and lookup("blankets", name=name)["R_per_inch"] > 0:
            tried += [Cover(name, on, on + 24 * days) for days in (DAYS_TRIED[0], DAYS_TRIED[-1])]
    return tried


def first_week_of(job: Job, mix: Mix, day: Day) -> FirstWeek:
    """The FirstWeek of a job, after its Day: every cover by the book's laws and by the hardest, the planned by all."""
    on = day.plan.finished[1]
    covers = [day.cover] + [c for c in covers_to_try(on) if c != day.cover]
    laws = [JUDGING] * len(covers) + [HARDEST] * len(covers) + list(RIVALS)
    lying = [*covers, *covers, *(day.cover for _ in RIVALS)]
    site = day.setting.week.site
    met = {law: law.met(site) for law in dict.fromkeys(laws)}
    skies, films = (np.array([met[law][n] for law in laws]) for n in (0, 1))
    week = run(job, mix, dataclasses.replace(site, sky=skies), [Case(day.colder, cover) for cover in lying],
               on, film=films)  # fmt: skip
    found, n = outcomes_of(week, job), len(covers)
    rivals = tuple(zip(RIVALS, found[2 * n :], strict=True))
    others = [
        dataclasses.replace(f, harder=hard) for f, hard in zip(found[:n], found[n : 2 * n], strict=True)
    ]
    by_law = ((JUDGING, found[0]), (HARDEST, found[n]), *rivals)
    coldest = min(
        (outcome for _, outcome in by_law), key=lambda outcome: (outcome.survives, outcome.lowest)
    )
    return FirstWeek(week, dataclasses.replace(found[0], harder=coldest), tuple(others[1:]), 0, by_law)


def outcomes_of(week: Week, job: Job) -> list[Outcome]:
    """The Outcome of every case of a Week."""
    coldest = np.minimum(week.march.top, week.march.bottom)
    curves = strength_band(
        week.hours, coldest, job.concrete.strength, job.concrete.cement, job.pour.haul.m_as("hour")
    )
    safe, rows = freeze_safe(week.hours, coldest, curves[0])
    safe = np.atleast_1d(safe)
    rows = [(words, np.atleast_1d(hours)) for words, hours in rows]
    return [_outcome(week, k, float(safe[k]), [(w, float(h[k])) for w, h in rows], [c[k] for c in curves])
            for k in range(len(week.cases))]  # fmt: skip


def _outcome(
    week: Week, k: int, safe: float, rows: Sequence[tuple[str, float]], curves: Sequence[NDArray]
) -> Outcome:
    n = int(np.argmin(np.where(week.hours <= safe, week.march.top[k], np.inf)))
    top, hour = float(week.march.top[k][n]), float(week.hours[n])
    low, mid, high = curves
    return Outcome(week.cases[k], top, hour, safe, tuple(rows), low, mid, high)


def strength_at_hour(week: Week, outcome: Outcome, hour: float) -> tuple[Quantity, ...] | None:
    """Lowest, middle and highest strength at an hour, as quantities; None past the forecast."""
    if hour > week.hours[-1] + 1e-9:
        return None
    return tuple(
        Q(float(np.interp(hour, week.hours, curve)), "psi")
        for curve in (outcome.low, outcome.mid, outcome.high)
    )


def removal_gap(week: Week, outcome: Outcome, k: int) -> float | None:
    """Surface less air, K, at the moment the cover comes off; None without a cover or past the forecast."""
    off = outcome.case.cover.off
    if not np.isfinite(off) or off >= week.hours[-1]:
        return None
    surface = np.interp(off - 0.01, week.hours, week.march.top[k])
    return float(surface - np.interp(off, week.site.hours, week.site.air))


def removal_drop(week: Week, outcome: Outcome, k: int) -> float | None:
    """How far the surface cools in the 24 h after the cover comes off, K; None as for ``removal_gap``."""
    off = outcome.case.cover.off
    if not np.isfinite(off) or off >= week.hours[-1]:
        return None
    after = (week.hours >= off) & (week.hours <= off + 24)
    surface = week.march.top[k]
    return float(np.interp(off, week.hours, surface) - np.min(surface[after], initial=np.inf))


def freezes_at(week: Week, k: int) -> float:
    """Hour at which the surface first lies below freezing; inf if it never does."""
    return first_below(week.hours, week.march.top[k], FREEZING)
