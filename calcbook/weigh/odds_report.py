"""The odds on a price for the reader: a calculation for the notebook, and text for the terminal."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

from calcbook.basis.calculation import Calculation
from calcbook.basis.showing import money_text
from calcbook.basis.sources import cite
from calcbook.basis.text_table import aligned, terminal_width
from calcbook.basis.units import Q
from calcbook.concrete.shortfall import left_in_pump
from calcbook.job.files import JobError
from calcbook.weigh.odds import DRAWS, LEVELS, SEED, odds_of
from calcbook.weigh.odds_charts import cumulative_chart, distribution_chart, tornado_chart
from calcbook.weigh.risk import (
    allowance_used,
    drawn_depth,
    further_loads,
    further_volume,
    idle_hours,
    lost_days,
    measured_volume,
    spread_factor,
    used_volume,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from calcbook.job.file import Job
    from calcbook.price.quote import Quote
    from calcbook.weigh.odds import Odds

FIELDS = (
    ("base.extra_depth", "e"), ("base.depth_spread", "sigma"), ("concrete.waste", "w"),
    ("risk.waste_used", "u_m"), ("risk.waste_spread", "s_u"),
    ("risk.further_wait", "t_w"), ("risk.crew_pace", "s_c"),
    ("risk.task_pace", "s_t"), ("risk.market", "s_m"), ("risk.item_price", "s_i"),
    ("risk.lost_day", "p"), ("risk.lost_hours", "t_l"), ("risk.set_wait", "s_s"),
    ("risk.confidence", "c"),
)  # fmt: skip
LOW, HIGH = "one job in ten is below", "nine in ten are below"
COLUMNS = ("driver", LOW, HIGH, "share of the spread")
_WIDE = 80  # characters of a line of text
NOTES = (
    "The base is measured before the pour, and the order follows how it came out. Waste shows only at the end: "
    "what is left over is paid, what is short comes on a further load with its fee, for which the crew waits.",
    "Paces and prices spread about the planned ones, which stand in the middle. A day lost to the weather keeps "
    "rented machines a day longer and pays the crew some hours.",
    "The quote is the price if each of these comes out as planned. Days lost and further loads only add to it, "
    "so the even bet lies above the quote.",
)


def calculation(quote: Quote, n: int = DRAWS, seed: int = SEED) -> Calculation:
    """The odds on a Quote as a Calculation; n, seed: as for ``simulate``.

    While a price is missing it says so and tells no odds.
    """
    job = quote.job
    calc = Calculation(
        "odds", "Odds on the price", "What could move the price, and what should I quote to be sure enough?", job.system
    )  # fmt: skip
    try:
        odds = odds_of(quote, n, seed)
    except JobError as missing:
        calc.note(f"{str(missing)[0].upper()}{str(missing)[1:]}.")
        return calc
    confidence = job.risk.confidence.m_as("")
    calc.figure("Prices", lambda: distribution_chart(odds))
    calc.figure("Confidence", lambda: cumulative_chart(odds, confidence))
    calc.figure("What moves the price", lambda: tornado_chart(odds))
    for place, symbol in FIELDS:
        calc.given(job, place, symbol)
    for words in NOTES:
        calc.note(words)
    source = cite("statistics", f"{n:,} draws, seed {seed}")
    for share, words in LEVELS:
        calc.finding(f"Price that keeps the margin whole: {words}.", f"P_{100 * share:.0f}", Q(odds.at(share), "$"),
                     "$", source, f"P{100 * share:.0f}", words)  # fmt: skip
    calc.finding("Price to quote for the confidence wanted.", "P_c", Q(odds.at(confidence), "$"), "$", source,
                 "quote", f"to quote for {100 * confidence:g} % confidence")  # fmt: skip
    for name, share, words in (
        ("kept", odds.kept, "the quoted price keeps its margin whole"),
        ("lost", odds.lost, "the quoted price does not pay cost and overhead"),
    ):
        calc.finding(f"Share of jobs in which {words}.", f"p_{name}", Q(round(100 * share, 1), "%"), "%",
                     source, name, words)  # fmt: skip
    calc.late_table("What moves the price, each alone", COLUMNS, lambda: driver_rows(odds), source)
    _followed(calc, quote)
    calc.caution(
        "Odds are as good as the spreads they rest on: keep records of base, waste, hours and prices."
    )
    calc.results["odds"] = odds
    return calc


def driver_rows(odds: Odds) -> tuple[tuple[str, ...], ...]:
    """Drivers as rows of finished text, under ``COLUMNS``."""
    return tuple(
        (d.words, *(money_text(x, odds.system) for x in (d.low, d.high)), f"{100 * d.share:.0f} %")
        for d in odds.drivers
    )


def _followed(calc: Calculation, quote: Quote) -> None:
    """One draw by hand: every score one spread to the bad side, and one day lost where that can be."""
    job, volume = quote.job, quote.calculations["volume"].results
    assert quote.volume is not None  # that of a book
    base, risk, z = job.base, job.risk, 1.0
    V = volume.get("together", volume["net"])  # of all slabs of the order
    if len({one.concrete.waste for one in (job, *job.poured_with)}) > 1:
        calc.note(
            f"The allowance for waste is {100 * quote.volume.waste:.3g} %: each slab's own, by its share of the concrete."
        )
    calc.note("One draw followed by hand, with every score one spread to the bad side (z = 1):")
    d = calc.step(drawn_depth, "The base as it came out.", e=base.extra_depth, s=base.depth_spread, z=z)
    V_m = calc.step(measured_volume, "What the plan takes over that base; the order follows it.",
                    V=V, A=job.poured_area, d=d, e=base.extra_depth)  # fmt: skip
    u = calc.step(allowance_used, "How much of the allowance is really lost.", u_m=risk.waste_used.m_as(""),
                  s=risk.waste_spread.m_as(""), z=z)  # fmt: skip
    left = " and what stays in pump and line" if job.pour.pump else ""
    V_u = calc.step(used_volume, f"What goes in, with that waste{left}.", V_m=V_m, V=V,
                    waste=quote.volume.waste, u=u, V_l=left_in_pump(job))  # fmt: skip
    V_x = calc.step(further_volume, "What is short of the quote's order, had the base not been measured.",
                    V_u=V_u, V_o=volume["order"], step=job.concrete.order_step)  # fmt: skip
    calc.step(further_loads, "Trucks that bring it.", V_x=V_x, capacity=job.pour.truck_capacity)
    calc.step(
        spread_factor,
        "A pace one spread slower: hours grow by this factor.",
        s=risk.crew_pace.m_as(""),
        z=z,
    )
    if risk.lost_day.m > 0:
        n_w = calc.step(
            lost_days, "One job in ten loses at least so many days.", p=risk.lost_day.m_as(""), q=0.1
        )
        calc.step(
            idle_hours, "Hours paid for them.", n=n_w, n_p=float(job.crew.size), t_w=risk.lost_hours
        )


def odds_text(quote: Quote, odds: Odds | None = None) -> str:
    """The odds on a Quote for the terminal."""
    job = quote.job
    odds = odds or odds_of(quote)
    confidence = job.risk.confidence.m_as("")
    parts = [f"Odds on the price ({len(odds.prices):,} draws, seed {odds.seed})", ""]
    shares = [*LEVELS, (confidence, f"to quote for {100 * confidence:g} % confidence")]
    parts += aligned(
        ("price that keeps the margin whole", ""),
        [(words, money_text(odds.at(p), job.system)) for p, words in shares],
        right={1},
    )
    parts += [
        "",
        textwrap.fill(
            f"At the quoted {money_text(odds.quoted, job.system)} the margin stays whole in {100 * odds.kept:.0f} of 100 jobs; "
            f"in {100 * odds.lost:.1f} of 100 it does not pay cost and overhead.", _WIDE,
        ),
        "",
        *aligned(("what moves the price, each alone", LOW, HIGH, "share"),
                 [list(row) for row in driver_rows(odds)], right={1, 2, 3}),
        "", "Spreads it rests on",
        *(f"  {row}" for row in aligned(("field", "value", "meaning", "where from"), _spreads(job),
                                              right={1}, room=terminal_width() - 2)),
        "", *(textwrap.fill(note, _WIDE) for note in NOTES),
    ]  # fmt: skip
    return "\n".join(parts) + "\n"


def _spreads(job: Job) -> Iterator[tuple[str, str, str, str]]:
    for place, _ in FIELDS:
        entry = job.field(place)
        yield (
            place,
            entry.text,
            entry.meaning,
            f"assumed: {entry.assumed}" if entry.assumed else "given",
        )
