"""Slabs beside one, as far as a doweled joint ties them to it.

A doweled joint bends freely and passes shear, so what lies far beyond it counts for nothing: of each slab
beside only a strip along the joint is in the plate.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import shapely
from shapely import LineString, Polygon

from calcbook.basis.showing import show_length
from calcbook.basis.units import Q
from calcbook.job.schema.between import DOWELED, KEYED
from calcbook.plate.as_drawn import thick_and_open
from calcbook.plate.model import Joint, Plate, Region, joint_spring

if TYPE_CHECKING:
    from collections.abc import Iterator

    from calcbook.job.file import Job
    from calcbook.job.together import Contact

EFFICIENCY = 0.75  # of a doweled joint, by deflection: the 25 % off a free edge's stress that dowels are counted with
FAR = 5.0  # of the reach of a load: as far from the joint as a slab beside is followed
_HAIR, _TOUCHING = 1e-4, 1e-6  # ft
_LEAST = 0.1  # ft2


@dataclass(frozen=True)
class Neighbor:
    """A slab beside. job: its Job; contact: where it touches; part: what of it is in the plate, ft; far: how far
    from the joint that goes, ft; openings, regions: of that part; thickness: of it, in."""

    job: Job
    contact: Contact
    part: Polygon
    far: float
    openings: tuple[Polygon, ...]
    regions: tuple[Region, ...]

    @property
    def thickness(self) -> float:
        """Of the slab, in."""
        return float(self.job.slab.thickness.m_as("inch"))

    def joints(self, k: float, reach: float) -> Iterator[Joint]:
        """The joint to it, stretch by stretch. k: pci; reach: of a load, in."""
        spring = joint_spring(EFFICIENCY, k, reach)
        for line in self.contact.lines:
            yield Joint(line, spring, f"joint to {self.job.slab.called}", sawn=False)


def neighbors_of(job: Job, k: float, E: float) -> tuple[Neighbor, ...]:
    """The slabs that dowels tie to a slab. k: pci; E: psi."""
    tied = [n for n, contact in enumerate(job.contacts) if contact.joint.kind == DOWELED]
    if not tied:
        return ()
    far = FAR * Plate((job.plan.outline,), job.slab.thickness.m_as("inch"), k, E).reach / 12
    slabs = job.beside
    return tuple(_neighbor(job, slabs[n], job.contacts[n], far) for n in tied)


def _neighbor(job: Job, other: Job, contact: Contact, far: float) -> Neighbor:
    near = shapely.union_all([_around(line, far) for line in contact.lines])
    own, outline = job.plan.outline, other.plan.outline
    gap = own.distance(outline)
    if gap > _TOUCHING:  # the width of the joint is in neither slab: here it is closed
        strips = [LineString(line).buffer(gap + _HAIR, cap_style="flat") for line in contact.lines]
        outline = shapely.union_all([outline, *strips]).difference(own)
    part = max(shapely.get_parts(outline.intersection(near)), key=lambda p: p.area)
    openings, regions = thick_and_open(other)
    within = [(r, shape) for r in regions for shape in _solid(r.shape.intersection(part))]
    return Neighbor(
        other, contact, part, far,
        tuple(o for o in openings if o.intersection(part).area > _HAIR),
        tuple(Region(shape, r.thickness, f"{other.slab.called}, {r.name}") for r, shape in within),
    )  # fmt: skip


def _around(line: tuple[tuple[float, float], ...], far: float) -> Polygon:
    x0, y0, x1, y1 = LineString(line).bounds
    return shapely.box(x0 - far, y0 - far, x1 + far, y1 + far)


def _solid(shape: shapely.Geometry) -> list[Polygon]:
    return [p for p in shapely.get_parts(shape) if isinstance(p, Polygon) and p.area > _LEAST / 10]


def told_of_beside(job: Job, neighbors: tuple[Neighbor, ...]) -> Iterator[str]:
    """What of the slabs beside is in the plate, and what is not, in words."""
    if neighbors:
        names = ", ".join(one.job.slab.called for one in neighbors)
        far = show_length(Q(round(neighbors[0].far), "ft"), job.system)
        yield (
            f"Tied to it by dowels and in it as far as {far} from the joint: {names}, with what stands there. The joint "
            f"bends freely and passes {100 * EFFICIENCY:.0f} % by deflection (25 % off a free edge's stress; ACI 360R-10, "
            "from memory), on soil and of concrete as here. Its own stresses are those of its own chapter; its sawn "
            "joints and what lifts it are left out here, and it holds nothing down."
        )
    kinds = [(c.other, c.joint.kind) for c in job.contacts if c.joint.kind != DOWELED]
    if keyed := [name for name, kind in kinds if kind == KEYED]:
        yield (
            f"Not in it, behind a keyed joint: {', '.join(keyed)}. A key passes no load once its joint opens, so both "
            "sides are free edges, which is the worse case."
        )
    if alone := [name for name, kind in kinds if kind != KEYED]:
        yield f"Not in it, behind an isolation joint, which passes no load: {', '.join(alone)}."
