"""Cutting runs from rolls: against trying every way on small cases, and laws on large ones."""

import functools
import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.plan.cutting import SEARCHED, cut_rolls

LAP, LEAST = 1, 2


def cut(runs, roll, lap=LAP, least=LEAST):
    return cut_rolls(tuple(float(r) for r in runs), float(roll), float(lap), float(least))


def checked(found, runs, roll, lap=LAP, least=LEAST):
    """A cutting that really makes the runs: lengths add up, rolls are not overdrawn."""
    used = {}
    for piece in found.pieces:
        used[piece.roll] = used.get(piece.roll, 0.0) + piece.length
    assert set(used) == set(range(found.rolls))
    assert max(used.values(), default=0) <= roll + 1e-6
    for k, run in enumerate(runs):
        lengths = [p.length for p in found.pieces if p.run == k]
        assert sum(lengths) == pytest.approx(run + lap * (len(lengths) - 1))
        assert len(lengths) == 1 or min(lengths) >= least - 1e-6
    assert found.end_laps == len(found.pieces) - len(runs)
    assert found.rest == pytest.approx(max((roll - u for u in used.values()), default=0.0))
    assert found.fewest <= found.rolls
    return found


def splits(run, roll):
    """Every way to make a run from at most three pieces of whole feet."""
    if run <= roll:
        yield (run,)
    for count in (2, 3):
        total = run + LAP * (count - 1)
        for first in itertools.product(range(LEAST, roll + 1), repeat=count - 1):
            last = total - sum(first)
            if LEAST <= last <= roll and [*first, last] == sorted([*first, last]):
                yield (*first, last)


@functools.cache
def fits(pieces, rolls, roll):
    """Whether pieces fit into so many rolls, trying every place."""

    def place(k, left):
        if k == len(pieces):
            return True
        tried = set()
        for j, room in enumerate(left):
            if room >= pieces[k] and room not in tried:
                tried.add(room)
                if place(k + 1, (*left[:j], room - pieces[k], *left[j + 1 :])):
                    return True
        return False

    return place(0, (roll,) * rolls)


def every_way(runs, roll):
    """(rolls, end laps) of the best of all ways."""
    ways = [(len(p) - len(runs), tuple(sorted(p, reverse=True)))
            for p in (sum(c, ()) for c in itertools.product(*(list(splits(r, roll)) for r in runs)))]  # fmt: skip
    for rolls in itertools.count(1):
        laps = [
            n
            for n, pieces in sorted(set(ways))
            if sum(pieces) <= rolls * roll and fits(pieces, rolls, roll)
        ]
        if laps:
            return rolls, min(laps)
    return None


@settings(max_examples=50, deadline=None)
@given(st.lists(st.integers(1, 14), min_size=1, max_size=3), st.integers(6, 11))
def test_three_runs_against_every_way(runs, roll):
    found = checked(cut(runs, roll), runs, roll)
    assert (found.rolls, found.end_laps) == every_way(runs, roll)
    assert found.proved


@settings(max_examples=25, deadline=None)
@given(st.lists(st.integers(3, 9), min_size=4, max_size=4), st.integers(7, 10))
def test_four_runs_against_every_way(runs, roll):
    found = checked(cut(runs, roll), runs, roll)
    assert (found.rolls, found.end_laps) == every_way(runs, roll)


def test_offcuts_are_used():
    found = checked(cut([8, 8, 3], 10), [8, 8, 3], 10)
    # 19 ft and a lap on two rolls of 10 ft: the short run is made of both offcuts
    assert (found.rolls, found.end_laps, found.rest) == (2, 1, 0)


def test_no_lap_is_made_without_need():
    assert cut([6, 4, 6, 4], 10).end_laps == 0
    assert cut([6, 4, 6, 4], 10).rolls == 2


def test_a_run_longer_than_a_roll():
    found = checked(cut([25], 10), [25], 10)
    assert [p.length for p in found.pieces] == [10, 10, 7]
    assert (found.rolls, found.end_laps) == (3, 2)
    # 19.5 ft: the second piece would be 10.5, so a third is needed, not shorter than the least
    found = checked(cut([19.5], 10), [19.5], 10)
    assert [p.length for p in found.pieces] == pytest.approx([10, 8.5, 3]) or found.rolls == 3
    assert checked(cut([19], 10), [19], 10).rolls == 2


def test_no_piece_is_shorter_than_the_least():
    found = checked(cut([10.5], 10, 0.5, 3), [10.5], 10, 0.5, 3)
    assert [p.length for p in found.pieces] == pytest.approx([8, 3])


def test_nothing_to_cut():
    found = cut([], 10)
    assert (found.rolls, found.end_laps, found.rest, found.pieces) == (0, 0, 0.0, ())


@settings(max_examples=40, deadline=None)
@given(st.lists(st.floats(1, 60), min_size=1, max_size=30), st.floats(12, 80))
def test_any_cutting_is_whole_and_near_its_bound(runs, roll):
    found = checked(cut(runs, roll, 0.5, 3), runs, roll, 0.5, 3)
    assert found.fewest >= sum(runs) / roll - 1e-9
    # each roll but the last is filled but for less than the least two pieces
    assert found.rolls <= sum(runs) / (roll - 6.5) + 2
    assert found.searched == (len(runs) <= SEARCHED)


@settings(max_examples=30, deadline=None)
@given(st.lists(st.floats(1, 30), min_size=1, max_size=6), st.floats(8, 40), st.floats(0, 20))
def test_a_longer_roll_never_needs_more(runs, roll, more):
    assert cut(runs, roll + more).rolls <= cut(runs, roll).rolls


@settings(max_examples=30, deadline=None)
@given(st.lists(st.integers(2, 25), min_size=1, max_size=6), st.integers(8, 20), st.randoms())
def test_the_order_of_the_runs_does_not_matter(runs, roll, random):
    mixed = random.sample(runs, len(runs))
    first, second = cut(runs, roll), cut(mixed, roll)
    assert (first.rolls, first.end_laps) == (second.rolls, second.end_laps)


def test_a_roll_too_short_to_lap_is_refused():
    with pytest.raises(ValueError, match="roll of 5 ft is too short for pieces of at least 3 ft"):
        cut([10], 5, 0.5, 3)
    with pytest.raises(ValueError, match="laps of 3 ft"):
        cut([10], 50, 3, 3)
