"""All checks of a pad, and the search for the smallest one."""

import itertools

import numpy as np
import pytest
from benchmark_pads import by_hand, by_the_book
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.footing import combined_load
from calcbook.formula import FormulaError
from calcbook.pads import check_pad, design_pad, governing_load, once
from calcbook.units import Q

POST = {
    "t": Q(5, "in"), "c_1": Q(5.5, "in"), "c_2": Q(5.5, "in"), "P_a": Q(9000, "lbf"), "P_u": Q(12800, "lbf"),
    "q_a": Q(2000, "psf"), "f_c": Q(4000, "psi"), "gamma_c": Q(150, "pcf"), "q_soil": Q(0, "psf"),
}  # fmt: skip
WORST = {
    "P_D": "4000 lbf",
    "P_L": "3500 lbf",
    "P_S": "5000 lbf",
    "q_a": "2000 psf",
    "f_c": "4000 psi",
    "t": "5 in",
}


def ratios(L, B, d, **changes):
    sizes = (Q(x, "in") for x in (L, B, d))
    return [check.ratio for check in check_pad(once, *sizes, **(POST | changes))]


def test_checks_of_a_pad_by_hand():
    """30 x 30 x 9 in. under a 5 in. slab, 9 kip (12.8 factored): every line by pocket calculator."""
    soil, bending, across, punching, under, thick = ratios(30, 30, 9)
    assert soil == pytest.approx((9000 / 6.25 + 9 / 12 * 150 + 5 / 12 * 150) / 2000)
    q_u, h_e, x = 12800 / 900, 12.0, 12.25
    assert bending == pytest.approx(q_u * 12 * x**2 / 2 / (0.6 * 5 * 4000**0.5 * 12 * h_e**2 / 6))
    assert across == pytest.approx(q_u * 12 * 0.25 / (0.6 * 4 / 3 * 4000**0.5 * 12 * h_e))
    load, perimeter = q_u * (900 - 17.5**2), 4 * 17.5
    assert punching == pytest.approx(load / (0.6 * 8 / 3 * 4000**0.5 * perimeter * h_e))
    assert under == pytest.approx(12800 / (0.6 * 2 * 0.85 * 4000 * 30.25))
    assert thick == pytest.approx(8 / 14)


def test_arrays_of_pads_agree_with_the_sum_written_out():
    for book, hand in zip(by_the_book(), by_hand(), strict=True):
        np.testing.assert_allclose(book, hand, rtol=1e-9)


def test_questions_have_clauses_and_read_well():
    checks = check_pad(once, Q(30, "in"), Q(30, "in"), Q(9, "in"), **POST)
    assert str(checks[0]) == "Does the soil carry the pad?: 1,615 psf of 2,000 psf, ratio 0.81"
    assert len({check.question for check in checks}) == 6
    assert all(check.clause.place for check in checks)


def test_governing_load():
    loads = [Q(x, "lbf") for x in (4000, 3500, 5000)]
    assert governing_load("strength", *loads).magnitude == pytest.approx(1.2 * 4000 + 1.6 * 5000 + 3500)
    assert governing_load("allowable", *loads).magnitude == pytest.approx(4000 + 0.75 * 8500)


@settings(max_examples=5, deadline=None)
@given(
    st.floats(500, 12000),
    st.floats(0, 12000),
    st.sampled_from([1500, 2000, 3000]),
    st.floats(2500, 5000),
)
def test_no_smaller_pad_passes(P_D, P_L, q_a, f_c):
    """Against brute force over a coarser grid, one pad at a time."""
    coarse = {"plan_step": "6 in", "depth_step": "3 in", "most_plan": "72 in", "most_depth": "18 in"}
    loads = {"P_D": Q(P_D, "lbf"), "P_L": Q(P_L, "lbf"), "q_a": Q(q_a, "psf"), "f_c": Q(f_c, "psi")}
    found = design_pad(**loads, **coarse)
    given_loads = Q(P_D, "lbf"), Q(P_L, "lbf"), Q(0, "lbf")
    changes = {
        "P_a": governing_load("allowable", *given_loads), "P_u": governing_load("strength", *given_loads),
        "q_a": loads["q_a"], "f_c": loads["f_c"], "t": Q(4, "in"),
    }  # fmt: skip
    passing = [
        (side * side * d, side, d)
        for side, d in itertools.product(range(6, 73, 6), range(3, 19, 3))
        if side >= 5.5 and max(ratios(side, side, d, **changes)) <= 1 + 1e-9
    ]
    volume, side, depth = min(passing)
    assert found.volume.m_as("inch**3") == pytest.approx(volume)
    assert (found.L.magnitude, found.d.magnitude) == pytest.approx((side, depth))
    assert all(check.ratio <= 1 + 1e-9 for check in found.checks)


def test_the_smallest_pad_says_what_governs():
    found = design_pad(**WORST)
    assert [x.magnitude for x in (found.L, found.B, found.d)] == [30, 30, 4]
    assert found.governs.question == "Is it thick enough?"
    assert '2\'-6" x 2\'-6" x 4" deep below the slab; Is it thick enough? governs' in str(found)
    assert "1,772.5 psf of 2,000 psf" in str(found)


def test_a_pad_of_fixed_width_grows_long():
    found = design_pad(**WORST, width="24 in")
    assert [x.magnitude for x in (found.L, found.B, found.d)] == [36, 24, 6]
    assert found.volume.m_as("inch**3") == pytest.approx(36 * 24 * 6)


def test_trade_steps_and_soil_weight_are_kept():
    found = design_pad(**WORST, plan_step="7 in", depth_step="2.5 in")
    assert found.L.magnitude % 7 == 0 and found.d.magnitude % 2.5 == 0
    tight = WORST | {"q_a": "1600 psf"}
    assert design_pad(**tight, q_soil="120 psf").L <= design_pad(**tight).L


def test_a_post_wider_than_the_load_asks_sets_the_size():
    found = design_pad("100 lbf", "0 lbf", c_1="16 in", c_2="7 in")
    assert found.L.magnitude == 18 and found.B.magnitude == 18


@settings(max_examples=5, deadline=None)
@given(st.floats(1000, 8000))
def test_more_load_never_needs_less_concrete(P):
    assert design_pad(Q(P * 1.2, "lbf"), "0 lbf").volume >= design_pad(Q(P, "lbf"), "0 lbf").volume


@pytest.mark.parametrize(
    ("values", "said"),
    [
        (
            {"P_D": "900 kip"},
            "no pad up to 10'-0\" wide and 3'-0\" deep carries 900,000 lbf on 1,500 psf",
        ),
        ({"P_D": "4000"}, "P_D (dead load): 4000 has no unit"),
        ({"P_D": "-5 lbf"}, "must be at least 0 lbf"),
        ({"P_D": "5 kip", "f_c": "2000 psi"}, "must be at least 2,500 psi and at most 10,000 psi"),
        ({"P_D": "5 kip", "width": "0 in"}, "width (width of the pad, where it is fixed)"),
    ],
)
def test_what_cannot_be_is_refused(values, said):
    with pytest.raises(FormulaError) as error:
        design_pad(**({"P_L": "0 lbf"} | values))
    assert said in str(error.value)


def test_the_command_can_run_it():
    from calcbook.value import evaluate

    answer = evaluate(
        design_pad, {"P_D": "4 kip", "P_L": "3.5 kip", "q_a": "2000 psf", "f_c": "4000 psi"}
    )
    assert "deep below the slab" in answer.result()
    assert combined_load("4 kip", "3.5 kip", "0 lbf", 1, 1, 0).m_as("kip") == pytest.approx(7.5)
