"""The engineer's chapters of a job: slab, pads, joints, reinforcement; what they ask and what they find."""

import pytest
from metric import LEAST_LENGTHS, us_defaults

from calcbook.basis.sources import TABLES
from calcbook.book.chapters import run
from calcbook.book.registry import load_formulas
from calcbook.job.file import Job

CHAPTERS = ("slab", "pads", "edges", "joints", "reinforcement")


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
    metric = metric.changed(us_defaults(metric))
    us, si = (run(name, j).checks for j in (demo, metric))
    # what stands in a wall is placed in whole steps of the tape: a sixteenth of an inch, or a millimeter
    rel = 1e-3 if name in ("loads", "edges", "bolts") else 1e-6
    assert [c.title for c in si] == [c.title for c in us]
    expected = [
        (c.ratio or 0) * (25 / 25.4 if any(words in c.title for words in LEAST_LENGTHS) else 1)
        for c in us
    ]  # 300 mm for 12 in.
    assert [c.ratio or 0 for c in si] == pytest.approx(expected, rel=rel)


# --- pads --------------------------------------------------------------------------------------


def test_the_names_that_others_rely_on_are_in_the_registry():
    names = """concrete_modulus modulus_of_rupture radius_of_relative_stiffness interior_stress interior_deflection
        edge_stress edge_deflection corner_stress corner_deflection wall_load_capacity required_pad_area
        bearing_pressure plain_moment_strength plain_one_way_shear_strength plain_two_way_shear_strength soil_deduction
        design_pad edge_bearing max_joint_spacing sawcut_depth joint_layout drag_steel_area wire_area wire_weight
        mesh_sheets bar_area fiber_weight fiber_bags residual_moment_strength residual_tension equivalent_wire"""
    assert set(names.split()) <= set(load_formulas())


def test_the_starter_is_sound_as_it_stands():
    """What is missing in it is asked for; nothing in it is NOT OK."""
    starter = Job.read(TABLES / "starter.toml")
    found = {c.title: c.status for name in CHAPTERS for c in run(name, starter).checks}
    assert found["Depth of the edge below the ground"] == "OK"
    assert "NOT OK" not in found.values()
