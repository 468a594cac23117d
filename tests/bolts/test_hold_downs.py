"""Anchors of hold-downs: what each could fail by, the cone shared with sill bolts, and room for both."""

import math
from types import SimpleNamespace

import pytest
from bolt_jobs import check, frames, tape_lists
from structure import job as base

from calcbook.basis.units import Q
from calcbook.bolts.breaks import NOWHERE
from calcbook.bolts.capacity import unshown
from calcbook.bolts.hold_downs import Anchor, around, modes
from calcbook.book.chapters import run
from calcbook.job.file import JobError
from calcbook.job.wall_lines import wall_line
from calcbook.loads.ends import shear_ends
from calcbook.loads.wall import Braced, Wall

PIECE = {
    "start": "0 ft",
    "length": "8 ft",
    "hold_down": "9000 lbf",
    "anchor": "5/8",
    "anchor_depth": "10 in",
}
WALL = {
    "name": "w",
    "side": 1,
    "height": "9 ft",
    "dead": "0 plf",
    "uplift": "0 plf",
    "shear_out": "0 plf",
}
EDGE = {"depth": "13 in", "width": "16 in", "slope": 0.0}
TITLE = "Tension of the anchors of hold-downs"
TABLE = "Anchors of hold-downs, the governing one of each wall"


def job(shear="100 plf", wall=None, **piece):
    kept = {k: v for k, v in (PIECE | piece).items() if v is not None}
    return base(edge=EDGE, walls=[WALL | {"shear": shear, "braced": [kept]} | (wall or {})])


def made(*args, **kw):
    return run("bolts", job(*args, **kw))


def anchor(the_job, bolts=()):
    """The anchor 4 in. from the slab's corner, with sill bolts at places (in.) that hold so much (lb)."""
    (end,) = shear_ends(Wall("w", 30, 9, along=100, braced=(Braced(0, 8, 9000.0, 1 / 3),)))
    wall = SimpleNamespace(
        sill=the_job.walls[0], line=wall_line(the_job.slab, the_job.walls[0]), h_ef=Q(7, "in"), breaks=NOWHERE,
        plate=([], [(0, x / 12) for x, _ in bolts]), forces={"uplift": [T for _, T in bolts]},
    )  # fmt: skip
    return Anchor(wall, end, the_job.walls[0].braced[0], 1 / 3, tuple(range(len(bolts))))


def test_an_anchor_alone_by_hand():
    """Own arithmetic from the forms read in the reprint of ACI 318M-19; wind: 0.7 or 0.75 of it times 0.6.

    10 in. deep, 2-3/4 and 4 in. off two edges, f'c 4,000: N_b = 24 x 63.25 x 31.62 = 48,000 lb; A_N = 17.75 x 19 over
    900 in.2; psi_ed = 0.7 + 0.3 x 2.75/15. Head: 8 x 0.454 x 4,000. Face: 160 x 2.75 x 0.674 x 63.25 x (1 + 4/2.75)/4.
    """
    found = {name: held for name, _, held in modes(unshown, job(), anchor(job()))}
    cone = 24 * math.sqrt(4000) * 10**1.5 * (17.75 * 19 / 900) * (0.7 + 0.3 * 2.75 / 15)
    face = 160 * 2.75 * math.sqrt(0.454) * math.sqrt(4000) * (1 + 4 / 2.75) / 4
    assert found["breakout"] == pytest.approx(0.42 * cone, rel=1e-6)
    assert found["side face"] == pytest.approx(0.42 * face, rel=1e-6)
    assert found["pullout"] == pytest.approx(0.42 * 8 * 0.454 * 4000)
    assert found["steel"] == pytest.approx(0.45 * 0.226 * 58000, rel=1e-3)


def test_bolts_near_share_the_cone_by_hand():
    """Derived: 3,522 lb at 4 in. and 500 lb at 14 in.: 3.76 in. off the middle; two in a row of 10 in., 7 in. deep."""
    a = anchor(job(), [(14, 500)])
    T = 27000 / (8 - 1 / 3)
    place, off = around(job(), a)
    assert (place.s_2.m_as("in"), place.n, place.c_3.m_as("in")) == pytest.approx((10, 2, 4))
    assert off.m_as("in") == pytest.approx(5 * (T - 500) / (T + 500))
    demand, held = next((T, h) for name, T, h in modes(unshown, job(), a) if name == "breakout")
    cone = 24 * math.sqrt(4000) * 7**1.5 * ((4 + 10 + 10.5) * 13.25 / 441) * (0.7 + 0.3 * 2.75 / 10.5)
    assert demand == pytest.approx(T + 500)
    assert held == pytest.approx(0.42 * cone / (1 + 2 * off.m_as("in") / 21), rel=1e-6)


@pytest.mark.parametrize(
    "change", [{"shear": "200 plf"}, {"anchor_depth": "4 in"}, {"anchor_edge": "1.5 in"}, {"wall": {"uplift": "200 plf"}}]
)  # fmt: skip
def test_a_harder_pull_or_less_concrete_is_judged_so(change):
    assert check(made(**change), TITLE).ratio > check(made(), TITLE).ratio


def test_the_pull_is_that_of_the_load_path():
    row = frames(made())[TABLE].iloc[0]
    assert row["Pull, service level"] == "3,520 lbf"


def test_an_anchor_that_reaches_too_near_the_soil_is_refused():
    assert check(made(anchor_depth="16 in"), "Concrete below the anchors").status == "NOT OK"


def test_no_bolt_stands_where_a_hold_down_does():
    """Half a hold-down's base and half a washer of 3 in., 1/8 in. clear: a place at the hold-down is named."""
    near, far = (next(iter(tape_lists(made(anchor_in=x)).values())) for x in ("7 in", "20 in"))
    assert near.iloc[0, 1] != far.iloc[0, 1]
    assert "at a hold-down" in str(near)


def test_without_an_anchor_nothing_is_checked():
    assert not any(TITLE in c.title for c in made(anchor=None).checks)


@pytest.mark.parametrize(
    ("piece", "said"),
    [
        ({"length": "3 ft", "anchor_in": "20 in"}, "less than half"),
        ({"hold_down": None}, "no hold-down"),
    ],
)
def test_anchors_that_cannot_be_are_refused(piece, said):
    with pytest.raises(JobError, match=said):
        job(**piece)
