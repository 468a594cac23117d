"""What records note beside the figures: trucks by their tickets, tasks on the clock, cracks. Counted and shown, no more."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from calcbook.basis.formula import cite, procedure
from calcbook.basis.next_job import SURE, ends
from calcbook.basis.showing import show
from calcbook.basis.units import Q, number_in
from calcbook.job.clock import clock_hours
from calcbook.records.observed import number
from calcbook.records.schema import WORKS

if TYPE_CHECKING:
    from calcbook.records.file import Record
    from calcbook.records.schema import Truck

TICKETS = ("by the tickets", "own jobs", "mean", "spread from job to job", "least", "most")
CLOCK = ("task", "own jobs", "begins, h after placing began", "from", "to", "lasts, h", "person-hours")
CRACKS = (
    "counted by",
    "group",
    "own jobs",
    "with a crack outside of joints",
    "share of such jobs, 8 in 10 sure",
)
_TWO_LINES = (
    24.0  # times the thickness: ACI 302.1R names 24 to 36 times it as the range of joint spacings
)
_W_CM = 0.50  # a round figure of this book, to count by
_DRYING = (0.1, "lb/ft2/h")  # half of the limit of ACI 305R, to count by


def _span(truck: Truck, a: str, b: str) -> float | None:
    """Minutes of a truck from one time to another; None where one is not known."""
    start, end = getattr(truck, a), getattr(truck, b)
    return None if not start or not end else 60 * ((clock_hours(end) - clock_hours(start)) % 24)


def _unloads(truck: Truck) -> float | None:
    minutes = _span(truck, "began", "empty")
    if minutes is None or not minutes or truck.load is None:
        return None
    return minutes / float(number_in(truck.load, "yd3"))


def ticket_rows(records: Sequence[Record], system: str) -> list[tuple[str, ...]]:
    """Times of trucks in cells of ``TICKETS``, minutes: each job by its mean."""
    spacing = [record.truck_spacing for record in records]
    metric = system.startswith("si")
    cubic = 1 / float(Q(1, "yd3").m_as("m**3")) if metric else 1.0

    def means(of: Callable[[Truck], float | None]) -> list[float | None]:
        each = [
            [m for truck in record.file.trucks if (m := of(truck)) is not None] for record in records
        ]
        return [sum(found) / len(found) if found else None for found in each]

    told = {
        "time between trucks, min": spacing,
        "wait before unloading, min": means(lambda truck: _span(truck, "arrived", "began")),
        "unloading, min": means(lambda truck: _span(truck, "began", "empty")),
        f"unloading, min a {'m³' if metric else 'yd³'}": [
            m if m is None else m * cubic for m in means(_unloads)
        ],
        "on site, arrived to empty, min": means(lambda truck: _span(truck, "arrived", "empty")),
    }
    return [
        (words, *_stats(found))
        for words, values in told.items()
        if (found := [v for v in values if v is not None])
    ]


def _stats(values: Sequence[float]) -> tuple[str, ...]:
    spread = f"{np.std(values, ddof=1):.1f}" if len(values) > 1 else "–"
    return (
        f"{len(values)}",
        f"{np.mean(values):.1f}",
        spread,
        f"{min(values):.1f}",
        f"{max(values):.1f}",
    )


def clock_rows(records: Sequence[Record]) -> list[tuple[str, ...]]:
    """Tasks on the clock in cells of ``CLOCK``: each job by its first start and its last end."""
    rows = []
    for task in WORKS:
        begins, lasts, hours, jobs = [], [], [], 0
        for record in records:
            done = [work for work in record.file.work if work.task == task]
            jobs += bool(done)
            starts = [h for work in done if (h := record.after_start(work.start)) is not None]
            begins += [min(starts)] if starts else []
            spans = [
                ((clock_hours(work.end) - clock_hours(work.start)) % 24, work.people)
                for work in done if work.start and work.end
            ]  # fmt: skip
            lasts += [sum(span for span, _ in spans)] if spans else []
            hours += (
                [sum(span * people for span, people in spans if people)]
                if any(p for _, p in spans)
                else []
            )
        if jobs:
            rows.append((task, f"{jobs}", _mean(begins), *((f"{f(begins):.1f}" if begins else "–") for f in (min, max)),
                         _mean(lasts), _mean(hours)))  # fmt: skip
    return rows


def _mean(values: Sequence[float]) -> str:
    return f"{np.mean(values):.1f}" if values else "–"


@procedure(
    "Share behind a count",
    cite("statistics", "binomial distribution, ends by Clopper and Pearson"),
    "The lowest and the highest share with which so many of so few are no surprise: one in ten either way.",
)
def share_behind(k: int, n: int, share: float = SURE) -> tuple[float, float]:
    """Between which shares lies what gave k of n, so surely (share, plain).

    >>> tuple(round(end, 3) for end in share_behind(0, 10))
    (0.0, 0.206)
    """
    from scipy.special import betaincinv

    low, high = ends(share)
    first = float(betaincinv(k, n - k + 1, low)) if k else 0.0
    last = float(betaincinv(k + 1, n - k, high)) if k < n else 1.0
    return first, last


def crack_rows(records: Sequence[Record], system: str) -> list[tuple[str, ...]]:
    """Jobs whose cracks were counted at 28 days, in cells of ``CRACKS``, by joints, by mix and by weather."""
    rows: list[tuple[str, ...]] = []
    for by, groups in _groups(records, system).items():
        for group, found in groups.items():
            if found:
                low, high = share_behind(sum(found), len(found))
                rows.append(
                    (
                        by,
                        group,
                        f"{len(found)}",
                        f"{sum(found)}",
                        f"{100 * low:.0f} to {100 * high:.0f} %",
                    )
                )
    return rows


def _groups(records: Sequence[Record], system: str) -> dict[str, dict[str, list[bool]]]:
    limit = show(Q(*_DRYING), _DRYING[1], system)
    rules: dict[str, tuple[tuple[str, str, str], Callable[[Any], float | None], float]] = {
        "longest panel": ((f"up to {_TWO_LINES:g} times the thickness", f"over {_TWO_LINES:g} times the thickness", "not said"), _panel, _TWO_LINES),
        "water over cement": ((f"up to {_W_CM:.2f}", f"over {_W_CM:.2f}", "not said"), lambda p: number(p.w_cm, "1"), _W_CM),
        "evaporation, worst hour by the forecast": ((f"up to {limit}", f"over {limit}", "not said"),
                                                    lambda p: number(p.drying, _DRYING[1]), _DRYING[0]),
    }  # fmt: skip
    counted = [
        (record.file.promised, record.file.cracks.seen > 0)
        for record in records
        if record.file.cracks.seen is not None
    ]
    found: dict[str, dict[str, list[bool]]] = {
        "all": {"every job": [cracked for _, cracked in counted]}
    }
    for by, (names, of, limit_of) in rules.items():
        found[by] = {name: [] for name in names}
        for promised, cracked in counted:
            value = of(promised)
            found[by][names[2] if value is None else names[value > limit_of + 1e-9]].append(cracked)
    return found


def _panel(promised: Any) -> float | None:
    if promised.panel is None or promised.thickness is None:
        return None
    return float(number_in(promised.panel, "in")) / float(number_in(promised.thickness, "in"))


def tables(
    records: Sequence[Record], system: str
) -> Iterator[tuple[str, tuple[str, ...], list[tuple[str, ...]], str]]:
    """(title, columns, rows, what to know of them) of all that any record notes."""
    yield "Trucks", TICKETS, ticket_rows(records, system), "Each job counts by its mean."
    yield (
        "Tasks on the clock",
        CLOCK,
        clock_rows(records),
        "As they were written down, whatever the weather.",
    )
    yield (
        "Cracks at 28 days, outside of joints", CRACKS, crack_rows(records, system),
        "Counts alone: jobs of one group differ in much else, so no cause is proved by them.",
    )  # fmt: skip
