"""The smallest pad that can be built and passes every check."""

from __future__ import annotations

import functools
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from calcbook.basis.arguments import quantities
from calcbook.basis.coherent import to_coherent
from calcbook.basis.formula import FormulaError, arg, cite, procedure
from calcbook.basis.showing import feet_inches, show
from calcbook.basis.units import Q, Quantity
from calcbook.footings.footing import CONCRETE, CONCRETE_WEIGHT
from calcbook.footings.pads import LEAST_THICKNESS, check_pad, unshown
from calcbook.loads.combinations import governing_load

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from calcbook.basis.units import Given
    from calcbook.footings.pads import Demand


LEAST_PLAN = Q(12, "in")  # IRC R403.1.1: a footing is at least 12 in. wide


@dataclass(frozen=True)
class PadDesign:
    """The smallest buildable pad: sizes, its checks, and the one nearest its limit."""

    L: Quantity
    B: Quantity
    d: Quantity
    checks: list[Demand]

    @property
    def governs(self) -> Demand:
        """The Demand nearest to its limit."""
        return max(self.checks, key=lambda check: check.ratio)

    @property
    def volume(self) -> Quantity:
        """Concrete below the slab."""
        return (self.L * self.B * self.d).to("cubic_yard")

    def __str__(self) -> str:
        sizes = " × ".join(feet_inches(side) for side in (self.L, self.B, self.d))
        return "\n  ".join([
            f"{sizes} deep below the slab; {self.governs.title} governs, ratio {self.governs.ratio:.2f}",
            *map(str, self.checks),
        ])  # fmt: skip


@procedure(
    "The smallest pad for a post",
    cite("ACI 318-19", "chapter 14"),
    "every plan size and depth in trade steps is checked in full (check_pad); of those that pass, "
    "the one with the least concrete is taken",
    P_D=arg("lbf", "dead load", low=0),
    P_L=arg("lbf", "floor live load", low=0),
    P_S=arg("lbf", "roof load, the greater of snow and roof live", low=0),
    q_a=arg("psf", "allowable bearing pressure", above=0),
    f_c=arg("psi", "specified strength of the concrete", low=2500, high=10000),
    t=arg("in", "slab thickness", above=0),
    c_1=arg("in", "size of the post along the length", above=0),
    c_2=arg("in", "size of the post along the width", above=0),
    gamma_c=CONCRETE_WEIGHT,
    gamma_s=arg("pcf", "weight of the soil dug out, 0 for a gross bearing value", low=0, high=180),
    W=arg("lbf", "uplift at allowable level, 0 for none", low=0),
    plan_step=arg("in", "step of the plan size", above=0),
    depth_step=arg("in", "step of the depth", above=0),
    most_plan=arg("in", "largest plan size looked at", above=0),
    most_depth=arg("in", "largest depth looked at", above=0),
    width=arg("in", "width of the pad, where it is fixed", above=0),
)
def design_pad(
    P_D: Given, P_L: Given, P_S: Given=Q(0, "lbf"), q_a: Given=Q(1500, "psf"), f_c: Given=Q(2500, "psi"), t: Given=Q(4, "in"), c_1: Given=Q(5.5, "in"),
    c_2: Given=Q(5.5, "in"), gamma_c: Given=CONCRETE, gamma_s: Given=Q(0, "pcf"), W: Given=Q(0, "lbf"), plan_step: Given=Q(3, "in"),
    depth_step: Given=Q(1, "in"), most_plan: Given=Q(120, "in"), most_depth: Given=Q(36, "in"), width: Given | None=None,
) -> PadDesign:  # fmt: skip
    """The pad with the least concrete that passes every check. Returns a PadDesign.

    P_D, P_L, P_S: dead, floor live and roof load of the post, lbf; q_a: allowable bearing, psf (the
    code's lowest class by default); f_c: psi; t: slab thickness, in.; c_1, c_2: post, in.;
    gamma_c: pcf; gamma_s: weight of the soil dug out, pcf, only where q_a is a net value; W: net
    uplift, lbf; plan_step, depth_step: trade steps, in.; most_plan, most_depth: where the search
    stops, in.; width: width of the pad where it is fixed, in. (None for a square pad).
    Raises FormulaError where no pad within those sizes passes.
    """
    specs = design_pad.arguments
    given = quantities(
        "design_pad", specs, P_D=P_D, P_L=P_L, P_S=P_S, q_a=q_a, f_c=f_c, t=t, c_1=c_1, c_2=c_2,
        gamma_c=gamma_c, gamma_s=gamma_s, W=W, plan_step=plan_step, depth_step=depth_step,
        most_plan=most_plan, most_depth=most_depth,
    )  # fmt: skip
    fixed = (
        None if width is None else quantities("design_pad", specs, width=width)["width"].m_as("inch")
    )
    plain = {n: to_coherent(float(specs[n].strip(v)), specs[n].unit) for n, v in given.items()}
    loads = tuple(plain.pop(n) for n in ("P_D", "P_L", "P_S"))
    steps = tuple(plain.pop(n) for n in ("plan_step", "depth_step", "most_plan", "most_depth"))
    return smallest_pad(loads, steps, width=fixed, **plain)


@functools.lru_cache(256)
def smallest_pad(
    loads: tuple[float, ...],
    steps: tuple[float, float, float, float],
    q_a: float,
    f_c: float,
    t: float,
    c_1: float,
    c_2: float,
    gamma_c: float,
    gamma_s: float = 0.0,
    W: float = 0.0,
    length: float | None = None,
    width: float | None = None,
    depth: float | None = None,
    one: float | None = None,
    least_depth: float = 0.0,
    h_min: float = LEAST_THICKNESS.m_as("inch"),
    b_min: float = LEAST_PLAN.m_as("inch"),
) -> PadDesign:
    """``design_pad`` on plain numbers of the coherent set (lbf, in., psi, pci), kept between calls.

    loads: dead, floor live, roof; steps: plan step, depth step, most plan, most depth; q_a, f_c, t, c_1, c_2,
    gamma_c, gamma_s, W: as ``design_pad`` has them; length, width, depth: sizes that are fixed, or None;
    one: slab that is one piece with the pad (None: all of it); least_depth: through the stone into the ground;
    h_min, b_min: least thickness and least width of the codes in the job's system. Neither length nor width: a square pad. Returns a PadDesign.
    """
    given: dict[str, Any] = {
        "t": t, "c_1": c_1, "c_2": c_2, "q_a": q_a, "f_c": f_c, "gamma_c": gamma_c,
        "P_a": governing_load("allowable", *loads), "P_u": governing_load("strength", *loads),
        "gamma_s": gamma_s or None, "W": W or None, "one": one, "h_min": h_min,
    }  # fmt: skip
    L, B, d = _candidates(
        steps, t if one is None else one, (c_1, c_2), length, width, depth, (least_depth, h_min, b_min)
    )
    checks = check_pad(unshown, L, B, d, **given)
    ratios = np.array([np.broadcast_to(check.ratio, L.shape) for check in checks])
    passes = np.all(ratios <= 1 + 1e-9, axis=0)
    if not passes.any():
        raise FormulaError(
            f"no pad up to {feet_inches(Q(steps[2], 'in'))} wide and {feet_inches(Q(steps[3], 'in'))} "
            f"deep carries {show(Q(given['P_a'], 'lbf'), 'lbf')} on {show(Q(q_a, 'psi'), 'psf')}; ask an engineer"
        )
    best = np.flatnonzero(passes)[np.argmin((L * B * d)[passes])]
    found = [replace(c, **{side: np.broadcast_to(getattr(c, side), L.shape)[best] for side in ("demand", "capacity")})
             for c in checks]  # fmt: skip
    sides = [Q(float(x[best]), "in") for x in (L, B, d)]
    return PadDesign(sides[0], sides[1], sides[2], found)


def _candidates(
    steps: tuple[float, float, float, float],
    t: float,
    post: tuple[float, float],
    length: float | None,
    width: float | None,
    depth: float | None,
    least: tuple[float, float, float],
) -> Sequence[NDArray]:
    """Every pad size in steps, as flat arrays in inches: no smaller than the post nor than the least
    depth, thickness with the slab and width."""
    plan_step, depth_step, most_plan, most_depth = steps
    plan = np.arange(1, int(most_plan / plan_step + 1e-9) + 1) * plan_step
    depths = np.arange(1, int(most_depth / depth_step + 1e-9) + 1) * depth_step
    depths = depths[depths + t >= least[1] - 1e-9]
    depths = depths[depths >= least[0] - 1e-9]
    plan = plan[plan >= least[2] - 1e-9]
    if depth is not None:
        depths = np.array([depth])
    if length is None and width is None:
        side = plan[plan >= max(post)]
        L, d = (grid.ravel() for grid in np.meshgrid(side, depths, indexing="ij"))
        return L, L, d
    sides = [
        plan[plan >= c] if s is None else np.array([s])
        for s, c in zip((length, width), post, strict=True)
    ]
    return [grid.ravel() for grid in np.meshgrid(*sides, depths, indexing="ij")]
