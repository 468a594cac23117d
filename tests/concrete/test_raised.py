"""Curbs, stem walls and steps: concrete, forms, and where an engineer is asked."""

import pytest

from calcbook.basis.units import Q
from calcbook.book.chapters import Book
from calcbook.concrete.raised import raised_forms, raised_total, raised_volume, steps_volume
from calcbook.job.file import Job, JobError

SLAB = {"length": "20 ft", "width": "10 ft", "thickness": "4 in"}


def job_of(*curbs, **sections):
    job = Job({"slab": SLAB, "edge": {"depth": "0 in"}, "curbs": list(curbs), **sections})
    _ = job.plan
    return job


def statuses(job):
    return {c.title: c.status for c in Book(job).volume.calculation.checks}


@pytest.mark.worked("steps_volume")
def test_three_steps_by_hand():
    # 4 ft long, risers 7 in., treads 12 in.: 4 x 1 x (7 + 14 + 21)/12 = 14 ft3
    assert steps_volume("4 ft", "7 in", "12 in", 3).m_as("foot**3") == pytest.approx(14)


@pytest.mark.worked("raised_total")
def test_slab_and_curb():
    assert raised_total("3 yd3", "0.5 yd3") == Q(3.5, "yd3")


@pytest.mark.worked("raised_volume")
def test_curbs_that_meet_at_a_corner_count_it_once():
    """6 in. by 6 in. along 20 ft and along 10 ft: (20 + 10 - 0.5) x 0.5 x 0.5 ft3."""
    both = [{"side": side, "height": "6 in", "width": "6 in"} for side in (1, 2)]
    assert raised_volume(job_of(*both).plan).m_as("foot**3") == pytest.approx(29.5 / 4)


def test_a_higher_wall_over_a_curb_counts_to_its_own_height():
    """Curb 6 in. by 6 in. along 20 ft; wall 18 in. by 6 in. on 5 ft of it: 5 + 5 x 0.5 x 1 ft3."""
    curb = {"side": 1, "height": "6 in", "width": "6 in"}
    wall = {"kind": "stem wall", "side": 1, "end": "5 ft", "height": "18 in", "width": "6 in"}
    assert raised_volume(job_of(curb, wall).plan).m_as("foot**3") == pytest.approx(5 + 2.5)


def test_the_order_holds_them_and_the_forms_too():
    curb = {"side": 1, "height": "6 in", "width": "6 in"}
    plain, more = Book(job_of()), Book(job_of(curb))
    assert (more.volume.net - plain.volume.net).m_as("foot**3") == pytest.approx(5)
    assert more.volume.calculation.results["net"] == more.volume.net
    assert raised_forms(more.job.plan) == pytest.approx(21)
    forms = {t.words: t.amount.m for t in more.base.calculation.takeoff if t.price == "forms"}
    assert forms == pytest.approx({"Edge forms": 60, "Forms of curbs, walls and steps": 21})


def test_steps_are_judged_by_the_code_and_what_lies_below_them_is_told():
    high = {
        "kind": "steps",
        "side": 1,
        "start": "2 ft",
        "end": "6 ft",
        "height": "8 in",
        "width": "11 in",
        "count": 2,
    }
    found = statuses(job_of(high))
    assert found["Height of a riser: steps, side 1"] == "NOT OK"
    assert found["Depth of a tread: steps, side 1"] == "OK"
    assert found["Ground and frost below steps, side 1"] == "NOT WORKED OUT"


@pytest.mark.parametrize(
    ("kind", "height", "status"),
    [
        ("curb", "6 in", "OK"),
        ("curb", "14 in", "NEEDS ENGINEER"),
        ("stem wall", "24 in", "OK"),
        ("stem wall", "30 in", "NEEDS ENGINEER"),
    ],
)
def test_higher_than_the_book_goes_is_for_an_engineer(kind, height, status):
    curb = {"kind": kind, "side": 1, "height": height, "width": "8 in"}
    assert statuses(job_of(curb))[f"Height of {kind}, side 1"] == status


def test_a_wall_that_holds_soil_is_for_an_engineer():
    wall = {"kind": "stem wall", "side": 1, "height": "16 in", "width": "8 in", "retains": "6 in"}
    assert statuses(job_of(wall))["Soil held by stem wall, side 1"] == "NEEDS ENGINEER"


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"side": 7}, "side 7 is not there"),
        ({"end": "30 ft"}, "side 1 is 20'-0\" long"),
        ({"start": "5 ft", "end": "4 ft"}, "ends before it starts"),
        ({"count": 3}, "only steps have a count"),
    ],
)
def test_what_cannot_be_is_refused(change, words):
    with pytest.raises(JobError, match=words):
        job_of({"side": 1, "height": "6 in", "width": "6 in", **change})
