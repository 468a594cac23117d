"""The chapter on loads: design basis, what is missing and matters, ends of shear walls."""

import pytest
from structure import POST, SIZE, checks, job

from calcbook.loads.basis import missing, on_one_line

WALL = {"name": "w", "side": 1, "height": "9 ft", "dead": "100 plf"}


def test_missing_uplift_where_the_design_wind_is_given_needs_an_engineer():
    question = "Wind uplift on w, P"
    windy = {"design": {"wind": "115 mph"}, "walls": [WALL], "pads": [POST | SIZE]}
    assert checks("loads", job(**windy))[question].status == "NEEDS ENGINEER"
    told = windy | {"walls": [WALL | {"uplift": "0 plf"}], "pads": [POST | SIZE | {"uplift": "0 lbf"}]}
    assert not any("Wind uplift" in q for q in checks("loads", job(**told)))


def test_what_is_missing_of_the_design_basis_is_said(demo):
    assert missing(demo) == [] and dict(on_one_line(demo))["Loads by"].endswith("2026-09-30")
    bare = job(design={"code": "IRC 2024"})
    assert "design wind speed" in missing(bare) and "frost depth" in missing(bare)
    assert "design wind speed" in dict(on_one_line(bare))["Not given"]
    assert checks("loads", bare)["Design basis of the building"].status == "NEEDS ENGINEER"


def test_ends_of_a_shear_wall_are_checked_against_their_hold_downs():
    question = "Hold-down force at the ends of shear wall w"
    wall = WALL | {"shear": "150 plf", "uplift": "0 plf"}
    assert checks("loads", job(walls=[wall]))[question].status == "NEEDS ENGINEER"
    pieces = [{"start": "0 ft", "length": "8 ft", "hold_down": "9000 lbf"}]
    held = checks("loads", job(walls=[wall | {"braced": pieces}]))[question]
    # 150 x 30 ft x 9 ft over 8 ft, less 0.6 x 100 x 8/2
    assert held.status == "OK" and abs(held.ratio - (4500 * 9 / 8 - 240) / 9000) < 1e-3
    low = checks("loads", job(walls=[{k: v for k, v in wall.items() if k != "height"}]))
    assert low["Hold-down force of the shear walls w"].status == "NEEDS ENGINEER"


INNER = {"name": "in", "place": "interior", "height": "9 ft", "dead": "100 plf"}


@pytest.mark.parametrize(
    ("load", "number"),
    # net 40 plf beside 100 plf of dead load: wind is 100/0.6, and 0.6 (100/0.6 - 90) lifts
    [
        ({"uplift": "40 plf"}, "46 lbf/ft"),
        ({"shear": "150 plf"}, "150 lbf/ft"),
        ({"shear_out": "30 plf"}, "30 lbf/ft"),
    ],
)
@pytest.mark.parametrize(
    "wall", [INNER, INNER | {"place": "joint"}, WALL | {"name": "in", "bolted": False}]
)
def test_uplift_or_shear_on_a_wall_without_bolts_needs_an_engineer(wall, load, number):
    question = "Anchorage of wall in"
    asked = checks("loads", job(walls=[wall | load]))[question]
    assert asked.status == "NEEDS ENGINEER" and number in asked.remark.replace(
        "\N{NO-BREAK SPACE}", " "
    )
    assert question not in checks("loads", job(walls=[wall | {"uplift": "0 plf", "shear": "0 plf"}]))


def test_unknown_uplift_on_an_inner_wall_is_asked_for_where_the_design_wind_is_given():
    windy = checks("loads", job(design={"wind": "115 mph"}, walls=[INNER]))
    assert windy["Wind uplift on in"].status == "NEEDS ENGINEER"
