"""Edges of single sides, door sills and brick ledges in a job file: what they change, and what is refused."""

import pytest

from calcbook.basis.calculation import NEEDS_ENGINEER
from calcbook.book.chapters import run
from calcbook.job.edges import edge_of, sides_alike, sides_text
from calcbook.job.file import Job, JobError

SQUARE = [["0 ft", "0 ft"], ["20 ft", "0 ft"], ["20 ft", "10 ft"], ["0 ft", "10 ft"]]
WALLED = {"side": 3, "kind": "against a wall"}
DEEP = {"side": 1, "depth": "24 in", "width": "18 in", "slope": 0, "frost_depth": "30 in"}
SILL = {"side": 2, "start": "2 ft", "end": "8 ft", "drop": "1.5 in", "width": "6 in"}


def job(points=SQUARE, edges=(WALLED, DEEP), ledges=(), **changes):
    raw = {
        "slab": {"points": points, "thickness": "4 in"},
        "edge": {"depth": "12 in", "width": "12 in", "slope": 0},
        "edges": list(edges),
        "ledges": list(ledges),
        "soil": {"frost_depth": "6 in", "kind": "sand"},
    }
    return Job(raw | changes)


def test_each_side_has_its_own_edge_or_the_common_one():
    found = job()
    assert edge_of(found, 1).depth.m_as("inch") == pytest.approx(24)
    assert edge_of(found, 2).depth.m_as("inch") == pytest.approx(12)
    assert edge_of(found, 3).depth.m == 0
    assert edge_of(found, 3).against
    assert edge_of(found, 1).place("width") == "edges.1.width"
    assert edge_of(found, 2).place("width") == "edge.width"
    assert [sides for sides, _ in sides_alike(found)] == [[1], [2, 4], [3]]
    assert sides_text([2, 4, 5]) == "sides 2, 4 and 5"


def by_hand():
    """Side 1: 20 x 1.5 x 2; sides 2 and 4, 1 ft deep and wide, beyond it: 2 x (10 - 1.5) x 1; in ft3."""
    return 60 + 17


def test_the_volume_of_mixed_edges_by_hand():
    assert run("volume", job()).results["dig"].m_as("foot**3") == pytest.approx(by_hand())


def test_points_given_clockwise_keep_their_sides():
    """The same slab told the other way round: its side 1 is now from the far corner back."""
    turned = [SQUARE[k] for k in (1, 0, 3, 2)]  # sides: south, west, north, east
    assert run("volume", job(turned)).results["dig"].m_as("foot**3") == pytest.approx(by_hand())


def test_a_door_sill_takes_its_volume_off():
    found = run("volume", job(ledges=[SILL]))
    assert found.results["lowered"].m_as("foot**3") == pytest.approx(6 * 0.5 * 0.125)
    less = run("volume", job()).results["net"] - found.results["net"]
    assert less.m_as("foot**3") == pytest.approx(6 * 0.5 * 0.125)


def test_a_side_against_a_wall_has_no_form_and_an_isolation_strip():
    takeoff = {line.words: line.amount for line in run("base", job()).takeoff}
    assert takeoff["Edge forms"].m == pytest.approx(40)
    assert takeoff["Isolation strip at walls"].m == pytest.approx(20)


def test_every_kind_of_edge_is_checked_and_drawn():
    found = run("edges", job(ledges=[SILL]))
    asked = {c.title: c for c in found.checks}
    assert asked["Depth of the edge against frost, side 1"].status == NEEDS_ENGINEER  # 22 of 30 in.
    assert asked["Depth of the edge against frost, sides 2 and 4"].status == "OK"
    assert not any("ide 3" in question for question in asked)
    titles = [f.title for f in found.figures]
    assert titles == [
        "Section at side 1", "Section at sides 2 and 4", "Section at side 3", "Section at the door sill, side 2"
    ]  # fmt: skip
    for figure in found.figures:
        assert figure.draw()


def test_the_sheet_follows_each_edge():
    """Side 1: down, under and up 24 + 24 in. beyond the outline, sides 2 and 4 12 + 12, side 3 its turn-up of 6."""
    (x0, y0, x1, y1) = (-2, -4, 22, 10.5)  # straight sides: 2 d beyond
    covered = next(s for s in run("retarder", job()).steps if getattr(s, "symbol", "") == "A_c").value
    assert covered.m_as("foot**2") == pytest.approx((x1 - x0) * (y1 - y0))


def test_a_wall_on_a_plain_side_stands_on_the_bare_slab():
    wall = {"name": "back", "side": 3, "dead": "200 plf", "height": "8 ft", "bolted": False}
    made = job(walls=[wall])
    assert any("back" in c.title for c in run("slab", made).checks)
    assert not any("back" in c.title for c in run("edges", made).checks)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"edges": [{"side": 9}]}, "side 9 is not there; the outline has 4 sides"),
        ({"edges": [WALLED, {"side": 3}]}, "side 3 has two edges here, numbers 1 and 2"),
        ({"edges": [{**WALLED, "depth": "8 in"}]}, "side 3 is against a wall, so it has no thickened edge"),
        ({"ledges": [{**SILL, "side": 7}]}, "side 7 is not there"),
        ({"ledges": [{**SILL, "end": "12 ft"}]}, "it runs from 2'-0\" to 12'-0\", but side 2 is 10'-0\" long"),
        ({"ledges": [{**SILL, "end": "1 ft"}]}, "end must be more than start"),
        ({"ledges": [{**SILL, "drop": "14 in"}]}, "door sill, side 2: it would leave 2\" of concrete below it"),
        ({"ledges": [{**SILL, "width": "14 in"}]}, "it would leave 2 1/2\" of concrete below it"),
    ],
)  # fmt: skip
def test_what_cannot_be_built_is_refused_in_one_sentence(change, words):
    with pytest.raises(JobError) as refused:
        _ = job(**change).plan
    assert words in str(refused.value)
    assert "\n" not in str(refused.value)
