"""Where the prices of a quote come from, and how old they are."""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from typing import TYPE_CHECKING

from calcbook.basis.showing import show
from calcbook.basis.table import records
from calcbook.basis.units import UnitError
from calcbook.job.clock import read_day
from calcbook.job.fields import meta_of

if TYPE_CHECKING:
    from calcbook.job.file import Job


def today_of(job: Job) -> datetime.date:
    """The day on which the age of prices is told: the date of the calculation, else today."""
    try:
        return read_day(job.job.date)
    except UnitError:
        return datetime.date.today()


def origin(job: Job, key: str) -> str:
    """Where a price comes from: the job file, or the builder's own file with supplier, date and age.

    key: of [prices]. "" where the job has no such price.
    """
    if getattr(job.prices, key) is None:
        return ""
    kept = job.own.prices.get(key) if job.own and key not in job.raw.get("prices", {}) else None
    return kept.text(today_of(job)) if kept else "in the job file"


def kept_rows(job: Job, keys: Iterable[str]) -> list[dict[str, str]]:
    """Rows (price, amount, from) of the prices that come from the builder's own file; none without one.

    keys: of [prices] that the quote uses.
    """
    if job.own is None:
        return []
    given, cells = job.raw.get("prices", {}), []
    for key in dict.fromkeys(keys):
        if key in job.own.prices and key not in given:
            info = job.schema_of(f"prices.{key}")
            amount = show(getattr(job.prices, key), meta_of(info)["unit"], job.system)
            cells.append((info.description, amount, origin(job, key)))
    return records(("price of", "amount", "given by"), cells)
