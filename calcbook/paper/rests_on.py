"""The defaults that a check rests on: followed back from what was weighed, step by step, to the inputs."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from calcbook.basis.blocks import Step
from calcbook.basis.units import Quantity

if TYPE_CHECKING:
    from collections.abc import Iterable

    from calcbook.basis.calculation import Calculation, Check

_factors: dict[Any, tuple[Any, float]] = {}  # units -> dimension and factor to base units


def assumed_below(chapter: Calculation, check: Check) -> list[str]:
    """The book's defaults among the inputs that a check's demand and capacity come from, in words.

    Values are followed by what they are: the last step that gave a value is taken for its origin.
    """
    waiting = set(_keys(check.values))
    for block in reversed(chapter.steps):
        if isinstance(block, Step) and waiting & set(_keys([block.value])):
            waiting |= set(_keys(block.bound.values()))
    found: dict[tuple[str, str], str] = {}  # the same default of several walls or pads stands once
    for i in chapter.inputs:
        if i.assumed and waiting & set(_keys([i.value])):
            found.setdefault((re.sub(r"\d+", "", i.place), i.text), f"{i.meaning} {i.text}")
    return list(found.values())


def _keys(values: Iterable[Any]) -> list[tuple[Any, str]]:
    """What makes quantities the same; plain numbers and nothings tell too little."""
    return [key for value in values if isinstance(value, Quantity) and (key := _key(value))]


def _key(value: Quantity) -> tuple[Any, str] | None:
    units = value._units
    if units not in _factors:
        one = Quantity(1.0, units)
        if one.unitless or not one._is_multiplicative:
            _factors[units] = None, 0.0
        else:
            base = one.to_base_units()
            _factors[units] = base.dimensionality, base.magnitude
    dimension, factor = _factors[units]
    try:
        number = float(value.magnitude) * factor
    except (TypeError, ValueError):
        return None
    return (dimension, f"{number:.9g}") if dimension is not None and number else None
