"""Bars as they are bought: whole bars, cut-offs used again, and a price for each size."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from structure import job

from calcbook.book.chapters import Book
from calcbook.job.bars import bars_for_runs, lapped
from calcbook.plan.cutting import whole_from


def test_what_is_left_of_a_bar_begins_the_next_line():
    """Derived: three lines of 30 ft of 20 ft bars with laps of 2 ft. Each by itself 20 + 12, six bars; one after another
    20 + 12, 8 + 20 + 6, 14 + 18: five."""
    assert lapped(30, 20, 2) == [20, 12]
    assert whole_from(3 * lapped(30, 20, 2), 20) == 6
    assert bars_for_runs([30.0, 30.0, 30.0], 20, 2) == 5


@given(
    runs=st.lists(st.floats(0.5, 90), min_size=1, max_size=40),
    stock=st.floats(8, 60),
    lap=st.floats(0.5, 2),
)
def test_bars_are_enough_and_never_more_than_line_by_line(runs, stock, lap):
    bars = bars_for_runs(runs, stock, lap)
    line_by_line = [piece for run in runs for piece in lapped(run, stock, lap)]
    assert max(line_by_line) <= stock + 1e-9
    assert math.ceil(math.fsum(line_by_line) / stock - 1e-6) <= bars <= len(line_by_line)


@pytest.mark.parametrize(
    ("prices", "slab", "edge"),
    [
        ({"bar": "$1 / ft"}, "1.00", "1.00"),
        ({"bar": "$1 / ft", "bar_4": "$2 / ft"}, "1.00", "2.00"),
        ({"bar_3": "$0.50 / ft", "bar_4": "$2 / ft"}, "0.50", "2.00"),
    ],
)
def test_bars_of_each_size_have_their_own_price_or_that_of_any(prices, slab, edge):
    made = job(
        reinforcement={"kind": "bars", "bar": "#3"},
        edge={"depth": "13 in", "bars": 2, "bar": "#4"},
        prices=prices,
    )
    found = {
        line.words[:2]: line for line in Book(made).quote.lines if line.taken.price.startswith("bar")
    }
    assert (found["#3"].price, found["#4"].price) == (f"${slab}", f"${edge}")
    assert all(round(line.number / 20, 9).is_integer() for line in found.values())


def test_a_price_that_is_missing_names_the_size():
    made = job(reinforcement={"kind": "bars", "bar": "#5"}, prices={"bar_4": "$1 / ft"})
    assert "bar_5" in Book(made).quote.lacking
