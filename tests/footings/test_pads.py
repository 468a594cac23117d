"""All checks of a pad, and the search for the smallest one."""

import numpy as np
import pytest
from benchmark_pads import by_hand, by_the_book
from pad_values import checked, ratios


def test_checks_of_a_pad_by_hand():
    """30 x 30 x 9 in. under a 5 in. slab, 9 kip (12.8 factored): every line by pocket calculator."""
    soil, bending, across, punching, under, thick = ratios(30, 30, 9)
    assert soil == pytest.approx((9000 / 6.25 + 9 / 12 * 150 + 5 / 12 * 150) / 2000)
    q_u, h_e, x = 12800 / 900, 12.0, 12.25
    assert bending == pytest.approx(q_u * 12 * x**2 / 2 / (0.6 * 5 * 4000**0.5 * 12 * h_e**2 / 6))
    assert across == pytest.approx(q_u * 12 * 0.25 / (0.6 * 4 / 3 * 4000**0.5 * 12 * h_e))
    load, perimeter = q_u * (900 - 17.5**2), 4 * 17.5
    assert punching == pytest.approx(load / (0.6 * 8 / 3 * 4000**0.5 * perimeter * h_e))
    assert under == pytest.approx(12800 / (0.6 * 2 * 0.85 * 4000 * 30.25))
    assert thick == pytest.approx(8 / 14)


def test_arrays_of_pads_agree_with_the_sum_written_out():
    for book, hand in zip(by_the_book(), by_hand(), strict=True):
        np.testing.assert_allclose(book, hand, rtol=1e-9)


def test_questions_have_clauses_and_read_well():
    checks = checked(30, 30, 9)
    assert str(checks[0]) == "Bearing pressure under the pad: 1,615 psf of 2,000 psf, ratio 0.81"
    assert len({check.title for check in checks}) == 6
    assert all(check.clause.place for check in checks)
