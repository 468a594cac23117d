"""pint's registry with the units of the trade; the rest of pint's is read when one of them is named.

Reading all of pint's definitions costs as much as loading pint, and a job names some sixty of eight hundred.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pint

_FILES = [Path(pint.__file__).with_name(name) for name in ("constants_en.txt", "default_en.txt")]
# the lines of pint's own files that are read at once, by the name that each begins with
_AT_ONCE = {
    "pi", "standard_gravity", "milli-", "centi-", "deci-", "kilo-", "mega-", "giga-", "meter", "second",
    "gram", "mole", "kelvin", "radian", "degree", "percent", "minute", "hour", "day", "degree_Celsius",
    "degree_Fahrenheit", "metric_ton", "grain", "liter", "newton", "joule", "watt", "pascal",
    "british_thermal_unit", "inch", "foot", "yard", "mile", "mile_per_hour", "cubic_inch",
    "fluid_ounce", "pint", "quart", "gallon", "pound", "ounce", "ton", "force_pound", "kip",
    "pound_force_per_square_inch", "kip_per_square_inch",
}  # fmt: skip
# words with a prefix that mean the same to these lines as to all of pint
_WITH_PREFIX = {
    "mm", "cm", "km", "kg", "mL", "kN", "MN", "kPa", "MPa", "GPa", "kJ", "MJ", "kW", "milligram",
    "kilogram", "millimeter", "centimeter", "decimeter", "kilometer", "milliliter", "kilonewton",
    "meganewton", "kilopascal", "megapascal", "gigapascal", "kilojoule", "megajoule", "kilowatt",
}  # fmt: skip
_OURS = (
    "psf = lbf / ft**2",
    "pcf = lbf / ft**3",
    "pci = lbf / inch**3",
    "plf = lbf / ft",
    "ksf = kip / ft**2",
    "cubic_yard = yard**3 = cy = cuyd",
    "bag = [bag]",
    "roll = [roll]",
    "dollar = [money]",
)
# pint's own of these base units has a name that cannot be read twice
_SYSTEM = "metric"
_BASE_UNITS = (f"@system {_SYSTEM}", "meter", "kilogram", "second", "@end")


class Registry(pint.UnitRegistry[Any]):
    """A registry that begins with few definitions, and resolves each unit when it is used.

    whole: whether all of pint's definitions are read.
    """

    def __init__(self) -> None:
        super().__init__(None, autoconvert_offset_to_baseunit=True, on_redefinition="ignore")
        self.whole = False
        self.load_definitions([*_lines(), *_OURS, *_BASE_UNITS])
        self.default_system = _SYSTEM

    def parse_unit_name(
        self, unit_name: str, case_sensitive: bool | None = None
    ) -> tuple[tuple[str, str, str], ...]:
        """The (prefix, unit, ending) that a word may mean, as pint finds them among all its units."""
        found = super().parse_unit_name(unit_name, case_sensitive)
        own_name = bool(found) and found[0][0] == found[0][2] == ""
        if self.whole or own_name or unit_name in _WITH_PREFIX:
            return found
        self.whole = True
        self.load_definitions(_FILES[-1])  # which takes in the other
        self.load_definitions([*_OURS])  # they hold against pint's, as of a bag
        return super().parse_unit_name(unit_name, case_sensitive)


def _lines() -> list[str]:
    """The lines of pint's files that are read at once."""
    lines = "\n".join(path.read_text(encoding="utf-8") for path in _FILES).splitlines()
    return [line for line in lines if "=" in line and line.split("=", 1)[0].strip() in _AT_ONCE]
