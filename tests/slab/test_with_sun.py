"""Sun, night and load together: sums by hand, and when the chapter says that the slab cracks."""

import pytest
from structure import checks, job

from calcbook.basis.units import Q
from calcbook.slab.with_sun import corner_curling_stress, with_warping


@pytest.mark.remembered("Bradbury 1938", "corner", "corner_curling_stress")
def test_corner_curling_by_hand():
    """E alpha dT / (3 (1 - nu)) sqrt(a/l), form from memory: 4e6 x 5e-6 x 20 / 2.55 x 0.4 = 62.7 psi."""
    found = corner_curling_stress(
        "4e6 psi", Q(5e-6, "1/degF"), Q(20, "delta_degF"), 0.15, "4.8 in", "30 in"
    )
    assert found.m_as("psi") == pytest.approx(400 / 2.55 * 0.4)


@pytest.mark.worked("with_warping")
def test_sum_by_hand_and_nothing_is_taken_off():
    assert with_warping("200 psi", "60 psi").m_as("psi") == pytest.approx(260)
    assert with_warping("200 psi", "-60 psi").m_as("psi") == pytest.approx(200)


def test_the_sum_is_that_of_the_chapter_s_own_numbers():
    made = job(posts=[{"name": "post", "load": "3000 lbf", "place": "inside"}])
    found = checks("slab", made)
    from calcbook.book.chapters import Book

    curl = Book(made).calculation("slab").results["curling"]
    load = found["Bending stress under post, inside a panel"].values[0]
    both = found["Bending stress of load and sun together"]
    assert both.values[0].m_as("psi") == pytest.approx((load + curl).m_as("psi"))
    assert "Bending stress of load and a cold night together" not in found


def test_far_joints_and_sun_crack_a_slab_that_bears_the_load_alone():
    post = {"name": "post", "load": "2900 lbf", "place": "edge"}
    near, far = (
        checks("slab", job(posts=[post], vehicle={"margin": 1.2}, joints={"spacing": s}))
        for s in ("8 ft", "30 ft")
    )
    for found in (near, far):
        assert found["Bending stress under post, at an edge"].status == "OK"
    title = "Bending stress of load and sun together"
    assert near[title].status == "OK" and far[title].status == "NOT OK"


def test_at_a_corner_the_cold_night_adds_and_the_sun_does_not():
    found = checks("slab", job(posts=[{"name": "post", "load": "3200 lbf", "place": "corner"}]))
    load = found["Bending stress under post, at a corner"].values[0]
    assert found["Bending stress of load and a cold night together"].values[0] > load
    assert "Bending stress of load and sun together" not in found


def test_without_a_load_there_is_nothing_to_add_to():
    assert not any("together" in title for title in checks("slab", job()))
