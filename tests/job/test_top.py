"""The slope of a job's top: concrete, forms, levels, checks, and what is refused."""

import pytest

from calcbook.basis.calculation import Table
from calcbook.book.chapters import run
from calcbook.ground.levels import board_for, form_heights
from calcbook.job.file import Job, JobError
from calcbook.job.top import top_of

DRAIN = {"name": "floor drain", "x": "12 ft", "y": "15 ft", "diameter": "12 in"}
EVEN = {"fall": "1/8 in/ft", "side": 1}


def job(slope, openings=(), **changes):
    raw = {
        "slab": {"length": "24 ft", "width": "30 ft", "thickness": "5 in", "above_grade": "6 in"},
        "slope": slope,
        "openings": list(openings),
        "edge": {"depth": "13 in"},
        "soil": {"frost_depth": "10 in"},
    }
    return Job(raw | changes)


def slab(made):
    return run("volume", made).results["slab"].m_as("foot**3")


@pytest.mark.worked("sloped_volume")
def test_a_fall_over_a_level_underside_by_hand():
    """720 ft2, 5 in. and on average 1.875 in. more: 412.5 ft3; least 5 in., greatest 8.75 in."""
    made = job(EVEN)
    assert slab(made) == pytest.approx(720 * 6.875 / 12)
    assert top_of(made).greatest.m_as("inch") == pytest.approx(8.75)
    assert run("volume", made).results["greatest"].m_as("inch") == pytest.approx(8.75)


def test_an_underside_that_slopes_too_keeps_the_volume_of_a_level_slab():
    assert slab(job({**EVEN, "underside": "sloped too"})) == pytest.approx(720 * 5 / 12)
    assert slab(job({})) == pytest.approx(720 * 5 / 12)


@pytest.mark.parametrize("direction", ["-90 deg", "270 deg"])
def test_a_direction_says_the_same_as_a_side(direction):
    assert slab(job({"fall": "1/8 in/ft", "direction": direction})) == pytest.approx(slab(job(EVEN)))


def test_a_dish_takes_its_cone_off_the_thicker_slab():
    """Least 5 in. at the drain, and so 5 in. and 1/8 in/ft x 5.5 ft around it."""
    made = job({"fall": "1/8 in/ft", "drain": "floor drain", "radius": "6 ft"}, [DRAIN])
    m, R, r = 1 / 96, 6, 0.5
    area = 720 - 3.14159265358979 * r**2
    cone = m * 3.14159265358979 * (R**3 / 3 - R * r**2 + 2 * r**3 / 3)
    assert slab(made) == pytest.approx(area * (5 / 12 + m * (R - r)) - cone, rel=1e-9)


def test_forms_follow_the_top_at_every_corner():
    """6 in. above the ground on the low side, 9.75 in. on the high one."""
    inches = {k: [round(12 * h, 6) for h in pair] for k, pair in form_heights(job(EVEN)).items()}
    assert inches == {0: [6, 6], 1: [6, 9.75], 2: [9.75, 9.75], 3: [9.75, 6]}
    assert [board_for(x) for x in (3.5, 5, 6, 9.75, 12)] == [
        "2x4",
        "2x6",
        "2x8",
        "2x12",
        "panel, braced",
    ]


def test_levels_are_listed_and_drawn():
    found = run("base", job(EVEN))
    levels = next(b.frame for b in found.blocks if isinstance(b, Table) and "Levels" in b.title)
    assert list(levels["below the highest place"]) == ['3 3/4"', '3 3/4"', '0"', '0"']
    assert [f.title for f in found.figures] == ["Section at the edge", "Levels"]
    assert found.figures[1].draw()


def test_the_frost_check_of_a_sloped_underside_looks_at_its_high_side():
    """12 in. deep on the low side; the high side of an underside that slopes stands 3.75 in. higher."""

    def depth(slope):
        return run("edges", job(slope)).results["depth"].m_as("inch")

    assert depth(EVEN) == pytest.approx(12)
    assert depth({**EVEN, "underside": "sloped too"}) == pytest.approx(8.25)


def test_saw_depth_takes_the_greatest_thickness():
    flat, sloped = (run("joints", made).results["depth"].m_as("inch") for made in (job({}), job(EVEN)))
    assert sloped == pytest.approx(flat * 8.75 / 5)


@pytest.mark.parametrize(
    ("slope", "words"),
    [
        ({"side": 1}, "a slope needs its fall"),
        ({"fall": "1 %"}, "say once which way the top falls"),
        ({"fall": "1 %", "side": 1, "direction": "30 deg"}, "say once which way the top falls"),
        ({"fall": "1 %", "side": 7}, "side 7 is not there; the outline has 4 sides"),
        ({"fall": "8 %", "side": 1}, "the slab would be 2'-9 13/16\" thick at its high side"),
        ({"fall": "1 %", "drain": "sink", "radius": "3 ft"}, "drain 'sink' is not an opening of this slab"),
        ({"fall": "1 %", "drain": "floor drain"}, "drain and radius go together"),
        ({"fall": "1 %", "drain": "floor drain", "radius": "12 ft"}, "reaches the edge of the slab"),
        ({"fall": "1 %", "drain": "floor drain", "radius": "5 in"}, "the dish must be wider than its drain"),
        ({"fall": "20 %", "side": 1}, "fall of the top"),
    ],
)  # fmt: skip
def test_a_slope_that_cannot_be_is_refused_in_one_sentence(slope, words):
    with pytest.raises(JobError) as refused:
        _ = job(slope, [DRAIN]).plan
    assert words in str(refused.value)
    assert "\n" not in str(refused.value)


def test_openings_are_listed_for_the_crew_by_their_middle():
    found = run(
        "base",
        job({}, [DRAIN, {"name": "pit", "x": "2 ft", "y": "3 ft", "length": "4 ft", "width": "2 ft"}]),
    )
    rows = next(
        b.frame for b in found.blocks if isinstance(b, Table) and b.title == "Set before the pour"
    )
    assert [tuple(row) for row in rows.itertuples(index=False)] == [
        ("floor drain", "1'-0\" round", "12'-0\"", "15'-0\""),
        ("pit", "4'-0\" × 2'-0\"", "4'-0\"", "4'-0\""),
    ]
