"""Fiber in a slab: how much, what it carries after a crack, and how it compares with steel.

A fiber is worth what its maker's ASTM C1609 tests say at the dosage used, and nothing else.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from numpy import maximum

from calcbook.basis.formula import arg, cite, formula, procedure, result
from calcbook.basis.rounding import ceil
from calcbook.basis.units import Q
from calcbook.slab.steel import STEEL

if TYPE_CHECKING:
    from calcbook.basis.units import Quantity

_DEPTH = arg("in", "slab thickness", above=0)
_BAND = arg("in", "width of slab looked at", above=0)
_RUPTURE = arg("psi", "modulus of rupture", above=0)
_PERCENT = arg(
    "1",
    "equivalent strength ratio, in percent (30 for 30 %)",
    low=1,
    high=300,
    symbol="R_e_3",
)


@formula(
    "Fiber for the pour",
    cite("common practice", "dosage by volume"),
    result("lb", "mass of fiber"),
    V=arg("yd3", "concrete ordered", above=0),
    dosage=arg("lb/yd3", "dosage", above=0, high=200, symbol=r"D"),
)
def fiber_weight(V, dosage):
    """Mass of fiber: dosage for each cubic yard of V."""
    m = V * dosage
    return m


@formula(
    "Bags of fiber",
    cite("common practice", "whole bags"),
    result("bag", "bags of fiber"),
    m=arg("lb", "mass of fiber", above=0),
    m_bag=arg("lb", "mass in a bag", above=0),
    one=arg("bag", "one bag", above=0),
)
def fiber_bags(m, m_bag, one=Q(1, "bag")):
    """Whole bags for a mass m of fiber in bags of m_bag; one: the unit of sale."""
    n = ceil(m / m_bag) * one
    return n


@formula(
    "Flexural strength in the beam test (residual strength ratio)",
    cite("ASTM C1609", "third-point loading"),
    result("psi", "flexural strength in the test"),
    P=arg("lbf", "load", above=0),
    L=arg("in", "span", above=0),
    b=arg("in", "width of the beam", above=0),
    d=arg("in", "depth of the beam", above=0),
)
def c1609_strength(P, L, b, d):
    """First-peak or residual strength of a test beam."""
    f = P * L / (b * d**2)
    return f


@formula(
    "Cracking moment",
    cite("mechanics"),
    result("lbf*in", "cracking moment"),
    f_r=_RUPTURE,
    b=_BAND,
    h=_DEPTH,
)
def cracking_moment(f_r, b, h):
    """Moment at which the slab cracks."""
    M_cr = f_r * b * h**2 / 6
    return M_cr


@formula(
    "Residual moment strength after cracking",
    cite("ACI 360R-10", "chapter 11"),
    result("lbf*in", "residual moment"),
    note="this is the part after the crack alone; the sum with the uncracked part is the next formula",
    f_r=_RUPTURE,
    R_e3=_PERCENT,
    b=_BAND,
    h=_DEPTH,
)
def residual_moment_strength(f_r, R_e3, b, h):
    """Moment that fiber carries across a crack.

    R_e3: equivalent strength ratio in percent, from the maker.
    """
    M_p = R_e3 / 100 * f_r * b * h**2 / 6
    return M_p


@formula(
    "Sum of the moments at collapse",
    cite("ACI 360R-10", "chapter 11"),
    result("lbf*in", "positive and negative moment together"),
    note="cracked at the bottom (residual) plus uncracked at the top: the sum, not the residual moment",
    f_r=_RUPTURE,
    R_e3=_PERCENT,
    b=_BAND,
    h=_DEPTH,
)
def collapse_moment(f_r, R_e3, b, h):
    """Residual plus cracking moment, for yield lines."""
    M_o = (1 + R_e3 / 100) * f_r * b * h**2 / 6
    return M_o


@formula(
    "Collapse load inside a fiber slab",
    cite("ACI 360R-10", "chapter 11, after Meyerhof"),
    result("lbf", "collapse load"),
    note="inside, a point load breaks yield lines at 2 pi M_o, and 6 lies below; at an edge they break at pi M_o or less, and at "
    "a corner, where only the top cracks, at twice the top moment alone: 3.5 and 2 lie above, so ask the engineer there; "
    "how the load grows with the wheel is remembered",
    M_o=arg("lbf*in/in", "sum of moments by width", above=0),
    a=arg("in", "radius of the loaded circle", above=0),
    l=arg("in", "radius of relative stiffness", above=0),
    c_0=arg("1", "6 inside, 3.5 at an edge, 2 at a corner", above=0),
    c_1=arg("1", "2 inside, 3 at an edge, 4 at a corner", above=0),
)
def fiber_collapse_load(M_o, a, l, c_0=6.0, c_1=2.0):  # noqa: E741
    """Load at which yield lines form; to be divided by a safety factor."""
    P = c_0 * (1 + c_1 * a / l) * M_o
    return P


@formula(
    "Residual tension of fiber concrete",
    cite("ACI 544.4R-18", "0.37 of the residual flexural strength"),
    result("lbf", "residual tension"),
    f_e3=arg("psi", "residual flexural strength", above=0),
    b=_BAND,
    h=_DEPTH,
    factor=arg("1", "tension over flexural strength", above=0, high=1),
)
def residual_tension(f_e3, b, h, factor=0.37):
    """Pull that fiber carries across a crack through the slab."""
    T = factor * f_e3 * b * h
    return T


@formula(
    "Residual strength that matches steel in bending",
    cite("ACI 544.4R-18", "equal moment"),
    result("psi", "residual strength for equal moment"),
    A_s=STEEL,
    f_y=arg("psi", "yield strength", above=0, high=100000),
    d=arg("in", "depth of the steel from the compressed face", above=0),
    h=_DEPTH,
    f_c=arg("psi", "specified strength of the concrete", above=0, digits=4),
    b=_BAND,
)
def equivalent_in_bending(A_s, f_y, d, h, f_c, b=Q(12, "in")):
    """Residual flexural strength whose moment equals that of a layer of steel."""
    T = A_s * b * f_y
    a = T / (0.85 * f_c * b)
    M_n = T * (d - a / 2)
    f_150 = 6 * M_n / (b * h**2)
    return f_150


@formula(
    "Residual strength that matches steel in tension",
    cite("ACI 544.4R-18", "equal tension"),
    result("psi", "residual strength for equal tension"),
    A_s=STEEL,
    f_y=arg("psi", "yield strength", above=0, high=100000),
    h=_DEPTH,
    factor=arg("1", "tension over flexural strength", above=0, high=1),
)
def equivalent_in_tension(A_s, f_y, h, factor=0.37):
    """Residual flexural strength whose tension equals that of a layer of steel."""
    f_150 = A_s * f_y / (factor * h)
    return f_150


@procedure(
    "Residual strength that matches a layer of steel",
    cite("ACI 544.4R-18", "equal moment and equal tension"),
    "the larger of equivalent_in_bending and equivalent_in_tension: fiber must match the steel both ways",
    returns=result("psi", "residual strength by ASTM C1609"),
    A_s=STEEL,
    f_y=arg("psi", "yield strength", above=0, high=100000),
    d=arg("in", "depth of the steel from the compressed face", above=0),
    h=_DEPTH,
    f_c=arg("psi", "specified strength of the concrete", above=0),
)
def equivalent_wire(A_s: Quantity, f_y: Quantity, d: Quantity, h: Quantity, f_c: Quantity) -> Quantity:
    """Residual strength f_150 that a fiber needs to stand in for steel. Returns psi.

    A_s: steel, in2/ft; f_y: psi; d: its depth, in.; h: slab thickness, in.; f_c: psi.
    """
    return maximum(equivalent_in_bending(A_s, f_y, d, h, f_c), equivalent_in_tension(A_s, f_y, h))
