"""One bolted wall: what was found for it, what length of wall each bolt holds, which bolts stand close."""

from __future__ import annotations

import functools
import itertools
import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, TypeAlias

import numpy as np

from calcbook.basis.units import Q, number_in
from calcbook.bolts.breaks import NOWHERE, beside
from calcbook.bolts.capacity import Capacity, Place
from calcbook.job.edges import edge_of
from calcbook.loads.closing import LIFT, LIFT_STRENGTH, close, combinations
from calcbook.loads.ends import unit_shear
from calcbook.loads.from_job import SERVICE
from calcbook.loads.path import across_plate, bolt_forces
from calcbook.plan.tape import from_steps

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.units import Quantity
    from calcbook.bolts.breaks import Beside, Breaks
    from calcbook.bolts.walls import WallLine
    from calcbook.job.file import Job
    from calcbook.job.schema.walls import Wall
    from calcbook.loads.closing import Closing
    from calcbook.loads.from_job import Brought
    from calcbook.loads.path import BoltForce
    from calcbook.plan.tape import Layout

DIRECTIONS = ("uplift", "along", "out")  # up, along the wall, across it

# by ``plated`` of a wall: mark above the concrete, bolt to buy, embedment when set at the mark
Heights: TypeAlias = "dict[tuple[int, float], tuple[Quantity, Quantity, Quantity]]"


@dataclass
class Bolted:
    """One wall with all that was found for it: spacings by reason, the layout, what its bolts hold.

    breaks: where the slab is parted; own: what a bolt holds that stands so near to one that it holds less, by its number.
    """

    sill: Wall
    line: WallLine
    capacity: Capacity
    h_ef: Quantity
    spacings: dict[str, Quantity]
    layout: Layout
    brought: Brought
    breaks: Breaks = NOWHERE
    own: dict[int, Capacity] = field(default_factory=dict)

    @functools.cached_property
    def beside(self) -> Beside:
        """The breaks of the slab that stand nearest to each bolt."""
        places = [at for _, at in self.plate[1]]
        return beside(self.breaks, self.line, places, float(number_in(self.sill.edge_distance, "ft")))

    @property
    def nearest_edge(self) -> Quantity:
        """From a bolt to the slab's edge, or to a break that is nearer."""
        near = min((self.beside.nearest(k) for k in range(len(self.layout.bolts))), default=math.inf)
        edge = self.sill.edge_distance
        return min(edge, Q(near, "ft").to(edge.units))

    def held(self, k: int, direction: str) -> tuple[str, Quantity]:
        """(what governs, allowable load) of a bolt, counted from 0, in a direction."""
        return self.own.get(k, self.capacity).least(direction)

    @functools.cached_property
    def spacing(self) -> Quantity:
        """The most between neighbours: the least of all reasons."""
        return self.spacings[self.governs]

    @functools.cached_property
    def governs(self) -> str:
        """The reason that gives the least spacing."""
        return min(self.spacings, key=lambda k: number_in(self.spacings[k], "in"))

    def load(self, direction: str) -> Quantity | None:
        """Load by length of plate in a direction (of DIRECTIONS) by the load path; None where it is not known."""
        b = self.brought
        if direction == "uplift":
            return Q(max(b.lift, 0.0), "plf") if b.uplift_known else None
        if direction == "along":
            return Q(unit_shear(b.model), "plf") if b.shear_known else None
        return Q(b.model.across, "plf") if b.across_known else None

    @functools.cached_property
    def forces(self) -> dict[str, list[float]]:
        """What each bolt is asked to hold in each direction, in pounds at service level, by the load path."""
        up = [tension for tension, _ in self._lifted]
        return {"uplift": up, "along": self._along, "out": [f.tension for f in self._across]}

    @functools.cached_property
    def closed(self) -> dict[str, tuple[Closing, list[BoltForce]]]:
        """Sums and what every bolt takes in each combination with wind, by its name."""
        model = self.brought.model
        return {row["name"]: close(model, row, *self.plate) for row in combinations() if row["W"]}

    @property
    def _lifts(self) -> list[tuple[float, str, list[BoltForce]]]:
        """(what takes it to service level, name, every bolt) of the two combinations that lift."""
        return [
            (level, name, self.closed[name][1])
            for level, name in ((1.0, LIFT), (SERVICE, LIFT_STRENGTH))
        ]

    @functools.cached_property
    def _lifted(self) -> list[tuple[float, float]]:
        """Uplift of every bolt by the combination that lifts it more, and the part of it by jambs and posts."""
        both = (
            [(level * f.tension, level * f.by_points) for f in found] for level, _, found in self._lifts
        )
        return [max(readings) for readings in zip(*both, strict=True)]

    @property
    def hardest_lift(self) -> tuple[float, str, list[float]]:
        """(what takes it to service level, name, uplift of every bolt) of the combination that asks most of one bolt."""
        found = [
            (level, name, [level * f.tension for f in bolts]) for level, name, bolts in self._lifts
        ]
        return max(found, key=lambda one: max(one[2], default=0.0))

    @functools.cached_property
    def _across(self) -> list[BoltForce]:
        return bolt_forces(across_plate(self.brought.model), *self.plate)[0]

    @functools.cached_property
    def _along(self) -> list[float]:
        v, foot = unit_shear(self.brought.model), self._feet(1)
        return [v * share * foot for share in self.shares]

    @functools.cached_property
    def by_jambs(self) -> list[float]:
        """The part of each bolt's uplift that comes by a jamb or a post, in pounds."""
        return [by_points for _, by_points in self._lifted]

    def together(self, direction: str, start: int, end: int) -> float:
        """What the bolts from start to end are asked to hold together, in pounds: the larger of both readings."""
        if direction == "along":
            return sum(self._along[start:end])
        rows = (
            [(1.0, self._across)]
            if direction == "out"
            else [(level, found) for level, _, found in self._lifts]
        )
        return max(
            level * max(sum(f.reaction for f in found[start:end]), sum(f.own for f in found[start:end]))
            for level, found in rows
        )

    @functools.cached_property
    def plate(self) -> tuple[list[tuple[float, float]], list[tuple[int, float]]]:
        """(pieces of plate, bolts) as the load path takes them, in feet."""
        pieces = [(self._feet(a), self._feet(b)) for a, b in self.layout.pieces]
        bolts = [(b.piece - 1, self._feet(b.place)) for b in self.layout.bolts]
        return pieces, bolts

    def _feet(self, steps: float) -> float:
        return float(number_in(self.length(steps), "ft"))

    @property
    def foot(self) -> float:
        """One step of this wall's tape in feet."""
        return self._feet(1)

    @functools.cached_property
    def uses(self) -> dict[str, list[float]]:
        """What each bolt is asked to hold over what it may, by direction."""
        return {d: self._used(d) for d in DIRECTIONS}

    def _used(self, direction: str) -> list[float]:
        forces = self.forces[direction]
        if not getattr(self.capacity, direction):
            return [0.0] * len(forces)
        held = [number_in(self.capacity.least(direction)[1], "lbf")] * len(forces)
        for k, own in self.own.items():
            held[k] = number_in(own.least(direction)[1], "lbf")
        return [force / most for force, most in zip(forces, held, strict=True)]

    @functools.cached_property
    def shares(self) -> list[float]:
        """Length of wall that each bolt holds, in steps of the tape: to the middle between neighbours, and to
        the ends of its piece."""
        found = []
        for number, (start, end) in enumerate(self.layout.pieces, 1):
            places = [b.place for b in self.layout.bolts if b.piece == number]
            if places:
                edges = [start, *((a + b) / 2 for a, b in itertools.pairwise(places)), end]
                found += [b - a for a, b in itertools.pairwise(edges)]
        return found

    @functools.cached_property
    def share(self) -> Quantity:
        """Greatest length of wall that one bolt holds."""
        return self.length(max(self.shares, default=0))

    def length(self, steps: float) -> Quantity:
        """So many steps of this wall's tape as a length."""
        return from_steps(steps, self.layout.rules.system)

    def rows(self, reach: Quantity) -> list[Row]:
        """Rows of neighbours nearer to each other than a reach (length), joints of the plate or not; none over a break."""
        places = [b.place for b in self.layout.bolts]
        near = number_in(reach, "in") / number_in(self.length(1), "in")
        ends = [
            k + 1
            for k, (a, b) in enumerate(itertools.pairwise(places))
            if b - a >= near or self.beside.parts(self._feet(a), self._feet(b))
        ]
        cuts = [0, *ends, len(places)]
        return [Row(self, a, b) for a, b in itertools.pairwise(cuts) if b - a > 1]


@dataclass(frozen=True)
class Row:
    """Bolts of a wall that stand close: from, to (as in a slice)."""

    wall: Bolted
    start: int
    end: int

    @property
    def count(self) -> int:
        """How many bolts stand in the row."""
        return self.end - self.start

    @property
    def share(self) -> Quantity:
        """Length of wall that the row holds."""
        return self.wall.length(sum(self.wall.shares[self.start : self.end]))

    def load(self, direction: str) -> float:
        """What the row is asked to hold in a direction, in pounds."""
        return self.wall.together(direction, self.start, self.end)

    @property
    def span(self) -> tuple[float, float, float]:
        """(first, extent, last) in inches: from the slab's end, or a break, to the first bolt, to the last one, to the
        other end."""
        line, places = self.wall.line, self._places
        before, after, *_ = self._beside
        return (
            12 * min(line.before + places[self.start], before),
            12 * (places[self.end - 1] - places[self.start]),
            12 * min(line.length + line.after - places[self.end - 1], after),
        )

    def across(self, at: Place) -> tuple[float, float]:
        """(nearer, farther) in inches: the slab's sides across the row, or a break that does not part it."""
        *_, inside, outside = self._beside
        c_1, c_2 = sorted((min(number_in(at.c_1, "ft"), outside), min(number_in(at.c_2, "ft"), inside)))
        return 12 * c_1, 12 * c_2

    @property
    def _places(self) -> list[float]:
        return [at for _, at in self.wall.plate[1]]

    @property
    def _beside(self) -> tuple[float, ...]:
        return self.wall.beside.of_row(self._places, self.start, self.end)


def concrete_depth(job: Job, sill: Wall) -> Quantity:
    """Depth of the concrete where the bolts of a wall stand (a length)."""
    return depth_at(job, sill, sill.edge_distance)


def depth_at(job: Job, sill: Wall, c: Quantity) -> Quantity:
    """Depth of the concrete at c from the slab's edge: edge, its slope, or the slab alone (lengths)."""
    edge = edge_of(job, sill.side)
    t, d, b, off = (number_in(x, "in") for x in (job.slab.thickness, edge.depth, edge.width, c))
    beyond, run = off - b, number_in(edge.slope, "1")
    if beyond <= 0:
        return Q(t + d, "in")
    return Q(t + max(d - beyond / run, 0.0) if run else t, "in")


def place(job: Job, sill: Wall, corner: Quantity) -> Place:
    """Surroundings of the bolt that stands worst: the first one from the end of the slab.

    sill: section of the wall; corner: least distance from the end of the slab (a length).
    """
    x0, y0, x1, y1 = job.plan.bounds
    across = 12.0 * min(x1 - x0, y1 - y0)
    beyond = Q(across - number_in(sill.edge_distance, "in"), "in")
    return Place(sill.edge_distance, beyond, corner, Q(across, "in"), concrete_depth(job, sill))


def place_of_rows(job: Job, rows: Sequence[Row]) -> Place:
    """Surroundings of several rows, as arrays."""
    every = [place_of_row(job, row) for row in rows]
    first, *_ = every
    c_1, c_2, c_3, c_4, s_2 = (
        Q(np.array([number_in(getattr(at, key), "in") for at in every]), "in")
        for key in ("c_1", "c_2", "c_3", "c_4", "s_2")
    )
    return Place(c_1, c_2, c_3, c_4, first.h_a, s_2, np.array([at.n for at in every]))


def place_of_row(job: Job, row: Row) -> Place:
    """Surroundings of one row, or of one bolt as a row of its own."""
    first, extent, last = (Q(float(x), "in") for x in row.span)
    at = place(job, row.wall.sill, first)
    c_1, c_2 = (Q(float(x), "in") for x in row.across(at))
    return Place(c_1, c_2, first, last, at.h_a, extent, float(row.count))
