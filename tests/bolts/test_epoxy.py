"""Adhesive for drilled bolts."""

import math

import pytest

from calcbook.basis.units import Q
from calcbook.bolts.epoxy import epoxy_cartridges, epoxy_volume


@pytest.mark.worked("epoxy_volume")
def test_volume_of_one_hole():
    """Own arithmetic: pi/4 (0.75^2 - 0.625^2) 6 in.3."""
    found = epoxy_volume("3/4 in", "5/8 in", "6 in", 1.0, 0.0).m_as("in**3")
    assert found == pytest.approx(math.pi / 4 * (0.75**2 - 0.625**2) * 6)
    assert found == pytest.approx(0.80995, abs=1e-5)


def test_holes_and_waste_multiply():
    """Own arithmetic: ten holes with the usual 30 % for waste are 13 without."""
    one = epoxy_volume("3/4 in", "5/8 in", "6 in", 1.0, 0.0)
    assert (epoxy_volume("3/4 in", "5/8 in", "6 in", 10.0) / one).m_as("") == pytest.approx(13)
    assert epoxy_volume("3/4 in", "5/8 in", "6 in", 0.0).magnitude == 0


@pytest.mark.worked("epoxy_cartridges")
def test_whole_cartridges():
    """22 fl oz are 39.7 in.3 (231 in.3 to the gallon of 128 fl oz)."""
    full = 22 * 231 / 128
    assert epoxy_cartridges(Q(full, "in3")) == 1
    assert epoxy_cartridges(Q(full * 1.001, "in3")) == 2
    assert epoxy_cartridges(Q(full, "in3"), Q(11, "fl_oz")) == 2
    assert epoxy_cartridges(Q(0, "in3")) == 0
