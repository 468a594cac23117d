"""The job file: reading, the values in use, and saving.

A job file is TOML and is data only. Reading gives a ``Job`` or a ``JobError`` whose message is one
clear sentence for each mistake, with file, line, section and key (``job_problems.py``).
"""

from __future__ import annotations

import functools
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import tomlkit

from calcbook.job.fields import Section, show_field
from calcbook.job.files import locked, read_text, write_whole
from calcbook.job.metric import left_out
from calcbook.job.money import job_currency
from calcbook.job.own import own_of
from calcbook.job.problems import (
    JobChanged,
    JobError,
    find_line,
    shown_place,
    size_problem,
    toml_problem,
    validated,
)
from calcbook.job.schema.sections import JobFile
from calcbook.job.seen import Reads, SeenSection

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pydantic.fields import FieldInfo

    from calcbook.plan.outline import Plan


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

    >>> job = Job({"slab": {"length": "24 ft", "width": "30 ft"}})
    >>> job.field("slab.thickness").text, job.field("slab.thickness").assumed
    ('4 in.', 'usual house slab; common practice, no source')
    >>> job.changed({"slab.thickness": "6 in"}).field("slab.thickness").text
    '6 in.'
    """

    def __init__(
        self,
        raw: dict[str, Any],
        path: str | Path | None = None,
        text: str = "",
        known: Any = None,
    ) -> None:
        self.raw, self.path, self.source_text = raw, Path(path) if path else None, text
        self.own = own_of(raw, self.path)
        self._filled = self.own.under(raw) if self.own else raw
        checked = self.own.under(known) if self.own and known else known
        self.file = validated(checked or self._filled, self._where)
        try:
            self.currency = job_currency(self._filled)  # code, as "EUR"; "$" without another
        except ValueError as error:
            raise JobError(f"{self._where('prices')}: {error}") from None

    @classmethod
    def read(cls, path: str | Path, own: str | None = None) -> Job:
        """Read and check a job file. own: a file of the builder's own in place of the one it names. Raises JobError."""
        path = Path(path)
        text = _text(path)
        problem = size_problem(path.name, text)
        if problem:
            raise JobError(problem)
        try:
            raw = tomllib.loads(text)
        except (tomllib.TOMLDecodeError, RecursionError) as error:
            raise JobError(toml_problem(path, text, error)) from None
        if own is not None and isinstance(raw.setdefault("job", {}), dict):
            raw["job"]["own"] = str(Path(own).expanduser().resolve())
        job = cls(raw, path, text)
        _ = job.plan  # a shape that cannot be built is a mistake of the file
        return job

    def __getattr__(self, name: str) -> Any:
        if name.startswith("_") or name == "file":
            raise AttributeError(name)
        return getattr(self.file, name)

    @property
    def system(self) -> str:
        """The units shown: "us" or "si"."""
        return self.file.job.units

    @property
    def _path(self) -> Path:
        if self.path is None:
            raise JobError("this job was not read from a file; say where to save it")
        return self.path

    def _where(self, place: str) -> str:
        if self.own and self._taken_over(place):
            return self.own.where(place)
        line = find_line(self.source_text, place) if self.source_text else None
        name = self.path.name if self.path else "job"
        return f"{name}, line {line}" if line else name

    @functools.cached_property
    def plan(self) -> Plan:
        """The plan geometry (outline.Plan). Raises JobError for a shape that cannot be built."""
        from calcbook.job.shape import build_plan
        from calcbook.plan.outline import OutlineError

        self._plan_reads = Reads()
        try:
            return build_plan(SeenSection(self.file, self._plan_reads))
        except OutlineError as error:
            where = self._where(error.place)
            raise JobError(f"{where}: {shown_place(error.place.split('.'))} {error}") from None

    def field(self, place: str) -> Entry:
        """The Entry of a field such as ``"slab.thickness"`` or ``"pads.0.width"``."""
        section, raw, key = self._find(place)
        info = type(section).model_fields[key]
        value, meta = getattr(section, key), info.json_schema_extra or {}
        text = show_field(value, meta, self.system)
        written = str(raw[key]) if key in raw else text
        assumed = "" if key in raw else meta.get("why") or "default"
        if assumed and meta.get("si") is not None and self.system == "si":
            assumed = "a round metric figure near the US default; " + assumed
        if self.own and self._taken_over(place):
            assumed = f"{self.own.path.name}, the builder's own file"
        return Entry(place, value, text, info.description, assumed, written)

    def answer(self, title: str) -> str:
        """What an engineer answered to the check of this title, with name and day; "" without an answer.

        Of several answers to one check the last one written holds.
        """
        said = [a for a in self.file.answers if plain(a.check) == plain(title)]
        return f"Answered by {said[-1].by} on {said[-1].date}: {said[-1].words}" if said else ""

    def _taken_over(self, place: str) -> bool:
        """Whether a field stands in the builder's own file and not in the job."""
        return self.own is not None and self.own.gives(place) and _value_at(self.raw, place) is None

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

    def taken(self) -> list[str]:
        """One sentence for each value that was taken for something else than it says, such as ``lb`` for lbf."""
        told = [
            f"{shown_place(place.split('.'))}: {words}"
            for place, value, meta in _written(self.file, self._filled)
            if "told" in meta and isinstance(value, str) and (words := meta["told"](value))
        ]
        if self.currency != "$":
            told.append(
                f"[prices] are in {self.currency}: the sign $ on every page stands for {self.currency}"
            )
        return told

    def assumptions(self) -> list[Entry]:
        """Every default that the printout rests on, as a list of Entry, in the order of the sections.

        The spreads of [risk] are not among them, which are listed with the odds that use them, and what
        rests on no calculation: [terms] and [[suppliers]].
        """
        found = []
        for name in (n for n in JobFile.model_fields if n not in ("risk", "terms", "suppliers")):
            section = getattr(self.file, name)
            many = isinstance(section, list)
            for index, one in enumerate(section if many else [section]):
                place = f"{name}.{index}" if many else name
                found += [
                    self.field(f"{place}.{key}")
                    for key, info in type(one).model_fields.items()
                    if (key not in one.model_fields_set or self._taken_over(f"{place}.{key}"))
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
        touched = [place.split(".") for place in changes]
        job = Job(raw, self.path, self.source_text, _known(raw, self.file, touched))
        if "plan" in self.__dict__ and self._plan_reads.hold(job.file):
            job.__dict__ |= {"plan": self.plan, "_plan_reads": self._plan_reads}
        _ = job.plan
        return job

    def shown_in(self, system: str) -> Job:
        """The same job with the same figures, shown in the units of a system: "us" or "si"."""
        if system == self.system:
            return self
        return self.changed({**left_out(self.file, self.system), "job.units": system})

    def save(self, changes: dict[str, Any], path: str | Path | None = None) -> Job:
        """Write changed fields into the job file, keeping its comments and order.

        changes: as in ``changed``; path: another file to write. The file is replaced in one step,
        so it is whole at any moment. Where the file on disk was changed meanwhile, what stands
        there is kept and only these fields are written into it; raises JobChanged where one of
        them was itself changed there. Returns the Job as saved.
        """
        target = Path(path or self._path)
        with locked(target):  # two who save at once are both kept
            base = self if path else self._on_disk(changes)
            base.changed(changes)
            document = tomlkit.parse(base.source_text)
            for place, value in changes.items():
                _set(document, place.split("."), value)
            write_whole(target, tomlkit.dumps(document))
            return Job.read(target)

    def _on_disk(self, changes: dict[str, Any]) -> Job:
        """The job as it stands on disk, where none of the fields to be changed differs from here."""
        if _text(self._path) == self.source_text:
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


def _known(raw: Any, checked: Any, touched: list[list[str]]) -> Any:
    """Raw contents with the sections that were not touched as they were checked before.

    raw: of a file, section or list of sections; checked: the same before the change; touched: places in it.
    """
    if not touched:
        sections = checked if isinstance(checked, list) else [checked]
        return checked if all(isinstance(one, Section) for one in sections) else raw
    if isinstance(raw, dict):
        return {
            key: _known(value, getattr(checked, key), [t[1:] for t in touched if t[0] == key])
            if isinstance(value, dict | list) and [key] not in touched
            else value
            for key, value in raw.items()
        }
    return [
        _known(one, checked[n], [t[1:] for t in touched if t[0] == str(n)]) for n, one in enumerate(raw)
    ]


def plain(question: str) -> str:
    """A question without what typing it over may change."""
    return " ".join(question.split()).casefold()


def _written(section: Any, raw: dict[str, Any], place: str = "") -> Iterator[tuple[str, Any, Any]]:
    """(place, value as written, declaration) of every field that a job file gives."""
    for key, value in raw.items():
        inner, here = getattr(section, key), f"{place}.{key}".removeprefix(".")
        if isinstance(inner, Section):
            yield from _written(inner, value, here)
        elif isinstance(inner, list) and inner and isinstance(inner[0], Section):
            for number, one in enumerate(inner):
                yield from _written(one, value[number], f"{here}.{number}")
        else:
            yield here, value, type(section).model_fields[key].json_schema_extra or {}


def _value_at(raw: Any, place: str) -> Any:
    """What a job file's data hold at a place, or None."""
    for part in place.split("."):
        if isinstance(raw, list):
            raw = raw[int(part)] if int(part) < len(raw) else None
        else:
            raw = raw.get(part) if isinstance(raw, dict) else None
    return raw


def _text(path: Path) -> str:
    return read_text(path, "job file").replace("\r\n", "\n")


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


__all__ = ["Entry", "Job", "JobChanged", "JobError"]
