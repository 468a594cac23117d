"""The plate of a job: its plan as concrete on springs, and what the building brings as loads on it.

Loads count downward, at service level: they are held against the stress at which concrete cracks.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from shapely import LineString, Point, affinity
from shapely.ops import nearest_points

from calcbook.job.wall_lines import wall_line
from calcbook.joints.layout import isolation_boxes
from calcbook.loads.closing import LIFT, combination
from calcbook.loads.combinations import governing_row
from calcbook.loads.path import on_plate, upward
from calcbook.loads.wall import Loads
from calcbook.plan.offset import moved_in
from calcbook.plate.model import (
    Case,
    Joint,
    Line,
    Load,
    Patch,
    Plate,
    Region,
    joint_spring,
    print_at,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from shapely.geometry import Polygon

    from calcbook.job.file import Job
    from calcbook.job.schema.pads import Pad
    from calcbook.job.schema.walls import Wall
    from calcbook.joints.layout import Joints
    from calcbook.loads.from_job import Brought, LoadPath
    from calcbook.loads.path import Factors
    from calcbook.plan.outline import Plan, Thickening

BY_DEFLECTION = (
    3.0  # times the share of edge stress that a joint takes off: 25 % of it is 75 % by deflection
)
SLOPE_STEPS = 4  # of a sloping side: the stress beside it comes out about 5 % high (8 steps: 4 % less)
_JAMB = 3.0  # in.: two studs, where a header comes down
_NEAR = 1e-6  # ft


@dataclass(frozen=True)
class Somewhere:
    """A post of which only the kind of place is known ("inside", "joint", "edge", "corner"). force: lbf; area:
    of its base plate, in.2."""

    name: str
    force: float
    area: float
    place: str


@dataclass(frozen=True)
class PlateJob:
    """What is worked out of a job.

    plate; down, lift: cases with the heaviest load and with the greatest uplift (None where nothing
    acts so); steady: what stands there always; told: what is not in it or not as drawn, in words; somewhere: posts
    without a place.
    """

    plate: Plate
    steady: Case
    down: Case | None
    lift: Case | None
    told: tuple[str, ...]
    somewhere: tuple[Somewhere, ...] = ()

    @property
    def loaded(self) -> bool:
        """Whether anything stands on the slab or lifts it."""
        return bool(self.down or self.lift or self.somewhere)


def plate_job(job: Job, path: LoadPath, joints: Joints, k: float, E: float, weight: float) -> PlateJob:
    """The PlateJob of a job. path: what its walls bring; joints: as planned; k: pci; E: psi; weight: pcf."""
    plate = plate_of_plan(job, joints, k, E, weight)
    told: list[str] = []
    walls = _walls_with_place(job, path, told)
    pads = _pads_in_one(job, told)
    posts = _posts_with_place(job, told)
    somewhere = tuple(_somewhere(job, told))
    if job.plan.edge is not None or job.plan.thickenings:
        told.append(
            "A sloping side of a thickening is taken as four steps; more of them would lower the stress beside it a little."
        )

    def case(name: str, row: Factors) -> Case:
        loads = [load for b in walls for load in _of_wall(job, b, row, plate)]
        loads += [load for n in pads for load in _of_pad(job.pads[n], row, _depth(job, n))]
        if row["L"] or not row["W"]:
            loads += [leg for n in posts for leg in _of_post(job, n, plate)]
        return Case(name, tuple(loads), own_weight=row["D"])

    sums = _sums(job, walls, pads)
    heavy = governing_row("allowable", *sums)
    down, lift = case(heavy["name"], heavy), case(LIFT, combination(LIFT))
    up = any(_lifts(load) for load in lift.loads)
    return PlateJob(plate, case("D", combination("D")), down if down.loads else None, lift if up else None,
                    tuple(told), somewhere)  # fmt: skip


def _lifts(load: Load) -> bool:
    return (load.force if isinstance(load, Patch) else load.load) < 0


def _sums(job: Job, walls: Sequence[Brought], pads: Sequence[int]) -> tuple[float, float, float]:
    """All dead, floor and roof load on the slab, lbf: they tell which combination is the heaviest."""
    found = np.zeros(3)
    for b in walls:
        top = b.model.top
        found += np.array([top.D + b.model.own, top.L, top.S]) * b.model.length
        found += sum((np.array([p.loads.D, p.loads.L, p.loads.S]) for p in b.model.points), np.zeros(3))
    for post in (p for n in pads for p in job.pads[n].standing):
        found += [0 if v is None else v.m_as("lbf") for v in (post.dead, post.live, post.roof)]
    return tuple(float(v) for v in found)  # type: ignore[return-value]


# --- the plate ---------------------------------------------------------------------------------


def plate_of_plan(job: Job, joints: Joints, k: float, E: float, weight: float) -> Plate:
    """The concrete of a plan on its ground. k: pci; E: psi; weight: pcf."""
    plan, t = job.plan, job.slab.thickness.m_as("inch")
    alone = [_upright(box) for box, n in _boxes(job) if not in_one(plan, n, isolated=True)]
    bare = Plate((plan.outline,), t, k, E, weight=weight)
    share = BY_DEFLECTION * job.vehicle.transfer.m_as("")
    spring = joint_spring(share, k, bare.reach) if share > 0 else 0.0
    cuts = joints.layout.cuts if joints.layout is not None else ()
    boxes = [(box, 2.0 if in_one(plan, n, isolated=True) else 0.5) for box, n in _boxes(job)]
    return Plate(
        (plan.outline,), t, k, E, weight=weight,
        openings=(*(o.shape for o in plan.openings), *alone),
        regions=tuple(_regions(plan, t, job.joints.isolate)),
        joints=tuple(Joint(_through(cut, boxes), spring, f"joint {n}") for n, cut in enumerate(cuts, 1)),
    )  # fmt: skip


def _regions(plan: Plan, t: float, isolate: bool) -> Iterable[Region]:
    if plan.edge is not None:
        for edge, parts in plan.edge.kinds(plan.outline, _levels()):
            for share, ring in parts:
                yield Region(ring, t + 12 * edge.depth * share, "thickened edge")
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


def _boxes(job: Job) -> list[tuple[Polygon, int]]:
    return [(box, n) for n, box in enumerate(isolation_boxes(job))]


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


# --- what stands on it -------------------------------------------------------------------------


def _walls_with_place(job: Job, path: LoadPath, told: list[str]) -> list[Brought]:
    found, nowhere, unknown = [], [], []
    for b in path.walls:
        wall = job.walls[b.index]
        if wall.side is None and wall.x1 is None:
            nowhere.append(b.name)
        elif not b.dead_known:
            unknown.append(b.name)
        else:
            found.append(b)
    if nowhere:
        told.append(
            f"Not in it, as the job does not say where it stands (x1, y1, x2, y2): {', '.join(nowhere)}."
        )
    if unknown:
        told.append(f"Not in it, as the dead load is not given: {', '.join(unknown)}.")
    return found


def _pads_in_one(job: Job, told: list[str]) -> list[int]:
    known = [n for n, pad in enumerate(job.pads) if all(p.dead is not None for p in pad.standing)]
    lacking = [pad.name for n, pad in enumerate(job.pads) if n not in known]
    if lacking:
        told.append(f"Not in it, as the dead load is not given: {', '.join(lacking)}.")
    isolate = job.joints.isolate
    alone = [job.pads[n].name for n in known if not in_one(job.plan, n, isolate)]
    if alone:
        told.append(
            f"{', '.join(alone)}: an isolation joint cuts the slab off from post and pad, so the load goes to the "
            "pad alone (chapter on pads), and the plate has an opening there."
        )
    return [n for n in known if in_one(job.plan, n, isolate)]


def _posts_with_place(job: Job, told: list[str]) -> list[int]:
    found = [n for n, post in enumerate(job.posts) if post.x is not None and post.load is not None]
    lacking = [post.name for post in job.posts if post.load is None]
    if lacking:
        told.append(f"Not in it, as its load is not given (posts.load): {', '.join(lacking)}.")
    return found


def _of_wall(job: Job, b: Brought, row: Factors, plate: Plate) -> Iterable[Load]:
    """A wall at its true line: its plate's middle."""
    wall = job.walls[b.index]
    place = _place_of(job, wall)
    on = on_plate(b.model, row)
    for start, end, w in on.lines:
        if abs(w) > _NEAR:
            yield Line((place(start), place(end)), -w, b.name)
    area = wall.plate_width.m_as("inch") * _JAMB
    slab = job.plan.slab
    for p in on.points:
        if abs(p.load) > _NEAR:
            at = _on_slab(slab, place(p.at))
            yield print_at(*at, -p.load, area, _under(plate, at), f"{b.name}, {p.name}")


def _place_of(job: Job, wall: Wall) -> Callable[[float], tuple[float, float]]:
    """Function from feet along a wall to (x, y) on its line."""
    if wall.side is not None:
        line = wall_line(job.slab, wall, job.system)
        aside = (wall.inset + wall.plate_width / 2).m_as("foot")
        return lambda at: line.at(at, aside)
    ends = (wall.x1, wall.y1, wall.x2, wall.y2)
    x1, y1, x2, y2 = (v.m_as("foot") for v in ends if v is not None)
    run = math.hypot(x2 - x1, y2 - y1)
    return lambda at: (x1 + (x2 - x1) * at / run, y1 + (y2 - y1) * at / run)


def _on_slab(slab: Polygon, at: tuple[float, float]) -> tuple[float, float]:
    inside = slab.buffer(-0.25)
    if inside.contains(Point(at)):
        return at
    near = nearest_points(inside, Point(at))[0]
    return near.x, near.y


def _under(plate: Plate, at: tuple[float, float]) -> float:
    """Thickness of the concrete at a place, in."""
    inside = [r.thickness for r in plate.regions if r.shape.intersects(Point(at))]
    return max([plate.thickness, *inside])


def _depth(job: Job, n: int) -> float:
    return job.slab.thickness.m_as("inch") + 12 * job.plan.thickenings[n].depth


def _of_pad(pad: Pad, row: Factors, h: float) -> Iterable[Load]:
    """The posts on a pad; an uplift is a net value at service level, and acts where wind does."""
    for post in pad.standing:
        D, L, S = ((0.0 if v is None else v.m_as("lbf")) for v in (post.dead, post.live, post.roof))
        up = 0.0 if post.uplift is None else post.uplift.m_as("lbf")
        force = -up if row["name"] == LIFT and up else -upward(Loads(D, L, S), row)
        if force:
            area = post.post_length.m_as("inch") * post.post_width.m_as("inch")
            x, y = (
                (a + off).m_as("foot") for a, off in ((pad.x, post.offset_x), (pad.y, post.offset_y))
            )
            yield print_at(x, y, force, area, h, post.name)


def _somewhere(job: Job, told: list[str]) -> Iterable[Somewhere]:
    """Posts whose load is known and whose place is not."""
    for post in job.posts:
        if post.load is None or post.x is not None:
            continue
        told.append(
            f"{post.name}: where it stands is not given (posts.x, y), so it is tried about every 3 ft at "
            f"{'places' if post.place == 'inside' else 'each'} {post.place}."
            + (
                " Of its legs one stands there alone: give x and y for all of them."
                if len(post.legs_at) > 1
                else ""
            )
        )
        area = post.plate_length.m_as("inch") * post.plate_width.m_as("inch")
        yield Somewhere(post.name, post.load.m_as("lbf"), area, post.place)


def _of_post(job: Job, n: int, plate: Plate) -> Iterable[Load]:
    """Every leg of a post whose place is given."""
    post = job.posts[n]
    area = post.plate_length.m_as("inch") * post.plate_width.m_as("inch")
    for dx, dy in post.legs_at:
        at = post.x.m_as("foot") + dx / 12, post.y.m_as("foot") + dy / 12
        yield print_at(*at, post.load.m_as("lbf"), area, _under(plate, at), post.name)
