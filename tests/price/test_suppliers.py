"""The suppliers' lists: every bought line of the quote once, with its amount, and nothing of prices."""

import csv
import io

import pypdfium2
import pytest

from calcbook.book.chapters import Book
from calcbook.price.suppliers import HEADINGS, supplier_lists, suppliers_csv, suppliers_pdf

PEOPLE = [
    {"name": "North Quarry (invented)", "phone": "555-0110", "brings": "stone", "when": "Friday noon"},
    {"name": "Mill Lumber (invented)", "brings": "forms, mesh bar"},
]


@pytest.fixture(scope="module", params=["demo", "demo_si"])
def quote(request):
    return request.getfixturevalue(f"{request.param}_book").quote


def rows_of(quote):
    return list(csv.DictReader(io.StringIO(suppliers_csv(quote))))


def test_every_bought_line_of_the_quote_stands_once_with_its_amount(quote):
    told = [(row["what"], row["amount"], row["unit"]) for row in rows_of(quote)]
    bought = [line for line in quote.lines if line.kind != "labor"]
    for line in bought:
        assert told.count((line.words, line.amount.replace(",", ""), line.unit)) == 1
    without_price = [what for what, _, _ in told if what not in {line.words for line in bought}]
    assert len(without_price) == 4  # washers and nuts, and of each slab the stakes
    assert without_price.count("stakes for the forms") == 2


def test_bolts_come_with_length_washers_and_nuts_and_forms_with_stakes(quote):
    told = {}
    for row in rows_of(quote):
        told.setdefault(row["what"].split(",")[0], row)  # the floor's, which come first
    bolts = int(quote.calculations["bolts"].results["bolts"])
    assert told["nuts"]["amount"] == told["plate washers"]["amount"] == str(bolts)
    number = told["Sill bolts"]["amount"]
    assert (
        "long" in told["Sill bolts"]["remark"]
        and f"{number} hooked bolts" in told["Sill bolts"]["remark"]
    )
    assert "threaded rods" in told["Threaded rods"]["remark"]
    assert (
        told["stakes for the forms"]["amount"] == f"{quote.calculations['base'].results['stakes']:.0f}"
    )


def test_no_price_stands_in_the_lists(quote):
    paper = pypdfium2.PdfDocument(suppliers_pdf(quote))
    text = "".join(page.get_textpage().get_text_bounded() for page in paper)
    assert "$" not in text and "$" not in suppliers_csv(quote)
    assert len(paper) == len(supplier_lists(quote))  # a sheet each
    for name, words in quote.order.lines:
        if name == "Concrete":
            assert words in text


def test_a_named_supplier_gets_what_it_brings_and_the_rest_goes_the_usual_way(demo):
    quote = Book(demo.changed({"suppliers": PEOPLE})).quote
    lists = {one.name: one for one in supplier_lists(quote)}
    (stone,) = lists["North Quarry (invented)"].lines
    assert stone[3] == "Friday noon" and lists["North Quarry (invented)"].phone == "555-0110"
    assert "Edge forms" in [line[0] for line in lists["Mill Lumber (invented)"].lines]
    assert "Seam tape" in [line[0] for line in lists["Building supply"].lines]
    assert "Quarry" not in lists


def test_what_the_pour_needs_comes_the_working_day_before(demo):
    # 2026-10-27 is a Tuesday, 2026-11-02 a Monday
    def forms(job):
        return next(row for row in rows_of(Book(job).quote) if row["what"] == "Edge forms")

    assert forms(demo)["when"] == "by Monday, 2026-10-26"
    moved = demo.changed({"pour.date": "2026-11-02", "pour.forecast": []})
    assert forms(moved)["when"] == "by Friday, 2026-10-30"


def test_cells_that_a_spreadsheet_might_run_are_plain_text(demo):
    quote = Book(demo.changed({"prices.extra": [{"name": "=1+1", "price": "$5"}]})).quote
    assert "'=1+1" in suppliers_csv(quote) and suppliers_csv(quote).startswith(",".join(HEADINGS))


def test_a_further_slab_gets_its_own_day_and_concrete(demo):
    """The plant had been told the main slab's hour and strength for the apron: 07:30 and 4,000 psi for 10:00 and 4,500."""
    found = {row["what"]: row for row in rows_of(Book(demo).quote)}
    apron, main = found["Concrete, apron"], found["Concrete"]
    assert (apron["when"], apron["remark"]) == (
        "Tuesday, 2026-10-27, 10:00",
        "4,500 psi; the order follows",
    )
    assert (main["when"], main["remark"]) == (
        "Tuesday, 2026-10-27, 07:30",
        "4,000 psi; the order follows",
    )
    later = Book(demo.changed({"slabs.0.pour.date": "2026-10-29", "slabs.0.pour.forecast": None})).quote
    forms = next(row for row in rows_of(later) if row["what"] == "Edge forms, apron")
    assert forms["when"] == "by Wednesday, 2026-10-28"
