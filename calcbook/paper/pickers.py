"""Lists of a job on a panel, such as its pads: one entry is picked, and its fields are shown."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

if TYPE_CHECKING:
    from calcbook.job.file import Job

LABEL = {"description_width": "22em"}


def single_places(job: Job, places: Iterable[str]) -> list[str]:
    """The places with ``*`` written out for every entry that the job has."""
    found = []
    for place in places:
        section, star, key = place.partition(".*.")
        many = range(len(getattr(job, section))) if star else ()
        found += [f"{section}.{n}.{key}" for n in many] if star else [place]
    return found


def names_of_entries(job: Job, places: Iterable[str]) -> dict[str, list[tuple[str, int]]]:
    """For each section with ``*``: the names of its entries and their numbers."""
    sections = dict.fromkeys(p.partition(".*.")[0] for p in places if ".*." in p)
    return {
        section: [
            (getattr(e, "name", "") or f"{section} {n + 1}", n)
            for n, e in enumerate(getattr(job, section))
        ]
        for section in sections
    }


def pickers_of(listed: dict[str, list[tuple[str, int]]]) -> Any:
    """For each list: what to pick an entry with, or a word that there is none."""
    found = {}
    for section, names in listed.items():
        word = section.removesuffix("s").capitalize()
        found[section] = (
            widgets.Dropdown(options=names, description=word, style=LABEL, layout=widgets.Layout(width="36em"))
            if names
            else widgets.HTML(f"The job file has no [[{section}]] yet; the starting file shows how to write one.")
        )  # fmt: skip
    return found


def show_one(section: Any, picker: Any, rows: Any) -> None:
    """Show the fields of the picked entry only, now and at every change."""

    def show(picked: Any) -> None:
        for place, row in rows.items():
            head, _, rest = place.partition(".")
            if head == section:
                row.layout.display = None if rest.split(".")[0] == str(picked) else "none"

    if isinstance(picker, widgets.Dropdown):
        show(picker.value)
        picker.observe(lambda change: show(change["new"]), names="value")
