"""Joints of a job: spacing, depth, layout, bars, isolation."""

from structure import checks, job

from calcbook.book import run


def test_a_wider_spacing_than_the_source_needs_an_engineer():
    found = checks("joints", job(joints={"spacing": "16 ft"}))
    assert found["Is the spacing within the source?"].status == "NEEDS ENGINEER"
    assert (
        checks("joints", job(joints={"spacing": "14 ft"}))["Is the spacing within the source?"].status
        == "OK"
    )


def test_fiber_makes_the_cut_deeper_and_no_panel_larger():
    plain, fiber = (run("joints", job(reinforcement={"kind": k})) for k in ("none", "macro fiber"))
    assert (
        fiber.results["depth"] > plain.results["depth"]
        and fiber.results["spacing"] == plain.results["spacing"]
    )


def test_joints_of_a_slanting_slab_are_left_to_a_hand():
    shape = [["0 ft", "0 ft"], ["30 ft", "0 ft"], ["24 ft", "20 ft"], ["0 ft", "20 ft"]]
    found = checks("joints", job(slab={"points": shape, "thickness": "5 in"}))
    assert found["How are the joints laid out?"].status == "NEEDS ENGINEER"
