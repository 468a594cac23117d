"""The section of the job file for the joint between two slabs that touch."""

from __future__ import annotations

from pydantic import model_validator

from calcbook.basis.units import Quantity
from calcbook.job.fields import PRACTICE, Clash, Section, pick, quantity, text

MAIN = "main slab"  # name of the slab of [slab], where it is given none
ISOLATION, DOWELED, KEYED = "isolation", "doweled", "keyed"


class Between(Section):
    """[[between]]: the joint where two slabs touch; without an entry an isolation joint."""

    slab: str = text("name of one of the two slabs", MAIN, "the slab of [slab]", longest=60)
    beside: str = text("name of the other", longest=60)
    kind: str = pick(
        "isolation: a strip parts them; doweled: smooth bars keep them level; keyed: a tongue does",
        (ISOLATION, DOWELED, KEYED), ISOLATION, f"each moves by itself; {PRACTICE}",
    )  # fmt: skip
    dowel: Quantity = quantity(
        "in", "joint between slabs, diameter of its dowels", "3/4 in",
        "for slabs of 5 to 6 in., ACI 302.1R (from memory)", low=0.5, high=1.5,
    )  # fmt: skip
    dowel_length: Quantity = quantity(
        "in", "joint between slabs, length of its dowels", "16 in",
        "for slabs of 5 to 6 in., ACI 302.1R (from memory)", low=8, high=30,
    )  # fmt: skip
    spacing: Quantity = quantity(
        "in",
        "joint between slabs, distance between its dowels",
        "12 in",
        "ACI 302.1R (from memory)",
        low=6,
        high=36,
    )

    @model_validator(mode="after")
    def _two(self) -> Between:
        if self.slab == self.beside:
            raise Clash("beside", f"a joint is between two slabs, and {self.slab!r} is named twice")
        return self
