"""The slab of a job as measured: its heat model set by the logger, its strength by tests, and what comes from now on."""

from __future__ import annotations

import dataclasses
import datetime
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from calcbook.basis.calculation import Calculation
from calcbook.basis.coherent import from_coherent
from calcbook.basis.showing import show
from calcbook.basis.sources import cite
from calcbook.basis.table import lookup, records
from calcbook.basis.units import Q
from calcbook.book.chapters import Book
from calcbook.concrete.curing import freeze_safe, strength_band
from calcbook.concrete.hydration import age_at_degree
from calcbook.concrete.maturity import grown_age, maturity_rate
from calcbook.concrete.setting import set_degree
from calcbook.job.clock import read_day
from calcbook.job.files import JobError
from calcbook.pour.charts import clock_text
from calcbook.pour.first_week import MATURITY
from calcbook.pour.site import Missing
from calcbook.pour.slab_heat import FREEZING
from calcbook.records.calibrate import IN_SLAB, LIMITS, Settings, Slab, calibrated, row_of
from calcbook.records.file import record_of
from calcbook.records.logger import Logged, read_log
from calcbook.records.measured_chart import measured_chart
from calcbook.records.strength import Curve, fitted

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job
    from calcbook.records.file import Record

LABORATORY = Q(73, "degF")  # ASTM C31, standard curing (from memory)
_AHEAD = (0, 12, 24, 48, 72)  # hours from now that are told
_AHEAD_COLUMNS = ("when", "clock", "age by maturity", "lowest", "middle", "highest")
_LEAST_SQUARES = cite("statistics", "least squares, each setting held to the forecast by its spread")


@dataclass(frozen=True)
class Measured:
    """A slab as measured: its logs, the settings and temperatures found, and the curve of its tests.

    now: hour of the last log in the slab; kelvin: at ``place`` by ``hours``, as logged until now, before and after by the model.
    """

    slab: Slab
    logs: tuple[Logged, ...]
    settings: Settings
    place: str
    now: float
    hours: NDArray
    planned: NDArray
    kelvin: NDArray
    curve: Curve | None
    begin: datetime.datetime

    @property
    def ages(self) -> NDArray:
        """Equivalent age by hour, in hours, with the time in the drum."""
        return grown_age(
            self.hours, maturity_rate.bulk(T=self.kelvin), self.slab.job.pour.haul.m_as("hour")
        )

    def strengths(self) -> tuple[NDArray, NDArray, NDArray]:
        """Lowest, middle and highest strength by hour, psi: by own tests where there are enough, else by published curves."""
        job = self.slab.job
        if self.curve is None:
            return strength_band(
                self.hours,
                self.kelvin,
                job.concrete.strength,
                job.concrete.cement,
                job.pour.haul.m_as("hour"),
            )
        days = self.ages / 24
        low, high = self.curve.band(days)
        return low, self.curve.strength(days), high


def measured_of(book: Book) -> Measured | str:
    """The slab of a book as measured; where that cannot be told, a sentence that says why."""
    job, nights, site = book.job, book.nights, book.site
    if job.path is None or not job.path.exists():
        return "A record lies beside a job file; this job is in none."
    record = record_of(job.path)
    if record is None or not record.file.logs:
        return "No logger's file is named in a record of this job. calcbook record asks for it."
    if isinstance(site, Missing):
        return site.what
    if isinstance(nights, Missing):
        return nights.what
    if record.start is None or not record.file.record.date:
        return "The record lacks the day, or the time at which placing began: [record] date and [[work]] placing."
    begin = datetime.datetime.combine(read_day(record.file.record.date), datetime.time())
    begin += datetime.timedelta(hours=record.start)
    planned = job.pour.moment()
    if planned is None or abs((begin - planned).total_seconds()) > 12 * 3600:
        return "The record's day is not that of the job's forecast: bring [pour] date and its weather up to date first."
    logs = tuple(read_log(job.path.parent / log.file, log.place, begin) for log in record.file.logs)
    inside = [log for log in logs if log.place in IN_SLAB]
    if not inside:
        return "The loggers lay in air or soil only; one in the slab is needed."
    slab = Slab(job, book.mix.mix, site, nights.planned.case, nights.week.wet_until)
    return _measured(slab, record, logs, inside[0], begin)


def _measured(
    slab: Slab, record: Record, logs: tuple[Logged, ...], log: Logged, begin: datetime.datetime
) -> Measured:
    settings, end = calibrated(slab, logs), float(slab.site.hours[-1])
    week = slab.week(settings, end)
    now = float(min(log.hours[-1], week.hours[-1]))
    model = row_of(week, log.place)
    there = (week.hours >= log.hours[0]) & (week.hours <= now)
    kelvin = np.where(there, np.interp(week.hours, log.hours, log.kelvin), model)
    planned = row_of(slab.week(Settings(), end), log.place)
    without = Measured(slab, logs, settings, log.place, now, week.hours, planned, kelvin, None, begin)
    curve = _curve(record, without)
    return dataclasses.replace(without, curve=curve)


def _curve(record: Record, found: Measured) -> Curve | None:
    """The curve of the record's tests, each at its equivalent age."""
    in_laboratory = float(maturity_rate.bulk(T=LABORATORY.m_as("kelvin")))
    ages = found.ages
    days, psi, hammer = [], [], []
    for test in record.file.strengths:
        hours = test.age.m_as("hour")
        if test.cured == "with the slab":
            if hours > found.hours[-1]:
                continue  # its temperatures are not known so far
            age = float(np.interp(hours, found.hours, ages))
        else:
            age = hours * in_laboratory
        days.append(age / 24)
        psi.append(test.strength.m_as("psi"))
        hammer.append(test.by == "hammer")
    mix = found.slab.mix
    t_0 = age_at_degree(
        set_degree(lookup("set_degree", event="final")["k"], mix.w_cm), **mix.curve
    ).m_as("day")
    return fitted(days, psi, t_0, hammer) if days else None


def measured(job: Job) -> Calculation:
    """The slab of a job as measured, as a Calculation for its page."""
    calc = Calculation(
        "measured", "The slab as measured", "What do logger and tests say of this slab, and what comes from now on?",
        job.system,
    )  # fmt: skip
    try:
        found: Measured | str = measured_of(Book(job))
    except JobError as error:
        found = error.problems[0]
    if isinstance(found, str):
        calc.note(found)
        return calc
    _now(calc, found)
    _settings(calc, found)
    _strength(calc, found)
    _frost(calc, found)
    calc.figure("Temperatures as measured", lambda: measured_chart(
        found.logs, found.place, found.hours, found.planned, found.kelvin, found.now, found.begin, job.system))  # fmt: skip
    calc.caution(
        "A logger tells of one place. Edges and corners, and concrete that came later, are colder and weaker than the middle."
    )
    return calc


def _now(calc: Calculation, found: Measured) -> None:
    calc.finding(
        "The last that was logged in the slab; from here on the model goes on.", "", f"hour {found.now:.0f}, "
        f"{clock_text(found.begin, found.now)}", "", _LEAST_SQUARES, "now", "now",
    )  # fmt: skip
    at = np.interp(found.now, found.hours, found.kelvin)
    calc.finding(f"Slab, {found.place}, then.", "T", Q(from_coherent(float(at), "degF"), "degF"), "degF", _LEAST_SQUARES,
                 "temperature", f"temperature at the {found.place}")  # fmt: skip
    age = float(np.interp(found.now, found.hours, found.ages))
    calc.finding("Its age by maturity, in hours at 68 °F (20 °C).", "t_e", Q(age, "h"), "h", MATURITY, "age", "equivalent age")  # fmt: skip


def _settings(calc: Calculation, found: Measured) -> None:
    """What the logger makes of the weather and the cover, with the limits within which each may move."""
    system, s = calc.system, found.settings
    rows = []
    for words, value, limit in (
        ("air about the slab, warmer than forecast by", s.air, LIMITS[0]),
        ("soil and base, warmer than taken by", s.soil, LIMITS[1]),
    ):
        rows.append((words, degrees(value, system), f"± {degrees(limit, system)}"))
        if abs(value) >= limit - 1e-6:
            calc.caution(
                f"The {words.split(',')[0]} stands at its limit: look at the logger's place and clock before you trust it."
            )
    most = float(np.exp(LIMITS[2]))
    rows.append(
        ("R of the cover, times that of the table", f"{s.cover:.2f}", f"{1 / most:.2g} to {most:.2g}")
    )
    if not 1 / most * 1.001 < s.cover < most * 0.999:
        calc.caution(
            "The cover's R stands at its limit: look whether it lies flat, dry and weighed down."
        )
    calc.table("The heat model, set by the logger", records(("setting", "found", "within"), rows), _LEAST_SQUARES)  # fmt: skip
    for log in found.logs:
        if log.place == found.place:
            off = np.interp(log.hours, found.hours, found.planned) - log.kelvin
            calc.note(
                f"As planned the model was off by {degrees(float(np.sqrt(np.mean(off**2))), system)} on average (root mean square)."
            )


def degrees(kelvin: float, system: str) -> str:
    """A difference of temperatures in the units of a system. kelvin: the difference, K."""
    return show(Q(float(kelvin) * 1.8, "delta_degF"), "delta_degF", system)


def _strength(calc: Calculation, found: Measured) -> None:
    curve, system, ages = found.curve, calc.system, found.ages
    if curve is None:
        calc.note(
            "Fewer than three tests at two ages are in the record, so strength is by the published curves."
        )
    else:
        calc.finding("Limiting strength of the hyperbola through the tests.", "S_u", Q(curve.f_u, "psi"), "psi",
                     fitted.source, "limit", "limiting strength")  # fmt: skip
        calc.finding("Rate constant of the same.", "k", Q(curve.k, "1/day"), "1/day", fitted.source, "rate", "rate constant")  # fmt: skip
        calc.finding("Tests lie about it by this share.", "s", 100 * curve.spread, "%", fitted.source, "scatter",
                     "spread of a test about the curve")  # fmt: skip
        if float(ages[-1]) / 24 > curve.reach:
            calc.caution(
                f"The oldest test is of {curve.reach:.1f} d by maturity; beyond, the curve is drawn on and proves nothing."
            )
    low, middle, high = found.strengths()
    rows = []
    for ahead in _AHEAD:
        hour = found.now + ahead
        if hour > found.hours[-1]:
            break
        values = (show(_at(found, one, hour), "psi", system) for one in (low, middle, high))
        when = "now" if not ahead else f"in {ahead} h"
        age = show(Q(float(np.interp(hour, found.hours, ages)), "h"), "h", system)
        rows.append((f"{when}, hour {hour:.0f}", clock_text(found.begin, hour), age, *values))
    calc.table(
        f"Strength from now on, at the {found.place}", records(_AHEAD_COLUMNS, rows), fitted.source if curve else MATURITY
    )  # fmt: skip
    calc.results["strength"] = _at(found, low, found.now)


def _at(found: Measured, values: NDArray, hour: float) -> Quantity:
    return Q(float(np.interp(hour, found.hours, values)), "psi")


def _frost(calc: Calculation, found: Measured) -> None:
    low = found.strengths()[0]
    safe, _ = freeze_safe(found.hours, found.kelvin, low)
    words = clock_text(found.begin, float(safe)) if np.isfinite(safe) else "not within the forecast"
    calc.finding("One freezing is survived from then on, where the logger lies.", "t_500", words, "h", MATURITY,
                 "safe", "time to 500 psi")  # fmt: skip
    until = found.hours <= safe
    lowest = float(found.kelvin[until].min())
    calc.verdict(
        "Slab where measured, until one freezing is survived", bool(np.isfinite(safe)) and lowest > FREEZING,
        cite("NRMCA CIP 27", "500 psi (3.5 MPa) before one freezing"),
        show(Q(from_coherent(lowest, "degF"), "degF"), "degF", calc.system),
        f"above {show(Q(32, 'degF'), 'degF', calc.system)} required",
        to_do="Keep the cover on." if np.isfinite(safe) else "The forecast ends before: add rows, and keep the cover on.",
    )  # fmt: skip
