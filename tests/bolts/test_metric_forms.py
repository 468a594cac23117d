"""The anchors' formulas against the metric edition, ACI 318M-19, read in a reprint (public engineering notes).

The metric constants are rounded by the standard, so that the two editions differ by up to 3.3 %: a slip of a
constant or of a power is seen, and no more is claimed.
"""

import math

import pytest

from calcbook.basis.table import lookup
from calcbook.basis.units import Q
from calcbook.bolts.anchor_bond import (
    basic_bond,
    bond_reach,
    bond_tension,
    default_bond_stress,
    splitting_factor,
)
from calcbook.bolts.anchor_shear import (
    basic_breakout_shear,
    breakout_shear_along,
    breakout_shear_towards,
    interaction,
    pryout_factor,
    steel_shear,
)
from calcbook.bolts.anchors import (
    basic_breakout,
    basic_breakout_deep,
    breakout_tension,
    counted_strength,
    headed_pullout,
    hooked_pullout,
    side_face_blowout,
    side_face_group,
)

MPa, mm, N = 145.0377, 1 / 25.4, 1 / 4.4482216  # psi, in., lbf


def psi(x):
    return Q(x * MPa, "psi")


def inch(x):
    return Q(x * mm, "in")


@pytest.mark.form("ACI 318M-19", "17.6.2.2.1", "basic_breakout")
@pytest.mark.parametrize(("k_metric", "k"), [(10, 24.0), (7, 17.0)])
def test_breakout_in_tension(k_metric, k):
    """N_b = k_c sqrt(f'c) h_ef^1.5 in newtons: k_c 10 cast in, 7 drilled."""
    metric = k_metric * math.sqrt(28) * 150**1.5 * N
    assert basic_breakout(psi(28), inch(150), k_c=k).m == pytest.approx(metric, rel=0.02)


@pytest.mark.form("ACI 318M-19", "17.6.2.2.3", "basic_breakout_deep")
def test_breakout_of_deep_anchors():
    """N_b = 3.9 sqrt(f'c) h_ef^(5/3), for 280 to 635 mm."""
    metric = 3.9 * math.sqrt(28) * 400 ** (5 / 3) * N
    assert basic_breakout_deep(psi(28), inch(400)).m == pytest.approx(metric, rel=0.01)


@pytest.mark.form("ACI 318M-19", "17.6.2.3 to 17.6.2.6", "breakout_tension")
def test_factors_of_the_cone():
    """Single bolt, one near edge: A_N (c + 1.5 h)(3 h) / 9 h2 and 0.7 + 0.3 c / (1.5 h), unit-free."""
    h, c, far = 7.0, 2.75, 100.0
    found = (
        breakout_tension("10000 lbf", "7 in", Q(c, "in"), Q(far, "in"), Q(far, "in"), Q(far, "in")).m
        / 10000
    )
    assert found == pytest.approx((c + 1.5 * h) / (3 * h) * (0.7 + 0.3 * c / (1.5 * h)))


@pytest.mark.form("ACI 318M-19", "17.6.3.2.2", "headed_pullout", "hooked_pullout")
def test_pullout():
    """N_p = 8 A_brg f'c; hooks 0.9 f'c e_h d_a, unit-free: 1/2 in., e_h 2 in., 2,500 psi give 2,250 lb."""
    assert headed_pullout("4000 psi", "1 in2").m == pytest.approx(32000)
    assert hooked_pullout("2500 psi", "0.5 in", 4).m == pytest.approx(2250)


@pytest.mark.form("ACI 318M-19", "17.6.4", "side_face_blowout", "side_face_group")
def test_side_face():
    """N_sb = 13 c_a1 sqrt(A_brg f'c); near a corner (1 + c_a2/c_a1)/4; a row 1 + s/(6 c_a1)."""
    metric = 13 * 60 * math.sqrt(400) * math.sqrt(28) * N
    head = Q(400 * mm**2, "in2")
    assert side_face_blowout(inch(60), head, psi(28), inch(2000)).m == pytest.approx(metric, rel=0.025)
    near = side_face_blowout(inch(60), head, psi(28), inch(90)).m
    assert near == pytest.approx(metric * (1 + 1.5) / 4, rel=0.025)
    assert side_face_group("1000 lbf", "6 in", "2 in").m == pytest.approx(1500)


@pytest.mark.form("ACI 318M-19", "17.7.2.2.1", "basic_breakout_shear")
@pytest.mark.parametrize("c", [40, 300])
def test_breakout_in_shear(c):
    """The lesser of 0.6 (l_e/d_a)^0.2 sqrt(d_a f'c) c^1.5 and 3.7 sqrt(f'c) c^1.5, l_e at most 8 d_a."""
    d, l_e = 16.0, min(180.0, 8 * 16.0)
    a = 0.6 * (l_e / d) ** 0.2 * math.sqrt(d) * math.sqrt(28) * c**1.5
    b = 3.7 * math.sqrt(28) * c**1.5
    found = basic_breakout_shear(psi(28), inch(d), inch(180), inch(c)).m
    assert found == pytest.approx(min(a, b) * N, rel=0.035)


@pytest.mark.form("ACI 318M-19", "17.7.2.1(c)", "breakout_shear_along", "breakout_shear_towards")
def test_shear_along_an_edge_is_twice_that_towards_it_without_side_edges():
    """Far from corners the factor for side edges is 1, so the ratio is 2."""
    at = ("1000 lbf", "2.75 in", "100 in", "100 in", "17 in")
    assert breakout_shear_along(*at).m == pytest.approx(2 * breakout_shear_towards(*at).m)


@pytest.mark.form("ACI 318M-19", "17.7.1.2", "steel_shear")
def test_steel_in_shear():
    """0.6 A_se f_uta, 1.0 for a welded stud, times 0.80 on a grout pad."""
    assert steel_shear("1 in2", "60 ksi").m == pytest.approx(36000)
    assert steel_shear("1 in2", "60 ksi", k_V=1, k_g=0.8).m == pytest.approx(48000)


@pytest.mark.form("ACI 318M-19", "17.6.1.2", "counted_strength")
def test_strength_of_steel_that_counts():
    """At most 1.9 f_ya and 860 MPa (124,700 psi)."""
    assert counted_strength("150 ksi", "110 ksi").m_as("psi") == pytest.approx(860 * MPa, rel=0.003)
    assert counted_strength("80 ksi", "36 ksi").m_as("psi") == pytest.approx(1.9 * 36000)


@pytest.mark.published("ACI 318M-19", "Table 17.6.5.2.5", "default_bond_stress")
@pytest.mark.parametrize(
    ("place", "cracked", "uncracked"), [("outdoor", 1.4, 4.5), ("indoor", 2.1, 7.0)]
)
def test_default_bond_stresses(place, cracked, uncracked):
    """MPa of the metric table, rounded to tenths."""
    for state, metric in (("cracked", cracked), ("uncracked", uncracked)):
        found = default_bond_stress(place, state).m_as("psi")
        assert found == pytest.approx(metric * MPa, rel=0.02)
        assert lookup("bond_metric", place_of_use=place)[f"{state}_MPa"] == metric


@pytest.mark.form(
    "ACI 318M-19", "17.6.5", "basic_bond", "bond_reach", "bond_tension", "splitting_factor"
)
def test_bond():
    """N_ba = tau pi d h_ef; c_Na = 10 d sqrt(tau_uncr/7.6 MPa); one near edge as for the cone, with c_Na."""
    assert basic_bond("200 psi", "0.5 in", "6 in").m == pytest.approx(200 * math.pi * 0.5 * 6)
    reach = bond_reach("0.5 in", psi(10)).m_as("inch")
    assert reach == pytest.approx(10 * 0.5 * math.sqrt(10 / 7.6), rel=0.002)
    c, far = 2.0, Q(100, "in")
    found = bond_tension("1000 lbf", Q(reach, "in"), Q(c, "in"), far, far, far).m / 1000
    assert found == pytest.approx((c + reach) / (2 * reach) * (0.7 + 0.3 * c / reach))
    assert float(splitting_factor("3 in", "6 in", "12 in")) == pytest.approx(0.5)  # c_Na/c_ac governs


@pytest.mark.form("ACI 318M-19", "17.8", "interaction")
def test_interaction_is_left_out_below_a_fifth():
    """Neglected where either share is at most 0.2; else the sum, at most 1.2."""
    assert float(interaction("100 lbf", "1000 lbf", "900 lbf", "1000 lbf")) <= 1.2
    assert float(interaction("300 lbf", "1000 lbf", "900 lbf", "1000 lbf")) == pytest.approx(1.2)


@pytest.mark.form("ACI 318M-19", "17.7.3", "pryout")
def test_pryout_factor():
    """1 below 65 mm of embedment, 2 from there on (2.5 in. in US units)."""
    assert pryout_factor(Q(2.4, "in")) == 1 and pryout_factor(Q(2.6, "in")) == 2


@pytest.mark.published("ACI 318M-19", "Table 17.5.3", "design_strength")
def test_strength_factors():
    """(a) ductile 0.75 and 0.65; (b) cast in 0.70, categories 0.65, 0.55, 0.45, shear 0.70; (c) pullout 0.70."""
    phi = {(r, c): lookup("anchor_phi", mode=r, category=c)["phi"] for r, c in (
        ("steel tension", 1), ("steel shear", 1), ("concrete tension", 1), ("concrete shear", 1), ("pullout", 1),
        ("bond", 1), ("bond", 2), ("bond", 3), ("drilled breakout", 1), ("drilled breakout", 2), ("drilled breakout", 3),
    )}  # fmt: skip
    assert list(phi.values()) == [0.75, 0.65, 0.70, 0.70, 0.70, 0.65, 0.55, 0.45, 0.65, 0.55, 0.45]
