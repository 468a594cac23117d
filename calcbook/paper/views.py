"""How results stand in a notebook and on a page: drawings, widgets, and a panel's two layouts."""

from __future__ import annotations

import base64
import functools
import io
import re
from collections.abc import Callable
from html import escape
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets
from IPython.display import HTML, display

from calcbook.job.files import JobError
from calcbook.paper.late import Late
from calcbook.paper.screen import answer_html, fold, folded_html, page
from calcbook.paper.served import on_pages
from calcbook.paper.turns import in_turn
from calcbook.plan.drawing import ACCENT

if TYPE_CHECKING:
    from matplotlib.figure import Figure as MplFigure

    from calcbook.job.file import Job


_OPEN = 2  # drawings that a page shows before anything is unfolded
FIRST, AFTER = ("answer", "picture"), ("second", "rest", "more")  # parts of a result, in their turns
WORKING = page("<p role='status'>Working it out …</p>")


class StackedView:
    """A panel in the lab: drawing, fields, calculation and further drawings, one above the other."""

    def __init__(self, panel: Any) -> None:
        self.panel = panel
        self._pictures: list[Any] = []
        self._calculation: Any = None

    def show(self) -> None:
        """Display all of it; the fields come early, to be on the screen with their results."""
        drawn = [figure for _, figure in self.panel.figures()]
        self._pictures = [display_figure(figure, display_id=True) for figure in drawn[:1]]
        show_widget(self.panel.box, self.panel.written())
        self._calculation = display(HTML(self.panel.result._repr_html_()), display_id=True)
        self._pictures += [display_figure(figure, display_id=True) for figure in drawn[1:]]

    def mark(self) -> None:
        """Nothing: what is shown is never behind the job."""

    def update(self) -> None:
        """Show the panel's result in place of the last one."""
        self._calculation.update(HTML(self.panel.result._repr_html_()))
        for handle, (_, figure) in zip(self._pictures, self.panel.figures(), strict=False):
            handle.update(picture(figure), raw=True, metadata=_sharp(figure))


class BesideView:
    """A panel on a page: fields left, and beside them the answer, the drawings, the steps folded."""

    def __init__(self, panel: Any) -> None:
        self.panel, self.results = panel, Results()

    def show(self) -> None:
        """Display fields and results side by side."""
        display(self.widget())

    def widget(self) -> widgets.HBox:
        """Fields and results side by side, which follow from now on."""
        self.panel.shown_by(self)
        self.update()
        if isinstance(self.panel.result, Late):
            self.panel.result.follow(self.update)
        both = widgets.HBox([self.panel.box, self.results.box])
        both.add_class("cb-panel")
        return both

    def mark(self) -> None:
        """Mark all of it as not current."""
        self.results.mark()

    def update(self) -> None:
        """Show the panel's result in place of the last one."""
        self.results.put(self.panel.result)


class Results:
    """Where a page shows a result: answer and first picture at once, the rest in its turn.

    What is not current is marked so until it is.
    """

    def __init__(self) -> None:
        self.told = widgets.HTML("")
        self.parts = {name: widgets.HTML("") for name in (*FIRST, *AFTER)}
        for name in ("picture", "second", "more"):
            self.parts[name].add_class("cb-figure")
        self.after = widgets.VBox([self.parts[name] for name in ("second", "more", "rest")])
        self.shown = widgets.VBox([*(self.parts[name] for name in FIRST), self.after])
        self.box = widgets.VBox([self.told, self.shown])
        self.box.add_class("cb-results")
        self._of: Any = None  # the result that is shown

    def mark(self) -> None:
        """Mark all of it as not current."""
        self.shown.add_class("cb-late")

    def put(self, result: Any) -> None:
        """Show a Calculation, a Refusal, or a Late part, which may still be on its way."""
        made = _late_parts(result) if isinstance(result, Late) else parts_of(result)
        self.told.value = WORKING if made is None else ""
        if made is None:
            self.mark()
            return
        self.shown.remove_class("cb-late")
        if result is self._of:
            return
        self.after.add_class("cb-late")
        try:
            for name in FIRST:
                self._set(name, made)
        except Exception:
            self.mark()  # what stands there is of before
            raise
        self._of = result
        one_by_one = (name for name in made if name not in self.parts)
        for name in (*AFTER[:-1], *one_by_one, AFTER[-1]):
            in_turn((self, name), functools.partial(self._set, name, made))

    def _set(self, name: str, made: dict[str, Callable[[], str]]) -> None:
        html = made[name]() if name in made else ""
        if name in self.parts:
            self.parts[name].value = html
        if name == AFTER[-1]:
            self.after.remove_class("cb-late")


def _late_parts(late: Late) -> dict[str, Callable[[], str]] | None:
    found = late.now()
    return (
        None if found is None else {name: functools.partial(str, html) for name, html in found.items()}
    )


def parts_of(result: Any) -> dict[str, Callable[[], str]]:
    """A result as a page shows it, each part made when it is called: the answer, the first drawing, the second, the
    rest folded, and more drawings, folded too. Of these each is a part of its own, as together they take long."""
    if hasattr(result, "parts"):
        return result.parts()
    told = "; ".join(f"{r.label} {r.step.result_text}" for r in result.shown_results[:6])

    @functools.cache
    def drawn(n: int) -> str:
        figure = result.figures[n] if n < len(result.figures) else None
        return image(figure.draw(), f"{figure.title}. {told}.") if figure else ""

    folded = range(_OPEN, len(result.figures))
    words = f"More drawings ({len(folded)})"
    return {
        "answer": lambda: answer_html(result),
        "picture": lambda: drawn(0),
        "second": lambda: drawn(1),
        "rest": lambda: folded_html(result),
        **{f"drawing {n + 1}": functools.partial(drawn, n) for n in folded},
        "more": lambda: page(fold("drawings", words, "".join(map(drawn, folded)))),
    }


def pieces(result: Any) -> dict[str, str]:
    """All parts of a result that a page has a place for, made."""
    made = parts_of(result)
    return {name: made[name]() for name in (*FIRST, *AFTER) if name in made}


class Refusal:
    """What is shown in place of a calculation that the job does not allow."""

    def __init__(self, words: str) -> None:
        self.words = words

    def _repr_html_(self) -> str:
        return page(f"<p>{wrong(f'Not worked out: {self.words}')}</p>")

    def parts(self) -> dict[str, Callable[[], str]]:
        """The same as a page shows a result."""
        return {"answer": self._repr_html_}


def worked_out(calculate: Callable[[Job], Any], job: Job) -> Any:
    """What a function makes of a job; on a page, where it cannot, a Refusal that says why.

    Every panel and every part of a page that follows the job comes through here.
    """
    try:
        return calculate(job)
    except (JobError, ValueError) as error:
        if not on_pages():
            raise
        return Refusal(reason(error))


def reason(error: Exception) -> str:
    """The message without the file, line and field that stand beside it anyway."""
    first = str(error).splitlines()[0]
    return re.sub(
        r"^(job|[^:]*\.toml)(, line \d+)?: (\[+[\w.]+\]+( number \d+)?( \w+)?:? )?", "", first
    )


def wrong(text: str) -> str:
    """A complaint, marked as one."""
    return f"<span style='color:{ACCENT}' role='alert'>✗ {escape(text)}</span>"


def show_widget(box: widgets.DOMWidget, written: str) -> None:
    """Display a widget; a saved notebook keeps ``written``, HTML of ``screen.py``, in its place."""
    bundle = {**box._repr_mimebundle_(), "text/html": written, "text/plain": "fields"}
    display(bundle, raw=True)


def picture(figure: MplFigure) -> dict[str, str]:
    """A drawing as data to display, the same to the byte whenever it is drawn."""
    buffer = io.BytesIO()
    figure.savefig(buffer, format="png", dpi=144, metadata={"Software": None})
    return {"image/png": base64.b64encode(buffer.getvalue()).decode(), "text/plain": "drawing"}


def image(figure: MplFigure, words: str) -> str:
    """A drawing as an element of a page, sharp at any size; words: what it shows, for who cannot see it."""
    buffer = io.BytesIO()
    figure.savefig(buffer, format="svg", metadata={"Date": None})
    data = base64.b64encode(buffer.getvalue()).decode()
    width = int(figure.get_size_inches()[0] * 96)
    return f'<img width="{width}" alt="{escape(words)}" src="data:image/svg+xml;base64,{data}">'


def _sharp(figure: MplFigure) -> dict[str, Any]:
    return {"image/png": {"width": int(figure.get_size_inches()[0] * 96)}}


def display_figure(figure: MplFigure, **options: Any) -> Any:
    """Display a drawing; options: as for ``display``."""
    return display(picture(figure), raw=True, metadata=_sharp(figure), **options)


def show_figure(figure: MplFigure) -> None:
    """Display a drawing at its own size."""
    if on_pages():
        display(HTML(image(figure, _title(figure))))
    else:
        display_figure(figure)


def _title(figure: MplFigure) -> str:
    return next(
        (
            axes.get_title(loc)
            for axes in figure.axes
            for loc in ("left", "center")
            if axes.get_title(loc)
        ),
        "drawing",
    )


class Shown:
    """Finished HTML of ``screen.py``, to be the value of a cell."""

    def __init__(self, html: str) -> None:
        self.html = html

    def __repr__(self) -> str:
        return "<shown>"

    def _repr_html_(self) -> str:
        return self.html
