"""Round and cut corners: area and length of the arcs are exact, and sides keep their edges."""

import math

import pytest

from calcbook.book.chapters import Book
from calcbook.job.edges import in_plan_order
from calcbook.job.file import Job, JobError

SLAB = {"length": "30 ft", "width": "20 ft", "thickness": "4 in"}
CLOCKWISE = {
    "points": [["0 ft", "0 ft"], ["0 ft", "20 ft"], ["30 ft", "20 ft"], ["30 ft", "0 ft"]],
    "thickness": "4 in",
}


def job_of(*corners, slab=SLAB, **sections):
    job = Job({"slab": slab, "corners": list(corners), **sections})
    _ = job.plan
    return job


@pytest.mark.parametrize("slab", [SLAB, CLOCKWISE], ids=["counterclockwise", "clockwise"])
@pytest.mark.parametrize("radius", [0.5, 4, 9.9])
def test_a_round_corner_takes_off_the_area_and_the_length_of_its_arc(slab, radius):
    """A square corner less a quarter circle: (1 - pi/4) r2; two tangents less a quarter of the circle: (2 - pi/2) r."""
    for corner in "ABCD":
        plan = job_of({"corner": corner, "radius": f"{radius} ft"}, slab=slab).plan
        assert plan.area.m == pytest.approx(600 - (1 - math.pi / 4) * radius**2, rel=1e-12)
        assert plan.perimeter.m == pytest.approx(100 - (2 - math.pi / 2) * radius, rel=1e-12)


def test_an_acute_and_an_obtuse_corner():
    """Area between the tangents and the arc: r2 (tan(b/2) - b/2), b the angle turned; length 2 r tan(b/2) - r b less."""
    points = [["0 ft", "0 ft"], ["30 ft", "0 ft"], ["20 ft", "20 ft"], ["0 ft", "20 ft"]]
    plain = job_of(slab={"points": points}).plan
    for corner, turned in (("B", math.pi / 2 + math.atan(0.5)), ("C", math.pi / 2 - math.atan(0.5))):
        plan = job_of({"corner": corner, "radius": "3 ft"}, slab={"points": points}).plan
        lost = 9 * (math.tan(turned / 2) - turned / 2)
        assert plan.area.m == pytest.approx(plain.area.m - lost, rel=1e-12)
        assert plan.perimeter.m == pytest.approx(
            plain.perimeter.m - 3 * (2 * math.tan(turned / 2) - turned), rel=1e-12
        )


def test_a_slab_with_four_round_corners_of_half_its_width_is_a_stadium():
    plan = job_of(*({"corner": c, "radius": "9.99 ft"} for c in "ABCD")).plan
    assert plan.area.m == pytest.approx(600 - (4 - math.pi) * 9.99**2, rel=1e-12)


def test_a_cut_corner_takes_off_a_triangle():
    plan = job_of({"corner": "B", "cut": "3 ft"}).plan
    assert plan.area.m == pytest.approx(600 - 4.5)
    assert plan.perimeter.m == pytest.approx(100 - 6 + 3 * math.sqrt(2))


@pytest.mark.parametrize("slab", [SLAB, CLOCKWISE], ids=["counterclockwise", "clockwise"])
def test_sides_keep_their_edges_around_a_round_corner(slab):
    """Of an edge on one side alone, half the arc at each end belongs to it."""
    job = job_of({"corner": "B", "radius": "4 ft"}, slab=slab)
    sides = in_plan_order(job, ["one", "two", "three", "four"])
    assert sides.count("one") == sides.count("two") == 13
    assert (sides.count("three"), sides.count("four")) == (1, 1)
    assert len(sides) == len(job.plan.outline.exterior.coords) - 1


def test_the_edge_all_round_follows_the_arc():
    """12 in. wide, straight, 1 ft deep: at a corner of radius 4 ft the ring takes pi/4 (4^2 - 3^2) in place of 4^2 - 3^2."""
    edge = {"depth": "12 in", "width": "12 in", "slope": 0.0}
    plain, turned = (
        Book(job_of(*corners, edge=edge)).dug.whole.m_as("foot**3")
        for corners in ((), ({"corner": "C", "radius": "4 ft"},))
    )
    assert plain - turned == pytest.approx((1 - math.pi / 4) * 7, rel=1e-9)


def test_an_edge_as_wide_as_the_radius_ends_in_the_corner_of_the_straight_sides():
    """24 in. wide, straight, 1 ft deep, radius 2 ft: of the square corner the ring loses what the slab loses. So near the
    radius the arc's short sides are not mended, and 5e-5 of that corner may lack."""
    edge = {"depth": "12 in", "width": "24 in", "slope": 0.0}
    plain, turned = (
        Book(job_of(*corners, edge=edge)).dug.whole.m_as("foot**3")
        for corners in ((), ({"corner": "C", "radius": "2 ft"},))
    )
    assert plain - turned == pytest.approx((1 - math.pi / 4) * 4, rel=5e-5)


def test_a_book_with_round_and_cut_corners_runs_whole():
    book = Book(
        job_of(
            {"corner": "A", "radius": "4 ft"},
            {"corner": "C", "cut": "3 ft"},
            edges=[{"side": 2, "depth": "16 in"}],
        )
    )
    assert book.volume.net.m > 0
    (table,) = (
        b
        for b in book.base.calculation.blocks
        if getattr(b, "title", "") == "Set before the pour: corners"
    )
    assert table.rows == (("A", "round, radius 4'-0\"", "4'-0\""), ("C", "cut straight", "3'-0\""))
    assert {c.title for _, c in book.checks}


def test_a_wall_stands_on_the_slab_and_not_beyond_its_round_corner():
    wall = {"name": "south", "side": 1}
    with pytest.raises(JobError, match="wall 'south' reaches beyond a round or cut corner"):
        job_of({"corner": "B", "radius": "4 ft"}, walls=[wall])
    job_of({"corner": "B", "radius": "4 ft"}, walls=[wall | {"end": "26 ft"}])


@pytest.mark.parametrize(
    ("corners", "words"),
    [
        ([{"corner": "E", "radius": "2 ft"}], "corner 'E' is not there; the corners are A to D"),
        (
            [{"corner": "B", "radius": "2 ft"}, {"corner": "b", "cut": "2 ft"}],
            "corner B is given twice",
        ),
        (
            [{"corner": "B", "radius": "11 ft"}, {"corner": "C", "radius": "10 ft"}],
            "side 2 is 20'-0\" long",
        ),
        ([{"corner": "B", "radius": "2 ft", "cut": "2 ft"}], "either round or cut"),
    ],
)
def test_a_corner_that_cannot_be_is_refused_in_one_sentence(corners, words):
    with pytest.raises(JobError, match=words) as caught:
        job_of(*corners)
    assert len(caught.value.problems) == 1


ELL = {
    "points": [
        [f"{x} ft", f"{y} ft"] for x, y in ((0, 0), (30, 0), (30, 20), (15, 20), (15, 10), (0, 10))
    ],
    "thickness": "4 in",
}


def test_a_round_corner_that_points_in_adds_its_area_and_shortens_the_outline():
    """As at a corner that points out, but added: (1 - pi/4) r2; the outline is (2 - pi/2) r shorter."""
    plain, turned = (
        job_of(*corners, slab=ELL).plan for corners in ((), ({"corner": "E", "radius": "4 ft"},))
    )
    assert turned.area.m - plain.area.m == pytest.approx((1 - math.pi / 4) * 16, rel=1e-9)
    assert plain.perimeter.m - turned.perimeter.m == pytest.approx((2 - math.pi / 2) * 4, rel=1e-9)


def test_the_edge_follows_a_round_corner_that_points_in():
    """12 in. wide, straight, 1 ft deep: straight sides without the tangents, the arc's own band pi/2 (4 + 1/2)."""
    edge = {"depth": "12 in", "width": "12 in", "slope": 0.0}
    dug = Book(job_of({"corner": "E", "radius": "4 ft"}, slab=ELL, edge=edge)).dug.whole
    assert dug.m_as("foot**3") == pytest.approx(100 - 8 - 5 + math.pi / 2 * 4.5, rel=1e-9)


def test_the_edge_alone_in_closed_form_is_what_is_dug():
    book = Book(
        job_of({"corner": "A", "radius": "4 ft"}, {"corner": "E", "radius": "5 ft"}, slab=ELL, edge={})
    )
    (table,) = (
        b
        for b in book.volume.calculation.blocks
        if getattr(b, "title", "").startswith("Thickenings one by one")
    )
    alone, twice, together = (row[-1] for row in table.rows)
    assert alone == together
    assert twice.startswith("0 ")


def test_a_cut_across_a_corner_that_points_in_fills_a_triangle():
    plan = job_of({"corner": "E", "cut": "3 ft"}, slab=ELL).plan
    assert plan.area.m == pytest.approx(450 + 4.5)


def test_a_corner_on_a_straight_line_is_refused():
    points = [
        ["0 ft", "0 ft"],
        ["15 ft", "0 ft"],
        ["30 ft", "0 ft"],
        ["30 ft", "20 ft"],
        ["0 ft", "20 ft"],
    ]
    with pytest.raises(JobError, match="the sides at corner B are all but one line"):
        job_of({"corner": "B", "radius": "2 ft"}, slab={"points": points})
