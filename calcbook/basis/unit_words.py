"""Numbers and units as builders write them, turned into the registry's own words."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache

from calcbook.basis.units import TRADE_UNITS

_QUOTES = str.maketrans(
    {
        "’": "'",
        "′": "'",
        "‘": "'",
        "”": '"',
        "″": '"',
        "“": '"',
        "–": "-",
        "−": "-",
        "\u00a0": " ",
        "\u202f": " ",
    }
)
_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
# 1,234.5 as thousands; 1.234,5 and 7,48 and 0,125 with a decimal comma; 1234.5
_NUMBER = re.compile(
    r"(?P<sign>[+-]?)(?:(?P<us>[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]+)?)(?![0-9,])"
    r"|(?P<comma>[0-9]{1,3}(?:\.[0-9]{3})+,[0-9]+|[0-9]+,[0-9]+)(?![0-9,.])"
    r"|(?P<plain>[0-9]+\.?[0-9]*|\.[0-9]+))(?P<power>[eE][+-]?[0-9]+)?\s*(?P<rest>.*)$"
)
_FRACTION = re.compile(
    r"^(?P<sign>[+-])?(?:(?P<whole>[0-9]+)[\s-]+)?(?P<num>[0-9]+)\s*/\s*(?P<den>[0-9]+)(?P<rest>[^0-9.].*)?$"
)

CURRENCIES = {
    "US$": "$", "C$": "CAD", "A$": "AUD", "$": "$", "€": "EUR", "£": "GBP", "¥": "JPY", "₹": "INR", "kr": "kr",
    **{code: code for code in ("EUR", "GBP", "CHF", "CAD", "AUD", "NZD", "JPY", "INR", "MXN", "SEK", "NOK", "DKK")},
    "USD": "$", "Fr.": "CHF", "dollars": "$", "dollar": "$", "euros": "EUR", "euro": "EUR",
}  # fmt: skip
_MARK = "|".join(re.escape(mark) for mark in sorted(CURRENCIES, key=len, reverse=True))
_MONEY = re.compile(
    rf"^(?P<sign>[+-]?)\s*(?:(?P<before>{_MARK})\s*(?P<of>[-+0-9.].*)|(?P<number>[0-9][0-9.,]*)\s*(?P<after>{_MARK})(?![A-Za-z])(?P<tail>.*))$"
)

ALIASES = {
    "lbs": "lb", "pounds": "lb", "tons": "ton", "yds": "yd", "yards": "yd", "cy": "cubic_yard", "sf": "ft**2",
    "sy": "yd**2", "cf": "ft**3", "kips": "kip", "k": "kip", "hr": "hour", "hrs": "hour", "hours": "hour", "feet": "ft",
    "inches": "inch", "in.": "inch", "ft.": "ft", "bags": "bag", "rolls": "roll", "days": "day", "each": "", "ea": "",
    "gal": "gallon", "tonne": "metric_ton", "tonnes": "metric_ton", "kph": "kilometer/hour", "ton": "short_ton",
    "lf": "ft", "mins": "min", "metre": "meter", "metres": "meter", "meters": "meter", "kts": "knot", "kt": "knot",
}  # fmt: skip
# written in capitals, these mean what lower case letters would not
_CAPITALS = {
    "MPA": "MPa",
    "KPA": "kPa",
    "GPA": "GPa",
    "KN": "kN",
    "Mpa": "MPa",
    "Kpa": "kPa",
    "Kn": "kN",
    "MN": "MN",
}
# names, joined by * / ( ) or put after one another, with powers as trade units have; else pint would
# work out any sum that stands there, which a tower of powers makes endless
UNIT_WORDS = re.compile(
    r"(?:\s|[/()]|\*(?!\*)|\*\*\s*-?[1-4](?![\w.]|\s*\*\*)|(?<![\w.])1(?![\w.])|[A-Za-zµμ°%_][\w°]*+\.?)++",
    re.A,
)
_POUND = re.compile(r"\b(?:lb|pound)\b")


def plain(text: str) -> str:
    """Typographic quotes, dashes and fractions as they are typed on a keyboard."""
    if text.isascii():  # as most are
        return text.strip()
    text = text.translate(_QUOTES)
    for mark, fraction in _VULGAR.items():
        text = text.replace(mark, f" {fraction}")
    return text.strip()


def number_and_rest(text: str) -> tuple[float, str] | None:
    """The number at the head of a text, also one with a fraction (``1 1/2 h``), and what follows."""
    parts = _FRACTION.match(text)
    if parts and int(parts["den"]):
        number = int(parts["whole"] or 0) + Fraction(int(parts["num"]), int(parts["den"]))
        return float(-number if parts["sign"] == "-" else number), (parts["rest"] or "").strip()
    match = _NUMBER.match(text)
    if not match:
        return None
    if match["comma"]:
        digits = match["comma"].replace(".", "").replace(",", ".")
    else:
        digits = (match["us"] or match["plain"]).replace(",", "")
    return float(f"{match['sign']}{digits}{match['power'] or ''}"), match["rest"].strip()


def currency(text: str) -> tuple[str, str] | None:
    """(text with the mark as a unit behind the number, code of the currency), or None without a mark."""
    match = _MONEY.match(text)
    if not match:
        return None
    if match["before"]:
        found = number_and_rest(f"{match['sign']}{match['of']}")
        if found is None:
            return None
        return f"{found[0]!r} $ {found[1]}".strip(), CURRENCIES[match["before"]]
    return f"{match['sign']}{match['number']} $ {match['tail']}".strip(), CURRENCIES[match["after"]]


@cache
def _printed() -> dict[str, str]:
    """pint's words for every unit by its name and by its label: what is printed can be typed."""
    us = {w: row.pint_name for row in TRADE_UNITS.values() for w in (row.name, row.label)}
    si = {w: row.si_pint for row in TRADE_UNITS.values() for w in (row.si, row.si_label)}
    return {
        word: name
        for word, name in {**si, **us, "'": "foot"}.items()
        if word not in ("", "1", "%", "$")
    }


def unit_expressions(text: str, wanted: str) -> list[str]:
    """What a unit may mean, in the registry's words, the likeliest first.

    wanted: the trade unit asked for. Letters in the wrong case, a pound where a force is asked (the
    pound-force) and a yard where concrete is asked (the cubic yard) come after what is written.
    """
    printed = _printed().get(text.strip())
    first = printed or _expression(text)
    lower = _expression(" ".join(_CAPITALS.get(w, w.lower()) for w in text.split()))
    found = [first, lower]
    if "yd3" in wanted:
        found += [re.sub(r"\b(?:yd|yard)\b(?!\*)", "cubic_yard", words) for words in found]
    found += [_POUND.sub("lbf", words) for words in found if _POUND.search(words)]
    return list(dict.fromkeys(found))


def _expression(text: str) -> str:
    text = (
        text.strip().replace("#", " lb ").replace("$", " dollar ").replace("²", "2").replace("³", "3")
    )
    text = text.replace("·", "*").replace("^", "**").replace("°", "deg")
    text = re.sub(r"\s(?:per|an?)\s+", " / ", f" {text} ").strip()
    text = re.sub(r"\b(cu|cubic)\b\.?\s*(yd|yds|yard|yards)\b\.?", "cubic_yard", text)
    text = re.sub(r"\b(cu|cubic)\b\.?\s+(ft|feet|foot|m|meter|in|inch)\b\.?", r"\2**3", text)
    text = re.sub(r"\b(sq|square)\b\.?\s+(ft|feet|foot|m|meter|in|inch|yd|yard)\b\.?", r"\2**2", text)
    text = re.sub(r"([A-Za-z])([23])\b", r"\1**\2", text)
    return re.sub(r"[A-Za-z_]+\.?", _alias, text).strip()


def _alias(match: re.Match[str]) -> str:
    word = match.group()
    return ALIASES.get(word, ALIASES.get(word.rstrip("."), word.rstrip(".")))
