"""Sill bolts: stick-up, spacing, places, walls, and the whole calculation of a job."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.basis.formula import FormulaError
from calcbook.basis.table import table
from calcbook.basis.units import Q
from calcbook.bolts.sill import (
    bolt_length,
    bolt_positions,
    bolt_stick_up,
    embedment_left,
    expected_cost,
    hole_material,
    off_middle,
    sentence,
    sill_rule,
    spacing_for_both,
    spacing_for_shear,
    spacing_for_uplift,
)


def inch(x):
    return Q(x, "in")


# --- formulas ------------------------------------------------------------------------------


@pytest.mark.worked("bolt_stick_up")
@pytest.mark.parametrize(("plies", "expected"), [(1, 2.66650), (2, 4.16650)])
def test_stick_up(plies, expected):
    """Own arithmetic: plies of 1.5 in., washer 0.229, nut 7/16, spare thread 1/2 in."""
    assert bolt_stick_up(float(plies)).m_as("inch") == pytest.approx(expected)
    raised = bolt_stick_up(float(plies), t_seal=inch(0.25))
    assert raised.m_as("inch") == pytest.approx(expected + 0.25)


def test_every_part_adds_to_the_stick_up():
    """Own arithmetic: a sum of its parts."""
    found = bolt_stick_up(2.0, inch(1), inch(0.25), inch(0.5), inch(0.75), inch(0.125))
    assert found.m_as("inch") == pytest.approx(2 + 0.25 + 0.5 + 0.75 + 0.125)


@pytest.mark.worked("bolt_length", "embedment_left")
def test_bolt_to_buy_and_what_is_left():
    L_b = bolt_length(inch(7), inch(2.9))
    assert L_b.m_as("inch") == 10
    assert embedment_left(L_b, inch(2.9)).m_as("inch") == pytest.approx(7.1)
    assert bolt_length(inch(7), inch(3)).m_as("inch") == 10
    assert bolt_length(inch(7), inch(3.01), inch(1)).m_as("inch") == 11


@settings(max_examples=30, deadline=None)
@given(st.floats(7, 12), st.floats(2, 6), st.sampled_from([0.5, 1, 2]))
def test_embedment_is_never_less_than_wanted(h, h_s, step):
    left = embedment_left(bolt_length(inch(h), inch(h_s), inch(step)), inch(h_s)).m_as("inch")
    assert h - 1e-6 <= left < h + step


def test_spacings():
    """Own arithmetic: 1,200 lbf over 300 lbf/ft is 4 ft."""
    assert spacing_for_uplift("1200 lbf", "300 plf").m_as("foot") == pytest.approx(4)
    assert spacing_for_shear("1488 lbf", "372 plf").m_as("foot") == pytest.approx(4)
    with pytest.raises(FormulaError, match="uplift on the wall"):
        spacing_for_uplift("1200 lbf", "0 plf")


@pytest.mark.form("ACI 318M-19", "17.8", "spacing_for_both", "spacing_for_uplift", "spacing_for_shear")
@settings(max_examples=40, deadline=None)
@given(st.floats(300, 3000), st.floats(300, 3000), st.floats(20, 600), st.floats(20, 600))
def test_spacing_for_both_uses_up_what_is_allowed(T, V, w, v):
    """ACI 318M-19 17.8: the sum of shares is 1.2, or one share is 1 and the other at most 0.2."""
    s_u = spacing_for_uplift(Q(T, "lbf"), Q(w, "plf"))
    s_v = spacing_for_shear(Q(V, "lbf"), Q(v, "plf"))
    feet = spacing_for_both(s_u, s_v).m_as("foot")
    tension, shear = w * feet / T, v * feet / V
    if min(tension, shear) > 0.2 + 1e-9:
        assert tension + shear == pytest.approx(1.2)
    else:
        assert max(tension, shear) == pytest.approx(1)


@pytest.mark.worked("off_middle")
def test_middle_third():
    assert off_middle(inch(2.75), inch(0), inch(5.5)).m_as("inch") == pytest.approx(0)
    assert off_middle(inch(2), inch(0.5), inch(5.5)).m_as("inch") == pytest.approx(1.25)
    assert off_middle(inch(5), inch(0.5), inch(5.5)).m_as("inch") == pytest.approx(1.75)


@pytest.mark.worked("expected_cost", "hole_material")
def test_costs():
    """Own arithmetic: 40 bolts at $4 and 12 an hour, $48 an hour; 3 of them replaced for $7 at 2 an hour."""
    found = expected_cost(40.0, Q(4, "$"), Q(12, "1/h"), Q(48, "$/h"), 3.0, Q(7, "$"), Q(2, "1/h"))
    assert found.m_as("dollar") == pytest.approx(40 * 8 + 3 * 31)
    material = hole_material(Q(5, "$"), Q(38, "$"), Q(22 * 231 / 128 / 19, "in3"), Q(22, "fl_oz"))
    assert material.m_as("dollar") == pytest.approx(7)


RULES = {
    "least diameter": 0.5, "least embedment": 7, "most spacing": 72, "most spacing tall": 48, "bolts in a piece": 2,
    "most end distance": 12, "least end distance": 7, "least spacing": 4, "exempt diameter": 0.625, "exempt embedment": 7,
    "least loaded edge": 4, "exempt edge": 1.75, "exempt end": 15, "least drilled edge": 6, "least drilled spacing": 6, "least adhesive depth": 4,
    "most adhesive depth": 20, "least concrete age": 21, "least cover": 3, "most drilled strength": 8000, "least default temperature": 50,
    "least torqued edge": 6, "least torqued spacing": 6,
    "washer to sheathed edge": 0.5, "washer shear": 200, "least joint": 3,
}  # fmt: skip


def test_rules_of_the_codes():
    """IRC R403.1.6 (read in a reprint); IBC 1905.1.8 and SDPWS (from memory); ACI 318M-19 (in a reprint)."""
    assert {row["rule"]: row["value"] for row in table("sill_rules")} == RULES
    assert sill_rule("least end distance", inch(0.625))[0].m_as("inch") == pytest.approx(4.375)
    assert sill_rule("most spacing")[0].m_as("foot") == 6
    assert sill_rule("bolts in a piece")[0] == 2
    assert sentence("at most 4 ft on center.") == "At most 4 ft on center."


# --- places on one plate -------------------------------------------------------------------


@pytest.mark.worked("bolt_positions")
def test_positions_on_a_wall_with_a_door_and_a_splice():
    layout = bolt_positions(
        Q(40, "ft"), Q(6, "ft"), splices=[Q(30, "ft")], openings=[(Q(10, "ft"), Q(13, "ft"))]
    )
    assert layout.pieces == [(0, 1920), (2496, 5760), (5760, 7680)]
    for number, (start, end) in enumerate(layout.pieces, 1):
        places = [b.place for b in layout.bolts if b.piece == number]
        assert len(places) >= 2
        assert 56 <= places[0] - start <= 192 and 56 <= end - places[-1] <= 192
        assert all(b - a <= 1152 for a, b in itertools.pairwise(places))
    assert next(b.place for b in layout.bolts if b.piece == 2) > 2496


@pytest.mark.parametrize(
    ("feet", "spacing", "count"),
    [(10, 72, 3), (10, 48, 3), (11, 48, 4), (16, 72, 4), (40, 72, 8), (8, 72, 2)],
)
def test_counts_by_the_code_s_spacing(feet, spacing, count):
    """Own arithmetic: ends at most 12 in. in, so at least (L - 24 in.) / s + 1 bolts, and at least two."""
    layout = bolt_positions(Q(feet, "ft"), inch(spacing), end_min=inch(3.5))
    assert len(layout.bolts) == count == max(2, -(-(12 * feet - 24) // spacing) + 1)


def test_positions_dodge_what_is_named():
    layout = bolt_positions(Q(11, "ft"), inch(48), obstacles=[(inch(44), inch(50), "on a pipe")])
    assert [b.moved_for for b in layout.bolts] == ["", "on a pipe", "", ""]
    assert not any(704 < b.place < 800 for b in layout.bolts)


def test_positions_in_metric():
    layout = bolt_positions(Q(10, "ft"), inch(72), system="si", least=inch(2))
    assert all(0 <= b.place <= 3048 for b in layout.bolts) and layout.pieces == [(0, 3048)]
    assert layout.places[0].m_as("mm") == layout.bolts[0].place


# --- a whole job ---------------------------------------------------------------------------
