"""``calcbook record``: what was measured on a pour, asked in the terminal and kept beside the job."""

from __future__ import annotations

import functools
import tomllib
from typing import TYPE_CHECKING, Any

from calcbook.basis.units import UnitError
from calcbook.command.asking import ask, need_terminal, say
from calcbook.job.catalog import section_of
from calcbook.job.file import Job
from calcbook.job.questions import bare_unit
from calcbook.job.raw import plain, value_at
from calcbook.records.file import begun, record_of, record_path, save_record
from calcbook.records.questions import LINES, LISTS, QUESTIONS
from calcbook.records.schema import RecordFile

if TYPE_CHECKING:
    from argparse import Namespace

    from calcbook.job.questions import Question


def run_record(arguments: Namespace) -> int:
    """Begin the record of a job, or go on with it. Returns the exit status."""
    path = record_path(arguments.file)
    job = Job.read(arguments.file, arguments.own)
    assert job.path is not None
    before = record_of(job.path)
    start = "" if before else _start(job)
    if arguments.blank:
        if before:
            print(f"{path} is already there; calcbook record {arguments.file} goes on with it.")
            return 0
        save_record(job.path, {}, None, start)
        print(
            f"{path} is begun with what was promised. Fill in what was measured: calcbook record {arguments.file}"
        )
        return 0
    need_terminal(
        f"calcbook record {arguments.file} --blank begins the record, to be filled in as a file"
    )
    changes = _asked(job, tomllib.loads(before.text if before else start))
    save_record(job.path, changes, before, start)
    print(f"\n{path} is written; {job.path.name} is as it was.")
    print(f"What your records say:  calcbook learn {path.parent}")
    return 0


def _start(job: Job) -> str:
    """A new record's text."""
    from calcbook.book.chapters import Book
    from calcbook.records.promise import promise

    assert job.path is not None
    head = {"name": job.job.name, "units": job.job.units, "date": job.pour.date, "by": job.job.preparer}
    return begun(job.path, head, promise(Book(job)))


def _asked(job: Job, raw: dict[str, Any]) -> dict[str, Any]:
    """Values by place, of what was answered otherwise than it stands in the record."""
    say(
        'Enter skips a question or keeps what stands in brackets; "?" tells why it is asked; Ctrl-C stops and writes nothing.'
    )
    system, answers = job.job.units, {}
    for question in QUESTIONS:
        answers[question.place] = _answer(question, value_at(raw, question.place), system)
        if question.place == "concrete.left_over":
            answers["trucks"] = _entries("trucks", raw, system)
        if question.place == "base.depths":
            answers["work"] = _entries("work", raw, system)
        if question.place == "weather.air":
            answers["lines"] = _lines(raw)
        if question.place == "cracks.seen":
            answers |= {name: _entries(name, raw, system) for name in ("strengths", "logs")}
    return {place: value for place, value in answers.items() if value is not None}


def _answer(question: Question, kept: Any, system: str) -> Any:
    """The answer to one question; None where it is skipped, or stays as it is."""
    default = ", ".join(kept) if isinstance(kept, list) else "" if kept is None else str(kept)

    def read(answer: str) -> Any:
        if not answer or answer == default:
            return None
        if question.place == "base.depths":
            given = [_with_unit(part.strip(), "in", system) for part in answer.split(",")]
            question.meta["reader"](given)
            return given
        return question.read(answer, system)

    return ask(question.words, default, question.why, read)


def _entries(name: str, raw: dict[str, Any], system: str) -> list[dict[str, Any]] | None:
    """Entries of a list, those that were there and those that are typed; None where none is."""
    words, keys, why = LISTS[name]
    there = raw.get(name, [])
    added: list[dict[str, Any]] = []
    if there:
        say(f"{len(there)} of these are in the record already.")
    while True:
        entry = ask(f"  {words}", "", why, functools.partial(_entry, name, keys, system))
        if entry is None:
            return [*there, *added] if added else None
        added.append(entry)


def _entry(name: str, keys: tuple[str, ...], system: str, answer: str) -> dict[str, Any] | None:
    """One entry as it is written into the record; None for an empty answer. Raises ValueError."""
    if not answer:
        return None
    parts = [part.strip() for part in answer.split(",")]
    if len(parts) > len(keys):
        raise UnitError(f"at most {len(keys)} values, with commas between: {', '.join(keys)}")
    model, _ = section_of(RecordFile.model_fields[name])
    assert model is not None
    entry: dict[str, Any] = {}
    for key, part in zip(keys, parts, strict=False):
        meta: Any = model.model_fields[key].json_schema_extra
        if not part:
            continue
        if "unit" in meta:
            entry[key] = _with_unit(part, meta["unit"], system)
            meta["reader"](entry[key])
        else:
            entry[key] = meta["reader"](part)
    missing = [k for k in keys if model.model_fields[k].is_required() and k not in entry]
    if missing:
        raise UnitError(f"{missing[0]} is missing; write {', '.join(keys)}")
    return entry


def _with_unit(text: str, unit: str, system: str) -> str:
    """A bare number is taken in the unit of the question."""
    bare = text.replace(".", "").replace("/", "").replace(" ", "").isdigit()
    return f"{text} {bare_unit(unit, system)}" if bare else text


def _lines(raw: dict[str, Any]) -> list[dict[str, Any]] | None:
    """Hours of the lines of work, asked one by one; None where none is answered."""
    known = {plain(line["line"]): dict(line) for line in raw.get("lines", []) if "line" in line}
    before = {name: dict(line) for name, line in known.items()}
    promised = [line for line in raw.get("promised", {}).get("lines", []) if "hours" in line]
    if promised:
        say(LINES)
    for line in promised:
        name = plain(line["line"])
        kept = known.get(name, {}).get("hours", "")
        why = (
            f"The quote promised {line['hours']}. What a person was paid for it, all persons together."
        )
        hours = ask(f"  {line['line']}, promised {line['hours']}", kept, why, _hours)
        if hours:
            known.setdefault(name, {"line": line["line"]})["hours"] = hours
    return list(known.values()) if known != before else None


def _hours(answer: str) -> str:
    if not answer:
        return ""
    text = _with_unit(answer, "h", "us")
    model, _ = section_of(RecordFile.model_fields["lines"])
    assert model is not None
    meta: Any = model.model_fields["hours"].json_schema_extra
    meta["reader"](text)
    return text
