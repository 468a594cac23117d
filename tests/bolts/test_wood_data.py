"""Wood data against an open library's copy of the NDS tables (xc, module awc_nds, citing NDS-2018)."""

import pytest

from calcbook.basis.table import lookup
from calcbook.bolts.dowels import load_duration


@pytest.mark.published("xc awc_nds", "test_load_comb_duration_factor", "load_duration")
def test_load_durations_by_combination():
    """D 0.9; with L 1.0; with S 1.15; with W 1.6."""
    found = [load_duration(load) for load in ("permanent", "ten years", "snow", "wind")]
    assert found == [0.9, 1.0, 1.15, 1.6]


@pytest.mark.parametrize(
    ("species", "G", "F_cperp"),
    [
        ("Southern Pine", 0.55, 566),
        ("Douglas Fir-Larch", 0.50, 625),
        ("Hem-Fir", 0.43, 405),
        ("Spruce-Pine-Fir", 0.42, 425),
    ],
)
def test_lumber_of_the_plates(species, G, F_cperp):
    """xc awc_nds: tables 12.3.3A and 4A; Southern Pine there in metric units, 3.9 MPa. HUD guide 2017, Ex. 5.1: 405."""
    row = lookup("lumber", species=species)
    assert row["G"] == G and row["F_cperp_psi"] == pytest.approx(F_cperp, abs=1)
