"""What is read of a job, noted with the values that were found: where they are the same in another job,
what was made of them is the same too."""

from __future__ import annotations

import functools
from dataclasses import fields, is_dataclass
from types import MethodType
from typing import Any
from weakref import WeakSet

import numpy as np

from calcbook.basis.units import Quantity
from calcbook.job.fields import Section


class Reads:
    """Values by the place they were read at.

    What is read late, as by a drawing, must be the same in the ``others``: jobs that took over what was made.
    """

    def __init__(self) -> None:
        self.found: dict[tuple[str, ...], Any] = {}
        self._sections: dict[tuple[str, ...], Section] = {}  # by their place, those that were read in
        self._others: WeakSet[Any] | None = None

    def taken_over(self, other: Any) -> None:
        """What was made is what another job comes to as well."""
        if self._others is None:
            self._others = WeakSet()
        self._others.add(other)

    def note(self, place: tuple[str, ...], value: Any) -> Any:
        """Keep what was read at a place; returns it, or a section as one that notes in turn."""
        if isinstance(value, Section):
            self._sections[place] = value
            return SeenSection(value, self, place)
        if place not in self.found:
            if self._others is not None and any(
                not same(value, functools.reduce(_at, place, job)) for job in self._others
            ):
                raise RuntimeError(
                    f"{'.'.join(place)} of the job is read too late: read it in its chapter"
                )
            self.found[place] = value
        return value

    def hold(self, other: Any) -> bool:
        """True where all that was read is the same in another job (or its file)."""
        there: dict[tuple[str, ...], Any] = {}
        try:
            for (*path, name), value in self.found.items():
                section = tuple(path)
                if section not in there:
                    there[section] = functools.reduce(_at, path, other)
                whole = there[section]
                if whole is self._sections.get(section, self):
                    continue  # the very section that was read
                if not same(value, _at(whole, name)):
                    return False
        except LookupError:  # an entry that is no longer there
            return False
        return True


def _at(whole: Any, name: str) -> Any:
    """A field of a section, an entry of a list by its number, or (with ?) whether a field is given."""
    if name.isdigit():
        return whole[int(name)]
    return name[1:] in whole.model_fields_set if name.startswith("?") else getattr(whole, name)


class SeenSection:
    """A section of a job file whose fields are noted as they are read, by its own methods too."""

    def __init__(self, section: Section, reads: Reads, place: tuple[str, ...] = ()) -> None:
        self._section, self._reads, self._place = section, reads, place

    def __getattr__(self, name: str) -> Any:
        kind = type(self._section)
        method = None if name in kind.__pydantic_fields__ else getattr(kind, name, None)
        if callable(method):
            return MethodType(method, self)
        found = self._reads.note((*self._place, name), getattr(self._section, name))
        self.__dict__[name] = found  # noted once: the next reader finds it without asking here
        return found


def same(a: Any, b: Any) -> bool:
    """True where two values are the same to the last digit, units and all; for records, what they compare by."""
    if a is b:
        return True
    if type(a) is not type(b):
        return False
    if isinstance(a, Quantity):
        return a.units == b.units and same(a.magnitude, b.magnitude)
    if isinstance(a, np.ndarray):
        return a.dtype == b.dtype and np.array_equal(a, b, equal_nan=a.dtype.kind == "f")
    if isinstance(a, list | tuple):
        return len(a) == len(b) and all(map(same, a, b))
    if isinstance(a, dict):
        return a.keys() == b.keys() and all(same(a[key], b[key]) for key in a)
    if isinstance(a, Section):
        return all(same(getattr(a, name), getattr(b, name)) for name in type(a).model_fields)
    if is_dataclass(a):
        return all(same(getattr(a, f.name), getattr(b, f.name)) for f in fields(a) if f.compare)
    return bool(a == b)
