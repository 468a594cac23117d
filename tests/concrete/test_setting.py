"""Setting: published times, the series behind the band, and laws."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.basis.formula import FormulaError, OutsideRange
from calcbook.basis.table import table
from calcbook.basis.units import Q
from calcbook.concrete.hydration import mix_of
from calcbook.concrete.maturity import maturity_rate
from calcbook.concrete.setting import (
    saw_window,
    set_band,
    set_degree,
    set_moment,
    set_time,
    setting_series,
)

MIX = mix_of("I", 0.5, Q(560, "lb/yd3"))
HOURS = np.arange(0, 72.01, 0.25)


def _held(fahrenheit):
    return np.full(len(HOURS), (fahrenheit + 459.67) / 1.8)


# set-time table (widely reprinted, from memory): 70 F 6 h, 60 F 8, 50 F 11, 40 F 14, 30 F 19
@pytest.mark.parametrize(
    "row", [r for r in table("set_time") if r["series"] == "bulletin"], ids=lambda r: r["temperature_F"]
)
def test_geometric_rule_reproduces_the_reprinted_table(row):
    assert set_time(Q(row["temperature_F"], "degF")).m == pytest.approx(row["hours"], abs=0.5)


def test_set_time_by_hand():
    assert set_time("50 degF").m == pytest.approx(6 * 16 / 9)
    assert set_time("60 degF", t_70="3 h", r=2).m == pytest.approx(6)
    assert set_time("70 degF", rule="arrhenius").m == pytest.approx(6, rel=1e-9)
    # NRMCA CIP 27: 20 F colder doubles, with the energy of that rule (43.2 kJ/mol)
    doubled = set_time("50 degF", rule="arrhenius", E_a="43214 J/mol", t_70="5 h")
    assert doubled.m == pytest.approx(10, rel=1e-3)


def test_set_at_20_f_does_not_occur_and_is_refused():
    for rule in ("table", "arrhenius"):
        with pytest.raises(FormulaError, match="T "):
            set_time("20 degF", rule=rule)
    with pytest.warns(OutsideRange):
        set_time("90 degF")


def test_set_degree_of_schindler():
    # Schindler 2004: 0.15 w/cm initial, 0.26 w/cm final, from memory
    assert set_degree(0.15, 0.5) == pytest.approx(0.075)
    assert [row["k"] for row in table("set_degree")] == [0.15, 0.26]


def test_series_rest_on_their_own_rows():
    series = {(s.name, s.event): s for s in setting_series(MIX)}
    survey = series["survey", "initial"]
    # ASCC PS 15: 2 3/4 h at 70 F, 4 1/4 h at 50 F, 1 3/4 h at 90 F
    assert survey.t_ref.m == 2.75
    # R ln(t1/t2)/(1/T1 - 1/T2) between the coldest and the warmest row: 50 and 90 F; 30 and 70 F
    assert survey.E_a.m == pytest.approx(28700, abs=60)
    assert series["bulletin", "final"].E_a.m == pytest.approx(34520, abs=60)
    # the hydration model gives initial and final set near 4.4 and 6.6 h at 70 F for w/cm 0.50
    assert series["hydration", "initial"].t_ref.m == pytest.approx(4.38, abs=0.05)
    assert series["hydration", "final"].t_ref.m == pytest.approx(6.58, abs=0.05)
    slow = {(s.name, s.event): s for s in setting_series(MIX, slowing=1.5)}
    assert all(slow[key].t_ref.m == pytest.approx(1.5 * series[key].t_ref.m) for key in series)


@pytest.mark.parametrize("fahrenheit", [50, 70, 90])
def test_survey_comes_back_at_its_own_temperatures(fahrenheit):
    # ASCC PS 15, mean of 50 contractors, within the half hour of a survey
    published = {50: 4.25, 70: 2.75, 90: 1.75}[fahrenheit]
    survey = next(s for s in setting_series(MIX) if s.name == "survey")
    assert set_moment(survey, HOURS, _held(fahrenheit)) == pytest.approx(published, abs=0.15)


def test_time_in_the_drum_counts_from_mixing_only():
    by_name = {(s.name, s.event): s for s in setting_series(MIX)}
    for key, less in ((("survey", "initial"), 0.0), (("bulletin", "final"), 0.5)):
        plain = set_moment(by_name[key], HOURS, _held(70))
        drummed = set_moment(by_name[key], HOURS, _held(70), in_drum=0.5)
        assert plain - drummed == pytest.approx(less, abs=1e-6)


def test_time_in_the_drum_runs_at_the_first_temperature_and_may_be_all_of_it():
    """Warm in the drum (70 F, where the clock runs as it is), colder on the ground from then on."""
    bulletin = next(s for s in setting_series(MIX) if s.name == "bulletin")
    cooled = np.where(HOURS < 0.1, _held(70), _held(50))
    less = set_moment(bulletin, HOURS, cooled) - set_moment(bulletin, HOURS, cooled, in_drum=1.0)
    slow = maturity_rate.bulk(T=_held(50)[-1], E_a=bulletin.E_a, T_ref=bulletin.T_ref)
    assert less == pytest.approx(1 / slow, rel=1e-3)
    assert set_moment(bulletin, HOURS, _held(70), in_drum=9.0) == 0


def test_band_lies_in_the_published_bounds():
    # NRMCA CIP 31: concrete sets within two to twelve hours; Concrete Construction: wait 2 to 8 h or more
    for fahrenheit in (50, 60, 70, 80):
        bands = set_band(MIX, HOURS, _held(fahrenheit))
        assert 2 <= bands["initial"].early <= bands["initial"].late <= bands["final"].late <= 14.5
        assert bands["initial"].early < bands["final"].early
        assert bands["initial"].late < bands["final"].late


@settings(max_examples=25, deadline=None)
@given(st.floats(45, 85), st.floats(1, 15))
def test_colder_is_slower_to_set(fahrenheit, colder):
    warm, cold = (
        set_band(MIX, HOURS, _held(fahrenheit)),
        set_band(MIX, HOURS, _held(fahrenheit - colder)),
    )
    for event in warm:
        assert cold[event].early > warm[event].early
        assert cold[event].late > warm[event].late


def test_frozen_slab_never_sets_in_time_and_draws_run_together():
    bands = set_band(MIX, HOURS[:41], _held(30)[:41])
    assert bands["final"].late == np.inf
    both = set_band(MIX, HOURS, np.array([_held(60), _held(70)]))
    assert both["initial"].early.shape == (2,)
    single = set_band(MIX, HOURS, _held(70))
    assert both["initial"].early[1] == pytest.approx(single["initial"].early)
    assert both["final"].late[1] == pytest.approx(single["final"].late)


def test_saw_windows():
    # ACI FAQ 915: conventional 4 to 12 h after finishing, early entry 1 to 4 h
    assert saw_window(8.0)[:2] == (12.0, 20.0)
    assert saw_window(8.0, "early entry")[:2] == (9.0, 12.0)
    assert len(saw_window(8.0)[2]) == 4  # CSA, Concrete Construction and ACI 325.12R beside it
    with pytest.raises(KeyError, match="laser"):
        saw_window(8.0, "laser")
