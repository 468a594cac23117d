"""The ends of shear walls: hold-down force, compression, unit shear."""

import pytest

from calcbook.loads.ends import shear_ends, unit_shear
from calcbook.loads.statics import end_compression, hold_down_force, plate_shear
from calcbook.loads.wall import Braced, Loads, Opening, Wall


@pytest.mark.worked("end_compression", "hold_down_force")
def test_ends_of_one_piece_by_moments():
    """Derived: 1,800 lb at 9 ft on 6 ft, 200 plf on it: 2,700 - 360 up, 2,700 + 600 down."""
    wall = Wall("w", 6, 9, top=Loads(D=200), along=300)
    (end,) = shear_ends(wall)
    assert (end.V, end.T, end.C) == pytest.approx((1800, 2340, 3300))
    assert hold_down_force("1800 lbf", "9 ft", "6 ft", "-120 plf").m_as("lbf") == pytest.approx(2340)
    assert end_compression("1800 lbf", "9 ft", "6 ft", "200 plf").m_as("lbf") == pytest.approx(3300)
    # vertical equilibrium of the piece with the same 0.6 D
    C = end_compression.body(1800, 9, 6, 120)
    assert C - end.T == pytest.approx(0.6 * 200 * 6)


@pytest.mark.worked("plate_shear")
def test_what_a_door_cuts_out_the_rest_must_hold():
    wall = Wall("w", 40, 9, (Opening(15.5, 24.5),), along=330)
    assert unit_shear(wall) == pytest.approx(330 * 40 / 31)
    assert plate_shear("330 plf", "40 ft", "31 ft").m_as("plf") == pytest.approx(425.8, abs=0.05)
    wider = Wall("w", 40, 9, (Opening(12, 28),), along=330)
    assert max(e.T for e in shear_ends(wider)) > max(e.T for e in shear_ends(wall))


def test_a_header_that_lifts_adds_to_the_end_at_its_jamb():
    wall = Wall("w", 20, 9, (Opening(8, 12),), Loads(W=500), along=100)
    end = shear_ends(wall)[0]
    assert end.added == pytest.approx(0.6 * 500 * 4 / 2)
    assert end.T == pytest.approx(end.unit * 9 + 0.6 * 500 * 8 / 2 + end.added)


def test_named_pieces_take_the_shear_alone_and_their_hold_downs_are_judged():
    pieces = (Braced(0, 4, 3000.0), Braced(16, 20, 1000.0))
    wall = Wall("w", 20, 9, along=100, braced=pieces)
    ends = shear_ends(wall)
    assert [e.unit for e in ends] == [250, 250] and [e.T for e in ends] == [2250, 2250]
    assert [e.held for e in ends] == [True, False]
    assert shear_ends(Wall("w", 20, 9, along=100))[0].held is None
    assert shear_ends(Wall("w", 20, 9, top=Loads(D=900), along=10))[0].held is True


def test_no_shear_or_no_height_gives_no_ends():
    assert shear_ends(Wall("w", 20, 9)) == [] and shear_ends(Wall("w", 20, along=10)) == []


def test_an_anchor_inside_the_end_has_the_shorter_lever():
    """Derived: 1,800 lb at 9 ft on 6 ft, anchor 6 in. inside: (16,200 - 120 x 18) / 5.5 lb."""
    wall = Wall("w", 6, 9, top=Loads(D=200), along=300, braced=(Braced(0, 6, 5000.0, 0.5),))
    (end,) = shear_ends(wall)
    assert end.T == pytest.approx((1800 * 9 - 120 * 18) / 5.5)
    assert end.T_u == pytest.approx((3000 * 9 - 180 * 18) / 5.5)
    assert end.T_u > end.T / 0.6  # less of the dead load counts against it


def test_what_the_line_lifts_is_told_apart_from_what_the_shear_lifts():
    wall = Wall("w", 10, 9, top=Loads(W=500), along=100)
    (end,) = shear_ends(wall)
    assert end.T - end.beyond == pytest.approx(0.6 * 500 * 10 / 2) and end.beyond == pytest.approx(900)
    assert end.pushed == pytest.approx(900)
    held = shear_ends(Wall("w", 10, 9, top=Loads(D=100), along=100))[0]
    assert held.beyond == held.T == pytest.approx(900 - 60 * 5)
