"""Evaporation hour by hour over a pour, from the slab's own surface temperature."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from calcbook.basis.coherent import from_coherent
from calcbook.pour.weather import evaporation_menzel, evaporation_uno

if TYPE_CHECKING:
    from calcbook.pour.slab_heat import Week


@dataclass(frozen=True)
class Drying:
    """Rates by hour, lb/ft2/h, and what made them (arrays of equal length).

    hours after the first truck; menzel, uno; surface_F, air_F, humidity, wind_mph.
    """

    hours: np.ndarray
    menzel: np.ndarray
    uno: np.ndarray
    surface_F: np.ndarray
    air_F: np.ndarray
    humidity: np.ndarray
    wind_mph: np.ndarray

    @property
    def peak(self) -> int:
        """Row number of the highest rate."""
        return int(np.argmax(self.menzel))


def drying_of(week: Week, until: float, placed: float = 0.0) -> Drying:
    """Drying over the hours in which the surface is open: from placing to the end of finishing.

    week: Week, of which the first case counts, the strip placed first; until: hour of that end; placed: hour in which
    the last strip is placed. Until then some surface is fresh, so at least as warm as the concrete comes.
    """
    chosen = week.hours <= max(until, week.hours[1]) + 1e-9
    hours, site, top = week.hours[chosen], week.site, week.march.top[0][chosen]
    surface = from_coherent(np.where(hours <= placed, np.maximum(top, top[0]), top), "degF")
    weather = {
        name: np.interp(hours, site.hours, getattr(site, name)) for name in ("air", "humidity", "wind")
    }
    air = from_coherent(weather["air"], "degF")
    inputs = dict(
        T_c=np.maximum(surface, 32), T_a=np.maximum(air, 0), RH=weather["humidity"],
        wind=np.minimum(weather["wind"], 100),
    )  # fmt: skip
    return Drying(hours, evaporation_menzel.bulk(**inputs), evaporation_uno.bulk(**inputs), surface, air,
                  weather["humidity"], weather["wind"])  # fmt: skip
