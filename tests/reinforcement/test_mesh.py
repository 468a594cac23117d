"""Sheets and bars on a plan."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box, union_all

from calcbook.basis.formula import FormulaError
from calcbook.basis.units import Q
from calcbook.reinforcement.mesh import bar_length, mesh_sheets

L_SHAPE = Polygon([(0, 0), (40, 0), (40, 18), (28, 18), (28, 28), (0, 28)])


@pytest.mark.worked("mesh_sheets")
def test_sheets_by_hand():
    """19 ft 4 in. by 9 ft 4 in. inside the cover, 5 x 10 ft sheets, 8 in. laps: 2 strips of 2 sheets."""
    found = mesh_sheets(box(0, 0, 19 + 8 / 12, 9 + 8 / 12), lap="8 in", cover="2 in")
    assert found.count == 4 and len(found.pieces) == 4 and found.along == "x"
    assert found.area.m_as("ft**2") == pytest.approx(2 * 5 * (10 + 10))
    assert str(found) == "4 sheets, 4 pieces laid along x"


def test_cut_offs_are_used_again():
    """Three strips of 5 ft each: two come out of one 10 ft sheet."""
    found = mesh_sheets(box(0, 0, 5, 14), lap="6 in", cover="0 in")
    assert found.count == 2 and found.along in ("x", "y")


@settings(max_examples=20, deadline=None)
@given(st.floats(8, 50), st.floats(8, 40), st.floats(3, 18))
def test_the_slab_is_covered_and_no_sheet_is_longer_than_one(L, W, lap):
    found = mesh_sheets(box(0, 0, L, W), lap=Q(lap, "in"), cover="0 in")
    assert box(0, 0, L, W).difference(union_all(found.pieces).buffer(1e-6)).area == pytest.approx(
        0, abs=1e-4
    )
    sides = [p.bounds for p in found.pieces]
    along = 0 if found.along == "x" else 1
    assert max(b[along + 2] - b[along] for b in sides) <= 10 + 1e-6
    assert max(b[3 - along] - b[1 - along] for b in sides) <= 5 + 1e-6
    assert found.count <= len(found.pieces) and found.count * 50 >= L * W - 1e-6


def test_a_notch_is_followed():
    """A law: everything 2 in. inside the edge is under a sheet."""
    found = mesh_sheets(L_SHAPE)
    inner = L_SHAPE.buffer(-2 / 12, join_style="mitre")
    assert inner.difference(union_all(found.pieces).buffer(1e-6)).area == pytest.approx(0, abs=1e-4)
    assert found.count < mesh_sheets(box(0, 0, 40, 28)).count


@pytest.mark.worked("bar_length")
def test_bars_by_hand():
    """20 x 10 ft less 3 in. all round, at 12 in.: 10 of 19.5 ft and 20 of 9.5 ft."""
    found = bar_length(box(0, 0, 20, 10), "12 in")
    assert found.m_as("ft") == pytest.approx(10 * 19.5 + 20 * 9.5)
    lapped = bar_length(box(0, 0, 40.5, 2.5), "24 in", stock="20 ft", lap="18 in")
    assert lapped.m_as("ft") == pytest.approx(1 * (40 + 2 * 1.5) + 20 * 2)


def test_bars_on_a_notched_plan_stop_at_the_notch():
    assert bar_length(L_SHAPE, "16 in") < bar_length(box(0, 0, 40, 28), "16 in")


def test_what_cannot_be_is_refused():
    with pytest.raises(FormulaError, match="a lap of 3'-0\" is too much for a sheet 5'-0\" wide"):
        mesh_sheets(box(0, 0, 20, 20), lap="36 in")
    with pytest.raises(FormulaError, match="the cover leaves no room"):
        mesh_sheets(box(0, 0, 1, 1), cover="12 in")
    with pytest.raises(FormulaError, match="the lap is as long as the bar"):
        bar_length(box(0, 0, 20, 20), "12 in", stock="5 ft", lap="60 in")
