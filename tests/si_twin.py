"""Writes notebooks/demo-si.toml, the metric twin of the demo job: ``python tests/si_twin.py``.

Every quantity is the demo's, converted and written with six digits; a test keeps the twin true.
"""

from pathlib import Path

import tomlkit

from calcbook.basis.reading import read
from calcbook.basis.showing import magnitude
from calcbook.basis.units import TRADE_UNITS
from calcbook.job.fields import Section
from calcbook.job.schema.sections import JobFile

NOTEBOOKS = Path(__file__).parent.parent / "notebooks"
_TEMPERATURES = {"degC": "C"}


def twin(text):
    """The text of a job file with every quantity in metric units, remarks kept."""
    document = tomlkit.parse(text)
    _convert(document, JobFile)
    document["job"]["units"] = "si"
    return tomlkit.dumps(document).replace(
        "# Demo job.", "# Demo job in metric units, the twin of demo.toml.", 1
    )


def _convert(table, model):
    for key, value in table.items():
        info = model.model_fields[key]
        meta = info.json_schema_extra or {}
        if isinstance(value, dict | list) and _section(info):
            for one in value if isinstance(value, list) else [value]:
                _convert(one, _section(info))
        elif key == "points":
            for pair in value:
                for i in (0, 1):
                    pair[i] = _metric(str(pair[i]), "ft")
        elif "unit" in meta and meta["unit"] not in ("1", "%") and isinstance(value, str):
            table[key] = _metric(str(value), meta["unit"])


def _section(info):
    inner = getattr(info.annotation, "__args__", (info.annotation,))[0]
    return inner if isinstance(inner, type) and issubclass(inner, Section) else None


def _metric(text, unit):
    row = TRADE_UNITS[unit]
    if row.si == unit and "$" not in unit:
        return text
    number = f"{magnitude(read(text, unit), unit, 'si'):.8g}"
    label = _TEMPERATURES.get(row.si, row.si)
    return f"${number}{label[1:].replace('/', ' / ')}" if label.startswith("$") else f"{number} {label}"


if __name__ == "__main__":
    text = twin((NOTEBOOKS / "demo.toml").read_text(encoding="utf-8"))
    (NOTEBOOKS / "demo-si.toml").write_text(text, encoding="utf-8")
