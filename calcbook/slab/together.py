"""Wheels, posts or legs that stand near each other: what each adds to the bending under the hardest one."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from calcbook.basis.arguments import quantities
from calcbook.basis.formula import arg, cite, formula, procedure, result
from calcbook.basis.units import Q, number_in
from calcbook.slab.kelvin import ker_keip

if TYPE_CHECKING:
    from calcbook.basis.units import Given, Quantity

_P = arg("lbf", "load on the other wheel", low=0)
_INPUTS = {
    "P": _P,
    "h": arg("in", "slab thickness", above=0),
    "s": arg("in", "distance to the other wheel", above=0),
    "l": arg("in", "radius of relative stiffness", above=0),
    "nu": arg("1", "Poisson's ratio", low=0, high=0.5),
}


@procedure(
    "Stress that a wheel adds under another",
    cite("Hetenyi 1946", "a point load on an endless plate on springs, after Hertz"),
    "the greater of the radial and the tangential moment of a point load, by Kelvin functions, taken as tension; "
    "where both relieve, nothing is taken off",
    returns=result("psi", "stress added"),
    **_INPUTS,
)
def added_stress(P: Given, h: Given, s: Given, l: Given, nu: Given = 0.15) -> Quantity:  # noqa: E741
    """Bending stress below a wheel from another one at a distance. Returns psi.

    P: load of the other wheel, lbf; h: thickness, s: distance, l: radius of relative stiffness, in.; nu: plain.
    """
    given = quantities("added_stress", added_stress.arguments, P=P, h=h, s=s, l=l, nu=nu)
    h_in, s_in, l_in = (number_in(given[n], "in") for n in ("h", "s", "l"))
    return Q(
        float(added_psi(number_in(given["P"], "lbf"), h_in, s_in, l_in, float(given["nu"]))), "psi"
    )


def added_psi(P: Any, h: Any, s: Any, l: Any, nu: float) -> Any:  # noqa: E741
    """The same in bare numbers, psi, pounds and inches; h and l: numbers, or arrays of thicknesses; nu: plain."""
    x = s / l
    ker, keip = ker_keip(x)
    radial = ker - (1 - nu) * keip / x
    tangential = nu * ker + (1 - nu) * keip / x
    M = P / (2 * np.pi) * np.maximum(np.maximum(radial, tangential), 0.0)
    return 6 * M / h**2


def counts_more(stress: Any, inside: Any) -> Any:
    """How much more another wheel counts at a place than inside a panel: as the wheel itself does, 1 to 3."""
    return np.clip(stress / inside, 1.0, 3.0)


@formula(
    "Stress of several loads together",
    cite("mechanics", "stresses add"),
    result("psi", "stress of all loads"),
    sigma=arg("psi", "stress of the load itself", low=0),
    n=arg("1", "other loads", low=0),
    add=arg("psi", "stress that each of them adds at most", low=0),
    f=arg("1", "how much more it counts there than inside a panel", low=1, high=3),
)
def wheels_together(sigma, n, add, f=1.0):
    """Stress under the hardest load with what the others add."""
    sigma_n = sigma + n * f * add
    return sigma_n
