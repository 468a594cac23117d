"""Tables as plain text: for the terminal, and as CSV that no spreadsheet runs."""

from __future__ import annotations

import csv
import io
from collections.abc import Collection, Iterable, Sequence
from typing import Any


def aligned(
    headings: Sequence[str], rows: Iterable[Sequence[Any]], right: Collection[int] = ()
) -> list[str]:
    """Lines of a table for the terminal: the heading, then one line for each row.

    headings: names of the columns; rows: cells, shown as ``str`` gives them; right: numbers of the
    columns set to the right. A column is as wide as its widest cell.
    """
    table = [[str(cell) for cell in row] for row in (headings, *rows)]
    widths = [max(map(len, column)) for column in zip(*table, strict=True)]
    return [
        "  ".join(
            cell.rjust(width) if number in right else cell.ljust(width)
            for number, (cell, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in table
    ]


def csv_text(headings: Sequence[str], rows: Iterable[Sequence[Any]]) -> str:
    """A table as CSV; cells of text that a spreadsheet might run are made plain text."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerows([harmless(cell) for cell in row] for row in (headings, *rows))
    return out.getvalue()


def harmless(cell: Any) -> Any:
    """A cell that no spreadsheet takes for a formula; numbers stay numbers, None is empty."""
    if cell is None or isinstance(cell, int | float):
        return "" if cell is None else cell
    text = str(cell)
    return f"'{text}" if text.lstrip()[:1] in ("=", "+", "-", "@") and text else text


def plain_number(number: Any) -> str:
    """A shown number as a spreadsheet reads it in any country: no sign of money, no commas."""
    return number.replace("$", "").replace(",", "")
