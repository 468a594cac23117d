"""The section of the job file for what stands above a slab along its sides, or before them."""

from __future__ import annotations

from pydantic import model_validator

from calcbook.basis.units import Quantity
from calcbook.job.fields import PRACTICE, Clash, Section, pick, quantity, text, whole

CURB, WALL, STEPS = "curb", "stem wall", "steps"


class Curb(Section):
    """[[curbs]]: a curb or stem wall on the slab along a side, or steps before it, poured with the slab."""

    name: str = text("name of the curb, wall or steps", "", "by its kind and side")
    kind: str = pick(
        "curb or stem wall: on the slab, along the side; steps: outside, before the side",
        (CURB, WALL, STEPS), CURB, PRACTICE,
    )  # fmt: skip
    side: int = whole("number of the outline's side, in the order of its points", low=1, high=500)
    start: Quantity = quantity(
        "ft", "curb or steps, start along the side", "0 ft", "at the corner", low=0, high=1000
    )
    end: Quantity | None = quantity(
        "ft", "curb or steps, end along the side", None, "at the next corner", above=0, high=1000
    )
    height: Quantity = quantity("in", "curb or wall, above the slab; of each step", above=0, high=120)
    width: Quantity = quantity(
        "in", "curb or wall, its thickness; of steps, each tread", above=0, high=120
    )
    count: int = whole("how many steps", 1, "one step", low=1, high=10)
    retains: Quantity = quantity(
        "in", "soil that it holds back, above the slab", "0 in", "it holds none", low=0, high=120
    )

    @model_validator(mode="after")
    def _runs(self) -> Curb:
        if self.end is not None and self.end <= self.start:
            raise Clash("end", "it ends before it starts; end must be more than start")
        if self.kind != STEPS and self.count != 1:
            raise Clash("count", f"only steps have a count; leave it out for a {self.kind}")
        return self

    @property
    def called(self) -> str:
        """Its name, or what it is and where."""
        return self.name or f"{self.kind}, side {self.side}"
