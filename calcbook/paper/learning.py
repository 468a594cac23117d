"""A path through the book for an apprentice: what to read first, what each exercise trains, and what is solved.

Progress stands in a small file of the reader's own, beside the drafts and never in a job.
"""

from __future__ import annotations

import contextlib
import json
import os
from html import escape
from pathlib import Path
from typing import NamedTuple

import ipywidgets as widgets
from IPython.display import HTML, display

from calcbook.job.files import JobError, locked, write_whole
from calcbook.paper.contents import PAGES
from calcbook.paper.screen import Markup, page, table
from calcbook.paper.served import DRAFT, on_pages


class Lesson(NamedTuple):
    """An exercise: its key, the page it stands on, and what it trains."""

    key: str
    stem: str
    trains: str


# in the order in which an apprentice should read
LESSONS = (
    Lesson("volume-1", "06-volume", "area times thickness to cubic yards"),
    Lesson("volume-2", "06-volume", "what half an inch of base costs"),
    Lesson("retarder-1", "07-retarder", "covering a width with lapped sheets"),
    Lesson("retarder-2", "07-retarder", "counting laps, not sheets"),
    Lesson("joints-1", "04-joints", "spacing of joints from the thickness"),
    Lesson("joints-2", "04-joints", "how deep a cut is"),
    Lesson("mix-1", "09-mix", "what water on site does to strength"),
    Lesson("mix-2", "09-mix", "trucks and the pace of the crew"),
    Lesson("pour-1", "10-pour-day", "set and temperature"),
    Lesson("pour-2", "10-pour-day", "reading how fast a slab dries"),
    Lesson("week-1", "11-first-week", "strength and age"),
    Lesson("week-2", "11-first-week", "what a blanket holds"),
    Lesson("edges-1", "03-edges", "width from load and bearing"),
    Lesson("edges-2", "03-edges", "what counts as depth in the ground"),
    Lesson("pads-1", "02-pads", "area from load and bearing"),
    Lesson("pads-2", "02-pads", "what counts of plain concrete"),
    Lesson("path-1", "16-load-path", "what a header hands to its jambs"),
    Lesson("path-2", "16-load-path", "how a jamb loads the last bolt by lever"),
    Lesson("bolts-1", "08-bolts", "setting height of a bolt"),
    Lesson("bolts-2", "08-bolts", "bolt spacing from uplift"),
    Lesson("bolts-3", "08-bolts", "why bolts are laid out before the pour"),
    Lesson("steel-1", "05-reinforcement", "bags of fiber, rounded up"),
    Lesson("steel-2", "05-reinforcement", "steel in a foot of mesh"),
    Lesson("slab-1", "01-slab", "the print of a wheel"),
    Lesson("slab-2", "01-slab", "what a joint passes on"),
    Lesson("plate-1", "13-plate", "how soil pushes back"),
    Lesson("plate-2", "13-plate", "what a margin allows"),
    Lesson("quote-1", "12-quote", "margin against markup"),
    Lesson("quote-2", "12-quote", "hours from a rate"),
    Lesson("quote-3", "12-quote", "spreads that do not add up"),
    Lesson("quote-4", "12-quote", "odds of two days lost"),
    Lesson("learned-1", "17-learned", "a rate from hours promised and taken"),
    Lesson("learned-2", "17-learned", "what few jobs of your own are worth"),
)


def progress_file() -> Path | None:
    """Where progress stands; None in the lab, which keeps none."""
    return Path(os.environ[DRAFT]).parent.parent / "progress.json" if on_pages() else None


def solved() -> list[str]:
    """The keys of the exercises that were solved."""
    path = progress_file()
    try:
        found = json.loads(path.read_text(encoding="utf-8")) if path else []
    except (OSError, ValueError):
        return []
    return [key for key in found if isinstance(key, str)] if isinstance(found, list) else []


def keep_solved(key: str) -> None:
    """Note that an exercise was solved without its solution."""
    path = progress_file()
    if path is None:
        return
    with contextlib.suppress(JobError), locked(path):  # a lesson is worth more than its record
        there = solved()
        if key not in there:
            write_whole(path, json.dumps([*there, key]))


def path_html() -> str:
    """The path as a table: chapter, what its exercises train, and a mark at those that are solved."""
    done, titles = solved(), {p.stem: p.title for p in PAGES}
    rows, last = [], ""
    for lesson in LESSONS:
        link = f'<a href="{lesson.stem}.ipynb">{escape(titles[lesson.stem])}</a>'
        mark = "✓ solved" if lesson.key in done else ""
        rows.append((Markup(link) if lesson.stem != last else "", lesson.trains, mark))
        last = lesson.stem
    count = sum(lesson.key in done for lesson in LESSONS)
    told = f"<p>{count} of {len(LESSONS)} exercises solved.</p>" if on_pages() else ""
    return page(told, table(("chapter, in this order", "what the exercise trains", "yours"), rows))


def show_path() -> None:
    """Display the path; on a page with what was solved, and a button to begin anew."""
    if not on_pages():
        display(HTML(path_html()))
        return
    shown = widgets.HTML(path_html())
    shown.add_class("cb-path")
    anew = widgets.Button(description="Forget what I solved")

    def forget(_: object) -> None:
        path = progress_file()
        if path is not None and path.exists():
            path.unlink()
        shown.value = path_html()

    anew.on_click(forget)
    row = widgets.HBox([anew])
    row.add_class("cb-do")
    display(widgets.VBox([shown, row]))
