"""A pad with several loads on it as it is asked: what its checks share, and how each is entered."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from calcbook.basis.units import number_in
from calcbook.footings.pad_fit import isolated

if TYPE_CHECKING:
    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.footings.pad_fit import Footprint
    from calcbook.footings.rigid_pad import Stands
    from calcbook.job.file import Job

REMEDY = "A larger or deeper pad, posts nearer to its middle, or a pad for each post."


@dataclass(frozen=True)
class Strength:
    """What counts of a pad's thickness, and what a strip of it one foot wide holds in bending and in shear."""

    h_e: Quantity
    M_n: Quantity
    V_n: Quantity


@dataclass(frozen=True)
class AskedPad:
    """A pad as it is asked: its name, size and posts; t: slab over it; one: whether slab and pad are one piece; f_c: of the
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

    def compare(self, title: str, demand: Quantity, capacity: Quantity, unit: str, clause: Any, **more: Any) -> None:  # fmt: skip
        """Enter a check of this pad, demand against capacity in ``unit``, with its remedy where it fails."""
        ratio = (demand / capacity).m_as("")
        words = more.pop("words", "")
        remedy = (f"{words} " if words else "") + (
            REMEDY if ratio > 1 and not more.get("least") else ""
        )
        self.calc.check(
            f"{title} pad {self.name}", demand, capacity, unit, clause, remedy.strip(), **more
        )
        self.ratios.append(float(ratio))


def asked(calc: Calculation, job: Job, index: int, seat: Footprint, posts: list[Stands]) -> AskedPad:
    """A pad of a job as it is asked. seat: as it is built."""
    return AskedPad(calc, job.pads[index].name, seat, posts, [], job.slab.thickness, not isolated(job),
                    job.concrete.strength, job.system, job)  # fmt: skip
