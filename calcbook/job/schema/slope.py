"""The section of the job file for a top that is not level."""

from __future__ import annotations

from pydantic import model_validator

from calcbook.basis.units import Quantity
from calcbook.job.fields import PRACTICE, Clash, Section, pick, quantity, text, whole

LEVEL, PARALLEL = "level", "sloped too"


class Slope(Section):
    """[slope]: a fall of the top towards a side, in a direction, or to a drain. Thickness is then the least, and
    the height above the ground that of the low side, or of the floor around a drain."""

    fall: Quantity | None = quantity(
        "1", "fall of the top over its run, such as 1/8 in/ft or 1 %", None, "level", above=0, high=0.1
    )
    side: int | None = whole(
        "number of the outline's side that it falls towards, square to it", None, "none named", low=1, high=500
    )  # fmt: skip
    direction: Quantity | None = quantity(
        "deg", "way that it falls, turned from x (0 deg) towards y (90 deg)", None, "none given",
        low=-360, high=360,
    )  # fmt: skip
    drain: str = text("name of the round opening that it falls to", "", "no drain")
    radius: Quantity | None = quantity(
        "ft", "radius of the dish around the drain, at its rim", None, "none given", above=0, high=100
    )
    underside: str = pick(
        "underside of the slab, level or sloped with its top", (LEVEL, PARALLEL), LEVEL, PRACTICE
    )

    @model_validator(mode="after")
    def _one_way(self) -> Slope:
        ways = [key for key in ("side", "direction") if getattr(self, key) is not None]
        ways += ["drain"] * bool(self.drain)
        if self.fall is None:
            if ways or self.radius is not None:
                raise Clash("fall", "a slope needs its fall, such as 1/8 in/ft")
            return self
        if len(ways) != 1:
            raise Clash(
                ways[-1] if ways else "side",
                "say once which way the top falls: towards a side, in a direction, or to a drain",
            )
        if bool(self.drain) != (self.radius is not None):
            raise Clash(
                "radius",
                "drain and radius go together: the name of a round opening, and how far its dish reaches",
            )
        return self
