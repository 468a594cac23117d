"""Several posts on one pad: statics by hand, what closes, what is refused, and what every chapter takes of it."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from structure import SIZE, checks, job, run

from calcbook.footings.lifted_pad import lifted_beam, lifted_pattern, resultant
from calcbook.footings.rigid_pad import Stands, beam, cell, greatest_moment, greatest_shear, patterns
from calcbook.job.files import JobError
from calcbook.joints.layout import isolation_boxes
from calcbook.plate.standing import _of_pad

ONE = {"name": "A", "x": "12 ft", "y": "12 ft", "length": "7 ft", "width": "3 ft", "depth": "14 in"}
TWO = ONE | {
    "dead": "4000 lbf", "live": "3000 lbf", "offset_x": "-24 in",
    "posts": [{"name": "B", "dead": "3000 lbf", "roof": "4000 lbf", "offset_x": "24 in"}],
}  # fmt: skip

AT_EDGE = {"name": "P", "x": "1.5 ft", "y": "10 ft", "dead": "4000 lbf", "live": "5000 lbf"} | SIZE
EDGE_WALL = {"name": "w", "side": 4, "dead": "200 plf"}


def pair(P=10000.0, x=24.0, c=6.0):
    return [Stands(n, (s * x, 0.0), (c, c), (P, 0.0, 0.0)) for n, s in (("A", -1), ("B", 1))]


def test_two_like_posts_by_hand():
    """Two posts of 1.4 x 10,000 lbf, 48 in. apart on a pad of 84 x 36 in., beam statics by pocket calculator.

    w = 28,000/84 = 333.3 lbf/in.; cantilever at the outer face: w 15^2/2 = 37,500; middle: w 42^2/2 - 14,000 x 24
    = -42,000 lbf in.; shear at 12 in. from the inner face, 9 in. off the middle: 333.3 x 9 = 3,000 lbf.
    """
    found, sides = patterns("strength", pair()), (84.0, 36.0)
    M, at, by = greatest_moment(found, pair(), sides, 0)
    assert by.name == "1.4 D" and M == pytest.approx(-42000) and at == pytest.approx(0, abs=1e-6)
    bent = beam(by, pair(), sides, 0)
    assert np.interp(-27.0, bent.at, bent.M) == pytest.approx(37500, rel=1e-4)
    V, at, _ = greatest_shear(found, pair(), sides, 0, 12.0)
    assert abs(V) == pytest.approx(3000) and abs(at) == pytest.approx(9)


def test_two_unlike_posts_by_hand():
    """10,000 and 6,000 lbf of dead load at -24 and 30 in. on 84 x 36 in.: resultant at (-24 x 10 + 30 x 6)/16 = -3.75 in.;
    pressure 16,000/3,024 x (1 + 6 x 3.75/84) = 6.708 psi, on the soil 966 psf; the pattern of dead loads is one alone."""
    pads = [ONE | {"dead": "10000 lbf", "offset_x": "-24 in", "posts": [
        {"name": "B", "dead": "6000 lbf", "offset_x": "30 in"}]}]  # fmt: skip
    found = checks("pads", job(pads=pads))["Bearing pressure under pad A"]
    own = 150 * 19 / 12
    assert found.values[0].m_as("psf") == pytest.approx(
        144 * 16000 / 3024 * (1 + 6 * 3.75 / 84) + own, rel=1e-9
    )


place, load = st.floats(-40, 40), st.floats(0, 20000)
posts = st.lists(
    st.builds(
        lambda x, y, *loads: Stands("post", (x, y), (6.0, 6.0), loads), place, place, load, load, load
    ),
    min_size=2,
    max_size=3,
)


@settings(max_examples=20)
@given(posts)
def test_shear_and_moment_close_at_the_far_side_in_every_pattern(some):
    for pattern in patterns("strength", some):
        for axis in (0, 1):
            bent = beam(pattern, some, (100.0, 90.0), axis)
            scale = max(pattern.P, 1.0)
            assert abs(bent.V[-1]) <= 1e-9 * scale and abs(bent.M[-1]) <= 1e-7 * scale


@settings(max_examples=20)
@given(posts)
def test_the_order_of_the_posts_and_the_side_they_are_seen_from_change_nothing(some):
    found, mirrored = patterns("strength", some), [
        Stands(p.name, (-p.at[0], p.at[1]), p.size, p.loads) for p in reversed(some)
    ]  # fmt: skip
    M = abs(greatest_moment(found, some, (100.0, 90.0), 0)[0])
    other = abs(greatest_moment(patterns("strength", mirrored), mirrored, (100.0, 90.0), 0)[0])
    assert other == pytest.approx(M, rel=1e-6, abs=1e-3)


def test_a_light_choice_of_loads_is_tried_where_it_presses_harder():
    """1,000 dead and 9,000 live at each of -24 and 24 in.: full, 20,000/3,024 = 6.61 psi; with B's floor load away
    11,000 lbf at 24 x 9/11 = 19.64 in., beyond the kern of 14 in.: 2 x 11,000/(3 x 36 x (42 - 19.64)) = 9.11 psi."""
    post = {"dead": "1000 lbf", "live": "9000 lbf"}
    pads = [ONE | post | {"offset_x": "-24 in", "posts": [post | {"name": "B", "offset_x": "24 in"}]}]
    found = checks("pads", job(pads=pads))["Bearing pressure under pad A"]
    q = 2 * 11000 / (3 * 36 * (42 - 24 * 9 / 11)) * 144 + 150 * 19 / 12
    assert found.values[0].m_as("psf") == pytest.approx(q, rel=1e-9)


def test_cells_halve_the_way_to_the_next_post():
    a, b = pair()
    assert cell(a, [a, b], (84.0, 36.0)) == [(-42.0, 0.0), (-18.0, 18.0)]


@pytest.mark.parametrize(
    ("change", "title", "status"),
    [
        ({}, "Bending moment along x of pad A", "OK"),
        ({"depth": "5 in"}, "Bending moment along y at B, pad A", "NOT OK"),
        ({"offset_x": "38 in", "posts": [{"name": "B", "dead": "1 lbf", "offset_x": "24 in"}]},
         "Bending and shear of pad A with several posts", "NEEDS ENGINEER"),
        ({"offset_x": "30 in", "offset_y": "12 in", "posts": [{"name": "B", "dead": "1 lbf"}]},
         "Overturning of pad A with several loads", "NEEDS ENGINEER"),
        ({"offset_x": "-38 in", "posts": [{"name": "B", "dead": "4000 lbf", "live": "3000 lbf", "offset_x": "38 in"}]},
         "Two-way (punching) shear of B, pad A", "NEEDS ENGINEER"),
        ({"uplift": "1500 lbf"}, "Uplift on pad A", "OK"),
        ({"uplift": "1500 lbf"}, "Overturning moment by uplift of pad A", "NEEDS ENGINEER"),
        ({"posts": [{"name": "B", "offset_x": "24 in"}]}, "Loads on pad A", "NEEDS ENGINEER"),
    ],
)  # fmt: skip
def test_what_is_out_of_reach_or_too_weak_is_said(change, title, status):
    found = checks("pads", job(pads=[TWO | change]))
    assert found[title].status == status


def test_a_wall_over_a_pad_with_several_posts_counts_at_its_true_line():
    """84 x 36 in. at the west edge: 4,000 and 3,000 lbf at -24 and 24 in., 3 ft of wall of 400 plf 2 3/4 in. from the edge, at
    -39.25: 8,200 lbf, (24,000 + 47,100)/8,200 = 8.671 in. off: 8,200/3,024 x (1 + 6 x 8.671/84) psi. A net 500 plf up is 0.6 (500/0.6 + 0.1 x 400) by the factored loads."""
    posts = {"live": "0 lbf", "posts": [{"name": "B", "dead": "3000 lbf", "offset_x": "24 in"}]}
    wall = {"name": "w", "side": 4, "dead": "400 plf", "uplift": "100 plf"}
    made = job(pads=[TWO | posts | {"x": "3.5 ft"}], walls=[wall])
    found = checks("pads", made)
    q = 144 * 8200 / 3024 * (1 + 6 * 71100 / 8200 / 84) + 150 * 19 / 12
    assert found["Bearing pressure under pad A"].values[0].m_as("psf") == pytest.approx(q, rel=1e-6)
    assert "Wall over pad A with several posts" not in found
    assert not any("of w, pad A" in title for title in found)  # it punches nothing
    lifted = checks("pads", made.changed({"walls.0.uplift": "500 plf"}))["Uplift on pad A"]
    assert lifted.values[0].m_as("lbf") == pytest.approx(3 * (500 + 0.06 * 400))


def test_a_wall_all_over_a_pad_bends_it_across_and_not_along():
    """Two posts on the middle line and 36 in. of wall along y: along y the soil below the wall holds just what it presses."""
    wall = Stands("w", (-39.0, 0.0), (6.0, 36.0), (1200.0, 0.0, 0.0), runs=1)
    found = patterns("strength", [*pair(), wall])
    sides = (84.0, 36.0)
    for axis, changes in ((1, False), (0, True)):
        with_it = greatest_moment(found, [*pair(), wall], sides, axis)[0]
        alone = greatest_moment(patterns("strength", pair()), pair(), sides, axis)[0]
        assert alone and (with_it != pytest.approx(alone)) is changes


def test_a_wall_aslant_over_a_pad_with_several_posts_is_left_to_an_engineer():
    points = [["0 ft", "0 ft"], ["30 ft", "0 ft"], ["30 ft", "24 ft"], ["4 ft", "24 ft"]]
    wall = {"name": "w", "side": 4, "dead": "400 plf"}
    made = job(slab={"points": points, "thickness": "5 in"}, pads=[TWO | {"x": "5.8 ft"}], walls=[wall])
    assert checks("pads", made)["Wall over pad A with several posts"].status == "NEEDS ENGINEER"


def test_a_light_wall_presses_a_pad_at_its_true_line():
    """36 x 30 in. at the west edge, post in its middle, 9,000 lbf; 30 in. of wall of 200 plf, 2 3/4 in. from the edge: 500 lbf at
    -15.25 in.: 9,500 lbf, 0.803 in. off: 9,500/1,080 x (1 + 6 x 0.803/36) psi."""
    found = checks("pads", job(pads=[AT_EDGE], walls=[EDGE_WALL], edge={"depth": "0 in"}))
    check = found["Bearing pressure with the wall at its true line, pad P"]
    q = 144 * 9500 / 1080 * (1 + 6 * 500 * 15.25 / 9500 / 36) + 150 * 14 / 12
    assert check.values[0].m_as("psf") == pytest.approx(q, rel=1e-6) and check.status == "OK"
    assert check.ratio > found["Bearing pressure under pad P"].ratio


def test_a_heavy_wall_turns_a_pad_and_the_slab_must_hold_it():
    """2,000 plf: 1.4 x 5,000 lbf at 15.25 in. against 30 in. of slab, 3 in. of it counted: 0.6 x 5 x 63.25 x 30 x 9/6 lbf in."""
    heavy = EDGE_WALL | {"dead": "2000 plf"}
    made = job(pads=[AT_EDGE], walls=[heavy], edge={"depth": "0 in"}, joints={"isolate": False})
    check = checks("pads", made)["Bending moment of the slab that holds pad P level"]
    assert check.values[0].m_as("lbf*inch") == pytest.approx(1.4 * 5000 * 15.25)
    assert check.values[1].m_as("lbf*inch") == pytest.approx(0.6 * 5 * 4000**0.5 * 30 * 9 / 6)
    assert check.status == "NEEDS ENGINEER"
    cut = checks("pads", made.changed({"joints.isolate": True}))[
        "Bending moment of the slab that holds pad P level"
    ]
    assert cut.ratio > check.ratio


def test_the_plate_and_the_joints_take_every_post():
    made = job(pads=[TWO])
    row = {"name": "D", "D": 1.0, "L": 1.0, "S": 1.0, "W": 0.0}
    loads = list(_of_pad(made.pads[0], row, 19.0))
    assert sum(p.force for p in loads) == pytest.approx(14000) and len(loads) == 2
    (around,) = isolation_boxes(made)
    single = job(pads=[ONE | {"dead": "4000 lbf"}])
    assert around.buffer(1e-9).contains(isolation_boxes(single)[0])
    assert around.area > isolation_boxes(single)[0].area


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"offset_x": "41 in"}, "stands beyond it"),
        ({"offset_x": "22 in"}, "stand in one place"),
    ],
)
def test_a_pad_that_cannot_be_is_refused_in_words(change, words):
    with pytest.raises(JobError, match=words):
        job(pads=[{k: v for k, v in (TWO | change).items() if v is not None}])


FREE = {k: v for k, v in TWO.items() if k not in ("length", "width", "depth")}


@pytest.mark.parametrize("change", [{}, {"uplift": "2500 lbf"}, {"dead": "6000 lbf", "width": "3 ft"}])
def test_a_size_that_is_left_out_is_the_least_in_trade_steps_that_passes_every_check(change):
    """Every check but the anchorage of a post that lifts is OK; an inch shallower, or 3 in. less all around, one is not."""

    def passes(made):
        return all(
            c.status == "OK" for title, c in checks("pads", made).items() if "Anchorage" not in title
        )

    made = job(pads=[FREE | change])
    thick = made.plan.thickenings[0]
    x0, y0, x1, y1 = (round(12 * v, 6) for v in thick.bottom.bounds)
    L, B, d = x1 - x0, y1 - y0, round(12 * thick.depth, 6)
    assert passes(made) and L % 3 == B % 3 == d % 1 == 0
    size = {"length": f"{L} in", "width": f"{B} in"}
    assert not passes(job(pads=[FREE | change | size | {"depth": f"{d - 1} in"}]))
    smaller = {"length": f"{L - 3} in", "width": change.get("width", f"{B - 3} in")}
    assert not passes(job(pads=[FREE | change | smaller | {"depth": f"{d} in"}]))


def test_posts_that_are_too_near_for_a_deep_pad_get_a_shallower_one():
    """Own frozen case: 20 in. apart, their punching sections meet in a pad of some 17 in. and more; the least that passes is
    found all the same, as trying every depth of these sides finds it."""
    near = {
        "name": "N",
        "x": "15 ft",
        "y": "15 ft",
        "dead": "2500 lbf",
        "live": "1500 lbf",
        "uplift": "600 lbf",
    }
    near["posts"] = [{"name": "second", "offset_x": "20 in", "dead": "2000 lbf", "live": "1000 lbf"}]
    thick = job(pads=[near]).plan.thickenings[0]
    x0, y0, x1, y1 = (round(12 * v, 6) for v in thick.bottom.bounds)
    size = {"length": f"{x1 - x0} in", "width": f"{y1 - y0} in"}
    passing = [
        d for d in range(6, 37)
        if all(c.status == "OK" for title, c in checks("pads", job(pads=[near | size | {"depth": f"{d} in"}])).items()
               if "Anchorage" not in title)
    ]  # fmt: skip
    assert passing == list(range(passing[0], passing[-1] + 1)) and passing[-1] < 30, (
        "deep ones fail, too"
    )
    assert round(12 * thick.depth, 6) == passing[0]


def test_a_size_without_loads_or_without_room_is_refused_in_words():
    for change, words in (
        ({"dead": None}, "so must follow from its loads"),
        ({"x": "2.2 ft"}, "no pad that stays on the slab"),
    ):
        with pytest.raises(JobError, match=words):
            assert job(pads=[{k: v for k, v in (FREE | change).items() if v is not None}]).plan is None


def test_a_pad_with_sizes_tells_the_least_that_would_do():
    found = run("pads", job(pads=[TWO])).results["smallest A"]
    assert "deep below the slab" in found


def test_two_posts_that_lift_bend_the_pad_with_its_top_in_tension():
    """Net uplift of 3,000 lbf at service of each of two posts 48 in. apart, dead load 2,000: 3,000/0.6 + 0.1 x 2,000 = 5,200 lbf
    factored, 10,400 in all, against 0.9 x 16,000 = 14,400 of weight on 84 in.: the soil still gives 4,000 lbf evenly, so
    14,400 - 4,000 hang on the posts, 10,400/84 = 123.81 lbf/in.; at the outer face of a 6 in. post, 15 in. in:
    -123.81 x 15^2/2 = -13,929 lbf in.; in the middle -123.81 x 42^2/2 + 5,200 x 24 = 15,600, bottom in tension."""
    posts = [
        Stands(n, (s * 24.0, 0.0), (6.0, 6.0), (2000.0, 0.0, 0.0), 3000.0)
        for n, s in (("A", -1), ("B", 1))
    ]
    found = lifted_pattern(posts, "0.9 D + 1.0 W", 0.9, 0.6)
    assert found.loads == pytest.approx((-5200, -5200))
    assert resultant(found, posts, 14400.0)[0] == pytest.approx(4000)
    bent = lifted_beam(found, posts, (84.0, 36.0), 14400.0, 0)
    assert np.interp(-27.0, bent.at, bent.M) == pytest.approx(-13929, rel=1e-4)
    assert np.interp(0.0, bent.at, bent.M) == pytest.approx(15600, rel=1e-4)
    assert lifted_beam(found, posts, (84.0, 36.0), 10000.0, 0) is None  # less weight than uplift


def test_a_pad_that_one_post_lifts_at_one_end_keeps_its_ground_at_the_other():
    """5,000 lbf up at 30 in. of a pad of 84 in. that weighs 16,000: 11,000 lbf of soil, 13.64 in. off the middle, within the kern
    of 14; with 6,000 up 18 in. off it presses on 3 (42 - 18) = 72 in., 277.8 lbf/in. at its end. M 12 in. from the far end:
    190.48 x 12^2/2 of weight, none of the soil, is -13,714 lbf in."""
    posts = [Stands("A", (30.0, 0.0), (6.0, 6.0), (0.0, 0.0, 0.0), 3600.0)]
    found = lifted_pattern(posts, "", 0.9, 0.6)
    R, e = resultant(found, posts, 16000.0)
    assert (R, e[0]) == pytest.approx((10000, -18))
    bent = lifted_beam(found, posts, (84.0, 36.0), 16000.0, 0)
    assert np.interp(42.0 - 12.0 + 3.0, bent.at, bent.M) == pytest.approx(
        -16000 / 84 * 9**2 / 2, rel=1e-4
    )
    assert abs(bent.V[-1]) < 1e-6 and abs(bent.M[-1]) < 1e-4


@settings(max_examples=30)
@given(
    st.floats(-35, 35),
    st.floats(-35, 35),
    st.floats(0, 4000),
    st.floats(0, 4000),
    st.floats(9000, 40000),
)
def test_a_lifted_pad_is_in_balance_wherever_it_is_worked_out(x_1, x_2, W_1, W_2, weight):
    some = [
        Stands(n, (x, 0.0), (6.0, 6.0), (500.0, 0.0, 0.0), W)
        for n, x, W in (("A", x_1, W_1), ("B", x_2, W_2))
    ]
    for axis in (0, 1):
        bent = lifted_beam(lifted_pattern(some, "", 0.9, 0.6), some, (100.0, 90.0), weight, axis)
        if bent is not None:
            assert abs(bent.V[-1]) <= 1e-9 * weight and abs(bent.M[-1]) <= 1e-7 * weight


def test_si_and_us_agree():
    metric = TWO | {
        "x": "3.6576 m", "y": "3.6576 m", "length": "2133.6 mm", "width": "914.4 mm", "depth": "355.6 mm", "offset_x": "-609.6 mm"
    }  # fmt: skip
    us, si = (checks("pads", job(pads=[p])) for p in (TWO, metric))
    assert us.keys() == si.keys()
    for title, check in us.items():
        assert check.ratio == pytest.approx(si[title].ratio, rel=1e-9), title


def test_a_single_post_says_what_it_said():
    single = job(pads=[{"name": "P", "x": "10 ft", "y": "10 ft", "dead": "4000 lbf"} | SIZE])
    assert not any("several" in title for title in checks("pads", single))
