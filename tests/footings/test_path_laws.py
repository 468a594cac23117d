"""Laws of the load path down to the ground: more load or a wider opening never helps, metric jobs equal US jobs."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from structure import job as base

from calcbook.book.chapters import run

EDGE = {"depth": "13 in", "width": "16 in", "slope": 0.0}
SLAB = {"length": "30 ft", "width": "24 ft", "thickness": "5 in", "above_grade": "6 in"}
WALL = {"name": "w", "side": 1, "height": "9 ft", "uplift_is": "gross", "inset": "5.25 in"}
PIECE = {"start": "0 ft", "length": "6 ft", "hold_down": "9000 lbf", "anchor": "5/8"}
NO_JOINTS = {"by_hand": True}
FEW = settings(max_examples=12, deadline=None)


def ratios(*words, units="us", joints=None, edge=EDGE, **wall):
    """Ratios of the checks of edges by title, or of those with words in their titles; endless where no weight is left."""
    made = base(edge=edge, slab=SLAB, job={"units": units}, walls=[WALL | wall], joints=joints or {})
    checks = run("edges", made).checks
    spent = any("no weight left" in c.demand for c in checks)
    found = {c.title: c.ratio or (0.0 if c.status != "NOT OK" else math.inf) for c in checks}
    if not words:
        return found
    return [
        next((r for title, r in found.items() if w in title), math.inf if spent else 0.0) for w in words
    ]


LIFTS = (
    "Uplift on edge and slab",
    "at the governing jamb",
    "at the governing hold-down",
    "Overturning moment",
)


@FEW
@given(st.integers(0, 400), st.integers(1, 300), st.integers(0, 300))
def test_more_uplift_never_helps_the_ground(uplift, more, dead):
    wall = {
        "dead": f"{dead} plf",
        "shear": "100 plf",
        "braced": [PIECE],
        "openings": [{"start": "8 ft", "width": "6 ft"}],
    }
    before, after = (ratios(*LIFTS, uplift=f"{u} plf", **wall) for u in (uplift, uplift + more))
    for title, one, other in zip(LIFTS, before, after, strict=True):
        assert other >= one - 1e-9, title


@FEW
@given(st.integers(3, 10), st.integers(1, 8), st.integers(50, 500), st.integers(0, 120))
def test_a_wider_opening_never_helps_a_jamb(width, more, dead, uplift):
    """Where no joint crosses the edge, from which a jamb moves away as its opening grows."""
    titles = ("jamb that presses most", "at the governing jamb")
    before, after = (
        ratios(*titles, dead=f"{dead} plf", uplift=f"{uplift} plf", openings=[{"start": "8 ft", "width": f"{w} ft"}], joints=NO_JOINTS)
        for w in (width, width + more)
    )  # fmt: skip
    for title, one, other in zip(titles, before, after, strict=True):
        assert other >= one - 1e-9, title


@settings(max_examples=6, deadline=None)
@given(st.integers(0, 16), st.integers(0, 200), st.integers(50, 300), st.sampled_from([0, 1, 2, 4]))
def test_a_joint_across_the_edge_never_helps_and_bars_never_hurt(at, uplift, shear, bars):
    """The hold-downs of a piece that ends 6 ft from the corner, a door beside it, and a joint anywhere along it.

    Of each link the worst check counts: a jamb near a joint bends the edge less, and asks for length in one piece instead.
    """
    wall = {
        "dead": "100 plf", "uplift": f"{uplift} plf", "shear": f"{shear} plf", "braced": [PIECE],
        "openings": [{"start": "8 ft", "width": "6 ft"}],
    }  # fmt: skip
    line = NO_JOINTS | {"lines": [{"x": f"{at + 0.5} ft"}]}
    edge = EDGE | {"bars": bars}
    titles = ("Uplift on edge and slab", "the governing jamb", "the governing hold-down", "Overturning moment",
              "presses most", "under the ends of its shear wall")  # fmt: skip

    def worst(joints, edge):
        found = ratios(joints=joints, edge=edge, **wall)
        return [max((r for title, r in found.items() if w in title), default=0.0) for w in titles]

    without, with_it = (worst(j, edge) for j in (NO_JOINTS, line))
    barred = worst(line, edge | {"bars": bars + 2})
    for title, one, crossed, held in zip(titles, without, with_it, barred, strict=True):
        assert crossed >= one - 1e-9, title
        assert held <= crossed + 1e-9, title


@FEW
@given(st.integers(50, 600), st.integers(0, 120), st.integers(10, 300))
def test_a_metric_job_finds_the_same_along_the_path(dead, uplift, shear):
    """But for the tape: pieces of a wall stand at whole millimeters there."""
    wall = {
        "dead": f"{dead} plf",
        "uplift": f"{uplift} plf",
        "shear": f"{shear} plf",
        "braced": [PIECE],
    }
    us, si = (ratios(units=u, **wall) for u in ("us", "si"))
    assert us.keys() == si.keys()
    for title in (t for t in us if "wall w" in t):
        assert si[title] == pytest.approx(us[title], rel=2e-3, abs=1e-3), title


def test_uplift_of_3000_plf_on_one_wall_makes_bolts_edge_and_pad_fail_together():
    pad = {
        "name": "P",
        "x": "15 ft",
        "y": "1.5 ft",
        "length": "36 in",
        "width": "36 in",
        "depth": "13 in",
        "dead": "2000 lbf",
    }
    made = base(
        edge=EDGE, slab=SLAB, walls=[WALL | {"uplift": "3000 plf", "dead": "100 plf"}], pads=[pad]
    )
    for chapter, title in (
        ("bolts", "Uplift on the governing bolt, wall w"),
        ("edges", "Uplift on edge and slab, wall w"),
        ("pads", "Uplift on pad P"),
    ):
        check = next(c for c in run(chapter, made).checks if c.title == title)
        assert check.status != "OK" and check.ratio > 1, title
