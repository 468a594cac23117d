"""The heat model of one job, set by what was measured there: air and soil off the forecast, and the cover's hold.

Each may move only within stated limits, and is held to the forecast by a stated spread, so that a logger that
cannot tell one from another moves none of them far.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from calcbook.basis.formula import cite, procedure
from calcbook.pour.slab_heat import Week, run

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from calcbook.concrete.hydration import Mix
    from calcbook.job.file import Job
    from calcbook.pour.site import Site
    from calcbook.pour.slab_heat import Case
    from calcbook.records.logger import Logged

# air and soil in K, cover as a logarithm of times its R: a choice of this book
LIMITS = np.array([5.0, 5.0, np.log(2.0)])
SPREAD = np.array([2.0, 2.0, np.log(1.3)])
MEASURED = 1.0  # K, spread of a logged hour about a model that is right
_SMALL, _ROUNDS = np.array([0.5, 0.5, 0.1]), 3
IN_SLAB = ("top", "middle", "bottom")


@dataclass(frozen=True)
class Settings:
    """How a job's weather and cover were found: air and soil warmer than taken, K; cover: times its R."""

    air: float = 0.0
    soil: float = 0.0
    cover: float = 1.0

    @classmethod
    def of(cls, x: NDArray) -> Settings:
        """From numbers x on the scale of ``LIMITS``."""
        return cls(float(x[0]), float(x[1]), float(np.exp(x[2])))


@dataclass(frozen=True)
class Slab:
    """What a run of the heat model takes: a job with its mix, weather, case, and hours until which it dries."""

    job: Job
    mix: Mix
    site: Site
    case: Case
    wet_until: float

    def week(self, settings: Settings, until: float) -> Week:
        """The slab's temperatures with some settings, until so many hours."""
        site = dataclasses.replace(
            self.site, air=self.site.air + settings.air, sky=self.site.sky + settings.air,
            ground=self.site.ground + settings.soil,
        )  # fmt: skip
        cover = dataclasses.replace(self.case.cover, times=settings.cover)
        case = dataclasses.replace(self.case, cover=cover)
        return run(self.job, self.mix, site, (case,), self.wet_until, until)


@procedure(
    "Heat model set by measured temperatures",
    cite("statistics", "least squares, each setting held to the forecast by its spread"),
    "Air, soil and cover are moved until model and logger differ least, each within its limits: 9 °F, 9 °F, and half to "
    "double the R of the table.",
)
def calibrated(slab: Slab, logs: Sequence[Logged]) -> Settings:
    """The settings that fit the logs of a slab best.

    slab: what the model takes; logs: Logged, of which those in the slab are fitted; one of the air or soil
    moves its setting by its own mean difference, where it is kept.
    """
    inside = [log.hourly() for log in logs if log.place in IN_SLAB]
    x, free = np.zeros(3), np.ones(3, bool)
    for n, place, taken in (
        (0, "air", slab.site.air),
        (1, "soil", np.full_like(slab.site.air, slab.site.ground)),
    ):
        seen = [
            log.kelvin - np.interp(log.hours, slab.site.hours, taken)
            for log in logs
            if log.place == place
        ]
        if seen:
            x[n], free[n] = np.clip(np.concatenate(seen).mean(), -LIMITS[n], LIMITS[n]), False
    if not np.isfinite(slab.case.cover.on):
        free[2] = False
    if inside and free.any():
        for _ in range(_ROUNDS):
            x = _step(slab, inside, x, free)
    return Settings.of(x)


def _step(slab: Slab, logs: Sequence[Logged], x: NDArray, free: NDArray) -> NDArray:
    """Settings after one round of Gauss and Newton, within their limits."""
    off = misses(slab, logs, x)
    slopes = [(misses(slab, logs, x + _SMALL * (np.arange(3) == n)) - off) / _SMALL[n] for n in np.flatnonzero(free)]  # fmt: skip
    J, weight = np.array(slopes).T / MEASURED, np.diag(1 / SPREAD[free])
    rows, wanted = np.vstack([J, weight]), -np.concatenate([off / MEASURED, weight @ x[free]])
    moved = x.copy()
    moved[free] += np.linalg.lstsq(rows, wanted, rcond=None)[0]
    return np.clip(moved, -LIMITS, LIMITS)


def misses(slab: Slab, logs: Sequence[Logged], x: NDArray) -> NDArray:
    """Model less logger, K, at every logged time; x: settings on the scale of ``LIMITS``."""
    week = slab.week(Settings.of(x), max(float(log.hours[-1]) for log in logs) + 1)
    return np.concatenate([np.interp(log.hours, week.hours, row_of(week, log.place)) - log.kelvin for log in logs])  # fmt: skip


def row_of(week: Week, place: str) -> NDArray:
    """The model's temperatures at a place of the slab (of ``IN_SLAB``), K."""
    return getattr(week.march, place)[0]
