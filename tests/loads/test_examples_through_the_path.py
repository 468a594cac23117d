"""Examples through the whole path, from the job file to the check: a footing, an anchorage, the end of a shear wall.

The footing and the anchorage are published and were read (in a reprint, and in another library's tests). The worked
examples of FEMA P-55, of HUD's Residential Structural Design Guide and of the American Wood Council were looked for and not
found in full, so none of their numbers stands here; the end of a shear wall rests on a formula from memory.
"""

from types import SimpleNamespace

import pytest
from structure import checks, job

from calcbook.bolts.capacity import unshown
from calcbook.bolts.hold_downs import Anchor, modes
from calcbook.loads.ends import shear_ends
from calcbook.loads.from_job import load_path

EDGE = {"depth": "20 in", "width": "16 in", "slope": 0.0}


@pytest.mark.published("McCormac", "Example 12.10", "pad_moment", "factored_pressure", "combined_load")
def test_a_plain_footing_under_a_wall():
    """McCormac Example 12.10 (read in a reprint): 12 and 6 kip/ft on a wall of 12 in., 5 ft 6 in. of footing: 11.04 ft-kip."""
    wall = {
        "name": "w", "place": "interior", "x1": "5 ft", "y1": "12 ft", "x2": "25 ft", "y2": "12 ft", "plate_width": "12 in",
        "dead": "12000 plf", "live": "6000 plf", "strip_width": "66 in", "strip_depth": "19 in",
    }  # fmt: skip
    found = checks("edges", job(walls=[wall], soil={"bearing": "4000 psf"}))
    M_u, M_n = found["Bending moment of the strip, wall w"].values
    assert M_u.m_as("kip*foot") == pytest.approx(11.04, abs=0.01)
    assert found["Bending moment of the strip, wall w"].status == "OK" and M_n > M_u
    q = found["Bearing pressure under wall w"].values[0]
    own = 150 * (19 + 5) / 12
    assert q.m_as("psf") - own == pytest.approx(18000 / 5.5)


@pytest.mark.published("ACI 349.2R-07", "Example A3", "basic_breakout")
def test_an_anchor_of_a_hold_down_in_its_cone():
    """ACI 349.2R-07 Example A3 (read in another library's tests): 6.63 in. deep in 4,000 psi, 25,912.6 lb of cone; wind at
    service level lets 0.6 of 0.7 of it be asked. The pull follows from the wall: 500 plf of shear at 9 ft on 8 ft."""
    piece = {"start": "10 ft", "length": "8 ft", "hold_down": "9000 lbf", "anchor": "3/4", "anchor_depth": "6.63 in",
             "anchor_edge": "12 in"}  # fmt: skip
    wall = {
        "name": "w", "side": 1, "height": "9 ft", "dead": "0 plf", "uplift": "0 plf", "shear_out": "0 plf",
        "shear": f"{500 * 8 / 30!r} plf", "braced": [piece],
    }  # fmt: skip
    made = job(walls=[wall], edge=EDGE)
    brought = load_path(made).walls[0]
    (end,) = shear_ends(brought.model)
    alone = SimpleNamespace(  # without the sill bolts, which would share the cone
        sill=made.walls[0], line=SimpleNamespace(before=0.0, length=30.0, after=0.0), h_ef=made.walls[0].braced[0].anchor_depth,
        plate=([], []), forces={"uplift": []},
    )  # fmt: skip
    found = modes(unshown, made, Anchor(alone, end, made.walls[0].braced[0], 10 + 1 / 3, ()))
    T, held = next((pull, held) for name, pull, held in found if name == "breakout")
    assert T == pytest.approx(500 * 8 * 9 / (8 - 1 / 3))
    assert held == pytest.approx(0.42 * 25912.6, rel=1e-4)


@pytest.mark.remembered(
    "SDPWS from memory", "T = C = v h at the end of a shear wall", "hold_down_force"
)
def test_the_end_of_a_shear_wall_without_dead_load():
    """SDPWS (from memory): tension and compression of a full-height segment are v h: 300 plf at 9 ft, 2,700 lbf."""
    wall = {
        "name": "w", "side": 1, "height": "9 ft", "dead": "0 plf", "uplift": "0 plf", "shear": f"{300 * 10 / 30!r} plf",
        "braced": [{"start": "0 ft", "length": "10 ft"}],
    }  # fmt: skip
    check = checks("loads", job(walls=[wall], edge=EDGE))["Hold-down force at the ends of shear wall w"]
    assert check.status == "NEEDS ENGINEER" and "2,700 lbf" in check.remark
