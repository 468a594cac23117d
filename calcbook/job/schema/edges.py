"""The sections of a job file about the sides of a slab: edges that differ from [edge], sills and ledges."""

from __future__ import annotations

from pydantic import model_validator

from calcbook.basis.units import Quantity
from calcbook.job.fields import PRACTICE, Clash, Section, pick, quantity, text, whole

TURNED_DOWN, AGAINST = "turned-down", "against a wall"
SILL, BRICK = "door sill", "brick ledge"


class Edge(Section):
    """[edge]: the thickened edge all around, but for the sides under [[edges]]."""

    depth: Quantity = quantity(
        "in", "depth of the thickened edge below the slab's underside (0 in for none)", "8 in",
        f"12 in. below the top of a 4 in. slab; {PRACTICE}", low=0, high=72, si="200 mm",
    )  # fmt: skip
    width: Quantity = quantity(
        "in", "width of the thickened edge at its bottom", "12 in",
        "IRC Table R403.1 (from memory): 12 in. is the least footing width", low=4, high=120, si="300 mm",
    )  # fmt: skip
    slope: Quantity = quantity(
        "1", "inner slope, run per rise", 1.0, f"45 degrees; {PRACTICE}", low=0, high=4
    )
    bars: int = whole("bars along the thickened edge, all around", 0, "plain concrete", low=0, high=8)
    bar: str = pick(
        "bars along the edge, size", ("#3", "#4", "#5", "#6"), "#4", "IRC R403.1.3 (from memory)"
    )


class SideEdge(Section):
    """[[edges]]: the edge of one side of the outline, where it is not the one of [edge]."""

    side: int = whole("number of the outline's side, in the order of its points", low=1, high=500)
    kind: str = pick(
        "turned-down, or against a wall that is there: plain, with an isolation strip and no form",
        (TURNED_DOWN, AGAINST), TURNED_DOWN, "as [edge]",
    )  # fmt: skip
    depth: Quantity | None = quantity(
        "in", "this side, depth of the edge below the slab's underside (0 in for none)", None, "as [edge]",
        low=0, high=72,
    )  # fmt: skip
    width: Quantity | None = quantity(
        "in", "this side, width of the edge at its bottom", None, "as [edge]", low=4, high=120
    )
    slope: Quantity | None = quantity(
        "1", "this side, inner slope of the edge, run per rise", None, "as [edge]", low=0, high=4
    )
    frost_depth: Quantity | None = quantity(
        "in", "this side, frost depth, as the building office says", None, "as [soil]", low=0, high=120
    )

    @model_validator(mode="after")
    def _plain(self) -> SideEdge:
        for key in ("depth", "width", "slope"):
            if self.kind == AGAINST and getattr(self, key) is not None:
                raise Clash(key, f"side {self.side} is against a wall, so it has no thickened edge: leave "
                                 f'{key} out, or write kind = "{TURNED_DOWN}"')  # fmt: skip
        return self


class Lowered(Section):
    """[[ledges]]: a stretch of a side where the top is lowered, for a door or for brick."""

    name: str = text("name of the sill or ledge", "", "by its kind and side")
    kind: str = pick("what it is for", (SILL, BRICK), SILL, "the usual one")
    side: int = whole("number of the outline's side, in the order of its points", low=1, high=500)
    start: Quantity = quantity("ft", "start along its side", "0 ft", "at the corner", low=0, high=1000)
    end: Quantity | None = quantity(
        "ft", "end along its side", None, "at the next corner", above=0, high=1000
    )
    drop: Quantity = quantity("in", "how far below the top of the slab", above=0, high=24)
    width: Quantity = quantity("in", "how far in from the outline", above=0, high=48)

    @model_validator(mode="after")
    def _runs(self) -> Lowered:
        if self.end is not None and self.end <= self.start:
            raise Clash("end", "it ends before it starts; end must be more than start")
        return self

    @property
    def called(self) -> str:
        """Its name, or what it is and where."""
        return self.name or f"{self.kind}, side {self.side}"
