"""Editions: which standards the governing code names, and what a page says where it cites others."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING

from calcbook.basis.table import records, table

if TYPE_CHECKING:
    from collections.abc import Iterable

    from calcbook.basis.calculation import Calculation
    from calcbook.job.file import Job


@functools.cache
def _cited() -> dict[str, tuple[str, str]]:
    """Key of a document -> (family, edition) that its rules are of."""
    return {row["source"].key: (row["family"], row["edition"]) for row in table("cited_editions")}


def named_by(code: str) -> dict[str, str]:
    """Family of standards -> the edition that a code names; the code itself is one of them."""
    return {row["family"]: row["edition"] for row in table("editions") if row["code"] == code}


def others(code: str, keys: Iterable[str]) -> list[str]:
    """Editions that documents are of, by their keys, and that a code does not name; each once, in order."""
    named = named_by(code)
    found = [_cited()[key] for key in keys if key in _cited()]
    return list(dict.fromkeys(edition for family, edition in found if named.get(family) != edition))


def remark(calc: Calculation, job: Job) -> None:
    """Enter what a page cites that the job's code does not name, where it does; nothing without a code."""
    code = job.design.code
    mixed = [] if code is None else others(code, (source.key for source in calc.sources))
    if mixed:
        calc.note(
            f"Editions: the job is under {code}, and this page also cites {_listed(mixed)}. Of these rules the book has no "
            "other edition. Where the editions differ, the code's own decides: ask the engineer."
        )


def _listed(words: list[str]) -> str:
    *first, last = words
    return f"{', '.join(first)} and {last}" if first else last


def enter_editions(calc: Calculation, job: Job) -> None:
    """Enter which editions the governing code names, beside those that the book's rules are of."""
    code = job.design.code
    if code is None:
        return
    named = named_by(code)
    rows = []
    for family in dict.fromkeys(f for f, _ in _cited().values()):
        own = list(dict.fromkeys(e for f, e in _cited().values() if f == family))
        rows.append([family, named.get(family, "not the code of this job"), ", ".join(own)])
    calc.table(f"Editions under {code}", records(["Standard", "Named by the code", "Rules in this book"], rows),
               table("editions")[0]["source"])  # fmt: skip
