"""Input panels for the notebooks: fields, the drawing, and the calculation that follows them.

A panel shows the fields of a job that matter to one subject. A changed field is checked as the job
file would be; what is wrong is said beside the field, and the last good result stays. The result
is an ordinary display that is updated in place, so it also stands in the saved notebook.
"""

from __future__ import annotations

import base64
import io
import re
from collections.abc import Callable, Iterable
from html import escape
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets
from IPython.display import HTML, display

from calcbook.book.chapters import Book
from calcbook.job.file import JobError
from calcbook.paper.screen import page, table

if TYPE_CHECKING:
    from matplotlib.figure import Figure as MplFigure

    from calcbook.job.file import Entry, Job

_LABEL = {"description_width": "22em"}


class Panel:
    """Fields of a job, and what follows from them.

    job: the Job to start from; chapter: the name of a chapter of the book, or a function of a Book that
    gives anything with ``_repr_html_`` and, if it has drawings, ``figures``; places: the fields, such
    as ``"slab.thickness"``, or ``"pads.*.dead"`` for that field of every pad, one pad shown at a
    time. ``show()`` displays it; ``set(place, value)`` does what typing does.
    """

    def __init__(self, job: Job, chapter: str | Callable[[Book], Any], places: Iterable[str]) -> None:
        self.saved_job = self.job = job
        self.chapter, self.book = chapter, Book(job)
        self.changes: dict[str, Any] = {}
        self.broken: set[str] = set()
        self.result = _result(self.book, chapter)
        self.pickers, single = _pickers(job, places), _single_places(job, places)
        self.fields = {place: _field(job.field(place), job) for place in single}
        self.messages = {place: widgets.HTML("") for place in single}
        self.status = widgets.HTML("")
        self.save_button = widgets.Button(description="Save to job", tooltip="Write the changed fields")
        self.save_button.on_click(lambda _: self.save())
        for place, field in self.fields.items():
            field.observe(lambda change, place=place: self._typed(place, change["new"]), names="value")
        self._handles: Any = None

    # --- doing ---
    def set(self, place: str, value: Any) -> None:
        """Set a field as if it were typed."""
        self.fields[place].value = value

    def _typed(self, place: str, value: Any) -> None:
        if isinstance(value, str):
            value = value.strip() or None  # an emptied field is left out of the job file
        try:
            job = self.saved_job.changed({**self.changes, place: value})
            book = Book(job, self.book)
            result = _result(book, self.chapter)
        except (JobError, ValueError) as error:
            self.broken.add(place)
            self.messages[place].value = _wrong(_reason(error))
        else:
            self.broken.discard(place)
            self.changes[place] = value
            self.job, self.book, self.result = job, book, result
            self.messages[place].value = _said(job.field(place))
            self._refresh()
        self._tell()

    def save(self) -> None:
        """Write the changed fields to the job file."""
        if not self.changes:
            self.status.value = "Nothing has been changed."
            return
        before = self.saved_job.changed(self.changes).raw
        try:
            self.saved_job = self.job = self.saved_job.save(self.changes)
        except JobError as error:
            self.status.value = _wrong(_reason(error))
            return
        names = ", ".join(self.changes)
        self.changes = {}
        self.status.value = (
            f"Saved to {escape(getattr(self.job.path, 'name', ''))}: {escape(names)}."
            + (
                " Other fields had been changed in the file meanwhile; they are kept. Run again (▸▸)."
                if self.job.raw != before
                else ""
            )
        )

    def _tell(self) -> None:
        if self.broken:
            self.status.value = _wrong("The last good result is shown; mend the field marked above.")
        elif self.changes:
            self.status.value = "Changed here, not yet saved to the job file."

    # --- showing ---
    def show(self) -> None:
        """Display the first drawing, fields, calculation and further drawings.

        Later changes update them in place. The fields come early, so that they and their results
        are on the screen together.
        """
        drawn = self._figures()
        first = [_display(figure, display_id=True) for figure in drawn[:1]]
        show_widget(self.box, self._written())
        html = display(HTML(self._html()), display_id=True)
        self._handles = [*first, *(_display(figure, display_id=True) for figure in drawn[1:])], html

    @property
    def box(self) -> widgets.VBox:
        """The widgets of the panel, one above the other."""
        rows = {p: widgets.HBox([field, self.messages[p]]) for p, field in self.fields.items()}
        for section, picker in self.pickers.items():
            _show_one(section, picker, rows)
        firsts = [r for p, r in rows.items() if p.split(".")[0] not in self.pickers]
        for section, picker in self.pickers.items():
            firsts += [picker, *(r for p, r in rows.items() if p.split(".")[0] == section)]
        return widgets.VBox([*firsts, widgets.HBox([self.save_button, self.status])])

    def _figures(self) -> list[MplFigure]:
        return [f.draw() for f in getattr(self.result, "figures", [])]

    def _html(self) -> str:
        return self.result._repr_html_()

    def _written(self) -> str:
        """The fields as they stand in a saved notebook, where nothing is live."""
        entries = [self.job.field(place) for place in self.fields]
        return page(table(("field", "value"), [(e.meaning, e.written) for e in entries], numeric=(1,)))

    def _refresh(self) -> None:
        if self._handles is None:
            return
        figures, html = self._handles
        html.update(HTML(self._html()))
        for handle, figure in zip(figures, self._figures(), strict=False):
            handle.update(picture(figure), raw=True, metadata=_sharp(figure))


def _result(book: Book, chapter: str | Callable[[Book], Any]) -> Any:
    return book.calculation(chapter) if isinstance(chapter, str) else chapter(book)


def _single_places(job: Job, places: Iterable[str]) -> list[str]:
    """The places with ``*`` written out for every entry that the job has."""
    found = []
    for place in places:
        section, star, key = place.partition(".*.")
        many = range(len(getattr(job, section))) if star else ()
        found += [f"{section}.{n}.{key}" for n in many] if star else [place]
    return found


def _pickers(job: Job, places: Iterable[str]) -> Any:
    """For each section with ``*``: what to pick an entry with, or a word that there is none."""
    found = {}
    for section in dict.fromkeys(p.partition(".*.")[0] for p in places if ".*." in p):
        entries = getattr(job, section)
        names = [(getattr(e, "name", "") or f"{section} {n + 1}", n) for n, e in enumerate(entries)]
        word = section.removesuffix("s").capitalize()
        found[section] = (
            widgets.Dropdown(options=names, description=word, style=_LABEL, layout=widgets.Layout(width="36em"))
            if names
            else widgets.HTML(f"The job file has no [[{section}]] yet; the starting file shows how to write one.")
        )  # fmt: skip
    return found


def _show_one(section: Any, picker: Any, rows: Any) -> None:
    """Show the fields of the picked entry only, now and at every change."""

    def show(picked: Any) -> None:
        for place, row in rows.items():
            head, _, rest = place.partition(".")
            if head == section:
                row.layout.display = None if rest.split(".")[0] == str(picked) else "none"

    if isinstance(picker, widgets.Dropdown):
        show(picker.value)
        picker.observe(lambda change: show(change["new"]), names="value")


def check_wiring(job: Job, chapter: str | Callable[[Book], Any], place: str, value: str) -> None:
    """For the author of a notebook: a panel follows a changed field as the calculation does.

    The field is set to the value and back. Jobs without that field pass. Raises AssertionError.
    """
    panel = Panel(job, chapter, [place.replace(".0.", ".*.")])
    if place not in panel.fields:
        return
    for written in (value, panel.fields[place].value):
        panel.set(place, written)
        fresh = _result(Book(job.changed({place: written or None})), chapter)
        if panel.result._repr_html_() != fresh._repr_html_():
            raise AssertionError(f"the panel does not follow {place} = {written!r}")


def _field(entry: Entry, job: Job) -> widgets.DOMWidget:
    """The widget for one field: a drop-down, a check box, or a line of text."""
    info = job.schema_of(entry.place)
    label = f"{entry.meaning[0].upper()}{entry.meaning[1:]}"
    common = {"description": label, "style": _LABEL, "layout": widgets.Layout(width="36em")}
    meta: Any = info.json_schema_extra or {}
    if meta.get("choices"):
        empty = [("not given", None)] if entry.value is None else []
        options = [*empty, *((choice, choice) for choice in meta["choices"])]
        return widgets.Dropdown(options=options, value=entry.value, **common)
    if isinstance(entry.value, bool):
        return widgets.Checkbox(value=entry.value, **{**common, "layout": widgets.Layout(width="auto")})
    written = "" if entry.value is None else entry.written
    return widgets.Text(value=written, placeholder="not given", continuous_update=False, **common)


def _reason(error: Exception) -> str:
    """The message without the file, line and field that stand beside it anyway."""
    first = str(error).splitlines()[0]
    return re.sub(
        r"^(job|[^:]*\.toml)(, line \d+)?: (\[+[\w.]+\]+( number \d+)?( \w+)?:? )?", "", first
    )


def _said(entry: Entry) -> str:
    """A field as it was understood, beside the field."""
    return f"<span style='color:#555'>{escape(entry.text)}{', assumed' if entry.assumed else ''}</span>"


def _wrong(text: str) -> str:
    return f"<span style='color:#8a3b12' role='alert'>✗ {escape(text)}</span>"


def show_widget(box: widgets.DOMWidget, written: str) -> None:
    """Display a widget; a saved notebook keeps ``written``, HTML of ``screen.py``, in its place."""
    bundle = {**box._repr_mimebundle_(), "text/html": written, "text/plain": "fields"}
    display(bundle, raw=True)


def picture(figure: MplFigure) -> dict[str, str]:
    """A drawing as data to display, the same to the byte whenever it is drawn."""
    buffer = io.BytesIO()
    figure.savefig(buffer, format="png", dpi=144, metadata={"Software": None})
    return {"image/png": base64.b64encode(buffer.getvalue()).decode(), "text/plain": "drawing"}


def _sharp(figure: MplFigure) -> dict[str, Any]:
    return {"image/png": {"width": int(figure.get_size_inches()[0] * 96)}}


def _display(figure: MplFigure, **options: Any) -> Any:
    return display(picture(figure), raw=True, metadata=_sharp(figure), **options)


def show_figure(figure: MplFigure) -> None:
    """Display a drawing at its own size."""
    _display(figure)


class Shown:
    """Finished HTML of ``screen.py``, to be the value of a cell."""

    def __init__(self, html: str) -> None:
        self.html = html

    def __repr__(self) -> str:
        return "<shown>"

    def _repr_html_(self) -> str:
        return self.html
