"""Anchors of posts that lift: their cone in the pad, what shares it, and what the papers say."""

from math import sqrt

import pytest
from structure import POST, checks, job, run

from calcbook.bolts.capacity import unshown
from calcbook.bolts.in_concrete import cone
from calcbook.bolts.lists import hold_downs_bought
from calcbook.bolts.post_anchors import POST_TAPE, anchors_of, shear_modes
from calcbook.job.file import JobError

PAD = POST | {"length": "60 in", "width": "60 in", "depth": "12 in", "uplift": "3000 lbf"}
NAMED = {"hold_down": "3500 lbf", "anchor": "3/4", "anchor_depth": "6.63 in"}
TENSION, BASE = "Tension of the anchor of post P", "Allowable uplift of the base of the post to pad P"


@pytest.mark.published("ACI 349.2R-07", "Example A3", "basic_breakout")
def test_the_anchor_of_a_post_in_the_cone_of_its_pad():
    """ACI 349.2R-07 Example A3 (read in another library's tests): 6.63 in. deep in 4,000 psi, 25,912.6 lb of cone; wind at
    service level lets 0.6 of 0.7 of it be asked. The sides of the pad are 30 in. away; 5 in. of slab and 12 in. of pad below."""
    made = job(pads=[PAD | NAMED], joints={"isolate": False, "by_hand": True})
    (cone,) = (s.value for s in run("bolts", made).steps if s.words.startswith("Breakout"))
    assert cone.m_as("lbf") == pytest.approx(0.42 * 25912.6, rel=1e-4)
    found = checks("bolts", made)
    pull, held = (x.m_as("lbf") for x in found[TENSION].values)
    assert pull == 3000 and held < 0.42 * 25912.6 and "Limited by steel" in found[TENSION].remark
    assert [x.m_as("inch") for x in found["Concrete below the anchor of post P"].values][
        1
    ] == pytest.approx(17)


def test_cut_off_by_its_joint_it_has_the_pad_alone_and_a_narrow_one_holds_less():
    cut = checks("bolts", job(pads=[PAD | NAMED], joints={"isolate": True}))
    assert cut["Concrete below the anchor of post P"].values[1].m_as("inch") == pytest.approx(12)
    wide, narrow = (
        checks("bolts", job(pads=[PAD | NAMED | {"width": w}]))[TENSION] for w in ("60 in", "16 in")
    )
    assert narrow.ratio > wide.ratio
    shallow = PAD | NAMED | {"anchor_depth": "2.5 in", "uplift": "5000 lbf"}
    assert checks("bolts", job(pads=[shallow]))[TENSION].status == "NEEDS ENGINEER"


def test_only_what_is_not_named_is_left_to_the_engineer():
    asked = checks("pads", job(pads=[PAD]))["Anchorage of the post to pad P"]
    assert asked.status == "NEEDS ENGINEER" and "3,000 lbf" in asked.remark
    named = checks("pads", job(pads=[PAD | NAMED]))
    assert "Anchorage of the post to pad P" not in named and named[BASE].status == "OK"
    assert checks("pads", job(pads=[PAD | NAMED | {"hold_down": "2000 lbf"}]))[BASE].status == "NOT OK"
    assert TENSION not in checks("bolts", job(pads=[PAD]))


def test_a_sill_bolt_in_its_cone_leaves_it_to_the_engineer_with_its_number():
    wall = {"name": "w", "side": 1, "height": "9 ft", "dead": "100 plf", "uplift": "0 plf"}
    found = checks("bolts", job(pads=[PAD | NAMED | {"y": "15 in", "width": "30 in"}], walls=[wall]))
    assert found[TENSION].status == "NEEDS ENGINEER"
    assert "3,000 lbf" in found[TENSION].remark and "sill bolts" in found[TENSION].remark
    assert checks("bolts", job(pads=[PAD | NAMED], walls=[wall]))[TENSION].status == "OK"


def test_the_anchor_is_ordered_and_told_where_it_stands():
    second = {"name": "second", "offset_x": "20 in", "dead": "1000 lbf"} | NAMED
    made = job(pads=[PAD | NAMED | {"posts": [second]}])
    assert list(hold_downs_bought(made).values()) == [2]
    (told,) = (b for b in run("bolts", made).blocks if getattr(b, "title", "") == POST_TAPE)
    assert [list(row[:3]) for row in told.rows] == [
        ["P", "10'-0\"", "10'-0\""],
        ["second on P", "11'-8\"", "10'-0\""],
    ]


def test_an_anchor_without_its_depth_is_refused_in_words():
    with pytest.raises(
        JobError, match="'P': an anchor is named but not how deep it stands; give anchor_depth"
    ):
        job(pads=[PAD | {"hold_down": "3500 lbf", "anchor": "3/4"}])


FOUR = NAMED | {
    "anchor": "5/8",
    "anchor_depth": "7 in",
    "anchor_apart_x": "6 in",
    "anchor_apart_y": "4 in",
}


def test_four_anchors_share_one_cone_by_hand():
    """Own arithmetic from ACI 318-19 17.6.2.1, 17.7.1.2, 17.7.2 and 17.7.3 as read in the metric reprint. A pad 24 by 30 in., 12 deep,
    f'c 4,000: 9 and 13 in. from the outer anchors to its sides; A_Nc = (9 + 6 + 9) (10.5 + 4 + 10.5), psi_ed at 9 in."""
    made = job(pads=[PAD | FOUR | {"length": "24 in", "width": "30 in"}])
    (a,) = anchors_of(made)
    assert [
        round(getattr(a.place, k).m_as("in"), 6) for k in ("c_1", "c_2", "c_3", "c_4", "s_1", "s_2")
    ] == [9, 9, 13, 13, 6, 4]
    N_cb = cone(unshown, made, "cast", a.depth, a.place)
    by_hand = 24 * sqrt(4000) * 7**1.5 * (24 * 25 / 441) * (0.7 + 0.3 * 9 / 10.5)
    assert N_cb.m_as("lbf") == pytest.approx(by_hand, rel=1e-6)
    found = shear_modes(unshown, made, a, N_cb)
    basic = min(7 * 8**0.2 * sqrt(0.625), 9) * sqrt(4000) * 9**1.5
    front = (13 + 4 + 13) * 12 / (4.5 * 81) * sqrt(13.5 / 12) * (0.7 + 0.3 * 13 / 13.5)
    assert found["breakout towards the nearest edge"] == pytest.approx(0.42 * front * basic, rel=1e-6)
    assert found["steel"] == pytest.approx(4 * 0.39 * 0.6 * 0.226 * 58000, rel=1e-3)
    assert found["pryout"] == pytest.approx(0.42 * 2 * by_hand, rel=1e-6)


def test_more_anchors_hold_more_and_shear_is_judged_with_the_pull():
    one, four = (job(pads=[PAD | named | {"shear": "900 lbf"}]) for named in (NAMED, FOUR))
    alone, group = checks("bolts", one), checks("bolts", four)
    assert group[TENSION].ratio < alone[TENSION].ratio
    assert group["Shear of the anchor of post P"].ratio < alone["Shear of the anchor of post P"].ratio
    both = alone["Tension and shear of the anchor of post P"]
    assert both.ratio == pytest.approx(
        (alone[TENSION].ratio + alone["Shear of the anchor of post P"].ratio) / 1.2
    )
    left = alone["Shear at the foot of post P: its base and its pad"]
    assert left.status == "NEEDS ENGINEER" and "900 lbf" in left.remark
    assert list(hold_downs_bought(four).values()) == [4]
    (told,) = (b for b in run("bolts", four).blocks if getattr(b, "title", "") == POST_TAPE)
    assert told.rows[0][3] == '4 of 5/8 in., hexagonal head, 6" apart along x and 4" apart along y'


def test_where_no_uplift_is_named_none_is_called_held():
    """Shear alone is checked; of an uplift that nobody named nothing is said to be OK."""
    sheared = {k: v for k, v in (PAD | NAMED | {"shear": "900 lbf"}).items() if k != "uplift"}
    found = checks("bolts", job(pads=[sheared]))
    assert "Shear of the anchor of post P" in found and TENSION not in found
    assert "Tension and shear of the anchor of post P" not in found


def test_shear_without_a_named_anchor_is_the_engineer_s():
    found = checks("bolts", job(pads=[PAD | {"shear": "500 lbf"}]))
    assert "and its anchor" in found["Shear at the foot of post P: its base and its pad"].remark


def test_a_joint_over_the_anchor_leaves_it_to_the_engineer_and_one_beside_it_cuts_its_cone():
    lines = {"isolate": False, "by_hand": True}
    over, beside = (
        checks("bolts", job(pads=[PAD | NAMED], joints=lines | {"lines": [{"x": x}]}))[TENSION]
        for x in ("10 ft", "10 ft 6 in")
    )
    clear = checks("bolts", job(pads=[PAD | NAMED], joints=lines))[TENSION]
    assert over.status == "NEEDS ENGINEER" and "a sawn joint runs over it" in over.remark
    assert "counts as an edge" in beside.remark and "counts as an edge" not in clear.remark


def test_shear_towards_a_joint_names_it_in_the_words_of_a_pull():
    """6 in. beside the anchor a joint, nearer than the pad's sides: both checks call it by the same words."""
    pad = PAD | NAMED | {"shear": "900 lbf"}
    lines = {"isolate": False, "by_hand": True, "lines": [{"x": "10 ft 6 in"}]}
    found = checks("bolts", job(pads=[pad], joints=lines))
    told = '; a sawn joint 6" away counts as an edge'
    assert told in found[TENSION].remark and told in found["Shear of the anchor of post P"].remark


def test_anchors_beyond_their_pad_are_refused():
    with pytest.raises(JobError, match="the anchors of 'P' stand beyond it"):
        job(pads=[PAD | FOUR | {"length": "6 in"}])
