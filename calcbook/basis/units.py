"""One unit registry. Reading of quantities: ``reading.py``; writing them: ``showing.py``.

Every unit the book shows is one row of ``TRADE_UNITS``: the name used in the code, what pint
calls it, the label on paper, and the unit that stands for it in an SI job.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any, TypeAlias

import pint

from calcbook.basis.unit_registry import Registry

ureg = Registry()
pint.set_application_registry(ureg)
if TYPE_CHECKING:
    from pint.registry import Quantity
else:
    Quantity = ureg.Quantity

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
def unit(name: str, system: str = "us") -> Any:
    """The pint unit behind a trade-unit name such as ``"psf"``, or that which stands for it in "si"."""
    return ureg.parse_units(TRADE_UNITS[name].pint_for(system))


@cache
def factor(from_name: str, to_name: str) -> float:
    """Multiplier from one trade unit to another of the same kind (not for temperatures)."""
    return ureg.Quantity(1.0, unit(from_name)).m_as(unit(to_name))


def Q(value: Any, name: str, system: str = "us") -> Quantity:
    """A quantity from a number and a trade-unit name: ``Q(5, "in")``."""
    if type(value) not in (float, int):
        return ureg.Quantity(value, unit(name, system))
    made = object.__new__(Quantity)  # as pint does in the end; a job makes thousands
    made._magnitude, made._units = value, unit(name, system)._units
    return made


def number_in(quantity: Quantity, name: str, system: str = "us") -> Any:
    """The number, or the array, of a quantity in a trade unit. Raises pint's PintError."""
    if quantity._units is unit(name, system)._units:
        return quantity._magnitude
    ratio = _ratio(quantity._units, name, system)  # not .units: that makes a new object each time
    if ratio is None:
        return ureg.convert(quantity._magnitude, quantity._units, unit(name, system))
    return quantity._magnitude if ratio == 1 else quantity._magnitude * ratio


@cache
def _ratio(given: Any, name: str, system: str) -> float | None:
    """The multiplier from a pint unit to a trade unit; None where an offset is added, as for temperatures.

    Kept here: pint works it out anew at every conversion.
    """
    wanted = unit(name, system)
    if wanted.dimensionality == {"[temperature]": 1} and ureg.convert(0.0, given, wanted) != 0:
        return None
    return ureg.convert(1.0, given, wanted)
