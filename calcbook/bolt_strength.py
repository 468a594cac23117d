"""What one bolt of a sill holds, step by step: wood, steel, concrete, bond; cast or drilled."""

from dataclasses import dataclass

from calcbook.anchor_bond import (
    basic_bond,
    bond_reach,
    bond_tension,
    default_bond_stress,
    splitting_factor,
)
from calcbook.anchor_shear import (
    basic_breakout_shear,
    breakout_shear_along,
    breakout_shear_towards,
    pryout,
    pryout_factor,
    steel_shear,
)
from calcbook.anchors import (
    basic_breakout,
    bolt_stress_area,
    breakout_tension,
    counted_strength,
    design_strength,
    headed_pullout,
    hook_ratio,
    hooked_pullout,
    side_face_blowout,
    steel_tension,
)
from calcbook.bolts import sill_rule
from calcbook.dowels import (
    adjusted_lateral_value,
    dowel_bearing_at_angle,
    dowel_bearing_parallel,
    dowel_bearing_perpendicular,
    load_duration,
    modes_of,
    single_shear_value,
    square_washer_uplift,
)
from calcbook.table import lookup
from calcbook.units import Q, show

ALPHA = {"wind": 0.6, "earthquake": 0.7}  # ASCE 7-16 2.4: 0.6 W and 0.7 E against 1.0 W and 1.0 E
_UNCRACKED = {"cast": 1.25, "drilled": 1.4}  # ACI 318-19 17.6.2.5.1
_WET_DOWEL, _WET_BEARING = 0.7, 0.67  # NDS-2018 Tables 11.3.3 and 4A
_TIGHT = 1e-6  # in., for limits met exactly
_HOLE_GAP = Q(0.0625, "in")  # of the hole in the plate over the bolt


@dataclass(frozen=True)
class Place:
    """Where a bolt stands: edge distance, other side, along the row both ways, depth of concrete (lengths)."""

    c_1: object
    c_2: object
    c_3: object
    c_4: object
    h_a: object


@dataclass
class Capacity:
    """Allowable loads of one bolt by what could fail, at service level: uplift, shear along, shear out."""

    uplift: dict
    along: dict
    out: dict
    exempt: bool = False

    def least(self, direction):
        """(what governs, allowable load) of ``uplift``, ``along`` or ``out``."""
        found = getattr(self, direction)
        name = min(found, key=lambda k: found[k])
        return name, found[name]


def bolt_row(job):
    """Row of tables/bolts.csv for the job's bolt."""
    return lookup("bolts", size=job.bolts.size)


def capacity(calc, job, sill, method, h_ef, place):
    """Enter the strength of one bolt as steps and return its Capacity.

    calc: a Calculation; sill: section of the wall; method: "cast" or "drilled"; h_ef: embedment (length);
    place: Place.
    """
    d_a = Q(bolt_row(job)["d_in"], "in")
    made = Capacity({}, {}, {})
    _wood(calc, job, sill, h_ef, d_a, made)
    _steel(calc, job, d_a, made)
    _concrete(calc, job, method, h_ef, d_a, place, made)
    if method == "cast" and exempt(calc, sill, d_a, h_ef, place):
        made.exempt = True
        for name in ("breakout", "pryout"):
            made.along.pop(name)
    return made


# --- wood ----------------------------------------------------------------------------------


def _wood(calc, job, sill, h_ef, d_a, made):
    row = lookup("lumber", species=sill.species)
    wet = job.bolts.wet
    C_D = load_duration(job.bolts.load)
    calc.note(f"Plate of {sill.species}, specific gravity {row['G']:g} ({row['source']}).")
    F_par = calc.step(
        dowel_bearing_parallel, "How hard the plate can press on the bolt, along the grain.", G=row["G"]
    )
    F_perp = calc.step(dowel_bearing_perpendicular, "And across the grain.", G=row["G"], D=d_a)
    thickness = sill.ply * sill.plies
    for direction, theta, symbol in (("along", 0.0, r"\parallel"), ("out", 90.0, r"\perp")):
        F_es = dowel_bearing_at_angle(F_par, F_perp, Q(theta, "deg"))
        words = "along" if direction == "along" else "across"
        Z = calc.step(
            single_shear_value, f"The six ways to yield, {words} the wall; the weakest counts.",
            symbol=f"Z_{{{symbol}}}", D=d_a, l_s=thickness, l_m=min(h_ef, Q(6, "in")), F_es=F_es, theta=theta,
        )  # fmt: skip
        mode = modes_of(calc.steps[-1].bound).governing
        calc.note(f"Yield mode {mode} governs {words} the wall.")
        getattr(made, direction)[f"wood, mode {mode}"] = calc.step(
            adjusted_lateral_value, f"For the duration of {job.bolts.load}.", symbol=f"Z'_{{{symbol}}}",
            Z=Z, C_D=C_D, C_M=_WET_DOWEL if wet else 1.0,
        )  # fmt: skip
    made.uplift["washer on the plate"] = calc.step(
        square_washer_uplift, "What the plate passes up to its washer.", symbol=r"T_{\mathrm{w}}",
        F_cperp=Q(row["F_cperp_psi"], "psi"), b=job.bolts.washer, d_h=d_a + _HOLE_GAP, C_M=_WET_BEARING if wet else 1.0,
    )  # fmt: skip


# --- steel and concrete --------------------------------------------------------------------


def _allowed(calc, job, R_n, mode, words, symbol):
    row = lookup("anchor_phi", mode=mode)
    return calc.step(
        design_strength, f"{words}, at service level ({row['source']}).", symbol=symbol, R_n=R_n, phi=row["phi"],
        alpha=ALPHA[job.bolts.load],
    )  # fmt: skip


def _steel(calc, job, d_a, made):
    grade, row = lookup("bolt_steel", grade=job.bolts.grade), bolt_row(job)
    A_se = calc.step(
        bolt_stress_area, "Steel left between the threads.", d=d_a, n_t=Q(row["threads"], "1/in")
    )
    f_u = calc.step(
        counted_strength,
        f"{job.bolts.grade}.",
        f_uta=Q(grade["f_uta_psi"], "psi"),
        f_ya=Q(grade["f_ya_psi"], "psi"),
    )
    N_sa = calc.step(steel_tension, "The bolt itself, pulled.", A_se=A_se, f_uta=f_u)
    made.uplift["steel"] = _allowed(
        calc, job, N_sa, "steel tension", "Steel in tension", r"N_{\mathrm{a,steel}}"
    )
    V_sa = calc.step(steel_shear, "The bolt itself, sheared.", A_se=A_se, f_uta=f_u)
    made.along["steel"] = made.out["steel"] = _allowed(
        calc, job, V_sa, "steel shear", "Steel in shear", r"V_{\mathrm{a,steel}}"
    )


def _concrete(calc, job, method, h_ef, d_a, place, made):
    f_c, psi_c = job.concrete.strength, 1.0
    if job.bolts.concrete == "uncracked":
        psi_c = _UNCRACKED[method]
    N_b = calc.step(
        basic_breakout,
        "A cone of concrete, far from edges.",
        f_c=f_c,
        h_ef=h_ef,
        k_c=24.0 if method == "cast" else 17.0,
    )
    N_cb = calc.step(
        breakout_tension, "The cone cut by the slab's edge.", N_b=N_b, h_ef=h_ef, c_1=place.c_1, c_2=place.c_2,
        c_3=place.c_3, c_4=place.c_4, psi_c=psi_c, psi_cp=_splitting(calc, job, method, h_ef, place, 1.5 * h_ef),
    )  # fmt: skip
    phi = "concrete tension" if method == "cast" else "drilled breakout"
    made.uplift["breakout"] = _allowed(calc, job, N_cb, phi, "Breakout", r"N_{\mathrm{a,cone}}")
    N_least = N_cb
    if method == "cast":
        _foot(calc, job, h_ef, d_a, place, made)
    else:
        N_least = min(N_cb, _bond(calc, job, h_ef, d_a, place, made))
    _shear(calc, job, h_ef, d_a, place, N_least, made)


def _splitting(calc, job, method, h_ef, place, reach):
    """Factor for splitting: below 1 only for drilled bolts in uncracked concrete."""
    if method == "cast" or job.bolts.concrete == "cracked":
        return 1.0
    return calc.step(
        splitting_factor, "Splitting of uncracked concrete near the edge; 2 h_ef unless the maker tested less.",
        c_amin=min(place.c_1, place.c_2, place.c_3, place.c_4), c=reach, c_ac=2 * h_ef,
    )  # fmt: skip


def _foot(calc, job, h_ef, d_a, place, made):
    f_c, psi_cP = job.concrete.strength, 1.4 if job.bolts.concrete == "uncracked" else 1.0
    if job.bolts.kind == "hooked":
        e_h = calc.given(job, "bolts.hook", r"e_{\mathrm{h}}")
        calc.check(
            "Is the hook long enough to count?",
            3 * d_a,
            e_h,
            "in",
            hook_ratio.source,
            "At least three bolt diameters.",
        )
        n_h = calc.step(hook_ratio, "Hook in bolt diameters.", e_h=e_h, d_a=d_a)
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
        if h_ef > 2.5 * place.c_1:
            N_sb = calc.step(
                side_face_blowout, "The face of the edge blown off beside the head.", c_a1=place.c_1, A_brg=A_brg, f_c=f_c,
                c_a2=min(place.c_3, place.c_4),
            )  # fmt: skip
            made.uplift["side face"] = _allowed(
                calc, job, N_sb, "concrete tension", "Side face", r"N_{\mathrm{a,side}}"
            )
    made.uplift["pullout"] = _allowed(calc, job, N_pn, "pullout", "Pullout", r"N_{\mathrm{a,pull}}")


def _bond(calc, job, h_ef, d_a, place, made):
    bolts = job.bolts
    tau = bolts.bond_cracked if bolts.concrete == "cracked" else bolts.bond_uncracked
    tau_uncr = bolts.bond_uncracked or default_bond_stress(bolts.place_of_use, "uncracked")
    if tau is None:
        tau = default_bond_stress(bolts.place_of_use, bolts.concrete)
        calc.note(
            f"No bond stress of the maker's was given: the code's default, {bolts.place_of_use}, "
            f"{bolts.concrete} concrete, {show(tau, 'psi', job.system)} ({default_bond_stress.source})."
        )
    N_ba = calc.step(basic_bond, "Adhesive on the wall of the hole.", tau=tau, d_a=d_a, h_ef=h_ef)
    c_Na = calc.step(bond_reach, "How far the bond failure reaches.", d_a=d_a, tau_uncr=tau_uncr)
    N_a = calc.step(
        bond_tension, "The bond cut by the slab's edge.", N_ba=N_ba, c_Na=c_Na, c_1=place.c_1, c_2=place.c_2,
        c_3=place.c_3, c_4=place.c_4, psi_cp=_splitting(calc, job, "drilled", h_ef, place, c_Na),
    )  # fmt: skip
    made.uplift["bond"] = _allowed(calc, job, N_a, "bond", "Bond", r"N_{\mathrm{a,bond}}")
    return N_a


def _shear(calc, job, h_ef, d_a, place, N_least, made):
    psi_c = 1.4 if job.bolts.concrete == "uncracked" else 1.0
    front = {"c_a1": place.c_1, "c_2": place.c_3, "c_3": place.c_4, "h_a": place.h_a, "psi_c": psi_c}
    V_b = calc.step(
        basic_breakout_shear,
        "Concrete towards the edge, sheared.",
        f_c=job.concrete.strength,
        d_a=d_a,
        h_ef=h_ef,
        c_a1=place.c_1,
    )
    V_out = calc.step(
        breakout_shear_towards,
        "Shear towards the edge.",
        symbol=r"V_{\mathrm{cb},\perp}",
        V_b=V_b,
        **front,
    )
    V_along = calc.step(
        breakout_shear_along,
        "Shear along the edge.",
        symbol=r"V_{\mathrm{cb},\parallel}",
        V_b=V_b,
        **front,
    )
    V_cp = calc.step(pryout, "Pryout at the back of the bolt.", N_cp=N_least, k_cp=pryout_factor(h_ef))
    for found, V in ((made.out, V_out), (made.along, V_along)):
        which = r"\perp" if found is made.out else r"\parallel"
        found["breakout"] = _allowed(
            calc, job, V, "concrete shear", "Breakout in shear", rf"V_{{\mathrm{{a}},{which}}}"
        )
    made.out["pryout"] = made.along["pryout"] = _allowed(
        calc, job, V_cp, "concrete shear", "Pryout", r"V_{\mathrm{a,pry}}"
    )


def exempt(calc, sill, d_a, h_ef, place):
    """True where the code asks for no concrete check of shear along the edge; enters its conditions."""
    values = {
        "exempt diameter": d_a, "exempt embedment": h_ef, "exempt edge": place.c_1, "exempt end": min(place.c_3, place.c_4),
    }  # fmt: skip
    parts, source = [("plate of 2-by or 3-by lumber", Q(1.5, "in") <= sill.ply <= Q(2.5, "in"))], None
    for rule, value in values.items():
        limit, source, words = sill_rule(rule, d_a)
        over = (value - limit).m_as("inch")
        parts.append((words, over <= _TIGHT if rule == "exempt diameter" else over >= -_TIGHT))
    met = all(holds for _, holds in parts)
    calc.note(
        f"{source}: the breakout of concrete in shear along the edge need not be computed for small bolts in sill "
        "plates, where the wood's own value governs, if "
        + "; ".join(f"{words} ({'yes' if holds else 'no'})" for words, holds in parts)
        + (
            ". All hold, so the wood governs along the wall."
            if met
            else ". Not all hold, so the concrete is checked."
        )
        + " The adopted local code decides."
    )
    return met
