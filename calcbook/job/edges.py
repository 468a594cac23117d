"""The edge of each side of a job's slab, and where its job file says so."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from calcbook.basis.units import Q
from calcbook.job.schema.edges import AGAINST
from calcbook.job.wall_lines import is_clockwise, side_points

if TYPE_CHECKING:
    from collections.abc import Callable

    from calcbook.basis.units import Quantity
    from calcbook.plan.edge import EdgeRing


@dataclass(frozen=True)
class EdgeOf:
    """The edge of one side: depth 0 where there is none; frost: its frost depth, None where not known.

    against: whether it stands against a wall; place: says where the job file gives one of its values.
    """

    depth: Quantity
    width: Quantity
    slope: Quantity
    frost: Quantity | None
    against: bool
    own: int | None
    given: frozenset[str] = frozenset()

    def place(self, key: str) -> str:
        """Where the job file gives depth, width, slope or frost_depth of this side."""
        if key in self.given:
            return f"edges.{self.own}.{key}"
        return "soil.frost_depth" if key == "frost_depth" else f"edge.{key}"

    @property
    def spec(self) -> tuple[Any, ...]:
        """What tells it from the edges of other sides, bare numbers."""
        frost = None if self.frost is None else round(self.frost.m_as("inch"), 6)
        sizes = (
            round(q.m_as(u), 6)
            for q, u in ((self.depth, "inch"), (self.width, "inch"), (self.slope, ""))
        )
        return (*sizes, frost, self.against)


def edge_of(job: Any, side: int | None) -> EdgeOf:
    """The EdgeOf a side (from 1); of [edge] itself where side is None.

    job: a Job or JobFile.
    """
    own = next((n for n, entry in enumerate(job.edges) if entry.side == side), None)
    base, frost = job.edge, job.soil.frost_depth
    if own is None:
        return EdgeOf(base.depth, base.width, base.slope, frost, False, None)
    entry = job.edges[own]
    found = {key: getattr(entry, key) for key in ("depth", "width", "slope", "frost_depth")}
    given = frozenset(key for key, value in found.items() if value is not None)
    depth, width, slope = (getattr(base, key) if found[key] is None else found[key]
                           for key in ("depth", "width", "slope"))  # fmt: skip
    against = entry.kind == AGAINST
    return EdgeOf(Q(0, "in") if against else depth, width, slope,
                  frost if entry.frost_depth is None else entry.frost_depth, against, own, given)  # fmt: skip


def edges_of(job: Any) -> list[EdgeOf]:
    """The edge of every side, in the order of the job file's points."""
    return [edge_of(job, side) for side in range(1, len(side_points(job.slab)) + 1)]


def sides_alike(job: Any) -> list[tuple[list[int], EdgeOf]]:
    """Sides with the same edge together: (their numbers, the edge), in the order of the first of each."""
    found: dict[tuple[Any, ...], tuple[list[int], EdgeOf]] = {}
    for side, edge in enumerate(edges_of(job), 1):
        found.setdefault(edge.spec, ([], edge))[0].append(side)
    return list(found.values())


def main_edge(job: Any) -> EdgeOf:
    """The deepest edge of a job, which is drawn where one section stands for all."""
    return max(edges_of(job), key=lambda e: (e.depth, e.width)) if job.edges else edge_of(job, None)


def stands_on_edge(job: Any, wall: Any) -> bool:
    """True for a wall on a side that has a thickened edge."""
    return wall.place == "edge" and edge_of(job, wall.side).depth.magnitude > 0


def side_lengths(job: Any) -> list[float]:
    """Lengths of the sides in feet, in the order of the job file."""
    points = side_points(job.slab)
    return [math.dist(p, q) for p, q in zip(points, [*points[1:], points[0]], strict=True)]


def in_plan_order(job: Any, values: list[Any]) -> list[Any]:
    """What belongs to each side of the job file, in the order of the plan's sides: the plan goes round
    counterclockwise from the same first point."""
    return values[::-1] if is_clockwise(side_points(job.slab)) else values


def sides_text(sides: list[int]) -> str:
    """Numbers of sides in words: ``side 3``, ``sides 1, 2 and 5``."""
    if len(sides) == 1:
        return f"side {sides[0]}"
    return f"sides {', '.join(map(str, sides[:-1]))} and {sides[-1]}"


def ring_of(edge: EdgeOf, make: Callable[..., EdgeRing]) -> EdgeRing:
    """An edge as the plan holds it, in plain feet."""
    return make(edge.depth.m_as("foot"), edge.width.m_as("foot"), edge.slope.m_as(""))
