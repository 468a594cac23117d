"""Words in weather files: names of clocks, of the sky, and of the wind."""

from __future__ import annotations

import re

from calcbook.basis.table import table

# abbreviations of clocks -> hours ahead of UTC
_CLOCKS = {
    "utc": 0, "gmt": 0, "zulu": 0, "z": 0, "est": -5, "edt": -4, "cst": -6, "cdt": -5, "mst": -7, "mdt": -6,
    "pst": -8, "pdt": -7, "akst": -9, "akdt": -8, "hst": -10, "ast": -4, "adt": -3, "cet": 1, "cest": 2,
}  # fmt: skip
_OFFSET = re.compile(r"(?:utc|gmt)?\s*([+−-])\s*(\d{1,2})(?::?(\d{2}))?$")
_NUMBER = r"\d+(?:[.,]\d+)?"


def clock_offset(words: str) -> float | None:
    """Hours ahead of UTC that words name, as ``UTC``, ``CDT`` or ``UTC-5``; None where they name none."""
    found = [_CLOCKS[w] for w in re.findall(r"[a-z]+", words.lower()) if w in _CLOCKS]
    shifted = _OFFSET.search(words.lower().strip(" )]"))
    if shifted and re.search(r"utc|gmt", words.lower()):
        hours = int(shifted[2]) + int(shifted[3] or 0) / 60
        return hours if shifted[1] == "+" else -hours
    return float(found[0]) if found else None


def says_local(words: str) -> bool:
    """Whether words say that a clock is that of the place."""
    return "local" in words.lower()


def sky_share(words: str) -> float | None:
    """Cloud cover from 0 to 1 that words for the sky mean, the longest that fits; None where none does."""
    text = re.sub(r"[^a-z]+", " ", words.lower())
    first = text.split(" then ")[0]  # "Partly Sunny then Chance Rain": how the hour begins
    rows = [r for r in table("sky_words") if re.search(rf"\b{r['words']}(?:s|y|ing|storms?)?\b", first)]
    return rows[0]["eighths"] / 8 if rows else None


def wind_text(words: str) -> str:
    """A wind such as ``NW 10 to 15 mph``, ``11`` or ``Calm`` as a number with its unit, the greater of two."""
    if words.strip().lower() in ("calm", "light and variable"):
        return "0 mph"
    found = re.findall(_NUMBER, words)
    if not found:
        return words
    behind = words[words.rindex(found[-1]) + len(found[-1]) :].strip()
    greatest = max(found, key=lambda number: float(number.replace(",", ".")))
    return f"{greatest} {behind}".strip()
