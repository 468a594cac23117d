"""Sill bolts: stick-up and length, spacing for uplift and shear, and places along a plate."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING, Any

from numpy import maximum, minimum

from calcbook.basis.formula import arg, cite, formula, procedure, result
from calcbook.basis.rounding import ceil
from calcbook.basis.table import lookup
from calcbook.basis.units import Q
from calcbook.bolts.layout import lay_out
from calcbook.plan.tape import Block, Rules, to_steps

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.sources import Citation
    from calcbook.basis.units import Quantity
    from calcbook.plan.tape import Layout

_L = {"above": 0, "high": 600}


@formula(
    "Projection of a sill bolt above the concrete (stick-up)",
    cite("geometry", "what stands on the concrete, from below"),
    result("in", "stick-up above the concrete"),
    plies=arg("1", "plies of the plate", low=1, high=3),
    t_ply=arg("in", "thickness of a ply", above=0, high=6),
    t_washer=arg("in", "thickness of the washers", low=0, high=2),
    t_nut=arg("in", "thickness of the nut", above=0, high=3),
    spare=arg("in", "thread above the nut", low=0, high=6, symbol="t_spare"),
    t_seal=arg("in", "sill seal, pressed", low=0, high=2),
)
def bolt_stick_up(
    plies=1.0,
    t_ply=Q(1.5, "in"),
    t_washer=Q(0.229, "in"),
    t_nut=Q(0.4375, "in"),
    spare=Q(0.5, "in"),
    t_seal=Q(0, "in"),
):
    """Height of a bolt's top above the concrete.

    t_ply, t_washer, t_nut, t_seal: thicknesses. Source: geometry.
    """
    h_s = t_seal + plies * t_ply + t_washer + t_nut + spare
    return h_s


@formula(
    "Bolt length to buy",
    cite("common practice", "rounded up to a length that is sold"),
    result("in", "length of bolt to buy"),
    h_ef=arg("in", "embedment wanted", above=0, high=60),
    h_s=arg("in", "stick-up", low=0, high=60),
    step=arg("in", "step of the lengths sold", above=0, high=12, symbol="Delta L"),
)
def bolt_length(h_ef, h_s, step=Q(2, "in")):
    """Straight length of a bolt, rounded up to a length that is sold.

    The hook of an L-bolt is not in it. Source: common practice.
    """
    L_b = ceil((h_ef + h_s) / step) * step
    return L_b


@formula(
    "Embedment depth",
    cite("geometry"),
    result("in", "embedment in the concrete"),
    L_b=arg("in", "length of the bolt", above=0),
    h_s=arg("in", "stick-up", low=0),
)
def embedment_left(L_b, h_s):
    """Embedment of a bolt that is set at its mark.

    Source: geometry.
    """
    h_ef = L_b - h_s
    return h_ef


@formula(
    "Spacing for uplift",
    cite("mechanics", "each bolt holds its length of wall"),
    result("in", "spacing for uplift"),
    T=arg("lbf", "uplift that one bolt holds", above=0),
    w=arg("plf", "uplift on the wall", above=0),
)
def spacing_for_uplift(T, w):
    """Greatest spacing at which the bolts hold the uplift of a wall.

    T: allowable uplift of one bolt; w: uplift by length of wall, at the same load level. Source:
    statics.

    >>> print(spacing_for_uplift("2400 lbf", "450 plf"))
    64.0 inch
    """
    s_u = T / w
    return s_u


@formula(
    "Spacing for shear",
    cite("mechanics", "each bolt holds its length of wall"),
    result("in", "spacing for shear"),
    Z=arg("lbf", "shear that one bolt holds", above=0),
    v=arg("plf", "shear on the wall", above=0),
)
def spacing_for_shear(Z, v):
    """Greatest spacing at which the bolts hold the shear of a wall.

    Z: allowable shear of one bolt; v: shear by length of wall, at the same load level. Source:
    statics.
    """
    s_v = Z / v
    return s_v


@formula(
    "Spacing for uplift and shear together",
    cite("ACI 318-19", "Eq. 17.8.3, with both loads growing with the spacing"),
    result("in", "spacing for uplift and shear together"),
    s_u=arg("in", "spacing for uplift alone", above=0),
    s_v=arg("in", "spacing for shear alone", above=0),
)
def spacing_for_both(s_u, s_v):
    """Greatest spacing at which uplift and shear together use at most 1.2.

    Returns a length, never more than either: where one of the two shares is at most 0.2, the other
    alone governs. Source: ACI 318-19 17.8.
    """
    s_b = minimum(minimum(1.2 / (1 / s_u + 1 / s_v), s_u), s_v)
    return s_b


@formula(
    "Edge distance of a bolt in the middle third of its plate",
    cite("IRC R403.1.6", "bolts in the middle third of the plate's width"),
    result("in", "distance from the middle of the plate"),
    c_a1=arg("in", "edge distance of the bolt", above=0),
    i_p=arg("in", "outer face of the plate, from the slab's edge", low=0),
    b_p=arg("in", "width of the plate", above=0),
)
def off_middle(c_a1, i_p, b_p):
    """How far a bolt is from the middle of its plate; the middle third reaches a sixth of the width.

    Source: IRC R403.1.6.
    """
    e_p = maximum(c_a1 - i_p - b_p / 2, i_p + b_p / 2 - c_a1)
    return e_p


@formula(
    "Cross-grain bending of a sill plate",
    cite("mechanics", "a cantilever from the washer's edge to the sheathed face"),
    result("psi", "bending stress across the grain"),
    note="wood has no design value for it; the standard asks that it be avoided",
    u=arg("plf", "net uplift that the sheathing brings to the plate's edge", low=0),
    c=arg("in", "from the washer's edge to the sheathed edge", low=0),
    t_p=arg("in", "thickness of the plate", above=0),
)
def cross_grain_bending(u, c, t_p):
    """Stress that splits a plate along its bolts when sheathing at one face pulls it up."""
    f_t = 6 * u * c / t_p**2
    return f_t


@formula(
    "Cost of bolts, with those that must be done again",
    cite("common practice"),
    result("$", "expected cost of the bolts"),
    n=arg("1", "bolts", low=0),
    c_1=arg("$", "material for one", low=0),
    r=arg("1/h", "set by one person in an hour", above=0),
    wage=arg("$/h", "a person-hour", low=0, symbol="W"),
    n_miss=arg("1", "bolts that must be done again", low=0),
    c_fix=arg("$", "material to replace one", low=0),
    r_fix=arg("1/h", "replaced by one person in an hour", above=0),
)
def expected_cost(n, c_1, r, wage, n_miss, c_fix, r_fix):
    """Expected cost of a number of bolts, labor and replacements in it.

    Source: common practice.
    """
    C = n * (c_1 + wage / r) + n_miss * (c_fix + wage / r_fix)
    return C


@formula(
    "Material of one drilled bolt",
    cite("common practice"),
    result("$", "material of one drilled bolt"),
    p_r=arg("$", "rod with washer and nut", low=0),
    p_k=arg("$", "cartridge", low=0),
    V_1=arg("in3", "adhesive for one hole", low=0),
    V_k=arg("fl_oz", "content of a cartridge", above=0),
)
def hole_material(p_r, p_k, V_1, V_k):
    """Cost of rod and adhesive for one hole.

    p_r, p_k: prices of a rod and of a cartridge; V_1: adhesive for one hole, waste in it. Source:
    common practice.
    """
    c_r = p_r + p_k * V_1 / V_k
    return c_r


@procedure(
    "Places of bolts along a plate",
    cite("IRC R403.1.6"),
    "The fewest bolts, at least two in each piece of plate, with the outer ones within the end distances and "
    "neighbors no farther apart than the spacing; places are whole sixteenths of an inch.",
    length=arg("ft", "length of the wall", **_L),
    spacing=arg("in", "greatest spacing", **_L),
    end_min=arg("in", "least distance from the end of a piece", **_L),
    end_max=arg("in", "greatest distance from the end of a piece", **_L),
)
def bolt_positions(
    length: Quantity, spacing: Quantity, end_min: Quantity=Q(3.5, "in"), end_max: Quantity=Q(12, "in"), splices: Sequence[Quantity]=(), openings: Sequence[tuple[Quantity, Quantity]]=(), obstacles: Sequence[tuple[Quantity, Quantity, str]]=(), least: Quantity=Q(2, "in"),
    system: str="us",
) -> Layout:  # fmt: skip
    """Places of the bolts of a wall.

    length: of the wall; spacing: the most between neighbours; end_min, end_max: of the outer bolts from
    the ends of their piece; splices: joints of the plate; openings: (start, end) where there is no plate;
    obstacles: (from, to, name) that a bolt's centre must keep out of; least: between neighbours (all
    lengths from the wall's start); system: "us" for 1/16 in., "si" for 1 mm. Returns a Layout, whose
    ``problems`` name each piece that cannot be bolted and the rule. Source: IRC R403.1.6.
    """
    total = to_steps(length, system)
    rules = Rules(
        to_steps(spacing, system, up=False), to_steps(least, system, up=True), to_steps(end_max, system, up=False),
        to_steps(end_min, system, up=True), system,
    )  # fmt: skip
    ends = {0, total, *(to_steps(s, system) for s in splices)}
    gaps = [(to_steps(a, system), to_steps(b, system)) for a, b in openings]
    cuts = sorted(ends | {c for gap in gaps for c in gap if 0 <= c <= total})
    pieces = [
        (a, b)
        for a, b in itertools.pairwise(cuts)
        if not any(low <= a and b <= high for low, high in gaps)
    ]
    blocks = [
        Block(to_steps(a, system, up=False), to_steps(b, system, up=True), name)
        for a, b, name in obstacles
    ]
    return lay_out(pieces, blocks, rules)


def sill_rule(rule: str, diameter: Quantity | None = None) -> tuple[Any, Citation, str]:
    """A rule of tables/sill_rules.csv: (value as a quantity, citation, words).

    diameter: bolt diameter, for rules that are told in diameters.
    """
    row = lookup("sill_rules", rule=rule)
    plain = row["unit"] in (1.0, "1")
    value = diameter * row["value"] if plain and diameter is not None else row["value"]
    return value if plain else Q(row["value"], row["unit"]), row["source"], row["note"]


def sentence(words: str) -> str:
    """Words of a table as a sentence."""
    return f"{words[0].upper()}{words[1:].rstrip('.')}."
