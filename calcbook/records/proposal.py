"""What own jobs propose: new values for the builder's own file, and what they would do to the open quotes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from calcbook.basis.next_job import WEIGHT
from calcbook.basis.showing import magnitude, number_text
from calcbook.basis.units import TRADE_UNITS, Q, UnitError
from calcbook.book.chapters import Book
from calcbook.job.catalog import field_at
from calcbook.job.fields import meta_of
from calcbook.job.file import Job
from calcbook.job.files import JobError
from calcbook.job.own import Learned
from calcbook.job.raw import value_at
from calcbook.records.estimate import Starts
from calcbook.records.figures import LEAST_JOBS
from calcbook.records.learned import combined_odds, share_of_allowance

if TYPE_CHECKING:
    import datetime

    from calcbook.job.own import Own
    from calcbook.records.estimate import Estimate
    from calcbook.records.file import Record

ALLOWED = 0.95  # share of jobs that an allowance for waste is to be enough for: nineteen in twenty


@dataclass(frozen=True)
class Value:
    """A value proposed: ``text`` as it is written into the own file; ``start``: what stood there before own jobs."""

    place: str
    text: str
    start: str
    jobs: int
    there: bool = False  # whether the own file says so already

    def learned(self, day: datetime.date) -> Learned:
        """Where it comes from, once it is accepted."""
        return Learned(self.jobs, day, self.start)


@dataclass(frozen=True)
class Proposal:
    """What an estimate proposes: ``values`` for the own file; ``why_not``: the sentence where there are none."""

    estimate: Estimate
    values: tuple[Value, ...]
    why_not: str = ""


def proposal(estimate: Estimate, own: Own | None, system: str) -> Proposal:
    """What an estimate proposes for the own file; system: units in which values are written."""
    if not estimate.figure.place:
        return Proposal(estimate, (), "shown only, as no field takes it")
    if estimate.n < LEAST_JOBS:
        return Proposal(estimate, (), f"nothing is proposed from fewer than {LEAST_JOBS} jobs")
    try:
        values = [
            value_of(place, number, own, estimate.n, system)
            for place, number in _numbers(estimate).items()
        ]
    except UnitError as error:
        return Proposal(estimate, (), f"not proposed: {error}")
    return Proposal(estimate, tuple(values))


def values_words(values: Sequence[Value]) -> str:
    """What is proposed, or stands in the own file already, in a sentence."""
    said = ", ".join(f"{value.place} = {value.text}" for value in values)
    return (
        f"In your own file already: {said}." if all(v.there for v in values) else f"Proposed: {said}."
    )


def value_of(place: str, number: float, own: Own | None, jobs: int, system: str = "us") -> Value:
    """A number of a field's trade unit as a Value. Raises UnitError where the field does not take it."""
    meta = meta_of(field_at(place))
    text = _written(number, meta, system, up=place in _UP)
    meta["reader"](text)
    start = own.start_of(place) if own else None
    section, _, key = place.partition(".")
    there = own is not None and own.values.get(section, {}).get(key) == text
    return Value(place, text, "" if start is None else str(start), jobs, there)


_LOST = "risk.lost_day"
MOST_SPREAD = 0.5  # that the fields under [risk] take
_UP = (
    "concrete.waste", "base.depth_spread", "risk.waste_spread", "risk.set_wait", "risk.crew_pace", "risk.task_pace", "risk.market",
    "risk.item_price",
)  # fmt: skip  # rounded to the safe side


def _numbers(estimate: Estimate) -> dict[str, float]:
    """Values proposed by place, in the trade units of their fields."""
    name, place = estimate.figure.name, estimate.figure.place
    if name == "depth":
        return {place: estimate.mu, "base.depth_spread": estimate.sigma}
    if name == "waste":
        allowance = _step(max(estimate.end(ALLOWED), 0.005), 0.005, up=True)
        mean, spread = (
            float(share_of_allowance.bulk(w=max(w, 0.0), w_a=allowance)) for w in (estimate.mu, estimate.sigma)
        )  # fmt: skip
        return {place: allowance, "risk.waste_used": mean, "risk.waste_spread": spread}
    own = {place: float(estimate.figured(estimate.mu))}
    if name == "set" and estimate.sigma <= MOST_SPREAD:
        own["risk.set_wait"] = estimate.sigma
    return own


def _written(number: float, meta: dict[str, Any], system: str, up: bool) -> str:
    """A number of a trade unit as it is written into a file: to a sixteenth of an inch, half a percent, three digits."""
    unit = meta["unit"]
    if unit == "1":
        if meta["ratio"]:
            return f"{number:.3g}"
        return f"{100 * _step(number, 0.005, up):.4g} %"
    row, si = TRADE_UNITS[unit], system == "si"
    shown = magnitude(Q(number, unit), unit, system)
    if unit == "in":
        return f"{_step(shown, 1.0, up):.6g} {row.si}" if si else _inches(_step(shown, 1 / 16, up))
    if unit == "min":
        return f"{shown:.0f} min"
    return f"{shown:.3g} {row.label_for(system) if unit == '1/h' else row.si if si else unit}"


def _inches(value: float) -> str:
    """Inches as a tape shows them: ``1 3/16 in``."""
    whole, part = divmod(abs(Fraction(value)), 1)
    said = " ".join(str(one) for one in (whole, part) if one) or "0"
    return f"{'-' if value < 0 else ''}{said} in"


def _step(number: float, step: float, up: bool) -> float:
    return step * (math.ceil(number / step - 1e-6) if up else round(number / step))


@dataclass(frozen=True)
class LostDays:
    """Planned pour days lost to the weather: ``lost`` of ``planned``, the odds in use and combined, and the value proposed."""

    lost: int
    planned: int
    in_use: float
    odds: float
    values: tuple[Value, ...]

    name = "lost days"

    @property
    def words(self) -> str:
        """What own days say, in a sentence or two."""
        said = (
            f"Planned days lost to the weather: {self.lost} of {self.planned} in own jobs, {100 * self.in_use:.0f} % in use, "
            f"{100 * self.odds:.1f} % combined."
        )
        return f"{said} {values_words(self.values)}" if self.values else f"{said} {_FEW}."


_FEW = f"Nothing is proposed from fewer than {LEAST_JOBS} jobs"


def lost_days(records: Sequence[Record], own: Own | None) -> LostDays | None:
    """What records tell of days lost to the weather; None where none tells. Each job had a day that held."""
    told = [n for r in records if (n := r.file.record.lost_days) is not None]
    if not told:
        return None
    in_use, lost, planned = Starts(own).number(_LOST), sum(told), sum(told) + len(told)
    odds = float(combined_odds.bulk(p_0=in_use, n_0=WEIGHT, k=lost, n=planned))
    value = value_of(_LOST, odds, own, len(told))
    return LostDays(lost, planned, in_use, odds, (value,) if len(told) >= LEAST_JOBS else ())


# --- what it would do ------------------------------------------------------------------------------


@dataclass(frozen=True)
class Effect:
    """An open quote before and after; ``words`` where there is no price to compare."""

    job: Job
    before: float | None
    after: float | None
    words: str = ""


def effects(jobs: Iterable[Job], values: Sequence[Value]) -> list[Effect]:
    """What the values proposed would do to the quotes of jobs."""
    return [_effect(job, values) for job in jobs]


def _effect(job: Job, values: Sequence[Value]) -> Effect:
    if job.own is None:
        return Effect(job, None, None, 'takes nothing from your own file (it does not say own = "yes")')
    changes = {v.place: v.text for v in values if value_at(job.raw, v.place) is None}
    if not changes:
        return Effect(job, None, None, "gives all of these itself")
    try:
        book = Book(job)
        if not book.quote.complete:
            return Effect(job, None, None, f"its price is not complete; {book.quote.lacking}")
        return Effect(job, _total(book), _total(book.changed(changes)))
    except JobError as error:
        return Effect(job, None, None, error.problems[0])


def _total(book: Book) -> float:
    return float(book.quote.calculation.results["total"].m_as("dollar"))


def shown_number(estimate: Estimate, y: float, system: str) -> str:
    """The figure behind an outcome y as text, in the units of a system."""
    figure, value = estimate.figure, float(estimate.figured(y))
    if figure.unit == "1":
        return f"{100 * value:.1f} %" if figure.name == "waste" else f"{value:.2f}"
    row = TRADE_UNITS[figure.unit]
    if figure.unit == "in":
        return f"{value:.2f} in." if system.startswith("us") else f"{25.4 * value:.0f} mm"
    if figure.unit == "delta_degF":
        return f"{magnitude(Q(value, figure.unit), figure.unit, system):+.1f} {row.label_for(system)}"
    return f"{number_text(magnitude(Q(value, figure.unit), figure.unit, system))} {row.label_for(system)}".strip()
