"""The section of the job file for openings in the slab."""

from __future__ import annotations

from pydantic import model_validator

from calcbook.basis.units import Quantity, UnitError
from calcbook.job.fields import points, quantity, text
from calcbook.job.schema.placed import Placed


class Opening(Placed):
    """[[openings]]: a hole in the slab, round or with straight sides."""

    name: str = text("name of the opening", "opening", "no name given")
    x: Quantity | None = quantity(
        "ft", "left side, or center of a round opening", None, low=-1000, high=1000
    )
    y: Quantity | None = quantity(
        "ft", "lower side, or center of a round opening", None, low=-1000, high=1000
    )
    length: Quantity | None = quantity("ft", "length along x", None, above=0, high=1000)
    width: Quantity | None = quantity("ft", "width along y", None, above=0, high=1000)
    diameter: Quantity | None = quantity("in", "diameter of a round opening", None, above=0, high=1200)
    points: list | None = points("corner points", None)

    @model_validator(mode="after")
    def _one_shape(self) -> Opening:
        place = self.x is not None and self.y is not None
        box = place and self.length is not None and self.width is not None and self.diameter is None
        disc = place and self.diameter is not None and self.length is None and self.width is None
        if (self.points is not None) + box + disc != 1:
            raise UnitError("an opening needs x, y, length and width; or x, y and diameter; or points")
        return self
