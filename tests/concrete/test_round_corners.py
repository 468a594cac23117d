"""Edges along round corners, also of corners that point in: random plans against an integral by other means."""

import itertools
import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from several import job_of

from calcbook.book.chapters import Book

POINTS = [(0, 0), (30, 0), (30, 14), (18, 14), (18, 24), (0, 24)]  # corner D points in
FINE = 400  # short sides of a quarter circle: 280 times nearer the arc than those of the book
DEPTHS, WIDTHS, SLOPES = ("0 in", "8 in", "12 in", "20 in"), ("8 in", "12 in", "16 in"), (0.0, 0.5, 1.0)


@st.composite
def plans(draw):
    """Points around, each corner's radius or None, an edge for each side, and a fall or None."""
    radii = [draw(st.sampled_from([None, 3.2, 4.0, 4.9])) for _ in POINTS]
    radii[3] = draw(st.floats(3.2, 4.9))
    edges = [{"side": k + 1, "depth": draw(st.sampled_from(DEPTHS)), "width": draw(st.sampled_from(WIDTHS)),
              "slope": draw(st.sampled_from(SLOPES))} for k in range(len(POINTS))]  # fmt: skip
    return draw(st.booleans()), radii, edges, draw(st.sampled_from([None, "1/8 in/ft", "1/4 in/ft"]))


def of_book(clockwise, radii, edges, fall):
    """Cubic feet by the book, with a rectangle of 10 x 5 ft, 6 in. thick, that touches side 1."""
    points, names = [[f"{x} ft", f"{y} ft"] for x, y in POINTS], "ABCDEF"
    if clockwise:  # the same corners and sides, told the other way round from the same first point
        points, names = points[:1] + points[:0:-1], "AFEDCB"
        edges = [edge | {"side": 7 - edge["side"]} for edge in edges]
    corners = [{"corner": names[k], "radius": f"{r} ft"} for k, r in enumerate(radii) if r]
    slope = {"slope": {"fall": fall, "side": 6 if clockwise else 1}} if fall else {}
    beside = {
        "name": "beside",
        "length": "10 ft",
        "width": "5 ft",
        "x": "6 ft",
        "y": "-5 ft",
        "thickness": "6 in",
    }
    job = job_of(
        beside | {"edge": {"depth": "0 in"}, "above_grade": "4 in"}, slab={"points": points, "thickness": "5 in"},
        corners=corners, edges=edges, edge={}, **slope,
    )  # fmt: skip
    assert len(job.plan.arcs) == len(corners)
    return Book(job).volume.net.m_as("foot**3")


def by_hand(radii, edges, fall):
    """The same: outline with fine arcs, thickness at its centroid, and the band of each side by three Gauss points
    between the depths where one ends, where the area is a quadratic of the depth."""
    sides = fine_sides(radii)
    outline = shapely.Polygon(np.concatenate([points for points, _ in sides]))
    grade = {None: 0.0, "1/8 in/ft": 1 / 96, "1/4 in/ft": 1 / 48}[fall]
    total = outline.area * (5 / 12 + grade * outline.centroid.y) + 50 * 6 / 12
    sizes = [(float(e["depth"][:-3]) / 12, float(e["width"][:-3]) / 12, e["slope"]) for e in edges]
    nodes, weights = np.polynomial.legendre.leggauss(3)
    for low, high in itertools.pairwise(sorted({0.0, *(d for d, _, _ in sizes)})):
        for node, weight in zip(nodes, weights, strict=True):
            z = (low + high) / 2 + (high - low) / 2 * node
            bands = [
                band(*line, w + m * (d - z))
                for line, (d, w, m) in zip(sides, sizes, strict=True)
                if z < d
            ]
            total += weight * (high - low) / 2 * (shapely.union_all(bands) & outline).area
    return total


def band(points, normals, width):
    """What lies within a width of a side and its half arcs, square to them; the arcs have their own middles."""
    return shapely.Polygon(np.concatenate([points, (points + width * normals)[::-1]]))


def fine_sides(radii):
    """(points, inward normals) along each side, with half the arc at either end of it."""
    corners = [np.array(p, float) for p in POINTS]
    first, last = [], []
    for k, r in enumerate(radii):
        u, v = (way(corners[k], corners[j % 6]) for j in (k - 1, k + 1))
        out = -1 if k == 3 else 1
        turns = np.linspace(0, math.pi / 2, FINE + 1)
        normals = out * (np.outer(np.cos(turns), v) + np.outer(np.sin(turns), u))
        if r:
            arc = corners[k] + r * (u + v) - out * r * normals
            first.append((arc[FINE // 2 :], normals[FINE // 2 :]))
            last.append((arc[: FINE // 2 + 1], normals[: FINE // 2 + 1]))
        else:
            first.append((corners[k][None], out * u[None]))
            last.append((corners[k][None], out * v[None]))
    return [
        tuple(np.concatenate(pair) for pair in zip(first[k], last[(k + 1) % 6], strict=True))
        for k in range(6)
    ]


def way(start, end):
    return (end - start) / np.hypot(*(end - start))


@settings(max_examples=12, deadline=None)
@given(plans())
def test_plans_with_round_corners_mixed_edges_slopes_and_a_touching_slab_to_one_in_a_million(plan):
    assert of_book(*plan) == pytest.approx(by_hand(*plan[1:]), rel=1e-6)


def test_the_integral_by_hand():
    """All corners sharp but D, radius 4 ft, a plain edge 1 ft deep and wide all round: outside 108 - (2 - pi/2) 4 ft, five
    corners that point out count once less each, and the arc's own band is pi/2 (4 + 1/2)."""
    edges = [{"side": k, "depth": "12 in", "width": "12 in", "slope": 0.0} for k in range(1, 7)]
    area = 30 * 24 - 12 * 10 + (1 - math.pi / 4) * 16
    straight = 108 - 2 * 4
    below = straight - 5 + math.pi / 2 * 4.5
    assert by_hand([None] * 3 + [4.0] + [None] * 2, edges, None) == pytest.approx(
        area * 5 / 12 + 25 + below, rel=1e-6
    )
