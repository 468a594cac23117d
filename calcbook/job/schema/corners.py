"""The section of the job file for corners of the outline that are round or cut off."""

from __future__ import annotations

from pydantic import model_validator

from calcbook.basis.units import Quantity
from calcbook.job.fields import Clash, Section, quantity, text


class Corner(Section):
    """[[corners]]: a corner of the outline that is rounded, or cut off straight."""

    corner: str = text("letter of the corner, A at the first point of the outline", longest=4)
    radius: Quantity | None = quantity(
        "ft", "round corner, its radius", None, "not round", above=0, high=500
    )
    cut: Quantity | None = quantity(
        "ft", "cut corner, how much of each side it takes", None, "not cut", above=0, high=500
    )

    @model_validator(mode="after")
    def _one_way(self) -> Corner:
        if (self.radius is None) == (self.cut is None):
            raise Clash("radius", f"corner {self.corner!r} is either round or cut: give radius or cut")
        return self
