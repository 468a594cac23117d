"""The pads of a job: loads, checks, uplift, neighbours, and what is told."""

import pytest
from drawn import words
from shapely import box
from structure import POST, SIZE, checks, job

from calcbook.basis.showing import show
from calcbook.book.chapters import Book, run
from calcbook.footings.footing import bearing_pressure
from calcbook.footings.pad_fit import EdgeWalls, footprint, wall_length
from calcbook.footings.pad_size import pad_for
from calcbook.plan.dug import dig_volume
from calcbook.plan.outline import EdgeRing, Edging
from calcbook.slab.soil import counted_weight, soil_bearing


def test_a_pad_without_a_size_gets_one_and_the_plan_follows():
    made = job(pads=[POST])
    length, width, depth = pad_for(made.file.pads[0], made.file, Edging(made.plan.outline))
    (thickening,) = made.plan.thickenings
    assert thickening.bottom.area * 144 == pytest.approx((length * width).m_as("inch**2"))
    assert thickening.depth * 12 == pytest.approx(depth.m_as("inch"))
    found = checks("pads", made)
    assert all(c.status == "OK" for c in found.values()) and max(c.ratio for c in found.values()) > 0.7
    fixed = job(pads=[POST | {"width": "24 in"}])
    x0, y0, x1, y1 = fixed.plan.thickenings[0].bottom.bounds
    assert (y1 - y0) * 12 == pytest.approx(24) and x1 - x0 > y1 - y0
    turned = job(pads=[POST | {"length": "24 in"}])
    x0, y0, x1, y1 = turned.plan.thickenings[0].bottom.bounds
    assert (x1 - x0) * 12 == pytest.approx(24) and y1 - y0 > x1 - x0


def test_a_new_load_makes_more_concrete_by_itself():
    before, after = (run("volume", j).results["net"] for j in (job(), job(pads=[POST])))
    assert after > before


def test_a_pad_without_size_or_load_is_refused_in_words():
    with pytest.raises(ValueError, match="pad 'P': its size is left out"):
        _ = job(pads=[{"name": "P", "x": "10 ft", "y": "10 ft"}]).plan


def test_loads_and_soil_are_asked_for():
    bare = {"name": "P", "x": "10 ft", "y": "10 ft", **SIZE}
    assert checks("pads", job(pads=[bare]))["Loads on pad P"].status == "NEEDS ENGINEER"
    assert (
        checks("pads", job(pads=[POST | SIZE], soil={}))[
            "Allowable bearing pressure of the soil"
        ].status
        == "NEEDS ENGINEER"
    )


def test_a_pad_too_small_fails_and_says_what_would_do():
    found = run("pads", job(pads=[POST | SIZE | {"length": "18 in", "width": "18 in"}]))
    assert found.status == "NOT OK" and "deep" in found.text("smallest P")


def test_uplift_is_held_or_needs_an_engineer():
    question = "Uplift on pad P"
    whole = job(pads=[POST | SIZE | {"uplift": "500 lbf"}], joints={"isolate": False})
    held = checks("pads", whole)[question]
    assert held.status == "OK" and held.ratio == pytest.approx(500 / (0.6 * 7.5 * (112.5 + 62.5)))
    assert (
        checks("pads", job(pads=[POST | SIZE | {"uplift": "2000 lbf"}]))[question].status
        == "NEEDS ENGINEER"
    )


def test_an_isolated_pad_loses_the_slab_s_help():
    """Cut off by its joint: 9 in. alone, 7 in. of them counted, and no slab on it against uplift."""
    pads = [POST | SIZE | {"uplift": "500 lbf"}]
    alone, whole = (checks("pads", job(pads=pads, joints={"isolate": cut})) for cut in (True, False))
    bends, thick, lifts = (
        f"{q} pad P" for q in ("Bending moment of", "Thickness of", "Uplift on")
    )  # fmt: skip
    assert alone[bends].ratio / whole[bends].ratio == pytest.approx((12 / 7) ** 2)
    assert alone[thick].ratio == pytest.approx(8 / 9) and whole[thick].ratio == pytest.approx(8 / 14)
    assert alone[lifts].ratio == pytest.approx(500 / (0.6 * 7.5 * 112.5))
    assert alone["Anchorage of the post to pad P"].status == "NEEDS ENGINEER"


@pytest.mark.parametrize(("depth", "status"), [("3 in", "NOT OK"), ("6 in", "OK")])
def test_a_pad_must_reach_through_the_stone(depth, status):
    made = job(pads=[POST | SIZE | {"depth": depth}], base={"thickness": "4 in"})
    assert checks("pads", made)["Depth of pad P through the stone"].status == status


def test_the_smallest_pad_is_buildable():
    """A light post: 12 in. wide, 8 in. thick by itself, through 9 in. of stone, deep enough to be dug."""
    light = {"name": "P", "x": "10 ft", "y": "10 ft", "dead": "100 lbf"}
    made = job(pads=[light], base={"thickness": "9 in"})
    pad = made.plan.thickenings[0]
    x0, y0, x1, y1 = pad.bottom.bounds
    assert (12 * (x1 - x0), 12 * (y1 - y0), 12 * pad.depth) == pytest.approx((12, 12, 9))
    assert {c.status for c in checks("pads", made).values()} == {"OK"}


def test_a_pad_at_the_edge_holds_the_wall_that_lifts_over_it():
    """30 in. of a wall of 3,000 plf net uplift on a 9 in. pad of 30 x 36 in.: 7,500 lb against 506 lb."""
    wall = {"name": "w", "side": 4, "dead": "0 plf", "uplift": "3000 plf"}
    at_edge = POST | SIZE | {"x": "1.5 ft", "uplift": "0 lbf"}
    found = checks("pads", job(pads=[at_edge], walls=[wall]))["Uplift on pad P"]
    assert found.status == "NEEDS ENGINEER" and found.ratio == pytest.approx(7500 / (0.6 * 7.5 * 112.5))


def test_a_post_off_the_centre_presses_harder():
    question = "Bearing pressure under pad P"
    centred = checks("pads", job(pads=[POST | SIZE]))[question].ratio
    inside = checks("pads", job(pads=[POST | SIZE | {"offset_x": "3 in"}]))[question].ratio
    beyond = checks("pads", job(pads=[POST | SIZE | {"offset_x": "9 in"}]))[question].ratio
    own = (9 + 5) / 12 * 150 / 2000
    assert (inside - own) / (centred - own) == pytest.approx(1.5)
    assert (beyond - own) / (centred - own) == pytest.approx(2 * 36 / (3 * 9))
    tipped = checks("pads", job(pads=[POST | SIZE | {"offset_x": "9 in", "offset_y": "3 in"}]))
    assert tipped["Uplift and overturning of pad P"].status == "NEEDS ENGINEER"


def test_a_pad_at_the_edge_carries_its_wall_too():
    wall = {"name": "wall", "side": 4, "dead": "400 plf"}
    at_edge = POST | SIZE | {"x": "1.5 ft"}
    alone, loaded = (
        checks("pads", job(pads=[at_edge], walls=w))["Bearing pressure under pad P"]
        for w in ([], [wall])
    )
    assert loaded.ratio - alone.ratio == pytest.approx(400 * 2.5 / 7.5 / 2000)


def test_pads_that_touch_are_checked_together():
    other = POST | SIZE | {"name": "R", "x": "12.5 ft"}
    found = checks("pads", job(pads=[POST | SIZE, other]))
    together = found["Bearing pressure under pads P and R together"]
    assert together.ratio == pytest.approx((18000 / (2.5 * 5.5) + 175) / 2000)
    assert found["Bending of pads P and R as one piece"].status == "NEEDS ENGINEER"


def test_a_net_bearing_value_counts_the_soil_dug_out():
    soil = {"bearing": "1800 psf", "net": True, "weight": "110 pcf"}
    assert soil_bearing(job(soil=soil).soil).m_as("psf") == 1800
    assert counted_weight(job(soil=soil).soil).m_as("pcf") == 110
    assert counted_weight(job().soil) is None and soil_bearing(job(soil={}).soil) is None
    question = "Bearing pressure under pad P"
    net = checks("pads", job(pads=[POST | SIZE], soil=soil))[question]
    gross = checks("pads", job(pads=[POST | SIZE], soil={"bearing": "1800 psf"}))[question]
    assert gross.ratio - net.ratio == pytest.approx(110 * 9 / 12 / 1800)
    steps = [s.words for s in run("pads", job(pads=[POST | SIZE], soil=soil)).steps]
    assert "The soil dug out pressed before." in steps


def test_a_strip_that_meets_a_pad_is_asked_about():
    wall = {"name": "W", "place": "interior", "dead": "300 plf", "y1": "4 ft", "y2": "20 ft",
            "strip_width": "12 in", "strip_depth": "8 in"}  # fmt: skip
    question = "Ground shared by pad P and the strip under W"
    meets, clear = (
        checks("pads", job(pads=[POST | SIZE], walls=[wall | {"x1": x, "x2": x}]))
        for x in ("11.5 ft", "13 ft")
    )
    assert meets[question].status == "NEEDS ENGINEER" and question not in clear


def test_concrete_ends_at_the_outline():
    """36 x 30 in. about x = 1 ft leaves 30 x 30 in. under the slab, the post 3 in. off its centre."""
    made = job(pads=[POST | SIZE | {"x": "1 ft"}], edge={"depth": "0 in"})
    seat = footprint(made, 0)
    assert [v.m_as("inch") for v in (seat.L, seat.B, seat.d, seat.e_x, seat.e_y)] == [30, 30, 9, 3, 0]
    found = checks("pads", made)["Bearing pressure under pad P"]
    assert found.ratio == pytest.approx((9000 / 6.25 * (1 + 6 * 3 / 30) + 175) / 2000)
    moved = footprint(job(pads=[POST | SIZE | {"x": "1 ft", "offset_x": "3 in"}]), 0)
    assert moved.e_x.m_as("inch") == 0
    away = footprint(job(pads=[POST | SIZE | {"offset_x": "-3 in", "offset_y": "2 in"}]), 0)
    assert [away.e_x.m_as("inch"), away.e_y.m_as("inch")] == [3, 2]
    words = [b.words for b in run("pads", made).blocks if hasattr(b, "words")]
    assert any("as lies under the slab" in w for w in words)


def test_a_pad_cut_to_no_rectangle_needs_an_engineer():
    drain = {"name": "drain", "x": "11 ft", "y": "10.5 ft", "diameter": "12 in"}
    found = checks("pads", job(pads=[POST | SIZE], openings=[drain]))
    assert found["Bearing area of pad P"].status == "NEEDS ENGINEER"
    assert "Bearing pressure under pad P" not in found


def test_a_pad_that_meets_the_edge_s_bottom_shares_its_wall():
    """18 in. off the edge, 12 in. ring: 6 in. of 36 in. overlap; the ring's area over its width counts."""
    outline, ring = box(0, 0, 30, 24), EdgeRing(1.0, 1.0)
    assert wall_length(box(0, 8, 3, 10.5), Edging(outline, ring)) == pytest.approx(2.5)
    assert wall_length(box(0.5, 8, 3.5, 10.5), Edging(outline, ring)) == pytest.approx(0.5 * 2.5)
    assert wall_length(box(2, 8, 5, 10.5), Edging(outline, ring)) == 0
    assert wall_length(box(0, 0, 3, 2.5), Edging(outline, ring)) == pytest.approx(
        5.5
    )  # a corner: both sides
    assert wall_length(box(0, 8, 3, 10.5), Edging(outline)) == pytest.approx(2.5)


def test_the_heaviest_wall_over_the_pad_counts():
    walls = [{"name": n, "side": 4, "dead": d} for n, d in (("a", "300 plf"), ("b", "500 plf"))]
    others = [{"name": "c", "side": 2, "dead": "900 plf"}, {"name": "d", "side": 4},
              {"name": "e", "place": "interior", "dead": "900 plf"}]  # fmt: skip
    made, at_edge = job(walls=[*walls, *others]), box(0, 8, 3, 10.5)
    assert EdgeWalls(made).heaviest(at_edge) == 1 and EdgeWalls(job()).heaviest(at_edge) is None
    assert EdgeWalls(made).heaviest(box(10, 8, 13, 10.5)) is None


def test_a_designed_pad_stays_on_the_slab_and_carries_its_wall():
    post = {"name": "R", "x": "1 ft", "y": "12 ft", "dead": "4800 lbf", "roof": "7400 lbf"}
    wall = {"name": "wall", "side": 4, "dead": "320 plf", "roof": "540 plf"}
    made = job(pads=[post], walls=[wall])
    x0, y0, x1, y1 = made.plan.thickenings[0].bottom.bounds
    assert x0 == pytest.approx(0) and x1 == pytest.approx(2) and y1 - y0 > 4
    found = checks("pads", made)
    turned = found.pop("Bending moment of the slab that holds pad R level")
    assert {c.status for c in found.values()} == {"OK"}
    assert turned.status == "NEEDS ENGINEER"  # the wall stands 9 1/4 in. off the middle of 24 in.
    alone = job(pads=[post]).plan.thickenings[0].bottom
    assert made.plan.thickenings[0].bottom.area > alone.area
    with pytest.raises(ValueError, match="no pad that stays on the slab carries it"):
        _ = job(pads=[post | {"x": "6 in", "y": "6 in"}]).plan


def test_metric_jobs_get_metric_sizes():
    made = job(pads=[POST], job={"units": "si"})
    length, _, depth = pad_for(made.file.pads[0], made.file, Edging(made.plan.outline))
    assert length.m_as("mm") / 75 == pytest.approx(round(length.m_as("mm") / 75))
    assert depth.m_as("mm") / 25 == pytest.approx(round(depth.m_as("mm") / 25))


def test_uplift_that_no_weight_holds_is_left_to_the_check():
    found = checks("pads", job(pads=[POST | {"uplift": "200 kip"}]))
    assert found["Uplift on pad P"].status == "NEEDS ENGINEER"
    assert found["Bearing pressure under pad P"].status == "OK"


def test_every_number_of_every_pad_is_shown():
    """The hardest pad step by step; each number of the others in a table that names the step."""
    pads = [
        POST | SIZE | {"name": "A"},
        POST | SIZE | {"name": "B", "x": "20 ft"},
        POST | SIZE | {"name": "C", "x": "15 ft", "dead": "2000 lbf", "uplift": "300 lbf"},
    ]
    calc = run("pads", job(pads=pads))
    (table,) = [
        b for b in calc.blocks if getattr(b, "title", "") == "The same steps for the other pads"
    ]
    assert list(table.frame.columns) == ["step", "", "C"]  # A and B are alike and stand in full
    row = dict(
        zip(table.frame[""], zip(table.frame["step"], table.frame["C"], strict=True), strict=True)
    )
    number, text = row["Bearing pressure under a pad"]
    assert calc.steps[int(number) - 1].words == "Pressure on the soil."
    alone = run("pads", job(pads=[pads[2]]))
    values = {s.formula.title: s.result_text for s in alone.steps if hasattr(s, "formula")}
    for term, (number, text) in row.items():
        if number:
            assert calc.steps[int(number) - 1].formula.title == term
        if term in values:
            assert text == values[term], term
    assert row["Unfactored load"][1] == "7,000 lbf" and row["Factored load"][1] == "10,400 lbf"
    assert row["Uplift resistance of a pad"][1] == values["Uplift resistance of a pad"]
    asked = [c.title for c in calc.checks]
    assert "Bearing pressure under pad A and B" in asked and "Bearing pressure under pad C" in asked


def test_many_pads_stand_four_to_a_table():
    pads = [
        POST | SIZE | {"name": f"P{i}", "x": f"{3 + 4 * i} ft", "dead": f"{3000 + 10 * i} lbf"}
        for i in range(6)
    ]
    calc = run("pads", job(pads=pads, joints={"isolate": False}))
    tables = [
        b.frame for b in calc.blocks if getattr(b, "title", "") == "The same steps for the other pads"
    ]
    assert [list(f.columns)[2:] for f in tables] == [["P4", "P3", "P2", "P1"], ["P0"]]


def test_a_new_load_reaches_dig_concrete_and_quote():
    """A post without a size gets one; hole, concrete and price follow without anything else said."""
    prices = {"concrete": "$170 / yd3", "spoil": "$14 / yd3"}
    before, after = (Book(job(pads=p, prices=prices)) for p in ([], [POST]))
    pad = after.job.plan.thickenings[0]
    dug = [dig_volume(book.job).m_as("ft**3") for book in (before, after)]
    assert dug[1] - dug[0] == pytest.approx(pad.bottom.area * pad.depth)
    net = [book.calculations["volume"].results["net"].m_as("ft**3") for book in (before, after)]
    assert net[1] - net[0] == pytest.approx(dug[1] - dug[0])
    heavier = Book(job(pads=[POST | {"dead": "40 kip"}], prices=prices))
    totals = [b.quote.calculation.results["total"].m_as("dollar") for b in (before, heavier)]
    assert totals[1] > totals[0]


def test_drawings_table_and_check_of_a_pad_show_one_load(demo):
    """The ridge beam's pad reaches under an edge wall: 4,800 + 4,200 lbf of the post and 5 ft of 180 plf."""
    calc = run("pads", demo)
    (table,) = (b for b in calc.blocks if getattr(b, "title", "") == "All pads")
    shown = dict(zip(*(table.frame[c] for c in ("pad", "unfactored load")), strict=True))
    carried = {
        s.words.split(":")[0]: s.result_text
        for s in calc.steps
        if "unfactored, for the soil" in s.words
    }
    assert carried["ridge beam"] == "9,900 lbf"
    plan, section = (figure.draw() for figure in calc.figures)
    for name, load in carried.items():
        assert shown[name].removesuffix(" with its wall") == load
        assert shown[name] in words(plan)
    assert shown["ridge beam"].endswith("with its wall") and shown["P1"] == carried["P1"]
    assert f"{shown['ridge beam']}, unfactored" in words(section)  # it works hardest
    step = next(s for s in calc.steps if getattr(s, "formula", None) is bearing_pressure)
    checked = next(c for c in calc.checks if c.title == "Bearing pressure under pad ridge beam")
    assert show(step.bound["P"], "lbf") == carried["ridge beam"] and step.result_text == checked.demand


def test_the_ground_under_two_pads_carries_the_wall_over_one_of_them():
    """Pad and pad touch, and one reaches under the edge wall: its share counts for both together."""
    edge = {"depth": "8 in", "width": "12 in"}
    at_edge = {**POST, "name": "A", "x": "1 ft", **SIZE, "length": "24 in"}
    beside = {**POST, "name": "B", "x": "3 ft", **SIZE, "length": "24 in"}
    wall = {"name": "w", "side": 4, "dead": "800 plf"}
    found = []
    for walls in ([], [wall]):
        calc = run("pads", job(edge=edge, pads=[at_edge, beside], walls=walls))
        found.append(next(s.value for s in calc.steps if "A and B touch" in s.words).m_as("lbf"))
    assert found[1] - found[0] == pytest.approx(800 * 2.5)


def test_a_metric_pad_of_200_mm_is_as_thick_as_the_code_asks():
    """ACI 318M has 200 mm where ACI 318 has 8 in. (from memory); 190 mm is too thin. The smallest pad is of 300 mm, not 305."""
    slab = {"length": "30 ft", "width": "24 ft", "thickness": "100 mm"}
    for depth, status in (("200 mm", "OK"), ("190 mm", "NOT OK")):
        pad = POST | {
            "dead": "10 kN",
            "live": "0 kN",
            "length": "900 mm",
            "width": "900 mm",
            "depth": depth,
        }
        found = checks(
            "pads", job(job={"units": "si"}, slab=slab, pads=[pad], base={"thickness": "80 mm"})
        )
        assert found["Thickness of pad P"].status == status
    free = POST | {"dead": "2 kN", "live": "0 kN"}
    made = job(job={"units": "si"}, slab=slab, pads=[free], base={"thickness": "80 mm"})
    assert pad_for(made.file.pads[0], made.file, Edging(made.plan.outline))[0].m_as(
        "mm"
    ) == pytest.approx(300)


def test_a_joint_across_a_pad_that_is_one_piece_with_the_slab_is_the_engineer_s():
    """The pad is 3 ft wide about x = 10 ft: a joint at 10.5 ft cuts it, one at 12 ft runs 6 in. beside it, which only a plate sees."""
    pad, across, beside = POST | SIZE, "Joint across pad P", "Slab beside pad P at a joint"
    slab = {"length": "30 ft", "width": "24 ft", "thickness": "5 in"}

    def found(x, isolate=False, plate=False):
        joints = {"isolate": isolate, "by_hand": True, "lines": [{"x": x}]}
        return checks("pads", job(pads=[pad], joints=joints, slab=slab | {"plate": plate}))

    assert found("10.5 ft")[across].status == "NEEDS ENGINEER"
    asked = found("12 ft")[beside]
    assert asked.status == "NEEDS ENGINEER" and '6" beside' in asked.remark
    for clear in (found("12 ft", plate=True), found("18 ft"), found("10.5 ft", isolate=True)):
        assert across not in clear and beside not in clear


def test_a_girder_of_the_wall_over_a_pad_is_not_taken_as_carried():
    """A girder of 6,500 lbf stands on the wall over the pad: its checks count the wall's line alone, so it is the engineer's."""
    wall = {
        "name": "w",
        "side": 1,
        "dead": "400 plf",
        "points": [{"name": "girder", "at": "10 ft", "dead": "2500 lbf", "roof": "4000 lbf"}],
    }
    pad = SIZE | {"name": "G", "y": "1 ft", "dead": "100 lbf"}
    title = "Pad G under the girder, wall w"
    under, beside = (
        checks("pads", job(pads=[pad | {"x": x}], walls=[wall])) for x in ("10 ft", "20 ft")
    )
    assert under[title].status == "NEEDS ENGINEER" and "6,500 lbf" in under[title].remark
    assert title not in beside
