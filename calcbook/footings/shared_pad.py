"""Several posts on one pad: resultant and bearing, bending and shear of the whole and at each post."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from calcbook.basis.arguments import reason
from calcbook.basis.formula import FormulaError, cite
from calcbook.basis.rounding import metric_rule
from calcbook.basis.showing import show, show_length
from calcbook.basis.table import records
from calcbook.basis.units import Q, number_in
from calcbook.footings import footing, pad_forces, plain
from calcbook.footings.asked_pad import AskedPad, Strength, asked, posts_on
from calcbook.footings.eccentric import eccentric_pressure, even_load, pressure_of
from calcbook.footings.pads import LEAST_THICKNESS, STRIP
from calcbook.footings.rigid_pad import (
    Stands,
    cell,
    greatest_moment,
    greatest_shear,
    in_contact,
    patterns,
    spread_apart,
)
from calcbook.footings.shared_uplift import pattern_of_lift, uplift_of_shared

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.footings.pad_fit import Footprint
    from calcbook.footings.rigid_pad import Pattern
    from calcbook.job.file import Job
    from calcbook.slab.soil import Ground

STATICS = cite("mechanics", "statics of a stiff pad on a plane of pressure")
BENDING = cite("ACI 318-19", "14.5.2.1")


def shared_pad(
    calc: Calculation,
    job: Job,
    index: int,
    seat: Footprint,
    ground: Ground,
    walls: Sequence[Stands] = (),
) -> tuple[float, Quantity] | None:
    """Every check of a pad with several posts; (worst ratio, pressure on the soil), or None where an engineer is asked.

    seat: the pad as it is built; ground: what it bears; walls: the share of one that stands on it as well.
    """
    on = asked(calc, job, index, seat, [*posts_on(job, index), *walls])
    beside = "".join(f" and its length of {w.name}, at its true line" for w in walls)
    calc.note(
        f"{on.name} carries {len(on.alone)} posts{beside}. The pad is stiff, so the soil presses by a plane whose middle is under the "
        "resultant of all loads. Each post counts full or with its dead load alone, and the worst choice governs. The slab "
        "around it helps with nothing."
    )
    enter_places(on)
    q = check_shared(on, ground)
    return None if q is None else (max(on.ratios), q)


def check_shared(on: AskedPad, ground: Ground) -> Quantity | None:
    """Enter every check of a pad with several posts; the pressure on the soil, or None where an engineer is asked for it."""
    calc, q = on.calc, _bearing(on, ground)
    if q is None:
        return None
    h = calc.step(
        plain.thickness_under_post,
        "Slab and pad are one piece."
        if on.one
        else "The pad alone: the isolation joint cuts the slab off.",
        t=on.t if on.one else Q(0, "in"), d=on.seat.d,
    )  # fmt: skip
    on.compare("Thickness of", metric_rule(LEAST_THICKNESS, on.system), h, "in", cite("ACI 318-19", "14.3.2.1"), least=True)  # fmt: skip
    strength = _concrete(on, h)
    uplift_of_shared(on, strength)
    return q


def enter_places(on: AskedPad) -> None:
    """Enter every load on a pad: where it stands, and what it brings."""
    system, rows = on.system, []
    for p in on.posts:
        rows.append([
            p.name, *(show_length(Q(v, "in"), system, True) for v in p.at),
            *(show(Q(v, "lbf"), "lbf", system) for v in (*p.loads, p.W)),
        ])  # fmt: skip
    columns = ["Post", "Off the middle, x", "y", "Dead", "Floor", "Roof", "Net uplift"]
    on.calc.table(f"Posts on {on.name}", records(columns, rows))


# --- soil ----------------------------------------------------------------------------------------


def pressure_on(on: AskedPad, pattern: Pattern) -> tuple[Any, dict[str, Any], float]:
    """(formula, inputs, psf) of the greatest pressure of a pattern. Raises FormulaError where it is out of reach."""
    e = [Q(abs(pattern.offset(on.posts, n)), "in") for n in (0, 1)]
    formula, inputs = pressure_of(Q(pattern.P, "lbf"), on.seat.L, on.seat.B, *e)
    return formula, inputs, float(number_in(formula(**inputs), "psf"))


def _bearing(on: AskedPad, ground: Ground) -> Quantity | None:
    """Bearing pressure in the worst pattern; None where the resultant is out of the formulas' reach."""
    calc, worst = on.calc, None
    try:
        for pattern in patterns("allowable", on.posts):
            found = (*pressure_on(on, pattern), pattern)
            worst = found if worst is None or found[2] > worst[2] else worst
    except FormulaError as error:
        calc.ask_engineer(
            f"Overturning of pad {on.name} with several loads", eccentric_pressure.source, reason(error)
        )
        return None
    assert worst is not None
    formula, inputs, _, pattern = worst
    calc.finding(f"All loads of {on.name} together, {pattern.name}.", "P_a", Q(pattern.P, "lbf"), "lbf",
                 STATICS, label="resultant, unfactored")  # fmt: skip
    for n, letter in enumerate("xy"):
        e = Q(abs(pattern.offset(on.posts, n)), "in")
        if e.magnitude > 1e-9:
            calc.finding(f"Sum of each load times its distance from the middle along {letter}, over that sum.",
                         f"e_{letter}", e, "in", STATICS, label=f"eccentricity along {letter}")  # fmt: skip
    q_max = calc.step(formula, "Pressure of the loads at the worst edge.", **inputs)
    P_e = calc.step(even_load, "Taken as if it pressed so all over.", "P_a", q_max=q_max, L=on.seat.L, B=on.seat.B)  # fmt: skip
    A = calc.step(footing.pad_area, "Area of the pad.", L=on.seat.L, B=on.seat.B)
    q_over = calc.step(
        footing.slab_weight,
        "The slab over the pad presses too.",
        t=on.t,
        gamma_c=footing.CONCRETE,
    )
    net = {}
    if ground.weight is not None:
        net["q_soil"] = calc.step(
            footing.dug_soil, "The soil dug out pressed before.", d=on.seat.d, gamma_s=ground.weight
        )
    q = calc.step(footing.bearing_pressure, "Pressure on the soil.", P=P_e, A=A, d=on.seat.d,
                  gamma_c=footing.CONCRETE, q_over=q_over, **net)  # fmt: skip
    assert ground.bearing is not None
    on.compare("Bearing pressure under", q, ground.bearing, "psf", cite("ASCE 7-16", "2.4.1"), words=f"{pattern.name} governs.")  # fmt: skip
    return q


# --- concrete ------------------------------------------------------------------------------------


def _concrete(on: AskedPad, h: Quantity) -> Strength:
    """Bending and shear of the whole pad both ways, then of the strip across it at each post, punching and bearing.

    Returns what a strip of the pad holds. h: whole thickness.
    """
    found = patterns("strength", on.posts)
    calc, f_c = on.calc, on.f_c
    h_e = calc.step(plain.soil_deduction, "What counts in strength.", h=h)
    M_n = calc.step(
        plain.plain_moment_strength, "Strength of a strip one foot wide.", f_c=f_c, b=STRIP, h=h_e
    )
    V_n = calc.step(plain.plain_one_way_shear_strength, "Shear strength of that strip.", f_c=f_c, b=STRIP, h=h_e)  # fmt: skip
    holds = Strength(h_e, M_n, V_n)
    if not all(in_contact(p, on.posts, on.sides) for p in found if p.P):
        on.calc.ask_engineer(
            f"Bending and shear of pad {on.name} with several posts", BENDING,
            "In a factored combination the pad lifts off the soil at one side, which these formulas do not cover.", on.answers,
            "Move the posts nearer to its middle, or enlarge it.",
        )  # fmt: skip
        return holds
    for axis, letter in ((0, "x"), (1, "y")):
        M, V = _whole(on, found, axis, letter, h_e)
        on.compare(f"Bending moment along {letter} of", M, M_n, "lbf*in", BENDING)
        on.compare(f"One-way shear along {letter} of", V, V_n, "lbf", cite("ACI 318-19", "14.5.5.1(a)"))
    up = pattern_of_lift(on.posts)
    for k, post in enumerate(on.posts):
        if post.runs is not None:
            continue  # a wall bends the pad as a whole, which is above
        P_u = max(p.loads[k] for p in found)
        pulled = max(
            P_u, -up.loads[k]
        )  # a post that lifts more than it ever presses bends the strip the other way
        for axis in (0, 1):
            if spread_apart(on.alone, axis):
                _strip(on, post, pulled, 1 - axis, h_e, (M_n, V_n))
        _punching(on, post, pulled, h_e)
        _under(on, post, P_u, h)
    return holds


def _whole(
    on: AskedPad, found: list[Pattern], axis: int, letter: str, h_e: Quantity
) -> tuple[Quantity, Quantity]:
    """Moment and shear of a strip one foot wide from the statics of the whole pad along an axis."""
    share = number_in(STRIP, "in") / on.sides[1 - axis]
    M, x_M, by_M = greatest_moment(found, on.posts, on.sides, axis)
    V, x_V, by_V = greatest_shear(found, on.posts, on.sides, axis, float(number_in(h_e, "in")))
    face = "top" if M < 0 else "bottom"
    at_M, at_V = (show_length(Q(abs(x), "in"), on.system, True) for x in (x_M, x_V))
    return (
        on.calc.finding(
            f"Along {letter}, statics of the whole pad, shared evenly over its width: greatest {at_M} from the middle, {face} in "
            f"tension, {by_M.name}.", "M_u", Q(abs(M) * share, "lbf*in"), "lbf*in", STATICS, label=f"factored moment along {letter}",
        ),
        on.calc.finding(
            f"Shear by the same statics, at the counted thickness from a post or farther: {at_V} from the middle, {by_V.name}.",
            "V_u", Q(abs(V) * share, "lbf"), "lbf", STATICS, label=f"factored shear along {letter}",
        ),
    )  # fmt: skip


def _strip(
    on: AskedPad,
    post: Stands,
    P_u: float,
    axis: int,
    h_e: Quantity,
    strength: tuple[Quantity, Quantity],
) -> None:
    """The strip that bends along an axis under one post: as wide as the post and the counted thickness to each side."""
    calc, beside, h = on.calc, 1 - axis, float(number_in(h_e, "in"))
    ends = cell(post, on.alone, on.sides)
    half = post.size[beside] / 2 + h
    (a, z), place = ends[beside], post.at[beside]
    wide = min(place + half, z) - max(place - half, a)
    start, end = ends[axis]
    x = max(end - post.at[axis], post.at[axis] - start) - post.size[axis] / 2
    letter = "xy"[axis]
    A = calc.step(footing.pad_area, f"{post.name}: the strip along {letter} under it, as wide as the post and the counted "
                  "thickness to each side.", L=Q(end - start, "in"), B=Q(wide, "in"))  # fmt: skip
    q_u = calc.step(pad_forces.factored_pressure, "All of the post's factored load, or its factored uplift where that is more, on that strip.", P_u=Q(P_u, "lbf"), A=A)  # fmt: skip
    reach = Q(max(x, 0.0), "in")
    M_u = calc.step(pad_forces.pad_moment, "Moment at the face of the post.", q_u=q_u, b=STRIP, x=reach)
    V_u = calc.step(
        pad_forces.pad_one_way_shear, "Shear of the strip.", q_u=q_u, b=STRIP, x=reach, h=h_e
    )
    on.compare(f"Bending moment along {letter} at {post.name},", M_u, strength[0], "lbf*in", BENDING)
    on.compare(f"One-way shear along {letter} at {post.name},", V_u, strength[1], "lbf", cite("ACI 318-19", "14.5.5.1(a)"))  # fmt: skip


def _punching(on: AskedPad, post: Stands, P_u: float, h_e: Quantity) -> None:
    """Punching of one post: all of its load, without the soil right under it."""
    title, clause = f"Two-way (punching) shear of {post.name},", cite("ACI 318-19", "14.5.5.1(b)(c)")
    h = float(number_in(h_e, "in"))
    ends = cell(post, on.alone, on.sides)
    if any(
        min(z - at, at - a) < (c + h) / 2
        for (a, z), at, c in zip(ends, post.at, post.size, strict=True)
    ):
        on.calc.ask_engineer(
            f"{title} pad {on.name}", clause,
            "Its critical section meets the side of the pad or that of another post.", on.answers, "Move the post, or enlarge the pad.",
        )  # fmt: skip
        return
    calc, (c_1, c_2) = on.calc, (Q(c, "in") for c in post.size)
    b_o = calc.step(pad_forces.punching_perimeter, f"{post.name}: where it would punch out.", c_1=c_1, c_2=c_2, h=h_e)  # fmt: skip
    beta = calc.step(plain.side_ratio, "Shape of the post.", c_1=c_1, c_2=c_2)
    V_n = calc.step(plain.plain_two_way_shear_strength, "Strength of that section.", f_c=on.f_c,
                    b_o=b_o, h=h_e, beta=beta)  # fmt: skip
    on.compare(title, Q(P_u, "lbf"), V_n, "lbf", clause)


def _under(on: AskedPad, post: Stands, P_u: float, h: Quantity) -> None:
    """The concrete right under one post: it may spread as far as the nearest side, or halfway to the next post."""
    calc = on.calc
    ends = cell(post, on.alone, on.sides)
    L, B = (
        Q(max(2 * min(z - at, at - a), c), "in")
        for (a, z), at, c in zip(ends, post.at, post.size, strict=True)
    )
    c_1, c_2 = (Q(c, "in") for c in post.size)
    A_1 = calc.step(plain.contact_area, f"{post.name}: area right under it.", c_1=c_1, c_2=c_2)
    A_2 = calc.step(plain.spread_area, "Area it may spread to.", L=L, B=B, c_1=c_1, c_2=c_2, h=h)
    B_n = calc.step(plain.plain_bearing_strength, "Strength right under the post.", f_c=on.f_c,
                    A_1=A_1, A_2=A_2)  # fmt: skip
    on.compare(f"Bearing of {post.name} on", Q(P_u, "lbf"), B_n, "lbf", cite("ACI 318-19", "14.5.6.1"))
