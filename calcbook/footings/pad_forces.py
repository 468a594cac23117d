"""What bends, shears and punches a pad: forces by the factored pressure under it."""

from numpy import maximum, minimum

from calcbook.basis.formula import arg, cite, formula, result
from calcbook.footings.footing import AREA

_PRESSURE = arg("psf", "pressure", low=0)
_REACH = arg("in", "reach of the pad beyond the post", low=0)
_COUNTED = arg("in", "thickness counted in strength", above=0, symbol="h_e")
_STRIP = arg("in", "width of the strip looked at", above=0)


@formula(
    "Factored bearing pressure",
    cite("McCormac", "Example 12.10"),
    result("psf", "factored pressure"),
    note="the pad's own weight goes straight into the soil and bends nothing",
    P_u=arg("lbf", "factored load", low=0),
    A=AREA,
)
def factored_pressure(P_u, A):
    """Upward pressure that bends the pad.

    >>> print(factored_pressure("12000 lbf", "6.25 ft2"))
    1920.0 psf
    """
    q_u = P_u / A
    return q_u


@formula(
    "Overhang of a pad beyond its post",
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
    """The longer overhang, measured from the face of the post."""
    x = maximum(maximum(L - c_1, B - c_2), 0 * L) / 2
    return x


@formula(
    "Factored bending moment",
    cite("ACI 318-19", "13.2.7.1"),
    result("lbf*in", "factored moment"),
    q_u=_PRESSURE,
    b=_STRIP,
    x=_REACH,
)
def pad_moment(q_u, b, x):
    """Moment at the face of the post of a strip of width b."""
    M_u = q_u * b * x**2 / 2
    return M_u


@formula(
    "Factored one-way shear",
    cite("ACI 318-19", "14.5.5.1, section at h from the face"),
    result("lbf", "factored one-way shear"),
    q_u=_PRESSURE,
    b=_STRIP,
    x=_REACH,
    h=_COUNTED,
)
def pad_one_way_shear(q_u, b, x, h):
    """Shear of a strip of width b, at the counted thickness from the face.

    Zero where the section is off the pad.
    """
    V_u = q_u * b * (maximum(x, h) - h)
    return V_u


@formula(
    "Critical perimeter for punching shear",
    cite("ACI 318-19", "22.6.4.1, at half the counted thickness"),
    result("in", "perimeter of the critical section"),
    c_1=arg("in", "size of the post along L", above=0),
    c_2=arg("in", "size of the post along B", above=0),
    h=_COUNTED,
)
def punching_perimeter(c_1, c_2, h):
    """Perimeter half the counted thickness away from the post."""
    b_o = 2 * (c_1 + h) + 2 * (c_2 + h)
    return b_o


@formula(
    "Factored punching (two-way) shear",
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
    """Load that goes through the critical section around the post.

    Zero where that section is outside the pad.
    """
    A_o = minimum(c_1 + h, L) * minimum(c_2 + h, B)
    V_u = q_u * (L * B - A_o)
    return V_u
