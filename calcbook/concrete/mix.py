"""The mix as ordered: strength, w/cm, air, slump, water, temperature, and the trucks' clock."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

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
from calcbook.basis.table import lookup, table
from calcbook.basis.units import Q, number_in

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.units import Quantity


@formula(
    "Water for a change of slump",
    cite("Concrete Construction", "Adjusting slump in the field"),
    result("gal/yd3", "water added to each cubic yard"),
    slump_change=arg("in", "rise of slump wanted", low=0, high=8, valid=(0, 3), symbol="Delta s"),
    r=arg("1", "inches of slump for each gal/yd3", above=0),
)
def water_added(slump_change, r=1.0):
    """Water that raises the slump: about 1 gal/yd3 for each inch.

    Source: Concrete Construction (read in a reprint).
    """
    w = with_unit(number(slump_change, "in") / r, "gal/yd3", slump_change)
    return w


@formula(
    "Strength lost to added water",
    cite("Concrete Construction", "Adjusting slump in the field"),
    result("psi", "strength lost"),
    w=arg("gal/yd3", "water added", low=0, high=10),
    loss=arg("psi", "strength lost for each gal/yd3", low=0),
)
def strength_loss_at(w, loss):
    """Strength lost at one published rate; ``strength_loss`` gives the range of all of them."""
    d_f = with_unit(number(w, "gal/yd3") * number(loss, "psi"), "psi", loss)
    return d_f


@procedure(
    "Strength lost to added water, as a range",
    cite("Concrete Construction", "two articles that disagree"),
    "The least and the most of the published rates, times the water added.",
    water=arg("gal/yd3", "water added", low=0, high=10),
)
def strength_loss(water: Quantity) -> tuple[Quantity, Quantity]:
    """Least and most strength lost, over the published rates: a pair of quantities.

    water: water added, volume by volume.
    """
    rows = table("added_water")
    low = min(row["loss_low_psi"] for row in rows)
    high = max(row["loss_high_psi"] for row in rows)
    return tuple(strength_loss_at(water, Q(rate, "psi")) for rate in (low, high))


@formula(
    "Temperature of the mixed concrete",
    cite("ACI 306R-16", "after 306R-88 section 3.7 and 305R; read in several texts"),
    result("degF", "temperature of the fresh concrete"),
    T_a=arg("degF", "temperature of the aggregate", low=-20, high=180),
    W_a=arg("lb", "aggregate, saturated and surface dry", low=0),
    T_c=arg("degF", "temperature of the cement", low=-20, high=250),
    W_c=arg("lb", "cement", low=0),
    T_w=arg("degF", "temperature of the mixing water", low=32, high=212),
    W_w=arg("lb", "mixing water", low=0),
    W_wa=arg("lb", "free water on the aggregate", low=0),
    W_i=arg("lb", "ice", low=0),
    s=arg("1", "specific heat of solids against water", above=0, below=1),
)
def mix_temperature(T_a, W_a, T_c, W_c, T_w, W_w, W_wa=Q(0, "lb"), W_i=Q(0, "lb"), s=0.22):
    """Temperature of a mix from the temperatures and masses of its ingredients.

    Ice counts with 112 degrees: 144 Btu/lb to melt it, less 32. Aggregate must be above freezing.
    Source: ACI 305R and 306R.
    """
    W_s = s * (number(W_a, "lb") + number(W_c, "lb"))
    H_s = s * (number(T_a, "degF") * number(W_a, "lb") + number(T_c, "degF") * number(W_c, "lb"))
    H_w = number(T_w, "degF") * number(W_w, "lb") + number(T_a, "degF") * number(W_wa, "lb")
    W = W_s + number(W_w, "lb") + number(W_wa, "lb") + number(W_i, "lb")
    T = with_unit((H_s + H_w - 112 * number(W_i, "lb")) / W, "degF", T_a)
    return T


@formula(
    "Water equivalent of the mix, for heat",
    cite("ACI 306R-16", "denominator of the mix temperature"),
    result("lb", "mass of water with the same heat capacity"),
    W_a=arg("lb", "aggregate", low=0),
    W_c=arg("lb", "cement", low=0),
    W_w=arg("lb", "mixing water", low=0),
    W_wa=arg("lb", "free water on the aggregate", low=0),
    s=arg("1", "specific heat of solids against water", above=0, below=1),
)
def heat_mass(W_a, W_c, W_w, W_wa=Q(0, "lb"), s=0.22):
    """Mass of water that warms as slowly as the mix.

    W_a, W_c, W_w, W_wa: masses of aggregate, cement, mixing water and free water on the aggregate.
    """
    W = s * (W_a + W_c) + W_w + W_wa
    return W


@formula(
    "Temperature change of an ingredient for one degree of mix",
    cite("PCA EB001", "hot-weather chapter, effect of temperature of materials"),
    result("delta_degF", "change of the ingredient's temperature"),
    dT=arg("delta_degF", "change wanted in the concrete", low=-100, high=100),
    W=arg("lb", "heat mass of the mix", above=0),
    W_i=arg("lb", "mass of the ingredient", above=0),
    s_i=arg("1", "its specific heat against water: 0.22 for solids, 1 for water", above=0, high=1),
)
def ingredient_change(dT, W, W_i, s_i):
    """How much one ingredient must be warmed or cooled to shift the concrete."""
    dT_i = dT * W / (s_i * W_i)
    return dT_i


@formula(
    "Cementitious content",
    cite("ACI 211.1", "6.3.5"),
    result("lb/yd3", "cementitious content"),
    W_w=arg("lb/yd3", "mixing water", above=0, high=600),
    w_cm=arg("1", "water-cement ratio by mass", low=0.25, high=0.9, symbol="w/cm"),
)
def cement_content(W_w, w_cm):
    """Cement that goes with the mixing water at a water-cement ratio.

    Source: ACI 211.1.

    >>> print(cement_content("305 lb/yd3", 0.5))
    610.0 pound / cubic_yard
    """
    C_c = W_w / w_cm
    return C_c


@formula(
    "Mixing water by the cement content",
    cite("ACI 211.1", "6.3.5"),
    result("lb/yd3", "mixing water"),
    C_c=arg("lb/yd3", "cementitious content", above=0, high=1500),
    w_cm=arg("1", "water-cement ratio by mass", low=0.25, high=0.9, symbol="w/cm"),
)
def water_content(C_c, w_cm):
    """Water by the water-cement ratio."""
    W_w = C_c * w_cm
    return W_w


@formula(
    "Yield of a batch",
    cite("ASTM C138", "yield"),
    result("ft3", "volume of the batch"),
    M=arg("lb", "mass of everything in the batch", low=0),
    D=arg("lb/ft3", "density of the fresh concrete", above=0),
)
def batch_yield(M, D):
    """Volume that a batch fills: its mass over its measured density.

    M: mass of all ingredients; D: density (unit weight). Source: ASTM C138.

    >>> print(batch_yield("4000 lb", "148 lb/ft3"))
    27.03 foot ** 3
    """
    Y = M / D
    return Y


@formula(
    "Time between trucks",
    cite("common practice"),
    result("min", "time between trucks"),
    V=arg("yd3", "a truck's load", above=0, high=15),
    rate=arg("yd3/h", "rate of placing", above=0, high=200, symbol="Q"),
)
def truck_spacing(V, rate):
    """Spacing at which the next truck arrives as the last one empties.

    rate: concrete placed in an hour.
    """
    t = V / rate
    return t


@formula(
    "Time left on the drum when a truck is empty",
    cite("ASTM C94", "1 1/2 h from water on cement to end of discharge, unless agreed otherwise"),
    result("min", "time left"),
    t_limit=arg("min", "time limit", above=0),
    t_haul=arg("min", "batching and haul", low=0),
    t_wait=arg("min", "wait at the site", low=0),
    V=arg("yd3", "load", low=0, high=15),
    rate=arg("yd3/h", "rate of placing", above=0, high=200, symbol="Q"),
)
def drum_time_left(t_limit, t_haul, t_wait, V, rate):
    """What is left of the time limit when the last of a load is out; below zero it is broken.

    t_haul: from batching to arrival. Editions of ASTM C94 differ: ask the producer.
    """
    t_left = t_limit - t_haul - t_wait - V / rate
    return t_left


def _between(
    name: str,
    rows: Sequence[dict[str, Any]],
    key: str,
    value: float,
    wanted: str,
    words: str,
) -> float:
    """A table value by straight lines; refused outside the table."""
    rows = sorted(rows, key=lambda r: r[key])
    low, high = rows[0][key], rows[-1][key]
    if not low - 1e-9 <= value <= high + 1e-9:
        raise FormulaError(f"{name}: {words} {value:g} is outside the table, {low:g} to {high:g}")
    return float(np.interp(value, [r[key] for r in rows], [r[wanted] for r in rows]))


_AGGREGATE = arg("in", "largest size of aggregate", low=0.375, high=1.5)


@procedure(
    "Mixing water",
    cite("ACI 211.1", "Table 6.3.3"),
    "By slump, aggregate size and air, with straight lines between the middles of the printed steps.",
    result("lb/yd3", "mixing water"),
    slump=arg("in", "slump", low=1.5, high=6.5),
    aggregate=_AGGREGATE,
    air=arg("1", "air-entrained or not", choices=("no", "yes")),
)
def mixing_water(slump: Quantity, aggregate: Quantity = Q(0.75, "in"), air: str = "no") -> Quantity:
    """Water for a slump and aggregate: slump 1 1/2 to 6 1/2 in., aggregate 3/8 to 1 1/2 in.

    air: "yes" for air-entrained concrete. Returns mass by volume. Raises FormulaError outside.
    """
    size, s = number_in(aggregate, "in"), number_in(slump, "in")
    rows = [r for r in table("mixing_water") if r["air"] == air]
    at_size = [
        {
            "slump_in": step,
            "water": _between(
                "mixing_water", [r for r in rows if r["slump_in"] == step], "aggregate_in", size, "water",
                "aggregate size, in.,",
            ),
        }
        for step in sorted({r["slump_in"] for r in rows})
    ]  # fmt: skip
    return Q(_between("mixing_water", at_size, "slump_in", s, "water", "slump, in.,"), "lb/yd3")


@procedure(
    "Water-cement ratio for a strength",
    cite("ACI 211.1 from memory", "Table 6.3.4(a)"),
    "By the average strength the mix is designed for, straight lines between the printed strengths.",
    result("1", "water-cement ratio"),
    f_cr=arg("psi", "average strength of the mix", low=2000, high=6000),
    air=arg("1", "air-entrained or not", choices=("no", "yes")),
)
def w_cm_for(f_cr: Quantity, air: str = "no") -> float:
    """Ratio that gives an average strength: 2,000 to 6,000 psi, 5,000 with air.

    f_cr: average strength of the mix; air: "yes" for air-entrained. Raises FormulaError outside.
    """
    rows = [r for r in table("w_cm") if r["air"] == air]
    return _between("w_cm_for", rows, "f_c_psi", number_in(f_cr, "psi"), "w_cm", "strength, psi,")


@procedure(
    "Air content",
    cite("ACI 211.1", "Table 6.3.3"),
    "By exposure and aggregate size.",
    result("1", "air content"),
    exposure=arg("1", "exposure", choices=("entrapped", "mild", "moderate", "severe")),
    aggregate=_AGGREGATE,
)
def air_content(exposure: str, aggregate: Quantity = Q(0.75, "in")) -> float:
    """Air recommended for an exposure, as a share of the volume.

    exposure: "entrapped" (none added), "mild", "moderate" or "severe"; aggregate: its largest
    size, 3/8 to 1 1/2 in. Raises FormulaError outside.
    """
    rows = [r for r in table("air") if r["exposure"] == exposure]
    size = number_in(aggregate, "in")
    return (
        _between("air_content", rows, "aggregate_in", size, "air_percent", "aggregate size, in.,") / 100
    )


@procedure(
    "Slump tolerance",
    cite("ASTM C94", "tolerances in slump"),
    "By the slump ordered: up to 2 in., up to 4 in., and above.",
    result("in", "tolerance, more or less"),
    slump=arg("in", "slump ordered", above=0, high=12),
)
def slump_tolerance(slump: Quantity) -> Quantity:
    """How far the delivered slump may be off, either way. slump: as ordered. Returns a length."""
    inches = number_in(slump, "in")
    row = next(r for r in table("slump_tolerance") if inches <= r["slump_up_to_in"] + 1e-9)
    return Q(row["tolerance_in"], "in")


def exposure_row(name: str) -> dict[str, Any]:
    """w/cm, strength and air of an ACI 318 exposure class ("F0" to "F3")."""
    return lookup("exposure", **{"class": name})
