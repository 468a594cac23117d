"""A wheel moved over the plan by two sliders, a line by four: map and section of the slab follow them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import ipywidgets as widgets
from IPython.display import display

from calcbook.basis.showing import show
from calcbook.basis.units import Q
from calcbook.paper.live import live
from calcbook.paper.pictures import display_figure, image, picture
from calcbook.paper.play import played_beside
from calcbook.paper.screen import page
from calcbook.paper.served import on_pages
from calcbook.paper.turns import in_turn
from calcbook.paper.views import WORKING, show_widget
from calcbook.plate.section import line_of

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from calcbook.job.file import Job
    from calcbook.plate.front import Prepared
    from calcbook.plate.result import PlateResult
    from calcbook.plate.worked import PlateJob

USUAL = (
    1800.0,
    36.0,
)  # lbf and in.2 of a wheel where the job names no vehicle (a light truck; common practice)
_FOOT = {"us": (1.0, "ft"), "si": (0.3048, "m")}


class WheelOnPlan:
    """One wheel of the job's vehicle on its slab, and a section through it. job: a Job, which a page follows.
    ``show()`` displays it; ``at(x, y)`` moves the wheel, in feet, and returns the plate's result."""

    def __init__(self, job: Job) -> None:
        self.live = live(job)
        self._of: Job | None = None
        self._ready: Prepared | None = None
        x0, y0, x1, y1 = job.plan.bounds
        self.sliders = [
            _slider(job, f"wheel along {axis}", low, high, low + (high - low) / 3)
            for axis, low, high in (("x", x0, x1), ("y", y0, y1))
        ]
        line, _ = line_of(job, x0, y0 + (y1 - y0) / 3)
        self.ends = [
            _slider(job, f"section, end {n} along {axis}", low, high, at)
            for n, end in enumerate(line, 1)
            for axis, low, high, at in (("x", x0, x1, end[0]), ("y", y0, y1, end[1]))
        ]
        self._found: tuple[Any, PlateResult] | None = None  # where the wheel was, and what it did
        self.told, self.drawing = widgets.HTML(""), widgets.HTML("")
        self.drawing.add_class("cb-figure")
        self._handles: list[Any] = []

    def at(self, x: float, y: float) -> PlateResult:
        """The plate with the wheel at x, y (ft) and the dead load. Raises PlateError."""
        from calcbook.plate.model import Case, PlateError, print_at
        from calcbook.plate.worst import looked_closer

        plate_job = self._prepare()
        assert self._ready is not None
        vehicle, plate = self.live.job.vehicle, plate_job.plate
        force, area = USUAL
        if vehicle.axle is not None:
            force = vehicle.axle.m_as("lbf") / vehicle.wheels.m_as("")
            area = force / vehicle.tire_pressure.m_as("psi")
        wheel = print_at(x, y, force, area, plate.thickness)
        slab = self.live.job.plan.slab
        if slab.intersection(wheel.shape).area < wheel.shape.area / 2:
            raise PlateError("wheel: it stands off the slab here; move it back.")
        steady = plate_job.steady
        case = Case("dead load and wheel", (*steady.loads, wheel), steady.own_weight)
        return looked_closer(self._ready.solve(case, self._steady), checked=False)

    def _prepare(self) -> PlateJob:
        """The plate of the job as it stands, meshed and factored once for all places of the wheel."""
        from calcbook.plate.chapter import plate_of_job
        from calcbook.plate.front import prepared
        from calcbook.plate.worked import element

        if self._of is not self.live.job:
            book = self.live.book_of(self.live.job)
            self._job = plate_of_job(book.job, book.path, book.joint_plan, book.slab)
            plate = self._job.plate
            self._ready = prepared(plate, self._job.steady.loads, step=element(plate), rough=True)
            self._steady = self._ready.solve(self._job.steady)
            self._of = self.live.job
        return self._job

    def show(self) -> None:
        """Display sliders and map; on a page the map also follows the job."""
        for slider in (*self.sliders, *self.ends):
            slider.observe(lambda _: self._moved(), names="value")
        sliders = [*self.sliders, *self.ends]
        if on_pages():
            self.live.followers.append(self._changed)
            display(played_beside([*sliders, self.told], [self.drawing]))
            self._changed()
            return
        self.told.value, figures = self._seen()
        show_widget(widgets.VBox([*sliders, self.told]), self.told.value)
        self._handles = [display_figure(figure, display_id=True) for figure in figures]

    def _changed(self) -> None:
        """The job is another one: what is shown is not of it until its turn comes."""
        self.told.value = WORKING
        self.drawing.add_class("cb-late")
        in_turn(self, self._moved)

    def _moved(self) -> None:
        self.told.value, figures = self._seen()
        if on_pages():
            words = "stress of the slab", "section of the slab"
            self.drawing.value = "".join(map(image, figures, words))
            self.drawing.remove_class("cb-late")
            return
        for handle, figure in zip(self._handles, figures, strict=False):
            handle.update(picture(figure), raw=True)

    def _seen(self) -> tuple[str, list[Figure]]:
        """What the wheel does where it stands, in words, as a map and along a line."""
        from calcbook.plate.figures import face_of
        from calcbook.plate.maps import plate_map
        from calcbook.plate.section import section_chart
        from calcbook.plate.worked import worst_stress

        system = self.live.job.system
        size, _ = _FOOT[system]
        where = tuple(slider.value / size for slider in self.sliders)
        a, b = (tuple(s.value / size for s in self.ends[n : n + 2]) for n in (0, 2))
        now = self.live.job, where
        try:
            if self._found is None or self._found[0] != now:
                self._found = now, self.at(*where)
        except ValueError as error:
            return page(f"<p>{error}</p>"), []
        result = self._found[1]
        most = worst_stress(result)
        words = (
            f"The slab goes down {show(Q(result.worst['deflection'].value, 'in'), 'in', system)} at most; its greatest "
            f"stress is {show(Q(most.value, 'psi'), 'psi', system)}, {most.what.removeprefix('stress ')}, {most.where}."
        )
        if a == b:
            return page(f"<p>{words} Both ends of the section are one place; move one of them.</p>"), [
                plate_map(result, face_of(most), system)
            ]
        return page(f"<p>{words}</p>"), [
            plate_map(result, face_of(most), system, section=(a, b)), section_chart(result, (a, b), system)
        ]  # fmt: skip


def _slider(job: Job, words: str, low: float, high: float, at: float) -> widgets.FloatSlider:
    """A slider from low to high, in feet; it stands on a step, as off it a browser would move it."""
    size, unit = _FOOT[job.system]
    at = low + round(2 * (at - low)) / 2
    return widgets.FloatSlider(
        description=f"{words}, {unit}", min=low * size, max=high * size, value=at * size, step=0.5 * size,
        readout_format=".1f", style={"description_width": "15em"}, layout=widgets.Layout(width="34em"),
    )  # fmt: skip
