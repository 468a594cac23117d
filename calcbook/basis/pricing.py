"""From costs to a price: formulas of the quote.

Amounts are rounded to the cent line by line, half a cent upward, before they are added, so that a
column adds up as it is printed.
"""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Any

import numpy as np

from calcbook.basis.formula import arg, cite, formula, result
from calcbook.basis.rounding import ceil
from calcbook.basis.showing import to_cents
from calcbook.basis.units import Q, number_in

if TYPE_CHECKING:
    from calcbook.basis.units import Quantity

_SHARE = {"low": 0, "below": 1}


@formula(
    "Cost of a line",
    cite("common practice", "amount times price"),
    result("$", "cost of the line"),
    n=arg("1", "amount, in the unit of its price", low=0),
    p=arg("$", "price of one unit", low=0),
)
def line_cost(n, p):
    """Cost of one line of the takeoff.

    p: price of one such unit (money). Source: common practice.
    """
    C = n * p
    return C


@formula(
    "Person-hours",
    cite("common practice", "amount over the rate of one person"),
    result("h", "person-hours"),
    n=arg("1", "amount of work", low=0),
    rate=arg("1/h", "done by one person in an hour", above=0, symbol="r"),
)
def person_hours(n, rate):
    """Hours of work for one person.

    rate: amount that one person does in an hour, per hour, in the same unit. Source: common
    practice.

    >>> print(person_hours(108, "12 1/h"))
    9.0 hour
    """
    H = n / rate
    return H


@formula(
    "Sales tax on materials",
    cite("common practice", "paid when the material is bought"),
    result("$", "sales tax on materials"),
    C_m=arg("$", "cost of materials", low=0),
    r_t=arg("1", "rate of sales tax", low=0, high=0.5),
)
def sales_tax(C_m, r_t):
    """Sales tax that the builder pays on materials under a lump-sum contract.

    States differ: ask an accountant. Source: common practice.
    """
    T = C_m * r_t
    return T


@formula(
    "Direct cost",
    cite("common practice"),
    result("$", "direct cost"),
    C_m=arg("$", "materials", low=0),
    T=arg("$", "sales tax on materials", low=0),
    C_l=arg("$", "labor", low=0),
    C_e=arg("$", "equipment and other lines", low=0),
)
def direct_cost(C_m, T, C_l, C_e):
    """What the job itself costs: materials with their tax, labor, equipment.

    Source: common practice.
    """
    C_d = C_m + T + C_l + C_e
    return C_d


@formula(
    "Overhead",
    cite("common practice", "a share of direct cost"),
    result("$", "overhead"),
    C_d=arg("$", "direct cost", low=0),
    r_o=arg("1", "overhead, share of direct cost", low=0, high=1),
)
def overhead(C_d, r_o):
    """The job's share of running the business: truck, telephone, insurance, office.

    Source: common practice.
    """
    C_o = C_d * r_o
    return C_o


@formula(
    "Selling price",
    cite("common practice", "the margin is a share of the price, not of the cost"),
    result("$", "price"),
    C=arg("$", "cost with overhead", low=0),
    m=arg("1", "margin, share of the price", **_SHARE),
)
def selling_price(C, m):
    """Price that keeps a margin: P - C = m P.

    m: margin on the selling price, plain, below 1. Source: common practice.

    >>> print(selling_price("8500 $", 0.15))
    10000.0 dollar
    """
    P = C / (1 - m)
    return P


@formula(
    "Price as offered",
    cite("common practice", "rounded up to a step of the builder's choice"),
    result("$", "price as offered"),
    P=arg("$", "price before rounding", low=0),
    step=arg("$", "step to which it is rounded up", above=0, symbol="Delta P"),
)
def offered_price(P, step):
    """Price rounded up to a step, such as $10. Source: common practice."""
    P_o = ceil(P / step) * step
    return P_o


def cents(money: Quantity) -> Decimal:
    """An amount of money rounded to the cent, half a cent upward, as a Decimal."""
    return to_cents(number_in(money, "$"))


def whole_cents(amounts: Any) -> np.ndarray:
    """An array of dollars rounded as ``cents`` rounds one: to the cent, half a cent upward."""
    return rounded_cents(amounts) / 100


def rounded_cents(amounts: Any) -> np.ndarray:
    """The same as whole numbers of cents."""
    found = np.asarray(np.multiply(amounts, 100))
    found.round(6, out=found)  # in place: four arrays for one would take three times as long
    found += 0.5
    return np.floor(found, out=found)


def dollars(amount: Decimal | float) -> Quantity:
    """An amount (Decimal or number of dollars) as a quantity of money."""
    return Q(float(amount), "$")
