"""The building as one: sums close, and it does not slide."""

import pytest
from structure import SIZE, job

from calcbook.book.chapters import run

SIDES = [{"name": str(n), "side": n, "height": "9 ft", "dead": "225 plf", "weight": "10 psf", "roof": "450 plf",
          "uplift": "225 plf", "uplift_is": "gross"} for n in (1, 3)]  # fmt: skip


SLAB = {"length": "40 ft", "width": "28 ft", "thickness": "5 in"}
EDGE = {"depth": "7 in", "width": "12 in", "slope": 0.0}


def calc(**change):
    return run("edges", job(slab=SLAB, edge=EDGE, walls=[wall | change for wall in SIDES]))


def numbers(made, name):
    (table,) = (
        b.frame for b in made.blocks if getattr(b, "title", "").startswith("The building as one")
    )
    row = table[table["Combination"] == name].iloc[0]
    return [float(text.removesuffix(" lbf").replace(",", "")) for text in row[1:]]


def test_whole_building_closes():
    """Derived: 375 plf up on 80 ft; 315 plf down; slab 62.5 psf on 1,120 ft2, edge below it 87.5 plf on 132 ft,
    the middle of its width."""
    up, down, own, ground, not_held, rest = numbers(calc(), "0.6 D + 0.6 W")
    assert (up, down) == pytest.approx((0.6 * 375 * 80, 0.6 * 315 * 80), rel=1e-3)
    assert own == pytest.approx(0.6 * (62.5 * 1120 + 87.5 * 132), rel=1e-3)
    assert ground == pytest.approx(down + own - up, rel=2e-3) and rest == not_held == 0


def test_a_side_against_a_wall_weighs_without_an_edge():
    """Derived: 87.5 plf of edge on 39 + 2 x 27.5 ft of middle line; rounding had made its section less than nothing, refused."""
    made = run(
        "edges",
        job(slab=SLAB, edge=EDGE, walls=SIDES[:1], edges=[{"side": 3, "kind": "against a wall"}]),
    )
    own = numbers(made, "0.6 D + 0.6 W")[2]
    assert own == pytest.approx(0.6 * (62.5 * 1120 + 87.5 * (39 + 2 * 27.5)), rel=1e-3)


def test_wind_that_lifts_more_than_all_of_it_weighs_is_not_held_and_does_not_let_it_rub():
    """Derived: 5,000 plf of wind at strength level on 80 ft, 315 plf down, 70,000 lbf of slab, 11,550 of edge below it (87.5 plf on 132 ft): 400,000 up
    against 0.9 of 25,200 + 81,550; the soil gives nothing."""
    made = calc(uplift="3000 plf", shear="400 plf")
    _, _, own, ground, not_held, rest = numbers(made, "0.9 D + 1.0 W")
    assert own == pytest.approx(0.9 * 81550, rel=2e-3) and ground == rest == 0
    assert not_held == pytest.approx(400000 - 0.9 * (25200 + 81550), rel=2e-3)
    checks = {c.title: c for c in made.checks}
    assert checks["Uplift on the building as one"].status == "NOT OK"
    assert checks["Uplift on the building as one"].ratio == pytest.approx(
        (400000 - 0.9 * 25200) / (0.9 * 81550)
    )
    assert checks["Sliding force of the building along x"].status == "NOT OK"


def test_a_post_that_lifts_counts_in_the_sum_of_the_building():
    """A net uplift of 1,200 lbf with 500 of dead load: 0.6 W is 1,200 + 0.6 x 500 = 1,500 lbf, and 0.6 x 500 presses."""
    post = {"name": "P", "x": "20 ft", "y": "14 ft", "dead": "500 lbf", "uplift": "1200 lbf"} | SIZE
    made = run("edges", job(slab=SLAB, edge=EDGE, walls=SIDES, pads=[post]))
    with_post, without = numbers(made, "0.6 D + 0.6 W"), numbers(calc(), "0.6 D + 0.6 W")
    assert with_post[0] - without[0] == pytest.approx(1500, abs=60)
    assert with_post[1] - without[1] == pytest.approx(300, abs=60)


def test_shear_of_all_walls_one_way_against_friction():
    made = calc(shear="400 plf")
    (found,) = (c for c in made.checks if "Sliding force of the building along x" in c.title)
    weight = 315 * 80 + 62.5 * 1120 + 87.5 * 132
    assert found.ratio == pytest.approx(400 * 80 / (0.25 * (0.6 * weight - 18000)), rel=1e-3)
    assert found.status == "NEEDS ENGINEER"


def sliding(**more):
    made = run("edges", job(slab=SLAB, edge=EDGE, **more))
    return {c.title[-1]: c for c in made.checks if "Sliding force" in c.title}


def test_shear_across_a_wall_slides_the_slab_as_well():
    """By statics the lower half of the wind on a wall goes to the slab at its foot: 120 plf on two walls of 40 ft push along y."""
    found = sliding(walls=[wall | {"shear": "100 plf", "shear_out": "120 plf"} for wall in SIDES])
    assert found["y"].values[0].m_as("lbf") == pytest.approx(120 * 80)
    weight = 315 * 80 + 62.5 * 1120 + 87.5 * 132
    assert found["y"].values[1].m_as("lbf") == pytest.approx(0.25 * (0.6 * weight - 18000), rel=1e-3)


def test_a_shear_wall_inside_slides_the_slab_as_well():
    inside = {"name": "in", "place": "interior", "x1": "20 ft", "y1": "2 ft", "x2": "20 ft", "y2": "26 ft", "height": "9 ft",
              "dead": "200 plf", "shear": "300 plf"}  # fmt: skip
    assert sliding(walls=[inside])["y"].values[0].m_as("lbf") == pytest.approx(300 * 24)


def test_posts_alone_lift_and_slide_the_slab():
    """A barn without walls: four posts with 900 lbf of shear each, and 2,000 lbf of net uplift against 62.5 psf of slab and its edge."""
    posts = [
        {"name": f"P{n}", "x": f"{5 + 10 * n} ft", "y": "14 ft", "dead": "500 lbf", "uplift": "2000 lbf", "shear": "900 lbf"} | SIZE
        for n in range(4)
    ]  # fmt: skip
    made = run("edges", job(slab=SLAB, edge=EDGE, pads=posts))
    checks = {c.title: c for c in made.checks}
    (slides,) = (c for title, c in checks.items() if "Sliding force" in title)
    own = 62.5 * 1120 + 87.5 * 132
    assert slides.values[0].m_as("lbf") == pytest.approx(3600)
    assert slides.values[1].m_as("lbf") == pytest.approx(0.25 * (0.6 * own - 8000), rel=1e-3)
    assert checks["Uplift on the building as one"].values[0].m_as("lbf") == pytest.approx(
        4 * (2000 / 0.6 + 500 - 0.9 * 500)
    )
