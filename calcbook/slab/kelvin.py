"""Kelvin functions, which tell how a plate on springs bends about a point load.

Two quadratures of the modified Bessel functions of the second kind along a turned ray. A general library has
them too, but takes longer to load than all of a check takes; the tests compare the two.
"""

from __future__ import annotations

from typing import Any

import numpy as np

_STEP = 0.125  # the sum's error falls as exp(-pi^2 / (2 step)): far below rounding here
_GONE = 55.0  # exp(-55 / sqrt 2) of the greatest term is lost in rounding
_TURN = np.exp(0.25j * np.pi)


def ker_keip(x: Any) -> tuple[Any, Any]:
    """ker x and the derivative of kei x, by K0 and K1 of x turned by 45 degrees. x: above 0, a number or an array."""
    reach = np.arccosh(1 + _GONE / np.min(x))
    cosh = np.cosh(_STEP * np.arange(reach // _STEP + 2))
    terms = _STEP * np.exp(-_TURN * np.multiply.outer(x, cosh))
    terms[..., 0] /= 2
    return terms.sum(-1).real, -(_TURN * (terms @ cosh)).imag
