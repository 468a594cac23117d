"""The engineer's chapters of a job: slab, pads, joints, reinforcement; what they ask and what they find."""

import warnings

import pytest

from calcbook.book import load_formulas, run
from calcbook.job import Job
from calcbook.pads import dug_weight, pad_for, soil_bearing
from calcbook.slab_check import slab_for_wheel
from calcbook.units import Q

CHAPTERS = ("slab", "pads", "edges", "joints", "reinforcement")
POST = {"name": "P", "x": "10 ft", "y": "10 ft", "dead": "4000 lbf", "live": "5000 lbf"}
SIZE = {"length": "36 in", "width": "30 in", "depth": "9 in"}


def job(**sections):
    raw = {
        "slab": {"length": "30 ft", "width": "24 ft", "thickness": "5 in"},
        "concrete": {"strength": "4000 psi"},
    }
    return Job({**raw, "soil": {"kind": "sand"}, **sections})


def checks(name, job):
    with warnings.catch_warnings():
        warnings.simplefilter(
            "error"
        )  # a calculation flags what leaves a source's range; it never warns
        return {c.question: c for c in run(name, job).checks}


@pytest.mark.parametrize("name", CHAPTERS)
def test_the_demo_s_figures_are_drawn_and_its_checks_have_clauses(name, demo):
    calc = run(name, demo)
    assert calc.checks and all(c.clause.key for c in calc.checks)
    for figure in calc.figures:
        assert figure.draw().get_size_inches()[0] > 2
    assert "▲" in calc._repr_html_() or "✓" in calc._repr_html_()


@pytest.mark.parametrize("name", CHAPTERS)
def test_an_empty_job_asks_and_does_not_fail(name):
    calc = run(name, Job({"slab": {"length": "20 ft", "width": "20 ft"}}))
    assert calc.status in ("OK", "NOT OK", "NEEDS ENGINEER")


@pytest.mark.parametrize("name", CHAPTERS)
def test_metric_and_us_demo_agree(name, demo):
    metric = demo.changed({"job.units": "si"})
    us, si = (run(name, j).checks for j in (demo, metric))
    assert [c.ratio for c in si] == pytest.approx([c.ratio for c in us])


# --- slab --------------------------------------------------------------------------------------


def test_a_heavy_axle_needs_an_engineer():
    found = checks("slab", job(vehicle={"axle": "9000 lbf", "tyre_pressure": "80 psi"}))
    assert found["Is this axle heavier than a house slab is meant for?"].status == "NEEDS ENGINEER"
    light = checks("slab", job(vehicle={"axle": "3000 lbf", "tyre_pressure": "50 psi"}))
    assert "Is this axle heavier than a house slab is meant for?" not in light
    assert light["Does the slab bear the wheel at a free edge?"].status == "OK"


def test_a_soft_wide_wheel_at_a_corner_needs_an_engineer():
    found = checks("slab", job(vehicle={"axle": "8000 lbf", "tyre_pressure": "25 psi"}))
    assert found["Is the wheel's print small enough for the corner formula?"].status == "NEEDS ENGINEER"


def test_the_least_thickness_is_the_least():
    wheel = {"P": "3000 lbf", "a": "4 in", "f_c": "4000 psi", "k": "100 pci"}
    least = slab_for_wheel(**wheel)
    thin, enough = (
        checks("slab", job(slab={"length": "30 ft", "width": "24 ft", "thickness": h},
                           vehicle={"axle": "6000 lbf", "tyre_pressure": "59.683 psi"}))
        for h in (least - Q(0.25, "in"), least)
    )  # fmt: skip
    worst = [max(c.ratio or 0 for q, c in f.items() if "bear the wheel" in q) for f in (thin, enough)]
    assert worst[0] > 1 >= worst[1]
    with pytest.raises(ValueError, match="no slab up to 14 in"):
        slab_for_wheel(**(wheel | {"P": "300 kip"}))


def test_a_wall_on_the_bare_slab_is_checked_and_one_without_load_is_asked_for():
    wall = {"name": "partition", "place": "interior", "dead": "300 plf", "live": "200 plf"}
    found = checks("slab", job(walls=[wall]))["Does the bare slab carry partition?"]
    assert found.status == "OK" and found.ratio == pytest.approx(500 / 578.3, abs=0.002)
    assert (
        checks("slab", job(walls=[wall | {"dead": "600 plf"}]))[
            "Does the bare slab carry partition?"
        ].status
        == "NOT OK"
    )
    asked = checks("slab", job(walls=[{"name": "partition", "place": "interior"}]))
    assert asked["What does partition weigh?"].status == "NEEDS ENGINEER"


# --- pads --------------------------------------------------------------------------------------


def test_a_pad_without_a_size_gets_one_and_the_plan_follows():
    made = job(pads=[POST])
    length, width, depth = pad_for(made.file.pads[0], made.file)
    (thickening,) = made.plan.thickenings
    assert thickening.bottom.area * 144 == pytest.approx((length * width).m_as("inch**2"))
    assert thickening.depth * 12 == pytest.approx(depth.m_as("inch"))
    found = checks("pads", made)
    assert all(c.status == "OK" for c in found.values()) and max(c.ratio for c in found.values()) > 0.7
    fixed = job(pads=[POST | {"width": "24 in"}])
    x0, y0, x1, y1 = fixed.plan.thickenings[0].bottom.bounds
    assert (y1 - y0) * 12 == pytest.approx(24) and x1 - x0 > y1 - y0
    turned = job(pads=[POST | {"length": "24 in"}])
    x0, y0, x1, y1 = turned.plan.thickenings[0].bottom.bounds
    assert (x1 - x0) * 12 == pytest.approx(24) and y1 - y0 > x1 - x0


def test_a_new_load_makes_more_concrete_by_itself():
    before, after = (run("volume", j).results["net"] for j in (job(), job(pads=[POST])))
    assert after > before


def test_a_pad_without_size_or_load_is_refused_in_words():
    with pytest.raises(ValueError, match="pad 'P': its size is left out"):
        _ = job(pads=[{"name": "P", "x": "10 ft", "y": "10 ft"}]).plan


def test_loads_and_soil_are_asked_for():
    bare = {"name": "P", "x": "10 ft", "y": "10 ft", **SIZE}
    assert checks("pads", job(pads=[bare]))["What does P carry?"].status == "NEEDS ENGINEER"
    assert (
        checks("pads", job(pads=[POST | SIZE], soil={}))["What does the soil bear?"].status
        == "NEEDS ENGINEER"
    )


def test_a_pad_too_small_fails_and_says_what_would_do():
    found = run("pads", job(pads=[POST | SIZE | {"length": "18 in", "width": "18 in"}]))
    assert found.status == "NOT OK" and "deep" in found.text("smallest P")


def test_uplift_is_held_or_needs_an_engineer():
    question = "P: does its weight hold the uplift?"
    held = checks("pads", job(pads=[POST | SIZE | {"uplift": "500 lbf"}]))[question]
    assert held.status == "OK" and held.ratio == pytest.approx(500 / (0.6 * 7.5 * (112.5 + 62.5)))
    assert (
        checks("pads", job(pads=[POST | SIZE | {"uplift": "2000 lbf"}]))[question].status
        == "NEEDS ENGINEER"
    )


def test_a_post_off_the_centre_presses_harder():
    question = "P: Does the soil carry the pad?"
    centred = checks("pads", job(pads=[POST | SIZE]))[question].ratio
    inside = checks("pads", job(pads=[POST | SIZE | {"offset_x": "3 in"}]))[question].ratio
    beyond = checks("pads", job(pads=[POST | SIZE | {"offset_x": "9 in"}]))[question].ratio
    own = (9 + 5) / 12 * 150 / 2000
    assert (inside - own) / (centred - own) == pytest.approx(1.5)
    assert (beyond - own) / (centred - own) == pytest.approx(2 * 36 / (3 * 9))
    tipped = checks("pads", job(pads=[POST | SIZE | {"offset_x": "9 in", "offset_y": "3 in"}]))
    assert tipped["P: does the pad stay down?"].status == "NEEDS ENGINEER"


def test_a_pad_at_the_edge_carries_its_wall_too():
    wall = {"name": "wall", "dead": "400 plf"}
    at_edge = POST | SIZE | {"x": "1.5 ft"}
    alone, loaded = (
        checks("pads", job(pads=[at_edge], walls=w))["P: Does the soil carry the pad?"]
        for w in ([], [wall])
    )
    assert loaded.ratio - alone.ratio == pytest.approx(400 * 2.5 / 7.5 / 2000)


def test_pads_that_touch_are_checked_together():
    other = POST | SIZE | {"name": "R", "x": "12.5 ft"}
    found = checks("pads", job(pads=[POST | SIZE, other]))
    together = found["Does the soil carry P and R together?"]
    assert together.ratio == pytest.approx((18000 / (2.5 * 5.5) + 175) / 2000)
    assert found["How do P and R bend as one piece?"].status == "NEEDS ENGINEER"


def test_a_net_bearing_value_counts_the_soil_dug_out():
    soil = job(soil={"bearing": "1800 psf", "net": True}).soil
    assert soil_bearing(soil).m_as("psf") == 1800 and dug_weight(soil, Q(12, "in")).m_as(
        "psf"
    ) == pytest.approx(100)
    assert (
        dug_weight(job().soil, Q(12, "in")).magnitude == 0 and soil_bearing(job(soil={}).soil) is None
    )


# --- joints and reinforcement ------------------------------------------------------------------


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


def test_fiber_without_the_maker_s_test_needs_an_engineer():
    question = "What does this fiber carry after a crack?"
    assert (
        checks("reinforcement", job(reinforcement={"kind": "macro fiber"}))[question].status
        == "NEEDS ENGINEER"
    )
    known = checks("reinforcement", job(reinforcement={"kind": "macro fiber", "residual": "260 psi"}))
    assert question not in known and known["Does the fiber match that steel?"].status == "OK"
    weak = checks("reinforcement", job(reinforcement={"kind": "steel fiber", "residual": "60 psi"}))
    assert weak["Does the fiber match that steel?"].status == "NEEDS ENGINEER"
    low = checks(
        "reinforcement", job(reinforcement={"kind": "macro fiber", "macro_dosage": "2 lb/yd3"})
    )
    assert low["Is the dosage at least what its source names?"].status == "NOT OK"


@pytest.mark.parametrize("kind", ["micro fiber", "macro fiber", "steel fiber", "mesh", "bars", "none"])
def test_every_kind_enters_the_takeoff(kind):
    calc = run(
        "reinforcement", job(reinforcement={"kind": kind, "residual": "260 psi", "ratio": "30 %"})
    )
    assert len(calc.takeoff) == {"none": 0, "mesh": 2, "bars": 2}.get(kind, 1)
    assert calc.results["residual"].m_as("lbf*inch") == pytest.approx(
        0.3 * calc.results["cracking"].m_as("lbf*inch")
    )


def test_thin_mesh_on_a_long_panel_fails():
    weak = {"kind": "mesh", "wire": "6x6-W1.4xW1.4"}
    found = checks("reinforcement", job(reinforcement=weak, joints={"spacing": "30 ft"}))
    assert found["Is it enough to hold cracks closed?"].status == "NOT OK"


def test_the_names_that_others_rely_on_are_in_the_registry():
    names = """concrete_modulus modulus_of_rupture radius_of_relative_stiffness interior_stress interior_deflection
        edge_stress edge_deflection corner_stress corner_deflection wall_load_capacity required_pad_area
        bearing_pressure plain_moment_strength plain_one_way_shear_strength plain_two_way_shear_strength soil_deduction
        design_pad edge_bearing max_joint_spacing sawcut_depth joint_layout drag_steel_area wire_area wire_weight
        mesh_sheets bar_area fiber_weight fiber_bags residual_moment_strength residual_tension equivalent_wire"""
    assert set(names.split()) <= set(load_formulas())
