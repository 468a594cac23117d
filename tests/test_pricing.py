"""Pricing: formulas of money by hand, cents rounded as printed, sums that add up."""

import re
from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from calcbook.calculation import Calculation
from calcbook.job import Job
from calcbook.pricing import (
    cents,
    direct_cost,
    dollars,
    line_cost,
    overhead,
    person_hours,
    sales_tax,
    selling_price,
)
from calcbook.quote import KINDS, Quote
from calcbook.units import Q, money_text

PRICES = {
    "concrete": "$168 / yd3", "stone": "$31 / ton", "wage": "$46 / h", "pump": "$850",
    "overhead": "12 %", "margin": "15 %", "tax": "5.5 %",
    "rental": [{"name": "plate compactor", "days": 2, "rate": "$80 / day"}],
    "extra": [{"name": "permit", "amount": 1, "price": "$120.50"}],
}  # fmt: skip


def job_with(prices=PRICES, system="us"):
    return Job(
        {
            "job": {"name": "Shed floor", "units": system},
            "slab": {"length": "20 ft", "width": "16 ft"},
            "prices": prices,
        }
    )


def small_calculation(concrete=5.25, stone=6.0, hours=4.57):
    calc = Calculation("small", "Small", "How much?")
    calc.take("Concrete", Q(concrete, "yd3"), "yd3", "concrete")
    calc.take("Pump", 1.0, "1", "pump", "equipment")
    calc.take("Stone", Q(stone, "ton"), "ton", "stone", note="loose")
    calc.work("Placing", Q(hours, "h"))
    return {"small": calc}


@pytest.fixture
def quote():
    return Quote(job_with(), small_calculation())


def money(text):
    return Decimal(re.sub(r"[$,]", "", text))


# --- check values: common practice, worked by hand --------------------------------------------


def test_a_line_costs_amount_times_price(quote):
    costs = {line.words: line.cost for line in quote.lines}
    assert costs == {
        "Concrete": Decimal("882.00"), "Stone": Decimal("186.00"), "Placing": Decimal("210.22"),
        "Pump": Decimal("850.00"), "plate compactor": Decimal("160.00"), "permit": Decimal("120.50"),
    }  # fmt: skip


def test_tax_overhead_and_margin_by_hand(quote):
    """882 + 186 = 1,068.00; tax 5.5 % = 58.74; labor 210.22; other 1,130.50; direct 2,467.46;
    overhead 12 % = 296.10 (296.0952); cost 2,763.56; price 2,763.56 / 0.85 = 3,251.25 (3,251.2471)."""
    shown = {r.name: r.step.result_text for r in quote.calculation.shown_results}
    assert {name: shown[name] for name in ("material", "tax", "labor", "equipment", "direct")} == {
        "material": "$1,068.00", "tax": "$58.74", "labor": "$210.22", "equipment": "$1,130.50", "direct": "$2,467.46",
    }  # fmt: skip
    assert {name: shown[name] for name in ("overhead", "cost", "total", "profit")} == {
        "overhead": "$296.10", "cost": "$2,763.56", "total": "$3,251.25", "profit": "$487.69",
    }  # fmt: skip


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


# --- laws of the whole quote --------------------------------------------------------------------


@settings(max_examples=40, deadline=None)
@given(
    concrete=st.floats(0.25, 500),
    stone=st.floats(0.5, 900),
    hours=st.floats(0.01, 400),
    price=st.integers(1, 10**6),
    system=st.sampled_from(["us", "si"]),
)
def test_every_line_is_its_shown_amount_times_its_shown_price_and_the_sums_add_up(
    concrete, stone, hours, price, system
):
    prices = PRICES | {"concrete": f"${price / 10_000} / yd3"}
    made = Quote(job_with(prices, system), small_calculation(concrete, stone, hours))
    for line in made.lines:
        exact = Decimal(line.amount.replace(",", "")) * money(line.price)
        assert line.cost == exact.quantize(Decimal("0.01"), ROUND_HALF_UP), line
    frame, shown = made.frame, made.calculation
    for kind, title in KINDS.items():
        column = [money(cost) for cost in frame.loc[frame["kind"] == title, "cost"]]
        assert sum(column) == money(shown.text(kind))
    total = {name: money(shown.text(name)) for name in shown.results}
    assert total["material"] + total["tax"] + total["labor"] + total["equipment"] == total["direct"]
    assert total["direct"] + total["overhead"] == total["cost"]
    assert total["cost"] + total["profit"] == total["total"]
    assert all(cents(value) == total[name] for name, value in shown.results.items())
