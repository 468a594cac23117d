"""Labels of the drawings of bolts."""

import itertools

import pytest

from calcbook.bolts.drawing import spread_out


def test_labels_are_spread_without_losing_their_order():
    assert spread_out([0, 5, 9], 2) == [0, 5, 9]
    assert spread_out([0, 1, 9], 2) == pytest.approx([-0.5, 1.5, 9])
    found = spread_out([0, 0.1, 0.2, 5, 5.1], 2)
    assert all(b - a >= 2 - 1e-9 for a, b in itertools.pairwise(found))
    assert sum(found) == pytest.approx(10.4)
