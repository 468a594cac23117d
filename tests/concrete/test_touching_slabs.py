"""Slabs that touch: no concrete is counted twice, and none is lost; volumes by other means."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from several import job_of

from calcbook.book.chapters import Book

DEPTHS = st.sampled_from(["0 in", "8 in", "12 in", "20 in"])
WIDTHS = st.sampled_from(["8 in", "12 in", "16 in"])
SLOPES = st.sampled_from([0.0, 0.5, 1.0])


@st.composite
def edges(draw):
    """An edge for each side of a rectangle, as a job file writes them."""
    return [
        {"side": k, "depth": draw(DEPTHS), "width": draw(WIDTHS), "slope": draw(SLOPES)}
        for k in (1, 2, 3, 4)
    ]


def net(job):
    """Cubic feet by the plan of all slabs of a job, by the book's orders."""
    book = Book(job)
    orders = [book, *(other for other in book.others if not other.job.follows)]
    return sum(one.volume.net.m_as("foot**3") for one in orders)


@settings(max_examples=25, deadline=None)
@given(edges(), st.floats(8, 22), st.sampled_from([None, "1/8 in/ft", "1/4 in/ft"]))
def test_a_slab_split_into_two_that_touch_takes_the_same_concrete(sides, cut, fall):
    """A law: the cut side has no edge, and the top falls along the cut."""
    slope = {"slope": {"fall": fall, "side": 1}} if fall else {}
    none = {"depth": "0 in"}
    whole = job_of(
        slab={"length": "30 ft", "width": "20 ft", "thickness": "5 in"}, edges=sides, **slope
    )
    left = [dict(s) if s["side"] != 2 else {"side": 2, **none} for s in sides]
    right = [dict(s) if s["side"] != 4 else {"side": 4, **none} for s in sides]
    two = job_of(
        {"name": "right", "length": f"{30 - cut} ft", "width": "20 ft", "x": f"{cut} ft", "thickness": "5 in",
         "edges": right, **slope},
        slab={"length": f"{cut} ft", "width": "20 ft", "thickness": "5 in"}, edges=left, **slope,
    )  # fmt: skip
    assert net(two) == pytest.approx(net(whole), rel=1e-9)
    assert two.contacts[0].length == pytest.approx(20, abs=1e-4)


@settings(max_examples=15, deadline=None)
@given(edges(), st.floats(2, 10), st.floats(3, 9), st.floats(0, 20), st.sampled_from([1, 2, 3, 4]))
def test_two_slabs_against_an_integral_of_the_thickness_over_their_plan(sides, wide, deep, at, towards):
    """Thickness of slab, slope and deepest edge at each place, summed over a grid cut at every line of the edges."""
    walk = {"name": "walk", "length": f"{wide} ft", "width": f"{deep} ft", "x": f"{at} ft", "y": f"{-deep} ft",
            "thickness": "4 in", "edges": sides, "slope": {"fall": "1/4 in/ft", "side": towards}}  # fmt: skip
    job = job_of(walk, edge={"depth": "0 in"})
    assert not (job.plan.outline & job.others[0].plan.outline).area
    by_hand = 720 * 5 / 12 + by_grid(wide, deep, sides, towards)
    assert net(job) == pytest.approx(by_hand, rel=1e-6)


def by_grid(L, W, sides, towards, order=24):
    """A rectangle L by W: Gauss points in each cell between the lines where an edge's bottom or slope begins."""
    sizes = [(float(s["depth"][:-3]) / 12, float(s["width"][:-3]) / 12, s["slope"]) for s in sides]
    lines = [{0.0, L}, {0.0, W}]
    for k, (d, w, m) in enumerate(sizes):
        for reach in (w, w + m * d) if d else ():
            axis, span = (1, W) if k in (0, 2) else (0, L)
            place = reach if k in (0, 3) else span - reach
            lines[axis] |= {min(max(place, 0.0), span)}
    nodes, weights = np.polynomial.legendre.leggauss(order)
    total = 0.0
    for x0, x1 in _cells(lines[0]):
        for y0, y1 in _cells(lines[1]):
            total += _cell(x0, x1, y0, y1, L, W, sizes, towards, nodes, weights)
    return total


def _cells(places):
    found = sorted(places)
    parts = [np.linspace(a, b, 12) for a, b in zip(found, found[1:], strict=False) if b - a > 1e-12]
    return [pair for p in parts for pair in zip(p, p[1:], strict=False)]


def _cell(x0, x1, y0, y1, L, W, sizes, towards, nodes, weights):
    x = (x0 + x1) / 2 + (x1 - x0) / 2 * nodes[:, None]
    y = (y0 + y1) / 2 + (y1 - y0) / 2 * nodes[None, :]
    inward = [y + 0 * x, L - x + 0 * y, W - y + 0 * x, x + 0 * y]
    deepest = np.zeros((len(nodes), len(nodes)))
    for (d, w, m), s in zip(sizes, inward, strict=True):
        if d:
            below = np.where(s < w, d, d - (s - w) / m if m else 0.0)
            deepest = np.maximum(deepest, np.clip(below, 0, None))
    h = 4 / 12 + inward[towards - 1] / 48 + deepest
    return float(np.einsum("i,j,ij", weights, weights, h)) * (x1 - x0) * (y1 - y0) / 4


def test_the_grid_by_hand():
    """10 ft by 4 ft, 4 in. thick, falling 1/4 in/ft over 4 ft: 40 x (4 + 0.5) in."""
    none = [{"side": k, "depth": "0 in", "width": "8 in", "slope": 0.0} for k in (1, 2, 3, 4)]
    assert by_grid(10, 4, none, 1) == pytest.approx(40 * 4.5 / 12)


def test_no_two_slabs_of_a_job_share_ground():
    job = job_of({"name": "a", "length": "10 ft", "width": "10 ft", "x": "30 ft"})
    outlines = [one.plan.outline for one in (job, *job.others)]
    assert shapely.union_all(outlines).area == pytest.approx(sum(o.area for o in outlines))
