"""Anchors in tension against the examples of ACI 349.2R-07, printed areas, and laws of edges and groups."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.basis.formula import FormulaError, OutsideRange
from calcbook.basis.table import lookup, table
from calcbook.basis.units import Q
from calcbook.bolts.anchor_shear import pryout
from calcbook.bolts.anchors import (
    basic_breakout,
    basic_breakout_deep,
    bolt_stress_area,
    breakout_tension,
    counted_strength,
    design_strength,
    head_bearing_area,
    headed_pullout,
    hook_ratio,
    hooked_pullout,
    pullout,
    side_face_blowout,
    side_face_group,
    steel_tension,
)

FAR = {f"c_{k}": Q(500, "in") for k in (1, 2, 3, 4)}


def inch(x):
    return Q(x, "in")


def lbf(quantity):
    return quantity.m_as("lbf")


@pytest.mark.parametrize(
    ("d", "n_t", "printed"),
    [(0.5, 13, 0.1419), (0.625, 11, 0.2260), (0.75, 10, 0.3340), (1.0, 8, 0.6060)],
)
def test_stress_areas_of_f1554(d, n_t, printed):
    """Stress areas of unified threads as tables commonly print them, from memory; within 0.0006 in2."""
    assert bolt_stress_area(inch(d), Q(n_t, "1/in")).m_as("in**2") == pytest.approx(printed, abs=6e-4)


def test_stress_area_to_more_digits():
    """Own arithmetic: pi/4 (0.5 - 0.9743/13)^2."""
    assert bolt_stress_area(inch(0.5), Q(13, "1/in")).m_as("in**2") == pytest.approx(
        0.14189850, rel=1e-6
    )


def test_the_bolt_table_agrees_with_the_formula():
    """The formula from memory of ASME B1.1, against the areas of ASTM F1554 in the book's table,
    printed to 0.0001 in2.
    """
    for row in table("bolts"):
        found = bolt_stress_area(inch(row["d_in"]), Q(row["threads"], "1/in")).m_as("in**2")
        assert found == pytest.approx(row["A_se_in2"], abs=6e-4)


@pytest.mark.remembered("PCA Notes", "on ACI 318, Table 34-2")
@pytest.mark.parametrize(
    ("flats", "d", "printed"),
    [(0.75, 0.5, 0.291), (0.9375, 0.625, 0.454), (1.125, 0.75, 0.654), (0.875, 0.5, 0.467), (1.0625, 0.625, 0.671), (1.25, 0.75, 0.911)],
)  # fmt: skip
def test_head_areas_of_pca_notes(flats, d, printed):
    """PCA Notes on ACI 318, Table 34-2 (from memory), hex and heavy hex heads."""
    assert head_bearing_area(inch(flats), inch(d)).m_as("in**2") == pytest.approx(printed, abs=0.001)


@pytest.mark.published(
    "Anchor bolt example", "parts 3 and 7", "head_bearing_area", "headed_pullout", "pryout"
)
def test_the_example_of_four_bolts():
    """Anchor bolt example: 3/4 in. hexagonal heads of 0.654 in2, in 4,000 psi; a standard head is 1 1/8 in. wide."""
    head = head_bearing_area(inch(1.125), inch(0.75))
    assert head.m_as("in**2") == pytest.approx(0.654, abs=5e-4)
    four = 4 * 0.70 * headed_pullout(Q(4000, "psi"), Q(0.654, "in2"))
    assert lbf(four) == pytest.approx(58598.4, abs=0.05)
    assert lbf(0.70 * pryout(Q(20694.6131, "lbf"))) == pytest.approx(28972.45, abs=0.02)


def test_steel_of_grade_36_bolts():
    """F1554 Grade 36: 8.23 kip for 1/2 in. and 13.11 kip for 5/8 in. (own arithmetic with the printed areas)."""
    assert lbf(steel_tension(Q(0.1419, "in2"), "58000 psi")) == pytest.approx(8230, abs=5)
    assert lbf(steel_tension(Q(0.2260, "in2"), "58000 psi")) == pytest.approx(13110, abs=5)


@pytest.mark.remembered("ACI 318-19", "17.6.1.2")
def test_steel_that_counts():
    """ACI 318-19 17.6.1.2: at most 1.9 f_ya and 125,000 psi."""
    assert counted_strength("58000 psi", "36000 psi").m_as("psi") == 58000
    assert counted_strength("90000 psi", "36000 psi").m_as("psi") == pytest.approx(68400)
    assert counted_strength("150000 psi", "105000 psi").m_as("psi") == 125000
    with pytest.raises(FormulaError, match="125"):
        steel_tension(Q(1, "in2"), "150000 psi")


@pytest.mark.published(
    "ACI 349.2R-07", "Example A1", "basic_breakout", "breakout_tension", "headed_pullout"
)
def test_aci_349_2r_example_a1():
    """ACI 349.2R-07, Example A1: one 1/2 in. stud, h_ef 4.69 in., 4,000 psi, far from edges."""
    N_b = basic_breakout("4000 psi", inch(4.69))
    assert lbf(N_b) == pytest.approx(15417.0, rel=1e-4)
    edges = {f"c_{k}": inch(12) for k in (1, 2, 3, 4)}
    assert lbf(breakout_tension(N_b, inch(4.69), **edges)) == pytest.approx(15417.0, rel=1e-4)
    assert lbf(pullout(f_c="4000 psi", A_brg=Q(0.59, "in2"))) == pytest.approx(18880, rel=1e-4)
    assert lbf(steel_tension(Q(0.19635, "in2"), "65000 psi")) == pytest.approx(12762.7, rel=1e-4)
    assert lbf(design_strength(Q(12762.7, "lbf"), 0.8, 1.0)) == pytest.approx(10210.2, rel=1e-4)


@pytest.mark.remembered("ACI 318-19", "Eq. 17.6.2.2.1")
@pytest.mark.parametrize(
    ("f_c", "h_ef", "k_c", "expected"),
    [(2500, 7, 24, 22224), (2500, 7, 17, 15742), (3000, 6, 24, 19320), (3000, 6, 17, 13685)],
)
def test_basic_breakout(f_c, h_ef, k_c, expected):
    """Own arithmetic with ACI 318-19 Eq. 17.6.2.2.1."""
    found = basic_breakout(Q(f_c, "psi"), inch(h_ef), float(k_c))
    assert lbf(found) == pytest.approx(expected, abs=0.6)
    assert lbf(basic_breakout(Q(f_c, "psi"), inch(h_ef), float(k_c), 0.75)) == pytest.approx(
        0.75 * expected, abs=0.6
    )


@pytest.mark.remembered("ACI 318-19", "Eq. 17.6.2.2.3")
def test_deep_anchors():
    """Own arithmetic with ACI 318-19 Eq. 17.6.2.2.3: 16 root(4000) 12^(5/3); 11 to 25 in. only."""
    assert lbf(basic_breakout_deep("4000 psi", inch(12))) == pytest.approx(63648, rel=1e-4)
    assert lbf(basic_breakout_deep("4000 psi", inch(12), 0.75)) == pytest.approx(0.75 * 63648, rel=1e-4)
    for h_ef in (10.9, 25.1):
        with pytest.raises(FormulaError, match="embedment"):
            basic_breakout_deep("4000 psi", inch(h_ef))


def test_one_edge():
    """Own arithmetic: 3,000 psi, 6 in. deep, 3 in. from one edge: A_Nc 216, A_Nco 324, psi_ed 0.80, 10,304 lbf."""
    N_b = basic_breakout("3000 psi", inch(6))
    found = breakout_tension(N_b, inch(6), **{**FAR, "c_1": inch(3)})
    assert lbf(found) == pytest.approx(10304, abs=0.6)
    lines = {
        line.name: line.value
        for line in breakout_tension.lines(
            breakout_tension.bind(N_b, inch(6), **{**FAR, "c_1": inch(3)})
        )
    }
    assert (lines["A_Nc"].m_as("in**2"), lines["A_Nco"].m_as("in**2")) == pytest.approx((216, 324))
    assert lines["psi_ed"] == pytest.approx(0.8)


@pytest.mark.parametrize("which", ["c_1", "c_2", "c_3", "c_4"])
def test_whichever_edge_is_near(which):
    """Own arithmetic on ACI 318-19 17.6.2: 216 of 324 in2, edge factor 0.80, of 19,320 lbf."""
    N_b = basic_breakout("3000 psi", inch(6))
    assert lbf(breakout_tension(N_b, inch(6), **{**FAR, which: inch(3)})) == pytest.approx(
        10304, abs=0.6
    )
    assert breakout_tension(N_b, inch(6), **{**FAR, which: inch(0.5)}) > Q(0, "lbf")
    with pytest.raises(FormulaError, match="edge distance"):
        breakout_tension(N_b, inch(6), **{**FAR, which: inch(0)})


def test_a_group_with_all_factors():
    """Own arithmetic: 2 x 2 bolts 4 in. by 6 in. apart, 8 in. deep, edges 5, 20, 10 and 30 in., 2 in. off centre."""
    found = breakout_tension(
        Q(10000, "lbf"),
        inch(8),
        inch(5),
        inch(20),
        inch(10),
        inch(30),
        inch(4),
        inch(6),
        4.0,
        1.25,
        0.9,
        inch(2),
    )
    A = (5 + 4 + 12) * (10 + 6 + 12)
    expected = A / 576 / (1 + 2 / 12) * (0.7 + 0.3 * 5 / 12) * 1.25 * 0.9 * 10000
    assert lbf(found) == pytest.approx(expected)


@pytest.mark.remembered("ACI 318-19", "17.6.2.1.1")
def test_a_group_is_never_more_than_its_bolts():
    """n A_Nco is the most that counts (ACI 318-19 17.6.2.1.1)."""
    N_b = basic_breakout("3000 psi", inch(6))
    assert lbf(breakout_tension(N_b, inch(6), **FAR, s_2=inch(100), n=2.0)) == pytest.approx(
        2 * lbf(N_b)
    )
    assert lbf(breakout_tension(N_b, inch(6), **FAR, s_2=inch(18), n=2.0)) == pytest.approx(
        2 * lbf(N_b)
    )


@settings(max_examples=40, deadline=None)
@given(
    st.floats(1, 30),
    st.floats(1, 30),
    st.floats(1, 30),
    st.floats(3, 15),
    st.sampled_from(["c_1", "c_2", "c_3", "c_4"]),
)
def test_an_edge_that_comes_nearer_never_helps(a, b, c, h_ef, which):
    edges = {"c_1": inch(a), "c_2": inch(b), "c_3": inch(c), "c_4": inch(20)}
    N_b = basic_breakout("3000 psi", inch(h_ef))
    there = breakout_tension(N_b, inch(h_ef), **edges)
    nearer = breakout_tension(N_b, inch(h_ef), **{**edges, which: 0.9 * edges[which]})
    assert nearer <= there * (1 + 1e-12) and there <= N_b * (1 + 1e-12)
    assert side_face_blowout(0.9 * inch(a), Q(0.5, "in2"), "3000 psi", inch(b)) <= side_face_blowout(
        inch(a), Q(0.5, "in2"), "3000 psi", inch(b)
    )


@pytest.mark.form("ACI 318M-19", "Eq. 17.6.3.2.2b", "hooked_pullout", "hook_ratio")
def test_hooked_pullout():
    """Own arithmetic with ACI 318M-19 Eq. 17.6.3.2.2b: 1/2 in., hook 2 in., 2,500 psi: 2,250 lbf."""
    assert lbf(
        pullout(kind="hooked", f_c="2500 psi", d_a="1/2 in", n_h=hook_ratio("2 in", "1/2 in"))
    ) == pytest.approx(2250)
    assert lbf(hooked_pullout("2500 psi", "1/2 in", 4.0, 1.4)) == pytest.approx(3150)
    assert hook_ratio("5 in", "1/2 in") == 4.5
    with pytest.raises(FormulaError, match="at least 3"):
        hooked_pullout("2500 psi", "1/2 in", hook_ratio("1 in", "1/2 in"))


def test_headed_pullout_in_uncracked_concrete():
    """18,880 lbf is printed in Example A1 of ACI 349.2R-07; the factor 1.4 on it is own arithmetic."""
    assert lbf(headed_pullout("4000 psi", Q(0.59, "in2"), 1.4)) == pytest.approx(1.4 * 18880)


@pytest.mark.remembered("ACI 318-19", "Eq. 17.6.4.1")
def test_side_face_blowout():
    """Own arithmetic with ACI 318-19 Eq. 17.6.4.1: 2.5 in. from the edge, 0.67 in2, 4,000 psi: 20,707 lbf."""
    found = side_face_blowout("2.5 in", Q(0.67, "in2"), "4000 psi")
    assert lbf(found) == pytest.approx(20707, abs=0.6)
    corner = side_face_blowout("2.5 in", Q(0.67, "in2"), "4000 psi", "5 in")
    assert lbf(corner) == pytest.approx(20707.49 * 3 / 4, abs=1)
    tight = side_face_blowout("2.5 in", Q(0.67, "in2"), "4000 psi", "1 in")
    assert lbf(tight) == pytest.approx(20707.49 / 2, abs=1)
    light = side_face_blowout("2.5 in", Q(0.67, "in2"), "4000 psi", lam=0.75)
    assert lbf(light) == pytest.approx(0.75 * 20707.49, abs=1)
    assert lbf(side_face_blowout("2.5 in", Q(0.67, "in2"), "4000 psi", "7.5 in")) == pytest.approx(
        20707.49, abs=0.1
    )


@pytest.mark.remembered("ACI 318-19", "Eq. 17.6.4.2")
def test_side_face_of_a_row():
    """Own arithmetic with ACI 318-19 Eq. 17.6.4.2: outer bolts 9 in. apart, 2.5 in. from the edge: 1.6 times one."""
    assert lbf(side_face_group(Q(20707, "lbf"), "9 in", "2.5 in")) == pytest.approx(1.6 * 20707)
    assert lbf(side_face_group(Q(20707, "lbf"), "0 in", "2.5 in")) == pytest.approx(20707)


@settings(max_examples=30, deadline=None)
@given(st.floats(1, 8), st.floats(1, 30), st.floats(0, 20))
def test_a_side_face_nearer_to_its_edge_or_corner_holds_less(c_1, c_2, s):
    def held(c_1, c_2):
        return side_face_blowout(inch(c_1), Q(0.67, "in2"), "4000 psi", inch(c_2))

    far = held(c_1, 100)
    assert held(0.95 * c_1, c_2) <= held(c_1, c_2) * (1 + 1e-12)
    assert held(c_1, 0.95 * c_2) <= held(c_1, c_2) * (1 + 1e-12)
    nearer = side_face_group(held(0.95 * c_1, 100), inch(s), inch(0.95 * c_1))
    assert nearer <= side_face_group(far, inch(s), inch(c_1)) * (1 + 1e-12)


@pytest.mark.remembered("ASCE 7-16", "")
def test_service_level():
    """ASCE 7-16: 0.6 W against 1.0 W."""
    assert lbf(design_strength(Q(10000, "lbf"), 0.7)) == pytest.approx(4200)


@pytest.mark.parametrize(
    ("mode", "phi"),
    [
        ("steel tension", 0.75), ("steel shear", 0.65), ("concrete tension", 0.7), ("concrete shear", 0.7),
        ("pullout", 0.7), ("bond", 0.65), ("drilled breakout", 0.65),
    ],
)  # fmt: skip
def test_strength_reduction_factors(mode, phi):
    """ACI 318-19 Table 17.5.3 (from memory)."""
    assert lookup("anchor_phi", mode=mode, category=1)["phi"] == phi


def test_metric_input_and_limits():
    """Own arithmetic on ACI 318-19 17.6.2.2.1: 24 sqrt(2500) 7^1.5 = 22,224 lbf."""
    assert lbf(basic_breakout("17.2369 MPa", "177.8 mm")) == pytest.approx(22224, rel=1e-4)
    with pytest.raises(FormulaError, match="concrete strength"):
        basic_breakout("2000 psi", "7 in")
    with pytest.warns(OutsideRange, match="embedment"):
        basic_breakout("3000 psi", "30 in")
