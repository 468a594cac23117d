"""Odds that a cast bolt comes up under a stud: closed forms, draws against the exact sum."""

import math

import numpy as np
import pytest

from calcbook.basis.units import Q
from calcbook.bolts.layout import lay_out
from calcbook.bolts.misplacement import (
    Misses,
    blocked_share,
    odds_of_miss,
    rooms_of,
    simulate_misses,
    total_spread,
)
from calcbook.plan.tape import Block, Rules


@pytest.mark.worked("total_spread")
def test_errors_add_by_squares():
    assert total_spread("3 in", "4 in", "0 in").m_as("inch") == pytest.approx(5)
    assert total_spread("2 in", "3 in", "6 in").m_as("inch") == pytest.approx(7)


@pytest.mark.worked("blocked_share")
def test_blocked_share_of_a_bay():
    """Own arithmetic: 1.5 in. stud, 1-5/8 in. clear on each side, of 16 in."""
    assert blocked_share("1.5 in", "1.625 in", "16 in") == pytest.approx(4.75 / 16)


def test_odds_of_one_bolt():
    """Standard normal tails: 2.275 % beyond two, 15.866 % beyond one."""
    found = odds_of_miss(Q(1, "in"), Q(2, "in"), Q(1, "in"))
    assert found == pytest.approx(0.158655 + 0.022750, abs=1e-6)
    assert odds_of_miss(Q(0, "in"), Q(50, "in"), Q(1, "in")) == pytest.approx(0.5)


def test_draws_agree_with_the_exact_sum():
    """Own draws against the closed form."""
    rooms = (((1.0, 2.0), (0.5, 3.0), (2.0, 0.7)), ((0.4, 0.4),), ())
    found = simulate_misses(rooms, 0.5, 0.3, 0.4, draws=40000)
    sigma = Q(math.sqrt(0.5**2 + 0.3**2 + 0.4**2), "in")
    exact = sum(odds_of_miss(Q(a, "in"), Q(b, "in"), sigma) for wall in rooms for a, b in wall)
    assert found.expected == pytest.approx(exact)
    assert found.mean == pytest.approx(exact, abs=0.02)
    again = simulate_misses.__wrapped__(rooms, 0.5, 0.3, 0.4, draws=40000)
    assert np.array_equal(found.counts, again.counts) and again is not found


def test_a_shifted_tape_moves_all_bolts_of_its_wall():
    """Only the start of the tape errs: the bolts of a wall miss together, those of two walls do not."""
    together = simulate_misses(((((1.0, 1.0),) * 4),), 1e-9, 0.0, 1.0, draws=4000)
    assert set(np.unique(together.counts)) == {0, 4}
    apart = simulate_misses((((1.0, 1.0),), ((1.0, 1.0),)), 1e-9, 0.0, 1.0, draws=4000)
    assert set(np.unique(apart.counts)) == {0, 1, 2}


def test_own_errors_of_bolts_and_studs_both_count():
    wide = simulate_misses((((1.0, 1.0),),), 0.6, 0.8, 0.0, draws=40000)
    assert wide.mean == pytest.approx(2 * 0.158655, abs=0.01)


def test_one_sided_rooms():
    left = simulate_misses((((0.5, 99.0),),), 0.5, 0.0, 0.0, draws=40000)
    assert left.mean == pytest.approx(0.158655, abs=0.01)
    right = simulate_misses((((99.0, 0.5),),), 0.5, 0.0, 0.0, draws=40000)
    assert right.mean == pytest.approx(0.158655, abs=0.01)


def test_summary_of_draws():
    misses = Misses(np.array([0, 0, 0, 1, 3]), 0.8)
    assert (misses.mean, misses.any, misses.at(0.6), misses.at(0.95)) == (pytest.approx(0.8), 0.4, 0, 3)


def test_rooms_beside_a_bolt():
    """Blocks and the ends of the piece bound the room of each bolt."""
    layout = lay_out([(0, 640)], [Block(200, 280, "on a stud")], Rules(400, 40, 160, 64))
    rooms = rooms_of(layout, 16.0)
    for bolt, (left, right) in zip(layout.bolts, rooms, strict=True):
        lows = [64, *(h for h in (280,) if h <= bolt.place)]
        highs = [576, *(v for v in (200,) if v >= bolt.place)]
        assert left == pytest.approx((bolt.place - max(lows)) / 16)
        assert right == pytest.approx((min(highs) - bolt.place) / 16)


def test_rooms_in_the_second_piece_are_bounded_by_its_own_ends():
    layout = lay_out([(0, 640), (700, 1900)], [], Rules(1152, 40, 160, 64))
    rooms = rooms_of(layout, 16.0)
    for bolt, (left, right) in zip(layout.bolts, rooms, strict=True):
        start, end = (0, 640) if bolt.place < 640 else (700, 1900)
        assert (left, right) == ((bolt.place - start - 64) / 16, (end - 64 - bolt.place) / 16)
