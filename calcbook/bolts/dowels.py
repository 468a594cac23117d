"""The wood side of a sill bolt: dowel bearing, the yield modes of single shear, washers on the plate."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from numpy import cos, floor, minimum, pi, sin, sqrt

from calcbook.basis.formula import arg, cite, formula, procedure, result
from calcbook.basis.table import lookup
from calcbook.basis.units import Q, number_in

if TYPE_CHECKING:
    from calcbook.basis.units import Quantity

_G = {"G": arg("1", "specific gravity of the plate", low=0.31, high=0.73)}
_STEP = arg("psi", "rounded to", above=0, symbol="Delta F")
DOWEL = arg("in", "bolt diameter", low=0.25, high=1)


@formula(
    "Dowel bearing strength along the grain",
    cite("NDS-2018", "Table 12.3.3, 11200 G, to the nearest 50 psi"),
    result("psi", "dowel bearing strength along the grain"),
    **_G,
    F_1=arg("psi", "strength at a specific gravity of 1", above=0),
    step=_STEP,
)
def dowel_bearing_parallel(G, F_1=Q(11200, "psi"), step=Q(50, "psi")):
    """Dowel bearing strength of wood along the grain, for bolts of 1/4 in. and more.

    F_1, step: constants of the source. Returns a strength, rounded to 50 psi as the tables print
    it. Source: NDS-2018 Table 12.3.3.
    """
    F_e_par = floor(F_1 * G / step + 0.5) * step
    return F_e_par


@formula(
    "Dowel bearing strength across the grain",
    cite("NDS-2018", "Table 12.3.3, 6100 G^1.45 over the root of D, to the nearest 50 psi"),
    result("psi", "dowel bearing strength across the grain"),
    **_G,
    D=DOWEL,
    F_1=arg("psi", "strength at G = 1 and D = 1 in.", above=0),
    D_1=arg("in", "unit of the diameter", above=0),
    step=_STEP,
)
def dowel_bearing_perpendicular(G, D, F_1=Q(6100, "psi"), D_1=Q(1, "in"), step=Q(50, "psi")):
    """Dowel bearing strength of wood across the grain.

    D: bolt diameter, 1/4 to 1 in.; F_1, D_1, step: constants of the source. Returns a strength,
    rounded to 50 psi. Source: NDS-2018 Table 12.3.3.
    """
    F_e_perp = floor(F_1 * G**1.45 / sqrt(D / D_1) / step + 0.5) * step
    return F_e_perp


@formula(
    "Dowel bearing strength at an angle to the grain",
    cite("NDS-2018", "Eq. 12.3-11, Hankinson"),
    result("psi", "dowel bearing strength at the angle"),
    F_e_par=arg("psi", "along the grain", above=0),
    F_e_perp=arg("psi", "across the grain", above=0),
    theta=arg("deg", "angle of the load to the grain", low=0, high=90),
)
def dowel_bearing_at_angle(F_e_par, F_e_perp, theta):
    """Dowel bearing strength of wood at an angle between load and grain.

    theta: angle, 0 to 90 degrees. Source: NDS-2018 Eq. 12.3-11.
    """
    F_es = F_e_par * F_e_perp / (F_e_par * sin(theta) ** 2 + F_e_perp * cos(theta) ** 2)
    return F_es


@formula(
    "Reference lateral design value, single shear",
    cite("NDS-2018", "Table 12.3.1A and 12.3.1B"),
    result("lbf", "lateral value of one bolt"),
    D=DOWEL,
    l_s=arg("in", "bolt's length in the plate", above=0),
    l_m=arg("in", "bolt's length in the concrete", above=0),
    F_es=arg("psi", "dowel bearing strength of the plate", above=0),
    F_em=arg("psi", "dowel bearing strength of the concrete", above=0),
    F_yb=arg("psi", "bending yield strength of the bolt", above=0),
    theta=arg("1", "angle of the load to the grain, in degrees", low=0, high=90),
    shows={z: "lbf" for z in ("Z_Im", "Z_Is", "Z_II", "Z_IIIm", "Z_IIIs", "Z_IV")},
)
def single_shear_value(D, l_s, l_m, F_es, F_em=Q(7500, "psi"), F_yb=Q(45000, "psi"), theta=0.0):
    """Reference lateral value Z of one bolt between a wood plate and concrete.

    D: bolt diameter, 1/4 to 1 in.; F_em: of the concrete (7,500 psi; older editions used 6,000).
    Returns a force, at normal load duration. Source: NDS-2018 Table 12.3.1A.
    """
    R_e = F_em / F_es
    R_t = l_m / l_s
    k_1 = (sqrt(R_e + 2 * R_e**2 * (1 + R_t + R_t**2) + R_t**2 * R_e**3) - R_e * (1 + R_t)) / (1 + R_e)
    k_2 = sqrt(2 * (1 + R_e) + 2 * F_yb * (1 + 2 * R_e) * D**2 / (3 * F_em * l_m**2)) - 1
    k_3 = sqrt(2 * (1 + R_e) / R_e + 2 * F_yb * (2 + R_e) * D**2 / (3 * F_em * l_s**2)) - 1
    K_theta = 1 + theta / 360
    Z_Im = D * l_m * F_em / (4 * K_theta)
    Z_Is = D * l_s * F_es / (4 * K_theta)
    Z_II = k_1 * D * l_s * F_es / (3.6 * K_theta)
    Z_IIIm = k_2 * D * l_m * F_em / ((1 + 2 * R_e) * 3.2 * K_theta)
    Z_IIIs = k_3 * D * l_s * F_em / ((2 + R_e) * 3.2 * K_theta)
    Z_IV = D**2 / (3.2 * K_theta) * sqrt(2 * F_em * F_yb / (3 * (1 + R_e)))
    Z = minimum(minimum(minimum(Z_Im, Z_Is), minimum(Z_II, Z_IIIm)), minimum(Z_IIIs, Z_IV))
    return Z


_BOLT_WORDS = (
    "The dowel bearing strength of the plate follows from its specific gravity and the angle of the load; "
    "of six ways to yield the weakest counts."
)
_BOLT_ARGUMENTS = {
    "D": DOWEL,
    "l_s": arg("in", "bolt's length in the plate", above=0),
    "l_m": arg("in", "bolt's length in the concrete", above=0),
    **_G,
    "theta": arg("deg", "angle of the load to the grain", low=0, high=90),
    "F_yb": arg("psi", "bending yield strength of the bolt", above=0),
    "F_em": arg("psi", "dowel bearing strength of the concrete", above=0),
}  # fmt: skip


@procedure(
    "Lateral value of a sill bolt",
    cite("NDS-2018", "Table 12.3.1A"),
    _BOLT_WORDS,
    returns=result("lbf", "lateral value of one bolt"),
    **_BOLT_ARGUMENTS,
)
def bolt_lateral_value(
    D: Quantity,
    l_s: Quantity = Q(1.5, "in"),
    l_m: Quantity = Q(6, "in"),
    G: float = 0.5,
    theta: Quantity = Q(0, "deg"),
    F_yb: Quantity = Q(45000, "psi"),
    F_em: Quantity = Q(7500, "psi"),
) -> Quantity:
    """Reference lateral value Z of one bolt, from the specific gravity of the plate.

    D, l_s, l_m: lengths; G: plain; theta: angle; F_yb, F_em: strengths. Returns a force at normal
    load duration. Raises FormulaError outside the ranges of the formulas. Source: NDS-2018.
    """
    return single_shear_value(**_bound(D, l_s, l_m, G, theta, F_yb, F_em))


@procedure(
    "Yield modes of a sill bolt", cite("NDS-2018", "Table 12.3.1A"), _BOLT_WORDS, **_BOLT_ARGUMENTS
)
def yield_modes(
    D: Quantity,
    l_s: Quantity = Q(1.5, "in"),
    l_m: Quantity = Q(6, "in"),
    G: float = 0.5,
    theta: Quantity = Q(0, "deg"),
    F_yb: Quantity = Q(45000, "psi"),
    F_em: Quantity = Q(7500, "psi"),
) -> YieldModes:
    """The value of every yield mode of a bolt, and which governs.

    D, l_s, l_m, G, theta, F_yb, F_em: as for ``bolt_lateral_value``. Returns YieldModes.
    Source: NDS-2018.
    """
    return modes_of(single_shear_value.bind(**_bound(D, l_s, l_m, G, theta, F_yb, F_em)))


def modes_of(bound: dict[str, Any]) -> YieldModes:
    """YieldModes of one use of ``single_shear_value``, from its checked arguments."""
    return YieldModes(
        {
            line.name.removeprefix("Z_"): Q(number_in(line.value, "lbf"), "lbf")
            for line in single_shear_value.lines(bound)
            if line.name.startswith("Z_")
        }
    )


def _bound(
    D: Quantity, l_s: Quantity, l_m: Quantity, G: float, theta: Quantity, F_yb: Quantity, F_em: Quantity
) -> dict[str, Any]:
    F_es = dowel_bearing_at_angle(dowel_bearing_parallel(G), dowel_bearing_perpendicular(G, D), theta)
    degrees = Q(0, "deg") + theta
    return {
        "D": D, "l_s": l_s, "l_m": l_m, "F_es": F_es, "F_em": F_em, "F_yb": F_yb,
        "theta": degrees.m_as("degree"),
    }  # fmt: skip


class YieldModes(dict):
    """Lateral values by yield mode: ``Im``, ``Is``, ``II``, ``IIIm``, ``IIIs``, ``IV``."""

    @property
    def governing(self) -> str:
        """Name of the weakest mode."""
        return min(self, key=lambda name: number_in(self[name], "lbf"))

    def __str__(self) -> str:
        values = ", ".join(f"{name} {value.magnitude:,.0f} lbf" for name, value in self.items())
        return f"mode {self.governing} governs: {values}"


@formula(
    "Adjusted lateral design value",
    cite("NDS-2018 from memory", "Table 11.3.1"),
    result("lbf", "allowable lateral load of one bolt"),
    Z=arg("lbf", "lateral value", low=0),
    C_D=arg("1", "load duration factor", low=0.9, high=1.6),
    C_M=arg("1", "wet service factor", above=0, high=1),
)
def adjusted_lateral_value(Z, C_D=1.6, C_M=1.0):
    """Allowable lateral load of a bolt, by allowable stress design.

    Z: reference value; C_D: load duration, 0.9 to 1.6 (1.6 is the most for connections); C_M: wet
    service, 1 where the plate stays at 19 % moisture or less, 0.7 where it does not (plain).
    Source: NDS-2018 Table 11.3.1.
    """
    Z_a = Z * C_D * C_M
    return Z_a


@procedure(
    "Load duration factor",
    cite("NDS-2018 from memory", "Table 2.3.2"),
    "Looked up by the load that lasts shortest; 1.6 is the most that connections may use.",
    returns=result("1", "load duration factor"),
    load=arg("1", "kind of load", choices=("permanent", "ten years", "snow", "construction", "wind", "earthquake")),
)  # fmt: skip
def load_duration(load: str = "wind") -> float:
    """Load duration factor C_D of wood connections.

    load: kind of load, a row of tables/load_duration.csv. Returns a plain number. Raises KeyError
    for a load that is not in the table. Source: NDS-2018 Table 2.3.2.
    """
    return lookup("load_duration", load=load)["C_D"]


@formula(
    "Allowable uplift by wood bearing under a square washer",
    cite("NDS-2018 from memory", "3.10.2, bearing across the grain"),
    result("lbf", "allowable uplift of one bolt, by the washer"),
    F_cperp=arg("psi", "compression strength across the grain", above=0, symbol="F_c_perp"),
    b=arg("in", "side of the washer, on the plate", above=0),
    d_h=arg("in", "hole in the plate", above=0),
    C_M=arg("1", "wet service factor", above=0, high=1),
)
def square_washer_uplift(F_cperp, b, d_h, C_M=1.0):
    """Allowable uplift of a bolt by bearing of its square plate washer on the wood.

    F_cperp: compression strength across the grain (no load duration factor applies); C_M: 0.67 in
    wet service (plain). Source: NDS-2018 3.10.2.

    >>> print(square_washer_uplift("565 psi", "3 in", "0.6875 in"))
    4875.3 force_pound
    """
    A_w = b**2 - pi / 4 * d_h**2
    T_w = F_cperp * C_M * A_w
    return T_w
