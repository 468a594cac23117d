"""Many jobs at once: the whole book run for every combination of some fields' values."""

from __future__ import annotations

import contextlib
import itertools
import math
import multiprocessing
import os
import signal
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from calcbook.basis.showing import money_mark, money_text
from calcbook.basis.text_table import aligned, csv_text, terminal_width
from calcbook.basis.units import TRADE_UNITS
from calcbook.book.chapters import Book
from calcbook.job.file import Job, JobError
from calcbook.weigh.outcome import HEADINGS, NUMERIC, WITHOUT, Outcome, governing, outcome
from calcbook.weigh.sweep_axis import MOST_JOBS, read_axis

if TYPE_CHECKING:
    from collections.abc import Callable, Generator, Iterator, Sequence
    from pathlib import Path

    from calcbook.weigh.outcome import Seen
    from calcbook.weigh.sweep_axis import Axis

_ALONE = 8  # so few jobs are not worth starting further processes
_SHOWN = 60  # rows in the terminal
_CHUNK = 4  # jobs handed to a process at a time


@dataclass(frozen=True)
class Row:
    """One combination: its values as shown, and the Outcome, or a sentence why there is none."""

    texts: tuple[str, ...]
    outcome: Outcome | None
    reason: str = ""


@dataclass(frozen=True)
class Sweep:
    """Axes, the rows in order, and the units shown."""

    axes: tuple[Axis, ...]
    rows: tuple[Row, ...]
    system: str

    @property
    def named(self) -> list[Seen | None]:
        """The check that governs each row, in the order of the rows; None where a row failed."""
        found = iter(governing([row.outcome for row in self.rows if row.outcome]))
        return [next(found) if row.outcome else None for row in self.rows]

    def text(self, most: int = _SHOWN) -> str:
        """The table for the terminal; most: rows shown."""
        cells = [
            (*row.texts, *(row.outcome.cells(check, self.system) if row.outcome else _failed(row)))
            for row, check in itertools.islice(zip(self.rows, self.named, strict=True), most)
        ]
        headings = (*(axis.place for axis in self.axes), *HEADINGS)
        first = len(self.axes)
        right = {*range(first), *(first + column for column in NUMERIC)}
        lines = aligned(headings, cells, right, terminal_width())
        if len(self.rows) > most:
            lines.append(f"... {len(self.rows) - most:,} more rows; --csv PATH writes them all")
        return "\n".join([*lines, "", *self.summary(), WITHOUT]) + "\n"

    def summary(self) -> list[str]:
        """Sentences on the least price: of all, and of those with the fewest open checks."""
        good = [(row.outcome, row) for row in self.rows if row.outcome and row.outcome.complete]
        if not good:
            return ["No row has a complete price."]
        fewest = min(found.open for found, _ in good)
        found, best = min(
            (pair for pair in good if pair[0].open == fewest), key=lambda pair: pair[0].price
        )
        where = ", ".join(
            f"{axis.place} {text}" for axis, text in zip(self.axes, best.texts, strict=True)
        )
        checks = "no check open" if fewest == 0 else f"{fewest} open, the fewest"
        return [f"Least price with {checks}: {money_text(found.price, self.system)} at {where}."]

    def csv(self) -> str:
        """All rows as CSV, numbers plain, in the job's units."""
        yards, tons = (TRADE_UNITS[name].label_for(self.system) for name in ("yd3", "ton"))
        headings = (
            *(axis.place for axis in self.axes), f"concrete, {yards}", f"stone, {tons}", "hours of work", f"price, {money_mark(self.system).strip()}",
            "open checks", "ratio", "what governs", "remark",
        )  # fmt: skip
        rows: list[tuple[Any, ...]] = []
        for row, check in zip(self.rows, self.named, strict=True):
            if row.outcome is None:
                rows.append((*row.texts, *[None] * 7, row.reason))
            else:
                remark = "" if row.outcome.complete else "price not complete"
                rows.append((*row.texts, *row.outcome.numbers(check, self.system), remark))
        return csv_text(headings, rows)


def _failed(row: Row) -> tuple[str, ...]:
    return (*[""] * (len(HEADINGS) - 1), f"cannot be computed: {row.reason}")


def read_axes(texts: Sequence[str], job: Job) -> tuple[Axis, ...]:
    """The axes of a sweep from ``field=values`` texts. Raises JobError."""
    axes = tuple(read_axis(text, job) for text in texts)
    places = [axis.place for axis in axes]
    twice = next((place for place in places if places.count(place) > 1), None)
    if twice:
        raise JobError(f"{twice} is given twice; put all its values behind one =")
    jobs = math.prod(len(axis.values) for axis in axes)
    if jobs > MOST_JOBS:
        raise JobError(
            f"that is {jobs:,} jobs; at most {MOST_JOBS:,}: take larger steps or fewer fields"
        )
    return axes


def sweep(
    job: Job,
    axes: Sequence[Axis],
    processes: int | None = None,
    progress: Callable[[], None] | None = None,
) -> Sweep:
    """Run every combination of the axes' values through the whole book: a Sweep.

    job: a Job; axes: of ``read_axes``; processes: how many at most, else one for each core where
    there are many jobs; progress: called as each is done. A combination that cannot be computed
    stands in its row with the reason.
    """
    axes = tuple(axes)
    combinations = list(itertools.product(*(axis.values for axis in axes)))
    texts = list(itertools.product(*(axis.texts for axis in axes)))
    changes = [dict(zip((axis.place for axis in axes), c, strict=True)) for c in combinations]
    rows: dict[int, Row] = {}
    with contextlib.closing(_results(job, axes, changes, processes)) as results:
        for number, (found, reason) in results:
            rows[number] = Row(texts[number], found, reason)
            if progress:
                progress()
    return Sweep(axes, tuple(rows[number] for number in range(len(changes))), job.system)


def _results(
    job: Job, axes: Sequence[Axis], changes: Sequence[dict[str, Any]], processes: int | None
) -> Generator[tuple[int, tuple[Outcome | None, str]], None, None]:
    """Number of each change with its (Outcome or None, reason), as they are run."""
    workers = processes or (os.cpu_count() or 1 if len(changes) > _ALONE else 1)
    walk = _Walk(job)
    yield 0, walk.one(changes[0])  # what is read once is ready before the processes part
    rest = _in_turn(walk, axes, changes)
    if workers == 1:
        yield from ((number, walk.one(changes[number])) for number in rest)
        return
    pool = ProcessPoolExecutor(
        min(workers, len(changes)), initializer=_start, initargs=(job.raw, job.path)
    )
    try:
        with _stops_wait():
            found = pool.map(_in_process, [changes[number] for number in rest], chunksize=_CHUNK)
        yield from zip(rest, found, strict=True)
    except BaseException:
        for worker in multiprocessing.active_children():
            worker.terminate()  # else they wait for work, and the first process for them, without end
        raise
    finally:
        pool.shutdown(cancel_futures=True)


@contextlib.contextmanager
def _stops_wait() -> Iterator[None]:
    """A stop that comes while processes are started is met afterwards, when they can be ended."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    known = signal.pthread_sigmask(signal.SIG_BLOCK, (signal.SIGINT, signal.SIGALRM))
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, known)


def _in_turn(walk: _Walk, axes: Sequence[Axis], changes: Sequence[dict[str, Any]]) -> list[int]:
    """Numbers of the changes after the first, in the order in which the least is worked out anew.

    The field that the most parts of the book read changes the least often, whichever was named first.
    """
    if len(axes) == 1:
        return list(range(1, len(changes)))
    touched = {axis.place: walk.touched({**changes[0], axis.place: axis.values[-1]}) for axis in axes}
    places = sorted(touched, key=lambda place: -touched[place])
    at = {axis.place: {value: n for n, value in enumerate(axis.values)} for axis in axes}
    return sorted(
        range(1, len(changes)),
        key=lambda number: [at[place][changes[number][place]] for place in places],
    )


class _Walk:
    """Runs changed versions of a job one after the other, each beginning from the one before."""

    def __init__(self, job: Job) -> None:
        self.job, self.last = job, Book(job)

    def one(self, change: dict[str, Any]) -> tuple[Outcome | None, str]:
        """The Outcome of the job with some fields changed, or None and the reason."""
        try:
            book = Book(self.job.changed(change), self.last)
            found = outcome(book)
        except ValueError as error:
            return None, str(error).splitlines()[0]
        self.last = book
        return found, ""

    def touched(self, change: dict[str, Any]) -> int:
        """How many parts of the last book read what a change sets."""
        try:
            return self.last.touched(self.job.changed(change))
        except ValueError:
            return 0


_walk: _Walk | None = None  # of a process that works for a sweep


def _start(raw: dict[str, Any], path: Path | None) -> None:
    global _walk
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # only the first process answers to a stop
    _walk = _Walk(Job(raw, path))


def _in_process(change: dict[str, Any]) -> tuple[Outcome | None, str]:
    assert _walk is not None  # set by _start
    return _walk.one(change)
