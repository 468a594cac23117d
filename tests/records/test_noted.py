"""Trucks, tasks and cracks as they are noted: counted by hand, intervals beside scipy."""

import pytest
from scipy import stats

from calcbook.records.file import read_record
from calcbook.records.noted import clock_rows, crack_rows, share_behind, tables, ticket_rows

TEXT = """[record]
job = "a.toml"
[[trucks]]
load = "9 yd3"
arrived = "23:30"
began = "23:40"
empty = "00:07"
[[trucks]]
load = "6 yd3"
arrived = "00:20"
empty = "00:50"
[[work]]
task = "placing"
start = "23:40"
end = "01:40"
people = 4
[[work]]
task = "floating"
start = "04:10"
end = "05:10"
[[work]]
task = "floating"
start = "06:10"
end = "06:40"
[cracks]
seen = 1
[promised]
thickness = "5 in"
panel = "12 ft"
w_cm = 0.48
"""


@pytest.fixture
def job(tmp_path):
    path = tmp_path / "a.record.toml"
    path.write_text(TEXT, encoding="utf-8")
    return read_record(path)


def test_trucks_over_midnight_by_hand(job):
    """Own arithmetic: 50 min apart; 10 min of wait; 27 min for 9 yd3; on site 37 and 30 min."""
    rows = {row[0]: row[1:] for row in ticket_rows([job], "us")}
    assert {words: row[:2] for words, row in rows.items()} == {
        "time between trucks, min": ("1", "50.0"), "wait before unloading, min": ("1", "10.0"),
        "unloading, min": ("1", "27.0"), "unloading, min a yd³": ("1", "3.0"), "on site, arrived to empty, min": ("1", "33.5"),
    }  # fmt: skip
    metric = {row[0]: row[2] for row in ticket_rows([job], "si")}
    assert metric["unloading, min a m³"] == "3.9"  # 3 min over 0.7646 m3


def test_tasks_on_the_clock_by_hand(job):
    """Own arithmetic: floating begins 4.5 h after placing, for an hour and half an hour; four people for two hours."""
    rows = {row[0]: row[1:] for row in clock_rows([job])}
    assert rows == {
        "placing": ("1", "0.0", "0.0", "0.0", "2.0", "8.0"), "floating": ("1", "4.5", "4.5", "4.5", "1.5", "–"),
    }  # fmt: skip


def test_cracks_are_counted_by_group_and_what_is_not_said_says_so(job):
    rows = {(row[0], row[1]): row[2:4] for row in crack_rows([job], "us")}
    assert rows == {
        ("all", "every job"): ("1", "1"), ("longest panel", "over 24 times the thickness"): ("1", "1"),
        ("water over cement", "up to 0.50"): ("1", "1"),
        ("evaporation, worst hour by the forecast", "not said"): ("1", "1"),
    }  # fmt: skip
    words = [words for _, _, _, words in tables([job], "us")]
    assert "no cause is proved" in words[-1]


@pytest.mark.library("SciPy", "stats.binomtest, exact interval", "share_behind")
@pytest.mark.parametrize(("k", "n"), [(0, 4), (3, 10), (12, 12), (1, 1)])
def test_the_share_behind_a_count_is_scipys(k, n):
    interval = stats.binomtest(k, n).proportion_ci(0.8, "exact")
    assert share_behind(k, n) == pytest.approx((interval.low, interval.high), abs=1e-9)


def test_the_true_share_lies_inside_at_least_as_often_as_said():
    """By scipy's binomial over all counts of 12 jobs; exact intervals are never too narrow."""
    for share in (0.05, 0.3, 0.7):
        held = sum(
            stats.binom.pmf(k, 12, share)
            for k in range(13)
            if share_behind(k, 12)[0] <= share <= share_behind(k, 12)[1]
        )
        assert held >= 0.8
