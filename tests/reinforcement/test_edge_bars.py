"""Bars along the edge: laps on the straight and around corners, what is bought, and when the code asks for them."""

import pytest
from structure import checks, job

from calcbook.book.chapters import run
from calcbook.reinforcement.edge_bars import edge_bar_length, runs

EDGE = {"depth": "13 in", "bars": 2}


@pytest.mark.worked("edge_bar_length")
def test_length_by_hand():
    """Two bars around 30 x 24 ft: 108 ft, 4 laps and 4 corners with two laps of 25 in. each: 2 x (108 + 12 x 25/12) = 266."""
    assert edge_bar_length(2, "108 ft", 4, 4, "25 in").m_as("foot") == pytest.approx(266)


def test_laps_on_the_straight_are_those_that_stock_bars_need():
    """2 ft laps. Of 20 ft: two bars a side, one lap each. Of 12 ft: 10 + 10 + 12 = 32 ft, three bars a side. Of 40 ft: one."""
    assert runs(job(edge=EDGE), 20.0, 2.0) == (108.0, 4, 4)
    assert runs(job(edge=EDGE), 12.0, 2.0) == (108.0, 8, 4)
    assert runs(job(edge=EDGE), 40.0, 2.0)[1] == 0


def test_a_side_without_an_edge_has_no_bars_and_no_corners():
    made = job(edge=EDGE, edges=[{"side": 1, "depth": "0 in"}])
    assert runs(made, 20.0, 2.0) == (78.0, 3, 2)


def test_the_lap_is_the_rule_s_and_the_takeoff_follows():
    """#4 of 60 ksi in 4,000 psi: 60,000 x 0.5/(25 x 63.2) = 19.0 in., class B 24.7, laid 25 in.; 2 x (108 + 12 x 25/12) ft."""
    made = run("reinforcement", job(edge=EDGE))
    line = next(t for t in made.takeoff if "along the edge" in t.words)
    assert line.amount.m_as("foot") == pytest.approx(266) and line.price == "bar"
    assert "laps 25 in." in line.words and "8 bent bars" in line.words


@pytest.mark.parametrize(("bars", "status"), [(0, "NOT OK"), (2, "OK")])
def test_in_earthquake_country_the_edge_has_bars(bars, status):
    made = job(edge=EDGE | {"bars": bars}, design={"seismic": "D1"})
    assert checks("reinforcement", made)["Bars along the thickened edge"].status == status


def test_without_bars_none_is_bought():
    made = run("reinforcement", job(edge={"depth": "13 in"}))
    assert not [t.words for t in made.takeoff if "along the edge" in t.words]
