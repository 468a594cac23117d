"""The first nights under an uncertain forecast: many draws of the weather through the heat model."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from calcbook.basis.coherent import from_coherent, to_coherent
from calcbook.basis.formula import cite, procedure
from calcbook.basis.table import lookup
from calcbook.concrete.curing import freeze_safe, strength_band
from calcbook.pour.alone import pour_alone
from calcbook.pour.sky import coldest_sky
from calcbook.pour.slab_heat import FREEZING, Case, run

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from calcbook.job.file import Job
    from calcbook.pour.site import Site

CHUNK = 100


@dataclass(frozen=True)
class Risk:
    """What the draws came to.

    lowest: K, coldest surface before a freeze is survived, by draw; safe: hour from which one is
    survived, by draw (inf where not within the forecast).
    """

    lowest: np.ndarray
    safe: np.ndarray

    @property
    def odds(self) -> float:
        """Share of the draws in which the surface freezes too early, or too late to tell."""
        return float(np.mean((self.lowest <= FREEZING) | ~np.isfinite(self.safe)))

    def lowest_at(self, share: float) -> float:
        """Coldest surface, K, that this share of the draws stays above."""
        return float(np.quantile(self.lowest, 1 - share))

    def __str__(self) -> str:
        cold = from_coherent(self.lowest_at(0.95), "degF")
        return (
            f"{100 * self.odds:.0f} % of {len(self.lowest)} draws freeze before 500 psi; "
            f"in 95 % the surface stays above {cold:.1f} °F"
        )


@procedure(
    "Odds of frost under an uncertain forecast",
    cite("common practice", "spread of forecasts; a starting figure of each, see the table"),
    "Air, wind, cloud and the concrete's temperature are drawn anew, with errors that grow by the day; "
    "each draw runs through the heat model.",
)
def frost_odds(
    job: Job, draws: int = 500, seed: int = 1, progress: Callable[[float], None] | None = None
) -> Risk:
    """Odds that the surface freezes before it survives one freezing: a Risk.

    job: a Job with weather; draws: how many; seed: of the random numbers, the same seed giving
    the same answer; progress: called with the share done. The colder side and the job's cover
    are taken. Raises NoWeather.
    """
    site, mix, day = pour_alone(job)
    case = Case(day.colder, day.cover)
    random = np.random.default_rng(seed)
    lowest, safe = [], []
    for start in range(0, draws, CHUNK):
        count = min(CHUNK, draws - start)
        drawn = _drawn(site, random, count)
        week = run(job, mix, drawn, [case], day.plan.finished[1], placed=_placed(job, random, count))
        coldest = np.minimum(week.march.top, week.march.bottom)
        low = strength_band(
            week.hours, coldest, job.concrete.strength, job.concrete.cement, job.pour.haul.m_as("hour")
        )[0]
        moments = np.atleast_1d(freeze_safe(week.hours, coldest, low)[0])
        before = week.hours[None, :] <= moments[:, None]
        lowest.append(np.min(np.where(before, week.march.top, np.inf), axis=1))
        safe.append(moments)
        if progress:
            progress((start + count) / draws)
    return Risk(np.concatenate(lowest), np.concatenate(safe))


def _spread(what: str, days: NDArray | float) -> NDArray | float:
    row = lookup("forecast_error", what=what)
    return row["first_day"] + row["more_each_day"] * days


def _placed(job: Job, random: np.random.Generator, count: int) -> NDArray:
    """Concrete as delivered by draw, K."""
    planned = job.pour.concrete_temperature.m_as("degF")
    drawn = np.clip(planned + random.normal(0, _spread("concrete", 0), count), 36, 104)
    return to_coherent(drawn, "degF")


def _drawn(site: Site, random: np.random.Generator, count: int) -> Site:
    """A Site with weather drawn anew: arrays of draws x hours."""
    days = site.hours / 24
    air = site.air + to_coherent(_errors(random, count, days) * _spread("air", days), "delta_degF")
    wind = np.minimum(site.wind * np.exp(_errors(random, count, days) * _spread("wind", days)), 100)
    cloud = np.clip(site.cloud + _errors(random, count, days) * _spread("sky", days), 0, 1)
    humidity = np.broadcast_to(site.humidity, air.shape)
    sky = coldest_sky(air, humidity, cloud)
    return dataclasses.replace(site, air=air, sky=sky, wind=wind, humidity=humidity, cloud=cloud)


def _errors(random: np.random.Generator, count: int, days: NDArray) -> NDArray:
    """Standard errors by draw and hour: half common to all days, half changing from day to day."""
    nights = int(np.ceil(days[-1])) + 2
    common, daily = random.normal(size=(count, 1)), random.normal(size=(count, nights))
    drift = np.array([np.interp(days, np.arange(nights), row) for row in daily])
    return np.sqrt(0.5) * (common + drift)
