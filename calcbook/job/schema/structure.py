"""The sections of a job file about soil, loads, joints and reinforcement.

What cannot be guessed (bearing of the soil, frost depth, loads) has no default: a calculation that
needs it asks for it.
"""

from __future__ import annotations

from typing import Any

from pydantic import model_validator

from calcbook.basis.table import table
from calcbook.basis.units import Quantity
from calcbook.job.clock import read_day
from calcbook.job.fields import (
    OWN,
    PRACTICE,
    Clash,
    Section,
    entries,
    pick,
    points,
    quantity,
    text,
    yes_no,
)
from calcbook.job.wire import wire_style

SOILS = ("not known", "clay", "sand", "gravel", "foliated rock", "bedrock")
GROUPS = ("not known", *dict.fromkeys(row["group"] for row in table("subgrade")))
ON_CHAIRS, ON_THE_GROUND = "chairs", "ground"
REINFORCEMENTS = ("none", "micro fiber", "macro fiber", "steel fiber", "mesh", "bars")


def load(meaning: str, unit_name: str = "lbf") -> Any:
    """A load that only the engineer or the plans can tell: no default."""
    return quantity(unit_name, meaning, None, "not given", low=0, high=1e6)


class Soil(Section):
    """[soil]: what the ground bears and how stiff it is, given or by its class."""

    kind: str = pick("soil, class of the building code", SOILS, "not known", "no soil named")
    bearing: Quantity | None = quantity(
        "psf", "soil, allowable bearing", None, "by the class of the soil", above=0, high=50000
    )
    net: bool = yes_no(
        "soil, bearing is a net value", False, "a gross value: the safer reading of a bare number"
    )
    weight: Quantity = quantity(
        "pcf", "soil, weight", "100 pcf", "McCormac Example 12.10 (read in a reprint)", low=50, high=150
    )
    k: Quantity | None = quantity(
        "pci", "soil, modulus of subgrade reaction", None, "by group and moisture, else 100 pci", low=25, high=800,
    )  # fmt: skip
    group: str = pick("soil, group (USCS)", GROUPS, "not known", "no group named")
    moisture: Quantity | None = quantity(
        "1", "soil, water by mass of dry soil", None, "not measured", low=0, below=1
    )
    frost_depth: Quantity | None = quantity(
        "in", "frost depth, as the building office says", None, "never guessed", low=0, high=120
    )


class Vehicle(Section):
    """[vehicle]: what drives on the slab."""

    axle: Quantity | None = quantity(
        "lbf", "vehicle, load on its heavier axle", None, "not given", above=0, high=1e6
    )
    wheels: Quantity = quantity(
        "1", "vehicle, wheels on that axle", 2.0, PRACTICE, ratio=True, low=1, high=4
    )
    wheel_spacing: Quantity = quantity(
        "in", "vehicle, distance between neighboring wheels", "60 in", f"track of a car; {PRACTICE}", low=6, high=240
    )  # fmt: skip
    tire_pressure: Quantity = quantity(
        "psi", "vehicle, tire pressure", "50 psi", f"light truck; {PRACTICE}", low=15, high=150
    )
    margin: Quantity = quantity(
        "1", "margin wanted against cracking", 1.7, "ACI 360R-10 appendix 1 (from memory)",
        ratio=True, low=1, high=4,
    )  # fmt: skip
    transfer: Quantity = quantity(
        "1",
        "share of a wheel that a joint passes on; up to 25 % with dowels",
        "0 %",
        "a sawn joint may open; 25 % needs a deflection ratio of 0.76 (UFC 3-260-03)",
        low=0,
        high=0.25,
    )


class JointLine(Section):
    """[[joints.lines]]: a joint that the builder fixes, forbids or moves; the layout does the rest. With places along x
    or y the joints run along those, else along the main sides of the slab."""

    kind: str = pick(
        "cut: a joint here; none: no joint near here; move: the nearest joint of the layout goes elsewhere",
        ("cut", "none", "move"), "cut", "a joint here",
    )  # fmt: skip
    x: Quantity | None = quantity(
        "ft", "joint along y, where it stands along x", None, "a joint along x", low=-1000, high=1000
    )
    y: Quantity | None = quantity(
        "ft", "joint along x, where it stands along y", None, "a joint along y", low=-1000, high=1000
    )
    points: list | None = points("points of a joint that runs from one to the next, at any slant", None)
    to: Quantity | None = quantity(
        "ft", "where a moved joint goes, along the same axis", None, "not moved", low=-1000, high=1000
    )
    within: Quantity = quantity(
        "ft", "how far from here no joint may run", "1 ft", PRACTICE, low=0, high=20
    )

    @model_validator(mode="after")
    def _one_place(self) -> JointLine:
        if sum(place is not None for place in (self.x, self.y, self.points)) != 1:
            raise Clash("x", "a joint has its place along x, along y, or points: give one of the three")
        if self.points is not None and (self.kind != "cut" or len(set(self.points)) < 2):
            raise Clash(
                "points",
                'points are for kind = "cut", and say where it runs: give two at least, not alike',
            )
        if (self.kind == "move") != (self.to is not None):
            raise Clash("to", 'to says where a joint of kind = "move" goes; give both or neither')
        return self


class Joints(Section):
    """[joints]: how control joints are cut and how far apart."""

    spacing: Quantity | None = quantity(
        "ft", "joints, largest spacing", None, "by thickness, slump and aggregate", low=4, high=30
    )
    aspect: Quantity = quantity(
        "1",
        "joints, longest panel shape",
        1.5,
        "ACI 302.1R (read in a reprint)",
        ratio=True,
        low=1,
        high=3,
    )
    early_entry: bool = yes_no("joints, cut with an early-entry saw", False, "conventional saw")
    by_hand: bool = yes_no(
        "joints, only the lines given here", False, "the layout proposes, the lines here change it"
    )
    lines: list[JointLine] = entries("joints fixed, forbidden or moved by hand", 100)
    isolate: bool = yes_no("joints, isolate the posts", True, PRACTICE)
    box: Quantity = quantity(
        "in", "joints, side of the box around a post", "12 in", PRACTICE, low=4, high=60, si="300 mm"
    )
    saw_rate: Quantity = quantity(
        "ft", "joints, length cut by one person in an hour", "60 ft", OWN, above=0, high=600, si="18 m"
    )


def _wire(style: str) -> None:
    wire_style(style)


class Reinforcement(Section):
    """[reinforcement]: fiber, mesh, bars or none."""

    kind: str = pick("reinforcement", REINFORCEMENTS, "none", "plain concrete with close joints")
    wire: str = text(
        "mesh, style", "6x6-W2.9xW2.9", "UFC 3-300-10N B-2.2.2 (read in a reprint)", 40, check=_wire
    )
    sheet_length: Quantity = quantity(
        "ft", "mesh, length of a sheet", "10 ft", "trade size (from memory)", low=3, high=300, si="6 m"
    )
    sheet_width: Quantity = quantity(
        "ft", "mesh, width of a sheet", "5 ft", "trade size (from memory)", low=3, high=20, si="2.4 m"
    )
    mesh_lap: Quantity = quantity(
        "in",
        "mesh, lap of sheets",
        "8 in",
        "one cross wire and 2 in., ACI 318-19 25.5.4 (from memory)",
        low=2,
        high=36,
        si="205 mm",
    )
    mesh_yield: Quantity = quantity(
        "psi", "mesh, yield strength", "65000 psi", "ASTM A1064 (from memory)", low=40000, high=80000
    )
    bar: str = pick(
        "bars, size", ("#3", "#4", "#5", "#6"), "#3", "UFC 3-300-10N B-2.2.2 (read in a reprint)"
    )
    bar_spacing: Quantity = quantity(
        "in",
        "bars, spacing",
        "16 in",
        "UFC 3-300-10N B-2.2.2 (read in a reprint)",
        low=4,
        high=36,
        si="400 mm",
    )
    bar_yield: Quantity = quantity(
        "psi", "bars, yield strength", "60000 psi", "ASTM A615 grade 60", low=40000, high=80000
    )
    bar_length: Quantity = quantity(
        "ft", "bars, stock length", "20 ft", "trade size (from memory)", low=5, high=60, si="6 m"
    )
    support: str | None = pick(
        "mesh or bars, what they lie on until the concrete has set", (ON_CHAIRS, ON_THE_GROUND), None,
        "not said, so nothing is counted on them in bending",
    )  # fmt: skip
    bar_lap: Quantity | None = quantity(
        "in", "bars, lap", None, "by its rule, ACI 318-19 Table 25.5.2.1, from memory", low=6, high=72
    )
    friction: Quantity = quantity(
        "1",
        "friction of the slab on its base",
        1.5,
        "CRSI EDR 37 (read in a reprint)",
        ratio=True,
        low=0.5,
        high=3,
    )
    micro_dosage: Quantity = quantity(
        "lb/yd3",
        "micro fiber, dosage",
        "1 lb/yd3",
        "0.5 to 1.5 lb/yd³, ACI FAQ 926 (read in a reprint)",
        low=0.25,
        high=5,
    )
    macro_dosage: Quantity = quantity(
        "lb/yd3",
        "macro fiber, dosage",
        "4 lb/yd3",
        "3 lb/yd³ and more, ACI FAQ 926 (read in a reprint)",
        low=1,
        high=20,
    )
    steel_dosage: Quantity = quantity(
        "lb/yd3",
        "steel fiber, dosage",
        "30 lb/yd3",
        "25 to 30 lb/yd³ with close joints (read in a reprint)",
        low=15,
        high=150,
    )
    bag: Quantity = quantity("lb", "fiber, mass in a bag", "5 lb", "ask the maker", above=0, high=100)
    residual: Quantity | None = quantity(
        "psi",
        "fiber, residual strength by ASTM C1609",
        None,
        "only the maker can tell",
        above=0,
        high=1500,
    )
    ratio: Quantity | None = quantity(
        "%",
        "fiber, equivalent strength ratio (percent)",
        None,
        "only the maker can tell",
        low=1,
        high=300,
    )
    mesh_rate: Quantity = quantity(
        "ft2", "mesh laid by one person in an hour", "150 ft2", OWN, above=0, high=5000
    )
    bar_rate: Quantity = quantity(
        "ft", "bar tied by one person in an hour", "60 ft", OWN, above=0, high=1000
    )

    @model_validator(mode="after")
    def _laps(self) -> Reinforcement:
        if self.mesh_lap >= min(self.sheet_length, self.sheet_width) / 2:
            raise Clash(
                "mesh_lap", "laps take half of every sheet; give a shorter lap or larger sheets"
            )
        if self.bar_lap is not None and self.bar_lap >= self.bar_length:
            raise Clash("bar_lap", "the lap is as long as the bar; give a shorter lap or longer stock")
        return self


class Answer(Section):
    """[[answers]]: what an engineer answered to a check that the book leaves to one."""

    check: str = text("the title of the check, as calcbook check words it")
    by: str = text("the engineer who answered, with the license")
    date: str = text("day of the answer, such as 2026-10-01", check=read_day)
    words: str = text("the answer", longest=400)
