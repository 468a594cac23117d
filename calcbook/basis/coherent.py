"""Plain numbers of one coherent set of units: inch, pound-force, hour, kelvin, dollar.

A formula's body computes on them: no number needs a conversion inside. The helpers for bodies
take such numbers, or quantities where the body's dimensions are proved.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
from pint.util import UnitsContainer

from calcbook.basis.units import TRADE_UNITS, Q, Quantity, number_in, unit, ureg

_COHERENT = {"[length]": "inch", "[time]": "hour", "[temperature]": "kelvin", "[money]": "dollar"}


@cache
def _multiplier(name: str) -> float | None:
    """From a trade unit to the coherent set; None for a temperature, which has an offset.

    A mass is force times time squared over length, so that stresses, masses and energies may meet
    in one formula.
    """
    if TRADE_UNITS[name].pint_name in ("degF", "degC"):
        return None
    dims = dict(unit(name).dimensionality)
    mass = dims.pop("[mass]", 0)
    dims["[length]"] = dims.get("[length]", 0) - mass
    dims["[time]"] = dims.get("[time]", 0) + 2 * mass
    powers = {"pound_force": mass}
    for dimension, power in dims.items():
        base = _COHERENT.get(dimension) or dimension.strip("[]").replace("substance", "mole")
        powers[base] = power
    coherent = UnitsContainer({base: power for base, power in powers.items() if power})
    return _whole(ureg.convert(1.0, unit(name), coherent))


def _whole(multiplier: float) -> float:
    """144 or 1/144 without the noise of pint's way from feet to inches, by meters."""
    up, down = round(multiplier), round(1 / multiplier)
    if up and abs(up - multiplier) < 1e-9:
        return float(up)
    return 1 / down if down and abs(down - 1 / multiplier) < 1e-9 else multiplier


def to_coherent(number: Any, name: str) -> Any:
    """A plain number in a trade unit, as a number of the coherent set: degF and degC as kelvins."""
    multiplier = _multiplier(name)
    if multiplier is None:
        return number + 273.15 if name == "degC" else (number + 459.67) / 1.8
    return number if multiplier == 1.0 else number * multiplier


def from_coherent(number: Any, name: str) -> Any:
    """A number of the coherent set, as a plain number in a trade unit: kelvins as degF or degC."""
    multiplier = _multiplier(name)
    if multiplier is None:
        return number - 273.15 if name == "degC" else number * 1.8 - 459.67
    if multiplier == 1.0:
        return number
    found = number / multiplier
    # the way there and back costs the sixteenth digit; without it 13 tons stay 13
    return float(f"{found:.15g}") if isinstance(found, float) else found


def plain(value: Any, unit_name: str) -> Any:
    """A number of the coherent set as one in a trade unit, no numpy scalar."""
    found = from_coherent(value, unit_name)
    return found.item() if isinstance(found, np.generic) else found


# --- helpers for bodies ---------------------------------------------------------------------


def number(value: Any, name: str) -> Any:
    """The number of a value in a unit, for an empirical formula; shown as the bare symbol."""
    return number_in(value, name) if isinstance(value, Quantity) else from_coherent(value, name)


def with_unit(value: Any, name: str, like: Any) -> Any:
    """Give an empirical formula's number its unit back, where ``like`` carries units itself."""
    return Q(value, name) if isinstance(like, Quantity) else to_coherent(value, name)


def root(f_c: Any) -> Any:
    """Square root of a strength in psi, given back in psi, as every such code formula means it."""
    return with_unit(np.sqrt(number(f_c, "psi")), "psi", f_c)
