"""What is dug below the slab's underside: thickened edge, pads and strips, each place once."""

from __future__ import annotations

import itertools
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
import shapely

from calcbook.basis.formula import arg, cite, formula, procedure, result
from calcbook.basis.units import Q
from calcbook.plan.outline import Plan

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job
    from calcbook.plan.outline import Thickening

TOLERANCE = 1e-9  # of depth x greatest area, for each panel of the integral
_DEEPEST = 40  # halvings; far below what floating point can tell apart


@formula(
    "Section of a thickened edge below the slab",
    cite("geometry", "trapezoid"),
    result("ft2", "section below the slab's underside"),
    d=arg("in", "depth below the slab's underside", low=0, high=72),
    b=arg("in", "width at the bottom", low=0, high=120),
    slope=arg("1", "inner slope, run per rise", low=0, high=4),
)
def ring_section_area(d, b, slope=1.0):
    """Area of the trapezoid between the slab's underside and the bottom of a thickened edge.

    slope: run per rise of the inner side (plain). Source: geometry.

    >>> print(ring_section_area("13 in", "12 in", 1.0))
    1.67 foot ** 2
    """
    A_r = d * (b + slope * d / 2)
    return A_r


@formula(
    "Square of the edge's width, summed over its depth",
    cite("geometry", "integral of (b + slope (d - z))^2 dz from 0 to d"),
    result("ft3", "sum of the squared width over the depth"),
    d=arg("in", "depth below the slab's underside", low=0, high=72),
    b=arg("in", "width at the bottom", low=0, high=120),
    slope=arg("1", "inner slope, run per rise", low=0, high=4),
)
def ring_corner_volume(d, b, slope=1.0):
    """What a right-angled corner counts twice when sections are multiplied by outside length.

    d, b, slope: as for ``ring_section_area``. Source: geometry.
    """
    V_c = d * (b**2 + b * slope * d + (slope * d) ** 2 / 3)
    return V_c


@formula(
    "Volume of a thickened edge, alone",
    cite("geometry", "section x perimeter, less the corners"),
    result("yd3", "thickened edge below the slab"),
    P=arg("ft", "outside perimeter", above=0),
    A_r=arg("ft2", "section below the slab", low=0),
    V_c=arg("ft3", "what one corner counts twice", low=0),
    C=arg("1", "corners pointing out less corners pointing in", low=0, high=1000),
)
def ring_volume(P, A_r, V_c, C=4.0):
    """Closed form of the volume of a thickened edge along a whole outline, without pads.

    A_r: from ``ring_section_area``; V_c: from ``ring_corner_volume``; C: 4 for every outline of
    right angles, else ``offset.corner_sum``. Holds while no side of the outline is used up:
    opposite sides further apart than twice the greatest width. Source: geometry; a rectangle gives
    integral of L W - (L - 2w)(W - 2w).
    """
    V_ring = P * A_r - C * V_c
    return V_ring


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
def dig_volume(job: Job | Plan) -> Quantity:
    """Exact volume of thickened edge, pads and strips below the slab's underside.

    job: a Job, or a Plan. Returns a volume in yd3, relative error below 1e-8. Source: geometry.
    """
    plan = job if isinstance(job, Plan) else job.plan
    return Q(depth_integral(plan, 0.0, max(plan.depths, default=0.0)), "ft3").to("cubic_yard")


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
    return sum(_stretches(part, top, bottom) for part in plan.parts)


def _stretches(plan: Plan, top: float, bottom: float) -> float:
    """The integral, from each depth where something ends to the next."""
    bottom = min(bottom, max(plan.depths, default=top))
    ends = [top, *(d for d in plan.depths if top < d < bottom), bottom]
    return sum(_adaptive(plan, a, b) for a, b in itertools.pairwise(ends) if b > a)


def _adaptive(plan: Plan, top: float, bottom: float) -> float:
    """Prismoidal rule over one stretch without an end of anything, halved where it is not exact."""
    # a hair inside, as an area jumps where something ends
    inside = np.array([top, bottom]) + np.array([1, -1]) * 1e-10 * (bottom - top)

    def area(z: NDArray) -> NDArray:
        return plan.dug_areas(np.clip(z, *inside))

    nodes = np.linspace(top, bottom, 5)
    areas = area(nodes)
    panels = np.stack([areas[0:-2:2], areas[1:-1:2], areas[2::2]])
    middles, half = nodes[1:-1:2], nodes[1] - nodes[0]
    allowed = TOLERANCE * max(areas.max(), 1e-12) * (bottom - top)
    total = 0.0
    for _ in range(_DEEPEST):
        quarters = area(np.concatenate([middles - half / 2, middles + half / 2]))
        left, right = np.split(quarters, 2)
        first, middle, last = panels
        whole = prismoidal_volume.body(first, middle, last, 2 * half)
        halves = prismoidal_volume.body(np.array([first, middle]), np.array([left, right]),
                                        np.array([middle, last]), half).sum(axis=0)  # fmt: skip
        again = np.abs(whole - halves) > allowed
        total += halves[~again].sum()
        if not again.any():
            return float(total)
        panels = np.concatenate(
            [np.stack([first, left, middle])[:, again], np.stack([middle, right, last])[:, again]],
            axis=1,
        )
        middles = np.concatenate([(middles - half / 2)[again], (middles + half / 2)[again]])
        half /= 2
    return float(total + halves[again].sum())
