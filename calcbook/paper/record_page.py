"""A record typed on a page: the questions of ``calcbook record``, each by itself, checked and written beside the job.

What is typed and not yet saved is kept outside the job's folder, so a page that is closed loses nothing.
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from html import escape
from pathlib import Path
from typing import Any

import ipywidgets as widgets
import tomli
from IPython.display import display

from calcbook.job.file import Job, JobError
from calcbook.job.files import JobChanged, write_whole
from calcbook.job.raw import plain, value_at
from calcbook.paper.live import Live, live
from calcbook.paper.screen import page, table
from calcbook.paper.served import DRAFT, on_pages
from calcbook.paper.views import button, reason, show_widget, wrong
from calcbook.records.entering import (
    DEPTHS,
    depths_of,
    entries_of,
    entry_text,
    line_value,
    lines_with,
)
from calcbook.records.file import Record, record_of, record_path, save_record
from calcbook.records.questions import LINES, LISTS, QUESTIONS

_LOOK: dict[str, Any] = {"style": {"description_width": "auto"}, "layout": {"width": "36em", "max_width": "100%"}}  # fmt: skip
_AFTER = {  # lists and lines stand after the question that they belong to
    "concrete.left_over": ("trucks",), "base.depths": ("work",), "weather.air": ("hours", "cost"),
    "cracks.seen": ("strengths", "logs"),
}  # fmt: skip
_BY_PLACE = {question.place: question for question in QUESTIONS}


def order() -> list[str]:
    """Questions, lists, and the two kinds of line (``hours``, ``cost``), in the order they are asked."""
    return [
        name for question in QUESTIONS for name in (question.place, *_AFTER.get(question.place, ()))
    ]


class RecordPage:
    """The record of a job as fields. ``fields`` by what they are about: a place such as ``base.depths``, a list such
    as ``trucks`` (one entry a line), or (line of the quote, ``hours`` or ``cost``)."""

    def __init__(self, of: Live, draft: Path | None = None) -> None:
        """of: the job, whose followers are told when a record is written; draft: where what is typed is kept."""
        self.live, self._draft = of, draft
        self.before: Record | None = None
        self.shown: dict[Any, str] = {}  # what the record says, as it was last read
        self.fields: dict[Any, widgets.Text | widgets.Textarea] = {}
        self.told: dict[Any, widgets.HTML] = {}
        self.message = widgets.HTML("")
        self.begin_button = button("Begin the record of this job", self.begin)
        self.save_button = button("Save the record", self.save)
        self.box = widgets.VBox([])
        self.box.add_class("cb-walk")
        self._open()

    @property
    def path(self) -> Path:
        """The job file."""
        assert self.live.saved.path is not None
        return self.live.saved.path

    # --- beginning ---
    def begin(self) -> None:
        """Write a record with what is promised now and nothing measured."""
        from calcbook.records.promise import record_start

        self.message.value = "<p role='status'>What the book promises is being worked out …</p>"
        try:
            save_record(self.path, {}, None, record_start(self.live.saved))
        except JobError as error:  # begun by someone else meanwhile, too: it is shown
            self.message.value = wrong(reason(error))
        else:
            self.message.value = "Begun: what the book promises is written down, so that the outcome can be set against it."
        self._open()

    def _open(self) -> None:
        """Show the fields of the record, or the button that begins it."""
        try:
            self.before = record_of(self.path)
        except JobError as error:
            self.box.children = [widgets.HTML(wrong(reason(error)))]
            return
        if self.before is None:
            words = (
                f"<p>There is no record of {escape(self.path.name)} yet. It is begun with what the book promises today, so "
                "begin it before or right after the pour; what was measured may follow one by one.</p>"
            )
            self.box.children = [widgets.HTML(page(words)), self.begin_button, self.message]
            return
        self.shown = _texts(self.before)
        kept = self._kept()
        for name, text in self.shown.items():
            self._field(name, kept.get(_key(name), text))
        rows = [row for name in order() for row in self._rows(name)]
        self.box.children = [*rows, self.save_button, self.message]

    def _rows(self, name: str) -> list[widgets.Widget]:
        """The fields of a question or a list, or of all lines of a kind, each with its complaint."""
        if name in _BY_PLACE:
            return [self._row(name, _BY_PLACE[name].why)]
        if name in LISTS:
            return [self._row(name, LISTS[name][2])]
        found = [key for key in self.fields if isinstance(key, tuple) and key[1] == name]
        if not found:
            return []
        words, why = next((words, why) for key, words, why in LINES if key == name)
        heading = widgets.HTML(
            f"<p>{escape(words.removesuffix(' Enter skips a line.'))}</p>{_why(why)}"
        )
        return [widgets.VBox([heading, *(self._row(key, "") for key in found)])]

    def _row(self, name: Any, why: str) -> widgets.VBox:
        row = widgets.VBox(
            [self.fields[name], self.told[name], *([widgets.HTML(_why(why))] if why else [])]
        )
        row.add_class("cb-field")
        return row

    def _field(self, name: Any, text: str) -> None:
        made = widgets.Textarea if name in LISTS else widgets.Text
        field = made(description=self._words(name), value=text, continuous_update=False, **_LOOK)
        field.observe(lambda _: self._typed(name), names="value")
        self.fields[name], self.told[name] = field, widgets.HTML("")

    def _words(self, name: Any) -> str:
        if isinstance(name, tuple):
            return f"{name[0]}, promised {self._promised(name)}"
        return _BY_PLACE[name].words if name in _BY_PLACE else f"{LISTS[name][0]} One a line."

    def _promised(self, name: tuple[str, str]) -> str:
        lines = (
            tomli.loads(self.before.text if self.before else "").get("promised", {}).get("lines", [])
        )
        return next((str(line[name[1]]) for line in lines if line["line"] == name[0] and name[1] in line), "nothing")  # fmt: skip

    # --- typing ---
    def _typed(self, name: Any) -> None:
        """Keep what is typed, and say at once what is wrong with it."""
        self._read(name)
        self._keep()
        self._look()

    def _read(self, name: Any) -> Any:
        """What a field says, as it is written; None where it says nothing. What is wrong is told beside it."""
        text, system = self.fields[name].value.strip(), self._system
        self.told[name].value = ""
        try:
            if name in LISTS:
                return entries_of(name, system, text, self._raw().get(name, []))
            if isinstance(name, tuple):
                return line_value(name[1], text, system)
            if not text:
                return None
            return depths_of(text, system) if name == DEPTHS else _BY_PLACE[name].read(text, system)
        except ValueError as error:
            self.told[name].value = wrong(reason(error))
            return None

    @property
    def _system(self) -> str:
        return self.before.file.record.units if self.before else "us"

    def _raw(self) -> dict[str, Any]:
        return tomli.loads(self.before.text) if self.before else {}

    @property
    def changed(self) -> list[Any]:
        """The fields that say something else than the record."""
        return [name for name, field in self.fields.items() if field.value.strip() != self.shown[name]]

    # --- saving ---
    def save(self) -> None:
        """Write what is typed into the record, all of it or, where something is wrong, none; others' changes stay."""
        if self._look():
            return
        names = self.changed
        read = {name: self._read(name) for name in names}
        bad = [name for name in names if self.told[name].value]
        if bad:
            told = "; ".join(self._words(name) for name in bad)
            self.message.value = wrong(f"Nothing is saved yet. Mend this first: {told}")
            return
        changes = {name: value for name, value in read.items() if isinstance(name, str)}
        changes = {
            name: None if name in LISTS and not value else value for name, value in changes.items()
        }
        lines = lines_with(self._raw(), {name: value for name, value in read.items() if isinstance(name, tuple)})  # fmt: skip
        if lines is not None:
            changes["lines"] = lines or None
        try:
            save_record(self.path, changes, self.before)
        except JobChanged:
            self._look()
            return
        except JobError as error:
            self.message.value = wrong(f"Nothing is saved. {reason(error)}")
            return
        self.before = record_of(self.path)
        self.shown = {**dict.fromkeys(self.fields, ""), **_texts(self.before)} if self.before else {}
        for name, text in self.shown.items():
            self.fields[name].value = text
        self._forget()
        self.message.value = (
            f"{escape(record_path(self.path).name)} is written; {escape(self.path.name)} is as it was."
        )
        for follower in self.live.followers:
            follower()

    def _look(self) -> bool:
        """Whether someone else saved the record meanwhile: then it is read anew, and what is typed here stays."""
        try:
            there = record_of(self.path)
        except JobError as error:
            self.message.value = wrong(f"Nothing is saved. {reason(error)}")
            return True
        if there is None or (self.before and there.text == self.before.text):
            if there is None:
                self.message.value = wrong(
                    f"{record_path(self.path).name} is gone. What you typed still stands here; put the file back, then save."
                )
            return there is None
        both = self._merge(there)
        told = "".join(f" {self._words(name)} They wrote {text or 'nothing'}; yours stands in the field." for name, text in both)  # fmt: skip
        self.message.value = wrong(
            f"Someone else saved this record meanwhile. Theirs is shown now, what you typed stands; look, and save again.{told}"
        )
        return True

    def _merge(self, there: Record) -> list[tuple[Any, str]]:
        """Show a record in the fields that were not changed here; returns (field, theirs) of those both changed."""
        mine = set(self.changed)
        self.before, old = there, self.shown
        self.shown = {**dict.fromkeys(old, ""), **_texts(there)}
        for name in [name for name in self.shown if name not in self.fields]:
            self._field(name, self.shown[name])
        for name in self.fields.keys() - mine:
            self.fields[name].value = self.shown[name]
        return [
            (name, self.shown[name])
            for name in self.fields
            if name in mine and self.shown[name] not in (old.get(name), self.fields[name].value.strip())
        ]

    # --- what is typed and not saved ---
    def _keep(self) -> None:
        if self._draft is not None:
            typed = {_key(name): self.fields[name].value for name in self.changed}
            write_whole(self._draft, json.dumps(typed, ensure_ascii=False))

    def _kept(self) -> dict[str, str]:
        try:
            found = json.loads(self._draft.read_text(encoding="utf-8")) if self._draft else {}
        except (OSError, ValueError):
            return {}
        return {k: v for k, v in found.items() if isinstance(v, str)} if isinstance(found, dict) else {}

    def _forget(self) -> None:
        if self._draft is not None:
            self._draft.unlink(missing_ok=True)

    def show(self) -> None:
        """Display it; a saved notebook keeps the questions."""
        if on_pages():
            display(self.box)
        else:
            show_widget(self.box, questions_html())


def record_page(job: Job) -> None:
    """Display the record of a job as fields."""
    draft = Path(os.environ[DRAFT]).with_suffix(".record.json") if on_pages() else None
    RecordPage(live(job), draft).show()


def unfolded(make: Callable[[Job], Any]) -> Callable[[Job], str]:
    """What a calculation says with its tables and notes in the open: on the page of the records they are the answer."""
    return lambda job: str(make(job)._repr_html_())


def questions_html() -> str:
    """What is asked, and why, as a table."""
    rows = []
    for name in order():
        if name in _BY_PLACE:
            rows.append((_BY_PLACE[name].words, _BY_PLACE[name].why))
        elif name in LISTS:
            rows.append(LISTS[name][::2])
        else:
            rows += [
                (words.removesuffix(" Enter skips a line."), why)
                for key, words, why in LINES
                if key == name
            ]
    return page(table(("what is asked after a pour", "why"), rows))


def _texts(record: Record) -> dict[Any, str]:
    """What a record says in each field, as it is typed."""
    raw = tomli.loads(record.text)
    found: dict[Any, str] = {}
    for place in _BY_PLACE:
        value = value_at(raw, place)
        found[place] = ", ".join(map(str, value)) if isinstance(value, list) else "" if value is None else str(value)  # fmt: skip
    for name in LISTS:
        found[name] = "\n".join(entry_text(name, entry) for entry in raw.get(name, []))
    told = {plain(line["line"]): line for line in raw.get("lines", []) if "line" in line}
    promised = raw.get("promised", {}).get("lines", [])
    for key in ("hours", "cost"):
        for line in (one for one in promised if key in one):
            found[line["line"], key] = str(told.get(plain(line["line"]), {}).get(key, ""))
    return found


def _key(name: Any) -> str:
    """A field in the file of what is typed."""
    return name if isinstance(name, str) else ": ".join(name)


def _why(words: str) -> str:
    return f"<details><summary>Why</summary>{escape(words)}</details>"
