"""Bars of an edge against an example of a beam, the code's least steel, and what the checks of a lifted edge take of it."""

import pytest
from structure import checks, job

from calcbook.basis.units import Q
from calcbook.footings.reinforced import (
    bar_moment_strength,
    effective_depth,
    least_steel,
    stress_block,
    under_the_cut,
)

EDGE = {"depth": "14 in", "width": "12 in", "slope": 0.0}
WALL = {"name": "w", "side": 1, "height": "9 ft", "dead": "100 plf", "uplift": "150 plf", "shear": "0 plf", "shear_out": "0 plf",
        "openings": [{"start": "10 ft", "width": "9 ft"}]}  # fmt: skip
NO_JOINTS = {"by_hand": True}
TITLE = "Bending moment of the edge at the governing jamb, wall w"


@pytest.mark.remembered("Nilson", "Example 3.4", "stress_block", "bar_moment_strength")
def test_a_beam_with_three_no_8_bars():
    """Nilson, Darwin, Dolan, Example 3.4 (from memory): b 10 in., d 23 in., 2.37 in.2, 4,000 and 60,000 psi: a 4.18 in., M_n
    2,970 in.-kips."""
    a = stress_block(A_s="2.37 in2", f_y="60000 psi", f_c="4000 psi", b="10 in")
    assert a.m_as("inch") == pytest.approx(4.18, abs=0.005)
    M_n = bar_moment_strength(A_s="2.37 in2", f_y="60000 psi", d_s="23 in", a=a, phi=1.0)
    assert M_n.m_as("kip*inch") == pytest.approx(2970, abs=5)
    assert bar_moment_strength(A_s="2.37 in2", f_y="60000 psi", d_s="23 in", a=a) == 0.9 * M_n


@pytest.mark.form(
    "reinforced beam in public code",
    "calculate_as_min and calculate_mn",
    "least_steel",
    "stress_block",
    "bar_moment_strength",
)
@pytest.mark.worked("effective_depth")
def test_the_least_steel_of_a_beam():
    """The forms were read in public code, the numbers are own arithmetic. Least steel of 10 by 23 in. and 60,000 psi: 200/f_y b d = 0.767 in.2 at 4,000 psi; from 4,444 psi on
    3 sqrt(f'c)/f_y b d, 0.813 in.2 at 5,000. Depth of #5 under 3 in. in 19: 19 - 3 - 5/16."""
    for f_c, A in (("4000 psi", 0.7667), ("5000 psi", 0.8132)):
        found = least_steel(f_c=f_c, f_y="60000 psi", b="10 in", d_s="23 in")
        assert found.m_as("inch**2") == pytest.approx(A, abs=5e-5)
    a = stress_block(A_s="1 in2", f_y="60000 psi", f_c="4000 psi", b="10 in")
    assert a.m_as("inch") == pytest.approx(60 / 34)
    M_n = bar_moment_strength(A_s="1 in2", f_y="60000 psi", d_s="23 in", a=a)
    assert M_n.m_as("kip*inch") == pytest.approx(0.9 * 60 * (23 - 30 / 34))
    assert effective_depth(h="19 in", c_c="3 in", d_b="0.625 in").m_as("inch") == 15.6875


def test_the_top_bar_of_a_lifted_edge_counts_by_three_quarters_below_the_least_steel():
    """One #5 at the top of 12 by 19 in., 4,000 psi: d 16.6875 in., least steel 200/60,000 x 12 x 16.69 = 0.6675 in.2, so 0.75 x 0.31 of
    it: a 0.342 in., 0.9 x 0.2325 x 60,000 x 16.517 = 207,400 lbf in., against 0.6 x 5 x 63.25 x 12 x 17^2/6 = 109,700 plain."""
    plain, bars, more = (
        checks("edges", job(walls=[WALL], edge=EDGE | change, joints=NO_JOINTS))[TITLE]
        for change in ({}, {"bars": 2, "bar": "#5"}, {"bars": 6, "bar": "#5"})
    )
    assert plain.values[1].m_as("lbf*inch") == pytest.approx(109674, rel=1e-4)
    assert bars.values[1].m_as("lbf*inch") == pytest.approx(
        0.9 * 0.2325 * 60000 * (16.6875 - 0.342 / 2), rel=1e-4
    )
    assert "1 bar #5 at the top counted" in bars.remark and bars.values[0] == plain.values[0]
    whole = 0.93 * 60000 / (0.85 * 4000 * 12)
    assert more.values[1].m_as("lbf*inch") == pytest.approx(
        0.9 * 0.93 * 60000 * (16.6875 - whole / 2), rel=1e-4
    )


@pytest.mark.parametrize(
    "change",
    [{"bars": 1, "bar": "#6"}, {"bars": 2, "bar": "#3"}, {"bars": 8, "bar": "#6", "depth": "6 in"}],
)
def test_bars_that_add_nothing_leave_the_edge_as_plain_concrete(change):
    """A single bar lies at the bottom; small ones hold less than the concrete; too many in a shallow edge would not yield first."""
    bare = {k: v for k, v in change.items() if k == "depth"}
    with_bars, without = (
        checks("edges", job(walls=[WALL], edge=EDGE | c, joints=NO_JOINTS))[TITLE]
        for c in (change, bare)
    )
    assert with_bars.values[1] == without.values[1] > Q(0, "lbf*in")
    assert "lain concrete" in with_bars.remark


@pytest.mark.worked("under_the_cut")
def test_bars_alone_count_across_a_joint_in_what_the_cut_leaves():
    """Two #5, the joint 1 ft beside the jamb, cut 1.25 in. deep into 19: the bar at the bottom has 17.75 - 3 - 0.3125 in. of depth.
    0.75 x 0.31 in.2 as it is below the least: a 0.342 in., 0.9 x 0.2325 x 60,000 x (14.4375 - 0.171), less than at the top."""
    assert under_the_cut("19 in", "1.25 in").m_as("inch") == 17.75
    line = NO_JOINTS | {"lines": [{"x": "9 ft"}]}
    found = checks("edges", job(walls=[WALL], edge=EDGE | {"bars": 2, "bar": "#5"}, joints=line))[TITLE]
    assert found.values[1].m_as("lbf*inch") == pytest.approx(
        0.9 * 0.2325 * 60000 * (14.4375 - 0.342 / 2), rel=1e-4
    )
    assert "run through it" in found.remark


def test_a_cut_that_meets_the_top_bars_leaves_none_across_the_joint():
    """A slab of 8 in. is cut 2 in. deep, which is the cover of the bars at the top."""
    line = NO_JOINTS | {"lines": [{"x": "9 ft"}]}
    made = job(
        walls=[WALL],
        edge=EDGE | {"bars": 4},
        joints=line,
        slab={"length": "30 ft", "width": "24 ft", "thickness": "8 in"},
    )
    assert "Length of edge in one piece beside the governing jamb, wall w" in checks("edges", made)
