"""The registry that begins with few definitions says what pint's own, with all of them, says."""

from pathlib import Path

import pint
import pytest

from calcbook.basis import unit_registry
from calcbook.basis.unit_registry import Registry
from calcbook.basis.units import TRADE_UNITS

# made or made anew by the book, each from pint's own units as its line says
OURS = {line.split(" ")[0] for line in unit_registry._OURS} | {"cy", "cuyd"}


@pytest.fixture(scope="module")
def whole():
    """pint with all its definitions, and the book's."""
    registry = pint.UnitRegistry(None, autoconvert_offset_to_baseunit=True, on_redefinition="ignore")
    registry.load_definitions(Path(pint.__file__).with_name("default_en.txt"))
    registry.load_definitions([*unit_registry._OURS])
    return registry


def in_base_units(registry, words):
    """What one and two of a unit are in base units (an offset shows between them), and the dimensions."""
    one, two = (registry.Quantity(n, registry.parse_units(words)).to_root_units() for n in (1.0, 2.0))
    return one.magnitude, two.magnitude, dict(one.dimensionality)


def read_at_once():
    """Every name of every line that is read at once, and each word with a prefix."""
    for line in unit_registry._lines():
        name, _, *others = (part.strip() for part in line.partition("#")[0].split("="))
        if not name.endswith("-"):
            yield from (word for word in (name, *others) if word not in ("_", "%"))
    yield from unit_registry._WITH_PREFIX


def test_every_unit_that_is_read_at_once_is_as_in_the_whole_of_pint(whole):
    few = Registry()
    words = {*read_at_once(), *OURS}
    words |= {name for row in TRADE_UNITS.values() for name in (row.pint_name, row.si_pint)}
    assert len(words) > 200
    for word in words:
        assert in_base_units(few, word) == in_base_units(whole, word), word
    assert not few.whole


def test_any_other_unit_of_pint_is_read_when_it_is_named(whole):
    words = [
        "furlong",
        "centimeters",
        "kPas",
        "acre",
        "hectare",
        "kgf",
        "inches_H2O",
        "µm",
        "mil",
        "cc",
        "nit",
    ]
    few = Registry()
    assert in_base_units(few, words[0]) == in_base_units(whole, words[0])
    assert few.whole
    for word in words:
        assert in_base_units(few, word) == in_base_units(whole, word), word
    assert few.Quantity(1, "bag").dimensionality == {"[bag]": 1}  # no mass, as pint has it
    assert few.Quantity(2, "lb").to_base_units().units == few.kilogram


def test_a_word_that_is_no_unit_is_refused_as_by_pint():
    few = Registry()
    with pytest.raises(pint.UndefinedUnitError):
        few.parse_units("wheelbarrow")
    assert few.whole


def test_no_line_that_is_wanted_at_once_is_missing_from_pint():
    begun = [line.split("=", 1)[0].strip() for line in unit_registry._lines()]
    assert sorted(begun) == sorted(unit_registry._AT_ONCE)
