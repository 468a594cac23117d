"""Reinforcing bars as they are bought: whole bars of the job's stock length, a price for each size."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from calcbook.basis.showing import show_length
from calcbook.plan.cutting import cut_rolls, whole_from

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job

ANY = "bar"  # the price of a size without its own


def bar_key(size: str) -> str:
    """The key in [prices] of bars of a size, such as #4."""
    return f"{ANY}_{size.removeprefix('#')}"


def price_key(job: Job, key: str) -> str:
    """The key whose price counts: that of bars of any size where a size has none of its own."""
    prices = job.prices
    if key.startswith(f"{ANY}_") and getattr(prices, key) is None and prices.bar is not None:
        return ANY
    return key


def whole_bars(job: Job, pieces: Iterable[float]) -> int:
    """How many bars of the stock length pieces are cut from. pieces: lengths in feet, none longer than it."""
    return whole_from(pieces, job.reinforcement.bar_length.m_as("foot"))


def bars_for_runs(runs: Sequence[float], stock: float, lap: float) -> int:
    """How many bars lines take, laid one after another: what is left of a bar begins the next line, with one more lap,
    unless it is shorter than two laps.

    runs: lengths of the lines, feet; stock: length of a bar, feet; lap: of two bars, feet.
    """
    if stock < 4 * lap or not lap:
        return whole_from((piece for run in runs for piece in lapped(run, stock, lap)), stock)
    return cut_rolls(tuple(runs), stock, lap, 2 * lap).rolls


def lapped(run: float, stock: float, lap: float) -> list[float]:
    """The bars that a run takes, all but the last whole, with the laps between them; in feet.

    run: its length, feet; stock: length of a bar, feet; lap: of two bars, feet.
    """
    laps = max(0, math.ceil((run - lap) / (stock - lap) - 1e-9) - 1)
    return [stock] * laps + [run + laps * lap - laps * stock]


def bars_bought(job: Job, count: int) -> tuple[str, Quantity]:
    """(in words, length) of so many bars of the stock length."""
    stock = job.reinforcement.bar_length
    return f"{count:,} bar{'s' * (count != 1)} of {show_length(stock, job.system)}", count * stock
