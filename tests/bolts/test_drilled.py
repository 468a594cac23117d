"""Drilled and bonded bolts: adhesive, least distances, the maker's sheet."""

import pytest
from bolt_jobs import asked, changed, check, notes, one_wall, steps, values, without

from calcbook.book.chapters import run


@pytest.fixture(scope="module")
def made(demo):
    return run("bolts", demo)


def test_drilled_bolts_near_the_edge_without_the_maker(demo):
    """Six diameters of 5/8 in. are 3.75 in., more than the 2.75 in. there are."""
    bolts = {
        k: v
        for k, v in demo.raw["bolts"].items()
        if k not in ("least_edge", "least_temperature", "bond_cracked")
    }
    calc = run("bolts", type(demo)({**demo.raw, "bolts": bolts}))
    assert "Edge distance of the drilled" in asked(
        calc
    ) and "Temperature of the holes and cure" in asked(calc)
    assert any(
        "Bond stress 200 psi at the bolt, 2,000 psi in uncracked" in getattr(b, "words", "")
        for b in calc.blocks
    )


def test_young_or_cold_concrete(demo):
    assert "Age of the concrete" in asked(changed(demo, bolts__concrete_age="14 day"), "NOT OK")
    assert "Temperature of the holes" in asked(changed(demo, bolts__hole_temperature="35 F"), "NOT OK")


def test_a_hole_no_wider_than_the_rod(demo):
    assert "Hole diameter" in asked(changed(demo, bolts__hole="5/8 in"), "NOT OK")


def test_hole_depths_that_bond_does_not_cover(demo):
    assert "Embedment for bond, least" in asked(changed(demo, bolts__depth="2.4 in"))
    assert "Embedment for bond, greatest" in asked(changed(demo, bolts__depth="12.6 in"))


def test_adhesive_of_all_holes(made):
    """Own arithmetic: pi/4 (0.75^2 - 0.625^2) 7 in. = 0.94493 in.3; 3 holes and 30 % waste."""
    assert values(made, "epoxy_volume", "in**3") == pytest.approx([0.94493228 * 3 * 1.3], rel=1e-5)
    assert made.results["cartridges"] == 1


def test_many_holes_need_many_cartridges(demo):
    """22 fl oz are 39.70 in.3; a hole takes 1.2284 in.3 with waste."""
    calc = one_wall(demo, {"method": "drilled", "uplift": "1500 plf"})
    n = calc.results["bolts"]
    assert calc.results["cartridges"] == -(-n * 1.22842 // 39.703)


def test_no_drilled_walls_no_adhesive(demo):
    calc = one_wall(demo, {"method": "cast"})
    assert "cartridges" not in calc.results and not any("silica" in c for c in calc.cautions)


def test_cautions_of_drilling(made):
    words = " ".join(made.cautions)
    for part in (
        "1926.1153",
        "Brush and blow out",
        "sustained tension",
        "continuous inspection",
        "Do not cut a bar",
    ):
        assert part in words


def test_the_maker_s_distances_replace_the_code_s(demo, made):
    assert check(made, "Edge distance of the drilled").demand == "1.75 in."
    assert check(made, "Spacing of the drilled").demand == "3 in."
    bare = without(demo, "least_edge", "least_spacing")
    assert check(bare, "Edge distance of the drilled").demand == "3.75 in."
    assert check(bare, "Edge distance of the drilled").capacity == "2.75 in."
    assert check(bare, "Spacing of the drilled").demand == "3.75 in."
    assert "tested" in check(made, "Spacing of the drilled").remark


@pytest.mark.parametrize("field", ["cure", "hole_temperature", "least_temperature"])
def test_what_only_the_maker_knows_is_asked_for(demo, field):
    assert "Temperature of the holes and cure" in asked(without(demo, field))


def test_cure_time_is_the_maker_s(made):
    assert "for 12 h at that temperature" in check(made, "Temperature of the holes for").remark


def test_bond_of_both_kinds_of_concrete(demo):
    """The maker's stress at the bolt counts by its concrete; the reach always by uncracked concrete."""
    cracked = changed(demo)
    sound = changed(demo, bolts__concrete="uncracked")
    assert values(cracked, "basic_bond")[0] == pytest.approx(1100 * 3.14159265 * 0.625 * 7)
    assert values(sound, "basic_bond")[0] == pytest.approx(2000 * 3.14159265 * 0.625 * 7)
    assert values(cracked, "bond_reach", "in")[0] == pytest.approx(10 * 0.625 * (2000 / 1100) ** 0.5)
    assert "code's default" not in notes(cracked)


def default_bond(demo, **bolts):
    """The demo's drilled bolts by the code's default bond stress (ACI 318M-19, Table 17.6.5.2.5, in a reprint)."""
    raw = {k: v for k, v in demo.raw["bolts"].items() if k not in ("bond_cracked", "bond_uncracked")}
    return run("bolts", type(demo)({**demo.raw, "bolts": {**raw, **bolts}}))


def test_default_bond_stress_asks_for_50_f_and_2500_psi(demo):
    """10 C and 17 MPa in the metric edition; the demo's hole is at 45 F and its concrete has 4,000 psi."""
    calc = default_bond(demo)
    warm = check(calc, "for the default bond")
    assert warm.status == "NEEDS ENGINEER" and "318M" in warm.clause.key
    assert check(default_bond(demo, hole_temperature="52 F"), "for the default bond").status == "OK"
    assert any("rotary hammer" in words for words in calc.cautions)


def test_without_the_hole_s_temperature_the_default_is_not_worked_out(demo):
    raw = {k: v for k, v in demo.raw["bolts"].items() if k not in ("bond_cracked", "hole_temperature")}
    calc = run("bolts", type(demo)({**demo.raw, "bolts": raw}))
    assert check(calc, "for the default bond").status == "NOT WORKED OUT"


def test_a_maker_s_bond_needs_none_of_the_defaults_conditions(made):
    assert not any("default bond" in c.title for c in made.checks)


def test_concrete_beyond_8000_psi_is_not_for_drilled_bolts(demo, made):
    """ACI 318M-19 17.3.1: 55 MPa, 7,977 psi."""
    assert check(made, "Concrete strength in the formulas").status == "OK"
    strong = changed(demo, concrete__strength="8200 psi")
    assert check(strong, "Concrete strength in the formulas").status == "NEEDS ENGINEER"


def test_the_category_of_the_adhesive_lowers_bond_and_breakout(demo, made):
    """ACI 318M-19 Table 17.5.3(b): 0.65, 0.55, 0.45 by category."""
    assert any("Category 1 is taken" in words for words in made.cautions)
    third = changed(demo, bolts__category=3)
    assert not any("Category 1 is taken" in words for words in third.cautions)

    def factors(calc):
        return {
            s.bound["phi"]
            for s in steps(calc, "design_strength")
            if s.symbol in ("N_a_bond", "N_a_cone")
        }

    assert 0.65 in factors(made) and 0.45 in factors(third) and 0.65 not in factors(third)
