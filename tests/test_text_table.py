"""Tables as text: columns that line up, and cells that no spreadsheet runs."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calcbook.text_table import aligned, csv_text, harmless, plain_number


def test_columns_line_up_right_and_left():
    assert aligned(("what", "price"), [("slab", "$1"), ("a long name", "$1,000")], right={1}) == [
        "what          price",
        "slab             $1",
        "a long name  $1,000",
    ]


@pytest.mark.parametrize("cell", ["=1+1", "+1", "-1", "@sum", "  =1", "\t=1"])
def test_a_cell_that_might_be_run_is_made_plain(cell):
    assert harmless(cell) == f"'{cell}"


@pytest.mark.parametrize(
    ("cell", "found"), [("5 in", "5 in"), (-3.5, -3.5), (None, ""), ("", ""), (0, 0)]
)
def test_numbers_and_common_text_stay(cell, found):
    assert harmless(cell) == found


@given(
    st.lists(
        st.text(st.characters(blacklist_categories=["Cs"], blacklist_characters="\r\n\0")), min_size=1
    )
)
def test_what_is_written_is_read_again(row):
    [back] = csv.reader(io.StringIO(csv_text(row, [])))
    assert [b.removeprefix("'") for b in back] == [r.removeprefix("'") for r in row]


def test_a_shown_number_without_its_commas():
    assert plain_number("$1,234.50") == "1234.50"
