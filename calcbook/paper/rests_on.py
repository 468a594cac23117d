"""The defaults that a check rests on: followed back from what was weighed, step by step, to the inputs."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from calcbook.basis.blocks import Step
from calcbook.basis.units import Quantity

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from calcbook.basis.blocks import Input
    from calcbook.basis.calculation import Calculation, Check

_SMALL = {"the", "and", "for", "from", "with", "least", "wall", "pad"}  # words that name no quantity
_factors: dict[Any, tuple[Any, float]] = {}  # units -> dimension and factor to base units


def assumed_below(chapter: Calculation, check: Check) -> list[str]:
    """The book's defaults among the inputs that a check's demand and capacity come from, in words.

    Values are followed by what they are: the last step that gave a value is taken for its origin.
    """
    # what steps call each value
    called: dict[Any, set[str]] = {key: set() for key in _keys(check.values)}
    for block in reversed(chapter.steps):
        if isinstance(block, Step) and set(_keys([block.value])) & set(called):
            for name, value in block.bound.items():
                for key in _keys([value]):
                    called.setdefault(key, set()).add(name)
    # the same default of several walls or pads stands once
    same: dict[tuple[str, str], list[Input]] = {}
    for i in chapter.inputs:
        if i.assumed and any(
            key in called and _is_meant(check, i, called[key]) for key in _keys([i.value])
        ):
            same.setdefault((re.sub(r"\d+", "", i.place), i.text), []).append(i)
    return [f"{_of_all(inputs)} {text}" for (_, text), inputs in same.items()]


def _is_meant(check: Check, i: Input, names: set[str]) -> bool:
    """Whether an input is the one that steps call so; of a value that no step takes, whether the check speaks of it.

    Another quantity can have the same value by chance.
    """
    if not names:
        return bool(_words(i.meaning) & _words(check.title))
    return i.symbol in names or any(len(name) > 2 and i.place.endswith(name) for name in names)


def _words(text: str) -> set[str]:
    """The longer words of a text."""
    return {
        word for word in re.findall(r"[a-z]+", text.lower()) if len(word) > 2 and word not in _SMALL
    }


def _of_all(inputs: Sequence[Input]) -> str:
    """What an input means; of several walls or pads, without the name of the first."""
    meaning = inputs[0].meaning
    return meaning if len({i.meaning for i in inputs}) == 1 else meaning.partition(", ")[2] or meaning


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
