"""Greatest spacing of each wall: by the rule, by each load, and together."""

import pytest
from bolt_jobs import asked, changed, frames, notes, one_wall, steps

from calcbook.book.chapters import run


@pytest.fixture(scope="module")
def made(demo):
    return run("bolts", demo)


def test_spacing_of_the_hardest_wall(made):
    """Own arithmetic: uplift 450 plf on a hook of 2,362.5 lbf, shear 330 plf on 1,555 lbf of wood."""
    s_u, s_v = 2362.5 / 450 * 12, 1554.98 / 330 * 12
    assert made.results["spacing"].m_as("inch") == pytest.approx(1.2 / (1 / s_u + 1 / s_v), rel=1e-3)
    spacing = frames(made)["Largest spacing, wall by wall, by each reason"]
    assert next(iter(spacing["Smallest, by"])) == "uplift with shear along"
    assert list(spacing.iloc[3]) == [
        "notch east", "6'-0\"", "15'-7 3/16\"", "8'-7 11/16\"", "8'-5 3/16\"", "6'-6 13/16\"", "the code's rule",
    ]  # fmt: skip


def test_loads_that_are_not_given_are_asked_for(demo):
    raw = {**demo.raw, "walls": [{"name": "lone", "side": 1}]}
    calc = run("bolts", type(demo)(raw))
    assert "Uplift and shear on the walls lone" in asked(calc)
    assert calc.results["spacing"].m_as("inch") == 72
    assert "not given" in frames(calc)["Walls and their loads, service level (ASD)"].to_string()


def test_tall_buildings_in_seismic_country(demo):
    """4 ft over two stories in D0 to D2 (IRC R403.1.6.1, from memory)."""
    raw = {
        **demo.raw,
        "walls": [{"name": "lone", "side": 1}],
        "bolts": {"stories": 3},
        "design": {"seismic": "D1"},
    }
    assert run("bolts", type(demo)(raw)).results["spacing"].m_as("inch") == 48


SPACINGS = "Largest spacing, wall by wall, by each reason"


@pytest.mark.parametrize(
    ("loads", "governs", "inches"),
    [
        ({"uplift": "1500 plf"}, "uplift", 2362.5 / 1500 * 12),
        ({"shear": "1200 plf"}, "shear along", 1554.98 / 1200 * 12),
        ({"shear_out": "900 plf"}, "shear across", 927.36 / 900 * 12),
        ({"uplift": "450 plf", "shear": "330 plf"}, "uplift with shear along", 35.77),
        ({"uplift": "450 plf", "shear_out": "190 plf"}, "uplift with shear across", 1.2 / (1 / 63 + 1 / 58.57)),
        ({"uplift": "100 plf", "shear": "0 plf"}, "the code's rule", 72),
    ],
)  # fmt: skip
def test_each_reason_can_govern(demo, loads, governs, inches):
    """Own arithmetic: a hook of 2,362.5 lbf, wood of 1,555 lbf along and 927.4 lbf across (NDS-2018 rows x 1.6)."""
    calc = one_wall(demo, loads)
    assert calc.results["spacing"].m_as("inch") == pytest.approx(inches, rel=1e-3)
    assert frames(calc)[SPACINGS]["Smallest, by"].iloc[0] == governs


def test_every_spacing_has_its_step(made):
    names = [s.formula.name for s in made.steps if hasattr(s, "formula")]
    assert names.count("spacing_for_uplift") == 1 and names.count("spacing_for_both") == 2
    assert names.count("spacing_for_shear") == 2


def test_bulk_and_steps_agree(made):
    """The table of all walls is computed at once; the steps of the hardest wall must say the same."""
    one = [s.value.m_as("inch") for s in steps(made, "spacing_for_both")]
    assert made.results["spacing"].m_as("inch") == pytest.approx(min(one))


def test_walls_and_loads_are_listed(made):
    listed = frames(made)["Walls and their loads, service level (ASD)"]
    assert list(listed.iloc[3]) == [
        "notch east", "D to E", "Southern Pine", '1 × 1 1/2"', "drilled", "200 lbf/ft", "180 lbf/ft", "110 lbf/ft",
    ]  # fmt: skip


def test_what_stands_in_the_walls_is_listed(made):
    """Own arithmetic: 40 ft less a 9 ft door from 15'-6"; wall east starts 5-1/2 in. from its corner, 17'-1" long."""
    listed = frames(made)["What stands in the walls"]
    assert "Frame them so" in notes(made)
    assert [str(x) for x in listed.iloc[0]] == [
        "south", "40'-0\"", "15'-6\", 15'-6\"", "15'-6\" to 24'-6\"", "1'-4\"", "1", "none",
    ]  # fmt: skip
    assert list(listed.iloc[1])[1:4] == ["17'-1\"", "13'-1\", 4'-0\"", "none"]
    assert list(listed["Bars at"]) == ["none"] * 5 + ["4'-0\""]


def test_low_buildings_in_seismic_country_keep_six_feet(demo):
    """IRC R403.1.6: 6 ft up to two stories."""
    for category, stories in (("D1", 2), ("B", 3)):
        sections = {"bolts": {"stories": stories}, "design": {"seismic": category}}
        assert one_wall(demo, {}, **sections).results["spacing"].m_as("inch") == 72


def test_a_load_of_the_wind_that_is_not_given_is_asked_for_by_its_name(demo):
    """Wind across a wall counts in the bolts like the others; it had been shown as 0 where nobody gave it."""
    given = {"uplift": "100 plf", "shear": "100 plf", "shear_out": "0 plf"}
    assert "Uplift and shear on the walls" not in asked(one_wall(demo, given))
    names = {"uplift": "uplift", "shear": "shear along", "shear_out": "shear across"}
    for key, words in names.items():
        calc = one_wall(demo, {k: v for k, v in given.items() if k != key})
        (check,) = [c for c in calc.checks if c.title.startswith("Uplift and shear on the walls")]
        assert check.to_do.startswith(f"Not given: lone: {words}. ")
        assert check.status == "NEEDS ENGINEER"
    assert "Uplift and shear on the walls" not in asked(changed(demo))
