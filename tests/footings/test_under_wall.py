"""Walls on strips of their own: soil where they press more than along their line. Derived by statics and areas."""

import pytest
from structure import checks, job

STRIP = {
    "name": "s", "place": "interior", "x1": "2 ft", "y1": "12 ft", "x2": "26 ft", "y2": "12 ft", "height": "9 ft", "dead": "600 plf",
    "live": "700 plf", "strip_width": "16 in", "strip_depth": "8 in",
}  # fmt: skip


def test_a_beam_on_a_strip_presses_where_it_stands():
    """Derived: 10,000 lbf spread over 2 x 13 + 3 in. of 16 in., 1,300 plf of line, 13 in. of concrete: 3,103.4 + 975 + 162.5 psf. At a
    joint it spreads to one side, 13 + 3 in."""
    wall = STRIP | {"points": [{"name": "beam", "at": "10 ft", "dead": "4000 lbf", "live": "6000 lbf"}]}
    title = "Bearing pressure under the beam that presses most, wall s"
    whole, parted = (
        checks("edges", job(walls=[wall], joints={"by_hand": True, "lines": [{"x": x}]}, soil={"bearing": "2000 psf"}))[title]
        for x in ("20 ft", "12 ft")
    )  # fmt: skip
    assert whole.values[0].m_as("psf") == pytest.approx(10000 / (29 * 16 / 144) + 975 + 162.5)
    assert parted.values[0].m_as("psf") == pytest.approx(10000 / (16 * 16 / 144) + 975 + 162.5)
    assert whole.status == "NOT OK"


def test_the_lee_end_of_a_shear_wall_presses_on_its_strip():
    """Derived: 100 plf on 24 ft, 9 ft high: 900 lbf at the strip's end, over 13 + 3 in."""
    made = job(walls=[STRIP | {"shear": "100 plf"}], joints={"by_hand": True})
    check = checks("edges", made)["Bearing pressure under the ends of its shear wall, wall s"]
    assert check.values[0].m_as("psf") == pytest.approx(900 / (16 * 16 / 144) + 975 + 162.5)
