"""What did we learn? The records of a builder as a calculation: every figure, one of them step by step, and prices."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from calcbook.basis.blocks import Input
from calcbook.basis.calculation import Calculation
from calcbook.basis.next_job import SURE, WEIGHT, ends, next_job, times_in_use
from calcbook.basis.showing import money_text
from calcbook.basis.sources import TABLES, cite
from calcbook.basis.table import records as rows_of
from calcbook.records.charts import outcome_chart, price_chart
from calcbook.records.estimate import estimates
from calcbook.records.file import read_records, records_in
from calcbook.records.learned import combined_mean, combined_odds, combined_scatter, mean_end
from calcbook.records.lines import COLUMNS as LINE_COLUMNS
from calcbook.records.lines import line_estimates, odd_lines, off_lines
from calcbook.records.lines import row as line_row
from calcbook.records.noted import tables
from calcbook.records.prices import prices_of
from calcbook.records.proposal import lost_days, proposal
from calcbook.records.scatter import spreads
from calcbook.records.telling import (
    COLUMNS,
    RULE,
    asked_words,
    proposal_words,
    row,
    shown_number,
    telling,
    units_of,
)

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from calcbook.job.file import Job
    from calcbook.records.estimate import Estimate
    from calcbook.records.file import Record

INVENTED = TABLES / "invented"
INVENTED_WORDS = "There is no record beside this job yet. These twelve are invented, to show what records tell; they say nothing of this job."
BAYES = cite("Gelman BDA", "section 3.3, conjugate prior of a normal distribution")


@dataclass(frozen=True)
class Beside:
    """The records beside a job file, or where there are none the invented ones; problems: what is wrong with others;
    system: the units in which they are told."""

    records: list[Record]
    problems: list[str]
    invented: bool
    system: str

    @property
    def whose(self) -> str:
        """Whose jobs they are of, in a word."""
        return "invented" if self.invented else "own"


def records_beside(job: Job) -> Beside:
    """The records beside a job file."""
    paths = records_in(job.path.parent if job.path else Path())
    records, problems = read_records(paths or records_in(INVENTED))
    return Beside(records, problems, not paths, job.system if paths else units_of(records))


def learned(job: Job) -> Calculation:
    """What the records beside a job file say of every figure, and whether prices held."""
    beside = records_beside(job)
    records, system, whose = beside.records, beside.system, beside.whose
    calc = Calculation(
        "records", f"What {whose} jobs say", f"Which figures do {whose} jobs bear out, and which not?", system
    )  # fmt: skip
    if beside.invented:
        calc.note(INVENTED_WORDS)
    for problem in beside.problems:
        calc.caution(problem)
    found = estimates(records, job.own, system)
    if not found:
        calc.note("Nothing measured stands in a record beside this job yet.")
        return calc
    n, silent = telling(found, records)
    for words in silent:
        calc.caution(words)
    calc.table(
        f"{n} {whose} job{'s' * (n != 1)}", rows_of(COLUMNS, [row(one, system) for one in found]), BAYES
    )
    calc.note(RULE)
    for one in found:
        for words in (*one.outcomes.problems, *asked_words(one, system)):
            calc.caution(words)
    title = "What they would propose, were they yours" if beside.invented else "What they propose"
    proposed = _proposed(found, records, job, system)
    if proposed:
        calc.table(title, proposed)
    else:
        calc.note("Too few jobs tell a figure to propose one yet.")
    lost = lost_days(records, job.own)
    if lost:
        calc.step(combined_odds, "Planned days lost to the weather, for the odds on a price.", name="lost", p_0=lost.in_use,
                  n_0=WEIGHT, k=float(lost.lost), n=float(lost.planned))  # fmt: skip
        calc.note(lost.words)
    _prices(calc, beside)
    return calc


def _proposed(
    found: Sequence[Estimate], records: Sequence[Record], job: Job, system: str
) -> list[dict[str, str]]:
    made = [proposal(one, job.own, system) for one in found]
    rows = [(one.estimate.figure.name, proposal_words(one, system)) for one in made if one.values]
    rows += [(one.name, one.words) for one in spreads(records, found, job.own)]
    return rows_of(("figure", "in words"), rows)


def by_line(job: Job) -> Calculation:
    """What own jobs say line by line of the quote, and of trucks, tasks and cracks."""
    beside = records_beside(job)
    records, system = beside.records, beside.system
    calc = Calculation(
        "by_line", "The quote, line by line", "Which lines come out otherwise than quoted?", system
    )
    if beside.invented:
        calc.note(INVENTED_WORDS)
    found = line_estimates(records, job.own)
    if found:
        calc.table(
            "Lines of the quote against what came out",
            rows_of(LINE_COLUMNS, [line_row(one) for one in found]),
            BAYES,
        )
    else:
        calc.note("No record tells hours or cost of a line.")
    for one in found:
        for words in (*one.outcomes.problems, *odd_lines(one)):
            calc.caution(words)
    for words in off_lines(records, job.own):
        calc.note(words)
    for title, columns, rows, words in tables(records, system):
        if rows:
            calc.table(title, rows_of(columns, rows))
            calc.note(words)
    return calc


def _prices(calc: Calculation, beside: Beside) -> None:
    """Whether the price that was to hold so often did; no verdict on invented jobs."""
    prices, system = prices_of(beside.records), beside.system
    if prices is None:
        calc.note(
            "No record tells what a job cost beside what was promised, so nothing is said of prices."
        )
        return
    low, high = prices.by_chance
    n, share, right = len(prices.records), prices.share, prices.held >= low
    if beside.invented:
        calc.note(f"Invented: {prices.words}")
    else:
        calc.verdict(
            f"Price that is to keep the margin in {share} jobs", right,
            cite("statistics", "binomial distribution"), f"held in {prices.held} of {n}",
            f"{low} to {high} of {n} by chance, nineteen times in twenty",
            to_do="Prices held less often than promised: take the rates that own jobs propose, or ask for more "
            "confidence under [risk].",
        )  # fmt: skip
    rows = [
        (r.name, r.file.record.date, money_text(q, system), money_text(s, system), money_text(w, system),
         "yes" if w <= s else "NO")
        for r, q, s, w in zip(prices.records, prices.quoted, prices.sure, prices.needed, strict=True)
    ]  # fmt: skip
    calc.table("Prices against what they would have had to be", rows_of(
        ("job", "day", "quoted", f"for {share} jobs", "needed, as it came out", "held"), rows))  # fmt: skip
    calc.figure("Prices", lambda: price_chart(prices, system, beside.whose))


def step_by_step(job: Job, name: str) -> Calculation:
    """One figure from its jobs to what is proposed, as a hand calculation. name: of the figure, as ``forms``."""
    beside = records_beside(job)
    system, whose = beside.system, beside.whose
    calc = Calculation(
        "records", f"What {whose} jobs say of {name}", "How do own jobs and the figure in use come together?", system
    )  # fmt: skip
    found = estimates(beside.records, job.own, system)
    one = next((e for e in found if e.figure.name == name and e.n), None)
    if one is None:
        calc.note(f"No record beside this job tells of {name} yet.")
        return calc
    if beside.invented:
        calc.note(INVENTED_WORDS)
    _inputs(calc, one, system)
    _steps(calc, one, system)
    calc.figure("Outcomes and promises", lambda: outcome_chart(one, system, whose))
    return calc


def _inputs(calc: Calculation, one: Estimate, system: str) -> None:
    scale = "logarithm of own over in use" if one.figure.log else "as measured"
    for symbol, meaning, text in (
        ("x_0", f"{one.figure.words}, in use", shown_number(one, one.in_use.mu, system)),
        ("n", "own jobs that count", f"{one.n}"),
        ("y_bar", f"mean of the own jobs, {scale}", f"{one.y:.4f}"),
        ("s", f"standard deviation of the own jobs, {scale}", f"{one.s:.4f}"),
        ("kappa_0", "jobs that the figure in use counts for", f"{WEIGHT:g}"),
    ):
        calc.inputs.append(Input(symbol, meaning, text, "the records"))


def _steps(calc: Calculation, one: Estimate, system: str) -> None:
    prior: dict[str, Any] = {"mu_0": one.in_use.mu, "kappa_0": WEIGHT, "y": one.y, "n": float(one.n)}
    mu = calc.step(combined_mean, f"{one.n} own jobs against {WEIGHT:g} that the figure in use stands for.", name="mean", **prior)  # fmt: skip
    sigma = calc.step(
        combined_scatter, "How far single jobs lie from it.", name="spread", sigma_0=one.in_use.sigma, nu_0=WEIGHT,
        s=one.s, **prior,
    )  # fmt: skip
    kappa = WEIGHT + one.n
    if one.figure.log:
        calc.step(times_in_use, "Back from the logarithm: times the figure in use.", symbol="r_n", y=mu)
    calc.finding("The figure, combined.", "x_n", shown_number(one, mu, system), "", BAYES, "combined", "figure, combined")  # fmt: skip
    for p, symbol in zip(ends(SURE), ("mu_low", "mu_high"), strict=True):
        calc.step(mean_end, "How well the figure itself is known by now.", symbol=symbol, mu=mu, sigma=sigma, kappa=kappa, nu=kappa, p=round(p, 6))  # fmt: skip
    for p, words in zip(ends(SURE), ("one job in ten is below", "nine in ten are below"), strict=True):
        y = calc.step(
            next_job,
            f"Band of the next job: {words}.",
            mu=mu,
            sigma=sigma,
            kappa=kappa,
            nu=kappa,
            p=round(p, 6),
        )
        calc.finding(f"So {words}", "x_p", shown_number(one, y, system), "", BAYES, label=f"band, {words}")  # fmt: skip


def drawn(job: Job, name: str = "") -> Figure | Calculation:
    """The chart of a figure's outcomes, or without a name of prices; what is missing where there is none."""
    page = step_by_step(job, name) if name else learned(job)
    return page.figures[0].draw() if page.figures else page
