"""The concrete as it arrives: how warm, against the day, and how soon the next load meets it."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Any

import numpy as np

from calcbook.basis.showing import show
from calcbook.basis.sources import cite
from calcbook.basis.units import Q, number_in
from calcbook.concrete.curing import cold_limits

if TYPE_CHECKING:
    from calcbook.basis.calculation import Calculation
    from calcbook.job.file import Job
    from calcbook.pour.plan import Day
    from calcbook.pour.site import Site

COLD = Q(40, "degF")  # ACI 306R: colder air within three days is cold weather
HOTTEST = Q(95, "degF")
WARMER = Q(
    15, "delta_degF"
)  # above what is planned with: of the air where that was assumed, and of concrete as mixed


def arriving(calc: Calculation, job: Job, day: Day) -> None:
    """Enter what is asked of the concrete that comes, on the pour day and on the morning page alike."""
    not_too_warm(calc, job)
    _assumed(calc, job, day)
    _next_load(calc, day)


def not_too_warm(calc: Calculation, job: Job) -> None:
    """Enter the most that concrete may have when it comes."""
    placed = job.pour.concrete_temperature
    calc.verdict(
        "Temperature of the concrete on arrival", number_in(placed, "degF") <= HOTTEST.m + 1e-9,
        cite("ACI 305.1-14", "3.3.1: above it by past work or trial batches"), show(placed, "degF", job.system),
        f"at most {show(HOTTEST, 'degF', job.system)} required", _given(job),
        to_do="Order it cooler (chilled water, ice, shaded aggregate), start earlier, or take another day.",
    )  # fmt: skip


def _given(job: Job) -> str:
    """What is said of a temperature that nobody gave."""
    return "It was assumed." if job.field("pour.concrete_temperature").assumed else ""


def _assumed(calc: Calculation, job: Job, day: Day) -> None:
    """Where no temperature of the concrete is given and the day is hot: it may well be warmer than assumed."""
    taken = job.field("pour.concrete_temperature")
    if not taken.assumed:
        return
    warmest = float(np.max(day.drying.air_F))
    calc.check(
        "Air above the concrete temperature that was assumed",
        Q(max(warmest - number_in(taken.value, "degF"), 0.0), "delta_degF"), WARMER, "delta_degF",
        cite("own choice", "from there on concrete may come much warmer than assumed"),
        f"{taken.text} was assumed; the air comes to {show(Q(warmest, 'degF'), 'degF', job.system)} before final set. Concrete "
        "that comes warmer dries and sets faster than shown.",
        to_do="Ask the producer and give pour.concrete_temperature.",
    )  # fmt: skip


def placed_in_cold(calc: Calculation, job: Job, site: Site) -> dict[str, Any] | None:
    """Enter the least that concrete may have in cold weather; the limits of ACI 306R, None where it is not cold."""
    coldest = Q(float(np.min(site.air[site.hours <= 72])), "K").to("degF")
    if coldest >= COLD:
        return None
    limits, placed = cold_limits(job.slab.thickness, coldest), job.pour.concrete_temperature
    calc.verdict(
        "Temperature of the concrete as placed", number_in(placed, "degF") >= limits["placed"].m - 1e-9,
        limits["source"], show(placed, "degF", job.system),
        f"at least {show(limits['placed'], 'degF', job.system)} required", _given(job),
        to_do="Order warmer concrete, by hot water or warm aggregate.",
    )  # fmt: skip
    return limits


def _next_load(calc: Calculation, day: Day) -> None:
    """Enter how old a load is when the next one is placed against it; nothing for a single truck."""
    waits = [later.begins - earlier.begins for earlier, later in pairwise(day.plan.trucks)]
    if waits:
        initial = min(float(bands["initial"].early) for bands in day.bands.values())
        calc.check(
            "Time to the next load, before initial set", Q(max(waits), "h"), Q(initial, "h"), "h",
            cite("ACI 309R in a reprint", "concrete near initial set takes no further load: a cold joint"),
            "From the first concrete of a load to the first of the next, against the early initial set.",
            to_do="Order the trucks closer together (pour.truck_spacing), or form a joint where a load must end.",
        )  # fmt: skip
