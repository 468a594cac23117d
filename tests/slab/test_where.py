"""Where a post on the bare slab stands by its coordinates: a place that is harder than the named one governs."""

import pytest
from shapely import LineString
from structure import checks, job

from calcbook.basis.units import Q
from calcbook.slab.where import near_edge, near_places

LINES = {"by_hand": True, "lines": [{"x": "10 ft"}]}


def stress(x, y, **more):
    post = {
        "name": "leg",
        "load": "1800 lbf",
        "place": "inside",
        "x": x,
        "y": y,
        **more.pop("post", {}),
    }
    found = checks("slab", job(posts=[post], joints=LINES, **more))
    (one,) = (c for title, c in found.items() if title.startswith("Bending stress under leg"))
    return one


@pytest.mark.parametrize(
    ("x", "y", "where"),
    [
        ("15 ft", "12 ft", "inside a panel"),
        ("11 ft", "12 ft", "at a joint"),
        ("15 ft", "1 ft", "at an edge"),
    ],
)
def test_a_post_named_as_inside_counts_where_it_stands(x, y, where):
    """Own plan: 30 x 24 ft with a joint at x = 10 ft. Nearer than l + a to it (the rule of TR 34) the slab bends as at it."""
    assert stress(x, y).title.endswith(where)


def test_corners_of_slab_and_panels_are_seen_and_inner_corners_are_none():
    """An L of 30 x 24 ft less 10 x 10 ft: its inner corner at 20, 14 ft is an edge, no corner; a joint's end is one."""
    shape = {
        "points": [
            [f"{x} ft", f"{y} ft"] for x, y in ((0, 0), (30, 0), (30, 14), (20, 14), (20, 24), (0, 24))
        ]
    }

    def near(x, y, cuts=()):
        return list(near_places(job(slab=shape), [(x, y)], Q(24, "in"), cuts, ()))

    assert near(29.5, 0.5) == ["edge", "corner"] and near(19.5, 13.5) == ["edge"] and not near(10, 10)
    cut, other = LineString([(10, 24), (10, 4)]), LineString([(4, 8), (20, 8)])
    assert near(10, 4.5, [cut]) == ["joint", "corner"] and near(10, 12, [cut]) == ["joint"]
    assert near(11, 9, [cut, other]) == ["joint", "corner"]


def test_the_named_place_counts_where_it_is_the_harder_one():
    assert stress("15 ft", "12 ft", post={"place": "edge"}).title.endswith("at an edge")


def test_an_opening_is_an_edge_and_any_leg_of_a_rack_counts():
    drain = [{"name": "drain", "x": "20 ft", "y": "12 ft", "diameter": "12 in"}]
    assert stress("21 ft", "12 ft", openings=drain).title.endswith("at an edge")
    rack = {"legs": 2, "leg_spacing": "48 in"}
    assert stress("15 ft", "12 ft", post=rack).title.endswith("inside a panel")
    assert stress("6 ft", "12 ft", post=rack).title.endswith("at a joint")


def test_a_joint_that_passes_load_is_counted_by_what_it_passes():
    """vehicle.transfer 25 % leaves three quarters of a free edge's stress, more than inside a panel."""
    free, doweled = (
        stress("10 ft", "12 ft", vehicle={"transfer": share}).ratio for share in ("0 %", "25 %")
    )
    assert doweled == pytest.approx(0.75 * free)


@pytest.mark.worked("near_edge")
def test_between_edge_and_inside_the_stress_is_linear():
    """Own arithmetic: a quarter of the way from 300 psi at the edge to 200 inside."""
    assert near_edge("300 psi", "200 psi", "7 in", "28 in").m_as("psi") == pytest.approx(275)
    assert near_edge("300 psi", "200 psi", "40 in", "28 in").m_as("psi") == pytest.approx(200)


def test_a_post_nearer_to_a_joint_is_never_better_off_and_a_thicker_slab_never_worse():
    near = [stress(f"{10 + off} ft", "12 ft").ratio for off in (0.0, 0.5, 1.0, 2.0, 4.0)]
    assert near == sorted(near, reverse=True) and near[0] > near[-1]
    sizes = {"length": "30 ft", "width": "24 ft"}
    thick = [
        stress("11.5 ft", "12 ft", slab=sizes | {"thickness": f"{h} in"}).ratio
        for h in (4, 4.5, 5, 6, 8)
    ]
    assert thick == sorted(thick, reverse=True)
