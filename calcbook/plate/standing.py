"""What stands on one slab of a job, as loads on its plate. They count downward, at service level."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from shapely import Point
from shapely.ops import nearest_points

from calcbook.job.wall_lines import place_on_wall
from calcbook.loads.closing import LIFT
from calcbook.loads.path import on_plate, upward
from calcbook.loads.wall import Loads
from calcbook.plate.as_drawn import in_one
from calcbook.plate.model import Line, Load, Plate, print_at

if TYPE_CHECKING:
    from collections.abc import Iterable

    from shapely.geometry import Polygon

    from calcbook.job.file import Job
    from calcbook.job.schema.pads import Pad
    from calcbook.loads.from_job import Brought, LoadPath
    from calcbook.loads.path import Factors

_JAMB = 3.0  # in.: two studs, where a header comes down
_NEAR = 1e-6  # ft


@dataclass(frozen=True)
class Standing:
    """What of a job stands on its slab with a known place and load: its walls, and the numbers of its pads that are
    one piece with the slab and of its posts."""

    job: Job
    walls: tuple[Brought, ...]
    pads: tuple[int, ...]
    posts: tuple[int, ...]

    def loads(self, row: Factors, plate: Plate) -> list[Load]:
        """The loads of a combination."""
        job = self.job
        found = [load for b in self.walls for load in _of_wall(job, b, row, plate)]
        found += [load for n in self.pads for load in _of_pad(job.pads[n], row, _depth(job, n))]
        if row["L"] or not row["W"]:
            found += [leg for n in self.posts for leg in _of_post(job, n, plate)]
        return found

    @property
    def sums(self) -> tuple[float, float, float]:
        """All dead, floor and roof load, lbf: they tell which combination is the heaviest."""
        found = np.zeros(3)
        for b in self.walls:
            top = b.model.top
            found += np.array([top.D + b.model.own, top.L, top.S]) * b.model.length
            found += sum(
                (np.array([p.loads.D, p.loads.L, p.loads.S]) for p in b.model.points), np.zeros(3)
            )
        for post in (p for n in self.pads for p in self.job.pads[n].standing):
            found += [0 if v is None else v.m_as("lbf") for v in (post.dead, post.live, post.roof)]
        return tuple(float(v) for v in found)  # type: ignore[return-value]


def standing_on(job: Job, path: LoadPath, told: list[str]) -> Standing:
    """What stands on the slab of a job. path: what its walls bring; told: takes in words what is not in it."""
    return Standing(
        job, tuple(_walls_with_place(job, path, told)), tuple(_pads_in_one(job, told)),
        tuple(_posts_with_place(job, told)),
    )  # fmt: skip


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
    place = place_on_wall(job.slab, wall, job.system)
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


def _on_slab(slab: Polygon, at: tuple[float, float]) -> tuple[float, float]:
    inside = slab.buffer(-0.25)
    if inside.contains(Point(at)):
        return at
    near = nearest_points(inside, Point(at))[0]
    return near.x, near.y


def _under(plate: Plate, at: tuple[float, float]) -> float:
    """Thickness of the concrete at a place, in."""
    thick = [(r.shape, r.thickness) for r in plate.regions]
    inside = [h for shape, h in (*plate.beside, *thick) if shape.intersects(Point(at))]
    return max(inside, default=plate.thickness)


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


def _of_post(job: Job, n: int, plate: Plate) -> Iterable[Load]:
    """Every leg of a post whose place is given."""
    post = job.posts[n]
    area = post.plate_length.m_as("inch") * post.plate_width.m_as("inch")
    for dx, dy in post.legs_at:
        at = post.x.m_as("foot") + dx / 12, post.y.m_as("foot") + dy / 12
        yield print_at(*at, post.load.m_as("lbf"), area, _under(plate, at), post.name)
