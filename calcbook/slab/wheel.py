"""A wheel anywhere on a slab: stresses over a range of thicknesses, the least one, and a chart."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from calcbook.basis.arguments import quantities
from calcbook.basis.formula import FormulaError, arg, cite, formula, procedure, result
from calcbook.basis.showing import magnitude, show
from calcbook.basis.units import TRADE_UNITS, Q, number_in
from calcbook.plan.charted import note
from calcbook.plan.drawing import ACCENT, GREY, INK, SMALL, THIN, chart
from calcbook.slab.properties import concrete_modulus, joint_stress, modulus_of_rupture
from calcbook.slab.together import added_psi, counts_more, wheels_together
from calcbook.slab.westergaard import (
    corner_stress,
    edge_stress,
    interior_stress,
    radius_of_relative_stiffness,
)

if TYPE_CHECKING:
    from matplotlib.figure import Figure
    from numpy.typing import NDArray

    from calcbook.basis.units import Given, Quantity
    from calcbook.job.file import Job

NU = 0.15  # Poisson's ratio of concrete, the value of the whole literature of slabs on grade
_ALONE = Q(60, "in")  # does not count for one wheel


@formula(
    "Wheel load",
    cite("mechanics"),
    result("lbf", "load on a wheel"),
    P_axle=arg("lbf", "load on the axle", above=0),
    n=arg("1", "wheels on the axle", low=1),
)
def wheel_load(P_axle, n):
    """An axle's load P_axle (lbf) shared evenly by its n wheels."""
    P = P_axle / n
    return P


@procedure(
    "Least thickness under a wheel",
    cite("TRR 1043"),
    "the thickness is raised in quarter inches from 3.5 in. until inside, joint, free edge and corner "
    "all stay below the allowable stress, the other wheels of the axle counted",
    returns=result("in", "least thickness"),
    P=arg("lbf", "load on the wheel", above=0),
    a=arg("in", "radius of the loaded circle", above=0),
    f_c=arg("psi", "specified strength of the concrete", low=2500, high=10000),
    k=arg("pci", "modulus of subgrade reaction", above=0),
    margin=arg("1", "margin wanted against cracking", low=1, high=5),
    n=arg("1", "wheels on the axle", low=1, high=4),
    s=arg("in", "distance of neighboring wheels", above=0),
)
def slab_for_wheel(
    P: Given, a: Given, f_c: Given, k: Given, margin: Given = 1.7, n: Given = 1, s: Given = _ALONE
) -> Quantity:
    """Least slab thickness, in quarter inches, for the wheels of an axle anywhere on it. Returns inches.

    P: load of one wheel, lbf; a: radius of its print, in.; f_c: strength, psi; k: soil modulus, pci;
    margin: safety factor on the modulus of rupture; n: wheels that act together, s: their distance, in. Raises FormulaError beyond 14 in.
    """
    given = quantities(
        "slab_for_wheel", slab_for_wheel.arguments, P=P, a=a, f_c=f_c, k=k, margin=margin, n=n, s=s
    )
    h = np.arange(3.5, 14.01, 0.25)
    stresses = wheel_stresses(h, **{x: given[x] for x in ("P", "a", "f_c", "k", "n", "s")})
    worst = np.max([np.asarray(stress) for stress in stresses.values()], axis=0)
    allowed = modulus_of_rupture.body(given["f_c"].m_as("psi")) / given["margin"]
    passing = h[worst <= allowed]
    if not passing.size:
        raise FormulaError(f"no slab up to 14 in. carries {show(given['P'], 'lbf')}; ask an engineer")
    return Q(float(passing[0]), "in")


def wheel_stresses(
    h: NDArray, P: Quantity, a: Quantity, f_c: Quantity, k: Quantity, LT: float = 0.25, n: Any = 1, s: Quantity = _ALONE
) -> dict[str, NDArray]:  # fmt: skip
    """Stresses (psi) of the wheels of an axle at its worst places, over an array of thicknesses h (in.).

    P: load of one wheel; a: radius of its print; f_c: strength; k: soil modulus; LT: share a joint passes on;
    n: wheels, s: their distance. The very bodies of the formulas run, in inches and pounds-force. Returns arrays
    by place.
    """
    P, a, k, others = number_in(P, "lbf"), number_in(a, "in"), number_in(k, "pci"), float(n) - 1
    E_c = concrete_modulus.body(number_in(f_c, "psi"))
    common = (P, a, h, E_c, NU, k)
    edge = edge_stress.formulas["circle"].body(*common)
    inside = interior_stress.body(*common)
    alone = {
        "inside a panel": inside,
        "at a joint": joint_stress.body(edge, LT),
        "at a free edge": edge,
        "at a corner": corner_stress.formulas["ioannides"].body(*common),
    }
    if others <= 0:
        return alone
    length = radius_of_relative_stiffness.body(E_c, h, NU, k)
    add = added_psi(P, h, number_in(s, "in"), length, NU)
    return {
        place: wheels_together.body(stress, others, add, counts_more(stress, inside))
        for place, stress in alone.items()
    }


def wheel_of(job: Job, P: Quantity, a: Quantity, k: Quantity) -> dict[str, Any]:
    """What ``wheel_stresses`` takes beside thicknesses, of a job. P, a, k: as there."""
    v = job.vehicle
    return {
        "P": P, "a": a, "f_c": job.concrete.strength, "k": k, "LT": v.transfer.m_as(""), "n": v.wheels.m_as(""),
        "s": v.wheel_spacing,
    }  # fmt: skip


def stress_chart(wheel: dict[str, Any], thickness: Quantity, f_a: Quantity, system: str) -> Figure:
    """Stress at the worst places against thickness, with the job's point and the allowable stress.

    wheel: of ``wheel_of``; thickness: of the slab; f_a: allowable stress. Returns a Figure.
    """
    to_x, to_y = (magnitude(Q(1, u), u, system) for u in ("in", "psi"))
    names = [TRADE_UNITS[u].label_for(system) for u in ("in", "psi")]
    figure, ax = chart(title="Stress of the wheels against thickness", x=f"slab thickness, {names[0]}",
                       y=f"flexural stress, {names[1]}")  # fmt: skip
    chosen = thickness.m_as("inch")
    h = np.linspace(3.5, max(9.0, chosen + 1), 60)
    curves, here = wheel_stresses(h, **wheel), wheel_stresses(np.array([chosen]), **wheel)
    styles = ("-", (0, (1, 1.5)), (0, (5, 2)), (0, (6, 2, 1, 2)))
    for (place, stress), style in zip(curves.items(), styles, strict=True):
        ax.plot(h * to_x, stress * to_y, color=INK, lw=1.1, ls=style, label=place)
        ax.plot(chosen * to_x, here[place] * to_y, "o", ms=4, color=ACCENT)
    limit = f_a.m_as("psi") * to_y
    ax.axhline(limit, color=ACCENT, lw=1.1)
    note(ax, 1, limit, "allowable", 0, 3, "x", ha="right", fontsize=SMALL, color=ACCENT)
    ax.axvline(chosen * to_x, color=GREY, lw=THIN)
    note(ax, chosen * to_x, 1, "this slab", 4, -8, "y", fontsize=SMALL, color=GREY)
    ax.set_ylim(bottom=0)
    ax.set_xlim(h[0] * to_x, h[-1] * to_x)
    ax.legend(frameon=False, fontsize=SMALL, handlelength=3.2)  # looks for a place that is free
    return figure
