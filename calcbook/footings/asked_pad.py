"""A pad with several posts as it is asked: its posts, its size, and what its checks have found."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from calcbook.basis.units import number_in
from calcbook.footings.pad_fit import isolated
from calcbook.footings.remedies import LARGER_SHARED_PAD
from calcbook.footings.rigid_pad import Stands

if TYPE_CHECKING:
    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.footings.pad_fit import Footprint
    from calcbook.job.file import Job
    from calcbook.job.schema.pads import Pad


def posts_on(job: Job, index: int) -> list[Stands]:
    """Every post of a pad whose loads are known, with places from the middle of its concrete, in inches."""
    x0, y0, x1, y1 = (12 * v for v in (job.plan.thickenings[index].bottom & job.plan.slab).bounds)
    return standing_at(job.pads[index], ((x0 + x1) / 2, (y0 + y1) / 2))


def standing_at(pad: Pad, middle: tuple[float, float]) -> list[Stands]:
    """Every post of a pad, with places from the middle of its concrete (x, y in the plan), in inches."""
    found = []
    for post in pad.standing:
        at = [number_in(v, "in") for v in (pad.x + post.offset_x, pad.y + post.offset_y)]
        D, L, S, W = (0.0 if v is None else float(number_in(v, "lbf")) for v in
                      (post.dead, post.live, post.roof, post.uplift))  # fmt: skip
        found.append(Stands(
            post.name, (at[0] - middle[0], at[1] - middle[1]),
            (number_in(post.post_length, "in"), number_in(post.post_width, "in")), (D, L, S), W,
        ))  # fmt: skip
    return found


@dataclass(frozen=True)
class Strength:
    """What counts of a pad's thickness, and what a strip of it one foot wide holds in bending and in shear."""

    h_e: Quantity
    M_n: Quantity
    V_n: Quantity


@dataclass(frozen=True)
class AskedPad:
    """A pad as it is asked: its name, size and posts, the share of a wall over it among them; t: slab over it; one: whether slab and pad are one piece; f_c: of the
    concrete; ratios: of its checks; answers: the job that may hold an engineer's answers, None while a size is sought."""

    calc: Calculation
    name: str
    seat: Footprint
    posts: list[Stands]
    ratios: list[float]
    t: Quantity
    one: bool
    f_c: Quantity
    system: str
    answers: Job | None = None

    @property
    def sides(self) -> tuple[float, float]:
        """Length and width, in inches."""
        return float(number_in(self.seat.L, "in")), float(number_in(self.seat.B, "in"))

    @property
    def alone(self) -> list[Stands]:
        """The posts, without a wall that stands on the pad as well."""
        return [p for p in self.posts if p.runs is None]

    def compare(self, title: str, demand: Quantity, capacity: Quantity, unit: str, clause: Any, **more: Any) -> None:  # fmt: skip
        """Enter a check of this pad, demand against capacity in ``unit``, with its remedy where it fails."""
        ratio = (demand / capacity).m_as("")
        words = more.pop("words", "")
        self.calc.check(
            f"{title} pad {self.name}",
            demand,
            capacity,
            unit,
            clause,
            words,
            to_do=LARGER_SHARED_PAD,
            **more,
        )
        self.ratios.append(float(ratio))


def asked(calc: Calculation, job: Job, index: int, seat: Footprint, posts: list[Stands]) -> AskedPad:
    """A pad of a job as it is asked. seat: as it is built."""
    return AskedPad(calc, job.pads[index].name, seat, posts, [], job.slab.thickness, not isolated(job),
                    job.concrete.strength, job.system, job)  # fmt: skip
