"""The night sky: how strongly it radiates, by each published law, clear and clouded.

The laws disagree by a tenth, which is several degrees on a slab. Frost is judged by the coldest of them.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numpy import exp, log, minimum, sqrt

from calcbook.basis.coherent import from_coherent, to_coherent
from calcbook.basis.formula import arg, cite, formula, number, result
from calcbook.basis.units import Q
from calcbook.pour.weather import dew_point, saturation_pressure

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from calcbook.basis.formula import Formula

_SHARE = result("1", "share of a black body's radiation that the sky sends down")
_DEW = arg("K", "dew point, absolute", low=220, high=310, valid=(250, 300))
_AIR = arg("K", "air temperature, absolute", low=220, high=330)
_VAPOR = arg("kPa", "vapor pressure of the air", low=0, high=10)
_CLEAR = arg("1", "emissivity of the clear sky", above=0, high=1.2)
_CLOUD = arg("1", "cloud cover, 0 to 1", low=0, high=1)


@formula(
    "Clear sky, Clark and Allen", cite("Clark 1978"), _SHARE, T_d=_DEW,
    T_0=arg("K", "reference temperature", above=0),
)  # fmt: skip
def sky_clark(T_d, T_0=Q(273, "K")):
    """How strongly a clear sky radiates, by dew point; T_0: 273 K as published.

    The warmest law of those compared here in cold dry air; the day is run with it.
    """
    eps_0 = 0.787 + 0.764 * log(T_d / T_0)
    return eps_0


@formula("Clear sky, Berdahl and Martin", cite("Berdahl 1984"), _SHARE, T_d=_DEW)
def sky_berdahl(T_d):
    """How strongly a clear sky radiates, by dew point: the coldest law in cold dry air.

    Its hourly term, +0.013 at midnight and -0.013 at noon, is left out, so nights come out a little colder.
    """
    x = (number(T_d, "K") - 273.15) / 100
    eps_0 = 0.711 + 0.56 * x + 0.73 * x**2
    return eps_0


@formula("Clear sky, Brutsaert", cite("Brutsaert 1975"), _SHARE, e_a=_VAPOR, T_a=_AIR)
def sky_brutsaert(e_a, T_a):
    """How strongly a clear sky radiates, by vapor pressure (taken in hPa) and air temperature."""
    eps_0 = 1.24 * (10 * number(e_a, "kPa") / number(T_a, "K")) ** (1 / 7)
    return eps_0


@formula("Clear sky, Prata", cite("Prata 1996"), _SHARE, e_a=_VAPOR, T_a=_AIR)
def sky_prata(e_a, T_a):
    """How strongly a clear sky radiates, by the water in the air: vapor pressure in hPa over temperature."""
    x = 46.5 * 10 * number(e_a, "kPa") / number(T_a, "K")
    eps_0 = 1 - (1 + x) * exp(-sqrt(1.2 + 3 * x))
    return eps_0


@formula("Clear sky, Brunt with new constants", cite("Li 2017"), _SHARE, e_a=_VAPOR)
def sky_brunt(e_a):
    """How strongly a clear sky radiates, by vapor pressure in hPa; constants fitted at seven US sites."""
    eps_0 = 0.618 + 0.056 * sqrt(10 * number(e_a, "kPa"))
    return eps_0


@formula("Clear sky, Idso", cite("Idso 1981"), _SHARE, e_a=_VAPOR, T_a=_AIR)
def sky_idso(e_a, T_a):
    """How strongly a clear sky radiates, by vapor pressure in hPa and air temperature."""
    eps_0 = 0.7 + 5.95e-5 * 10 * number(e_a, "kPa") * exp(1500 / number(T_a, "K"))
    return eps_0


@formula(
    "Sky under cloud, Walton", cite("Clark 1978", "cloud factor by Walton 1983"), _SHARE,
    eps_0=_CLEAR, N=_CLOUD,
)  # fmt: skip
def sky_clouded(eps_0, N):
    """How strongly a clouded sky radiates; N: cloud cover as a fraction. At most 1."""
    n = 10 * N
    F_n = 1 + 0.0224 * n - 0.0035 * n**2 + 0.00028 * n**3
    eps_sky = minimum(eps_0 * F_n, 1)
    return eps_sky


@formula("Sky under cloud, Tennessee Valley", cite("TVA 1972"), _SHARE, eps_0=_CLEAR, N=_CLOUD)
def sky_clouded_tva(eps_0, N):
    """How strongly a clouded sky radiates, with less for a few clouds. At most 1."""
    eps_sky = minimum(eps_0 * (1 + 0.17 * N**2), 1)
    return eps_sky


@formula("Sky under cloud, Deardorff", cite("Deardorff 1978"), _SHARE, eps_0=_CLEAR, N=_CLOUD)
def sky_clouded_deardorff(eps_0, N):
    """How strongly a clouded sky radiates: cloud as a black body, the rest clear. At most 1."""
    eps_sky = minimum(N + (1 - N) * eps_0, 1)
    return eps_sky


@formula(
    "Temperature of the sky",
    cite("Clark 1978", "by its definition from the emissivity"),
    result("K", "temperature of a black body that radiates like the sky"),
    T_a=_AIR,
    eps_sky=arg("1", "emissivity of the sky", above=0, high=1),
)
def sky_temperature(T_a, eps_sky):
    """Effective temperature of the sky for long-wave radiation: at or below that of the air."""
    T_sky = T_a * eps_sky**0.25
    return T_sky


DAY = sky_clark  # the law by which the day is run
CLEAR_SKIES = (sky_clark, sky_idso, sky_brunt, sky_prata, sky_brutsaert, sky_berdahl)
CLOUD_RIVALS = (sky_clouded_tva, sky_clouded_deardorff)


def clear_skies(
    air: NDArray, humidity: NDArray, laws: Sequence[Formula] = CLEAR_SKIES
) -> list[NDArray]:
    """How strongly the clear sky radiates by some laws, one array for each.

    air: K; humidity: 0 to 1 (arrays of one shape).
    """
    celsius = from_coherent(air, "degC")
    take = {
        "T_d": lambda: to_coherent(dew_point.bulk(T=celsius, RH=humidity), "degC"),
        "e_a": lambda: humidity * saturation_pressure.bulk(T=celsius),
        "T_a": lambda: air,
    }
    known = {name: get() for name, get in take.items() if any(name in law.arguments for law in laws)}
    return [law.bulk(**{n: v for n, v in known.items() if n in law.arguments}) for law in laws]


def under_cloud(
    air: NDArray, eps_0: NDArray, cloud: NDArray, clouded: Formula = sky_clouded
) -> NDArray:
    """Effective temperature of a sky, K, from how strongly it radiates where it is clear, by a law of cloud.

    air: K; eps_0, cloud: 0 to 1 (arrays of one shape).
    """
    return sky_temperature.bulk(T_a=air, eps_sky=clouded.bulk(eps_0=eps_0, N=np.clip(cloud, 0, 1)))


def sky_kelvin(air: NDArray, humidity: NDArray, cloud: NDArray, clear: Formula = DAY) -> NDArray:
    """Effective temperature of the sky, K, by a law of the clear sky.

    air: K; humidity, cloud: 0 to 1 (arrays of one shape).
    """
    return under_cloud(air, clear_skies(air, humidity, [clear])[0], cloud)


def coldest_sky(air: NDArray, humidity: NDArray, cloud: NDArray) -> NDArray:
    """The coldest of all laws of the clear sky at each hour, K: what judges frost. Under any cloud that is the sky which
    radiates least where it is clear.

    air, humidity, cloud: as for ``sky_kelvin``.
    """
    return under_cloud(air, np.min(clear_skies(air, humidity), axis=0), cloud)
