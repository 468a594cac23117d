"""Bars or mesh of the slab, counted where the slab holds a thickened edge level: its top in tension, one foot of it.

The residential code has steel stay between the middle of a slab and its upper third (IRC R506.2.4); the middle is counted, and
of the two layers the lower one. Steel counts where it lies on chairs, is the code's least for a slab, close enough, and held in
the edge by its own length: bars in proportion to that length, mesh by two cross wires. Else the slab is plain concrete.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from numpy import minimum

from calcbook.basis.formula import arg, cite, formula, result
from calcbook.basis.showing import show
from calcbook.basis.table import lookup
from calcbook.basis.units import Q, number_in
from calcbook.footings import plain
from calcbook.footings.pads import STRIP
from calcbook.footings.reinforced import TENSION, bar_moment_strength, stress_block
from calcbook.job.schema.structure import ON_CHAIRS
from calcbook.job.wire import wire_style
from calcbook.slab.steel import STYLES, bar_area, development_length, steel_by_width, steel_layer

if TYPE_CHECKING:
    from collections.abc import Callable

    from calcbook.basis.sources import Citation
    from calcbook.basis.units import Quantity
    from calcbook.job.edges import EdgeOf
    from calcbook.job.file import Job

BAR_END = Q(3, "in")  # from the slab's rim, as bars and sheets are laid
_THICKNESS = arg("in", "slab thickness", above=0)
_TRIED = ("#3", "#4", "#5")
_EVERY = Q(12, "in")


@formula(
    "Effective depth to steel in the middle of a slab",
    cite("geometry", "the place that IRC R506.2.4 allows, between the middle and the upper third"),
    result("in", "depth to the lower layer"),
    h=_THICKNESS,
    d_b=arg("in", "diameter of bar or wire", above=0),
)
def middle_depth(h, d_b):
    """From the bottom of a slab to the lower of two layers, which touch at the middle."""
    d_s = h / 2 - d_b / 2
    return d_s


@formula(
    "Minimum flexural reinforcement of a slab",
    cite("ACI 318-19", "7.6.1.1, and Table 24.4.3.2"),
    result("in2/ft", "least steel by width"),
    h=_THICKNESS,
    rho=arg("1", "share of the whole section", above=0, high=0.02),
)
def least_slab_steel(h, rho=0.0018):
    """Steel without which a slab counts as plain concrete, by width of slab.

    >>> print(least_slab_steel("4 in"))
    0.0864 inch ** 2 / foot
    """
    A_min = rho * h
    return A_min


@formula(
    "Greatest spacing of bars in a slab",
    cite("ACI 318-19", "7.7.2.3"),
    result("in", "greatest spacing"),
    h=_THICKNESS,
    s_0=arg("in", "greatest spacing in any slab", above=0),
)
def greatest_spacing(h, s_0=Q(18, "in")):
    """How far apart bars or wires may lie that work in bending."""
    s_max = minimum(3 * h, s_0)
    return s_max


@formula(
    "Length of mesh that holds two cross wires",
    cite(
        "geometry",
        "two cross wires wherever the sheet was cut, the nearer 2 in. off, as ACI 318-19 25.4.7 asks",
    ),
    result("in", "length of mesh in the edge"),
    s_t=arg("in", "spacing of the cross wires", above=0),
    x_0=arg("in", "to the nearer wire", low=0),
)
def mesh_hold(s_t, x_0=Q(2, "in")):
    """So long a piece holds two cross wires wherever the sheet was cut."""
    l_w = 2 * s_t + x_0
    return l_w


@formula(
    "Share of the yield strength that is developed",
    cite("mechanics", "bond spread evenly along the bar, as ACI 318-19 25.4.10.1 allows"),
    result("1", "share developed"),
    l_a=arg("in", "length of bar in the edge", low=0),
    l_d=arg("in", "development length", above=0),
)
def developed_share(l_a, l_d):
    """What part of its strength a straight bar takes up in a shorter length."""
    m = minimum(l_a / l_d, 1)
    return m


@dataclass(frozen=True)
class SlabHold:
    """What one foot of slab holds with its top in tension, the clause it rests on, and what was counted, in words."""

    strength: Quantity
    clause: Citation
    words: str
    steel: bool = False


@dataclass(frozen=True)
class Mat:
    """Bars or mesh both ways: name, steel by width, yield strength, spacing, diameter; cross wires' spacing of mesh."""

    name: str
    A_s: Quantity
    f_y: Quantity
    s: Quantity
    d_b: Quantity
    s_t: Quantity | None = None

    @classmethod
    def of_bars(cls, job: Job, size: str, s: Quantity) -> Mat:
        """Bars of a size at a spacing s (a length)."""
        name = f"bars {size} at {show(s, 'in', job.system)}"
        d_b = Q(lookup("bars", size=size)["diameter_in"], "in")
        return cls(name, steel_by_width(bar_area(size), s), job.reinforcement.bar_yield, s, d_b)

    @classmethod
    def of(cls, job: Job) -> Mat:
        """What the job lays, bars or mesh."""
        r = job.reinforcement
        if r.kind == "bars":
            return cls.of_bars(job, r.bar, r.bar_spacing)
        s, s_t, A_w, _ = wire_style(r.wire)
        d_b = Q(2 * math.sqrt(number_in(A_w, "in2") / math.pi), "in")
        return cls(f"mesh {r.wire}", *steel_layer(job, r.kind), s, d_b, s_t)


def quietly(formula: Callable[..., Any], words: str, **inputs: Any) -> Any:
    """A formula's result without entering it."""
    return formula(**inputs)


def slab_hold(
    job: Job, edge: EdgeOf, h: Quantity, outward: bool, run: Callable[..., Any] = quietly
) -> SlabHold:
    """What one foot of a slab of thickness h holds beside an edge.

    h: a length; outward: whether the wall turns the edge outward, so that the slab's top is in tension; run: uses a formula.
    """
    h_e = run(plain.soil_deduction, "What counts of the slab.", h=h)
    bare = run(
        plain.plain_moment_strength, "What one foot of it holds as plain concrete.", f_c=job.concrete.strength, b=STRIP, h=h_e,
    )  # fmt: skip
    none = SlabHold(bare, cite("ACI 318-19", "14.5.2.1"), "")
    if job.reinforcement.kind not in ("bars", "mesh"):
        return _with(none, "Plain concrete: no bars or mesh are chosen.")
    if not outward:
        return _with(
            none,
            "Plain concrete: the wall turns the edge inward, and steel above the slab's middle is not counted for that.",
        )
    if job.reinforcement.support != ON_CHAIRS:
        why = (
            "steel that lies on the ground holds nothing here." if job.reinforcement.support
            else "the job does not say that its steel lies on chairs (reinforcement.support)."
        )  # fmt: skip
        return _with(none, f"Plain concrete: {why}")
    held, words = mat_strength(job, edge, h, Mat.of(job), run)
    if held is None or held <= bare:
        return _with(none, f"Plain concrete: {words}")
    return SlabHold(
        held, cite("ACI 318-19", "22.2 and 7.6.1.1"), f"Counted with steel: {words}", steel=True
    )


def _with(hold: SlabHold, words: str) -> SlabHold:
    return SlabHold(hold.strength, hold.clause, words)


def mat_strength(
    job: Job, edge: EdgeOf, h: Quantity, mat: Mat, run: Callable[..., Any] = quietly
) -> tuple[Quantity | None, str]:
    """(bending strength of one foot of a slab of thickness h with a mat, what was counted in words); None with the reason where it
    does not count.

    h: a length; run: as for ``slab_hold``.
    """
    f_c, system = job.concrete.strength, job.system
    A_min = run(least_slab_steel, "The code's least steel for a slab in bending.", h=h)
    s_max = run(greatest_spacing, "How far apart it may lie.", h=h)
    if mat.A_s < A_min * (1 - 1e-9):
        return (
            None,
            f"{mat.name}, {show(mat.A_s, 'in2/ft', system)}, is less than the code's least of {show(A_min, 'in2/ft', system)}.",
        )
    if mat.s > s_max * (1 + 1e-9):
        return None, f"{mat.name} lies farther apart than {show(s_max, 'in', system)}."
    share = _held_in(edge, mat, f_c, run)
    if not share > 0:
        return None, f"an edge {show(edge.width, 'in', system)} wide is too narrow to hold {mat.name}."
    d_s = run(
        middle_depth,
        "To the lower layer, its middle at the slab's middle or higher.",
        h=h,
        d_b=mat.d_b,
    )
    steel, whole = {"f_y": mat.f_y, "f_c": f_c, "b": STRIP}, number_in(mat.A_s, "in2/ft") * Q(1, "in2")
    if number_in(stress_block(A_s=whole, **steel), "in") / number_in(d_s, "in") > TENSION:
        return None, f"{mat.name} is too much for this thickness to yield first."
    A_s = share * whole
    a = run(
        stress_block,
        f"The concrete that the pull of {mat.name} compresses, one foot of slab.",
        A_s=A_s,
        **steel,
    )
    M_n = run(bar_moment_strength, "What one foot of it holds with its top in tension, the steel counted.",
              A_s=A_s, f_y=mat.f_y, d_s=d_s, a=a)  # fmt: skip
    return M_n, (
        f"{mat.name} on chairs at the middle of the slab, {show(Q(100 * share, '%'), '%', system)} of its yield strength "
        "by its length in the edge."
    )  # fmt: skip


def _held_in(edge: EdgeOf, mat: Mat, f_c: Quantity, run: Callable[..., Any]) -> float:
    """The share of its strength that a mat takes up within an edge."""
    l_a = max(edge.width - BAR_END, Q(0, "in"))
    if mat.s_t is not None:
        known = mat.name.split()[-1] in STYLES  # thicker wire may need more than its cross wires
        l_w = run(mesh_hold, "What the edge must hold of the mesh.", s_t=mat.s_t)
        return 1.0 if known and l_a >= l_w else 0.0
    l_d = run(development_length, "The length in which a bar takes up its full strength.",
              f_y=mat.f_y, f_c=f_c, d_b=mat.d_b)  # fmt: skip
    return float(
        run(
            developed_share, "What the edge has of it, bars ending short of its face.", l_a=l_a, l_d=l_d
        )
    )


def bars_that_hold(job: Job, edge: EdgeOf, M_t: Quantity) -> str:
    """The thinnest bars on chairs by which a slab as thick as it is holds a moment M_t on one foot; "" where none of the usual do."""
    every = min(_EVERY, greatest_spacing(job.slab.thickness))
    for size in _TRIED:
        mat = Mat.of_bars(job, size, every)
        held, _ = mat_strength(job, edge, job.slab.thickness, mat)
        if held is not None and held >= M_t:
            return f"{mat.name} both ways on chairs (reinforcement.support)"
    return ""
