"""Where the sun stands, and how strong it is above the air, by the low-precision almanac.

Good to 0.01 degree from 1950 to 2050. Days are counted in universal time from noon of
1 January 2000; latitude is positive to the north, longitude to the east.
"""

from numpy import cos, pi, sin, tan

from calcbook.basis.formula import arg, cite, formula, number, result, with_unit
from calcbook.basis.inline import inline
from calcbook.basis.units import Q

ALMANAC = cite("Michalsky 1988", "low-precision formulas of the Astronomical Almanac")
_DAYS = arg("day", "days since noon of 1 January 2000, universal time", low=-36525, high=36525, valid=(-18262, 18628))  # fmt: skip
_DIGITS = {"digits": 8}  # angles that only their sine is taken of


@formula(
    "Mean anomaly of the sun",
    ALMANAC,
    result("1", "angle since the sun was nearest, in radians", **_DIGITS),
    d=_DAYS,
)
def mean_anomaly(d):
    """How far the earth has come round the sun since it was nearest, at an even pace.

    Returns radians; whole turns are not taken off.
    """
    g = (357.528 + 0.9856003 * number(d, "day")) * pi / 180
    return g


@inline
@formula(
    "Ecliptic longitude of the sun",
    ALMANAC,
    result("deg", "longitude of the sun along its yearly path", **_DIGITS),
    d=_DAYS,
)
def sun_longitude(d):
    """How far the sun has come along its yearly path, from the point of spring.

    Returns an angle; whole turns are not taken off.
    """
    n = number(d, "day")
    g = mean_anomaly.body(d)
    L_s = 280.460 + 0.9856474 * n + 1.915 * sin(g) + 0.020 * sin(2 * g)
    lam_s = with_unit(L_s, "deg", d)
    return lam_s


@formula(
    "Obliquity of the ecliptic",
    ALMANAC,
    result("deg", "tilt of the earth's axis", **_DIGITS),
    d=_DAYS,
)
def obliquity(d):
    """Angle between the sun's yearly path and the equator."""
    eps = with_unit(23.439 - 0.0000004 * number(d, "day"), "deg", d)
    return eps


@formula(
    "Local sidereal angle",
    ALMANAC,
    result("deg", "angle that the place has turned past the point of spring", **_DIGITS),
    shows={"theta_G": "deg"},
    d=_DAYS,
    t_u=arg("h", "universal time of the day", low=0, high=24),
    l_o=arg("deg", "longitude of the place", low=-180, high=180),
)
def sidereal_angle(d, t_u, l_o):
    """How far the earth has turned the place past the point of spring.

    t_u: clock of universal time; l_o: longitude, east positive. Returns an angle; whole turns are
    not taken off.
    """
    n = number(d, "day")
    theta_G = with_unit(100.46062 + 0.98564737 * n + 15 * number(t_u, "h"), "deg", d)
    theta = theta_G + l_o
    return theta


@formula(
    "Cosine of the sun's zenith angle",
    cite("Michalsky 1988", "turned from the ecliptic to the place"),
    result("1", "cosine of the angle from straight up to the sun"),
    lam_s=arg("deg", "longitude of the sun"),
    eps=arg("deg", "obliquity", low=20, high=25),
    theta=arg("deg", "local sidereal angle"),
    phi_o=arg("deg", "latitude of the place", low=-90, high=90),
)
def zenith_cosine(lam_s, eps, theta, phi_o):
    """Height of the sun as the cosine of its angle from straight up, without refraction.

    lam_s: from ``sun_longitude``; eps: from ``obliquity``; theta: from ``sidereal_angle``; phi_o:
    latitude, north positive. Returns -1 to 1, negative where the sun is down.
    """
    x = cos(theta) * cos(lam_s) + sin(theta) * cos(eps) * sin(lam_s)
    mu = sin(phi_o) * sin(eps) * sin(lam_s) + cos(phi_o) * x
    return mu


@formula(
    "Atmospheric refraction",
    cite("Meeus 1998", "eq. 16.4, at 10 °C and 1010 hPa"),
    result("deg", "how much higher the sun seems to stand"),
    h=arg("deg", "true height of the sun above the horizon", low=-1, high=90),
)
def refraction(h):
    """How much the air lifts the sun, for a sun at or above the horizon.

    h: true height of its middle, from -1 degree. Returns an angle, half a degree at the horizon
    and nothing overhead.
    """
    h_deg = number(h, "deg")
    R_air = with_unit(1.02 / 60 / tan((h_deg + 10.3 / (h_deg + 5.11)) * pi / 180), "deg", h)
    return R_air


@inline
@formula(
    "Extraterrestrial solar radiation",
    cite("Kopp 2011", "over the square of the distance, by the almanac as in Michalsky 1988"),
    result("W/m2", "power on a face turned to the sun, outside the atmosphere"),
    d=_DAYS,
    I_sc=arg("W/m2", "solar constant", above=0),
)
def sun_outside(d, I_sc=Q(1361, "W/m2")):
    """Sun outside the atmosphere: strongest in early January, when the earth is nearest.

    I_sc: sun at the mean distance.
    """
    g = mean_anomaly.body(d)
    r = 1.00014 - 0.01671 * cos(g) - 0.00014 * cos(2 * g)
    I_n = I_sc / r**2
    return I_n
