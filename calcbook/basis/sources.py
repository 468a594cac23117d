"""The documents the book rests on, read from ``tables/sources.toml``.

``cite("ACI 318-19", "14.5.2.1a")`` names a place in one of them; an unknown key is an error, so
no formula can point at a document that the reference list does not hold.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass
from pathlib import Path

import tomli

TABLES = Path(__file__).parents[1] / "tables"


@dataclass(frozen=True)
class Source:
    """A document: key, full title, and how far it was checked."""

    key: str
    title: str
    status: str


@dataclass(frozen=True)
class Citation:
    """A place in a document."""

    key: str
    place: str = ""

    def __str__(self) -> str:
        return f"{self.key}, {self.place}" if self.place else self.key


STATUSES = {
    "pages read": "pages of the document itself, or a copy of them, were read; the rest of it was not",
    "read in a reprint": "the figure was read in a reprint and recomputed",
    "read in another library's tests": "an open general-purpose library quotes the figure in its tests",
    "read in another library": "the form stands in the documentation or code of an open general-purpose library",
    "run beside": "an open general-purpose library that the tests run beside the book",
    "from memory, recomputed": "quoted from memory; the arithmetic reproduces it",
    "from memory": "quoted from memory; check against the document before relying on it",
    "common practice, no source": "a fact of the trade without a published source",
    "own choice, no source": "a limit that this book chose, without a published source",
    "derived here": "follows from geometry or mechanics; the derivation is shown",
}


@functools.cache
def sources() -> dict[str, Source]:
    """All documents by key, in the order of the file. Checks each status."""
    with open(TABLES / "sources.toml", "rb") as file:
        rows = tomli.load(file)["source"]
    found = {row["key"]: Source(row["key"], row["title"], row["status"]) for row in rows}
    if len(found) != len(rows) or any(s.status not in STATUSES for s in found.values()):
        raise ValueError("sources.toml: keys must differ and every status be a known one")
    return found


def cite(key: str, place: str = "") -> Citation:
    """A place in a document of the reference list. Raises KeyError for an unknown document."""
    if key not in sources():
        raise KeyError(f"{key!r} is not in tables/sources.toml; add the document there first")
    return Citation(key, place)
