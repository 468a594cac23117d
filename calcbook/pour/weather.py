"""Weather at the slab: vapor pressure, dew point, wind near the ground, evaporation.

How fast a fresh surface loses water decides whether it crusts and cracks before it is finished.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from numpy import exp, log, maximum

from calcbook.basis.formula import arg, choice, cite, formula, number, result, with_unit
from calcbook.basis.table import table
from calcbook.basis.units import Q

if TYPE_CHECKING:
    from calcbook.basis.units import Quantity


@formula(
    "Saturation vapor pressure of water",
    cite("Uno 1998", "vapor pressure"),
    result("kPa", "saturation vapor pressure"),
    T=arg("degC", "temperature", low=-55, high=80, valid=(0, 50)),
)
def saturation_pressure(T):
    """Pressure of water vapor over a wet surface, or of saturated air.

    The fit is meant for 0 to 50 °C; below freezing it is the pressure over supercooled water.
    Source: Uno 1998.

    >>> print(saturation_pressure("20 degC"))
    2.341 kilopascal
    """
    e_s = with_unit(0.61 * exp(17.3 * number(T, "degC") / (237.3 + number(T, "degC"))), "kPa", T)
    return e_s


def esat(T: Any) -> Any:
    """The saturation pressure at a temperature T, inside another formula's body; both as the body has them."""
    return saturation_pressure.body(T)


@formula(
    "Dew point",
    cite("Uno 1998", "its vapor pressure, solved for temperature"),
    result("degC", "dew point"),
    T=arg("degC", "air temperature", low=-55, high=80, valid=(0, 50)),
    RH=arg("1", "relative humidity, 0 to 1", above=0, high=1),
)
def dew_point(T, RH):
    """Temperature at which the air's moisture begins to condense on the slab.

    RH: relative humidity as a fraction. Returns a temperature, the exact inverse of
    ``saturation_pressure``. Source: Uno 1998, solved here.

    >>> print(dew_point("20 degC", 0.5))
    9.287 degree_Celsius
    """
    x = log(RH) + 17.3 * number(T, "degC") / (237.3 + number(T, "degC"))
    T_d = with_unit(237.3 * x / (17.3 - x), "degC", T)
    return T_d


@formula(
    "Relative humidity from the dew point",
    cite("Uno 1998", "its vapor pressure, at the dew point over that of the air"),
    result("1", "relative humidity, 0 to 1"),
    T=arg("degC", "air temperature", low=-55, high=80, valid=(0, 50)),
    T_d=arg("degC", "dew point", low=-80, high=80, valid=(0, 50)),
)
def relative_humidity(T, T_d):
    """Share of the moisture that the air could hold, where a forecast gives the dew point in its place.

    T_d: at most the air's temperature. Source: Uno 1998.

    >>> print(f'{relative_humidity("20 degC", "9.287 degC"):.3f}')
    0.500
    """
    RH = esat(T_d) / esat(T)
    return RH


@formula(
    "Wind speed at the slab",
    cite("FAO 56", "equation 47, in its general form"),
    result("mph", "wind at the height that the evaporation chart means"),
    V=arg("mph", "wind of the forecast", low=0, high=150),
    z_m=arg("ft", "height of the forecast wind above ground", low=1.5, high=300),
    z=arg("ft", "height wanted above the surface", low=1.5, high=300),
    h_g=arg("in", "height of the ground's roughness (grass)", above=0, high=9),
)
def surface_wind(V, z_m=Q(10 / 0.3048, "ft"), z=Q(20 / 12, "ft"), h_g=Q(12 / 2.54, "in")):
    """Logarithmic wind profile over short grass.

    V: wind speed at height z_m (33 ft, or 10 m, in weather forecasts); z: height wanted (20 in.,
    where evaporation charts take the wind); h_g: grass height, 12 cm for the reference surface.
    With z of 2 m this is equation 47 of FAO 56. Open water or bare ground upwind slows the air
    less: then measure, or enter the wind at the slab.
    """
    d = 2 / 3 * h_g
    z_0 = 0.123 * h_g
    V_z = V * log((z - d) / z_0) / log((z_m - d) / z_0)
    return V_z


_EVAPORATION = dict(
    T_c=arg("degF", "concrete temperature", low=32, high=130, valid=(40, 100)),
    T_a=arg("degF", "air temperature", low=0, high=130, valid=(40, 100)),
    RH=arg("1", "relative humidity, 0 to 1", low=0, high=1),
    wind=arg("mph", "wind 20 in. above the surface", low=0, high=100, valid=(0, 25), symbol="V"),
)


@formula(
    "Evaporation from fresh concrete (Menzel)",
    cite("Menzel 1954", "as in ACI 305R"),
    result("lb/ft2/h", "water lost by area and time"),
    **_EVAPORATION,
)
def evaporation_menzel(T_c, T_a, RH, wind):
    """Rate at which bleed water dries off a fresh slab.

    RH: relative humidity as a fraction. Returns mass by area and time, never below zero (below it
    water condenses). Pressures are in psi: in inches of mercury the result would be twice too high.
    Charts cover 40 to 100 °F and wind to 25 mph; the true rate can differ by 40 % (Hover 2020).
    Source: Menzel 1954.

    >>> print(evaporation_menzel("75 F", "80 F", 0.5, "12 mph"))
    0.10914 pound / foot ** 2 / hour
    """
    e_0 = esat(T_c)
    e_a = RH * esat(T_a)
    E = 0.44 * (number(e_0, "psi") - number(e_a, "psi")) * (0.253 + 0.096 * number(wind, "mph"))
    W = with_unit(maximum(E, 0), "lb/ft2/h", T_c)
    return W


@formula(
    "Evaporation from fresh concrete (Uno)",
    cite("Uno 1998", "US form"),
    result("lb/ft2/h", "water lost by area and time"),
    **_EVAPORATION,
)
def evaporation_uno(T_c, T_a, RH, wind):
    """Rate at which bleed water dries off a fresh slab, without vapor pressures.

    T_c, T_a, RH, wind and result: as for ``evaporation_menzel``. A curve fit: from 23 % below to 21 % above
    Menzel where the concrete is 0 to 20 °F warmer than the air; 12 to 20 % too high in wind when it is 30 to
    40 °F warmer than cold air; no guide where the air is the warmer. Source: Uno 1998.
    """
    d_T = number(T_c, "degF") ** 2.5 - RH * number(T_a, "degF") ** 2.5
    E = d_T * (1 + 0.4 * number(wind, "mph")) * 1e-6
    W = with_unit(maximum(E, 0), "lb/ft2/h", T_c)
    return W


evaporation_rate = choice(
    "evaporation_rate", "method", "menzel", menzel=evaporation_menzel, uno=evaporation_uno
)


def evaporation_levels() -> list[dict[str, Any]]:
    """The published limits, lowest first: rows with ``limit`` (quantity), ``do`` and ``source``."""
    return [
        {"limit": Q(row["limit"], "lb/ft2/h"), "do": row["do"], "source": row["source"]}
        for row in table("evaporation")
    ]


def evaporation_level(W: Quantity) -> dict[str, Any] | None:
    """The row of the highest limit that a rate W (mass by area and time) reaches; None below all of them."""
    reached = [row for row in evaporation_levels() if row["limit"] <= W]
    return reached[-1] if reached else None
