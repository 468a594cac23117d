"""A post off the centre of its pad: the kern, and a pad that lifts at one side."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from numpy import maximum

from calcbook.basis.arguments import quantities
from calcbook.basis.formula import FormulaError, arg, cite, formula, procedure, result
from calcbook.basis.showing import show
from calcbook.basis.units import Q, number_in
from calcbook.loads.combinations import LOAD

if TYPE_CHECKING:
    from calcbook.basis.formula import Formula
    from calcbook.basis.units import Given, Quantity

_OFF = {
    "P": LOAD,
    "L": arg("in", "length of the pad along the offset", above=0),
    "B": arg("in", "width of the pad across it", above=0),
}


@formula(
    "Kern of a pad (middle third)",
    cite("mechanics"),
    result("in", "half width of the kern"),
    L=_OFF["L"],
)
def kern(L):
    """Offset up to which the whole pad stays in contact with the soil: a sixth.

    L: length of the pad along the offset, in.

    >>> print(kern("30 in"))
    5.0 inch
    """
    e_k = L / 6
    return e_k


@formula(
    "Eccentricity of a wall on its edge",
    cite("geometry"),
    result("in", "offset of the wall"),
    b=arg("in", "width of the edge at its bottom", above=0),
    t_w=arg("in", "width of the wall's sill", above=0),
    i_p=arg("in", "outer face of the sill, from the slab's edge", low=0),
)
def edge_offset(b, t_w, i_p=Q(0, "in")):
    """How far the middle of a sill is off the middle of its edge, to either side."""
    x_w = i_p + t_w / 2
    e = maximum(b / 2 - x_w, x_w - b / 2)
    return e


@formula(
    "Maximum bearing pressure, eccentric load inside the kern",
    cite("mechanics"),
    result("psf", "greatest pressure"),
    **_OFF,
    e_x=arg("in", "offset of the load along L", low=0),
    e_y=arg("in", "offset of the load along B", low=0),
)
def pressure_in_kern(P, L, B, e_x, e_y=Q(0, "in")):
    """Pressure at the heavier corner; holds for e_x/L + e_y/B up to 1/6."""
    q_max = P / (L * B) * (1 + 6 * e_x / L + 6 * e_y / B)
    return q_max


@formula(
    "Maximum bearing pressure, eccentric load outside the kern",
    cite("mechanics"),
    result("psf", "greatest pressure"),
    note="a triangle of pressure whose center is under the load; it reaches over 3 (L/2 - e)",
    **_OFF,
    e_x=arg("in", "offset of the load along L", low=0),
)
def pressure_beyond_kern(P, L, B, e_x):
    """Pressure at the heavier edge, for L/6 < e_x < L/2, offset along L alone."""
    q_max = 2 * P / (3 * B * (L / 2 - e_x))
    return q_max


@formula(
    "Equivalent concentric load on a pad",
    cite("mechanics"),
    result("lbf", "load taken for every check"),
    note="the greatest pressure is taken to act under the whole pad, which is on the safe side",
    q_max=arg("psf", "greatest pressure", low=0),
    L=_OFF["L"],
    B=_OFF["B"],
)
def even_load(q_max, L, B):
    """A load on the centre that presses everywhere as the offset one does at its worst edge."""
    P_e = q_max * L * B
    return P_e


@procedure(
    "Greatest pressure under a pad with an offset load",
    cite("mechanics"),
    "inside the kern the whole pad presses (pressure_in_kern); beyond it a triangle does "
    "(pressure_beyond_kern); a load off both center lines and beyond the kern is left to an engineer",
    returns=result("psf", "greatest pressure"),
    **_OFF,
    e_x=arg("in", "offset of the load along L", low=0),
    e_y=arg("in", "offset of the load along B", low=0),
)
def eccentric_pressure(P: Given, L: Given, B: Given, e_x: Given, e_y: Given = Q(0, "in")) -> Quantity:
    """Greatest soil pressure of a post off the centre of its pad. Returns psf.

    P: load, lbf; L, B: pad, in.; e_x, e_y: offsets along L and B, in. Raises FormulaError where
    the load is off the pad, or off both centre lines and beyond the kern.
    """
    specs = eccentric_pressure.arguments
    read = quantities("eccentric_pressure", specs, P=P, L=L, B=B, e_x=e_x, e_y=e_y)
    formula, inputs = pressure_of(**read)
    return formula(**inputs)


def pressure_of(
    P: Quantity, L: Quantity, B: Quantity, e_x: Quantity, e_y: Quantity
) -> tuple[Formula, dict[str, Any]]:
    """The formula that holds for an offset load, and its inputs by name.

    P, L, B, e_x, e_y and errors: as for ``eccentric_pressure``, all quantities.
    """
    x, y, a, b = (number_in(length, "in") for length in (e_x, e_y, L, B))
    if x / a + y / b <= 1 / 6 + 1e-12:
        return pressure_in_kern, {"P": P, "L": L, "B": B, "e_x": e_x, "e_y": e_y}
    if e_x.magnitude > 0 and e_y.magnitude > 0:
        raise FormulaError(
            "eccentric_pressure: the load is off both center lines and beyond the kern, so the pad lifts "
            "at a corner; center the post on one line, enlarge the pad, or ask an engineer"
        )
    if e_x.magnitude == 0:
        L, B, e_x = B, L, e_y
    if e_x >= L / 2:
        raise FormulaError(
            f"eccentric_pressure: an offset of {show(e_x, 'in')} puts the load off the pad, "
            f"which reaches {show(L / 2, 'in')} from its center"
        )
    return pressure_beyond_kern, {"P": P, "L": L, "B": B, "e_x": e_x}
