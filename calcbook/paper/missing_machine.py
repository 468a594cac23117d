"""What the day becomes when a machine of the plan does not come, and until when to decide."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np

from calcbook.basis.showing import show
from calcbook.basis.units import Q
from calcbook.concrete.labor import OTHER_SCREED
from calcbook.pour.charts import clock_between, clock_text
from calcbook.pour.site import Missing

if TYPE_CHECKING:
    from calcbook.book.chapters import Book
    from calcbook.concrete.crew import PourPlan
    from calcbook.job.file import Job
    from calcbook.pour.plan import Day

CHUTE = Q(16, "ft")  # how far from the truck a chute places: common practice


def decide_by(job: Job, begin: datetime.datetime | None) -> str:
    """Until when a machine that is missing can still stop the pour."""
    when = f"by {clock_text(begin, -job.pour.haul.m_as('hour'))}, " if begin else ""
    return f"Decide {when}before the first truck is loaded; earlier if the plant asks for notice."


def if_it_does_not_come(
    book: Book, day: Day | None, begin: datetime.datetime | None
) -> Iterator[tuple[str, str, str]]:
    """(machine, when it is needed, what the day becomes without it) of each machine of the plan."""
    job, crew = book.job, book.job.crew

    def needed(hours: float) -> str:
        return clock_text(begin, hours) if day and begin else ""

    if job.pour.pump:
        yield "pump", needed(0.0), _by_chute(job)
    if crew.screed == "power":
        words = _without(day.screeded if day else None, day, begin)
        yield "power screed", needed(0.0), f"strike off by {OTHER_SCREED[crew.screed]}: {words}"
    if crew.power_trowels:
        floating = min(t.early[0] for t in day.plan.tasks if t.name == "floating") if day else 0.0
        yield "power trowel", needed(floating), _without(day.by_hand if day else None, day, begin)
    if job.pour.blanket != "none":
        yield "blankets", needed(day.plan.finished[0] if day else 0.0), _bare(book)
    yield (
        "saw", needed(day.saw[0][0] if day else 0.0),
        "tool the joints by hand while the concrete is soft, as deep as the plan says, or move the day",
    )  # fmt: skip


def _by_chute(job: Job) -> str:
    """How much of the slabs of a pour a truck's chute reaches from their sides."""
    reach = show(CHUTE, "ft", job.system)
    beyond = [
        (one, one.plan.outline.buffer(-CHUTE.m_as("foot")).area) for one in (job, *job.poured_with)
    ]
    words = f"a chute reaches {reach} (common practice)"
    if not any(area for _, area in beyond):
        return f"{words}, all of the slab, if a truck can stand at every side: the plan holds; else move the day"
    area = Q(sum(area for _, area in beyond), "ft2")
    volume = sum((Q(area, "ft2") * one.slab.thickness for one, area in beyond), Q(0, "ft3"))
    return (
        f"{words}: even with a truck at every side, {show(area, 'ft2', job.system)} ({show(volume, 'yd3', job.system)}) "
        "is beyond it and must be wheeled over boards. Have the hands for that, or move the day"
    )


def _bare(book: Book) -> str:
    """What the first nights do to the slab without a cover."""
    nights = book.nights
    found = (
        None
        if isinstance(nights, Missing)
        else next((o for o in nights.others if not np.isfinite(o.case.cover.on)), None)
    )
    if found is None:
        return "not worked out without it: nothing may freeze; move the day"
    return (
        "the bare slab does not freeze in this forecast; keep it wet all the same"
        if found.survives
        else "the bare slab freezes before one freezing is survived: move the day"
    )


def _without(plan: PourPlan | None, day: Day | None, begin: datetime.datetime | None) -> str:
    """What the day becomes by another plan."""
    if plan is None or day is None or begin is None:
        return "not worked out without a forecast: more finishers, or move the day"
    more = plan.finished[1] - day.plan.finished[1]
    ends = f"placing done {clock_text(begin, plan.placed)}, finishing {plan.work:.1f} h of work, ends {clock_between(begin, *plan.finished)}"
    if not plan.keeps_up:
        return f"{ends}; set allows {plan.window:.1f} h: the crew does NOT keep up. More finishers, or move the day"
    return f"{ends}{f', {more:.1f} h later' if more > 0.05 else ''}; the crew keeps up"
