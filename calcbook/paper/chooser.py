"""Which job the notebooks work on: a pointer file beside them, and a panel to set it."""

from __future__ import annotations

import functools
import os
from html import escape
from pathlib import Path
from typing import Any
from urllib.parse import quote

import ipywidgets as widgets
from IPython.display import HTML, display

from calcbook.basis.sources import TABLES
from calcbook.job.file import Job, JobError
from calcbook.job.files import write_whole
from calcbook.paper.live import live
from calcbook.paper.new_job import NewJob
from calcbook.paper.panels import show_widget
from calcbook.paper.screen import page
from calcbook.paper.served import JOB, beside, on_pages
from calcbook.paper.turns import tell_when_shown
from calcbook.plan.drawing import ACCENT
from calcbook.records.file import is_record

_MOST = 20  # other jobs of a folder that are named
POINTER = "current-job.txt"
DEMO = "demo.toml"


def choose_job(path: str | Path, folder: str | Path = ".") -> None:
    """Make all notebooks of a folder work on this job file. Raises JobError."""
    write_whole(Path(folder) / POINTER, f"{Path(path).resolve()}\n")


def open_job(folder: str | Path = ".") -> Job:
    """The job of these notebooks: that of the pages, the one chosen, or the demo beside them.

    On a page the changes that are not yet saved are in it. Raises JobError.
    """
    if on_pages():
        tell_when_shown()
        return live(Job.read(os.environ[JOB])).job
    pointer = Path(folder) / POINTER
    if pointer.exists():
        return Job.read(pointer.read_text(encoding="utf-8").strip())
    return Job.read(Path(folder) / DEMO)


def new_job_beside(file: Path) -> widgets.Widget:
    """A button that unfolds the questions of a new job, written into the folder of a job file."""
    button = widgets.Button(description="A new job, by questions")
    whole = widgets.VBox([button])
    whole.add_class("cb-walk")
    asked = functools.cache(lambda: NewJob(file.parent, then=link_to).box())

    def turn(_: Any) -> None:
        whole.children = (button,) if len(whole.children) > 1 else (button, asked())

    button.on_click(turn)
    return whole


def link_to(path: Path, words: str = "Open its pages") -> str:
    """A link to the pages of a job that lies beside the first one of the server, as HTML."""
    return f'<a href="/of/{quote(path.stem)}/00-start">{escape(words)}</a>'


def others_beside(file: Path) -> str:
    """Links to the other jobs in the folder of a job, as HTML; nothing where there is none."""
    found = [path for path in beside(file) if path != file]
    links = ", ".join(link_to(path, path.stem) for path in found[:_MOST])
    more = f", and {len(found) - _MOST} more there" if len(found) > _MOST else ""
    return f"<p>Other jobs in this folder: {links}{more}.</p>" if found else ""


class Chooser:
    """A panel that lists the job files beside the notebooks and can start a new one."""

    def __init__(self, folder: str | Path = ".") -> None:
        self.folder = Path(folder)
        look = {
            "style": {"description_width": "9em"},
            "layout": widgets.Layout(width="36em", max_width="100%"),
        }
        self.file = widgets.Dropdown(description="Job file", options=self._files(), **look)
        self.name = widgets.Text(
            description="Blank job",
            placeholder="name of a commented file to fill in",
            continuous_update=False,
            **look,
        )
        self.message = widgets.HTML("")
        self.questions = NewJob(self.folder, self._started)
        self.file.observe(lambda change: self.choose(change["new"]), names="value")
        self.name.observe(lambda change: self.start(change["new"]), names="value")

    def _files(self) -> list[str]:
        current = self._current()
        here = sorted(p.name for p in self.folder.glob("*.toml") if not is_record(p))
        return [current, *(n for n in here if n != current)] if current else here

    def _current(self) -> str | None:
        pointer = self.folder / POINTER
        if not pointer.exists():
            return DEMO if (self.folder / DEMO).exists() else None
        chosen = Path(pointer.read_text(encoding="utf-8").strip())
        return chosen.name if chosen.parent == self.folder.resolve() else str(chosen)

    def choose(self, name: str) -> None:
        """Work on this job file from now on."""
        try:
            job = Job.read(self.folder / name)
            choose_job(self.folder / name, self.folder)
        except JobError as error:
            self.message.value = (
                f"<span style='color:{ACCENT}' role='alert'>✗ {escape(str(error))}</span>"
            )
            return
        self.message.value = f"Now working on {escape(job.job.name)}. Run the notebooks again (▸▸)."

    def start(self, name: str) -> None:
        """Write a new commented job file and work on it."""
        stem = "".join(c if c.isalnum() or c in "-_ " else "" for c in name).strip()
        if not stem:
            return
        path = self.folder / f"{stem}.toml"
        if path.exists():
            self.message.value = f"{escape(path.name)} is already there; choose it above."
            return
        starter = TABLES / "starter.toml"
        try:
            write_whole(path, starter.read_text(encoding="utf-8"))
        except JobError as error:
            self.message.value = escape(str(error))
            return
        self._started(path)

    def _started(self, path: Path) -> None:
        """Work on a job file that was just written."""
        self.file.options = [path.name, *(n for n in self.file.options if n != path.name)]
        self.file.value = path.name
        self.choose(path.name)

    def show(self) -> None:
        """Display the panel in a notebook; a page says which job it is, and can write a new one beside it."""
        if on_pages():
            file = Path(os.environ[JOB])
            words = f"<p>Job file: {escape(file.name)}, in {escape(str(file.parent))}</p>"
            display(HTML(page(words, others_beside(file))))
            display(new_job_beside(file))
            return
        written = page(f"<p>Job file: {escape(str(self.file.value))}</p>")
        asked = widgets.Accordion([self.questions.box()], titles=("A new job, by questions",))
        show_widget(widgets.VBox([self.file, asked, self.name, self.message]), written)
