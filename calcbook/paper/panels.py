"""Input panels for the notebooks: fields, the drawing, and the calculation that follows them.

A panel shows the fields of a job that matter to one subject. A changed field is checked as the job
file would be; what is wrong is said beside the field, and the last good result stays. The result
is an ordinary display that is updated in place, so it also stands in the saved notebook.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from html import escape
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from calcbook.book.chapters import Book
from calcbook.book.registry import LATE
from calcbook.job.fields import meta_of
from calcbook.job.files import JobError
from calcbook.paper.late import Late
from calcbook.paper.live import Live, live
from calcbook.paper.pickers import LABEL, names_of_entries, pickers_of, show_one, single_places
from calcbook.paper.pictures import picture, show_figure
from calcbook.paper.play import Slider, slider_for
from calcbook.paper.screen import page, table
from calcbook.paper.served import on_pages
from calcbook.paper.turns import entered, in_turn
from calcbook.paper.typed import entered as entered_as
from calcbook.paper.typed import typed_as
from calcbook.paper.views import (
    BesideView,
    Shown,
    StackedView,
    button,
    reason,
    show_widget,
    worked_out,
    wrong,
)

if TYPE_CHECKING:
    from matplotlib.figure import Figure as MplFigure

    from calcbook.job.file import Entry, Job


class Panel:
    """Fields of a job, and what follows from them.

    job: the Job to start from; chapter: the name of a chapter of the book, or a function of a Book that
    gives anything with ``_repr_html_`` and, if it has drawings, ``figures``; places: the fields, such
    as ``"slab.thickness"``, or ``"pads.*.dead"`` for that field of every pad, one pad shown at a
    time. ``show()`` displays it; ``set(place, value)`` does what typing does.
    """

    def __init__(
        self,
        job: Job,
        chapter: str | Callable[[Book], Any],
        places: Iterable[str],
        of: Live | None = None,
    ) -> None:
        self.live = of or live(job)
        self.chapter = chapter
        self.result = worked_out(self._worked, self.live.job)
        self.places = tuple(places)
        self.fields: dict[str, Any] = {}
        self.messages: dict[str, widgets.HTML] = {}
        self.sliders: dict[str, Slider] = {}
        self._box: widgets.VBox | None = None
        self._lay_out()
        self.status = widgets.HTML("")
        self.save_button = button("Save to job", self.save, "Write the changed fields to the job file")
        self.undo_button = button("Undo", self.undo, "Take the last change back")
        self._view: Any = None
        self._following = self._placing = False
        self.live.followers.append(self._follow)
        self._tell()

    def _lay_out(self) -> None:
        """A field for each place that the job has now, and pickers for its lists; what is there already stays."""
        self._listed, single = (
            names_of_entries(self.job, self.places),
            single_places(self.job, self.places),
        )
        self.pickers = pickers_of(self._listed)
        new = [place for place in single if place not in self.fields]
        for place in new:
            self.fields[place] = _field(self.job.field(place), self.job)
            self.messages[place] = widgets.HTML("")
            self.fields[place].observe(
                lambda change, p=place: self._typed(p, change["new"]), names="value"
            )
        for place in set(self.fields) - set(single):
            self.live.broken.pop(place, None)
        if on_pages():
            self.sliders |= self._played(new)
        for found in (self.fields, self.messages, self.sliders):
            kept = {place: found[place] for place in single if place in found}
            found.clear()
            found.update(kept)

    def _played(self, places: Iterable[str]) -> dict[str, Slider]:
        """A slider for each field that is played with, which moves with it."""
        found = {p: s for p in places if (s := slider_for(p, self.job))}
        for place, slider in found.items():
            slider.widget.observe(lambda _, p=place, s=slider: self._slid(p, s), names="value")
        return found

    def _slid(self, place: str, slider: Slider) -> None:
        if self._following or self._placing or not slider.moved:
            return  # the slider follows its field
        self._placing = True
        try:
            self.set(place, slider.written)
        finally:
            self._placing = False
            self.live.slid(place)

    def _place_slider(self, place: str) -> None:
        if place in self.sliders and not self._placing:
            self._placing = True
            try:
                self.sliders[place].put(self.job)
            finally:
                self._placing = False

    def _worked(self, job: Job) -> Any:
        """What the chapter makes of a job; only what depends on a change is worked out anew."""
        if on_pages() and self.chapter in LATE:
            return Late(str(self.chapter), job)
        return _result(self.live.book_of(job), self.chapter)

    @property
    def job(self) -> Job:
        """The job with the changes that are not saved."""
        return self.live.job

    @property
    def changes(self) -> dict[str, Any]:
        """Changes that are not saved, by place."""
        return self.live.changes

    # --- doing ---
    def set(self, place: str, value: Any) -> None:
        """Set a field as if it were typed."""
        self.fields[place].value = value

    def _typed(self, place: str, value: Any) -> None:
        if self._following:
            return  # the field follows the job, not the other way round
        sliding = self._placing and self.live.goes_on(place)
        try:
            value = entered_as(value, self.job, place)
            tried = self.live.tried(place, value)
            result = self._worked(tried)
        except (JobError, ValueError) as error:
            self.live.broken[place] = reason(error)
            self.messages[place].value = wrong(reason(error))
        else:
            self.live.broken.pop(place, None)
            self.result = result
            self._show_result()  # all else can wait for its picture
            self._following = True  # its own change is worked out already
            try:
                self.live.keep(place, value, sliding=sliding, tried=tried)
            finally:
                self._following = False
            self.messages[place].value = _said(self.job.field(place))
            self._place_slider(place)
        entered(self._placing)
        self._tell()

    def _follow(self) -> None:
        """Show the job as it is now, in turn: another panel, another page or the file changed it."""
        if self._following:
            return
        if self._view is not None:
            self._view.mark()
        self._tell()  # at once: what Save or Undo says after it must stay
        in_turn(self, self._catch_up, soon=True)

    def _catch_up(self) -> None:
        self._following, broken = True, dict(self.live.broken)
        try:
            if (
                names_of_entries(self.job, self.places) != self._listed
            ):  # an entry was added, removed or named anew
                self._lay_out()
                if self._box is not None:
                    self._box.children = self._children()
            for place, field in self.fields.items():
                if place not in self.live.broken:
                    self._bring_up(place, field)
        finally:
            self._following = False
        self.result = worked_out(self._worked, self.job)
        self._show_result(at_once=False)
        if self.live.broken != broken:  # a field that was wrong went with its entry
            self._tell()

    def _bring_up(self, place: str, field: Any) -> None:
        try:
            entry = self.job.field(place)
        except LookupError:
            self.messages[place].value = "no longer in the job file"
            return
        now = typed_as(entry, self.job) if isinstance(field, widgets.Text) else entry.value
        if field.value != now:
            field.value = now
            self.messages[place].value = _said(entry)
            self._place_slider(place)

    def save(self) -> None:
        """Write the changed fields to the job file."""
        if not self.changes and not self.live.broken:
            self.status.value = "Nothing has been changed."
            return
        before = self.job.raw
        try:
            saved = self.live.save()
        except JobError as error:
            self.status.value = wrong(reason(error))
            return
        self.status.value = (
            f"Saved to {escape(getattr(self.job.path, 'name', ''))}: {escape(', '.join(saved))}."
            + (
                " Other fields had been changed in the file meanwhile; they are kept."
                if self.job.raw != before
                else ""
            )
        )

    def undo(self) -> None:
        """Take the last change back; a field that is wrong goes back to the last good entry."""
        if self.live.broken:
            for place in list(self.live.broken):
                del self.live.broken[place]
                if place in self.messages:
                    self.messages[place].value = ""
            self._follow()
            return
        taken = self.live.undo()
        self.status.value = f"Taken back: {escape(taken)}." if taken else "There is nothing to undo."

    def _tell(self) -> None:
        if self.live.broken:
            self.status.value = wrong("The last good result is shown; mend the field marked above.")
        elif self.changes:
            names = ", ".join(self.changes)
            told = f"Changed here, not yet saved to the job file: {escape(names)}."
            crossed = "; ".join(
                f"{p} is now {'left out' if v is None else v}" for p, v in self.live.crossed.items()
            )
            self.status.value = told + (
                f" {wrong(f'Someone else has changed the file: {crossed}. Save to job writes yours over it.')}"
                if crossed
                else ""
            )
        else:
            self.status.value = self.live.news

    # --- showing ---
    def show(self) -> None:
        """Display fields, drawings and calculation; later changes update them in place."""
        if on_pages():
            BesideView(self).show()
        else:
            self.shown_by(StackedView(self))
            self._view.show()

    def shown_by(self, view: Any) -> None:
        """Keep a view up to date."""
        self._view = view

    def close(self) -> None:
        """Follow the job no more."""
        self.live.followers.remove(self._follow)
        for place, field in self.fields.items():
            self.live.broken.pop(place, None)
            field.unobserve_all()  # a word of the browser that comes late is of the list as it was
        for slider in self.sliders.values():
            slider.widget.unobserve_all()

    def _show_result(self, at_once: bool = True) -> None:
        if self._view is not None:
            self._view.update(at_once)

    @property
    def rows(self) -> dict[str, widgets.Box]:
        """Each field with its message, by place."""
        rows = {}
        for place, field in self.fields.items():
            slider = [self.sliders[place].widget] if place in self.sliders else []
            rows[place] = widgets.HBox([field, *slider, self.messages[place]])
            rows[place].add_class("cb-field")
        return rows

    @property
    def box(self) -> widgets.VBox:
        """The widgets of the panel, one above the other; entries of lists come and go with the job."""
        if self._box is None:
            self.doing = widgets.HBox([self.save_button, self.undo_button, self.status])
            self.doing.add_class("cb-do")
            self._box = widgets.VBox(self._children())
            self._box.add_class("cb-fields")
        return self._box

    def _children(self) -> list[widgets.Widget]:
        rows = self.rows
        for section, picker in self.pickers.items():
            picker.add_class("cb-picker")
            show_one(section, picker, rows)
        firsts = [r for p, r in rows.items() if p.split(".")[0] not in self.pickers]
        for section, picker in self.pickers.items():
            firsts += [picker, *(r for p, r in rows.items() if p.split(".")[0] == section)]
        return [*firsts, self.doing]

    def figures(self) -> list[tuple[str, MplFigure]]:
        """Title and drawing of each figure of the result."""
        return [(f.title, f.draw()) for f in getattr(self.result, "figures", [])]

    def written(self) -> str:
        """The fields as they stand in a saved notebook, where nothing is live."""
        entries = [self.job.field(place) for place in self.fields]
        rows = [(e.meaning, "not given" if e.value is None else e.written) for e in entries]
        return page(table(("field", "value"), rows, numeric=(1,)))


def _result(book: Book, chapter: str | Callable[[Book], Any]) -> Any:
    return book.calculation(chapter) if isinstance(chapter, str) else chapter(book)


def check_wiring(job: Job, chapter: str | Callable[[Book], Any], place: str, value: str | bool) -> None:
    """For the author of a notebook: a panel follows a changed field as the calculation does.

    The field is set to the value and back. Jobs without that field pass. Raises AssertionError.
    """
    if on_pages():
        return  # a test for the author, who runs the notebook
    panel = Panel(job, chapter, [place.replace(".0.", ".*.")])
    if place not in panel.fields:
        return
    for written in (value, panel.fields[place].value):
        panel.set(place, written)
        fresh = _result(Book(job.changed({place: None if written == "" else written})), chapter)
        if panel.result._repr_html_() != fresh._repr_html_():
            raise AssertionError(f"the panel does not follow {place} = {written!r}")


def _field(entry: Entry, job: Job) -> widgets.DOMWidget:
    """The widget for one field: a drop-down, a check box, or a line of text."""
    info = job.schema_of(entry.place)
    label = f"{entry.meaning[0].upper()}{entry.meaning[1:]}"
    common = {"description": label, "style": LABEL, "layout": widgets.Layout(width="36em")}
    meta = meta_of(info)
    if meta.get("choices"):
        empty = [("not given", None)] if entry.value is None else []
        options = [*empty, *((choice, choice) for choice in meta["choices"])]
        return widgets.Dropdown(options=options, value=entry.value, **common)
    if isinstance(entry.value, bool):
        return widgets.Checkbox(value=entry.value, **{**common, "layout": widgets.Layout(width="auto")})
    return widgets.Text(
        value=typed_as(entry, job), placeholder="not given", continuous_update=False, **common
    )


def _said(entry: Entry) -> str:
    """A field as it was understood, beside the field."""
    return f"<span style='color:#555'>{escape(entry.text)}{', assumed' if entry.assumed else ''}</span>"


__all__ = ["Panel", "Shown", "check_wiring", "picture", "show_figure", "show_widget"]
