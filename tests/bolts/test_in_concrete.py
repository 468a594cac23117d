"""Concrete round a sill bolt: cone, foot, bond, shear, exemption; laws of the edge for the whole bolt."""

from math import pi, sqrt

import pytest
from bolt_jobs import changed, notes, one_wall, steps, without
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.basis.calculation import Calculation
from calcbook.basis.units import Q
from calcbook.bolts.capacity import Place
from calcbook.bolts.in_concrete import blows_out, concrete
from calcbook.book.chapters import run


def test_the_exemption_ends_with_thick_bolts(demo):
    """IBC 1905.1.8 (from memory) stops at 5/8 in."""
    exempt, not_exempt = (
        next(
            b.words
            for b in changed(demo, bolts__size=size).blocks
            if "1905.1.8" in getattr(b, "words", "")
        )
        for size in ("5/8", "3/4")
    )
    assert (
        "All hold" in exempt
        and "bolt at most 5/8 in. (no)" in not_exempt
        and "Not all hold" in not_exempt
    )


def test_headed_bolts_are_checked_for_the_side_face(demo):
    """h_ef over 2.5 c_a1 (ACI 318-19 17.6.4.1): 7.1 in. at 2.75 in.; not at 3 in."""
    near = changed(demo, bolts__kind="headed")
    far = changed(demo, bolts__kind="headed", walls__0__edge_distance="3 in")
    count = [
        sum(
            getattr(s, "formula", None) is not None and s.formula.name == "side_face_blowout"
            for s in c.steps
        )
        for c in (near, far)
    ]
    assert count == [1, 1]
    assert not any(
        getattr(s, "formula", None) is not None and s.formula.name == "hooked_pullout"
        for s in near.steps
    )


def cone(k_c, h, c_1, c_3, psi=1.0, f_c=4000.0):
    """Breakout by ACI 318-19 17.6.2 in plain floats, far edges on the other two sides."""
    area = (min(c_1, 1.5 * h) + 1.5 * h) * (min(c_3, 1.5 * h) + 1.5 * h)
    edge = min(1, 0.7 + 0.3 * min(c_1, c_3) / (1.5 * h))
    return area / (9 * h * h) * edge * psi * k_c * sqrt(f_c) * h**1.5


def sheared(h, c_1, c_3, psi=1.0, f_c=4000.0, d=0.625, along=False):
    """Breakout in shear by ACI 318-19 17.7.2 in plain floats, deep concrete, one side edge."""
    basic = min(7 * (min(h, 8 * d) / d) ** 0.2 * sqrt(d), 9) * sqrt(f_c) * c_1**1.5
    area = (min(c_3, 1.5 * c_1) + 1.5 * c_1) * 1.5 * c_1 / (4.5 * c_1**2)
    side = 1 if along else min(1, 0.7 + 0.3 * c_3 / (1.5 * c_1))
    return (2 if along else 1) * area * side * psi * basic


def one_bolt(demo, method="cast", c_1=2.75, c_3=9.375, h=7.0, thickness=1.5, **bolts):
    job = demo.changed({f"bolts.{k}": v for k, v in bolts.items()})
    at = Place(Q(c_1, "in"), Q(400.0, "in"), Q(c_3, "in"), Q(400.0, "in"), Q(18.0, "in"))
    calc = Calculation("x", "x", "x")
    held = concrete(calc, job, method, Q(thickness, "in"), Q(h, "in"), at)
    return calc, {
        d: {k: v.m_as("lbf") for k, v in getattr(held, d).items()} for d in ("uplift", "along", "out")
    }


def test_a_cast_hook(demo):
    """Own arithmetic: phi 0.70, 0.6 for wind; hook 4 diameters; exempt along the edge (IBC 1905.1.8)."""
    _, held = one_bolt(demo)
    assert held["uplift"]["breakout"] == pytest.approx(0.42 * cone(24, 7, 2.75, 9.375))
    assert held["uplift"]["pullout"] == pytest.approx(0.42 * 0.9 * 4000 * 2.5 * 0.625)
    assert held["out"]["breakout"] == pytest.approx(0.42 * sheared(7, 2.75, 9.375))
    assert held["out"]["pryout"] == pytest.approx(0.42 * 2 * cone(24, 7, 2.75, 9.375))
    assert held["along"] == {}


def test_a_cast_head(demo):
    """Own arithmetic: net area 0.454 in.2 (PCA Notes); side face with a corner 9.375 in. away, over 3 c_a1."""
    _, held = one_bolt(demo, kind="headed")
    assert held["uplift"]["pullout"] == pytest.approx(0.42 * 8 * 0.454 * 4000)
    assert held["uplift"]["side face"] == pytest.approx(0.42 * 160 * 2.75 * sqrt(0.454) * sqrt(4000))
    _, near = one_bolt(demo, kind="headed", c_3=5.5)
    assert near["uplift"]["side face"] == pytest.approx(0.75 * held["uplift"]["side face"])
    assert "side face" not in one_bolt(demo, kind="headed", c_1=2.8)[1]["uplift"]


def test_side_face_counts_only_deep_beside_an_edge():
    """ACI 318-19 17.6.4.1: h_ef over 2.5 c_a1."""
    assert not blows_out(Q(7, "in"), Q(2.8, "in")) and blows_out(Q(7, "in"), Q(2.79, "in"))


def test_a_drilled_bolt(demo):
    """Own arithmetic: k_c 17, phi 0.65; bond 1,100 psi, reach 8.427 in.; pryout twice the lesser."""
    _, held = one_bolt(demo, "drilled")
    reach = 10 * 0.625 * sqrt(2000 / 1100)
    area = (2.75 + reach) * (min(9.375, reach) + reach) / (2 * reach) ** 2
    bond = area * (0.7 + 0.3 * 2.75 / reach) * 1100 * pi * 0.625 * 7
    assert held["uplift"]["bond"] == pytest.approx(0.39 * bond)
    assert held["uplift"]["breakout"] == pytest.approx(0.39 * cone(17, 7, 2.75, 9.375))
    assert held["along"]["breakout"] == pytest.approx(0.42 * sheared(7, 2.75, 9.375, along=True))
    assert (
        held["along"]["pryout"]
        == held["out"]["pryout"]
        == pytest.approx(0.42 * 2 * min(bond, cone(17, 7, 2.75, 9.375)))
    )


def test_uncracked_concrete(demo):
    """ACI 318-19: 1.25 cast and 1.4 drilled in breakout, 1.4 in shear and pullout; drilled with splitting, c_ac = 2 h_ef."""
    _, cast = one_bolt(demo, concrete="uncracked")
    assert cast["uplift"]["breakout"] == pytest.approx(0.42 * cone(24, 7, 2.75, 9.375, 1.25))
    assert cast["uplift"]["pullout"] == pytest.approx(1.4 * 0.42 * 0.9 * 4000 * 2.5 * 0.625)
    assert cast["out"]["breakout"] == pytest.approx(0.42 * sheared(7, 2.75, 9.375, 1.4))
    calc, drilled = one_bolt(demo, "drilled", concrete="uncracked")
    assert drilled["uplift"]["breakout"] == pytest.approx(
        0.39 * cone(17, 7, 2.75, 9.375, 1.4 * 10.5 / 14)
    )
    assert [float(x.value) for x in steps(calc, "splitting_factor")] == pytest.approx(
        [10.5 / 14, 10 * 0.625 * sqrt(2000 / 1100) / 14]
    )
    headed = one_bolt(demo, kind="headed", concrete="uncracked")[1]
    assert headed["uplift"]["pullout"] == pytest.approx(1.4 * 0.42 * 8 * 0.454 * 4000)


def test_pryout_of_a_shallow_bolt(demo):
    """ACI 318-19 17.7.3.1: once the breakout below 2.5 in., twice from there."""
    _, held = one_bolt(demo, "drilled", h=2.4, depth="2.4 in")
    least = min(held["uplift"]["breakout"], held["uplift"]["bond"]) / 0.39
    assert held["out"]["pryout"] == pytest.approx(0.42 * least)


@pytest.mark.parametrize(
    ("change", "words", "met"),
    [
        ({}, "at most 5/8 in. (yes)", True),
        ({"size": "3/4", "hook": "3 in"}, "at most 5/8 in. (no)", False),
        ({"h": 6.9}, "embedded at least 7 in. (no)", False),
        ({"h": 7.0}, "embedded at least 7 in. (yes)", True),
        ({"c_1": 1.7}, "from the edge along the plate (no)", False),
        ({"c_1": 1.75}, "from the edge along the plate (yes)", True),
        ({"c_3": 9.3}, "from the edge across the plate (no)", False),
        ({"c_3": 9.375}, "from the edge across the plate (yes)", True),
        ({"thickness": 3.0}, "2-by or 3-by lumber (no)", False),
        ({"thickness": 2.5}, "2-by or 3-by lumber (yes)", True),
        ({"thickness": 1.25}, "2-by or 3-by lumber (no)", False),
    ],
)
def test_each_condition_of_the_exemption(demo, change, words, met):
    """IBC 1905.1.8 (from memory); a doubled plate is thicker than a 3-by, so its concrete is checked."""
    calc, held = one_bolt(demo, **change)
    assert words in notes(calc)
    assert ("All hold" in notes(calc)) == met
    assert ("breakout" in held["along"]) == ("pryout" in held["along"]) == (not met)
    assert "breakout" in held["out"]


def test_two_plies_lose_the_exemption(demo):
    assert "Not all hold" in notes(one_wall(demo, {"plies": 2}))
    assert steps(one_wall(demo, {"plies": 2}), "breakout_shear_along")


def test_a_short_hook_has_no_pullout(demo):
    assert "pullout" not in one_bolt(demo, hook="1.5 in")[1]["uplift"]


@settings(max_examples=25, deadline=None)
@given(
    st.floats(1.5, 12), st.floats(4, 20), st.sampled_from(["cast", "drilled"]), st.sampled_from(["hooked", "headed"]),
    st.sampled_from(["cracked", "uncracked"]),
)  # fmt: skip
def test_nothing_of_a_bolt_grows_as_an_edge_comes_nearer(demo, c_1, c_3, method, kind, state):
    there = one_bolt(demo, method, c_1, c_3, kind=kind, concrete=state)[1]
    for nearer in ((0.93 * c_1, c_3), (c_1, 0.93 * c_3)):
        found = one_bolt(demo, method, *nearer, kind=kind, concrete=state)[1]
        for direction, modes in there.items():
            for mode, most in modes.items():
                assert found[direction][mode] <= most * (1 + 1e-9), (direction, mode)


@pytest.mark.parametrize(
    ("left_out", "words"),
    [
        (("bond_cracked",), "Bond stress 200 psi at the bolt, 2,000 psi in uncracked concrete"),
        (("bond_uncracked",), "Bond stress 1,100 psi at the bolt, 650 psi in uncracked concrete"),
        (
            ("bond_cracked", "bond_uncracked"),
            "Bond stress 200 psi at the bolt, 650 psi in uncracked concrete",
        ),
    ],
)
def test_default_bond_is_named(demo, left_out, words):
    """ACI 318-19 Table 17.6.5.2.5 (from memory), outdoor."""
    assert words in notes(without(demo, *left_out))
    assert "code's default" not in notes(run("bolts", demo))
