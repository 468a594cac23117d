"""The job file: reading, the values in use, and saving.

A job file is TOML and is data only. Reading gives a ``Job`` or a ``JobError`` whose message is one
clear sentence for each mistake, with file, line, section and key.
"""

from __future__ import annotations

import contextlib
import datetime
import difflib
import functools
import os
import re
import tempfile
import tomllib
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import tomlkit
from pydantic import ValidationError

from calcbook.fields import Section, show_field
from calcbook.schema import JobFile

if TYPE_CHECKING:
    from pydantic.fields import FieldInfo

    from calcbook.outline import Plan

_LARGEST_FILE = 1_000_000
_MOST_TOLD = 30  # mistakes of one file
_MOST_DOTS = 5000  # on a line: the time to read a name a.b.c... grows with the square of its parts


class JobError(ValueError):
    """A job file that cannot be used. ``problems`` holds one sentence for each mistake."""

    def __init__(self, problems: str | Iterable[str]) -> None:
        self.problems = [problems] if isinstance(problems, str) else list(problems)
        super().__init__("\n".join(self.problems))


class JobChanged(JobError):
    """The job file on disk is no longer the one that was read."""


@dataclass(frozen=True)
class Entry:
    """A field in use: value, printed text, meaning, why it was assumed ("" where given).

    ``written`` is the text as it stands in the job file, or would stand there.
    """

    place: str
    value: Any
    text: str
    meaning: str
    assumed: str
    written: str


class Job:
    """A slab job: the checked contents of a job file.

    Sections are attributes (``job.slab.thickness``); ``plan`` is the geometry; ``system`` the
    units shown ("us" or "si"). A Job does not change: ``changed`` gives a new one.
    """

    def __init__(self, raw: dict[str, Any], path: str | Path | None = None, text: str = "") -> None:
        self.raw, self.path, self.source_text = raw, Path(path) if path else None, text
        self.file = _validated(raw, self._where)

    @classmethod
    def read(cls, path: str | Path) -> Job:
        """Read and check a job file. Raises JobError."""
        path = Path(path)
        text = _file_text(path)
        for number, line in enumerate(text.splitlines(), 1):
            if line.count(".") > _MOST_DOTS:
                raise JobError(
                    f"{path.name}, line {number}: more than {_MOST_DOTS:,} dots on a line cannot be read; "
                    "write shorter names or several lines"
                )
        try:
            raw = tomllib.loads(text)
        except (tomllib.TOMLDecodeError, RecursionError) as error:
            raise JobError(_toml_problem(path, text, error)) from None
        job = cls(raw, path, text)
        _ = job.plan  # a shape that cannot be built is a mistake of the file
        return job

    def __getattr__(self, name: str) -> Any:
        if name.startswith("_") or name == "file":
            raise AttributeError(name)
        return getattr(self.file, name)

    @property
    def system(self) -> str:
        return self.file.job.units

    @property
    def _path(self) -> Path:
        if self.path is None:
            raise JobError("this job was not read from a file; say where to save it")
        return self.path

    def _where(self, place: str) -> str:
        line = find_line(self.source_text, place) if self.source_text else None
        name = self.path.name if self.path else "job"
        return f"{name}, line {line}" if line else name

    @functools.cached_property
    def plan(self) -> Plan:
        """The plan geometry (outline.Plan). Raises JobError for a shape that cannot be built."""
        from calcbook.outline import OutlineError
        from calcbook.shape import build_plan

        try:
            return build_plan(self.file)
        except OutlineError as error:
            where = self._where(error.place)
            raise JobError(f"{where}: {_shown_place(error.place.split('.'))} {error}") from None

    def field(self, place: str) -> Entry:
        """The Entry of a field such as ``"slab.thickness"`` or ``"pads.0.width"``."""
        section, raw, key = self._find(place)
        info = type(section).model_fields[key]
        value, meta = getattr(section, key), info.json_schema_extra or {}
        text = show_field(value, meta, self.system)
        written = str(raw[key]) if key in raw else text
        assumed = "" if key in raw else meta.get("why") or "default"
        return Entry(place, value, text, info.description, assumed, written)

    def schema_of(self, place: str) -> FieldInfo:
        """The declaration of a field (a pydantic FieldInfo)."""
        section, _, key = self._find(place)
        return type(section).model_fields[key]

    def _find(self, place: str) -> tuple[Any, Any, str]:
        *path, key = place.split(".")
        section: Any = self.file
        raw: Any = self.raw
        for part in path:
            if part.isdigit():
                section, raw = section[int(part)], raw[int(part)]
            else:
                section, raw = getattr(section, part), raw.get(part, {})
        return section, raw, key

    def assumptions(self) -> list[Entry]:
        """Every default that the printout rests on, as a list of Entry, in the order of the sections.

        The spreads of [risk] are not among them: they are listed with the odds that use them.
        """
        found = []
        for name in (n for n in JobFile.model_fields if n != "risk"):
            section = getattr(self.file, name)
            many = isinstance(section, list)
            for index, one in enumerate(section if many else [section]):
                place = f"{name}.{index}" if many else name
                found += [
                    self.field(f"{place}.{key}")
                    for key, info in type(one).model_fields.items()
                    if key not in one.model_fields_set
                    and getattr(one, key) not in (None, "")
                    and (info.json_schema_extra or {}).get("why")
                ]
        return found

    def changed(self, changes: dict[str, Any]) -> Job:
        """A new Job with some fields set: ``job.changed({"slab.thickness": "6 in"})``.

        None takes a field out, so that its default holds. Raises JobError where a value is not
        allowed.
        """
        raw = _deep_copy(self.raw)
        for place, value in changes.items():
            *path, key = place.split(".")
            target = raw
            for part in path:
                target = target[int(part)] if part.isdigit() else target.setdefault(part, {})
            if value is None:
                target.pop(key, None)
            else:
                target[key] = value
        job = Job(raw, self.path, self.source_text)
        _ = job.plan
        return job

    def save(self, changes: dict[str, Any], path: str | Path | None = None) -> Job:
        """Write changed fields into the job file, keeping its comments and order.

        changes: as in ``changed``; path: another file to write. The file is replaced in one step,
        so it is whole at any moment. Where the file on disk was changed meanwhile, what stands
        there is kept and only these fields are written into it; raises JobChanged where one of
        them was itself changed there. Returns the Job as saved.
        """
        target = Path(path or self._path)
        base = self if path else self._on_disk(changes)
        base.changed(changes)
        document = tomlkit.parse(base.source_text)
        for place, value in changes.items():
            _set(document, place.split("."), value)
        text = tomlkit.dumps(document)
        write_whole(target, text)
        return Job.read(target)

    def _on_disk(self, changes: dict[str, Any]) -> Job:
        """The job as it stands on disk, where none of the fields to be changed differs from here."""
        if _file_text(self._path) == self.source_text:
            return self
        fresh = Job.read(self._path)
        for place in changes:
            there, here = (_value_at(job.raw, place) for job in (fresh, self))
            if there != here:
                raise JobChanged(
                    f"{self._path.name}: {place} was changed to {there!r} by someone else since it was "
                    "read; nothing was saved: read the file again, then repeat the change"
                )
        return fresh


def _value_at(raw: Any, place: str) -> Any:
    """What a job file's data hold at a place, or None."""
    for part in place.split("."):
        if isinstance(raw, list):
            raw = raw[int(part)] if int(part) < len(raw) else None
        else:
            raw = raw.get(part) if isinstance(raw, dict) else None
    return raw


def write_whole(path: str | Path, text: str | bytes) -> None:
    """Write a text file in one step: to a temporary file beside it, then replace.

    A link stays a link: the file behind it is replaced. Raises JobError in one sentence where the
    folder cannot be written.
    """
    path = Path(os.path.realpath(path))
    data = text if isinstance(text, bytes) else text.encode("utf-8")
    temporary = None
    try:
        handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=".saving-", suffix=path.suffix)
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(temporary, path.stat().st_mode & 0o777 if path.exists() else 0o644)
        os.replace(temporary, path)
        temporary = None
    except OSError as error:
        raise JobError(
            f"{path} could not be written ({error.strerror or error}); choose a folder you may write to"
        ) from None
    finally:  # also where the user stops it
        if temporary:
            with contextlib.suppress(OSError):
                os.unlink(temporary)


def _file_text(path: Path) -> str:
    try:
        data = path.read_bytes()
    except OSError as error:
        raise JobError(
            f"{path} could not be read ({error.strerror or error}); give the path of a job file"
        ) from None
    if len(data) > _LARGEST_FILE:
        raise JobError(f"{path.name} is larger than 1 MB, too large for a job file")
    try:
        return data.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        raise JobError(
            f"{path.name} is not a text file in UTF-8 (byte {error.start}); save it as UTF-8"
        ) from None


def _deep_copy(value: Any) -> Any:
    if isinstance(value, dict):
        return {k: _deep_copy(v) for k, v in value.items()}
    return [_deep_copy(v) for v in value] if isinstance(value, list) else value


def _set(document: Any, path: list[str], value: Any) -> None:
    target = document
    for part in path[:-1]:
        if part.isdigit():
            target = target[int(part)]
        else:
            if part not in target:
                target[part] = tomlkit.table()
            target = target[part]
    if value is None:
        target.pop(path[-1], None)
    else:
        target[path[-1]] = value


# --- messages ------------------------------------------------------------------------------


def find_line(text: str, place: str) -> int | None:
    """The line number (from 1) of ``section.key`` or ``section.index.key`` in a job file, or None."""
    section, *rest = place.split(".")
    index = int(rest.pop(0)) if rest and rest[0].isdigit() else None
    key = rest[0] if rest else None
    current, count, header_line = None, -1, None
    for number, line in enumerate(text.splitlines(), 1):
        header = re.match(r"\s*(\[\[?)\s*([\w.\-]+)\s*\]\]?", line)
        if header:
            current = header[2].split(".")[0]
            count += current == section and header[1] == "[["
            if current == section and (index is None or count == index):
                header_line = header_line or number
        elif current == section and (index is None or count == index) and key:
            if re.match(rf"\s*[\"']?{re.escape(key)}[\"']?\s*=", line):
                return number
        elif current is None and key is None and re.match(rf"\s*{re.escape(section)}\s*=", line):
            return number
    return header_line


def _toml_problem(path: Path, text: str, error: Exception) -> str:
    if isinstance(error, RecursionError):
        return f"{path.name} is nested too deeply; a job file has sections, lists and values only"
    match = re.search(r"\(at line (\d+)", str(error))
    where = f"{path.name}, line {match[1]}" if match else path.name
    line = text.splitlines()[int(match[1]) - 1].strip() if match and text.splitlines() else ""
    reason = re.sub(r"\s*\(at .*\)", "", str(error))
    hint = ""
    if re.match(r"[\w\-]+\s*=\s*[^\"'\[{\s]", line):
        hint = '; put a value with a unit in quotes, like thickness = "5 in"'
    elif line.count('"') % 2:
        hint = "; a quote is left open, or an inch mark stands inside quotes: write in for inches"
    return f"{where}: {line[:60]!r} cannot be read ({reason[0].lower()}{reason[1:]}){hint}"


def _validated(raw: dict[str, Any], where: Callable[[str], str]) -> JobFile:
    try:
        return JobFile.model_validate(raw)
    except ValidationError as error:
        found = error.errors(include_url=False)
        told = [_sentence(e, where) for e in found[:_MOST_TOLD]]
        rest = len(found) - len(told)
        raise JobError(
            told + [f"and {rest:,} more mistakes of this kind or another"] * bool(rest)
        ) from None
    except RecursionError:
        raise JobError("the job file is nested too deeply") from None


def _sentence(error: Any, where: Callable[[str], str]) -> str:
    loc = [str(part) for part in error["loc"]]
    place, kind = ".".join(loc), error["type"]
    shown = _shown_place(loc)
    if kind == "extra_forbidden":
        return f"{where(place)}: {shown} is not known{_nearest(loc)}"
    if kind == "missing":
        return f"{where('.'.join(loc[:-1]) or place)}: {shown} is missing{_meaning(loc)}"
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
    return text if len(text) <= 60 else text[:57] + "..."


def _shown_place(loc: list[str]) -> str:
    if len(loc) == 1:
        return f"[{_cut(loc[0])}]"
    head = f"[[{loc[0]}]] number {int(loc[1]) + 1}" if loc[1].isdigit() else f"[{loc[0]}]"
    tail = loc[2:] if loc[1].isdigit() else loc[1:]
    words = [f"number {int(p) + 1}" if p.isdigit() else _cut(p) for p in tail]
    return " ".join([head, *words])


def _cut(text: str) -> str:
    return text if len(text) <= 40 else text[:37] + "..."


def _model_at(loc: list[str]) -> type[Section]:
    model: type[Section] = JobFile
    for part in loc:
        if part.isdigit():
            continue
        info = model.model_fields.get(part)
        inner = info and info.annotation
        inner = getattr(inner, "__args__", (inner,))[0]
        if not (isinstance(inner, type) and issubclass(inner, Section)):
            return model
        model = inner
    return model


def _nearest(loc: list[str]) -> str:
    known = list(_model_at(loc[:-1]).model_fields)
    close = difflib.get_close_matches(loc[-1], known, 1, 0.6)
    if close:
        return f"; did you mean {close[0]}?"
    elsewhere = [n for n in JobFile.model_fields if loc[-1] in _model_at([n]).model_fields]
    if elsewhere and len(loc) > 1:
        return f"; {loc[-1]} belongs in [{elsewhere[0]}]"
    return f"; known here are {', '.join(known)}"


def _meaning(loc: list[str]) -> str:
    info = _model_at(loc[:-1]).model_fields.get(loc[-1])
    return f" ({info.description})" if info and info.description else ""
