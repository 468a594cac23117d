"""Tables as plain text: for the terminal, and as CSV that no spreadsheet runs."""

from __future__ import annotations

import csv
import io
import itertools
import shutil
import textwrap
import unicodedata
from collections.abc import Collection, Iterable, Sequence
from typing import Any

_NARROW = 10  # a column of words is not made narrower than this


def terminal_width() -> int:
    """Characters in a line of the terminal; 0 where the text goes into a file or another command."""
    return shutil.get_terminal_size((0, 0)).columns


def aligned(
    headings: Sequence[str], rows: Iterable[Sequence[Any]], right: Collection[int] = (), room: int = 0
) -> list[str]:
    """Lines of a table for the terminal: the heading, then one line for each row.

    headings: names of the columns; rows: cells, shown as ``str`` gives them; right: numbers of the
    columns set to the right. A column is as wide as its widest cell. room: characters in a line, 0 for
    any number; where the table is wider, words are wrapped, so that a row can take several lines, and
    where that is not enough, the last column stands below its row.
    """
    table = [[str(cell) for cell in row] for row in (headings, *rows)]
    widths, fits = _fitted(list(zip(*table, strict=True)), right, room)
    if fits or len(widths) - 1 in right:
        return [line for row in table for line in _lines(row, widths, right)]
    cut = [row[:-1] for row in table]
    widths, _ = _fitted(list(zip(*cut, strict=True)), right, room)
    return [
        line
        for row, whole in zip(cut, table, strict=True)
        for line in (
            *_lines(row, widths, right),
            *textwrap.wrap(f"    {whole[-1]}", room, subsequent_indent="    "),
        )
    ]


def _fitted(
    columns: Sequence[Sequence[str]], right: Collection[int], room: int
) -> tuple[list[int], bool]:
    """Widths of columns that fit the room, and whether they do: headings of numbers and the widest words give way."""
    widths = [max(map(len, column)) for column in columns]
    least = [
        max(map(len, (*column[1:], *column[0].split()))) if n in right else min(width, _NARROW)
        for n, (column, width) in enumerate(zip(columns, widths, strict=True))
    ]
    while room > 0 and sum(widths) + 2 * (len(widths) - 1) > room:
        slack = [n for n in range(len(widths)) if widths[n] > least[n]]
        if not slack:
            return widths, False
        widths[max(slack, key=lambda n: (n in right, widths[n]))] -= 1
    return widths, True


def _lines(row: Sequence[str], widths: Sequence[int], right: Collection[int]) -> list[str]:
    cells = [
        (textwrap.wrap(cell, width) or [""]) if len(cell) > width else [cell]
        for cell, width in zip(row, widths, strict=True)
    ]
    return [
        "  ".join(
            part.rjust(width) if number in right else part.ljust(width)
            for number, (part, width) in enumerate(zip(parts, widths, strict=True))
        ).rstrip()
        for parts in itertools.zip_longest(*cells, fillvalue="")
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
    first = unicodedata.normalize("NFKC", text).lstrip()[:1]  # a wide or small = is one to some
    return f"'{text}" if first and first in "=+-@\u2212" else text


def plain_number(number: Any) -> str:
    """A shown number as a spreadsheet reads it in any country: no commas."""
    return number.replace(",", "")
