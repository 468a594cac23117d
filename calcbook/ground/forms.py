"""Edge forms: how much and how many stakes."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from calcbook.basis.formula import arg, cite, formula, result
from calcbook.basis.rounding import ceil
from calcbook.basis.units import Q
from calcbook.job.edges import edges_of, side_lengths, sides_text
from calcbook.plan.outline import is_round

if TYPE_CHECKING:
    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job
    from calcbook.plan.outline import Opening, Plan


@formula(
    "Length of edge forms",
    cite("geometry"),
    result("ft", "edge forms"),
    P=arg("ft", "perimeter of the outline", above=0),
    P_o=arg("ft", "around openings that are formed", low=0),
)
def form_length(P, P_o):
    """Forms around the slab and its openings; round openings take a tube or sleeve instead.

    P_o: around the openings with straight sides. Source: geometry.
    """
    L_f = P + P_o
    return L_f


@formula(
    "Stakes for the forms",
    cite("common practice", "a stake every 3 to 4 ft and at each corner"),
    result("1", "stakes"),
    L_f=arg("ft", "edge forms", above=0),
    corners=arg("1", "corners", low=0, symbol="n_c"),
    spacing=arg("ft", "distance between stakes", above=0, high=8, symbol="s"),
)
def form_stakes(L_f, corners, spacing=Q(4, "ft")):
    """Stakes that hold the edge forms.

    corners: how many corners have one more (plain). Returns a whole number (plain). Source: common
    practice.

    >>> print(form_stakes("108 ft", 4))
    31.0
    """
    n_s = ceil(L_f / spacing) + corners
    return n_s


def formed_openings(plan: Plan) -> list[Opening]:
    """The openings of a Plan that get straight forms: all but the round ones."""
    return [o for o in plan.openings if not is_round(o.shape)]


def against_walls(calc: Calculation, job: Job) -> Quantity:
    """Enter the isolation strip along walls that are there; returns how long those sides are."""
    sides = [k for k, edge in enumerate(edges_of(job), 1) if edge.against]
    if not sides:
        return Q(0, "ft")
    lengths = side_lengths(job)
    L_w = calc.finding(
        f"{sides_text(sides).capitalize()} against a wall: no form, an isolation strip as deep as the slab.", "L_w",
        Q(math.fsum(lengths[k - 1] for k in sides), "ft"), "ft", cite("geometry"), "against", "isolation strip at walls",
    )  # fmt: skip
    calc.take("Isolation strip at walls", L_w, "ft", "isolation")
    return L_w


def beside_slabs(calc: Calculation, job: Job) -> Quantity:
    """Enter where a slab that is poured before is the form; returns how long that is."""
    before = [contact for contact in job.contacts if not contact.first]
    if not before:
        return Q(0, "ft")
    names = " and ".join(contact.other for contact in before)
    return calc.finding(
        f"Poured after {names}: no form where they touch.", "L_b", Q(math.fsum(c.length for c in before), "ft"), "ft",
        cite("geometry"), "beside", "against slabs poured before",
    )  # fmt: skip
