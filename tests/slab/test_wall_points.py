"""Walls on the bare slab where they press most: jambs, posts, ends of shear walls, against Westergaard's post and the line."""

import pytest
from structure import checks, job

INSIDE = {
    "name": "w", "place": "interior", "x1": "4 ft", "y1": "12 ft", "x2": "24 ft", "y2": "12 ft", "height": "8 ft", "dead": "100 plf",
}  # fmt: skip
BY_HAND = {"by_hand": True}


def found(title, joints=BY_HAND, **wall):
    made = checks("slab", job(walls=[INSIDE | wall], joints=joints))
    return next((c for name, c in made.items() if title in name), None)


def post(load):
    """Stress under the same load as a post on a plate as large, inside a panel."""
    leg = {
        "name": "leg",
        "load": load,
        "place": "inside",
        "plate_length": "3 in",
        "plate_width": "5.5 in",
    }
    return checks("slab", job(posts=[leg]))["Bending stress under leg, inside a panel"]


def test_a_beam_on_a_wall_bends_the_slab_as_a_post_does_and_the_line_adds_to_it():
    """By Westergaard as for a post, checked elsewhere; the line uses 100 plf of what Table 3-2 allows, of 1.6 root f'c."""
    check = found(
        "under the beam",
        points=[{"name": "beam", "at": "10 ft", "dead": "2000 lbf", "roof": "1000 lbf"}],
    )
    line = found("Line load")
    added = 1.6 * 4000**0.5 * line.ratio
    alone = post("3000 lbf").values[0].m_as("psi")
    assert check.values[0].m_as("psi") == pytest.approx(alone + added, rel=1e-6)
    assert check.values[1] == post("3000 lbf").values[1]


def test_a_header_brings_half_of_its_load_to_the_slab_at_the_jamb():
    """8 ft of 100 plf: 400 lbf at each jamb."""
    check = found("under the jamb", openings=[{"start": "6 ft", "width": "8 ft"}])
    alone = post("400 lbf").values[0].m_as("psi")
    assert check.values[0].m_as("psi") == pytest.approx(
        alone + 1.6 * 4000**0.5 * found("Line load").ratio, rel=1e-6
    )


def test_the_lee_end_of_a_shear_wall_presses_on_the_slab():
    """200 plf on 20 ft, 8 ft high: 1,600 lbf at each end."""
    check = found("under the end of its shear wall", shear="200 plf")
    alone = post("1600 lbf").values[0].m_as("psi")
    assert check.values[0].m_as("psi") == pytest.approx(
        alone + 1.6 * 4000**0.5 * found("Line load").ratio, rel=1e-6
    )


def test_a_joint_that_crosses_the_wall_below_its_beam_is_a_free_edge_there():
    beam = [{"name": "beam", "at": "10 ft", "dead": "2000 lbf"}]
    far, near = (
        found("under the beam", BY_HAND | {"lines": [{"x": x}]}, points=beam) for x in ("5 ft", "14 ft")
    )
    assert near.ratio > 1.3 * far.ratio and near.remark.startswith("At a joint")


def test_a_wall_over_an_opening_of_the_slab_is_the_engineer_s():
    hole = [{"name": "pit", "x": "10 ft", "y": "11 ft", "length": "3 ft", "width": "2 ft"}]
    title = "Wall w over an opening"
    strip = {"strip_width": "16 in", "strip_depth": "8 in"}
    for chapter, more in (("slab", {}), ("edges", strip)):
        made = checks(chapter, job(walls=[INSIDE | more], openings=hole))
        assert made[title].status == "NEEDS ENGINEER" and "pit" in made[title].remark
        assert title not in checks(chapter, job(walls=[INSIDE | more]))
