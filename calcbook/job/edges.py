"""The edge of each side of a job's slab, and where its job file says so."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from calcbook.basis.units import Q, number_in
from calcbook.job.corners import ring_of_corners
from calcbook.job.schema.edges import AGAINST
from calcbook.job.wall_lines import is_clockwise, side_points

if TYPE_CHECKING:
    from collections.abc import Callable

    from calcbook.basis.units import Quantity
    from calcbook.plan.edge import EdgeRing


@dataclass(frozen=True)
class EdgeOf:
    """The edge of one side: depth 0 where there is none; against: whether it stands against a wall; own: its number
    among [[edges]], from 0, and given: what that entry gives."""

    depth: Quantity
    width: Quantity
    slope: Quantity
    against: bool
    own: int | None
    given: frozenset[str] = frozenset()

    def place(self, key: str) -> str:
        """Where the job file gives depth, width or slope of this side."""
        return f"edges.{self.own}.{key}" if key in self.given else f"edge.{key}"

    @property
    def spec(self) -> tuple[Any, ...]:
        """What tells it from the edges of other sides, bare numbers."""
        sizes = ((self.depth, "in"), (self.width, "in"), (self.slope, "1"))
        return (*(round(number_in(q, u), 6) for q, u in sizes), self.against)


def edge_of(job: Any, side: int | None) -> EdgeOf:
    """The EdgeOf a side (from 1); of [edge] itself where side is None.

    job: a Job or JobFile.
    """
    own, base = _own(job, side), job.edge
    if own is None:
        return EdgeOf(base.depth, base.width, base.slope, False, None)
    entry = job.edges[own]
    found = {key: getattr(entry, key) for key in ("depth", "width", "slope")}
    given = frozenset(key for key, value in found.items() if value is not None)
    depth, width, slope = (getattr(base, key) if found[key] is None else found[key] for key in found)
    against = entry.kind == AGAINST
    return EdgeOf(Q(0, "in") if against else depth, width, slope, against, own, given)


def frost_place(job: Any, side: int) -> str:
    """Where the job file gives the frost depth of a side."""
    own = _own(job, side)
    has_own = own is not None and job.edges[own].frost_depth is not None
    return f"edges.{own}.frost_depth" if has_own else "soil.frost_depth"


def _own(job: Any, side: int | None) -> int | None:
    return next((n for n, entry in enumerate(job.edges) if entry.side == side), None)


def edges_of(job: Any) -> list[EdgeOf]:
    """The edge of every side, in the order of the job file's points."""
    return [edge_of(job, side) for side in range(1, len(side_points(job.slab)) + 1)]


def sides_alike(job: Any, frost: bool = False) -> list[tuple[list[int], EdgeOf]]:
    """Sides with the same edge together: (their numbers, the edge), in the order of the first of each.

    frost: whether the place of their frost depth must be the same too.
    """
    found: dict[tuple[Any, ...], tuple[list[int], EdgeOf]] = {}
    for side, edge in enumerate(edges_of(job), 1):
        key = (*edge.spec, frost_place(job, side)) if frost else edge.spec
        found.setdefault(key, ([], edge))[0].append(side)
    return list(found.values())


def sides_of(job: Any, edge: EdgeOf) -> list[int]:
    """The sides that an edge stands at; none where all sides are alike."""
    alike = sides_alike(job)
    return next((sides for sides, one in alike if one.spec == edge.spec), []) if len(alike) > 1 else []


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
    counterclockwise from the same first point, and a round corner has sides of its own."""
    owners = ring_of_corners(job).owners
    found = [values[k] for k in owners]
    return found[::-1] if is_clockwise(side_points(job.slab)) else found


def sides_text(sides: list[int]) -> str:
    """Numbers of sides in words: ``side 3``, ``sides 1, 2 and 5``."""
    if len(sides) == 1:
        return f"side {sides[0]}"
    return f"sides {', '.join(map(str, sides[:-1]))} and {sides[-1]}"


def ring_of(edge: EdgeOf, make: Callable[..., EdgeRing]) -> EdgeRing:
    """An edge as the plan holds it, in plain feet."""
    return make(number_in(edge.depth, "ft"), number_in(edge.width, "ft"), number_in(edge.slope, "1"))
