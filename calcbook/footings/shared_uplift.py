"""Posts that lift a pad they share: its weight against the sum and about each side, and its bending with the top in tension."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.formula import cite
from calcbook.basis.showing import show, show_length
from calcbook.basis.units import Q, number_in
from calcbook.footings import footing
from calcbook.footings.lifted_pad import lifted_beam, lifted_pattern, resultant
from calcbook.footings.pads import STRIP
from calcbook.footings.rigid_pad import moment_of, shear_of
from calcbook.loads.closing import LIFT, LIFT_STRENGTH, SERVICE, combination

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.units import Quantity
    from calcbook.footings.asked_pad import AskedPad, Strength
    from calcbook.footings.rigid_pad import Pattern, Stands

_STATICS = cite("mechanics", "statics of a stiff pad that is lifted")
_CLAUSE = cite("ASCE 7-16", "2.4.1 combination 7")
_BENDING, _SHEAR = cite("ACI 318-19", "14.5.2.1"), cite("ACI 318-19", "14.5.5.1(a)")
_ASK = "The engineer finds how far the pad leaves the ground, or names a heavier pad or an anchorage."


def uplift_of_shared(on: AskedPad, holds: Strength) -> None:
    """Net uplift of all posts against 0.6 of the weight, as a sum and about each side; then bending and shear by it."""
    lifting = [p for p in on.posts if p.W]
    if not lifting:
        return
    calc = on.calc
    A = calc.step(footing.pad_area, "Area of the pad, for its weight.", L=on.seat.L, B=on.seat.B)
    q_over = (
        calc.step(footing.slab_weight, "The slab on it is one piece with it.", t=on.t, gamma_c=footing.CONCRETE)
        if on.one else Q(0, "psf")
    )  # fmt: skip
    weight = {"A": A, "d": on.seat.d, "gamma_c": footing.CONCRETE, "q_over": q_over}
    R = calc.step(footing.uplift_resistance, "What its weight holds down; no dead load of the posts that do not lift is counted.", **weight)  # fmt: skip
    on.compare("Uplift on", Q(sum(p.W for p in lifting), "lbf"), R, "lbf", _CLAUSE, needs_engineer=True)
    _turning(on, lifting, R)
    row, counted = combination(LIFT_STRENGTH), combination(LIFT)["D"]
    D = calc.finding(
        f"{row['D']:g} of its weight, for bending in {row['name']}.", "D_u", R * (row["D"] / counted), "lbf", cite("ASCE 7-16", "2.3.1 combination 5"),
        label="weight of the pad, factored",
    )  # fmt: skip
    _bending(on, pattern_of_lift(on.posts), float(number_in(D, "lbf")), holds)


def pattern_of_lift(posts: Sequence[Stands]) -> Pattern:
    """The factored loads of posts in the combination of wind upward; upward negative."""
    row = combination(LIFT_STRENGTH)
    return lifted_pattern(posts, row["name"], row["D"], SERVICE)


def _turning(on: AskedPad, lifting: list[Stands], R: Quantity) -> None:
    """The uplifts about the side of the pad that they turn it over hardest."""
    turned = max(
        ((sum(p.W * (on.sides[n] / 2 + s * p.at[n]) for p in lifting), on.sides[n] / 2) for n in (0, 1) for s in (1, -1)),
        key=lambda pair: pair[0] / pair[1],
    )  # fmt: skip
    M_o = on.calc.finding("The uplifts about the side of the pad that they turn it over hardest.", "M_o", Q(turned[0], "lbf*in"),
                          "lbf*in", _STATICS, label="overturning moment of the uplifts")  # fmt: skip
    M_r = on.calc.finding("Its weight about that side.", "M_r", (R * Q(turned[1], "in")).to("lbf*in"), "lbf*in", _STATICS,
                          label="righting moment")  # fmt: skip
    on.compare("Overturning moment by uplift of", M_o, M_r, "lbf*in", _CLAUSE, needs_engineer=True)


def _bending(on: AskedPad, pattern: Pattern, weight: float, holds: Strength) -> None:
    """Bending and shear of the lifted pad both ways."""
    calc, system = on.calc, on.system
    told = ", ".join(
        f"{p.name} {show(Q(abs(P), 'lbf'), 'lbf', system)} {'up' if P < 0 else 'down'}"
        for p, P in zip(on.posts, pattern.loads, strict=True)
    )
    calc.note(
        f"{on.name} in {pattern.name}: {told}. A net uplift N at service level is {SERVICE:g} (W - D), so here it is N / {SERVICE:g} + 0.1 D. "
        "The pad's weight hangs on the posts that lift, or on the soil where it still presses; the soil does not pull."
    )  # fmt: skip
    R, _ = resultant(pattern, on.posts, weight)
    calc.finding("The soil still gives this.", "R_u", Q(R, "lbf"), "lbf", _STATICS, label="push of the soil, factored")  # fmt: skip
    for axis, letter in ((0, "x"), (1, "y")):
        bent = lifted_beam(pattern, on.posts, on.sides, weight, axis)
        title = f"Bending moment under uplift along {letter} of"
        if bent is None:
            calc.ask_engineer(f"{title} pad {on.name}", _BENDING,
                              f"In {pattern.name} it leaves the ground, or tips over a corner. {_ASK}", on.answers)  # fmt: skip
            continue
        share = float(number_in(STRIP, "in")) / on.sides[1 - axis]
        M, x_M = moment_of(bent, on.posts, axis)
        V, _ = shear_of(bent, on.posts, on.sides, axis, float(number_in(holds.h_e, "in")))
        face = "top" if M < 0 else "bottom"
        at = show_length(Q(abs(x_M), "in"), system, True)
        M_u = calc.finding(
            f"Along {letter}, shared evenly over its width: greatest {at} from the middle, {face} in tension.", "M_u",
            Q(abs(M) * share, "lbf*in"), "lbf*in", _STATICS, label=f"factored moment under uplift along {letter}",
        )  # fmt: skip
        V_u = calc.finding("Shear by the same statics.", "V_u", Q(abs(V) * share, "lbf"), "lbf", _STATICS,
                           label=f"factored shear under uplift along {letter}")  # fmt: skip
        on.compare(title, M_u, holds.M_n, "lbf*in", _BENDING, words=f"{face.capitalize()} in tension, plain concrete.", needs_engineer=True)  # fmt: skip
        on.compare(
            f"One-way shear under uplift along {letter} of",
            V_u,
            holds.V_n,
            "lbf",
            _SHEAR,
            needs_engineer=True,
        )
