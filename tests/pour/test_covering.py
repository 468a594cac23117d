"""What comes on top of a slab: flatness, strike-off and drying, each with its source."""

import pytest

from calcbook.basis.table import lookup, table
from calcbook.basis.units import Q
from calcbook.book.chapters import run
from calcbook.job.file import Job
from calcbook.job.schema.sections import COVERINGS
from calcbook.pour.covering import drying_measured, drying_rule
from calcbook.price.client import scope


def week(covering=None, **slab):
    given = {"covering": covering} if covering else {}
    return run("first_week", Job({"slab": {"length": "20 ft", "width": "20 ft", **given, **slab}}))


def titles(calculation):
    return {c.title: c.status for c in calculation.checks}


@pytest.mark.form("Construction Specifier drying", "28 to 30 days for each inch", "drying_rule")
def test_the_rule_of_the_trade_is_a_month_for_an_inch():
    assert drying_rule("4 in") == Q(120, "day")
    assert drying_rule("5 in", D_1=Q(28, "day")) == Q(140, "day")


@pytest.mark.remembered(
    "Brewer 1965", "46, 82, 117 and 130 days at w/c 0.4, 0.5, 0.6 and 0.7", "drying_measured"
)
def test_drying_as_brewer_measured_it():
    assert [drying_measured(w).m for w in (0.4, 0.5, 0.6, 0.7)] == [46, 82, 117, 130]
    assert drying_measured(0.45).m == pytest.approx(64)
    assert drying_measured(0.3).m == 46


@pytest.mark.published("Suprenant Malisch drying", "row w/c 0.40 alone", "drying_measured")
def test_the_days_at_the_printed_mean_rate_are_the_printed_loss():
    """Read in a reprint, of Brewer's 0.40 slabs: 6.8 lb/1000 ft2/24 h in the mean and 0.3 lb/ft2 lost until 3 lb."""
    assert drying_measured(0.40).m_as("day") * 6.8 / 1000 == pytest.approx(0.3, abs=0.05)


def test_the_classes_of_floors_are_those_printed():
    """ACI 117-10 Table 4.8.5.1, as printed in an excerpt: 20/15, 25/20, 35/25, 45/35."""
    assert [(r["FF"], r["FL"]) for r in table("floor_classes")] == [
        (20, 15),
        (25, 20),
        (35, 25),
        (45, 35),
    ]


@pytest.mark.parametrize("kind", COVERINGS)
def test_every_covering_says_what_it_asks(kind):
    found = week(kind)
    (shown,) = (b for b in found.blocks if getattr(b, "title", "").startswith("On top comes"))
    assert kind in shown.title
    rank = lookup("floor_classes", **{"class": lookup("toppings", kind=kind)["class"]})
    assert any(f"FF {rank['FF']}" in cell for row in shown.rows for cell in row)


def test_what_is_bonded_waits_for_a_measurement_that_no_sum_replaces():
    found = titles(week("resilient"))
    assert found["Moisture of the slab before resilient comes on it"] == "NOT WORKED OUT"
    assert not any("Moisture" in title for title in titles(week("tile")))


def test_a_very_flat_floor_is_for_more_than_a_small_crew():
    assert titles(week("large tile"))["Flatness for large tile"] == "NEEDS ENGINEER"


def test_without_a_covering_nothing_is_added():
    assert not any("On top comes" in getattr(b, "title", "") for b in week().blocks)


def test_the_client_reads_how_flat_it_is_made():
    from calcbook.book.chapters import Book

    job = Job({"slab": {"length": "20 ft", "width": "20 ft", "covering": "floating floor"}})
    assert any(
        words.startswith("Surface for: floating floor, 3/16") for words in scope(Book(job).quote)
    )
