"""Warping of a slab by sun and night: its stress alone, and together with that of the loads."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from numpy import maximum, sqrt

from calcbook.basis.formula import arg, cite, formula, result
from calcbook.basis.units import Q
from calcbook.slab.properties import curling_coefficient, curling_stress
from calcbook.slab.wheel import NU

if TYPE_CHECKING:
    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job

EXPANSION = Q(5.5e-6, "1/degF")  # Huang 2004, from memory
GRADIENT = Q(2.0, "delta_degF")  # by inch of thickness; 1.5 to 3 for a slab in the sun, from memory
NIGHT = 0.5  # share of the day's difference that turns round at night (Huang 2004, from memory)
TOGETHER = cite("Huang 2004 from memory", "load and curling added, against the modulus of rupture")
_WHY = (
    "The margin on the load alone is meant to cover warping, as the design charts for floors leave it out; the sum is held "
    "against the stress that cracks the slab, without a margin."
)
_MEND = "Closer joints, shade and a cover, or a thicker slab."


class Bends(NamedTuple):
    """What bends the slab: in words, kind of place, stress, radius of its print."""

    what: str
    place: str
    stress: Quantity
    a: Quantity


@formula(
    "Curling stress at a corner",
    cite("Bradbury 1938", "corner, tension on top when the top is colder"),
    result("psi", "curling stress at a corner"),
    E_c=arg("psi", "modulus of elasticity of the concrete", above=0),
    alpha=arg("1/degF", "thermal expansion of the concrete", above=0, high=1e-5),
    dT=arg(
        "delta_degF",
        "temperature of the bottom less that of the top",
        low=0,
        high=60,
        symbol="Delta T",
    ),
    nu=arg("1", "Poisson's ratio of the concrete", low=0, below=0.5),
    a=arg("in", "radius of the loaded circle at the corner", above=0),
    l=arg("in", "radius of relative stiffness", above=0),
)
def corner_curling_stress(E_c, alpha, dT, nu, a, l):  # noqa: E741
    """Stress where a load at a corner breaks it, because the top of the slab is colder than the bottom."""
    sigma_t = E_c * alpha * dT / (3 * (1 - nu)) * sqrt(a / l)
    return sigma_t


@formula(
    "Stress of load and warping together",
    cite("mechanics", "stresses on one face add"),
    result("psi", "stress of load and warping together"),
    sigma=arg("psi", "stress of the load", low=0),
    sigma_t=arg("psi", "curling stress"),
)
def with_warping(sigma, sigma_t):
    """Both pull on the same face; where warping relieves, nothing is taken off."""
    sigma_a = sigma + maximum(sigma_t, 0 * sigma)
    return sigma_a


def warping(
    calc: Calculation,
    job: Job,
    slab: tuple[Quantity, Quantity, Quantity],
    spacing: Quantity,
    f_r: Quantity,
    loads: list[Bends],
) -> None:
    """Enter what sun and night do to a slab, and what it comes to with its loads.

    slab: thickness, modulus of elasticity, radius of relative stiffness; spacing: of the joints; f_r: cracking stress.
    """
    h, E_c, length = slab
    rate = "2 F° for each inch" if job.system == "us" else "0.44 C° for each 10 mm"
    dT = calc.finding(f"With the sun on it the top is warmer, here by {rate} of thickness.",
                      "Delta T", GRADIENT * h.m_as("inch"), "delta_degF",
                      cite("Huang 2004 from memory", "1.5 to 3 F° for each inch"),
                      label="temperature difference, top over bottom")  # fmt: skip
    C = calc.step(curling_coefficient, "A panel as long as the joints allow feels this share of the full curling stress (angles in radians).",
                  L=spacing, l=length)  # fmt: skip
    sigma_t = calc.step(
        curling_stress, "The panel bends by this stress. Short panels lower it.", name="curling",
        E_c=E_c, alpha=EXPANSION, dT=dT, nu=NU, C_x=C, C_y=C,
    )  # fmt: skip
    below = [b for b in loads if b.place != "at a corner"]
    if below:
        worst = max(below, key=lambda b: b.stress)
        sigma = calc.step(with_warping, f"In the sun, {worst.what} {worst.place}: both pull on the bottom. At an edge the sun's stress is "
                          "taken as inside a panel, the safe side.", sigma=worst.stress, sigma_t=sigma_t)  # fmt: skip
        _compare(calc, "Bending stress of load and sun together", sigma, f_r, worst)
    at_corner = [b for b in loads if b.place == "at a corner"]
    if at_corner:
        worst = max(at_corner, key=lambda b: b.stress)
        cold = calc.finding("On a cold night the top is colder, by half as much.", "Delta T", NIGHT * dT, "delta_degF",
                            cite("Huang 2004 from memory", "half of the day's values at night"), label="temperature difference at night")  # fmt: skip
        sigma_c = calc.step(corner_curling_stress, "The corner lifts and is bent by its own weight.", E_c=E_c, alpha=EXPANSION,
                            dT=cold, nu=NU, a=worst.a, l=length)  # fmt: skip
        sigma = calc.step(with_warping, f"{worst.what[0].upper()}{worst.what[1:]} {worst.place} at night: both pull on the top.",
                          sigma=worst.stress, sigma_t=sigma_c)  # fmt: skip
        _compare(calc, "Bending stress of load and a cold night together", sigma, f_r, worst)


def _compare(calc: Calculation, title: str, sigma: Quantity, f_r: Quantity, worst: Bends) -> None:
    where = f"{worst.what[0].upper()}{worst.what[1:]} {worst.place}. "
    calc.check(title, sigma, f_r, "psi", TOGETHER, where + _WHY, to_do=_MEND)
