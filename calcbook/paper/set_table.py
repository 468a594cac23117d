"""How a table of a calculation is set on paper: shares of the page for its columns, and whether it is low."""

from __future__ import annotations

import math
import re
import textwrap
from dataclasses import replace
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Table

_NUMBER, _WORD, _LINE = 24, 12, 100  # characters of a short number, of a short word, and of a line
_USUAL, _SMALL = 9.5, 8.5  # points of the letters of a table, and of one that is too wide for them
_HEAD = 6  # characters that the line of a head has at least
_ACROSS = 105  # letters, a little wider than they are, across the page
_LOW = 245  # points: ten less than the 90 mm from which a table may go over a page's end


def table_data(block: Table) -> dict[str, Any]:
    """A table as the layout sets it."""
    block = _with_narrow_heads(block)
    small = not _fits(block, _LINE) and _fits(block, _LINE * _USUAL / _SMALL)
    shares = _shares(block, _LINE * _USUAL / _SMALL if small else _LINE)
    return {
        "kind": "table",
        "size": f"{_SMALL if small else _USUAL}pt",
        "title": block.title,
        "source": str(block.source or ""),
        "columns": block.columns,
        "shares": shares,
        "low": _is_low(block, shares),
        "numeric": block.numeric,
        "rows": block.rows,
    }


def _with_narrow_heads(block: Table) -> Table:
    """The same table; where it is too wide, with heads in lines no longer than what stands below them.

    So no number of a full table is parted from its unit.
    """
    below = [max(map(len, column)) for column in zip(*block.rows, strict=True)]
    if sum(max(len(head), most) + 2 for head, most in zip(block.columns, below, strict=True)) <= _LINE:
        return block
    heads = (
        "\n".join(textwrap.wrap(_held_together(head), max(most, _HEAD), break_long_words=False))
        for head, most in zip(block.columns, below, strict=True)
    )
    return replace(block, columns=tuple(heads), cells=block.rows)


def _held_together(head: str) -> str:
    """The same head with no line break inside a combination of loads, such as 0.6 D + 0.6 W."""
    return re.sub(r"(?<=[\d+]) (?=[\dA-Z])| (?=\+)", "\u00a0", head)


def _longest(cell: str) -> int:
    """Letters of the longest line of a cell."""
    return max(map(len, cell.split("\n")))


def _short(block: Table) -> list[tuple[int, bool]]:
    """(letters of its longest line, whether it is as wide as that) of each column."""
    longest = [max(map(_longest, column)) for column in zip(block.columns, *block.rows, strict=True)]
    return [
        (length, length <= (_NUMBER if numeric else _WORD))
        for numeric, length in zip(block.numeric, longest, strict=True)
    ]


def _fits(block: Table, line: float) -> bool:
    """Whether short columns as wide as they are leave the others enough of a line of so many letters."""
    columns = _short(block)
    taken = sum(length + 2 for length, is_short in columns if is_short)
    return taken <= line - 10 * sum(not is_short for _, is_short in columns)


def _shares(block: Table, line: float) -> list[int]:
    """Shares of the page for columns of words, by their longest cell; 0 for a column as wide as it is.

    Short columns, such as those of numbers, are as wide as they are, so no unit leaves its number; not where
    they would leave the others too little.
    """
    fits = _fits(block, line)
    return [0 if is_short and fits else min(max(length, 8), 50) for length, is_short in _short(block)]


def _is_low(block: Table, shares: Sequence[int]) -> bool:
    """True where a table is surely lower than the layout would part: it need not be measured, that is, laid out twice."""
    rows = [block.columns, *block.rows]
    longest = [max(map(_longest, column)) for column in zip(*rows, strict=True)]
    pairs = list(zip(longest, shares, strict=True))
    room = _ACROSS - 2 * len(shares) - sum(length for length, share in pairs if not share)
    source = str(block.source or "")
    if room < 0 or (source and len(block.title + source) > _ACROSS):
        return False
    widths = [room * share / sum(shares) if share else length for length, share in pairs]
    lines = _lines(block.title, _ACROSS) + sum(max(map(_lines, row, widths)) for row in rows)
    return 8 + 1.5 * len(rows) + 12 * lines <= _LOW


def _lines(text: str, width: float) -> int:
    """About how many lines a text takes, not too few."""
    return sum(max(math.ceil(len(line) / max(width, 1)), 1) for line in text.split("\n"))
