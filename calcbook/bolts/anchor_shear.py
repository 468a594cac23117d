"""Anchors in shear, by ACI 318-19 17.7 and 17.8: steel, breakout, pryout, and shear with tension."""

from __future__ import annotations

from typing import TYPE_CHECKING

from numpy import maximum, minimum, sqrt

from calcbook.basis.formula import arg, choice, cite, formula, number, result, with_unit
from calcbook.basis.inline import inline
from calcbook.basis.units import Q
from calcbook.bolts.anchors import COUNT, CRACK, D_A, F_C, H_EF, LAM

if TYPE_CHECKING:
    from calcbook.basis.units import Quantity

_FRONT = {
    "c_a1": arg("in", "distance to the edge that breaks out", above=0),
    "c_2": arg("in", "side edge distance, one way", above=0),
    "c_3": arg("in", "side edge distance, other way", above=0),
    "h_a": arg("in", "depth of the concrete at the edge", above=0),
    "s_2": arg("in", "extent of the group along the edge", low=0),
    "n": COUNT,
    "psi_c": CRACK,
    "e_V": arg("in", "eccentricity of the shear on the group", low=0),
}


@formula(
    "Shear strength of the bolt steel",
    cite("ACI 318-19", "17.7.1.2"),
    result("lbf", "steel strength in shear"),
    A_se=arg("in2", "stress area", above=0),
    f_uta=arg("psi", "tensile strength that counts", above=0, high=125000),
    k_V=arg("1", "0.6 bolts, 1 welded studs", low=0.6, high=1),
    k_g=arg("1", "0.8 on a grout pad, else 1", low=0.8, high=1),
)
def steel_shear(A_se, f_uta, k_V=0.6, k_g=1.0):
    """Nominal strength of one bolt's steel in shear.

    f_uta: tensile strength, at most 125,000 psi; k_V: 0.6 for bolts, hooked bolts and drilled rods,
    1 for welded studs. Source: ACI 318-19 17.7.1.2.
    """
    V_sa = k_V * k_g * A_se * f_uta
    return V_sa


@formula(
    "Basic concrete breakout strength in shear",
    cite("ACI 318-19", "17.7.2.2.1"),
    result("lbf", "basic breakout strength in shear"),
    f_c=F_C,
    d_a=D_A,
    h_ef=H_EF,
    c_a1=arg("in", "distance to the edge that breaks out", above=0),
    k_b=arg("1", "7, or 8 for studs welded to a rigid plate", low=7, high=8),
    lam=LAM,
    shows={"V_1": "lbf", "V_2": "lbf"},
)
def basic_breakout_shear(f_c, d_a, h_ef, c_a1, k_b=7.0, lam=1.0):
    """Breakout strength of one anchor in shear towards an edge, in cracked, deep concrete.

    h_ef: embedment (counts up to 8 diameters). Source: ACI 318-19 Eq. 17.7.2.2.1a and 1b, the
    smaller.
    """
    l_e = minimum(h_ef, 8 * d_a)
    r_e = number(l_e / d_a, "1")
    V_1 = with_unit(
        k_b * r_e**0.2 * sqrt(number(d_a, "in")) * lam * sqrt(number(f_c, "psi")) * number(c_a1, "in") ** 1.5,
        "lbf", f_c,
    )  # fmt: skip
    V_2 = with_unit(9 * lam * sqrt(number(f_c, "psi")) * number(c_a1, "in") ** 1.5, "lbf", f_c)
    V_b = minimum(V_1, V_2)
    return V_b


@formula(
    "Concrete breakout strength in shear, without the side-edge factor",
    cite("ACI 318-19", "17.7.2.1, 17.7.2.3, 17.7.2.5 and 17.7.2.6"),
    result("lbf", "breakout strength in shear, with no side edge near"),
    V_b=arg("lbf", "basic breakout strength in shear", above=0),
    **_FRONT,
    shows={"A_Vc": "in2", "A_Vco": "in2"},
)
def breakout_shear_front(V_b, c_a1, c_2, c_3, h_a, s_2=Q(0, "in"), n=1.0, psi_c=1.0, e_V=Q(0, "in")):
    """What breakout towards the edge and along it have in common: all but the factor of the side edges.

    V_b: from ``basic_breakout_shear``; c_2, c_3: side edge distances (each counts up to 1.5 c_a1);
    s_2: extent of the group along the edge (0 for one bolt; neighbours at most 3 c_a1 apart);
    psi_c: 1.4 uncracked, else 1. Source: ACI 318-19 17.7.2.1.
    """
    c = 1.5 * c_a1
    A_Vco = 4.5 * c_a1**2
    b_V = minimum(c_2, c) + s_2 + minimum(c_3, c)
    A_Vc = minimum(b_V * minimum(c, h_a), n * A_Vco)
    psi_h = maximum(sqrt(c / h_a), 1)
    psi_ec = 1 / (1 + e_V / c)
    V_f = A_Vc / A_Vco * psi_ec * psi_c * psi_h * V_b
    return V_f


@inline
@formula(
    "Concrete breakout strength in shear, toward the edge",
    cite("ACI 318-19", "17.7.2.1, 17.7.2.3 to 17.7.2.6"),
    result("lbf", "breakout strength in shear towards the edge"),
    V_b=arg("lbf", "basic breakout strength in shear", above=0),
    **_FRONT,
    shows={"A_Vc": "in2", "A_Vco": "in2"},
)
def breakout_shear_towards(V_b, c_a1, c_2, c_3, h_a, s_2=Q(0, "in"), n=1.0, psi_c=1.0, e_V=Q(0, "in")):
    """Nominal breakout strength of one bolt, or a row along the edge, sheared towards the edge.

    V_b, c_a1, c_2, c_3, h_a, s_2, n, psi_c, e_V: as for ``breakout_shear_front``. Source: ACI
    318-19 17.7.2.1 and, for the side edges, 17.7.2.4.
    """
    V_f = breakout_shear_front.body(V_b, c_a1, c_2, c_3, h_a, s_2, n, psi_c, e_V)
    psi_ed = minimum(0.7 + 0.3 * minimum(c_2, c_3) / (1.5 * c_a1), 1)
    V_cb = psi_ed * V_f
    return V_cb


@inline
@formula(
    "Concrete breakout strength in shear, along the edge",
    cite("ACI 318-19", "17.7.2.1(c), twice that towards the edge, without the side factor"),
    result("lbf", "breakout strength in shear along the edge"),
    V_b=arg("lbf", "basic breakout strength in shear", above=0),
    **_FRONT,
    shows={"A_Vc": "in2", "A_Vco": "in2"},
)
def breakout_shear_along(V_b, c_a1, c_2, c_3, h_a, s_2=Q(0, "in"), n=1.0, psi_c=1.0, e_V=Q(0, "in")):
    """Nominal breakout strength of one bolt, or a row along the edge, sheared along the edge.

    V_b, c_a1, c_2, c_3, h_a, s_2, n, psi_c, e_V: as for ``breakout_shear_front``. Source: ACI
    318-19 17.7.2.1(c).
    """
    V_f = breakout_shear_front.body(V_b, c_a1, c_2, c_3, h_a, s_2, n, psi_c, e_V)
    V_cb = 2 * V_f
    return V_cb


breakout_shear = choice(
    "breakout_shear", "direction", "towards", towards=breakout_shear_towards, along=breakout_shear_along
)


@formula(
    "Concrete pryout strength",
    cite("ACI 318-19", "17.7.3.1"),
    result("lbf", "pryout strength"),
    N_cp=arg("lbf", "breakout (or bond) strength in tension", above=0),
    k_cp=arg("1", "1 where h_ef < 2.5 in., else 2", low=1, high=2),
)
def pryout(N_cp, k_cp=2.0):
    """Nominal pryout strength: the back of the bolt levers concrete out.

    N_cp: breakout strength in tension, for adhesive anchors the lesser of bond and breakout; k_cp:
    1 where h_ef is under 2.5 in., else 2 (``pryout_factor``). Source: ACI 318-19 17.7.3.1.
    """
    V_cp = k_cp * N_cp
    return V_cp


def pryout_factor(h_ef: Quantity) -> float:
    """k_cp of ``pryout`` for an embedment h_ef (a length): 1 under 2.5 in., else 2."""
    return 1.0 if h_ef < Q(2.5, "in") else 2.0


@formula(
    "Tension-shear interaction",
    cite("ACI 318-19", "Eq. 17.8.3; 17.8.1 and 17.8.2 where one of them is at most 0.2"),
    result("1", "use of tension and shear together, of 1.2"),
    N=arg("lbf", "tension", low=0),
    N_a=arg("lbf", "tension allowed", above=0),
    V=arg("lbf", "shear", low=0),
    V_a=arg("lbf", "shear allowed", above=0),
)
def interaction(N, N_a, V, V_a):
    """Sum of the shares of tension and shear; at most 1.2 where both shares exceed 0.2.

    N, V: demands; N_a, V_a: what is allowed of each alone, at the same load level. Each share must
    also be at most 1. Source: ACI 318-19 Eq. 17.8.3.
    """
    r = N / N_a + V / V_a
    return r
