"""Sections of the job file for sill plates along the slab's sides, and their bolts."""

from __future__ import annotations

from pydantic import Field, model_validator

from calcbook.basis.units import Quantity
from calcbook.job.fields import (
    OWN,
    PRACTICE,
    Clash,
    Section,
    lengths,
    pick,
    quantity,
    text,
    whole,
    yes_no,
)

_MAKER = "ask for the maker's sheet"
SPECIES = ("Southern Pine", "Douglas Fir-Larch", "Hem-Fir", "Spruce-Pine-Fir")

_METRIC = {
    "M12": (
        "",
        "M12 is 12 mm thick, less than the 1/2 in. (12.7 mm) that IRC R403.1.6 asks; use M16 or 1/2",
    ),
    "M16": ("5/8", "16 mm is a little more than 5/8 in. (15.9 mm), which is calculated"),
    "M20": ("3/4", "20 mm is more than 3/4 in. (19.1 mm), which is calculated"),
}


class Door(Section):
    """[[sills.doors]]: a door in a wall, where there is no plate."""

    start: Quantity = quantity("ft", "near side of the door, from the wall's start", low=0, high=1000)
    width: Quantity = quantity("ft", "width of the rough opening", above=0, high=100)


class Sill(Section):
    """[[sills]]: a wall whose plate is bolted down along a side of the slab."""

    name: str = text("name of the wall")
    side: int = whole("number of the outline's side, in the order of its points", low=1, high=500)
    start: Quantity = quantity(
        "ft", "start of the wall along its side", "0 ft", "at the corner", low=0, high=1000
    )
    end: Quantity | None = quantity(
        "ft", "end of the wall along its side", None, "at the next corner", above=0, high=1000
    )
    doors: list[Door] = Field(
        default_factory=list, max_length=50, description="door openings, where the plate is cut out"
    )
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
    jacks: int = whole("jack studs on each side of a door", 1, PRACTICE, low=0, high=4)
    bar_spacing: Quantity | None = quantity(
        "in", "spacing of vertical bars", None, "no vertical bars", low=4, high=120
    )
    bar_start: Quantity = quantity(
        "in", "first vertical bar, from the wall's start", "8 in", PRACTICE, low=0, high=240
    )
    bar_diameter: Quantity = quantity(
        "in", "diameter of the vertical bars", "0.5 in", "No. 4", low=0.25, high=1.5
    )
    uplift: Quantity | None = quantity(
        "plf", "uplift on the wall, service level (ASD)", None, "not given: from the engineer or the code's table",
        low=0, high=20000,
    )  # fmt: skip
    shear: Quantity | None = quantity(
        "plf", "shear along the wall, service level (ASD)", None, "not given: from the engineer or the code's table",
        low=0, high=20000,
    )  # fmt: skip
    shear_out: Quantity | None = quantity(
        "plf", "shear across the wall, service level (ASD)", None, "not given: from the engineer or the code's table",
        low=0, high=20000,
    )  # fmt: skip
    method: str = pick("way the bolts are set", ("cast", "drilled"), "cast", PRACTICE)

    @model_validator(mode="after")
    def _ends(self) -> Sill:
        if self.end is not None and self.end <= self.start:
            raise Clash("end", f"wall {self.name!r} ends before it starts; end must be more than start")
        return self


class Bolts(Section):
    """[bolts]: the bolts of all walls, cast or drilled."""

    size: str = pick(
        "bolt diameter, in.",
        ("1/2", "5/8", "3/4"),
        "1/2",
        "IRC R403.1.6: at least 1/2 in.",
        also=_METRIC,
    )
    grade: str = pick("steel", ("F1554 Grade 36", "F1554 Grade 55"), "F1554 Grade 36", PRACTICE)
    kind: str = pick("foot of a cast bolt", ("hooked", "headed"), "hooked", PRACTICE)
    hook: Quantity = quantity(
        "in", "hook, from the inner face of the shank to its tip", "2 in", PRACTICE, low=0.5, high=12
    )
    embedment: Quantity = quantity(
        "in", "embedment wanted", "7 in", "IRC R403.1.6: at least 7 in.", low=2, high=25
    )
    washer: Quantity = quantity(
        "in", "side of the plate washer", "3 in", "IRC R602.11.1", low=1, high=6
    )
    washer_thickness: Quantity = quantity(
        "in", "thickness of the washers", "0.229 in", "IRC R602.11.1", above=0, high=1
    )
    seal: Quantity = quantity(
        "in", "thickness of the sill seal, pressed", "0 in", "no seal counted", low=0, high=1
    )
    spare: Quantity = quantity("in", "thread left above the nut", "0.5 in", PRACTICE, low=0, high=6)
    length_step: Quantity = quantity(
        "in", "step of the bolt lengths sold", "2 in", PRACTICE, above=0, high=12
    )
    clear: Quantity = quantity("in", "gap between washer and stud", "0.125 in", PRACTICE, low=0, high=3)
    concrete: str = pick(
        "concrete at the bolts", ("cracked", "uncracked"), "cracked", "the safe choice"
    )
    load: str = pick(
        "shortest load", ("wind", "earthquake"), "wind", "wind governs on this book's sites"
    )
    wet: bool = yes_no("plate above 19 % moisture in use", False, "a dry building")
    seismic: str | None = pick(
        "seismic design category",
        ("A", "B", "C", "D0", "D1", "D2", "E", "F"),
        None,
        "ask the building department",
    )
    stories: int = whole("stories above the slab", 1, PRACTICE, low=1, high=6)
    beside_bars: bool = yes_no("tie bolts to vertical bars where they fit", True, PRACTICE)
    hole: Quantity = quantity(
        "in", "drilled diameter", "0.5625 in", f"1/16 in. over a 1/2 in. rod; {_MAKER}", above=0, high=3
    )
    depth: Quantity = quantity("in", "drilled depth", "6 in", _MAKER, low=1.625, high=25)
    bond_cracked: Quantity | None = quantity(
        "psi",
        "bond stress in cracked concrete, by the maker",
        None,
        "the code's default",
        above=0,
        high=5000,
    )
    bond_uncracked: Quantity | None = quantity(
        "psi",
        "bond stress in uncracked concrete, by the maker",
        None,
        "the code's default",
        above=0,
        high=5000,
    )
    place_of_use: str = pick(
        "place of drilled bolts", ("indoor", "outdoor"), "outdoor", "the safe choice"
    )
    least_edge: Quantity | None = quantity(
        "in", "least edge distance tested by the maker", None, "six diameters", above=0, high=24
    )
    least_spacing: Quantity | None = quantity(
        "in", "least spacing tested by the maker", None, "six diameters", above=0, high=48
    )
    hole_temperature: Quantity | None = quantity(
        "degF", "concrete temperature at the hole", None, "measure it", low=-20, high=150
    )
    least_temperature: Quantity | None = quantity(
        "degF", "least temperature for the adhesive", None, _MAKER, low=-20, high=150
    )
    cure: Quantity | None = quantity(
        "h", "cure time at that temperature, by the maker", None, _MAKER, above=0, high=500
    )
    concrete_age: Quantity = quantity(
        "day", "age of the concrete when drilled", "28 day", PRACTICE, low=0, high=40000
    )
    cartridge: Quantity = quantity(
        "fl_oz",
        "content of a cartridge",
        "22 fluid_ounce",
        "trade size (from memory)",
        above=0,
        high=200,
    )
    epoxy_waste: Quantity = quantity("1", "adhesive wasted", "30 %", OWN, low=0, high=2)
    place_spread: Quantity = quantity(
        "in", "standard deviation of a cast bolt's place", "0.5 in", OWN, above=0, high=6
    )
    stud_spread: Quantity = quantity(
        "in", "standard deviation of a stud's place", "0.125 in", OWN, low=0, high=6
    )
    tape_spread: Quantity = quantity(
        "in", "standard deviation of where a wall's tape starts", "0.25 in", OWN, low=0, high=6
    )
    set_rate: Quantity = quantity(
        "1/h", "cast bolts set by one person in an hour", "12 1/h", OWN, above=0, high=500
    )
    drill_rate: Quantity = quantity(
        "1/h", "drilled bolts set by one person in an hour", "4 1/h", OWN, above=0, high=500
    )
    repair_rate: Quantity = quantity(
        "1/h", "misplaced bolts replaced by one person in an hour", "2 1/h", OWN, above=0, high=100
    )
