"""Bolts beside joints, boxes around posts and openings: kept off them where the plate allows it, else counted so."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from calcbook.basis.calculation import Calculation
from calcbook.basis.showing import show_length
from calcbook.basis.units import Q, number_in
from calcbook.bolts.anchor_bond import bond_reach
from calcbook.bolts.bolted import Row, place_of_row
from calcbook.bolts.breaks import counted, stretches
from calcbook.bolts.capacity import bolt_row, plain
from calcbook.bolts.in_concrete import bond_stresses, concrete
from calcbook.bolts.sill import sill_rule
from calcbook.plan.tape import Block, inch_steps

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from calcbook.basis.units import Quantity
    from calcbook.bolts.bolted import Bolted
    from calcbook.bolts.breaks import Breaks
    from calcbook.bolts.capacity import Capacity, Place
    from calcbook.job.file import Job
    from calcbook.job.wall_lines import WallLine

CONVENTION = (
    "A sawn joint is a crack that is asked for. Cracked concrete is meant for cracks of about 0.012 in. (ACI 318-19 "
    "R17.6.2.5.1, from memory), and a joint may open wider, also below the cut. So each joint, each box around a post and "
    "each opening counts as a free edge, in the whole depth: no concrete is counted across it, and no row of bolts goes on "
    "over it. This is the safe side; the anchor chapter does not say it."
)
BY_BOLT = "Bolt by bolt, service level"
_SHARES = (1.0, 0.6, 0.3, 0.15)  # of the distance kept from a break: as much as can be
_HAIR = 1e-6


def blocks_beside(
    breaks: Breaks, line: WallLine, off: Quantity, clear: Quantity, system: str
) -> tuple[tuple[Block, ...], ...]:
    """What the bolts of a wall had rather miss: places nearer to a break than the clear distance, then than less of it.

    off: of the bolts from the slab's edge; clear: that distance (lengths).
    """
    edge, far = (float(number_in(q, "ft")) for q in (off, clear))
    return tuple(
        tuple(
            Block(inch_steps(12 * a, system, up=False), inch_steps(12 * b, system, up=True), f"too near {name}")
            for a, b, name in found
        )
        for found in stretches(breaks, line, edge, [share * far for share in _SHARES])
    )  # fmt: skip


def with_own(job: Job, walls: Sequence[Bolted], corner: Quantity) -> list[Bolted]:
    """The walls, with what each bolt holds that stands nearer to a break than ``corner``, as at an end of the slab."""
    known: dict[tuple[Any, ...], Capacity] = {}
    found = [(w, dict(_near(job, w, corner, known))) for w in walls]
    return [replace(w, own=own) if own else w for w, own in found]


def _near(
    job: Job, w: Bolted, corner: Quantity, known: dict[tuple[Any, ...], Capacity]
) -> Iterator[tuple[int, Capacity]]:
    d_a = Q(bolt_row(job)["d_in"], "in")
    reach = 1.5 * max(w.h_ef, w.sill.edge_distance)
    if w.sill.method == "drilled":
        reach = max(reach, bond_reach(d_a, bond_stresses(job)[1]))
    look = float(number_in(max(reach, corner), "ft"))
    near_by = [k for k in range(len(w.layout.bolts)) if w.beside.nearest(k) < look]
    for k in near_by:
        at = place_of_one(job, w, k)
        near, far = at.c_3, at.c_4
        less = (
            near.m_as("in") < corner.m_as("in") - _HAIR,
            far < reach,
            at.c_2 < reach,
            at.c_1 < w.sill.edge_distance,
        )
        if not any(less):
            continue
        key = w.sill.method, plain(w.sill.ply * w.sill.plies), plain(w.h_ef), at.key
        if key not in known:
            known[key] = _in_concrete(Calculation("aside", "", "", job.system), job, w, at)
        yield k, replace(w.capacity.with_part(known[key]), exempt=known[key].exempt)


def place_of_one(job: Job, w: Bolted, k: int) -> Place:
    """Surroundings of one bolt, its nearer end first."""
    at = place_of_row(job, Row(w, k, k + 1))
    near, far = sorted((at.c_3, at.c_4))
    broken = Q(min(w.beside.before[k], w.beside.after[k]), "ft")
    end = w.beside.ends[k] if broken <= near * (1 + _HAIR) else at.end
    return replace(at, c_3=near, c_4=far, end=end)


def _in_concrete(calc: Calculation, job: Job, w: Bolted, at: Place) -> Capacity:
    return concrete(calc, job, w.sill.method, w.sill.ply * w.sill.plies, w.h_ef, at)


def parted_checks(
    calc: Calculation, job: Job, walls: Sequence[Bolted], use: Callable[[Bolted, int], float]
) -> None:
    """How near the bolts stand to a break, and the steps of the one beside a break that works hardest.

    use: share of what a bolt may hold, of a wall and a number.
    """
    found = [(w.beside.nearest(k), w, k) for w in walls for k in range(len(w.layout.bolts))]
    if not found or not any(w.breaks.lines for w in walls):
        return
    calc.note(CONVENTION)
    own = [(use(w, k), n, k) for n, w in enumerate(walls) for k in w.own]
    if own:
        _, n, k = max(own)
        w = walls[n]
        calc.note(f"Bolt {k + 1} of the wall {w.sill.name}{beside_words(job, w, k)}. Its concrete:")
        _in_concrete(calc, job, w, place_of_one(job, w, k))
    nearest, w, k = min(found, key=lambda f: f[0])
    least, source, words = sill_rule("least joint")
    if nearest == float("inf"):
        return
    off, _, _ = sill_rule("exempt end", Q(bolt_row(job)["d_in"], "in"))
    far = show_length(off, job.system, True)
    stand = (
        f"{len(own)} bolts stand where a joint, box or opening takes some of their strength, as the pieces of plate leave no other "
        f"place: see {BY_BOLT!r}."
        if own
        else f"Every bolt stands at least {far} off, as at an end of the slab, and holds as much as was counted."
    )
    calc.check(
        "Distance of the sill bolts from joints, boxes of posts and openings", least, Q(nearest, "ft").to("in"), "in", source,
        f"Bolt {k + 1} of the wall {w.sill.name} stands nearest, beside {w.beside.names[k]}; {words}. {stand}", least=True,
        to_do="Move the joint (joints.lines), or the joint of the plate (walls.splices).",
    )  # fmt: skip


def beside_words(job: Job, w: Bolted, k: int) -> str:
    """What is said of what stands nearest to a bolt that holds less beside it; "" for another bolt."""
    return counted(w.beside.names[k], w.beside.nearest(k), job.system) if k in w.own else ""
