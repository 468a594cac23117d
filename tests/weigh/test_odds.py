"""Odds on the price: no spread is the quote, laws of the draws, drivers, pictures, words, time."""

import time

import numpy as np
import pytest
from benchmark_odds import by_hand, inputs
from drawn import texts
from hypothesis import given, settings
from hypothesis import strategies as st
from small_quote import PRICES

from calcbook.basis.pricing import cents, whole_cents
from calcbook.basis.units import Q
from calcbook.book.chapters import Book
from calcbook.job.file import Job, JobError
from calcbook.weigh import odds as odds_module
from calcbook.weigh.odds import SEED, Model, odds_of, simulate
from calcbook.weigh.odds_charts import cumulative_chart, distribution_chart, tornado_chart
from calcbook.weigh.odds_report import calculation, odds_text
from calcbook.weigh.scores import DRIVERS, Scores
from calcbook.weigh.steady import steady

STILL = {
    "base.depth_spread": "0 in", "risk.waste_spread": "0 %", "risk.crew_pace": "0 %", "risk.task_pace": "0 %",
    "risk.market": "0 %", "risk.item_price": "0 %", "risk.lost_day": "0 %", "risk.set_wait": "0 %",
}  # fmt: skip
ONE = {name: place for name, place in zip(DRIVERS, STILL, strict=True)}
ALL = {
    "forms": "$2 / ft",
    "spoil": "$14 / yd3",
    "retarder": "$215 / roll",
    "tape": "$30 / roll",
    "short_load_fee": "$140",
}
N = 20_000


def shed(**changes):
    """A small job with every price, quick to run."""
    prices = PRICES | ALL
    raw = {
        "slab": {"length": "20 ft", "width": "16 ft"},
        "prices": prices,
        "joints": {"isolate": False},
        "crew": {"waiting": "0 h"},  # there is no weather to tell it
    }
    job = Job(raw)
    return (
        job.changed({key.replace("__", "."): value for key, value in changes.items()})
        if changes
        else job
    )


def quote_of(job, changes=()):
    return Book(job.changed(dict(changes)) if changes else job).quote


@pytest.fixture(scope="module")
def quoted(demo):
    return quote_of(demo)


@pytest.fixture(scope="module")
def shed_book():
    return Book(shed(base__depth_spread="0.2 in", risk__waste_spread="2 %"))


@pytest.fixture(scope="module")
def odds(quoted):
    return odds_of(quoted, N)


def test_the_demos_prices_are_those_of_a_sum_written_out_by_hand(quoted):
    """Own arithmetic in plain numpy, of every line of the demo; both round to the cent on the way."""
    drawn = Model(quoted).drawn(Scores(quoted.job, 400, SEED))[0]
    np.testing.assert_allclose(drawn, by_hand(400, **inputs(quoted)), rtol=0, atol=0.0301)


# --- the quote is a draw without spread -----------------------------------------------------------


@pytest.mark.parametrize("name", ["demo", "demo_si"])
def test_without_any_spread_every_draw_is_the_quote_to_the_cent(name, request):
    quote = quote_of(request.getfixturevalue(name), STILL)
    found = odds_of(quote, 500)
    total, cost = (quote.calculation.results[key].m for key in ("total", "cost"))
    assert found.at(0.5) == total == found.quoted
    assert set(found.prices) == {total} and set(found.costs) == {cost}
    assert all(d.low == d.high == total and d.share == 0 for d in found.drivers)
    assert found.kept == 1 and found.lost == 0


@pytest.mark.parametrize(
    "changes",
    [
        {"slab.length": "31 ft"},
        {"slab.length": "26 ft 3 in", "slab.width": "22 ft"},
        {"pour.minimum_load": "9 yd3"},
        {"prices.tax": "8 %", "prices.margin": "22 %", "pour.pump": True},
        {"concrete.waste": "3 %", "base.extra_depth": "1 in"},
        {"job.units": "si", "slab.thickness": "125 mm"},
    ],
)
def test_the_same_for_other_jobs_short_loads_and_units(changes):
    quote = quote_of(shed(), STILL | changes)
    found = odds_of(quote, 10)
    assert set(found.prices) == {quote.calculation.results["total"].m}


@settings(max_examples=200, deadline=None)
@given(amount=st.floats(0, 1e6))
def test_many_amounts_are_rounded_to_the_cent_as_one_is(amount):
    assert float(whole_cents(np.array([amount]))[0]) == pytest.approx(
        float(cents(Q(amount, "$"))), abs=1e-9
    )


@pytest.mark.parametrize("name", [n for n in DRIVERS if n not in ("waste", "lost")])
def test_a_driver_alone_keeps_the_quote_in_the_middle(demo, name):
    """Those that spread to both sides. A sum of several slow and fast tasks lies a little above its
    parts' middle: labor of $2,500 x 0.15^2 / 2 x 1.12 / 0.85 = $37."""
    still = {place: value for place, value in STILL.items() if place != ONE[name]}
    quote = quote_of(demo, still)
    found = odds_of(quote, N)
    within = {"base": 150, "task": 50, "item": 30}.get(
        name, 8
    )  # the order moves by whole steps of sale
    assert found.at(0.5) == pytest.approx(found.quoted, abs=within)
    assert found.prices.std() > 1 and [d.name for d in found.drivers if d.share > 0] == [name]


@pytest.mark.parametrize("name", ["waste", "lost"])
def test_days_lost_and_further_loads_only_add(demo, name):
    still = {place: value for place, value in STILL.items() if place != ONE[name]}
    found = odds_of(quote_of(demo, still), N)
    assert found.prices.min() == found.quoted < found.prices.max()


# --- worked by hand -------------------------------------------------------------------------------


def alone(job, name, n=4000):
    quote = quote_of(job)
    model = Model(quote)
    return quote, model, model.drawn(Scores(job, n, 3).only(name))


def test_a_day_lost_by_hand():
    """A shed with 5 people: 2 h each at $46 = $460, a compactor a day longer $80; 540 x 1.12 / 0.85 = 711.53."""
    job = shed()
    quote, _, (prices, _) = alone(job, "lost")
    first = min(p for p in set(prices) if p > quote.calculation.results["total"].m)
    assert first - quote.calculation.results["total"].m == pytest.approx(540 * 1.12 / 0.85, abs=0.02)


def test_a_further_load_by_hand():
    """1/4 yd3 at $168 and the fee of $140, taxed at 5.5 %; 5 people wait an hour at $46, and 0.1 h
    more of placing at 2.5 yd3/h: (182 x 1.055 + 230 + 4.60) x 1.12 / 0.85 = 562.12."""
    job = shed(risk__waste_used="100 %", risk__waste_spread="30 %")
    quote, _, (prices, _) = alone(job, "waste")
    first = min(p for p in set(prices) if p > quote.calculation.results["total"].m + 1)
    by_hand = (182 * 1.055 + 230 + 4.60) * 1.12 / 0.85
    assert first - quote.calculation.results["total"].m == pytest.approx(by_hand, abs=0.02)


def test_a_slower_crew_by_hand():
    """At a pace of e^(0.1 z), all labor but waiting for set costs 1 / pace as much."""
    job = shed()
    quote, model, (prices, _) = alone(job, "crew", 50)
    z = Scores(job, 50, 3)("crew")
    labor = float(quote.subtotal("labor"))
    more = labor * (np.exp(-0.1 * z) - 1) * 1.12 / 0.85
    np.testing.assert_allclose(prices - model.quoted, more, atol=0.1)


def test_dearer_things_by_hand():
    job = shed()
    quote, model, (prices, _) = alone(job, "market", 50)
    z = Scores(job, 50, 3)("market")
    things = float(quote.subtotal("material")) * 1.055 + float(quote.subtotal("equipment"))
    np.testing.assert_allclose(
        prices - model.quoted, things * (np.exp(0.03 * z) - 1) * 1.12 / 0.85, atol=0.15
    )


def test_a_driver_is_told_from_its_10th_to_its_90th_draw_of_100():
    """The 10th and 90th of 100 of a normal distribution lie 1.2816 spreads off the middle."""
    quote = quote_of(shed())
    driver = next(d for d in odds_of(quote, N).drivers if d.name == "market")
    things = float(quote.subtotal("material")) * 1.055 + float(quote.subtotal("equipment"))
    for end, z in ((driver.low, -1.2816), (driver.high, 1.2816)):
        more = things * (np.exp(0.03 * z) - 1) * 1.12 / 0.85
        assert end - quote.calculation.results["total"].m == pytest.approx(more, rel=0.04)


# --- laws -----------------------------------------------------------------------------------------


def test_same_seed_same_answer_other_seed_nearly_so(demo, quoted, odds):
    """A law of draws; the widths follow from their number."""
    again, other = simulate(demo, N), odds_of(quoted, N, seed=2)
    assert np.array_equal(odds.prices, again.prices) and odds.drivers == again.drivers
    assert not np.array_equal(odds.prices, other.prices)
    assert other.at(0.5) == pytest.approx(odds.at(0.5), rel=0.003)
    assert other.at(0.95) == pytest.approx(odds.at(0.95), rel=0.006)


def test_odds_that_follow_others_are_those_from_nothing():
    """What is kept of one quote for the next is whole cents: the draws come out the same to the last digit."""
    entries = (
        {}, {"prices.concrete": "$181 / yd3"}, {"prices.wage": "$51 / h"}, {"risk.market": "9 %"},
        {"risk.item_price": "0 %"}, {"risk.task_pace": "30 %"}, {"slab.thickness": "6 in"}, {"pour.pump": True},
        {"prices.extra": [{"name": "Sign", "amount": 1, "price": "$90"}]},
    )  # fmt: skip
    quotes = [quote_of(shed(), changes) for changes in entries]
    following = [odds_of(quote, 300) for quote in quotes]
    assert len({one.at(0.5) for one in following}) == len(entries)
    for quote, found in zip(quotes, following, strict=True):
        steady.cache_clear()
        fresh = odds_of(quote, 300)
        assert np.array_equal(found.prices, fresh.prices)
        assert np.array_equal(found.costs, fresh.costs) and found.drivers == fresh.drivers


@settings(max_examples=12, deadline=None)
@given(name=st.sampled_from(list(DRIVERS)), low=st.floats(0, 0.2), more=st.floats(0.02, 0.2))
def test_a_wider_spread_never_lowers_p95(name, low, more):
    unit = " in" if name == "base" else ""
    p95 = [
        odds_of(quote_of(shed(), {ONE[name]: f"{spread}{unit}"}), 4000).at(0.95)
        for spread in (low, low + more)
    ]
    assert p95[1] >= p95[0] * (1 - 0.002)  # the same random numbers, but for steps of sale


@settings(max_examples=10, deadline=None)
@given(margin=st.floats(0, 0.4), confidence=st.floats(0.05, 0.95))
def test_what_is_quoted_for_a_confidence_is_kept_so_often(margin, confidence):
    found = odds_of(quote_of(shed(), {"prices.margin": margin}), 2000)
    price = found.at(confidence)
    assert np.mean(found.prices <= price) == pytest.approx(confidence, abs=0.02)
    np.testing.assert_allclose(found.costs, found.prices * (1 - margin), atol=0.01)


def test_quantiles_rise_and_the_margin_is_lost_less_often_than_shaved(odds):
    levels = [odds.at(p) for p in (0.1, 0.5, 0.8, 0.95)]
    assert levels == sorted(levels) and levels[0] < odds.quoted < levels[-1]
    assert 0 < odds.lost < 1 - odds.kept < 1


def test_shares_add_to_the_whole_and_the_strongest_is_first(odds):
    """By definition: shares of one variance."""
    shares = [d.share for d in odds.drivers]
    assert sum(shares) == pytest.approx(1) and shares == sorted(shares, reverse=True)
    assert {d.name for d in odds.drivers} == set(DRIVERS)
    assert all(d.low <= odds.quoted <= d.high for d in odds.drivers)


def test_the_spread_of_all_is_that_of_each_together(demo, quoted, odds):
    """The drivers are drawn apart, so their variances nearly add; the rest is interplay."""
    model, scores = Model(quoted), Scores(demo, N, 1)
    together = sum(np.var(model.drawn(scores.only(name))[0]) for name in DRIVERS)
    assert np.var(odds.prices) == pytest.approx(together, rel=0.06)


# --- what cannot be told --------------------------------------------------------------------------


def test_a_missing_price_is_named():
    raw = {"slab": {"length": "20 ft", "width": "16 ft"}, "prices": {"wage": "$46 / h"}}
    with pytest.raises(JobError, match="the odds need every price; missing: .*Concrete"):
        simulate(Job(raw))


def test_a_step_of_sale_too_fine_for_the_spread_is_refused():
    job = shed(concrete__order_step="0.0005 yd3", base__depth_spread="2 in")
    with pytest.raises(JobError, match="order_step is too small"):
        simulate(job, 5000)


def test_the_widest_spreads_the_file_allows_still_give_an_answer():
    wide = {
        "base.depth_spread": "4 in", "base.extra_depth": "4 in", "risk.waste_spread": 1, "risk.crew_pace": 0.5,
        "risk.task_pace": 0.5, "risk.market": 0.5, "risk.item_price": 0.5, "risk.lost_day": 0.9, "risk.set_wait": 0.5,
    }  # fmt: skip
    found = odds_of(quote_of(shed(), wide), 3000)
    assert np.all(np.isfinite(found.prices)) and found.at(0.95) > found.at(0.5) > 0


def test_spreads_are_no_assumptions_of_the_printout_but_stand_with_the_odds(demo):
    assert not [a for a in demo.assumptions() if a.place.startswith("risk.")]
    calc = calculation(Book(demo).quote, 500)
    assumed = {i.place: i.assumed for i in calc.inputs}
    assert {f"risk.{name}" for name in type(demo.risk).model_fields} <= set(assumed)


# --- shown ----------------------------------------------------------------------------------------


def test_the_calculation_tells_prices_drivers_and_one_draw_by_hand(demo):
    calc = calculation(Book(demo).quote, 2000)
    assert "Odds are as good as the spreads they rest on" in calc.cautions[-1]
    assert {"P10", "P50", "P80", "P95", "quote", "kept", "lost"} <= set(calc.results)
    assert calc.results["quote"] == calc.results["P80"]  # the default confidence
    names = [step.formula.name for step in calc.steps if hasattr(step, "formula")]
    assert names[:4] == ["drawn_depth", "measured_volume", "allowance_used", "used_volume"]
    assert "seed 1" in str(calc.steps[0].source)


def test_the_text_states_draws_seed_and_every_spread(quoted):
    text = odds_text(quoted, odds_of(quoted, 2000))
    assert "2,000 draws, seed 1" in text and "nineteen in twenty" in text and "risk.crew_pace" in text
    for words in DRIVERS.values():
        assert words in text


def test_pictures_say_in_words_what_they_mark(odds):
    words = {t.get_text() for f in (distribution_chart(odds), cumulative_chart(odds, 0.8), tornado_chart(odds))
             for t in [*texts(f), *f.axes[0].get_yticklabels()]}  # fmt: skip
    assert {"quoted", *DRIVERS.values()} <= words
    assert any(w.startswith("nineteen in twenty $") for w in words) and any(
        w.startswith("80 %: quote $") for w in words
    )


def test_pictures_of_odds_without_spread(demo):
    still = odds_of(quote_of(demo, STILL), 50)
    for figure in (distribution_chart(still), cumulative_chart(still, 0.8), tornado_chart(still)):
        figure.canvas.draw()


def test_100_000_draws_within_a_second(demo):
    quote = Book(demo).quote
    odds_of(quote, 1000)
    begin = time.process_time()
    assert odds_of(quote, 100_000).drivers  # which are drawn each alone
    assert time.process_time() - begin < 1


@pytest.mark.parametrize(
    ("place", "value"),
    [
        ("base.extra_depth", "0.5 in"), ("base.depth_spread", "0.1 in"), ("risk.waste_used", "1 %"),
        ("risk.waste_spread", "4 %"), ("concrete.order_step", "0.5 yd3"), ("concrete.waste", "9 %"),
        ("concrete.short_risk", "1 %"), ("pour.truck_capacity", "8 yd3"), ("pour.minimum_load", "6 yd3"),
        ("pour.line_loss", "1 yd3"), ("slab.thickness", "6 in"), ("prices.short_load_fee", "$300"),
        ("prices.concrete", "$150 / yd3"), ("prices.margin", "12 %"),
    ],
)  # fmt: skip
def test_an_order_that_was_drawn_before_is_not_used_for_another(shed_book, place, value):
    """Odds of a job that follows another are those of a fresh start."""
    other = Book(shed_book.job.changed({place: value}), shed_book).quote
    odds_module._ORDERS.clear()
    alone = odds_of(other, 500).prices
    odds_module._ORDERS.clear()
    before = odds_of(shed_book.quote, 500).prices
    assert np.array_equal(odds_of(other, 500).prices, alone)
    assert np.array_equal(odds_of(shed_book.quote, 500).prices, before)
