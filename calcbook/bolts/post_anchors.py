"""Anchors of posts that wind lifts or shears: bolts with heads, cast into their pad; steel, heads, side face and cone."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from shapely import Point, box

from calcbook.basis.formula import cite
from calcbook.basis.showing import show, show_length
from calcbook.basis.table import lookup, records
from calcbook.basis.units import Q, number_in
from calcbook.bolts.anchor_shear import interaction, steel_shear
from calcbook.bolts.anchors import bolt_stress_area, counted_strength
from calcbook.bolts.breaks import AT_LEAST, NOWHERE, around, counted
from calcbook.bolts.capacity import Place, allowed
from calcbook.bolts.hold_downs import bolt_modes, side_mode
from calcbook.bolts.in_concrete import cone, cone_allowed, pried_out, shear, shear_basis
from calcbook.bolts.sill import sill_rule
from calcbook.footings.pad_fit import isolated

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.bolts.bolted import Bolted
    from calcbook.bolts.breaks import Breaks
    from calcbook.job.file import Job
    from calcbook.job.schema.pads import Pad, PadPost

POST_TAPE = "Anchors of posts, set before the pour"
_COLUMNS = ["Post", "From the left side", "From the lower side", "Bolts", "In the concrete"]
_CLAUSE, _SHEAR = cite("ACI 318-19", "17.5.2"), cite("ACI 318-19", "17.7")
_WHY = {
    True: "An isolation joint cuts the slab off, so {it} cast into the pad alone.",
    False: "Slab and pad are one piece; no more of the slab is counted than lies over the pad, and none across a joint.",
}
_STRONGER = "A larger or deeper anchor (pads.anchor), or one farther from the edge."
NEAREST, NEXT = "breakout towards the nearest edge", "breakout towards the next edge"
_HAIR = 1e-6
_GROUP = (
    "They share the pull alike, under a stiff base whose middle is the post's. All share the shear in their steel; the row "
    "nearest an edge takes all of it in the concrete, the safe side."
)


@dataclass(frozen=True)
class PostAnchor:
    """The anchors of one post: its pad and post, their embedment, the post's place in the plan (feet), and the concrete around
    them; break_at, what: how far the nearest break of the slab is, in feet, and what it is."""

    pad: Pad
    post: PadPost
    depth: Quantity
    at: tuple[float, float]
    place: Place
    break_at: float = math.inf
    what: str = ""

    @property
    def name(self) -> str:
        """Of the post, with its pad where that has another name."""
        return self.post.name if self.post is self.pad else f"{self.post.name} on {self.pad.name}"

    @property
    def bolts(self) -> str:
        """How many anchors there are, and of what kind."""
        n = self.post.anchors
        return f"{'one bolt' if n == 1 else f'{n} bolts'} with a hexagonal head"


def anchors_of(job: Job, breaks: Breaks = NOWHERE) -> Iterator[PostAnchor]:
    """The anchors of every post that has some. breaks: where the slab is parted."""
    for index, pad in enumerate(job.pads):
        thickening = job.plan.thickenings[index]
        x0, y0, x1, y1 = (thickening.bottom & job.plan.slab).bounds
        over = 0.0 if isolated(job) else number_in(job.slab.thickness, "in")
        deep = Q(12 * thickening.depth + over, "in")
        for post in pad.standing:
            if not post.anchored or post.anchor_depth is None:
                continue
            x, y = (float(number_in(v, "ft")) for v in (pad.x + post.offset_x, pad.y + post.offset_y))
            s_x, s_y = (float(number_in(v, "ft")) for v in (post.anchor_apart_x, post.anchor_apart_y))
            group = (
                box(x - s_x / 2, y - s_y / 2, x + s_x / 2, y + s_y / 2) if s_x or s_y else Point(x, y)
            )
            (left, right, above, below), what = around(NOWHERE if isolated(job) else breaks, group)
            a0, b0, a1, b1 = group.bounds
            across, along = sorted(
                ((min(a0 - x0, left), min(x1 - a1, right), s_x), (min(b0 - y0, below), min(y1 - b1, above), s_y)),
                key=lambda side: min(side[:2]),
            )  # fmt: skip
            c_1, c_2, c_3, c_4 = (
                Q(max(v, AT_LEAST), "ft").to("in") for v in (*sorted(across[:2]), *along[:2])
            )
            s_1, s_2 = (Q(side[2], "ft").to("in") for side in (across, along))
            place = Place(c_1, c_2, c_3, c_4, deep.to("in"), s_2, float(post.anchors))
            place = replace(place, s_1=s_1) if s_1.magnitude else place
            yield PostAnchor(
                pad, post, post.anchor_depth, (x, y), place, min(left, right, above, below), what
            )


def post_anchors(
    calc: Calculation, job: Job, walls: Sequence[Bolted], breaks: Breaks = NOWHERE
) -> None:
    """Check the anchors of every post that wind lifts or shears. walls: whose bolts may stand near."""
    found = list(anchors_of(job, breaks))
    for a in found:
        T, V = (float(number_in(v, "lbf")) if v else 0.0 for v in (a.post.uplift, a.post.shear))
        if not T and not V:
            continue
        forces = [
            f"{show(Q(F, 'lbf'), 'lbf', job.system)} {does} it"
            for F, does in ((T, "pulls"), (V, "shears"))
            if F
        ]
        near = _bolts_near(a, walls)
        if near or a.break_at < AT_LEAST:
            why = (
                f"{near} of the walls stand nearer than 3 h_ef, so they share its cone: an engineer counts them together."
                if near
                else f"{a.what} runs over it."
            )
            calc.ask_engineer(
                f"Tension of the anchor of post {a.name}", _CLAUSE, f"{' and '.join(forces)} at service level, and {why}", job,
                "" if near else "Move the joint (joints.lines), or isolate the posts (joints.isolate).",
            )  # fmt: skip
            continue
        _one(calc, job, a, T, V)
    _shears(calc, job)
    if found:
        x0, y0 = job.plan.bounds[:2]
        rows = [
            [a.name, *(show_length(Q(v - o, "ft"), job.system) for v, o in zip(a.at, (x0, y0), strict=True)),
             _told(job, a.post), show_length(a.depth, job.system, True)]
            for a in found
        ]  # fmt: skip
        calc.table(POST_TAPE, records(_COLUMNS, rows))


def _told(job: Job, post: PadPost) -> str:
    """The bolts of a post's base for the one who sets them."""
    apart = [
        f"{show_length(v, job.system, True)} apart along {axis}"
        for v, axis in ((post.anchor_apart_x, "x"), (post.anchor_apart_y, "y"))
        if v.magnitude
    ]
    kind = f"{post.anchor} in., hexagonal head"
    return f"{post.anchors} of {kind}, {' and '.join(apart)}" if apart else kind


def _shears(calc: Calculation, job: Job) -> None:
    """What shear at the foot of a post asks beyond its anchors."""
    for post in (p for pad in job.pads for p in pad.standing if p.shear):
        anchors = "" if post.anchored else ", and its anchor (pads.hold_down, pads.anchor)"
        calc.ask_engineer(
            f"Shear at the foot of post {post.name}: its base and its pad", _SHEAR,
            f"{show(post.shear, 'lbf', job.system)} at service level. What the base holds by its maker's sheet, and how the pad passes "
            f"it on to slab and ground, is the engineer's{anchors}. It counts in the sliding of the whole.", job,
        )  # fmt: skip


def _one(calc: Calculation, job: Job, a: PostAnchor, T: float, V: float) -> None:
    """The checks of the anchors of one post, with their steps. T, V: its pull and shear at service level, pounds."""
    place, n = a.place, a.post.anchors
    it = "it is" if n == 1 else "they are"
    calc.note(
        f"Anchor of post {a.name}: {a.bolts}. {_WHY[isolated(job)].format(it=it)}{' ' + _GROUP if n > 1 else ''}"
    )
    alone = _alone(calc, job, a, T) if T else []
    N_cb = cone(calc.step, job, "cast", a.depth, place)
    N_a = _pulled(calc, job, a, T, alone, N_cb, not V) if T else 0.0
    if V:
        _sheared(calc, job, a, (N_a, T), V, N_cb)
    least, source, words = sill_rule("least cover")
    calc.check(
        f"Concrete below the anchor of post {a.name}", a.depth + least, place.h_a, "in", source,
        f"Embedment and {words[9:]}.", least=True, to_do="A deeper pad, or a shallower anchor.",
    )  # fmt: skip


def _alone(calc: Calculation, job: Job, a: PostAnchor, T: float) -> list[tuple[str, float, float]]:
    """(what could fail, its share of a pull, what is allowed) of steel, head and side face, in pounds. T: the pull, pounds."""
    post, place, one = a.post, a.place, T / a.post.anchors
    edges = place.c_1, min(place.c_3, place.c_4)
    row = (
        2 if place.s_2.magnitude else 1
    )  # of several heads at one face the first is counted for all of them
    alone = bolt_modes(calc.step, job, post.anchor)
    face = side_mode(calc.step, job, post.anchor, a.depth, edges)
    return [(name, one, held) for name, held in alone.items()] + [
        (name, one * row, held) for name, held in face.items()
    ]


def _pulled(
    calc: Calculation, job: Job, a: PostAnchor, T: float, alone: list[tuple[str, float, float]], N_cb: Quantity, unsheared: bool
) -> float:  # fmt: skip
    """Check the pull of a post's anchors; returns what they hold in tension together, pounds.

    T: the pull, pounds; alone: as ``_alone`` has it; N_cb: their nominal breakout strength; unsheared: no shear is given.
    """
    cut = float(number_in(cone_allowed(calc.step, job, "cast", N_cb), "lbf"))
    name, pull, held = min([*alone, ("breakout", T, cut)], key=lambda f: f[2] / f[1])
    near = a.break_at < 1.5 * number_in(a.depth, "ft")
    told = (
        f"Limited by {name}{', one of ' + str(a.post.anchors) if pull < T else ''}"
        f"{counted(a.what, a.break_at, job.system) if near else ''}."
        + " No shear at the foot of the post is given (pads.shear), so none is counted."
        * unsheared
    )
    calc.check(
        f"Tension of the anchor of post {a.name}", Q(pull, "lbf"), Q(held, "lbf"), "lbf", _CLAUSE, told,
        needs_engineer=True, to_do=_STRONGER,
    )  # fmt: skip
    return T * held / pull


def _sheared(
    calc: Calculation, job: Job, a: PostAnchor, pulled: tuple[float, float], V: float, N_cb: Quantity
) -> None:
    """Shear of a post's anchors, alone and with its pull. pulled: what they hold in tension together, and the pull, pounds."""
    modes = shear_modes(calc.step, job, a, N_cb)
    name = min(modes, key=lambda k: modes[k])
    held, (N_a, T) = modes[name], pulled
    calc.check(
        f"Shear of the anchor of post {a.name}", Q(V, "lbf"), Q(held, "lbf"), "lbf", _SHEAR,
        f"Limited by {name}{_edge_words(job, a, name)}.",
        needs_engineer=True, to_do=_STRONGER,
    )  # fmt: skip
    if T:
        r = calc.step(
            interaction, f"Pull and shear of the anchors of post {a.name} at once.",
            N=Q(T, "lbf"), N_a=Q(N_a, "lbf"), V=Q(V, "lbf"), V_a=Q(held, "lbf"),
        )  # fmt: skip
        calc.check(
            f"Tension and shear of the anchor of post {a.name}", r, 1.2, "1", interaction.source, needs_engineer=True,
            to_do=_STRONGER,
        )  # fmt: skip


def _edge_words(job: Job, a: PostAnchor, mode: str) -> str:
    """What is said where the edge that an anchor breaks out towards is a break of the slab."""
    towards = {NEAREST: a.place.c_1, NEXT: min(a.place.c_3, a.place.c_4)}.get(mode)
    if towards is None or abs(number_in(towards, "ft") - a.break_at) > _HAIR:
        return ""
    return counted(a.what, a.break_at, job.system)


def shear_modes(call: Any, job: Job, a: PostAnchor, N_cb: Quantity) -> dict[str, float]:
    """What a post's anchors hold in shear by each thing that could fail, pounds at service level, whichever way it goes.

    call: as in ``in_concrete``; N_cb: their nominal breakout strength in tension.
    """
    place = a.place
    row, grade = lookup("bolts", size=a.post.anchor), lookup("bolt_steel", grade=job.bolts.grade)
    d_a = Q(row["d_in"], "in")
    A_se = bolt_stress_area(d_a, Q(row["threads"], "1/in"))
    f_u = counted_strength(Q(grade["f_uta_psi"], "psi"), Q(grade["f_ya_psi"], "psi"))
    V_sa = call(steel_shear, "One anchor, sheared.", A_se=A_se, f_uta=f_u)
    steel = allowed(call, job, V_sa, "steel shear", "Steel in shear", "V_a_steel")
    found = {"steel": float(number_in(steel, "lbf")) * a.post.anchors}
    near, far = sorted((place.c_3, place.c_4))
    one = Q(0.0, "in")
    for words, c_1, c_2, c_3, s in (
        (NEAREST, place.c_1, near, far, place.s_2),
        (NEXT, near, place.c_1, place.c_2, place.s_1),
    ):
        at = Place(c_1, c_1, c_2, c_3, place.h_a, s, 2.0 if s > one else 1.0)
        V_b = shear_basis(call, job, a.depth, d_a, at)
        found[words] = float(number_in(shear(call, job, V_b, at, "out"), "lbf"))
    found["pryout"] = float(number_in(pried_out(call, job, a.depth, N_cb), "lbf"))
    return found


def _bolts_near(a: PostAnchor, walls: Sequence[Bolted]) -> str:
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
