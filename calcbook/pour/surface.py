"""Heat between the slab's surface and the weather: wind, radiation, sun through cloud, drying."""

from calcbook.basis.formula import arg, cite, formula, number, result, with_unit
from calcbook.basis.units import Q

SIGMA = Q(5.670374419e-8, "W/m2/K4")  # CODATA 2018


@formula(
    "Convection by wind",
    cite("Watmuff 1977"),
    result("W/m2/K", "heat by area, time and temperature difference"),
    V=arg("m/s", "wind at the surface", low=0, high=45, valid=(0, 7)),
)
def convection_coefficient(V):
    """Heat that wind carries off a flat surface, radiation left out.

    Returns a film coefficient; the fit covers 0 to 7 m/s (16 mph). Source: Watmuff, Charters and
    Proctor 1977; the same numbers are also ascribed to Jürges 1924.
    """
    h_c = with_unit(2.8 + 3.0 * number(V, "m/s"), "W/m2/K", V)
    return h_c


@formula(
    "Convection by wind, McAdams",
    cite("McAdams 1954"),
    result("W/m2/K", "heat by area, time and temperature difference"),
    V=arg("m/s", "wind at the surface", low=0, high=45, valid=(0, 5)),
)
def convection_mcadams(V):
    """Heat that a flat surface loses in wind, some radiation included: the largest of the laws."""
    h_c = with_unit(5.7 + 3.8 * number(V, "m/s"), "W/m2/K", V)
    return h_c


@formula(
    "Convection by wind, leeward",
    cite("MoWiTT", "leeward surface, forced part"),
    result("W/m2/K", "heat by area, time and temperature difference"),
    V=arg("m/s", "wind at the surface", low=0, high=45),
)
def convection_leeward(V):
    """Heat that wind carries off a surface in the lee: the smallest of the laws in wind.

    What still air carries off by itself is left out.
    """
    h_c = with_unit(3.55 * number(V, "m/s") ** 0.617, "W/m2/K", V)
    return h_c


@formula(
    "Radiation between surface and sky, as a film coefficient",
    cite("CODATA 2018", "law of Stefan and Boltzmann, factored"),
    result("W/m2/K", "heat by area, time and temperature difference"),
    T_s=arg("K", "temperature of the surface, absolute", low=200, high=400),
    T_sky=arg("K", "temperature of the sky, absolute", low=150, high=350),
    eps=arg("1", "emissivity of the surface", low=0, high=1),
    sigma=arg("W/m2/K4", "constant of Stefan and Boltzmann", above=0),
)
def radiation_coefficient(T_s, T_sky, eps=0.90, sigma=SIGMA):
    """Exact film coefficient of radiation: h_r (T_s - T_sky) = eps sigma (T_s^4 - T_sky^4).

    eps: emissivity of the surface (0.90 for concrete, from memory).
    """
    h_r = eps * sigma * (T_s**2 + T_sky**2) * (T_s + T_sky)
    return h_r


@formula(
    "Solar radiation under cloud",
    cite("Kasten 1980"),
    result("W/m2", "sun on level ground"),
    I_0=arg("W/m2", "sun on level ground under a clear sky", low=0, high=1400),
    N=arg("1", "cloud cover, 0 to 1", low=0, high=1),
)
def cloudy_sun(I_0, N):
    """Sun on level ground under a partly clouded sky.

    N: cloud cover as a fraction. Returns power by area; a closed sky leaves a quarter. Source:
    Kasten and Czeplak 1980.
    """
    I_N = I_0 * (1 - 0.75 * N**3.4)
    return I_N


@formula(
    "Solar radiation under cloud, by a straight line",
    cite("Larson 2016"),
    result("W/m2", "sun on level ground"),
    I_0=arg("W/m2", "sun on level ground under a clear sky", low=0, high=1400),
    N=arg("1", "cloud cover, 0 to 1", low=0, high=1),
    left=arg("1", "share that a closed sky leaves", low=0, high=1, symbol="s_1"),
)
def cloudy_sun_linear(I_0, N, left=0.35):
    """Sun on level ground under a partly clouded sky, by a line: a rival of ``cloudy_sun``.

    N: cloud cover as a fraction. Returns power by area.
    """
    I_N = I_0 * (left + (1 - left) * (1 - N))
    return I_N


@formula(
    "Latent heat flux by evaporation",
    cite("FAO 56", "latent heat of vaporization 2.45 MJ/kg"),
    result("W/m2", "heat by area and time"),
    W=arg("lb/ft2/h", "evaporation rate", low=0, high=5),
    L=arg("kJ/kg", "latent heat of vaporization", above=0),
)
def evaporation_heat(W, L=Q(2450, "kJ/kg")):
    """Heat that drying water takes out of the surface.

    L: latent heat near 20 °C.
    """
    q_e = W * L
    return q_e
