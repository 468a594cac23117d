"""Racks of several legs and posts near each other: each adds at its own distance under the hardest leg."""

import pytest
from structure import checks, job

from calcbook.basis.units import Q
from calcbook.job.files import JobError
from calcbook.loads.from_job import load_path
from calcbook.plate.standing import _of_post
from calcbook.slab.together import added_stress

LEG = {
    "name": "rack",
    "load": "1500 lbf",
    "place": "inside",
    "plate_length": "4 in",
    "plate_width": "4 in",
}
SIZES = Q(5, "in"), Q(30, "in")


def under(*posts, **sections):
    """Bending stress under the first post, psi."""
    found = checks("slab", job(posts=list(posts), **sections))
    return next(
        c.values[0].m_as("psi")
        for title, c in found.items()
        if title.startswith("Bending stress under")
    )


def added(made_job, inches):
    """What one leg adds at a distance on the slab of the tests, psi."""
    from calcbook.book.chapters import Book

    length = Book(made_job).slab.length
    return added_stress(Q(1500, "lbf"), Q(5, "in"), Q(inches, "in"), length, 0.15).m_as("psi")


def test_three_legs_in_a_row_by_hand():
    """The middle leg governs: two others at 30 in.; an end leg has one at 30 and one at 60."""
    one, three = LEG, LEG | {"legs": 3, "leg_spacing": "30 in"}
    more = added(job(posts=[one]), 30)
    assert under(three) - under(one) == pytest.approx(2 * more) and more > 0


def test_two_rows_count_across_as_well():
    """A leg of 2 x 2, 36 in. by 24 in.: others at 36, 24 and the diagonal of 43.27 in."""
    rack = LEG | {"legs": 2, "leg_spacing": "36 in", "rows": 2, "row_spacing": "24 in"}
    more = sum(added(job(posts=[LEG]), d) for d in (36, 24, 43.2666153))
    assert under(rack) - under(LEG) == pytest.approx(more, rel=1e-6)


def test_posts_whose_places_are_given_are_the_same_as_legs():
    one = LEG | {"x": "10 ft", "y": "10 ft"}
    pair = [one, one | {"name": "other", "y": "12 ft 6 in"}]
    rack = one | {"legs": 2, "leg_spacing": "30 in", "legs_along": "y"}
    assert under(*pair) == pytest.approx(under(rack), rel=1e-9)


def test_at_an_edge_the_others_count_more_and_far_ones_for_little():
    edge, inside = (
        under(LEG | {"place": p, "legs": 2, "leg_spacing": "24 in"}) - under(LEG | {"place": p})
        for p in ("edge", "inside")
    )
    assert edge > inside
    far = under(LEG | {"legs": 2, "leg_spacing": "12 ft"}) - under(LEG)
    assert 0 <= far < 0.1 * inside


def test_more_legs_or_nearer_ones_never_help():
    stress = [under(LEG | {"legs": n, "leg_spacing": s}) for n, s in ((2, "48 in"), (3, "48 in"), (3, "36 in"), (5, "36 in"))]  # fmt: skip
    assert stress == sorted(stress)


def test_the_plate_has_every_leg_of_a_rack_with_a_place():
    made = job(
        posts=[
            LEG
            | {
                "x": "10 ft",
                "y": "10 ft",
                "legs": 3,
                "leg_spacing": "30 in",
                "rows": 2,
                "row_spacing": "24 in",
            }
        ]
    )
    from calcbook.book.chapters import Book
    from calcbook.plate.from_job import plate_of_plan

    assert load_path(made) is not None
    plate = plate_of_plan(made, Book(made).joint_plan, 100, 3.6e6, 150)
    loads = list(_of_post(made, 0, plate))
    assert sum(p.force for p in loads) == pytest.approx(9000) and len(loads) == 6
    assert max(p.shape.centroid.x for p in loads) == pytest.approx(15)


def test_legs_without_their_distance_are_refused_in_words():
    with pytest.raises(JobError, match="legs and leg_spacing go together"):
        job(posts=[LEG | {"legs": 3}])
    with pytest.raises(JobError, match="rows and row_spacing go together"):
        job(posts=[LEG | {"row_spacing": "24 in"}])
