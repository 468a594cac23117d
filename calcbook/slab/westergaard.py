# ruff: noqa: E741  (l is the symbol of the literature)
"""A load on an endless slab on springs: stress and deflection inside, at an edge, at a corner.

Westergaard's solutions in the form of Ioannides, Thompson and Barenberg. The load is spread evenly
over a circle of radius ``a``; the soil pushes back in proportion to the deflection (modulus k).
They hold for a load circle that is small beside the radius of relative stiffness l, far from every
other edge.
"""

from numpy import log, minimum, pi, sqrt

from calcbook.basis.formula import arg, choice, cite, formula, result
from calcbook.basis.inline import inline

_LOAD = arg("lbf", "load", low=0)
_RADIUS = arg("in", "radius of the loaded circle", above=0)
_DEPTH = arg("in", "slab thickness", above=0)
_ELASTIC = arg("psi", "modulus of elasticity of the concrete", above=0)
_POISSON = arg("1", "Poisson's ratio of the concrete", low=0, below=0.5)
_SOIL = arg("pci", "modulus of subgrade reaction", above=0)
_SIX = {"P": _LOAD, "a": _RADIUS, "h": _DEPTH, "E_c": _ELASTIC, "nu": _POISSON, "k": _SOIL}


@formula(
    "Radius of relative stiffness",
    cite("TRR 1043", "after Westergaard 1926"),
    result("in", "radius of relative stiffness"),
    E_c=_ELASTIC,
    h=_DEPTH,
    nu=_POISSON,
    k=_SOIL,
)
def radius_of_relative_stiffness(E_c, h, nu, k):
    """How far a load spreads in the slab: the stiffer the slab beside the soil, the wider.

    Source: Westergaard 1926.

    >>> print(radius_of_relative_stiffness("3.12e6 psi", "5 in", 0.15, "100 pci"))
    24.01 inch
    """
    l = (E_c * h**3 / (12 * (1 - nu**2) * k)) ** 0.25
    return l


@inline
@formula(
    "Interior stress under a load",
    cite("TRR 1043", "interior, bottom of slab"),
    result("psi", "interior stress"),
    note="b is Westergaard's equivalent radius: where the load circle is narrower than 1.724 h, "
    "plain plate theory overstates the stress under it. For a wider circle b = a.",
    **_SIX,
)
def interior_stress(P, a, h, E_c, nu, k):
    """Tension at the bottom of the slab under a load far from all edges.

    Holds for a small beside l. Source: Westergaard 1926, as in TRR 1043.

    >>> print(interior_stress("1800 lbf", "3.4 in", "5 in", "3.12e6 psi", 0.15, "100 pci"))
    103.8 pound_force_per_square_inch
    """
    l = radius_of_relative_stiffness.body(E_c, h, nu, k)
    a_t = minimum(a, 1.724 * h)
    b = sqrt(1.6 * a_t**2 + h**2) - 0.675 * h + a - a_t
    sigma_i = 3 * (1 + nu) * P / (2 * pi * h**2) * (log(l / b) + 0.6159)
    return sigma_i


@inline
@formula(
    "Interior deflection under a load",
    cite("TRR 1043", "interior"),
    result("in", "interior deflection"),
    **_SIX,
)
def interior_deflection(P, a, h, E_c, nu, k):
    """Settlement under a load far from all edges. Arguments as for the stress.

    Holds for a small beside l. Source: Westergaard 1939, as in TRR 1043.
    """
    l = radius_of_relative_stiffness.body(E_c, h, nu, k)
    w_i = P / (8 * k * l**2) * (1 + 1 / (2 * pi) * (log(a / (2 * l)) - 0.673) * (a / l) ** 2)
    return w_i


@inline
@formula(
    "Edge stress, circular load",
    cite("TRR 1043", "edge, circle"),
    result("psi", "edge stress"),
    **_SIX,
)
def edge_stress_circle(P, a, h, E_c, nu, k):
    """Tension along a free edge under a circle that touches it.

    Holds for a small beside l. Source: Westergaard 1948, as in TRR 1043.

    >>> print(edge_stress_circle("1800 lbf", "3.4 in", "5 in", "3.12e6 psi", 0.15, "100 pci"))
    199.8 pound_force_per_square_inch
    """
    l = radius_of_relative_stiffness.body(E_c, h, nu, k)
    m_1 = log(E_c * h**3 / (100 * k * a**4)) + 1.84 - 4 * nu / 3
    m_2 = (1 - nu) / 2 + 1.18 * (1 + 2 * nu) * a / l
    m = m_1 + m_2
    sigma_e = 3 * (1 + nu) * P / (pi * (3 + nu) * h**2) * m
    return sigma_e


@inline
@formula(
    "Edge stress, semicircular load",
    cite("TRR 1043", "edge, semicircle"),
    result("psi", "edge stress"),
    **_SIX,
)
def edge_stress_semicircle(P, a, h, E_c, nu, k):
    """Tension along a free edge under a half circle whose straight side is the edge.

    The rest as for the circle. Source: Westergaard 1948, TRR 1043.
    """
    l = radius_of_relative_stiffness.body(E_c, h, nu, k)
    m = log(E_c * h**3 / (100 * k * a**4)) + 3.84 - 4 * nu / 3 + (1 + 2 * nu) * a / (2 * l)
    sigma_e = 3 * (1 + nu) * P / (pi * (3 + nu) * h**2) * m
    return sigma_e


@inline
@formula(
    "Edge deflection, circular load",
    cite("TRR 1043", "edge, circle"),
    result("in", "edge deflection"),
    **_SIX,
)
def edge_deflection_circle(P, a, h, E_c, nu, k):
    """Settlement of a free edge under a circle that touches it.

    Arguments and range as for the stress. Source: Westergaard 1948, as in TRR 1043.
    """
    l = radius_of_relative_stiffness.body(E_c, h, nu, k)
    w_e = sqrt(2 + 1.2 * nu) * P / sqrt(E_c * h**3 * k) * (1 - (0.76 + 0.4 * nu) * a / l)
    return w_e


@inline
@formula(
    "Edge deflection, semicircular load",
    cite("TRR 1043", "edge, semicircle"),
    result("in", "edge deflection"),
    **_SIX,
)
def edge_deflection_semicircle(P, a, h, E_c, nu, k):
    """Settlement of a free edge under a half circle whose straight side is the edge. Inches.

    Arguments and range as for the stress. Source: Westergaard 1948, as in TRR 1043.
    """
    l = radius_of_relative_stiffness.body(E_c, h, nu, k)
    w_e = sqrt(2 + 1.2 * nu) * P / sqrt(E_c * h**3 * k) * (1 - (0.323 + 0.17 * nu) * a / l)
    return w_e


@inline
@formula(
    "Corner stress under a load (Westergaard)",
    cite("TRR 1043", "corner, Westergaard 1926"),
    result("psi", "corner stress"),
    note="an approximation; the tension is at the top, a little way in from the corner",
    **_SIX,
)
def corner_stress_westergaard(P, a, h, E_c, nu, k):
    """Tension at the top of the slab under a circle that touches both edges of a corner.

    Holds for a well below l. Source: Westergaard 1926, as in TRR 1043.

    >>> print(corner_stress_westergaard("1800 lbf", "3.4 in", "5 in", "3.12e6 psi", 0.15, "100 pci"))
    133.7 pound_force_per_square_inch
    """
    l = radius_of_relative_stiffness.body(E_c, h, nu, k)
    sigma_c = 3 * P / h**2 * (1 - (a * sqrt(2) / l) ** 0.6)
    return sigma_c


@inline
@formula(
    "Corner stress under a load",
    cite("TRR 1043", "corner, fitted to finite elements"),
    result("psi", "corner stress"),
    note="c is the side of a square with the area of the circle; the tension is at the top",
    **_SIX,
)
def corner_stress_ioannides(P, a, h, E_c, nu, k):
    """Tension at the top of the slab under a square at a corner, of the circle's area.

    Arguments as for Westergaard's. Source: Ioannides, Thompson, Barenberg 1985, a fit to
    finite-element runs.
    """
    l = radius_of_relative_stiffness.body(E_c, h, nu, k)
    c = sqrt(pi) * a
    sigma_c = 3 * P / h**2 * (1 - (c / l) ** 0.72)
    return sigma_c


@inline
@formula(
    "Corner deflection under a load (Westergaard)",
    cite("TRR 1043", "corner, Westergaard 1926"),
    result("in", "corner deflection"),
    **_SIX,
)
def corner_deflection_westergaard(P, a, h, E_c, nu, k):
    """Settlement of a corner under a circle that touches both its edges."""
    l = radius_of_relative_stiffness.body(E_c, h, nu, k)
    w_c = P / (k * l**2) * (1.1 - 0.88 * a * sqrt(2) / l)
    return w_c


@inline
@formula(
    "Corner deflection under a load",
    cite("TRR 1043", "corner, fitted to finite elements"),
    result("in", "corner deflection"),
    **_SIX,
)
def corner_deflection_ioannides(P, a, h, E_c, nu, k):
    """Settlement of a corner under a square of the circle's area."""
    l = radius_of_relative_stiffness.body(E_c, h, nu, k)
    c = sqrt(pi) * a
    w_c = P / (k * l**2) * (1.205 - 0.69 * c / l)
    return w_c


edge_stress = choice(
    "edge_stress", "shape", "circle", circle=edge_stress_circle, semicircle=edge_stress_semicircle
)
edge_deflection = choice(
    "edge_deflection", "shape", "circle", circle=edge_deflection_circle, semicircle=edge_deflection_semicircle
)  # fmt: skip
corner_stress = choice(
    "corner_stress", "method", "ioannides",
    westergaard=corner_stress_westergaard, ioannides=corner_stress_ioannides,
)  # fmt: skip
corner_deflection = choice(
    "corner_deflection", "method", "ioannides",
    westergaard=corner_deflection_westergaard, ioannides=corner_deflection_ioannides,
)  # fmt: skip
