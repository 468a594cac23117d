"""Strength from equivalent age, and what the first week allows.

No standard fixes when walls may stand on a new slab: the book shows strength, its uncertainty and
what published practice says, and leaves the decision to the engineer.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from numpy import exp, maximum, sqrt

from calcbook.basis.coherent import from_coherent
from calcbook.basis.formula import arg, choice, cite, formula, procedure, result
from calcbook.basis.table import lookup, table
from calcbook.basis.units import Q
from calcbook.concrete.maturity import (
    apparent_energy,
    first_reach,
    grown_age,
    hansen_energy,
    maturity_rate,
    time_of_age,
)  # fmt: skip

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from calcbook.basis.units import Quantity

_F_28 = arg("psi", "strength at 28 days", above=0, high=15000)


@formula(
    "Strength by age (ACI 209)",
    cite("ACI 209R-92", "equation 2-1, Table 2.2.1"),
    result("psi", "compressive strength"),
    t_e=arg("day", "equivalent age", low=0),
    f_28=_F_28,
    a=arg("day", "constant of the cement and curing", above=0),
    b=arg("1", "constant of the cement and curing", above=0),
)
def strength_aci209(t_e, f_28, a=Q(4.0, "day"), b=0.85):
    """Strength as a share of the 28-day strength by age, moist cured at about 70 °F.

    a, b: 4.0 d and 0.85 for Type I, 2.3 d and 0.92 for Type III. Source: ACI 209R-92.

    >>> print(strength_aci209("7 day", "4000 psi"))
    2814.1 pound_force_per_square_inch
    """
    f = f_28 * t_e / (a + b * t_e)
    return f


@formula(
    "Strength by age (hyperbola from a set time)",
    cite("ASTM C1074", "appendix X1"),
    result("psi", "compressive strength"),
    t_e=arg("day", "equivalent age", low=0),
    f_u=arg("psi", "limiting strength", above=0, high=20000),
    k=arg("1/day", "rate constant", above=0),
    t_0=arg("day", "equivalent age at which strength starts", low=0),
)
def strength_hyperbolic(t_e, f_u, k, t_0):
    """Strength that starts at a set time and nears a limit, for constants of your own tests.

    Returns a strength, zero before t_0. Source: ASTM C1074 X1, from memory.
    """
    x = k * maximum(t_e - t_0, 0)
    f = f_u * x / (1 + x)
    return f


@formula(
    "Strength by age (Model Code 1990)",
    cite("CEB-FIP MC90", "equation 2.1-54"),
    result("psi", "compressive strength"),
    t_e=arg("day", "equivalent age at 20 °C", above=0),
    f_28=_F_28,
    s=arg("1", "constant of the cement", above=0, high=1),
    t_28=arg("day", "28 days", above=0),
)
def strength_mc90(t_e, f_28, s=0.25, t_28=Q(28, "day")):
    """Strength by age after the Model Code.

    s: 0.25 normal, 0.20 rapid, 0.38 slow cement. Source: CEB-FIP Model Code 1990.
    """
    f = f_28 * exp(s * (1 - sqrt(t_28 / t_e)))
    return f


strength_at = choice(
    "strength_at", "method", "aci209",
    aci209=strength_aci209, hyperbolic=strength_hyperbolic, mc90=strength_mc90,
)  # fmt: skip


@formula(
    "Equivalent age at which a strength is reached (ACI 209)",
    cite("ACI 209R-92", "equation 2-1, solved for the age"),
    result("day", "equivalent age"),
    f=arg("psi", "strength wanted", low=0),
    f_28=_F_28,
    a=arg("day", "constant of the cement and curing", above=0),
    b=arg("1", "constant of the cement and curing", above=0),
)
def age_for_strength(f, f_28, a=Q(4.0, "day"), b=0.85):
    """Age at which a strength is reached; f must stay below f_28 / b.

    a, b: as for ``strength_aci209``.
    """
    r = f / f_28
    t_e = a * r / (1 - b * r)
    return t_e


@procedure(
    "Strength of the slab, with its spread",
    cite("ASTM C1074", "maturity, with the strength curves of ACI 209 and Model Code 1990"),
    "Two published clocks and two published strength curves; the lowest and highest are the band.",
)
def strength_band(
    hours: NDArray, temperature: NDArray, f_28: Quantity, cement: str = "I", before: float = 0.0
) -> tuple[NDArray, NDArray, NDArray]:
    """Lowest, middle and highest strength by hour, psi.

    hours: hours after placing (array); temperature: concrete, K (array, or draws x hours); f_28:
    strength at 28 days (quantity); cement: "I" or "III"; before: hours already spent in the
    drum. The middle is ACI 209 with the energy of ASTM C1074. Returns three arrays.
    """
    row = lookup("strength_gain", cement=cement if cement == "III" else "I")
    found = []
    for energy in (None, hansen_energy.bulk(T=from_coherent(temperature, "degC"))):
        chosen = {} if energy is None else {"E_a": energy}
        age = grown_age(hours, maturity_rate.bulk(T=temperature, **chosen), before) / 24
        found.append(strength_aci209.bulk(t_e=age, f_28=f_28, a=Q(row["a_days"], "day"), b=row["b"]))
        found.append(strength_mc90.bulk(t_e=np.maximum(age, 1e-6), f_28=f_28, s=row["s"]))
    return np.min(found, axis=0), found[0], np.max(found, axis=0)


@procedure(
    "When one freezing does no more harm",
    cite("NRMCA CIP 27", "500 psi, about 2 days at 50 °F; PCA EB001 ch. 14 has the same 500 psi"),
    "The latest of: the low strength curve at 500 psi, and the published 2 days at 50 °F run as a clock.",
)
def freeze_safe(
    hours: NDArray, temperature: NDArray, low_strength: NDArray
) -> tuple[Any, list[tuple[str, Any]]]:
    """Hours after placing from which a single freezing is survived, by each source.

    hours, temperature: as for ``strength_band``; low_strength: its lowest curve, psi. Returns
    (latest, rows), rows being pairs (source, hours). Repeated freezing while wet needs 3,500 psi.
    """
    row = lookup("freezing", rule="single freezing")
    cold, warm = Q(row["at_F"], "degF"), Q(row["at_F"] + 20, "degF")
    twice = apparent_energy(Q(2, "h"), cold, Q(1, "h"), warm)  # CIP 27: 20 °F colder doubles it
    rate = maturity_rate.bulk(T=temperature, E_a=twice, T_ref=cold)
    found: list[tuple[str, Any]] = [
        ("strength of 500 psi by maturity", first_reach(hours, low_strength, row["strength_psi"])),
        (str(row["source"]), time_of_age(hours, rate, row["hours"])),
    ]
    return np.max([moment for _, moment in found], axis=0), found


@procedure(
    "Protection period in cold weather",
    cite("ACI 306.1-90"),
    "3 days at the temperature of the table; 2 with Type III cement, an accelerator or 100 lb/yd³ more cement.",
    result("day", "days of protection"),
    mix=arg("1", "usual, or faster", choices=("usual", "faster")),
)
def protection_days(mix: str = "usual") -> Quantity:
    """Days of protection; mix: "faster" with Type III, an accelerator, or 100 lb/yd3 extra cement."""
    return Q(lookup("protection", mix=mix)["days"], "day")


@procedure(
    "Concrete temperature recommended in cold weather",
    cite("ACI 306R", "as adapted in Masonry and Concrete, Figure 3-37"),
    "By least thickness of the section and air temperature.",
)
def cold_limits(thickness: Quantity, air: Quantity) -> dict[str, Any]:
    """Temperatures by ACI 306R for a thickness and an air temperature (quantities).

    Returns a dict: placed, mixed (least temperatures), drop (most in the 24 h after protection),
    source. Raises ValueError above 36 in.
    """
    inches, air_F = thickness.m_as("inch"), air.m_as("degF")
    row = next((r for r in table("cold_temperatures") if inches < r["thickness_up_to_in"]), None)
    if row is None:
        raise ValueError(f"thickness {inches:g} in. is outside the table of ACI 306R: below 36 in.")
    mixed = "mixed_above_30_F" if air_F > 30 else "mixed_0_to_30_F" if air_F >= 0 else "mixed_below_0_F"
    return {
        "placed": Q(row["placed_F"], "degF"),
        "mixed": Q(row[mixed], "degF"),
        "drop": Q(row["drop_24h_F"], "delta_degF"),
        "source": row["source"],
    }
