"""The concrete of one slab as its plan has it: openings, thick places, sawn joints."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely import Point, affinity

from calcbook.joints.layout import isolation_boxes
from calcbook.plan.offset import moved_in
from calcbook.plate.model import Joint, Region, joint_spring

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from shapely import LineString
    from shapely.geometry import Polygon

    from calcbook.job.file import Job
    from calcbook.joints.layout import Joints
    from calcbook.plan.outline import Plan, Thickening

BY_DEFLECTION = (
    3.0  # times the share of edge stress that a joint takes off: 25 % of it is 75 % by deflection
)
SLOPE_STEPS = 4  # of a sloping side: the stress beside it comes out about 5 % high (8 steps: 4 % less)
_NEAR = 1e-6  # ft
EDGE_NAME = "thickened edge"


def sawn_joints(job: Job, joints: Joints, k: float, reach: float) -> tuple[Joint, ...]:
    """The joints that are cut into a slab. joints: as planned; k: pci; reach: of a load, in."""
    share = BY_DEFLECTION * job.vehicle.transfer.m_as("")
    spring = joint_spring(share, k, reach) if share > 0 else 0.0
    boxes = [
        (box, 2.0 if in_one(job.plan, n, isolated=True) else 0.5)
        for n, box in enumerate(isolation_boxes(job))
    ]
    return tuple(
        Joint(_through(cut, boxes), spring, f"joint {n}") for n, cut in enumerate(joints.layout.cuts, 1)
    )


def thick_and_open(job: Job) -> tuple[tuple[Polygon, ...], tuple[Region, ...]]:
    """The openings of a slab, those about posts that stand apart from it too, and where it is thick."""
    plan, boxes = job.plan, isolation_boxes(job)
    alone = [_upright(box) for n, box in enumerate(boxes) if not in_one(plan, n, isolated=True)]
    t = job.slab.thickness.m_as("inch")
    return (*(o.shape for o in plan.openings), *alone), tuple(_regions(plan, t, job.joints.isolate))


def _regions(plan: Plan, t: float, isolate: bool) -> Iterable[Region]:
    if plan.edge is not None:
        for edge, parts in plan.edge.kinds(plan.outline, _levels()):
            for share, ring in parts:
                for part in shapely.get_parts(ring):  # a side without an edge parts it
                    yield Region(part, t + 12 * edge.depth * share, EDGE_NAME)
    for n, thickening in enumerate(plan.thickenings):
        if thickening.kind == "strip" or in_one(plan, n, isolate):
            for z, share in _levels() if thickening.slope else _levels()[:1]:
                shape = _widened(thickening, plan, z)
                yield Region(shape, t + 12 * thickening.depth * share, thickening.name)


def _levels() -> list[tuple[float, float]]:
    """The bottom of a thickening, then the steps of its sloping side: each as far as the side goes at a share
    of the depth, and its own share of the depth."""
    steps = [(1 - (n + 1) / SLOPE_STEPS, 1 - (n + 0.5) / SLOPE_STEPS) for n in range(SLOPE_STEPS)]
    return [(1.0, 1.0), *steps]


def _widened(thickening: Thickening, plan: Plan, z: float) -> Polygon:
    aside = thickening.slope * thickening.depth * (1 - z)
    shape = moved_in(thickening.bottom, -aside)[0] if aside else thickening.bottom
    return shape.intersection(plan.outline)


def in_one(plan: Plan, n: int, isolated: bool) -> bool:
    """Whether a pad is one piece with the slab: no isolation joint around its post, or cast with the edge."""
    if not isolated:
        return True
    bottom = plan.thickenings[n].bottom
    if plan.edge is None:
        return bool(bottom.intersects(plan.outline.exterior))
    return bool(bottom.intersection(plan.edge.bottom(plan.outline)).area > _NEAR)


def _upright(box: Polygon) -> Polygon:
    """A box turned on its corner as one along the plan, of the same size: the mesh follows it better."""
    return affinity.rotate(box, 45)


def _through(
    cut: LineString, boxes: Sequence[tuple[Polygon, float]]
) -> tuple[tuple[float, float], ...]:
    """A joint that ends at a post's box goes on into it, by so many of the box's widths: up to the middle of one
    that is an opening, through one that is cast with the edge."""
    points = [np.array(p) for p in cut.coords]
    for end, beside in ((0, 1), (-1, -2)):
        for box, far in boxes:
            if box.distance(Point(points[end])) < 1e-3:
                way = points[end] - points[beside]
                points[end] = points[end] + way / np.hypot(*way) * far * math.sqrt(2 * box.area)
                break
    return tuple((float(x), float(y)) for x, y in points)
