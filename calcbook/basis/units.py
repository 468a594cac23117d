"""One unit registry, and the reading and writing of quantities as a builder writes them.

Every unit the book shows is one row of ``TRADE_UNITS``: the name used in the code, what pint
calls it, the label on paper, and the unit that stands for it in an SI job.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeAlias

import pint
from pint.util import UnitsContainer
from platformdirs import user_cache_dir


class _Quantity(pint.UnitRegistry.Quantity):
    """A pint quantity, quick for plain numbers: it is made without search and keeps the factors
    between units, which pint works out anew at every call."""

    def __new__(cls, value: Any, units: Any = None) -> Any:
        units = _named(units) if type(units) is str and type(value) is float else units
        plain = getattr(units, "_units", units)
        if type(value) is not float or type(plain) is not UnitsContainer or isinstance(units, cls):
            return super().__new__(cls, value, units)
        made = object.__new__(cls)
        made._magnitude, made._units = value, plain
        return made

    def to(self, other: Any = None, *contexts: Any, **context: Any) -> Any:
        other = _named(other) if type(other) is str else other
        ratio = _ratio(self._units, other._units) if type(other) is ureg.Unit else None
        if ratio is None:
            return super().to(other, *contexts, **context)
        return self.__class__(self.magnitude if ratio == 1 else self.magnitude * ratio, other)

    def m_as(self, units: Any) -> Any:
        units = _named(units) if type(units) is str else units
        ratio = _ratio(self._units, units._units) if type(units) is ureg.Unit else None
        if ratio is None:
            return super().m_as(units)
        return self.magnitude if ratio == 1 else self.magnitude * ratio


class _Registry(pint.UnitRegistry):
    Quantity = _Quantity


@cache
def _named(words: str) -> Any:
    """The unit behind words such as ``"inch"``, parsed once."""
    return ureg.Unit(words)


@cache
def _ratio(units: Any, other: Any) -> float | None:
    """The multiplier from one unit to another; None where there is none, as for temperatures."""
    try:
        ones, zeros = (ureg.convert(x, units, other) for x in (1.0, 0.0))
    except pint.PintError:
        return None
    return ones if zeros == 0 else None


def _registry() -> _Registry:
    """pint's registry. Its thousand definitions are kept, read, in the user's cache folder: reading
    them takes longer than all the calculations of a job."""
    kept = Path(user_cache_dir("calcbook", appauthor=False), f"pint-{pint.__version__}")
    try:
        return _Registry(autoconvert_offset_to_baseunit=True, cache_folder=kept)
    except Exception:  # no folder, no right to write, a file half written by another: read anew
        return _Registry(autoconvert_offset_to_baseunit=True)


ureg = _registry()
for definition in (
    "psf = lbf / ft**2",
    "pcf = lbf / ft**3",
    "pci = lbf / inch**3",
    "plf = lbf / ft",
    "ksf = kip / ft**2",
    "cubic_yard = yard**3 = cy = cuyd",
    "bag = [bag]",
    "roll = [roll]",
    "dollar = [money]",
):
    ureg.define(definition)
pint.set_application_registry(ureg)
if TYPE_CHECKING:
    from pint.registry import Quantity
else:
    Quantity = ureg.Quantity

# What a formula's body takes and gives: a quantity, or in bulk plain numbers or arrays of them.
Amount: TypeAlias = Any
# What a procedure reads for a quantity: the quantity, text such as "5 in", a number without a unit.
Given: TypeAlias = "Quantity | str | float"


@dataclass(frozen=True)
class TradeUnit:
    """A unit the book may show: its pint expression, printed label and SI counterpart."""

    name: str
    pint_name: str
    label: str
    si: str
    si_pint: str
    si_label: str

    def pint_for(self, system: str) -> str:
        """What pint calls the unit in "us" or "si"."""
        return self.si_pint if system == "si" else self.pint_name

    def label_for(self, system: str) -> str:
        """The label on paper in "us" or "si"."""
        return self.si_label if system == "si" else self.label


def _row(
    name: str,
    pint_name: str,
    label: str,
    si: str | None = None,
    si_pint: str | None = None,
    si_label: str | None = None,
) -> tuple[str, TradeUnit]:
    si = si or name
    return name, TradeUnit(
        name, pint_name, label, si, si_pint or si, si if si_label is None else si_label
    )


TRADE_UNITS = dict(
    [
        _row("1", "dimensionless", "", "1", "dimensionless", ""),
        _row("%", "percent", "%", "%", "percent", "%"),
        _row("in", "inch", "in.", "mm"),
        _row("ft", "foot", "ft", "m"),
        _row("yd", "yard", "yd", "m"),
        _row("in2", "inch**2", "in.²", "mm2", "mm**2", "mm²"),
        _row("in2/ft", "inch**2/foot", "in.²/ft", "mm2/m", "mm**2/m", "mm²/m"),
        _row("ft2", "foot**2", "ft²", "m2", "m**2", "m²"),
        _row("in3", "inch**3", "in.³", "cm3", "cm**3", "cm³"),
        _row("in4", "inch**4", "in.⁴", "cm4", "cm**4", "cm⁴"),
        _row("ft3", "foot**3", "ft³", "m3", "m**3", "m³"),
        _row("yd3", "cubic_yard", "yd³", "m3", "m**3", "m³"),
        _row("ft2/yd3", "foot**2/cubic_yard", "ft²/yd³", "m2/m3", "m**2/m**3", "m²/m³"),
        _row("yd3/h", "cubic_yard/hour", "yd³/h", "m3/h", "m**3/hour", "m³/h"),
        _row("ft/h", "foot/hour", "ft/h", "m/h", "m/hour", "m/h"),
        _row("ft2/h", "foot**2/hour", "ft²/h", "m2/h", "m**2/hour", "m²/h"),
        _row("ft2/day", "foot**2/day", "ft²/d", "m2/day", "m**2/day", "m²/d"),
        _row("gal", "gallon", "gal", "L", "liter", "L"),
        _row("gal/yd3", "gallon/cubic_yard", "gal/yd³", "L/m3", "liter/m**3", "L/m³"),
        _row("fl_oz", "fluid_ounce", "fl oz", "mL", "milliliter", "mL"),
        _row("lbf", "lbf", "lbf", "kN", "kilonewton", "kN"),
        _row("kip", "kip", "kip", "kN", "kilonewton", "kN"),
        _row("plf", "plf", "lbf/ft", "kN/m", "kilonewton/m", "kN/m"),
        _row("psf", "psf", "psf", "kPa", "kilopascal", "kPa"),
        _row("psi", "psi", "psi", "MPa", "megapascal", "MPa"),
        _row("ksi", "ksi", "ksi", "MPa", "megapascal", "MPa"),
        _row("pcf", "pcf", "pcf", "kN/m3", "kilonewton/m**3", "kN/m³"),
        _row("pci", "pci", "pci", "MN/m3", "meganewton/m**3", "MN/m³"),
        _row("lbf*in", "lbf*inch", "lbf·in.", "kN*m", "kilonewton*m", "kN·m"),
        _row("lbf*ft", "lbf*foot", "lbf·ft", "kN*m", "kilonewton*m", "kN·m"),
        _row("lbf*in/in", "lbf*inch/inch", "lbf·in./in.", "kN*m/m", "kilonewton*m/m", "kN·m/m"),
        _row("lb", "pound", "lb", "kg", "kilogram", "kg"),
        _row("ton", "short_ton", "ton", "t", "metric_ton", "t"),
        _row("lb/ft", "pound/foot", "lb/ft", "kg/m", "kilogram/m", "kg/m"),
        _row("lb/ft2", "pound/foot**2", "lb/ft²", "kg/m2", "kilogram/m**2", "kg/m²"),
        _row("lb/ft3", "pound/foot**3", "lb/ft³", "kg/m3", "kilogram/m**3", "kg/m³"),
        _row("lb/yd3", "pound/cubic_yard", "lb/yd³", "kg/m3", "kilogram/m**3", "kg/m³"),
        _row("ton/yd3", "short_ton/cubic_yard", "ton/yd³", "t/m3", "metric_ton/m**3", "t/m³"),
        _row(
            "lb/ft2/h",
            "pound/foot**2/hour",
            "lb/(ft²·h)",
            "kg/m2/h",
            "kilogram/m**2/hour",
            "kg/(m²·h)",
        ),
        _row("degF", "degF", "°F", "degC", "degC", "°C"),
        _row("delta_degF", "delta_degF", "F°", "delta_degC", "delta_degC", "C°"),
        _row("degF*h", "delta_degF*hour", "F°·h", "degC*h", "delta_degC*hour", "C°·h"),
        _row("deg", "degree", "°", "deg", "degree", "°"),
        _row("mph", "mile/hour", "mph", "km/h", "kilometer/hour", "km/h"),
        _row("s", "second", "s", "s", "second", "s"),
        _row("min", "minute", "min", "min", "minute", "min"),
        _row("h", "hour", "h", "h", "hour", "h"),
        _row("day", "day", "d", "day", "day", "d"),
        _row("1/h", "1/hour", "per h", "1/h", "1/hour", "per h"),
        _row("1/day", "1/day", "per d", "1/day", "1/day", "per d"),
        _row("1/in", "1/inch", "per in.", "1/m", "1/m", "per m"),
        _row("1/degF", "1/delta_degF", "per F°", "1/degC", "1/delta_degC", "per C°"),
        _row("bag", "bag", "bag", "bag", "bag", "bag"),
        _row("roll", "roll", "roll", "roll", "roll", "roll"),
        _row("J/mol", "joule/mole", "J/mol", "J/mol", "joule/mole", "J/mol"),
        _row("J/g", "joule/gram", "J/g", "J/g", "joule/gram", "J/g"),
        _row("Btu/lb", "Btu/pound", "Btu/lb", "kJ/kg", "kilojoule/kilogram", "kJ/kg"),
        _row(
            "Btu/lb/degF",
            "Btu/pound/delta_degF",
            "Btu/(lb·°F)",
            "kJ/kg/K",
            "kilojoule/kilogram/kelvin",
            "kJ/(kg·K)",
        ),
        _row("W/m/K", "watt/m/kelvin", "W/(m·K)", "W/m/K", "watt/m/kelvin", "W/(m·K)"),
        _row("W/m2/K", "watt/m**2/kelvin", "W/(m²·K)", "W/m2/K", "watt/m**2/kelvin", "W/(m²·K)"),
        _row("W/m2", "watt/m**2", "W/m²", "W/m2", "watt/m**2", "W/m²"),
        _row("kPa", "kilopascal", "kPa", "kPa", "kilopascal", "kPa"),
        _row("degC", "degC", "°C"),
        _row("m/s", "meter/second", "m/s"),
        _row("K", "kelvin", "K"),
        _row("J/mol/K", "joule/mole/kelvin", "J/(mol·K)", "J/mol/K", "joule/mole/kelvin", "J/(mol·K)"),
        _row("W/m3", "watt/m**3", "W/m³", "W/m3", "watt/m**3", "W/m³"),
        _row("MJ/m3", "megajoule/m**3", "MJ/m³", "MJ/m3", "megajoule/m**3", "MJ/m³"),
        _row(
            "W/m2/K4", "watt/m**2/kelvin**4", "W/(m²·K⁴)", "W/m2/K4", "watt/m**2/kelvin**4", "W/(m²·K⁴)"
        ),
        _row("m2/kg", "m**2/kilogram", "m²/kg", "m2/kg", "m**2/kilogram", "m²/kg"),
        _row("kJ/kg", "kilojoule/kilogram", "kJ/kg", "kJ/kg", "kilojoule/kilogram", "kJ/kg"),
        _row("R", "hour*foot**2*delta_degF/Btu", "ft²·h·°F/Btu", "RSI", "m**2*kelvin/watt", "m²·K/W"),
        _row("$", "dollar", "$", "$", "dollar", "$"),
        _row("$/yd3", "dollar/cubic_yard", "$/yd³", "$/m3", "dollar/m**3", "$/m³"),
        _row("$/ton", "dollar/short_ton", "$/ton", "$/t", "dollar/metric_ton", "$/t"),
        _row("$/lb", "dollar/pound", "$/lb", "$/kg", "dollar/kilogram", "$/kg"),
        _row("$/ft", "dollar/foot", "$/ft", "$/m", "dollar/m", "$/m"),
        _row("$/ft2", "dollar/foot**2", "$/ft²", "$/m2", "dollar/m**2", "$/m²"),
        _row("$/h", "dollar/hour", "$/h", "$/h", "dollar/hour", "$/h"),
        _row("$/day", "dollar/day", "$/d", "$/day", "dollar/day", "$/d"),
        _row("$/min", "dollar/minute", "$/min", "$/min", "dollar/minute", "$/min"),
        _row("$/roll", "dollar/roll", "$/roll", "$/roll", "dollar/roll", "$/roll"),
        _row("$/bag", "dollar/bag", "$/bag", "$/bag", "dollar/bag", "$/bag"),
    ]
)


class UnitError(ValueError):
    """What was given cannot be read as the quantity that is wanted; the message says why."""


@cache
def unit(name: str) -> Any:
    """The pint unit behind a trade-unit name such as ``"psf"`` or ``"lb/ft2/h"``."""
    return ureg.parse_units(TRADE_UNITS[name].pint_name)


@cache
def _shown_unit(name: str, system: str) -> Any:
    return ureg.parse_units(TRADE_UNITS[name].pint_for(system))


@cache
def factor(from_name: str, to_name: str) -> float:
    """Multiplier from one trade unit to another of the same kind (not for temperatures)."""
    return ureg.Quantity(1.0, unit(from_name)).m_as(unit(to_name))


def Q(value: Any, name: str) -> Quantity:
    """A quantity from a number and a trade-unit name: ``Q(5, "in")``."""
    return ureg.Quantity(value, unit(name))


# --- reading -------------------------------------------------------------------------------

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
        return _of_kind(text, name, str(text))
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
        if math.isfinite(quantity.m_as(unit(name))):
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


def unit_text(name: str, system: str = "us") -> str:
    """The label of a trade unit as it is printed, which may be typed again."""
    return TRADE_UNITS[name].label_for(system)


# --- writing -------------------------------------------------------------------------------


def feet_inches(length: Quantity, denominator: int = 16) -> str:
    """Write a length in feet, inches and a fraction, rounded to 1/16 in.: ``24'-6 1/2"``.

    length: a length quantity; denominator: the finest fraction. A fraction that rounds up
    carries into the inches and the feet.
    """
    parts = round(length.m_as(ureg.inch) * denominator)
    sign, parts = ("-" if parts < 0 else ""), abs(parts)
    feet, rest = divmod(parts, 12 * denominator)
    inches, over = divmod(rest, denominator)
    fraction = str(Fraction(over, denominator)) if over else ""
    whole = str(inches) if inches or feet or not over else ""
    small = f"{whole} {fraction}".strip()
    return f"{sign}{feet}'-{small}\"" if feet else f'{sign}{small}"'


def show_length(length: Quantity, system: str = "us", small: bool = False) -> str:
    """A length for a drawing or a table: feet and inches, or meters (millimeters if small)."""
    if system == "us":
        return feet_inches(length)
    if small:
        return f"{length.m_as(ureg.mm):,.0f} mm"
    return f"{length.m_as(ureg.meter):,.3f} m"


def number_text(value: float, digits: int = 3) -> str:
    """A plain value as the book prints a number.

    Short exact numbers stand as they are; others get three significant figures, four where
    the first is 1 (even relative accuracy); commas mark thousands.
    """
    if not math.isfinite(value):
        return "∞" if value > 0 else ("−∞" if value < 0 else "not a number")
    if value == 0:
        return "0"
    short = float(f"{value:.6g}")
    if abs(short - value) <= 1e-9 * abs(value) and len(f"{abs(short):.6g}".replace(".", "")) <= 5:
        return _grouped(short, f"{short:.6g}")
    lead = f"{abs(value):.{digits}e}"[0]
    figures = digits + 1 if lead == "1" else digits
    rounded = float(f"{value:.{figures}g}")
    decimals = max(0, figures - 1 - math.floor(math.log10(abs(rounded))))
    return _grouped(rounded, f"{rounded:.{decimals}f}")


def _grouped(value: float, text: str) -> str:
    if 0 < abs(value) < 1e-5 or abs(value) >= 1e12:
        mantissa, power = f"{value:.3g}".split("e") if "e" in f"{value:.3g}" else (f"{value:.3g}", "0")
        return f"{mantissa}×10^{int(power)}"
    decimals = len(text.split(".")[1]) if "." in text and "e" not in text else 0
    if "e" in text:
        decimals = 5 if abs(value) < 1 else 0
        return f"{value:,.{decimals}f}".rstrip("0").rstrip(".") if decimals else f"{value:,.0f}"
    return f"{value:,.{decimals}f}"


def magnitude(quantity: Any, name: str, system: str = "us") -> float:
    """The number of a quantity in a trade unit's own, or SI, unit."""
    if not isinstance(quantity, ureg.Quantity):
        return float(quantity)
    value = float(quantity.m_as(_shown_unit(name, system)))
    return 0.0 if name == "degF" and abs(value) < 1e-9 else value  # the offset leaves noise at 0 °C


def show(quantity: Any, name: str, system: str = "us", digits: int = 3) -> str:
    """A quantity as text in a trade unit of the job's system: ``1,120 ft²``."""
    row, value = TRADE_UNITS[name], magnitude(quantity, name, system)
    label = row.label_for(system)
    if label.startswith("$"):
        return money_text(value) + label[1:]
    gap = "" if label in ("", "°") else " "
    many = "s" if name in ("bag", "roll") and value != 1 else ""
    return f"{number_text(value, digits)}{gap}{label}{many}"


def to_cents(value: Any) -> Decimal:
    """A number of dollars as a Decimal of whole cents, half a cent away from zero.

    The noise of binary fractions, far below a cent, is taken off first: 1.45 x 0.70 is 1.015.
    """
    exact = Decimal(repr(round(float(value), 8)))
    return exact.quantize(Decimal("0.01"), ROUND_HALF_UP)


def money_text(value: Any) -> str:
    """An amount of money with cents: ``$1,234.50``."""
    sign = "-" if value < 0 else ""
    if not abs(value) < 1e15:  # no money any more; cents would say more than is known
        return f"{sign}${number_text(float(abs(value)))}"
    amount = to_cents(abs(value))
    return f"{sign if amount else ''}${amount:,}"
