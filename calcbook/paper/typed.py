"""What stands in a field of text, and what a typed text is in the job file: points and lengths without brackets."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import tomli

from calcbook.job.fields import meta_of
from calcbook.job.files import JobError
from calcbook.job.raw import value_at

if TYPE_CHECKING:
    from calcbook.job.file import Entry, Job

_LISTS = "points", "lengths"


def typed_as(entry: Entry, job: Job) -> str:
    """A field's text: as the file has it, points as ``0 ft, 0 ft; 24 ft, 0 ft``, lengths as ``16 ft; 28 ft``."""
    if entry.value is None:
        return ""
    raw = value_at(job.raw, entry.place)
    return (
        _listed(raw) if _form(job, entry.place) in _LISTS and isinstance(raw, list) else entry.written
    )


def entered(value: Any, job: Job, place: str) -> Any:
    """What was typed as the job file has it; an emptied field is left out of it. Raises JobError."""
    if not isinstance(value, str):
        return value
    text, form = value.strip(), _form(job, place)
    if form not in _LISTS or not text:
        return text or None
    if not text.startswith("["):
        parts = [part.strip() for part in text.split(";") if part.strip()]
        found = [[c.strip() for c in part.split(",")] for part in parts] if form == "points" else parts
        if form == "lengths" or all(len(point) == 2 and all(point) for point in found):
            return found
    try:
        return tomli.loads(f"typed = {text}")["typed"]
    except tomli.TOMLDecodeError:
        example = meta_of(job.schema_of(place))["example"]
        raise JobError(f"write it like {_listed(tomli.loads(f'e = {example}')['e'])}") from None


def _form(job: Job, place: str) -> Any:
    return meta_of(job.schema_of(place)).get("form")


def _listed(raw: list[Any]) -> str:
    """A list in a line; the comma of thousands goes, as commas stand between the two of a point."""
    points = (map(str, p) if isinstance(p, list) else [str(p)] for p in raw)
    return "; ".join(", ".join(one.replace(",", "") for one in point) for point in points)
