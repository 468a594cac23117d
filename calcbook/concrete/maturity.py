"""Maturity: one clock for concrete at any temperature."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, TypeAlias

import numpy as np
from numpy import exp, log, maximum

from calcbook.basis.formula import (
    FormulaError,
    arg,
    cite,
    formula,
    number,
    procedure,
    result,
    with_unit,
)
from calcbook.basis.units import Q, unit, ureg

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from calcbook.basis.units import Quantity

GAS_CONSTANT = Q(8.314, "J/mol/K")
T_20 = Q(293.15, "K")
E_TYPE_I = Q(41570, "J/mol")  # 5,000 K times the gas constant, ASTM C1074 for Type I

# quantities in a row: an array with a unit, or a list
Quantities: TypeAlias = "Quantity | Sequence[Quantity]"


@formula(
    "Maturity rate at a temperature (equivalent age)",
    cite("ASTM C1074", "equivalent age, the term under the sum"),
    result("1", "hours at the reference temperature that one hour counts"),
    T=arg("K", "concrete temperature, absolute", low=220, high=380, valid=(273.15, 313.15)),
    E_a=arg("J/mol", "activation energy", low=0, high=120000),
    T_ref=arg("K", "reference temperature, absolute", low=240, high=380),
    R=arg("J/mol/K", "gas constant", above=0),
)
def maturity_rate(T, E_a=E_TYPE_I, T_ref=T_20, R=GAS_CONSTANT):
    """How fast concrete ages at a temperature, against the reference temperature.

    E_a: activation energy (40,000 to 45,000 J/mol for Type I). Recommended for 0 to 40 °C. Source:
    ASTM C1074, law of Arrhenius.

    >>> print(maturity_rate("303.15 K"))
    1.755
    """
    gamma = exp(-E_a / R * (1 / T - 1 / T_ref))
    return gamma


@formula(
    "Activation energy after Freiesleben Hansen and Pedersen",
    cite("Hansen Pedersen 1977"),
    result("J/mol", "activation energy"),
    T=arg("degC", "concrete temperature", low=-50, high=80, valid=(-10, 80)),
)
def hansen_energy(T):
    """Activation energy that rises in the cold: 33.5 kJ/mol from 20 °C up, more below.

    Returns energy by amount. Source: Hansen and Pedersen 1977.
    """
    E_a = with_unit(33500 + 1470 * maximum(20 - number(T, "degC"), 0), "J/mol", T)
    return E_a


@formula(
    "Activation energy behind two times at two temperatures",
    cite("ASTM C1074", "law of Arrhenius, solved for the energy"),
    result("J/mol", "activation energy"),
    t_1=arg("h", "time at the first temperature", above=0),
    T_1=arg("K", "first temperature, absolute", above=0),
    t_2=arg("h", "time at the second temperature", above=0),
    T_2=arg("K", "second temperature, absolute", above=0),
    R=arg("J/mol/K", "gas constant", above=0),
)
def apparent_energy(t_1, T_1, t_2, T_2, R=GAS_CONSTANT):
    """Activation energy that makes two published times agree.

    t_2, T_2: another pair, at a different temperature. Returns energy by amount.
    """
    E_a = R * log(t_1 / t_2) / (1 / T_1 - 1 / T_2)
    return E_a


@formula(
    "Maturity of one interval (Nurse-Saul)",
    cite("ASTM C1074"),
    result("degF*h", "temperature-time factor"),
    T=arg("K", "mean concrete temperature, absolute", low=220, high=380),
    dt=arg("h", "length of the stretch", low=0),
    T_0=arg("K", "datum temperature, absolute", low=220, high=300),
)
def maturity_step(T, dt, T_0=Q(273.15, "K")):
    """Temperature above the datum, times time; below the datum nothing is added or taken.

    T_0: datum, 0 °C for Type I, -10 °C in older practice. Source: ASTM C1074.
    """
    dM = maximum(T - T_0, 0) * dt
    return dM


def _history(name: str, ages: Quantities, temperatures: Quantities) -> tuple[NDArray, NDArray]:
    """Hours and mean kelvins of the stretches between ages; one age alone counts from 0."""
    hours = np.atleast_1d(_plain(ages, "h"))
    hours = np.array([0.0, *hours]) if len(hours) == 1 else hours
    kelvin = np.broadcast_to(np.atleast_1d(_plain(temperatures, "K")), np.shape(hours))
    if np.any(np.diff(hours) < 0):
        raise FormulaError(
            f"{name}: ages must be at least two times in rising order, the first the start"
        )
    return np.diff(hours), (kelvin[1:] + kelvin[:-1]) / 2


def _plain(values: Quantities, name: str) -> NDArray:
    if isinstance(values, ureg.Quantity):
        return np.asarray(values.m_as(unit(name)), float)
    return np.array([v.m_as(unit(name)) for v in values], float)


_HELD = dict(
    ages=arg("h", "age, or ages in rising order", low=0),
    temperatures=arg("K", "concrete temperature, held or at those ages", low=220, high=380),
)


@procedure(
    "Equivalent age by hour",
    cite("ASTM C1074"),
    "Each stretch of time counts by the speed of the clock at its mean temperature; the sum runs.",
)
def equivalent_ages(
    ages: Quantities, temperatures: Quantities, E_a: Quantity = E_TYPE_I, T_ref: Quantity = T_20
) -> Quantity:
    """Equivalent age at each of the given ages.

    ages: clock ages in rising order (quantity array or list of quantities), or one age, which
    counts from 0; temperatures: at those ages, or one for all; E_a, T_ref: as for ``maturity_rate``. Returns a quantity array in
    hours, the first 0.
    """
    dt, T = _history("equivalent_ages", ages, temperatures)
    rate = maturity_rate.bulk(T=T, E_a=E_a, T_ref=T_ref)
    return Q(np.concatenate([[0.0], np.cumsum(rate * dt)]), "h")


@procedure(
    "Equivalent age",
    cite("ASTM C1074"),
    "Each stretch of time counts by the speed of the clock at its mean temperature.",
    result("h", "equivalent age"),
    **_HELD,
    E_a=arg("J/mol", "activation energy", low=0, high=120000),
    T_ref=arg("K", "reference temperature, absolute", low=240, high=380),
)
def equivalent_age(
    ages: Quantities, temperatures: Quantities, E_a: Quantity = E_TYPE_I, T_ref: Quantity = T_20
) -> Quantity:
    """Equivalent age at the last of the given ages.

    ages, temperatures, E_a, T_ref: as for ``equivalent_ages``. Returns a time.
    """
    return equivalent_ages(ages, temperatures, E_a, T_ref)[-1]


@procedure(
    "Maturity (Nurse-Saul)",
    cite("ASTM C1074"),
    "Temperature above the datum times time, summed; stretches below the datum add nothing.",
    result("degF*h", "temperature-time factor"),
    **_HELD,
    T_0=arg("K", "datum temperature, absolute", low=220, high=300),
)
def maturity(ages: Quantities, temperatures: Quantities, T_0: Quantity = Q(273.15, "K")) -> Quantity:
    """Temperature-time factor at the last of the given ages.

    ages, temperatures: as for ``equivalent_ages``; T_0: datum temperature. Returns temperature
    times time.
    """
    dt, T = _history("maturity", ages, temperatures)
    return Q(float(np.sum(maturity_step.bulk(T=T, dt=dt, T_0=T_0))), "degF*h")


def grown_age(hours: NDArray, rate: NDArray, before: float = 0.0) -> NDArray:
    """Equivalent age at each hour, from the speed of the clock at those hours.

    hours: array (n,); rate: (n,) or (draws, n); before: hours already spent at the first rate.
    """
    steps = (rate[..., 1:] + rate[..., :-1]) / 2 * np.diff(hours)
    start = np.zeros((*np.shape(rate)[:-1], 1))
    return before * rate[..., :1] + np.concatenate([start, np.cumsum(steps, axis=-1)], axis=-1)


def time_of_age(hours: NDArray, rate: NDArray, target: float) -> NDArray | float:
    """Hour at which the clock has run ``target`` hours; inf where it does not get there.

    hours, rate: as for ``grown_age``; target: a number, or one for each draw. Returns a number,
    or one for each draw.
    """
    return first_reach(hours, grown_age(hours, rate), target)


def first_reach(hours: NDArray, values: NDArray, level: float) -> NDArray | float:
    """First hour at which a rising array reaches a level (between rows by a line); inf if never.

    hours: array (n,); values: (n,) or (draws, n); level: a number, or one for each draw.
    """
    values = np.atleast_2d(values)
    levels = np.broadcast_to(level, len(values))
    found = np.full(len(values), np.inf)
    for n, (row, wanted) in enumerate(zip(values, levels, strict=True)):
        at = int(np.argmax(row >= wanted))
        if at == 0 and row[0] >= wanted:
            found[n] = hours[0]
        elif row[at] >= wanted:
            part = (wanted - row[at - 1]) / (row[at] - row[at - 1])
            found[n] = hours[at - 1] + part * (hours[at] - hours[at - 1])
    return found if len(found) > 1 else float(found[0])


def first_below(hours: NDArray, values: NDArray, level: float) -> Any:
    """First of the hours at which values lie below a level (not at it); inf if never."""
    return first_reach(hours, -np.asarray(values), np.nextafter(-level, np.inf))
