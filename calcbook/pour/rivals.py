"""Rival laws of the slab's surface: what each published fit of sky, cloud and wind makes of the same night."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from calcbook.pour.sky import (
    CLEAR_SKIES,
    CLOUD_RIVALS,
    sky_clouded,
    sky_clouded_tva,
    under_cloud,
)
from calcbook.pour.slab_heat import film_of
from calcbook.pour.surface import convection_coefficient, convection_leeward, convection_mcadams

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from calcbook.basis.formula import Formula
    from calcbook.pour.site import Site


@dataclass(frozen=True)
class Law:
    """One way to see the night: clear sky (None: the coldest law of each hour), cloud, and film by wind.

    kind: what it is a law of; rival: the formula that differs from the book's choice, None for that choice.
    """

    kind: str
    rival: Formula | None
    clear: Formula | None = None
    cloud: Formula = sky_clouded
    film: Formula = convection_coefficient

    @property
    def words(self) -> str:
        """Title and source of what differs."""
        if self.rival is None:
            return "the coldest of all laws of the clear sky in each hour"
        differ = [self.rival] if self.cloud in (sky_clouded, self.rival) else [self.rival, self.cloud]
        return ", with ".join(f"{law.title} ({law.source})" for law in differ)

    def met(self, site: Site) -> tuple[NDArray, NDArray]:
        """(sky in K, convection in W/(m2 K)) at a site by this law."""
        by_law = site.clear_skies  # the least gives the coldest sky under any cloud
        eps_0 = np.min(list(by_law.values()), axis=0) if self.clear is None else by_law[self.clear.name]
        return under_cloud(site.air, eps_0, site.cloud, self.cloud), film_of(site.wind, self.film)


JUDGING = Law("clear sky", None)  # what frost is judged by, before any rival
HARDEST = Law(  # of a slab warmer than the air
    "wind and cloud", convection_mcadams, cloud=sky_clouded_tva, film=convection_mcadams
)
RIVALS = (
    *(Law("clear sky", sky, sky) for sky in CLEAR_SKIES),
    *(Law("cloud", cloud, cloud=cloud) for cloud in CLOUD_RIVALS),
    Law("wind", convection_mcadams, film=convection_mcadams),
    Law("wind", convection_leeward, film=convection_leeward),
)
