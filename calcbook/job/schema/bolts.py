"""The section of the job file for the bolts of all walls."""

from __future__ import annotations

from calcbook.basis.units import Quantity
from calcbook.job.fields import OWN, PRACTICE, Section, pick, quantity, whole, yes_no

_MAKER = "ask for the maker's sheet"

SIZES = ("1/2", "5/8", "3/4")  # bolt diameters of tables/bolts.csv, in.
_METRIC = {
    "M12": (
        "",
        "M12 is 12 mm thick, less than the 1/2 in. (12.7 mm) that IRC R403.1.6 asks; use M16 or 1/2",
    ),
    "M16": ("5/8", "16 mm is a little more than 5/8 in. (15.9 mm), which is calculated"),
    "M20": ("3/4", "20 mm is more than 3/4 in. (19.1 mm), which is calculated"),
}


class Bolts(Section):
    """[bolts]: the bolts of all walls, cast or drilled."""

    size: str = pick("bolt diameter, in.", SIZES, "1/2", "IRC R403.1.6: at least 1/2 in.", also=_METRIC)
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
    spare: Quantity = quantity(
        "in", "thread left above the nut", "0.5 in", PRACTICE, low=0, high=6, si="12 mm"
    )
    length_step: Quantity = quantity(
        "in", "step of the bolt lengths sold", "2 in", PRACTICE, above=0, high=12, si="50 mm"
    )
    clear: Quantity = quantity("in", "gap between washer and stud", "0.125 in", PRACTICE, low=0, high=3)
    concrete: str = pick(
        "concrete at the bolts", ("cracked", "uncracked"), "cracked", "the safe choice"
    )
    load: str = pick(
        "shortest load", ("wind", "earthquake"), "wind", "wind governs on this book's sites"
    )
    wet: bool = yes_no("plate above 19 % moisture in use", False, "a dry building")
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
    category: int = whole(
        "anchor category of the adhesive in its maker's test report",
        1,
        f"taken as the best; {_MAKER}",
        low=1,
        high=3,
    )
    torqued: bool = yes_no("nuts of cast bolts torqued, more than snug", False, "snug on a wood plate")
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
