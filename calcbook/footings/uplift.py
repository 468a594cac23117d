"""What holds a wall down: the edge's weight, as much slab as its own bending lets it lift, and the edge as a beam."""

from __future__ import annotations

from numpy import sqrt

from calcbook.basis.formula import arg, cite, formula, result
from calcbook.basis.units import Q
from calcbook.footings.footing import CONCRETE_WEIGHT

_SHARE = arg("1", "factor on dead load", above=0, high=1)


@formula(
    "Section of a thickened edge",
    cite("geometry", "slab, edge and its slope"),
    result("ft2", "area of the edge's section"),
    t=arg("in", "slab thickness", above=0),
    d=arg("in", "depth of the edge below the slab", low=0),
    b=arg("in", "width of the edge at its bottom", above=0),
    m=arg("1", "slope of its inner side, run per rise", low=0, high=4),
)
def edge_section(t, d, b, m=0.0):
    """Concrete of an edge across its length, the slab over it and its slope counted."""
    A_e = (t + d) * b + m * d**2 / 2
    return A_e


@formula(
    "Weight of a thickened edge",
    cite("mechanics"),
    result("plf", "weight of the edge"),
    A_e=arg("ft2", "area of its section", above=0),
    gamma_c=CONCRETE_WEIGHT,
)
def edge_weight(A_e, gamma_c=Q(150, "pcf")):
    """Weight of an edge by length."""
    w_e = gamma_c * A_e
    return w_e


@formula(
    "Width of slab lifted, by its flexural strength",
    cite("mechanics", "a cantilever of its own weight, top in tension, plain concrete"),
    result("ft", "slab lifted beside the edge"),
    note="factored: its strength against 0.9 of its weight; 2 in. of its thickness are not counted, as it is cast "
    "against the ground; no tension is taken across a joint",
    phiM_n=arg("lbf*in", "bending strength of a strip", above=0),
    q_s=arg("psf", "weight of the slab by area", above=0),
    b=arg("in", "width of the strip", above=0),
    g_D=_SHARE,
)
def lifted_slab(phiM_n, q_s, b=Q(12, "in"), g_D=0.9):
    """How far from the edge the slab can be lifted by it before it breaks.

    phiM_n: bending strength of a strip b wide, lbf in.
    """
    L_s = sqrt(2 * phiM_n / (g_D * q_s * b))
    return L_s


@formula(
    "Uplift resistance under a wall",
    cite("FEMA P-55", "60 percent of the dead load against uplift"),
    result("plf", "what holds the wall down"),
    w_e=arg("plf", "weight of the edge", low=0),
    q_s=arg("psf", "weight of the slab by area", low=0),
    L_s=arg("ft", "slab lifted beside the edge", low=0),
    g_D=_SHARE,
)
def hold_of_edge(w_e, q_s, L_s, g_D=0.6):
    """Edge and slab beside it that count against the uplift of a wall, by its length.

    g_D: 0.6 at service, 0.9 at strength level.
    """
    R = g_D * (w_e + q_s * L_s)
    return R


@formula(
    "Length of edge that one uplift mobilizes",
    cite("mechanics", "weight that is left over, on both sides of the lift"),
    result("ft", "length of edge lifted"),
    P=arg("lbf", "lift at a jamb", low=0),
    r=arg("plf", "weight left over by length", above=0),
)
def lifted_length(P, r):
    """How long an edge a jamb lifts, half to each side."""
    l_e = P / r
    return l_e


@formula(
    "Negative bending moment in a lifted edge",
    cite("mechanics", "one lift in the middle of a beam under its even weight"),
    result("lbf*in", "moment in the edge, top in tension"),
    P=arg("lbf", "lift, strength level", low=0),
    l_e=arg("ft", "length of edge lifted", low=0),
)
def lift_moment(P, l_e):
    """Moment of an edge over the jamb that lifts it."""
    M_u = P * l_e / 8
    return M_u


@formula(
    "Overturning moment of a shear wall",
    cite("mechanics", "about the lee end of the wall"),
    result("lbf*in", "overturning moment"),
    v=arg("plf", "shear by length of wall, service level", low=0),
    L=arg("ft", "length of the wall", above=0),
    h=arg("ft", "height of the wall", above=0),
)
def overturning_moment(v, L, h):
    """What the shear at the top of a wall turns wall and edge by."""
    M_o = v * L * h
    return M_o


@formula(
    "Righting moment of a wall and its edge",
    cite("mechanics", "about the lee end of the wall"),
    result("lbf*in", "righting moment"),
    r=arg("plf", "weight that is left over by length, uplift taken off", low=0),
    L=arg("ft", "length of the wall", above=0),
)
def righting_moment(r, L):
    """What the weight left over holds against turning, all along the wall."""
    M_r = r * L**2 / 2
    return M_r


@formula(
    "Moment in an edge lifted near its end",
    cite("mechanics", "a beam under its even weight, lifted near one end"),
    result("lbf*in", "moment in the edge, bottom in tension"),
    note="beyond the lift the short end holds by half of its own weight at most; this counts for a corner too",
    P=arg("lbf", "lift, strength level", low=0),
    l_e=arg("ft", "length of edge that weighs as much", above=0),
    a=arg("ft", "from the lift to the end of the edge", low=0),
)
def end_lift_moment(P, l_e, a=Q(0, "ft")):
    """Moment of an edge that ends beside its lift, at a joint or where no edge goes on: twice l_e of it leaves the ground.

    a: no more than l_e, beyond which both sides share the lift and ``lift_moment`` counts.
    """
    M_u = P * l_e / 2 * (1 - a / (2 * l_e)) ** 2
    return M_u


@formula(
    "Eccentric moment on a thickened edge",
    cite("mechanics"),
    result("lbf*in", "moment that turns the edge, one foot of it"),
    P=arg("lbf", "load of one foot of wall", low=0),
    e=arg("in", "offset of the wall", low=0),
)
def turning_moment(P, e):
    """What a wall off the middle turns its edge by, one foot of it."""
    M_t = P * e
    return M_t


@formula(
    "Sliding resistance by friction",
    cite("mechanics", "weight times friction"),
    result("lbf", "resistance to sliding"),
    mu=arg("1", "friction of concrete on the ground", above=0, high=1),
    D=arg("lbf", "dead load of building, slab and edges", low=0),
    U=arg("lbf", "wind upward at service level", low=0),
    g_D=_SHARE,
)
def sliding_resistance(mu, D, U=Q(0, "lbf"), g_D=0.6):
    """What friction holds against the wind that pushes the whole building.

    U: uplift of the same wind, lbf.
    """
    F = mu * (g_D * D - U)
    return F
