"""The ground of a job: what it bears and how stiff it is, given or by its class."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from calcbook.basis.arguments import reason
from calcbook.basis.formula import FormulaError, cite
from calcbook.basis.showing import show
from calcbook.basis.units import Q, unit
from calcbook.slab.properties import presumptive_bearing, subgrade_modulus

if TYPE_CHECKING:
    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job
    from calcbook.job.schema.structure import Soil

ASK_SOIL = "Give bearing or kind under [soil]: the plans, the building office or a soils report say it."
USUAL_K = Q(100, "pci")  # the value that UFC 3-320-06A Table 3-2 rests on


def soil_bearing(soil: Soil) -> Quantity | None:
    """Allowable bearing of the ground: given, or by its class; None where neither is.

    soil: the [soil] section of a job. Returns psf.
    """
    if soil.bearing is not None:
        return soil.bearing.to(unit("psf"))
    return None if soil.kind == "not known" else presumptive_bearing(soil.kind)


def counted_weight(soil: Soil) -> Quantity | None:
    """Weight of the soil dug out (pcf), which counts only where the bearing is a net value; else None."""
    return soil.weight.to(unit("pcf")) if soil.net else None


@dataclass(frozen=True)
class Ground:
    """What the ground bears (psf; None where it is not known), and the weight of soil that counts (pcf or None)."""

    bearing: Quantity | None
    weight: Quantity | None


def ground_of(job: Job) -> Ground:
    """The Ground of a job."""
    return Ground(soil_bearing(job.soil), counted_weight(job.soil))


def _by_group(soil: Soil) -> Quantity | None:
    if soil.group == "not known" or soil.moisture is None:
        return None
    return subgrade_modulus(soil.group, soil.moisture)


def enter_bearing(calc: Calculation, job: Job, ground: Ground) -> None:
    """Enter the allowable bearing as an input or a look-up, or ask for it."""
    if job.soil.bearing is not None:
        calc.given(job, "soil.bearing", "q_a")
    else:
        calc.given(job, "soil.kind")
        if ground.bearing is None:
            calc.ask_engineer(
                "Allowable bearing pressure of the soil", cite("IBC 2012", "Table 1806.2"), ASK_SOIL
            )
            return
        calc.caution(
            "The bearing value is the building code's for a class of soil; who has seen the open hole "
            "must agree to it."
        )
        calc.finding(f"The code's value for {job.soil.kind}.", "q_a", ground.bearing, "psf",
                     cite("IBC 2012", "Table 1806.2"), "q_a", "allowable bearing pressure")  # fmt: skip
    if job.soil.net:
        calc.given(job, "soil.net")
        calc.given(job, "soil.weight", "gamma_s")


def enter_subgrade(calc: Calculation, job: Job) -> Quantity:
    """Enter the modulus of subgrade reaction as an input or a look-up; returns pci."""
    soil = job.soil
    if soil.k is not None:
        return calc.given(job, "soil.k", "k").to(unit("pci"))
    calc.given(job, "soil.group")
    if soil.moisture is not None:
        calc.given(job, "soil.moisture")
    try:
        found = _by_group(soil)
    except FormulaError as error:
        calc.ask_engineer("Modulus of subgrade reaction, k", subgrade_modulus.source, reason(error))
        found = None
    if found is not None:
        return calc.finding(f"The table's value for {soil.group} at that water content.", "k", found, "pci",
                            subgrade_modulus.source, label="modulus of subgrade reaction")  # fmt: skip
    calc.caution(
        f"The ground's stiffness is not known: {show(USUAL_K, 'pci', job.system)} is taken. Have it measured, or name the soil's "
        f"{'moisture' if soil.group != 'not known' else 'group and moisture'} under [soil]."
    )
    return calc.finding("The ground's stiffness is not known: the usual value is taken.", "k", USUAL_K, "pci",
                        cite("UFC 3-320-06A", "Table 3-2"), label="modulus of subgrade reaction")  # fmt: skip
