"""What is dug below the slab's underside: thickened edge, pads and strips, each place once."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely

from calcbook.basis.formula import arg, cite, formula, procedure, result
from calcbook.basis.units import Q
from calcbook.plan.outline import Plan

if TYPE_CHECKING:
    from collections.abc import Iterator

    from calcbook.basis.units import Quantity
    from calcbook.plan.outline import Thickening


@formula(
    "Prismoidal rule",
    cite("geometry", "exact where the section is a quadratic of the depth"),
    result("yd3", "volume"),
    A_1=arg("ft2", "area at one end", low=0),
    A_m=arg("ft2", "area halfway", low=0),
    A_2=arg("ft2", "area at the other end", low=0),
    h=arg("in", "distance between the ends", low=0),
)
def prismoidal_volume(A_1, A_m, A_2, h):
    """Volume between two parallel ends from three sections.

    Exact for straight sloping sides. Source: geometry.
    """
    V = h / 6 * (A_1 + 4 * A_m + A_2)
    return V


@procedure(
    "Volume dug below the slab",
    cite("geometry", "integral of the dug area over the depth"),
    "At each depth the dug area is the union of the edge's ring and the pads' and strips' sections, "
    "inside the outline and without the openings, so that corners and overlaps count once. Between "
    "the depths where sides meet or end, that area is a quadratic of the depth, which the prismoidal "
    "rule sums exactly; the depth is halved until the rule and its two halves agree.",
    returns=result("yd3", "concrete below the slab's underside"),
)
def dig_volume(job: Any) -> Quantity:
    """Exact volume of thickened edge, pads and strips below the slab's underside.

    job: a Plan, or a Job, which has one. Returns a volume in yd3, relative error below 1e-8. Source: geometry.
    """
    plan = job if isinstance(job, Plan) else job.plan
    return Q(depth_integral(plan, 0.0, max(plan.depths, default=0.0)), "ft3").to("cubic_yard")


def edge_volume(plan: Plan) -> Quantity:
    """Volume of the thickened edge below the slab's underside, its corners once, openings and what pads and strips share
    with it taken out; in yd3."""
    pads = sum((volume_alone(plan, t) for t in plan.thickenings), Q(0, "yd3"))
    return max(dig_volume(plan) - pads, Q(0, "yd3"))


@dataclass(frozen=True)
class Dug:
    """What is dug below a slab: the whole, and each of the plan's thickenings alone; where the edge differs from
    side to side, the sides (from 0, in the plan's order) that are alike with their edge alone."""

    whole: Quantity
    alone: tuple[Quantity, ...]
    sides: tuple[tuple[tuple[int, ...], Quantity], ...] = ()


def dug_of(plan: Plan) -> Dug:
    """The Dug of a plan."""
    alone = tuple(volume_alone(plan, t) for t in plan.thickenings)
    return Dug(dig_volume(plan), alone, tuple(_sides_alone(plan)))


def _sides_alone(plan: Plan) -> Iterator[tuple[tuple[int, ...], Quantity]]:
    """The edge of sides that are alike, alone inside the outline, openings not taken out."""
    sides = plan.edge.sides if plan.edge else ()
    for edge in dict.fromkeys(side for side in sides if side.depth):
        there = tuple(k for k, side in enumerate(sides) if side == edge)
        only = tuple(side if side == edge else replace(side, depth=0.0) for side in sides)
        yield there, dig_volume(Plan(plan.outline, edge=replace(edge, sides=only), arcs=plan.arcs))


def volume_alone(plan: Plan, thickening: Thickening) -> Quantity:
    """Volume of one pad or strip alone, inside the outline, by the prismoidal rule; in yd3.

    plan: a Plan; thickening: one of its Thickenings. Exact where the outline cuts it in one way
    over the whole depth.
    """
    z = np.array([0.0, 0.5, 1 - 1e-12]) * thickening.depth
    areas = shapely.area(shapely.intersection(thickening.sections(z), plan.outline))
    return prismoidal_volume(*(Q(float(a), "ft2") for a in areas), Q(thickening.depth, "ft"))


def depth_integral(plan: Plan, top: float, bottom: float) -> float:
    """Integral of the dug area between two depths below the slab's underside.

    plan: a Plan; top, bottom: depths in plain feet. Returns cubic feet, 0 where bottom is above
    top.
    """
    heights, areas = plan.digging.stretches.between(top, bottom)
    return float(prismoidal_volume.body(*areas, heights).sum())
