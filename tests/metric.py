"""For tests that lay a metric job beside its US twin: the same figures where both leave a field out."""

from calcbook.basis.units import unit
from calcbook.job.fields import Section
from calcbook.job.schema.sections import JobFile

# checks against a code's least length in whole inches, which is 25 mm to the inch in a metric job
LEAST_LENGTHS = (
    "Depth of the edge below the ground", "Width of the edge", "Thickness of the edge", "below the ground outside",
)  # fmt: skip


def us_defaults(job):
    """The US default of every field that a metric job leaves out and has a figure of its own for."""
    found = {}
    for name in JobFile.model_fields:
        section = getattr(job.file, name)
        for key, info in type(section).model_fields.items() if isinstance(section, Section) else ():
            meta = info.json_schema_extra or {}
            if meta.get("si") is not None and key not in section.model_fields_set:
                found[f"{name}.{key}"] = f"{info.default.m_as(unit(meta['unit']))!r} {meta['unit']}"
    return found
