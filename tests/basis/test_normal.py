"""The normal distribution: as scipy gives it, also in the tails."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import ndtr, ndtri

from calcbook.basis.normal import score_of, share_below


# any table of the standard normal distribution
@pytest.mark.parametrize(
    ("z", "share"),
    [(0.0, 0.5), (1.0, 0.841345), (-1.0, 0.158655), (1.96, 0.975002), (-3.0, 0.00134990)],
)
def test_printed_shares(z, share):
    assert share_below(z) == pytest.approx(share, abs=5e-7)


@given(st.floats(-30, 30))
def test_shares_agree_with_scipy_also_in_the_tails(z):
    assert share_below(z) == pytest.approx(ndtr(z), rel=1e-10)
    assert share_below(np.array([[z, 0.0]]))[0, 0] == share_below(z)


@given(st.floats(1e-12, 1 - 1e-9))
def test_the_score_of_a_share_is_its_inverse(p):
    assert share_below(score_of(p)) == pytest.approx(p, rel=1e-9)
    assert score_of(p) == pytest.approx(ndtri(p), rel=1e-7, abs=1e-9)
    assert score_of(np.array([p]))[0] == score_of(p)


def test_certainty_has_no_score():
    assert score_of(0.0) == -np.inf and score_of(1.0) == np.inf
    assert np.isnan(score_of(1.5))
