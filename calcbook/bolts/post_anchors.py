"""Anchors of posts that wind lifts: each a bolt with a head, cast into its pad; steel, head, side face and cone."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from calcbook.basis.formula import cite
from calcbook.basis.showing import show, show_length
from calcbook.basis.table import records
from calcbook.basis.units import Q, number_in
from calcbook.bolts.capacity import Place
from calcbook.bolts.hold_downs import bolt_modes, side_mode
from calcbook.bolts.in_concrete import cone, cone_allowed
from calcbook.bolts.sill import sill_rule
from calcbook.footings.pad_fit import isolated

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.bolts.bolted import Bolted
    from calcbook.job.file import Job
    from calcbook.job.schema.pads import Pad, PadPost

POST_TAPE = "Anchors of posts, set before the pour"
_COLUMNS = ["Post", "From the left side", "From the lower side", "Bolt", "In the concrete"]
_CLAUSE = cite("ACI 318-19", "17.5.2")
_WHY = {
    True: "An isolation joint cuts the slab off, so it is cast into the pad alone.",
    False: "Slab and pad are one piece; no more of the slab is counted than lies over the pad.",
}


@dataclass(frozen=True)
class PostAnchor:
    """The anchor of one post: its pad and post, its embedment, its place in the plan (feet), and the concrete around it."""

    pad: Pad
    post: PadPost
    depth: Quantity
    at: tuple[float, float]
    place: Place

    @property
    def name(self) -> str:
        """Of the post, with its pad where that has another name."""
        return self.post.name if self.post is self.pad else f"{self.post.name} on {self.pad.name}"


def anchors_of(job: Job) -> Iterator[PostAnchor]:
    """The anchor of every post that has one."""
    for index, pad in enumerate(job.pads):
        thickening = job.plan.thickenings[index]
        x0, y0, x1, y1 = (thickening.bottom & job.plan.slab).bounds
        over = 0.0 if isolated(job) else number_in(job.slab.thickness, "in")
        deep = Q(12 * thickening.depth + over, "in")
        for post in pad.standing:
            if not post.anchored or post.anchor_depth is None:
                continue
            x, y = (float(number_in(v, "ft")) for v in (pad.x + post.offset_x, pad.y + post.offset_y))
            across, along = sorted(((x - x0, x1 - x), (y - y0, y1 - y)), key=min)
            c_1, c_2, c_3, c_4 = (Q(12 * max(v, 0.0), "in") for v in (*sorted(across), *along))
            yield PostAnchor(pad, post, post.anchor_depth, (x, y), Place(c_1, c_2, c_3, c_4, deep))


def post_anchors(calc: Calculation, job: Job, walls: Sequence[Bolted]) -> None:
    """Check the anchor of every post that wind lifts, alone in its cone. walls: whose bolts may stand near."""
    found = list(anchors_of(job))
    for a, T in ((a, a.post.uplift) for a in found):
        if T is None or not T.magnitude:
            continue
        near = _bolts_near(job, a, walls)
        if near:
            calc.ask_engineer(
                f"Tension of the anchor of post {a.name}", _CLAUSE,
                f"{show(T, 'lbf', job.system)} pulls it at service level, and {near} of the walls stand nearer than 3 h_ef, "
                "so they share its cone: an engineer counts them together.", job,
            )  # fmt: skip
            continue
        _one(calc, job, a, float(number_in(T, "lbf")))
    if found:
        x0, y0 = job.plan.bounds[:2]
        rows = [
            [a.name, *(show_length(Q(v - o, "ft"), job.system) for v, o in zip(a.at, (x0, y0), strict=True)),
             f"{a.post.anchor} in., hexagonal head", show_length(a.depth, job.system, True)]
            for a in found
        ]  # fmt: skip
        calc.table(POST_TAPE, records(_COLUMNS, rows))


def _one(calc: Calculation, job: Job, a: PostAnchor, T: float) -> None:
    """The checks of one anchor, with its steps. T: its pull at service level, pounds."""
    post, place = a.post, a.place
    calc.note(f"Anchor of post {a.name}: one bolt with a hexagonal head. {_WHY[isolated(job)]}")
    edges = place.c_1, min(place.c_3, place.c_4)
    alone = bolt_modes(calc.step, job, post.anchor) | side_mode(
        calc.step, job, post.anchor, a.depth, edges
    )
    N_cb = cone(calc.step, job, "cast", a.depth, place)
    held = float(number_in(cone_allowed(calc.step, job, "cast", N_cb), "lbf"))
    name, held = min({**alone, "breakout": held}.items(), key=lambda f: f[1])
    calc.check(
        f"Tension of the anchor of post {a.name}", Q(T, "lbf"), Q(held, "lbf"), "lbf", _CLAUSE,
        f"Limited by {name}. Shear at the foot of the post is not counted: its base takes it.", needs_engineer=True,
        to_do="A larger or deeper anchor (pads.anchor), or one farther from the edge.",
    )  # fmt: skip
    least, source, words = sill_rule("least cover")
    calc.check(
        f"Concrete below the anchor of post {a.name}", a.depth + least, place.h_a, "in", source,
        f"Embedment and {words[9:]}.", least=True, to_do="A deeper pad, or a shallower anchor.",
    )  # fmt: skip


def _bolts_near(job: Job, a: PostAnchor, walls: Sequence[Bolted]) -> str:
    """The sill bolts and anchors of hold-downs that share an anchor's cone, in words; "" where none does."""
    bolts = heads = 0
    for w in walls:
        edge = number_in(w.sill.edge_distance, "ft")
        bolts += sum(_near(a, w.line.at(at, edge), w.h_ef) for _, at in w.plate[1])
        for piece in w.sill.braced:
            if piece.anchor is None:
                continue
            off = edge if piece.anchor_edge is None else number_in(piece.anchor_edge, "ft")
            heads += sum(
                _near(a, w.line.at(number_in(at, "ft"), off), piece.anchor_depth)
                for at in piece.anchors
            )
    told = [f"{n} {noun}" for n, noun in ((bolts, "sill bolts"), (heads, "anchors of hold-downs")) if n]
    return " and ".join(told)


def _near(a: PostAnchor, at: tuple[float, float], depth: Quantity) -> bool:
    """Whether something at a place, so deep, shares the cone."""
    return math.dist(a.at, at) < 3 * float(number_in(max(a.depth, depth), "ft"))
