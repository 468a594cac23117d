"""Checks of bolted walls: loads on one bolt, rules of the layout, wood beside the bolt."""

import re

import pytest
from bolt_jobs import asked, changed, check, frames, notes, one_wall, read, steps, tape_lists, values

from calcbook.book.chapters import run


@pytest.fixture(scope="module")
def made(demo):
    return run("bolts", demo)


def test_shallow_bolts_and_thin_concrete(demo):
    assert "Is the bolt deep enough" in asked(changed(demo, bolts__depth="6 in"))
    assert "concrete enough below" in asked(changed(demo, edge__depth="4 in"), "NOT OK")


def test_plate_off_its_bolts(demo):
    assert "middle third" in asked(changed(demo, walls__0__inset="1.5 in"), "NOT OK")
    assert "middle third" not in asked(changed(demo, walls__0__inset="0.9 in"), "NOT OK")


def test_a_piece_that_cannot_be_bolted(demo):
    raw = {
        **demo.raw,
        "walls": [{**demo.raw["walls"][1], "openings": [{"start": "8 in", "width": "3 ft"}]}],
    }
    calc = run("bolts", type(demo)(raw))
    check = next(c for c in calc.checks if c.question.startswith("Can every piece"))
    assert check.status == "NOT OK" and re.search(
        r"^east: the piece of plate from 5 1/2\" to 1'-1 1/2\" cannot be bolted", check.remark
    )


@pytest.mark.parametrize(
    ("direction", "held"), [("uplift", 2362.5), ("shear", 1554.98), ("shear_out", 927.36)]
)
def test_use_of_one_bolt(demo, direction, held):
    """Use of the bolt that holds most: load x share / allowable, by plain arithmetic on the tape list."""
    calc = one_wall(demo, {"side": 2, "end": "12 ft", direction: "400 plf"})
    words = {"uplift": "uplift", "shear": "shear along the wall", "shear_out": "shear across the wall"}
    found = check(calc, f"each bolt hold its {words[direction]}")
    share = read(re.search(r"; ([^.;]+\") of plate is its own", found.remark)[1]) / 12
    (table,) = tape_lists(calc).values()
    places = [read(text) / 12 for text in table["On the tape"]]
    ends = [places[:2], [12 - x for x in places[:-3:-1]]]
    levers = [c * (1 + c / (2 * (x - c))) + (x - c) / 2 for c, x in ends]
    counted = share if direction == "shear" else max(share, *levers)
    assert found.ratio == pytest.approx(400 * counted / held, rel=2e-3)


def test_interaction_is_the_sum_of_shares(demo):
    loads = {"side": 2, "end": "12 ft", "uplift": "400 plf", "shear": "250 plf", "shear_out": "150 plf"}
    calc = one_wall(demo, loads)
    one = {w: check(calc, f"hold its {w}").ratio for w in ("uplift", "shear along", "shear across")}
    both = check(calc, "uplift and shear at once")
    most = one["uplift"] + max(one["shear along"], one["shear across"])
    assert both.ratio * 1.2 == pytest.approx(most, rel=1e-6)
    assert "use at most 1.2" in both.question


def test_no_load_no_check_of_it(demo):
    calc = one_wall(demo, {"uplift": "300 plf"})
    questions = " ".join(c.question for c in calc.checks)
    assert "each bolt hold its uplift" in questions
    assert "hold its shear along" not in questions and "at once" not in questions


def test_the_wall_that_counts_most_is_named(made):
    """The bolt beside the wide door lifts hardest; the doors' own share of shear is on the plate beside them."""
    assert "wall south" in check(made, "hold its uplift").question
    assert "comes by a jamb or post" in check(made, "hold its uplift").remark
    assert "wall east" in check(made, "hold its shear along").question


def test_bolt_size_and_depth(demo, made):
    assert check(made, "thick enough").capacity == "0.625 in."
    assert check(made, "thick enough").demand == "0.5 in."
    deep = check(made, "deep enough (wall")
    assert "wall notch east" in deep.question and "A shallower drilled bolt" in deep.remark
    cast = one_wall(demo, {})
    assert "drilled" not in check(cast, "deep enough").remark
    assert "deep enough" in asked(
        one_wall(demo, {}, bolts={"embedment": "5 in", "length_step": "0.5 in"}), "NOT OK"
    )


def test_cover_below_the_deepest_bolt(made):
    """Own arithmetic: 7.10 in. and 3 in. below, against 5 in. of slab and 13 in. of edge."""
    found = check(made, "concrete enough below")
    assert (found.demand, found.capacity) == ("10.10 in.", "18 in.")


def test_bolts_off_the_middle_are_measured_from_it(demo):
    found = check(changed(demo, walls__2__edge_distance="3.25 in"), "middle third")
    assert "wall notch north" in found.question
    assert found.ratio == pytest.approx(0.5 / (5.5 / 6))


def test_wood_beside_the_bolt(demo):
    """NDS-2018 Table 12.5.1C (from memory): 4 diameters to the loaded edge, 2.5 in. for 5/8 in.; a 2x4 has 1.75 in."""
    narrow = {"plate_width": "3.5 in", "edge_distance": "1.75 in"}
    calc = one_wall(demo, {**narrow, "shear_out": "100 plf"})
    found = check(calc, "wood enough beside")
    assert (found.demand, found.capacity, found.status) == ("2.5 in.", "1.75 in.", "NEEDS ENGINEER")
    assert not any("wood enough beside" in c.question for c in one_wall(demo, narrow).checks)
    assert check(changed(demo), "wood enough beside").status == "OK"
    shifted = one_wall(demo, {"edge_distance": "3.25 in", "shear_out": "100 plf"})
    assert check(shifted, "wood enough beside").capacity == "2.25 in."


def test_torqued_cast_bolts_need_six_diameters(demo):
    """ACI 318M-19 Table 17.9.2 (in a reprint): 6 x 5/8 = 3.75 in., more than the 2.75 in. to the edge."""
    snug, torqued = run("bolts", demo), changed(demo, bolts__torqued=True)
    assert any("snug, not by torque" in words for words in snug.cautions)
    found = check(torqued, "torqued cast bolts far enough from the edge")
    assert found.status == "NEEDS ENGINEER" and "3.75" in found.demand
    assert check(torqued, "torqued cast bolts far enough apart").status == "OK"


def test_a_load_of_earthquake_goes_to_an_engineer_in_any_category(demo):
    for category in ("A", "B", "C"):
        calc = changed(demo, bolts__load="earthquake", design__seismic=category)
        assert "earthquake" in asked(calc)


@pytest.mark.remembered("ACI 318-19", "17.7.2.1")
def test_at_a_corner_the_lesser_of_both_edges_governs_along_the_wall(demo):
    """ACI 318-19 17.7.2.1(d), read in a reprint; a wide edge makes the end the nearer one."""
    from calcbook.basis.units import Q
    from calcbook.bolts.anchor_shear import basic_breakout_shear, breakout_shear_towards

    calc = one_wall(
        demo, {"plate_width": "5.5 in", "uplift": "100 plf", "shear": "100 plf", "method": "drilled"}
    )
    assert "every edge is checked for itself" in notes(calc)
    towards = steps(calc, "breakout_shear_towards")
    ends = [s for s in towards if s.bound["c_a1"] == Q(9.375, "in")]  # 15 diameters of 5/8 in.
    assert ends, "the end of the slab is checked"
    bound = ends[0].bound
    V_b = basic_breakout_shear("4000 psi", "0.625 in", "7 in", "9.375 in")
    again = breakout_shear_towards(**{**bound, "V_b": V_b})
    assert ends[0].value.m == pytest.approx(again.m)


@pytest.mark.parametrize(
    ("shear", "washer", "status"),
    [("150 plf", "3 in", "OK"), ("250 plf", "3 in", "NOT OK"), ("250 plf", "4.5 in", "OK")],
)
def test_the_washer_of_a_shear_wall_reaches_its_sheathed_edge(demo, shear, washer, status):
    """A bolt 2.75 in. from a flush face: a 3 in. washer stays 1.25 in. away, one of 4.5 in. 0.5 in."""
    calc = one_wall(
        demo, {"height": "9 ft", "shear": shear, "uplift": "0 plf"}, bolts={"washer": washer}
    )
    found = check(calc, "does the plate washer reach")
    assert found.status == status
    if shear == "250 plf":
        gap, most = (x.m_as("in") for x in found.values)
        assert (gap, most) == pytest.approx((2.75 - float(washer[:-3]) / 2, 0.5))


def test_the_coating_of_bolts_stands_with_them_and_with_what_is_ordered(made):
    assert notes(made).count("hot-dip galvanized") >= 1
    assert any("hot-dip galvanized" in words for words in made.cautions)


def test_both_numbers_stand_where_an_exemption_and_the_anchor_chapter_differ(demo):
    """5/8 in. bolts 2-3/4 in. off the edge are exempt, 3/4 in. ones are not; the chapter's number stands for both."""
    title = "Shear along the plate, one bolt: building code and anchor chapter"
    exempt, not_exempt = (frames(changed(demo, bolts__size=d))[title] for d in ("5/8", "3/4"))
    assert "exempts it" in exempt.iloc[0].iloc[-1] and "not exempt" in not_exempt.iloc[0].iloc[-1]
    used, chapter = (float(x.split(" ")[0].replace(",", "")) for x in not_exempt.iloc[0].iloc[1:3])
    assert used <= chapter
    steps_, row = (
        values(changed(demo, bolts__size="3/4"), "design_strength"),
        not_exempt.iloc[0].iloc[2],
    )
    assert any(float(row.split(" ")[0].replace(",", "")) == pytest.approx(v, rel=1e-3) for v in steps_)
    thin = changed(
        demo, concrete__strength="2500 psi", walls__0__edge_distance="1.75 in", walls__0__inset="0 in"
    )
    assert any("exempts these bolts" in c for c in thin.cautions)
