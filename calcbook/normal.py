"""The normal distribution: the share below a score, and the score of a share.

One number is worked out by the standard library; arrays, as the odds draw them, by scipy, which
takes longer to load than a chapter takes to work out and so is loaded when arrays come.
"""

from __future__ import annotations

import math
from statistics import NormalDist
from typing import Any

_SCORE_OF = NormalDist().inv_cdf


def share_below(z: Any) -> Any:
    """Share of a normal distribution below the score z, a number or an array."""
    if isinstance(z, float):
        return math.erfc(-z / math.sqrt(2)) / 2
    from scipy.special import ndtr

    return ndtr(z)


def score_of(p: Any) -> Any:
    """Score with the share p of a normal distribution below it, a number or an array."""
    if isinstance(p, float) and 0 < p < 1:
        return _SCORE_OF(p)
    from scipy.special import ndtri

    return ndtri(p)
