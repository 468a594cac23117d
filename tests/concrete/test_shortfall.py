"""Odds of coming up short: against the normal table, against draws, and as each other's inverse."""

import numpy as np
import pytest
from drawn import words
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.basis.units import Q
from calcbook.concrete.shortfall import (
    Phi,
    left_in_pump,
    odds_chart,
    odds_inputs,
    order_for_risk,
    probit,
    short_odds,
)
from calcbook.job.file import Job

# standard normal table: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.1 (from memory)
TABLE = [(0.0, 0.5), (1.0, 0.84134), (1.64, 0.94950), (1.65, 0.95053), (1.96, 0.97500), (2.33, 0.99010), (3.0, 0.99865)]  # fmt: skip


@pytest.mark.parametrize(("z", "p"), TABLE)
def test_the_normal_table(z, p):
    assert Phi(z) == pytest.approx(p, abs=0.5e-5)
    assert Phi(-z) == pytest.approx(1 - p, abs=0.5e-5)
    assert probit(p) == pytest.approx(z, abs=0.002)


@pytest.mark.worked("order_for_risk", "short_odds")
def test_odds_by_hand():
    """1,000 ft2; 1/8 in. more depth takes 10.4 ft3 = 0.386 yd3, and so does one spread."""
    base = {"V": "20 yd3", "A": "1000 ft2", "e": "0.125 in", "s": "0.125 in"}
    one = 1000 * 0.125 / 12 / 27
    assert short_odds(V_o=Q(20 + one, "yd3"), **base).m == pytest.approx(50)
    assert short_odds(V_o=Q(20 + 2 * one, "yd3"), **base).m == pytest.approx(15.866, abs=0.0005)
    assert short_odds(V_o=Q(20, "yd3"), **base).m == pytest.approx(84.134, abs=0.0005)
    assert order_for_risk(**base, risk=0.05).m_as("cubic_yard") == pytest.approx(
        20 + one * (1 + 1.645), abs=0.0002
    )


def test_odds_against_draws():
    """A hundred thousand slabs poured at random, none of them through the formula."""
    rng = np.random.default_rng(7)
    depth = rng.normal(0.2, 0.3, 100_000) / 12
    short = np.mean(20 * 27 + 800 * depth > 20.75 * 27)
    found = short_odds("20.75 yd3", "20 yd3", "800 ft2", "0.2 in", "0.3 in").m_as("")
    assert found == pytest.approx(short, abs=4 * np.sqrt(short * (1 - short) / 1e5))


@settings(max_examples=50, deadline=None)
@given(
    st.floats(1, 200),
    st.floats(50, 10000),
    st.floats(-1, 2),
    st.floats(0.01, 2),
    st.floats(0.001, 0.49),
)
def test_the_order_for_a_risk_has_that_risk(V, A, e, s, risk):
    base = {"V": Q(V, "yd3"), "A": Q(A, "ft2"), "e": Q(e, "in"), "s": Q(s, "in")}
    order = order_for_risk(**base, risk=risk)
    if order.m <= 0:
        return
    assert short_odds(V_o=order, **base).m_as("") == pytest.approx(risk, rel=1e-6)
    assert order_for_risk(**base, risk=risk / 2) > order


@settings(max_examples=30, deadline=None)
@given(st.floats(18, 25), st.floats(0.01, 2))
def test_more_concrete_is_never_more_risk(order, more):
    base = {"V": "20 yd3", "A": "900 ft2", "e": "0.1 in", "s": "0.2 in"}
    assert short_odds(V_o=Q(order + more, "yd3"), **base) <= short_odds(V_o=Q(order, "yd3"), **base)


def test_many_orders_at_once_agree_with_one():
    """A law: in bulk as one by one."""
    base = {"V": Q(20, "yd3"), "A": Q(900, "ft2"), "e": Q(0.1, "in"), "s": Q(0.2, "in")}
    orders = np.array([20.0, 20.5, 21.0])
    one_by_one = [short_odds(V_o=Q(v, "yd3"), **base).m for v in orders]
    assert short_odds.bulk(V_o=orders, **base) == pytest.approx(one_by_one)
    assert order_for_risk.bulk(**base, risk=np.array([0.05])) == pytest.approx(
        order_for_risk(**base, risk=0.05).m
    )


def test_metric_inputs_give_the_same_odds():
    """A law: the same order in other units; the inputs are rounded to six digits."""
    us = short_odds("20.5 yd3", "20 yd3", "900 ft2", "0.1 in", "0.2 in").m
    si = short_odds("15.6735 m3", "15.2911 m3", "83.6127 m2", "2.54 mm", "5.08 mm").m
    assert si == pytest.approx(us, rel=1e-3)


def test_the_chart_shows_the_order_and_what_is_accepted(demo):
    concrete = demo.concrete
    figure = odds_chart(
        odds_inputs(demo, Q(22.4, "yd3")),
        Q(24.25, "yd3"),
        concrete.order_step,
        concrete.short_risk,
        "us",
    )
    said = " ".join(words(figure))
    assert "ordered: 24.25 yd³" in said
    assert "accepted: 5 %" in said
    x, y = figure.axes[0].lines[0].get_data()
    assert min(x) <= 22.5 < 24.25 < max(x)
    assert np.diff(x) == pytest.approx(np.full(len(x) - 1, 0.25))
    assert all(np.diff(y) <= 0)
    inputs = {
        "V": Q(22.4, "yd3"),
        "A": demo.plan.area,
        "e": demo.base.extra_depth,
        "s": demo.base.depth_spread,
        "V_l": demo.pour.line_loss,  # the demo is placed by pump
    }
    assert y[2] == pytest.approx(short_odds(V_o=Q(x[2], "yd3"), **inputs).m)
    assert figure.axes[0].lines[1].get_ydata()[0] == pytest.approx(5)


def test_what_stays_in_the_pump_is_as_if_it_had_not_come(demo):
    """24.25 yd3 with half a yard left in the pump are 23.75 yd3 by chute, and the order rises by the half."""
    base = {"V": Q(22.4, "yd3"), "A": Q(1000, "ft2"), "e": Q(0.25, "in"), "s": Q(0.2, "in")}
    left = Q(0.5, "yd3")
    assert short_odds(Q(24.25, "yd3"), **base, V_l=left).m == pytest.approx(
        short_odds(Q(23.75, "yd3"), **base).m
    )
    more = order_for_risk(**base, risk=0.05, V_l=left) - order_for_risk(**base, risk=0.05)
    assert more.m_as("cubic_yard") == pytest.approx(0.5)
    assert left_in_pump(demo).m == 0.5
    assert left_in_pump(demo.changed({"pour.pump": False})).m == 0


def test_the_default_loss_is_a_hopper_and_a_hundred_feet_of_line():
    """0.3 yd3 in the hopper (common practice); 100 ft of 3 in. line hold pi/4 d2 L = 0.182 yd3."""
    line = np.pi / 4 * (3 / 12) ** 2 * 100 / 27
    assert line == pytest.approx(0.18, abs=0.005)
    assert left_in_pump(
        Job({"slab": {"length": "20 ft", "width": "20 ft"}, "pour": {"pump": True}})
    ).m == pytest.approx(0.3 + line, abs=0.02)
