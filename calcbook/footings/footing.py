"""A footing on its soil: weights, pressure, the area a load needs, uplift.

A pad carries its post alone: the help of the slab around it is left out. Loads are in
``combinations.py``, bending and shear in ``pad_forces.py``, strengths in ``plain.py``, posts off
the centre in ``eccentric.py``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.formula import arg, cite, formula, procedure, result
from calcbook.basis.units import Q
from calcbook.loads.combinations import LOAD

if TYPE_CHECKING:
    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Given, Quantity

AREA = arg("ft2", "area of the pad", above=0)
CONCRETE = Q(150, "pcf")  # usual weight of concrete with its steel
CONCRETE_WEIGHT = arg("pcf", "weight of the concrete", low=80, high=180)


# --- soil ------------------------------------------------------------------------------------

_PAD_INPUTS = {
    "d": arg("in", "depth of the pad below the slab", low=0),
    "gamma_c": CONCRETE_WEIGHT,
    "q_over": arg("psf", "weight of slab and soil above the pad, by area", low=0),
    "q_soil": arg("psf", "weight of the soil dug out, by area", low=0),
}


@formula(
    "Weight of the soil dug out",
    cite("mechanics"),
    result("psf", "weight of the soil dug out, by area"),
    note="counted because the bearing value is a net one: what the ground bears more than it did before",
    d=_PAD_INPUTS["d"],
    gamma_s=arg("pcf", "weight of the soil", low=0, high=180),
)
def dug_soil(d, gamma_s=Q(100, "pcf")):
    """What the soil in the place of a pad weighed, by area.

    d: depth of the pad below the slab, in.
    """
    q_soil = gamma_s * d
    return q_soil


@formula(
    "Net allowable bearing pressure",
    cite("McCormac", "net soil pressure"),
    result("psf", "net allowable bearing pressure"),
    note="the soil dug out may be counted (q_soil) only where the bearing value is a net one",
    q_a=arg("psf", "allowable bearing pressure", above=0),
    **_PAD_INPUTS,
)
def net_bearing(q_a, d, gamma_c=Q(150, "pcf"), q_over=Q(0, "psf"), q_soil=Q(0, "psf")):
    """What is left of the allowable pressure after the pad's own weight and what lies on it."""
    q_net = q_a + q_soil - gamma_c * d - q_over
    return q_net


@formula(
    "Required bearing area",
    cite("McCormac", "Example 12.10"),
    result("ft2", "required area"),
    P=LOAD,
    q_net=arg("psf", "net allowable bearing pressure", above=0),
)
def area_for_pressure(P, q_net):
    """Area of pad for a load at a net pressure."""
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
    P: Given,
    q_a: Given,
    d: Given = Q(0, "in"),
    gamma_c: Given = Q(150, "pcf"),
    q_over: Given = Q(0, "psf"),
    q_soil: Given = Q(0, "psf"),
) -> Quantity:
    """Least area of a pad for its soil. Returns square feet.

    P: unfactored load, lbf; q_a: allowable pressure, psf; the rest as for ``net_bearing``.
    Raises FormulaError where the pad's own weight uses the soil up.

    d: depth of the pad below the slab, in; gamma_c: weight of the concrete, pcf; q_over: weight
    of slab and soil above the pad, by area, psf; q_soil: weight of the soil dug out, by area,
    psf.
    """
    return area_for_pressure(P, net_bearing(q_a, d, gamma_c, q_over, q_soil))


@formula(
    "Weight of the slab by area",
    cite("mechanics"),
    result("psf", "weight of the slab, by area"),
    t=arg("in", "slab thickness", above=0),
    gamma_c=CONCRETE_WEIGHT,
)
def slab_weight(t, gamma_c=Q(150, "pcf")):
    """Weight of the slab by area: 62.5 psf for 5 in. at 150 pcf."""
    q_over = gamma_c * t
    return q_over


@formula(
    "Bearing area",
    cite("geometry"),
    result("ft2", "area of the pad"),
    L=arg("in", "length of the pad", above=0),
    B=arg("in", "width of the pad", above=0),
)
def pad_area(L, B):
    """Area of a rectangular pad.

    >>> print(pad_area("30 in", "36 in"))
    7.5 foot ** 2
    """
    A = L * B
    return A


@formula(
    "Bearing pressure under a pad",
    cite("mechanics"),
    result("psf", "bearing pressure"),
    P=LOAD,
    A=AREA,
    **_PAD_INPUTS,
)
def bearing_pressure(P, A, d, gamma_c=Q(150, "pcf"), q_over=Q(0, "psf"), q_soil=Q(0, "psf")):
    """Pressure of a pad on the soil, with its own weight and what lies on it.

    P: unfactored load, lbf. The rest as for ``net_bearing``.

    >>> print(bearing_pressure("8000 lbf", "6.25 ft2", "9 in"))
    1392.5 psf
    """
    q = P / A + gamma_c * d + q_over - q_soil
    return q


@formula(
    "Load of a post and of the wall over its pad",
    cite("mechanics"),
    result("lbf", "load on the pad"),
    P=LOAD,
    w=arg("plf", "load of the wall", low=0),
    s=arg("ft", "length of the wall over the pad", low=0),
)
def load_with_wall(P, w, s):
    """What a pad under the thickened edge carries: its post and the wall above it."""
    P_w = P + w * s
    return P_w


# --- uplift ----------------------------------------------------------------------------------


@formula(
    "Uplift resistance of a pad",
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
    """Dead weight against an uplift reaction at allowable-stress level.

    d: depth below the slab, in.; q_over: weight above, psf.
    """
    R = share * A * (gamma_c * d + q_over)
    return R


def enter_concrete(calc: Calculation) -> Quantity:
    """Enter the weight of concrete that a calculation takes, so that the paper shows it; returns pcf."""
    return calc.finding("Weight of concrete with its steel.", "gamma_c", CONCRETE, "pcf",
                        cite("PCA EB001", "usual weight"), label="unit weight of concrete")  # fmt: skip
