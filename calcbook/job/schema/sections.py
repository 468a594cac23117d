"""The sections of a job file: every field with its unit, meaning, limits, default and reason.

Only data stands here; ``job/fields.py`` says how a field is declared, ``job/file.py`` reads and saves job files.
"""

from __future__ import annotations

from pydantic import Field, model_validator

from calcbook.basis.table import table
from calcbook.basis.units import Q, Quantity, UnitError
from calcbook.job.clock import no_clock
from calcbook.job.fields import (
    PRACTICE,
    Clash,
    Section,
    entries,
    pick,
    points,
    quantity,
    section,
    text,
    yes_no,
)
from calcbook.job.schema.between import MAIN, Between
from calcbook.job.schema.bolts import Bolts
from calcbook.job.schema.corners import Corner
from calcbook.job.schema.curbs import Curb
from calcbook.job.schema.design import Design
from calcbook.job.schema.edges import Edge, Lowered, SideEdge
from calcbook.job.schema.ground import Base, Retarder
from calcbook.job.schema.openings import Opening
from calcbook.job.schema.pads import Pad
from calcbook.job.schema.posts import Post
from calcbook.job.schema.pour import Crew, Pour
from calcbook.job.schema.prices import Prices, Supplier, Terms
from calcbook.job.schema.risk import Risk
from calcbook.job.schema.slope import Slope
from calcbook.job.schema.structure import Answer, Joints, Reinforcement, Soil, Vehicle
from calcbook.job.schema.walls import Wall

COVERINGS = tuple(row["kind"] for row in table("toppings"))


class JobInfo(Section):
    """[job]: what it is called, for whom and where, its date, and the units shown."""

    name: str = text("name of the job", "Unnamed slab", "no name given")
    address: str = text("where the slab is", "", "no address given")
    client: str = text("who pays", "", "no client given")
    preparer: str = text("who prepared this calculation", "", "no preparer given")
    contact: str = text("who answers the phone on pour day", "", "no contact given")
    date: str = text("date of the calculation", "", "no date given", check=no_clock)
    units: str = pick(
        "units shown", ("us", "si"), "us", "US customary units are the book's default",
        also={"METRIC": ("si", ""), "IMPERIAL": ("us", ""), "INCH": ("us", "")},
    )  # fmt: skip
    own: str = text(
        "file of your own that fills what is left out: yes for the usual one, or its path",
        "",
        "none named",
    )
    revision: str = text("revision mark, such as A", "", "no mark given", longest=20)
    note: str = text("a remark for the cover", "", "no remark", longest=400)


class Slab(Section):
    """[slab]: sides or corner points, thickness, and height above the ground."""

    name: str = text("name of the slab, where a job has several", "", MAIN, longest=60)
    x: Quantity | None = quantity(
        "ft", "lower left corner of a rectangular slab, along x", None, "0 ft", low=-1000, high=1000
    )
    y: Quantity | None = quantity(
        "ft", "lower left corner of a rectangular slab, along y", None, "0 ft", low=-1000, high=1000
    )
    length: Quantity | None = quantity(
        "ft", "length of a rectangular slab (x)", None, above=0, high=1000
    )
    width: Quantity | None = quantity("ft", "width of a rectangular slab (y)", None, above=0, high=1000)
    section_line: list | None = points(
        "both ends of a line along which the plate is shown in section", None
    )
    points: list | None = points("corner points of the outline, in order around it", None)
    thickness: Quantity = quantity(
        "in", "slab thickness", "4 in", f"usual house slab; {PRACTICE}", low=3.5, high=24, si="100 mm"
    )
    above_grade: Quantity = quantity(
        "in", "top of slab above the ground", "6 in", PRACTICE, low=0, high=48, si="150 mm"
    )
    covering: str | None = pick(
        "what comes on top of it, for its flatness and drying", COVERINGS, None, "none named"
    )
    plate: bool = yes_no("slab, work it out as a plate too", True, "the whole plan with all its loads")

    @model_validator(mode="after")
    def _one_shape(self) -> Slab:
        given = self.length is not None, self.width is not None
        what = "[slab]" if type(self) is Slab else f"slab {self.name!r}"
        if self.points is None and given != (True, True):
            raise UnitError(f"{what} needs length and width, or points")
        if self.points is not None and any(given):
            raise UnitError(f"{what} has both points and length or width; keep one of the two")
        ends = self.section_line
        if ends is not None and (len(ends) != 2 or ends[0] == ends[1]):
            raise Clash(
                "section_line",
                "a section is along a line between two places: give both ends, [x, y] each",
            )
        placed = next((key for key in ("x", "y") if key in self.model_fields_set), None)
        if self.points is not None and placed:
            raise Clash(placed, "points say where the slab lies: leave x and y out")
        return self

    @property
    def called(self) -> str:
        """Its name."""
        return self.name or MAIN

    @property
    def corner(self) -> tuple[Quantity, Quantity]:
        """Lower left corner of a rectangular slab."""
        return tuple(Q(0.0, "ft") if at is None else at for at in (self.x, self.y))  # type: ignore[return-value]


class Concrete(Section):
    """[concrete]: what is ordered, and how much over."""

    strength: Quantity = quantity(
        "psi", "specified strength f'c", "3000 psi",
        "IRC Table R402.2: 2,500 psi is the least for an interior slab; 3,000 psi is usual", low=2500, high=10000, si="21 MPa",
    )  # fmt: skip
    slump: Quantity = quantity(
        "in",
        "slump ordered",
        "4 in",
        "3 to 5 in. is usual (read in a reprint)",
        low=1,
        high=9,
        si="100 mm",
    )
    air: Quantity = quantity(
        "1",
        "entrained air ordered",
        "0 %",
        "interior troweled floor, no entrained air",
        low=0,
        high=0.1,
    )
    aggregate: Quantity = quantity(
        "in", "largest size of aggregate", "3/4 in", PRACTICE, low=0.375, high=1.5, si="20 mm"
    )
    w_cm: Quantity | None = quantity(
        "1",
        "water-cement ratio by mass",
        None,
        "by the strength, ACI 211.1",
        ratio=True,
        low=0.3,
        high=0.8,
    )
    cement: str = pick("type of cement", ("I", "II", "III", "V"), "I", PRACTICE)
    cement_content: Quantity | None = quantity(
        "lb/yd3", "cementitious content", None, "by mixing water and w/cm, ACI 211.1", low=300, high=1000,
    )  # fmt: skip
    fly_ash: Quantity = quantity(
        "1", "fly ash, share of the cementitious mass", "0 %", "plain cement", low=0, high=0.5
    )
    aggregate_temperature: Quantity | None = quantity(
        "degF", "aggregate at the plant", None, "ask the producer", low=33, high=130
    )
    cement_temperature: Quantity | None = quantity(
        "degF", "cement at the plant", None, "ask the producer", low=20, high=200
    )
    water_temperature: Quantity | None = quantity(
        "degF", "mixing water at the plant", None, "ask the producer", low=33, high=200
    )
    exposure: str = pick(
        "exposure to freezing, ACI 318 class", ("F0", "F1", "F2", "F3"), "F0", "inside a building"
    )
    edge_exposure: str | None = pick(
        "exposure of the edge outdoors, ACI 318 class", ("F0", "F1", "F2", "F3"), None, "not said"
    )
    waste: Quantity = quantity(
        "1", "allowance for waste, spread of forms and over-digging", "8 %",
        "8 % for slabs (textbook, read in a reprint)", low=0, high=0.5,
    )  # fmt: skip
    order_step: Quantity = quantity(
        "yd3", "step in which concrete is sold", "0.25 yd3", PRACTICE, above=0, high=2, si="0.25 m3"
    )
    short_risk: Quantity = quantity(
        "1", "accepted risk of coming up short", "5 %", "one pour in twenty", above=0, below=0.5
    )


class FurtherSlab(Slab):
    """[[slabs]]: another slab of the job, on the same plan. Its own edge, openings, pads, walls and so on stand in
    sections of their own, such as [slabs.edge] and [[slabs.pads]]; soil, base, concrete, joints, reinforcement,
    retarder, bolts and pour are those of the job, but for what [slabs.base] and so on say."""

    name: str = text(
        "name of the slab; below it [slabs.edge], [[slabs.pads]] and so on say what is its own",
        longest=60,
    )
    driven: bool = yes_no("slab, the vehicle of the job drives on it", True, "the safer reading")
    corners: list[Corner] = entries("its round and cut corners", 100)
    openings: list[Opening] = entries("holes in it", 200)
    slope: Slope = section("fall of its top")
    edge: Edge = section("its thickened edge")
    edges: list[SideEdge] = entries("its single sides", 500)
    ledges: list[Lowered] = entries("its door sills and brick ledges", 200)
    curbs: list[Curb] = entries("its curbs, stem walls and steps", 100)
    pads: list[Pad] = entries("its pads", 200)
    posts: list[Post] = entries("posts on it", 200)
    walls: list[Wall] = entries("walls on it", 300)
    soil: Soil = section("where its ground differs")
    base: Base = section("where its base differs")
    concrete: Concrete = section("where its concrete differs")
    joints: Joints = section("where its joints differ")
    reinforcement: Reinforcement = section("where its reinforcement differs")
    retarder: Retarder = section("where its retarder differs")
    bolts: Bolts = section("where its bolts differ")
    pour: Pour = section("where its pour differs, such as the day")
    answers: list[Answer] = entries("what an engineer answered about it", 100)


class JobFile(Section):
    """The whole job file."""

    job: JobInfo = section("who, where, when")
    design: Design = section("design basis: code, wind, snow, earthquake, soils report")
    slab: Slab = Field(description="outline and thickness")
    corners: list[Corner] = entries("round and cut corners of the outline", 100)
    openings: list[Opening] = entries("holes in the slab", 200)
    slope: Slope = section("fall of the top")
    edge: Edge = section("thickened edge")
    edges: list[SideEdge] = entries("edges of single sides", 500)
    ledges: list[Lowered] = entries("door sills and brick ledges", 200)
    curbs: list[Curb] = entries("curbs, stem walls and steps", 100)
    pads: list[Pad] = entries("pads under posts", 200)
    posts: list[Post] = entries("posts on the bare slab: shelves, machines", 200)
    soil: Soil = section("the ground below")
    vehicle: Vehicle = section("a vehicle on the slab")
    base: Base = section("stone base and digging")
    concrete: Concrete = section("what is ordered")
    joints: Joints = section("control joints")
    reinforcement: Reinforcement = section("fiber, mesh or bars")
    retarder: Retarder = section("vapor retarder")
    walls: list[Wall] = entries("walls on the slab: place, loads, openings, bolts", 300)
    bolts: Bolts = section("sill bolts")
    pour: Pour = section("the day of the pour")
    crew: Crew = section("people and their rates")
    prices: Prices = section("prices and percentages")
    terms: Terms = section("what the client's page says beside the price")
    suppliers: list[Supplier] = entries("who delivers what, and their telephones", 40)
    answers: list[Answer] = entries("what an engineer answered", 100)
    slabs: list[FurtherSlab] = entries("further slabs of the job", 12)
    between: list[Between] = entries("joints between slabs that touch", 60)
    risk: Risk = section("spreads, for the odds on the price")

    @property
    def bolted_walls(self) -> list[Wall]:
        """The walls whose plates are bolted down along a side of the slab."""
        return [wall for wall in self.walls if wall.side is not None and wall.bolted]
