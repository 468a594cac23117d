"""``calcbook record``: what was measured on a pour, asked in the terminal and kept beside the job."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING, Any

import tomli

from calcbook.command.asking import ask, ask_yes, need_terminal, say
from calcbook.job.file import Job
from calcbook.job.raw import plain, value_at
from calcbook.records.entering import DEPTHS, depths_of, entry_of, line_value, lines_with
from calcbook.records.file import record_of, record_path, save_record
from calcbook.records.questions import LINES, LISTS, QUESTIONS

if TYPE_CHECKING:
    from argparse import Namespace

    from calcbook.job.questions import Question


# question -> lists that are asked for behind it
_AFTER = {"concrete.left_over": ("trucks",), "base.depths": ("work",), "weather.air": ("lines",),
          "cracks.seen": ("strengths", "logs")}  # fmt: skip


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
    changes = _asked(job, tomli.loads(before.text if before else start))
    save_record(job.path, changes, before, start)
    print(f"\n{path} is written; {job.path.name} is as it was.")
    print(f"What your records say:  calcbook learn {path.parent}")
    return 0


def _start(job: Job) -> str:
    from calcbook.records.promise import record_start  # loads the whole book

    return record_start(job)


def _asked(job: Job, raw: dict[str, Any]) -> dict[str, Any]:
    """Values by place, of what was answered otherwise than it stands in the record."""
    say(
        'Enter skips a question or keeps what stands in brackets; "?" tells why it is asked; Ctrl-C stops and writes nothing.'
    )
    system = job.job.units
    answers: dict[str, Any] = {}
    for question in QUESTIONS:
        answers[question.place] = _answer(question, value_at(raw, question.place), system)
        for name in _AFTER.get(question.place, ()):
            answers[name] = _lines(raw, system) if name == "lines" else _entries(name, raw, system)
    return {place: value for place, value in answers.items() if value is not None}


def _answer(question: Question, kept: Any, system: str) -> Any:
    """The answer to one question; None where it is skipped, or stays as it is."""
    default = ", ".join(kept) if isinstance(kept, list) else "" if kept is None else str(kept)

    def read(answer: str) -> Any:
        if not answer or answer == default:
            return None
        if question.place == DEPTHS:
            return depths_of(answer, system)
        return question.read(answer, system)

    return ask(question.words, default, question.why, read)


def _entries(name: str, raw: dict[str, Any], system: str) -> list[dict[str, Any]] | None:
    """Entries of a list, those that were there and those that are typed; None where none is."""
    words, _, why = LISTS[name]
    there = raw.get(name, [])
    added: list[dict[str, Any]] = []
    if there:
        say(f"{len(there)} of these are in the record already.")
    while True:
        entry = ask(f"  {words} (Enter goes on)", "", why, functools.partial(entry_of, name, system))
        if entry is None:
            return [*there, *added] if added else None
        added.append(entry)


def _lines(raw: dict[str, Any], system: str) -> list[dict[str, Any]] | None:
    """Hours of the lines of work and cost of the others, asked one by one; None where none is answered."""
    known = {plain(line["line"]): line for line in raw.get("lines", []) if "line" in line}
    promised = raw.get("promised", {}).get("lines", [])
    answers: dict[tuple[str, str], str] = {}
    for key, words, why in LINES:
        asked = [line for line in promised if key in line]
        if key == "cost" and asked and not ask_yes(
            f"Also tell what each of {len(asked)} other lines cost?", any(key in line for line in known.values()), why
        ):  # fmt: skip
            continue
        if asked:
            say(words)
        for line in asked:
            name, kept = line["line"], known.get(plain(line["line"]), {}).get(key, "")
            answer = ask(
                f"  {name}, promised {line[key]}",
                kept,
                why,
                functools.partial(line_value, key, system=system),
            )
            if answer:
                answers[name, key] = answer
    return lines_with(raw, answers)
