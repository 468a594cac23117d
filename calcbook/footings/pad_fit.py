"""A pad where it stands: what the outline leaves of it, the wall over it, and the size that fits."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely
from shapely import LineString, Point, box

from calcbook.basis.coherent import to_coherent
from calcbook.basis.formula import FormulaError
from calcbook.basis.rounding import metric_rule
from calcbook.basis.units import Q, Quantity, number_in
from calcbook.footings.footing import CONCRETE
from calcbook.footings.pad_design import LEAST_PLAN, smallest_pad
from calcbook.footings.pads import LEAST_THICKNESS
from calcbook.job.edges import edge_of
from calcbook.job.wall_lines import wall_line
from calcbook.loads.combinations import wall_loads
from calcbook.loads.from_job import net_lift
from calcbook.slab.soil import counted_weight, soil_bearing

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from shapely.geometry import Polygon

    from calcbook.footings.pad_design import PadDesign
    from calcbook.job.file import Job
    from calcbook.job.schema.pads import Pad
    from calcbook.job.schema.sections import JobFile
    from calcbook.plan.outline import Edging

# trade steps of plan and depth, and how far the search goes, in inches (common practice, no source)
STEPS = {"us": (3.0, 1.0, 120.0, 36.0), "si": (75 / 25.4, 25 / 25.4, 3000 / 25.4, 900 / 25.4)}
_NEAR = 1e-6  # feet; what counts as touching


@dataclass(frozen=True)
class Footprint:
    """A pad as it is built: the concrete ends at the outline and at openings.

    L, B, d: its sizes along x, along y and down; e_x, e_y: how far the post stands off its centre;
    whole: False where the outline or an opening cuts it to another shape than a rectangle.
    """

    L: Quantity
    B: Quantity
    d: Quantity
    e_x: Quantity
    e_y: Quantity
    whole: bool


def footprint(job: Job, index: int) -> Footprint:
    """The Footprint of a pad of a job, whether its size is given or designed."""
    thickening, pad = job.plan.thickenings[index], job.pads[index]
    built = thickening.bottom & job.plan.slab
    x0, y0, x1, y1 = built.bounds
    post_x, post_y = (
        number_in(place, "in") + number_in(off, "in")
        for place, off in ((pad.x, pad.offset_x), (pad.y, pad.offset_y))
    )
    L, B, d = (_inches(12 * v) for v in (x1 - x0, y1 - y0, thickening.depth))
    e_x, e_y = (_inches(abs(post - 6 * (a + b))) for post, a, b in ((post_x, x0, x1), (post_y, y0, y1)))
    return Footprint(
        L,
        B,
        d,
        e_x,
        e_y,
        whole=box(*built.bounds).area - built.area < 1e-4,
    )


def _inches(value: float) -> Quantity:
    return Q(round(float(value), 6), "in")


def wall_length(bottom: Polygon, edging: Edging) -> float:
    """Length of the wall on the thickened edge that a pad carries, in feet.

    bottom: the pad's shape; edging: of the slab. The outline over the pad counts, and where the pad meets the edge's
    bottom, as much of the edge as they share.
    """
    return max((bottom & edging.outline.exterior).length, edging.length_on(bottom))


class EdgeWalls:
    """The walls on the edge of a slab, and which of them stand over a pad, by their places among the walls."""

    def __init__(self, file: JobFile | Job) -> None:
        self.walls = file.walls
        self.places = [n for n, wall in enumerate(self.walls) if wall.side is not None]
        lines = [wall_line(file.slab, self.walls[n], file.job.units) for n in self.places]
        self._lines = [LineString([line.at(0), line.at(line.length)]) for line in lines]
        self._near = [number_in(edge_of(file, self.walls[n].side).width, "ft") for n in self.places]

    def over(self, bottom: Polygon) -> list[int]:
        """Those that stand over a pad, or beside it on the edge."""
        apart = shapely.distance(np.array(self._lines, dtype=object), bottom)
        return [n for n, d, near in zip(self.places, apart, self._near, strict=True) if d <= near]

    def lift(self, bottom: Polygon) -> float:
        """The greatest net uplift of the walls over a pad, plf; 0 where none lifts."""
        return max((net_lift(self.walls[n]) for n in self.over(bottom)), default=0.0)

    def heaviest(self, bottom: Polygon) -> int | None:
        """The heaviest wall over a pad whose dead load is known; None where there is none."""
        known = [n for n in self.over(bottom) if self.walls[n].dead is not None]
        return max(
            known, key=lambda n: sum(x.magnitude for x in wall_loads(self.walls[n])), default=None
        )


def isolated(file: JobFile | Job) -> bool:
    """Whether the slab is cut off from its pads by isolation joints around the posts."""
    return file.joints.isolate


def wall_across(
    file: JobFile | Job, which: int, bottom: Polygon, built: Polygon
) -> tuple[int, float, tuple[float, float]] | None:
    """Where a wall over a pad stands on it: (axis across it, 0 for x; inches off the middle of the concrete across it;
    place in feet). None for a wall that runs aslant. built: what is placed of the pad.
    """
    wall = file.walls[which]
    at = wall_line(file.slab, wall, file.job.units)
    if abs(at.along[0] * at.along[1]) > 1e-9:
        return None
    aside = (wall.inset + wall.plate_width / 2).m_as("foot")
    line = LineString([at.at(0.0, aside), at.at(at.length, aside)])
    on = line & bottom if line.intersects(bottom) else line
    place = shapely.shortest_line(on, bottom.centroid).coords[0]
    axis = int(abs(at.along[0]) > 0.5)
    low, high = built.bounds[axis], built.bounds[axis + 2]
    return axis, 12 * (place[axis] - (low + high) / 2), (place[0], place[1])


def designed(
    pad: Pad, file: JobFile | Job, edging: Edging, walls: EdgeWalls
) -> tuple[tuple[Quantity, Quantity, Quantity], PadDesign]:
    """((length, width, depth) in inches, the PadDesign they come from) of a pad under one post.

    What is given of the size is kept. The pad stays on the slab, and near the edge carries the wall above it too.
    pad, file, edging: as for ``pad_size.pad_for``; walls: of the file.
    """
    q_a = soil_bearing(file.soil)
    if pad.dead is None or q_a is None:
        raise FormulaError(
            "its size is left out, and so must follow from its loads: give length, width and depth, or else "
            "dead (and live, roof) here and bearing or kind under [soil]"
        )
    steps, inputs = STEPS[file.job.units], _inputs(pad, file, q_a)
    x, y = (number_in(v, "ft") for v in (pad.x, pad.y))
    given = [None if v is None else number_in(v, "in") for v in (pad.length, pad.width)]
    counted, lift, length = [0.0, 0.0, 0.0], 0.0, 0.0
    for _ in range(40):
        post = (number_in(v, "lbf") for v in (pad.dead, pad.live, pad.roof))
        loads = tuple(float(p + w * length) for p, w in zip(post, counted, strict=True))
        lifted = {"W": inputs["W"] + lift * length}
        search = functools.partial(_search, loads, steps, inputs | lifted)
        found = _within(search, given, room_at(x, y, edging.outline), steps[0])
        a, b = (number_in(v, "ft") / 2 for v in (found.L, found.B))
        bottom = box(x - a, y - b, x + a, y + b)
        which, over = walls.heaviest(bottom), wall_length(bottom, edging)
        now = [0.0] * 3 if which is None else [x.magnitude for x in wall_loads(file.walls[which])]
        up = walls.lift(bottom)
        if over <= length + _NEAR and now == counted and up == lift:
            break
        counted, lift, length = now, up, max(over, length)
    return (found.L, found.B, found.d), found


def _inputs(pad: Pad, file: JobFile | Job, q_a: Quantity) -> dict[str, Any]:
    """What ``smallest_pad`` asks of a job beside loads, steps and plan sizes."""
    weight, uplift = counted_weight(file.soil), pad.uplift
    return {
        "q_a": _plain(q_a, "psf"), "f_c": _plain(file.concrete.strength, "psi"),
        "t": _plain(file.slab.thickness, "in"), "c_1": _plain(pad.post_length, "in"),
        "c_2": _plain(pad.post_width, "in"), "gamma_c": _plain(CONCRETE, "pcf"),
        "gamma_s": 0.0 if weight is None else _plain(weight, "pcf"),
        "W": 0.0 if uplift is None else _plain(uplift, "lbf"),
        "depth": None if pad.depth is None else _plain(pad.depth, "in"),
        "one": 0.0 if isolated(file) else None, "least_depth": _plain(file.base.thickness, "in"),
        "h_min": _plain(metric_rule(LEAST_THICKNESS, file.job.units), "in"),
        "b_min": _plain(metric_rule(LEAST_PLAN, file.job.units), "in"),
    }  # fmt: skip


def _search(
    loads: tuple[float, ...],
    steps: tuple[float, float, float, float],
    inputs: dict[str, Any],
    length: float | None,
    width: float | None,
) -> PadDesign:
    return _smallest(loads, steps, tuple(inputs.items()), length, width)


@functools.lru_cache(maxsize=256)  # many pads of a job are alike
def _smallest(
    loads: tuple[float, ...],
    steps: tuple[float, float, float, float],
    given: tuple[tuple[str, Any], ...],
    length: float | None,
    width: float | None,
) -> PadDesign:
    inputs, sizes = dict(given), {"length": length, "width": width}
    try:
        return smallest_pad(loads, steps, **inputs, **sizes)
    except FormulaError:
        if not inputs["W"]:
            raise
    return smallest_pad(loads, steps, **(inputs | {"W": 0.0}), **sizes)  # the check asks an engineer


def _plain(value: Quantity, name: str) -> float:
    """A plain number of the coherent set (lbf, in.)."""
    return to_coherent(float(number_in(value, name)), name)


def room_at(x: float, y: float, outline: Polygon) -> tuple[float, float]:
    """Greatest sides of a pad about (x, y) that stays on the slab, along x and along y, in inches."""
    x0, y0, x1, y1 = outline.bounds
    ends = [(x1 + 1, y), (x0 - 1, y), (x, y1 + 1), (x, y0 - 1)]
    rays = shapely.linestrings([((x, y), end) for end in ends])
    reach = shapely.distance(shapely.intersection(outline.exterior, rays), Point(x, y)).tolist()
    return 24 * min(reach[:2]), 24 * min(reach[2:])


def _within(
    search: Callable[..., Any], given: Sequence[float | None], room: tuple[float, float], step: float
) -> PadDesign:
    """The smallest pad whose free sides stay within the room: square, or else long where it can be.

    search: finds a pad for (length, width), each fixed in inches or None; given: those of the job;
    room: greatest sides; step: of the plan size.
    """

    def too_long(found: PadDesign) -> list[int]:
        sides = (number_in(v, "in") for v in (found.L, found.B))
        pairs = enumerate(zip(sides, given, room, strict=True))
        return [i for i, (side, fixed, most) in pairs if fixed is None and side > most + 1e-6]

    found = search(*given)
    tight = too_long(found)
    if not tight:
        return found
    axis = min(tight, key=lambda i: room[i])
    given = [step * int(room[i] / step + 1e-6) if i == axis else given[i] for i in (0, 1)]
    found = search(*given) if given[axis] else None
    if found is None or too_long(found):
        raise FormulaError(
            "no pad that stays on the slab carries it; move the post inward, or ask an engineer"
        )
    return found
