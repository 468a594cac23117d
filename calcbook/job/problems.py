"""What is wrong with a job file: one clear sentence for each mistake, with file, line, section and key."""

from __future__ import annotations

import datetime
import difflib
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import tomli
from pydantic import ValidationError

from calcbook.job.catalog import search, section_of
from calcbook.job.fields import Clash, Section
from calcbook.job.files import JobError
from calcbook.job.metric import with_defaults_of
from calcbook.job.schema.sections import JobFile

FileModel = TypeVar("FileModel", bound=Section)
_MOST_TOLD = 30  # mistakes of one file
_MOVED = {  # keys of earlier job files: where each stands now
    "sills": "a wall is described once now, in [[walls]]: give side, loads and plate there; "
    "[[sills.doors]] is [[walls.openings]]",
    "walls.doors": "doors and windows are [[walls.openings]] now",
    "walls.thickness": "the width of a wall's sill is plate_width now",
    "bolts.seismic": "the seismic design category is seismic under [design] now",
}
_MOST_DOTS = (
    2000  # outside of quotes: the memory to read names a.b.c... grows with the square of their parts
)
_MOST_VALUES, _MOST_BRACKETS = 10_000, 100_000


# --- where it stands -----------------------------------------------------------------------

_HEADING = re.compile(r"\s*(\[\[?)\s*([\w.\-]+)\s*\]\]?\s*(?:#.*)?$")
_KEY = re.compile(r"""\s*["']?([\w\-]+)["']?\s*=""")


def find_line(text: str, place: str) -> int | None:
    """The line number (from 1) of a place such as ``slab.width`` or ``walls.1.openings.0.start``.

    A place that is not written stands where its section, or the section around it, begins. None
    where there is no such section.
    """
    lines = _lines_of_places(text)
    while place and place not in lines:
        place = place.rpartition(".")[0]
    return lines.get(place)


def named_line(name: str, text: str, place: str) -> str:
    """The file and the line of a place in it, for a message; the file alone where no line can be told."""
    line = find_line(text, place)
    return f"{name}, line {line}" if line else name


def _lines_of_places(text: str) -> dict[str, int]:
    """Line numbers of every section, entry and key of a job file, by place."""
    found: dict[str, int] = {}
    entries: dict[str, int] = {}  # how many of each kind so far
    section = ""
    for number, line in enumerate(text.split("\n"), 1):
        heading, key = _HEADING.match(line), _KEY.match(line)
        if heading:
            *around, last = heading[2].split(".")
            section = ""
            for part in around:
                section = _entry(_under(section, part), entries)
            section = _under(section, last)
            found.setdefault(section, number)
            if heading[1] == "[[":
                entries[section] = entries.get(section, -1) + 1
                section = _entry(section, entries)
                found.setdefault(section, number)
        elif key:
            found.setdefault(_under(section, key[1]), number)
    return found


def _under(section: str, name: str) -> str:
    return f"{section}.{name}" if section else name


def _entry(section: str, entries: dict[str, int]) -> str:
    """The latest entry of a list of sections; the section itself where it is none."""
    return f"{section}.{entries[section]}" if section in entries else section


def shown_place(loc: list[str]) -> str:
    """A place as it is written in a job file: ``[[pads]] number 2 width``."""
    if len(loc) == 1:
        return f"[{_cut(loc[0])}]"
    head = f"[[{loc[0]}]] number {int(loc[1]) + 1}" if loc[1].isdigit() else f"[{loc[0]}]"
    tail = loc[2:] if loc[1].isdigit() else loc[1:]
    words = [f"number {int(p) + 1}" if p.isdigit() else _cut(p) for p in tail]
    return " ".join([head, *words])


def _cut(text: str, longest: int = 40) -> str:
    return text if len(text) <= longest else text[: longest - 3] + "..."


# --- what it is ----------------------------------------------------------------------------


_STRING_OR_REMARK = re.compile(r'#[^\n]*|"(?:\\.|[^"\\\n])*"|\'[^\'\n]*\'')
_LONG_NUMBER = re.compile(r"=\s*[+-]?(?:0x)?[0-9a-fA-F_]{400,}")


def _size_problem(name: str, text: str) -> str | None:
    """What keeps a file from being read within seconds and little memory; None where nothing does."""
    # what stands in quotes counts for nothing, but it is taken out only where the whole is too much
    crowded = _crowded(name, text) and _crowded(name, _STRING_OR_REMARK.sub("", text))
    if crowded:
        return crowded
    long = _LONG_NUMBER.search(text)
    if long:
        line = text.count("\n", 0, long.start()) + 1
        return f"{name}, line {line}: a number of more than 400 digits is no value of a job; write a smaller one"
    return None


def _crowded(name: str, text: str) -> str | None:
    if text.count(".") > _MOST_DOTS:
        return (
            f"{name}: more than {_MOST_DOTS:,} dots outside of quotes cannot be read; "
            "put values in quotes and give each section a heading of its own"
        )
    if text.count("=") > _MOST_VALUES or text.count("[") > _MOST_BRACKETS:
        return f"{name}: more than {_MOST_VALUES:,} values or {_MOST_BRACKETS:,} brackets cannot be read; leave some out"
    return None


def _toml_problem(path: Path, text: str, error: Exception) -> str:
    """Why a text cannot be read as TOML, and what usually mends it."""
    if isinstance(error, RecursionError):
        return f"{path.name} is nested too deeply; a job file has sections, lists and values only"
    match = re.search(r"\(at line (\d+)", str(error))
    where = f"{path.name}, line {match[1]}" if match else path.name
    line = text.split("\n")[int(match[1]) - 1].strip() if match else ""
    reason = re.sub(r"\s*\(at .*\)", "", str(error))
    hint = ""
    if re.match(r"[\w\-]+\s*=\s*[^\"'\[{\s]", line):
        hint = '; put a value with a unit in quotes, like thickness = "5 in"'
    elif line.count('"') % 2:
        hint = "; a quote is left open, or an inch mark stands inside quotes: write in for inches"
    shown = repr(line[:60])  # signs that a screen cannot show take up to ten places each
    shown = shown if len(shown) <= 100 else f"{shown[:100]}…"
    return f"{where}: {shown} cannot be read ({reason[0].lower()}{reason[1:]}){hint}"


def parsed(path: Path, text: str) -> dict[str, Any]:
    """What a text of TOML holds; path: of its file, for messages. Raises JobError."""
    problem = _size_problem(path.name, text)
    if problem:
        raise JobError(problem)
    try:
        return tomli.loads(text)
    except (tomli.TOMLDecodeError, RecursionError) as error:
        raise JobError(_toml_problem(path, text, error)) from None


def validated(raw: dict[str, Any], where: Callable[[str], str]) -> JobFile:
    """The checked contents of a job file. where: words for a place. Raises JobError."""
    checked = checked_as(JobFile, raw, where, "the job file")
    return with_defaults_of(checked, checked.job.units)


def checked_as(
    model: type[FileModel], raw: dict[str, Any], where: Callable[[str], str], what: str
) -> FileModel:
    """The checked contents of a file of sections. what: the file in words; where: words for a place. Raises JobError."""
    try:
        return model.model_validate(raw)
    except ValidationError as error:
        found = error.errors(include_url=False)
        told = [_sentence(e, where, model) for e in found[:_MOST_TOLD]]
        rest = len(found) - len(told)
        raise JobError(
            told + [f"and {rest:,} more mistakes of this kind or another"] * bool(rest)
        ) from None
    except RecursionError:
        raise JobError(f"{what} is nested too deeply") from None


def _sentence(error: Any, where: Callable[[str], str], model: type[Section]) -> str:
    cause = error.get("ctx", {}).get("error")
    clashing = [cause.key] if isinstance(cause, Clash) else []
    loc = [str(part) for part in [*error["loc"], *clashing]]
    place, kind = ".".join(loc), error["type"]
    shown = shown_place(loc)
    if kind == "extra_forbidden":
        moved = _MOVED.get(".".join(part for part in loc if not part.isdigit()))
        if moved and model is JobFile:
            return f"{where(place)}: {shown} is not known; {moved}"
        other = "" if loc[-1].isascii() else ", it is not written in plain letters (a to z)"
        return f"{where(place)}: {shown} is not known{other}{nearest(loc, model)}"
    if kind == "missing":
        return f"{where('.'.join(loc[:-1]) or place)}: {shown} is missing{_meaning(loc, model)}"
    if kind == "value_error":
        return (
            f"{where(place)}: {shown}: {_clean(error['msg'])}"
            if loc
            else f"{where('slab')}: {_clean(error['msg'])}"
        )
    if kind in ("model_type", "dict_type", "model_attributes_type"):
        return f"{where(place)}: {shown} must be a section, written [{loc[0]}] on a line of its own"
    if kind == "list_type":
        return f"{where(place)}: {shown} must be a list, each item written [[{'.'.join(loc)}]] on a line of its own"
    if kind == "too_long":
        return f"{where(place)}: {shown} has too many entries"
    return f"{where(place)}: {shown} cannot be {_short(error.get('input'))}"


def _clean(message: str) -> str:
    return message.removeprefix("Value error, ")


def _short(value: Any) -> str:
    text = value.isoformat() if isinstance(value, datetime.date | datetime.time) else repr(value)
    return _cut(text, 60)


def _model_at(loc: list[str], model: type[Section] = JobFile) -> type[Section]:
    for part in loc:
        if part.isdigit():
            continue
        info = model.model_fields.get(part)
        inner = section_of(info)[0] if info else None
        if inner is None:
            return model
        model = inner
    return model


def nearest(loc: list[str], model: type[Section] = JobFile) -> str:
    """The field that was probably meant: by its letters, its meaning, or its section."""
    key, known = loc[-1], list(_model_at(loc[:-1], model).model_fields)
    close = difflib.get_close_matches(key, known, 1, 0.75)
    if close:
        return f"; did you mean {close[0]}?"
    if model is not JobFile:
        return f"; what is known here: {', '.join(known)}"
    return _meant(loc, known)


def _meant(loc: list[str], known: list[str]) -> str:
    """The field of a job file that an unknown key may mean."""
    key, around = loc[-1], ".".join(part for part in loc[:-1] if not part.isdigit())
    meant = search(key) or search(f"{around} {key}")
    here = next((row for row in meant if row.section == around), None)
    if here:
        return f"; did you mean {here.key} ({here.meaning})?"
    elsewhere = [n for n in JobFile.model_fields if key in _model_at([n]).model_fields]
    if elsewhere and len(loc) > 1:
        return f"; {key} belongs in [{elsewhere[0]}]"
    like = difflib.get_close_matches(key, known, 1, 0.6)
    if like:
        return f"; did you mean {like[0]}?"
    if meant:
        return f"; did you mean {meant[0].key} in {meant[0].heading} ({meant[0].meaning})?"
    return f"; what is known stands under: calcbook fields {around}".rstrip()


def _meaning(loc: list[str], model: type[Section]) -> str:
    info = _model_at(loc[:-1], model).model_fields.get(loc[-1])
    return f" ({info.description})" if info and info.description else ""
