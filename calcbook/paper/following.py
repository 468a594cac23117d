"""Parts of a page that follow the job without fields of their own."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets
from IPython.display import HTML, display

from calcbook.basis.calculation import Calculation
from calcbook.paper.late import Late
from calcbook.paper.live import Live, live
from calcbook.paper.pictures import display_figure, image
from calcbook.paper.screen import answer_html, fold, folded_html, page
from calcbook.paper.served import on_pages
from calcbook.paper.turns import in_turn
from calcbook.paper.views import Results, worked_out

if TYPE_CHECKING:
    from calcbook.job.file import Job

LATE = 0.3  # seconds that a late part waits for a further change


def follow(job: Job, show: Callable[[Job], Any], late: bool = False) -> None:
    """Display what ``show`` makes of a job: a drawing, finished HTML or a Calculation.

    On a page it follows every change; ``late`` is for what takes more than a moment: it is worked out
    when all else is shown, and is marked as not current until then.
    """
    if on_pages():
        Following(live(job), show, late).show()
        return
    found = show(job)
    if hasattr(found, "savefig"):
        display_figure(found)
    else:
        display(HTML(found if isinstance(found, str) else found._repr_html_()))


def follow_beside(job: Job, name: str, show: Callable[[Job], str]) -> None:
    """Display a part of a page that the process beside the pages works out, by its name; in the lab what
    ``show`` makes of the job."""
    if not on_pages():
        display(HTML(show(job)))
        return
    of, results = live(job), Results()

    def now() -> None:
        results.put(Late(name, of.job))

    of.followers.append(now)
    Late(name, of.job).follow(now)
    now()
    display(results.box)


class Following:
    """A part of a page that follows the job without fields of its own."""

    def __init__(self, live: Live, make: Callable[[Job], Any], late: bool) -> None:
        self.live, self.make, self.late = live, make, late
        self.place = widgets.HTML(page("<p>Being worked out …</p>") if late else "")
        self.place.add_class("cb-figure")
        self._waiting: Any = None
        self._shown: Any = None  # what the place holds

    def show(self) -> None:
        """Display it and begin to follow."""
        display(self.place)
        self.live.followers.append(self._changed)
        if self.late:
            self._changed()
        else:
            self._now()

    def _changed(self) -> None:
        self.place.add_class("cb-late")
        if self._waiting is not None:
            self._waiting.cancel()
        in_turn(self, self._begin if self.late else self._now)

    def _begin(self) -> None:
        loop = asyncio.get_event_loop()
        self._waiting = loop.call_later(LATE, in_turn, self, self._now)

    def _now(self) -> None:
        found = worked_out(self.make, self.live.job)
        if found is not self._shown:
            self._put(found)
            self._shown = found
        self.place.remove_class("cb-late")

    def _put(self, found: Any) -> None:
        if hasattr(found, "savefig"):
            found = image(found, self.live.job.job.name or "drawing")
        elif isinstance(found, Calculation):
            drawn = "".join(image(f.draw(), f.title) for f in found.figures)
            found = answer_html(found) + fold("drawings", "Drawings", drawn) + folded_html(found)
        self.place.value = found if isinstance(found, str) else found._repr_html_()
