"""The slab under the weather of a job: temperatures hour by hour, for the sunny and the shaded side."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from calcbook.basis.coherent import from_coherent, to_coherent
from calcbook.basis.table import lookup
from calcbook.basis.units import Q, factor, number_in
from calcbook.pour.ground_heat import Cure, Layer, March, Outside, grid_of, march
from calcbook.pour.site import LONGEST, STEP, Site
from calcbook.pour.surface import convection_coefficient, evaporation_heat
from calcbook.pour.weather import evaporation_menzel

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

    from calcbook.basis.formula import Formula
    from calcbook.basis.units import Quantity
    from calcbook.concrete.hydration import Mix
    from calcbook.job.file import Job
    from calcbook.pour.ground_heat import Grid

DEEP = 2.0  # metres of soil in the model
FREEZING = to_coherent(0.0, "degC")  # K


@dataclass(frozen=True)
class Cover:
    """What lies on the slab: blanket by its name in the table, and its hours on and off.

    times: its R as it was found, times that of the table.
    """

    blanket: str = "none"
    on: float = np.inf
    off: float = np.inf
    times: float = 1.0

    @property
    def row(self) -> dict[str, Any]:
        """The blanket's row of tables/blankets.csv."""
        return lookup("blankets", name=self.blanket)

    @property
    def resistance(self) -> Quantity:
        """R of the cover, as a quantity."""
        return Q(self.times * self.row["R_per_inch"] * self.row["thickness_in"], "R")

    def at(self, hours: NDArray) -> NDArray:
        """True for each of the hours (from the first truck on) at which the cover lies on the slab."""
        return (hours >= self.on) & (hours < self.off)


BARE = Cover()


def grid_for(slab: Quantity, base: Quantity, soil: str, fine: int = 1) -> Grid:
    """The layers: slab, stone (thicknesses slab, base), two metres of soil. fine: cells for each usual cell."""
    layers = [_layer("concrete", slab, 10 * fine)]
    if base.m > 0:
        layers.append(_layer("stone base", base, 4 * fine))
    layers.append(_layer(soil, Q(DEEP / 0.3048, "ft"), 14 * fine, 1.3 ** (1 / fine)))
    return grid_of(*layers)


def _layer(name: str, thickness: Quantity, cells: int, growth: float = 1.0) -> Layer:
    row = lookup("materials", name=name)
    return Layer(
        name, thickness.m_as("meter"), row["k"], row["density"], row["specific_heat"], cells, growth
    )


@dataclass(frozen=True)
class Case:
    """One surface and what lies on it: side "sun" or "shade", and a Cover."""

    side: str = "sun"
    cover: Cover = BARE


@dataclass(frozen=True)
class Week:
    """The slab's temperatures in each case (or each draw of one case), with what made them."""

    march: March
    site: Site
    cases: tuple[Case, ...]
    mix: Mix
    wet_until: float

    @property
    def hours(self) -> NDArray:
        """Hours from the first truck on."""
        return self.march.hours

    def lowest_top(self) -> tuple[float, float]:
        """(K, hour) of the coldest moment of the surface, in the first case."""
        n = int(np.argmin(self.march.top[0]))
        return self.march.top[0, n], self.hours[n]

    def __str__(self) -> str:
        coldest, hour = self.lowest_top()
        return (
            f"surface coldest {from_coherent(coldest, 'degF'):.1f} °F at {hour:.1f} h, warmest "
            f"{from_coherent(self.march.top[0].max(), 'degF'):.1f} °F; energy account off by {self.march.imbalance:.1e}"
        )


def run(
    job: Job,
    mix: Mix,
    site: Site,
    cases: Sequence[Case] = (Case(),),
    wet_until: float = 0.0,
    until: float = LONGEST,
    placed: NDArray | None = None,
    fine: int = 1,
    film: NDArray | None = None,
) -> Week:
    """The slab's temperatures, hour by hour: a Week with one row for each case.

    mix: of the concrete; site: its weather, whose arrays may be draws x hours (then one case);
    cases: Case by Case; wet_until: hour until which the surface dries freely; until: hours to run;
    placed: concrete as delivered, K, for each draw; fine: grid and step refined by this factor;
    film: convection by case on the hours of the site, W/(m2 K), in place of the book's law.
    """
    pour, shade = job.pour, (job.pour.shade_from, job.pour.shade_to)
    cases, wet_until = tuple(cases), float(wet_until)
    hours = np.arange(0, min(float(until), site.hours[-1]) + 1e-9, STEP / fine)
    at = {
        n: _interpolated(hours, site.hours, getattr(site, n))
        for n in ("air", "sky", "humidity", "wind")
    }
    concrete = lookup("materials", name="concrete")
    sun = {
        side: _interpolated(hours, site.hours, site.sun_on(side, shade))
        for side in {c.side for c in cases}
    }
    covers = dict.fromkeys(c.cover for c in cases)
    lying = {cover: _lies(cover, hours, concrete["absorptivity"]) for cover in covers}
    gain = np.array([lying[c.cover][0] * sun[c.side] for c in cases])
    cover = np.array([lying[c.cover][1] for c in cases])
    film = film_of(at["wind"]) if film is None else _interpolated(hours, site.hours, film)
    wet = int(np.sum(hours <= min(wet_until, *(c.cover.on for c in cases)))) - 1
    outside = Outside(at["air"], at["sky"], film, gain, cover, concrete["emissivity"], _drying(at), wet)
    grid = grid_for(job.slab.thickness, job.base.thickness, pour.soil, fine)
    draws = len(at["air"]) if at["air"].ndim > 1 else len(cases)
    cure = Cure(mix, (draws, grid.first), number_in(pour.haul, "h") / pour.set_times())
    start = np.full((draws, len(grid.capacity)), site.ground)
    start[:, : grid.first] = (
        number_in(pour.concrete_temperature, "K") if placed is None else np.c_[placed]
    )
    result = march(grid, start, outside, STEP / fine, cure, site.ground)
    return Week(result, site, cases, mix, wet_until)


def film_of(wind: NDArray, law: Formula = convection_coefficient) -> NDArray:
    """Convection by wind near the slab (mph), W/(m2 K), by a law."""
    return law.bulk(V=wind * factor("mph", "m/s"))


def _lies(cover: Cover, hours: NDArray, bare: float) -> tuple[NDArray, NDArray]:
    """Share of the sun that the outer surface takes in, by hour, and resistance of the cover, m2 K/W."""
    there = cover.at(hours)
    return np.where(there, cover.row["absorptivity"], bare), there * number_in(
        cover.resistance, "R", "si"
    )


def _interpolated(hours: NDArray, known: NDArray, values: NDArray) -> NDArray:
    if np.ndim(values) > 1:
        return np.array([np.interp(hours, known, row) for row in values])
    return np.interp(hours, known, values)


def _drying(at: dict[str, NDArray]) -> Callable[[NDArray, int], NDArray | float]:
    """The heat that drying takes, as a function of surface temperature and step."""
    watt = 1 / to_coherent(1.0, "W/m2")
    wind = to_coherent(np.minimum(at["wind"], 100), "mph")

    def drying(surface: NDArray, n: int) -> NDArray | float:
        rate = evaporation_menzel.raw(
            T_c=surface, T_a=at["air"][..., n], RH=at["humidity"][..., n], wind=wind[..., n]
        )
        return evaporation_heat.raw(W=rate) * watt

    return drying
