"""Job files that are accepted, at random (accepted.py): no fault in check, quote and print, and laws that hold of all."""

import csv
import io
import math
import os
from decimal import Decimal

import pytest
import tomlkit
from accepted import job

from calcbook.basis.calculation import WORST_FIRST
from calcbook.book.chapters import Book
from calcbook.command import cli
from calcbook.job.file import Job
from calcbook.price.quote import KINDS

JOBS = int(os.environ.get("CALCBOOK_JOBS", "50"))
PRINTED, CHECKED = (
    13,
    5,
)  # every so many is printed, or run by the command; the others are worked out here


@pytest.mark.parametrize("seed", range(JOBS))
def test_what_holds_of_every_job(seed, tmp_path, capsys):
    path = tmp_path / "job.toml"
    path.write_text(tomlkit.dumps(job(seed)), encoding="utf-8")
    book = Book(Job.read(path))
    assert all(check.status in WORST_FIRST for c in book.priced.values() for check in c.checks)
    totals_hold(book)
    concrete_is_ordered_whole(book)
    loads_close(book)
    if seed % CHECKED == 0:
        for command in ("check", "quote", "order"):
            assert cli.main([command, str(path)]) in (0, 1)
            out, err = capsys.readouterr()
            assert out and err == "" and " nan " not in out and "Traceback" not in out
    if seed % PRINTED == 0:
        assert cli.main(["print", str(path), "-o", str(tmp_path / "job.pdf")]) in (0, 1)
        assert (tmp_path / "job.pdf").read_bytes().startswith(b"%PDF")


def totals_hold(book):
    """The lines add up to their sums to the cent, no line costs less than nothing, and the price is above the cost."""
    quote, results = book.quote, book.quote.calculation.results
    for kind in KINDS:
        costs = [line.cost for line in quote.lines if line.kind == kind and line.cost is not None]
        assert sum(costs, Decimal(0)) == quote.subtotal(kind) and all(cost >= 0 for cost in costs)
    assert results["total"] >= results["cost"] >= results["direct"]
    rows = list(csv.reader(io.StringIO(quote.csv())))
    assert len({len(row) for row in rows}) == 1 and len(rows) > len(quote.lines)
    amounts = [line.taken.amount for line in quote.lines if line.taken.amount is not None]
    assert all(math.isfinite(getattr(a, "magnitude", a)) for a in amounts)


def concrete_is_ordered_whole(book):
    """The loads add up to the order, no truck carries more than it holds, and the order covers what is drawn."""
    results, pour = book.calculation("volume").results, book.job.pour
    plan = book.volume.trucks
    assert sum(plan.loads) == pytest.approx(plan.total.m_as("yd**3"))
    assert max(plan.loads) <= pour.truck_capacity.m_as("yd**3") * (1 + 1e-9)
    assert results["order"].m_as("yd**3") >= results["net"].m_as("yd**3") * (1 - 1e-9)


def loads_close(book):
    """What the walls bring reaches a bolt or the concrete, to the last pound."""
    for check in book.calculation("bolts").checks:
        if check.title.startswith("Load of the walls that reaches no bolt"):
            assert check.status == "OK"
