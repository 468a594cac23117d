"""Where the sheet under a slab ends: section, cut lengths, rolls, tape and client's page from one field."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from matplotlib.lines import Line2D
from shapely import LineString

from calcbook.basis.showing import show_length
from calcbook.basis.units import Q
from calcbook.book.chapters import Book, run
from calcbook.footings.edge_drawing import edge_section
from calcbook.job.file import Job, JobError
from calcbook.plan.drawing import ACCENT
from calcbook.plan.outline import EdgeRing
from calcbook.plan.sheet_edge import (
    ENDS,
    FLAT,
    INSIDE,
    UNDER,
    lining_side,
    lining_widths,
    sheet_beyond,
    sheet_line,
    sheet_short,
)
from calcbook.price.client import scope


def job(width="12 ft", **retarder):
    return Job({"slab": {"length": "40 ft", "width": width}, "retarder": retarder})


def lengths(calc):
    """The cut list of a chapter: lengths of the sheets, of linings apart."""
    (cuts,) = (b.frame for b in calc.blocks if getattr(b, "title", "").startswith("Sheets, in"))
    linings = cuts["sheet"].str.startswith("lining")
    return cuts[~linings]["length"].tolist(), cuts[linings]["length"].tolist()


# --- the formulas by hand -------------------------------------------------------------------------


@pytest.mark.worked("sheet_beyond", "sheet_short")
def test_sheet_beyond_the_outline_by_hand():
    """13 in. deep at 45 degrees: 13 (root 2 - 1) + 13 = 18.385 in.; level ground with 6 in. turned up: 6."""
    assert sheet_beyond("13 in", 1.0, "6 in").m_as("inch") == pytest.approx(13 * math.sqrt(2), abs=1e-9)
    assert sheet_beyond("4 in", 0.0, "6 in").m_as("inch") == pytest.approx(4 + 6)
    assert sheet_beyond("0 in", 1.0, "6 in").m_as("inch") == pytest.approx(6)
    assert sheet_short("12 in", "13 in", 1.0).m_as("inch") == pytest.approx(25)


@pytest.mark.worked("lining_side", "lining_widths")
def test_linings_by_hand():
    """A pad of 36 in., 9 in. deep, sheets lapped 6 in.: 36 + 2 (9 + 6) = 66 in."""
    assert lining_side("36 in", "9 in", 0.0, "6 in").m_as("inch") == pytest.approx(66)
    assert lining_side("36 in", "3 in", 4 / 3, "6 in").m_as("inch") == pytest.approx(36 + 2 * (5 + 6))
    # 10 ft rolls lapped 6 in. cover 10, 19.5, 29 ft
    assert [lining_widths(x, "10 ft", "6 in") for x in ("10 ft", "10.1 ft", "19.5 ft", "29 ft")] == [
        1,
        2,
        2,
        3,
    ]


@settings(max_examples=60, deadline=None)
@given(st.floats(0.1, 6), st.floats(0.4, 10), st.floats(0, 4), st.floats(0, 5))
def test_the_line_in_section_is_as_long_as_the_sheet_that_is_cut(d, b, slope, up):
    """Rolled out flat from where the slope begins: its distance from the outline and what reaches beyond it."""
    edge = EdgeRing(d, b, slope)
    beyond, inner = (
        f.m_as("foot") for f in (sheet_beyond(Q(d, "ft"), slope, Q(up, "ft")), sheet_short(Q(b, "ft"), Q(d, "ft"), slope))
    )  # fmt: skip
    assert LineString(sheet_line(edge, UNDER, up)).length == pytest.approx(inner + beyond)
    assert sheet_line(edge, INSIDE, up) == [(pytest.approx(inner), 0.0)]
    assert LineString(sheet_line(edge, FLAT, up)).length == pytest.approx(up)


# --- two places, one field ------------------------------------------------------------------------


@pytest.mark.parametrize("ends", ENDS)
@pytest.mark.parametrize(
    "edge", [{"depth": "13 in"}, {"depth": "8 in", "slope": 0.5}, {"depth": "0 in"}]
)
def test_the_cut_list_is_as_long_as_the_section_shows(ends, edge):
    """One sheet across the slab: its flat middle, and at both ends the dashed line of the drawing."""
    made = Job(
        {"slab": {"length": "30 ft", "width": "25 ft"}, "edge": edge, "retarder": {"ends": ends}}
    )
    (drawn,) = (
        x for x in edge_section(made)().findobj(Line2D) if x.get_color() == ACCENT and x.is_dashed()
    )
    plan_edge = made.plan.edge
    line = sheet_line(plan_edge, ends, made.retarder.turn_up.m_as("foot"))
    assert len(drawn.get_xdata()) == len(line) + 1  # from the break of the drawing on
    inner = line[0][0]
    cut = LineString(line).length if len(line) > 1 else 0.0
    (other,) = {x for x in lengths(run("retarder", made))[0]}
    assert other in [show_length(Q(side - 2 * inner + 2 * cut, "ft"), "us") for side in (25, 30)]


def test_a_sheet_of_the_demo_goes_down_under_and_up(demo):
    """28 ft and twice 13 root 2 in.: 31'-0 3/4\" (flat with 6 in. turned up it was 29 ft)."""
    shorter = demo.changed(
        {
            "slab.points": None,
            "slab.length": "28 ft",
            "slab.width": "28 ft",
            "openings": [],
            "pads": [],
            "walls": [],
        }
    )
    assert set(lengths(run("retarder", shorter))[0]) == {"31'-0 3/4\""}
    flat = shorter.changed({"retarder.ends": FLAT})
    assert set(lengths(run("retarder", flat))[0]) == {"29'-0\""}


def test_a_narrow_slab_that_one_flat_sheet_covers_takes_two_and_tape():
    """13 ft wide, 14 ft rolls: flat with 6 in. turned up just one sheet; down 8 in. and up it takes 14'-10\"."""
    flat, under, inside = (run("retarder", job("13 ft", ends=ends)) for ends in (FLAT, UNDER, INSIDE))
    assert [len(lengths(c)[0]) for c in (flat, under, inside)] == [1, 2, 1]
    assert (
        flat.results["tape"].m == 0
        and flat.results["tape_rolls"] == 0
        and inside.results["tape"].m == 0
    )
    assert (
        under.results["tape"].m == pytest.approx(40 + 2 * 8 * math.sqrt(2) / 12)
        and under.results["tape_rolls"] == 1
    )


@pytest.mark.parametrize("ends", ENDS)
def test_the_clients_page_says_where_the_sheet_ends(ends):
    said = scope(Book(job(ends=ends)).quote)
    assert any(line.startswith("Vapor retarder") and ends in line for line in said)


def test_a_slab_that_is_all_edge_has_nothing_inside_of_it():
    made = Job({"slab": {"length": "30 ft", "width": "3 ft"}, "retarder": {"ends": INSIDE}})
    with pytest.raises(JobError, match="nothing of the sheet is left inside of the thickened edge"):
        run("retarder", made)


def test_edges_that_meet_and_narrow_notches_are_told():
    narrow = run("retarder", job("3 ft"))
    assert any("measured as if they did not" in getattr(b, "words", "") for b in narrow.blocks)
    points = [["0 ft", "0 ft"], ["30 ft", "0 ft"], ["30 ft", "20 ft"], ["16 ft", "20 ft"], ["16 ft", "15 ft"],
              ["15 ft", "15 ft"], ["15 ft", "20 ft"], ["0 ft", "20 ft"]]  # fmt: skip
    notched = run("retarder", Job({"slab": {"points": points}}))
    assert any("In a notch" in c for c in notched.cautions)
    assert not any("In a notch" in c for c in run("retarder", job()).cautions)


# --- pads and strips ------------------------------------------------------------------------------

PAD = {"name": "P", "x": "15 ft", "y": "10 ft", "length": "36 in", "width": "24 in", "depth": "9 in"}


def padded(ends=UNDER, **pad):
    return Job(
        {"slab": {"length": "30 ft", "width": "20 ft"}, "pads": [PAD | pad], "retarder": {"ends": ends}}
    )


def test_a_pad_is_lined_where_the_sheet_follows_what_is_dug():
    """24 + 2 (9 + 6) = 54 in. along the roll; 10 ft around its rim are taped, and the lining is in the area."""
    bare = Job({"slab": {"length": "30 ft", "width": "20 ft"}})
    plain, lined = run("retarder", bare), run("retarder", padded())
    assert lengths(lined)[1] == ["4'-6\""] and lengths(lined)[0] == lengths(plain)[0]
    assert (lined.results["tape"] - plain.results["tape"]).m == pytest.approx(10)
    area = [
        next(s.value for s in c.steps if getattr(s, "label", "") == "area to cover").m
        for c in (plain, lined)
    ]
    assert area[1] - area[0] == pytest.approx(66 * 54 / 144)
    hours = [next(t.amount.m for t in c.takeoff if t.kind == "labor") for c in (plain, lined)]
    assert hours[1] > hours[0]


@pytest.mark.parametrize("ends", [INSIDE, FLAT])
def test_a_sheet_that_does_not_go_down_lines_no_pad(ends):
    calc = run("retarder", padded(ends))
    assert lengths(calc)[1] == [] and calc.results["tape"].m == pytest.approx(calc.results["laps"].m)


def test_a_pad_within_the_edge_needs_no_lining_of_its_own():
    inside = {"x": "0.5 ft", "length": "12 in", "depth": "8 in"}
    assert lengths(run("retarder", padded(**inside)))[1] == []
    assert len(lengths(run("retarder", padded(**inside | {"depth": "10 in"})))[1]) == 1


def test_a_lining_wider_than_the_roll_is_of_several_widths():
    """A pad of 15 ft, 6 in. deep, is 17 ft rolled out: two widths of a 14 ft roll, with a lap between."""
    made = padded(length="180 in", width="180 in", depth="6 in")
    assert lengths(run("retarder", made))[1] == ["2 of 17'-0\""]
    calc = run("retarder", made)
    assert calc.results["laps"].m - run("retarder", padded()).results["laps"].m == pytest.approx(17)


@settings(max_examples=15, deadline=None)
@given(st.floats(12, 60), st.floats(12, 60), st.floats(4, 30))
def test_a_deeper_or_larger_pad_never_takes_less_sheet(a, b, d):
    sizes = {"length": f"{a} in", "width": f"{b} in", "depth": f"{d} in"}
    deeper = sizes | {"depth": f"{d + 2} in"}
    first, second = (
        next(
            s.value.m
            for s in run("retarder", padded(**x)).steps
            if getattr(s, "label", "") == "area to cover"
        )
        for x in (sizes, deeper)
    )
    assert second > first
