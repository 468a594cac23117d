"""Footings: load combinations, soil pressure, bending, shear and uplift of a pad under a post.

A pad carries its post alone: the help of the slab around it is left out. Strengths are in
``plain.py``, posts off the centre in ``eccentric.py``, the search for a pad in ``pads.py``.
"""

from numpy import maximum, minimum

from calcbook.formula import FormulaError, arg, cite, formula, procedure, result
from calcbook.table import table
from calcbook.typed import quantity
from calcbook.units import Q

LOAD = arg("lbf", "load of the post", low=0)
AREA = arg("ft2", "area of the pad", above=0)
CONCRETE_WEIGHT = arg("pcf", "weight of the concrete", low=80, high=180)
_PRESSURE = arg("psf", "pressure", low=0)
_REACH = arg("in", "reach of the pad beyond the post", low=0)
_COUNTED = arg("in", "thickness counted in strength", above=0, symbol=r"h_{\mathrm{e}}")
_STRIP = arg("in", "width of the strip looked at", above=0)


# --- loads -----------------------------------------------------------------------------------


@formula(
    "Combined load",
    cite("ASCE 7-16", "2.3.1 and 2.4.1"),
    result("lbf", "combined load"),
    P_D=arg("lbf", "dead load"),
    P_L=arg("lbf", "floor live load"),
    P_S=arg("lbf", "roof load, the greater of snow and roof live"),
    g_D=arg("1", "factor on dead load", low=0, high=2),
    g_L=arg("1", "factor on floor live load", low=0, high=2),
    g_S=arg("1", "factor on roof load", low=0, high=2),
)
def combined_load(P_D, P_L, P_S, g_D, g_L, g_S):
    """A post's load in one load combination. Loads in lbf, factors from the table. Returns lbf.

    P_D: dead load, lbf; P_L: floor live load, lbf; P_S: roof load, the greater of snow and roof
    live, lbf; g_D: factor on dead load, plain; g_L: factor on floor live load, plain; g_S:
    factor on roof load, plain.
    """
    P = g_D * P_D + g_L * P_L + g_S * P_S
    return P


@procedure(
    "Governing load combination",
    cite("ASCE 7-16", "2.3.1 and 2.4.1"),
    "every combination of the table is computed; the greatest load governs",
)
def governing_combination(kind, P_D, P_L=Q(0, "lbf"), P_S=Q(0, "lbf")):
    """The row of the combination that gives the greatest downward load.

    kind: "strength" (factored) or "allowable" (for soil pressure); P_D, P_L, P_S: dead, floor live
    and roof load, lbf. Returns the row of the table of combinations.
    """
    rows = [row for row in table("combinations") if row["kind"] == kind and not row["W"]]
    if not rows:
        raise FormulaError(f"governing_combination: kind = {kind!r}; choose strength or allowable")
    loads = [quantity("governing_combination", n, v, LOAD).m_as("lbf") for n, v in
             (("P_D", P_D), ("P_L", P_L), ("P_S", P_S))]  # fmt: skip
    return max(rows, key=lambda row: combined_load.body(*loads, row["D"], row["L"], row["S"]))


# --- soil ------------------------------------------------------------------------------------

_PAD_INPUTS = {
    "d": arg("in", "depth of the pad below the slab", low=0),
    "gamma_c": CONCRETE_WEIGHT,
    "q_over": arg("psf", "weight of slab and soil above the pad, by area", low=0),
    "q_soil": arg("psf", "weight of the soil dug out, by area", low=0),
}


@formula(
    "Pressure that soil can give to a load",
    cite("McCormac", "net soil pressure"),
    result("psf", "net allowable bearing pressure"),
    note="the soil dug out may be counted (q_soil) only where the bearing value is a net one",
    q_a=arg("psf", "allowable bearing pressure", above=0),
    **_PAD_INPUTS,
)
def net_bearing(q_a, d, gamma_c=Q(150, "pcf"), q_over=Q(0, "psf"), q_soil=Q(0, "psf")):
    """What is left of the allowable pressure after the pad's own weight and what lies on it. psf.

    q_a: allowable pressure, psf; d: depth of the pad, in.; gamma_c: weight of concrete, pcf;
    q_over: weight above the pad, psf; q_soil: weight of the soil dug out, psf.
    """
    q_net = q_a + q_soil - gamma_c * d - q_over
    return q_net


@formula(
    "Area that a load needs",
    cite("McCormac", "Example 12.10"),
    result("ft2", "required area"),
    P=LOAD,
    q_net=arg("psf", "net allowable bearing pressure", above=0),
)
def area_for_pressure(P, q_net):
    """Area of pad for a load at a net pressure. Returns square feet.

    P: load of the post, lbf; q_net: net allowable bearing pressure, psf.
    """
    A = P / q_net
    return A


@procedure(
    "Area that a pad needs",
    cite("McCormac", "Example 12.10"),
    "load over net_bearing: the allowable pressure less the weight of the pad and of what lies on it",
    returns=result("ft2", "required area"),
    P=LOAD,
    q_a=arg("psf", "allowable bearing pressure", above=0),
    **_PAD_INPUTS,
)
def required_pad_area(
    P, q_a, d=Q(0, "in"), gamma_c=Q(150, "pcf"), q_over=Q(0, "psf"), q_soil=Q(0, "psf")
):
    """Least area of a pad for its soil. Returns square feet.

    P: unfactored load, lbf; q_a: allowable pressure, psf; the rest as for ``net_bearing``.
    Raises FormulaError where the pad's own weight uses the soil up.

    d: depth of the pad below the slab, in; gamma_c: weight of the concrete, pcf; q_over: weight
    of slab and soil above the pad, by area, psf; q_soil: weight of the soil dug out, by area,
    psf.
    """
    return area_for_pressure(P, net_bearing(q_a, d, gamma_c, q_over, q_soil))


@formula(
    "Weight of the slab over a pad",
    cite("mechanics"),
    result("psf", "weight of the slab, by area"),
    t=arg("in", "slab thickness", above=0),
    gamma_c=CONCRETE_WEIGHT,
)
def slab_weight(t, gamma_c=Q(150, "pcf")):
    """Weight of the slab by area: 62.5 psf for 5 in. at 150 pcf. Returns psf.

    t: slab thickness, in; gamma_c: weight of the concrete, pcf.
    """
    q_over = gamma_c * t
    return q_over


@formula(
    "Area of a pad",
    cite("geometry"),
    result("ft2", "area of the pad"),
    L=arg("in", "length of the pad", above=0),
    B=arg("in", "width of the pad", above=0),
)
def pad_area(L, B):
    """Area of a rectangular pad. Returns square feet.

    L: length of the pad, in; B: width of the pad, in.
    """
    A = L * B
    return A


@formula(
    "Pressure under a pad",
    cite("mechanics"),
    result("psf", "bearing pressure"),
    P=LOAD,
    A=AREA,
    **_PAD_INPUTS,
)
def bearing_pressure(P, A, d, gamma_c=Q(150, "pcf"), q_over=Q(0, "psf"), q_soil=Q(0, "psf")):
    """Pressure of a pad on the soil, with its own weight and what lies on it. Returns psf.

    P: unfactored load, lbf; A: area, ft2; d: depth below the slab, in.; the rest as for
    ``net_bearing``.

    gamma_c: weight of the concrete, pcf; q_over: weight of slab and soil above the pad, by
    area, psf; q_soil: weight of the soil dug out, by area, psf.
    """
    q = P / A + gamma_c * d + q_over - q_soil
    return q


# --- forces in the pad -----------------------------------------------------------------------


@formula(
    "Factored pressure under a pad",
    cite("McCormac", "Example 12.10"),
    result("psf", "factored pressure"),
    note="the pad's own weight goes straight into the soil and bends nothing",
    P_u=arg("lbf", "factored load", low=0),
    A=AREA,
)
def factored_pressure(P_u, A):
    """Upward pressure that bends the pad. Returns psf.

    P_u: factored load, lbf; A: area of the pad, ft2.
    """
    q_u = P_u / A
    return q_u


@formula(
    "Reach of a pad beyond its post",
    cite("ACI 318-19", "13.2.7.1"),
    result("in", "reach of the pad beyond the post"),
    note="measured from the face of a square concrete or wood post; under a steel plate, enter the size "
    "halfway between post and plate",
    L=arg("in", "length of the pad", above=0),
    B=arg("in", "width of the pad", above=0),
    c_1=arg("in", "size of the post along L", above=0),
    c_2=arg("in", "size of the post along B", above=0),
)
def pad_reach(L, B, c_1, c_2):
    """The longer overhang, measured from the face of the post. Returns inches.

    L: length of the pad, in; B: width of the pad, in; c_1: size of the post along L, in; c_2:
    size of the post along B, in.
    """
    x = maximum(maximum(L - c_1, B - c_2), 0 * L) / 2
    return x


@formula(
    "Bending of a pad",
    cite("ACI 318-19", "13.2.7.1"),
    result("lbf*in", "factored moment"),
    q_u=_PRESSURE,
    b=_STRIP,
    x=_REACH,
)
def pad_moment(q_u, b, x):
    """Moment at the face of the post of a strip of width b. q_u: psf; b, x: in. Returns lbf in."""
    M_u = q_u * b * x**2 / 2
    return M_u


@formula(
    "Shear across a pad",
    cite("ACI 318-19", "14.5.5.1, section at h from the face"),
    result("lbf", "factored one-way shear"),
    q_u=_PRESSURE,
    b=_STRIP,
    x=_REACH,
    h=_COUNTED,
)
def pad_one_way_shear(q_u, b, x, h):
    """Shear of a strip of width b, at the counted thickness from the face. Returns lbf.

    q_u: psf; b, x: in.; h: counted thickness, in. Zero where the section is off the pad.
    """
    V_u = q_u * b * (maximum(x, h) - h)
    return V_u


@formula(
    "Perimeter of the section that a post would punch out",
    cite("ACI 318-19", "22.6.4.1, at half the counted thickness"),
    result("in", "perimeter of the critical section"),
    c_1=arg("in", "size of the post along L", above=0),
    c_2=arg("in", "size of the post along B", above=0),
    h=_COUNTED,
)
def punching_perimeter(c_1, c_2, h):
    """Perimeter half the counted thickness away from the post. Returns inches.

    c_1: size of the post along L, in; c_2: size of the post along B, in; h: thickness counted
    in strength, in.
    """
    b_o = 2 * (c_1 + h) + 2 * (c_2 + h)
    return b_o


@formula(
    "Punching load of a post",
    cite("ACI 318-19", "22.6.4.1"),
    result("lbf", "factored two-way shear"),
    q_u=_PRESSURE,
    L=arg("in", "length of the pad", above=0),
    B=arg("in", "width of the pad", above=0),
    c_1=arg("in", "size of the post along L", above=0),
    c_2=arg("in", "size of the post along B", above=0),
    h=_COUNTED,
)
def punching_load(q_u, L, B, c_1, c_2, h):
    """Load that goes through the critical section around the post. Returns lbf.

    Zero where that section is outside the pad.

    q_u: pressure, psf; L: length of the pad, in; B: width of the pad, in; c_1: size of the post
    along L, in; c_2: size of the post along B, in; h: thickness counted in strength, in.
    """
    A_o = minimum(c_1 + h, L) * minimum(c_2 + h, B)
    V_u = q_u * (L * B - A_o)
    return V_u


# --- uplift ----------------------------------------------------------------------------------


@formula(
    "Weight that holds a pad down",
    cite("ASCE 7-16", "2.4.1, combination 7: 0.6 D"),
    result("lbf", "resistance to uplift"),
    note="0.6 of the weight of the pad and of the slab right above it; the slab beside it is not counted",
    A=AREA,
    d=_PAD_INPUTS["d"],
    gamma_c=CONCRETE_WEIGHT,
    q_over=_PAD_INPUTS["q_over"],
    share=arg("1", "share of dead load that may be counted", above=0, high=1),
)
def uplift_resistance(A, d, gamma_c=Q(150, "pcf"), q_over=Q(0, "psf"), share=0.6):
    """Dead weight against an uplift reaction at allowable-stress level. Returns lbf.

    A: area of the pad, ft2; d: depth below the slab, in.; gamma_c: pcf; q_over: weight above, psf.

    share: share of dead load that may be counted, plain.
    """
    R = share * A * (gamma_c * d + q_over)
    return R
