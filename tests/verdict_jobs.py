"""Jobs by which every check and caution of the book is seen both ways, and the file that keeps what they say.

``python tests/verdict_jobs.py`` writes ``book/verdicts.csv`` anew: of the demo every check with its verdict and clause
and every caution; of each change of the demo what is said that the demo does not say. Own output, frozen: a
verdict, a caution or a clause that changes shows there, line by line.
"""

import csv
import functools
import io
from collections.abc import Iterator
from pathlib import Path

from server import NOTEBOOKS

from calcbook.book.chapters import Book
from calcbook.book.registry import SUBJECTS
from calcbook.job.file import Job

WRITTEN = Path(__file__).parent / "book" / "verdicts.csv"
CHAPTERS = tuple(name for name in SUBJECTS if name != "laws")  # the laws ask nothing
COLUMNS = ("chapter", "job", "verdict", "check or caution", "clause")
_HOUR = {"air": "-20 F", "humidity": "50 %", "wind": "20 mph", "sky": "50 %"}
BITTER = [{"time": f"2026-10-{d} {h:02}:00", **_HOUR} for d in (27, 28) for h in range(24)]
HOT = [{"time": f"2026-10-27 {h:02}:00", **_HOUR, "air": "95 F", "humidity": "15 %"} for h in range(24)]
SLOW = {
    "date": "2026-01-15", "forecast": [{"time": f"2026-01-15 {h:02}:00", **_HOUR} for h in range(24)],
    "concrete_temperature": "35 F", "slowing": 3, "soil_temperature": "20 F",
}  # fmt: skip
# chapters that say something else, and the change of the demo
CHANGES = [
    ("base", {"base.compaction": "1.5 %"}),
    ("base", {"base.thickness": "0.4 in"}),
    ("base", {"slab.above_grade": "0 in", "base.thickness": "2 in"}),
    ("base", {"slab.above_grade": "40 in"}),
    ("base first_week joints reinforcement slab", {"slab.thickness": "24 in", "joints.spacing": "30 ft", "reinforcement.friction": 3.0, "reinforcement.wire": "6x6-W1.4xW1.4"}),
    ("bolts", {"bolts.bond_cracked": None, "bolts.bond_uncracked": None, "bolts.hole_temperature": "55 F"}),
    ("bolts", {"bolts.bond_cracked": None, "bolts.bond_uncracked": None, "bolts.hole_temperature": None}),
    ("bolts", {"bolts.bond_cracked": None, "bolts.bond_uncracked": None}),
    ("bolts", {"bolts.concrete_age": "2.8 d"}),
    ("bolts", {"bolts.depth": "17.5 in"}),
    ("bolts", {"bolts.depth": None}),
    ("bolts", {"bolts.hole": "0.075 in"}),
    ("bolts", {"bolts.hole_temperature": "4.5 F"}),
    ("bolts", {"bolts.hook": "1 in"}),
    ("bolts", {"bolts.least_edge": None}),
    ("bolts", {"bolts.load": "earthquake"}),
    ("bolts", {"bolts.torqued": True, "walls.0.edge_distance": "6.875 in", "walls.0.inset": "4 in", "walls.1.edge_distance": "6.875 in", "walls.1.inset": "4 in", "walls.2.edge_distance": "6.875 in", "walls.2.inset": "4 in", "walls.4.edge_distance": "6.875 in", "walls.4.inset": "4 in", "walls.5.edge_distance": "6.875 in", "walls.5.inset": "4 in"}),
    ("bolts", {"bolts.washer": "5 in", "walls.1.shear": "400 plf"}),
    ("bolts", {"concrete.strength": "1e+04 psi"}),
    ("bolts", {"design": {}}),
    ("bolts", {"design.seismic": "F"}),
    ("bolts", {"walls.0.edge_distance": "6.875 in."}),
    ("bolts", {"walls.0.openings": [{"start": "0 ft", "width": "9 ft"}, {"start": "9.5 ft", "width": "9 ft"}, {"start": "30.5 ft", "width": "9.5 ft"}], "walls.0.uplift": "1000 plf"}),
    ("bolts", {"walls.0.plies": 2}),
    ("bolts edges", {"bolts.torqued": True, "walls.0.uplift": "3000 plf"}),
    ("bolts edges loads", {"edge.width": "60 in", "edge.depth": "2 in", "walls.0.dead": "9000 plf"}),
    ("bolts edges loads", {"walls.1.braced": [{"start": "0 ft", "length": "4 ft", "hold_down": "100 lbf"}]}),
    ("bolts loads", {"walls.3.uplift": None}),
    ("edges bolts loads", {"walls.0.braced": [{"start": "0 ft", "length": "4 ft", "hold_down": "20000 lbf", "anchor": "1/2", "anchor_depth": "16 in"}], "walls.0.shear": "800 plf"}),
    ("mix", {"concrete.edge_exposure": "F3", "concrete.air": "6 %"}),
    ("reinforcement", {"reinforcement.kind": "bars", "reinforcement.bar_lap": "6 in"}),
    ("reinforcement", {"reinforcement.kind": "bars"}),
    ("reinforcement", {"reinforcement.support": "chairs"}),
    ("reinforcement", {"reinforcement.support": "ground"}),
    ("reinforcement", {"design.seismic": "D1", "edge.bars": 0}),
    ("reinforcement", {"design.seismic": "D1", "edge.bars": 2}),
    ("edges", {"answers": [{"check": "Sliding force of the building along y", "by": "I. Brandt", "date": "2026-10-01", "words": "Soil in front of the edge holds it."}]}),
    ("edges", {"soil.bearing": "200 psf"}),
    ("edges", {"walls.0.dead": None}),
    ("edges", {"walls.0.inset": "30 in", "walls.0.edge_distance": "32.75 in"}),
    ("edges", {"walls.1.braced": [{"start": "0 ft", "length": "16 ft", "hold_down": "9000 lbf"}], "walls.1.shear": "60 plf", "walls.1.uplift": "0 plf", "walls.1.dead": "10 plf"}),
    ("edges", {"walls.1.uplift": "4000 plf", "walls.1.braced": [{"start": "0 ft", "length": "4 ft", "hold_down": "900 lbf"}]}),
    ("edges loads", {"soil.frost_depth": None}),
    ("edges pads", {"soil.kind": None, "soil.bearing": None}),
    ("first_week", {"concrete.cement_content": None}),
    ("first_week", {"pour.concrete_temperature": "95 F", "pour.blanket": "2 in. foam board", "pour.blanket_days": "1 day", "slab.thickness": "24 in"}),
    ("first_week go mix", {"crew.place_rate": "0.25 yd3"}),
    ("first_week go pour_day", {"pour.date": None}),
    ("first_week go pour_day quote", {"pour": SLOW}),
    ("go", {"pour.soil_temperature": "30 F"}),
    ("go mix pour_day", {"pour.concrete_temperature": "95 F"}),
    ("go mix pour_day", {"pour.concrete_temperature": "100 F"}),
    ("go pour_day", {"pour.concrete_temperature": None}),
    ("go pour_day", {"pour.concrete_temperature": None, "pour.forecast": HOT, "crew.place_rate": "0.8 yd3"}),
    ("go pour_day", {"pour.concrete_temperature": "90 F", "pour.forecast": HOT, "crew.place_rate": "1 yd3", "pour.empty_rate": "4 yd3/h", "crew.size": 8}),
    ("go pour_day", {"pour.truck_spacing": "240 min"}),
    ("first_week go", {"pour.concrete_temperature": "50 F"}),
    ("mix", {"pour.concrete_temperature": "55 F"}),
    ("joints", {"joints.by_hand": True}),
    ("joints", {"joints.spacing": "10 ft"}),
    ("joints", {"between": [{"beside": "apron", "kind": "doweled"}]}),
    ("joints", {"between": [{"beside": "apron", "kind": "doweled", "dowel": "1 in"}], "slabs.0.above_grade": "3 in"}),
    ("joints", {"between": [{"beside": "apron", "kind": "keyed"}]}),
    ("joints", {"between": [{"beside": "apron", "kind": "keyed"}], "slab.thickness": "6 in"}),
    ("joints", {"walls": [], "corners": [{"corner": "A", "cut": "8 ft"}], "joints.by_hand": True, "joints.lines": [{"y": "4 ft"}]}),
    ("loads", {"walls.3.bolted": False}),
    ("loads", {"walls.3.height": None}),
    ("mix", {"concrete.air": "6 %"}),
    ("mix", {"concrete.exposure": "F2", "concrete.air": "6 %", "concrete.w_cm": 0.44, "concrete.strength": "4500 psi"}),
    ("mix", {"concrete.exposure": "F2"}),
    ("mix", {"concrete.slump": "9 in"}),
    ("mix", {"concrete.water_temperature": "190 F"}),
    ("pads", {"pads.0.x": "1.4 ft"}),
    ("pads", {"joints.isolate": False, "joints.by_hand": True, "joints.lines": [{"x": "14 ft"}, {"x": "26 ft"}], "slab.plate": False}),
    ("pads", {"pads.1.x": "16 ft", "pads.1.y": "14 ft", "pads.1.dead": "30000 lbf"}),
    ("pads", {"pads.0.length": "84 in", "pads.0.offset_x": "-24 in", "pads.0.uplift": "1500 lbf", "pads.0.posts": [{"name": "P1b", "dead": "9000 lbf", "offset_x": "24 in"}]}),
    ("pads", {"pads.0.length": "84 in", "pads.0.offset_x": "-24 in", "pads.0.depth": "4 in", "pads.0.posts": [{"name": "P1b", "dead": "90000 lbf", "uplift": "9000 lbf", "offset_x": "24 in"}]}),
    ("pads", {"pads.0.length": "84 in", "pads.0.depth": "16 in", "pads.0.offset_x": "-20 in", "pads.0.uplift": "100 lbf", "pads.0.posts": [{"name": "P1b", "dead": "3000 lbf", "offset_x": "20 in"}]}),
    ("pads", {"pads.0.length": "84 in", "pads.0.depth": "4 in", "pads.0.offset_x": "-38 in", "pads.0.uplift": "100 lbf", "pads.0.posts": [{"name": "P1b", "dead": "90000 lbf", "offset_x": "4 in"}]}),
    ("edges", {"edge.bars": 4, "edge.bar": "#5"}),
    ("edges", {"edge.bars": 0}),
    ("edges", {"edge.bars": 0, "walls.0.uplift": "900 plf"}),
    ("bolts pads", {"pads.0.uplift": "1500 lbf", "pads.0.hold_down": "2500 lbf", "pads.0.anchor": "5/8", "pads.0.anchor_depth": "5 in"}),
    ("bolts pads", {"pads.0.uplift": "9000 lbf", "pads.0.hold_down": "2500 lbf", "pads.0.anchor": "5/8", "pads.0.anchor_depth": "13 in"}),
    ("bolts", {"pads.3.hold_down": "900 lbf", "pads.3.anchor": "5/8", "pads.3.anchor_depth": "14 in"}),
    ("bolts", {"pads.3.shear": "300 lbf"}),
    ("bolts", {"pads.3.shear": "9000 lbf", "pads.3.anchor_apart_x": "5 in"}),
    ("bolts joints", {"joints.lines": [{"x": "15.1 ft"}]}),
    ("edges", {"joints.lines": [{"y": "3 ft"}]}),
    ("pads", {"pads.0.length": "84 in", "pads.0.offset_x": "32 in", "pads.0.posts": [{"name": "P1b", "dead": "1 lbf", "offset_x": "-24 in"}]}),
    ("pads", {"pads.0.length": "84 in", "pads.0.offset_x": "30 in", "pads.0.offset_y": "12 in", "pads.0.posts": [{"name": "P1b", "dead": "1 lbf"}]}),
    ("pads", {"pads.0.length": "84 in", "pads.0.offset_x": "-38 in", "pads.0.posts": [{"name": "P1b", "dead": "6000 lbf", "offset_x": "38 in"}]}),
    ("pads", {"pads.3.posts": [{"name": "beside it", "dead": "900 lbf", "offset_y": "20 in"}]}),
    ("pads", {"pads.3.posts": [{"name": "beside it", "dead": "900 lbf", "offset_y": "20 in"}], "walls.5.dead": None}),
    ("slab", {"walls.6.x1": "10 ft", "walls.6.y1": "11 ft", "walls.6.x2": "18 ft", "walls.6.y2": "11 ft", "walls.6.points": [{"name": "beam", "at": "4 ft", "dead": "900 lbf"}]}),
    ("slab", {"walls.6.x1": "14 ft", "walls.6.y1": "9 ft", "walls.6.x2": "24 ft", "walls.6.y2": "9 ft", "walls.6.points": [{"name": "beam", "at": "4 ft", "dead": "9000 lbf"}]}),
    ("pads", {"soil.bearing": "1400 psf"}),
    ("pads", {"walls.5.dead": "3000 plf"}),
    ("pads", {"pads.1.x": "21.3 ft"}),
    ("pads", {"pads.3.dead": None}),
    ("pads", {"pads.3.depth": "1.3 in"}),
    ("pads", {"pads.3.y": "1.4 ft"}),
    ("pads", {"walls.6.strip_width": "16 in", "walls.6.strip_depth": "8 in", "walls.6.x1": "10 ft", "walls.6.y1": "14 ft", "walls.6.x2": "20 ft", "walls.6.y2": "14 ft"}),
    ("reinforcement", {"reinforcement.kind": "macro fiber", "reinforcement.wire": None, "reinforcement.macro_dosage": "1.5 lb/yd3"}),
    ("reinforcement", {"reinforcement.kind": "macro fiber", "reinforcement.wire": None, "reinforcement.residual": "20 psi"}),
    ("reinforcement", {"reinforcement.kind": "macro fiber", "reinforcement.wire": None, "reinforcement.residual": "300 psi", "reinforcement.ratio": "40 %"}),
    ("reinforcement", {"reinforcement.kind": "steel fiber", "reinforcement.wire": None}),
    ("reinforcement", {"reinforcement.mesh_lap": "3 in"}),
    ("reinforcement slab", {"vehicle.axle": "9000 lbf"}),
    ("retarder", {"retarder.lap": "5.95 in"}),
    ("retarder", {"slab.points": [["0 ft", "0 ft"], ["40 ft", "0 ft"], ["40 ft", "28 ft"], ["21 ft", "28 ft"], ["21 ft", "20 ft"], ["19 ft", "20 ft"], ["19 ft", "28 ft"], ["0 ft", "28 ft"]], "openings": [], "edges": [], "pads": [], "walls": [], "posts": []}),
    ("slab", {"posts.0.load": "40000 lbf"}),
    ("slab", {"posts.0.load": None}),
    ("slab", {"posts.0.place": "corner", "posts.0.plate_length": "30 in", "posts.0.plate_width": "30 in"}),
    ("slab", {"soil.moisture": "45 %"}),
    ("slab", {"vehicle.transfer": "20 %"}),
    ("joints", {"vehicle.transfer": "20 %", "slab.thickness": "8 in"}),
    ("slab", {"walls.6.dead": "4000 plf"}),
    ("slab", {"walls.6.dead": None, "walls.6.live": None}),
    ("volume", {"concrete.waste": "0.8 %"}),
    ("volume", {"slab.points": [["0 ft", "0 ft"], ["8 ft", "0 ft"], ["8 ft", "8 ft"], ["0 ft", "8 ft"]], "openings": [], "edges": [], "pads": [], "walls": [], "posts": [], "prices.short_load_fee": None, "edge": {}, "pour.pump": False}),
    ("first_week", {"slab.covering": "epoxy"}),
    ("first_week", {"slab.covering": "large tile"}),
    ("first_week", {"slab.covering": "bare", "crew.passes": 1}),
    ("first_week", {"slab.covering": "bare", "crew.passes": 4}),
    ("reinforcement", {"reinforcement.kind": "bars", "reinforcement.wire": None}),
    ("reinforcement", {"reinforcement.kind": "bars", "reinforcement.wire": None, "reinforcement.bar_lap": "6 in"}),
    ("slab", {"posts.0.place": "corner", "posts.0.plate_length": "40 in", "posts.0.plate_width": "40 in", "slab.plate": False}),
    ("volume", {"curbs": [{"side": 2, "height": "6 in", "width": "6 in"}]}),
    ("volume", {"curbs": [{"kind": "stem wall", "side": 2, "height": "40 in", "width": "6 in", "retains": "30 in"}]}),
    ("volume", {"curbs": [{"kind": "steps", "side": 2, "start": "4 ft", "end": "8 ft", "height": "7 in", "width": "12 in", "count": 2}]}),
    ("volume", {"curbs": [{"kind": "steps", "side": 2, "start": "4 ft", "end": "8 ft", "height": "9 in", "width": "8 in", "count": 2}]}),
]  # fmt: skip
# the plate takes long: a small slab stands for the demo
SMALL = {
    "slab": {"length": "9 ft", "width": "9 ft", "thickness": "4 in"}, "soil": {"bearing": "2000 psf"},
    "posts": [{"name": "post", "load": "1500 lbf", "place": "inside", "x": "4.5 ft", "y": "4.5 ft"}],
    "walls": [{"name": "south", "side": 1, "dead": "100 plf", "uplift": "60 plf", "shear": "50 plf", "shear_out": "50 plf"}],
}  # fmt: skip
PLATES = [
    {"posts.0.load": "60000 lbf"},
    {"soil.bearing": None},
    {"walls.0.uplift": "3000 plf"},
    {"slab.plate": False},
]


@functools.cache
def base(chapter: str) -> Job:
    """The job that the changes of a chapter start from."""
    return Job(SMALL) if chapter == "plate" else Job.read(NOTEBOOKS / "demo.toml")


def said(book: Book, chapter: str) -> list[tuple[str, str, str]]:
    """(verdict, title, clause) of every check of a chapter, and its cautions by their first words."""
    calc = book.calculation(chapter)
    checks = [(c.status, c.title, str(c.clause)) for c in calc.checks]
    return [*checks, *(("caution", words[:70], "") for words in calc.cautions)]


def rows(chapter: str) -> Iterator[tuple[str, ...]]:
    """The lines of a chapter."""
    first = Book(base(chapter))
    known = said(first, chapter)
    yield from ((chapter, "", *line) for line in known)
    changes = PLATES if chapter == "plate" else [c for names, c in CHANGES if chapter in names.split()]
    for change in changes:
        book = first.changed(change)
        words = ", ".join(f"{place} = {value}" for place, value in change.items())
        new = [line for line in said(book, chapter) if line not in known]
        yield from ((chapter, words[:80], *line) for line in dict.fromkeys(new))


def written() -> list[tuple[str, ...]]:
    """The lines of the file."""
    with WRITTEN.open(encoding="utf-8", newline="") as file:
        return [tuple(row) for row in csv.reader(file)][1:]


def main() -> None:
    """Write the file anew."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for chapter in CHAPTERS:
        writer.writerows(rows(chapter))
    WRITTEN.write_text(out.getvalue(), encoding="utf-8")


if __name__ == "__main__":
    main()
