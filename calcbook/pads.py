"""Pads under posts: every check of a pad, and the smallest pad that can be built and passes."""

import functools
from dataclasses import dataclass, replace

import numpy as np

from calcbook import footing, plain
from calcbook.formula import FormulaError, arg, cite, procedure, to_coherent
from calcbook.slab import presumptive_bearing
from calcbook.typed import quantities
from calcbook.units import Q, Quantity, feet_inches, show, unit

STRIP = Q(12, "in")  # bending and one-way shear are looked at for a strip one foot wide
LEAST_THICKNESS = Q(8, "in")
# the coherent units in which arrays of pads are checked
IN_BULK = {
    "t": "in", "c_1": "in", "c_2": "in", "P_a": "lbf", "P_u": "lbf", "q_a": "psi", "f_c": "psi",
    "gamma_c": "pci", "q_soil": "psi", "strip": "in", "least": "in",
}  # fmt: skip


@dataclass(frozen=True)
class Check:
    """One check of a pad: what is asked, demand and capacity (plain numbers in bulk), unit, clause."""

    question: str
    demand: object
    capacity: object
    unit: str
    clause: object

    @property
    def ratio(self):
        demand, capacity = (
            x.m_as(unit(self.unit)) if isinstance(x, Quantity) else x
            for x in (self.demand, self.capacity)
        )
        return demand / capacity

    def __str__(self):
        texts = (show(x, self.unit) for x in (self.demand, self.capacity))
        return f"{self.question}: {next(texts)} of {next(texts)}, ratio {self.ratio:.2f}"


def once(formula, words, **inputs):
    """Use a formula on quantities; ``words`` is for a calculation that shows its steps."""
    return formula(**inputs)


def bulk(formula, words, **inputs):
    """Use a formula's body on whole arrays, all in inches and pounds-force; limits are the caller's."""
    return formula.body(**(_defaults(formula) | inputs))


@functools.cache
def _defaults(formula):
    """The defaults of a formula as plain numbers in inches and pounds-force."""
    return {
        name: to_coherent(
            p.default.m_as(unit(formula.arguments[name].unit)), formula.arguments[name].unit
        )
        if isinstance(p.default, Quantity)
        else p.default
        for name, p in formula.signature.parameters.items()
        if p.default is not p.empty
    }


_COHERENT = {"psf": "psi", "lbf*in": "lbf*in", "lbf": "lbf", "in": "in"}


def quick_checks(L, B, d, **given):
    """``check_pad`` on one pad without showing its steps, fast. Takes and returns quantities."""
    given = given | {"strip": STRIP, "least": LEAST_THICKNESS}
    numbers = {name: float(given[name].m_as(unit(coherent))) for name, coherent in IN_BULK.items()}
    checks = check_pad(bulk, *(float(v.m_as(unit("in"))) for v in (L, B, d)), **numbers)
    return [
        replace(c, demand=Q(float(c.demand), _COHERENT[c.unit]).to(unit(c.unit)),
                capacity=Q(float(c.capacity), _COHERENT[c.unit]).to(unit(c.unit)))
        for c in checks
    ]  # fmt: skip


def check_pad(
    run, L, B, d, t, c_1, c_2, P_a, P_u, q_a, f_c, gamma_c, q_soil, strip=STRIP, least=LEAST_THICKNESS
):
    """All checks of a pad, in the order a hand calculation takes them.

    run: ``once``, ``bulk`` (then all in inches and pounds-force), or a calculation's own way to use
    a formula; strip: width of the strip looked at, 12 in.; L, B, d: pad size and its
    depth below the slab, in.; t: slab thickness, in.; c_1, c_2: post, in.; P_a, P_u: governing
    unfactored and factored load, lbf; q_a: psf; f_c: psf; gamma_c: pcf; q_soil: psf.
    Returns a list of Check.
    """
    A = run(footing.pad_area, "Area of the pad", L=L, B=B)
    q_over = run(footing.slab_weight, "The slab over the pad presses too", t=t, gamma_c=gamma_c)
    q = run(
        footing.bearing_pressure, "Pressure on the soil",
        P=P_a, A=A, d=d, gamma_c=gamma_c, q_over=q_over, q_soil=q_soil,
    )  # fmt: skip
    h = run(plain.thickness_under_post, "Slab and pad are one piece", t=t, d=d)
    h_e = run(plain.soil_deduction, "What counts in strength", h=h)
    q_u = run(footing.factored_pressure, "Factored pressure, for strength", P_u=P_u, A=A)
    x = run(footing.pad_reach, "The pad reaches beyond the post", L=L, B=B, c_1=c_1, c_2=c_2)
    M_u = run(footing.pad_moment, "Moment of a strip one foot wide", q_u=q_u, b=strip, x=x)
    M_n = run(plain.plain_moment_strength, "Strength of that strip", f_c=f_c, b=strip, h=h_e)
    V_1 = run(footing.pad_one_way_shear, "Shear of that strip", q_u=q_u, b=strip, x=x, h=h_e)
    V_n1 = run(plain.plain_one_way_shear_strength, "Its strength", f_c=f_c, b=strip, h=h_e)
    b_o = run(footing.punching_perimeter, "Where the post would punch out", c_1=c_1, c_2=c_2, h=h_e)
    V_2 = run(
        footing.punching_load, "Load through that section",
        q_u=q_u, L=L, B=B, c_1=c_1, c_2=c_2, h=h_e,
    )  # fmt: skip
    beta = run(plain.side_ratio, "Shape of the post", c_1=c_1, c_2=c_2)
    V_n2 = run(
        plain.plain_two_way_shear_strength, "Strength of that section",
        f_c=f_c, b_o=b_o, h=h_e, beta=beta,
    )  # fmt: skip
    A_1 = run(plain.contact_area, "Area right under the post", c_1=c_1, c_2=c_2)
    A_2 = run(plain.spread_area, "Area it may spread to", L=L, B=B, c_1=c_1, c_2=c_2, h=h)
    B_n = run(plain.plain_bearing_strength, "Strength right under the post", f_c=f_c, A_1=A_1, A_2=A_2)
    return [
        Check("Does the soil carry the pad?", q, q_a, "psf", cite("ASCE 7-16", "2.4.1")),
        Check("Does the pad bear bending?", M_u, M_n, "lbf*in", cite("ACI 318-19", "14.5.2.1")),
        Check("Does it bear shear across?", V_1, V_n1, "lbf", cite("ACI 318-19", "14.5.5.1(a)")),
        Check("Does the post punch through?", V_2, V_n2, "lbf", cite("ACI 318-19", "14.5.5.1(b)(c)")),
        Check(
            "Does the concrete under the post hold?", P_u, B_n, "lbf", cite("ACI 318-19", "14.5.6.1")
        ),
        Check("Is it thick enough?", least, h, "in", cite("ACI 318-19", "14.3.2.1")),
    ]


# --- the smallest pad --------------------------------------------------------------------------


@dataclass(frozen=True)
class PadDesign:
    """The smallest buildable pad: sizes, its checks, and the one nearest its limit."""

    L: Quantity
    B: Quantity
    d: Quantity
    checks: list

    @property
    def governs(self):
        return max(self.checks, key=lambda check: check.ratio)

    @property
    def volume(self):
        """Concrete below the slab."""
        return (self.L * self.B * self.d).to("cubic_yard")

    def __str__(self):
        sizes = " x ".join(feet_inches(side) for side in (self.L, self.B, self.d))
        return "\n  ".join([
            f"{sizes} deep below the slab; {self.governs.question} governs, ratio {self.governs.ratio:.2f}",
            *map(str, self.checks),
        ])  # fmt: skip


@procedure(
    "The smallest pad for a post",
    cite("ACI 318-19", "chapter 14"),
    "every plan size and depth in trade steps is checked in full (check_pad); of those that pass, "
    "the one with the least concrete is taken",
    P_D=arg("lbf", "dead load", low=0),
    P_L=arg("lbf", "floor live load", low=0),
    P_S=arg("lbf", "roof load, the greater of snow and roof live", low=0),
    q_a=arg("psf", "allowable bearing pressure", above=0),
    f_c=arg("psi", "specified strength of the concrete", low=2500, high=10000),
    t=arg("in", "slab thickness", above=0),
    c_1=arg("in", "size of the post along the length", above=0),
    c_2=arg("in", "size of the post along the width", above=0),
    gamma_c=footing.CONCRETE_WEIGHT,
    q_soil=arg("psf", "weight of the soil dug out, by area", low=0),
    plan_step=arg("in", "step of the plan size", above=0),
    depth_step=arg("in", "step of the depth", above=0),
    most_plan=arg("in", "largest plan size looked at", above=0),
    most_depth=arg("in", "largest depth looked at", above=0),
    width=arg("in", "width of the pad, where it is fixed", above=0),
)
def design_pad(
    P_D, P_L, P_S=Q(0, "lbf"), q_a=Q(1500, "psf"), f_c=Q(2500, "psi"), t=Q(4, "in"), c_1=Q(5.5, "in"),
    c_2=Q(5.5, "in"), gamma_c=Q(150, "pcf"), q_soil=Q(0, "psf"), plan_step=Q(3, "in"),
    depth_step=Q(1, "in"), most_plan=Q(120, "in"), most_depth=Q(36, "in"), width=None,
):  # fmt: skip
    """The pad with the least concrete that passes every check. Returns a PadDesign.

    P_D, P_L, P_S: dead, floor live and roof load of the post, lbf; q_a: allowable bearing, psf (the
    code's lowest class by default); f_c: psi; t: slab thickness, in.; c_1, c_2: post, in.;
    gamma_c: pcf; q_soil: weight of the soil dug out, psf, only where q_a is a net value;
    plan_step, depth_step: trade steps, in.; most_plan, most_depth: where the search stops, in.;
    width: width of the pad where it is fixed, in. (None for a square pad).
    Raises FormulaError where no pad within those sizes passes.
    """
    specs = design_pad.arguments
    given = quantities(
        "design_pad", specs, P_D=P_D, P_L=P_L, P_S=P_S, q_a=q_a, f_c=f_c, t=t, c_1=c_1, c_2=c_2,
        gamma_c=gamma_c, q_soil=q_soil, plan_step=plan_step, depth_step=depth_step,
        most_plan=most_plan, most_depth=most_depth,
    )  # fmt: skip
    fixed = None if width is None else quantities("design_pad", specs, width=width)
    loads = [given.pop(name) for name in ("P_D", "P_L", "P_S")]
    steps = [given.pop(name) for name in ("plan_step", "depth_step", "most_plan", "most_depth")]
    given["P_a"], given["P_u"] = (governing_load(kind, *loads) for kind in ("allowable", "strength"))
    given |= {"strip": STRIP, "least": LEAST_THICKNESS}
    numbers = {name: given[name].m_as(unit(coherent)) for name, coherent in IN_BULK.items()}
    L, B, d = _candidates(*(s.m_as("inch") for s in steps), given, fixed)
    ratios = [check.ratio for check in check_pad(bulk, L, B, d, **numbers)]
    passes = np.all(np.array([np.broadcast_to(r, L.shape) for r in ratios]) <= 1 + 1e-9, axis=0)
    if not passes.any():
        raise FormulaError(
            f"design_pad: no pad up to {feet_inches(steps[2])} wide and {feet_inches(steps[3])} deep carries "
            f"{show(given['P_a'], 'lbf')} on {show(given['q_a'], 'psf')}; ask an engineer"
        )
    best = np.flatnonzero(passes)[np.argmin((L * B * d)[passes])]
    L, B, d = (Q(float(x[best]), "in") for x in (L, B, d))
    return PadDesign(L, B, d, quick_checks(L, B, d, **given))


def governing_load(kind, P_D, P_L, P_S):
    """The greatest combined load of a kind ("strength" or "allowable"). Loads in lbf."""
    row = footing.governing_combination(kind, P_D, P_L, P_S)
    return footing.combined_load(P_D, P_L, P_S, row["D"], row["L"], row["S"])


def _candidates(plan_step, depth_step, most_plan, most_depth, given, fixed):
    """Every pad size in steps, as flat arrays in inches: no smaller than the post, 8 in. thick."""
    c_1, c_2, t = (given[name].m_as("inch") for name in ("c_1", "c_2", "t"))
    plan = np.arange(1, int(most_plan / plan_step + 1e-9) + 1) * plan_step
    depth = np.arange(1, int(most_depth / depth_step + 1e-9) + 1) * depth_step
    depth = depth[depth + t >= LEAST_THICKNESS.m_as("inch") - 1e-9]
    plan = plan[plan >= (c_1 if fixed else max(c_1, c_2))]
    L, d = (grid.ravel() for grid in np.meshgrid(plan, depth, indexing="ij"))
    B = np.full_like(L, fixed["width"].m_as("inch")) if fixed else L
    return L, B, d


# --- pads of a job -----------------------------------------------------------------------------


def soil_bearing(soil):
    """Allowable bearing of the ground: given, or by its class; None where neither is.

    soil: the [soil] section of a job. Returns psf.
    """
    if soil.bearing is not None:
        return soil.bearing.to(unit("psf"))
    return None if soil.kind == "not known" else presumptive_bearing(soil.kind)


def dug_weight(soil, depth):
    """Weight of the soil dug out over a depth, counted only where the bearing is a net value. psf."""
    return (soil.weight * depth).to(unit("psf")) if soil.net else Q(0, "psf")


def pad_for(pad, file):
    """(length, width, depth) of a pad that the job file leaves to its loads.

    pad: its [[pads]] entry; file: the whole job file. What is given of the plan size is kept.
    Raises FormulaError where the loads or the soil are not given.
    """
    q_a = soil_bearing(file.soil)
    if pad.dead is None or q_a is None:
        raise FormulaError(
            "its size is left out, and so must follow from its loads: give length, width and depth, or else "
            "dead (and live, roof) here and bearing or kind under [soil]"
        )
    fixed = pad.width if pad.width is not None else pad.length
    posts = (pad.post_length, pad.post_width)
    along, across = posts if pad.width is not None or pad.length is None else posts[::-1]
    most = pad.depth if pad.depth is not None else Q(36, "in")
    found = smallest_pad(
        *(_plain(v, "lbf") for v in (pad.dead, pad.live, pad.roof)), _plain(q_a, "psf"),
        _plain(file.concrete.strength, "psi"), *(_plain(v, "in") for v in (file.slab.thickness, along, across)),
        _plain(most, "in"), None if fixed is None else _plain(fixed, "in"),
    )  # fmt: skip
    depth = pad.depth if pad.depth is not None else found.d
    if pad.length is not None and pad.width is not None:
        return pad.length, pad.width, depth
    return (
        (found.B, found.L, depth)
        if pad.width is None and pad.length is not None
        else (found.L, found.B, depth)
    )


def _plain(value, unit_name):
    return float(value.m_as(unit(unit_name)))


@functools.lru_cache(256)
def smallest_pad(P_D, P_L, P_S, q_a, f_c, t, c_1, c_2, most_depth=36.0, width=None):
    """``design_pad`` on plain numbers (lbf, psf, psi, in.), kept. Returns a PadDesign."""
    return design_pad(
        Q(P_D, "lbf"), Q(P_L, "lbf"), Q(P_S, "lbf"), Q(q_a, "psf"), Q(f_c, "psi"), Q(t, "in"), Q(c_1, "in"),
        Q(c_2, "in"), most_depth=Q(most_depth, "in"), width=None if width is None else Q(width, "in"),
    )  # fmt: skip
