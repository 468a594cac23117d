"""How results stand in a notebook and on a page: drawings, widgets, and a panel's two layouts."""

from __future__ import annotations

import functools
import re
from collections.abc import Callable
from html import escape
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets
from IPython.display import HTML, display

from calcbook.job.files import JobError
from calcbook.paper.drawings import Drawings
from calcbook.paper.late import Late
from calcbook.paper.pictures import display_figure, picture, sharp
from calcbook.paper.screen import answer_html, fold, folded_html, page
from calcbook.paper.served import on_pages
from calcbook.paper.turns import in_turn
from calcbook.plan.drawing import ACCENT

if TYPE_CHECKING:
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

    def update(self, at_once: bool = True) -> None:
        """Show the panel's result in place of the last one; here always at once."""
        self._calculation.update(HTML(self.panel.result._repr_html_()))
        for handle, (_, figure) in zip(self._pictures, self.panel.figures(), strict=False):
            handle.update(picture(figure), raw=True, metadata=sharp(figure))


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

    def update(self, at_once: bool = True) -> None:
        """Show the panel's result in place of the last one; at_once: as for ``Results.put``."""
        self.results.put(self.panel.result, at_once)


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
        self._drawings = Drawings()
        self._of: Any = None  # the result that is shown, or that is on its way
        self._steps: list[Callable[[], None]] = []  # that it still has to go
        self._folded = 0  # how many of them come after what is in sight

    def mark(self) -> None:
        """Mark all of it as not current; what was on its way is outdated."""
        self.shown.add_class("cb-late")
        if self._steps:
            self._steps, self._of = [], None

    def put(self, result: Any, at_once: bool = True) -> None:
        """Show a Calculation, a Refusal, or a Late part, which may still be on its way.

        at_once: answer and first picture come now; else in their turns, too.
        """
        late = isinstance(result, Late)
        made = _late_parts(result) if late else parts_of(result, self._drawings)
        self.told.value = WORKING if made is None else ""
        if made is None:
            self.mark()
        elif result is not self._of:
            self._begin(made, at_once)
            self._of = result
        elif not self._steps:
            self.shown.remove_class("cb-late")

    def _begin(self, made: dict[str, Callable[[], str]], at_once: bool) -> None:
        names = dict.fromkeys((*FIRST, *made, *AFTER))
        self._steps = [functools.partial(self._set, name, made) for name in names]
        self._folded = len(names) - len(FIRST)
        for _ in FIRST if at_once else ():
            self._step()
        self._wait()

    def _wait(self) -> None:
        """For a turn in which the next step is gone; answer and first picture are in sight."""
        if self._steps:
            in_turn(self, self._turn, soon=len(self._steps) > self._folded)

    def _turn(self) -> None:
        if self._steps:
            self._step()
        while len(self._steps) > self._folded:  # what is in sight comes together
            self._step()
        self._wait()

    def _step(self) -> None:
        try:
            self._steps.pop(0)()
        except Exception:
            self._of = None
            self.mark()  # what stands there is of before
            raise

    def _set(self, name: str, made: dict[str, Callable[[], str]]) -> None:
        html = made[name]() if name in made else ""
        if name in self.parts:
            self.parts[name].value = html
        if name == FIRST[-1]:
            self.after.add_class("cb-late")
            self.shown.remove_class("cb-late")
        if name == AFTER[-1]:
            self.after.remove_class("cb-late")


def _late_parts(late: Late) -> dict[str, Callable[[], str]] | None:
    found = late.now()
    return (
        None if found is None else {name: functools.partial(str, html) for name, html in found.items()}
    )


def parts_of(result: Any, drawings: Drawings | None = None) -> dict[str, Callable[[], str]]:
    """A result as a page shows it, each part made when it is called, in this order: the answer, the first drawing, the
    second, the rest folded, and more drawings, folded too. What takes long is made in parts of its own before.

    drawings: those that the page shows now; one that is still the same is taken from there.
    """
    if hasattr(result, "parts"):
        return result.parts()
    told = "; ".join(f"{r.label} {r.step.result_text}" for r in result.shown_results[:6])
    figures, known = dict(enumerate(result.figures)), drawings or Drawings()

    def shown(n: int) -> str:
        return known.shown(n, figures[n], f"{figures[n].title}. {told}.") if n in figures else ""

    def begun(n: int) -> str:
        known.begin(n, figures[n])
        return ""

    folded = list(figures)[_OPEN:]
    words = f"More drawings ({len(folded)})"
    aside: dict[str, Callable[[], str]] = {}
    for n in folded:
        aside |= {
            f"lines {n + 1}": functools.partial(begun, n),
            f"drawing {n + 1}": functools.partial(shown, n),
        }
    return {
        "answer": lambda: answer_html(result),
        "picture": lambda: shown(0),
        **({"lines 2": lambda: begun(1)} if 1 in figures else {}),
        "second": lambda: shown(1),
        "rest": lambda: folded_html(result),
        **aside,
        "more": lambda: page(fold("drawings", words, "".join(map(shown, folded)))),
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


def button(words: str, do: Callable[[], None], tip: str | None = None) -> widgets.Button:
    """A button that does something when it is pressed; tip: told while the pointer rests on it."""
    made = widgets.Button(description=words, tooltip=tip)
    made.on_click(lambda _: do())
    return made


def show_widget(box: widgets.DOMWidget, written: str) -> None:
    """Display a widget; a saved notebook keeps ``written``, HTML of ``screen.py``, in its place."""
    bundle = {**box._repr_mimebundle_(), "text/html": written, "text/plain": "fields"}
    display(bundle, raw=True)


class Shown:
    """Finished HTML of ``screen.py``, to be the value of a cell."""

    def __init__(self, html: str) -> None:
        self.html = html

    def __repr__(self) -> str:
        return "<shown>"

    def _repr_html_(self) -> str:
        return self.html
