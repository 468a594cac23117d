"""Where a post on the bare slab truly stands: a joint, an edge or a corner so near that the slab bends there as at one.

By its coordinates; the place that the job names counts as well, and the hardest of all governs.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import shapely
from numpy import minimum
from shapely import MultiPoint, Point, Polygon

from calcbook.basis.formula import arg, cite, formula, result
from calcbook.basis.units import Q, number_in
from calcbook.slab.properties import joint_stress
from calcbook.slab.westergaard import corner_stress, edge_stress, interior_stress

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from shapely.geometry import LineString

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job

CLAUSE = cite(
    "TR34", "a load is inside a panel where its middle is more than l + a from an edge or joint"
)


AT = {
    "inside": "inside a panel",
    "joint": "at a joint",
    "edge": "at an edge",
    "corner": "at a corner",
}


@formula(
    "Stress under a load near an edge or joint",
    cite("geometry", "linear between a load at the edge and one inside, as in TR 34"),
    result("psi", "bending stress"),
    sigma_0=arg("psi", "stress at the edge, joint or corner", low=0),
    sigma_i=arg("psi", "stress inside a panel", low=0),
    x=arg("in", "from the load to the edge, joint or corner", low=0),
    r=arg("in", "reach of edges and joints, l + a", above=0),
)
def near_edge(sigma_0, sigma_i, x, r):
    """What a load bends the slab by that stands a little off an edge."""
    sigma = sigma_i + (sigma_0 - sigma_i) * (1 - minimum(x / r, 1))
    return sigma


@dataclass(frozen=True)
class Spot:
    """Where a load counts: kind of place, how far off it (a length), and the stress there."""

    place: str
    off: Quantity
    stress: Quantity


def hardest_spot(
    job: Job, load: dict[str, Any], reach: Quantity, named: str, near: dict[str, float]
) -> Spot:
    """The place named for a load, or one near it by which it bends the slab more.

    load: what the formulas take; reach: how near that is; near: as ``near_places`` has it.
    """
    stresses = by_place(job, load)
    found = [Spot(named, Q(0.0, "in"), stresses[named])]
    for place, feet in near.items():
        off = Q(12 * feet, "in")
        sigma = near_edge(sigma_0=stresses[place], sigma_i=stresses["inside"], x=off, r=reach)
        found.append(Spot(place, off, sigma))
    return max(found, key=lambda spot: number_in(spot.stress, "psi"))


def governing_spot(
    calc: Calculation, job: Job, index: int, load: dict[str, Any], reach: Quantity,
    parted: tuple[Sequence[LineString], Sequence[Polygon]],
) -> Spot:  # fmt: skip
    """The ``hardest_spot`` of a post. reach: as there; parted: the joints, and the boxes around posts."""
    post = job.posts[index]
    spot = hardest_spot(
        job, load, reach, post.place, near_places(job, _legs(job, index), reach, *parted)
    )
    if spot.place != post.place:
        calc.given(job, f"posts.{index}.x", "x", f"{post.name}, along x")
        calc.given(job, f"posts.{index}.y", "y", f"{post.name}, along y")
        calc.finding(
            f"{post.name} is named as standing {AT[post.place]}; by its coordinates a leg of it stands within this of "
            f"a place that is harder, so it counts as {AT[spot.place]}.", "r", reach, "in", CLAUSE, label="reach of edges and joints, l + a",
        )  # fmt: skip
    return spot


def by_place(job: Job, load: dict[str, Any]) -> dict[str, Quantity]:
    """What a load bends the slab by at each kind of place. load: what the formulas take."""
    edge = edge_stress(**load)
    return {
        "inside": interior_stress(**load), "joint": joint_stress(edge, job.vehicle.transfer), "edge": edge,
        "corner": corner_stress(**load),
    }  # fmt: skip


def _legs(job: Job, index: int) -> list[tuple[float, float]]:
    """Where the legs of a post stand, feet; none where its place is not given."""
    post = job.posts[index]
    if post.x is None or post.y is None:
        return []
    x, y = number_in(post.x, "ft"), number_in(post.y, "ft")
    return [(x + dx / 12, y + dy / 12) for dx, dy in post.legs_at]


def near_places(
    job: Job, places: Sequence[tuple[float, float]], reach: Quantity, cuts: Sequence[LineString],
    boxes: Sequence[Polygon],
) -> dict[str, float]:  # fmt: skip
    """How far, in feet, "joint", "edge" and "corner" are from the nearest of some places, feet; those within reach alone.

    reach: radius of relative stiffness and of the print together; cuts: the joints; boxes: around posts, edges as well.
    """
    if not places:
        return {}
    legs, plan = MultiPoint(places), job.plan
    edges = [o.shape.exterior for o in plan.openings] + [b.exterior for b in boxes]
    shapes = {
        "joint": cuts,
        "edge": [plan.outline.exterior, *edges],
        "corner": [*_outer_corners(plan.outline), *_of_joints(cuts)],
    }
    far = {
        place: min((legs.distance(shape) for shape in some), default=math.inf)
        for place, some in shapes.items()
    }
    return {place: feet for place, feet in far.items() if feet < number_in(reach, "ft")}


def _outer_corners(outline: Polygon) -> Iterator[Point]:
    """The corners of an outline that are no inner ones."""
    ring = shapely.geometry.polygon.orient(outline).exterior.coords[:-1]
    for (ax, ay), (bx, by), (cx, cy) in zip(
        ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1], strict=True
    ):
        if (bx - ax) * (cy - by) - (by - ay) * (cx - bx) > 1e-9:
            yield Point(bx, by)


def _of_joints(cuts: Sequence[LineString]) -> Iterator[shapely.Geometry]:
    """Where joints end or cross: corners of panels."""
    for cut in cuts:
        yield MultiPoint([cut.coords[0], cut.coords[-1]])
    for one, other in itertools.combinations(cuts, 2):
        if one.intersects(other):
            yield one.intersection(other)
