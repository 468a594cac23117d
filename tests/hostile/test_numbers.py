"""Lengths, quantities and inputs of a formula: read, or refused in one sentence; quickly."""

import math
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.basis.reading import read, read_feet_inches
from calcbook.basis.units import TRADE_UNITS, Quantity, UnitError, unit
from calcbook.command import cli

TOKENS = st.sampled_from(
    [*"0123456789.,/-+'\"½⅞−′″ e%$²^*()_[]{}\\", "ft", "in", " ft ", "inch", "1e308", "nan", "inf", "psi",
     "degF", "**", "--", "١", "０", "\u202e", "\x00", "999999999", "lbf/ft", "__import__", "meter", "yd3"]
)  # fmt: skip
TYPED = st.one_of(st.lists(TOKENS, max_size=14).map("".join), st.text(max_size=70))


@settings(max_examples=400, deadline=None)
@given(TYPED)
def test_feet_and_inches_are_read_or_refused_in_words(text):
    try:
        length = read_feet_inches(text)
    except UnitError as error:
        assert len(str(error).splitlines()) == 1 or "\n" in text
    else:
        assert length is None or math.isfinite(length.m_as("inch"))


@settings(max_examples=400, deadline=2000)
@given(TYPED, st.sampled_from(sorted(TRADE_UNITS)))
def test_a_quantity_is_read_finite_or_refused_in_words(text, name):
    try:
        found = read(text, name)
    except UnitError as error:
        assert 10 < len(str(error)) < 300
    else:
        assert isinstance(found, Quantity) and math.isfinite(found.magnitude)


@pytest.mark.parametrize(
    "text",
    ["1e308 ft", "1e400 ft", "nan", "nan ft", "inf", "inf ft", "-inf ft", "1e-300 ft", "1e9 ft", "0 ft", "-1 ft",
     "7,5,5 ft", "3.5.5 m", "1e308 parsec", "1" * 59 + " ft", "9" * 50 + "'", "1/" + "9" * 50 + " in", "ft", "5 ft**9999999",
     "5 in**in", "5 (((((((((ft", "5 ft; import os", "١٢ ft"],
)  # fmt: skip
def test_a_length_that_cannot_be_is_refused_and_its_field_named(text, tmp_path, capsys):
    path = tmp_path / "job.toml"
    path.write_text(f'[slab]\nlength = "{text}"\nwidth = "16 ft"\n', encoding="utf-8")
    begun = time.monotonic()
    status = cli.main(["check", str(path)])
    out, err = capsys.readouterr()
    assert status == 2 and out == "" and len(err.splitlines()) == 1 and len(err) < 300, (text, err)
    assert "[slab]" in err and time.monotonic() - begun < 5


@pytest.mark.parametrize("text", ["9 ft**9**9**9**9", "5 $$$$$77777777777777777777777777Pa7MPa", "5 " + "a" * 50 + "!",
    "5 ft*" + "ft*" * 16 + "!", "5 " + "(" * 50, "5 ft" + "**-1" * 12, "5 9**9**9**9 ft"])  # fmt: skip
@pytest.mark.parametrize("name", ["ft", "1", "$"])
def test_a_unit_is_never_a_sum_to_be_worked_out(text, name):
    """Found by fuzz.py: a tower of powers took longer than anyone waits."""
    begun = time.process_time()
    with pytest.raises(UnitError, match="is not known|is not a number with a unit"):
        read(text, name)
    assert time.process_time() - begun < 1


def test_units_written_as_a_builder_writes_them_are_read():
    for text, name, value in (
        ("5 lb/ft^2/h", "lb/ft2/h", 5), ("5 lb / ft**2 / h", "lb/ft2/h", 5), ("12 1/h", "1/h", 12),
        ("3 cu. yd", "yd3", 3), ("7 sq ft", "ft2", 7), ("$5 / yd3", "$/yd3", 5), ("2 h**-1", "1/h", 2),
        ("5 kN*m/m", "lbf*in/in", 1124.045), ("5 kg/(m²·h)", "lb/ft2/h", 1.02408), ("1 m^4", "in4", 2402510),
    ):  # fmt: skip
        assert read(text, name).m_as(unit(name)) == pytest.approx(value, rel=1e-5)


@pytest.mark.parametrize(
    ("text", "name"), [("5 F°", "degF"), ("5 delta_degC", "degF"), ("50 degF", "delta_degF")]
)
def test_a_temperature_is_told_from_a_difference_of_two(text, name):
    """Found by fuzz.py: both are of one dimension, and the field could not be read."""
    with pytest.raises(UnitError, match="mixes up a temperature and a difference"):
        read(text, name)


def test_a_number_beyond_all_use_is_refused():
    for text in ("5 pc**4*pc**4*pc**4*pc**4/nm**4/nm**4/nm**4/nm**4", "1e300 parsec**4/nm**4"):
        with pytest.raises(UnitError, match="beyond any number"):
            read(text, "1")


NAMES = ("slab_volume", "evaporation_rate", "corner_stress", "adhesive_per_hole", "dig_volume", "")


@settings(max_examples=150, deadline=None)
@given(
    st.sampled_from(NAMES),
    st.lists(
        st.tuples(st.sampled_from(["A", "t", "method", "T_a", "P", "x", "", "self", "job", "k"]), TYPED), max_size=5
    ),
    st.booleans(),
)  # fmt: skip
def test_a_formula_with_any_inputs_answers_or_says_why_not(name, pairs, as_json):
    words = ["value", *([name] if name else []), *(f"{k}={v}" for k, v in pairs), *["--json"][:as_json]]
    try:
        assert cli.main(words) in (0, 1, 2)
    except SystemExit as stopped:  # argparse, where a word looks like an option
        assert stopped.code == 2


@pytest.mark.parametrize("value", ["1e308 ft2", "1e-300 ft2", "1e200 ft2", "nan ft2", "inf ft2"])
def test_huge_and_tiny_numbers_go_through_a_formula_or_are_refused(value, capsys):
    status = cli.main(["value", "slab_volume", f"A={value}", "t=4 in"])
    out, err = capsys.readouterr()
    assert (status == 0 and out and "nan" not in out) or (status == 2 and len(err.splitlines()) == 1)


@pytest.mark.parametrize(
    "words",
    ["edge_stress P=1000 lbf|a=4 in|h=1e200 in|E_c=3e6 psi|nu=0.15|k=100 pci", "radius_of_relative_stiffness h=1e200 in|E_c=3e6 psi|nu=0.15|k=100 pci"],
)  # fmt: skip
def test_a_power_beyond_all_numbers_is_refused_in_a_sentence(words, capsys):
    """Found by fuzz.py: a power of a length went over what a number can hold."""
    name, _, inputs = words.partition(" ")
    status = cli.main(["value", name, *inputs.split("|")])
    out, err = capsys.readouterr()
    assert status == 2 and out == "" and len(err.splitlines()) == 1
    assert err.startswith(name) and "too large to write" in err
