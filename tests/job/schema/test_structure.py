"""Fields of soil, loads, walls and reinforcement: what is allowed and what is not."""

import pytest
from structure import POST, SIZE, job

from calcbook.basis.units import Q
from calcbook.job.file import JobError


@pytest.mark.parametrize(
    ("dead", "said"),
    [("-1 lbf", "at least 0 lbf"), ("1000001 lbf", "at most 1,000,000 lbf"), ("4000 psi", "4000 psi")],
)
def test_a_load_that_cannot_be_is_refused_in_words(dead, said):
    with pytest.raises(JobError, match=said):
        job(pads=[POST | SIZE | {"dead": dead}])


@pytest.mark.parametrize("dead", ["0 lbf", "1000000 lbf"])
def test_loads_up_to_the_limits_are_taken(dead):
    assert job(pads=[POST | SIZE | {"dead": dead}]).pads[0].dead == Q(float(dead.split()[0]), "lbf")


def test_what_cannot_be_guessed_has_no_default():
    made = job(
        pads=[{"name": "P", "x": "5 ft", "y": "5 ft", **SIZE}],
        walls=[{"name": "W", "side": 1}],
        posts=[{"name": "L"}],
    )
    assert made.pads[0].dead is None and made.pads[0].uplift is None
    assert made.walls[0].dead is None and made.posts[0].load is None
    assert made.soil.frost_depth is None and made.soil.bearing is None and made.soil.k is None
    assert made.vehicle.axle is None and made.reinforcement.residual is None


WALL = {"name": "W", "place": "interior"}


def test_a_strip_is_given_whole_or_not_at_all():
    ends = {
        "x1": "10 ft",
        "y1": "4 ft",
        "x2": "10 ft",
        "y2": "20 ft",
        "strip_width": "18 in",
        "strip_depth": "8 in",
    }
    assert job(walls=[WALL]).walls[0].strip() is None
    strip = job(walls=[WALL | ends]).walls[0].strip()
    assert [v.m_as("ft") for v in strip] == pytest.approx([10, 4, 10, 20, 1.5, 8 / 12])
    for missing in ends:
        part = {k: v for k, v in ends.items() if k != missing}
        with pytest.raises(ValueError, match="all six"):
            job(walls=[WALL | part]).walls[0].strip()
    along = ends | {"y2": "4 ft", "x2": "20 ft"}
    assert job(walls=[WALL | along]).walls[0].strip() is not None
    for bad in ({"x2": "12 ft"}, {"y2": "4 ft"}):  # slanting; no length at all
        with pytest.raises(ValueError, match="along x or along y"):
            job(walls=[WALL | ends | bad]).walls[0].strip()
