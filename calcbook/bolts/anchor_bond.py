"""Adhesive anchors in tension: bond, by ACI 318-19 17.6.5."""

from __future__ import annotations

from typing import TYPE_CHECKING

from numpy import maximum, minimum, pi, sqrt

from calcbook.basis.formula import arg, cite, formula, procedure, result
from calcbook.basis.table import lookup
from calcbook.basis.units import Q
from calcbook.bolts.anchors import D_A, EDGES, H_EF, LAM

if TYPE_CHECKING:
    from calcbook.basis.units import Quantity

_TAU = arg("psi", "characteristic bond stress", above=0, high=5000)


@procedure(
    "Default bond stress",
    cite("ACI 318-19 from memory", "Table 17.6.5.2.5"),
    "Looked up by place of use and cracking; the least that a qualified adhesive must have. The maker's "
    "tested value may be higher.",
    returns=result("psi", "characteristic bond stress"),
    place_of_use=arg("1", "where the bolt is", choices=("indoor", "outdoor")),
    cracked=arg("1", "concrete at the bolt", choices=("cracked", "uncracked")),
)
def default_bond_stress(place_of_use: str = "outdoor", cracked: str = "cracked") -> Quantity:
    """Characteristic bond stress where the maker's is not known.

    place_of_use: "indoor" or "outdoor"; cracked: "cracked" or "uncracked". Returns a stress. Not for
    sustained or earthquake tension (0.4 and 0.8 or 0.4 times). Raises KeyError for other words.
    Source: ACI 318-19 Table 17.6.5.2.5.
    """
    return Q(lookup("bond", place_of_use=place_of_use)[f"{cracked}_psi"], "psi")


@formula(
    "Basic bond strength of one anchor",
    cite("ACI 318-19", "Eq. 17.6.5.2.1"),
    result("lbf", "basic bond strength"),
    tau=_TAU,
    d_a=D_A,
    h_ef=H_EF,
    lam=LAM,
)
def basic_bond(tau, d_a, h_ef, lam=1.0):
    """Bond strength of one adhesive anchor far from edges.

    h_ef: embedment (4 to 20 diameters). Source: ACI 318-19 Eq. 17.6.5.2.1.
    """
    N_ba = lam * tau * pi * d_a * h_ef
    return N_ba


@formula(
    "Critical edge distance for bond",
    cite("ACI 318-19", "Eq. 17.6.5.1.2b"),
    result("in", "edge distance for full bond"),
    d_a=D_A,
    tau_uncr=arg("psi", "bond stress in uncracked concrete", above=0, high=5000),
    tau_1=arg("psi", "reference bond stress", above=0),
)
def bond_reach(d_a, tau_uncr, tau_1=Q(1100, "psi")):
    """Edge distance from which an adhesive anchor has its full bond.

    tau_1: constant of the source. Source: ACI 318-19 Eq. 17.6.5.1.2b.
    """
    c_Na = 10 * d_a * sqrt(tau_uncr / tau_1)
    return c_Na


@formula(
    "Bond strength in tension",
    cite("ACI 318-19", "17.6.5.1, 17.6.5.3, 17.6.5.4"),
    result("lbf", "bond strength in tension"),
    N_ba=arg("lbf", "basic bond strength", above=0),
    c_Na=arg("in", "edge distance for full bond", above=0),
    **EDGES,
    psi_cp=arg("1", "factor for splitting", above=0, high=1),
    e_N=arg("in", "eccentricity of the pull on the group", low=0),
    shows={"A_Na": "in2", "A_Nao": "in2"},
)
def bond_tension(
    N_ba, c_Na, c_1, c_2, c_3, c_4, s_1=Q(0, "in"), s_2=Q(0, "in"), n=1.0, psi_cp=1.0, e_N=Q(0, "in")
):
    """Nominal bond strength of one adhesive anchor, or of a rectangular group, in tension.

    N_ba: from ``basic_bond``; c_Na: from ``bond_reach``; c_1, c_2, c_3, c_4, s_1, s_2, n: edges and
    group as for ``breakout_tension``. Source: ACI 318-19 17.6.5.
    """
    A_Nao = (2 * c_Na) ** 2
    b_1 = minimum(c_1, c_Na) + s_1 + minimum(c_2, c_Na)
    b_2 = minimum(c_3, c_Na) + s_2 + minimum(c_4, c_Na)
    A_Na = minimum(b_1 * b_2, n * A_Nao)
    c_amin = minimum(minimum(c_1, c_2), minimum(c_3, c_4))
    psi_ed = minimum(0.7 + 0.3 * c_amin / c_Na, 1)
    psi_ec = 1 / (1 + e_N / c_Na)
    N_a = A_Na / A_Nao * psi_ec * psi_ed * psi_cp * N_ba
    return N_a


@formula(
    "Splitting factor of drilled anchors near an edge",
    cite("ACI 318-19", "17.6.2.6.1, 17.6.5.5.1"),
    result("1", "factor for splitting"),
    c_amin=arg("in", "nearest edge distance", above=0),
    c=arg("in", "edge distance of the mode: 1.5 h_ef or c_Na", above=0),
    c_ac=arg("in", "critical edge distance, 2 h_ef unless tested", above=0),
)
def splitting_factor(c_amin, c, c_ac):
    """Factor for splitting of a drilled anchor in uncracked concrete without reinforcement against it.

    c: edge distance of the mode (1.5 h_ef for breakout, c_Na for bond). Returns a plain number, at
    most 1; 1 in cracked concrete. Source: ACI 318-19 17.6.2.6.1.
    """
    psi_cp = minimum(maximum(c_amin, c) / c_ac, 1)
    return psi_cp
