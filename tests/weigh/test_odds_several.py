"""Odds on the price of a job of several slabs: each order draws its own concrete."""

import numpy as np
import pytest
from several import APRON, GARAGE, job_of
from small_quote import PRICES

from calcbook.book.chapters import Book
from calcbook.weigh.odds import Model
from calcbook.weigh.odds_report import calculation
from calcbook.weigh.scores import Scores

MORE = {
    "forms": "$2 / ft",
    "spoil": "$14 / yd3",
    "retarder": "$215 / roll",
    "tape": "$30 / roll",
    "short_load_fee": "$140",
}
STILL = {
    "waste_spread": "0 %", "crew_pace": "0 %", "task_pace": "0 %", "market": "0 %", "item_price": "0 %",
    "lost_day": "0 %", "set_wait": "0 %",
}  # fmt: skip


def priced(*slabs, risk=STILL, spread="0 in", **sections):
    return job_of(
        *slabs, prices=PRICES | GARAGE["prices"] | MORE, risk=risk, crew={"waiting": "4 h"},
        base={"depth_spread": spread}, **sections,
    )  # fmt: skip


def test_without_any_spread_the_odds_are_the_quote():
    quote = Book(priced(APRON)).quote
    prices, _ = Model(quote).drawn(Scores(quote.job, 50, 1))
    assert np.ptp(prices) == 0
    assert np.atleast_1d(prices)[0] == pytest.approx(quote.calculation.results["total"].m, abs=0.02)


def test_the_base_of_all_slabs_moves_the_order():
    """1/2 in. of base under the whole area of the order, apron included."""
    one, two = (Book(priced(*slabs, spread="0.5 in", risk={})).quote for slabs in ((), (APRON,)))
    depth = [np.ptp(Model(q).orders[""].drawn(Scores(q.job, 400, 1))["order"]) for q in (one, two)]
    assert depth[1] >= depth[0] > 0
    assert calculation(two) is not None


def test_a_slab_of_another_order_draws_its_own_concrete_and_without_spread_is_the_quote():
    slabs = APRON | {"pour": {"start": "14:00"}}
    still = Book(priced(slabs)).quote
    prices, _ = Model(still).drawn(Scores(still.job, 50, 1))
    assert np.ptp(prices) == 0
    assert np.atleast_1d(prices)[0] == pytest.approx(still.calculation.results["total"].m, abs=0.02)
    model = Model(Book(priced(slabs, spread="0.5 in", risk={})).quote)
    drawn = [order.drawn(Scores(model.job, 400, 1))["order"] for order in model.orders.values()]
    assert list(model.orders) == ["", "apron"]
    assert np.ptp(drawn[0]) > 0 and np.mean(drawn[1]) < np.mean(drawn[0]) / 5


def test_two_allowances_for_waste_in_one_order_are_taken_each_for_its_own_concrete():
    """By hand: the garage at 8 %, the apron at 15 %; without spread the odds are the quote, and what goes in is the plan's
    concrete, half of each slab's own allowance, and nothing else."""
    apron = APRON | {"concrete": {"waste": "15 %"}}
    book = Book(priced(apron, risk=STILL | {"waste_used": "50 %"}))
    quote = book.quote
    model, score = Model(quote), Scores(quote.job, 50, 1)
    prices, _ = model.drawn(score)
    assert np.ptp(prices) == 0
    assert np.atleast_1d(prices)[0] == pytest.approx(quote.calculation.results["total"].m, abs=0.02)
    garage, other = book.volume.calculation.results["net"].m, book.others[0].volume.net.m
    assert model.orders[""].waste == pytest.approx(
        (0.08 * garage + 0.15 * other) / (garage + other), rel=1e-9
    )
    notes = [b.words for b in calculation(quote).blocks if hasattr(b, "words")]
    assert any("each slab's own, by its share of the concrete" in words for words in notes)
