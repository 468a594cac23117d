"""What if: the whole book run on a changed job, for the choices that a builder weighs first."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from calcbook.basis.reading import read
from calcbook.basis.showing import money_text, show_length, to_cents
from calcbook.book.chapters import Book
from calcbook.job.files import JobError
from calcbook.job.schema.structure import REINFORCEMENTS
from calcbook.weigh.outcome import HEADINGS, governing, outcome

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from calcbook.job.file import Job
    from calcbook.weigh.outcome import Outcome

_STEPS = {"us": (("in", -0.5), ("in", 0.5), ("in", 1.0)), "si": (("mm", -10), ("mm", 10), ("mm", 25))}


def choices(job: Job) -> list[tuple[str, dict[str, bool | str]]]:
    """Pairs of (words, changes): thickness, reinforcement, pump or chute, power or hand screed.

    job: a Job. A choice that the job file does not allow is left out.
    """
    found: list[tuple[str, dict[str, bool | str]]] = [
        (f"slab {_small(job, text)}", {"slab.thickness": text}) for text in _thicknesses(job)
    ]
    found += [
        ("no reinforcement" if kind == "none" else kind, {"reinforcement.kind": kind})
        for kind in REINFORCEMENTS
        if kind != job.reinforcement.kind
    ]
    ways = ("pump", "chute") if job.pour.pump else ("chute", "pump")
    found.append((f"{ways[1]} instead of {ways[0]}", {"pour.pump": not job.pour.pump}))
    screed = "hand" if job.crew.screed == "power" else "power"
    found.append((f"{screed} screed", {"crew.screed": screed}))
    return [(words, changes) for words, changes in found if _allowed(job, changes)]


def _thicknesses(job: Job) -> Iterator[str]:
    for unit_name, step in _STEPS[job.system]:
        thickness = job.slab.thickness.m_as("inch" if unit_name == "in" else "millimeter") + step
        yield f"{thickness:.6g} {unit_name}"


def _small(job: Job, text: str) -> str:
    return show_length(read(text, "in"), job.system, small=True)


def _allowed(job: Job, changes: dict[str, bool | str]) -> bool:
    try:
        job.changed(changes)
    except JobError:
        return False
    return True


def priced_choices(job: Job, progress: Callable[[], None] | None = None) -> list[tuple[str, Outcome]]:
    """Rows of (words, Outcome): the job as it stands, then each of its ``choices``.

    job: a Job; progress: called after each run. A choice on which a calculation fails is left out.
    """
    rows, book = [], Book(job)
    for words, changes in [("as it stands", {}), *choices(job)]:
        try:
            rows.append((words, outcome(book.changed(changes) if changes else book)))
        except ValueError:
            continue
        finally:
            if progress:
                progress()
    return rows


def choices_table(
    rows: Sequence[tuple[str, Outcome]], system: str = "us"
) -> tuple[tuple[str, ...], list[tuple[str, ...]]]:
    """(headings, cells) of the rows of ``priced_choices``, with what each costs more or less."""
    named = governing([one for _, one in rows])
    base = rows[0][1]
    cells = []
    for (words, one), check in zip(rows, named, strict=True):
        concrete, stone, hours, price, *rest = one.cells(check, system)
        more = one.price - base.price
        known = one.complete and base.complete
        told = f"{'+' if more >= 0 else ''}{money_text(more, system)}" if known else "NOT KNOWN"
        difference = "" if one is base else told
        cells.append((words, concrete, stone, hours, price, difference, *rest))
    return ("choice", *HEADINGS[:4], "difference", *HEADINGS[4:]), cells


def alternates(job: Job) -> list[tuple[str, Decimal]]:
    """What a client may choose, and what it adds to the price: other thicknesses, other reinforcement.

    Left out are those that open a check more than the job as it stands, and those whose price is not known.
    """
    book = Book(job)
    base, found = outcome(book), []
    for words, changes in choices(job):
        if not {"slab.thickness", "reinforcement.kind"} & set(changes):
            continue
        try:
            one = outcome(book.changed(changes))
        except ValueError:
            continue
        if one.complete and one.open <= base.open:
            found.append((_offered(job, words, changes), to_cents(one.price) - to_cents(base.price)))
    return found


def _offered(job: Job, words: str, changes: dict[str, bool | str]) -> str:
    """A choice in a client's words."""
    if "slab.thickness" in changes:
        return f"{words} thick"
    now = job.reinforcement.kind
    return words if now == "none" else f"{words} in place of {now}"
