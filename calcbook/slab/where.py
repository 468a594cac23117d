"""Where a post on the bare slab truly stands: a joint, an edge or a corner so near that the slab bends there as at one.

By its coordinates; the place that the job names counts as well, and the hardest of all governs.
"""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING, Any

import shapely
from shapely import MultiPoint, Point, Polygon

from calcbook.basis.formula import cite
from calcbook.basis.units import number_in
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


def governing_place(
    calc: Calculation, job: Job, index: int, load: dict[str, Any], reach: Quantity,
    parted: tuple[Sequence[LineString], Sequence[Polygon]],
) -> str:  # fmt: skip
    """The place named for a post, or one that it stands so near to by its coordinates that it bends the slab more.

    load: what the formulas take; reach: how near that is; parted: the joints, and the boxes around posts.
    """
    post = job.posts[index]
    stresses = by_place(job, load)
    at = max(
        [post.place, *near_places(job, _legs(job, index), reach, *parted)], key=lambda p: stresses[p]
    )
    if at != post.place:
        calc.given(job, f"posts.{index}.x", "x", f"{post.name}, along x")
        calc.given(job, f"posts.{index}.y", "y", f"{post.name}, along y")
        calc.finding(
            f"{post.name} is named as standing {AT[post.place]}; by its coordinates a leg of it stands within this of "
            f"a place that is harder, so it counts as {AT[at]}.", "l + a", reach, "in", CLAUSE, label="reach of edges and joints",
        )  # fmt: skip
    return at


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
) -> list[str]:  # fmt: skip
    """Which of "joint", "edge" and "corner" lies within reach of any of some places, feet.

    reach: radius of relative stiffness and of the print together; cuts: the joints; boxes: around posts, edges as well.
    """
    if not places:
        return []
    legs, r = MultiPoint(places), number_in(reach, "ft")
    plan = job.plan
    edges = [
        plan.outline.exterior,
        *(o.shape.exterior for o in plan.openings),
        *(b.exterior for b in boxes),
    ]
    found = {
        "joint": any(legs.distance(cut) < r for cut in cuts),
        "edge": any(legs.distance(edge) < r for edge in edges),
        "corner": any(legs.distance(p) < r for p in (*_outer_corners(plan.outline), *_of_joints(cuts))),
    }
    return [place for place, near in found.items() if near]


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
