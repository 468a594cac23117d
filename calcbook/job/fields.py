"""How a field of the job file is declared, read and checked.

A field is declared with ``quantity`` (anything with a unit), ``text``, ``whole``, ``yes_no``, ``pick``, ``points``,
``lengths``, ``section`` or ``entries``. A default always says why, as the printout lists every default that was
used as an assumption.
"""

from __future__ import annotations

import datetime
import difflib
import functools
import re
import unicodedata
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from pydantic import BaseModel, ConfigDict, Field
from pydantic_core import core_schema

from calcbook.basis.formula import Argument
from calcbook.basis.reading import read, read_told
from calcbook.basis.showing import feet_inches, show
from calcbook.basis.units import Q, Quantity, UnitError, number_in

REQUIRED = object()
# control characters, line and paragraph ends, lone halves of a pair; what turns a line of text around
_NOT_SHOWN = {"Cc", "Zl", "Zp", "Cs"}
_TURNING = set("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


class Clash(UnitError):
    """A field that does not fit another one; ``key`` is the field to be told of."""

    def __init__(self, key: str, message: str) -> None:
        super().__init__(message)
        self.key = key


class Section(BaseModel):
    """A table of the job file. Unknown keys are errors; quantities are read with their units."""

    model_config = ConfigDict(
        extra="forbid", arbitrary_types_allowed=True, frozen=True,
        defer_build=True,  # built once, as part of the whole job file
        protected_namespaces=(),  # no field takes a name of pydantic's, which need not be looked at each
    )  # fmt: skip


@dataclass(frozen=True)
class _Reading:
    """How the value of a field is read, in place of what pydantic would make of its type."""

    reader: Callable[..., Any]
    optional: bool

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> core_schema.CoreSchema:
        read_by = core_schema.no_info_plain_validator_function(self.reader)
        return core_schema.nullable_schema(read_by) if self.optional else read_by


def declared(
    default: Any,
    meaning: str,
    why: str,
    reader: Callable[..., Any] | None = None,
    optional: bool = False,
    **extra: Any,
) -> Any:
    """A field of any kind. reader: makes a value of what is written, or raises a ValueError; optional: it may be None;
    extra: what else is told of it."""
    meta: Any = {"why": why, "reader": reader, "optional": optional, **extra}
    given = {} if default is REQUIRED else {"default": default}
    made: Any = Field(description=meaning, json_schema_extra=meta, **given)
    if reader:
        made.metadata.append(_Reading(reader, optional))
    return made


def meta_of(info: Any) -> dict[str, Any]:
    """What is told of a field (a pydantic FieldInfo) beside its meaning: ``unit``, ``reader``, ``why`` and so on."""
    return info.json_schema_extra or {}


def section(meaning: str) -> Any:
    """A section that may be left out: every field of it has then its default.

    It is read as an empty one, with the whole file: a section made by itself would need a schema of its own.
    """
    return Field(default_factory=dict, validate_default=True, description=meaning)


def entries(meaning: str, most: int) -> Any:
    """A list of sections, none where it is left out."""
    return Field(default_factory=list, max_length=most, description=meaning)


def quantity(
    unit_name: str,
    meaning: str,
    default: Any = REQUIRED,
    why: str = "",
    ratio: bool = False,
    si: str = "",
    **limits: Any,
) -> Any:
    """A field with a unit: ``quantity("in", "slab thickness", "5 in", why="...", low=3.5)``.

    unit_name: trade unit; meaning: for the reader; default: text with its unit, or None where it may stay
    open; why: reason of the default, which makes it an assumption; limits: as for ``formula.arg``.

    ratio: True for a plain number that is never written as a percentage; si: the default of a metric job,
    where it is a round figure of its own.
    """
    spec = Argument(unit_name, meaning, **limits)

    def checked(value: Any) -> Quantity:
        found = read(value, unit_name)
        if spec.breaks(number_in(found, unit_name)):
            given = " ".join(str(value).split())
            raise UnitError(f"{given} is not allowed; {meaning} must be {spec.allowed() or 'finite'}")
        return found

    def told(value: Any) -> str:
        return read_told(value, unit_name)[1]

    kept = functools.lru_cache(maxsize=64)(checked)  # a panel reads the whole job at each change

    def reader(value: Any) -> Quantity:
        return kept(value) if isinstance(value, str) else checked(value)

    optional = default is None
    value = default if default in (REQUIRED, None) else reader(default)
    return declared(
        value, meaning, why, reader, optional, unit=unit_name, ratio=ratio, spec=spec, told=told,
        si=reader(si) if si else None,
    )  # fmt: skip


def text(
    meaning: str,
    default: Any = REQUIRED,
    why: str = "",
    longest: int = 200,
    check: Callable[[str], Any] | None = None,
) -> Any:
    """A line of text, such as a name.

    check: raises a ValueError in words where it cannot be used; a text that it returns is used instead.
    """

    def reader(value: Any) -> Any:
        if isinstance(value, datetime.time) and not check:
            raise UnitError(f"{value.isoformat()} is a time of day, not text; put it in quotes")
        if isinstance(value, datetime.date | datetime.time):  # TOML has dates and times of its own
            value = value.isoformat()
        if not isinstance(value, str):
            raise UnitError(f"{_short(value)} is not text; put it in quotes")
        if len(value) > longest or _hidden(value):
            raise UnitError(f"text must be one line of at most {longest} characters that can be seen")
        made = check(value) if check else None
        return made if isinstance(made, str) else value

    return declared(default, meaning, why, reader, default is None)


def _hidden(value: str) -> bool:
    if value.isascii():  # as most are
        return not value.isprintable()
    return any(unicodedata.category(c) in _NOT_SHOWN or c in _TURNING or _no_letter(c) for c in value)


def _no_letter(c: str) -> bool:
    """True for the codes that Unicode keeps free of letters for good, such as U+FFFE."""
    return ord(c) & 0xFFFE == 0xFFFE or 0xFDD0 <= ord(c) <= 0xFDEF


def whole(
    meaning: str, default: Any = REQUIRED, why: str = "", low: int = 0, high: int = 10_000
) -> Any:
    """A whole number, also in quotes."""

    def reader(value: Any) -> Any:
        if isinstance(value, str) and re.fullmatch(r"\s*[0-9]{1,9}\s*", value, re.ASCII):
            value = int(value)
        if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
            raise UnitError(f"{_short(value)} is not a whole number from {low} to {high:,}")
        return value

    return declared(default, meaning, why, reader, default is None, whole=(low, high))


def yes_no(meaning: str, default: Any = REQUIRED, why: str = "") -> Any:
    """true or false."""

    def reader(value: Any) -> Any:
        if not isinstance(value, bool):
            raise UnitError(f"{_short(value)} must be true or false, without quotes")
        return value

    return declared(
        default, meaning, why, reader, form="true or false", example=str(default is True).lower()
    )


def pick(
    meaning: str,
    choices: Sequence[str],
    default: Any = REQUIRED,
    why: str = "",
    also: Mapping[str, tuple[str, str]] = MappingProxyType({}),
) -> Any:
    """One word out of several; capitals, spaces and inch marks do not matter.

    also: other words -> (the choice they are taken for, why), with "" as the choice where they are refused.
    """

    def reader(value: Any) -> Any:
        if value in choices:
            return value
        taken, why_not = (
            also.get(value.strip().upper(), ("", "")) if isinstance(value, str) else ("", "")
        )
        if taken or why_not:
            if not taken:
                raise UnitError(why_not)
            return taken
        alike = [c for c in choices if isinstance(value, str) and _bare(c) == _bare(value)]
        if len(alike) == 1:
            return alike[0]
        raise UnitError(
            f"{_short(value)} is not one of these: {_listed(choices)}{_near(value, choices)}"
        )

    def told(value: Any) -> str:
        taken, reason = (
            also.get(value.strip().upper(), ("", "")) if isinstance(value, str) else ("", "")
        )
        return f"{value!r} is taken as {taken}: {reason}" if taken and reason else ""

    return declared(default, meaning, why, reader, default is None, choices=choices, told=told)


def _bare(word: str) -> str:
    """A choice without what writers differ in: ``No. 3``, ``1/2 in.`` and ``macro_fiber``."""
    word = re.sub(r"[\s_\"#.-]+", "", word.lower())
    return re.sub(r"^no(?=[0-9])|(?<=[0-9])in(ch)?$", "", word)


_LAST = ("not known", "none")


def _listed(choices: Sequence[str]) -> str:
    """Choices for a message, those that say nothing last."""
    real, rest = [c for c in choices if c not in _LAST], [f'"{c}"' for c in choices if c in _LAST]
    return " or ".join(filter(None, (", ".join(real), *rest)))


def _near(value: Any, choices: Sequence[str]) -> str:
    """The choice that was probably meant, by its words or its letters."""
    text = str(value).lower()
    inside = [c for c in choices if c.lower() in text or (len(text) > 2 and text in c.lower())]
    close = inside or difflib.get_close_matches(text, choices, 1, 0.6)
    return f"; did you mean {max(close, key=len)}?" if close else ""


def _short(value: Any, longest: int = 40) -> str:
    text = repr(value)
    return text if len(text) <= longest else text[: longest - 3] + "..."


def _feet(value: Any) -> Quantity:
    return Q(number_in(read(value, "ft"), "ft"), "ft")


def points(meaning: str, default: Any = REQUIRED) -> Any:
    """Corner points, each ``[x, y]`` with units."""

    def reader(value: Any) -> Any:
        if not isinstance(value, list) or not all(isinstance(p, list) and len(p) == 2 for p in value):
            raise UnitError('points are written [["0 ft", "0 ft"], ["40 ft", "0 ft"], ...]')
        if len(value) > 500:
            raise UnitError(f"{len(value)} points are too many; at most 500")
        found = []
        for number, pair in enumerate(value, 1):
            try:
                found.append(tuple(_feet(c) for c in pair))
            except UnitError as error:
                raise UnitError(f"point {number}: {error}") from None
        return found

    corners = '[["0 ft", "0 ft"], ["24 ft", "0 ft"], ["24 ft", "30 ft"], ["0 ft", "30 ft"]]'
    return declared(default, meaning, "", reader, default is None, form="points", example=corners)


def lengths(meaning: str, default: Any = REQUIRED, why: str = "none given") -> Any:
    """A list of lengths, such as the joints of a plate."""

    def reader(value: Any) -> Any:
        if not isinstance(value, list) or len(value) > 200:
            raise UnitError('lengths are written ["16 ft", "28 ft"], at most 200 of them')
        return [_feet(v) for v in value]

    return declared(default, meaning, why, reader, default is None, form="lengths", example='["16 ft"]')


PRACTICE = "common practice, no source"
OWN = "a starting figure; use your own records"


def _by_tape(feet: float) -> bool:
    """Whether a length is read off a tape, and its feet have no short decimal: 3'-2" and not 3.1667 ft."""
    return abs(feet * 192 - round(feet * 192)) < 1e-6 < abs(feet * 100 - round(feet * 100))


def show_field(value: Any, meta: dict[str, Any], system: str) -> str:
    """A field's value as text in the job's units."""
    if isinstance(value, Quantity):
        name = meta["unit"]
        if name == "1":
            number = number_in(value, "1")
            percent = 0 < abs(number) < 1 and not meta["ratio"]
            return f"{number * 100:.4g} %" if percent else f"{number:.4g}"
        if name == "ft" and system == "us" and _by_tape(number_in(value, "ft")):
            return feet_inches(value)
        return show(value, name, system, most=5)
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)
