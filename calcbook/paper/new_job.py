"""A new job by questions on a page: the same questions as in the terminal, each with its usual answer and why."""

from __future__ import annotations

from collections.abc import Callable
from html import escape
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from calcbook.basis.showing import show, show_length
from calcbook.basis.units import Q
from calcbook.job.file import Job, JobError
from calcbook.job.files import write_whole
from calcbook.job.own import own_path, read_own
from calcbook.job.questions import OUTLINE, QUESTIONS, Question, edge_depth
from calcbook.job.starting import job_text, outline_fields, raw_of
from calcbook.paper.pictures import image
from calcbook.paper.views import wrong
from calcbook.plan.taping_drawing import taping_drawing
from calcbook.plan.walk import (
    Leg,
    WalkError,
    corners,
    gap,
    l_walk,
    read_length,
    read_walk,
    rectangle_walk,
)

SHAPES = {  # shape -> what is typed for it, in US and in SI units
    "rectangle": ("24 ft, 30 ft", "7.2 m, 9 m"),
    "L": ("40 ft, 28 ft, 12 ft, 10 ft", "12 m, 8.4 m, 3.6 m, 3 m"),
    "walk": (
        "right 24 ft, up 30 ft, left 24 ft, down 30 ft",
        "right 7.2 m, up 9 m, left 7.2 m, down 9 m",
    ),
}
_HOW = (
    "Rectangle: length to the right, width up. L: the whole length and width, then length and width of the notch "
    "at the far right corner. Walk: each side by its way and length, back to the start."
)


_AS_WIDE, _LAYOUT = {"description_width": "auto"}, {"width": "36em", "max_width": "100%"}


class NewJob:
    """Questions as fields; its button writes the job file and calls ``written`` with its path."""

    def __init__(
        self,
        folder: str | Path,
        written: Callable[[Path], None] | None = None,
        then: Callable[[Path], str] = lambda _: "",
    ) -> None:
        """folder: where the job file goes; written: called with its path; then: what to do next with it, as HTML."""
        self.folder, self.written, self.then = Path(folder), written, then
        self.own = read_own(own_path()) if own_path().is_file() else None
        self.fields = {q.place: _field(q.words, q.usual("us")) for q in QUESTIONS if q.place != OUTLINE}
        self.shape = widgets.Dropdown(
            options=list(SHAPES), description=_question(OUTLINE).words, style=_AS_WIDE, layout=_LAYOUT
        )
        self.sizes = _field("Its sizes, or the walk", SHAPES["rectangle"][0])
        self.message, self.drawing = widgets.HTML(""), widgets.HTML("")
        self.drawing.add_class("cb-figure")
        self.button = widgets.Button(description="Write the job file", button_style="primary")
        self.button.on_click(lambda _: self.write())
        self.shape.observe(lambda _: self._usual(), names="value")
        self.fields["job.units"].observe(lambda _: self._usual(), names="value")
        self.fields["slab.thickness"].observe(lambda _: self._usual(), names="value")
        for field in (self.sizes, self.shape, self.fields["job.units"]):
            field.observe(lambda _: self._draw(), names="value")
        self._usual()
        self._draw()

    @property
    def system(self) -> str:
        """The units that are asked for; US until something else can be read."""
        try:
            return (
                _question("job.units").read(self.fields["job.units"].value.strip() or "us", "us")
                or "us"
            )
        except ValueError:
            return "us"

    def _usual(self) -> None:
        """The usual answers, in gray, in the units of the job."""
        for question in QUESTIONS:
            if question.place not in (OUTLINE, "edge.depth"):
                kept = self._kept(question)
                self.fields[question.place].placeholder = (
                    question.usual(self.system) if kept is None else f"{kept}, by your own file"
                )
        self.sizes.placeholder = SHAPES[self.shape.value][self.system == "si"]
        try:
            thick = _question("slab.thickness").read(
                self.fields["slab.thickness"].value.strip()
                or _question("slab.thickness").usual(self.system),
                self.system,
            )
            self.fields["edge.depth"].placeholder = edge_depth({"slab.thickness": thick}, self.system)
        except ValueError:
            self.fields["edge.depth"].placeholder = ""

    def _kept(self, question: Question) -> Any:
        """What the builder's own file says, which an empty field follows; None without it."""
        section, _, key = question.place.partition(".")
        return self.own.values.get(section, {}).get(key) if self.own else None

    def _answers(self) -> dict[str, Any]:
        """What every field says, an empty one its usual answer. Raises ValueError in words."""
        answers: dict[str, Any] = {}
        for question in QUESTIONS:
            if question.place == OUTLINE:
                answers |= self._outline()
                continue
            field = self.fields[question.place]
            answer = field.value.strip() or (
                "" if self._kept(question) is not None else field.placeholder
            )
            try:
                answers[question.place] = question.read(answer, self.system) if answer else None
            except ValueError as error:
                raise ValueError(f"{question.words} {error}") from None
        return answers

    def _outline(self) -> dict[str, Any]:
        points = corners(self._legs(self.sizes.value.strip() or self.sizes.placeholder))
        return outline_fields(points, self.shape.value, self.system)

    def _legs(self, text: str) -> list[Leg]:
        if self.shape.value == "walk":
            legs = read_walk(text, self.system)
            x, y = gap(legs)
            if x or y:
                there = " and ".join(show_length(Q(abs(v), "ft"), self.system) for v in (x, y) if v)
                raise WalkError(
                    f"the walk does not close: its end lies {there} from the start; mend or add a side"
                )
            return legs
        sizes = [read_length(part.strip(), self.system) for part in text.split(",")]
        if len(sizes) != (2 if self.shape.value == "rectangle" else 4):
            raise WalkError(_HOW)
        return (rectangle_walk if len(sizes) == 2 else l_walk)(*sizes)

    def _draw(self) -> None:
        """The outline as it is typed, with its area and sides; or what is wrong with it."""
        try:
            plan = Job(raw_of(self._outline() | {"job.units": self.system}, False)).plan
        except (ValueError, JobError, WalkError) as error:
            self.drawing.value = wrong(str(error))
            return
        self.drawing.value = (
            f"<p>Area {show(plan.area, 'ft2', self.system)}, perimeter {show_length(plan.perimeter, self.system)}.</p>"
            + image(
                taping_drawing(plan, self.system, "Outline", 4.5, 3.5, lambda _: None),
                "the outline as it is typed",
            )
        )

    def write(self) -> None:
        """Write the job file, or say which answer cannot be used."""
        try:
            answers = self._answers()
            stem = "".join(
                c if c.isalnum() or c in "-_ " else "" for c in answers["job.name"] or ""
            ).strip()
            path = self.folder / f"{stem or 'my slab'}.toml"
            if path.exists():
                raise JobError(f"{path.name} is already there; give the job another name")
            job = Job(raw_of(answers, self.own is not None), path)
            plan = job.plan
            write_whole(path, job_text(job.raw))
        except (ValueError, JobError, WalkError) as error:
            self.message.value = wrong(str(error))
            return
        if self.written:
            self.written(path)
        self.message.value = (
            f"{escape(path.name)} is written: area {show(plan.area, 'ft2', job.system)}, "
            f"perimeter {show_length(plan.perimeter, job.system)}. {self.then(path)}"
        )

    def box(self) -> widgets.VBox:
        """The questions, each with why it is asked, and the button."""
        rows: list[widgets.Widget] = []
        for question in QUESTIONS:
            asked = question.place == OUTLINE
            why = widgets.HTML(
                f"<details><summary>Why</summary>{escape(f'{question.why} {_HOW}' if asked else question.why)}</details>"
            )
            own = [self.shape, self.sizes] if asked else [self.fields[question.place]]
            row = widgets.VBox([*own, why, *([self.drawing] if asked else [])])
            row.add_class("cb-field")
            rows.append(row)
        return widgets.VBox([*rows, self.button, self.message])


def _question(place: str) -> Question:
    return next(q for q in QUESTIONS if q.place == place)


def _field(words: str, usual: str) -> widgets.Text:
    return widgets.Text(
        description=words, placeholder=usual, continuous_update=False, style=_AS_WIDE, layout=_LAYOUT
    )
