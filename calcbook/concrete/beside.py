"""Slabs that are poured from one order: their concrete together, and the allowance for waste over all."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.formula import arg, cite, formula, result
from calcbook.basis.showing import show
from calcbook.basis.table import records

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job


@formula(
    "Concrete of slabs poured together",
    cite("geometry"),
    result("yd3", "concrete of all slabs of this pour"),
    V=arg("yd3", "this slab, by the plan", above=0),
    V_b=arg("yd3", "slabs poured with it, by the plan", low=0),
)
def poured_volume(V, V_b):
    """Concrete by the plan of a slab and of those that come from its order.

    V, V_b: each without waste. Returns a volume. Source: geometry.
    """
    V_t = V + V_b
    return V_t


def together(
    calc: Calculation, job: Job, V: Quantity, beside: Sequence[Quantity]
) -> tuple[Quantity, float]:
    """Enter the slabs poured with a slab; returns the concrete of all, and their mean allowance for waste.

    V: of the slab itself; beside: of each of ``job.poured_with``, in that order.
    """
    w = calc.given(job, "concrete.waste", "w").m_as("")
    if not beside:
        return V, w
    slabs = [job, *job.poured_with]
    volumes = [V, *beside]
    shares = [one.concrete.waste.m_as("") for one in slabs]
    rows = [
        (one.slab.called, show(one.plan.area, "ft2", job.system), show(v, "yd3", job.system), f"{100 * share:.3g} %")
        for one, v, share in zip(slabs, volumes, shares, strict=True)
    ]  # fmt: skip
    calc.table(
        "Poured together",
        records(("slab", "area", "concrete by the plan", "waste"), rows),
        cite("geometry"),
    )
    V_b = calc.finding("The slabs poured with it, each by its own chapter.", "V_b", sum(beside[1:], beside[0]), "yd3",
                       cite("geometry"), "beside", "concrete of the slabs poured with it")  # fmt: skip
    V_t = calc.step(poured_volume, "All that comes on these trucks.", name="together", V=V, V_b=V_b)
    mean = sum(
        share * v.m_as("cubic_yard") for share, v in zip(shares, volumes, strict=True)
    ) / V_t.m_as("cubic_yard")
    if len(set(shares)) > 1:
        calc.note(
            f"The allowance for waste is {100 * mean:.3g} %: each slab's own, by its share of the concrete."
        )
    return V_t, mean
