"""The worst places of a case: each is looked at closer, until no other can be worse.

The mesh of the whole plan tells which places may be the worst. Right under a print it reads low, so
those places are taken for worse than they look until they have been looked at.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from calcbook.plate.closeup import CloseUp, close_up, twice_as_fine
from calcbook.plate.model import AGREE, STRESSES, PlateError
from calcbook.plate.readings import LOAD
from calcbook.plate.result import FIELDS, Reading, Values, greatest_at, reading

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.plate.result import PlateResult

BOOST = 1.35  # what the mesh of the whole plan may read low under a print
_FINER = 3  # meshes, each twice as fine as the one before
_MOST = 6  # close-ups for one stress of one case


def looked_closer(
    result: PlateResult, names: Sequence[str] = STRESSES, checked: bool = True
) -> PlateResult:
    """A result whose worst stresses are those of close-ups.

    names: the stresses that are asked for; checked: True to compare each with a mesh twice as fine.
    """
    for name in names:
        result = _searched(result, name)
    for name in names:
        if checked and not result.faint(name):
            result = _compared(result, name)
    return result


def greatest_closer(result: PlateResult) -> PlateResult:
    """A result whose greatest stress, of whichever face, is that of a close-up."""
    looked: set[str] = set()
    while (name := max(STRESSES, key=lambda n: result.worst[n].value)) not in looked:
        looked.add(name)
        result = _searched(result, name)
    return result


def _searched(result: PlateResult, name: str) -> PlateResult:
    """Close-ups where a stress may be the worst, until the worst place lies in one."""
    at = result.read_at
    under = np.where(at.where == LOAD, BOOST, 1.0)
    for _ in range(_MOST):
        shown = np.zeros(len(at.x), bool)
        for closeup in result.closeups:
            shown |= closeup.shows(at.x, at.y)
        field = getattr(result.values, FIELDS[name])
        n = greatest_at(field * np.where(shown, 1.0, under))
        if shown[n] or not field[n] > 0:
            break
        try:
            found = close_up(result.space, result.solution, result.case, float(at.x[n]), float(at.y[n]))
        except PlateError:
            break  # the stress stays that of the mesh of the whole plan, and tells no error
        result = _with(result, found)
    n = greatest_at(getattr(result.values, FIELDS[name]))
    return _told(result, name, n, None)


def _compared(result: PlateResult, name: str) -> PlateResult:
    """A stress on meshes each twice as fine about its worst place, until the last two agree: how far they differ."""
    at, before = result.read_at, result.worst[name]
    n = int(np.argmin(np.hypot(at.x - 12 * before.x, at.y - 12 * before.y)))
    x, y = float(at.x[n]), float(at.y[n])
    shown = next(
        (c for c in reversed(result.closeups) if c.shows(at.x[n : n + 1], at.y[n : n + 1])[0]), None
    )
    for _ in range(_FINER):
        if shown is None:
            break
        value = result.worst[name].value
        shown = twice_as_fine(shown, result.case, x, y)
        result = _with(result, shown)
        finer = float(getattr(result.values, FIELDS[name])[n])
        error = abs(value / finer - 1) if finer > 1e-9 else 0.0
        result = _told(result, name, n, error)
        if error < AGREE:
            break
    return result


def _with(result: PlateResult, closeup: CloseUp) -> PlateResult:
    closeups = (*result.closeups, closeup)
    values: Values = replace(result, closeups=(closeup,)).read(result.read_at, result.values)
    return replace(result, closeups=closeups, values=values)


def _told(result: PlateResult, name: str, n: int, error: float | None) -> PlateResult:
    value = float(getattr(result.values, FIELDS[name])[n])
    found: Reading = reading(name, value, result.read_at, n, error)
    return replace(result, worst={**result.worst, name: found})
