"""A metric job has round metric figures where it leaves a field out: 7 m3 to a truck, 100 mm of slab."""

from __future__ import annotations

from typing import Any

from calcbook.basis.units import unit
from calcbook.job.fields import Section, meta_of


def with_defaults_of(file: Any, system: str) -> Any:
    """A checked job file whose fields that are left out have the defaults of its system of units.

    file: a JobFile, which is changed; its sections are not, as other jobs may hold them too.
    """
    for name in type(file).model_fields:
        value = getattr(file, name)
        if isinstance(value, list):
            value = [_section(one, system) if isinstance(one, Section) else one for one in value]
        elif isinstance(value, Section):
            value = _section(value, system)
        file.__dict__[name] = value
    return file


def _section(section: Section, system: str) -> Section:
    found = {}
    for key, info in type(section).model_fields.items():
        metric = meta_of(info).get("si")
        if metric is not None and key not in section.model_fields_set:
            wanted = metric if system == "si" else info.default
            if getattr(section, key) is not wanted:
                found[key] = wanted
    if not found:
        return section
    made = section.model_copy()
    made.__dict__.update(found)
    return made


def left_out(file: Any, system: str) -> dict[str, str]:
    """The default of a system of units, by place, of each field left out that is another in the other system.

    file: a JobFile. With these written out, a job keeps its figures whatever its units are.
    """
    found = {}
    for name in type(file).model_fields:
        value = getattr(file, name)
        sections = (
            [(f"{name}.{i}", one) for i, one in enumerate(value)]
            if isinstance(value, list)
            else [(name, value)]
        )
        for place, section in sections:
            for key, info in type(section).model_fields.items() if isinstance(section, Section) else ():
                meta = meta_of(info)
                if meta.get("si") is not None and key not in section.model_fields_set:
                    default = meta["si"] if system == "si" else info.default
                    found[f"{place}.{key}"] = f"{default.m_as(unit(meta['unit']))!r} {meta['unit']}"
    return found
