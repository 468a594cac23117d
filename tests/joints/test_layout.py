"""Joints of a job: spacing, depth, layout, bars, isolation."""

import math

import pytest
from drawn import words
from structure import POST, SIZE, checks, job

from calcbook.book.chapters import run
from calcbook.joints.layout import isolation_boxes, joints_of, largest_spacing

PAD = POST | SIZE


def test_a_wider_spacing_than_the_source_needs_an_engineer():
    question = "Joint spacing, as given"
    assert checks("joints", job(joints={"spacing": "16 ft"}))[question].status == "NEEDS ENGINEER"
    found = checks("joints", job(joints={"spacing": "14 ft"}))[question]
    assert found.status == "OK" and found.ratio == pytest.approx(14 / 15)  # 36 x 5 in.


def test_spacing_follows_slump_and_aggregate():
    """PCA joints (read in a reprint): 4 in. slump and 3/4 in. stone, 30 times 5 in."""
    assert largest_spacing(job()).m_as("ft") == pytest.approx(12.5)
    assert run("joints", job()).results["spacing"].m_as("ft") == pytest.approx(12.5)
    small = job(concrete={"strength": "4000 psi", "aggregate": "0.5 in", "slump": "5 in"})
    assert largest_spacing(small).m_as("ft") == pytest.approx(10)
    assert largest_spacing(job(joints={"spacing": "9 ft"})).m_as("ft") == pytest.approx(9)


def test_fiber_makes_the_cut_deeper_and_no_panel_larger():
    plain, fiber = (run("joints", job(reinforcement={"kind": k})) for k in ("none", "macro fiber"))
    assert plain.results["depth"].m_as("in") == pytest.approx(1.25)
    assert fiber.results["depth"].m_as("in") == pytest.approx(5 / 3)
    assert fiber.results["spacing"] == plain.results["spacing"]
    words = [b.words for b in fiber.blocks if hasattr(b, "words")]
    assert any("no wider spacing for fiber" in w for w in words)
    early = run("joints", job(reinforcement={"kind": "micro fiber"}, joints={"early_entry": True}))
    assert early.results["depth"].m_as("in") == pytest.approx(1)


def test_posts_are_isolated_on_request():
    boxes = isolation_boxes(job(pads=[PAD], joints={"box": "16 in"}))
    assert len(boxes) == 1 and boxes[0].area * 144 == pytest.approx(256)
    assert boxes[0].centroid.x == pytest.approx(10) and boxes[0].centroid.y == pytest.approx(10)
    corner = max(math.hypot(x - 10, y - 10) for x, y in boxes[0].exterior.coords)
    assert boxes[0].bounds[2] == pytest.approx(10 + corner)  # turned on its corner
    assert isolation_boxes(job(pads=[PAD], joints={"isolate": False})) == ()
    calc = run("joints", job(pads=[PAD], joints={"box": "16 in"}))
    assert calc.results["isolation"].m_as("in") == pytest.approx(64)
    assert any(
        t.price == "isolation" and t.amount.m_as("in") == pytest.approx(64) for t in calc.takeoff
    )
    assert "isolation" not in run("joints", job()).results


def test_sawing_is_paid_by_the_foot():
    calc = run("joints", job(joints={"saw_rate": "50 ft"}))
    length = calc.results["length"].m_as("ft")
    assert length == pytest.approx(joints_of(job()).layout.length.m_as("ft"))
    (hours,) = [t.amount for t in calc.takeoff if t.words == "Sawing joints"]
    assert hours.m_as("h") == pytest.approx(length / 50)


def test_bars_lie_where_no_joint_meets_an_opening_or_a_post():
    """30 x 24 ft in panels of 10 x 12 ft: a post at a crossing needs none, one in a panel four."""
    inside = run("joints", job(pads=[PAD | {"x": "5 ft", "y": "6 ft"}]))
    assert inside.results["corner_bars"] == 4
    (bars,) = [t for t in inside.takeoff if t.price == "bar_4"]
    assert bars.amount.m_as("ft") == pytest.approx(20)  # four of 4 ft from a bar of 20 ft
    crossing = run("joints", job(pads=[PAD | {"x": "10 ft", "y": "12 ft"}]))
    assert "corner_bars" not in crossing.results and not [
        t for t in crossing.takeoff if t.price == "bar_4"
    ]
    two = [PAD | {"x": "5 ft", "y": "6 ft"}, PAD | {"name": "R", "x": "15 ft", "y": "18 ft"}]
    assert run("joints", job(pads=two)).results["corner_bars"] == 8
    drain = {"name": "drain", "x": "15 ft", "y": "18 ft", "diameter": "12 in"}
    both = run("joints", job(pads=[PAD | {"x": "5 ft", "y": "6 ft"}], openings=[drain],
                             joints={"isolate": False}))  # fmt: skip
    assert both.results.get("corner_bars", 0) in (0, 4)


def test_panels_and_checks_of_a_plain_slab():
    calc = run("joints", job())
    assert calc.results["panels"] == 6 and calc.results["longest"].m_as("ft") == pytest.approx(12)
    found = checks("joints", job())
    assert found["Longest side of a panel"].ratio == pytest.approx(12 / 12.5)
    assert found["Length over width of a panel"].ratio == pytest.approx(1.2 / 1.5)
    assert calc.results["length"].m_as("ft") == pytest.approx(2 * 24 + 30)
    narrow = job(
        slab={"length": "40 ft", "width": "3 ft", "thickness": "5 in"}, joints={"aspect": 1.05}
    )
    words = [b.words for b in run("joints", narrow).blocks if hasattr(b, "words")]
    assert any("longer than 1.05 to 1" in w for w in words)
    assert checks("joints", narrow)["Length over width of a panel"].status == "NOT OK"


def test_remedies_are_said_only_where_something_fails():
    fine = checks("joints", job())
    assert {c.to_do for c in fine.values()} == {""}
    wide = job(slab={"length": "40 ft", "width": "3 ft", "thickness": "5 in"}, joints={"aspect": 1.05})
    failed = {q: c for q, c in checks("joints", wide).items() if c.status != "OK"}
    assert all(c.to_do for c in failed.values()) and failed


def test_a_metric_plan_names_its_panels_in_metres():
    for units, said in (("us", "10'-0\" × 12'-0\""), ("si", "3.05 × 3.66 m")):
        made = job(job={"units": units})
        (figure,) = run("joints", made).figures
        texts = words(figure.draw())
        assert texts.count(said) == 6


def test_every_inner_corner_starts_a_joint():
    shape = [
        ["0 ft", "0 ft"],
        ["30 ft", "0 ft"],
        ["30 ft", "12 ft"],
        ["18 ft", "12 ft"],
        ["18 ft", "24 ft"],
        ["0 ft", "24 ft"],
    ]
    found = checks("joints", job(slab={"points": shape, "thickness": "5 in"}))
    assert found["Inner corners of the outline without a joint"].status == "OK"


def test_when_to_cut_is_told_for_the_saw():
    said = [
        next(b.words for b in run("joints", job(joints={"early_entry": e})).blocks if "When" in getattr(b, "words", ""))
        for e in (False, True)
    ]  # fmt: skip
    assert "4 hours" in said[0] and "1 to 4 hours" in said[1]
