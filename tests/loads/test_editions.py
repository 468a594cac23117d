"""Editions: the code is chosen once, and a page that cites another edition says so."""

import pytest
from structure import POST, SIZE, job

from calcbook.basis.sources import sources
from calcbook.basis.table import table
from calcbook.book.chapters import Book
from calcbook.job.schema.design import CODES
from calcbook.loads.editions import named_by, others


def remarks(made, chapter):
    blocks = Book(made).calculation(chapter).blocks
    return [b.words for b in blocks if getattr(b, "words", "").startswith("Editions:")]


def test_every_code_that_may_be_chosen_names_one_edition_of_each_standard():
    families = {row["family"] for row in table("cited_editions")} - {"IRC", "IBC"}
    for code in CODES:
        assert families < named_by(code).keys() and named_by(code)[code.split()[0]] == code


def test_every_document_of_a_code_or_standard_has_its_edition_in_the_table():
    known = {row["source"].key for row in table("cited_editions")}
    begins = ("IRC", "IBC", "ACI 318", "ASCE 7", "NDS", "SDPWS")
    assert {key for key in sources() if key.startswith(begins)} <= known


@pytest.mark.parametrize(
    ("code", "says"),
    [("IRC 2021", []), ("IRC 2024", ["ASCE 7-16"]), ("IRC 2018", ["ACI 318-19"]), ("IBC 2021", [])],
)
def test_what_a_code_does_not_name_is_found(code, says):
    """Referenced standards of the codes, from memory: ACI 318-14 in 2018, ASCE 7-22 in 2024."""
    assert others(code, ["ACI 318-19", "ASCE 7-16", "mechanics"]) == says


def test_a_page_that_mixes_says_so_once_and_one_that_does_not_is_silent():
    pads = [POST | SIZE]
    assert remarks(job(pads=pads), "pads") == []
    (words,) = remarks(job(pads=pads, design={"code": "IRC 2024"}), "pads")
    assert "ASCE 7-16" in words and "IBC 2012" in words and words.count("ASCE 7-16") == 1
    assert (
        remarks(job(soil={"bearing": "1500 psf"}, pads=pads, design={"code": "IRC 2021"}), "pads") == []
    )


def test_another_code_changes_the_remark_of_a_book_that_is_worked_on():
    book = Book(job(pads=[POST | SIZE], design={"code": "IRC 2024"}))
    assert book.pads
    blocks = book.changed({"design.code": "IRC 2018"}).calculation("pads").blocks
    told = [b.words for b in blocks if getattr(b, "words", "").startswith("Editions:")]
    assert len(told) == 1 and "IRC 2018" in told[0] and "ACI 318-19" in told[0]
