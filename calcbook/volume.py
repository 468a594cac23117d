"""Concrete: how much the slab takes, how much to order, in which loads, and the odds."""

from calcbook.dig import (
    dig_volume,
    prismoidal_volume,
    ring_corner_volume,
    ring_section_area,
    ring_volume,
)
from calcbook.formula import arg, cite, formula, result
from calcbook.rounding import ceil
from calcbook.shortfall import order_for_risk, short_odds
from calcbook.trucks import short_load, truck_loads, truck_plan
from calcbook.units import Q


@formula(
    "Area that a cubic yard covers",
    cite("geometry"),
    result("ft2/yd3", "area covered by a unit of volume"),
    t=arg("in", "thickness", above=0),
)
def coverage(t):
    """Area covered by a unit volume of concrete.

    t: thickness (length). Returns an area per volume: 324 / t with t in inches, in ft2/yd3.
    Source: geometry.
    """
    cover = 1 / t
    return cover


@formula(
    "Volume of the slab",
    cite("geometry"),
    result("yd3", "concrete in the slab"),
    A=arg("ft2", "plan area, openings taken out", above=0),
    t=arg("in", "thickness", above=0, high=48),
)
def slab_volume(A, t):
    """Volume of a slab of even thickness, without what is thickened below it.

    A: plan area without openings; t: thickness (length). Returns a volume. Source: geometry.
    """
    V = A * t
    return V


@formula(
    "Volume by the plan",
    cite("geometry"),
    result("yd3", "concrete by the plan"),
    V_s=arg("yd3", "slab", above=0),
    V_d=arg("yd3", "thickened edge, pads and strips", low=0),
)
def plan_volume(V_s, V_d):
    """Everything that concrete fills by the plan.

    V_s: slab, from ``slab_volume``; V_d: what is dug below it, from ``dig_volume``. Returns a
    volume. Source: geometry.
    """
    V = V_s + V_d
    return V


@formula(
    "Allowance for waste",
    cite("NRMCA CIP 8", "4 to 10 % over plan dimensions"),
    result("yd3", "allowance for waste"),
    V=arg("yd3", "volume by the plan", above=0),
    waste=arg("1", "allowance for waste, share of the volume", low=0, high=0.5, valid=(0.04, 0.10), symbol="w"),
)  # fmt: skip
def waste_volume(V, waste):
    """Concrete for spill, spreading forms, uneven base and over-digging.

    V: volume by the plan; waste: share, 0 to 0.5 (plain), flagged outside 0.04 to 0.10. Returns a
    volume. Source: NRMCA CIP 8, from memory.
    """
    V_w = V * waste
    return V_w


@formula(
    "Volume to order",
    cite("common practice", "rounded up to the step of sale"),
    result("yd3", "volume to order"),
    V=arg("yd3", "volume by the plan", above=0),
    waste=arg("1", "allowance for waste, share of the volume", low=0, high=0.5, symbol="w"),
    step=arg("yd3", "step in which concrete is sold", above=0, high=2, symbol=r"\Delta V"),
)  # fmt: skip
def order_volume(V, waste=0.08, step=Q(0.25, "yd3")):
    """Volume with its allowance, rounded up to the step in which concrete is sold.

    V: volume by the plan; waste: share (plain); step: step of sale. Returns a volume, never below
    the need. Source: common practice.
    """
    V_o = ceil(V * (1 + waste) / step) * step
    return V_o


__all__ = [
    "coverage", "dig_volume", "order_for_risk", "order_volume", "plan_volume",
    "prismoidal_volume", "ring_corner_volume", "ring_section_area", "ring_volume", "short_load",
    "short_odds", "slab_volume", "truck_loads", "truck_plan", "waste_volume",
]  # fmt: skip
