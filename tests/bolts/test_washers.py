"""Plates that are pulled up at one face: the stress across the grain, and when an engineer is asked."""

import pytest
from structure import job

from calcbook.bolts.sill import cross_grain_bending
from calcbook.book.chapters import run

TITLE = "Cross-grain bending of the sill plates"
WALL = {"name": "w", "side": 1, "dead": "0 plf", "shear": "0 plf", "shear_out": "0 plf"}


def asked(uplift, **bolts):
    found = run(
        "bolts", job(edge={"depth": "13 in"}, walls=[WALL | {"uplift": uplift}], bolts=bolts)
    ).checks
    return next((c for c in found if c.title == TITLE), None)


@pytest.mark.worked("cross_grain_bending")
def test_stress_by_hand():
    """240 plf is 20 lbf/in.; 1.25 in. of lever; a strip 1 in. wide of 1.5 in.: 6 x 20 x 1.25 / 2.25 = 66.7 psi."""
    found = cross_grain_bending("240 plf", "1.25 in", "1.5 in")
    assert found.m_as("psi") == pytest.approx(6 * 20 * 1.25 / 2.25)


def test_a_washer_far_from_the_sheathed_edge_asks_with_the_number():
    """Bolt 2 3/4 in. in, washer 3 in.: its edge is 1 1/4 in. from the face."""
    check = asked("240 plf")
    assert check.status == "NEEDS ENGINEER" and "66.7 psi" in check.remark


def test_a_wide_washer_or_no_uplift_answers_it():
    assert asked("240 plf", washer="4.5 in").status == "OK"
    assert asked("0 plf") is None
