"""No two texts of a drawing lie on each other, in all drawings of jobs unlike the demo."""

import pytest
from several import APRON, PORCH, job_of
from text_boxes import overlaps

from calcbook.book.chapters import Book
from calcbook.job.file import Job


def plain(**sections):
    return Job(sections)


JOBS = {
    "small shed": lambda: plain(slab={"length": "12 ft", "width": "10 ft"}, openings=[{"name": "pipe", "diameter": "6 in", "x": "3 ft", "y": "4 ft"}]),
    "barn with posts": lambda: plain(
        slab={"length": "60 ft", "width": "40 ft", "thickness": "6 in"},
        pads=[{"name": f"P{i}{j}", "x": f"{i} ft", "y": f"{j} ft", "length": "30 in", "width": "30 in", "depth": "10 in"}
              for i in (12, 24, 36, 48) for j in (13, 27)],
        reinforcement={"kind": "mesh"},
    ),
    "garage, apron and porch": lambda: job_of(APRON, PORCH, between=[{"slab": "garage", "beside": "porch", "kind": "doweled"}]),
    "round and cut, falling": lambda: plain(
        slab={"length": "30 ft", "width": "20 ft"}, slope={"fall": "1/8 in/ft", "side": 1},
        corners=[{"corner": "A", "radius": "4 ft"}, {"corner": "C", "cut": "3 ft"}],
        curbs=[{"side": 3, "end": "20 ft", "height": "6 in", "width": "6 in"}],
    ),
    "mixed edges in metres": lambda: plain(
        job={"units": "si"},
        slab={"points": [["0 m", "0 m"], ["9 m", "0 m"], ["9 m", "4 m"], ["6 m", "4 m"], ["6 m", "7 m"], ["0 m", "7 m"]]},
        edges=[{"side": 1, "depth": "600 mm"}, {"side": 3, "kind": "against a wall"}],
        ledges=[{"side": 5, "start": "1 m", "end": "3 m", "drop": "40 mm", "width": "150 mm"}],
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", JOBS)
def test_no_two_texts_lie_on_each_other(name):
    book = Book(JOBS[name]())
    drawn = {f"{c.title}, {f.title}": f.draw() for c in book.priced.values() for f in c.figures}
    plans = {title: figure for title, figure in drawn.items() if not figure.axes[0].axison}  # no charts
    assert len(plans) >= 4
    assert not {title: found for title, figure in plans.items() if (found := overlaps(figure))}


def test_texts_that_lie_on_each_other_are_found():
    from calcbook.plan.drawing import canvas, label

    on = canvas((0, 0, 10, 10))
    label(on, (5, 5), "one text")
    label(on, (5.1, 5), "two text")
    label(on, (1, 1), "far away")
    assert overlaps(on.figure) == [("one text", "two text")]
