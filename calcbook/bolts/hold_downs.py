"""Anchors of hold-downs at the ends of shear walls: steel, head, side face, and the cone shared with sill bolts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from calcbook.basis.formula import cite
from calcbook.basis.showing import show, show_length
from calcbook.basis.table import lookup, records
from calcbook.basis.units import Q, number_in
from calcbook.bolts.anchors import (
    bolt_stress_area,
    counted_strength,
    headed_pullout,
    side_face_blowout,
    steel_tension,
)
from calcbook.bolts.bolted import depth_at
from calcbook.bolts.breaks import beside, counted
from calcbook.bolts.capacity import Place, allowed, unshown
from calcbook.bolts.in_concrete import blows_out, cone, cone_allowed
from calcbook.bolts.sill import sill_rule

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.bolts.bolted import Bolted
    from calcbook.job.file import Job
    from calcbook.job.schema.walls import BracedPiece
    from calcbook.loads.ends import End


@dataclass(frozen=True)
class Anchor:
    """The anchor at one end of a piece of shear wall: at, in feet from the wall's start; bolts: numbers of the sill
    bolts that share its cone, and what they are asked to hold (pounds)."""

    wall: Bolted
    end: End
    piece: BracedPiece
    at: float
    bolts: tuple[int, ...]

    @property
    def c_1(self) -> Quantity:
        """From the slab's edge."""
        return (
            self.piece.anchor_edge
            if self.piece.anchor_edge is not None
            else self.wall.sill.edge_distance
        )

    @property
    def h_ef(self) -> Quantity:
        """Embedment of what shares the cone: the least of all counts for all."""
        depths = [self.piece.anchor_depth, *([self.wall.h_ef] if self.bolts else [])]
        return min(depths, key=lambda depth: number_in(depth, "in"))

    @property
    def pulls(self) -> list[tuple[float, float]]:
        """(place in feet, pull in pounds) of the anchor and of the bolts in its cone."""
        w = self.wall
        return [(self.at, self.end.T), *((w.plate[1][k][1], w.forces["uplift"][k]) for k in self.bolts)]

    @property
    def name(self) -> str:
        """The anchor in words."""
        return f"{self.wall.sill.name}, hold-down at {self.wall.layout.rules.at(round(self.at / self.wall.foot))}"


def anchors(w: Bolted) -> Iterator[Anchor]:
    """Every anchor of a wall that is pulled and named."""
    if not w.sill.braced:
        return
    places = [at for _, at in w.plate[1]]
    for end, piece in zip(w.brought.ends, w.sill.braced, strict=False):
        if piece.anchor is None or end.T <= 0:
            continue
        reach = 3 * max(number_in(depth, "ft") for depth in (piece.anchor_depth, w.h_ef))
        inside = end.piece.anchor_in
        for at in (end.piece.start + inside, end.piece.end - inside):
            near = tuple(
                k for k, x in enumerate(places) if abs(x - at) < reach and not w.beside.parts(x, at)
            )
            yield Anchor(w, end, piece, at, near)


def hold_down_anchors(calc: Calculation, job: Job, walls: Sequence[Bolted]) -> None:
    """Check the anchors of every wall's hold-downs; the steps of the hardest one of all, a row for each wall."""
    hardest = []
    sizes = {piece.anchor for w in walls for piece in w.sill.braced if piece.anchor}
    held = {size: bolt_modes(unshown, job, size) for size in sizes}
    for w in walls:
        found = [(a, modes(unshown, job, a, held[str(a.piece.anchor)])) for a in anchors(w)]
        if found:
            hardest.append(max(found, key=_use))
    if not hardest:
        return
    worst, _ = max(hardest, key=_use)
    calc.note(
        f"Anchors of hold-downs, each with a hexagonal head. The steps are those of the governing one: {worst.name}. "
        "Sill bolts nearer than 3 h_ef share its cone: their uplift is added to its pull, and the least embedment counts "
        "for all. The uplift of the wall's end is so counted in both, the safe side. The sill bolts alone take the shear."
    )
    rows = []
    for a, known in hardest:
        rows.append(_check(calc, job, a, modes(calc.step, job, a) if a is worst else known))
    columns = [
        "Wall",
        "Anchor",
        "Embedment",
        "Pull, service level",
        "With bolts near",
        "Limited by",
        "Ratio",
    ]
    calc.table("Anchors of hold-downs, the governing one of each wall", records(columns, rows))
    calc.caution(
        "Set the anchors of hold-downs by a template, plumb, before the pour; their length follows from the hold-down's own sheet."
    )


def _use(found: tuple[Anchor, list[tuple[str, float, float]]]) -> float:
    """The greatest share of what is allowed that an anchor is asked to hold. found: with its ``modes``."""
    return max(pull / held for _, pull, held in found[1])


def modes(
    call: Callable[..., Any], job: Job, a: Anchor, bolt: dict[str, float] | None = None
) -> list[tuple[str, float, float]]:
    """(what could fail, pull, what is allowed) of an anchor, in pounds at service level.

    call: as in ``in_concrete``; bolt: of ``bolt_modes``, where that is known.
    """
    place, e_N = around(job, a)
    c_1, *along = (number_in(c, "in") for c in (place.c_1, place.c_3, place.c_4))
    edges = place.c_1, Q(max(min(along), c_1), "in")
    alone = bolt_modes(call, job, a.piece.anchor) if bolt is None else bolt
    alone = alone | side_mode(call, job, a.piece.anchor, a.piece.anchor_depth, edges)
    off = {"e_N": e_N} if e_N.magnitude else {}
    N_cb = cone(call, job, "cast", a.h_ef, place, **off)
    together = sum(T for _, T in a.pulls)
    cut = number_in(cone_allowed(call, job, "cast", N_cb), "lbf")
    return [*((name, a.end.T, held) for name, held in alone.items()), ("breakout", together, cut)]


def bolt_modes(call: Callable[..., Any], job: Job, size: Any) -> dict[str, float]:
    """What is allowed by steel and head of an anchor of a size, wherever it stands, in pounds at service level."""
    f_c = job.concrete.strength
    row, grade = lookup("bolts", size=size), lookup("bolt_steel", grade=job.bolts.grade)
    d, A_brg = Q(row["d_in"], "in"), Q(row["A_hex_in2"], "in2")
    A_se = call(
        bolt_stress_area, "Steel left between the anchor's threads.", d=d, n_t=Q(row["threads"], "1/in")
    )
    f_u = call(
        counted_strength, f"{job.bolts.grade}.", f_uta=Q(grade["f_uta_psi"], "psi"), f_ya=Q(grade["f_ya_psi"], "psi")
    )  # fmt: skip
    N_sa = call(steel_tension, "The anchor itself, pulled.", A_se=A_se, f_uta=f_u)
    N_pn = call(
        headed_pullout, "Its head pulled through.", f_c=f_c, A_brg=A_brg,
        psi_cP=1.4 if job.bolts.concrete == "uncracked" else 1.0,
    )  # fmt: skip
    found = {
        "steel": allowed(call, job, N_sa, "steel tension", "Steel in tension", "N_a_steel"),
        "pullout": allowed(call, job, N_pn, "pullout", "Pullout", "N_a_pull"),
    }
    return {name: float(number_in(held, "lbf")) for name, held in found.items()}


def side_mode(
    call: Callable[..., Any], job: Job, size: Any, depth: Quantity, edges: tuple[Quantity, Quantity]
) -> dict[str, float]:
    """The same by the side face beside the head, where it could blow out.

    size: of the bolt; depth: its embedment; edges: nearest edge, and the nearest across that (lengths).
    """
    if not blows_out(depth, edges[0]):
        return {}
    N_sb = call(
        side_face_blowout, "The face of the edge blown off beside the head.", c_a1=edges[0],
        A_brg=Q(lookup("bolts", size=size)["A_hex_in2"], "in2"), f_c=job.concrete.strength, c_a2=edges[1],
    )  # fmt: skip
    held = allowed(call, job, N_sb, "concrete tension", "Side face", "N_a_side")
    return {"side face": float(number_in(held, "lbf"))}


def around(job: Job, a: Anchor) -> tuple[Place, Quantity]:
    """(surroundings of an anchor with the bolts in its cone, how far their pull is off their middle)."""
    w, pulls = a.wall, a.pulls
    places = sorted(x for x, _ in pulls)
    first, last = places[0], places[-1]
    middle = sum(x for x, _ in pulls) / len(pulls)
    total = sum(T for _, T in pulls)
    off = abs(sum(T * (x - middle) for x, T in pulls) / total)
    x0, y0, x1, y1 = job.plan.bounds
    line, c_1 = w.line, float(number_in(a.c_1, "ft"))
    before, after, inside, outside = beside(w.breaks, line, places, c_1).of_row(places, 0, len(places))
    near, far = sorted((min(c_1, outside), min(min(x1 - x0, y1 - y0) - c_1, inside)))
    place = Place(
        Q(near, "ft"), Q(far, "ft"), Q(min(line.before + first, before), "ft"),
        Q(min(line.length + line.after - last, after), "ft"),
        depth_at(job, w.sill, a.c_1), Q(last - first, "ft"), float(len(pulls)),
    )  # fmt: skip
    return place, Q(off if off > 1e-9 else 0.0, "ft")


def _joint(job: Job, a: Anchor) -> str:
    """The joint, box or opening that cuts the cone of an anchor, in words; "" where none does."""
    near = beside(a.wall.breaks, a.wall.line, [a.at], float(number_in(a.c_1, "ft")))
    far = near.nearest(0)
    return counted(near.names[0], far, job.system) if far < 1.5 * number_in(a.h_ef, "ft") else ""


def _check(calc: Calculation, job: Job, a: Anchor, found: list[tuple[str, float, float]]) -> list[Any]:
    """The checks of one anchor; returns its row of the table."""
    name, T, held = max(found, key=lambda f: f[1] / f[2])
    shared = (
        f" with {len(a.bolts)} sill bolt{'s' * (len(a.bolts) > 1)} near"
        if a.bolts and name == "breakout"
        else ""
    )
    calc.check(
        f"Tension of the anchors of hold-downs, wall {a.wall.sill.name}", Q(T, "lbf"), Q(held, "lbf"), "lbf",
        cite("ACI 318-19", "17.5.2"), f"{a.name}, limited by {name}{shared}{_joint(job, a)}.", needs_engineer=True,
        to_do="A larger or deeper anchor (walls.braced), or one farther from the edge.",
    )  # fmt: skip
    least, source, words = sill_rule("least cover")
    calc.check(
        f"Concrete below the anchors of hold-downs, wall {a.wall.sill.name}", a.piece.anchor_depth + least,
        depth_at(job, a.wall.sill, a.c_1), "in", source, f"Embedment and {words[9:]}.", least=True, to_do="A deeper edge there, or a shallower anchor.",
    )  # fmt: skip
    return [
        a.name, f"{a.piece.anchor} in.", show_length(a.piece.anchor_depth, job.system, True),
        show(Q(a.end.T, "lbf"), "lbf", job.system), show(Q(sum(p for _, p in a.pulls), "lbf"), "lbf", job.system),
        name, f"{T / held:.2f}",
    ]  # fmt: skip
