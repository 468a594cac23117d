"""When the concrete sets: a band, as the published data disagree.

Each published series (a survey of contractors, a bulletin's table, a hydration model) gives hours by
temperature. Under a forecast each runs as its own clock, which meets every published row where it is
held at that row's temperature; the earliest and the latest make the band.
"""

from __future__ import annotations

import functools
import itertools
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy import exp, maximum, minimum

from calcbook.basis.formula import arg, choice, cite, formula, procedure, result
from calcbook.basis.table import lookup, table
from calcbook.basis.units import Q, number_in
from calcbook.concrete.hydration import T_HYDRATION, age_at_degree
from calcbook.concrete.maturity import (
    E_TYPE_I,
    GAS_CONSTANT,
    apparent_energy,
    maturity_rate,
    time_of_age,
)

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from calcbook.basis.sources import Citation
    from calcbook.basis.units import Quantity
    from calcbook.concrete.hydration import Mix

T_70 = Q(294.26111111111, "K")  # 70 °F
EVENTS = {"initial": "initial set, floating can start", "final": "final set, troweling must be done"}


@formula(
    "Setting time by temperature",
    cite("set-time table", "as the geometric rule that reproduces it"),
    result("h", "setting time"),
    T=arg("degF", "concrete temperature, held", low=25, high=110, valid=(30, 100)),
    t_70=arg("h", "setting time at 70 °F", above=0),
    r=arg("1", "factor for each step colder than 70 °F", above=1),
    r_h=arg("1", "factor for each step hotter than 70 °F", above=1),
    T_ref=arg("degF", "reference temperature"),
    step=arg("delta_degF", "step of temperature", above=0),
)
def set_time_table(T, t_70=Q(6, "h"), r=4 / 3, r_h=1.53, T_ref=Q(70, "degF"), step=Q(10, "delta_degF")):
    """Setting time of concrete held at one temperature: a third longer for each 10 °F colder than
    70 °F, and shorter by half as much again for each 10 °F hotter.

    Never more than a minute later than the hot rows of the table. Meant for 30 to 100 °F; below 25 °F
    concrete freezes and does not set, which is refused. Source: the reprinted table, from memory.
    """
    n = (T_ref - T) / step
    t = t_70 * r ** maximum(n, 0) * r_h ** minimum(n, 0)
    return t


@formula(
    "Setting time by temperature, law of Arrhenius",
    cite("ASTM C1074", "equivalent age at set, solved for the time"),
    result("h", "setting time"),
    T=arg("K", "concrete temperature, held, absolute", low=269, high=320, valid=(273.15, 313.15)),
    t_70=arg("h", "setting time at 70 °F", above=0),
    E_a=arg("J/mol", "activation energy", low=0, high=120000),
    T_ref=arg("K", "reference temperature, absolute", above=0),
    R=arg("J/mol/K", "gas constant", above=0),
)
def set_time_arrhenius(T, t_70=Q(6, "h"), E_a=E_TYPE_I, T_ref=T_70, R=GAS_CONSTANT):
    """Setting time of concrete held at one temperature, by equivalent age.

    T_ref: 70 °F. Below 25 °F it is refused: the concrete freezes.
    """
    t = t_70 * exp(E_a / R * (1 / T - 1 / T_ref))
    return t


set_time = choice("set_time", "rule", "table", table=set_time_table, arrhenius=set_time_arrhenius)


@formula(
    "Degree of hydration at set",
    cite("Schindler 2004"),
    result("1", "degree of hydration at set"),
    k=arg("1", "coefficient: 0.15 initial, 0.26 final set", above=0, below=1),
    w_cm=arg("1", "water-cement ratio by mass", low=0.25, high=0.9, symbol="w/cm"),
)
def set_degree(k, w_cm):
    """Degree of hydration at which penetration tests call concrete set.

    Source: Schindler 2004, coefficients from memory.
    """
    alpha_set = k * w_cm
    return alpha_set


@dataclass(frozen=True)
class Series:
    """One published clock of setting.

    event: "initial" or "final"; counted_from: "placing" or "mixing"; t_ref: hours at its reference, about 70 °F;
    pieces: (K, hours, J/mol) from each published temperature up to the next: how long it takes there,
    and the energy behind the shift to the next; span: K, coldest and hottest that was published.
    """

    name: str
    event: str
    counted_from: str
    t_ref: Quantity
    pieces: tuple[tuple[float, float, float], ...]
    span: tuple[float, float]
    source: Citation

    def rate(self, temperature: NDArray) -> NDArray:
        """Speed of its clock at each temperature, K: hours at its reference that an hour counts there.

        It meets every published row; beyond them the energy of the nearest two goes on.
        """
        from_T, hours, energy = np.array(self.pieces).T
        at = np.searchsorted(from_T[1:], temperature, side="right")
        shift = maturity_rate.bulk(T=temperature, E_a=energy[at], T_ref=from_T[at])
        return number_in(self.t_ref, "h") / hours[at] * shift

    def slowed(self, factor: float) -> Series:
        """The same with all hours times a factor."""
        pieces = tuple((T, hours * factor, energy) for T, hours, energy in self.pieces)
        return replace(self, t_ref=self.t_ref * factor, pieces=pieces)

    def leaves(self, hours: NDArray, temperature: NDArray, until: float) -> bool:
        """True where concrete lies outside what was published before set.

        hours: after placing; temperature: of the concrete then, K; until: hours that count.
        """
        seen = np.asarray(temperature)[np.asarray(hours) <= until]
        return bool(np.any((seen < self.span[0] - 1e-6) | (seen > self.span[1] + 1e-6)))


@functools.cache
def _table_series() -> list[Series]:
    """The series of the table of setting times, without admixtures."""
    return [_series_of(name) for name in dict.fromkeys(row["series"] for row in table("set_time"))]


def _series_of(name: str) -> Series:
    rows = sorted(
        (r for r in table("set_time") if r["series"] == name), key=lambda r: r["temperature_F"]
    )
    known = [(Q(r["temperature_F"], "degF").to("K"), Q(r["hours"], "h")) for r in rows]
    pieces = tuple(
        (T_1.m, t_1.m, apparent_energy(t_1, T_1, t_2, T_2).m)
        for (T_1, t_1), (T_2, t_2) in itertools.pairwise(known)
    )
    at_70 = next(r for r in rows if r["temperature_F"] == 70)
    return Series(name, at_70["event"], at_70["counted_from"], Q(at_70["hours"], "h"), pieces,
                  (known[0][0].m, known[-1][0].m), at_70["source"])  # fmt: skip


def setting_series(mix: Mix, slowing: float = 1.0) -> list[Series]:
    """All series for a mix (hydration.Mix); slowing: factor of an admixture on the hours, 1 for none."""
    found = [series.slowed(slowing) for series in _table_series()]
    span = maturity_rate.arguments["T"].valid or (0.0, np.inf)
    for row in table("set_degree"):
        hours = age_at_degree(set_degree(row["k"], mix.w_cm), **mix.curve) * slowing
        piece = (number_in(T_HYDRATION, "K"), number_in(hours, "h"), number_in(mix.E_a, "J/mol"))
        found.append(Series("hydration", row["event"], "mixing", hours, (piece,), span, row["source"]))
    return found


@procedure(
    "Time of set under a changing temperature",
    cite("ASTM C1074", "equivalent age, one clock for each published series"),
    "The series' clock runs at the slab's temperature; set is when it has run the series' hours.",
)
def set_moment(series: Series, hours: NDArray, temperature: NDArray, in_drum: float = 0.0) -> Any:
    """Hours after placing at which a series says set.

    hours: hours after placing (array); temperature: concrete, K (array, or draws x hours);
    in_drum: hours from batching to placing, spent at the first temperature. Returns a number, or
    one for each draw; inf where it is not reached.
    """
    rate = series.rate(temperature)
    before = rate[..., 0] * in_drum if series.counted_from == "mixing" else 0.0
    return time_of_age(hours, rate, np.maximum(number_in(series.t_ref, "h") - before, 0))


@dataclass(frozen=True)
class SetBand:
    """Hours after placing: earliest and latest of an event, and what each series says."""

    event: str
    early: Any
    late: Any
    by_series: tuple[tuple[Series, Any], ...]  # pairs (Series, hours)


@procedure(
    "Setting band",
    cite("ASTM C1074", "equivalent age; spread of the published series"),
    "Every series is run under the slab's temperature; the earliest and the latest are the band.",
)
def set_band(
    mix: Mix, hours: NDArray, temperature: NDArray, in_drum: float = 0.0, slowing: float = 1.0
) -> dict[str, SetBand]:
    """Bands of initial and final set: a dict of SetBand by event.

    mix: hydration.Mix; hours, temperature, in_drum: as for ``set_moment``; slowing: factor of an
    admixture, above 1 for a retarder, below for an accelerator (ask the producer).
    """
    bands, all_series = {}, setting_series(mix, slowing)
    for event in EVENTS:
        found = [
            (series, set_moment(series, hours, temperature, in_drum))
            for series in all_series
            if series.event == event
        ]
        times = np.array([moment for _, moment in found])
        bands[event] = SetBand(event, times.min(axis=0), times.max(axis=0), tuple(found))
    return bands


@procedure(
    "Sawing window",
    cite("ACI FAQ 915", "with the other published windows beside it"),
    "Hours after finishing; the range of ACI, as sources disagree and none fixes one time.",
)
def saw_window(
    finish: float, method: str = "conventional"
) -> tuple[float, float, list[dict[str, Any]]]:
    """First and last hour to saw, and every published window as rows.

    finish: hours after placing at which finishing ends; method: "conventional" or "early entry".
    Returns (first, last, rows).
    """
    main = lookup("sawing", method=method, counted_from="finishing")
    rows = [row for row in table("sawing") if row["method"] == method]
    return finish + main["low_h"], finish + main["high_h"], rows
