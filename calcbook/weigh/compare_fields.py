"""Every field of a job file in a row, so that two versions of a job can be laid side by side."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from calcbook.basis.showing import magnitude, show, show_length
from calcbook.basis.units import Quantity
from calcbook.job.fields import Section, meta_of, show_field
from calcbook.job.schema.pour import WeatherHour

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from pydantic.fields import FieldInfo

    from calcbook.job.file import Job

NOT_GIVEN = "not given"


@dataclass(frozen=True)
class Field:
    """A field: place in words, meaning, value, its text, and whether the job file gives it."""

    place: str
    meaning: str
    value: Any
    text: str
    given: bool
    unit: str = ""


def fields_of(job: Job, system: str | None = None) -> dict[str, Field]:
    """All fields of a Job by place, in the order of the sections. system: units of their texts.

    An entry of a list goes by its name (``pads P1``), else by its number; the weather rows are one
    field.
    """
    found: dict[str, Field] = {}
    _walk(job.file, "", system or job.system, found)
    return found


def _walk(section: Section, where: str, system: str, found: dict[str, Field]) -> None:
    for key, info in type(section).model_fields.items():
        value, place = getattr(section, key), f"{where}.{key}" if where else key
        given = key in section.model_fields_set
        if isinstance(value, Section):
            _walk(value, place, system, found)
        elif isinstance(value, list) and value and isinstance(value[0], WeatherHour):
            found[place] = Field(
                place, info.description or "", _weather(value), _weather_text(value, system), given
            )
        elif isinstance(value, list) and value and isinstance(value[0], Section):
            for name, entry in _named(value):
                found[f"{place} {name}"] = Field(
                    f"{place} {name}", info.description or "", True, "there", True
                )
                _walk(entry, f"{place} {name}", system, found)
        else:
            found[place] = _field(place, info, value, given, system)


def _named(entries: Sequence[Section]) -> Iterator[tuple[str, Section]]:
    """(name, entry) of a list; entries without a name, or of the same name, go by their number."""
    names = [getattr(entry, "name", "") or "" for entry in entries]
    for number, (name, entry) in enumerate(zip(names, entries, strict=True), 1):
        yield (name if name and names.count(name) == 1 else f"{name} number {number}".strip()), entry


def _field(place: str, info: FieldInfo, value: Any, given: bool, system: str) -> Field:
    meta = meta_of(info)
    if value is None or value == []:
        text = NOT_GIVEN
    elif isinstance(value, list):
        text = _listed(value, system)
    else:
        text = show_field(value, meta, system)
    unit = meta.get("unit", "") if isinstance(value, Quantity) else ""
    return Field(place, info.description or "", value, text, given, unit)


def _listed(value: Sequence[tuple[Quantity, Quantity]], system: str) -> str:
    """Points or lengths in a row."""
    shown = [
        "(" + ", ".join(show_length(c, system) for c in v) + ")"
        if isinstance(v, tuple)
        else show_length(v, system)
        for v in value
    ]
    return ", ".join(shown)


def _weather(rows: Sequence[WeatherHour]) -> tuple[tuple[float | str | None, ...], ...]:
    """Rows of weather as plain values, so that equal rows are equal."""
    return tuple(
        tuple(v.to_base_units().magnitude if isinstance(v, Quantity) else v for v in dict(row).values())
        for row in rows
    )


def _weather_text(rows: Sequence[WeatherHour], system: str) -> str:
    coldest, warmest = (
        show(pick((row.air for row in rows), key=lambda air: magnitude(air, "degF")), "degF", system)
        for pick in (min, max)
    )
    return f"{len(rows)} rows, {rows[0].time} to {rows[-1].time}, air {coldest} to {warmest}"
