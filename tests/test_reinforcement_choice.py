"""Fiber, mesh or bars of a job: what is asked, found and bought."""

import pytest
from structure import checks, job

from calcbook.book import run


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
