"""Strength of plain concrete cast against soil: bending, shear, bearing.

ACI 318-19 chapter 14. Every strength holds its reduction factor phi already (0.60 since the 2008
code; older examples have 0.55), so it stands against a factored load. The thickness that counts is
the whole less 2 in. for the rough soil below.
"""

from numpy import maximum, minimum, sqrt

from calcbook.basis.formula import arg, cite, formula, result, root
from calcbook.basis.units import Q

_STRENGTH = arg("psi", "specified strength of the concrete", above=0, valid=(2500, 10000), digits=4)
_WIDTH = arg("in", "width of the section", above=0)
_DEPTH = arg("in", "thickness counted in strength", above=0, symbol="h_e")
_LIGHT = arg("1", "factor for lightweight concrete", above=0, high=1, symbol="lam")
_PHI = arg("1", "strength reduction factor", above=0, high=1)


@formula(
    "Effective thickness for strength",
    cite("ACI 318-19", "14.5.1.7"),
    result("in", "thickness counted in strength"),
    note="concrete cast against soil: the lowest 2 in. are not counted on",
    h=arg("in", "whole thickness", above=0),
    t_soil=arg("in", "thickness not counted on against soil", low=0),
)
def soil_deduction(h, t_soil=Q(2, "in")):
    """Thickness of a footing that counts in its strength: the whole less 2 in."""
    h_e = h - t_soil
    return h_e


@formula(
    "Design flexural strength of plain concrete",
    cite("ACI 318-19", "eq. 14.5.2.1a and Table 21.2.1"),
    result("lbf*in", "bending strength"),
    f_c=_STRENGTH,
    b=_WIDTH,
    h=_DEPTH,
    lam=_LIGHT,
    phi=_PHI,
)
def plain_moment_strength(f_c, b, h, lam=1.0, phi=0.60):
    """Design bending strength of a plain section.

    f_c: specified strength, psi, 2,500 and more; h: thickness that counts, in.
    (``soil_deduction``); lam: 1 for normal-weight concrete; phi: 0.60.
    """
    S_m = b * h**2 / 6
    M_n = 5 * lam * root(f_c) * S_m
    phiM_n = phi * M_n
    return phiM_n


@formula(
    "Design one-way shear strength of plain concrete",
    cite("ACI 318-19", "Table 14.5.5.1(a) and Table 21.2.1"),
    result("lbf", "one-way shear strength"),
    f_c=_STRENGTH,
    b=_WIDTH,
    h=_DEPTH,
    lam=_LIGHT,
    phi=_PHI,
)
def plain_one_way_shear_strength(f_c, b, h, lam=1.0, phi=0.60):
    """Design shear strength across the whole width. Returns lbf. Arguments as for bending."""
    V_n = 4 / 3 * lam * root(f_c) * b * h
    phiV_n = phi * V_n
    return phiV_n


@formula(
    "Design punching (two-way) shear strength of plain concrete",
    cite("ACI 318-19", "Table 14.5.5.1(b)(c) and Table 21.2.1"),
    result("lbf", "two-way shear strength"),
    note="the 2008 and 2011 codes print the upper limit as 2.66 in place of 2 × 4/3",
    f_c=_STRENGTH,
    b_o=arg("in", "perimeter of the critical section", above=0),
    h=_DEPTH,
    beta=arg("1", "long side of the post over its short side", low=1),
    lam=_LIGHT,
    phi=_PHI,
)
def plain_two_way_shear_strength(f_c, b_o, h, beta, lam=1.0, phi=0.60):
    """Design strength against punching of a post through a pad.

    b_o: perimeter half the counted thickness away from the post, in. The rest as for bending.
    """
    m = minimum(4 / 3 * (1 + 2 / beta), 2 * 4 / 3)
    V_n = m * lam * root(f_c) * b_o * h
    phiV_n = phi * V_n
    return phiV_n


@formula(
    "Design bearing strength of concrete under a post",
    cite("ACI 318-19", "14.5.6.1 and Table 21.2.1"),
    result("lbf", "bearing strength"),
    f_c=_STRENGTH,
    A_1=arg("in2", "loaded area under the post or its plate", above=0),
    A_2=arg("in2", "area of the pad's top, of like shape and center", above=0),
    phi=_PHI,
)
def plain_bearing_strength(f_c, A_1, A_2, phi=0.60):
    """Design strength of the concrete right under a post or base plate.

    A_2: widest area of like shape around it, in2. They count at most double.
    """
    m = minimum(sqrt(A_2 / A_1), 2)
    B_n = m * 0.85 * f_c * A_1
    phiB_n = phi * B_n
    return phiB_n


# --- the post and the concrete under it ------------------------------------------------------


@formula(
    "Total thickness",
    cite("geometry"),
    result("in", "whole thickness under the post"),
    note="pad and slab are placed together",
    t=arg("in", "slab thickness", low=0),
    d=arg("in", "depth of the pad below the slab", above=0),
)
def thickness_under_post(t, d):
    """Slab and pad together, when they are placed in one."""
    h = t + d
    return h


@formula(
    "Aspect ratio of a post",
    cite("geometry"),
    result("1", "long side over short side"),
    c_1=arg("in", "size of the post along L", above=0),
    c_2=arg("in", "size of the post along B", above=0),
)
def side_ratio(c_1, c_2):
    """How far a post is from square: 1 for a square one."""
    beta = maximum(c_1, c_2) / minimum(c_1, c_2)
    return beta


@formula(
    "Loaded area under a post",
    cite("geometry"),
    result("in2", "loaded area"),
    c_1=arg("in", "size of the post along L", above=0),
    c_2=arg("in", "size of the post along B", above=0),
)
def contact_area(c_1, c_2):
    """Loaded area under a post or its base plate."""
    A_1 = c_1 * c_2
    return A_1


@formula(
    "Supporting area for bearing",
    cite("ACI 318-19", "22.8.3.2"),
    result("in2", "area of like shape in the pad"),
    note="the load spreads 2 along for 1 down, in the shape of the post, and no wider than the pad",
    L=arg("in", "length of the pad", above=0),
    B=arg("in", "width of the pad", above=0),
    c_1=arg("in", "size of the post along L", above=0),
    c_2=arg("in", "size of the post along B", above=0),
    h=arg("in", "whole thickness under the post", above=0),
)
def spread_area(L, B, c_1, c_2, h):
    """Base of the largest frustum of the post's shape within the pad."""
    s_1 = minimum(L / c_1, B / c_2)
    s_2 = minimum((c_1 + 4 * h) / c_1, (c_2 + 4 * h) / c_2)
    m = maximum(minimum(s_1, s_2), 1)
    A_2 = c_1 * c_2 * m**2
    return A_2
