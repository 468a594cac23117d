"""The quote: lines and sums as shown, missing prices, table, spreadsheet."""

import csv
import io
import re
from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from metric import us_defaults
from small_quote import PRICES, small_quote

from calcbook.basis.calculation import Calculation
from calcbook.basis.pricing import cents
from calcbook.basis.showing import money_text
from calcbook.basis.units import Q
from calcbook.book.chapters import Book
from calcbook.job.file import JobError
from calcbook.price.client import client_pdf
from calcbook.price.quote import KINDS, MISSING, Quote


@pytest.fixture
def quote():
    return small_quote()


@pytest.fixture(scope="module")
def book(demo_book):
    return demo_book


def money(text):
    return Decimal(re.sub(r"[$,]", "", text))


# --- worked by hand; common practice, no source ---------------------------------------------------


def test_a_line_costs_amount_times_price(quote):
    costs = {line.words: line.cost for line in quote.lines}
    assert costs == {
        "Concrete": Decimal("882.00"), "Stone": Decimal("186.00"), "Placing": Decimal("210.22"),
        "Pump": Decimal("850.00"), "plate compactor": Decimal("160.00"), "permit": Decimal("120.50"),
    }  # fmt: skip


def test_tax_overhead_and_margin_by_hand(quote):
    """882 + 186 = 1,068.00; tax 5.5 % = 58.74; labor 210.22; other 1,130.50; direct 2,467.46;
    overhead 12 % = 296.10 (296.0952); cost 2,763.56; price 2,763.56 / 0.85 = 3,251.25 (3,251.2471)."""
    shown = {r.name: r.step.result_text for r in quote.calculation.shown_results}
    assert {name: shown[name] for name in ("material", "tax", "labor", "equipment", "direct")} == {
        "material": "$1,068.00", "tax": "$58.74", "labor": "$210.22", "equipment": "$1,130.50", "direct": "$2,467.46",
    }  # fmt: skip
    assert {name: shown[name] for name in ("overhead", "cost", "total", "profit")} == {
        "overhead": "$296.10", "cost": "$2,763.56", "total": "$3,251.25", "profit": "$487.69",
    }  # fmt: skip


# --- laws ----


@settings(max_examples=40, deadline=None)
@given(
    concrete=st.floats(0.25, 500),
    stone=st.floats(0.5, 900),
    hours=st.floats(0.01, 400),
    price=st.integers(1, 10**6),
    system=st.sampled_from(["us", "si"]),
)
def test_every_line_is_its_shown_amount_times_its_shown_price_and_the_sums_add_up(
    concrete, stone, hours, price, system
):
    prices = PRICES | {"concrete": f"${price / 10_000} / yd3"}
    made = small_quote(prices, system, concrete=concrete, stone=stone, hours=hours)
    for line in made.lines:
        exact = Decimal(line.amount.replace(",", "")) * money(line.price)
        assert line.cost == exact.quantize(Decimal("0.01"), ROUND_HALF_UP), line
    frame, shown = made.frame, made.calculation
    for kind, title in KINDS.items():
        column = [money(cost) for cost in frame.loc[frame["kind"] == title, "cost"]]
        assert sum(column) == money(shown.text(kind))
    total = {name: money(shown.text(name)) for name in shown.results}
    assert total["material"] + total["tax"] + total["labor"] + total["equipment"] == total["direct"]
    assert total["direct"] + total["overhead"] == total["cost"]
    assert total["cost"] + total["profit"] == total["total"]
    assert all(cents(value) == total[name] for name, value in shown.results.items())


def test_every_takeoff_line_of_every_calculation_is_in_the_quote(book):
    words = {line.words for line in book.quote.lines}
    for calculation in book.calculations.values():
        for line in calculation.takeoff:
            amount = getattr(line.amount, "magnitude", line.amount)
            assert (line.words in words) == (amount > 0)


def test_a_price_changes_its_line_and_the_total(demo, book):
    dearer = Book(demo.changed({"prices.concrete": "$268 / yd3"})).quote
    yards = sum(
        book.calculations[n].results["order"].m_as("cubic_yard") for n in ("volume", "apron-volume")
    )
    more = money(dearer.calculation.text("material")) - money(book.quote.calculation.text("material"))
    assert float(more) == pytest.approx(100 * yards, abs=0.02)


def test_the_demo_and_its_metric_twin_come_to_the_same_price(demo, demo_si):
    us, si = (Book(job).quote for job in (demo, demo_si.changed(us_defaults(demo_si))))
    # words up to a size, which is told in the units of each
    names = [
        [(line.words.partition(",")[0], line.taken.price) for line in quote.lines] for quote in (us, si)
    ]
    assert names[0] == names[1]
    whole_tonnes = Decimal(0)  # stone is sold by whole tons here and by whole tonnes there
    for a, b in zip(us.lines, si.lines, strict=True):
        if a.taken.price == "stone":
            whole_tonnes = b.cost - a.cost
            assert abs(float(whole_tonnes)) < 1.2 * a.for_one
            continue
        # amounts are priced to two decimals, of a foot or of a metre
        off = 0.01 + 0.005 * (a.for_one + b.for_one)
        assert float(b.cost) == pytest.approx(float(a.cost), rel=1e-3, abs=off)
    rest = float(whole_tonnes) * 1.06 * 1.12 / 0.85  # with tax, overhead and margin of the demo
    for name, value in us.calculation.results.items():
        assert si.calculation.results[name].m == pytest.approx(value.m, rel=2e-4, abs=0.01 + abs(rest))


def test_rented_machines_and_other_lines_follow_the_takeoff(book, demo):
    taken = sum(
        getattr(t.amount, "m", t.amount) > 0 for c in book.calculations.values() for t in c.takeoff
    )
    named = [r.name for r in demo.prices.rental] + [e.name for e in demo.prices.extra]
    assert [line.words for line in book.quote.lines][taken:] == named
    concrete = next(line for line in book.quote.lines if line.words == "Concrete")
    ordered = book.calculations["volume"].results["order"].m_as("cubic_yard")
    assert float(concrete.amount) == pytest.approx(ordered, abs=0.005)


def test_a_line_of_nothing_is_left_out():
    assert "Stone" not in [line.words for line in small_quote(stone=0).lines]


# --- a price that is missing ----------------------------------------------------------------------


@pytest.fixture
def incomplete():
    return small_quote({k: v for k, v in PRICES.items() if k != "stone"})


def test_a_missing_price_is_marked_and_never_zero(incomplete):
    stone = next(line for line in incomplete.lines if line.words == "Stone")
    assert stone.cost is None and stone.price == MISSING and not incomplete.complete
    row = incomplete.frame.set_index("line").loc["Stone"]
    assert row["cost"] == MISSING == row["price"]


def test_an_incomplete_total_says_so_wherever_it_is_shown(incomplete, quote):
    text = incomplete.text()
    assert MISSING in text and "the total is not complete" in text and "price, NOT COMPLETE" in text
    check = incomplete.calculation.checks[0]
    assert check.status == "NOT OK" and "Stone" in check.to_do
    with pytest.raises(JobError, match="missing: Stone"):
        client_pdf(incomplete)
    assert "NOT COMPLETE" not in quote.text() and MISSING not in quote.text() and quote.complete
    assert quote.calculation.checks[0].status == "OK"


def test_a_price_that_no_line_needs_is_not_missed():
    prices = {k: v for k, v in PRICES.items() if k != "stone"}
    assert small_quote(prices, stone=0).complete


def test_a_price_of_zero_is_a_price():
    made = small_quote(PRICES | {"stone": "$0 / ton"})
    assert made.complete and "$0.00" in list(made.frame["cost"])


# --- showing --------------------------------------------------------------------------------------


def test_the_terminal_table_holds_every_line_under_its_kind(quote):
    text = quote.text()
    assert text.index("Materials") < text.index("Concrete") < text.index("Labor") < text.index("Pump")
    for line in quote.lines:
        row = next(r for r in text.splitlines() if r.startswith(line.words))
        assert row.split()[-1] == money_text(line.cost) and line.price in row
    assert text.splitlines()[0] == "Quote for Shed floor"
    assert "price" in text and "$3,251.25" in text


def test_the_spreadsheet_reads_back_as_the_lines(quote):
    rows = list(csv.DictReader(io.StringIO(quote.csv())))
    assert [Decimal(r["cost"]) for r in rows] == [line.cost for line in quote.lines]
    assert [r["line"] for r in rows] == [line.words for line in quote.lines]
    assert {r["kind"] for r in rows} == set(KINDS.values())
    stone = next(r for r in rows if r["line"] == "Stone")
    assert (stone["amount"], stone["unit"], stone["price"], stone["note"]) == (
        "6",
        "ton",
        "31.00",
        "loose",
    )


@pytest.mark.parametrize("start", ["=1+1", "+1", "-1", "@SUM(A1)", " =1+1"])
def test_a_cell_that_a_spreadsheet_would_run_is_made_plain_text(start):
    prices = PRICES | {"extra": [{"name": start, "price": "$1"}]}
    rows = list(csv.reader(io.StringIO(small_quote(prices).csv())))
    assert rows[-1][0] == f"'{start}"
    assert all(cell.lstrip()[:1] not in tuple("=+-@") for row in rows for cell in row if cell)


def test_thousands_are_plain_numbers_in_the_spreadsheet():
    made = small_quote(PRICES | {"concrete": "$1168 / yd3"}, concrete=1234.5)
    row = next(csv.DictReader(io.StringIO(made.csv())))
    assert (row["amount"], row["price"], row["cost"]) == ("1234.5", "1168.00", "1441896.00")


def test_the_order_goes_into_the_printed_quote(demo_book):
    titles = [b.title for b in demo_book.quote.calculation.blocks if hasattr(b, "frame")]
    assert titles == ["Takeoff, priced", "Order for the dispatcher", "Order for the dispatcher: apron"]


@settings(max_examples=30, deadline=None)
@given(words=st.text(st.characters(blacklist_categories=("Cs", "Cc")), min_size=1, max_size=30))
def test_no_cell_of_the_csv_can_run_in_a_spreadsheet(words, demo):
    made = Calculation("x", "x", "x")
    made.take(words, Q(2, "h"), "h", "wage", "labor", note="=1+1")
    rows = list(csv.reader(io.StringIO(Quote(demo, {"x": made}).csv())))
    for row in rows[1:]:
        assert not any(cell[:1] in ("=", "+", "-", "@") for cell in row)
