"""The numbers of a page that are played with: each has a slider beside its field, over a usual range.

The field takes whatever the job file takes; a slider only goes as far as a builder would try.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from calcbook.basis.reading import read
from calcbook.basis.units import number_in
from calcbook.job.fields import meta_of

if TYPE_CHECKING:
    from calcbook.job.file import Job

_Range = tuple[str, float, float, float]  # unit as typed, lowest, highest, step

_THICK: tuple[_Range, _Range] = ("in", 3.5, 12, 0.5), ("mm", 90, 300, 10)
_DEEP: tuple[_Range, _Range] = ("in", 4, 48, 1), ("mm", 100, 1200, 25)
_POUND: tuple[_Range, _Range] = ("lbf", 0, 40_000, 500), ("kN", 0, 180, 2)
_LINE: tuple[_Range, _Range] = ("plf", 0, 3000, 50), ("kN/m", 0, 45, 1)
_SHARE: tuple[_Range, _Range] = ("%", 0, 30, 1), ("%", 0, 30, 1)
_WARM: tuple[_Range, _Range] = ("degF", 40, 95, 1), ("degC", 4, 35, 1)

# field, with * for any entry of a list: its range in a US job and in a metric one
RANGES: dict[str, tuple[_Range, _Range]] = {
    "slab.thickness": _THICK,
    "slab.above_grade": (("in", 0, 24, 1), ("mm", 0, 600, 25)),
    "edge.depth": (("in", 0, 36, 1), ("mm", 0, 900, 25)),
    "edge.width": (("in", 6, 36, 1), ("mm", 150, 900, 25)),
    "concrete.strength": (("psi", 2500, 6000, 250), ("MPa", 18, 40, 1)),
    "concrete.waste": _SHARE,
    "concrete.slump": (("in", 1, 9, 0.5), ("mm", 30, 225, 5)),
    "soil.k": (("pci", 25, 400, 5), ("MPa/m", 7, 110, 1)),
    "soil.frost_depth": (("in", 0, 72, 1), ("mm", 0, 1800, 25)),
    "vehicle.axle": (("lbf", 500, 20_000, 100), ("kN", 2, 90, 0.5)),
    "vehicle.tire_pressure": (("psi", 20, 120, 5), ("kPa", 140, 830, 10)),
    "vehicle.margin": (("", 1, 3, 0.1), ("", 1, 3, 0.1)),
    "vehicle.transfer": (("%", 0, 25, 1), ("%", 0, 25, 1)),
    "posts.*.load": _POUND,
    "pads.*.dead": _POUND,
    "pads.*.live": _POUND,
    "pads.*.roof": _POUND,
    "pads.*.uplift": _POUND,
    "pads.*.length": (("in", 12, 96, 1), ("mm", 300, 2400, 25)),
    "pads.*.width": (("in", 12, 96, 1), ("mm", 300, 2400, 25)),
    "pads.*.depth": _DEEP,
    "walls.*.dead": _LINE,
    "walls.*.live": _LINE,
    "walls.*.roof": _LINE,
    "joints.spacing": (("ft", 4, 24, 0.5), ("m", 1.3, 7.5, 0.1)),
    "joints.aspect": (("", 1, 2, 0.05), ("", 1, 2, 0.05)),
    "reinforcement.bar_spacing": (("in", 6, 36, 1), ("mm", 150, 900, 25)),
    "reinforcement.macro_dosage": (("lb/yd3", 1, 12, 0.5), ("kg/m3", 1, 7, 0.25)),
    "base.thickness": (("in", 0, 18, 1), ("mm", 0, 450, 25)),
    "base.extra_depth": (("in", 0, 2, 0.05), ("mm", 0, 50, 1)),
    "retarder.lap": (("in", 6, 24, 1), ("mm", 150, 600, 25)),
    "bolts.embedment": (("in", 4, 20, 0.5), ("mm", 100, 500, 10)),
    "pour.concrete_temperature": _WARM,
    "pour.soil_temperature": (("degF", 25, 90, 1), ("degC", -4, 32, 1)),
    "pour.truck_spacing": (("min", 10, 120, 5), ("min", 10, 120, 5)),
    "pour.haul": (("min", 5, 90, 5), ("min", 5, 90, 5)),
    "prices.overhead": _SHARE,
    "prices.margin": _SHARE,
    "risk.confidence": (("%", 50, 99, 1), ("%", 50, 99, 1)),
}


def played_beside(played: list[widgets.Widget], seen: list[widgets.Widget]) -> widgets.HBox:
    """Sliders of a page left, and beside them, in view while they are dragged, what they move."""
    left, right = widgets.VBox(played), widgets.VBox(seen)
    left.add_class("cb-fields")
    right.add_class("cb-results")
    both = widgets.HBox([left, right])
    for name in ("cb-panel", "cb-play"):
        both.add_class(name)
    return both


def slider_for(place: str, job: Job) -> Slider | None:
    """The slider of a field; None for one that is not played with."""
    found = RANGES.get(re.sub(r"\.\d+\.", ".*.", place))
    return None if found is None else Slider(place, job, *found[job.system == "si"])


class Slider:
    """A slider over a range: ``widget`` shows it, ``put`` sets it to a field, ``written`` is its value as typed."""

    def __init__(self, place: str, job: Job, name: str, low: float, high: float, step: float) -> None:
        self.place, self.name, self.low, self.high, self.step = place, name, low, high, step
        self._unit = meta_of(job.schema_of(place))["unit"]
        self._zero, one = (number_in(read(f"{n} {name}", self._unit), self._unit) for n in (0, 1))
        self._size = one - self._zero
        self.widget = widgets.FloatSlider(
            min=low,
            max=high,
            step=step,
            readout=False,
            description=f"{job.field(place).meaning}, slide",
            layout=widgets.Layout(width="100%"),
        )
        self.widget.add_class("cb-slide")
        self._at = low
        self.put(job)

    def put(self, job: Job) -> None:
        """Stand on the step next to the field: hidden where nothing is given, at an end where it lies beyond.

        Off a step a browser would set it onto one and tell so, perhaps when the field is another again.
        """
        value: Any = job.field(self.place).value
        self.widget.layout.display = "none" if value is None else None
        if value is not None:
            number = (number_in(value, self._unit) - self._zero) / self._size
            steps = round((min(max(number, self.low), self.high) - self.low) / self.step)
            self._at = self.widget.value = float(self.low + steps * self.step)

    @property
    def moved(self) -> bool:
        """Whether it was moved by a step since it was asked or put; a browser only sets it onto a step."""
        far = abs(self.widget.value - self._at) > 0.6 * self.step
        if far:
            self._at = self.widget.value
        return far

    @property
    def written(self) -> str:
        """What would be typed for it."""
        # a slider counts its steps in binary fractions
        number = round(self.widget.value / self.step) * self.step
        return f"{number:.6g} {self.name}".strip()
