"""Heat of hydration: how far the cement has reacted, and the heat it gives the slab.

The model of Schindler and Folliard. Ultimate degree and time parameter were read in public code,
the other coefficients are quoted from memory; the usual figures of the trade (rise by 100 lb of
cement, setting at 70 °F) come out of it and are tested.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from numpy import exp, log, minimum

from calcbook.basis.formula import arg, cite, formula, number, result, with_unit
from calcbook.basis.table import lookup
from calcbook.basis.units import Q

if TYPE_CHECKING:
    from calcbook.basis.units import Quantity

T_HYDRATION = Q(294.25, "K")  # 21.1 °C, the model's reference
LIME = 0.15  # share of a fly ash that is taken for lime, CaO
_SHARE = dict(low=0, high=1)


@formula(
    "Ultimate degree of hydration",
    cite("Schindler 2005"),
    result("1", "share of the cement that reacts in the end"),
    w_cm=arg("1", "water-cement ratio by mass", low=0.25, high=0.9, symbol="w/cm"),
    p_FA=arg("1", "fly ash, share of the cementitious mass", **_SHARE),
    p_SLAG=arg("1", "slag, share of the cementitious mass", **_SHARE),
)
def ultimate_hydration(w_cm, p_FA=0.0, p_SLAG=0.0):
    """Degree of hydration that a mix reaches in the end, at most 1.

    Source: Schindler and Folliard 2005 (after Mills 1966).
    """
    alpha_u = minimum(1.031 * w_cm / (0.194 + w_cm) + 0.50 * p_FA + 0.30 * p_SLAG, 1)
    return alpha_u


_CLINKER = dict(
    C3A=arg("1", "tricalcium aluminate, share of the cement", above=0, below=0.3),
    C3S=arg("1", "tricalcium silicate, share of the cement", above=0, below=0.9),
    B=arg("m2/kg", "fineness (Blaine)", low=200, high=800),
    SO3=arg("1", "sulfate, share of the cement", above=0, below=0.1),
)


@formula(
    "Hydration time parameter",
    cite("Schindler 2005"),
    result("h", "hydration time parameter"),
    **_CLINKER,
    p_FA=arg("1", "fly ash, share of the cementitious mass", **_SHARE),
    p_SLAG=arg("1", "slag, share of the cementitious mass", **_SHARE),
    p_CaO=arg("1", "lime (CaO) in the fly ash, share", **_SHARE),
)
def hydration_time(C3A, C3S, B, SO3, p_FA=0.0, p_SLAG=0.0, p_CaO=0.0):
    """Time parameter tau of the hydration curve at 21.1 °C: larger is slower.

    Source: Schindler and Folliard 2005.
    """
    tau = with_unit(
        66.78
        * C3A**-0.154
        * C3S**-0.401
        * number(B, "m2/kg") ** -0.804
        * SO3**-0.758
        * exp(2.187 * p_SLAG + 9.50 * p_FA * p_CaO),
        "h",
        B,
    )
    return tau


@formula(
    "Hydration slope parameter",
    cite("Schindler 2005"),
    result("1", "hydration slope parameter"),
    **_CLINKER,
    p_SLAG=arg("1", "slag, share of the cementitious mass", **_SHARE),
)
def hydration_slope(C3A, C3S, B, SO3, p_SLAG=0.0):
    """Slope parameter beta of the hydration curve: larger is a steeper middle.

    C3A, C3S, B, SO3, p_SLAG: as for ``hydration_time``. Source: Schindler and Folliard 2005, from
    memory.
    """
    beta = (
        181.4
        * C3A**0.146
        * C3S**0.227
        * number(B, "m2/kg") ** -0.535
        * SO3**0.558
        * exp(-0.647 * p_SLAG)
    )
    return beta


@formula(
    "Activation energy of hydration",
    cite("Schindler 2005", "after Schindler 2004a"),
    result("J/mol", "activation energy"),
    C3A=_CLINKER["C3A"],
    C4AF=arg("1", "tetracalcium aluminoferrite, share", above=0, below=0.3),
    B=_CLINKER["B"],
    p_FA=arg("1", "fly ash, share of the cementitious mass", **_SHARE),
    p_SLAG=arg("1", "slag, share of the cementitious mass", **_SHARE),
    p_CaO=arg("1", "lime (CaO) in the fly ash, share", **_SHARE),
)
def hydration_energy(C3A, C4AF, B, p_FA=0.0, p_SLAG=0.0, p_CaO=0.0):
    """Activation energy: how strongly temperature speeds the reaction.

    C3A, C4AF: shares of the cement; B: Blaine fineness; p_FA, p_SLAG, p_CaO: as for
    ``hydration_time``. Returns energy by amount. Source: Schindler and Folliard 2005, from memory.
    """
    f_E = 1 - 1.05 * p_FA * (1 - p_CaO / 0.40) + 0.40 * p_SLAG
    E_a = with_unit(22100 * f_E * C3A**0.30 * C4AF**0.25 * number(B, "m2/kg") ** 0.35, "J/mol", B)
    return E_a


@formula(
    "Heat of hydration of the cement",
    cite("Schindler 2005", "after Bogue"),
    result("J/g", "heat by mass of cement at full hydration"),
    C3S=_CLINKER["C3S"],
    C2S=arg("1", "dicalcium silicate, share", low=0, below=0.9),
    C3A=_CLINKER["C3A"],
    C4AF=arg("1", "tetracalcium aluminoferrite, share", low=0, below=0.3),
    SO3=_CLINKER["SO3"],
    CaO=arg("1", "free lime, share", low=0, below=0.1),
    MgO=arg("1", "magnesia, share", low=0, below=0.1),
    h_1=arg("J/g", "unit of heat in the source", above=0),
)
def cement_heat(C3S, C2S, C3A, C4AF, SO3, CaO=0.01, MgO=0.022, h_1=Q(1, "J/g")):
    """Heat that the cement gives when all of it has reacted.

    h_1: 1 J/g, which gives the sum its unit. Source: Schindler and Folliard 2005 (from Bogue 1947),
    from memory.
    """
    H = 500 * C3S + 260 * C2S + 866 * C3A + 420 * C4AF + 624 * SO3 + 1186 * CaO + 850 * MgO
    H_cem = H * h_1
    return H_cem


@formula(
    "Heat of hydration of the cementitious mass",
    cite("Schindler 2005"),
    result("J/g", "heat by mass of cementitious material at full hydration"),
    H_cem=arg("J/g", "heat of the cement", above=0),
    p_FA=arg("1", "fly ash, share of the cementitious mass", **_SHARE),
    p_SLAG=arg("1", "slag, share of the cementitious mass", **_SHARE),
    p_CaO=arg("1", "lime (CaO) in the fly ash, share", **_SHARE),
    H_SLAG=arg("J/g", "heat of slag", low=0),
    H_FA=arg("J/g", "heat of the lime in fly ash", low=0),
)
def total_heat(H_cem, p_FA=0.0, p_SLAG=0.0, p_CaO=0.0, H_SLAG=Q(461, "J/g"), H_FA=Q(1800, "J/g")):
    """Heat of cement, slag and fly ash together, by mass of all of them.

    H_SLAG, H_FA: 461 and 1,800 J/g. Source: Schindler and Folliard 2005.
    """
    p_cem = 1 - p_FA - p_SLAG
    H_u = H_cem * p_cem + H_SLAG * p_SLAG + H_FA * p_CaO * p_FA
    return H_u


@formula(
    "Degree of hydration",
    cite("Schindler 2005"),
    result("1", "share of the cement that has reacted"),
    t_e=arg("h", "equivalent age at 21.1 °C", above=0),
    alpha_u=arg("1", "ultimate degree of hydration", above=0, high=1),
    tau=arg("h", "hydration time parameter", above=0),
    beta=arg("1", "hydration slope parameter", above=0),
)
def degree_of_hydration(t_e, alpha_u, tau, beta):
    """Share of the cement that has reacted by an equivalent age.

    alpha_u, tau, beta: parameters of the mix. Returns a number between 0 and alpha_u. Source:
    Schindler and Folliard 2005.
    """
    alpha = alpha_u * exp(-((tau / t_e) ** beta))
    return alpha


@formula(
    "Equivalent age at a degree of hydration",
    cite("Schindler 2005", "the degree of hydration, solved for the age"),
    result("h", "equivalent age at 21.1 °C"),
    alpha=arg("1", "degree of hydration", above=0, below=1),
    alpha_u=arg("1", "ultimate degree of hydration", above=0, high=1),
    tau=arg("h", "hydration time parameter", above=0),
    beta=arg("1", "hydration slope parameter", above=0),
)
def age_at_degree(alpha, alpha_u, tau, beta):
    """Equivalent age at which a degree of hydration is reached; alpha must stay below alpha_u.

    alpha: degree wanted; alpha_u, tau, beta: parameters of the mix.
    """
    t_e = tau / log(alpha_u / alpha) ** (1 / beta)
    return t_e


@formula(
    "Heat of hydration released",
    cite("Schindler 2005"),
    result("MJ/m3", "heat by volume of concrete"),
    alpha=arg("1", "degree of hydration", low=0, high=1),
    H_u=arg("J/g", "heat of the cementitious mass at full hydration", above=0),
    C_c=arg("lb/yd3", "cementitious content", low=0, high=1500),
)
def hydration_heat(alpha, H_u, C_c):
    """Heat that a volume of concrete has given off.

    Source: Schindler and Folliard 2005.
    """
    H = H_u * C_c * alpha
    return H


@formula(
    "Rate of hydration heat",
    cite("Schindler 2005"),
    result("W/m3", "heat by volume and time"),
    t_e=arg("h", "equivalent age at 21.1 °C", above=0),
    alpha=arg("1", "degree of hydration", low=0, high=1),
    gamma=arg("1", "speed of the clock at the concrete's temperature", low=0),
    H_u=arg("J/g", "heat of the cementitious mass at full hydration", above=0),
    C_c=arg("lb/yd3", "cementitious content", low=0, high=1500),
    tau=arg("h", "hydration time parameter", above=0),
    beta=arg("1", "hydration slope parameter", above=0),
)
def heat_rate(t_e, alpha, gamma, H_u, C_c, tau, beta):
    """Heat that a volume of concrete gives off in a time: the time derivative of its heat.

    alpha: degree of hydration then; gamma: ``maturity_rate`` at its temperature with the activation
    energy of the mix and 21.1 °C; H_u, C_c, tau, beta: parameters of the mix. Source: Schindler and
    Folliard 2005.
    """
    q_H = H_u * C_c * (tau / t_e) ** beta * beta / t_e * alpha * gamma
    return q_H


@formula(
    "Adiabatic temperature rise",
    cite("Schindler 2005"),
    result("delta_degF", "adiabatic temperature rise"),
    H=arg("MJ/m3", "heat of hydration by volume of concrete", low=0),
    rho=arg("lb/ft3", "density of concrete", above=0),
    c_p=arg("Btu/lb/degF", "specific heat of concrete", above=0),
)
def adiabatic_rise(H, rho=Q(150, "lb/ft3"), c_p=Q(0.24, "Btu/lb/degF")):
    """How much concrete would warm if it kept all its heat.

    H: heat given off.
    """
    dT_ad = H / (rho * c_p)
    return dT_ad


@dataclass(frozen=True)
class Mix:
    """The hydration parameters of a concrete, computed from its cement and proportions."""

    alpha_u: float
    tau: Quantity
    beta: float
    E_a: Quantity
    H_u: Quantity
    C_c: Quantity
    w_cm: float

    @property
    def curve(self) -> dict[str, Any]:
        """The arguments of ``degree_of_hydration`` that belong to the mix."""
        return dict(alpha_u=self.alpha_u, tau=self.tau, beta=self.beta)


def mix_of(cement: str, w_cm: float, C_c: Quantity, p_FA: float = 0.0) -> Mix:
    """A Mix from the type of cement ("I", "II", "III", "V"), w/cm and the cementitious content.

    w_cm: a plain ratio; C_c: mass by volume of concrete; p_FA: share of fly ash, of
    which ``LIME`` is taken for lime. Cement composition is the mean by type of ``tables/cements.csv``.
    """
    row = lookup("cements", type=cement)
    B = Q(row["blaine"], "m2/kg")
    clinker = dict(C3A=row["C3A"], C3S=row["C3S"], B=B, SO3=row["SO3"])
    ash = dict(p_FA=p_FA, p_CaO=LIME)
    compounds = {name: row[name] for name in ("C3S", "C2S", "C3A", "C4AF", "SO3", "MgO")}
    heat = cement_heat(**compounds, CaO=row["free_CaO"])
    return Mix(
        ultimate_hydration(w_cm, p_FA),
        hydration_time(**clinker, **ash),
        hydration_slope(**clinker),
        hydration_energy(row["C3A"], row["C4AF"], B, **ash),
        total_heat(heat, **ash),
        C_c,
        w_cm,
    )
