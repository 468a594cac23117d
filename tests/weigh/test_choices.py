"""What if: each row is the whole book on a changed job; which check is named."""

import pytest

from calcbook.book.chapters import Book
from calcbook.job.file import Job
from calcbook.weigh.choices import choices, choices_table, priced_choices
from calcbook.weigh.outcome import Outcome, Seen, governing, outcome

SHED = Job({"slab": {"length": "12 ft", "width": "10 ft"}})


def one(*checks):
    return Outcome(1, 1, 1, 1, True, tuple(Seen("s", *check) for check in checks))


def test_an_outcome_is_what_the_book_says(demo, demo_book):
    found = outcome(demo_book)
    quote = demo_book.quote.calculation.results
    assert found.price == quote["total"].m and found.complete
    assert found.order == demo_book.calculations["volume"].results["order"].m_as("cubic_yard")
    assert found.stone == demo_book.calculations["base"].results["stone_order"].m_as("short_ton")
    assert found.hours * demo.prices.wage.m_as("dollar/hour") == pytest.approx(
        quote["labor"].m, abs=0.2
    )
    assert len(found.checks) == len(demo_book.priced_checks)  # the plate buys nothing
    assert found.open == sum(check.status != "OK" for _, check in demo_book.priced_checks)


def test_a_price_that_lacks_a_line_says_so():
    found = outcome(Book(SHED))
    assert not found.complete and "(NOT COMPLETE)" in found.cells(None)[3]


def test_the_worst_check_that_differs_is_named():
    a = one(("same", "OK", 1.0), ("moves", "OK", 0.5), ("moves too", "OK", 0.6))
    b = one(("same", "OK", 1.0), ("moves", "NOT OK", 1.2), ("moves too", "OK", 0.9))
    assert [check.title for check in governing([a, b])] == ["moves too", "moves"]


def test_where_none_differs_none_is_named_and_of_one_the_worst():
    a = one(("same", "OK", 1.0), ("asked", "NEEDS ENGINEER", None))
    assert governing([a, a]) == [None, None]
    assert governing([a])[0].title == "asked"
    assert governing([]) == []
    assert "no check that differs" in a.cells(None)


def test_a_check_that_only_some_have_differs():
    a, b = one(("both", "OK", 1.0), ("mesh", "OK", 0.4)), one(("both", "OK", 1.0))
    named = governing([a, b])
    assert named[0].title == "mesh" and named[1] is None


def test_the_choices_are_those_the_job_allows_and_change_it(demo):
    words = dict(choices(demo))
    assert words['slab 4 1/2"'] == {"slab.thickness": "4.5 in"}
    assert {"no reinforcement", "macro fiber", "bars", "chute instead of pump", "hand screed"} <= set(
        words
    )
    assert "mesh" not in words
    thin = demo.changed({"slab.thickness": "3.5 in"})
    assert not [w for w, change in choices(thin) if change.get("slab.thickness") == "3 in"]


def test_metric_jobs_vary_by_metric_steps(demo_si):
    assert "137 mm" in str(choices(demo_si))


def test_rows_follow_the_whole_book():
    job = SHED.changed({"pour.pump": False})
    rows, told = priced_choices(job, lambda: None), []
    priced_choices(job, lambda: told.append(1))
    assert len(told) == len(choices(job)) + 1 == len(rows)
    headings, cells = choices_table(rows)
    by_name = {row[0]: row for row in cells}
    assert headings[0] == "choice" and by_name["as it stands"][5] == ""
    changed = outcome(Book(job.changed({"slab.thickness": "5 in"})))
    assert by_name['slab 5"'][1:5] == changed.cells(None)[:4]
    assert by_name['slab 5"'][1] != by_name["as it stands"][1]


def test_a_choice_without_its_price_shows_no_saving(demo):
    prices = {k: v for k, v in demo.raw["prices"].items() if k != "bar"}
    rows = priced_choices(demo.changed({"prices": prices}))
    headings, cells = choices_table(rows)
    at = headings.index("difference")
    for (_, one), row in zip(rows[1:], cells[1:], strict=True):
        assert (row[at] == "NOT KNOWN") == (not (one.complete and rows[0][1].complete))
    assert any(row[at] == "NOT KNOWN" for row in cells)
