"""The slab under load: concrete properties, margins of safety, joints, soil and temperature.

The stresses themselves are in ``westergaard.py``, walls in ``wall_load.py``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from numpy import cos, cosh, sin, sinh, sqrt, tan, tanh

from calcbook.basis.formula import FormulaError, arg, cite, formula, procedure, result, root
from calcbook.basis.reading import read
from calcbook.basis.table import lookup, table
from calcbook.basis.units import Q, UnitError

if TYPE_CHECKING:
    from calcbook.basis.units import Quantity

STRENGTH = arg("psi", "specified strength of the concrete", above=0, valid=(2500, 10000), digits=4)


@formula(
    "Modulus of elasticity of concrete",
    cite("ACI 318-19", "19.2.2.1(b)"),
    result("psi", "modulus of elasticity of the concrete"),
    f_c=STRENGTH,
)
def concrete_modulus(f_c):
    """Modulus of elasticity of normal-weight concrete.

    >>> print(concrete_modulus("3000 psi"))
    3122018.6 pound_force_per_square_inch
    """
    E_c = 57000 * root(f_c)
    return E_c


@formula(
    "Modulus of rupture of concrete",
    cite("ACI 318-19", "19.2.3.1"),
    result("psi", "modulus of rupture"),
    note="7.5 is the code's factor for λ = 1; pavement practice tests the strength or takes 9 (UFC 3-320-06A)",
    f_c=STRENGTH,
    factor=arg(
        "1", "multiplier of the square root of strength in psi", above=0, high=12, valid=(7.5, 9)
    ),
    lam=arg("1", "factor for lightweight concrete", above=0, high=1),
)
def modulus_of_rupture(f_c, factor=7.5, lam=1.0):
    """Flexural tension at which plain concrete cracks.

    factor: 7.5 by ACI 318, 9 by UFC 3-320-06A for floor slabs; lam: 1 for normal-weight concrete.

    >>> print(modulus_of_rupture("3000 psi"))
    410.8 pound_force_per_square_inch
    """
    f_r = factor * lam * root(f_c)
    return f_r


@formula(
    "Safety factor against cracking",
    cite("ACI 360R-10", "safety factors on the modulus of rupture"),
    result("1", "safety factor"),
    f_r=arg("psi", "modulus of rupture", above=0),
    sigma=arg("psi", "flexural stress", above=0),
)
def safety_factor(f_r, sigma):
    """How many times the stress the concrete bears before it cracks."""
    SF = f_r / sigma
    return SF


@formula(
    "Allowable flexural stress",
    cite("ACI 360R-10", "appendix 1"),
    result("psi", "allowable flexural stress"),
    f_r=arg("psi", "modulus of rupture", above=0),
    SF=arg("1", "safety factor", low=1, high=5, valid=(1.4, 2.0)),
)
def allowable_stress(f_r, SF):
    """Modulus of rupture over a safety factor: 1.7 to 2.0 for loads that come often.

    >>> print(allowable_stress("474 psi", 1.7))
    278.8 pound_force_per_square_inch
    """
    f_a = f_r / SF
    return f_a


@formula(
    "Edge stress at a joint with load transfer",
    cite("UFC 3-260-03", "chapter 4, at Figure 4-11: 75 percent stress at a deflection ratio of 0.76"),
    result("psi", "stress at the joint"),
    note="25 % crosses only where the unloaded side follows by 0.76 of the loaded one: dowels, or the rough face of "
    "a crack that stays tight; a joint that opens shares nothing, and a key alone is no longer trusted "
    "(UFC 3-260-11FA)",
    sigma_e=arg("psi", "stress at a free edge", low=0),
    LT=arg("1", "share of the load that crosses the joint", low=0, high=0.5, valid=(0, 0.25)),
)
def joint_stress(sigma_e, LT=0.25):
    """Stress at a joint whose other side takes part of the load.

    LT: share that crosses, 0 for a free edge, at most 0.25 in the source.

    >>> print(joint_stress("194 psi", 0.25))
    145.5 pound_force_per_square_inch
    """
    sigma_j = (1 - LT) * sigma_e
    return sigma_j


# --- temperature -----------------------------------------------------------------------------


@formula(
    "Curling coefficient of a panel",
    cite("Huang 2004", "eq. 4.9 and Fig. 4.4, after Westergaard 1927 and Bradbury"),
    result("1", "curling coefficient"),
    L=arg("ft", "length of the panel in the direction of the stress", above=0, high=200),
    l=arg("in", "radius of relative stiffness", above=0),
)
def curling_coefficient(L, l):  # noqa: E741
    """Share of the fully restrained curling stress that a panel of length L feels. A number.

    It is near 0 for a short panel, which lifts freely, and 1 for an endless one (1.08 at most).
    """
    x = L / (sqrt(8) * l)
    C = 1 - 2 * cos(x) * cosh(x) * (tan(x) + tanh(x)) / (sin(2 * x) + sinh(2 * x))
    return C


@formula(
    "Curling stress inside a panel",
    cite("Huang 2004", "eq. 4.11"),
    result("psi", "curling stress"),
    note="drying of the top adds to this, so short panels help twice",
    E_c=arg("psi", "modulus of elasticity of the concrete", above=0),
    alpha=arg("1/degF", "thermal expansion of the concrete", above=0, high=1e-5),
    dT=arg(
        "delta_degF",
        "temperature of the top less that of the bottom",
        low=-60,
        high=60,
        symbol="Delta T",
    ),
    nu=arg("1", "Poisson's ratio of the concrete", low=0, below=0.5),
    C_x=arg("1", "curling coefficient along the stress"),
    C_y=arg("1", "curling coefficient across it"),
)
def curling_stress(E_c, alpha, dT, nu, C_x, C_y):
    """Bending stress because top and bottom of a panel differ in temperature.

    alpha: thermal expansion, about 5.5e-6 per F degree. Tension at the bottom is positive: a top
    warmer than the bottom (dT above zero) bends the panel down at its edges.
    """
    sigma_t = E_c * alpha * dT / (2 * (1 - nu**2)) * (C_x + nu * C_y)
    return sigma_t


# --- soil ------------------------------------------------------------------------------------


@procedure(
    "Presumptive bearing of a soil class",
    cite("IBC 2012", "Table 1806.2"),
    "looked up in the table of presumptive load-bearing values; where ground under 1,500 psf is "
    "likely, the code asks for a soils investigation",
    returns=result("psf", "allowable bearing pressure"),
    soil=arg("1", "soil class", choices=tuple(row["soil"] for row in table("soil"))),
)
def presumptive_bearing(soil: str) -> Quantity:
    """Allowable bearing pressure of a soil class of the code. Returns psf.

    soil: "bedrock", "foliated rock", "gravel", "sand" or "clay". Raises FormulaError for another.
    """
    try:
        return Q(lookup("soil", soil=soil)["bearing_psf"], "psf")
    except KeyError as error:
        raise FormulaError(f"presumptive_bearing: {error.args[0]}") from None


@formula(
    "Modulus of subgrade reaction under a wider load",
    cite("UFC 3-220-20", "eq. 5-36, after Sowers 1977"),
    result("pci", "modulus of subgrade reaction under the wider load"),
    k=arg("pci", "modulus of subgrade reaction by a plate test", above=0),
    B=arg("ft", "width loaded", above=0, high=200, valid=(0, 5)),
    b=arg("in", "width of the plate", above=0, high=60),
    n=arg("1", "exponent, 0.5 to 0.7", low=0.5, high=0.7),
)
def size_effect(k, B, b=Q(30, "in"), n=0.7):
    """How much softer the same soil is under a load wider than the test plate, up to 5 ft wide.

    A rival of taking the plate's value for a whole slab.
    """
    k_B = k * (b / B) ** n
    return k_B


@procedure(
    "Modulus of subgrade reaction of a soil",
    cite("UFC 3-250-01", "Table 10-1"),
    "looked up by soil group and water content; a typical value for soil at 90 to 95 % of its "
    "greatest density. A plate-load test or a soils report goes before it.",
    returns=result("pci", "modulus of subgrade reaction"),
    group=arg("1", "soil group", choices=tuple(dict.fromkeys(r["group"] for r in table("subgrade")))),
    moisture=arg("1", "water content by mass of dry soil", low=0, below=1),
)
def subgrade_modulus(group: str, moisture: Quantity) -> Quantity:
    """Typical modulus of subgrade reaction. Returns pci.

    group: a soil group such as "CL" or "SM"; moisture: water content, 0.12 or "12 %", rounded to
    a whole per cent. Raises FormulaError where the table has no value.
    """
    try:
        percent = round(read(moisture, "1").m_as("") * 100, 6)
    except UnitError as error:
        raise FormulaError(f"subgrade_modulus: moisture: {error}") from None
    rows = [r for r in table("subgrade") if r["group"] == group]
    for row in rows:
        if row["moisture_from"] <= round(percent) <= row["moisture_to"]:
            return Q(row["k_pci"], "pci")
    if not rows:
        known = ", ".join(dict.fromkeys(r["group"] for r in table("subgrade")))
        raise FormulaError(
            f"subgrade_modulus: soil group {group!r} is not known; choose one of {known}"
        )
    low, high = rows[0]["moisture_from"], rows[-1]["moisture_to"]
    raise FormulaError(
        f"subgrade_modulus: a water content of {percent:g} % is outside {low:g} to {high:g} %, "
        f"what the table gives for {group}; have k measured"
    )
