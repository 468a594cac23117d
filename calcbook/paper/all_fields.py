"""Every field of the job file on one page: a section is picked, its entries are added and removed, and the plan
follows. The page is driven by the same declarations that read the file, so none can be missing."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets
from IPython.display import display

from calcbook.job.catalog import catalog, field_at, heading, section_of
from calcbook.job.files import JobError
from calcbook.job.lists import new_entries
from calcbook.job.places import PLACED, told_otherwise
from calcbook.job.schema.sections import FurtherSlab
from calcbook.paper.live import live
from calcbook.paper.panels import Panel
from calcbook.paper.pictures import image
from calcbook.paper.screen import page, table
from calcbook.paper.served import on_pages
from calcbook.paper.views import BesideView, button, reason, show_widget, wrong
from calcbook.plan.slab_drawing import plan_drawing

if TYPE_CHECKING:
    from calcbook.job.catalog import FieldRow
    from calcbook.job.file import Job

_LOOK: dict[str, Any] = {
    "style": {"description_width": "11em"},
    "layout": widgets.Layout(width="36em", max_width="100%"),
}


OF_SLAB = "slabs."  # begins the sections that a further slab has for itself


def rows_of(section: str) -> list[FieldRow]:
    """The fields of a section, such as ``walls.openings``."""
    plain = section.removeprefix(OF_SLAB)
    return [row for row in catalog() if row.section == plain]


def sections(job: Job | None = None) -> list[str]:
    """Every section of a job file, in its order; one in a list of another as ``walls.openings``.

    job: where it has further slabs, their own sections too, as ``slabs.walls.openings``.
    """
    plain = list(dict.fromkeys(row.section for row in catalog()))
    own = (
        [s for s in plain if s.partition(".")[0] in FurtherSlab.model_fields]
        if job and job.slabs
        else []
    )
    after = plain.index("slabs") + 1
    return [*plain[:after], *(f"{OF_SLAB}{s}" for s in own), *plain[after:]]


def lists_in(section: str) -> Iterator[str]:
    """The lists that a section stands in, from the outside in: ``walls``, ``walls.openings``."""
    parts = section.split(".")
    for place in (".".join(parts[:n]) for n in range(1, len(parts) + 1)):
        if section_of(field_at(place))[1]:
            yield place


@dataclass(frozen=True)
class _OnPlan:
    """What stands beside the fields of a section: the plan of the job, and what each field means."""

    job: Job
    section: str

    @property
    def figures(self) -> list[Any]:
        """No numbered ones: the plan is part of the answer."""
        return []

    def parts(self) -> dict[str, Callable[[], str]]:
        """Plan and meanings, as a page shows a result."""
        return {"picture": self._drawn, "rest": self._repr_html_}

    def _drawn(self) -> str:
        return image(plan_drawing(self.job.plan, self.job.system), "the plan of the slab as it stands")

    def _repr_html_(self) -> str:
        return page(meanings_html(self.section))


def meanings_html(section: str) -> str:
    """The fields of a section as a table: meaning, unit, what is allowed, and what holds where it is left out."""
    rows = [
        (
            row.key,
            row.meaning,
            row.unit,
            row.allowed,
            "must be given"
            if row.default == "needed"
            else f"{row.default or 'nothing'} ({row.why})"
            if row.why
            else row.default,
        )
        for row in rows_of(section)
    ]
    heads = ("field", "meaning", "unit", "allowed", "left out")
    return f"<h3>{escape(heading(section))}</h3>{table(heads, rows)}"


class AllFields:
    """A page's panel over all sections. job: a Job. ``show()`` displays it; ``pick`` chooses a section."""

    def __init__(self, job: Job) -> None:
        self.live = live(job)
        self.panel: Panel | None = None
        self.section = widgets.Dropdown(
            description="Section", options=self._options(), value="slab", **_LOOK
        )
        self.entries: dict[str, widgets.Dropdown] = {}
        self.add_button = button("Add one", self.add)
        self.remove_button = button("Remove this one", self.remove)
        self.place_button = button("", self.tell_place_otherwise)
        self.message = widgets.HTML("")
        self.which, self.place_for_panel = widgets.VBox([]), widgets.VBox([])
        self.section.observe(lambda _: self._picked(), names="value")
        self._picked()
        self.live.followers.append(self._follow)

    def _options(self) -> list[tuple[str, str]]:
        return [(_title(name), name) for name in sections(self.live.job)]

    def _follow(self) -> None:
        """List sections and entries anew where others, or Undo, have added or removed some."""
        now = self._options()
        if now != list(self.section.options):
            picked = self.section.value
            still = picked if picked in dict(now).values() else "slabs"
            self.section.options = now
            self.section.value = still
        self._name_place_button()
        for name, chooser in self.entries.items():
            if len(chooser.options) != len(self._at(self._place(name, last=False)) or []):
                self._picked()
                return

    def pick(self, section: str) -> None:
        """Show a section, such as ``pads``."""
        self.section.value = section

    # --- which one is shown ---
    def _picked(self) -> None:
        self.message.value = ""
        self.entries = {}
        for name in lists_in(self.section.value):
            chooser = widgets.Dropdown(description=_title(name, short=True), options=[], **_LOOK)
            self.entries[name] = chooser
            self._fill(name)
            chooser.observe(lambda _, name=name: self._entry_picked(name), names="value")
        buttons = [self.add_button, self.remove_button]
        if self.section.value.rpartition(".")[2] in PLACED:
            buttons.append(self.place_button)
        do = [widgets.HBox(buttons)] if self._is_list else []
        for row in do:
            row.add_class("cb-do")
        self.which.children = [*self.entries.values(), *do]
        self._show_fields()

    @property
    def _is_list(self) -> bool:
        return self.section.value in self.entries

    def _entry_picked(self, name: str) -> None:
        names = list(self.entries)
        for inner in names[names.index(name) + 1 :]:
            self._fill(inner)
        self._show_fields()

    def _fill(self, name: str) -> None:
        found = self._at(self._place(name, last=False)) or []
        options = [(_name(entry, n), n) for n, entry in enumerate(found)]
        self.entries[name].options = options
        self.entries[name].value = options[0][1] if options else None

    def _place(self, name: str, last: bool = True) -> str | None:
        """The place of a section of the job with the entries picked; None where a list is empty.

        last: whether the entry of the section's own list is part of it.
        """
        parts, path = name.split("."), []
        for n, part in enumerate(parts, 1):
            path.append(part)
            outer = ".".join(parts[:n])
            if outer in self.entries and (last or outer != name):
                if self.entries[outer].value is None:
                    return None
                path.append(str(self.entries[outer].value))
        return ".".join(path)

    def _at(self, place: str | None) -> Any:
        """What the job says at a place, as it is written."""
        found: Any = self.live.job.raw if place else None
        for part in (place or "").split("."):
            if isinstance(found, list):
                found = found[int(part)] if int(part) < len(found) else None
            else:
                found = found.get(part) if isinstance(found, dict) else None
        return found

    def _show_fields(self) -> None:
        if self.panel is not None:
            self.panel.close()
            self.panel = None
        section, place = self.section.value, self._place(self.section.value)
        self.remove_button.disabled = self.place_button.disabled = place is None
        self._name_place_button()
        if place is None:
            told = page(f"<p>There is none in this job.</p>{meanings_html(section)}")
            self.place_for_panel.children = [widgets.HTML(told)]
            return
        places = [f"{place}.{row.key}" for row in rows_of(section)]
        self.panel = Panel(
            self.live.job, lambda book: _OnPlan(self._slab(book.job), section), places, self.live
        )
        self.place_for_panel.children = [BesideView(self.panel).widget()]

    def _slab(self, job: Job) -> Job:
        """The slab that the section shown is about: the first, or a further one as a Job."""
        picked = self.entries["slabs"].value if "slabs" in self.entries else None
        return job.others[picked] if picked is not None and picked < len(job.others) else job

    # --- adding and removing ---
    def add(self) -> None:
        """Add an entry to the list that is shown, in the first place that the job allows."""
        place = self._place(self.section.value, last=False)
        if not self._is_list:
            return
        if place is None:
            self.message.value = wrong(
                "There is nothing to add it to yet; add the one around it first."
            )
            return
        there, refusal = list(self._at(place) or []), ""
        section, slab = self.section.value, self.live.job
        if section.startswith(OF_SLAB):
            section, slab = section.removeprefix(OF_SLAB), self._slab(slab)
        for new in new_entries(section, slab, not there):
            try:
                self.live.tried_whole(place, [*there, *new])
            except (JobError, ValueError) as error:
                refusal = refusal or reason(error)
                continue
            self._keep(place, [*there, *new], len(there), "Added")
            return
        self.message.value = wrong(f"Nothing was added: {refusal}")

    def remove(self) -> None:
        """Take the entry that is shown out of its list."""
        place, at = self._place(self.section.value, last=False), self.entries[self.section.value].value
        if place is None or at is None:
            return
        rest = [entry for n, entry in enumerate(self._at(place)) if n != at]
        try:
            self.live.tried_whole(place, rest)
        except (JobError, ValueError) as error:
            self.message.value = wrong(f"Not removed: {reason(error)}")
            return
        self._keep(place, rest, max(0, at - 1), "Removed")

    def tell_place_otherwise(self) -> None:
        """Tell the place of the entry shown from a side in place of x and y, or the other way; it stays where it is."""
        section, number = (
            self.section.value.removeprefix(OF_SLAB),
            self.entries[self.section.value].value,
        )
        listed = self._place(self.section.value, last=False)
        if number is None or listed is None:
            return
        told = told_otherwise(self._slab(self.live.job), section, number)
        entries = list(self._at(listed))
        kept = {k: v for k, v in entries[number].items() if k not in told}
        entries[number] = kept | {k: v for k, v in told.items() if v is not None}
        self._keep(listed, entries, number, "The same place, told the other way")

    def _name_place_button(self) -> None:
        where = self._place(self.section.value) if self._is_list else None
        by_side = "from_side" in (self._at(where) or {})
        self.place_button.description = (
            "Tell its place by x and y" if by_side else "Measure it from a side"
        )

    def _keep(self, place: str, entries: list[Any], at: int, word: str) -> None:
        if self.panel is not None:
            self.panel.close()  # its fields are of the list as it was
            self.panel = None
        self.live.keep(place, entries)  # the lists are filled anew, as for whoever follows
        if entries:
            self.entries[self.section.value].value = at
        if self.panel is None:
            self._show_fields()
        self.message.value = f"{word}; Undo takes it back, Save to job writes it."

    # --- showing ---
    def show(self) -> None:
        """Display it; a saved notebook keeps the meanings of the first section shown."""
        box = widgets.VBox([self.section, self.which, self.message, self.place_for_panel])
        box.add_class("cb-all")
        if on_pages():
            display(box)
        else:
            show_widget(box, page(meanings_html(self.section.value)))


def _title(section: str, short: bool = False) -> str:
    """The name of a section as it is listed: what it is about, and how it is written."""
    about = field_at(section).description or section.replace(".", ", ")
    return section.rpartition(".")[2] if short else f"{section.replace('.', ', ')}: {about}"


def _name(entry: dict[str, Any], number: int) -> str:
    for key in ("name", "time", "check", "corner", "beside"):
        if entry.get(key):
            return f"{number + 1}: {entry[key]}"
    side = entry.get("side")
    return f"{number + 1}: side {side}" if side else f"{number + 1}"
