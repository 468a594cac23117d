"""Truck loads: how many, the last one, and what is done when it is too small."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.basis.units import Q
from calcbook.concrete.trucks import TruckPlan, last_load, short_load, truck_loads, truck_plan


def yards(value):
    return Q(value, "yd3")


@pytest.mark.parametrize(("V", "loads"), [(9, 1), (9.25, 2), (18, 2), (18.25, 3), (24.25, 3), (0.5, 1)])
def test_number_of_loads(V, loads):
    assert truck_loads(yards(V), yards(9)) == loads


@pytest.mark.parametrize(
    ("V", "last", "short"), [(24.25, 6.25, 0), (20.25, 2.25, 1.75), (18, 9, 0), (2, 2, 2), (22, 4, 0)]
)
def test_the_last_load_and_its_shortage(V, last, short):
    """Own arithmetic: what is left after full loads of 9 yd3, and what it lacks to 4 yd3."""
    assert last_load(yards(V), yards(9), yards(4))[1].m == pytest.approx(last)
    assert short_load(yards(V), yards(9), yards(4)).m == pytest.approx(short, abs=1e-12)


def plan(V, capacity=9, minimum=4, **more):
    return truck_plan(yards(V), yards(capacity), yards(minimum), **more)


def test_full_trucks_and_a_fair_last_one():
    """Own arithmetic: 9 + 9 + 6.25."""
    found = plan(24.25)
    assert found.loads == (9, 9, 6.25)
    assert found.remedy == ""
    assert found.text() == "9 + 9 + 6.25 yd³"
    assert found.total.m == pytest.approx(24.25)
    assert "every load is at or above" in str(found)


def test_a_small_last_load_is_split_evenly():
    found = plan(20.25)
    assert found.loads == (6.75, 6.75, 6.75)
    assert found.remedy == "split"
    assert "2.25 yd³" in found.words
    assert "3 trucks" in found.words
    assert plan(18.25).loads == (6.25, 6, 6)
    assert plan(9.25).loads == (4.75, 4.5)


def test_what_is_no_whole_step_goes_with_the_first_truck():
    """Own arithmetic: equal loads in whole steps, the rest on the first."""
    assert plan(27.1).loads == pytest.approx((6.85, 6.75, 6.75, 6.75))
    assert plan(9.3, step=yards(1)).loads == pytest.approx((5.3, 4))


def test_a_small_order_pays_the_fee_or_is_raised():
    assert plan(2).remedy == "fee"  # no prices known
    assert plan(2).loads == (2,)
    prices = {"price": Q(168, "$/yd3"), "fee": Q(140, "$")}
    assert plan(2, **prices).remedy == "fee"  # 2 yd3 more would cost $336
    raised = plan(3.5, **prices)  # 1/2 yd3 more costs $84, less than $140
    assert raised.remedy == "raise"
    assert raised.loads == (4,)
    assert "$84.00" in raised.words
    assert "$140.00" in raised.words
    assert (
        plan(3.5, price=Q(280, "$/yd3"), fee=Q(140, "$")).remedy == "fee"
    )  # equal cost: no extra concrete


def test_where_an_even_split_is_too_small_the_last_load_is_raised():
    found = plan(10, minimum=6, price=Q(100, "$/yd3"), fee=Q(600, "$"))
    assert found.remedy == "raise"
    assert found.loads == (9, 6)
    assert plan(10, minimum=6, price=Q(100, "$/yd3"), fee=Q(100, "$")).loads == (9, 1)


def test_words_are_metric_in_an_si_job():
    assert "1.720 m³" in plan(20.25, system="si").words
    assert plan(20.25).text("si") == "5.16 + 5.16 + 5.16 m³"


def test_a_smallest_load_beyond_the_truck_is_refused():
    with pytest.raises(
        ValueError, match=r"smallest load \(10 yd³\) is more than a truck carries \(9 yd³\)"
    ):
        plan(20, minimum=10)
    assert plan(20, minimum=9, capacity=9).loads[0] == 9


steps = st.integers(1, 400).map(lambda n: n / 4)


@pytest.mark.worked("short_load", "truck_loads")
@settings(max_examples=50, deadline=None)
@given(steps, st.floats(6, 12), st.floats(0, 6), st.booleans())
def test_loads_carry_the_order_within_the_rules(V, capacity, minimum, priced):
    prices = {"price": Q(150, "$/yd3"), "fee": Q(200, "$")} if priced else {}
    found = plan(V, capacity, minimum, **prices)
    assert isinstance(found, TruckPlan)
    assert len(found.loads) == truck_loads(yards(V), yards(capacity))
    assert max(found.loads) <= capacity + 1e-9
    assert sum(found.loads) >= V - 1e-9
    if found.remedy != "raise":
        assert sum(found.loads) == pytest.approx(V)
    if found.remedy != "fee":
        assert min(found.loads) >= minimum - 1e-9
    else:
        assert min(found.loads) < minimum
    if found.remedy == "raise":
        assert sum(found.loads) - V == pytest.approx(
            short_load(yards(V), yards(capacity), yards(minimum)).m
        )


def test_an_even_split_never_overloads_the_first_truck():
    # nine trucks of 4.5 yd3 for 36.9: whole yards leave 4.9 for the first, so no split
    found = plan(36.9, capacity=4.5, step=yards(1))
    assert found.remedy == "fee"
    assert max(found.loads) == pytest.approx(4.5)
