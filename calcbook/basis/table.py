"""Tables: the data in ``calcbook/tables``, CSV files with a ``source`` and a ``place`` column.

A table's first line names its columns. Cells that are numbers come as floats, all others as text.
"""

from __future__ import annotations

import csv
import functools
from collections.abc import Iterable, Sequence
from typing import Any

from calcbook.basis.sources import TABLES, cite


@functools.cache
def table(name: str) -> tuple[dict[str, Any], ...]:
    """The rows of ``tables/<name>.csv`` as a tuple of dictionaries.

    ``source`` and ``place`` are joined into a Citation under ``source``. Raises KeyError where a
    row cites a document that is not in the reference list.
    """
    with open(TABLES / f"{name}.csv", encoding="utf-8", newline="") as file:
        return tuple(_row(row) for row in csv.DictReader(file))


def _row(cells: dict[str, str]) -> dict[str, Any]:
    values = {key: _cell(text) for key, text in cells.items() if key not in ("source", "place")}
    return values | {"source": cite(cells["source"], cells.get("place") or "")}


def _cell(text: str) -> float | str:
    try:
        return float(text)
    except ValueError:
        return text


def records(columns: Sequence[str], rows: Iterable[Iterable[Any]]) -> list[dict[str, Any]]:
    """Rows as dictionaries by the names of their columns."""
    return [dict(zip(columns, row, strict=True)) for row in rows]


def lookup(name: str, /, **wanted: Any) -> dict[str, Any]:
    """The one row of a table whose cells equal ``wanted``; KeyError says what is known."""
    return _found(name, tuple(wanted.items()))


@functools.cache
def _found(name: str, wanted: tuple[tuple[str, Any], ...]) -> dict[str, Any]:
    found = [row for row in table(name) if all(row[key] == value for key, value in wanted)]
    if len(found) == 1:
        return found[0]
    key, asked = wanted[0]
    known = ", ".join(dict.fromkeys(str(row[key]) for row in table(name)))
    raise KeyError(f"{asked!r} is not in the table {name}; known are {known}")
