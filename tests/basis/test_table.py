"""Data tables: every row cites a known document, and look-ups say what is known."""

import pytest

from calcbook.basis.sources import TABLES, Citation
from calcbook.basis.table import lookup, table

NAMES = sorted(path.stem for path in TABLES.glob("*.csv"))


@pytest.mark.parametrize("name", NAMES)
def test_every_row_of_every_table_has_its_source(name):
    rows = table(name)
    assert rows
    assert all(isinstance(row["source"], Citation) for row in rows)


def test_numbers_are_numbers_and_words_words():
    row = lookup("blankets", name="1 in. foam blanket")
    assert row["R_per_inch"] == 4.0
    assert isinstance(row["name"], str)


def test_an_unknown_row_is_named_with_those_that_are_known():
    with pytest.raises(
        KeyError, match="'straw' is not in the table blankets; known are none, plastic sheet"
    ):
        lookup("blankets", name="straw")
