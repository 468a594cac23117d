"""The slab of a job as a plate: two jobs unlike the demo, what they bring, and what the papers say of them."""

import html
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from calcbook.basis.calculation import NEEDS_ENGINEER, NOT_OK, OK, UNKNOWN
from calcbook.book.chapters import Book
from calcbook.job.file import Job
from calcbook.loads.closing import combination
from calcbook.loads.path import on_plate
from calcbook.paper.printout import chapter_data
from calcbook.plate import worked as working
from calcbook.plate.chapter import plate_of_job
from calcbook.plate.front import prepared
from calcbook.plate.model import Patch, PlateError, force_on
from calcbook.plate.worked import stress, worst_stress

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"
GARAGE = {
    "slab": {"length": "20 ft", "width": "22 ft", "thickness": "4 in"},
    "soil": {"kind": "sand", "k": "100 pci"},
    "vehicle": {"axle": "3500 lbf", "tire_pressure": "35 psi"},
}
SHED = {  # SI, a notch, a pad in one piece with the slab, a post on it, walls that lift
    "job": {"units": "si"},
    "slab": {
        "points": [["0 m", "0 m"], ["7 m", "0 m"], ["7 m", "3 m"], ["4 m", "3 m"], ["4 m", "5 m"], ["0 m", "5 m"]],
        "thickness": "150 mm",
    },
    "soil": {"bearing": "90 kPa"},
    "edge": {"depth": "250 mm", "width": "300 mm"},
    "joints": {"isolate": False},
    "pads": [{"name": "P", "x": "2 m", "y": "2.5 m", "length": "700 mm", "width": "700 mm", "depth": "200 mm",
              "dead": "20 kN", "roof": "15 kN"}],
    "posts": [{"name": "rack", "load": "6 kN", "x": "5.5 m", "y": "1.2 m", "place": "inside"}],
    "walls": [
        {"name": "long", "side": 1, "dead": "5 kN/m", "roof": "6 kN/m", "uplift": "4 kN/m", "uplift_is": "gross",
         "openings": [{"start": "2 m", "width": "2.4 m"}]},
        {"name": "back", "side": 5, "dead": "5 kN/m", "roof": "6 kN/m", "uplift": "4 kN/m", "uplift_is": "gross"},
    ],
}  # fmt: skip


@pytest.fixture(scope="module")
def garage():
    return Book(Job(GARAGE))


@pytest.fixture(scope="module")
def shed():
    return Book(Job(SHED))


def plate_job_of(job):
    """What is put on the plate of a job, without working it out."""
    book = Book(job)
    return plate_of_job(book.job, book.path, book.joint_plan, book.slab)


def by_question(calculation):
    return {check.title: check for check in calculation.checks}


# --- answers -------------------------------------------------------------------------------------


@pytest.mark.parametrize("axle", ["3000 lbf", "4000 lbf"])
def test_a_car_on_a_4_in_slab_gets_an_answer_also_at_a_corner(axle):
    """c/l is over 0.3 there, where the corner formula of TRR 1043 ends."""
    book = Book(Job(GARAGE | {"vehicle": GARAGE["vehicle"] | {"axle": axle}}))
    asked = [*book.slab.calculation.checks, *book.plate.calculation.checks]
    assert NEEDS_ENGINEER not in {check.status for check in asked}
    corner = by_question(book.plate.calculation)[
        "Bending stress of the plate under the wheel at a corner"
    ]
    assert corner.status in (OK, NOT_OK) and corner.ratio > 0.1
    assert any("c/l" in getattr(block, "words", "") for block in book.slab.calculation.blocks)


def test_the_greatest_stress_is_within_2_per_cent_of_a_mesh_twice_as_fine(garage):
    most = garage.plate_worked.bends_most
    fine = prepared(most.plate, most.case.loads, finer=2).solve(most.case)
    reading = worst_stress(most)
    there = fine.at([reading.x], [reading.y])
    found = float((there.bottom if reading.what.endswith("bottom") else there.top)[0])
    assert reading.value == pytest.approx(found, rel=0.02)


def test_every_case_is_in_balance(garage, shed):
    for book in (garage, shed):
        for result in book.plate_worked.cases:
            assert result.unbalanced < 1e-8


def test_soft_soil_bends_the_slab_of_a_wheel_more_than_firm_soil(garage):
    by_k = {n: stress(result) for n, result in garage.plate_worked.spread}
    assert set(by_k) == {0.5, 1.0, 2.0} and by_k[0.5] > by_k[2.0]


# --- loads ---------------------------------------------------------------------------------------


def force(load):
    if isinstance(load, Patch):
        return load.force
    (a, b), (c, d) = load.line
    return load.load * ((c - a) ** 2 + (d - b) ** 2) ** 0.5


def test_what_the_load_path_brings_stands_on_the_plate_in_each_combination(shed):
    job = shed.plate_worked.job
    for case in (job.down, job.lift):
        on = sum(on_plate(b.model, combination(case.name)).total for b in shed.path.walls)
        walls = [load for load in case.loads if load.name.split(",")[0] in ("long", "back")]
        assert sum(map(force, walls)) == pytest.approx(-on, rel=1e-9)
    posts = {load.name: load.force for load in job.down.loads if load.name in ("P", "rack")}
    assert job.down.name == "D + S"
    assert posts["P"] == pytest.approx(35 / 0.00444822, rel=1e-4)  # 35 kN in lbf
    assert posts["rack"] == pytest.approx(6 / 0.00444822, rel=1e-4)


def test_a_wall_stands_on_the_middle_of_its_plate(shed):
    line = next(load.line for load in shed.plate_worked.job.down.loads if load.name == "long")
    assert [y for _, y in line] == [pytest.approx(2.75 / 12)] * 2


def test_an_isolated_pad_is_an_opening_and_one_in_one_piece_thick_and_loaded(shed):
    alone = plate_job_of(shed.job.changed({"joints.isolate": True}))
    whole = shed.plate_worked.job
    assert {r.name for r in whole.plate.regions} == {"thickened edge", "P"} and not whole.plate.openings
    assert {r.name for r in alone.plate.regions} == {"thickened edge"}
    assert len(alone.plate.openings) == 1
    assert "P" not in {load.name for load in alone.down.loads}
    assert any(words.startswith("P: an isolation joint") for words in alone.told)


def test_what_has_no_place_or_no_load_is_told(garage):
    job = garage.job.changed({
        "walls": [{"name": "inner", "place": "interior", "dead": "200 plf"}, {"name": "front", "side": 1}],
        "posts": [{"name": "leg", "load": "500 lbf"}],
    })  # fmt: skip
    words = " ".join(plate_job_of(job).told)
    assert all(name in words for name in ("inner", "front", "leg"))


def test_what_stands_on_all_of_the_slab_and_its_weight_are_what_the_ground_gives(shed):
    """So what the slab takes of a load on its edge is what the ground under the edge does not give."""
    down = shed.plate_worked.down
    slab = down.plate.slab
    on = sum(force_on(load, slab, slab) for load in down.case.loads)
    assert on + down.weight_of(slab) == pytest.approx(down.soil_under(slab), rel=1e-3)
    words = [getattr(block, "words", "") for block in shed.plate.calculation.blocks]
    assert any(
        "on the thickened edge, walls and posts together. The slab beside takes" in w for w in words
    )


# --- what is said --------------------------------------------------------------------------------


def test_page_and_printout_say_the_same(shed):
    calculation = shed.plate.calculation
    page, paper = html.unescape(calculation._repr_html_()), chapter_data(calculation, 1)
    assert [c["claim"] for c in paper["checks"]] == [c.claim for c in calculation.checks]
    for check in paper["checks"]:
        assert all(check[part] in page for part in ("claim", "status"))
    for table in (block for block in paper["blocks"] if block["kind"] == "table"):
        assert all(cell in page for row in table["rows"] for cell in row[:2])


def test_both_ways_stand_side_by_side_with_the_numbers_of_their_chapters(shed):
    table = shed.plate.calculation.blocks
    rows = next(b for b in table if getattr(b, "title", "").startswith("Both ways")).rows
    pad = next(row for row in rows if "pad P" in row[0])
    checked = by_question(shed.pads.calculation)["Bearing pressure under pad P"]
    assert pad[1] == checked.demand and pad[3] == "hand"
    assert pad[4].startswith("The slab carries a part of the load away")


def test_an_uplift_that_is_more_than_all_weight_is_not_ok(shed):
    heavy = {f"walls.{n}.uplift": "60 kN/m" for n in (0, 1)}
    found = by_question(Book(shed.job.changed(heavy)).plate.calculation)
    check = found["Safety factor against uplift, all walls and posts at once"]
    assert check.status == NOT_OK and "uplift" in check.remark


def test_a_plate_that_cannot_be_worked_out_says_so(garage, monkeypatch):
    # an axle of its own, as a plate that was worked out before is known
    def refuse(*_):
        raise PlateError("plate: no balance was found.")

    monkeypatch.setattr(working, "_worked", refuse)
    (check,) = Book(garage.job.changed({"vehicle.axle": "3510 lbf"})).plate.calculation.checks
    assert check.status == UNKNOWN and check.to_do == "plate: no balance was found."


def test_one_that_is_not_asked_for_or_bears_nothing_is_not_run(garage, monkeypatch):
    monkeypatch.setattr(working, "_worked", None)  # would fail if it were called
    for changes in ({"slab.plate": False}, {"vehicle.axle": None}):
        calculation = Book(garage.job.changed(changes)).plate.calculation
        assert not calculation.checks and not calculation.figures
        said = Book(garage.job.changed(changes)).left_out
        assert ("plate = false" in said) == ("slab.plate" in changes)
        assert "no plate is worked out" in calculation.blocks[-1].words or "none is worked out" in (
            calculation.blocks[-1].words
        )


# --- cost ----------------------------------------------------------------------------------------


def test_a_quote_and_an_order_load_no_plate():
    script = (
        "import sys\nfrom calcbook.job.file import Job\nfrom calcbook.book.chapters import Book\n"
        f"book = Book(Job.read({str(NOTEBOOKS / 'demo.toml')!r}))\n"
        "book.quote.text(), book.quote.order.text(), book.priced_checks\n"
        "begun = {'calcbook.plate', 'calcbook.plate.begun'}\n"
        "print([m for m in sys.modules if m.startswith('calcbook.plate') and m not in begun or m == 'scipy.sparse'])"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_it_is_worked_out_again_only_where_it_may_change(garage):
    before = garage.plate_worked
    assert garage.changed({"prices.wage": "$50 / h"}).plate_worked is before
    assert garage.changed({"pour.haul": "45 min"}).plate_worked is before
    assert garage.changed({"slab.thickness": "5 in"}).plate_worked is not before


def test_a_larger_slab_gets_wider_elements(garage):
    plate = garage.plate_worked.job.plate
    wide = replace(plate, outlines=(plate.outlines[0].buffer(200, join_style="mitre"),))
    assert working.element(wide) > working.element(plate)
