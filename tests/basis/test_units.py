"""Reading and writing quantities: feet and inches, trade units, mass and force."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.basis.reading import read, read_feet_inches, read_told
from calcbook.basis.showing import feet_inches, number_text, show, show_length
from calcbook.basis.units import TRADE_UNITS, Q, UnitError, unit, ureg


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("24'-6 1/2\"", 294.5), ("24' 6 1/2\"", 294.5), ("24 ft 6.5 in", 294.5), ("24 ft. 6 1/2 in.", 294.5),
        ("24-6 1/2", 294.5), ("24’-6½”", 294.5), ("24′ 6 ½″", 294.5), ("24'6", 294.0), ("40'", 480.0),
        ("6 1/2\"", 6.5), ("1/2 in", 0.5), ("¾\"", 0.75), ("11 15/16 in", 11.9375), ("5 in", 5.0), ("5 in.", 5.0),
        ("-3'-2\"", -38.0), ("2 feet 3 inches", 27.0), ("7.48 m", 7480 / 25.4), ("100 mm", 100 / 25.4),
        ("3 yd", 108.0), ("0'-0\"", 0.0), ("12.5 ft", 150.0), ("4 1/2 ft", 54.0), ("4½'", 54.0),
        ("2-11/16 in", 2.6875), ('1-1/2"', 1.5), ("1-1/2 in.", 1.5), ("3-11/16 ft", 44.25), ("2-6 in", 30.0),
    ],
)  # fmt: skip
def test_a_length_is_read_as_a_builder_writes_it(text, inches):
    assert read(text, "ft").m_as("inch") == pytest.approx(inches, rel=1e-12, abs=1e-12)


@pytest.mark.parametrize(
    ("inches", "text"),
    [
        (294.5, "24'-6 1/2\""), (5, '5"'), (0, '0"'), (12, "1'-0\""), (11.9375, '11 15/16"'), (11.97, "1'-0\""),
        (47.97, "4'-0\""), (0.5, '1/2"'), (0.03, '0"'), (0.04, '1/16"'), (-38, "-3'-2\""), (144.25, "12'-0 1/4\""),
        (12.5, "1'-0 1/2\""), (23.9999, "2'-0\""),
    ],
)  # fmt: skip
def test_a_length_is_written_in_feet_inches_and_sixteenths_and_carries(inches, text):
    assert feet_inches(Q(inches, "in")) == text


@given(st.integers(-(10**6), 10**6))
def test_every_sixteenth_of_an_inch_is_read_back_as_it_was_written(sixteenths):
    assert read_feet_inches(feet_inches(Q(sixteenths / 16, "in"))).m_as("inch") == sixteenths / 16


@given(st.floats(-1e5, 1e5))
def test_writing_a_length_rounds_by_at_most_half_a_sixteenth(inches):
    back = read_feet_inches(feet_inches(Q(inches, "in"))).m_as("inch")
    assert abs(back - inches) <= 1 / 32 + 1e-9


@pytest.mark.parametrize(
    "text", ["5/0 in", "3'-12\"", "3 ft 14 in", "", "  ", "'", '"', "ft", "1//2 in", "3'' 4'"]
)
def test_a_length_that_makes_no_sense_is_refused(text):
    with pytest.raises(UnitError):
        read(text, "ft")


@pytest.mark.parametrize(
    ("text", "wanted", "unit_name", "value"),
    [
        ("3500 psi", "psi", "psi", 3500), ("24 MPa", "psi", "psi", 3480.906), ("1,500 psf", "psf", "psf", 1500),
        ("6500 lbf", "lbf", "kip", 6.5), ("6.5 kips", "lbf", "lbf", 6500), ("12 k", "kip", "kip", 12),
        ("145 pcf", "pcf", "pcf", 145), ("100 pci", "pci", "pci", 100), ("600 plf", "plf", "plf", 600),
        ("2 ksf", "psf", "psf", 2000), ("36 ksi", "psi", "psi", 36000), ("6 cu yd", "yd3", "ft3", 162),
        ("6 cy", "yd3", "yd3", 6), ("1 m3", "yd3", "yd3", 1.307951), ("320 sq ft", "ft2", "ft2", 320), ("320 sf", "ft2", "ft2", 320),
        ("1.35 ton/yd3", "ton/yd3", "lb/yd3", 2700), ("5 lb/yd3", "lb/yd3", "lb/yd3", 5), ("3 kg/m^3", "lb/yd3", "lb/yd3", 5.056665),
        ("70 F", "degF", "degF", 70), ("21 °C", "degF", "degF", 69.8), ("-4 C", "degF", "degF", 24.8), ("12 mph", "mph", "km/h", 19.312128),
        ("$168/yd3", "$/yd3", "$/yd3", 168), ("168 $/yd3", "$/yd3", "$/yd3", 168), ("$1,250.50", "$", "$", 1250.5), ("$45 / h", "$/h", "$/h", 45),
        ("8 %", "1", "1", 0.08), ("0.08", "1", "1", 0.08), ("30 min", "h", "h", 0.5), ("2 rolls", "roll", "roll", 2), ("4 bags", "bag", "bag", 4),
        ("1 1/2 h", "h", "h", 1.5), ("1½ h", "h", "h", 1.5), ("3/10", "1", "1", 0.3), ("-1/2 °F", "degF", "degF", -0.5),
        ("1e3 psf", "psf", "psf", 1000), ("2 tons", "ton", "lb", 4000), ("1 metric_ton", "ton", "ton", 1.1023113),
    ],
)  # fmt: skip
def test_a_quantity_is_read_with_its_unit(text, wanted, unit_name, value):
    names = {"km/h": "kilometer/hour"}
    found = read(text, wanted).m_as(names.get(unit_name) or unit(unit_name))
    assert found == pytest.approx(value, rel=1e-6)


@pytest.mark.parametrize("text", ["5 ton", "2000 kg"])
def test_a_mass_where_a_force_is_meant_is_refused_by_name(text):
    with pytest.raises(UnitError, match="is a mass where a force or weight is meant"):
        read(text, "lbf")


def test_a_mass_per_volume_is_refused_where_a_weight_is_meant():
    with pytest.raises(UnitError, match="is a mass where a force or weight is meant"):
        read("2300 kg/m3", "pcf")


@pytest.mark.parametrize(
    ("text", "wanted", "value", "told"),
    [
        ("6500 lb", "lbf", 6500, "6,500 lbf, a force"), ("6500 lbs.", "lbf", 6500, "6,500 lbf, a force"),
        ("6500#", "lbf", 6500, "6,500 lbf, a force"), ("450 lb/ft", "plf", 450, "450 lbf/ft, a force per length"),
        ("450 lbs per foot", "plf", 450, "450 lbf/ft"), ("3000 lb/in2", "psi", 3000, "3,000 psi, a pressure"),
        ("3000 pounds per square inch", "psi", 3000, "3,000 psi"), ("40 lb/ft2", "psf", 40, "40 psf"),
        ("145 lb/cu ft", "pcf", 145, "145 pcf"), ("145 lb/ft3", "pcf", 145, "145 pcf"), ("100 lb/in3", "pci", 100, "100 pci"),
        ("$172 per yard", "$/yd3", 172, "$172.00/yd³"), ("$172/yd", "$/yd3", 172, "$172.00/yd³"), ("9 yards", "yd3", 9, "9 yd³"),
        ("565 lb per yard", "lb/yd3", 565, "565 lb/yd³"), ("25 yards an hour", "yd3/h", 25, "25 yd³/h"),
        ("$215 each", "$/roll", 215, "$215.00/roll"), ("$22", "$/bag", 22, "$22.00/bag"),
        ("12 K", "lbf", 12000, "12,000 lbf"), ("7.5 M", "ft", 24.606299, "24.6 ft"), ("C25/30", "psi", 3625.943, "25 MPa by cylinder (3,630 psi), which is f'c"),
    ],
)  # fmt: skip
def test_what_is_taken_for_something_else_than_it_says_is_told(text, wanted, value, told):
    found, words = read_told(text, wanted)
    assert found.m_as(unit(wanted)) == pytest.approx(value, rel=1e-6)
    assert words.startswith(f"{text!r} is taken as {told}")


@pytest.mark.parametrize(
    ("text", "wanted", "value"),
    [
        ("3000 PSI", "psi", 3000), ("24 MPA", "psi", 3480.906), ("12 kips", "lbf", 12000), ("2 Kips", "lbf", 2000),
        ("0", "lbf", 0), (0, "in", 0), (0.0, "$", 0), ("7,48 m", "ft", 24.540682), ("0,125 m", "in", 4.9212598), ("1.250,50 m", "ft", 4102.69),
        ("1,500 psf", "psf", 1500), ("1,234.5 psf", "psf", 1234.5), ("24 FT 6 IN", "ft", 24.5), ("50 f", "degF", 50),
        ("$172/cy", "$/yd3", 172), ("$172 / cu. yd.", "$/yd3", 172), ("$46/hr", "$/h", 46), ("$46 an hour", "$/h", 46), ("$4.20 ea", "$", 4.2),
        ("$21 per sheet", "$", 21), ("$0.24/sf", "$/ft2", 0.24), ("$1.90/lf", "$/ft", 1.9), ("$31 a ton", "$/ton", 31),
        ("€172,50/m³", "$/yd3", 131.885713), ("172.50 EUR/m3", "$/yd3", 131.885713), ("£4.20", "$", 4.2), ("CHF 38", "$", 38), ("38 CHF", "$", 38),
        ("-$5", "$", -5), ("US$ 1,250.50", "$", 1250.5), ("44.1", "deg", 44.1), (-87.6, "deg", -87.6), ("87.6° W", "deg", -87.6), ("44.1 N", "deg", 44.1),
    ],
)  # fmt: skip
def test_other_ways_of_writing_are_read_as_what_they_say(text, wanted, value):
    found, words = read_told(text, wanted)
    assert found.m_as(unit(wanted)) == pytest.approx(value, rel=1e-6) and words == ""


@pytest.mark.parametrize(("text", "wanted"), [("20 kN", "lb"), ("5 lbf", "ton"), ("150 pcf", "lb/yd3")])
def test_a_force_where_a_mass_is_meant_is_refused_by_name(text, wanted):
    with pytest.raises(UnitError, match="is a force or weight where a mass is meant"):
        read(text, wanted)


@pytest.mark.parametrize(
    ("given", "wanted", "said"),
    [
        (5, "in", "has no unit"), ("5", "in", "has no unit"), ("five inches", "in", "not a number"), ("5 furlongz", "in", "not known"),
        ("5 psi", "in", "is a pressure, not a length"), (True, "in", "not a quantity"), (None, "in", "not a quantity"), ([], "in", "not a quantity"),
        ("nan in", "in", "not a number"), (math.inf, "1", "not a finite number"), ("1e999 in", "in", "not a finite number"), ("9" * 80, "in", "too long"),
        ("9**9**9", "in", "not known"), ("__import__('os')", "in", "not a number"), ("5 in; 3 in", "in", "not known"), ("7,48,1 m", "ft", "not known"), ("0 h", "degF", "a time, not a temperature"),
        ("0", "degF", "has no unit"), ("44 %", "deg", "has no unit"), ("C30/25", "psi", "no strength class"), ("5 candela", "yd3/h", "is not a volume per time"), ("7 EUR", "lbf", "not known"),
        ("20 %", "in", "a plain number, not a length"), ("1-1/2", "in", "has no unit"), ("3/0 h", "h", "not known"),
        ("94 lb", "bag", "cannot be turned into bag"), ("2 bags", "lb", "not a mass"),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_refused_in_one_sentence(given, wanted, said):
    with pytest.raises(UnitError) as caught:
        read(given, wanted)
    assert said in str(caught.value) and "\n" not in str(caught.value)


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=70), st.sampled_from(sorted(TRADE_UNITS)))
def test_any_text_is_read_or_refused_in_one_sentence(text, wanted):
    try:
        found = read(text, wanted)
    except UnitError as error:
        assert len(str(error)) < 300
    else:
        assert math.isfinite(found.magnitude) and found.is_compatible_with(unit(wanted))


@given(st.sampled_from(sorted(TRADE_UNITS)), st.floats(0.01, 1e6))
def test_a_trade_unit_and_its_metric_counterpart_say_the_same(name, value):
    row = TRADE_UNITS[name]
    if "deg" in name and "delta" not in name and name != "deg" and "*" not in name and "/" not in name:
        return  # scales with a shifted zero
    quantity = Q(value, name)
    assert (quantity.m_as(row.si_pint) * quantity._REGISTRY.Unit(row.si_pint)).m_as(
        unit(name)
    ) == pytest.approx(value)


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0, "0"), (1120, "1,120"), (15.43209876, "15.43"), (22.44, "22.44"), (285.4912, "285"), (12762.7, "12,760"), (3122018.6, "3,120,000"),
        (0.6159, "0.6159"), (19.9996, "20.0"), (33.3333333, "33.3"), (0.00502, "0.00502"), (-0.0123456, "-0.01235"), (99.96, "99.96"), (0.333333333, "0.333"),
        (math.inf, "∞"), (-math.inf, "−∞"), (math.nan, "not a number"), (4690, "4,690"), (1e15, "1×10^15"), (0.25, "0.25"),
    ],
)  # fmt: skip
def test_numbers_are_printed_exact_where_short_and_else_with_three_or_four_figures(value, text):
    assert number_text(value) == text


@given(st.floats(1e-4, 1e9))
def test_a_printed_number_is_within_half_a_percent(value):
    assert float(number_text(value).replace(",", "")) == pytest.approx(value, rel=0.0051)


def test_quantities_are_shown_in_the_units_of_the_job():
    assert show(Q(3000, "psi"), "psi") == "3,000 psi"
    assert show(Q(3000, "psi"), "psi", "si") == "20.7 MPa"
    assert show(Q(168, "$/yd3"), "$/yd3") == "$168.00/yd³"
    assert show(Q(1234.5, "$"), "$") == "$1,234.50" and show(Q(-3, "$"), "$") == "-$3.00"
    assert show(Q(0.05, "1"), "%") == "5 %"
    assert show(Q(68, "degF"), "degF", "si") == "20 °C"
    assert show_length(Q(294.5, "in")) == "24'-6 1/2\""
    assert (
        show_length(Q(1, "ft"), "si") == "0.305 m"
        and show_length(Q(5, "in"), "si", small=True) == "127 mm"
    )


@pytest.mark.parametrize("name", [n for n in TRADE_UNITS if n not in ("1", "%")])
@pytest.mark.parametrize("system", ["us", "si"])
def test_what_is_printed_can_be_typed_again(name, system):
    row = TRADE_UNITS[name]
    wanted = ureg.Quantity(12.5, row.pint_for(system))
    for word in (row.label_for(system), name if system == "us" else row.si):
        typed = f"$12.50{word[1:]}" if word.startswith("$") else f"12.5 {word}"
        assert read(typed, name).to(wanted.units).m == pytest.approx(12.5)


@given(st.floats(allow_nan=False, allow_infinity=False), st.sampled_from(sorted(TRADE_UNITS)))
def test_a_quantity_is_the_one_that_pint_makes(value, name):
    """Q builds it without pint's own checks: it must be told apart from pint's in nothing."""
    quick, usual = Q(value, name), ureg.Quantity(value, unit(name))
    assert type(quick) is type(usual) and vars(quick) == vars(usual)
    assert repr(quick) == repr(usual) and quick == usual and hash(quick) == hash(usual)
