"""Steel of the slab where it holds an edge level: an example of a slab, what the code asks of it, and what is counted."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from structure import checks
from structure import job as base

from calcbook.basis.units import Q
from calcbook.footings.reinforced import bar_moment_strength, stress_block
from calcbook.footings.slab_steel import (
    Mat,
    bars_that_hold,
    developed_share,
    greatest_spacing,
    least_slab_steel,
    mat_strength,
    mesh_hold,
    middle_depth,
    slab_hold,
)
from calcbook.job.edges import edge_of

EDGE = {"depth": "14 in", "width": "12 in", "slope": 0.0}
WALL = {"name": "w", "side": 1, "height": "9 ft", "dead": "500 plf", "roof": "300 plf"}
BARS = {"kind": "bars", "bar": "#4", "bar_spacing": "12 in", "support": "chairs"}
TITLE = "Bending moment of the slab that holds the edge level, wall w"


def job(reinforcement, edge=EDGE, thickness="4 in", **wall):
    return base(
        slab={"length": "30 ft", "width": "24 ft", "thickness": thickness},
        concrete={"strength": "3000 psi"}, soil={"bearing": "1500 psf"}, edge=edge, walls=[WALL | wall],
        reinforcement=reinforcement,
    )  # fmt: skip


def level(*of, **also):
    return checks("edges", job(*of, **also))[TITLE]


@pytest.mark.remembered(
    "Nilson", "Example 13.1", "least_slab_steel", "stress_block", "bar_moment_strength"
)
def test_the_slab_of_an_example():
    """Nilson, Darwin, Dolan, Example 13.1 (from memory): 6.5 in. slab, d 5.5 in., 4,000 and 60,000 psi: A_s 0.28 in.2 in 12 in. gives
    a 0.41 in.; 0.27 in.2 holds 6.40 ft-kips with an arm of 5.29 in.; the least steel is 0.14 in.2."""
    steel = {"f_y": "60000 psi", "f_c": "4000 psi", "b": "12 in"}
    assert stress_block(A_s="0.28 in2", **steel).m_as("inch") == pytest.approx(0.41, abs=0.005)
    held = bar_moment_strength(A_s="0.27 in2", f_y="60000 psi", d_s="5.5 in", a="0.42 in")
    assert held.m_as("kip*ft") == pytest.approx(6.40, abs=0.05)
    assert least_slab_steel("6.5 in").m_as("inch**2/ft") == pytest.approx(0.14, abs=0.005)


@pytest.mark.form("ACI 318-25", "7.7.2 and 8.6.1.1", "least_slab_steel", "greatest_spacing")
@pytest.mark.worked("middle_depth", "mesh_hold", "developed_share")
def test_what_the_code_asks_of_steel_in_a_slab():
    """The forms 0.0018 of the section, and the lesser of 3h and 18 in., were read in a summary; the numbers are own arithmetic."""
    assert least_slab_steel("4 in").m_as("inch**2/ft") == pytest.approx(0.0864)
    assert [greatest_spacing(h).m_as("inch") for h in ("4 in", "8 in")] == [12, 18]
    assert middle_depth(h="4 in", d_b="0.5 in").m_as("inch") == 1.75
    assert mesh_hold("6 in").m_as("inch") == 14
    assert [developed_share("9 in", needed) for needed in ("18 in", "8 in")] == [0.5, 1]


def test_bars_on_chairs_hold_the_edge_of_a_house_and_bars_elsewhere_do_not():
    """1.2 x 500 + 1.6 x 300 lb, 3.25 in. off the middle: 3,510 lbf in. Plain 0.6 x 5 root(3,000) x 12 x 2^2/6 = 1,315. #4 at 12 in., 1.75 in.
    deep: 9 in. of the 21.9 in. that it takes (60,000 x 0.5/(25 x 54.77)) develop 41 %, 0.0822 in.2: a 0.161 in., 7,407 lbf in."""
    counted, ground, unsaid, none = (
        level(r)
        for r in (
            BARS,
            BARS | {"support": "ground"},
            {k: v for k, v in BARS.items() if k != "support"},
            {},
        )
    )
    assert (counted.status, ground.status, unsaid.status, none.status) == ("OK", *["NOT OK"] * 3)
    a = 0.0822 * 60000 / (0.85 * 3000 * 12)
    assert counted.values[1].m_as("lbf*inch") == pytest.approx(
        0.9 * 0.0822 * 60000 * (1.75 - a / 2), rel=2e-3
    )
    assert {round(c.values[1].m_as("lbf*inch")) for c in (ground, unsaid, none)} == {1315}
    assert "steel: bars #4 at 12 in. on chairs" in counted.remark and "on the ground" in ground.remark
    assert "does not say" in unsaid.remark and "no bars" in none.remark


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"bar": "#3", "bar_spacing": "16 in"}, "less than the code's least"),
        ({"bar": "#5", "bar_spacing": "13 in"}, "farther apart than 12 in."),
        ({"bar": "#6", "bar_spacing": "4 in"}, "too much for this thickness"),
        ({"kind": "mesh", "wire": "6x6-W2.9xW2.9"}, "less than the code's least"),
        ({"kind": "mesh", "wire": "4x4-W4.0xW4.0"}, "too narrow to hold mesh"),
    ],
)
def test_steel_that_does_not_count_leaves_plain_concrete_and_says_why(change, why):
    found = level(BARS | change, EDGE | {"width": "12 in"})
    assert found.values[1].m_as("lbf*inch") == pytest.approx(1314.5, rel=1e-3) and why in found.remark


def test_mesh_counts_whole_where_two_cross_wires_lie_in_the_edge():
    """4 x 4 mesh needs 2 x 4 + 2 in. and 3 in. to its end: 13 in. of edge. 0.12 in.2 at 65,000 psi and 2 - 0.226/2 in. deep."""
    made = job(
        {"kind": "mesh", "wire": "4x4-W4.0xW4.0", "support": "chairs"}, EDGE | {"width": "13 in"}
    )
    held, _ = mat_strength(made, edge_of(made, 1), Q(4, "in"), Mat.of(made))
    a = 0.12 * 65000 / (0.85 * 3000 * 12)
    assert held.m_as("lbf*inch") == pytest.approx(
        0.9 * 0.12 * 65000 * (2 - 0.2257 / 2 - a / 2), rel=1e-4
    )


def test_a_wall_inside_of_the_middle_bends_the_slab_the_other_way():
    found = level(BARS, EDGE | {"width": "16 in"}, inset="8.5 in")
    assert "inward" in found.remark and found.values[1].m_as("lbf*inch") == pytest.approx(
        1314.5, rel=1e-3
    )


def test_the_bars_that_are_named_do_hold():
    none = job({}, dead="700 plf")
    found = checks("edges", none)[TITLE]
    named = bars_that_hold(none, edge_of(none, 1), found.values[0])
    size = named.split()[1]
    assert named in found.to_do and level(BARS | {"bar": size}, dead="700 plf").status == "OK"


@settings(max_examples=12)
@given(h=st.floats(3.5, 6.0), more=st.floats(0, 1.5), w=st.floats(8, 30))
def test_a_thicker_slab_or_a_wider_edge_holds_no_less_while_its_steel_counts(h, more, w):
    made = job(BARS | {"bar": "#5"})
    edges = [edge_of(made.changed({"edge.width": f"{x} in"}), 1) for x in (w, w + more)]

    def held(edge, thick):
        return slab_hold(made, edge, Q(thick, "in"), True).strength

    assert held(edges[0], h + more) >= held(edges[0], h)
    assert held(edges[1], h) >= held(edges[0], h)
