"""Reading quantities as a builder writes them: numbers with units, feet and inches, fractions."""

from __future__ import annotations

import math
import re
from fractions import Fraction
from functools import cache
from typing import Any

import numpy as np
import pint

from calcbook.basis.units import TRADE_UNITS, Q, Quantity, UnitError, number_in, unit, ureg

_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_QUOTES = str.maketrans(
    {"’": "'", "′": "'", "‘": "'", "”": '"', "″": '"', "“": '"', "–": "-", "−": "-"}
)
_NUMBER = r"[+-]?(?:[0-9]{1,3}(?:,[0-9]{3})+(?:\.[0-9]+)?|[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
# whole inches end where a fraction's own number does not begin: 11/16 is not 1 and 1/16
_INCHES = r"(?:(?P<inches>[0-9]+(?:\.[0-9]+)?)(?![0-9./]))?(?:(?<=[0-9])[\s-]+)?(?:(?P<num>[0-9]+)\s*/\s*(?P<den>[0-9]+))?"
_FEET_INCHES = re.compile(
    rf"^(?P<sign>-)?\s*(?P<feet>[0-9]+(?:\.[0-9]+)?)\s*(?:'|ft\.?|feet|foot)\s*-?\s*{_INCHES}\s*"
    r"(?:\"|''|in\.?|inch(?:es)?)?$"
)
# a fraction alone behind the dash is no inches behind feet: 1-1/2 in. is one inch and a half
_BARE_FEET_INCHES = re.compile(
    rf"^(?P<sign>-)?(?P<feet>[0-9]+)-(?![0-9]+\s*/){_INCHES}\s*(?:\"|''|in\.?)?$"
)
_INCHES_ONLY = re.compile(rf"^(?P<sign>-)?\s*{_INCHES}\s*(?:\"|''|in\.?|inch(?:es)?)$")
_FRACTION = re.compile(
    r"^(?P<sign>[+-])?(?:(?P<whole>[0-9]+)[\s-]+)?(?P<num>[0-9]+)\s*/\s*(?P<den>[0-9]+)(?P<rest>[^0-9.].*)?$"
)
_MAX_TEXT = 60


def read_feet_inches(text: str) -> Quantity | None:
    """Read a length such as ``24'-6 1/2"``, ``24 ft 6.5 in``, ``24-6 1/2`` or ``6 1/2"``.

    Returns a length in inches, or None where the text is not written that way.
    Raises UnitError for a zero denominator or 12 and more inches behind feet.
    """
    text = _plain(text)
    for pattern in (_FEET_INCHES, _BARE_FEET_INCHES, _INCHES_ONLY):
        match = pattern.match(text)
        if match:
            return _from_parts(text, **match.groupdict())
    return None


def _plain(text: str) -> str:
    """Typographic quotes, dashes and fractions as they are typed on a keyboard."""
    text = text.translate(_QUOTES)
    for mark, fraction in _VULGAR.items():
        text = text.replace(mark, f" {fraction}")
    return text.strip()


def _from_parts(
    text: str,
    sign: str | None,
    inches: str | None,
    num: str | None,
    den: str | None,
    feet: str | None = None,
) -> Quantity | None:
    if feet is None and inches is None and num is None:
        return None
    if den is not None and int(den) == 0:
        raise UnitError(f"{text!r} has a fraction with 0 below the line")
    small = Fraction(inches or 0) + (Fraction(int(num), int(den)) if num and den else 0)
    if feet is not None and small >= 12:
        raise UnitError(f"{text!r} has 12 or more inches behind the feet")
    total = Fraction(feet or 0) * 12 + small
    return Q(float(-total if sign else total), "in")


_ALIASES = {
    "lbs": "lb", "pounds": "lb", "tons": "ton", "yds": "yd", "cy": "cubic_yard", "sf": "ft**2",
    "cf": "ft**3", "kips": "kip", "k": "kip", "hr": "hour", "hrs": "hour", "feet": "ft",
    "inches": "inch", "in.": "inch", "ft.": "ft", "bags": "bag", "rolls": "roll",
    "gal": "gallon", "tonne": "metric_ton", "kph": "kilometer/hour", "ton": "short_ton",
}  # fmt: skip
# names, joined by * / ( ) or put after one another, with powers as trade units have; else pint would
# work out any sum that stands there, which a tower of powers makes endless
_UNIT_WORDS = re.compile(
    r"(?:\s|[/()]|\*(?!\*)|\*\*\s*-?[1-4](?![\w.]|\s*\*\*)|(?<![\w.])1(?![\w.])|[A-Za-zµμ°%_][\w°]*+\.?)++",
    re.A,
)
_TEMPERATURES = {"F": "degF", "°F": "degF", "ºF": "degF", "C": "degC", "°C": "degC", "ºC": "degC"}


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


def _unit_expression(text: str) -> str:
    printed = _printed().get(text.strip())
    if printed:
        return printed
    text = text.strip().replace("$", " dollar ").replace("²", "2").replace("³", "3")
    text = text.replace("·", "*").replace("^", "**").replace("°", "deg")
    text = re.sub(r"\b(cu|cubic)\b\.?\s+(yd|yds|yard|yards)\b", "cubic_yard", text)
    text = re.sub(r"\b(cu|cubic)\b\.?\s+(ft|feet|foot|m|in)\b", r"\2**3", text)
    text = re.sub(r"\b(sq|square)\b\.?\s+(ft|feet|foot|m|in|yd)\b", r"\2**2", text)
    text = re.sub(r"([A-Za-z])([23])\b", r"\1**\2", text)
    return re.sub(r"[A-Za-z_]+\.?", lambda m: _ALIASES.get(m.group(), m.group().rstrip(".")), text)


def read(text: Any, name: str) -> Quantity:
    """Read a quantity such as ``"3500 psi"`` and check it against a trade unit.

    text: a string with a number and a unit, or a pint quantity; plain numbers only where the
    wanted unit has no dimension (a ratio, also written as ``"8 %"``).
    name: the trade unit wanted. Returns a quantity in the unit given. Raises UnitError.
    """
    if isinstance(text, ureg.Quantity):
        return _convertible(_of_kind(text, name, str(text)), name, str(text))
    if isinstance(text, bool) or not isinstance(text, (str, int, float)):
        raise UnitError(f"{text!r} is not a quantity; {_wanted(name)}")
    if not isinstance(text, str):
        return _plain_number(text, name)
    if len(text) > _MAX_TEXT:
        raise UnitError(f"a text of {len(text)} characters is too long for a quantity; {_wanted(name)}")
    if unit(name).dimensionality == unit("in").dimensionality:
        length = read_feet_inches(text)
        if length is not None:
            return length
    return _convertible(_of_kind(_parse(text, name), name, text.strip()), name, text.strip())


def _convertible(quantity: Quantity, name: str, text: str) -> Quantity:
    """The quantity, where it has a finite number in the wanted unit (parsec**4/nm**4 may have none)."""
    try:
        if np.all(np.isfinite(number_in(quantity, name))):
            return quantity
    except OverflowError:
        pass
    except pint.errors.PintError:  # a temperature and a difference of two are of one dimension
        raise UnitError(
            f"{text!r} mixes up a temperature and a difference of temperatures; {_wanted(name)}"
        ) from None
    raise UnitError(f"{text!r} is beyond any number that can be used; {_wanted(name)}")


def _wanted(name: str) -> str:
    examples = {
        "in": "'5 in' or '125 mm'", "ft": "'24 ft 6 in' or '7.5 m'", "psi": "'3500 psi' or '24 MPa'",
        "psf": "'1500 psf' or '72 kPa'", "lbf": "'6500 lbf' or '29 kN'", "$": "'$850'",
        "degF": "'50 F' or '10 C'", "1": "'8 %' or 0.08", "%": "'8 %'",
    }  # fmt: skip
    if name in examples:
        return f"write it like {examples[name]}"
    row = TRADE_UNITS[name]
    other = f" or '10 {row.si}'" if row.si != name else ""
    return f"write it with its unit, like '10 {name}'{other}"


def _plain_number(value: float, name: str) -> Quantity:
    if not math.isfinite(value):
        raise UnitError(f"{value} is not a finite number; {_wanted(name)}")
    if unit(name).dimensionless:
        return ureg.Quantity(float(value), "dimensionless")
    raise UnitError(f"{value:g} has no unit; {_wanted(name)}")


def _parse(text: str, name: str) -> Quantity:
    clean = _plain(text)
    money = clean.startswith("$") or clean.startswith("-$")
    if money:
        clean = clean.replace("$", "", 1).strip()
    number, rest = _number_and_rest(clean) or (math.nan, None)
    if rest is None:
        raise UnitError(f"{text!r} is not a number with a unit; {_wanted(name)}")
    if not math.isfinite(number):
        raise UnitError(f"{text!r} is not a finite number; {_wanted(name)}")
    written, rest = rest, f"$ {rest}" if money else rest
    if not rest:
        return _plain_number(number, name)
    if rest == "%":
        return ureg.Quantity(number / 100, "dimensionless")
    if TRADE_UNITS[name].pint_name in ("degF", "degC", "kelvin"):
        rest = _TEMPERATURES.get(rest, rest)
    try:
        words = _unit_expression(rest)
        if _UNIT_WORDS.fullmatch(words):
            return ureg.Quantity(number, ureg.parse_units(words))
    except Exception:  # pint raises many kinds; all of them mean the unit is not known
        pass
    raise UnitError(f"{text!r}: the unit {written!r} is not known; {_wanted(name)}")


def _number_and_rest(text: str) -> tuple[float, str] | None:
    """The number at the head of a text, also one with a fraction (``1 1/2 h``), and what follows."""
    parts = _FRACTION.match(text)
    if parts and int(parts["den"]):
        number = int(parts["whole"] or 0) + Fraction(int(parts["num"]), int(parts["den"]))
        return float(-number if parts["sign"] == "-" else number), (parts["rest"] or "").strip()
    match = re.match(rf"^({_NUMBER})\s*(.*)$", text)
    return (float(match[1].replace(",", "")), match[2].strip()) if match else None


def _of_kind(quantity: Quantity, name: str, text: str) -> Quantity:
    wanted = unit(name)
    if quantity.dimensionality == wanted.dimensionality:
        return quantity
    if quantity.dimensionality * ureg.meter.dimensionality / ureg.second.dimensionality**2 == (
        wanted.dimensionality
    ):
        raise UnitError(
            f"{text!r} is a mass where a force or weight is meant; "
            f"write it as a force, like '10 {name}' or '10 {TRADE_UNITS[name].si}'"
        )
    if quantity.dimensionality / ureg.meter.dimensionality * ureg.second.dimensionality**2 == (
        wanted.dimensionality
    ):
        raise UnitError(
            f"{text!r} is a force or weight where a mass is meant; "
            f"write it with lb, ton or kg, like '10 {name}'"
        )
    raise UnitError(f"{text!r} is {_kind(quantity)}, not {_kind(Q(1, name))}; {_wanted(name)}")


def _kind(quantity: Quantity) -> str:
    kinds = {
        "ft": "a length", "ft2": "an area", "ft3": "a volume", "lbf": "a force", "psi": "a pressure",
        "lb": "a mass", "h": "a time", "degF": "a temperature", "$": "an amount of money",
        "plf": "a force per length", "pcf": "a weight per volume", "1": "a plain number",
        "mph": "a speed", "lb/yd3": "a mass per volume",
    }  # fmt: skip
    for name, words in kinds.items():
        if quantity.dimensionality == unit(name).dimensionality:
            return words
    return "another kind of quantity"
