"""Anchors in tension, by ACI 318-19 chapter 17: steel, breakout, pullout, side-face blowout.

Strengths are nominal; ``design_strength`` takes them to allowable loads. Edge distances c_1 and c_2
lie across a row of bolts, c_3 and c_4 along it; s_1 is the extent of a group across, s_2 along.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from numpy import maximum, minimum, pi, sqrt

from calcbook.basis.formula import arg, choice, cite, formula, number, result, with_unit
from calcbook.basis.units import Q

if TYPE_CHECKING:
    from calcbook.basis.formula import Argument

F_C = arg("psi", "concrete strength", low=2500, high=10000)
D_A = arg("in", "bolt diameter", low=0.25, high=4)
H_EF = arg("in", "embedment that counts", above=0, valid=(1.625, 25))
LAM = arg("1", "lightweight concrete factor", low=0.5, high=1)
CRACK = arg("1", "factor for uncracked concrete", low=1, high=1.4, symbol="psi_c")
COUNT = arg("1", "bolts in the group", low=1)


def _edge(which: str) -> Argument:
    return arg("in", f"edge distance, {which}", above=0)


EDGES = {
    "c_1": _edge("nearest, across the row"),
    "c_2": _edge("other side, across the row"),
    "c_3": _edge("along the row, one way"),
    "c_4": _edge("along the row, other way"),
    "s_1": arg("in", "extent of the group across the row", low=0),
    "s_2": arg("in", "extent of the group along the row", low=0),
    "n": COUNT,
}


@formula(
    "Stress area of a threaded bolt",
    cite("ASTM F1554", "as ACI 318-19 R17.6.1.2"),
    result("in2", "stress area of the bolt"),
    d=D_A,
    n_t=arg("1/in", "threads per inch", above=0),
    p=arg("1", "depth of thread, in pitches", above=0, below=2),
)
def bolt_stress_area(d, n_t, p=0.9743):
    """Tensile stress area of an inch-series bolt.

    p: constant of the source. Source: ACI 318-19 R17.6.1.2, as ASTM F1554 tabulates.
    """
    A_se = pi / 4 * (d - p / n_t) ** 2
    return A_se


@formula(
    "Specified tensile strength of steel, as limited",
    cite("ACI 318-19", "17.6.1.2"),
    result("psi", "tensile strength that counts"),
    f_uta=arg("psi", "tensile strength", above=0),
    f_ya=arg("psi", "yield strength", above=0),
    f_max=arg("psi", "most that counts", above=0),
)
def counted_strength(f_uta, f_ya, f_max=Q(125000, "psi")):
    """Tensile strength of bolt steel that may be used: at most 1.9 f_ya and 125,000 psi.

    Source: ACI 318-19 17.6.1.2.
    """
    f_u = minimum(f_uta, minimum(1.9 * f_ya, f_max))
    return f_u


@formula(
    "Tensile strength of the bolt steel",
    cite("ACI 318-19", "Eq. 17.6.1.2"),
    result("lbf", "steel strength in tension"),
    A_se=arg("in2", "stress area", above=0),
    f_uta=arg("psi", "tensile strength that counts", above=0, high=125000),
)
def steel_tension(A_se, f_uta):
    """Nominal strength of one bolt's steel in tension.

    f_uta: tensile strength, at most 125,000 psi (see ``counted_strength``). Source: ACI 318-19 Eq.
    17.6.1.2.

    >>> print(steel_tension("0.226 in2", "58000 psi"))
    13108.0 force_pound
    """
    N_sa = A_se * f_uta
    return N_sa


@formula(
    "Basic concrete breakout strength in tension",
    cite("ACI 318-19", "Eq. 17.6.2.2.1"),
    result("lbf", "basic breakout strength"),
    f_c=F_C,
    h_ef=H_EF,
    k_c=arg("1", "24 cast in, 17 drilled in", low=17, high=24),
    lam=LAM,
)
def basic_breakout(f_c, h_ef, k_c=24.0, lam=1.0):
    """Breakout strength of one anchor in tension, far from edges, in cracked concrete.

    f_c: concrete strength, 2,500 to 10,000 psi. Source: ACI 318-19 Eq. 17.6.2.2.1.

    >>> print(basic_breakout("3000 psi", "7 in"))
    24345.5 force_pound
    """
    N_b = with_unit(k_c * lam * sqrt(number(f_c, "psi")) * number(h_ef, "in") ** 1.5, "lbf", f_c)
    return N_b


@formula(
    "Basic concrete breakout strength in tension, deep anchors",
    cite("ACI 318-19", "Eq. 17.6.2.2.3"),
    result("lbf", "basic breakout strength"),
    f_c=F_C,
    h_ef=arg("in", "embedment that counts", low=11, high=25),
    lam=LAM,
)
def basic_breakout_deep(f_c, h_ef, lam=1.0):
    """The same for a headed cast-in anchor 11 to 25 in. deep, where it may take its place.

    Source: ACI 318-19 Eq. 17.6.2.2.3.
    """
    N_b = with_unit(16 * lam * sqrt(number(f_c, "psi")) * number(h_ef, "in") ** (5 / 3), "lbf", f_c)
    return N_b


@formula(
    "Concrete breakout strength in tension",
    cite("ACI 318-19", "17.6.2.1, 17.6.2.3 to 17.6.2.6"),
    result("lbf", "breakout strength in tension"),
    N_b=arg("lbf", "basic breakout strength", above=0),
    h_ef=H_EF,
    **EDGES,
    psi_c=CRACK,
    psi_cp=arg("1", "factor for splitting, drilled anchors", above=0, high=1),
    e_N=arg("in", "eccentricity of the pull on the group", low=0),
    shows={"A_Nc": "in2", "A_Nco": "in2"},
)
def breakout_tension(
    N_b, h_ef, c_1, c_2, c_3, c_4, s_1=Q(0, "in"), s_2=Q(0, "in"), n=1.0, psi_c=1.0, psi_cp=1.0, e_N=Q(0, "in")
):  # fmt: skip
    """Nominal breakout strength of one bolt, or of a rectangular group, in tension.

    N_b: from ``basic_breakout``; c_1, c_2: edge distances across the row, c_3, c_4 along it (each
    counts up to 1.5 h_ef); s_1, s_2: extent of the group across and along (0 for one bolt;
    neighbours at most 3 h_ef apart); psi_c: 1.25 cast in or 1.4 drilled in uncracked concrete, else
    1; psi_cp: splitting, 1 for cast-in. Source: ACI 318-19 17.6.2.
    """
    c = 1.5 * h_ef
    A_Nco = 9 * h_ef**2
    b_1 = minimum(c_1, c) + s_1 + minimum(c_2, c)
    b_2 = minimum(c_3, c) + s_2 + minimum(c_4, c)
    A_Nc = minimum(b_1 * b_2, n * A_Nco)
    c_amin = minimum(minimum(c_1, c_2), minimum(c_3, c_4))
    psi_ed = minimum(0.7 + 0.3 * c_amin / c, 1)
    psi_ec = 1 / (1 + e_N / c)
    N_cb = A_Nc / A_Nco * psi_ec * psi_ed * psi_c * psi_cp * N_b
    return N_cb


@formula(
    "Net bearing area of a hexagonal head",
    cite("PCA Notes", "Table 34-2"),
    result("in2", "net bearing area"),
    F=arg("in", "width across flats", above=0),
    d_a=D_A,
)
def head_bearing_area(F, d_a):
    """Bearing area of a hexagonal head or nut, less the shank.

    Source: PCA Notes Table 34-2.
    """
    A_brg = sqrt(3) / 2 * F**2 - pi / 4 * d_a**2
    return A_brg


@formula(
    "Pullout strength of a headed bolt",
    cite("ACI 318-19", "Eq. 17.6.3.2.2a"),
    result("lbf", "pullout strength"),
    f_c=F_C,
    A_brg=arg("in2", "net bearing area of the head", above=0),
    psi_cP=CRACK,
)
def headed_pullout(f_c, A_brg, psi_cP=1.0):
    """Nominal pullout strength of a headed bolt.

    psi_cP: 1.4 in uncracked concrete, else 1 (plain). Source: ACI 318-19 Eq. 17.6.3.2.2a.
    """
    N_pn = psi_cP * 8 * A_brg * f_c
    return N_pn


@formula(
    "Effective hook length, in bolt diameters",
    cite("ACI 318-19", "17.6.3.2.2(b), 3 to 4.5 diameters"),
    result("1", "hook length over bolt diameter"),
    e_h=arg("in", "inner length of the hook", above=0),
    d_a=D_A,
)
def hook_ratio(e_h, d_a):
    """How many bolt diameters of a hook count: at most 4.5.

    e_h: from the inner face of the shank to the hook's tip. Returns a plain number; below 3 the
    pullout formula does not hold. Source: ACI 318-19 17.6.3.2.2(b).
    """
    n_h = minimum(e_h / d_a, 4.5)
    return n_h


@formula(
    "Pullout strength of a hooked bolt",
    cite("ACI 318-19", "Eq. 17.6.3.2.2b"),
    result("lbf", "pullout strength"),
    f_c=F_C,
    d_a=D_A,
    n_h=arg("1", "hook length over bolt diameter", low=3, high=4.5),
    psi_cP=CRACK,
)
def hooked_pullout(f_c, d_a, n_h, psi_cP=1.0):
    """Nominal pullout strength of an L-bolt or J-bolt.

    n_h: hook length in bolt diameters, 3 to 4.5 (from ``hook_ratio``); psi_cP: 1.4 in uncracked
    concrete, else 1 (plain). Source: ACI 318-19 Eq. 17.6.3.2.2b.
    """
    N_pn = psi_cP * 0.9 * f_c * n_h * d_a**2
    return N_pn


pullout = choice("pullout", "kind", "headed", headed=headed_pullout, hooked=hooked_pullout)


@formula(
    "Side-face blowout strength of a headed bolt",
    cite("ACI 318-19", "Eq. 17.6.4.1, 17.6.4.1.1"),
    result("lbf", "side-face blowout strength"),
    c_a1=arg("in", "nearest edge distance", above=0),
    A_brg=arg("in2", "net bearing area of the head", above=0),
    f_c=F_C,
    c_a2=arg("in", "edge distance at right angles", above=0),
    lam=LAM,
)
def side_face_blowout(c_a1, A_brg, f_c, c_a2=Q(100, "in"), lam=1.0):
    """Nominal side-face blowout strength of one headed bolt; to be checked where h_ef > 2.5 c_a1.

    c_a2: edge distance at right angles (counts where under 3 c_a1). Source: ACI 318-19 17.6.4.1.
    """
    N_b = with_unit(
        160 * number(c_a1, "in") * sqrt(number(A_brg, "in2")) * lam * sqrt(number(f_c, "psi")),
        "lbf",
        f_c,
    )
    r = minimum(maximum(c_a2 / c_a1, 1), 3)
    N_sb = (1 + r) / 4 * N_b
    return N_sb


@formula(
    "Side-face blowout strength of a row of headed bolts",
    cite("ACI 318-19", "Eq. 17.6.4.2"),
    result("lbf", "side-face blowout strength of the row"),
    N_sb=arg("lbf", "of one bolt, far from corners", above=0),
    s=arg("in", "extent of the row along the edge", low=0),
    c_a1=arg("in", "nearest edge distance", above=0),
)
def side_face_group(N_sb, s, c_a1):
    """Nominal side-face blowout strength of a row of headed bolts along an edge.

    N_sb: from ``side_face_blowout`` without a corner; s: distance of the outer bolts of the row,
    whose neighbours are less than 6 c_a1 apart. Source: ACI 318-19 Eq. 17.6.4.2.
    """
    N_sbg = (1 + s / (6 * c_a1)) * N_sb
    return N_sbg


@formula(
    "Allowable load from a nominal strength",
    cite("ASCE 7-16", "2.3.1 and 2.4.1: wind is 1.0 W in strength design, 0.6 W in allowable stress design"),
    result("lbf", "allowable load"),
    R_n=arg("lbf", "nominal strength", low=0),
    phi=arg("1", "strength reduction factor", above=0, high=1),
    alpha=arg("1", "allowable over strength-level load", above=0, high=1),
)  # fmt: skip
def design_strength(R_n, phi, alpha=0.6):
    """Allowable (service-level) load of an anchor from its nominal strength.

    alpha: ratio of the allowable-stress load to the strength-level load, 0.6 for wind (1.0 where
    the loads given are strength-level). Source: ASCE 7-16 load combinations; dead load that helps
    is left out.
    """
    R_a = alpha * phi * R_n
    return R_a
