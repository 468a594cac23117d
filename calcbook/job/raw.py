"""The data of a job file as they are written: looking up, copying and setting what stands at a place."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from calcbook.job.fields import Section, meta_of

if TYPE_CHECKING:
    from collections.abc import Iterator


def known(raw: Any, checked: Any, touched: list[list[str]]) -> Any:
    """Raw contents with the sections that were not touched as they were checked before.

    raw: of a file, section or list of sections; checked: the same before the change; touched: places in it.
    """
    if not touched:
        sections = checked if isinstance(checked, list) else [checked]
        return checked if all(isinstance(one, Section) for one in sections) else raw
    if isinstance(raw, dict):
        return {
            key: known(value, getattr(checked, key), [t[1:] for t in touched if t[0] == key])
            if isinstance(value, dict | list) and [key] not in touched
            else value
            for key, value in raw.items()
        }
    return [
        known(one, checked[n], [t[1:] for t in touched if t[0] == str(n)]) for n, one in enumerate(raw)
    ]


def plain(question: str) -> str:
    """A question without what typing it over may change."""
    return " ".join(question.split()).casefold()


def written(section: Any, raw: dict[str, Any], place: str = "") -> Iterator[tuple[str, Any, Any]]:
    """(place, value as written, declaration) of every field that a job file gives."""
    for key, value in raw.items():
        inner, here = getattr(section, key), f"{place}.{key}".removeprefix(".")
        if isinstance(inner, Section):
            yield from written(inner, value, here)
        elif isinstance(inner, list) and inner and isinstance(inner[0], Section):
            for number, one in enumerate(inner):
                yield from written(one, value[number], f"{here}.{number}")
        else:
            yield here, value, meta_of(type(section).model_fields[key])


def value_at(raw: Any, place: str) -> Any:
    """What a job file's data hold at a place, or None."""
    for part in place.split("."):
        if isinstance(raw, list):
            raw = raw[int(part)] if int(part) < len(raw) else None
        else:
            raw = raw.get(part) if isinstance(raw, dict) else None
    return raw


def deep_copy(value: Any) -> Any:
    """A copy of a job file's data, lists and sections within it too."""
    if isinstance(value, dict):
        return {k: deep_copy(v) for k, v in value.items()}
    return [deep_copy(v) for v in value] if isinstance(value, list) else value


def with_changes(raw: dict[str, Any], changes: dict[str, Any]) -> dict[str, Any]:
    """A job file's data with some places set; None takes one out."""
    found = deep_copy(raw)
    for place, value in changes.items():
        *path, key = place.split(".")
        target = found
        for part in path:
            target = target[int(part)] if part.isdigit() else target.setdefault(part, {})
        if value is None:
            target.pop(key, None)
        else:
            target[key] = deep_copy(value)  # a later place may lie inside it
    return found
