"""Rounding up for orders: never below the need, never a step too far for noise."""

import math

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from calcbook.basis.rounding import ceil
from calcbook.basis.units import Q, ureg


def test_noise_does_not_cost_a_step():
    assert ceil(3 * 0.1 / 0.1) == 3
    assert ceil(0.7 * 10 + 1e-15) == 7
    assert ceil(1e6 + 1e-4) == 1_000_000
    assert ceil(0.0) == 0


def test_real_excess_does():
    assert ceil(3.000001) == 4
    assert ceil(2.5) == 3
    assert ceil(-2.5) == -2


def test_quantities_and_arrays_stay_what_they_are():
    assert isinstance(ceil(Q(10, "ft") / Q(36, "in")), ureg.Quantity)
    assert ceil(Q(10, "ft") / Q(36, "in")).m == 4
    assert ceil(np.array([0.2, 1.0, 1.5])).tolist() == [1, 1, 2]


@given(st.floats(-1e6, 1e6))
def test_the_result_is_whole_and_next_to_the_need(x):
    found = ceil(x)
    slack = 2e-9 * max(1, abs(x))
    assert found == math.floor(found)
    assert x - slack <= found < x + 1
