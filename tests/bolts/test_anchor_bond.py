"""Adhesive anchors: default bond stresses, reach, edges and groups."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.basis.units import Q
from calcbook.bolts.anchor_bond import (
    basic_bond,
    bond_reach,
    bond_tension,
    default_bond_stress,
    splitting_factor,
)

FAR = {f"c_{k}": Q(500, "in") for k in (1, 2, 3, 4)}


def inch(x):
    return Q(x, "in")


@pytest.mark.remembered("ACI 318-19", "Table 17.6.5.2.5")
@pytest.mark.parametrize(
    ("where", "cracked", "expected"),
    [("outdoor", "cracked", 200), ("outdoor", "uncracked", 650), ("indoor", "cracked", 300), ("indoor", "uncracked", 1000)],
)  # fmt: skip
def test_default_bond_stress(where, cracked, expected):
    """ACI 318-19 Table 17.6.5.2.5 (from memory)."""
    assert default_bond_stress(where, cracked).m_as("psi") == expected


@pytest.mark.remembered("ACI 318-19", "17.6.5")
def test_half_inch_rod_indoors():
    """Own arithmetic with ACI 318-19 17.6.5: 2,827 lbf cracked, 9,425 uncracked; reach 4.767 in."""
    assert basic_bond("300 psi", "1/2 in", "6 in").m_as("lbf") == pytest.approx(2827.4, abs=0.1)
    assert basic_bond("1000 psi", "1/2 in", "6 in").m_as("lbf") == pytest.approx(9424.8, abs=0.1)
    assert basic_bond("1000 psi", "1/2 in", "6 in", 0.75).m_as("lbf") == pytest.approx(7068.6, abs=0.1)
    assert bond_reach("1/2 in", "1000 psi").m_as("inch") == pytest.approx(4.7673, abs=1e-4)


@pytest.mark.worked("bond_tension")
def test_far_from_edges_nothing_is_lost():
    assert bond_tension(Q(5000, "lbf"), inch(5), **FAR).m_as("lbf") == pytest.approx(5000)
    assert bond_tension(Q(5000, "lbf"), inch(5), **FAR, s_2=inch(50), n=3.0).m_as(
        "lbf"
    ) == pytest.approx(15000)


@pytest.mark.parametrize("which", ["c_1", "c_2", "c_3", "c_4"])
def test_whichever_edge_is_near(which):
    """Own arithmetic: reach 6 in., one edge 3 in. away: 9/12 of the area and an edge factor of 0.85."""
    found = bond_tension(Q(8000, "lbf"), inch(6), **{**FAR, which: inch(3)})
    assert found.m_as("lbf") == pytest.approx(0.75 * 0.85 * 8000)


def test_a_group_with_all_factors():
    """Own arithmetic: reach 6 in., edges 3, 20, 5 and 30 in., 4 in. by 7 in. group of four, 1 in. off centre."""
    found = bond_tension(
        Q(8000, "lbf"),
        inch(6),
        inch(3),
        inch(20),
        inch(5),
        inch(30),
        inch(4),
        inch(7),
        4.0,
        0.8,
        inch(1),
    )
    expected = (3 + 4 + 6) * (5 + 7 + 6) / 144 / (1 + 1 / 6) * (0.7 + 0.3 * 3 / 6) * 0.8 * 8000
    assert found.m_as("lbf") == pytest.approx(expected)


@settings(max_examples=30, deadline=None)
@given(
    st.floats(1, 20), st.floats(1, 20), st.floats(2, 10), st.sampled_from(["c_1", "c_2", "c_3", "c_4"])
)
def test_an_edge_that_comes_nearer_never_helps(a, b, reach, which):
    edges = {"c_1": inch(a), "c_2": inch(b), "c_3": inch(9), "c_4": inch(8)}
    there = bond_tension(Q(8000, "lbf"), inch(reach), **edges)
    nearer = bond_tension(Q(8000, "lbf"), inch(reach), **{**edges, which: 0.9 * edges[which]})
    assert nearer <= there * (1 + 1e-12)


@pytest.mark.remembered("ACI 318-19", "17.6.2.6.1")
def test_splitting():
    """ACI 318-19 17.6.2.6.1: the larger of edge distance and reach, over c_ac, at most 1."""
    assert splitting_factor("3 in", "9 in", "12 in") == pytest.approx(0.75)
    assert splitting_factor("10 in", "9 in", "12 in") == pytest.approx(10 / 12)
    assert splitting_factor("14 in", "9 in", "12 in") == 1
