"""``calcbook learn``: what own jobs say, what they propose, and writing what is accepted into the own file."""

from __future__ import annotations

import datetime
import re
import shlex
import textwrap
from pathlib import Path
from typing import TYPE_CHECKING

from calcbook.basis.safety import DEFERRAL
from calcbook.basis.showing import Units
from calcbook.basis.text_table import aligned, terminal_width
from calcbook.job.file import Job
from calcbook.job.files import JobError
from calcbook.job.own import keep_learned, own_path, read_own
from calcbook.records.estimate import estimates
from calcbook.records.file import is_record, read_records, record_path, records_in
from calcbook.records.learned import held_by_chance
from calcbook.records.lines import off_lines
from calcbook.records.prices import prices_of
from calcbook.records.telling import (
    COLUMNS,
    RULE,
    asked_words,
    effect_words,
    proposals_words,
    row,
    telling,
    units_of,
)

if TYPE_CHECKING:
    from argparse import Namespace
    from collections.abc import Iterable

    from calcbook.job.own import Own
    from calcbook.records.estimate import Estimate
    from calcbook.records.file import Record
    from calcbook.records.proposal import LostDays, Proposal, Value
    from calcbook.records.scatter import Spread


def run_learn(arguments: Namespace) -> int:
    """Tell what the records say and propose; with --accept, write it into the own file. Returns the exit status."""
    path = Path(arguments.own).expanduser() if arguments.own else own_path()
    own = read_own(path) if path.exists() else None
    found, jobs = _paths(arguments.paths or ["."])
    records, problems = read_records(found)
    if not found:
        raise JobError("there is no record here; calcbook record JOB makes one after a pour")
    for problem in problems:
        print(problem)
    if not records:
        return 2
    system = _units(records, own)
    told = estimates(records, own, system)
    if not told:
        raise JobError("nothing measured stands in these records yet; calcbook record JOB asks for it")
    _tell_figures(told, records, system)
    if arguments.lines:
        _tell_lines(records, own, system)
    from calcbook.records.proposal import lost_days, proposal
    from calcbook.records.scatter import spreads

    proposed = [proposal(one, own, system) for one in told]
    others = [one for one in (lost_days(records, own), *spreads(records, told, own)) if one]
    _list("Proposed", [*proposals_words(proposed, system), *(one.words for one in others)])
    lines = off_lines(records, own)
    more = (
        [] if arguments.lines else ["Every line, and trucks, tasks and cracks: calcbook learn --lines"]
    )
    _list("Lines that come out otherwise than quoted", [*lines, *more] if lines else [])
    values = _chosen(proposed, others, arguments.accept)
    _tell_effects(jobs, path, values)
    _say(DEFERRAL)
    if arguments.accept is None:
        command = " ".join(["calcbook learn", *map(shlex.quote, arguments.paths), "--accept"])
        names = [shlex.quote(one.estimate.figure.name) for one in proposed if one.values][:2]
        if values and all(value.there for value in values):
            _say("Nothing is changed: your own file says all of this already.")
            return 0
        all_of_them = f" To take all of these into your own file: {command}" if values else ""
        _say(f"Nothing is changed.{all_of_them}")
        if names:
            print(f"Some of them, by name: {command} {' '.join(names)}")
        return 0
    return _accept(path, values)


def _units(records: list[Record], own: Own | None) -> Units:
    """The units of the own file, else of most records, and the money of most records."""
    of_records = units_of(records)
    units = own.values.get("job", {}).get("units") if own else None
    if not units:
        return of_records
    shown = Units(str(units))
    shown.mark = of_records.mark
    return shown


def _tell_figures(told: list[Estimate], records: list[Record], system: str) -> None:
    """Every figure, what is asked about, and whether prices held."""
    for one in told:
        for words in (*one.outcomes.problems, *asked_words(one, system)):
            print(words)
    n, silent = telling(told, records)
    for words in silent:
        print(words)
    print(f"\nWhat {n} own job{'s' * (n != 1)} say{'s' * (n == 1)}\n")
    print("\n".join(aligned(COLUMNS, [row(one, system) for one in told], {2}, terminal_width())))
    _say(f"{RULE} {_by_chance(n)}")
    prices = prices_of(records)
    if prices:
        _say(prices.words)


def _list(title: str, paragraphs: list[str]) -> None:
    """Paragraphs under a title; nothing without any."""
    if paragraphs:
        print(f"\n{title}\n")
    for words in paragraphs:
        _wrap(words)


def _say(words: str) -> None:
    """A paragraph, wrapped to the terminal."""
    print("\n" + textwrap.fill(words, terminal_width() or 100, break_on_hyphens=False))


def _wrap(words: str) -> None:
    """An entry of a list, wrapped to the terminal."""
    print(textwrap.fill(words, terminal_width() or 100, subsequent_indent="  ", break_on_hyphens=False))


def _tell_lines(records: list[Record], own: Own | None, system: str) -> None:
    """Every line of the quote, and what is only noted: trucks, tasks, cracks."""
    from calcbook.records import lines
    from calcbook.records.noted import tables

    each = lines.line_estimates(records, own)
    for one in each:
        for sentence in (*one.outcomes.problems, *lines.odd_lines(one)):
            print(sentence)
    found = [
        ("Lines of the quote", lines.COLUMNS, [lines.row(one) for one in each], ""),
        *tables(records, system),
    ]
    for title, columns, rows, words in found:
        if rows:
            print(f"\n{title}\n")
            print("\n".join(aligned(columns, rows, _numbers(rows), terminal_width())))
        if rows and words:
            _wrap(words)


def _numbers(rows: list[tuple[str, ...]]) -> set[int]:
    """The columns that hold numbers alone."""
    return {
        n
        for n, cells in enumerate(zip(*rows, strict=True))
        if all(re.match(r"[\d–]", cell) for cell in cells)
    }


def _by_chance(n: int) -> str:
    low, high = held_by_chance(n)
    return f"Of {n} jobs a band that is right holds {low} to {high}, nineteen times in twenty."


def _paths(given: Iterable[str]) -> tuple[list[Path], list[Path]]:
    """(records, job files without a record) of folders, jobs and records."""
    records: dict[Path, None] = {}
    jobs: dict[Path, None] = {}
    for one in map(Path, given):
        if one.is_dir():
            records |= dict.fromkeys(records_in(one))
            there = [p for p in sorted(one.glob("*.toml")) if not is_record(p)]
            jobs |= dict.fromkeys(p for p in there if not record_path(p).exists())
        elif is_record(one):
            records[one] = None
        elif record_path(one).exists():
            records[record_path(one)] = None
        else:
            jobs[one] = None
    return list(records), list(jobs)


def _chosen(
    proposed: list[Proposal], others: list[LostDays | Spread], accepted: list[str] | None
) -> list[Value]:
    """The values of the figures named, or of all of them."""
    values = {one.estimate.figure.name: one.values for one in proposed}
    values |= {one.name: one.values for one in others}
    for name in accepted or ():
        if name not in values:
            raise JobError(f"{name!r} is none of the figures told here: {', '.join(values)}")
    return [
        value for name, found in values.items() if not accepted or name in accepted for value in found
    ]


def _tell_effects(paths: list[Path], own_file: Path, values: list[Value]) -> None:
    """What the values would do to the open quotes: the jobs that have no record yet."""
    from calcbook.records.proposal import effects

    if not values:
        return
    jobs = []
    print("\nOpen quotes")
    for path in (p for p in paths if p.resolve() != own_file.resolve()):
        try:
            jobs.append(Job.read(path))
        except JobError as error:  # a file of something else, or one with a mistake
            print(f"{path.name}: not read ({error.problems[0][:120]})")
    for one in effects(jobs, values):
        print(effect_words(one))
    if not paths:
        print("none here: every job file has its record")


def _accept(path: Path, values: list[Value]) -> int:
    """Write values into the own file. Returns the exit status."""
    if not values:
        print("\nNothing is proposed, so nothing is written.")
        return 0
    day = datetime.date.today()
    keep_learned(path, {value.place: (value.text, value.learned(day)) for value in values})
    print(f"\n{len(values)} values are in {path}, with the day and the number of jobs.")
    print('A job takes them where it leaves them out itself and says own = "yes" under [job].')
    return 0
