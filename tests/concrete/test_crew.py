"""The pour on a clock: trucks, set and crew."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.concrete.crew import (
    Side,
    finishing_hours,
    finishing_labor,
    placing_labor,
    placing_rate,
    pour_plan,
    truck_clock,
)


@pytest.mark.worked("placing_rate")
def test_the_slowest_link_sets_the_rate():
    named = dict(Q_d="25 yd3/h", n=6.0, q_p="2.5 yd3/h", R_s="1500 ft2/h", t="5 in")
    assert placing_rate(**named).m == pytest.approx(15)
    assert placing_rate(**{**named, "Q_d": "12 yd3/h"}).m == pytest.approx(12)
    assert placing_rate(**{**named, "R_s": "600 ft2/h"}).m == pytest.approx(600 * 5 / 324)


@pytest.mark.published("Estimating in Building Construction", "Figure 10.30")
def test_finishing():
    # Estimating in Building Construction, Figure 10.30: 1,000 ft2 by one machine is 10 labor-hours
    assert finishing_hours("1000 ft2", 1.0, "100 ft2/h", 0.0, "40 ft2/h").m == pytest.approx(10)
    assert finishing_hours("1000 ft2", 1.0, "100 ft2/h", 2.0, "50 ft2/h").m == pytest.approx(5)


def test_trucks_on_the_clock_by_hand():
    """Own arithmetic: 9 yd3 at 12 yd3/h take 0.75 h, and a truck waits for the one before."""
    trucks = truck_clock([9, 9, 3], spacing=0.5, rate=12, haul=0.4)
    assert [t.arrives for t in trucks] == [0, 0.5, 1.0]
    assert [t.begins for t in trucks] == [0, 0.75, 1.5]
    assert [t.ends for t in trucks] == [0.75, 1.5, 1.75]
    assert [t.waits for t in trucks] == [0, 0.25, 0.5]
    assert [t.age for t in trucks] == pytest.approx([1.15, 1.4, 1.15])
    assert [t.number for t in trucks] == [1, 2, 3]
    apart = truck_clock([9, 9], spacing=2, rate=12, haul=0.4)
    assert apart[1].begins == 2 and apart[1].waits == 0


def _plan(rate=250.0, sides=None, passes=3, finishers=3, power=True):
    trucks = truck_clock([9, 9], spacing=0.5, rate=18, haul=0.5)  # placed in 1 h
    sides = sides or [Side("sun", 1000.0, (3.0, 5.0), (7.0, 10.0))]
    return pour_plan(trucks, sides, lambda area: area / rate, passes, 6, finishers, power)


@pytest.mark.worked("pour_plan", "truck_clock")
def test_plan_by_hand():
    plan = _plan()
    assert plan.placed == pytest.approx(1)
    assert plan.work == pytest.approx(4)
    assert plan.window == pytest.approx(4 + 1)  # the shorter of 7-3 and 10-5, and an hour of placing
    assert plan.keeps_up
    # early: from 3 h, ends when the last strip nears final set: 1 + 7; late: 5 to 1 + 10
    assert plan.finished == pytest.approx((8, 11))
    assert [t.name for t in plan.tasks] == [
        "placing and strike-off",
        "floating",
        "first troweling",
        "second troweling",
    ]
    floating, first = plan.tasks[1:3]
    assert floating.early == pytest.approx((3, 3 + 5 / 3))
    assert floating.late == pytest.approx((5, 7))
    assert first.early == pytest.approx((3 + 5 / 3, 3 + 10 / 3))
    assert plan.tasks[-1].early[1] == pytest.approx(8)
    assert plan.person_hours == pytest.approx(
        {"placing": 6, "waiting": 2 * 3, "finishing": (11 - 3) * 3}
    )
    assert plan.total_hours == pytest.approx(36)


def test_a_crew_too_slow_is_seen():
    """Own arithmetic on the plan above."""
    plan = _plan(rate=100.0)
    assert plan.work == pytest.approx(10)
    assert not plan.keeps_up
    assert plan.finished == pytest.approx((13, 15))


def test_second_side_waits_for_the_crew():
    sides = [Side("sun", 700.0, (3.0, 5.0), (7.0, 10.0)), Side("shade", 300.0, (3.5, 6.5), (8.0, 12.0))]
    plan = _plan(sides=sides)
    shade = [t for t in plan.tasks if t.side == "shade"]
    assert shade[0].early[0] == pytest.approx(3 + 700 / 250)  # after the sunny side's work
    assert shade[-1].early[1] == pytest.approx(1 + 8)
    assert plan.finished == pytest.approx((9, 13))
    assert plan.window == pytest.approx(1 + 4)


def test_set_before_placing_ends_means_no_waiting():
    """Own arithmetic: 4.0 less 0.5 h, and the hour of placing."""
    plan = _plan(sides=[Side("sun", 1000.0, (0.5, 0.8), (4.0, 5.0))])
    assert plan.person_hours["waiting"] == 0
    assert plan.window == pytest.approx(1 + 3.5)


def test_overlapping_bands_leave_no_window():
    """Own arithmetic: nothing is left but the hour of placing."""
    plan = _plan(sides=[Side("sun", 1000.0, (3.0, 8.0), (7.0, 7.5))])
    assert plan.window == pytest.approx(1)


@settings(max_examples=50, deadline=None)
@given(st.floats(50, 500), st.floats(1.01, 4))
def test_fewer_machines_never_finish_sooner(rate, factor):
    fast, slow = _plan(rate=rate * factor), _plan(rate=rate)
    assert all(s >= f - 1e-9 for f, s in zip(fast.finished, slow.finished, strict=True))
    assert slow.work > fast.work


@settings(max_examples=50, deadline=None)
@given(st.lists(st.floats(1, 10), min_size=1, max_size=6), st.floats(0.1, 2), st.floats(5, 40))
def test_trucks_never_overlap_and_all_is_placed(loads, spacing, rate):
    trucks = truck_clock(loads, spacing, rate, 0.5)
    assert sum(t.ends - t.begins for t in trucks) == pytest.approx(sum(loads) / rate)
    assert all(b.begins >= a.ends - 1e-12 for a, b in zip(trucks, trucks[1:], strict=False))
    assert all(t.begins >= t.arrives for t in trucks)


@pytest.mark.worked("finishing_labor", "placing_labor")
def test_person_hours_by_hand():
    """26 yd3 at 15 yd3/h by 6 people: 1.733 h of 6; 4.5 h of 4 people."""
    assert placing_labor(V="26 yd3", Q_p="15 yd3/h", n=6).m == pytest.approx(10.4)
    assert placing_labor(V="0 yd3", Q_p="15 yd3/h", n=6).m == 0
    assert finishing_labor(t_f="4.5 h", n_f=4).m == pytest.approx(18)
