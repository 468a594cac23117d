"""What one bolt of a wall holds, wood and steel, by own arithmetic and by the rows of the standards."""

import pytest
from bolt_jobs import changed, notes, one_wall, steps, values

from calcbook.basis.units import Q
from calcbook.bolts.capacity import Capacity
from calcbook.book.chapters import run


@pytest.fixture(scope="module")
def made(demo):
    return run("bolts", demo)


# NDS-2018 Table 12E (from memory; the equations reproduce it), 5/8 in. bolt, 1-1/2 in. plate: along, across
ROWS = {
    "Southern Pine": (970, 580),
    "Douglas Fir-Larch": (930, 530),
    "Hem-Fir": (860, 420),
    "Spruce-Pine-Fir": (850, 410),
}


@pytest.mark.parametrize("wood", ROWS)
def test_wood_of_each_species(demo, wood):
    """Table 12E x 1.6 for wind (NDS-2018 Table 2.3.2), within the table's rounding to 10 lbf."""
    along, out = values(one_wall(demo, {"species": wood}), "adjusted_lateral_value")
    assert along == pytest.approx(1.6 * ROWS[wood][0], abs=1.6 * 6)
    assert out == pytest.approx(1.6 * ROWS[wood][1], abs=1.6 * 6)


def test_yield_modes_are_named(demo):
    calc = one_wall(demo, {"species": "Hem-Fir"})
    assert "bearing in the plate, governs along the wall (NDS yield mode IIIs)" in notes(calc)
    assert "Bearing in the plate governs across the wall (NDS yield mode Is)" in notes(calc)


def test_two_plies_as_one_thickness(demo):
    """Own arithmetic with NDS-2018 Table 12.3.1A, 3 in. side member, southern pine, 5/8 in.: 1,229.1 and 735.5 lbf."""
    found = values(one_wall(demo, {"plies": 2}), "single_shear_value")
    assert found == pytest.approx([1229.06, 735.49], abs=0.02)


def test_no_more_than_six_inches_count_in_the_concrete(demo):
    """NDS-2018 Table 12E is for 6 in.; a shallower drilled bolt counts what it has."""
    deep = steps(one_wall(demo, {}), "single_shear_value")[0]
    assert deep.bound["l_m"].m_as("inch") == 6
    shallow = steps(
        one_wall(demo, {"method": "drilled"}, bolts={"depth": "4 in"}), "single_shear_value"
    )[0]
    assert shallow.bound["l_m"].m_as("inch") == 4


def test_washer(demo):
    """Own arithmetic: 565 psi on a 3 in. square less an 11/16 in. hole; 0.67 of it where the plate is wet."""
    held = 565 * (9 - 3.14159265 / 4 * 0.6875**2)
    assert values(changed(demo), "square_washer_uplift") == pytest.approx([held])
    assert values(changed(demo, bolts__wet=True), "square_washer_uplift") == pytest.approx(
        [0.67 * held]
    )


def test_wet_service_and_earthquake(demo, made):
    """NDS-2018 Tables 11.3.3 (0.7 wet) and 2.3.2 (1.6 for both loads); ASCE 7-16: 0.7 E against 0.6 W."""
    dry, wet = (values(c, "adjusted_lateral_value") for c in (made, changed(demo, bolts__wet=True)))
    assert wet == pytest.approx([0.7 * v for v in dry])
    shaken = changed(demo, bolts__load="earthquake")
    assert values(shaken, "adjusted_lateral_value") == pytest.approx(dry)
    # of a bolt alone: a row of close bolts stands where the loads and strengths put it
    held = [values(c, "design_strength")[:12] for c in (shaken, made)]
    assert held[0] == pytest.approx([0.7 / 0.6 * v for v in held[1]]) and len(held[0]) == 12


@pytest.mark.parametrize(("grade", "f_uta"), [("F1554 Grade 36", 58000), ("F1554 Grade 55", 75000)])
@pytest.mark.parametrize(("size", "area"), [("1/2", 0.1419), ("5/8", 0.2260), ("3/4", 0.3340)])
def test_steel(demo, size, area, grade, f_uta):
    """A_se f_uta and 0.6 of it (ACI 318-19 17.6.1.2, 17.7.1.2) by the areas of F1554; phi 0.75 and 0.65, 0.6 for wind."""
    calc = one_wall(demo, {}, bolts={"size": size, "grade": grade, "hook": "3 in"})
    assert values(calc, "steel_tension") == pytest.approx([area * f_uta], rel=2e-3)
    assert values(calc, "steel_shear") == pytest.approx([0.6 * area * f_uta], rel=2e-3)
    pulled, sheared = values(calc, "design_strength")[:2]
    assert pulled == pytest.approx(0.6 * 0.75 * area * f_uta, rel=2e-3)
    assert sheared == pytest.approx(0.6 * 0.65 * 0.6 * area * f_uta, rel=2e-3)


def test_each_part_is_shown_once_for_the_walls_that_share_it(demo, made):
    words = notes(made)
    assert (
        "The wood of the plate, in all walls." in words and "The bolt's steel, in all walls." in words
    )
    assert "The concrete, in the walls: south, east, notch north, north, west." in words
    assert "The concrete, in the walls: notch east." in words
    assert len(steps(made, "single_shear_value")) == 2
    mixed = changed(demo, walls__1__species="Hem-Fir")
    assert len(steps(mixed, "single_shear_value")) == 4
    assert "The wood of the plate, in the walls: east." in notes(mixed)
    assert "The wood of the plate, in the wall lone." in notes(one_wall(demo, {}))


def test_the_same_length_in_other_units_is_the_same_wall(demo):
    calc = changed(demo, walls__1__edge_distance="69.85 mm")
    assert notes(calc).count("The concrete, in the walls") == 2


def test_the_least_governs():
    held = Capacity({"steel": Q(5.0, "kip"), "pullout": Q(2400.0, "lbf")})
    assert held.least("uplift") == ("pullout", Q(2400.0, "lbf"))
    both = held.with_part(Capacity({"bond": Q(1.0, "kip")}, exempt=True))
    assert both.least("uplift")[0] == "bond" and both.exempt and not held.exempt
