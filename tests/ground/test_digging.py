"""Digging by machine or by hand: hours by the builder's own rates, apart from hauling."""

import pytest

from calcbook.basis.calculation import Note
from calcbook.book.chapters import run
from calcbook.ground.base import machine_hours
from calcbook.job.file import Job
from calcbook.price.quote import Quote


def lines(**base):
    raw = {
        "slab": {"length": "20 ft", "width": "27 ft", "thickness": "4 in", "above_grade": "0 in"},
        "edge": {"depth": "0 in"},
        "base": {"thickness": "4 in", **base},
        "crew": {"machine_rate": "10 yd3", "dig_rate": "0.5 yd3"},
    }
    return {line.words: line for line in run("base", Job(raw)).takeoff}


@pytest.mark.worked("machine_hours")
def test_hours_of_a_machine_by_hand():
    assert machine_hours("30 yd3", "15 yd3").m == pytest.approx(2)


def test_a_machine_digs_the_cut_at_its_rate():
    """540 ft2, 8 in. deep: 360 ft3, 13.33 yd3 in the ground, at 10 yd3 an hour."""
    line = lines(digging="machine")["Digging by machine"]
    assert line.amount.m_as("hour") == pytest.approx(13.3333 / 10, rel=1e-4)
    assert (line.price, line.kind) == ("excavator", "equipment")


def test_a_crew_digs_it_by_hand_at_its_own():
    line = lines(digging="hand")["Digging by hand"]
    assert line.amount.m_as("hour") == pytest.approx(13.3333 / 0.5, rel=1e-4)
    assert (line.price, line.kind) == ("wage", "labor")


def test_what_is_not_priced_is_said():
    assert not [words for words in lines() if "Digging" in words]
    raw = {"slab": {"length": "20 ft", "width": "20 ft"}}
    said = [getattr(b, "words", "") for b in run("base", Job(raw)).blocks]
    assert any("Digging is not priced" in words for words in said)


@pytest.mark.parametrize(
    ("base", "extra", "said"),
    [({}, "permit", True), ({}, "Excavation by the neighbor", False), ({"digging": "hand"}, "permit", False)],
)  # fmt: skip
def test_the_quote_says_under_its_price_that_digging_is_not_in_it(base, extra, said):
    raw = {"slab": {"length": "20 ft", "width": "20 ft"}, "base": base, "crew": {"dig_rate": "0.5 yd3"}}
    job = Job({**raw, "prices": {"extra": [{"name": extra, "price": "$100"}]}})
    quote = Quote(job, {"base": run("base", job)})
    notes = "\n".join(b.words for b in quote.calculation.blocks if isinstance(b, Note))
    for told in (quote.text(), quote.csv(), notes):
        assert ("Digging is not priced" in told) == said
    (words,) = quote.left_out or [""]
    assert "(" not in words  # one slab alone is not named


def test_hauling_stays_a_line_of_its_own():
    assert lines(digging="hand")["Hauling soil"].amount == lines()["Hauling soil"].amount
    assert lines()["Hauling soil"].amount.m == pytest.approx(17.333, rel=1e-4)
