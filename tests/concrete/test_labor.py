"""Labor of the pour in the quote: the same rates as the plan of the pour, for every way of working."""

import pytest

from calcbook.book.chapters import Book, run
from calcbook.concrete.labor import FINISHING, PLACING
from calcbook.weigh.odds import simulate


def hours(job):
    """Hours of placing and of finishing on the quote."""
    lines = {line.words: line.number for line in Book(job).quote.lines}
    return lines[PLACING], lines[FINISHING]


def test_the_demo_is_as_fast_as_its_hands(demo):
    """6 people at 2.5 yd3/h place 26.5 yd3 in 1.767 h; 990 ft2 by 1 machine at 100 and 3 hands at 40 ft2/h
    take 4.5 h of 4 people."""
    assert hours(demo) == pytest.approx((26.5 / 2.5, 18.0), abs=0.006)


@pytest.mark.parametrize(
    ("changes", "placing", "finishing"),
    [
        ({"crew.screed": "hand", "crew.screed_rate": "400 ft2"}, 6 * 26.5 / (400 * 5 / 324), 18),  # 6.17 yd3/h
        ({"crew.screed": "hand", "crew.power_screed_rate": "400 ft2"}, 26.5 / 2.5, 18),  # not in use
        ({"crew.power_screed_rate": "400 ft2"}, 6 * 26.5 / (400 * 5 / 324), 18),
        ({"pour.empty_rate": "10 yd3/h"}, 6 * 26.5 / 10, 18),
        ({"crew.size": 3}, 26.5 / 2.5, 18),
        ({"crew.power_trowels": 0}, 26.5 / 2.5, 4 * 990 / 160),
        ({"crew.power_trowels": 9}, 26.5 / 2.5, 990 / 100),  # no more machines than people who run them
        ({"crew.hand_rate": "60 ft2"}, 26.5 / 2.5, 4 * 990 / 280),
    ],
)  # fmt: skip
def test_every_way_of_working_shows_in_the_hours(demo, changes, placing, finishing):
    assert hours(demo.changed(changes)) == pytest.approx((placing, finishing), abs=0.02)


@pytest.mark.parametrize("changes", [{}, {"crew.screed": "hand", "crew.screed_rate": "400 ft2"}])
def test_quote_plan_and_mix_take_one_rate(demo, changes):
    job = demo.changed(changes)
    rates = [calc.results["rate"] for calc in (run("volume", job), run("mix", job))]
    assert rates == [Book(job).volume.rate] * 2


@pytest.mark.worked("simulate")
def test_a_slower_screed_costs_more_in_the_odds_as_well(floor):
    slow = floor.changed({"crew.screed": "hand", "crew.screed_rate": "400 ft2"})
    usual, slower = (simulate(job, 2000) for job in (floor, slow))
    dearer = slower.quoted - usual.quoted
    # 25.76 h of placing for 10.6, but no more waiting for set (6.91 h); wage, overhead, margin
    assert dearer == pytest.approx((25.76 - 10.6 - 6.91) * 46 * 1.12 / 0.85, rel=0.01)
    assert slower.at(0.5) - usual.at(0.5) == pytest.approx(dearer, rel=0.1)


def test_placing_and_finishing_are_priced_without_any_weather(demo):
    bare = demo.changed({"pour.forecast": None, "pour.date": None})
    assert hours(bare) == pytest.approx(hours(demo))
