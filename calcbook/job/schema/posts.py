"""The section of the job file for posts on the bare slab: single ones, and racks of like legs."""

from __future__ import annotations

from pydantic import model_validator

from calcbook.basis.units import Quantity, number_in
from calcbook.job.fields import PRACTICE, Clash, pick, quantity, text, whole
from calcbook.job.schema.placed import Placed
from calcbook.job.schema.structure import load


class Post(Placed):
    """[[posts]]: a post that stands on the slab itself, or a rack of like legs."""

    name: str = text("name of the post")
    load: Quantity | None = load("post on the bare slab, load")
    plate_length: Quantity = quantity(
        "in", "post, length of its base plate", "4 in", PRACTICE, above=0, high=48
    )
    plate_width: Quantity = quantity(
        "in", "post, width of its base plate", "4 in", PRACTICE, above=0, high=48
    )
    place: str = pick(
        "where it stands",
        ("inside", "joint", "edge", "corner"),
        "corner",
        "the weakest place of a slab",
    )
    x: Quantity | None = quantity(
        "ft", "post on the bare slab, where it stands along x", None, "not given", low=-1000, high=1000
    )
    y: Quantity | None = quantity(
        "ft", "post on the bare slab, where it stands along y", None, "not given", low=-1000, high=1000
    )

    legs: int = whole(
        "legs of the rack in a row, each with this load", 1, "a single post", low=1, high=30
    )
    leg_spacing: Quantity | None = quantity(
        "in", "distance of the legs in a row", None, "a single leg", low=6, high=480
    )
    rows: int = whole("rows of legs", 1, "a single row", low=1, high=10)
    row_spacing: Quantity | None = quantity(
        "in", "distance of the rows of legs", None, "a single row", low=6, high=480
    )
    legs_along: str = pick(
        "which way a row of legs runs", ("x", "y"), "x", "only matters where x and y are given"
    )

    @property
    def legs_at(self) -> list[tuple[float, float]]:
        """Place of every leg from the first one, along x and y, in inches."""
        s, r = (
            0.0 if v is None else float(number_in(v, "in"))
            for v in (self.leg_spacing, self.row_spacing)
        )
        found = [(i * s, k * r) for k in range(self.rows) for i in range(self.legs)]
        return found if self.legs_along == "x" else [(y, x) for x, y in found]

    @model_validator(mode="after")
    def _spaced(self) -> Post:
        for count, key in ((self.legs, "leg_spacing"), (self.rows, "row_spacing")):
            if (count > 1) != (getattr(self, key) is not None):
                many = "legs" if key == "leg_spacing" else "rows"
                raise Clash(
                    key,
                    f"{self.name!r}: {many} and {key} go together; give both, or {many} = 1 and no {key}",
                )
        return self

    @model_validator(mode="after")
    def _both(self) -> Post:
        if (self.x is None) != (self.y is None):
            raise Clash(
                "x" if self.x is None else "y",
                f"{self.name!r} has only one of x and y; give both or none",
            )
        return self
