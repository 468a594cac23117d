"""The pages of the book: file, title, and the chapters whose verdicts each of them shows."""

from __future__ import annotations

from typing import NamedTuple


class Page(NamedTuple):
    """One page; ``stem`` is its file's name without the ending."""

    stem: str
    title: str
    chapters: tuple[str, ...]


PAGES = (
    Page("00-start", "Start here", ()),
    Page("01-slab", "Slab under load", ("slab",)),
    Page("02-pads", "Pads under posts", ("loads", "pads")),
    Page("03-edges", "Thickened edges", ("edges",)),
    Page("04-joints", "Control joints", ("joints",)),
    Page("05-reinforcement", "Fiber or mesh", ("reinforcement",)),
    Page("06-volume", "Concrete, stone and forms", ("volume", "base")),
    Page("07-retarder", "Vapor retarder", ("retarder",)),
    Page("08-bolts", "Sill bolts", ("bolts",)),
    Page("09-mix", "Mix and order", ("mix",)),
    Page("10-pour-day", "Pour day", ("pour_day",)),
    Page("11-first-week", "First week", ("first_week", "go", "laws")),
    Page("12-quote", "Quote", ("quote",)),
    Page("13-plate", "The slab as a plate", ("plate",)),
    Page("14-fields", "All fields", ()),
    Page("15-apprentice", "For the apprentice", ()),
    Page("16-load-path", "Where does the load go?", ()),
    Page("17-learned", "What did we learn?", ()),
)


def neighbors(stem: str) -> tuple[Page | None, Page | None]:
    """The page before and the page after one of them."""
    at = next(n for n, page in enumerate(PAGES) if page.stem == stem)
    return (PAGES[at - 1] if at else None), (PAGES[at + 1] if at + 1 < len(PAGES) else None)
