"""Whether two values are the same, and by how much they differ, as a reader wants to be told."""

from __future__ import annotations

import math
import re
from typing import Any

from calcbook.basis.showing import magnitude, money_text, number_text, show
from calcbook.basis.units import Quantity, unit

_SAME = 1e-6  # relative; finer than any number of the book is shown
_SAME_TEXT = 2e-3  # between numbers that were rounded to be shown


def near(a: float, b: float) -> bool:
    """True where two numbers a and b differ by nothing that would be shown."""
    return a == b or (math.isfinite(a - b) and abs(a - b) <= _SAME * max(abs(a), abs(b)))


def same(a: Any, b: Any, text_a: str, text_b: str) -> bool:
    """True where two values are the same but for the noise of arithmetic."""
    if isinstance(a, Quantity) and isinstance(b, Quantity):
        return a.dimensionality == b.dimensionality and near(a.m_as(b.units), b.magnitude)
    if isinstance(a, float | int) and isinstance(b, float | int):
        return near(float(a), float(b))
    return text_a == text_b and (a is None) == (b is None)


def difference(a: Any, b: Any, unit_name: str, system: str, shares: bool = False) -> str:
    """New less old with its sign, and in percent of the old; "" where they are no such values.

    shares: True for shares that are shown in percent, which differ by points.
    """
    if (
        a is None
        or b is None
        or isinstance(a, str | bool | list | tuple)
        or isinstance(b, str | bool | list | tuple)
    ):
        return ""
    if not unit_name or unit_name == "1":
        old, new = (float(x.m_as("")) if isinstance(x, Quantity) else float(x) for x in (a, b))
        if shares:
            return f"{_sign(new - old)}{number_text(abs(100 * (new - old)))} points{_percent(old, new)}"
        return f"{_sign(new - old)}{number_text(abs(new - old))}{_percent(old, new)}"
    if unit_name in ("degF", "degC"):
        old, new = (magnitude(x, unit_name, system) for x in (a, b))
        return f"{_sign(new - old)}{number_text(abs(new - old))} {'F°' if system == 'us' else 'C°'}"
    before, after = (
        x.to(unit(unit_name)) if isinstance(x, Quantity) else Quantity(x, unit(unit_name))
        for x in (a, b)
    )
    change = after - before
    return f"{_sign(change.m)}{show(abs(change), unit_name, system)}{_percent(before.m, after.m)}"


def _sign(number: float) -> str:
    return "+" if number >= 0 else "-"


def _percent(old: float, new: float) -> str:
    return f" ({_sign(new - old)}{number_text(abs(100 * (new / old - 1)), 2)} %)" if old else ""


def signed_money(amount: float, system: str = "us") -> str:
    """An amount of money with its sign: ``+$12.50``."""
    return f"{_sign(amount)}{money_text(abs(amount), system)}"


_NUMBERS = re.compile(r"-?\d[\d,]*\.?\d*")


def near_texts(a: str, b: str) -> bool:
    """True where two shown values differ in nothing but the rounding of their numbers."""
    if _NUMBERS.sub("#", a) != _NUMBERS.sub("#", b):
        return False
    pairs = zip(
        *([float(n.replace(",", "")) for n in _NUMBERS.findall(t)] for t in (a, b)), strict=True
    )
    return all(x == y or abs(x - y) <= _SAME_TEXT * max(abs(x), abs(y)) for x, y in pairs)
