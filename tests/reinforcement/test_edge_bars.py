"""Bars along the edge: laps on the straight and around corners, what is bought, and when the code asks for them."""

import pytest
from structure import checks, job

from calcbook.book.chapters import run
from calcbook.reinforcement.edge_bars import edge_bar_length, runs

EDGE = {"depth": "13 in", "bars": 2}


def laid(stock, made=None):
    """(length, laps, corners) of the edge with laps of 2 ft."""
    sides, length, corners = runs(made or job(edge=EDGE), stock, 2.0)
    return length, sum(len(side) - 1 for side in sides), corners


@pytest.mark.worked("edge_bar_length")
def test_length_by_hand():
    """Two bars around 30 x 24 ft: 108 ft, 4 laps and 4 corners with two laps of 25 in. each: 2 x (108 + 12 x 25/12) = 266."""
    assert edge_bar_length(2, "108 ft", 4, 4, "25 in").m_as("foot") == pytest.approx(266)


def test_laps_on_the_straight_are_those_that_stock_bars_need():
    """2 ft laps. Of 20 ft: two bars a side, one lap each. Of 12 ft: 10 + 10 + 12 = 32 ft, three bars a side. Of 40 ft: one."""
    assert laid(20.0) == (108.0, 4, 4)
    assert laid(12.0) == (108.0, 8, 4)
    assert laid(40.0) == (108.0, 0, 4)


def test_a_side_without_an_edge_has_no_bars_and_no_corners():
    made = job(edge=EDGE, edges=[{"side": 1, "depth": "0 in"}])
    assert laid(20.0, made) == (78.0, 3, 2)


def test_the_lap_is_the_rule_s_and_the_takeoff_follows():
    """#4 of 60 ksi in 4,000 psi: 60,000 x 0.5/(25 x 63.2) = 19.0 in., class B 24.7, laid 25 in.; 2 x (108 + 12 x 25/12) ft.
    Cut from 20 ft: 8 whole, 4 give 12'-1" and 6'-1", 2 give the 8 bent bars of 4'-2"."""
    made = run("reinforcement", job(edge=EDGE))
    line = next(t for t in made.takeoff if "along the edge" in t.words)
    assert made.results["edge_bars"].m_as("foot") == pytest.approx(266)
    assert line.amount.m_as("foot") == pytest.approx(14 * 20) and line.price == "bar_4"
    assert (
        "laps 25 in." in line.words
        and "8 bent bars" in line.words
        and "14 bars of 20'-0\"" in line.words
    )


@pytest.mark.parametrize(("bars", "status"), [(0, "NOT OK"), (2, "OK")])
def test_in_earthquake_country_the_edge_has_bars(bars, status):
    made = job(edge=EDGE | {"bars": bars}, design={"seismic": "D1"})
    assert checks("reinforcement", made)["Bars along the thickened edge"].status == status


def test_without_bars_none_is_bought():
    made = run("reinforcement", job(edge={"depth": "13 in"}))
    assert not [t.words for t in made.takeoff if "along the edge" in t.words]
