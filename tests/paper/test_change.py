"""The change order: the client's words of both versions, and three prices that add up."""

from decimal import Decimal

import pypdfium2
import pytest

from calcbook.basis.pricing import cents
from calcbook.book.chapters import Book
from calcbook.job.file import JobError
from calcbook.paper.change import NOTHING, change_data, change_pdf
from calcbook.price.client import scope


def money(text):
    return Decimal(text.replace("$", "").replace(",", "").replace("+", ""))


@pytest.fixture(scope="module")
def books(demo, demo_book):
    return demo_book, Book(demo.changed({"slab.thickness": "6 in", "pour.pump": False}))


def test_the_prices_are_those_of_the_quotes_and_add_up(books):
    data = change_data(*books)
    totals = [cents(book.quote.calculation.results["total"]) for book in books]
    assert [money(data["before"]), money(data["after"])] == totals
    assert money(data["before"]) + money(data["difference"]) == money(data["after"])
    assert sum(money(row[2]) for row in data["payments"]) == totals[1]


def test_only_what_changed_is_told_and_nothing_of_costs(books):
    data = change_data(*books)
    assert data["was"] and all(words in scope(books[0].quote) for words in data["was"])
    assert any('6" thick' in words for words in data["now"]) and any(
        "by chute" in words for words in data["now"]
    )
    text = "".join(
        page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(change_pdf(*books))
    )
    for line in books[1].quote.lines:
        assert f"${line.cost:,}" not in text  # with its sign: a difference may end in the same figures
    for word in ("overhead", "margin", "wage"):
        assert word not in text.lower()


def test_a_change_of_price_alone_says_that_the_work_is_the_same(demo, demo_book):
    data = change_data(demo_book, Book(demo.changed({"prices.concrete": "$180 / yd3"})))
    assert data["was"] == [] and data["now"] == [NOTHING]
    assert money(data["difference"]) > 0


def test_a_version_without_a_price_is_refused_in_one_sentence(demo, demo_book):
    prices = {k: v for k, v in demo.raw["prices"].items() if k != "stone"}
    with pytest.raises(JobError, match="every price of both versions"):
        change_data(demo_book, Book(demo.changed({"prices": prices})))
