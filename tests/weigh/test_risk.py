"""What spreads about the plan: by hand, and laws. The statistics are derived, not quoted."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.basis.formula import FormulaError
from calcbook.basis.units import Q
from calcbook.weigh.risk import (
    allowance_used,
    combined_spread,
    drawn_depth,
    further_loads,
    further_volume,
    idle_hours,
    lost_days,
    measured_volume,
    spread_factor,
    used_volume,
)


def yards(volume):
    return volume.m_as("cubic_yard")


# --- worked by hand -------------------------------------------------------------------------------


@pytest.mark.worked("spread_factor")
def test_factor_of_a_spread():
    assert spread_factor(0.1, 0) == 1
    assert spread_factor(0.1, 1) == pytest.approx(1.10517, abs=5e-6)  # e^0.1
    assert spread_factor(0.1, -2) == pytest.approx(0.81873, abs=5e-6)  # e^-0.2


@pytest.mark.worked("drawn_depth")
def test_depth_one_and_two_spreads_off():
    e, s = Q(0.125, "in"), Q(0.25, "in")
    assert drawn_depth(e, s, 1).m_as("inch") == pytest.approx(0.375)
    assert drawn_depth(e, s, -2).m_as("inch") == pytest.approx(-0.375)


@pytest.mark.worked("measured_volume")
def test_half_an_inch_over_a_thousand_square_feet():
    """1,000 ft2 x 1/2 in. = 41.667 ft3 = 1.5432 yd3 on 24 yd3, where 1/8 in. of 5/8 in. was expected."""
    V_m = measured_volume(Q(24, "yd3"), Q(1000, "ft2"), Q(0.625, "in"), Q(0.125, "in"))
    assert yards(V_m) == pytest.approx(25.5432, abs=5e-5)
    high = measured_volume(Q(24, "yd3"), Q(1000, "ft2"), Q(-0.375, "in"), Q(0.125, "in"))
    assert yards(high) == pytest.approx(22.4568, abs=5e-5)


def test_a_base_is_not_left_so_high_that_half_the_slab_is_missing():
    """Own arithmetic: the book's least share, a half, of 10 yd3; and 0.8 where that is given."""
    V_m = measured_volume(Q(10, "yd3"), Q(1000, "ft2"), Q(-4, "in"), Q(0, "in"))
    assert yards(V_m) == pytest.approx(5)
    assert yards(
        measured_volume(Q(10, "yd3"), Q(1000, "ft2"), Q(-4, "in"), Q(0, "in"), 0.8)
    ) == pytest.approx(8)


@pytest.mark.worked("allowance_used")
def test_share_of_the_allowance():
    assert allowance_used(0.6, 0.25, 1) == pytest.approx(0.85)
    assert allowance_used(0.6, 0.25, -4) == 0


@pytest.mark.worked("used_volume")
def test_concrete_used():
    """25 yd3 in place and 85 % of an allowance of 8 % of 24 yd3: 25 + 1.632."""
    assert yards(used_volume(Q(25, "yd3"), Q(24, "yd3"), 0.08, 0.85)) == pytest.approx(26.632)
    pumped = used_volume(Q(25, "yd3"), Q(24, "yd3"), 0.08, 0.85, Q(0.5, "yd3"))
    assert yards(pumped) == pytest.approx(27.132)


@pytest.mark.worked("further_loads", "further_volume")
def test_what_is_short_is_sold_in_steps_and_comes_on_whole_trucks():
    step = Q(0.25, "yd3")
    assert yards(further_volume(Q(26.632, "yd3"), Q(26, "yd3"), step)) == pytest.approx(0.75)
    assert yards(further_volume(Q(26, "yd3"), Q(26.5, "yd3"), step)) == 0
    assert further_loads(Q(0.75, "yd3"), Q(9, "yd3")) == 1
    assert further_loads(Q(9.25, "yd3"), Q(9, "yd3")) == 2
    assert further_loads(Q(0, "yd3"), Q(9, "yd3")) == 0


@pytest.mark.worked("lost_days")
def test_days_lost_by_share():
    """At 15 % a day, 15 % of jobs lose one or more, 2.25 % two or more, 0.34 % three."""
    found = [lost_days(0.15, q) for q in (1, 0.16, 0.14, 0.023, 0.022, 0.0035, 0.0033)]
    assert found == [0, 0, 1, 1, 2, 2, 3]


@pytest.mark.worked("idle_hours")
def test_hours_of_a_waiting_crew():
    assert idle_hours(2, 6, Q(1.5, "h")).m_as("hour") == 18


# --- laws -----------------------------------------------------------------------------------------


@settings(max_examples=50, deadline=None)
@given(p=st.floats(0.01, 0.9), days=st.integers(1, 12))
def test_the_odds_of_losing_so_many_days_are_those_of_every_one_of_them(p, days):
    share = p**days
    if share > 1e-9:
        assert lost_days(p, share * (1 - 1e-6)) == days
        assert lost_days(p, min(share * (1 + 1e-6), 1.0)) == days - 1


@settings(max_examples=50, deadline=None)
@given(used=st.floats(0, 60), ordered=st.floats(0, 60), step=st.sampled_from([0.25, 0.5, 1.0]))
def test_order_and_further_load_cover_what_is_used_with_less_than_a_step_to_spare(used, ordered, step):
    more = yards(further_volume(Q(used, "yd3"), Q(ordered, "yd3"), Q(step, "yd3")))
    short = max(used - ordered, 0)
    assert short - 1e-6 <= more < short + step
    assert more / step == pytest.approx(round(more / step))


@settings(max_examples=50, deadline=None)
@given(s=st.floats(0, 0.5), z=st.floats(-5, 5))
def test_a_factor_and_its_mirror_cancel(s, z):
    assert spread_factor(s, z) * spread_factor(s, -z) == pytest.approx(1)
    assert (spread_factor(s, z) >= 1) == (s * z >= 0) or s * abs(z) < 1e-15


def test_days_lost_come_as_often_as_they_should():
    q = 1 - np.random.default_rng(5).random(200_000)
    lost = lost_days.bulk(p=0.3, q=q)
    assert np.mean(lost >= 1) == pytest.approx(0.3, abs=0.005)
    assert np.mean(lost) == pytest.approx(0.3 / 0.7, abs=0.01)  # mean of a geometric distribution


def test_what_cannot_be_is_refused():
    with pytest.raises(FormulaError, match="odds that a planned day is lost"):
        lost_days(0.95, 0.5)
    with pytest.raises(FormulaError, match="spread"):
        spread_factor(-0.1, 1)


@pytest.mark.worked("combined_spread")
def test_spreads_of_two_things_together():
    """The triangle of sides 3, 4 and 5."""
    assert combined_spread(Q(300, "$"), Q(400, "$")).m == pytest.approx(500)
