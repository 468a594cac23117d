"""An outline made by walking round the slab, typed side by side and drawn at every change."""

from __future__ import annotations

import math
from html import escape
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets
from IPython.display import display

from calcbook.basis.showing import show_length
from calcbook.basis.units import Q
from calcbook.job.files import JobError
from calcbook.paper.live import live
from calcbook.paper.pictures import image
from calcbook.paper.screen import page
from calcbook.paper.served import on_pages
from calcbook.paper.views import reason, show_widget, wrong
from calcbook.plan.slab_drawing import plan_drawing
from calcbook.plan.walk import Corner, WalkError, corners, gap, leg_text, read_walk, sides

if TYPE_CHECKING:
    from calcbook.job.file import Job

_EXAMPLE = "right 24 ft, up 30 ft, left 24 ft, down 30 ft"


class Walk:
    """A field with the walk round the slab of a job, and the plan as it would be. ``show()`` displays it."""

    def __init__(self, job: Job) -> None:
        self.live = live(job)
        self.typed = widgets.Textarea(
            value=walk_of(self.live.job),
            description="Walk round the slab, side by side",
            placeholder=_EXAMPLE,
            rows=4,
            layout=widgets.Layout(width="100%", max_width="44em"),
            style={"description_width": "auto"},
        )
        self.use_button = widgets.Button(description="Use this outline", disabled=True)
        self.use_button.on_click(lambda _: self.use())
        self.told, self.drawing = widgets.HTML(""), widgets.HTML("")
        self.drawing.add_class("cb-figure")
        self._slab: dict[str, Any] | None = None
        self.typed.observe(lambda _: self._walked(), names="value")
        self.live.followers.append(self._follow)

    def _walked(self) -> None:
        """Try what is typed: draw the plan as it would be, or say what is missing."""
        self._slab, self.drawing.value = None, ""
        try:
            found = _closed(self.typed.value, self.live.job)
            slab = {**_slab_without_shape(self.live.job), "points": _points(found, self.live.job)}
            job = self.live.tried_whole("slab", slab)
            self.drawing.value = image(plan_drawing(job.plan, job.system), "the plan as it was walked")
            self.told.value = (
                f"It closes: {len(found)} sides, {escape(', '.join(sides(found, job.system)))}."
            )
            self._slab = slab
        except (WalkError, JobError, ValueError) as error:
            self.told.value = wrong(reason(error))
        self.use_button.disabled = self._slab is None

    def use(self) -> None:
        """Take the outline into the job; it is written when the job is saved."""
        if self._slab is not None:
            self.live.keep("slab", self._slab)
            self._slab, self.use_button.disabled, self.drawing.value = None, True, ""
            self.told.value = "The slab has this outline now; Save to job on any page writes it."

    def _follow(self) -> None:
        if self._slab is None and not self.told.value.startswith("<span"):
            now, said = walk_of(self.live.job), self.told.value
            if self.typed.value != now:
                self.typed.value = now
                self._slab, self.use_button.disabled, self.drawing.value = None, True, ""
                self.told.value = said

    def show(self) -> None:
        """Display it."""
        box = widgets.VBox([self.typed, self.told, self.use_button, self.drawing])
        box.add_class("cb-walk")
        if on_pages():
            display(box)
        else:
            show_widget(box, page(f"<p>{escape(self.typed.value)}</p>"))


def walk_of(job: Job) -> str:
    """The walk round a job's slab, in words that can be typed again."""
    found = list(job.plan.outline.exterior.coords)[:-1]
    return ", ".join(side.split(", ")[0] for side in sides(found, job.system))


def _closed(text: str, job: Job) -> list[Corner]:
    """The corners of a walk that comes back to its start. Raises WalkError."""
    legs = read_walk(text, job.system)
    if len(legs) < 2:
        raise WalkError(f"walk round the slab side by side, such as {_EXAMPLE}")
    x, y = gap(legs)
    # the last side need not be walked, where it runs straight back
    if math.hypot(x, y) > 0 and (x == 0 or y == 0) and len(legs) > 2:
        legs, (x, y) = [*legs, (-x, -y)], (0.0, 0.0)
    if math.hypot(x, y) > 0:
        raise WalkError(
            f"the walk ends {show_length(Q(math.hypot(x, y), 'ft'), job.system)} from its start: "
            f"go on with {leg_text((-x, -y), job.system)}, or mend a side"
        )
    return corners(legs)


def _slab_without_shape(job: Job) -> dict[str, Any]:
    return {k: v for k, v in job.raw["slab"].items() if k not in ("length", "width", "points")}


def _points(found: list[Corner], job: Job) -> list[list[str]]:
    """Corners as a job file writes them, from the place of the slab's first corner."""
    x0, y0 = job.plan.outline.exterior.coords[0]
    return [
        [show_length(Q(x + x0, "ft"), job.system), show_length(Q(y + y0, "ft"), job.system)]
        for x, y in found
    ]
