"""``calcbook fields``: every field of a job file; ``python -m calcbook.command.fields`` writes fields.md."""

from __future__ import annotations

import textwrap
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING

from calcbook.basis.text_table import terminal_width
from calcbook.job.catalog import catalog, search
from calcbook.job.files import JobError

if TYPE_CHECKING:
    from argparse import Namespace

    from calcbook.job.catalog import FieldRow

_HEAD = """# Fields of a job file

Every section and field, written from the book by `python -m calcbook.command.fields`. On the command line
`calcbook fields WORD` looks one up. What a job leaves out takes its default, which the printout lists as
an assumption; where no default stands, nothing is assumed.
"""


def run_fields(arguments: Namespace) -> int:
    """Print the fields of a section, or those that words speak of, or all."""
    words = " ".join(arguments.words)
    rows = found(words)
    if not rows:
        raise JobError(f"no field speaks of {words[:60]!r}; calcbook fields lists all")
    print(text(rows), end="")
    return 0


def found(words: str) -> list[FieldRow]:
    """The fields of a section named, else those that the words speak of; all without words."""
    name = words.strip().strip("[]").lower()
    of_section = [row for row in catalog() if name in ("", row.section)]
    return of_section or search(words)


def text(rows: list[FieldRow]) -> str:
    """Fields for the terminal, section by section."""
    width = max(terminal_width() or 100, 50)
    lines = []
    for head, group in groupby(rows, lambda row: row.heading):
        lines.append(head)
        for row in group:
            lines.append(f"  {row.example}")
            told = [f"{row.meaning} ({row.unit})", row.allowed, _default(row)]
            lines += textwrap.wrap(
                "; ".join(filter(None, told)),
                width,
                initial_indent="      ",
                subsequent_indent="      ",
            )
        lines.append("")
    return "\n".join(lines)


def _default(row: FieldRow) -> str:
    """Default and reason in words."""
    if row.default == "needed":
        return "must be given"
    if not row.default:
        return f"left out: {row.why}" if row.why else ""
    return f"left out: {row.default} ({row.why})"


def page() -> str:
    """fields.md: the same list as a page."""
    parts = [_HEAD]
    for head, group in groupby(catalog(), lambda row: row.heading):
        parts += [
            f"## {head}\n",
            "| as written | meaning | unit | allowed | left out |",
            "|---|---|---|---|---|",
        ]
        for row in group:
            left = _default(row).removeprefix("left out: ")
            cells = (f"`{row.example}`", row.meaning, row.unit, row.allowed, left)
            parts.append(f"| {' | '.join(cell.replace('|', '/') for cell in cells)} |")
        parts.append("")
    return "\n".join(parts)


if __name__ == "__main__":
    Path(__file__).parents[1].joinpath("fields.md").write_text(page(), encoding="utf-8")
