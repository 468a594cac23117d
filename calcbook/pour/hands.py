"""Hands of one crew: where placing and floating overlap, and where it pours twice on a day."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.calculation import PRACTICE
from calcbook.basis.rounding import ceil
from calcbook.basis.units import Q, number_in
from calcbook.pour.charts import clock_text
from calcbook.pour.plan import FINISHABLE
from calcbook.pour.site import Missing

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.job.file import Job
    from calcbook.pour.plan import Day, PourBefore


def known_of(earlier: Sequence[PourBefore]) -> list[PourBefore]:
    """Those of the other pours whose day is worked out."""
    return [other for other in earlier if not isinstance(other.day, Missing) and other.day.sets]


def hands(calc: Calculation, job: Job, day: Day, earlier: Sequence[PourBefore]) -> None:
    """Enter whether the crew has the hands; earlier: other pours of the day by the same crew, all known."""
    _at_once(calc, job, day)
    for other in earlier:
        _two_pours(calc, job, day, other)


def _first_set(day: Day, k: int) -> float:
    """Hour in which floating can start; k: 0 by the early set, 1 by the late."""
    initial = [bands["initial"] for bands in day.bands.values()]
    return min(float(band.late if k else band.early) for band in initial)


def _at_once(calc: Calculation, job: Job, day: Day) -> None:
    """Where the first strip sets before the last is placed, some place while others float."""
    plan, crew, begin = day.plan, job.crew, job.pour.moment()
    floating, truck = _first_set(day, 0), day.plan.trucks[0]
    if begin is None or floating >= plan.placed:
        return
    rate = truck.load / (truck.ends - truck.begins)
    placing = int(ceil(rate / number_in(crew.place_rate, "yd3") - 1e-9))
    calc.check(
        "People who place and float at the same time", placing + crew.finishers, max(crew.size, crew.finishers), "1",
        PRACTICE, f"Floating can start at {clock_text(begin, floating)}, placing lasts to "
        f"{clock_text(begin, plan.placed)}: {placing} place and {crew.finishers} float.",
        to_do="More people, faster placing, a mix that sets later, or a pour in two parts.",
    )  # fmt: skip


def _two_pours(calc: Calculation, job: Job, day: Day, other: PourBefore) -> None:
    """Placing and finishing of this pour beside another; all hours after its own first truck."""
    begin = job.pour.moment()
    assert begin is not None and other.begin is not None and not isinstance(other.day, Missing)
    there = (other.begin - begin).total_seconds() / 3600
    ours, theirs = (0.0, day.plan.placed), (there, there + other.day.plan.placed)
    first, second = sorted((ours, theirs))
    calc.verdict(
        f"Placing beside {other.called}, by the same crew", second[0] >= first[1] - 1e-9, PRACTICE,
        f"second pour from {clock_text(begin, second[0])}", f"from {clock_text(begin, first[1])} on, when the first is placed",
        to_do="Start the later pour then (pour.start), or bring a second crew.",
    )  # fmt: skip
    windows = []
    for k in (0, 1):
        starts = _first_set(day, k), there + _first_set(other.day, k)
        ends = day.plan.hard[k], there + other.day.plan.hard[k]
        windows.append(max(ends) - min(starts))
    calc.check(
        f"Hours of finishing here and at {other.called}", Q(day.plan.work + other.day.plan.work, "h"),
        Q(min(windows), "h"), "h", FINISHABLE,
        "From the first initial set to the last final set of both, the shorter of the two bands.",
        to_do="More machines, more finishers, or two days.",
    )  # fmt: skip
