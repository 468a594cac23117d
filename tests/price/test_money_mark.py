"""A job's prices carry one mark, and every text of money shows it."""

import json

import pytest

from calcbook.basis.showing import Units, money_text, unit_text
from calcbook.book.chapters import Book
from calcbook.job.file import Job, JobError
from calcbook.price.client import client_data
from calcbook.weigh.compare import Comparison
from calcbook.weigh.odds_report import odds_text


def in_marks(mark, concrete="170"):
    """A small job with its prices in a currency."""
    raw = {"slab": {"length": "20 ft", "width": "16 ft"}, "pour": {"pump": True}}
    prices = {"concrete": f"{mark}{concrete} / yd3", "pump": f"{mark}850", "wage": f"{mark}46 / h"}
    prices |= {"stone": f"{mark}31 / ton", "spoil": f"{mark}14 / yd3", "forms": f"{mark}2 / ft"}
    prices |= {"retarder": f"{mark}215 / roll", "tape": f"{mark}32 / roll"}
    return Job(raw | {"prices": prices, "crew": {"waiting": "3 h"}})


@pytest.mark.parametrize(
    ("mark", "shown"), [("€", "€850.00"), ("CHF ", "CHF 850.00"), ("$", "$850.00")]
)
def test_quote_client_s_page_and_odds_show_the_job_s_own_mark(mark, shown):
    book = Book(in_marks(mark))
    told = [
        book.quote.text(),
        json.dumps(client_data(book.quote), ensure_ascii=False),
        odds_text(book.quote),
    ]
    told += [step.typst for step in book.quote.calculation.steps]
    assert shown in told[0]
    assert all(mark.strip() in text for text in told[:2])
    if mark != "$":
        assert not any("$" in text for text in told[:3])
        assert not any("\\$" in text for text in told[3:])  # a sign of mathematics is not escaped


def test_the_mark_of_money_goes_with_the_units():
    assert money_text(-12.5, Units.of("si", "EUR")) == "-€12.50"
    assert unit_text("$/ft2", Units.of("si", "GBP")) == "£/m²"
    assert Units.of("si", "EUR") == "si" and Units.of("si", "EUR") != Units.of("si", "GBP")


def test_versions_in_two_currencies_are_not_compared():
    with pytest.raises(JobError, match="in \\$, those of the other in EUR"):
        Comparison(in_marks("$"), in_marks("€"))
