"""The defaults in use, gathered for reading: what holds for several pads or walls is said once."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from calcbook.job.file import Job


def gathered_assumptions(job: Job) -> list[tuple[str, str, str, str]]:
    """Rows (place, meaning, value, why) of every default in use, in the order of the sections.

    job: a Job. The same default in several entries of a section stands in one row, whose place
    names them all: ``walls.0-5.plies``.
    """
    rows: dict[Any, Any] = {}
    for entry in job.assumptions():
        section, index, key = _parts(entry.place)
        same = section, key, entry.meaning, entry.text, entry.assumed
        rows.setdefault(same, []).append(index)
    return [(_place(section, found, key), *rest) for (section, key, *rest), found in rows.items()]


def _parts(place: str) -> Any:
    section, _, rest = place.partition(".")
    index, _, key = rest.partition(".")
    return (section, int(index), key) if index.isdigit() else (section, None, rest)


def _place(section: Any, indexes: Any, key: str) -> str:
    if indexes[0] is None:
        return f"{section}.{key}"
    return f"{section}.{','.join(_runs(indexes))}.{key}"


def _runs(numbers: Any) -> Any:
    """Neighbouring numbers as ranges: [0, 1, 2, 5] gives "0-2" and "5"."""
    for _, run in itertools.groupby(enumerate(numbers), lambda pair: pair[1] - pair[0]):
        first, *_, last = [run_number for _, run_number in run] * 2
        yield str(first) if first == last else f"{first}-{last}"
