"""Every field of the job file in one list: what it means, its unit, default and reason, an example."""

from __future__ import annotations

import functools
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from calcbook.basis.showing import unit_text
from calcbook.job.fields import Section, show_field
from calcbook.job.schema.sections import JobFile


@dataclass(frozen=True)
class FieldRow:
    """One field: ``section`` as a place ("walls.openings"), ``heading`` as it stands in a file."""

    section: str
    heading: str
    key: str
    meaning: str
    unit: str
    allowed: str
    default: str
    why: str
    example: str

    @property
    def place(self) -> str:
        """Section and key, as ``slab.thickness``."""
        return f"{self.section}.{self.key}"


# words of the trade -> words of the fields they mean
_ALSO = {
    "height": "thickness above_grade", "depth": "thickness", "rebar": "bar reinforcement", "rod": "bar rod", "poly": "retarder",
    "barrier": "retarder", "plastic": "retarder", "membrane": "retarder", "wwf": "wire mesh", "wwm": "wire mesh",
    "gravel": "stone base", "rock": "stone base", "labor": "wage", "labour": "wage", "pay": "wage", "hourly": "wage",
    "footing": "edge pads", "foundation": "edge", "anchor": "bolts", "profit": "margin", "markup": "margin overhead",
    "vat": "tax", "gst": "tax", "lat": "latitude", "lon": "longitude", "lng": "longitude", "timezone": "clock_offset",
    "snow": "roof", "weather": "forecast", "temp": "temperature", "city": "address", "town": "address",
    "location": "address", "site": "address", "customer": "client", "owner": "client", "phone": "contact",
    "telephone": "contact", "metric": "units", "truckload": "truck_capacity", "yards": "concrete", "psi": "strength",
    "mpa": "strength", "ready": "concrete", "mix": "concrete", "men": "size crew", "people": "size crew", "workers": "size crew",
    "tarp": "blanket", "chute": "pump", "dirt": "soil", "ground": "soil", "frostline": "frost_depth", "sawcut": "joints",
    "control": "joints", "dowel": "bolts", "formwork": "forms", "shuttering": "forms", "shipping": "haul", "thick": "thickness",
}  # fmt: skip
_EXAMPLES = {
    "name": "north wall", "address": "12 Mill Road", "client": "A. Client", "preparer": "B. Builder", "note": "second pour in May",
    "contact": "B. Builder, 555-0100", "date": "2026-06-01", "time": "2026-06-01 07:00", "start": "07:30",
}  # fmt: skip
_OF_PLACE = {
    "job.own": "yes", "pads.length": "30 in", "pads.width": "30 in", "pads.depth": "9 in", "soil.moisture": "12 %", "soil.frost_depth": "36 in",
    "concrete.air": "6 %", "prices.rental.days": "2", "prices.tax": "6 %", "openings.diameter": "12 in", "openings.x": "4 ft",
    "openings.y": "20 ft", "openings.length": "3 ft", "openings.width": "3 ft", "slab.width": "30 ft", "pads.x": "12 ft",
    "pads.y": "15 ft", "joints.spacing": "10 ft", "walls.strip_width": "16 in", "walls.strip_depth": "8 in", "pour.longitude": "-88 deg",
    "walls.openings.start": "10 ft", "walls.openings.width": "3 ft 2 in", "pour.shaded": "30 %", "concrete.fly_ash": "20 %",
    "prices.pump": "$850", "prices.short_load_fee": "$140", "prices.spoil": "$14 / yd3", "prices.retarder": "$215 / roll",
    "pads.slope": "0.5", "bolts.bond_uncracked": "2000 psi", "walls.bar_spacing": "48 in", "reinforcement.residual": "150 psi",
    "slope.fall": "1/8 in/ft", "slope.drain": "floor drain", "slope.radius": "6 ft", "slope.direction": "-90 deg", "edges.depth": "24 in",
    "edges.width": "16 in", "edges.frost_depth": "30 in", "ledges.name": "door sill", "ledges.end": "12 ft", "ledges.drop": "1.5 in",
    "ledges.width": "6 in", "prices.excavator": "$110 / h", "joints.lines.x": "12 ft", "joints.lines.y": "10 ft", "joints.lines.to": "13 ft",
    "pads.along": "8 ft", "pads.off": "6 ft", "posts.along": "8 ft", "posts.off": "6 ft", "openings.along": "8 ft", "openings.off": "6 ft",
    "corners.corner": "B", "corners.radius": "4 ft", "corners.cut": "3 ft",
    "curbs.name": "curb", "curbs.end": "12 ft", "curbs.height": "6 in", "curbs.width": "6 in",
    "slabs.length": "16 ft", "slabs.width": "4 ft", "slabs.x": "4 ft", "slabs.y": "-4 ft", "slab.x": "2 ft", "slab.y": "2 ft",
    "slabs.name": "apron", "slab.name": "garage", "between.slab": "garage", "between.beside": "apron",
    "walls.y1": "10 ft", "walls.y2": "10 ft", "walls.x1": "0 ft", "prices.bolt": "$4.20", "prices.rod": "$5.60", "prices.epoxy": "$38", "prices.hold_down": "$26", "prices.hold_down_anchor": "$11",
    "walls.trusses.name": "roof trusses", "walls.trusses.spacing": "24 in", "walls.trusses.dead": "400 lbf", "walls.trusses.roof": "900 lbf",
    "walls.trusses.uplift": "500 lbf", "walls.points.name": "ridge post", "walls.points.at": "12 ft", "walls.points.dead": "600 lbf",
    "walls.points.roof": "900 lbf", "walls.points.uplift": "500 lbf", "walls.braced.start": "0 ft", "walls.braced.length": "4 ft",
    "walls.braced.hold_down": "3500 lbf", "walls.height": "9 ft", "walls.roof": "450 plf", "walls.live": "300 plf",
    "prices.bar": "$0.85 / ft", "prices.bar_3": "$0.55 / ft", "prices.bar_4": "$0.85 / ft", "prices.bar_5": "$1.30 / ft",
    "prices.bar_6": "$1.85 / ft", "prices.isolation": "$0.90 / ft", "prices.dowel": "$3.50", "prices.key_strip": "$1.40 / ft", "pour.forecast.humidity": "70 %", "prices.rental.name": "power trowel",
}  # fmt: skip
_USUAL = {
    "in": ("2", "6", "12", "30"), "ft": ("24", "10"), "psf": ("2000",), "psi": ("1000", "3000"), "plf": ("400",), "lbf": ("4000",),
    "pci": ("150",), "degF": ("50", "150"), "deg": ("44",), "h": ("-5", "12"), "$": ("20",), "$/yd3": ("170", "14"), "$/ton": ("30",),
    "$/ft": ("2",), "$/ft2": ("0.25",), "$/h": ("45",), "$/day": ("95",), "$/roll": ("32",), "$/bag": ("25",), "1": ("0.5", "2"),
    "%": ("30",), "W/m2": ("300",), "lb/yd3": ("560",), "mph": ("8",), "day": ("3",), "min": ("45",), "yd3": ("9",),
}  # fmt: skip


@functools.cache
def catalog() -> tuple[FieldRow, ...]:
    """Every field of every section, in the order of the job file."""
    return tuple(_rows(JobFile))


def _rows(model: type[Section], place: str = "") -> Iterator[FieldRow]:
    # what is nested stands below the section's own fields, so each section has one heading
    fields = sorted(model.model_fields.items(), key=lambda field: section_of(field[1])[0] is not None)
    for key, info in fields:
        inner, _ = section_of(info)
        if inner and place == "slabs":
            continue  # as the section of the same name
        if inner:
            yield from _rows(inner, f"{place}.{key}".removeprefix("."))
        elif place:
            yield _row(place, key, info)


def section_of(info: Any) -> tuple[type[Section] | None, bool]:
    """(section, whether it may stand several times) that a field of a section holds; (None, False) else."""
    inner = getattr(info.annotation, "__args__", (info.annotation,))[0]
    if isinstance(inner, type) and issubclass(inner, Section):
        return inner, getattr(info.annotation, "__origin__", None) is list
    return None, False


def heading(section: str) -> str:
    """How a section such as ``walls.openings`` begins in a job file: ``[[walls.openings]]``."""
    model: type[Section] = JobFile
    many = False
    for part in section.split("."):
        found, many = section_of(model.model_fields[part])
        assert found is not None
        model = found
    return f"[[{section}]]" if many else f"[{section}]"


def _row(section: str, key: str, info: Any) -> FieldRow:
    meta: dict[str, Any] = info.json_schema_extra or {}
    required = info.is_required()
    value = None if required else info.get_default()
    default = "needed" if required else "" if value in (None, "") else show_field(value, meta, "us")
    if meta.get("si") is not None:
        default += f" (metric: {show_field(meta['si'], meta, 'si')})"
    return FieldRow(
        section, heading(section), key, info.description or "", _unit(meta), _allowed(meta), default,
        meta.get("why", ""), f"{key} = {_example(f'{section}.{key}', value, meta)}",
    )  # fmt: skip


def _unit(meta: dict[str, Any]) -> str:
    if "unit" in meta:
        return unit_text(meta["unit"]) or "number"
    return (
        "word" if "choices" in meta else "whole number" if "whole" in meta else meta.get("form", "text")
    )


def _allowed(meta: dict[str, Any]) -> str:
    if "choices" in meta:
        return ", ".join(meta["choices"])
    if "whole" in meta:
        low, high = meta["whole"]
        return f"{low} to {high:,}"
    return meta["spec"].allowed() if "spec" in meta else ""


def _example(place: str, value: Any, meta: dict[str, Any]) -> str:
    """A value as it is written in a job file: the default, or an ordinary one."""
    if place in _OF_PLACE:
        return _quoted(_OF_PLACE[place])
    if "form" in meta:
        return meta["example"]
    if "choices" in meta:
        return f'"{value or meta["choices"][-1]}"'
    if "whole" in meta:
        return str(value if value is not None else meta["whole"][0])
    if "unit" not in meta:
        return f'"{value or _EXAMPLES.get(place.rpartition(".")[2], "as it is called")}"'
    if value is None or (value.magnitude == 0 and meta["unit"] == "1"):
        value = _usual(meta)
    return _quoted(value if isinstance(value, str) else show_field(value, meta, "us"))


def _quoted(text: str) -> str:
    """A value as TOML: a plain number bare, all else in quotes."""
    return text if re.fullmatch(r"[\d.]+", text) else f'"{_typed(text)}"'


def _usual(meta: dict[str, Any]) -> str:
    """An ordinary value inside the limits, as text."""
    spec, name = meta["spec"], meta["unit"]
    for number in (*_USUAL.get(name, ()), "1", "0.1", str(spec.low), str(spec.high)):
        if number != "None" and not spec.breaks(float(number)):
            if name.startswith("$"):
                return f"${number} / {name[2:]}" if name != "$" else f"${number}"
            percent = name == "1" and not meta["ratio"] and float(number) < 1
            return (
                f"{100 * float(number):g} %"
                if percent
                else number
                if name == "1"
                else f"{number} {name}"
            )
    raise ValueError(f"no example for {spec.meaning}")


def _typed(text: str) -> str:
    """A shown quantity in letters that every keyboard has."""
    return (
        text.replace("in.", "in")
        .replace("³", "3")
        .replace("²", "2")
        .replace("°", " ")
        .replace("  ", " ")
        .replace(",", "")
    )


# --- looking one up --------------------------------------------------------------------------------


def search(words: str) -> list[FieldRow]:
    """The fields that all the words speak of, by name, meaning or a word of the trade for them."""
    wanted = _tokens(words)
    scored = [(score, row) for row in catalog() if wanted and (score := _score(wanted, row))]
    return [row for _, row in sorted(scored, key=lambda pair: -pair[0])]


def _tokens(words: str) -> list[str]:
    return [
        w
        for w in re.split(r"[^a-z0-9]+", words.lower())
        if w not in ("", "of", "the", "a", "for", "in")
    ]


def _score(wanted: list[str], row: FieldRow) -> float:
    """How well a field fits: 0 where a word has no place in it."""
    places = (
        (9 if len(_tokens(row.key)) == 1 else 8, _tokens(row.key)),
        (4, _tokens(row.section)),
        (2, _tokens(row.meaning)),
        (1, _tokens(row.allowed)),
    )
    total = 0.0
    for word in wanted:
        meant = [
            (2, word),
            *((1, other) for also in _ALSO.get(word, "").split() for other in _tokens(also)),
        ]
        found = sorted((near * _found(one, places) for near, one in meant), reverse=True)
        # of two that fit as well, the one that the other meanings speak of too
        best = found[0] + sum(found[1:]) / 10
        if not best:
            return 0.0
        total += best
    return total


def _found(word: str, places: tuple[tuple[int, list[str]], ...]) -> int:
    return max((weight for weight, tokens in places if any(_same(word, t) for t in tokens)), default=0)


def _same(word: str, other: str) -> bool:
    """The same word, also in the plural or as a beginning of four letters and more."""
    if word == other or word.rstrip("s") == other.rstrip("s"):
        return True
    return len(word) >= 4 and other.startswith(word)
