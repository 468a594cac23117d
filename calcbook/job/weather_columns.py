"""Which column of a weather file is what: found by its heading, its unit and what stands in it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from calcbook.job.forecast import ForecastError

_HEADS = {
    "time": r"time|hour|valid|stamp",
    "date": r"date|day",
    "air": r"air|temp|tmp|^\W*t\W*$|\bt2m\b",
    "humidity": r"hum|\brh\b|relh",
    "dew": r"dew|\bdwp[fc]?\b",
    "wind": r"wind|wspd|sknt|\bws\b",
    "sky": r"cloud|sky|^\W*(weather|conditions?)\W*$",
    "sun": r"sun|solar|irradiance|radiation|\bghi\b",
}
_BETTER = {
    "wind": r"speed|spd|sknt|sustained",
    "air": r"air|temp",
    "sky": r"cover|total|cloud",
    "time": r"time|valid",
}
# headings that hold one of those words and mean something else
_DEW = re.compile(_HEADS["dew"])
_OTHERS = (
    r"gust|dir|chill|feels|apparent|heat|wet.?bulb|soil|surface|pressure|sunrise|sunset|sunshine|drct|"
    r"precip|rain|snow|probab|chance|zone|diffuse|direct|ceiling|base|height|level|"
    r"(?:^|[\W_])(?:max|min|low|mid|high|normal|average)(?:[\W_]|$)"
)
NOTHING = ("", "-", "--", "m", "na", "n/a", "nan", "null", "none", "missing", "///")
_UNIT_BEHIND = re.compile(
    r"(?:[\s,_]|^)(°?\s?[FC]|deg[FC]|mph|km/?h|kph|m/s|kts?|knots|%|percent|W/m\^?[2²]|oktas|tenths)$",
    re.I,
)
_UNITS = {
    "percent": "%",
    "kmh": "km/h",
    "tmpf": "F",
    "tmpc": "C",
    "dwpf": "F",
    "dwpc": "C",
    "relh": "%",
    "sknt": "knot",
    "pct": "%",
}


@dataclass(frozen=True)
class Column:
    """A column that is used: number, heading, unit as it is written ("" for none)."""

    number: int
    heading: str
    unit: str


def columns_of(
    headings: Sequence[str], below: Sequence[Sequence[str]], name: str, by_dew: bool = False
) -> dict[str, Column]:
    """The column of each thing a row holds: the heading that says it best, and the first of those.

    by_dew: whether a dew point may stand for the humidity where there is no column of it.
    """
    found: dict[str, Column] = {}
    for key, pattern in _HEADS.items():
        fits = [
            (bool(re.search(_BETTER.get(key, pattern), words)), -number, unit_text)
            for number, heading in enumerate(headings)
            for words, unit_text in (split_heading(heading),)
            if number not in {c.number for c in found.values()}
            and re.search(pattern, words)
            and not re.search(_OTHERS, words)
            and (key == "dew" or not _DEW.search(words))
            and _holds(key, number, below)
        ]
        if fits:
            _, number, unit_text = max(fits, key=lambda fit: fit[:2])
            found[key] = Column(-number, headings[-number].strip(), unit_text)
    if "date" in found:
        found.setdefault("time", found["date"])
    if "humidity" in found or not by_dew:
        found.pop("dew", None)
    missing = [key for key in ("time", "air", "humidity", "wind") if key not in found]
    if "dew" in found:
        missing.remove("humidity")
    if missing or not {"sky", "sun"} & set(found):
        missing = missing or ["sky or sun"]
        raise ForecastError(
            f"{name}: no column for {', '.join(missing)} among the headings "
            f"{', '.join(h[:20] for h in headings[:8])}"
        )
    return found


def split_heading(heading: str) -> tuple[str, str]:
    """(words in lower case, unit) of a heading of a column: ``Temp. (°F)``, ``T [degC]``, ``Wind Speed mph``."""
    words, brackets, unit_text = re.findall(r"([^(\[]*)([(\[]([^)\]]*)[)\]])?", heading.strip())[0]
    behind = None if brackets else _UNIT_BEHIND.search(words.strip())
    if behind:
        words, unit_text = words.strip()[: behind.start()], behind[1]
    unit_text = unit_text.strip().replace("° ", "°")
    word = words.strip().lower()
    return word, _UNITS.get(unit_text.lower(), unit_text) or _UNITS.get(word, "")


def _holds(key: str, number: int, below: Sequence[Sequence[str]]) -> bool:
    """Whether the cells of a column can be what it is taken for: a wind has a number, N and NW is none."""
    cells = [line[number].strip() for line in below if number < len(line)]
    cells = [cell for cell in cells if cell.lower() not in NOTHING]
    if key in ("time", "date", "sky") or not cells:
        return True
    return any(any(c.isdigit() for c in cell) or cell.lower() == "calm" for cell in cells)
