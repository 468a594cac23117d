"""The currency of a job: the mark of money that its prices carry, one for the whole job."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from calcbook.basis.unit_words import currency, plain


def job_currency(raw: dict[str, Any]) -> str:
    """The code of the currency of a job's prices, as "EUR"; "$" without any.

    raw: the data of a job file. Raises ValueError in words where prices are in several.
    """
    found = {mark: place for place, mark in _marks(raw.get("prices"), "prices")}
    if len(found) > 1:
        (one, place), (other, second) = list(found.items())[:2]
        raise ValueError(
            f"{place} is in {one}, {second} in {other}; give all prices of a job in one currency"
        )
    return next(iter(found), "$")


def _marks(value: Any, place: str) -> Iterator[tuple[str, str]]:
    """(place, currency) of every price that is written with its mark."""
    if isinstance(value, str):
        found = currency(plain(value[:60]))
        if found:
            yield place, found[1]
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield from _marks(inner, f"{place}.{key}")
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            yield from _marks(inner, f"{place}.{number}")
