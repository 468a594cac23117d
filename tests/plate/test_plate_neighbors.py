"""Slabs beside that dowels tie to a slab: how much of them counts, and what is said of the others."""

import pytest
from shapely import box

from calcbook.book.chapters import Book
from calcbook.job.file import Job
from calcbook.plate.chapter import plate_of_job
from calcbook.plate.front import plate_of
from calcbook.plate.model import Case, Joint, Plate, joint_spring, print_at
from calcbook.plate.neighbors import FAR

WHOLE = Plate((box(0, 0, 20, 12), box(20, 0, 50, 12)), 5.0, 150.0, 3.6e6)
JOINT = Joint(((20, 0), (20, 12)), joint_spring(0.75, WHOLE.k, WHOLE.reach), sawn=False)
TWO = {
    "slab": {"length": "24 ft", "width": "20 ft", "thickness": "5 in"}, "soil": {"k": "150 pci"},
    "vehicle": {"axle": "3000 lbf"},
    "slabs": [{
        "name": "drive", "x": "6 ft", "y": "-30 ft", "length": "12 ft", "width": "30 ft", "thickness": "6 in",
        "posts": [
            {"name": "near", "load": "900 lbf", "x": "12 ft", "y": "-2 ft"},
            {"name": "far", "load": "900 lbf", "x": "12 ft", "y": "-28 ft"},
        ],
    }],
    "between": [{"slab": "main slab", "beside": "drive", "kind": "doweled"}],
}  # fmt: skip


def plate_job_of(raw):
    book = Book(Job(raw))
    return plate_of_job(book.job, book.path, book.joint_plan, book.slab)


def test_a_strip_of_the_slab_beside_counts_as_all_of_it():
    """A bed of springs forgets a load within some radii of relative stiffness (Hetenyi 1946)."""
    reach = FAR * WHOLE.reach / 12
    wheel = print_at(19.6, 6.0, 2500.0, 40.0, 5.0)
    thick = {"thickness": 5.0, "k": 150.0, "E": 3.6e6, "joints": (JOINT,)}
    whole = plate_of(Plate(WHOLE.outlines, **thick), Case("", (wheel,)))
    strip = plate_of(
        Plate(WHOLE.outlines[:1], beside=((box(20, 0, 20 + reach, 12), 5.0),), **thick),
        Case("", (wheel,)),
    )
    for name in ("stress at the bottom", "deflection", "soil pressure"):
        assert strip.worst[name].value == pytest.approx(whole.worst[name].value, rel=0.005)
        assert strip.worst[name].x < 20  # nothing is read beside


def test_of_two_slabs_at_a_doweled_joint_each_has_a_strip_of_the_other_with_what_stands_there():
    job = plate_job_of(TWO)
    ((part, thickness),) = job.plate.beside
    far = FAR * job.plate.reach / 12
    assert part.bounds == pytest.approx((6, -far, 18, 0)) and thickness == pytest.approx(6)
    (joint,) = [j for j in job.plate.joints if not j.sawn]
    assert {y for _, y in joint.line} == {0.0} and joint.spring > 0
    assert [load.name for load in job.down.loads] == ["near"]
    assert any("drive" in words and "dowels" in words for words in job.told)
    other = Book(Job(TWO)).others[0]
    found = plate_of_job(other.job, other.path, other.joint_plan, other.slab)
    ((part, thickness),) = found.plate.beside
    assert part.bounds[1] == pytest.approx(0) and thickness == pytest.approx(5)


def test_a_gap_as_wide_as_the_joint_is_closed():
    apart = {**TWO, "slabs": [{**TWO["slabs"][0], "y": "-30 ft 1/2 in"}]}
    ((part, _),) = plate_job_of(apart).plate.beside
    assert part.bounds[3] == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(("kind", "word"), [("keyed", "keyed joint"), ("isolation", "isolation joint")])
def test_a_slab_behind_another_joint_is_not_in_it_and_that_is_told(kind, word):
    job = plate_job_of({**TWO, "between": [{**TWO["between"][0], "kind": kind}]})
    assert not job.plate.beside
    assert any("drive" in words and word in words for words in job.told)


def test_the_plate_is_not_worked_out_again_for_what_no_plate_rests_on(monkeypatch):
    monkeypatch.setattr("calcbook.plate.chapter.worked_out", lambda *_: object())
    book = Book(Job(TWO))
    before = book.plate_worked
    assert book.changed({"prices.wage": "$50 / h"}).plate_worked is before
    assert book.changed({"slabs.0.thickness": "5 in"}).plate_worked is not before
