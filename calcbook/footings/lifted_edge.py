"""The edge as a beam where jambs and hold-downs lift it: one beam, or ending at a joint that no bars cross."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from calcbook.basis.formula import cite
from calcbook.basis.showing import show_length
from calcbook.basis.units import Q, number_in
from calcbook.footings import uplift
from calcbook.footings.remedies import HEAVIER_EDGE, MORE_BARS
from calcbook.job.wall_lines import wall_line
from calcbook.loads.closing import LIFT, LIFT_STRENGTH, SERVICE, combination
from calcbook.loads.path import on_plate

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.footings.edge_run import EdgeRun, Piece
    from calcbook.footings.reinforced import EdgeStrength
    from calcbook.job.file import Job
    from calcbook.loads.from_job import Brought


_BARS_ALONE = "A joint crosses the edge there: bars alone count, which run through it below its cut, lapped all along."


@dataclass(frozen=True)
class Hold:
    """What holds the walls of the edge down, by length: the edge (plf), the slab (psf) with the length that its
    bending lets it lift; the bending strength of the edge, and what its bars hold across a joint, None without them."""

    w_e: Quantity
    q_s: Quantity
    L_s: Quantity
    bends: EdgeStrength
    across: Quantity | None

    def by_length(self, L_s: Quantity, g_D: float) -> Quantity:
        """Weight that counts for a wall; L_s: slab lifted beside it (ft); g_D: share of dead load. Returns plf."""
        return uplift.hold_of_edge(self.w_e, self.q_s, L_s, g_D)


@dataclass(frozen=True)
class Lift:
    """What lifts the edge at one place, pounds: at service level, or 0.6 of strength level where that is more, and at
    strength level; the piece of the edge that it stands on between joints, and the same with bars through them."""

    P: float
    P_u: float
    piece: Piece
    beam: Piece

    @classmethod
    def at(cls, run: EdgeRun, place: float, P: float, P_u: float) -> Lift:
        """The lift at a place of the edge; P, P_u: at service and at strength level."""
        return cls(
            max(P, SERVICE * P_u, 0.0),
            max(P_u, 0.0),
            run.piece_at(place),
            run.piece_at(place, beam=True),
        )


@dataclass(frozen=True)
class _Bent:
    """A lift with the piece of edge that it counts on and the weight left over, plf."""

    lift: Lift
    piece: Piece
    left: float

    @property
    def l_e(self) -> float:
        """Length of edge that weighs as much, feet."""
        return self.lift.P / self.left

    @property
    def ended(self) -> bool:
        """Whether the edge ends too near to hold by both of its sides."""
        return self.piece.near < self.l_e

    @property
    def moment(self) -> float:
        """What the edge is bent by, foot-pounds."""
        if not self.ended:
            return float(uplift.lift_moment.body(self.lift.P_u, self.l_e))
        return float(uplift.end_lift_moment.body(self.lift.P_u, self.l_e, self.piece.near))

    def share(self, top: float, bottom: float) -> float:
        """Of its strength with the top and with the bottom in tension (lbf ft), or of its length."""
        part = self.moment / (bottom if self.ended else top)
        return max(part, 2 * self.l_e / self.piece.length) if self.ended else part


@dataclass(frozen=True)
class Bending:
    """The check of one kind of lift on a wall's edge: what it is called, the words of its length, and of its moment."""

    what: str  # "jamb" or "hold-down"
    wall: str
    length_words: str
    moment_words: str

    @property
    def title(self) -> str:
        """Of the check of its moment."""
        return f"Bending moment of the edge at the governing {self.what}, wall {self.wall}"


def bending_check(
    calc: Calculation, job: Job, says: Bending, lifts: Sequence[Lift], r: Quantity, hold: Hold
) -> Quantity:
    """Check the edge as a beam under the lift that bends it most. r: weight left over by length.

    Returns the length of edge that weighs as much.
    """
    bent, bars = _governing(lifts, number_in(r, "plf"), hold)
    l_e = calc.step(uplift.lifted_length, says.length_words, P=Q(bent.lift.P, "lbf"), r=r)
    P_u, a = Q(bent.lift.P_u, "lbf"), Q(bent.piece.near, "ft")
    if bent.ended:
        M_u = calc.step(
            uplift.end_lift_moment, f"It lifts the edge {show_length(a, job.system)} from its end: a joint without bars that count, "
            "or a side without a thickened edge.", P=P_u, l_e=l_e, a=a,
        )  # fmt: skip
        face, strength = "bottom", hold.bends.bottom
    else:
        M_u = calc.step(uplift.lift_moment, says.moment_words, P=P_u, l_e=l_e)
        face, strength = "top", hold.bends.top
    clause, told = hold.bends.clauses[face], hold.bends.words[face]
    if bars is not None:
        strength, clause, told = bars, cite("ACI 318-19", "22.2"), _BARS_ALONE
    mend = _mend(l_e, job) if bent.ended else MORE_BARS
    calc.check(says.title, M_u, strength, "lbf*in", clause, told, needs_engineer=True, to_do=mend)
    if bent.ended:
        _one_piece(calc, job, says, l_e, Q(bent.piece.length, "ft"))
    return l_e


def _governing(lifts: Sequence[Lift], left: float, hold: Hold) -> tuple[_Bent, Quantity | None]:
    """The lift that bends the edge most, with what bars hold where they count through the joints and that holds more
    than the edge in pieces; None where they do not. left: weight left over, plf."""

    def worst(beam: bool, *strengths: Quantity) -> tuple[float, _Bent]:
        top, bottom = (number_in(M, "lbf*ft") for M in strengths)
        bent = [_Bent(one, one.beam if beam else one.piece, left) for one in lifts]
        return max(((b.share(top, bottom), b) for b in bent), key=lambda found: found[0])

    share, bent = worst(False, hold.bends.top, hold.bends.bottom)
    if hold.across is not None and bent.ended:
        through, as_beam = worst(True, hold.across, hold.across)
        if through <= share:
            return as_beam, hold.across
    return bent, None


def _one_piece(calc: Calculation, job: Job, says: Bending, l_e: Quantity, there: Quantity) -> None:
    """A piece of edge that is lifted beside its end must weigh enough by itself."""
    calc.check(
        f"Length of edge in one piece beside the governing {says.what}, wall {says.wall}", 2 * l_e, there, "ft",
        uplift.end_lift_moment.source, "Twice the length that weighs as much, lifted beside an end; a joint ends the edge.",
        needs_engineer=True, least=True, to_do=_mend(l_e, job),
    )  # fmt: skip


def _mend(l_e: Quantity, job: Job) -> str:
    """What a builder can do."""
    return (
        f"Bars along the edge at top and bottom, through the joints (edge.bars), or no joint within {show_length(l_e, job.system)} "
        "of it ([[joints.lines]])."
    )


# --- jambs, and pieces between joints -------------------------------------------------------------


def jamb_check(
    calc: Calculation, job: Job, b: Brought, run: EdgeRun, hold: Hold, by_length: float
) -> None:
    """The jamb or post that bends the edge most: the edge must be long enough beside it and bear its bending.

    by_length: 0.6 of edge and slab, plf.
    """
    lifts = _jamb_lifts(job, b, run)
    if not lifts:
        return
    left = by_length - max(b.lift, 0.0)
    says = Bending("jamb", b.name, f"{b.name}: its governing jamb lifts this length of edge.",
                   "The lift bends the edge so, top in tension.")  # fmt: skip
    if left <= 0:
        calc.verdict(says.title, False, cite("mechanics"), "no weight left over", "some required",
                     "The wall's own line takes all of the weight.", to_do=HEAVIER_EDGE)  # fmt: skip
        return
    l_e = bending_check(calc, job, says, lifts, Q(left, "plf"), hold)
    calc.check(f"Length of edge beside the governing jamb, wall {b.name}", l_e, Q(b.model.length, "ft"), "ft",
               uplift.lifted_length.source, "Against the wall's whole length; half to each side.", least=True,
               to_do=HEAVIER_EDGE)  # fmt: skip


def _jamb_lifts(job: Job, b: Brought, run: EdgeRun) -> list[Lift]:
    """What lifts at the jambs and posts of a wall."""
    service, strength = (
        {p.at: p.load for p in on_plate(b.model, combination(n)).points} for n in (LIFT, LIFT_STRENGTH)
    )
    line = wall_line(job.slab, job.walls[b.index], job.system)
    found = []
    for at in sorted(service | strength):
        P, P_u = service.get(at, 0.0), strength.get(at, 0.0)
        if P > 0 or P_u > 0:
            found.append(Lift.at(run, run.place(line, at), P, P_u))
    return found


def piece_check(
    calc: Calculation, job: Job, b: Brought, run: EdgeRun, hold: Hold, L_s: Quantity
) -> None:
    """Where no bars run through the joints: each piece of the edge holds what lifts on it, by its own weight.

    L_s: slab lifted beside the edge (ft).
    """
    joints = run.joints_along(wall_line(job.slab, job.walls[b.index], job.system))
    if hold.across is not None or not joints:
        return
    ends = [0.0, *joints, b.model.length]
    found = []
    for name in (LIFT, LIFT_STRENGTH):
        row = combination(name)
        on, R = on_plate(b.model, row), number_in(hold.by_length(L_s, row["D"]), "plf")
        for low, high in zip(ends, ends[1:], strict=False):
            up = sum(w * max(min(q, high) - max(p, low), 0.0) for p, q, w in on.lines)
            up += sum(p.load for p in on.points if low - 1e-6 <= p.at <= high + 1e-6)
            found.append(
                (max(up, 0.0) / (R * (high - low)), name, max(up, 0.0), R * (high - low), low, high)
            )
    _, name, up, R, low, high = max(found)
    calc.check(
        f"Uplift on the piece of edge that lifts most between joints, wall {b.name}", Q(up, "lbf"), Q(R, "lbf"), "lbf",
        combination(name)["source"], f"{name}; from {show_length(Q(low, 'ft'), job.system)} to "
        f"{show_length(Q(high, 'ft'), job.system)} along the wall. No weight is taken across a joint without bars.",
        to_do="Bars along the edge through the joints (edge.bars), or a heavier edge.",
    )  # fmt: skip
