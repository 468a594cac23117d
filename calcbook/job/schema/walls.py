"""The section of the job file for walls: each described once, with its place, loads, openings and plate."""

from __future__ import annotations

from typing import Any

from pydantic import model_validator

from calcbook.basis.units import Q, Quantity, UnitError, number_in
from calcbook.job.fields import (
    PRACTICE,
    Clash,
    Section,
    entries,
    lengths,
    pick,
    quantity,
    text,
    whole,
    yes_no,
)
from calcbook.job.schema.bolts import SIZES
from calcbook.job.schema.structure import load

SPECIES = ("Southern Pine", "Douglas Fir-Larch", "Hem-Fir", "Spruce-Pine-Fir")
_NOT_GIVEN = "not given: from the engineer or the code's table"


class WallOpening(Section):
    """[[walls.openings]]: a door or window with the header over it."""

    start: Quantity = quantity(
        "ft", "near side of the opening, from the wall's start", low=0, high=1000
    )
    width: Quantity = quantity("ft", "width of the rough opening", above=0, high=100)
    kind: str = pick("what it is", ("door", "window"), "door", "no plate below it: the safe choice")


class WallPoint(Section):
    """[[walls.points]]: a post, beam or girder truss that stands on a wall, with its reactions."""

    name: str = text("what stands there")
    at: Quantity = quantity("ft", "where it stands, from the wall's start", low=0, high=1000)
    dead: Quantity = quantity("lbf", "its dead load", "0 lbf", "none given", low=0, high=1e6)
    live: Quantity = quantity("lbf", "its floor live load", "0 lbf", "none given", low=0, high=1e6)
    roof: Quantity = quantity("lbf", "its roof load", "0 lbf", "none given", low=0, high=1e6)
    uplift: Quantity = quantity(
        "lbf", "its uplift, service level, before dead load is taken off", "0 lbf", "none given", low=0, high=1e6
    )  # fmt: skip


class WallTrusses(Section):
    """[[walls.trusses]]: like trusses or joists at an even spacing all along a wall, with the reaction of one."""

    name: str = text("which trusses")
    spacing: Quantity = quantity("in", "spacing of the trusses", above=0, high=48)
    dead: Quantity = quantity("lbf", "dead load of one, at this wall", low=0, high=1e5)
    live: Quantity = quantity("lbf", "floor live load of one", "0 lbf", "none given", low=0, high=1e5)
    roof: Quantity = quantity("lbf", "roof load of one", "0 lbf", "none given", low=0, high=1e5)
    uplift: Quantity = quantity(
        "lbf", "uplift of one, service level, before dead load is taken off", low=0, high=1e5
    )


class BracedPiece(Section):
    """[[walls.braced]]: a piece of the wall that is built as a shear wall."""

    start: Quantity = quantity("ft", "start of the piece, from the wall's start", low=0, high=1000)
    length: Quantity = quantity("ft", "length of the piece between its ends", above=0, high=200)
    hold_down: Quantity | None = quantity(
        "lbf", "allowable tension of the hold-down at each end", None, "no hold-down", above=0, high=1e5
    )  # fmt: skip
    by: str = text("who named the hold-down and its anchor, and when", "", "as [design] says")
    anchor: str | None = pick(
        "bolt that anchors the hold-down, cast in with a hexagonal head, in.", SIZES, None, "anchor not named"
    )  # fmt: skip
    anchor_depth: Quantity = quantity(
        "in", "its embedment, to the top of the head", "7 in", "as for bolts; IRC R403.1.6", low=2.5, high=25
    )  # fmt: skip
    anchor_top: Quantity | None = quantity(
        "in", "top of the anchor above the concrete, from the hold-down's own sheet", None, "not given: the sheet decides",
        above=0, high=36,
    )  # fmt: skip
    anchor_edge: Quantity | None = quantity(
        "in", "the anchor from the slab's edge", None, "in line with the bolts of the wall", above=0, high=60
    )  # fmt: skip
    anchor_in: Quantity = quantity(
        "in", "the anchor from the end of the piece, to its inside", "4 in", PRACTICE, above=0, high=24
    )  # fmt: skip

    @property
    def anchors(self) -> tuple[Quantity, Quantity]:
        """Where the anchors of its two ends stand, from the wall's start."""
        start, length, inside = (number_in(x, "in") for x in (self.start, self.length, self.anchor_in))
        return Q(start + inside, "in"), Q(start + length - inside, "in")

    @model_validator(mode="after")
    def _room(self) -> BracedPiece:
        if self.anchor is not None and 2 * number_in(self.anchor_in, "in") >= number_in(
            self.length, "in"
        ):
            raise Clash("anchor_in", "the anchors of the two ends of a shear-wall piece pass each other; anchor_in must be "
                        "less than half of its length")  # fmt: skip
        if self.anchor is not None and self.hold_down is None:
            raise Clash(
                "anchor",
                "an anchor is named but no hold-down; give hold_down, what it may be asked to hold",
            )
        return self


def _line_load(meaning: str) -> Any:
    return quantity("plf", f"{meaning}, service level (ASD)", None, _NOT_GIVEN, low=0, high=20000)


class Wall(Section):
    """[[walls]]: a wall on the slab."""

    name: str = text("name of the wall")
    # where it stands
    place: str = pick("where it stands", ("edge", "interior", "joint"), "edge", "on a side of the slab")
    side: int | None = whole(
        "number of the outline's side, in the order of its points", None, "not on a side", low=1, high=500
    )  # fmt: skip
    start: Quantity = quantity(
        "ft", "start of the wall along its side", "0 ft", "at the corner", low=0, high=1000
    )
    end: Quantity | None = quantity(
        "ft", "end of the wall along its side", None, "at the next corner", above=0, high=1000
    )
    x1: Quantity | None = quantity("ft", "wall inside, start along x", None, low=-1000, high=1000)
    y1: Quantity | None = quantity("ft", "wall inside, start along y", None, low=-1000, high=1000)
    x2: Quantity | None = quantity("ft", "wall inside, end along x", None, low=-1000, high=1000)
    y2: Quantity | None = quantity("ft", "wall inside, end along y", None, low=-1000, high=1000)
    strip_width: Quantity | None = quantity("in", "strip, width", None, "no strip", above=0, high=120)
    strip_depth: Quantity | None = quantity(
        "in", "strip, depth below the slab", None, "no strip", above=0, high=72
    )
    height: Quantity | None = quantity("ft", "height of the wall", None, "not given", low=2, high=40)
    openings: list[WallOpening] = entries("doors and windows with their headers", 50)
    # what it brings
    dead: Quantity | None = load("wall, dead load at its top", "plf")
    live: Quantity = quantity(
        "plf", "wall, floor live load", "0 plf", "no floor on it", low=0, high=1e5
    )
    roof: Quantity = quantity(
        "plf", "wall, roof load (snow, live)", "0 plf", "no roof on it", low=0, high=1e5
    )
    weight: Quantity = quantity(
        "psf", "wall, its own weight by area", "0 psf", "counted in its dead load", low=0, high=500
    )
    uplift: Quantity | None = _line_load("uplift on the wall")
    uplift_is: str = pick(
        "whether dead load is already taken off the uplift", ("net", "gross"), "net",
        "a net value: the safer reading of a bare number",
    )  # fmt: skip
    shear: Quantity | None = _line_load("shear along the wall")
    shear_out: Quantity | None = _line_load("shear across the wall")
    by: str = text("who gave these loads and when", "", "as [design] says")
    points: list[WallPoint] = entries("posts, beams and trusses on the wall", 50)
    trusses: list[WallTrusses] = entries("trusses or joists by their spacing", 20)
    braced: list[BracedPiece] = entries("shear-wall pieces and their hold-downs", 50)
    # plate and studs
    species: str = pick(
        "wood of the sill plate", SPECIES, "Southern Pine", f"usual treated plate; {PRACTICE}"
    )
    plies: int = whole("plies of the sill plate", 1, PRACTICE, low=1, high=2)
    ply: Quantity = quantity(
        "in", "thickness of one ply", "1.5 in", "2-by lumber, dressed", low=1, high=4
    )
    plate_width: Quantity = quantity(
        "in", "width of the plate", "5.5 in", "2x6, dressed", low=3, high=12
    )
    inset: Quantity = quantity(
        "in", "outer face of the plate, in from the slab's edge", "0 in", "flush", low=0, high=60
    )
    edge_distance: Quantity = quantity(
        "in",
        "edge distance of the bolts, from the slab's edge",
        "2.75 in",
        "middle of a flush 2x6",
        low=1,
        high=60,
    )
    piece: Quantity = quantity("ft", "length of a piece of plate", "16 ft", PRACTICE, low=2, high=60)
    splices: list | None = lengths("joints of the plate, from the wall's start", None)
    upper_splices: list | None = lengths("joints of the upper ply, from the wall's start", None)
    stud_spacing: Quantity = quantity("in", "stud spacing", "16 in", PRACTICE, low=8, high=48)
    jacks: int = whole("jack studs on each side of an opening", 1, PRACTICE, low=0, high=4)
    bar_spacing: Quantity | None = quantity(
        "in", "spacing of vertical bars", None, "no vertical bars", low=4, high=120
    )
    bar_start: Quantity = quantity(
        "in", "first vertical bar, from the wall's start", "8 in", PRACTICE, low=0, high=240
    )
    bar_diameter: Quantity = quantity(
        "in", "diameter of the vertical bars", "0.5 in", "No. 4", low=0.25, high=1.5
    )
    bolted: bool = yes_no("plate bolted to the slab", True, "a wall on a side is anchored")
    method: str = pick("way the bolts are set", ("cast", "drilled"), "cast", PRACTICE)

    @property
    def plated(self) -> tuple[int, float]:
        """What its plate is made of: plies, and the thickness of one in inches."""
        return self.plies, number_in(self.ply, "in")

    @model_validator(mode="after")
    def _place(self) -> Wall:
        if self.place == "edge" and self.side is None:
            raise Clash(
                "side",
                f"wall {self.name!r} stands on the edge, but on which side? Give side = 1 for the one from the first "
                'corner to the second; a wall inside has place = "interior" or "joint"',
            )
        if self.place != "edge" and self.side is not None:
            raise Clash("side", f"wall {self.name!r} is inside the slab (place), so it has no side")
        if self.end is not None and self.end <= self.start:
            raise Clash("end", f"wall {self.name!r} ends before it starts; end must be more than start")
        if self.trusses and self.dead is None:
            raise Clash(
                "dead",
                f"wall {self.name!r} has trusses; give dead too, what comes beside them: 0 where nothing does",
            )
        if self.weight.magnitude and self.height is None:
            raise Clash("height", f"wall {self.name!r} has a weight by area; give its height too")
        if self.openings and self.side is None and self.x1 is None:
            raise Clash("openings", f"wall {self.name!r} has openings; give its side, or its two ends")
        return self

    def strip(self) -> tuple[Any, ...] | None:
        """(x1, y1, x2, y2, width, depth) of the thickened strip, or None where there is none."""
        ends = (self.x1, self.y1, self.x2, self.y2)
        sizes = (self.strip_width, self.strip_depth)
        if all(v is None for v in sizes):
            return None
        values = (*ends, *sizes)
        if any(v is None for v in values):
            raise UnitError(
                f"wall {self.name!r}: a strip needs x1, y1, x2, y2, strip_width and strip_depth, all six"
            )
        self.run()
        return values

    def run(self) -> Quantity | None:
        """Length of a wall inside the slab, or None where its ends are not given."""
        x1, y1, x2, y2 = self.x1, self.y1, self.x2, self.y2
        if x1 is None or y1 is None or x2 is None or y2 is None:
            if all(v is None for v in (x1, y1, x2, y2)):
                return None
            raise UnitError(f"wall {self.name!r}: its two ends are x1, y1, x2 and y2; give all four")
        if (x1 == x2) == (y1 == y2):
            raise UnitError(
                f"wall {self.name!r}: a wall inside runs along x or along y; give its two ends so"
            )
        return abs(x2 - x1) + abs(y2 - y1)
