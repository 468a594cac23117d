"""Walls in the job file: one description each, and where the keys of earlier job files stand now."""

import pytest
from structure import job

from calcbook.job.file import JobError

WALL = {"name": "W", "side": 1}


@pytest.mark.parametrize(
    ("sections", "said"),
    [
        ({"sills": [{"name": "a", "side": 1}]}, "described once now, in [[walls]]"),
        ({"walls": [WALL | {"doors": []}]}, "doors and windows are [[walls.openings]]"),
        ({"walls": [WALL | {"thickness": "5.5 in"}]}, "plate_width"),
        ({"bolts": {"seismic": "A"}}, "seismic under [design]"),
        ({"walls": [{"name": "W", "dead": "1 plf"}]}, "on which side?"),
        ({"walls": [WALL | {"place": "interior"}]}, "so it has no side"),
        ({"walls": [WALL | {"weight": "10 psf"}]}, "give its height too"),
        (
            {
                "walls": [
                    {"name": "W", "place": "joint", "openings": [{"start": "1 ft", "width": "3 ft"}]}
                ]
            },
            "give its side, or its two ends",
        ),
    ],
)
def test_what_cannot_be_is_refused_in_one_sentence_that_helps(sections, said):
    with pytest.raises(JobError) as told:
        job(**sections)
    assert said in str(told.value) and len(told.value.problems) == 1 and len(str(told.value)) < 300


@pytest.mark.parametrize(
    ("part", "key"),
    [
        ({"points": [{"name": "beam", "at": "31 ft"}]}, "points number 1"),
        ({"braced": [{"start": "28 ft", "length": "3 ft"}]}, "braced number 1"),
        ({"openings": [{"start": "28 ft", "width": "3 ft", "kind": "window"}]}, "openings number 1"),
    ],
)
def test_what_stands_in_a_wall_must_fit_it(part, key):
    with pytest.raises(JobError, match=key):
        _ = job(walls=[WALL | part]).plan


def test_walls_on_a_side_are_bolted_unless_said_otherwise():
    inside = {"name": "I", "place": "interior"}
    made = job(walls=[WALL, WALL | {"name": "V", "bolted": False}, inside])
    assert [w.name for w in made.bolted_walls] == ["W"]
