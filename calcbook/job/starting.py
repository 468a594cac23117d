"""What a new job file holds, by the answers to the questions it starts with."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from calcbook.basis.showing import show_length
from calcbook.basis.units import Q

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from calcbook.plan.walk import Corner


def raw_of(answers: Mapping[str, Any], own: bool) -> dict[str, Any]:
    """The data of a job file by its answered fields; own: what it leaves out is taken from the builder's own file."""
    raw: dict[str, Any] = {"job": {"own": "yes"}} if own else {}
    for place, value in answers.items():
        if value not in (None, ""):
            section, _, key = place.partition(".")
            raw.setdefault(section, {})[key] = value
    return raw


def outline_fields(points: Sequence[Corner], shape: str, system: str) -> dict[str, Any]:
    """The fields of an outline: the sides of a rectangle, else its corners."""
    if shape == "rectangle":
        (length, _), (_, width) = points[1], points[2]
        return {"slab.length": _typed(length, system), "slab.width": _typed(width, system)}
    return {"slab.points": corners_text(points, system)}


def corners_text(points: Sequence[Corner], system: str) -> list[list[str]]:
    """Corners as they are written in a job file."""
    return [[_typed(c, system) for c in point] for point in points]


def _typed(feet: float, system: str) -> str:
    """A length as it is written in a job file: feet and inches to 1/16 where it is one of them."""
    if system == "si":
        return f"{Q(feet, 'ft').m_as('meter'):.4f}".rstrip("0").rstrip(".") + " m"
    if abs(feet * 192 - round(feet * 192)) > 1e-4:
        return f"{feet:.6g} ft"
    text = show_length(Q(feet, "ft"), "us").replace('"', " in")
    return text.replace("'-", " ft ").removesuffix(" 0 in") if "'" in text else text if feet else "0 ft"


def job_text(raw: dict[str, Any]) -> str:
    """The job file: each section with what each field means beside it."""
    import tomlkit

    from calcbook.job.catalog import catalog

    meanings = {row.place: row.meaning for row in catalog()}
    document = tomlkit.document()
    document.add(
        tomlkit.comment("A slab job. What is left out takes a default, which the printout lists.")
    )
    document.add(
        tomlkit.comment(
            "Every further field: calcbook fields. Write values with their units, in quotes."
        )
    )
    for section, values in raw.items():
        table = tomlkit.table()
        for key, value in values.items():
            item = tomlkit.item(value)
            if key == "points":
                item = tomlkit.array()
                for point in value:
                    item.append(point)
                item.multiline(True)
            elif meanings.get(f"{section}.{key}"):
                item.comment(meanings[f"{section}.{key}"])
            table.add(key, item)
        document.add(tomlkit.nl())
        document.add(section, table)
    return tomlkit.dumps(document)
