"""Heat model and strength curve over several jobs: how far loggers and tests lay from them, pooled job by job."""

from __future__ import annotations

import functools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from calcbook.basis.calculation import Calculation
from calcbook.basis.table import records as rows_of
from calcbook.book.chapters import Book
from calcbook.concrete.curing import strength_band
from calcbook.job.file import Job
from calcbook.job.files import JobError, Stamp, stamp
from calcbook.records.calibrate import SPREAD
from calcbook.records.chapter import BAYES, records_beside
from calcbook.records.estimate import InUse, estimate_of
from calcbook.records.figures import Figure
from calcbook.records.measured import LABORATORY, Measured, degrees, measured_of
from calcbook.records.observed import Outcomes
from calcbook.records.telling import COLUMNS, row

if TYPE_CHECKING:
    from calcbook.records.estimate import Estimate
    from calcbook.records.file import Record

MOST = 12  # slabs that are worked out again, the last ones: each takes a second or so
_KELVIN = 1.8  # F° in a K
_TESTS = 0.15  # spread of a job's tests about the published curve, to begin with: a choice of this book
FIGURES = {
    figure.name: figure
    for figure in (
        Figure("slab", "planned less logged in the slab, mean of a job", "", "delta_degF", False, (float(SPREAD[0]) * _KELVIN,)),
        Figure("air", "air about the slab, warmer than forecast", "", "delta_degF", False, (float(SPREAD[0]) * _KELVIN,)),
        Figure("soil", "soil and base, warmer than taken", "", "delta_degF", False, (float(SPREAD[1]) * _KELVIN,)),
        Figure("cover", "R of the cover, times that of the table", "", "1", True, (float(SPREAD[2]),)),
        Figure("tests", "strength by tests, times the published curve at their age by maturity", "", "1", True, (_TESTS,)),
    )
}  # fmt: skip


@dataclass(frozen=True)
class Off:
    """How one slab came out: outcomes by the name of a figure, on the scale they are learned on; ``hourly``: logged
    hours about the model as planned, K."""

    record: Record
    y: dict[str, float]
    hourly: tuple[float, ...] = ()


def off_of(record: Record) -> Off | str:
    """How the slab of a record came out; where that cannot be told, a sentence that says why."""
    job = record.path.parent / record.file.record.job
    files = [record.path, job, *(record.path.parent / log.file for log in record.file.logs)]
    if not job.is_file():
        return f"{record.path.name}: its job file {job.name} is not beside it, so its slab cannot be worked out again"
    return _off(record, job, stamp(*files))


@functools.lru_cache(maxsize=64)
def _off(record: Record, job: Path, _files: tuple[Stamp, ...]) -> Off | str:
    """The same as the files stand: it is worked out once."""
    try:
        book = Book(Job.read(job))
        found = measured_of(book) if record.file.logs else None
    except JobError as error:
        return f"{record.path.name}: {error.problems[0]}"
    if isinstance(found, str):
        return f"{record.path.name}: {found}"
    y, hourly = _heat(found) if found else ({}, ())
    ratios = list(_tests(record, book.job, found))
    return Off(record, y | ({"tests": float(np.mean(ratios))} if ratios else {}), hourly)


def _heat(found: Measured) -> tuple[dict[str, float], tuple[float, ...]]:
    settings = found.settings
    log = next(log for log in found.logs if log.place == found.place).hourly()
    off = np.interp(log.hours, found.hours, found.planned) - log.kelvin
    y = {
        "slab": _KELVIN * float(off.mean()),
        "air": _KELVIN * settings.air,
        "soil": _KELVIN * settings.soil,
    }
    if np.isfinite(found.slab.case.cover.on):
        y["cover"] = math.log(settings.cover)
    return y, tuple(float(one) for one in off)


def _tests(record: Record, job: Job, found: Measured | None) -> Iterator[float]:
    """Logarithms of the tests of a job over the published curve; those of the slab only where it was logged."""
    haul = job.pour.haul.m_as("hour")
    for test in record.file.strengths:
        age = test.age.m_as("hour")
        if test.by == "hammer":
            continue
        if test.cured != "with the slab":
            hours = np.linspace(0.0, age, 200)
            kelvin = np.full(200, LABORATORY.m_as("kelvin"))
        elif found is not None and age <= found.hours[-1]:
            hours, kelvin = found.hours, found.kelvin
        else:
            continue
        _, middle, _ = strength_band(hours, kelvin, job.concrete.strength, job.concrete.cement, haul)
        yield math.log(
            float(test.strength.m_as("psi")) / max(float(np.interp(age, hours, middle)), 1.0)
        )


def pooled_of(records: Sequence[Record]) -> tuple[list[Estimate], tuple[float, ...], list[str]]:
    """(estimate of each figure, logged hours about the model, what could not be told) of the last records that were logged
    or tested."""
    told = [record for record in records if record.file.logs or record.file.strengths][-MOST:]
    each = [off_of(record) for record in told]
    offs = [off for off in each if isinstance(off, Off)]
    problems = [words for words in each if isinstance(words, str)]
    found = []
    for figure in FIGURES.values():
        there = [off for off in offs if figure.name in off.y]
        if there:
            (spread,) = figure.spread
            outcomes = Outcomes(
                figure, tuple(o.record for o in there), np.array([o.y[figure.name] for o in there]), ()
            )
            found.append(estimate_of(outcomes, InUse(1.0, 0.0, float(spread)), figure.name))
    return found, tuple(one for off in offs for one in off.hourly), problems


def pooled(job: Job) -> Calculation:
    """Loggers and tests of all records beside a job against the heat model and the published strength curve."""
    calc = Calculation(
        "pooled",
        "Heat model and strength curve, over own jobs",
        "How far off were they, job by job?",
        job.system,
    )
    beside = records_beside(job)
    if beside.invented:
        calc.note("There is no record beside this job yet, so nothing is said of the heat model.")
        return calc
    found, hourly, problems = pooled_of(beside.records)
    if not found:
        calc.note(
            "No record beside this job tells of a logger or of a test whose slab can be worked out again."
        )
    for words in problems:
        calc.caution(words)
    if found:
        rows = [(one.figure.words, *row(one, job.system)[1:]) for one in found]
        calc.table("As measured, against the model as it was planned", rows_of(COLUMNS, rows), BAYES)
        calc.note(
            "0 F° (0 C°), and for what is so many times another 1, is where the model is right. All of it is shown only: a job's own "
            "logger sets its heat model on the page of its first week."
        )
    if hourly:
        spread, mean = (degrees(float(f(hourly)), job.system) for f in (np.std, np.mean))
        calc.note(
            f"Over {len(hourly)} logged hours of all jobs the plan lay {mean} above the logger on average, and single hours "
            f"scatter by {spread} about that."
        )
    return calc
