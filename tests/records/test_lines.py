"""The quote line by line, and how own jobs scatter: by hand, beside scipy, and by simulation."""

import math

import numpy as np
import pytest
from invented_records import BOUGHT, write

from calcbook.records.estimate import estimates
from calcbook.records.file import read_record, read_records
from calcbook.records.lines import line_estimates, odd_lines, off_lines
from calcbook.records.scatter import costs, paces, spreads, spreads_of_jobs

HEAD = '[record]\njob = "{}.toml"\n{}\n'


def record(tmp_path, name, lines, promised, head=""):
    """A record with lines, each as TOML of one entry."""
    path = tmp_path / f"{name}.record.toml"
    parts = [HEAD.format(name, head), *(f"[[lines]]\n{one}\n" for one in lines)]
    parts += ["[promised]\n", *(f"[[promised.lines]]\n{one}\n" for one in promised)]
    path.write_text("".join(parts), encoding="utf-8")
    return read_record(path)


def test_lines_of_one_price_are_one_and_words_may_differ_from_job_to_job(tmp_path):
    """Own arithmetic: 110 + 60 of 100 + 50; hours by their own line."""
    made = record(
        tmp_path, "a",
        ['line = "Bars, No. 4"\ncost = "$110"', 'line = "bars,  no. 3"\ncost = "$60"', 'line = "Setting forms"\nhours = "12 h"'],
        ['line = "Bars, No. 4"\ncost = "$100"\nfield = "prices.bar"', 'line = "Bars, No. 3"\ncost = "$50"\nfield = "prices.bar"',
         'line = "Setting forms"\nhours = "9 h"\nfield = "crew.forms_rate"', 'line = "Tape"\ncost = "$9"\nfield = "prices.tape"'],
    )  # fmt: skip
    bars, forms = sorted(made.lines_told, key=lambda one: one[1])
    assert bars[1:3] == ("cost", "prices.bar") and bars[3] == pytest.approx(170 / 150)
    assert forms[:2] == ("Setting forms", "hours") and forms[3] == pytest.approx(12 / 9)


def test_hours_and_cost_of_a_line_may_stand_in_two_tables(tmp_path):
    """Own arithmetic: 12 h of 9, $30 of $24."""
    made = record(
        tmp_path, "a", ['line = "Forms"\nhours = "12 h"', 'line = "forms"\ncost = "$30"'],
        ['line = "Forms"\nhours = "9 h"\ncost = "$24"'],
    )  # fmt: skip
    assert {kind: times for _, kind, _, times in made.lines_told} == pytest.approx(
        {"hours": 12 / 9, "cost": 30 / 24}
    )


@pytest.mark.parametrize("kept", ['leave_out = "lines"', ""])
def test_a_job_can_be_left_out_of_all_lines(tmp_path, kept):
    made = record(tmp_path, "a", ['line = "Tape"\ncost = "$9"'], ['line = "Tape"\ncost = "$8"'], kept)
    assert len(made.lines_told) == (0 if kept else 1)


def test_a_line_is_learned_by_the_rule_of_every_figure(twelve):
    """Own arithmetic: mean of the logarithms, 12 jobs against the 5 of the quote."""
    (found,) = (one for one in line_estimates(twelve) if one.figure.name == "Vapor retarder")
    y = [
        math.log(times)
        for r in twelve
        for line, _, _, times in r.lines_told
        if line == "Vapor retarder"
    ]
    assert found.n == 12 and found.mu == pytest.approx(12 * np.mean(y) / 17)
    assert found.held == sum(
        a <= b <= c for a, b, c in zip(found.bands[0], y, found.bands[2], strict=True)
    )


def test_only_lines_that_enough_jobs_say_are_off_are_told_and_no_price_is_proposed(twelve):
    """The crew's bills for the vapor retarder were drawn 12 % above the quote, those for stone at the quote."""
    assert BOUGHT["Vapor retarder"][2] == 1.12 and BOUGHT["Crushed stone"][2] == 1.0
    (words,) = off_lines(twelve)
    assert (
        words.startswith("Cost of Vapor retarder: 1.0")
        and "a price is never taken from old jobs" in words
    )
    assert off_lines(twelve[:2]) == []


def test_a_wild_bill_is_asked_about_and_a_mistyped_one_left_out(tmp_path):
    made = [
        record(
            tmp_path, f"j{n}", [f'line = "Tape"\ncost = "${cost}"'], ['line = "Tape"\ncost = "$100"']
        )
        for n, cost in enumerate((101, 104, 97, 102, 210, 9000, 0))
    ]
    (tape,) = line_estimates(made)
    assert tape.n == 4 and len(tape.outcomes.problems) == 2
    assert all("look for a mistyped number" in words for words in tape.outcomes.problems)
    (question,) = odd_lines(tape)
    assert (
        question.startswith("j4.record.toml: cost of Tape came to 2.10")
        and 'counts = "lines"' in question
    )
    assert tape.mu == pytest.approx(np.log([1.01, 1.04, 0.97, 1.02]).sum() / 9)


# --- spreads ---------------------------------------------------------------------------------------


@pytest.mark.worked("spreads_of_jobs")
def test_what_jobs_have_in_common_is_told_from_what_lines_have_by_themselves():
    """Own arithmetic: jobs at -3, 0 and 3, lines 1 above and below in turn (a table of 2 by 3).

    Residuals within +-1, -+1, 0: 4 over (3 - 1)(2 - 1) = 2 degrees of freedom; between 2 x 9 x 2 / 2 = 18,
    so (18 - 2) / 2.
    """
    told = [
        ("a", 0, -3 + 1.0),
        ("b", 0, -3 - 1.0),
        ("a", 1, -1.0),
        ("b", 1, 1.0),
        ("a", 2, 3.0),
        ("b", 2, 3.0),
    ]
    found = spreads_of_jobs(told)
    assert found.each == pytest.approx(math.sqrt(2)) and found.common == pytest.approx(math.sqrt(8))
    assert (found.jobs_free, found.lines_free, found.jobs) == (2, 2, 3)
    assert (
        spreads_of_jobs(told[:4]) is None
        and spreads_of_jobs([one for one in told if one[0] == "a"]) is None
    )


def _jobs(random, jobs, lines, common, each):
    about = common * random.standard_normal(jobs)
    own = each * random.standard_normal((jobs, lines))
    return [(f"line {k}", j, 0.2 * k + about[j] + own[j, k]) for j in range(jobs) for k in range(lines)]


def test_both_spreads_are_found_again_and_better_with_more_jobs():
    """Crews drawn with 10 % in common and 15 % by task: mean squares within three standard errors, the scatter of them falls."""
    random = np.random.default_rng(8)
    found = {n: [spreads_of_jobs(_jobs(random, n, 6, 0.10, 0.15)) for _ in range(150)] for n in (5, 20)}
    for splits in found.values():
        each = np.array([one.each**2 for one in splits])
        assert each.mean() == pytest.approx(0.15**2, abs=3 * each.std() / math.sqrt(150))
    common = {n: np.array([one.common**2 for one in splits]) for n, splits in found.items()}
    assert common[20].mean() == pytest.approx(0.10**2, abs=3 * common[20].std() / math.sqrt(150))
    assert common[20].std() < common[5].std()


def test_spreads_are_proposed_from_records_and_move_little_from_few(tmp_path):
    records, _ = read_records(write(tmp_path, 12))
    pace, prices = spreads(records, estimates(records), None)
    assert {v.place for v in (*pace.values, *prices.values)} == {
        "risk.crew_pace", "risk.task_pace", "risk.market", "risk.item_price",
    }  # fmt: skip
    assert all(
        value.jobs == 12 and value.text in pace.words + prices.words
        for value in (*pace.values, *prices.values)
    )
    task = float(pace.values[1].text.removesuffix(" %"))
    assert task == pytest.approx(14, abs=2)  # the spread that the crew's hours were drawn with
    few = records[:2]
    assert all(one.values == () for one in spreads(few, estimates(few), None))
    assert len(paces(estimates(records))) == 7 * 12
    assert {line for line, _, _ in costs(records)} == {"Base stone, delivered", "Vapor retarder"}
