"""Steel in the slab, against CRSI and the printed table of welded wire."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.basis.formula import FormulaError
from calcbook.basis.table import table
from calcbook.basis.units import Q
from calcbook.slab.steel import (
    bar_area,
    development_length,
    drag_steel_area,
    lap_splice,
    mesh_lap,
    round_area,
    steel_by_width,
    steel_stress,
    wire_area,
    wire_mass,
    wire_style,
    wire_weight,
)  # fmt: skip


@pytest.mark.published("CRSI EDR 37", "Example 1", "drag_steel_area", "steel_stress")
def test_drag_steel_of_crsi_edr_37():
    """Example 1 (read in a reprint): 100 psf, 24 ft, 1.5, 2/3 of 60 ksi: 0.045 in2/ft each way."""
    f_s = steel_stress("60000 psi")
    assert f_s.magnitude == pytest.approx(40000)
    assert drag_steel_area(1.5, "24 ft", "100 psf", f_s).magnitude == pytest.approx(0.045, abs=5e-4)


@pytest.mark.published("CRSI EDR 37", "#3 bars by spacing", "bar_area", "steel_by_width")
@pytest.mark.parametrize(("inches", "printed"), [(29, 0.046), (18, 0.073)])
def test_bars_by_width_of_crsi_edr_37(inches, printed):
    """The same report: #3 at 29 in. 0.046, at 18 in. 0.073 in2/ft."""
    assert steel_by_width(bar_area("#3"), Q(inches, "in")).magnitude == pytest.approx(printed, abs=5e-4)


@pytest.mark.published("Concrete Construction", "October 1975")
@pytest.mark.parametrize("row", table("wire"), ids=lambda row: row["style"])
def test_the_printed_table_of_welded_wire(row):
    """Concrete Construction, October 1975 (read in a reprint): areas exact, lb per 100 ft2 within 1.1 and 3.4 %."""
    assert wire_area(row["style"]).magnitude == pytest.approx(row["printed_area"], abs=1e-9)
    found = wire_weight(row["style"]).m_as("lb/ft**2") * 100
    assert abs(found - row["printed_weight"]) < min(1.1, 0.034 * row["printed_weight"])


@pytest.mark.worked("wire_mass")
def test_mass_of_wire_by_counting_wires():
    """6x6-W2.9: 11 wires 20 ft long and 40 of 62 in. on 100 ft2, 3.40 lb for a square inch and foot."""
    counted = 3.40 * 0.029 * (11 * 20 + 40 * 62 / 12)
    assert wire_weight("6x6-W2.9xW2.9").m_as("lb/ft**2") * 100 == pytest.approx(counted)
    uneven = wire_mass(Q(0.04, "in2"), Q(6, "in"), Q(0.02, "in2"), Q(12, "in"))
    assert uneven.m_as("lb/ft**2") * 100 == pytest.approx(3.40 * (0.04 * 11 * 20 + 0.02 * 20 * 62 / 12))


@pytest.mark.parametrize("row", table("bars"), ids=lambda row: row["size"])
def test_bars_of_astm_a615(row):
    """Table 1 (from memory): d = n/8, area of the circle, 3.40 lb for a square inch and foot."""
    area = round_area(Q(row["diameter_in"], "in")).m_as("inch**2")
    assert row["diameter_in"] == int(row["size"][1:]) / 8
    assert bar_area(row["size"]).m_as("inch**2") == pytest.approx(area, abs=0.0055)
    assert row["weight_lb_per_ft"] == pytest.approx(3.40 * area, abs=0.001)


@pytest.mark.published("Concrete Construction 1975", "")
def test_wire_diameters():
    """10 gage: 0.135 in. is W1.4; 8 gage: 0.162 in. (Concrete Construction 1975)."""
    assert round_area("0.135 in").m_as("inch**2") == pytest.approx(0.0143, abs=5e-5)


@pytest.mark.remembered("ACI 318-19", "25.5.4.1")
@pytest.mark.parametrize(("s_t", "l_d", "inches"), [(6, 0, 8), (4, 0, 6), (3, 0, 6), (6, 8, 12)])
def test_laps(s_t, l_d, inches):
    """ACI 318-19 25.5.4.1 (from memory): spacing and 2 in., 1.5 l_d, 6 in."""
    assert mesh_lap(Q(s_t, "in"), Q(l_d, "in")).magnitude == pytest.approx(inches)


@settings(max_examples=20, deadline=None)
@given(st.floats(5, 40), st.floats(40, 150), st.floats(1, 2.5))
def test_longer_and_heavier_panels_need_more_steel(L, w, F):
    base = drag_steel_area.bulk(F=F, L=L, w=w, f_s=40000.0)
    for changed in ({"L": 1.1 * L}, {"w": 1.1 * w}, {"F": 1.1 * F}, {"f_s": 36000.0}):
        assert drag_steel_area.bulk(**{"F": F, "L": L, "w": w, "f_s": 40000.0, **changed}) > base


def test_styles_are_read_and_refused_in_words():
    """By definition of the style's name: spacings in inches, areas in hundredths of a square inch."""
    assert [v.magnitude for v in wire_style("4x12-W2.0xW1.4")] == pytest.approx([4, 12, 0.02, 0.014])
    for bad in ("6x6-10x10", "6 by 6", "6x6-W2.9"):
        with pytest.raises(FormulaError, match="write it like 6x6-W1.4xW1.4"):
            wire_area(bad)
    for bad in (
        "1x6-W2xW2",
        "18.5x6-W2xW2",
        "6x18.5-W2xW2",
        "6x6-W45.5xW2",
        "6x6-W2xW45.5",
        "6x6-W2xW0.5",
    ):
        with pytest.raises(FormulaError, match="spacing is 2 to 18 in., wire W1 to W45"):
            wire_weight(bad)
    assert [v.magnitude for v in wire_style("2x18-W1xW45")] == [2, 18, 0.01, 0.45]
    assert [v.magnitude for v in wire_style("18x2-W45xW1")] == [18, 2, 0.45, 0.01]
    with pytest.raises(FormulaError, match="'#14' is not in the table bars"):
        bar_area("#14")


@pytest.mark.form("ACI 318-25", "25.4.2 and Table 25.5.2.1", "development_length", "lap_splice")
@pytest.mark.parametrize(
    ("d_b", "f_c", "l_d", "lap"),
    [
        (0.5, 4000, 18.97, 24.67),
        (0.375, 4000, 14.23, 18.50),
        (0.375, 2500, 18.0, 23.4),
        (0.375, 10000, 12, 15.6),
    ],
)
def test_laps_of_bars_by_their_rule(d_b, f_c, l_d, lap):
    """Own arithmetic of the forms, as a summary of the 2025 edition gives them too: 60,000 d_b/(25 sqrt f'c), at least 12 in.; 1.3 of it."""
    found = development_length("60000 psi", Q(f_c, "psi"), Q(d_b, "in"))
    assert found.m_as("in") == pytest.approx(l_d, abs=0.005)
    assert lap_splice(found).m_as("in") == pytest.approx(lap, abs=0.005)
