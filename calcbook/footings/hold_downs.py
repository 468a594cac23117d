"""Hold-downs at the ends of shear walls: the edge's weight and bending against their pull, the soil under their thrust."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.formula import cite
from calcbook.basis.showing import show
from calcbook.basis.units import Q
from calcbook.footings import uplift
from calcbook.footings.lifted_edge import Bending, Lift, bending_check
from calcbook.footings.remedies import HEAVIER_EDGE
from calcbook.job.wall_lines import wall_line
from calcbook.loads.statics import hold_down_force

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.footings.edge_run import EdgeRun
    from calcbook.footings.lifted_edge import Hold
    from calcbook.job.file import Job
    from calcbook.loads.ends import End
    from calcbook.loads.from_job import Brought

_CLAUSE = cite("mechanics", "weight against the pull, 0.6 of dead load")


def pulled_ends(b: Brought) -> list[End]:
    """The harder end of every piece of a wall whose named hold-down is pulled."""
    return [e for e in b.ends if e.T > 0 and e.piece.hold_down is not None]


def hold_down_check(
    calc: Calculation, job: Job, b: Brought, by_length: float, hold: Hold, run: EdgeRun
) -> None:
    """Wall and edge against turning over, and the edge as a beam under the hardest pull.

    by_length: 0.6 of edge and slab, plf; hold: what it bears; run: where joints end it. The line's own uplift is taken off
    the weight, so of each pull only what comes beyond it lifts the edge.
    """
    ends = pulled_ends(b)
    if not ends:
        return
    title = f"Overturning moment of wall and edge about the lee end, wall {b.name}"
    left = by_length - max(b.lift, 0.0)
    if left <= 0:
        calc.verdict(title, False, _CLAUSE, "no weight left over", "some required",
                     "The wall's own line takes all of the weight.", to_do=HEAVIER_EDGE)  # fmt: skip
        return
    L, r = Q(b.model.length, "ft"), Q(by_length - b.lift, "plf")
    M_o = calc.step(
        uplift.overturning_moment, f"{b.name}: its shear turns it over about its lee end; the slab takes the shear at its own level.",
        v=Q(b.model.along, "plf"), L=L, h=Q(b.model.height, "ft"),
    )  # fmt: skip
    M_r = calc.step(
        uplift.righting_moment, f"Edge, slab and what the wall brings hold it{_line(b, job)}.", r=r, L=L
    )
    calc.check(
        title, M_o, M_r, "lbf*in", _CLAUSE,
        "Edge and slab along the whole wall alone: neither edges around its corners nor pads are counted.",
        to_do=HEAVIER_EDGE,
    )  # fmt: skip
    says = Bending(
        "hold-down", b.name, f"{b.name}: its governing hold-down lifts this length of edge, beside what the line lifts.",
        "It bends the edge so. At a corner the edges of both sides lift, each by half, and bend as much.",
    )  # fmt: skip
    bending_check(calc, job, says, _lifts(job, b, run), Q(left, "plf"), hold)
    _not_followed(calc, job, b, "")


def _line(b: Brought, job: Job) -> str:
    """What the wall's own line takes off the weight, or adds to it."""
    told = show(Q(abs(b.lift), "plf"), "plf", job.system)
    return (
        f": {told} of it {'is lifted' if b.lift > 0 else 'comes'} by the wall's own line"
        if b.lift
        else ""
    )


def _lifts(job: Job, b: Brought, run: EdgeRun) -> list[Lift]:
    """What the hold-downs at both ends of each piece of the shear wall lift the edge by; wind blows both ways."""
    line = wall_line(job.slab, job.walls[b.index], job.system)
    return [
        Lift.at(run, run.place(line, at), e.beyond, e.beyond_u)
        for e in pulled_ends(b)
        for at in (e.piece.start, e.piece.end)
    ]


def off_edge(calc: Calculation, job: Job, walls: Sequence[Brought]) -> None:
    """Hold-downs of walls without a thickened edge: nothing under them is counted."""
    for b in walls:
        if pulled_ends(b):
            _not_followed(calc, job, b, " The wall has no thickened edge, so no weight is counted.")


def _not_followed(calc: Calculation, job: Job, b: Brought, words: str) -> None:
    """Ask where the pull is not followed on: no anchor named, no bolts laid out there, or no edge below (words)."""
    wall = job.walls[b.index]
    anchored = all(e.piece.anchor_in for e in pulled_ends(b)) and wall.side is not None and wall.bolted
    if anchored and not words:
        return
    T = show(Q(max(e.T for e in pulled_ends(b)), "lbf"), "lbf", job.system)
    lacking = (
        "" if anchored else " No anchor is named that could be checked among the bolts (walls.braced)."
    )
    calc.ask_engineer(
        f"Anchors of the hold-downs in the concrete, wall {b.name}", hold_down_force.source,
        f"Up to {T} at an end, service level.{words}{lacking}", job,
    )  # fmt: skip
