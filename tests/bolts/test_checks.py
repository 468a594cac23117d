"""Checks of bolted walls: loads on one bolt, rules of the layout, wood beside the bolt."""

import re

import pytest
from bolt_jobs import asked, changed, check, frames, notes, one_wall, read, steps, tape_lists, values

from calcbook.book.chapters import run


@pytest.fixture(scope="module")
def made(demo):
    return run("bolts", demo)


def test_shallow_bolts_and_thin_concrete(demo):
    assert "Embedment of the sill bolts" in asked(changed(demo, bolts__depth="6 in"))
    assert "Depth of the concrete" in asked(changed(demo, edge__depth="4 in"), "NOT OK")


def test_plate_off_its_bolts(demo):
    assert "middle of the plate" in asked(changed(demo, walls__0__inset="1.5 in"), "NOT OK")
    assert "middle of the plate" not in asked(changed(demo, walls__0__inset="0.9 in"), "NOT OK")


def test_a_piece_that_cannot_be_bolted(demo):
    raw = {
        **demo.raw,
        "walls": [{**demo.raw["walls"][1], "openings": [{"start": "8 in", "width": "3 ft"}]}],
    }
    calc = run("bolts", type(demo)(raw))
    check = next(c for c in calc.checks if c.title.startswith("Pieces of sill plate"))
    assert check.status == "NOT OK" and re.search(
        r"^east: the piece of plate from 5 1/2\" to 1'-1 1/2\" cannot be bolted", check.to_do
    )


@pytest.mark.parametrize(
    ("direction", "held"), [("uplift", 2362.5), ("shear", 1554.98), ("shear_out", 927.36)]
)
def test_use_of_one_bolt(demo, direction, held):
    """Use of the bolt that holds most: load x share / allowable, by plain arithmetic on the tape list."""
    calc = one_wall(demo, {"side": 2, "end": "12 ft", direction: "400 plf"})
    words = {"uplift": "Uplift", "shear": "Shear along the wall", "shear_out": "Shear across the wall"}
    found = check(calc, f"{words[direction]} on the governing bolt")
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
    one = {w: check(calc, w).ratio for w in ("Uplift on", "Shear along", "Shear across")}
    both = check(calc, "Interaction")
    most = one["Uplift on"] + max(one["Shear along"], one["Shear across"])
    assert both.ratio * 1.2 == pytest.approx(most, rel=1e-6)
    assert "of 1.2 allowed" in both.claim


def test_no_load_no_check_of_it(demo):
    calc = one_wall(demo, {"uplift": "300 plf"})
    questions = " ".join(c.title for c in calc.checks)
    assert "Uplift on the governing bolt" in questions
    assert "Shear along" not in questions and "Interaction" not in questions


def test_the_wall_that_counts_most_is_named(made):
    """The bolt beside the wide door lifts hardest; the doors' own share of shear is on the plate beside them."""
    assert "wall south" in check(made, "Uplift on the governing bolt").title
    assert "comes by a jamb or post" in check(made, "Uplift on the governing bolt").remark
    assert "wall east" in check(made, "Shear along").title


def test_bolt_size_and_depth(demo, made):
    assert check(made, "Diameter of the sill bolts").capacity == "0.625 in."
    assert check(made, "Diameter of the sill bolts").demand == "0.5 in."
    deep = check(made, "Embedment of the sill bolts, wall")
    assert "wall notch east" in deep.title and "A shallower drilled bolt" in deep.remark
    cast = one_wall(demo, {})
    assert "drilled" not in check(cast, "Embedment").remark
    assert "Embedment" in asked(
        one_wall(demo, {}, bolts={"embedment": "5 in", "length_step": "0.5 in"}), "NOT OK"
    )


def test_cover_below_the_deepest_bolt(made):
    """Own arithmetic: 7.10 in. and 3 in. below, against 5 in. of slab and 13 in. of edge."""
    found = check(made, "Depth of the concrete")
    assert (found.demand, found.capacity) == ("10.10 in.", "18 in.")


def test_bolts_off_the_middle_are_measured_from_it(demo):
    found = check(changed(demo, walls__2__edge_distance="3.25 in"), "middle of the plate")
    assert "wall notch north" in found.title
    assert found.ratio == pytest.approx(0.5 / (5.5 / 6))


def test_wood_beside_the_bolt(demo):
    """NDS-2018 Table 12.5.1C (from memory): 4 diameters to the loaded edge, 2.5 in. for 5/8 in.; a 2x4 has 1.75 in."""
    narrow = {"plate_width": "3.5 in", "edge_distance": "1.75 in"}
    calc = one_wall(demo, {**narrow, "shear_out": "100 plf"})
    found = check(calc, "Edge distance in the wood")
    assert (found.demand, found.capacity, found.status) == ("2.5 in.", "1.75 in.", "NEEDS ENGINEER")
    assert not any("Edge distance in the wood" in c.title for c in one_wall(demo, narrow).checks)
    assert check(changed(demo), "Edge distance in the wood").status == "OK"
    shifted = one_wall(demo, {"edge_distance": "3.25 in", "shear_out": "100 plf"})
    assert check(shifted, "Edge distance in the wood").capacity == "2.25 in."


def test_torqued_cast_bolts_need_six_diameters(demo):
    """ACI 318M-19 Table 17.9.2 (in a reprint): 6 x 5/8 = 3.75 in., more than the 2.75 in. to the edge."""
    snug, torqued = run("bolts", demo), changed(demo, bolts__torqued=True)
    assert any("snug, not by torque" in words for words in snug.cautions)
    found = check(torqued, "Edge distance of torqued cast bolts")
    assert found.status == "NEEDS ENGINEER" and "3.75" in found.demand
    assert check(torqued, "Spacing of torqued cast bolts").status == "OK"


def test_a_load_of_earthquake_goes_to_an_engineer_in_any_category(demo):
    for category in ("A", "B", "C"):
        calc = changed(demo, bolts__load="earthquake", design__seismic=category)
        assert "Seismic design of the anchors" in asked(calc)


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
    found = check(calc, "Plate washer to the sheathed edge")
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
