"""What a sweep varies: ``slab.thickness=4:8:0.5 in`` or ``reinforcement.kind=mesh,macro fiber``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from calcbook.basis.reading import read
from calcbook.basis.showing import magnitude
from calcbook.basis.units import TRADE_UNITS, UnitError
from calcbook.job.fields import Section, meta_of
from calcbook.job.files import JobError

if TYPE_CHECKING:
    from collections.abc import Sequence
    from re import Match

    from calcbook.job.file import Job

MOST_JOBS = 10_000
_ALL_CHECKED = 50  # so many values are tried one by one beforehand, of more only the ends
_PART = re.compile(
    r"(?P<mark>-?(?:[$€£¥₹]|[A-Z]{3}))?\s*(?P<number>[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?)\s*(?P<unit>.*)"
)
_WORDS = {"true": True, "yes": True, "false": False, "no": False}


@dataclass(frozen=True)
class Axis:
    """One field that is varied: its place, the values to be set, and each as it is shown.

    numbers: the values as plain numbers in ``unit`` where they are such, for the chart; else None.
    meaning: of the field.
    """

    place: str
    values: tuple[str | int | bool, ...]
    texts: tuple[str, ...]
    numbers: tuple[float, ...] | None
    unit: str
    meaning: str


def read_axis(text: str, job: Job) -> Axis:
    """Read ``place=start:stop:step`` or ``place=value,value,...`` for a Job. Raises JobError."""
    place, equals, wanted = text.partition("=")
    place, wanted = place.strip(), wanted.strip()
    if not equals or not place or not wanted:
        raise JobError(
            f"{text[:60]!r} is not field=values; write it like slab.thickness=4:8:0.5in or pour.pump=yes,no"
        )
    kind, meta = _kind(place, job)
    try:
        values = _values(wanted, kind, meta)
    except UnitError as error:
        raise JobError(f"{place}: {error}") from None
    _check(place, values, job)
    numbers, unit = _numbers(values, kind, meta, job.system)
    return Axis(
        place,
        values,
        tuple(_text(v) for v in values),
        numbers,
        unit,
        job.schema_of(place).description or place,
    )


def _kind(place: str, job: Job) -> tuple[str, dict[str, Any]]:
    """What a field takes ("quantity", "whole", "yes_no" or "text") and its declaration."""
    try:
        info = job.schema_of(place)
        value = job.field(place).value
    except (AttributeError, KeyError, IndexError, TypeError, ValueError):
        raise JobError(f"{place[:60]}: the job has no such field; {_near(place, job)}") from None
    if isinstance(value, Section | list):
        raise JobError(
            f"{place}: this is not a single field; name one inside it, such as slab.thickness"
        )
    meta = meta_of(info)
    if meta.get("unit"):
        return "quantity", meta
    if isinstance(value, bool):
        return "yes_no", meta
    return ("whole" if isinstance(value, int) else "text"), meta


def _near(place: str, job: Job) -> str:
    import difflib

    places = [
        f"{name}.{key}"
        for name in type(job.file).model_fields
        for key in getattr(type(getattr(job.file, name)), "model_fields", ())
    ]
    close = difflib.get_close_matches(place, places, 1, 0.5)
    return f"did you mean {close[0]}?" if close else "write it like slab.thickness or pads.0.width"


def _values(wanted: str, kind: str, meta: dict[str, Any]) -> tuple[str | int | bool, ...]:
    parts = [part.strip() for part in wanted.split(":")]
    if kind in ("quantity", "whole") and len(parts) > 1:
        if len(parts) != 3:
            raise UnitError(f"{wanted[:60]!r} has {len(parts)} parts; a range is start:stop:step")
        return _range(parts, kind, meta)
    choices = [part.strip() for part in wanted.split(",")]
    if len(choices) > MOST_JOBS:
        raise UnitError(f"{len(choices):,} values are too many; at most {MOST_JOBS:,}")
    if "" in choices:
        raise UnitError(f"{wanted[:60]!r} has an empty value between its commas")
    return tuple(_value(choice, choices[-1], kind) for choice in choices)


def _value(text: str, last: str, kind: str) -> str | int | bool:
    """One typed value as the job file would hold it; a number without a unit takes that of the last."""
    if kind == "yes_no":
        if text.lower() not in _WORDS:
            raise UnitError(f"{text[:40]!r} is not yes or no")
        return _WORDS[text.lower()]
    if kind == "whole":
        if not re.fullmatch(r"[+-]?\d{1,9}", text):
            raise UnitError(f"{text[:40]!r} is not a whole number")
        return int(text)
    if kind == "text":
        return text
    part, end = _PART.fullmatch(text), _PART.fullmatch(last)
    if part and end and not part["unit"] and not part["mark"]:
        return _joined(part["number"], end["mark"] or "", end["unit"])
    return text


def _joined(number: str, mark: str, unit_text: str) -> str:
    gap = "" if unit_text.startswith(('"', "'")) else " "
    return f"{mark}{' ' if mark[-1:].isalpha() else ''}{number}{gap}{unit_text}".strip()


def _range(parts: Sequence[str], kind: str, meta: dict[str, Any]) -> tuple[str | int | bool, ...]:
    """The values from start to stop by step, both ends included where the step meets them."""
    found = [match for part in parts if (match := _PART.fullmatch(part))]
    alike = _alike(found) if len(found) == len(parts) else None
    if alike is None and kind == "quantity":
        numbers, mark, unit_text = _measured(parts, meta["unit"]), "", meta["unit"]
    elif alike is None:
        raise UnitError(f"{':'.join(parts)[:60]!r} is not a range of whole numbers, like 4:8:1")
    else:
        numbers, (mark, unit_text) = [Decimal(match["number"]) for match in found], alike
    values = _steps(*numbers)
    if kind == "whole":
        if any(value % 1 for value in values):
            raise UnitError("a whole number is wanted; start and step must be whole")
        return tuple(int(value) for value in values)
    if unit_text == "1":
        unit_text = ""
    return tuple(_joined(_plain(value), mark, unit_text) for value in values)


def _alike(found: Sequence[Match]) -> tuple[str, str] | None:
    """(mark of money, unit) that all parts share, a part without one taking that of the others; else None."""
    units = {match["unit"] for match in found if match["unit"]}
    marks = {match["mark"] for match in found if match["mark"]}
    if len(units) > 1 or len(marks) > 1:
        return None
    return "".join(marks), "".join(units)


def _measured(parts: Sequence[str], unit_name: str) -> list[Decimal]:
    """Parts of different units, or of feet and inches, as numbers in the field's own unit."""
    if unit_name in ("degF", "degC"):
        raise UnitError("write start, stop and step in the same unit, like 40:60:5 F")
    return [Decimal(f"{magnitude(read(part, unit_name), unit_name):.10g}") for part in parts]


def _steps(start: Decimal, stop: Decimal, step: Decimal) -> list[Decimal]:
    if step == 0:
        raise UnitError("the step is 0; write a step such as 0.5")
    if (stop - start) * step < 0:
        raise UnitError(
            f"a step of {_plain(step)} leads away from the end: {_plain(start)} to {_plain(stop)}; turn its sign"
        )
    if (stop - start) / step >= MOST_JOBS:
        raise UnitError(f"that is more than {MOST_JOBS:,} values; take a larger step")
    count = int((stop - start) / step + Decimal("1e-9")) + 1
    return [start + step * k for k in range(count)]


def _plain(number: Decimal) -> str:
    text = f"{number:f}" if abs(number.adjusted()) < 15 else f"{number:.10g}"
    return text.rstrip("0").rstrip(".") if "." in text and "E" not in text else text


def _check(place: str, values: Sequence[str | int | bool], job: Job) -> None:
    """Refuse what the job file would refuse, before anything runs. Raises JobError."""
    tried = values if len(values) <= _ALL_CHECKED else (values[0], values[-1])
    for value in tried:
        job.changed({place: value})


def _numbers(
    values: Sequence[Any], kind: str, meta: dict[str, Any], system: str
) -> tuple[tuple[float, ...] | None, str]:
    if kind == "whole":
        return tuple(float(v) for v in values), ""
    if kind != "quantity":
        return None, ""
    name = meta["unit"]
    if name == "1" and all(v.endswith("%") for v in values):
        return tuple(100 * magnitude(read(v, name), name) for v in values), "%"
    numbers = tuple(magnitude(read(v, name), name, system) for v in values)
    return numbers, TRADE_UNITS[name].label_for(system)


def _text(value: str | int | bool) -> str:
    return ("yes" if value else "no") if isinstance(value, bool) else str(value)
