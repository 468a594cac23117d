"""How a table of a calculation is set on paper: shares of the page for its columns, and whether it is low."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Table

_NUMBER, _WORD, _LINE = 24, 12, 100  # characters of a short number, of a short word, and of a line
_ACROSS = 105  # letters, a little wider than they are, across the page
_LOW = 245  # points: ten less than the 90 mm from which a table may go over a page's end


def table_data(block: Table) -> dict[str, Any]:
    """A table as the layout sets it."""
    longest = [max(map(len, column)) for column in zip(block.columns, *block.rows, strict=True)]
    shares = _shares(block, longest)
    return {
        "kind": "table",
        "title": block.title,
        "source": str(block.source or ""),
        "columns": block.columns,
        "shares": shares,
        "low": _is_low(block, longest, shares),
        "numeric": block.numeric,
        "rows": block.rows,
    }


def _shares(block: Table, longest: Sequence[int]) -> list[int]:
    """Shares of the page for columns of words, by their longest cell; 0 for a column as wide as it is.

    Short columns, such as those of numbers, are as wide as they are, so no unit leaves its number; not where
    they would leave the others too little.
    """
    short = [
        length <= (_NUMBER if numeric else _WORD)
        for numeric, length in zip(block.numeric, longest, strict=True)
    ]
    taken = sum(length + 2 for length, is_short in zip(longest, short, strict=True) if is_short)
    if taken > _LINE - 10 * short.count(False):
        short = [False] * len(short)
    return [
        0 if is_short else min(max(length, 8), 50)
        for is_short, length in zip(short, longest, strict=True)
    ]


def _is_low(block: Table, longest: Sequence[int], shares: Sequence[int]) -> bool:
    """True where a table is surely lower than the layout would part: it need not be measured, that is, laid out twice."""
    rows = [block.columns, *block.rows]
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
    return math.ceil(len(text) / max(width, 1)) if text else 1
