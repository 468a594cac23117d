"""Every check of a pad under its post, for one pad or for arrays of pads.

All numbers are plain ones of the coherent set (inches and pounds-force), as ``Formula.raw`` takes and
gives them. The search for the smallest pad is in ``pad_design.py``, the pads of a job in ``pad_check.py``.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from calcbook.basis.coherent import from_coherent, to_coherent
from calcbook.basis.formula import cite
from calcbook.basis.showing import show
from calcbook.basis.units import Q, Quantity, number_in
from calcbook.footings import footing, pad_forces, plain

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.formula import Formula
    from calcbook.basis.sources import Citation

    Numbers = NDArray | float

STRIP = Q(12, "in")  # bending and one-way shear are looked at for a strip one foot wide
LEAST_THICKNESS = Q(8, "in")
# what a pad is checked for, and the units of the coherent set that it comes in
_UNITS = {
    "P_a": "lbf", "P_u": "lbf", "q_a": "psi", "f_c": "psi", "gamma_c": "pci", "gamma_s": "pci", "W": "lbf",
}  # fmt: skip


@dataclass(frozen=True)
class Demand:
    """What is asked of a pad against what it can give; ``unit``: in which both are shown."""

    title: str
    demand: Numbers
    capacity: Numbers
    unit: str
    clause: Citation
    needs_engineer: bool = False
    least: bool = False

    @property
    def ratio(self) -> Numbers:
        """Demand over capacity, a plain number or an array; at most 1 passes."""
        return self.demand / self.capacity

    def quantities(self) -> tuple[Quantity, Quantity]:
        """(demand, capacity) of a single pad as quantities in the unit shown."""
        demand, capacity = (
            Q(float(from_coherent(x, self.unit)), self.unit) for x in (self.demand, self.capacity)
        )
        return demand, capacity

    def title_for(self, names: str) -> str:
        """The title with the names of the pads it holds for."""
        return self.title.replace("the pad", f"pad {names}")

    def __str__(self) -> str:
        demand, capacity = (show(x, self.unit) for x in self.quantities())
        return f"{self.title}: {demand} of {capacity}, ratio {self.ratio:.2f}"


def unshown(formula: Formula, words: str, **numbers: Numbers) -> Numbers:
    """Use a formula without showing it; limits are the caller's."""
    return formula.raw(**numbers)


def shown_in(calc: Calculation) -> Callable[..., float]:
    """A way to use a formula that enters each use as a step of a Calculation."""

    def run(formula: Formula, words: str, **numbers: float) -> float:
        specs = formula.arguments
        given = {n: specs[n].dress(from_coherent(x, specs[n].unit)) for n, x in numbers.items()}
        value = formula.returns.strip(calc.step(formula, f"{words}.", **given))
        return to_coherent(value, formula.returns.unit)

    return run


def plain_inputs(given: dict[str, Quantity | None]) -> dict[str, Any]:
    """What ``check_pad`` is asked for as its plain numbers. given: quantities by name; None stays None."""
    return {
        name: value if value is None else float(number_in(value, _UNITS.get(name, "in")))
        for name, value in given.items()
    }


def check_pad(
    run: Callable[..., Any], L: Numbers, B: Numbers, d: Numbers, t: float, c_1: float, c_2: float, P_a: Numbers,
    P_u: Numbers, q_a: float, f_c: float, gamma_c: float, gamma_s: float | None = None, W: float | None = None,
    one: float | None = None, h_min: float = 8.0,
) -> list[Demand]:  # fmt: skip
    """All checks of a pad, in the order a hand calculation takes them.

    run: how a formula is used, ``unshown`` or that of ``shown_in``; L, B, d: pad size and its depth below the
    slab, in.; t: slab thickness, in.; c_1, c_2: post, in.; P_a, P_u: governing unfactored and factored load,
    lbf; q_a, f_c: psi; gamma_c: pci; gamma_s: weight of the soil dug out, pci, where q_a is a net value, else
    None; W: uplift at allowable level, lbf, or None; one: slab that is one piece with the pad, in.: 0 where an
    isolation joint cuts it off, None for all of it; h_min: LEAST_THICKNESS in the job's system, in. Returns a list of Demand.
    """
    A = run(footing.pad_area, "Area of the pad", L=L, B=B)
    q_over = run(footing.slab_weight, "The slab over the pad presses too", t=t, gamma_c=gamma_c)
    own = {"d": d, "gamma_c": gamma_c, "q_over": q_over}
    net: dict[str, Any] = {}
    if gamma_s is not None:
        net["q_soil"] = run(footing.dug_soil, "The soil dug out pressed before", d=d, gamma_s=gamma_s)
    q = run(footing.bearing_pressure, "Pressure on the soil", P=P_a, A=A, **own, **net)
    one = t if one is None else one
    piece = (
        "Slab and pad are one piece" if one else "The pad alone: the isolation joint cuts the slab off"
    )
    h = run(plain.thickness_under_post, piece, t=one, d=d)
    checks = [
        Demand("Bearing pressure under the pad", q, q_a, "psf", cite("ASCE 7-16", "2.4.1")),
        *_in_the_concrete(run, L, B, h, c_1, c_2, A, P_u, f_c),
        Demand("Thickness of the pad", h_min, h, "in", cite("ACI 318-19", "14.3.2.1"), least=True),
    ]
    if W is not None:
        held = own if one else {**own, "q_over": 0.0}
        R = run(footing.uplift_resistance, "What its weight holds down", A=A, **held)
        clause = cite("ASCE 7-16", "2.4.1 combination 7")
        checks.append(Demand("Uplift on the pad", W, R, "lbf", clause, True))
    return checks


def _in_the_concrete(
    run: Callable[..., Any],
    L: Numbers,
    B: Numbers,
    h: Numbers,
    c_1: float,
    c_2: float,
    A: Numbers,
    P_u: Numbers,
    f_c: float,
) -> list[Demand]:
    """Bending, both shears, and the concrete right under the post."""
    strip = number_in(STRIP, "in")
    h_e = run(plain.soil_deduction, "What counts in strength", h=h)
    q_u = run(pad_forces.factored_pressure, "Factored pressure, for strength", P_u=P_u, A=A)
    x = run(pad_forces.pad_reach, "The pad reaches beyond the post", L=L, B=B, c_1=c_1, c_2=c_2)
    M_u = run(pad_forces.pad_moment, "Moment of a strip one foot wide", q_u=q_u, b=strip, x=x)
    M_n = run(plain.plain_moment_strength, "Strength of that strip", f_c=f_c, b=strip, h=h_e)
    V_1 = run(pad_forces.pad_one_way_shear, "Shear of that strip", q_u=q_u, b=strip, x=x, h=h_e)
    V_n1 = run(
        plain.plain_one_way_shear_strength, "Shear strength of that strip", f_c=f_c, b=strip, h=h_e
    )
    b_o = run(pad_forces.punching_perimeter, "Where the post would punch out", c_1=c_1, c_2=c_2, h=h_e)
    V_2 = run(
        pad_forces.punching_load, "Load through that section",
        q_u=q_u, L=L, B=B, c_1=c_1, c_2=c_2, h=h_e,
    )  # fmt: skip
    beta = run(plain.side_ratio, "Shape of the post", c_1=c_1, c_2=c_2)
    V_n2 = run(
        plain.plain_two_way_shear_strength, "Strength of that section",
        f_c=f_c, b_o=b_o, h=h_e, beta=beta,
    )  # fmt: skip
    A_1 = run(plain.contact_area, "Area right under the post", c_1=c_1, c_2=c_2)
    A_2 = run(plain.spread_area, "Area it may spread to", L=L, B=B, c_1=c_1, c_2=c_2, h=h)
    B_n = run(plain.plain_bearing_strength, "Strength right under the post", f_c=f_c, A_1=A_1, A_2=A_2)
    return [
        Demand("Bending moment of the pad", M_u, M_n, "lbf*in", cite("ACI 318-19", "14.5.2.1")),
        Demand("One-way shear of the pad", V_1, V_n1, "lbf", cite("ACI 318-19", "14.5.5.1(a)")),
        Demand(
            "Two-way (punching) shear of the pad",
            V_2,
            V_n2,
            "lbf",
            cite("ACI 318-19", "14.5.5.1(b)(c)"),
        ),
        Demand("Bearing of the post on the pad", P_u, B_n, "lbf", cite("ACI 318-19", "14.5.6.1")),
    ]
