"""Shapes that cannot be built are refused in one sentence that names the points."""

import math

import pytest

from calcbook.plan.outline import read_outline
from calcbook.plan.problems import shape_problem

SQUARE = [(0, 0), (10, 0), (10, 10), (0, 10)]
BROKEN = {
    "too few points": ([(0, 0), (1, 1)], ["2 points", "at least 3"]),
    "not a number": ([(0, 0), (10, 0), (math.nan, 5)], ["point 3", "not a finite place"]),
    "infinite": ([(0, 0), (math.inf, 0), (5, 5)], ["point 2", "not a finite place"]),
    "all on a line": ([(0, 0), (5, 5), (10, 10)], ["one line", "no area"]),
    "all in one place": ([(3, 3)] * 4, ["one line"]),
    "crossing sides": ([(0, 0), (10, 10), (10, 0), (0, 10)],
                       ["side 1 (point 1 to point 2) crosses side 3 (point 3 to point 4)", "(5'-0\", 5'-0\")"]),
    "last side crosses": ([(0, 0), (10, 0), (10, 10), (5, -3), (0, 10)],
                          ["side 1 (point 1 to point 2) crosses side 3 (point 3 to point 4)"]),
    "closing point given": ([*SQUARE, (0, 0)], ["points 1 and 5", "closes by itself", "leave the last point out"]),
    "point twice in a row": ([(0, 0), (10, 0), (10, 0.004), (10, 10)], ["points 2 and 3", "leave one of them out"]),
    "touches itself at a corner": ([(0, 0), (5, 5), (10, 0), (10, 10), (5, 5), (0, 10)],
                                   ["points 2 and 5", "(5'-0\", 5'-0\")", "touches itself", "move one of them"]),
    "spike": ([(0, 0), (10, 0), (5, 0), (5, 5)], ["point 2", "(10'-0\", 0\")", "spike"]),
    "narrow spike": ([(0, 0), (10, 0), (10, 10), (30, 10.5), (10, 11), (0, 11)], ["point 4", "spike", "2.9 degrees"]),
    "corner on another side": ([(0, 0), (10, 0), (10, 10), (5, 0), (0, 10)],
                               ["point 4 (5'-0\", 0\") lies on side 1 (point 1 to point 2)", "move the point"]),
    "sides over each other": ([(0, 0), (10, 0), (10, 5), (12, 5), (12, 0), (8, 0), (8, -4), (0, -4)],
                              ["side 1 (point 1 to point 2) and side 5 (point 5 to point 6) run over each other"]),
    "far too wide": ([(0, 0), (40, 0), (40000, 18), (0, 28)], ["1000'-0\" across", "point 3"]),
    "far away": ([(x + 20000, y) for x, y in SQUARE], ["1000'-0\" across"]),
    "tiny": ([(0, 0), (0.5, 0), (0.5, 0.5), (0, 0.5)], ["0.25 sq ft", "less than 1 is refused"]),
}  # fmt: skip


@pytest.mark.parametrize(("points", "words"), BROKEN.values(), ids=BROKEN)
def test_a_broken_shape_is_refused_with_the_points_named(points, words):
    found = shape_problem(points)
    assert all(word in found for word in words), found
    assert "\n" not in found


def test_whole_shapes_have_no_problem():
    assert shape_problem(SQUARE) is None
    assert shape_problem(SQUARE[::-1]) is None
    assert (
        shape_problem([(0, 0), (5, 0), (10, 0), (10, 10), (0, 10)]) is None
    )  # a corner of 180 degrees


def test_limits_are_where_they_are_said_to_be():
    assert shape_problem([(0, 0), (1000, 0), (1000, 5), (0, 5)]) is None
    assert "across" in shape_problem([(0, 0), (1000.1, 0), (1000.1, 5), (0, 5)])
    assert shape_problem([(9990, 0), (10000, 0), (10000, 5), (9990, 5)]) is None
    assert shape_problem([(0, 0), (1, 0), (1, 1), (0, 1)]) is None
    assert "sq ft" in shape_problem([(0, 0), (1, 0), (1, 0.99), (0, 0.99)])
    assert shape_problem([(0, 0), (0.3, 0), (0.3, 0.3), (0, 0.3)], smallest=0.09) is None


@pytest.mark.parametrize(("angle", "refused"), [(4.9, True), (5.1, False)])
def test_the_sharpest_corner_is_five_degrees(angle, refused):
    wedge = [(0, 0), (60, 0), (60, 60 * math.tan(math.radians(angle)))]
    assert (shape_problem(wedge) is not None) == refused


@pytest.mark.parametrize(("gap", "refused"), [(0.9 / 192, True), (1.1 / 192, False)])
def test_points_nearer_than_a_sixteenth_of_an_inch_are_one(gap, refused):
    assert (shape_problem([(0, 0), (10, 0), (10, gap), (0, 10)]) is not None) == refused


def test_messages_are_metric_in_an_si_job():
    assert "(3.048 m, 0.000 m)" in shape_problem([(0, 0), (10, 0), (5, 0), (5, 5)], system="si")


def test_many_points_are_checked_in_time():
    ring = [(100 * math.cos(a / 250 * math.pi), 100 * math.sin(a / 250 * math.pi)) for a in range(500)]
    assert shape_problem(ring) is None
    ring[100:300] = ring[299:99:-1]
    assert "crosses" in shape_problem(ring)
    assert read_outline([(0, 0), (9, 0), (9, 9)]).area == pytest.approx(40.5)
