"""The normal distribution: one number and an array give the same, and the tails hold."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from calcbook.normal import score_of, share_below


# any table of the standard normal distribution
@pytest.mark.parametrize(
    ("z", "share"),
    [(0.0, 0.5), (1.0, 0.841345), (-1.0, 0.158655), (1.96, 0.975002), (-3.0, 0.00134990)],
)
def test_printed_shares(z, share):
    assert share_below(z) == pytest.approx(share, abs=5e-7)


@given(st.floats(-30, 30))
def test_a_number_and_an_array_agree_also_in_the_tails(z):
    assert share_below(z) == pytest.approx(share_below(np.array([z]))[0], rel=1e-10)


@given(st.floats(1e-12, 1 - 1e-9))
def test_the_score_of_a_share_is_its_inverse(p):
    assert share_below(score_of(p)) == pytest.approx(p, rel=1e-9)
    assert score_of(p) == pytest.approx(score_of(np.array([p]))[0], rel=1e-7, abs=1e-9)


def test_certainty_has_no_score():
    assert score_of(0.0) == -np.inf and score_of(1.0) == np.inf
