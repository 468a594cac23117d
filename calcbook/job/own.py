"""A file of the builder's own: prices with date and supplier, crew, usual mix, truck, roll, percentages.

It is kept once for all jobs, as ``own.toml`` in the user's configuration folder or where the variable
CALCBOOK_OWN says. A job that says ``own = "yes"`` (or names a file) under [job] takes from it what it
leaves out itself; one that does not is whole by itself.
"""

from __future__ import annotations

import datetime
import functools
import os
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from calcbook.job.catalog import section_at, section_of
from calcbook.job.clock import read_day
from calcbook.job.fields import meta_of
from calcbook.job.files import JobError, Stamp, read_text, stamp, write_whole
from calcbook.job.problems import named_line, nearest, parsed

PLACE = "CALCBOOK_OWN"  # variable that names the file
OLD = 90  # days after which a price is to be asked again (common practice, no source)
SECTIONS = (
    "job", "edge", "base", "concrete", "joints", "reinforcement", "retarder", "bolts", "pour", "crew", "prices", "terms", "risk",
)  # fmt: skip
_OF_JOB = ("units", "preparer", "contact")  # the rest of [job] belongs to one job
_OF_ONE_POUR = ("date", "start", "forecast")


@dataclass(frozen=True)
class Kept:
    """Where a price comes from: supplier and the day it was given; "" and None where that is not kept."""

    supplier: str
    day: datetime.date | None

    def text(self, today: datetime.date) -> str:
        """Supplier, date and age in words; that an old price is to be asked again."""
        if self.day is None:
            return ", ".join(filter(None, (self.supplier, "no date: ask again")))
        age = (today - self.day).days
        words = f"{self.day.isoformat()}, {age_text(age)}{': ask again' if age > OLD else ''}"
        return ", ".join(filter(None, (self.supplier, words)))


def age_text(days: int) -> str:
    """An age in words: days, and from two months on months."""
    if days < 0:
        return "dated in the future"
    if days < 61:
        return "today" if days == 0 else f"{days} day{'s' if days > 1 else ''} old"
    return f"{round(days / 30.44)} months old"


@dataclass(frozen=True)
class Learned:
    """Where a value learned from own jobs comes from: how many, accepted when, and what stood there before ("" for the default)."""

    jobs: int
    day: datetime.date
    start: str = ""

    def text(self) -> str:
        """Number of jobs and year in words."""
        return f"from {self.jobs} own job{'s' if self.jobs > 1 else ''}, {self.day.year}"


@dataclass(frozen=True)
class Own:
    """What an own file says: values by section and key as a job file writes them, and each price's origin.

    learned: by place, the values that were learned from own jobs.
    """

    path: Path
    text: str
    values: dict[str, dict[str, Any]]
    prices: dict[str, Kept]
    learned: dict[str, Learned] = field(default_factory=dict)

    def under(self, raw: dict[str, Any]) -> dict[str, Any]:
        """The data of a job file with what it leaves out taken from here."""
        filled = dict(raw)
        for section, values in self.values.items():
            given = raw.get(section, {})
            if isinstance(given, dict):
                filled[section] = {**values, **given}
        return filled

    def gives(self, place: str) -> bool:
        """Whether a field such as ``prices.concrete`` stands here."""
        section, _, key = place.partition(".")
        return key in self.values.get(section, {})

    def origin(self, place: str) -> str:
        """Where a value of this file comes from, in words."""
        learned = self.learned.get(place)
        return (
            f"{learned.text()}, in {self.path.name}"
            if learned
            else f"{self.path.name}, the builder's own file"
        )

    def jobs_behind(self, place: str) -> int:
        """How many own jobs a value was learned from; 0 where it was not."""
        return self.learned[place].jobs if place in self.learned else 0

    def start_of(self, place: str) -> Any:
        """The value that own jobs are weighed against, as it is written; None for the default of the book."""
        if place in self.learned:
            return self.learned[place].start or None
        section, _, key = place.partition(".")
        return self.values.get(section, {}).get(key)

    def where(self, place: str) -> str:
        """Name and line of a field, for a message."""
        return named_line(self.path.name, self.text, place)


def own_path() -> Path:
    """Where the own file is looked for."""
    named = os.environ.get(PLACE)
    if named:
        return Path(named).expanduser()
    from platformdirs import user_config_dir

    return Path(user_config_dir("calcbook", appauthor=False)) / "own.toml"


def own_of(raw: dict[str, Any], job_path: Path | None) -> Own | None:
    """The own file that a job takes from; None where it takes from none. Raises JobError."""
    section = raw.get("job")
    named = section.get("own", "") if isinstance(section, dict) else ""
    if not isinstance(named, str) or named.strip().lower() in ("", "no"):
        return None
    if named.strip().lower() == "yes":
        path = own_path()
    else:
        path = Path(job_path.parent if job_path else ".", Path(named).expanduser())
    if not path.is_file():
        raise JobError(
            f"[job] own: there is no file of your own at {path}; calcbook prices --ask starts one, or leave own out"
        )
    return read_own(path)


def read_own(path: Path) -> Own:
    """Read and check an own file. Raises JobError with one sentence for each mistake."""
    return _read(path, *stamp(path))


@functools.lru_cache(maxsize=8)
def _read(path: Path, _stamp: Stamp) -> Own:
    """The file as it was at that time: a panel reads the job at each change."""
    text = read_text(path, "file of your own").replace("\r\n", "\n")
    own = Own(path, text, {}, {})
    problems = [
        words for section, values in parsed(path, text).items() for words in _take(own, section, values)
    ]
    if problems:
        raise JobError(problems)
    return own


def _take(own: Own, section: str, values: Any) -> list[str]:
    """Enter a section of the file; returns what is wrong with it."""
    if section not in SECTIONS or not isinstance(values, dict):
        return [
            f"{own.where(section)}: [{section}] does not belong in a file of your own; it takes {', '.join(SECTIONS)}"
        ]
    fields = _fields(section)
    usual, problems, kept = dict(values), [], own.values.setdefault(section, {})
    day, supplier = (
        (usual.pop(key, "") for key in ("date", "supplier")) if section == "prices" else ("", "")
    )
    for key, value in usual.items():
        try:
            if key not in fields and key in section_at(section).model_fields:
                raise ValueError("belongs to one job, not to a file of your own")
            if key not in fields:
                raise ValueError(f"is not known here{nearest([section, key])}")
            if section == "prices":
                value, own.prices[key] = _price(value, day, supplier)
            elif isinstance(value, dict):
                value, own.learned[f"{section}.{key}"] = _learned(value)
            kept[key] = value
            meta_of(fields[key])["reader"](value)
        except ValueError as error:
            problems.append(f"{own.where(f'{section}.{key}')}: [{section}] {key}: {error}"[:299])
    return problems


def _fields(section: str) -> dict[str, Any]:
    """The fields of a section that may be kept for all jobs."""
    left_out = {"pour": _OF_ONE_POUR}.get(section, ())
    return {
        key: info
        for key, info in section_at(section).model_fields.items()
        if key not in left_out and section_of(info)[0] is None and (section != "job" or key in _OF_JOB)
    }


def _price(value: Any, day: Any, supplier: str) -> tuple[Any, Kept]:
    """A price and where it comes from: ``"$172 / yd3"`` or ``{ price = ..., date = ..., supplier = ... }``."""
    if isinstance(value, dict):
        unknown = set(value) - {"price", "date", "supplier"}
        if unknown or "price" not in value:
            raise ValueError('write { price = "$172 / yd3", date = "2026-03-01", supplier = "..." }')
        day, supplier, value = value.get("date", day), value.get("supplier", supplier), value["price"]
    day = day.isoformat() if isinstance(day, datetime.date) else day
    return value, Kept(str(supplier), read_day(day) if day else None)


def _learned(entry: dict[str, Any]) -> tuple[Any, Learned]:
    """A value and the own jobs behind it: ``{ value = ..., jobs = 14, date = ..., start = ... }``."""
    jobs = entry.get("jobs")
    if set(entry) - {"value", "jobs", "date", "start"} or not {"value", "date"} <= set(entry):
        raise ValueError(
            'write { value = "2.9 yd3", jobs = 14, date = "2026-03-01" }, or the value alone'
        )
    if not isinstance(jobs, int) or isinstance(jobs, bool) or not 1 <= jobs <= 10_000:
        raise ValueError(f"jobs = {jobs!r} is not a number of own jobs from 1 to 10,000")
    return entry["value"], Learned(jobs, read_day(str(entry["date"])), str(entry.get("start", "")))


def keep_learned(path: Path, values: dict[str, tuple[Any, Learned]]) -> None:
    """Write values that own jobs have taught into the own file, which is started where there is none.

    values: (value as a job file writes it, where it comes from) by place. Raises JobError.
    """
    document = _document(path)
    for place, (value, learned) in values.items():
        section, _, key = place.partition(".")
        meta_of(_fields(section)[key])["reader"](value)
        entry = {"value": value, "jobs": learned.jobs, "date": learned.day.isoformat()}
        _enter(document, section, key, entry | ({"start": learned.start} if learned.start else {}))
    _write(path, document)


def keep_price(path: Path, key: str, price: str, supplier: str, day: datetime.date) -> None:
    """Write one price into the own file, which is started where there is none. Raises JobError."""
    try:
        meta_of(_fields("prices")[key])["reader"](price)
    except ValueError as error:
        raise JobError(f"[prices] {key}: {error}") from None
    document = _document(path)
    entry = {"price": price, "date": day.isoformat(), **({"supplier": supplier} if supplier else {})}
    _enter(document, "prices", key, entry)
    _write(path, document)


def _document(path: Path) -> Any:
    """The own file to be changed, its comments kept; a new one where there is none."""
    import tomlkit

    return tomlkit.parse(read_text(path, "file of your own") if path.exists() else _HEAD)


def _enter(document: Any, section: str, key: str, entry: dict[str, Any]) -> None:
    import tomlkit

    if section not in document:
        document[section] = tomlkit.table()
    made = tomlkit.inline_table()
    made.update(entry)
    document[section][key] = made


def _write(path: Path, document: Any) -> None:
    import tomlkit

    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise JobError(
            f"{path.parent} could not be made ({error.strerror}); name another by {PLACE}"
        ) from None
    write_whole(path, tomlkit.dumps(document))


_HEAD = """# What is the same in all your jobs: prices, crew, usual mix, truck, roll, percentages.
# A job takes from here what it leaves out, where it says own = "yes" under [job].
# Sections and keys are those of a job file: calcbook fields tells them all.

"""
