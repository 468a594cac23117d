"""What the records say, in words and tables for the terminal and for a page."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING

from calcbook.basis.next_job import SURE, WEIGHT, ends
from calcbook.basis.showing import Units, money_text
from calcbook.records.proposal import shown_number, values_words

if TYPE_CHECKING:
    from calcbook.records.estimate import Estimate
    from calcbook.records.file import Record
    from calcbook.records.proposal import Effect, Proposal

COLUMNS = (
    "figure",
    "before own jobs",
    "own jobs",
    "mean of them",
    "combined",
    "band of the next job",
    "held",
)
RULE = (
    f"The figure before own jobs, your own or the book's, counts for {WEIGHT:g} jobs, in mean and in spread. The band is to hold {100 * SURE:.0f} of 100 next "
    "jobs; held tells how many lay inside the band that the jobs before them had promised."
)


def row(estimate: Estimate, system: str) -> tuple[str, ...]:
    """The cells of an estimate in a table of ``COLUMNS``."""

    def text(y: float) -> str:
        return shown_number(estimate, y, system)

    low, high = (estimate.end(p) for p in ends(SURE))
    seen = len(estimate.outcomes.y)
    return (
        estimate.figure.name, text(estimate.in_use.mu), f"{estimate.n}", text(estimate.y) if estimate.n else "–",
        text(estimate.mu), f"{text(low)} to {text(high)}", f"{estimate.held} of {seen}",
    )  # fmt: skip


def telling(found: Sequence[Estimate], records: Sequence[Record]) -> tuple[int, list[str]]:
    """(how many records tell of a figure, one sentence for each that tells of none). found: estimates from them."""
    heard = {record.path for one in found for record in one.outcomes.records}
    silent = [record.path.name for record in records if record.path not in heard]
    return len(heard), [
        f"{name}: nothing that stands in it yet tells of a figure below" for name in silent
    ]


def asked_words(estimate: Estimate, system: str) -> list[str]:
    """One question for each outcome that lies too far from all others."""
    name = estimate.figure.name
    return [
        f"{record.path.name}: {name} came to {shown_number(estimate, y, system)}, far from your other jobs. Is "
        f'that right? Then write counts = "{name}" under [record] there; else leave_out = "{name}". Until then it '
        "does not count."
        for record, y in estimate.asked
    ]


def proposal_words(proposal: Proposal, system: str) -> str:
    """What is proposed for a figure that proposes something, in two sentences."""
    estimate = proposal.estimate
    figure, own, used = estimate.figure, estimate.y, estimate.in_use.mu
    now = shown_number(estimate, used, system)
    said = f"{figure.words.capitalize()}: {now} before own jobs, {shown_number(estimate, own, system)} in {estimate.n} of them."
    return f"{said} {values_words(proposal.values)}"


def proposals_words(proposals: Sequence[Proposal], system: str) -> list[str]:
    """What is proposed, a sentence or two for each figure; those that propose nothing together, by why."""
    said = [proposal_words(one, system) for one in proposals if one.values]
    reasons: dict[str, list[str]] = {}
    for one in proposals:
        if not one.values:
            reasons.setdefault(one.why_not, []).append(one.estimate.figure.name)
    return said + [f"{', '.join(names)}: {why}." for why, names in reasons.items()]


def effect_words(effect: Effect) -> str:
    """What the proposals would do to an open quote, in a sentence."""
    name = effect.job.path.name if effect.job.path else effect.job.job.name
    if effect.before is None or effect.after is None:
        return f"{name}: {effect.words}"
    change = effect.after - effect.before
    system = effect.job.system
    sign = "more" if change > 0 else "less"
    if abs(change) < 0.005:
        return f"{name}: the price stays {money_text(effect.before, system)}"
    return (
        f"{name}: {money_text(effect.before, system)} would become {money_text(effect.after, system)}, "
        f"{money_text(abs(change), system)} {sign}"
    )


def units_of(records: Sequence[Record]) -> Units:
    """The units and the money of most records."""
    metric = sum(record.file.record.units == "si" for record in records)
    money = Counter(record.file.record.currency for record in records).most_common(1)
    return Units.of("si" if metric * 2 > len(records) else "us", money[0][0] if money else "$")
