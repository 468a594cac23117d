"""Cautions against harm, each with its rule: kept in one table so that every chapter says the same."""

from __future__ import annotations

from calcbook.basis.table import lookup


def caution(rule: str) -> str:
    """The sentence of a rule of ``tables/safety.csv``, with its source in brackets.

    rule: its short name, such as "silica". Raises KeyError for one that is not in the table.
    """
    row = lookup("safety", rule=rule)
    return f"{row['words']} ({row['source']})."
