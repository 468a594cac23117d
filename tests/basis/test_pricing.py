"""Pricing: formulas of money by hand, and cents rounded as they are printed."""

from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from calcbook.basis.pricing import (
    cents,
    direct_cost,
    dollars,
    line_cost,
    offered_price,
    overhead,
    person_hours,
    sales_tax,
    selling_price,
)
from calcbook.basis.showing import money_text
from calcbook.basis.units import Q

# --- check values: common practice, worked by hand --------------------------------------------


@pytest.mark.worked(
    "direct_cost", "line_cost", "overhead", "person_hours", "sales_tax", "selling_price"
)
def test_the_formulas_of_money_have_their_closed_forms():
    assert person_hours(320.0, Q(100, "1/h")).m_as("hour") == pytest.approx(3.2)
    assert sales_tax(Q(200, "$"), 0.055).m == pytest.approx(11.0)
    assert overhead(Q(200, "$"), 0.12).m == pytest.approx(24.0)
    assert direct_cost(Q(1, "$"), Q(20, "$"), Q(300, "$"), Q(4000, "$")).m == pytest.approx(4321.0)
    assert selling_price(Q(85, "$"), 0.15).m == pytest.approx(100.0)
    assert line_cost(3.0, Q(7, "$")).m == pytest.approx(21.0)


@given(st.floats(1, 1e6), st.floats(0, 0.9))
def test_the_margin_is_a_share_of_the_price_and_not_of_the_cost(cost, margin):
    price = selling_price(Q(cost, "$"), margin).m
    assert (price - cost) / price == pytest.approx(margin, abs=1e-9)


# --- rounding ---------------------------------------------------------------------------------


@given(st.integers(0, 10**7), st.integers(0, 10**7))
@example(145, 7000)  # 1.45 x 0.70 is 1.015 in cents, 1.01499... in floats
@example(5, 10000)
def test_half_a_cent_goes_upward_whatever_floats_do(hundredths, ten_thousandths):
    n, p = Decimal(hundredths) / 100, Decimal(ten_thousandths) / 10_000
    exact = (n * p).quantize(Decimal("0.01"), ROUND_HALF_UP)
    made = line_cost(float(n), Q(float(p), "$"))
    assert cents(made) == exact
    assert money_text(made.m) == f"${exact:,}"


@given(st.integers(0, 10**9))
def test_whole_cents_stay_what_they_are(amount):
    assert cents(dollars(Decimal(amount) / 100)) == Decimal(amount) / 100


@pytest.mark.worked("offered_price")
def test_a_price_is_offered_at_the_next_step_up():
    """Own arithmetic: $12,341.20 at a step of $10 is $12,350; a full step stays."""
    assert offered_price("$12341.20", "$10").m_as("dollar") == pytest.approx(12350)
    assert offered_price("$12350", "$10").m_as("dollar") == pytest.approx(12350)
