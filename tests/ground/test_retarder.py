"""Vapor retarder: tape, rolls, the code's lap, and the calculation of a job."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.basis.calculation import NOT_OK, OK, Table
from calcbook.basis.table import lookup
from calcbook.basis.units import Q
from calcbook.book.chapters import run
from calcbook.ground.retarder import sheet_area, sheet_waste, tape_length, tape_rolls
from calcbook.job.file import Job, JobError
from calcbook.plan.sheet_edge import FLAT


@pytest.mark.form("vapor retarder specification", "tape for joints and penetrations", "tape_length")
@pytest.mark.worked("tape_rolls")
def test_tape_by_hand():
    assert tape_length("58 ft", "18 ft").m == pytest.approx(76)
    assert tape_rolls("180 ft") == 1
    assert tape_rolls("180.1 ft") == 2
    assert tape_rolls("0 ft") == 0
    assert tape_rolls("100 ft", "40 ft") == 3


@pytest.mark.worked("sheet_area", "sheet_waste")
def test_sheet_bought_and_wasted():
    assert sheet_area(2.0, "14 ft", "140 ft").m == pytest.approx(3920)
    assert sheet_waste("2000 ft2", "1900 ft2").m == pytest.approx(5)
    # 10 ft sheets, 6 in. laps: of 10 ft of width bought, 9.5 ft cover anew
    assert sheet_waste("10 ft2", "9.5 ft2").m == pytest.approx(5)


@settings(max_examples=30, deadline=None)
@given(st.floats(1, 2000), st.floats(10, 500))
def test_tape_is_never_short(length, roll):
    n = tape_rolls(Q(length, "ft"), Q(roll, "ft"))
    assert n * roll >= length * (1 - 1e-8)
    assert (n - 1) * roll < length


def test_the_code_asks_for_six_inches_of_lap():
    """IRC 2012 R506.2.3 (read in a reprint): joints lapped not less than 6 in."""
    assert lookup("retarder", rule="least lap")["value_in"] == 6


# --- the calculation of a job ----------------------------------------------------------------


def job(**changes):
    raw = {
        "slab": {"length": "39 ft", "width": "27 ft"},
        "retarder": {"roll_width": "14 ft", "roll_length": "100 ft", "ends": FLAT},
    }
    return Job(raw).changed(changes) if changes else Job(raw)


def test_a_plain_rectangle_from_job_to_takeoff():
    """40 x 28 ft with turn-up. Along y 13.5 x 3 + 0.5 = 41 ft take three strips of 28 ft; along x
    13.5 x 2 + 0.5 = 27.5 ft are not quite enough. 84 ft of sheet, one roll; two seams of 28 ft."""
    calc = run("retarder", job())
    assert calc.results["rolls"] == 1
    assert calc.results["laps"].m == pytest.approx(56)
    assert calc.results["tape"].m == pytest.approx(56)
    assert calc.results["tape_rolls"] == 1
    assert calc.results["rest"].m == pytest.approx(16)
    assert calc.results["waste"].m == pytest.approx(100 * (1 - 40 * 28 / 1400))
    takeoff = {line.price: line.amount.m for line in calc.takeoff}
    assert takeoff == pytest.approx({"retarder": 1, "tape": 1, "wage": 40 * 28 / 250})
    assert calc.status == OK


def test_the_cut_list_names_every_sheet():
    (table,) = [b for b in run("retarder", job()).blocks if isinstance(b, Table)]
    assert table.frame.to_numpy().tolist() == [[str(n), "1", "28'-0\""] for n in (1, 2, 3)]


def test_end_laps_are_told():
    calc = run("retarder", job(**{"retarder.roll_length": "45 ft"}))
    assert calc.results["rolls"] == 2
    assert any("1 of them end laps" in step.words for step in calc.steps)


def test_a_narrow_lap_is_not_ok():
    raw = {"slab": {"length": "39 ft", "width": "27 ft"}, "retarder": {"lap": "6 in"}}
    assert run("retarder", Job(raw)).status == OK
    check = run("retarder", Job(raw)).checks[0]
    assert (check.demand, check.capacity) == ("6 in.", "6 in.")
    assert str(check.clause) == "IRC 2012, R506.2.3"
    assert run("retarder", job(**{"retarder.lap": "12 in"})).checks[0].ratio == pytest.approx(0.5)
    assert NOT_OK not in {c.status for c in run("retarder", job()).checks}


def test_openings_are_taped_around(demo):
    calc = run("retarder", demo.changed({"retarder.ends": FLAT}))
    assert (calc.results["tape"] - calc.results["laps"]).m == pytest.approx(
        demo.plan.opening_perimeter.m
    )


def test_rolls_that_cannot_be_laid_stop_with_a_sentence():
    with pytest.raises(
        JobError, match=r"\[retarder\] lap: a lap of 1'-0\" .* less than half the width"
    ):
        run("retarder", job(**{"retarder.roll_width": "2 ft", "retarder.lap": "12 in"}))


def test_many_runs_without_proof_say_so():
    """Hundreds of runs: where the search ends, the lower bound is told beside the rolls."""
    big = job(**{"slab.length": "299 ft", "slab.width": "260 ft", "retarder.roll_length": "190 ft"})
    calc = run("retarder", big)
    assert calc.results["rolls"] >= 300 * 261 / (14 * 190)
    words = next(s.words for s in calc.steps if "Rolls to buy" in s.words)
    assert words == "Rolls to buy." or "at least" in words


def test_metric_shows_the_same_layout():
    us, si = (run("retarder", job(**{"job.units": units})) for units in ("us", "si"))
    assert si.results["rolls"] == us.results["rolls"]
    assert si.text("laps").endswith(" m")
