"""Reading quantities as a builder writes them: numbers with units, feet and inches, fractions.

What is taken for something else than it says (``lb`` where a force is asked) is told by ``read_told``.
"""

from __future__ import annotations

import functools
import math
import re
from fractions import Fraction
from typing import Any

import numpy as np
import pint

from calcbook.basis.showing import show
from calcbook.basis.unit_words import UNIT_WORDS, currency, number_and_rest, plain, unit_expressions
from calcbook.basis.units import TRADE_UNITS, Q, Quantity, UnitError, number_in, unit, ureg

# whole inches end where a fraction's own number does not begin: 11/16 is not 1 and 1/16
_INCHES = r"(?:(?P<inches>[0-9]+(?:\.[0-9]+)?)(?![0-9./,]))?(?:(?<=[0-9])[\s-]+)?(?:(?P<num>[0-9]+)\s*/\s*(?P<den>[0-9]+))?"
_FEET_INCHES = re.compile(
    rf"^(?P<sign>-)?\s*(?P<feet>[0-9]+(?:\.[0-9]+)?)\s*(?:'|ft\.?|feet|foot)\s*-?\s*{_INCHES}\s*"
    r"(?:\"|''|in\.?|inch(?:es)?)?$",
    re.IGNORECASE,
)
# a fraction alone behind the dash is no inches behind feet: 1-1/2 in. is one inch and a half
_BARE_FEET_INCHES = re.compile(
    rf"^(?P<sign>-)?(?P<feet>[0-9]+)-(?![0-9]+\s*/){_INCHES}\s*(?:\"|''|in\.?)?$", re.IGNORECASE
)
_INCHES_ONLY = re.compile(rf"^(?P<sign>-)?\s*{_INCHES}\s*(?:\"|''|in\.?|inch(?:es)?)$", re.IGNORECASE)
# the commonest by far: "18.5 yd3" and "$1234"
_AS_ASKED = re.compile(r"(?P<number>[0-9]{1,9}(?:\.[0-9]{1,9})?) (?P<name>[A-Za-z]\w{0,9})", re.A)
_DOLLARS = re.compile(r"(?P<name>\$)(?P<number>[0-9]{1,9}(?:\.[0-9]{1,9})?)", re.A)
_MAX_TEXT = 60
_STRENGTH_CLASS = re.compile(
    r"^C\s*(?P<cylinder>[0-9]{2,3})\s*/\s*(?P<cube>[0-9]{2,3})$", re.IGNORECASE
)
_COMPASS = re.compile(r"^(?P<number>[0-9.]+)\s*(?:°|deg(?:rees)?)?\s*(?P<side>[NSEW])$", re.IGNORECASE)
_LUMP = re.compile(r"\s*(?:/|per|a|for a)\s*(?:sheet|bolt|rod|cartridge|piece|load|pump|tube)$")
_TEMPERATURES = {"f": "degF", "°f": "degF", "ºf": "degF", "c": "degC", "°c": "degC", "ºc": "degC"}
_SCALES = ("degF", "degC", "kelvin")  # where a bare 0 says nothing


def read_feet_inches(text: str) -> Quantity | None:
    """Read a length such as ``24'-6 1/2"``, ``24 ft 6.5 in``, ``24-6 1/2`` or ``6 1/2"``.

    Returns a length in inches, or None where the text is not written that way.
    Raises UnitError for a zero denominator or 12 and more inches behind feet.
    """
    text = plain(text)
    for pattern in (_FEET_INCHES, _BARE_FEET_INCHES, _INCHES_ONLY):
        match = pattern.match(text)
        if match:
            return _from_parts(text, **match.groupdict())
    return None


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
    if feet is None and num is None:
        assert inches is not None
        return Q(-float(inches) if sign else float(inches), "in")
    if den is not None and int(den) == 0:
        raise UnitError(f"{text!r} has a fraction with 0 below the line")
    small = Fraction(inches or 0) + (Fraction(int(num), int(den)) if num and den else 0)
    if feet is not None and small >= 12:
        raise UnitError(f"{text!r} has 12 or more inches behind the feet")
    total = Fraction(feet or 0) * 12 + small
    return Q(float(-total if sign else total), "in")


def read(text: Any, name: str) -> Quantity:
    """Read a quantity such as ``"3500 psi"`` and check it against a trade unit.

    text: a string with a number and a unit, or a pint quantity; plain numbers only where the
    wanted unit has no dimension (a ratio, also written as ``"8 %"``), and a bare 0.
    name: the trade unit wanted. Returns a quantity in the unit given. Raises UnitError.
    """
    return read_told(text, name)[0]


def read_told(text: Any, name: str) -> tuple[Quantity, str]:
    """As ``read``, with words for what was taken for something else than it says ("" where nothing was).

    >>> read_told("6500 lb", "lbf")[1]
    "'6500 lb' is taken as 6,500 lbf, a force"
    """
    plainly = _plainly(text, name) if isinstance(text, str) else None
    if plainly is not None:
        return plainly, ""
    if isinstance(text, ureg.Quantity):
        return _convertible(_of_kind(text, name, str(text)), name, str(text)), ""
    if isinstance(text, bool) or not isinstance(text, (str, int, float)):
        raise UnitError(f"{_cut(repr(text))} is not a quantity; {wanted(name)}")
    if not isinstance(text, str):
        return _plain_number(text, name), ""
    if len(text) > _MAX_TEXT:
        raise UnitError(f"a text of {len(text)} characters is too long for a quantity; {wanted(name)}")
    if any((c < " " and c not in "\t\r\n") or c > "\uffff" for c in text):
        raise UnitError(f"the text holds characters that no quantity is written with; {wanted(name)}")
    if unit(name).dimensionality == unit("in").dimensionality:
        length = read_feet_inches(text)
        if length is not None:
            return length, ""
    found, words = _special(plain(text), name) or _parse(text, name)
    found = _convertible(found, name, text.strip())
    return found, f"{text.strip()!r} is taken as {words}" if words else ""


def _plainly(text: str, name: str) -> Quantity | None:
    """The quantity in a text of a number and the very unit that is asked; None where it is written otherwise."""
    match = (_DOLLARS if name == "$" else _AS_ASKED).fullmatch(text)
    if not match or match["name"] != name or name not in _plainly_read():
        return None
    return Q(float(match["number"]), name)


@functools.cache
def _plainly_read() -> frozenset[str]:
    """Trade units whose own name, beside a number, can mean nothing else: no temperature, of lengths only inches."""
    others = {unit("in").dimensionality, unit("degF").dimensionality}
    return frozenset(["in", "$"]).union(
        name for name in TRADE_UNITS
        if name.isidentifier() and unit(name).dimensionality not in others and not unit(name).dimensionless
    )  # fmt: skip


def _convertible(quantity: Quantity, name: str, text: str) -> Quantity:
    """The quantity, where it has a finite number in the wanted unit (parsec**4/nm**4 may have none)."""
    try:
        number = number_in(quantity, name)
        if math.isfinite(number) if isinstance(number, float) else np.all(np.isfinite(number)):
            return quantity
    except OverflowError:
        pass
    except pint.errors.PintError:  # a temperature and a difference of two are of one dimension
        raise UnitError(
            f"{text!r} mixes up a temperature and a difference of temperatures; {wanted(name)}"
        ) from None
    raise UnitError(f"{text!r} is beyond any number that can be used; {wanted(name)}")


def wanted(name: str) -> str:
    """How a value in a trade unit is written, for a message."""
    examples = {
        "in": "'5 in' or '125 mm'", "ft": "'24 ft 6 in' or '7.5 m'", "psi": "'3500 psi' or '24 MPa'",
        "psf": "'1500 psf' or '72 kPa'", "lbf": "'6500 lbf' or '29 kN'", "$": "'$850'", "$/yd3": "'$170 / yd3'",
        "degF": "'50 F' or '10 C'", "1": "'8 %' or 0.08", "%": "'8 %'", "yd3": "'9 yd3' or '7 m3'", 
    }  # fmt: skip
    if name in examples:
        return f"write it like {examples[name]}"
    row = TRADE_UNITS[name]
    if name == "deg":
        return "write it in degrees, like '44.1 deg'"
    if name.startswith("$"):
        return f"write it like '$10 / {name[2:]}'"
    other = f" or '10 {row.si}'" if row.si != name else ""
    return f"write it with its unit, like '10 {name}'{other}"


def _plain_number(value: float, name: str) -> Quantity:
    if not math.isfinite(value):
        raise UnitError(f"{value} is not a finite number; {wanted(name)}")
    pint_name = TRADE_UNITS[name].pint_name
    if pint_name == "degree" or (value == 0 and pint_name not in _SCALES):
        return Q(float(value), name)  # pint would take a bare number for radians
    if unit(name).dimensionless:
        return ureg.Quantity(float(value), "dimensionless")
    raise UnitError(f"{value:g} has no unit; {wanted(name)}")


def _special(text: str, name: str) -> tuple[Quantity, str] | None:
    """What is written in a way of its own: a strength class, a place on the compass; else None."""
    if name in ("psi", "ksi") and (match := _STRENGTH_CLASS.match(text)):
        cylinder, cube = int(match["cylinder"]), int(match["cube"])
        if cylinder >= cube:
            raise UnitError(
                f"{text!r} is no strength class: the first number, by cylinder, is the smaller"
            )
        words = f"{cylinder} MPa by cylinder ({show(Q(cylinder / 6.894757e-3, 'psi'), 'psi')}), which is f'c; {cube} MPa is by cube"
        return ureg.Quantity(float(cylinder), "megapascal"), words
    if name == "deg" and (match := _COMPASS.match(text)) and match["number"].count(".") <= 1:
        value = float(match["number"]) if any(map(str.isdigit, match["number"])) else math.nan
        if math.isfinite(value):
            return Q(-value if match["side"].upper() in "SW" else value, "deg"), ""
    return None


def _parse(text: str, name: str) -> tuple[Quantity, str]:
    """The quantity in a text, and words for what it is taken for, where it says something else."""
    clean = plain(text)
    money = currency(clean) if "[money]" in unit(name).dimensionality else None
    if money:
        clean = _LUMP.sub("", money[0]) if name == "$" else money[0]
    number, rest = number_and_rest(clean) or (math.nan, None)
    if rest is None:
        raise UnitError(f"{text!r} is not a number with a unit; {wanted(name)}")
    if not math.isfinite(number):
        raise UnitError(f"{text!r} is not a finite number; {wanted(name)}")
    if not rest:
        return _plain_number(number, name), ""
    if rest == "%":
        if name == "deg":
            raise UnitError(f"{text.strip()} has no unit; {wanted(name)}")
        return _of_kind(ureg.Quantity(number / 100, "dimensionless"), name, text.strip()), ""
    if TRADE_UNITS[name].pint_name in _SCALES:
        rest = _TEMPERATURES.get(rest.lower(), rest)
    known = [ureg.Quantity(number, one) for one in _units_meant(rest, name)]
    if not known:
        raise UnitError(f"{text!r}: the unit {_cut(rest)!r} is not known; {wanted(name)}")
    kind = unit(name).dimensionality
    fits = next((q for q in known if q.dimensionality == kind), None)
    if (
        fits is None
        and name in ("$/roll", "$/bag")
        and known[0].dimensionality == unit("$").dimensionality
    ):
        fits = known[0] / Q(1.0, name[2:])  # the price of one
    if fits is None:
        return _of_kind(known[0], name, text.strip()), ""
    return fits, _taken(fits, known[0], name)


@functools.lru_cache(maxsize=1024)
def _units_meant(rest: str, name: str) -> tuple[Any, ...]:
    """The registry's units that the words behind a number may mean, the likeliest first, up to one that fits.

    Kept: hundreds of records say the same few units, and pint reads each anew.
    """
    found = []
    for words in unit_expressions(rest, name):
        one = _unit_of(words)
        if one is not None:
            found.append(one)
            if one.dimensionality == unit(name).dimensionality:
                break
    return tuple(found)


def _unit_of(words: str) -> Any:
    """A unit in the registry's words; None where there is no such unit."""
    try:
        if UNIT_WORDS.fullmatch(words):
            return ureg.parse_units(words)
    except Exception:  # pint raises many kinds; all of them mean the unit is not known
        pass
    return None


def _taken(fits: Quantity, written: Quantity, name: str) -> str:
    """Words for a quantity that is not of the kind that is written: a pound-force, a cubic yard."""
    if fits.dimensionality == written.dimensionality:
        return ""
    if written.dimensionality * _PULL == fits.dimensionality:
        kind = _kind(fits)
        return f"{show(fits, name, most=5)}, {'a force' if kind is None else kind}"
    return show(fits, name, most=5)


_PULL = ureg.meter.dimensionality / ureg.second.dimensionality**2  # of the earth on a mass


def _of_kind(quantity: Quantity, name: str, text: str) -> Quantity:
    """The quantity, refused where it is of another kind than the trade unit."""
    kind = unit(name).dimensionality
    if quantity.dimensionality == kind:
        return quantity
    if quantity.dimensionality * _PULL == kind:
        raise UnitError(
            f"{text!r} is a mass where a force or weight is meant; "
            f"write it as a force, like '10 {name}' or '10 {TRADE_UNITS[name].si}'"
        )
    if quantity.dimensionality / _PULL == kind:
        raise UnitError(
            f"{text!r} is a force or weight where a mass is meant; "
            f"write it with lb, ton or kg, like '10 {name}'"
        )
    found, meant = _kind(quantity), _kind(Q(1, name))
    if meant is None:
        raise UnitError(f"{text!r} cannot be turned into {TRADE_UNITS[name].label}; {wanted(name)}")
    raise UnitError(f"{text!r} is {f'{found}, ' if found else ''}not {meant}; {wanted(name)}")


def _kind(quantity: Quantity) -> str | None:
    """What kind of quantity it is in words; None where there is no short word for it."""
    kinds = {
        "ft": "a length", "ft2": "an area", "ft3": "a volume", "lbf": "a force", "psi": "a pressure",
        "lb": "a mass", "h": "a time", "degF": "a temperature", "$": "an amount of money",
        "plf": "a force per length", "pcf": "a weight per volume", "1": "a plain number",
        "mph": "a speed", "lb/yd3": "a mass per volume", "lb/ft": "a mass per length", "lb/ft2": "a mass per area",
        "yd3/h": "a volume per time", "ft2/h": "an area per time", "1/h": "a number per time", "lbf*ft": "a moment",
        "$/yd3": "a price by volume", "$/ton": "a price by weight", "$/ft": "a price by length",
        "$/ft2": "a price by area", "$/h": "a price by time", "$/roll": "a price by the roll",
        "$/bag": "a price by the bag", "W/m2": "a power per area", "pci": "a pressure per length",
    }  # fmt: skip
    for name, words in kinds.items():
        if quantity.dimensionality == unit(name).dimensionality:
            return words
    return None


def _cut(text: str, longest: int = 40) -> str:
    return text if len(text) <= longest else text[: longest - 3] + "..."
