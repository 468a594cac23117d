"""What is typed for a record, in the terminal or on a page, as it is written into the file, and back."""

from __future__ import annotations

import re
from typing import Any

from calcbook.basis.units import UnitError
from calcbook.job.catalog import field_at, section_at
from calcbook.job.fields import meta_of
from calcbook.job.questions import bare_unit
from calcbook.job.raw import plain
from calcbook.records.questions import LISTS
from calcbook.records.schema import RecordFile

DEPTHS = "base.depths"


def _meta(place: str) -> dict[str, Any]:
    return meta_of(field_at(place, RecordFile))


def depths_of(answer: str, system: str) -> list[str]:
    """Depths with commas between, each with its unit. Raises ValueError."""
    given = [with_unit(part.strip(), "in", system) for part in answer.split(",") if part.strip()]
    _meta(DEPTHS)["reader"](given)
    return given


def entry_of(name: str, system: str, answer: str) -> dict[str, Any] | None:
    """One entry of a list as it is written into the record; None for an empty answer. Raises ValueError."""
    if not answer.strip():
        return None
    keys = LISTS[name][1]
    parts = [part.strip() for part in answer.split(",")]
    if len(parts) > len(keys):
        raise UnitError(f"at most {len(keys)} values, with commas between: {', '.join(keys)}")
    entry: dict[str, Any] = {}
    for key, part in zip(keys, parts, strict=False):
        meta = _meta(f"{name}.{key}")
        if not part:
            continue
        if "unit" in meta:
            entry[key] = with_unit(part, meta["unit"], system)
            meta["reader"](entry[key])
        else:
            entry[key] = meta["reader"](part)
    fields = section_at(name, RecordFile).model_fields
    missing = [k for k in keys if fields[k].is_required() and k not in entry]
    if missing:
        raise UnitError(f"{missing[0]} is missing; write {', '.join(keys)}")
    return entry


def entry_text(name: str, entry: dict[str, Any]) -> str:
    """An entry as it is typed."""
    return ", ".join(str(entry.get(key, "")) for key in LISTS[name][1]).rstrip(", ")


def entries_of(name: str, system: str, text: str, there: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Entries typed one a line; a line that says what was there keeps all that the file held. Raises ValueError."""
    kept = {entry_text(name, entry): dict(entry) for entry in there}
    found = []
    for number, line in enumerate(text.splitlines(), 1):
        try:
            entry = kept.get(line.strip()) or entry_of(name, system, line)
        except ValueError as error:
            raise UnitError(f"line {number}: {error}") from None
        if entry:
            found.append(entry)
    return found


def with_unit(text: str, unit: str, system: str) -> str:
    """A bare number is taken in the unit of the question."""
    return f"{text} {bare_unit(unit, system)}" if re.fullmatch(r"[\d./ ]*\d[\d./ ]*", text) else text


def line_value(key: str, answer: str, system: str) -> str:
    """Hours or cost of a line of the quote as it is written; "" for an empty answer. Raises ValueError."""
    if not answer:
        return ""
    meta = _meta(f"lines.{key}")
    text = with_unit(answer.replace(",", "") if key == "cost" else answer, meta["unit"], system)
    meta["reader"](text)
    return text


def lines_with(raw: dict[str, Any], answers: dict[tuple[str, str], str]) -> list[dict[str, Any]] | None:
    """Lines of a record with answers by (line, ``hours`` or ``cost``), "" taking one out; None where nothing changes."""
    known = {plain(line["line"]): dict(line) for line in raw.get("lines", []) if "line" in line}
    before = {name: dict(line) for name, line in known.items()}
    for (name, key), value in answers.items():
        line = known.setdefault(plain(name), {"line": name})
        line.pop(key, None)
        line |= {key: value} if value else {}
    found = {name: line for name, line in known.items() if len(line) > 1}
    return list(found.values()) if found != before else None
