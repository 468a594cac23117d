"""Odds of frost: laws of the draws, and time."""

import time

import numpy as np
import pytest

from calcbook.pour.weather_risk import Risk, frost_odds


@pytest.mark.worked("frost_odds")
def test_same_seed_same_answer_and_progress_is_told(demo):
    told = []
    one, two = frost_odds(demo, 150, 7, told.append), frost_odds(demo, 150, 7)
    assert np.array_equal(one.lowest, two.lowest)
    assert told == [100 / 150, 1.0]
    assert len(one.lowest) == 150


def test_colder_concrete_and_no_cover_raise_the_odds(demo):
    bare = demo.changed(
        {"pour.blanket": "none", "pour.concrete_temperature": "52 F", "pour.soil_temperature": "38 F"}
    )
    assert frost_odds(bare, 200).odds > frost_odds(demo, 200).odds
    assert frost_odds(bare, 200).lowest.mean() < frost_odds(demo, 200).lowest.mean()


def test_spread_is_real(demo):
    risk = frost_odds(demo, 200)
    assert 0.3 < risk.lowest.std() < 6
    assert risk.lowest_at(0.95) < np.median(risk.lowest)


def test_odds_by_hand():
    risk = Risk(np.array([270.0, 275.0, 280.0, 280.0]), np.array([30.0, 30.0, np.inf, 30.0]))
    assert risk.odds == 0.5
    assert "50 % of 4 draws" in str(risk)


def test_500_draws_within_ten_seconds(demo):
    frost_odds(demo, 10)
    begin = time.process_time()
    frost_odds(demo, 500)
    assert time.process_time() - begin < 10
