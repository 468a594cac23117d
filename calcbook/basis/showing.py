"""Quantities written for the reader: numbers, units, feet and inches, money."""

from __future__ import annotations

import math
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Any

from calcbook.basis.units import TRADE_UNITS, Q, Quantity, number_in

_SIGNS = {"EUR": "€", "GBP": "£", "JPY": "¥", "INR": "₹"}  # others are printed by their code


class Units(str):
    """The units that a job shows, "us" or "si", which know the mark of its money."""

    mark = "$"

    @classmethod
    def of(cls, system: str, currency: str) -> Units:
        """The units of a job; currency: its code, such as "EUR", or "$"."""
        made = cls(system)
        made.mark = _SIGNS.get(currency, currency if currency == "$" else f"{currency} ")
        return made

    def __eq__(self, other: object) -> bool:
        return str.__eq__(self, other) is True and getattr(other, "mark", self.mark) == self.mark

    def __ne__(self, other: object) -> bool:
        return not self == other

    __hash__ = str.__hash__


def money_mark(system: str) -> str:
    """The mark that stands before an amount of money in these units."""
    return getattr(system, "mark", "$")


def unit_text(name: str, system: str = "us") -> str:
    """The label of a trade unit as it is printed, which may be typed again."""
    return TRADE_UNITS[name].label_for(system).replace("$", money_mark(system).strip())


def feet_inches(length: Quantity) -> str:
    """Write a length in feet, inches and a fraction, rounded to 1/16 in.: ``24'-6 1/2"``.

    A fraction that rounds up carries into the inches and the feet.
    """
    parts = round(number_in(length, "in") * 16)
    sign, parts = ("-" if parts < 0 else ""), abs(parts)
    feet, rest = divmod(parts, 12 * 16)
    inches, over = divmod(rest, 16)
    fraction = str(Fraction(over, 16)) if over else ""
    whole = str(inches) if inches or feet or not over else ""
    small = f"{whole} {fraction}".strip()
    return f"{sign}{feet}'-{small}\"" if feet else f'{sign}{small}"'


def show_length(length: Quantity, system: str = "us", small: bool = False) -> str:
    """A length for a drawing or a table: feet and inches, or meters (millimeters if small)."""
    if system == "us":
        return feet_inches(length)
    if small:
        return f"{number_in(length, 'in', 'si'):,.0f} mm"
    return f"{number_in(length, 'ft', 'si'):,.3f} m"


def fall_text(fall: Quantity, system: str = "us") -> str:
    """A fall as the trade says it: inches per foot, and millimeters per meter or percent, as it was given."""
    percent = f"{number_text(100 * fall.m_as(''))} %"
    if system == "si":
        return f"{number_text(fall.m_as('mm/m'))} mm per m" if fall.unit_items() else percent
    told = Fraction(round(fall.m_as("in/ft") * 16), 16)
    inches = feet_inches(Q(float(told), "in")).rstrip('"')
    said = f"{inches} in. per foot"
    if math.isclose(told, fall.m_as("in/ft"), rel_tol=1e-3):
        return said
    return f"{percent}, about {said}" if told else percent


def number_text(value: float, digits: int = 3, exact: bool = True, most: int = 4) -> str:
    """A plain value as the book prints a number.

    Short exact numbers stand as they are, up to ``most`` figures, five where they are whole; others get three
    significant figures, four where the first is 1 (even relative accuracy); commas mark thousands. exact: False
    where only small numbers and whole ones below ten thousand do, so that no 549.25 is weighed against 97,100.
    """
    if not math.isfinite(value):
        return "∞" if value > 0 else ("−∞" if value < 0 else "not a number")
    if value == 0:
        return "0"
    text = f"{value:.6g}"
    short = float(text)
    whole = short == round(short)
    kept = exact or abs(value) < 100 or (whole and abs(value) < 10_000)
    written = text.lstrip("-").replace(".", "")
    figures = len(written.partition("e")[0].lstrip("0"))
    few = len(written) <= 5 and (whole or figures <= most)
    if kept and few and abs(short - value) <= 1e-9 * abs(value):
        return _grouped(short, text)
    lead = f"{abs(value):.{digits}e}"[0]
    wanted = digits + 1 if lead == "1" else digits
    rounded = float(f"{value:.{wanted}g}")
    decimals = max(0, wanted - 1 - math.floor(math.log10(abs(rounded))))
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


def ratio_text(ratio: float) -> str:
    """A ratio of demand over capacity to two decimals; more only where it is else not told from 1."""
    if ratio > 1 and f"{ratio:.2f}" == "1.00":
        return f"{ratio:.3f}" if ratio >= 1.0005 else "just over 1"
    return f"{ratio:.2f}" if ratio < 100 else "over 100"


def magnitude(quantity: Any, name: str, system: str = "us") -> float:
    """The number of a quantity in a trade unit's own, or SI, unit."""
    if not isinstance(quantity, Quantity):
        return float(quantity)
    value = float(number_in(quantity, name, system))
    return 0.0 if name == "degF" and abs(value) < 1e-9 else value  # the offset leaves noise at 0 °C


def show(
    quantity: Any, name: str, system: str = "us", digits: int = 3, exact: bool = True, most: int = 4
) -> str:
    """A quantity as text in a trade unit of the job's system: ``1,120 ft²``.

    exact: False for a number that is weighed against another, as in a check; most: figures of an exact number, five
    for what is given: see ``number_text``. A percentage below a hundredth is told as that.
    """
    units = str(system)  # without the mark of money, which makes each comparison a call
    value, label = magnitude(quantity, name, units), TRADE_UNITS[name].label_for(units)
    if label == "%" and 0 < value < 0.01:
        return "less than 0.01 %"
    if label.startswith("$"):
        return money_text(value, system) + label[1:]
    gap = "" if label in ("", "°") else " "
    many = "s" if name in ("bag", "roll") and value != 1 else ""
    return f"{number_text(value, digits, exact, most)}{gap}{label}{many}"


def to_cents(value: Any) -> Decimal:
    """A number of dollars as a Decimal of whole cents, half a cent away from zero.

    The noise of binary fractions, far below a cent, is taken off first: 1.45 x 0.70 is 1.015.
    """
    exact = Decimal(repr(round(float(value), 8)))
    return exact.quantize(Decimal("0.01"), ROUND_HALF_UP)


def money_text(value: Any, system: str = "us") -> str:
    """An amount of money with cents, under the mark of the job's units: ``$1,234.50``."""
    sign, mark = ("-" if value < 0 else ""), money_mark(system)
    if not abs(value) < 1e15:  # no money any more; cents would say more than is known
        return f"{sign}{mark}{number_text(float(abs(value)))}"
    amount = to_cents(abs(value))
    return f"{sign if amount else ''}{mark}{amount:,}"
