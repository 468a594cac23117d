"""What a formula or a procedure takes: unit, meaning and limits; reading it, and refusing it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
import pint

from calcbook.basis.reading import read
from calcbook.basis.showing import show
from calcbook.basis.units import TRADE_UNITS, Q, Quantity, UnitError, number_in, unit

_NUMBERS = (float, int)
_PLAIN = (*_NUMBERS, np.ndarray, np.number)


class FormulaError(ValueError):
    """A formula was given something it cannot use; the message names the argument."""


class OutsideRange(UserWarning):
    """A formula was used outside the range its source covers."""


@dataclass(frozen=True)
class Argument:
    """One argument or result of a formula: unit, meaning, limits.

    above, low, high, below: hard limits (exclusive, inclusive, inclusive, exclusive) in ``unit``,
    refused when broken. valid: (low, high) that the source covers, flagged when left.
    """

    unit: str
    meaning: str
    above: float | None = None
    low: float | None = None
    high: float | None = None
    below: float | None = None
    valid: tuple[float, float] | None = None
    symbol: str | None = None
    digits: int = 3
    choices: tuple[str, ...] | None = None

    # --- reading ---
    def read(self, owner: str, name: str, value: Any, bare: bool = False) -> Any:
        """What was given, as a number (or an array) in ``unit`` within the limits, or as the word chosen.

        owner, name: formula and argument, for the message; value: a quantity, a text, or a number where
        the unit is "1" or ``bare`` is True. Raises FormulaError.
        """
        if self.choices is not None:
            if value not in self.choices:
                raise FormulaError(f"{owner}: {name} = {value!r}; choose {' or '.join(self.choices)}")
            return value
        try:
            number = self._number(value, bare)
        except UnitError as error:
            raise FormulaError(f"{owner}: {name} ({self.meaning}): {error}") from None
        if self.breaks(number):
            raise FormulaError(
                f"{owner}: {name} ({self.meaning}) is {self.text(number)}; "
                f"it must be {self.allowed() or 'a finite number'}"
            )
        return number

    def _number(self, value: Any, bare: bool) -> Any:
        if (bare or self.unit == "1") and isinstance(value, _PLAIN):
            return value
        if isinstance(value, Quantity):
            try:
                return number_in(value, self.unit)
            except pint.PintError:
                pass  # ``read`` says what is wrong
        return number_in(read(value, self.unit), self.unit)

    def dress(self, number: Any) -> Any:
        """A number in ``unit`` as a quantity; plain numbers and words stay as they are."""
        return number if self.unit == "1" or self.choices is not None else Q(number, self.unit)

    def strip(self, value: Any) -> Any:
        """The number, in ``unit``, of what ``dress`` made; words stay as they are."""
        return number_in(value, self.unit) if isinstance(value, Quantity) else value

    # --- limits ---
    def breaks(self, value: Any) -> bool:
        """True where a number (or any of an array) in this unit lies outside the hard limits."""
        if isinstance(value, _NUMBERS):
            return self._refuses(value)
        value = np.asarray(value)
        if not value.size:
            return False
        ends = float(value.min()), float(value.max())  # what is no number passes through both
        return any(map(self._refuses, ends))

    def _refuses(self, value: float) -> bool:
        return (
            not math.isfinite(value)
            or (self.above is not None and value <= self.above)
            or (self.low is not None and value < self.low and value < self.low - _slack(value))
            or (self.high is not None and value > self.high and value > self.high + _slack(value))
            or (self.below is not None and value >= self.below)
        )

    def leaves_source(self, value: Any) -> bool:
        """True where a number (or any of an array) in this unit lies outside the range that the source covers."""
        if self.valid is None:
            return False
        low, high = self.valid
        slack = 1e-9 * max(abs(low), abs(high))
        if isinstance(value, _NUMBERS):
            return value < low - slack or value > high + slack
        return bool(np.any(np.asarray(value) < low - slack) or np.any(np.asarray(value) > high + slack))

    # --- words ---
    def allowed(self) -> str:
        """The hard limits in words, such as ``above 0 psi and at most 10,000 psi``."""
        parts = [
            f"{word} {self.text(limit)}"
            for word, limit in (
                ("above", self.above),
                ("at least", self.low),
                ("at most", self.high),
                ("below", self.below),
            )
            if limit is not None
        ]
        return " and ".join(parts)

    def text(self, number: Any) -> str:
        """A number in ``unit`` as it is printed."""
        return (
            "an array with a value" if np.ndim(number) else show(self.dress(number), self.unit, most=5)
        )


def _slack(value: float) -> float:
    """How far a number may pass an inclusive limit, for the noise of floating point."""
    return 1e-9 * max(abs(value), 1e-12)


def arg(unit_name: str, meaning: str, **limits: Any) -> Argument:
    """An argument: trade-unit name (``"1"`` for a plain number), meaning, limits."""
    if unit_name not in TRADE_UNITS:
        raise KeyError(f"{unit_name} is not a trade unit; enter it in TRADE_UNITS of units.py")
    return Argument(unit_name, meaning, **limits)


result = arg  # the same words describe what a formula gives back


def quantity(owner: str, name: str, value: Any, spec: Argument) -> Any:
    """An argument as a quantity in its declared unit (a plain number where that is "1").

    owner, name, value and FormulaError: as for ``Argument.read``; spec: the Argument.
    """
    number = spec.read(owner, name, value)
    if isinstance(value, Quantity) and number is value.magnitude:
        return value  # in that unit already
    return spec.dress(number)


def quantities(owner: str, specs: dict[str, Argument], **values: Any) -> Any:
    """Several arguments at once, by name. Returns a dictionary."""
    return {name: quantity(owner, name, value, specs[name]) for name, value in values.items()}


def reason(error: Exception) -> str:
    """The words of a FormulaError without the name of the formula, as a sentence for a report."""
    words = str(error).rpartition(": ")[2]
    return f"{words[0].upper()}{words[1:].rstrip('.')}."


_NATURAL = ("1", "in", "in2", "in3", "in4", "psi", "lbf", "lbf*in", "pcf", "plf", "lb", "h", "$",
            "lb/ft3", "lb/ft2", "lb/ft2/h", "degF", "mph", "1/h", "yd3/h", "bag", "roll", "J/mol")  # fmt: skip


def measures(value: Any, unit_name: str) -> bool:
    """True for a value whose dimension is that of a trade unit."""
    dimension = value.dimensionality if isinstance(value, Quantity) else {}
    return dimension == unit(unit_name).dimensionality


def natural_unit(value: Any) -> str:
    """A trade unit for a value that no one gave a unit: the first one of its dimension."""
    if not isinstance(value, Quantity):
        return "1"
    for name in _NATURAL:
        if unit(name).dimensionality == value.dimensionality:
            return name
    for name in TRADE_UNITS:
        if unit(name).dimensionality == value.dimensionality:
            return name
    raise FormulaError(f"no trade unit for {value:~}: add one to TRADE_UNITS")
