"""What the concrete round a sill bolt holds: cone, foot, bond, shear; one bolt or a row that shares it.

``call`` enters a step (``calc.step``) or takes whole arrays of rows at once (``unshown``), so that a bolt
and a row follow from the same lines.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from calcbook.basis.showing import show
from calcbook.basis.units import Q, number_in
from calcbook.bolts.anchor_bond import (
    basic_bond,
    bond_reach,
    bond_tension,
    default_bond_stress,
    splitting_factor,
)
from calcbook.bolts.anchor_shear import (
    basic_breakout_shear,
    breakout_shear_along,
    breakout_shear_towards,
    pryout,
    pryout_factor,
)
from calcbook.bolts.anchors import (
    basic_breakout,
    breakout_tension,
    headed_pullout,
    hook_ratio,
    hooked_pullout,
    side_face_blowout,
    side_face_group,
)
from calcbook.bolts.capacity import Capacity, allowed, bolt_row
from calcbook.bolts.sill import sill_rule

if TYPE_CHECKING:
    from collections.abc import Callable

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.bolts.capacity import Place
    from calcbook.job.file import Job

_K_C = {"cast": 24.0, "drilled": 17.0}  # ACI 318-19 17.6.2.2.1
_UNCRACKED = {"cast": 1.25, "drilled": 1.4}  # ACI 318-19 17.6.2.5.1
_PHI_CONE = {"cast": "concrete tension", "drilled": "drilled breakout"}
_TIGHT = 1e-6  # in., for limits met exactly


def concrete(
    calc: Calculation,
    job: Job,
    method: str,
    thickness: Quantity,
    h_ef: Quantity,
    place: Place,
) -> Capacity:
    """Enter what the concrete round one bolt holds, and return its Capacity.

    calc: a Calculation; method: "cast" or "drilled"; thickness: of the whole plate;
    h_ef: embedment (lengths); place: Place.
    """
    made, d_a = Capacity(), Q(bolt_row(job)["d_in"], "in")
    N_cb = cone(calc.step, job, method, h_ef, place)
    made.uplift["breakout"] = cone_allowed(calc.step, job, method, N_cb)
    N_least = N_cb
    if method == "cast":
        _foot(calc, job, h_ef, d_a, place, made)
        made.exempt = exempt(calc, thickness, d_a, h_ef, place)
    else:
        if job.bolts.bond_cracked is None or job.bolts.bond_uncracked is None:
            _say_default_bond(calc, job)
        N_a = bond(calc.step, job, h_ef, d_a, place)
        made.uplift["bond"] = bond_allowed(calc.step, job, N_a)
        N_least = min(N_cb, N_a)
    directions = ("out",) if made.exempt else ("out", "along")
    V_b = shear_basis(calc.step, job, h_ef, d_a, place)
    for direction in directions:
        getattr(made, direction)["breakout"] = shear(calc.step, job, V_b, place, direction)
    if not made.exempt:
        calc.note(
            f"At a corner every edge is checked for itself: shear along the wall pushes towards {place.end}."
        )
        made.along[f"breakout at {place.end}"] = corner_shear(calc.step, job, h_ef, d_a, place)
    pried = pried_out(calc.step, job, h_ef, N_least)
    for direction in directions:
        getattr(made, direction)["pryout"] = pried
    return made


# --- tension -------------------------------------------------------------------------------


def cone(
    call: Callable[..., Any], job: Job, method: str, h_ef: Quantity, place: Place, **off: Quantity
) -> Quantity:
    """Nominal breakout strength in tension of a bolt or a row, a force.

    call: uses a formula (see the head of the module); job: a Job; method: "cast" or "drilled"; h_ef: embedment
    (a length); place: Place; off: ``e_N``, where the pull is off the middle of the row.
    """
    N_b = call(
        basic_breakout, "A cone of concrete, far from edges.", f_c=job.concrete.strength, h_ef=h_ef, k_c=_K_C[method]
    )  # fmt: skip
    psi_c = _UNCRACKED[method] if job.bolts.concrete == "uncracked" else 1.0
    return call(
        breakout_tension, "The cone cut by the slab's edge.", N_b=N_b, h_ef=h_ef, **place.pulled, **off, psi_c=psi_c,
        psi_cp=_splitting(call, job, method, h_ef, place),
    )  # fmt: skip


def cone_allowed(call: Callable[..., Any], job: Job, method: str, N_cb: Quantity) -> Quantity:
    """Allowable uplift by ``cone``. N_cb: nominal breakout strength, a force; the others as for ``cone``."""
    return allowed(call, job, N_cb, _PHI_CONE[method], "Breakout", "N_a_cone")


def _splitting(
    call: Callable[..., Any], job: Job, method: str, h_ef: Quantity, place: Place, reach: Quantity | None = None
) -> float:  # fmt: skip
    """Factor for splitting: below 1 only for drilled bolts in uncracked concrete. reach: of the failure, else of a cone."""
    if method == "cast" or job.bolts.concrete == "cracked":
        return 1.0
    return call(
        splitting_factor, "Splitting of uncracked concrete near the edge; 2 h_ef unless the maker tested less.",
        c_amin=place.nearest, c=1.5 * h_ef if reach is None else reach, c_ac=2 * h_ef,
    )  # fmt: skip


def _foot(
    calc: Calculation, job: Job, h_ef: Quantity, d_a: Quantity, place: Place, made: Capacity
) -> None:
    f_c, psi_cP = job.concrete.strength, 1.4 if job.bolts.concrete == "uncracked" else 1.0
    if job.bolts.kind == "hooked":
        n_h = calc.step(hook_ratio, "Hook in bolt diameters.", e_h=job.bolts.hook, d_a=d_a)
        if n_h < 3:
            return
        N_pn = calc.step(
            hooked_pullout, "The hook pulled out.", f_c=f_c, d_a=d_a, n_h=n_h, psi_cP=psi_cP
        )
    else:
        A_brg = Q(bolt_row(job)["A_hex_in2"], "in2")
        N_pn = calc.step(
            headed_pullout, "The head pulled through.", f_c=f_c, A_brg=A_brg, psi_cP=psi_cP
        )
        if blows_out(h_ef, place.c_1):
            N_sb = calc.step(
                side_face_blowout, "The face of the edge blown off beside the head.", c_a1=place.c_1, A_brg=A_brg, f_c=f_c,
                c_a2=min(place.c_3, place.c_4),
            )  # fmt: skip
            made.uplift["side face"] = _side_allowed(calc.step, job, N_sb)
    made.uplift["pullout"] = allowed(calc.step, job, N_pn, "pullout", "Pullout", "N_a_pull")


def blows_out(h_ef: Quantity, c_a1: Quantity) -> bool:
    """True where a head is so deep (h_ef) that the edge at c_a1 could blow out its side face (both lengths).

    Source: ACI 318-19 17.6.4.1.
    """
    return number_in(h_ef, "in") > 2.5 * number_in(c_a1, "in")


def side_faces(call: Callable[..., Any], job: Job, place: Place) -> Quantity:
    """Allowable uplift of a row of heads near an edge, by its side face."""
    A_brg = Q(bolt_row(job)["A_hex_in2"], "in2")
    N_sb = call(
        side_face_blowout, "The face of the edge blown off beside one head, far from corners.", c_a1=place.c_1, A_brg=A_brg,
        f_c=job.concrete.strength,
    )  # fmt: skip
    N_sbg = call(
        side_face_group, "Concrete beside the row of heads.", N_sb=N_sb, s=place.s_2, c_a1=place.c_1
    )
    return _side_allowed(call, job, N_sbg)


def _side_allowed(call: Callable[..., Any], job: Job, N_sb: Quantity) -> Quantity:
    return allowed(call, job, N_sb, "concrete tension", "Side face", "N_a_side")


def bond_stresses(job: Job) -> tuple[Quantity, Quantity]:
    """(bond stress at the bolt, in uncracked concrete): the maker's where given, else the code's default."""
    bolts = job.bolts
    uncracked = bolts.bond_uncracked or default_bond_stress(bolts.place_of_use, "uncracked")
    if bolts.concrete == "uncracked":
        return uncracked, uncracked
    return bolts.bond_cracked or default_bond_stress(bolts.place_of_use, "cracked"), uncracked


def _say_default_bond(calc: Calculation, job: Job) -> None:
    tau, tau_uncr = (show(t, "psi", job.system) for t in bond_stresses(job))
    calc.note(
        f"Bond stress {tau} at the bolt, {tau_uncr} in uncracked concrete. What the maker did not give is the code's "
        f"default, {job.bolts.place_of_use} ({default_bond_stress.source})."
    )


def bond(call: Callable[..., Any], job: Job, h_ef: Quantity, d_a: Quantity, place: Place) -> Quantity:
    """Nominal bond strength of a drilled bolt or a row of them, a force.

    d_a: bolt diameter (a length); call, job, h_ef, place: as for ``cone``.
    """
    tau, tau_uncr = bond_stresses(job)
    N_ba = call(basic_bond, "Adhesive on the wall of the hole.", tau=tau, d_a=d_a, h_ef=h_ef)
    c_Na = call(bond_reach, "How far the bond failure reaches.", d_a=d_a, tau_uncr=tau_uncr)
    return call(
        bond_tension, "The bond cut by the slab's edge.", N_ba=N_ba, c_Na=c_Na, **place.pulled,
        psi_cp=_splitting(call, job, "drilled", h_ef, place, c_Na),
    )  # fmt: skip


def bond_allowed(call: Callable[..., Any], job: Job, N_a: Quantity) -> Quantity:
    """Allowable uplift by ``bond``. N_a: nominal bond strength, a force; the others as for ``bond``."""
    return allowed(call, job, N_a, "bond", "Bond", "N_a_bond")


# --- shear ---------------------------------------------------------------------------------


def shear_basis(
    call: Callable[..., Any], job: Job, h_ef: Quantity, d_a: Quantity, place: Place
) -> Quantity:
    """Basic breakout strength in shear, from which both directions follow, a force.

    d_a: bolt diameter (a length); call, job, h_ef, place: as for ``cone``.
    """
    return call(
        basic_breakout_shear, "Concrete towards the edge, sheared.", f_c=job.concrete.strength, d_a=d_a, h_ef=h_ef,
        c_a1=place.c_1,
    )  # fmt: skip


def shear(call: Callable[..., Any], job: Job, V_b: Quantity, place: Place, direction: str) -> Quantity:
    """Allowable shear of a bolt or a row by breakout, towards ("out") or along the edge, a force.

    V_b: of ``shear_basis``; direction: "out" or "along"; call, job, place: as for ``cone``.
    """
    formula, words, sign = (
        (breakout_shear_towards, "Shear towards the edge.", "perp")
        if direction == "out"
        else (breakout_shear_along, "Shear along the edge.", "par")
    )
    psi_c = 1.4 if job.bolts.concrete == "uncracked" else 1.0
    V_cb = call(formula, words, symbol=f"V_cb_{sign}", V_b=V_b, **place.sheared, psi_c=psi_c)
    return allowed(call, job, V_cb, "concrete shear", "Breakout in shear", f"V_a_{sign}")


def corner_shear(
    call: Callable[..., Any], job: Job, h_ef: Quantity, d_a: Quantity, place: Place
) -> Quantity:
    """Allowable shear along the wall by breakout towards the end of the slab, of the bolt nearest to it.

    h_ef: depth of embedment, in.; d_a: bolt diameter, in.; place: where the bolt stands.

    At a corner each edge is checked and the lesser governs (ACI 318-19 17.7.2.1(d)); shear across the wall
    runs along that end edge, which is farther off and gives twice the value, so it never governs.
    """
    turned = replace(place, c_1=place.c_3, c_2=place.c_4, c_3=place.c_1, c_4=place.c_2)
    V_b = shear_basis(call, job, h_ef, d_a, turned)
    return shear(call, job, V_b, turned, "out")


def pried_out(call: Callable[..., Any], job: Job, h_ef: Quantity, N_least: Quantity) -> Quantity:
    """Allowable shear of a bolt or a row by pryout, a force.

    N_least: the lesser of its breakout and bond in tension; call, job, h_ef: as for ``cone``.
    """
    V_cp = call(pryout, "Pryout at the back of the bolt.", N_cp=N_least, k_cp=pryout_factor(h_ef))
    return allowed(call, job, V_cp, "concrete shear", "Pryout", "V_a_pry")


def exempt(calc: Calculation, thickness: Quantity, d_a: Quantity, h_ef: Quantity, place: Place) -> bool:
    """True where the code asks for no concrete check of shear along the edge; enters its conditions.

    thickness: of the whole plate; d_a: bolt diameter; h_ef: embedment (lengths); place: Place.
    """
    values = {
        "exempt diameter": d_a, "exempt embedment": h_ef, "exempt edge": place.c_1, "exempt end": min(place.c_3, place.c_4),
    }  # fmt: skip
    parts, source = (
        [("one plate of 2-by or 3-by lumber", Q(1.5, "in") <= thickness <= Q(2.5, "in"))],
        None,
    )
    for rule, value in values.items():
        limit, source, words = sill_rule(rule, d_a)
        over = number_in(value, "in") - number_in(limit, "in")
        parts.append((words, over <= _TIGHT if rule == "exempt diameter" else over >= -_TIGHT))
    met = all(holds for _, holds in parts)
    end = (
        "All hold, so the wood governs along the wall."
        if met
        else "Not all hold, so the concrete is checked."
    )
    calc.note(
        f"{source}: the breakout and pryout of concrete in shear along the edge need not be computed for small bolts in "
        "sill plates, where the wood's own value governs, if "
        + "; ".join(f"{words} ({'yes' if holds else 'no'})" for words, holds in parts)
        + f". {end} The adopted local code decides."
    )
    return met
