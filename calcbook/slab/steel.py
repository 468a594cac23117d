"""Steel in a slab on ground: subgrade drag, welded wire, bars, laps. On the plan: ``mesh.py``."""

from __future__ import annotations

from typing import TYPE_CHECKING

from numpy import maximum, pi

from calcbook.basis.coherent import root
from calcbook.basis.formula import FormulaError, arg, cite, formula, procedure, result
from calcbook.basis.table import lookup, table
from calcbook.basis.units import Q
from calcbook.job.wire import wire_style

if TYPE_CHECKING:
    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job

STEEL = arg("in2/ft", "steel area by width", low=0)
STYLES = tuple(row["style"] for row in table("wire"))
_MASS = Q(489.6, "lb/ft3")  # 3.40 lb for an inch square a foot long, as ASTM A615 rounds it


@formula(
    "Steel area by subgrade drag",
    cite("CRSI EDR 37", "subgrade drag"),
    result("in2/ft", "steel by subgrade drag"),
    note="it holds cracks closed; it neither prevents a crack nor adds to the strength",
    F=arg("1", "friction of the slab on its base", above=0, high=5, valid=(1.0, 2.5)),
    L=arg("ft", "distance between free joints", above=0, valid=(0, 100)),
    w=arg("psf", "weight of the slab, by area", above=0),
    f_s=arg("psi", "allowable steel stress", above=0, high=80000),
)
def drag_steel_area(F, L, w, f_s):
    """Steel to pull half a panel over its base when it shrinks. Returns in2 per foot of width.

    F: friction, 1.5 usual; L: distance between joints that are free to open, ft; f_s: allowable
    stress: 2/3 f_y by CRSI, 0.75 f_y by WRI and ACI 360R.

    >>> print(drag_steel_area(1.5, "40 ft", "62.5 psf", "40000 psi"))
    0.04688 inch ** 2 / foot
    """
    A_s = F * L * w / (2 * f_s)
    return A_s


@formula(
    "Allowable steel stress",
    cite("CRSI EDR 37", "two thirds of the yield strength"),
    result("psi", "allowable steel stress"),
    f_y=arg("psi", "yield strength", above=0, high=100000),
    share=arg("1", "share of the yield strength", above=0, high=0.75),
)
def steel_stress(f_y, share=2 / 3):
    """Allowable stress of steel that drags a slab: share of f_y."""
    f_s = share * f_y
    return f_s


@formula(
    "Steel area per width of slab",
    cite("geometry"),
    result("in2/ft", "steel area by width"),
    A_b=arg("in2", "area of one wire or bar", above=0),
    s=arg("in", "spacing", above=0),
)
def steel_by_width(A_b, s):
    """Area A_b of one wire or bar at spacing s, by width of slab."""
    A_s = A_b / s
    return A_s


@procedure(
    "Steel area of welded wire",
    cite("Concrete Construction 1975", "wire number is its area in hundredths of a square inch"),
    "the wire number over 100 is the area of one wire; over its spacing it is the area by width",
    returns=result("in2/ft", "steel area by width"),
    style=arg("1", "style of welded wire", choices=STYLES),
)
def wire_area(style: str) -> Quantity:
    """Steel area of welded wire each way. style: such as 6x6-W2.9xW2.9. Returns in2/ft."""
    s, _, A_w, _ = wire_style(style)
    return steel_by_width(A_w, s)


@formula(
    "Mass of welded wire",
    cite("derived wire rule", "reproduces the printed table within 1.1 lb per 100 ft2, at most 3.4 %"),
    result("lb/ft2", "mass of welded wire, by area"),
    note="one wire more than spaces across the sheet, and cross wires that stick out: 7 % that is easily missed",
    A_w=arg("in2", "area of one wire", above=0),
    s=arg("in", "spacing of the wires", above=0),
    A_t=arg("in2", "area of one cross wire", above=0),
    s_t=arg("in", "spacing of the cross wires", above=0),
    b=arg("in", "width between the outer wires", above=0),
    e=arg("in", "cross wire beyond the outer wire", low=0),
    rho=arg("lb/ft3", "mass of steel by volume", above=0),
)
def wire_mass(A_w, s, A_t, s_t, b=Q(60, "in"), e=Q(1, "in"), rho=_MASS):
    """Mass of welded wire by area, from A_w, s (wires), A_t, s_t (cross wires).

    e: how far cross wires stick out.
    """
    m = rho * (A_w * (b / s + 1) / b + A_t * (b + 2 * e) / (s_t * b))
    return m


@procedure(
    "Mass of a style of welded wire",
    cite("derived wire rule", "reproduces the printed table within 1.1 lb per 100 ft2, at most 3.4 %"),
    "the style is read and wire_mass adds the wires of a sheet five feet wide, edge wire and overhang included",
    returns=result("lb/ft2", "mass by area"),
    style=arg("1", "style of welded wire", choices=STYLES),
)
def wire_weight(style: str) -> Quantity:
    """Mass of welded wire by area. style: such as 6x6-W2.9xW2.9. Returns lb/ft2."""
    s, s_t, A_w, A_t = wire_style(style)
    return wire_mass(A_w, s, A_t, s_t)


@procedure(
    "Area of a bar",
    cite("ASTM A615", "Table 1"),
    "looked up in the table of standard bars, whose areas are rounded to hundredths",
    returns=result("in2", "area of the bar"),
    size=arg("1", "size of the bar", choices=tuple(row["size"] for row in table("bars"))),
)
def bar_area(size: str) -> Quantity:
    """Nominal area of a bar. size: "#3" to "#8". Returns square inches."""
    try:
        return Q(lookup("bars", size=size)["area_in2"], "in2")
    except KeyError as error:
        raise FormulaError(f"bar_area: {error.args[0]}") from None


@formula(
    "Area of a round bar or wire",
    cite("geometry"),
    result("in2", "area"),
    d=arg("in", "diameter", above=0),
)
def round_area(d):
    """Area of a round bar or wire, a circle of diameter d (in.)."""
    A = pi * d**2 / 4
    return A


@formula(
    "Lap of plain welded wire",
    cite("ACI 318-19", "25.5.4.1"),
    result("in", "lap between outer cross wires"),
    s_t=arg("in", "spacing of the cross wires", above=0),
    l_d=arg("in", "development length", low=0),
    extra=arg("in", "added to the spacing", low=0),
    least=arg("in", "least lap", low=0),
)
def mesh_lap(s_t, l_d=Q(0, "in"), extra=Q(2, "in"), least=Q(6, "in")):
    """Lap of plain wire sheets that work at full stress."""
    l_s = maximum(maximum(s_t + extra, 1.5 * l_d), least)
    return l_s


@formula(
    "Development length of deformed bars",
    cite(
        "ACI 318-19 from memory", "25.4.2, at least 12 in.; no factor below 1 for small bars is taken"
    ),
    result("in", "development length"),
    note="bars at least two diameters apart and one diameter from the surface, uncoated, not over 12 in. of fresh "
    "concrete, normal-weight concrete",
    f_y=arg("psi", "yield strength", above=0, high=80000),
    f_c=arg("psi", "concrete strength", above=0, high=10000),
    d_b=arg("in", "bar diameter", above=0, high=0.75),
    l_min=arg("in", "least development length", low=0),
)
def development_length(f_y, f_c, d_b, l_min=Q(12, "in")):
    """Length in which a bar takes up its full strength."""
    l_d = maximum(f_y * d_b / (25 * root(f_c)), l_min)
    return l_d


@formula(
    "Lap splice in tension, class B",
    cite("ACI 318-19 from memory", "Table 25.5.2.1, class B"),
    result("in", "lap of two bars"),
    l_d=arg("in", "development length", above=0),
    l_min=arg("in", "least lap", low=0),
)
def lap_splice(l_d, l_min=Q(12, "in")):
    """Lap of bars that are all spliced at one place or work at their full strength."""
    l_st = maximum(1.3 * l_d, l_min)
    return l_st


def steel_layer(job: Job, kind: str) -> tuple[Quantity, Quantity]:
    """(area by width, yield strength) of the job's mesh or bars."""
    chosen = job.reinforcement
    if kind == "mesh":
        return wire_area(chosen.wire), chosen.mesh_yield
    return steel_by_width(bar_area(chosen.bar), chosen.bar_spacing), chosen.bar_yield
