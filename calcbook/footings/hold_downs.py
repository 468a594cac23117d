"""Hold-downs at the ends of shear walls: the edge's weight against their pull, and what is not followed further."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.formula import cite
from calcbook.basis.showing import show
from calcbook.basis.units import Q
from calcbook.footings import uplift
from calcbook.loads.ends import shear_ends
from calcbook.loads.statics import hold_down_force

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.job.file import Job
    from calcbook.loads.ends import End
    from calcbook.loads.from_job import Brought

_CLAUSE = cite("mechanics", "weight against the pull, 0.6 of dead load")


def pulled_ends(b: Brought) -> list[End]:
    """The harder end of every piece of a wall whose named hold-down is pulled."""
    return [e for e in shear_ends(b.model) if e.T > 0 and e.piece.hold_down is not None]


def hold_down_check(calc: Calculation, job: Job, b: Brought, by_length: float) -> None:
    """All hold-downs that one wind pulls against what edge and slab hold along the wall.

    by_length: 0.6 of edge and slab, plf. The line's own uplift is taken off first, though the pull has a part
    of it in it: the safe side. One end of each piece is pulled at a time.
    """
    ends = pulled_ends(b)
    if not ends:
        return
    left = by_length - max(b.lift, 0.0)
    pull = sum(e.T for e in ends)
    title = f"Pull of the hold-downs on the edge's weight, wall {b.name}"
    if left <= 0:
        calc.verdict(title, False, _CLAUSE, "no weight left over", "some required",
                     "The wall's own line takes all of the weight.")  # fmt: skip
        return
    capacity = left * b.model.length
    calc.check(
        title, Q(pull, "lbf"), Q(capacity, "lbf"), "lbf", _CLAUSE,
        "One end of each piece at a time; edge and slab along the whole wall, pads not counted.",
    )  # fmt: skip
    hardest = max(e.T for e in ends)
    l_e = calc.step(
        uplift.lifted_length, f"{b.name}: its hardest hold-down lifts this length of edge.",
        P=Q(hardest, "lbf"), r=Q(left, "plf"),
    )  # fmt: skip
    _not_followed(calc, job, b, f" It takes {show(l_e, 'ft', job.system)} of edge to weigh it down.")


def off_edge(calc: Calculation, job: Job, walls: Sequence[Brought]) -> None:
    """Hold-downs of walls without a thickened edge: nothing under them is counted."""
    for b in walls:
        if pulled_ends(b):
            _not_followed(calc, job, b, " The wall has no thickened edge, so no weight is counted.")


def _not_followed(calc: Calculation, job: Job, b: Brought, words: str) -> None:
    T = show(Q(max(e.T for e in pulled_ends(b)), "lbf"), "lbf", job.system)
    calc.ask_engineer(
        f"Anchors of the hold-downs in the concrete, wall {b.name}", hold_down_force.source,
        f"Up to {T} at an end, service level.{words} Its anchor, the edge's bending there and a pad under it are not "
        "followed further here.", job,
    )  # fmt: skip
