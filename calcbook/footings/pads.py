"""Every check of a pad under its post, for one pad with its steps shown or for arrays of pads.

The search for the smallest pad is in ``pad_design.py``, the pads of a job in ``pad_check.py``.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from calcbook.basis.formula import cite, from_coherent, to_coherent
from calcbook.basis.showing import show
from calcbook.basis.units import Q, Quantity, unit
from calcbook.footings import footing, pad_forces, plain

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from calcbook.basis.formula import Formula
    from calcbook.basis.sources import Citation
    from calcbook.basis.units import Amount

STRIP = Q(12, "in")  # bending and one-way shear are looked at for a strip one foot wide
LEAST_THICKNESS = Q(8, "in")
# what a pad is checked for, in the coherent units of ``bulk``
IN_BULK = {
    "t": "in", "c_1": "in", "c_2": "in", "P_a": "lbf", "P_u": "lbf", "q_a": "psi", "f_c": "psi",
    "gamma_c": "pci", "gamma_s": "pci", "W": "lbf", "strip": "in", "least": "in",
}  # fmt: skip


@dataclass(frozen=True)
class Check:
    """One check of a pad: what is asked, demand and capacity, unit, clause.

    demand, capacity: quantities; or numbers (arrays) of the coherent set, as ``bulk`` gives them.
    """

    question: str
    demand: Amount
    capacity: Amount
    unit: str
    clause: Citation
    needs_engineer: bool = False

    @property
    def ratio(self) -> NDArray | float:
        """Demand over capacity, a plain number or an array; at most 1 passes."""
        demand, capacity = (
            x.m_as(unit(self.unit)) if isinstance(x, Quantity) else x
            for x in (self.demand, self.capacity)
        )
        return demand / capacity

    def quantities(self) -> tuple[Quantity, Quantity]:
        """(demand, capacity) as quantities in the check's unit."""
        demand, capacity = (
            x if isinstance(x, Quantity) else Q(float(from_coherent(x, self.unit)), self.unit)
            for x in (self.demand, self.capacity)
        )
        return demand, capacity

    def __str__(self) -> str:
        demand, capacity = (show(x, self.unit) for x in self.quantities())
        return f"{self.question}: {demand} of {capacity}, ratio {self.ratio:.2f}"


def once(formula: Formula, words: str, **inputs: Any) -> Any:
    """Use a formula on quantities; ``words`` is for a calculation that shows its steps."""
    return formula(**inputs)


def bulk(formula: Formula, words: str, **inputs: NDArray | float) -> NDArray | float:
    """Use a formula's body on whole arrays, all in inches and pounds-force; limits are the caller's."""
    return formula.body(**(_defaults(formula) | inputs))


@functools.cache
def _defaults(formula: Formula) -> dict[str, float]:
    """The defaults of a formula as plain numbers in inches and pounds-force."""
    return {
        name: to_coherent(
            p.default.m_as(unit(formula.arguments[name].unit)), formula.arguments[name].unit
        )
        if isinstance(p.default, Quantity)
        else p.default
        for name, p in formula.signature.parameters.items()
        if p.default is not p.empty
    }


def in_bulk(given: dict[str, Quantity | None]) -> dict[str, float | None]:
    """The inputs ``given`` to ``check_pad`` as plain numbers for ``bulk``; None stays None."""
    whole = {"strip": STRIP, "least": LEAST_THICKNESS} | given
    return {
        name: value if value is None else float(value.m_as(unit(IN_BULK.get(name, "in"))))
        for name, value in whole.items()
    }


def check_pad(
    run: Callable[..., Any], L: Amount, B: Amount, d: Amount, t: Amount, c_1: Amount, c_2: Amount, P_a: Amount, P_u: Amount, q_a: Amount, f_c: Amount, gamma_c: Amount, gamma_s: Amount | None=None, W: Amount | None=None,
    strip: Amount=STRIP, least: Amount=LEAST_THICKNESS,
) -> list[Check]:  # fmt: skip
    """All checks of a pad, in the order a hand calculation takes them.

    run: ``once``, ``bulk`` (then all in inches and pounds-force), or a calculation's own way to use
    a formula; L, B, d: pad size and its depth below the slab, in.; t: slab thickness, in.; c_1,
    c_2: post, in.; P_a, P_u: governing unfactored and factored load, lbf; q_a: psf; f_c: psi;
    gamma_c: pcf; gamma_s: weight of the soil dug out, pcf, where q_a is a net value, else None; W:
    uplift at allowable level, lbf, or None; strip: width of the strip looked at, 12 in.; least: thickness of the
    code's rule, in. Returns a
    list of Check.
    """
    A = run(footing.pad_area, "Area of the pad", L=L, B=B)
    q_over = run(footing.slab_weight, "The slab over the pad presses too", t=t, gamma_c=gamma_c)
    own = {"d": d, "gamma_c": gamma_c, "q_over": q_over}
    net: dict[str, Any] = {}
    if gamma_s is not None:
        net["q_soil"] = run(footing.dug_soil, "The soil dug out pressed before", d=d, gamma_s=gamma_s)
    q = run(footing.bearing_pressure, "Pressure on the soil", P=P_a, A=A, **own, **net)
    h = run(plain.thickness_under_post, "Slab and pad are one piece", t=t, d=d)
    checks = [
        Check("Does the soil carry the pad?", q, q_a, "psf", cite("ASCE 7-16", "2.4.1")),
        *_in_the_concrete(run, L, B, h, c_1, c_2, A, P_u, f_c, strip),
        Check("Is it thick enough?", least, h, "in", cite("ACI 318-19", "14.3.2.1")),
    ]
    if W is not None:
        R = run(footing.uplift_resistance, "What its weight holds down", A=A, **own)
        clause = cite("ASCE 7-16", "2.4.1 combination 7")
        checks.append(Check("Does its weight hold the uplift?", W, R, "lbf", clause, True))
    return checks


def _in_the_concrete(
    run: Callable[..., Any],
    L: Amount,
    B: Amount,
    h: Amount,
    c_1: Quantity | float,
    c_2: Quantity | float,
    A: Amount,
    P_u: Quantity | float,
    f_c: Quantity | float,
    strip: Quantity | float,
) -> list[Check]:
    """Bending, both shears, and the concrete right under the post."""
    h_e = run(plain.soil_deduction, "What counts in strength", h=h)
    q_u = run(pad_forces.factored_pressure, "Factored pressure, for strength", P_u=P_u, A=A)
    x = run(pad_forces.pad_reach, "The pad reaches beyond the post", L=L, B=B, c_1=c_1, c_2=c_2)
    M_u = run(pad_forces.pad_moment, "Moment of a strip one foot wide", q_u=q_u, b=strip, x=x)
    M_n = run(plain.plain_moment_strength, "Strength of that strip", f_c=f_c, b=strip, h=h_e)
    V_1 = run(pad_forces.pad_one_way_shear, "Shear of that strip", q_u=q_u, b=strip, x=x, h=h_e)
    V_n1 = run(plain.plain_one_way_shear_strength, "Its shear strength", f_c=f_c, b=strip, h=h_e)
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
        Check("Does the pad bear bending?", M_u, M_n, "lbf*in", cite("ACI 318-19", "14.5.2.1")),
        Check("Does it bear shear across?", V_1, V_n1, "lbf", cite("ACI 318-19", "14.5.5.1(a)")),
        Check("Does the post punch through?", V_2, V_n2, "lbf", cite("ACI 318-19", "14.5.5.1(b)(c)")),
        Check(
            "Does the concrete under the post hold?", P_u, B_n, "lbf", cite("ACI 318-19", "14.5.6.1")
        ),
    ]
