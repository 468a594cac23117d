"""Rounding up to whole things, without going a step too far for the noise of floating point."""

from __future__ import annotations

from typing import Any

import numpy as np

from calcbook.basis.units import Quantity, number_in, ureg

NOISE = 1e-9


def ceil(x: Any) -> Any:
    """The least whole number that is not below x, for orders: whole trucks, rolls, bags, steps.

    x: a plain number, a dimensionless quantity, or an array. A value within 1e-9 (relative) above
    a whole number counts as that number, as 3 x 0.1 / 0.1 must not become 4. Returns the same
    kind as it got.
    """
    if isinstance(x, ureg.Quantity):
        return ureg.Quantity(ceil(x.m_as("")), "")
    return np.ceil(x - NOISE * np.maximum(1.0, np.abs(x)))


def metric_rule(length: Quantity, system: str) -> Quantity:
    """A least length of a US code, in whole inches, as metric building has it: 25 mm to the inch.

    So 300 mm passes where the code says 12 in. and 150 mm where it says 6 in., as in the metric editions
    (common practice). In a US job the length stands as it is.
    """
    return length if system == "us" else Quantity(25.0 * round(number_in(length, "in")), "mm")
