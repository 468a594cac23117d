"""A record of a pour as a file beside its job: reading, and writing it whole or not at all.

The record of ``garage.toml`` is ``garage.record.toml``. The job file is never changed.
"""

from __future__ import annotations

import functools
import itertools
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

import tomli
import tomlkit

from calcbook.basis.units import number_in
from calcbook.job.catalog import section_of
from calcbook.job.clock import clock_hours
from calcbook.job.fields import meta_of
from calcbook.job.files import JobChanged, JobError, Stamp, locked, read_text, stamp, write_whole
from calcbook.job.merging import set_at
from calcbook.job.problems import checked_as, named_line, parsed
from calcbook.job.raw import plain
from calcbook.job.schema.prices import Prices
from calcbook.records.figures import LINES
from calcbook.records.schema import RecordFile

if TYPE_CHECKING:
    from calcbook.records.schema import PromisedLine

ENDING = ".record.toml"
LINE_UNITS = {"hours": "h", "cost": "$"}  # what is written down of a line
_HEAD = """# Record of a pour: what was measured, beside what the book had promised.
# Every value but [record] job may be left out. It changes no job file, and nothing of it leaves this machine.

"""


@dataclass(frozen=True)
class Record:
    """A checked record: ``file`` holds its sections (schema.RecordFile), ``text`` what stood in the file."""

    path: Path
    text: str
    file: RecordFile = field(compare=False)

    @property
    def name(self) -> str:
        """What the job is called."""
        return self.file.record.name or self.path.name.removesuffix(ENDING)

    @functools.cached_property
    def start(self) -> float | None:
        """Hour of the clock at which placing began, or the first truck came; None where neither is known."""
        begun = [work.start for work in self.file.work if work.task == "placing" and work.start]
        came = [truck.arrived for truck in self.file.trucks if truck.arrived]
        known = [clock_hours(text) for text in begun or came]
        return min(known) if known else None

    @property
    def doubt(self) -> str:
        """A sentence where the day cannot be right; "" else."""
        day, planned = self.file.record.date, self.file.promised.date
        if not day or not planned or day >= planned:
            return ""
        return (
            f"{self.path.name} is dated {day}, before the pour as it was planned, {planned}; mend [record] date if it is mistyped. "
            "It counts all the same"
        )

    @functools.cached_property
    def truck_spacing(self) -> float | None:
        """Mean minutes from one truck's arrival to the next, in the order of the tickets; None without two."""
        came = [clock_hours(truck.arrived) for truck in self.file.trucks if truck.arrived]
        gaps = [(b - a) % 24 for a, b in itertools.pairwise(came)]
        return 60 * sum(gaps) / len(gaps) if gaps and sum(gaps) > 0 else None

    @functools.cached_property
    def lines_done(self) -> dict[str, tuple[tuple[PromisedLine, float, float], ...]]:
        """Lines of the quote that were written down: (as promised, what was promised, what it came to), by ``hours``
        and ``cost``."""
        promised = [(line, plain(line.line)) for line in self.file.promised.lines]
        written = [(line, plain(line.line)) for line in self.file.lines]
        found = {}
        for kind, unit in LINE_UNITS.items():
            came = {
                name: getattr(line, kind) for line, name in written if getattr(line, kind) is not None
            }
            found[kind] = tuple(
                (line, float(number_in(before, unit)), float(number_in(came[name], unit)))
                for line, name in promised
                if name in came and (before := getattr(line, kind)) is not None and before.m > 0
            )
        return found

    @functools.cached_property
    def lines_told(self) -> tuple[tuple[str, str, str, float], ...]:
        """(line, ``hours`` or ``cost``, field behind it, times what was promised) of the lines that were written down.

        Lines of one price are one, by what the price is for: their words name sizes, which differ from job to job.
        """
        if self.file.record.leaves_out(LINES):
            return ()
        sums: dict[tuple[str, str, str], list[float]] = {}
        for kind, lines in self.lines_done.items():
            for line, before, after in lines:
                name = _priced(line.field) if kind == "cost" else ""
                found = sums.setdefault((name or line.line, kind, line.field), [0.0, 0.0])
                found[0] += before
                found[1] += after
        return tuple((*key, after / before) for key, (before, after) in sums.items())

    def after_start(self, clock: str) -> float | None:
        """Hours from the start of placing to a time of the clock, over midnight where it is earlier; None if not known."""
        if not clock or self.start is None:
            return None
        return (clock_hours(clock) - self.start) % 24


@functools.cache
def _priced(place: str) -> str:
    """What a price is for, in the words of its field; "" where it is none."""
    section, _, key = place.partition(".")
    if section != "prices" or key not in Prices.model_fields:
        return ""
    words = str(Prices.model_fields[key].description)
    return words[0].upper() + words[1:]


def record_path(job: str | Path) -> Path:
    """Where the record of a job file lies. Raises JobError for a record itself."""
    job = Path(job)
    if is_record(job):
        raise JobError(f"{job.name} is a record; give the job file that it belongs to")
    return job.with_name(f"{job.stem}{ENDING}")


def is_record(path: Path) -> bool:
    """Whether a file is named as a record."""
    return path.name.endswith(ENDING)


def read_record(path: str | Path) -> Record:
    """Read and check a record. Raises JobError with one sentence for each mistake."""
    path = Path(path)
    text = read_text(path, "record of a pour").replace("\r\n", "\n")
    raw = parsed(path, text)
    where = functools.partial(named_line, path.name, text)
    return Record(path, text, checked_as(RecordFile, raw, where, "the record"))


def read_records(paths: Iterable[Path]) -> tuple[list[Record], list[str]]:
    """(records by the day of their pour, one sentence for each file that cannot be used or is in doubt)."""
    found, problems = [], []
    for path in paths:
        try:
            found.append(_known(path, *stamp(path)))
        except JobError as error:
            more = len(error.problems) - 1
            rest = f" (and {more} more in this file)" if more else ""
            problems.append(f"{error.problems[0]}{rest}; this record is left out")
    kept, repeated = _each_job_once(found)
    kept.sort(key=lambda record: (record.file.record.date or "9999", record.path.name))
    return kept, problems + repeated + [record.doubt for record in kept if record.doubt]


@functools.lru_cache(maxsize=1024)
def _known(path: Path, _stamp: Stamp) -> Record:
    """The record as it was at that time: a page reads all of them at each change."""
    return read_record(path)


def _each_job_once(found: list[Record]) -> tuple[list[Record], list[str]]:
    """(records of different jobs, one sentence for each that is a job's second): a copied file would count twice."""
    kept: dict[tuple[Path, str], Record] = {}
    texts: dict[str, Record] = {}
    problems = []
    for record in sorted(found, key=lambda r: r.path.name != record_path(r.file.record.job).name):
        job = record.path.parent, record.file.record.job
        first = kept.get(job) or texts.get(record.text)
        if first:
            same = first.path.name == record.path.name
            here, beside = (str(one.path) if same else one.path.name for one in (record, first))
            problems.append(
                f"{here} is a second record of {record.file.record.job}, beside {beside}; this record is left out"
            )
            continue
        kept[job] = texts[record.text] = record
    return list(kept.values()), problems


def records_in(folder: Path) -> list[Path]:
    """What lies in a folder under the name of a record; what is none of them is told when it is read."""
    return sorted(folder.glob(f"*{ENDING}"))


def record_of(job: Path) -> Record | None:
    """The record of a job file; None where there is none yet. Raises JobError where it is another job's."""
    path = record_path(job)
    there = read_record(path) if path.exists() else None
    if there and there.file.record.job != job.name:
        raise JobError(
            f"{path.name} is the record of {there.file.record.job}, not of {job.name}; move it or rename the job file"
        )
    return there


def begun(job: Path, head: dict[str, Any], promised: dict[str, Any]) -> str:
    """The text of a new record: whose it is, and what the book had promised.

    head: of [record], without the job; promised: of [promised].
    """
    document = tomlkit.parse(_HEAD)
    document["record"] = {"job": job.name, **{key: value for key, value in head.items() if value}}
    kept = tomlkit.table()
    kept.add(tomlkit.comment("written by the book before the outcome was known; leave it as it is"))
    for key, value in promised.items():
        kept[key] = _rows(value) if key == "lines" else value
    document["promised"] = kept
    return f"{tomlkit.dumps(document)}\n{_to_fill_in()}"


def _to_fill_in() -> str:
    """Every field of a record as a remark, for whoever fills it in as a file."""
    lines = ["# What can be written down, each by itself; take away the # of section and line."]
    for name, info in RecordFile.model_fields.items():
        model, many = section_of(info)
        if model is None or name in ("record", "promised"):
            continue
        lines += ["#", f"# [[{name}]]" if many else f"# [{name}]"]
        for key, one in model.model_fields.items():
            meta = meta_of(one)
            said = meta.get("choices") or (
                [f"in {meta['unit']} or another unit"] if "unit" in meta else []
            )
            words = f"{one.description}; {', '.join(said)}" if said else f"{one.description}"
            example = meta.get("example", "1" if "whole" in meta else '"..."')
            lines.append(f"# {key} = {example}  # {words}")
    return "\n".join(lines) + "\n"


def _rows(lines: list[dict[str, str]]) -> Any:
    """Lines of the quote, one a line of the file."""
    array = tomlkit.array().multiline(True)
    for line in lines:
        row = tomlkit.inline_table()
        row.update(line)
        array.append(row)
    return array


def save_record(job: Path, changes: dict[str, Any], before: Record | None, start: str = "") -> Record:
    """Write what was measured into the record of a job; comments and order stay.

    changes: values by place, such as ``concrete.delivered``; before: the record as it was read, None where there
    was none; start: the text that a new one begins with. Raises JobError where it is another job's, JobChanged
    where it was changed meanwhile.
    """
    path = record_path(job)
    with locked(path):
        there = record_of(job)
        if (there.text if there else "") != (before.text if before else ""):
            raise JobChanged(
                f"{path.name} was changed by someone else meanwhile; nothing was saved: record again"
            )
        document = tomlkit.parse(there.text if there else start or _HEAD)
        for place, value in changes.items():
            set_at(document, place.split("."), value)
        text = tomlkit.dumps(document)
        # what could not be read again is refused before it is written
        checked_as(RecordFile, tomli.loads(text), lambda _: path.name, "the record")
        write_whole(path, text)
    return read_record(path)
