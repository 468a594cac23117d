"""The client's page: one page, the work and one price, nothing of the costs inside."""

from decimal import Decimal

import pypdfium2
import pytest

from calcbook.basis.calculation import Calculation
from calcbook.basis.showing import money_text
from calcbook.book.chapters import Book
from calcbook.job.file import Job, JobError
from calcbook.price.client import EXCLUDED, client_data, client_pdf, payments, scope
from calcbook.price.quote import Quote
from calcbook.weigh.choices import alternates

SMALL = {
    "job": {"name": "Shed floor", "date": "2026-10-12"},
    "slab": {"length": "20 ft", "width": "16 ft"},
    "edge": {"depth": "0 in"},
    "prices": {
        "concrete": "$168 / yd3", "short_load_fee": "$140", "stone": "$31 / ton", "spoil": "$14 / yd3",
        "retarder": "$215 / roll", "tape": "$32 / roll", "forms": "$1.90 / ft", "wage": "$46 / h",
    },
}  # fmt: skip


SUBJECTS = ("volume", "base", "retarder", "first_week")


def quote_of(job, subjects=SUBJECTS):
    book = Book(job)
    return Quote(job, {name: book.calculation(name) for name in subjects}, book.volume, book.base)


def pages(quote):
    pdf = pypdfium2.PdfDocument(client_pdf(quote))
    return [" ".join(page.get_textpage().get_text_bounded().split()) for page in pdf]


@pytest.fixture(scope="module")
def quote(demo):
    return quote_of(demo)


@pytest.fixture(scope="module")
def text(quote):
    (page,) = pages(quote)
    return page


def test_the_page_holds_the_work_what_is_left_out_the_price_and_places_to_sign(quote, text):
    for words in (*scope(quote), *EXCLUDED, quote.calculation.text("total"), "Accepted by the client",
                  "For the builder", "Payment", "Includes sales tax of 6 % on materials."):  # fmt: skip
        assert words in text


def test_the_page_shows_no_cost_no_wage_and_no_margin(quote, text):
    for name in ("material", "labor", "equipment", "tax", "direct", "overhead", "cost", "profit"):
        assert quote.calculation.text(name) not in text
    for line in quote.lines:
        assert line.price not in text and f"{line.cost:,}" not in text
    for word in ("overhead", "margin", "wage", "cost", "rental", "waiting", "hour"):
        assert word not in text.lower()


def test_the_price_holds_to_a_date_where_the_calculation_has_one(text):
    # 12 October and 30 days more
    assert "This price holds until 2026-11-11 (30 days)." in text


@pytest.mark.parametrize("date", ["", "next week", "9999-12-31"])
def test_without_a_date_the_price_holds_for_its_days(demo, date):
    changed = demo.changed({"job.date": date, "prices.valid_days": 14})
    terms = client_data(quote_of(changed))["terms"]
    assert terms.startswith("This price holds for 14 days from its date.")


def test_only_what_the_takeoff_holds_is_promised():
    job = Job(SMALL)
    words = " ".join(scope(quote_of(job)))
    assert "placed by chute" in words and "Thickened edge" not in words and "pads" not in words
    assert "Cover after the pour" not in words and "Also:" not in words
    bare = quote_of(job, ["volume"])
    assert "Base of" not in " ".join(scope(bare)) and "Vapor retarder" not in " ".join(scope(bare))
    assert "hauled" not in " ".join(scope(bare))


def test_the_scope_of_the_demo_names_what_is_ordered(quote):
    words = " ".join(scope(quote))
    for said in ('5" thick', "concrete of 4,000 psi", "Thickened edge along sides 1, 2, 3, 5 and 6, 1'-6\" deep in all", "placed by pump",
                 "4 pads under posts: P1; P2; P3; ridge beam", "3/4 in. crushed stone, 4\" compacted", "laps taped",
                 "1 in. foam blanket, 3 days", "Dug soil hauled away", "placing and striking off"):  # fmt: skip
        assert said in words
    assert "waiting" not in words


@pytest.mark.parametrize(
    ("fall", "us", "si"),
    [
        ("1/8 in/ft", "1/8 in. per foot", "10.42 mm per m"),
        ("2 %", "2 %, about 1/4 in. per foot", "2 %"),
        ("10 mm/m", "1 %, about 1/8 in. per foot", "10 mm per m"),
        ("0.1 %", "0.1 %", "0.1 %"),
    ],
)
def test_a_fall_is_told_as_the_trade_says_it(fall, us, si):
    """1/8 in. in 12 in. is 1/96; 2 % of 12 in. is 0.24 in. (by hand)."""
    for system, told in (("us", us), ("si", si)):
        units = {} if system == "us" else {"job": {"units": "si"}}
        job = Job({**SMALL, **units, "slope": {"fall": fall, "direction": "0 deg"}})
        assert f"Top sloped as drawn, {told};" in " ".join(scope(Quote(job, {})))


def test_other_lines_are_named_without_their_price(demo):
    extra = [{"name": "permit", "price": "$77"}, {"name": "survey of the corners", "price": "$88"}]
    made = quote_of(demo.changed({"prices.extra": extra}))
    assert "Also: permit; survey of the corners." in scope(made)
    assert "77" not in pages(made)[0].replace(made.calculation.text("total"), "")


def test_lines_of_other_subjects_are_named(demo):
    bars = Calculation("bars", "Bars", "How many?")
    bars.take("Pump", 1.0, "1", "pump")
    bars.take("Fiber", 2.0, "1", "macro_fiber")
    made = Quote(demo.changed({"prices.extra": []}), {"bars": bars})
    assert "Also: Fiber." in scope(made)  # the pump has a sentence of its own


def test_no_tax_is_said_too(demo):
    data = client_data(quote_of(demo.changed({"prices.tax": "0 %"})))
    assert data["tax"] == "No sales tax is included."


def test_a_price_that_is_missing_is_named_and_no_page_is_made(demo):
    prices = {k: v for k, v in demo.raw["prices"].items() if k not in ("stone", "tape")}
    with pytest.raises(JobError, match=r"missing: Base: .*, Seam tape\. Add them to \[prices\]"):
        client_pdf(quote_of(demo.changed({"prices": prices})))


def test_the_longest_job_stays_on_one_page(demo):
    long = "w" * 190 + " end"
    extra = [{"name": f"{long} {n}", "price": "$1"} for n in range(40)]
    words = {f"job.{key}": long for key in ("name", "address", "client", "preparer", "contact")}
    made = quote_of(
        demo.changed({**words, "base.material": long, "retarder.product": long, "prices.extra": extra})
    )
    (page,) = pages(made)
    assert "more." in page and "Accepted by the client" in page


def test_words_of_the_job_are_set_as_they_stand(demo):
    nasty = '#import "x"; $x^2$ *bold* <tag> = head `code` @ref'
    (page,) = pages(quote_of(demo.changed({"job.client": nasty})))
    assert nasty in page


def test_a_metric_job_has_a_metric_page(demo_si):
    (page,) = pages(quote_of(demo_si))
    assert "127 mm thick" in page and "m²" in page and "MPa" in page and "psi" not in page


def test_payments_add_up_to_the_price_to_the_cent(demo):
    for changes in ({}, {"terms.deposit": "33 %"}, {"terms.deposit": "0 %"}, {"terms.deposit": "100 %"},
                    {"terms.deposit": "0.1", "terms.stages": [{"name": "forms set", "share": "30 %"},
                                                              {"name": "done", "share": "60 %"}]}):  # fmt: skip
        job = demo.changed(changes)
        for total in (Decimal("15045.69"), Decimal("0.01"), Decimal("100.00")):
            assert sum(amount for _, _, amount in payments(job, total)) == total
    names = [name for name, _, _ in payments(job, total)]
    assert names == ["deposit, at signing", "forms set", "done"]


def test_stages_that_do_not_make_up_the_price_are_refused(demo):
    with pytest.raises(JobError, match="40 % of the price, not 100 %"):
        demo.changed({"terms.stages": [{"name": "done", "share": "30 %"}]})


def test_the_price_is_rounded_up_to_the_builders_step_and_every_paper_shows_that_price(demo):
    plain, rounded = (quote_of(demo.changed(c)) for c in ({}, {"terms.round_to": "$50"}))
    exact = plain.calculation.results["total"].m
    offered = rounded.calculation.results["total"].m
    assert offered % 50 == 0 and 0 <= offered - exact < 50
    assert rounded.calculation.text("exact") == plain.calculation.text("total")
    assert client_data(rounded)["price"] == rounded.calculation.text("total") == money_text(offered)
    # what is left of the price is told from the price offered
    assert rounded.calculation.results["total"].m - rounded.calculation.results[
        "cost"
    ].m == pytest.approx(float(rounded.calculation.text("profit").replace("$", "").replace(",", "")))


def test_alternates_and_who_supplies_what_stand_on_the_one_page(demo):
    job = demo.changed(
        {"terms.client_supplies": "the permit and the survey", "terms.excluded": "Gutters"}
    )
    quote = quote_of(job)
    pdf = pypdfium2.PdfDocument(client_pdf(quote, [("bars in place of mesh", Decimal("1234.50"))]))
    text = " ".join(pdf[0].get_textpage().get_text_bounded().split())
    assert len(pdf) == 1 and "+$1,234.50" in text and "bars in place of mesh" in text
    assert "You supply: the permit and the survey." in text and "Gutters." in text


def test_alternates_are_what_the_book_gives_for_the_changed_job():
    job = Job(
        SMALL
        | {
            "prices": SMALL["prices"] | {"mesh": "$21"},
            "crew": {"waiting": "3 h"},
            "terms": {"round_to": "$5"},
        }
    )
    found = dict(alternates(job))
    changed = Book(job.changed({"reinforcement.kind": "mesh"})).quote.calculation.results["total"].m
    assert found["mesh"] == Decimal(
        str(round(changed - Book(job).quote.calculation.results["total"].m, 2))
    )
    assert "bars" not in found  # their price is not given


def test_curbs_and_steps_are_part_of_the_work_that_the_client_reads():
    """What is formed and poured above the slab or before it is named with its size; one pad is one."""
    job = Job(SMALL | {
        "curbs": [
            {"name": "wash curb", "side": 2, "end": "12 ft", "height": "6 in", "width": "6 in"},
            {"kind": "steps", "side": 1, "start": "4 ft", "end": "8 ft", "height": "6 in", "width": "12 in", "count": 2},
        ],
        "pads": [{"name": "P1", "x": "10 ft", "y": "8 ft", "length": "2 ft", "width": "2 ft", "depth": "12 in"}],
    })  # fmt: skip
    words = scope(Quote(job, {}))
    assert 'Wash curb: curb along side 2, 6" high, 6" wide, 12\'-0" long.' in words
    assert any('2 steps along side 1, 6" high, 1\'-0" wide, 4\'-0" long.' in one for one in words)
    assert "1 pad under posts: P1." in words
