"""The demo and its metric twin are one job: every calculation gives the same quantities and verdicts."""

import pytest

from calcbook.basis.units import ureg
from calcbook.book.chapters import Book
from calcbook.book.registry import SUBJECTS

# sills are marked in whole millimetres there and in sixteenths here, so a bolt may stand a little aside
COARSE = {("loads", "jamb"): 1e-3, ("bolts", "misses"): 0.3, ("bolts", "cost_cast"): 2e-2}


@pytest.fixture(scope="module")
def books(demo, demo_si):
    return Book(demo), Book(demo_si)


def plain(value):
    return value.to_base_units().m if isinstance(value, ureg.Quantity) else value


def of_numbers(results):
    """The results that are quantities or numbers; words and layouts are told in the job's own units."""
    return {n: plain(v) for n, v in results.items() if isinstance(v, ureg.Quantity | int | float)}


@pytest.mark.parametrize("name", SUBJECTS)
def test_results_agree(books, name):
    us, si = (of_numbers(book.calculations[name].results) for book in books)
    assert us.keys() == si.keys()
    for key, value in us.items():
        assert si[key] == pytest.approx(value, rel=COARSE.get((name, key), 1e-4), abs=1e-6), key


@pytest.mark.parametrize("name", SUBJECTS)
def test_verdicts_agree(books, name):
    us, si = ([(c.question, c.status) for c in book.calculations[name].checks] for book in books)
    assert us == si


def test_loads_of_the_trucks_agree(books):
    us, si = (book.volume.trucks for book in books)
    assert si.loads == pytest.approx(us.loads, rel=1e-6) and si.remedy == us.remedy


def test_rolls_sheets_and_bolts_are_the_same_number(books):
    counts = [
        {
            t.words: t.amount
            for c in book.calculations.values()
            for t in c.takeoff
            if t.unit in ("roll", "1", "bag")
        }
        for book in books
    ]
    assert counts[0] == counts[1] and len(counts[0]) >= 4


@pytest.mark.parametrize("name", SUBJECTS)
def test_a_metric_job_is_shown_in_metric_units(books, name):
    ours = (" ft", " in.", " yd³", " psi", " psf", " lbf", " °F", " ft²")
    for result in books[1].calculations[name].shown_results:
        assert not result.step.result_text.endswith(ours), (result.name, result.step.result_text)
