"""The building as one: what lifts it, what holds it down and what the ground gives; sliding along its walls."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from calcbook.basis.formula import cite
from calcbook.basis.showing import show
from calcbook.basis.table import records
from calcbook.basis.units import Q, number_in
from calcbook.footings import footing
from calcbook.footings.footing import CONCRETE
from calcbook.footings.uplift import sliding_resistance
from calcbook.job.wall_lines import wall_line
from calcbook.loads.closing import LIFT, SERVICE, brought, combination, combinations
from calcbook.plan.dug import edge_volume

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job
    from calcbook.job.schema.pads import PadPost
    from calcbook.loads.from_job import Brought
    from calcbook.loads.path import Factors

SMOOTH = 0.25
_OTHER = {"x": "y", "y": "x"}


@dataclass(frozen=True)
class _Sums:
    """Of the building as one in a combination, pounds: what wind lifts, what walls and posts press, and slab and edge."""

    name: str
    up: float
    down: float
    own: float

    @property
    def ground(self) -> float:
        """What the soil gives; it does not pull."""
        return max(self.down + self.own - self.up, 0.0)

    @property
    def not_held(self) -> float:
        """What no weight takes."""
        return max(self.up - self.down - self.own, 0.0)

    @property
    def remainder(self) -> float:
        """0 where the sum closes."""
        return self.up + self.ground - self.down - self.own - self.not_held


def whole_building(calc: Calculation, job: Job, walls: Sequence[Brought]) -> None:
    """Sums of the whole building in every combination, and sliding along x and along y."""
    posts = [p for pad in job.pads for p in pad.standing]
    lifted = any(brought(b.model, combination(LIFT))[0] for b in walls) or any(
        p.uplift is not None and p.uplift.magnitude for p in posts
    )
    push = _pushes(job, walls, posts)
    if not lifted and not any(push.values()):
        return
    concrete = _concrete(calc, job).m_as("lbf")
    sums = [_sums(job, walls, row, concrete) for row in combinations() if row["W"]]
    rows = [
        [
            s.name,
            *(show(Q(round(x, 6) + 0.0, "lbf"), "lbf", job.system, exact=False)
              for x in (s.up, s.down, s.own, s.ground, s.not_held, s.remainder)),
        ]
        for s in sums
    ]  # fmt: skip
    columns = ["Combination", "Wind lifts", "Walls and posts press", "Slab and edge press", "Ground reaction", "Not held", "Remainder"]  # fmt: skip
    calc.table(
        "The building as one, with wind: what comes in and what takes it", records(columns, rows)
    )
    _lifted(calc, sums)
    service = next(s for s in sums if s.name == LIFT)
    lift, dead = service.up, (service.down + service.own) / combination(LIFT)["D"]
    _sliding(calc, job, push, dead, lift)


def _sums(job: Job, walls: Sequence[Brought], row: Factors, concrete: float) -> _Sums:
    """The sums of a combination. concrete: weight of slab and edge, lbf."""
    found = [brought(b.model, row) for b in walls if b.measured]
    up, down = sum(s[0] for s in found), sum(s[1] for s in found)
    for post in (p for pad in job.pads for p in pad.standing if p.dead is not None):
        D = float(number_in(post.dead, "lbf"))
        down += row["D"] * D
        if post.uplift is not None and post.uplift.magnitude:
            # a net uplift at service level, so the wind lifts that and 0.6 of the dead load
            up += row["W"] * (float(number_in(post.uplift, "lbf")) / SERVICE + D)
    return _Sums(row["name"], up, down, row["D"] * concrete)


def _lifted(calc: Calculation, sums: Sequence[_Sums]) -> None:
    """Whether the building as one stays on the ground, in the hardest combination."""
    lifting = [s for s in sums if s.up > s.down]
    if not lifting:
        return
    worst = max(lifting, key=lambda s: (s.up - s.down) / s.own)
    calc.check(
        "Uplift on the building as one", Q(worst.up - worst.down, "lbf"), Q(worst.own, "lbf"), "lbf",
        combination(worst.name)["source"], f"{worst.name}: what wind lifts beyond the weight of walls and posts, against slab and edge, "
        "pads left out.", to_do="More weight, or an engineer's anchors in the ground.",
    )  # fmt: skip


def _concrete(calc: Calculation, job: Job) -> Quantity:
    """Weight of slab and thickened edge, pads left out."""
    calc.note("The building as one. Pads are left out of its weight, also where they meet the edge.")
    q_s = calc.step(footing.slab_weight, "The slab.", t=job.slab.thickness, gamma_c=CONCRETE)
    weight = (q_s * job.plan.area).to("lbf") + (CONCRETE * edge_volume(job.plan)).to("lbf")
    return calc.finding(
        "Slab and the edge below it, each corner once.",
        "D_c",
        weight,
        "lbf",
        cite("mechanics"),
        label="dead load of the concrete",
    )


def _pushes(job: Job, walls: Sequence[Brought], posts: Sequence[PadPost]) -> dict[str, float]:
    """What the wind pushes the slab by along x and along y, pounds at service level: walls along it, walls across it by what
    they bring there, and posts at their feet, whose direction is not known."""
    feet = sum(float(number_in(p.shear, "lbf")) for p in posts if p.shear is not None)
    push = {"x": feet, "y": feet}
    for b in walls:
        if not b.measured:
            continue
        axis = _axis(job, b)
        push[axis] += b.model.along * b.model.length
        push[_OTHER[axis]] += b.model.across * b.model.length
    return push


def _axis(job: Job, b: Brought) -> str:
    """Which way a wall runs; a slanting one counts where it runs more."""
    wall = job.walls[b.index]
    if wall.side is None:
        return "x" if wall.y1 == wall.y2 else "y"
    dx, dy = wall_line(job.slab, wall, job.system).along
    return "x" if abs(dx) >= abs(dy) else "y"


def _sliding(calc: Calculation, job: Job, push: dict[str, float], dead: float, lift: float) -> None:
    """What pushes along each direction against friction under the whole."""
    axis = max(push, key=lambda k: push[k])
    if not push[axis]:
        return
    F = calc.step(
        sliding_resistance, f"Friction under the whole building, {combination(LIFT)['name']}; no earth pressure is counted.",
        mu=SMOOTH, D=Q(dead, "lbf"), U=Q(lift, "lbf"),
    )  # fmt: skip
    title = f"Sliding force of the building along {axis}"
    if F.magnitude <= 0:
        calc.verdict(title, False, sliding_resistance.source, "no weight left over", "some required",
                     "The wind lifts more than 0.6 of all that is named weighs, so nothing rubs on the ground.",
                     to_do="More weight, or an engineer's anchors in the ground.")  # fmt: skip
        return
    if Q(push[axis], "lbf") > F and job.answer(
        title
    ):  # what soil and pads hold beside is an engineer's to count
        calc.ask_engineer(title, sliding_resistance.source, "", job)
        return
    calc.check(
        title, Q(push[axis], "lbf"), F, "lbf", sliding_resistance.source,
        "Service level: the shear along all walls that way, shear across the others, all of it one way, and shear at the feet of "
        "posts. Friction 0.25, common practice for concrete on a sheet or fine soil.",
        needs_engineer=True, to_do="A thicker slab or a deeper edge; soil in front of the edge is not counted, which an engineer may do ([[answers]]).",
    )  # fmt: skip
