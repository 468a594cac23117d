"""Random numbers by what moves a price, each of a stream of its own, so that none moves with another."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from calcbook.job.file import Job

DRAWS_ALONE = 20_000  # of all draws, to see what each driver does alone
DRIVERS = {
    "base": "depth of the base as it comes out",
    "waste": "waste, and a further load when short",
    "crew": "pace of the crew, all tasks alike",
    "task": "pace of each task by itself",
    "market": "prices, all alike",
    "item": "price of each thing by itself",
    "lost": "days lost to the weather",
    "wait": "waiting for set",
}


class Scores:
    """Random numbers by driver.

    job: a Job, for its spreads; n: how many draws; seed: of all streams. A driver without spread,
    or left out by ``only``, stands in its middle.
    """

    def __init__(self, job: Job, n: int, seed: int, allowed: Sequence[str] = tuple(DRIVERS)) -> None:
        self.job, self.n, self.seed, self.allowed = job, n, seed, tuple(allowed)
        risk = job.risk
        self.spreads = {
            "base": job.base.depth_spread.m, "waste": risk.waste_spread.m, "crew": risk.crew_pace.m,
            "task": risk.task_pace.m, "market": risk.market.m, "item": risk.item_price.m,
            "lost": risk.lost_day.m, "wait": risk.set_wait.m,
        }  # fmt: skip

    def only(self, name: str) -> Scores:
        """The first of the same random numbers, with every other driver in its middle."""
        return Scores(self.job, min(self.n, DRAWS_ALONE), self.seed, (name,))

    def moves(self, name: str) -> bool:
        """True where a driver is let loose and its spread is above zero."""
        return name in self.allowed and self.spreads[name] > 0

    def spread(self, name: str) -> float:
        """The spread of a driver; 0 where it does not move."""
        return float(self.spreads[name]) if self.moves(name) else 0.0

    def __call__(self, name: str) -> NDArray | float:
        """Scores of a driver: an array, or 0 where it does not move."""
        return _kept(self.n, self.seed, name) if self.moves(name) else 0.0

    def shares(self, name: str) -> NDArray:
        """Numbers drawn evenly from above 0 to 1: an array."""
        return _shares(self.n, self.seed, name)


def scores(n: int, seed: int, name: str, item: int = 0) -> NDArray:
    """The scores of a driver, or of one of its items."""
    return _stream(seed, name, item).standard_normal(n)


def _stream(seed: int, name: str, item: int) -> np.random.Generator:
    return np.random.default_rng((seed, list(DRIVERS).index(name), item))


@functools.lru_cache(maxsize=8)
def _kept(n: int, seed: int, name: str) -> NDArray:
    return _closed(scores(n, seed, name))


@functools.lru_cache(maxsize=2)
def _shares(n: int, seed: int, name: str) -> NDArray:
    return _closed(1 - _stream(seed, name, 0).random(n))


def _closed(drawn: NDArray) -> NDArray:
    """An array that none may change, as it is given out again."""
    drawn.flags.writeable = False
    return drawn
