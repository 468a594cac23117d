"""The estimate of a figure from own jobs: what counts, what is asked about, and how its band held over time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from calcbook.basis.next_job import SURE, WEIGHT, ends, next_job, times_in_use
from calcbook.basis.units import number_in
from calcbook.job.catalog import field_at
from calcbook.job.fields import meta_of
from calcbook.records.figures import FIGURES
from calcbook.records.learned import ASKED, combined_mean, combined_scatter, outlier_score
from calcbook.records.observed import outcomes

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from calcbook.job.own import Own
    from calcbook.records.figures import Figure
    from calcbook.records.file import Record
    from calcbook.records.observed import Outcomes


@dataclass(frozen=True)
class InUse:
    """The figure in use before own jobs: ``value`` in its trade unit, and on the scale it is learned on its mean
    ``mu`` and its ``sigma`` from job to job."""

    value: float
    mu: float
    sigma: float


@dataclass(frozen=True)
class Estimate:
    """A figure from own jobs.

    counted: which outcomes count; y, s: their mean and standard deviation; mu, sigma: combined with the figure
    in use; kappa: jobs behind them, with those of the figure in use; bands: what was promised for each job from
    those before it, (low, middle, high) by job.
    """

    figure: Figure
    in_use: InUse
    outcomes: Outcomes
    counted: NDArray
    y: float
    s: float
    mu: float
    sigma: float
    kappa: float
    bands: NDArray

    @property
    def n(self) -> int:
        """Own jobs that count."""
        return int(self.counted.sum())

    @property
    def counting(self) -> list[tuple[Record, float]]:
        """The outcomes that count, each with its record."""
        return self._where(self.counted)

    @property
    def asked(self) -> list[tuple[Record, float]]:
        """The outcomes that are asked about, each with its record."""
        return self._where(~self.counted)

    def _where(self, which: NDArray) -> list[tuple[Record, float]]:
        found = zip(self.outcomes.records, self.outcomes.y.tolist(), which, strict=True)
        return [(record, y) for record, y, one in found if one]

    @property
    def held(self) -> int:
        """How many outcomes lay inside the band promised for them."""
        low, _, high = self.bands
        return int(((self.outcomes.y >= low) & (self.outcomes.y <= high)).sum())

    def end(self, p: float) -> float:
        """Outcome that the next job stays below with the odds p, on the scale of the figure."""
        return float(next_job.bulk(mu=self.mu, sigma=self.sigma, kappa=self.kappa, nu=self.kappa, p=p))

    def figured(self, y: Any) -> Any:
        """The figure behind an outcome, in its trade unit; numbers or arrays."""
        return self.in_use.value * times_in_use.bulk(y=y) if self.figure.log else y


class Starts:
    """The figures in use before own jobs: of the builder's own file, or the defaults of the book.

    What was learned from own jobs is none of them: its jobs are counted anew.
    """

    def __init__(self, own: Own | None, system: str = "us") -> None:
        self.own, self.metric = own, system.startswith("si")

    def number(self, place: str) -> float:
        """A field's value, in its trade unit."""
        info = field_at(place)
        meta = meta_of(info)
        text = self.own.start_of(place) if self.own else None
        default = meta["si"] if self.metric and meta["si"] is not None else info.default
        value = default if text is None else meta["reader"](text)
        return float(number_in(value, meta["unit"]))

    def spread(self, figure: Figure) -> float:
        """The spread of a figure from job to job at the start."""
        parts = (self.number(one) if isinstance(one, str) else one for one in figure.spread)
        return float(np.sqrt(sum(part**2 for part in parts)))

    def of(self, figure: Figure) -> InUse:
        """The figure in use, with its mean and spread."""
        spread = self.spread(figure)
        value = self.number(figure.place) if figure.place else 1.0
        if figure.name == "waste":  # the allowance is more than is used
            return InUse(value, value * self.number("risk.waste_used"), value * spread)
        return InUse(value, 0.0 if figure.log else value, spread)


def estimate(records: Sequence[Record], figure: Figure, in_use: InUse) -> Estimate:
    """The estimate of a figure from records, by the day of their pour."""
    return estimate_of(outcomes(records, figure, in_use.value), in_use, figure.name)


def estimate_of(found: Outcomes, in_use: InUse, confirmed_by: str) -> Estimate:
    """The estimate of outcomes. confirmed_by: the word under [record] counts by which an odd one is said to be right."""
    figure = found.figure
    said = np.array([r.file.record.confirms(confirmed_by) for r in found.records], bool)
    counted = said | ~odd(found.y, in_use.mu, in_use.sigma)
    n, y, s = before(found.y, counted)
    mu, sigma = combined(in_use.mu, in_use.sigma, y, s, n)
    kappa = WEIGHT + n
    low, high = (next_job.bulk(mu=mu, sigma=sigma, kappa=kappa, nu=kappa, p=p) for p in ends(SURE))
    bands = np.array([low, mu, high])[:, :-1]
    return Estimate(
        figure, in_use, found, counted, float(y[-1]), float(s[-1]), float(mu[-1]), float(sigma[-1]),
        float(kappa[-1]), bands,
    )  # fmt: skip


def estimates(records: Sequence[Record], own: Own | None = None, system: str = "us") -> list[Estimate]:
    """The estimate of every figure that any record tells of. system: whose defaults stand before own jobs."""
    starts = Starts(own, system)
    found = [estimate(records, figure, starts.of(figure)) for figure in FIGURES.values()]
    return [one for one in found if one.outcomes.records or one.outcomes.problems]


def odd(y: NDArray, mu_0: float, sigma_0: float) -> NDArray:
    """Which outcomes y of jobs (the last axis) are to be asked about.

    mu_0, sigma_0: mean and spread by the figure in use.
    The figure in use is one value more, so that of two jobs the odd one shows; one job alone is held against it.
    """
    if not y.shape[-1]:
        return np.zeros(y.shape, bool)
    start = np.full((*y.shape[:-1], 2 if y.shape[-1] == 1 else 1), mu_0)
    all_values = np.concatenate([y, start], axis=-1)
    middle = np.median(all_values, axis=-1, keepdims=True)
    away = np.median(np.abs(all_values - middle), axis=-1, keepdims=True)
    return outlier_score.bulk(y=y, y_m=middle, D=away, sigma_0=sigma_0) > ASKED


def before(y: NDArray, counted: NDArray) -> tuple[NDArray, NDArray, NDArray]:
    """Number, mean and standard deviation of the jobs that count before each job, and after the last.

    y, counted: jobs along the last axis.
    """
    first = np.zeros((*y.shape[:-1], 1))
    n, total, squares = (
        np.concatenate([first, np.cumsum(part, axis=-1)], axis=-1)
        for part in (counted * 1.0, counted * y, counted * y**2)
    )
    mean = total / np.maximum(n, 1)
    spread = np.sqrt(np.maximum(squares - n * mean**2, 0) / np.maximum(n - 1, 1))
    return n, mean, np.where(n > 1, spread, 0.0)


def combined(
    mu_0: float, sigma_0: float, y: NDArray, s: NDArray, n: NDArray
) -> tuple[NDArray, NDArray]:
    """Mean and spread of own jobs combined with the figure in use, which counts for ``WEIGHT`` jobs.

    mu_0, sigma_0: mean and spread by the figure in use; y, s, n: mean, standard deviation and number of own jobs.
    """
    mu = combined_mean.bulk(mu_0=mu_0, kappa_0=WEIGHT, y=y, n=n)
    sigma = combined_scatter.bulk(
        sigma_0=sigma_0, nu_0=WEIGHT, mu_0=mu_0, kappa_0=WEIGHT, y=y, s=s, n=n
    )
    return mu, sigma
