"""The slab under vehicle, posts and walls: what a job asks and finds."""

import pytest
from structure import checks, job

from calcbook.basis.units import Q
from calcbook.book.chapters import Book, run
from calcbook.slab.wheel import slab_for_wheel, wheel_load


def test_a_heavy_axle_needs_an_engineer():
    found = checks("slab", job(vehicle={"axle": "9000 lbf", "tire_pressure": "80 psi"}))
    assert found["Axle heavier than a house slab is meant for"].status == "NEEDS ENGINEER"
    light = checks("slab", job(vehicle={"axle": "3000 lbf", "tire_pressure": "50 psi"}))
    assert "Axle heavier than a house slab is meant for" not in light
    assert light["Bending stress under the wheels at a free edge"].status == "OK"


def test_a_soft_wide_wheel_at_a_corner_needs_an_engineer_where_no_plate_is_asked_for():
    soft = {"axle": "8000 lbf", "tire_pressure": "25 psi"}
    slab = {"length": "30 ft", "width": "24 ft", "thickness": "5 in", "plate": False}
    question = "Contact area of the wheel at a corner, side over radius of relative stiffness (c/l)"
    assert checks("slab", job(vehicle=soft, slab=slab))[question].status == "NEEDS ENGINEER"
    assert question not in checks("slab", job(vehicle=soft))  # the plate answers it


@pytest.mark.worked("slab_for_wheel")
def test_the_least_thickness_is_the_least():
    wheel = {"P": "3000 lbf", "a": "4 in", "f_c": "4000 psi", "k": "100 pci"}
    least = slab_for_wheel(**wheel)
    thin, enough = (
        checks("slab", job(slab={"length": "30 ft", "width": "24 ft", "thickness": h},
                           vehicle={"axle": "6000 lbf", "tire_pressure": "59.683 psi"}))
        for h in (least - Q(0.25, "in"), least)
    )  # fmt: skip
    worst = [max(c.ratio or 0 for q, c in f.items() if "under the wheel" in q) for f in (thin, enough)]
    assert worst[0] > 1 >= worst[1]
    with pytest.raises(ValueError, match="no slab up to 14 in"):
        slab_for_wheel(**(wheel | {"P": "300 kip"}))


def test_a_wall_on_the_bare_slab_is_checked_and_one_without_load_is_asked_for():
    wall = {"name": "partition", "place": "interior", "dead": "300 plf", "live": "200 plf"}
    found = checks("slab", job(walls=[wall]))["Line load on the bare slab, wall partition"]
    assert found.status == "OK" and found.ratio == pytest.approx(500 / 578.3, abs=0.002)
    assert (
        checks("slab", job(walls=[wall | {"dead": "600 plf"}]))[
            "Line load on the bare slab, wall partition"
        ].status
        == "NOT OK"
    )
    asked = checks("slab", job(walls=[{"name": "partition", "place": "interior"}]))
    assert asked["Load of wall partition"].status == "NEEDS ENGINEER"


def test_a_wall_at_a_sawn_joint_or_a_bare_edge_is_taken_at_a_free_edge():
    """UFC 3-320-06A: the higher load only at a keyed or doweled joint; 9.93/12.8 of it at an edge."""
    wall = {"name": "W", "dead": "300 plf"}
    bare = {"depth": "0 in"}
    question = "Line load on the bare slab, wall W"
    inside, joint, edge = (
        checks("slab", job(walls=[wall | where], edge=bare))[question].ratio
        for where in ({"place": "interior"}, {"place": "joint"}, {"side": 1})
    )
    assert joint == pytest.approx(edge) == pytest.approx(inside * 12.8 / 9.9257, rel=1e-4)
    assert question not in checks("slab", job(walls=[wall | {"side": 1}]))


@pytest.mark.parametrize("place", ["inside", "joint", "edge", "corner"])
def test_a_post_on_the_bare_slab(place):
    """A plate of 4 x 6 in. bears as a wheel whose print has its area (radius 2.764 in.)."""
    post = {
        "name": "shelf leg",
        "load": "1800 lbf",
        "plate_length": "4 in",
        "plate_width": "6 in",
        "place": place,
    }
    where = {
        "inside": "inside a panel",
        "joint": "at a joint",
        "edge": "at an edge",
        "corner": "at a corner",
    }
    found = checks("slab", job(posts=[post]))[f"Bending stress under shelf leg, {where[place]}"]
    tire = {"axle": "1800 lbf", "wheels": 1, "tire_pressure": "75 psi"}  # 1,800 lbf on 24 in2
    wheel = {"edge": "at a free edge"}.get(place, where[place])
    same = checks("slab", job(vehicle=tire))[f"Bending stress under the wheels {wheel}"]
    assert found.ratio == pytest.approx(same.ratio) and found.status == "OK"
    heavy = checks("slab", job(posts=[post | {"load": "9000 lbf"}]))
    assert heavy[f"Bending stress under shelf leg, {where[place]}"].status == "NOT OK"


def test_a_post_without_load_is_asked_for():
    found = checks("slab", job(posts=[{"name": "leg"}]))
    assert found["Load on leg"].status == "NEEDS ENGINEER"
    wide = {"name": "leg", "load": "900 lbf", "plate_length": "12 in", "plate_width": "12 in"}
    question = "Contact area of leg at a corner, side over radius of relative stiffness (c/l)"
    spread = checks(
        "slab",
        job(
            posts=[wide],
            slab={"length": "30 ft", "width": "24 ft", "thickness": "5 in", "plate": False},
        ),
    )[question]
    assert spread.status == "NEEDS ENGINEER"


def test_a_wide_post_at_a_corner_is_answered_by_the_plate():
    wide = {"name": "leg", "load": "900 lbf", "plate_length": "12 in", "plate_width": "12 in"}
    book = Book(job(posts=[wide]))
    assert "NEEDS ENGINEER" not in {c.status for c in book.slab.calculation.checks}
    asked = next(c for c in book.plate.calculation.checks if "under leg at a corner" in c.title)
    assert asked.status == "OK" and asked.ratio > 0.1


def wheel_overloads(made):
    return Book(made).slab.overloaded


@pytest.mark.worked("wheel_load")
def test_a_vehicle_that_the_plain_slab_does_not_bear():
    assert wheel_load("3600 lbf", 2).m_as("lbf") == pytest.approx(1800)
    assert not wheel_overloads(job())
    assert not wheel_overloads(job(vehicle={"axle": "3600 lbf"}))
    worst = {"axle": "7000 lbf", "tire_pressure": "80 psi"}
    found = checks("slab", job(vehicle=worst))
    assert wheel_overloads(job(vehicle=worst)) == any(c.status == "NOT OK" for c in found.values())
    thin = job(vehicle=worst, slab={"length": "20 ft", "width": "20 ft", "thickness": "4 in"})
    assert wheel_overloads(thin) and not wheel_overloads(thin.changed({"slab.thickness": "8 in"}))


def test_the_least_margin_is_where_the_stress_is_greatest():
    calc = run("slab", job(vehicle={"axle": "3600 lbf"}))
    worst = max(
        calc.results[n].m_as("psi") for n in ("interior_all", "edge_all", "joint_all", "corner_all")
    )
    assert calc.results["margin"] == pytest.approx(calc.results["f_r"].m_as("psi") / worst)


def test_the_sun_bends_a_panel_less_where_joints_are_close():
    far, near = (run("slab", job(joints={"spacing": s})).results["curling"] for s in ("14 ft", "8 ft"))
    assert near < far and far < Q(474, "psi")
