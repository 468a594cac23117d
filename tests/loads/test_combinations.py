"""Load combinations of ASCE 7-16 and the loads of walls."""

import pytest

from calcbook.basis.formula import FormulaError
from calcbook.basis.table import table
from calcbook.basis.units import Q
from calcbook.loads.combinations import combined_load, governing_combination, governing_load


@pytest.mark.remembered("ASCE 7-16", "2.3.1 and 2.4.1")
@pytest.mark.parametrize(
    ("D", "L", "S", "strength", "allowable"),
    [
        pytest.param(10, 0, 0, "1.4 D", "D", id="dead load alone"),
        pytest.param(10, 10, 0, "1.2 D + 1.6 L + 0.5 S", "D + L", id="a floor"),
        pytest.param(10, 0, 10, "1.2 D + 1.6 S + L", "D + S", id="a roof"),
        pytest.param(10, 10, 9, "1.2 D + 1.6 S + L", "D + 0.75 L + 0.75 S", id="floor and roof"),
    ],
)
def test_governing_combinations(D, L, S, strength, allowable):
    """ASCE 7-16 2.3.1 and 2.4.1 (from memory)."""
    loads = [Q(x, "kip") for x in (D, L, S)]
    assert governing_combination("strength", *loads)["name"] == strength
    assert governing_combination("allowable", *loads)["name"] == allowable
    with pytest.raises(FormulaError, match="choose strength or allowable"):
        governing_combination("asd", *loads)


def test_combined_load_by_hand():
    """Own arithmetic: 12 + 160 + 500."""
    assert combined_load("10 lbf", "100 lbf", "1000 lbf", 1.2, 1.6, 0.5).magnitude == pytest.approx(672)


@pytest.mark.published(
    "FEMA P-55", "chapter 8, the list of ASCE 7-10 section 2.4.1", "governing_combination"
)
def test_allowable_stress_combinations_of_the_manual():
    """Nos. 1, 2, 3, 4, 5, 6a and 7 of the list (page text read): D, L, S and W by their factors."""
    listed = {
        (1, 0, 0, 0),
        (1, 1, 0, 0),
        (1, 0, 1, 0),
        (1, 0.75, 0.75, 0),
        (1, 0, 0, 0.6),
        (1, 0.75, 0.75, 0.45),
        (0.6, 0, 0, 0.6),
    }
    rows = [row for row in table("combinations") if row["kind"] == "allowable"]
    assert {tuple(row[x] for x in "DLSW") for row in rows} == listed


def test_every_combination_names_its_source():
    rows = table("combinations")
    assert {row["kind"] for row in rows} == {"strength", "allowable"}
    assert all(row["source"].place for row in rows)


def test_governing_load():
    loads = [Q(x, "lbf") for x in (4000, 3500, 5000)]
    assert governing_load("strength", *loads).magnitude == pytest.approx(1.2 * 4000 + 1.6 * 5000 + 3500)
    assert governing_load("allowable", *loads).magnitude == pytest.approx(4000 + 0.75 * 8500)
