"""The building as one: sums close, and it does not slide."""

import pytest
from structure import job

from calcbook.book.chapters import run

SIDES = [{"name": str(n), "side": n, "height": "9 ft", "dead": "225 plf", "weight": "10 psf", "roof": "450 plf",
          "uplift": "225 plf", "uplift_is": "gross"} for n in (1, 3)]  # fmt: skip


def calc(**change):
    slab = {"length": "40 ft", "width": "28 ft", "thickness": "5 in"}
    edge = {"depth": "7 in", "width": "12 in", "slope": 0.0}
    return run("edges", job(slab=slab, edge=edge, walls=[wall | change for wall in SIDES]))


def numbers(made, name):
    (table,) = (
        b.frame for b in made.blocks if getattr(b, "title", "").startswith("The building as one")
    )
    row = table[table["Combination"] == name].iloc[0]
    return [float(text.removesuffix(" lbf").replace(",", "")) for text in row[1:]]


def test_whole_building_closes():
    """Derived: 375 plf up on 80 ft; 315 plf down; slab 62.5 psf on 1,120 ft2, edge below it 87.5 plf on 136 ft."""
    up, down, own, ground, rest = numbers(calc(), "0.6 D + 0.6 W")
    assert (up, down) == pytest.approx((0.6 * 375 * 80, 0.6 * 315 * 80), rel=1e-3)
    assert own == pytest.approx(0.6 * (62.5 * 1120 + 87.5 * 136), rel=1e-3)
    assert ground == pytest.approx(down + own - up, rel=2e-3) and rest == 0


def test_shear_of_all_walls_one_way_against_friction():
    made = calc(shear="400 plf")
    (found,) = (c for c in made.checks if "Sliding force of the building along x" in c.title)
    weight = 315 * 80 + 62.5 * 1120 + 87.5 * 136
    assert found.ratio == pytest.approx(400 * 80 / (0.25 * (0.6 * weight - 18000)), rel=1e-3)
    assert found.status == "NEEDS ENGINEER"
