"""Bars along a thickened edge, counted where a wall lifts it: bending strength with the steel the code lets count.

The edge is one beam of slab and edge. Half of its bars lie at the top and half at the bottom; those at the tension side count,
with their cover by the code. With less steel than the code's least for beams only three quarters of it count: the code asks a
third more than the moment needs. Where plain concrete holds more, it counts instead, but not across a joint: there bars count
alone, in what is left of the edge below the cut.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from numpy import maximum

from calcbook.basis.formula import arg, cite, formula, result, root
from calcbook.basis.showing import show
from calcbook.basis.table import lookup
from calcbook.basis.units import Q, number_in

if TYPE_CHECKING:
    from calcbook.basis.calculation import Calculation
    from calcbook.basis.sources import Citation
    from calcbook.basis.units import Quantity
    from calcbook.job.edges import EdgeOf
    from calcbook.job.file import Job

COVER = {
    "top": Q(2, "in"),
    "bottom": Q(3, "in"),
}  # ACI 318-19 Table 20.5.1.3.1: to weather (No. 6), cast against ground
TENSION = 0.24  # a/d: c/d is 0.375 at a strain of 0.005, times the code's least beta_1 of 0.65
_STEEL = arg("in2", "steel at the tension side", above=0)
_YIELD = arg("psi", "yield strength", above=0, high=80000)
_CONCRETE = arg("psi", "specified strength of the concrete", above=0, valid=(2500, 10000), digits=4)
_WIDTH = arg("in", "width of the edge at its bottom", above=0)
_DEPTH = arg("in", "depth to the bars", above=0)


@formula(
    "Effective depth to the bars",
    cite("geometry"),
    result("in", "depth to the bars"),
    h=arg("in", "whole thickness", above=0),
    c_c=arg("in", "cover of the bars", above=0),
    d_b=arg("in", "diameter of the bars", above=0),
)
def effective_depth(h, c_c, d_b):
    """From the compressed face to the middle of the bars."""
    d_s = h - c_c - d_b / 2
    return d_s


@formula(
    "Thickness left under a saw cut",
    cite("geometry"),
    result("in", "thickness left under the cut"),
    h=arg("in", "whole thickness", above=0),
    d_cut=arg("in", "depth of the saw cut", low=0),
)
def under_the_cut(h, d_cut):
    """What a joint leaves of a section, where the crack is meant to form."""
    h_j = h - d_cut
    return h_j


@formula(
    "Minimum flexural reinforcement",
    cite("ACI 318-19", "9.6.1.2"),
    result("in2", "least steel of a beam"),
    f_c=_CONCRETE,
    f_y=_YIELD,
    b=_WIDTH,
    d_s=_DEPTH,
    f_0=arg("psi", "least stress that counts", above=0),
)
def least_steel(f_c, f_y, b, d_s, f_0=Q(200, "psi")):
    """The least steel that a beam in bending needs for all of it to count."""
    A_min = maximum(3 * root(f_c), f_0) / f_y * b * d_s
    return A_min


@formula(
    "Depth of the stress block",
    cite("ACI 318-19", "22.2.2.4"),
    result("in", "depth of the compressed concrete"),
    A_s=_STEEL,
    f_y=_YIELD,
    f_c=_CONCRETE,
    b=_WIDTH,
)
def stress_block(A_s, f_y, f_c, b):
    """How deep the concrete is compressed by the steel's pull."""
    a = A_s * f_y / (0.85 * f_c * b)
    return a


@formula(
    "Design flexural strength with bars",
    cite("ACI 318-19", "22.2 and Table 21.2.2"),
    result("lbf*in", "bending strength with bars"),
    note="tension-controlled, so phi is 0.90",
    A_s=_STEEL,
    f_y=_YIELD,
    d_s=_DEPTH,
    a=arg("in", "depth of the compressed concrete", above=0),
    phi=arg("1", "strength reduction factor", above=0, high=1),
)
def bar_moment_strength(A_s, f_y, d_s, a, phi=0.90):
    """Design bending strength of a section with bars at its tension side."""
    M_n = A_s * f_y * (d_s - a / 2)
    phiM_n = phi * M_n
    return phiM_n


@dataclass(frozen=True)
class EdgeStrength:
    """Bending strength of an edge with its top and with its bottom in tension (lbf in); of both, what counts in words, and
    the clause it rests on."""

    top: Quantity
    bottom: Quantity
    words: dict[str, str]
    clauses: dict[str, Citation]


_PLAIN = "Plain concrete, no bars counted."


def edge_strength(
    calc: Calculation, job: Job, edge: EdgeOf, h: Quantity, plain: Quantity
) -> EdgeStrength:
    """Enter what the bars of an edge add. h: slab and edge together; plain: strength without bars."""
    counts = _counts(job)
    found = {
        face: _with_bars(calc, job, edge, h, face, f"its {face} in tension") if n else None
        for face, n in counts.items()
    }
    strengths, words = {}, {}
    for face, held in found.items():
        more = held is not None and held > plain
        strengths[face] = held if more and held is not None else plain
        words[face] = (
            f"{counts[face]} bar{'s' * (counts[face] > 1)} {job.edge.bar} at the {face} counted, lapped all along."
            if more else _PLAIN if held is None else "Plain concrete: it holds more than the bars alone would."
        )  # fmt: skip
    clauses = {
        face: cite("ACI 318-19", "22.2" if strengths[face] > plain else "14.5.2.1") for face in words
    }
    return EdgeStrength(strengths["top"], strengths["bottom"], words, clauses)


def _counts(job: Job) -> dict[str, int]:
    """How many bars lie at each face of an edge."""
    return {"bottom": (job.edge.bars + 1) // 2, "top": job.edge.bars // 2}


def strength_at_joint(
    calc: Calculation, job: Job, edge: EdgeOf, h: Quantity, cut: Quantity
) -> Quantity | None:
    """Enter what the bars of an edge hold across a joint, the weaker of both faces; None where none is counted.

    h: slab and edge together; cut: depth of the saw cut.
    """
    h_j = calc.step(
        under_the_cut, "A joint that crosses the edge leaves this of it. A crack is meant to form there, so no moment of plain "
        "concrete is counted across it.", h=h, d_cut=cut,
    )  # fmt: skip
    counts = _counts(job)
    if not counts["top"]:
        return None
    if cut >= COVER["top"]:
        calc.note(
            f"The cut, {show(cut, 'in', job.system)} deep, would meet the bars at the top: none is counted across a joint."
        )
        return None
    held = [
        _with_bars(calc, job, edge, whole, face, f"its {face} in tension, at a joint")
        for face, whole in (("top", h), ("bottom", h_j))
    ]  # a cut at the tension side takes nothing from the depth to its bars
    found = [one for one in held if one is not None]
    return min(found) if len(found) == len(held) else None


def _with_bars(
    calc: Calculation, job: Job, edge: EdgeOf, h: Quantity, face: str, tells: str
) -> Quantity | None:
    """Strength of the edge by the bars at a face; None where the rules do not let them count. tells: when, in words."""
    n = _counts(job)[face]
    bar = lookup("bars", size=job.edge.bar)
    f_y, f_c, b = job.reinforcement.bar_yield, job.concrete.strength, edge.width
    cover = COVER[face]
    if number_in(h, "in") - number_in(cover, "in") < 6:
        return None
    d_s = calc.step(
        effective_depth, f"To the bars at the {face}, {show(cover, 'in', job.system)} of cover.",
        h=h, c_c=cover, d_b=Q(bar["diameter_in"], "in"),
    )  # fmt: skip
    A_min = calc.step(least_steel, "The code's least steel for a beam of this size.", f_c=f_c, f_y=f_y, b=b, d_s=d_s)  # fmt: skip
    A = n * bar["area_in2"]
    whole = A >= number_in(A_min, "in2")
    A_s = calc.finding(
        f"{n} {job.edge.bar} at the {face}, {show(Q(A, 'in2'), 'in2', job.system)}: " + ("all of it counts." if whole else
        "less than the least, so three quarters count: a third more must be there than the moment needs."),
        "A_s", Q(A if whole else 0.75 * A, "in2"), "in2", cite("ACI 318-19", "9.6.1.3"), label=f"steel counted at the {face}",
    )  # fmt: skip
    a = calc.step(
        stress_block, "The concrete that the steel's pull compresses.", A_s=A_s, f_y=f_y, f_c=f_c, b=b
    )
    if number_in(a, "in") / number_in(d_s, "in") > TENSION:
        calc.note(f"The bars at the {face} are too many for this edge to yield first: none is counted.")
        return None
    return calc.step(
        bar_moment_strength, f"Bending strength of the edge with {tells}, its bars counted.",
        A_s=A_s, f_y=f_y, d_s=d_s, a=a,
    )  # fmt: skip
