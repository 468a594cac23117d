"""The ground of a job: what it bears and how stiff it is."""

import pytest
from structure import checks, job

from calcbook.book.chapters import run
from calcbook.slab.soil import counted_weight, soil_bearing


def test_bearing_is_given_or_by_class():
    """IBC 2012 Table 1806.2, read in a reprint: sand 2,000 psf."""
    assert soil_bearing(job(soil={"bearing": "1800 psf", "kind": "clay"}).soil).m_as("psf") == 1800
    assert soil_bearing(job(soil={"kind": "sand"}).soil).m_as("psf") == 2000
    assert soil_bearing(job(soil={}).soil) is None


def test_soil_dug_out_counts_only_for_a_net_value():
    assert counted_weight(job(soil={"net": True, "weight": "110 pcf"}).soil).m_as("pcf") == 110
    assert counted_weight(job(soil={"weight": "110 pcf"}).soil) is None


@pytest.mark.parametrize(
    ("soil", "pci", "told"),
    [
        ({}, 100, "The ground's stiffness is not known"),
        ({"k": "150 pci", "group": "SM", "moisture": "12 %"}, 150, None),
        ({"group": "SM", "moisture": "12 %"}, 225, "The table's value for SM"),
        ({"group": "SM"}, 100, "The ground's stiffness is not known"),
        ({"moisture": "12 %"}, 100, "The ground's stiffness is not known"),
    ],
)
def test_stiffness_is_given_or_looked_up(soil, pci, told):
    """UFC 3-320-06A, table of modulus of soil reaction (from memory); else what Table 3-2 rests on."""
    made = job(soil=soil)
    calc = run("slab", made)
    length = (57000 * 4000**0.5 * 125 / (12 * (1 - 0.15**2) * pci)) ** 0.25
    assert calc.results["l"].m_as("inch") == pytest.approx(length)
    first = calc.steps[0].words
    assert first.startswith(told) if told else first == "How stiff the concrete is."
    assert any("stiffness is not known" in c for c in calc.cautions) == (
        told == "The ground's stiffness is not known"
    )


def test_water_outside_the_table_is_asked_about():
    wet = job(soil={"group": "SM", "moisture": "30 %"})
    found = checks("slab", wet)["Modulus of subgrade reaction, k"]
    assert found.status == "NEEDS ENGINEER"
    assert "30 % is outside 1 to 20 %, what the table gives for SM; have k measured" in found.to_do
    (k,) = [s.value for s in run("slab", wet).steps if s.unit == "pci"]
    assert k.m_as("pci") == 100
