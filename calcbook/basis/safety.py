"""Cautions against harm, each with its rule: kept in one table so that every chapter says the same."""

from __future__ import annotations

import functools

from calcbook.basis.table import lookup, table

# said on every page, paper and answer that someone could act on
DEFERRAL = (
    "A builder's figures for review: the adopted local code and a licensed engineer go before them."
)


def caution(rule: str) -> str:
    """The sentence of a rule of ``tables/safety.csv``, with its source in brackets.

    rule: its short name, such as "silica". Raises KeyError for one that is not in the table.
    """
    row = lookup("safety", rule=rule)
    return f"{row['words']} ({row['source']})."


@functools.cache
def cautions_of(chapter: str) -> tuple[str, ...]:
    """The cautions of the work that a chapter or paper leads to, by its name: column ``chapters`` of the table."""
    return tuple(caution(row["rule"]) for row in table("safety") if chapter in row["chapters"].split())
