"""Fields of what stands on a slab and is measured from one of its sides."""

from __future__ import annotations

from pydantic import model_validator

from calcbook.basis.units import Quantity
from calcbook.job.fields import Clash, Section, quantity, whole


class Placed(Section):
    """A place by x and y, or as a builder measures: along a side from its first corner, and square off it into the slab."""

    from_side: int | None = whole(
        "number of the side that its middle is measured from, in place of x and y", None, "by x and y", low=1, high=500
    )  # fmt: skip
    along: Quantity | None = quantity(
        "ft", "along that side from its first corner; below 0 from its last", None, "by x and y", low=-1000, high=1000
    )  # fmt: skip
    off: Quantity | None = quantity(
        "ft", "square off that side, into the slab", None, "by x and y", low=0, high=1000
    )

    @model_validator(mode="after")
    def _all_three(self) -> Placed:
        lacking = [key for key in ("from_side", "along", "off") if getattr(self, key) is None]
        if len(lacking) in (1, 2):
            raise Clash(lacking[0], "from_side, along and off go together: give all three, or x and y")
        return self
