"""Trusses by their spacing: the same as the line load they make, everywhere on the path."""

import pytest
from structure import job as base

from calcbook.book.chapters import Book
from calcbook.job.file import JobError
from calcbook.loads.from_job import load_path
from calcbook.loads.statics import spread_reaction

EDGE = {"depth": "13 in", "width": "16 in", "slope": 0.0}
WALL = {"name": "w", "side": 1, "height": "9 ft", "openings": [{"start": "6 ft", "width": "9 ft"}]}
TRUSS = {"name": "roof", "spacing": "24 in", "dead": "450 lbf", "roof": "900 lbf", "uplift": "450 lbf"}
BY_LINE = WALL | {"dead": "225 plf", "roof": "450 plf", "uplift": "225 plf", "uplift_is": "gross"}
BY_TRUSS = WALL | {"dead": "0 plf", "trusses": [TRUSS]}


def job(wall, **sections):
    return base(edge=EDGE, walls=[wall], **sections)


@pytest.mark.worked("spread_reaction")
def test_reactions_of_trusses_by_length():
    """Derived: a truss of 28 ft with 1 ft of eave, 24 in. apart: 15 psf x 15 ft x 2 ft = 450 lb, 225 plf."""
    assert spread_reaction("450 lbf", "24 in").m_as("plf") == pytest.approx(225)


def test_trusses_bring_what_their_line_brings():
    """Derived: 450 lb of uplift at service level, 24 in. apart, are 375 plf at strength level."""
    one, other = (load_path(job(w)).walls[0].model.top for w in (BY_TRUSS, BY_LINE))
    assert one.W == pytest.approx(375) and (one.D, one.S) == pytest.approx((225, 450))
    assert (one.D, one.L, one.S, one.W) == pytest.approx((other.D, other.L, other.S, other.W))


@pytest.mark.parametrize("chapter", ["loads", "edges", "bolts", "slab"])
@pytest.mark.parametrize("units", ["us", "si"])
def test_every_check_is_that_of_the_line(chapter, units):
    found = [
        {c.title: c.ratio for c in Book(job(w, job={"units": units})).calculation(chapter).checks}
        for w in (BY_TRUSS, BY_LINE)
    ]
    assert found[0].keys() == found[1].keys()
    for question, ratio in found[0].items():
        assert ratio == pytest.approx(found[1][question]), question


def test_trusses_beside_a_wall_without_its_dead_load_are_asked_about():
    with pytest.raises(JobError, match="give dead too"):
        job(WALL | {"trusses": [TRUSS]})
