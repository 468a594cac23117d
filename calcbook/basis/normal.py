"""The normal distribution: the share below a score, and the score of a share.

Worked out number by number by the standard library: the few odds of a job would not repay the
loading of a larger library.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from statistics import NormalDist
from typing import Any

import numpy as np

_SCORE_OF = NormalDist().inv_cdf


def share_below(z: Any) -> Any:
    """Share of a normal distribution below the score z, a number or an array."""
    return _each(_share, z)


def score_of(p: Any) -> Any:
    """Score with the share p of a normal distribution below it, a number or an array."""
    return _each(_score, p)


def _share(z: float) -> float:
    return math.erfc(-z / math.sqrt(2)) / 2


def _score(p: float) -> float:
    if 0 < p < 1:
        return _SCORE_OF(p)
    return math.copysign(math.inf, p - 0.5) if p in (0, 1) else math.nan


def _each(work: Callable[[float], float], values: Any) -> Any:
    if np.ndim(values):
        return np.vectorize(work, otypes=[float])(values)
    return work(float(values))
