"""Tables as text: columns that line up, and cells that no spreadsheet runs."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calcbook.basis.text_table import aligned, csv_text, harmless, plain_number


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
    assert plain_number("1,234.50") == "1234.50"


def test_words_are_wrapped_where_the_terminal_is_narrower_than_the_table():
    rows = [("$1,000", "Thickened edges: does the edge reach firm ground?"), ("$2", "short")]
    lines = aligned(("price", "what governs"), rows, right={0}, room=30)
    assert all(len(line) <= 30 for line in lines)
    assert lines[0].split() == ["price", "what", "governs"] and lines[1].startswith("$1,000  Thickened")
    assert " ".join(line[8:] for line in lines[1:-1]) == rows[0][1]
    assert lines[-1] == "    $2  short"


def test_a_column_of_numbers_is_never_wrapped():
    lines = aligned(("a", "b"), [("1" * 30, "word " * 8)], right={0}, room=20)
    assert lines[2].startswith("1" * 30)


def test_the_last_column_stands_below_where_wrapping_is_not_enough():
    rows = [
        ("first", "$1,234.56", "$1,234.56", "Control joints: is every panel near enough to square?")
    ]
    lines = aligned(("what if", "price", "difference", "what governs"), rows, right={1, 2}, room=36)
    assert all(len(line) <= 36 for line in lines)
    assert lines[0].split() == ["what", "if", "price", "difference"] and lines[1] == "    what governs"
    assert lines[2].split() == ["first", "$1,234.56", "$1,234.56"]
    assert " ".join(line.strip() for line in lines[3:]) == rows[0][-1]
