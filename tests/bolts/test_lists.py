"""Tape lists, schedule, order table, takeoff."""

import re

import pytest
from bolt_jobs import changed, frames, notes, one_wall, read, tape_lists
from server import NOTEBOOKS
from structure import job

from calcbook.basis.calculation import Table
from calcbook.bolts.lists import UNBOLTED, hold_downs_bought
from calcbook.book.chapters import Book, run
from calcbook.job.file import Job
from calcbook.paper.crew import crew_data
from calcbook.paper.crew import tape_lists as paper_lists
from calcbook.price.quote import Quote


@pytest.fixture(scope="module")
def made(demo):
    return run("bolts", demo)


def test_takeoff_and_price(made, demo):
    lines = {t.price: t for t in made.takeoff if t.kind == "material"}
    assert lines["bolt"].amount + lines["rod"].amount == made.results["bolts"]
    assert lines["rod"].amount == 3 and lines["epoxy"].amount == made.results["cartridges"] == 1
    hours = sum(t.amount.m_as("hour") for t in made.takeoff if t.kind == "labor")
    assert hours == pytest.approx(lines["bolt"].amount / 12 + 3 / 4)
    quote = Quote(demo, {"bolts": made})
    assert quote.complete


def test_hold_downs_are_counted_by_what_they_must_be_and_priced():
    """Two to each piece that names one; what is bought is one list with the bolts."""
    demo = Job.read(NOTEBOOKS / "demo.toml")
    made = run("bolts", demo)
    pieces = [p for wall in demo.walls for p in wall.braced]
    lines = {t.price: t.amount for t in made.takeoff}
    assert lines["hold_down"] == 2 * sum(p.hold_down is not None for p in pieces) > 0
    posts = sum(post.anchored for pad in demo.pads for post in pad.standing)
    assert (
        lines["hold_down_anchor"] == 2 * sum(p.anchor is not None for p in pieces) + posts > posts > 0
    )
    bought = hold_downs_bought(demo)
    assert sum(bought.values()) == lines["hold_down"] + lines["hold_down_anchor"]
    words = " ".join(f"{noun}, {kind}" for noun, kind in bought)
    assert "allowable tension 3,100 lbf" in words and "5/8 in., hexagonal head" in words


def test_hold_downs_of_an_inner_wall_are_priced_too():
    inner = {
        "name": "w", "place": "interior", "x1": "2 ft", "y1": "8 ft", "x2": "20 ft", "y2": "8 ft", "dead": "90 plf",
        "braced": [{"start": "0 ft", "length": "8 ft", "hold_down": "2000 lbf"}],
    }  # fmt: skip
    lines = {t.price: t.amount for t in run("bolts", job(walls=[inner])).takeoff}
    assert lines == {"hold_down": 2.0}


def test_a_tape_list_says_all_that_the_setter_needs(made):
    titles = list(tape_lists(made))
    assert titles[1] == (
        "Tape list, wall east: hold the tape on corner B, pull it towards C; cast, 2 3/4\" in from the slab's edge, "
        'top 2 7/8" above the concrete'
    )
    assert "corner D, pull it towards E; drill later" in titles[3]
    assert "inner faces of the forms meet" in notes(made)


def test_the_tape_runs_from_the_corner_and_steps_add_up(made):
    """Wall east starts 5-1/2 in. from corner B: its first bolt is at least 4-3/8 in. beyond that."""
    for title, frame in tape_lists(made).items():
        places = [read(t) for t in frame["On the tape"]]
        steps = [read(t) for t in frame["From the one before"][1:]]
        assert [b - a for a, b in zip(places, places[1:], strict=False)] == pytest.approx(steps)
        if "wall east" in title:
            assert places[0] >= 5.5 + 4.375
    assert list(next(iter(tape_lists(made).values()))["Bolt"]) == [str(n) for n in range(1, 15)]


def test_a_wall_that_starts_later_reads_that_much_more(demo):
    """The same wall, 3 ft further from its corner: every reading is 36 in. more."""
    near, far = (
        one_wall(demo, {"side": 1, "start": start, "end": end}, joints={"by_hand": True})
        for start, end in (("2 ft", "12 ft"), ("5 ft", "15 ft"))
    )
    a, b = ([read(t) for t in next(iter(tape_lists(c).values()))["On the tape"]] for c in (near, far))
    assert [y - x for x, y in zip(a, b, strict=True)] == [36] * len(a)


def test_metric_tape(demo):
    calc = run("bolts", demo.changed({"job.units": "si"}))
    title, frame = next(iter(tape_lists(calc).items()))
    assert "70 mm in from the slab's edge" in title
    assert all(re.fullmatch(r"[\d,]+ mm", t) for t in frame["On the tape"])


def test_moved_bolts_say_why(made):
    frame = next(iter(tape_lists(made).values()))
    words = list(frame["Why it stands there"])
    assert words[2] == 'even spacing, 5\'-4 3/4", is on a stud: moved 3 1/4"'
    assert words[1] == ""
    count = sum(bool(w) for f in tape_lists(made).values() for w in f["Why it stands there"])
    assert f"{count} bolts would meet a stud" in notes(made)


def test_bolts_beside_bars_say_so(demo):
    calc = one_wall(demo, {"bar_spacing": "50 in", "bar_start": "10 in"})
    words = " ".join(next(iter(tape_lists(calc).values()))["Why it stands there"])
    assert "tied beside a vertical bar" in words


def test_how_far_a_bolt_may_stray(made):
    """Own arithmetic, wall south, bolt 7 at 14'-11 7/8", centre: the stud at 14'-8" keeps it 2-3/8 in. off (half a stud and
    1-5/8 in.), the door at 15'-6" 4-5/8 in. (king, jack and 1-5/8 in.): 1-1/2 in. each way."""
    frame = next(iter(tape_lists(made).values()))
    row = frame.iloc[6]
    place = read(row["On the tape"])
    room = min(place - (14 * 12 + 8 + 2.375), (15 * 12 + 6 - 4.625) - place)
    assert read(row["May stray"]) == pytest.approx(room, abs=1 / 32)
    assert read(row["May stray"]) == 1.5
    assert all(read(t) >= 0 for f in tape_lists(made).values() for t in f["May stray"])


def test_schedule_and_order(made):
    """Own arithmetic: 46 cast, one of them more for a joint, and 3 drilled; rod 7 in. and 2.90 in. of stick-up."""
    schedule = frames(made)["Bolt schedule"]
    assert list(schedule.iloc[0]) == ["south", "14", "hooked bolt, 5/8 in.", '10"', '2 7/8"', '2 3/4"']
    assert list(schedule.iloc[3])[1:4] == ["3", "threaded rod, 5/8 in., bonded", '9 7/8"']
    order = [tuple(r) for r in frames(made)["To order for the bolts"].itertuples(index=False)]
    assert order == [
        ("46", 'hooked bolts, 5/8 in., 10" long, F1554 Grade 36'),
        ("3", 'threaded rods, 5/8 in., bonded, 9 7/8" long, F1554 Grade 36'),
        ("49", 'plate washers, 3" square, 0.229 in. thick'),
        ("49", "nuts, 5/8 in."),
        ("1", "adhesive cartridge, 22 fl oz each"),
    ]


def test_plates_of_two_plies_are_ordered_by_their_length(demo):
    calc = changed(demo, walls__0__plies=2)
    order = frames(calc)["To order for the bolts"]
    lengths = [w for w in order["What"] if "hooked" in w]
    assert len(lengths) == 2 and "1'-0\" long" in lengths[0]
    assert sum(int(n) for n in order["Number"][:3]) == calc.results["bolts"]


def test_cast_only_and_drilled_only(demo):
    cast, drilled = (one_wall(demo, {"method": m}) for m in ("cast", "drilled"))
    assert [t.price for t in cast.takeoff if t.kind == "material"] == ["bolt"]
    assert [t.price for t in drilled.takeoff if t.kind == "material"] == ["epoxy", "rod"]
    hours = [t.amount.m_as("hour") for t in drilled.takeoff if t.kind == "labor"]
    assert hours == pytest.approx([drilled.results["bolts"] / 4])


def test_the_anchors_of_hold_downs_stand_on_the_tape():
    """South: two pieces of 14 ft 8 in., from 0 and from 25 ft 4 in., anchors 4 in. inside each of their ends."""
    made = run("bolts", Job.read(NOTEBOOKS / "demo.toml"))
    frame = frames(made)["Anchors of hold-downs, from the same corners as the bolts"]
    assert list(frame.iloc[0]) == [
        "south", "A", '4"; 14\'-4"; 25\'-8"; 39\'-8"', "5/8 in.", '10"', '5 1/2"', '2 3/4"'
    ]  # fmt: skip


def test_a_wall_that_cannot_be_bolted_says_so_in_place_of_its_tape_list_on_the_crew_s_page_too():
    """A plate of 8 in. between a door and the wall's end, and a wall of which no piece takes two bolts."""
    walls = [
        {"name": name, "side": side, "height": "8 ft", "dead": "100 plf", "openings": doors}
        for name, side, doors in (
            ("one piece short", 1, [{"start": "20 ft", "width": "9 ft 4 in"}]),
            ("all short", 2, [{"start": "6 in", "width": "23 ft"}]),
        )
    ]
    book = Book(job(walls=walls))
    tables = {b.title: b for b in book.bolts.calculation.blocks if isinstance(b, Table)}
    assert [w["title"].partition(":")[0] for w in paper_lists(book)] == ["one piece short"]
    rows = [list(row) for row in tables[UNBOLTED].rows]
    assert [row[0] for row in rows] == ["one piece short", "all short", "all short"]
    assert all("two bolts" in row[1] and "cannot be bolted" in row[1] for row in rows)
    told = next(t for t in crew_data(book)["tables"] if t["title"] == UNBOLTED)
    assert told["rows"] == rows
