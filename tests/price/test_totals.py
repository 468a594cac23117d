"""The price of every paper is the sum of the quote's lines, worked out anew from the spreadsheet of the lines."""

import csv
import io
from decimal import ROUND_HALF_UP, Decimal

import pytest

from calcbook.book.chapters import Book
from calcbook.job.file import Job
from calcbook.paper.change import change_data
from calcbook.paper.printout import chapter_data
from calcbook.price.client import client_data
from calcbook.price.suppliers import supplier_lists
from calcbook.weigh.outcome import outcome

TWO_SLABS = {
    "job": {"name": "Shed with apron"},
    "slab": {"length": "20 ft", "width": "16 ft"},
    "edge": {"depth": "8 in"},
    "crew": {"waiting": "3 h"},
    "slabs": [{"name": "apron", "length": "16 ft", "width": "6 ft", "x": "20 ft", "y": "0 ft"}],
    "between": [{"slab": "main slab", "beside": "apron", "kind": "isolation"}],
    "prices": {
        "concrete": "$168 / yd3", "short_load_fee": "$140", "stone": "$31 / ton", "spoil": "$14 / yd3",
        "retarder": "$215 / roll", "tape": "$32 / roll", "forms": "$1.90 / ft", "wage": "$46 / h",
        "isolation": "$0.90 / ft", "tax": "6 %",
    },
}  # fmt: skip


def money(text):
    return Decimal("".join(c for c in text if c in "0123456789.-"))


def cent(value):
    return value.quantize(Decimal("0.01"), ROUND_HALF_UP)


def by_hand(book):
    """The price: lines, tax on materials, overhead on cost, margin as a share of the price; each to the cent."""
    rows = list(csv.DictReader(io.StringIO(book.quote.csv())))
    tax, overhead, margin = (
        Decimal(str(getattr(book.job.prices, name).m_as(""))) for name in ("tax", "overhead", "margin")
    )
    materials = sum(Decimal(row["cost"]) for row in rows if row["kind"] == "Materials")
    direct = sum(Decimal(row["cost"]) for row in rows) + cent(materials * tax)
    return cent((direct + cent(direct * overhead)) / (1 - margin))


@pytest.fixture(scope="module", params=["two slabs", "demo"])
def book(request, demo):
    return Book(demo if request.param == "demo" else Job(TWO_SLABS))


def test_the_price_of_every_paper_is_the_sum_of_the_lines(book):
    quote, total = book.quote, by_hand(book)
    client, change = client_data(quote), change_data(book, book)
    (told,) = [line for line in quote.text().splitlines() if line.startswith("price ")]
    printed = {
        block["term"]: block["math"] for block in chapter_data(quote.calculation, 1)["blocks"] if "term" in block
    }  # fmt: skip
    assert money(told.split()[1]) == money(client["price"]) == total
    assert sum(money(row[2]) for row in client["payments"]) == total
    assert [money(change[key]) for key in ("before", "difference", "after")] == [total, 0, total]
    assert sum(money(row[2]) for row in change["payments"]) == total
    assert f"{total:,}" in printed["Selling price"].replace('"', "")
    assert Decimal(str(round(outcome(book).price, 2))) == total


def test_orders_and_suppliers_lists_hold_the_amounts_of_the_lines(book):
    lines = {(x.words, x.amount, x.unit) for x in book.quote.lines if x.kind != "labor"}
    listed = [line[:3] for one in supplier_lists(book.quote) for line in one.lines]
    assert lines <= set(listed)
    ordered = sum(order.plan.total.m_as("cubic_yard") for order in book.quote.orders)
    concrete = sum(
        Decimal(amount)
        for words, amount, _ in lines
        if words.startswith("Concrete") and "pump" not in words
    )
    assert float(concrete) == pytest.approx(ordered)


def test_each_slab_brings_the_stakes_of_its_own_forms():
    quote = Book(Job(TWO_SLABS)).quote
    listed = [line for one in supplier_lists(quote) for line in one.lines]
    stakes = [int(amount) for words, amount, *_ in listed if words == "stakes for the forms"]
    bases = [c for name, c in quote.calculations.items() if "stakes" in c.results]
    assert len(bases) == 2 and stakes == [round(c.results["stakes"]) for c in bases]
    assert stakes[0] != stakes[1]


def test_dearer_concrete_never_lowers_the_price():
    """4 yd3 more to spare a fee of $300 were placed by the crew: at $75/yd3 the fee was paid, and the price fell by $49."""
    small = Book(
        Job({"slab": {"length": "14 ft", "width": "12 ft", "plate": False}, "pour": {"minimum_load": "8 yd3"},
             "crew": {"waiting": "2 h"}, "prices": TWO_SLABS["prices"] | {"short_load_fee": "$300"}})
    )  # fmt: skip
    found = [small.changed({"prices.concrete": f"${price}/yd3"}) for price in (60, 74, 76, 168)]
    assert [book.volume.trucks.remedy for book in found] == ["raise", "raise", "fee", "fee"]
    prices = [book.quote.calculation.results["total"].m for book in found]
    assert prices == sorted(prices)
    assert len({book.volume.calculation.results["placing"].m for book in found}) == 1


def test_a_pump_that_comes_for_the_day_is_paid_once():
    """The price is "pump, for the day": two pours of one day had paid it twice, $1,306 of a price of $20,276."""
    own = {"name": "shed", "length": "10 ft", "width": "10 ft", "x": "40 ft", "y": "0 ft"}
    raw = {
        "slab": {"length": "20 ft", "width": "16 ft", "plate": False},
        "pour": {"date": "2026-05-12", "pump": True},
        "prices": {"pump": "$950"},
    }
    for pour, pumps in (
        ({"start": "11:00"}, 1),
        ({"date": "2026-05-13"}, 2),
        ({"pump": False, "start": "11:00"}, 1),
    ):
        lines = Book(Job(raw | {"slabs": [own | {"pour": pour}]})).quote.lines
        assert sum(line.taken.price == "pump" for line in lines) == pumps


def test_a_pump_of_pours_whose_day_is_not_known_is_paid_for_each():
    """Nobody knows yet that they are poured on one day; a price that counts on it would not hold."""
    own = {
        "name": "shed",
        "length": "10 ft",
        "width": "10 ft",
        "x": "40 ft",
        "y": "0 ft",
        "pour": {"start": "11:00"},
    }
    raw = {
        "slab": {"length": "20 ft", "width": "16 ft", "plate": False}, "pour": {"pump": True}, "prices": {"pump": "$950"},
        "slabs": [own],
    }  # fmt: skip
    assert sum(line.taken.price == "pump" for line in Book(Job(raw)).quote.lines) == 2
