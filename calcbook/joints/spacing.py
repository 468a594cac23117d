"""Control joints: how far apart, and how deep."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from numpy import maximum, minimum

from calcbook.basis.arguments import quantities
from calcbook.basis.formula import FORMULAS, Choice, arg, cite, formula, procedure, result
from calcbook.basis.table import table
from calcbook.basis.units import Q

if TYPE_CHECKING:
    from calcbook.basis.formula import Formula
    from calcbook.basis.units import Given

THICKNESS = arg("in", "slab thickness", above=0, high=48)


@formula(
    "Largest spacing of joints",
    cite("ACI 302.1R", "24 to 36 times the thickness, at most 18 ft"),
    result("ft", "largest spacing of joints"),
    h=THICKNESS,
    factor=arg("1", "spacing over thickness", above=0, high=60, valid=(24, 36)),
    s_max=arg("ft", "spacing never to be passed", above=0),
)
def max_joint_spacing(h, factor=24.0, s_max=Q(18, "ft")):
    """Largest spacing of control joints in a slab without much steel.

    factor: 24 to 36 by slump and aggregate (``joint_factor``).

    >>> print(max_joint_spacing("5 in"))
    10.0 foot
    """
    s = minimum(factor * h, s_max)
    return s


@procedure(
    "Spacing of joints over thickness",
    cite("PCA joints", "table by slump and aggregate"),
    "looked up by the slump and the largest size of aggregate: wet, fine concrete shrinks most",
    returns=result("1", "spacing over thickness"),
    slump=arg("in", "slump", above=0, high=12),
    aggregate=arg("in", "largest size of aggregate", above=0, high=3),
)
def joint_factor(slump: Given, aggregate: Given) -> float:
    """24, 30 or 36 times the thickness. slump, aggregate: in. Returns a number.

    A metric order of 100 mm is the trade's 4 in.: the table takes 100 mm (3.937 in.) as the border.
    """
    given = quantities("joint_factor", joint_factor.arguments, slump=slump, aggregate=aggregate)
    s, a = (round(given[name].m_as("inch"), 6) for name in ("slump", "aggregate"))
    row = next(
        r for r in table("joint_spacing")
        if r["slump_from_in"] <= s <= r["slump_to_in"] and r["aggregate_from_in"] <= a <= r["aggregate_to_in"]
    )  # fmt: skip
    return row["times_thickness"]


@formula(
    "Depth of a sawn joint",
    cite("ACI 302.1R", "a quarter of the thickness, at least 1 in."),
    result("in", "depth of the saw cut"),
    h=THICKNESS,
    d_min=arg("in", "least depth", above=0),
)
def sawcut_conventional(h, d_min=Q(1, "in")):
    """Depth of a conventional saw cut in slab thickness h, at least d_min."""
    d = maximum(h / 4, d_min)
    return d


@formula(
    "Depth of a sawn joint in fiber concrete",
    cite("ACI 302.1R", "a third of the thickness with fiber"),
    result("in", "depth of the saw cut"),
    h=THICKNESS,
    d_min=arg("in", "least depth", above=0),
)
def sawcut_fiber(h, d_min=Q(1, "in")):
    """Depth of a saw cut where fiber crosses the crack, slab thickness h, at least d_min. Inches."""
    d = maximum(h / 3, d_min)
    return d


@formula(
    "Depth of an early-entry cut",
    cite("ACI 302.1R-15", "1 in. in slabs up to 9 in."),
    result("in", "depth of the saw cut"),
    h=arg("in", "slab thickness", above=0, valid=(0, 9)),
    d_early=arg("in", "depth of an early cut", above=0),
)
def sawcut_early(h, d_early=Q(1, "in")):
    """Depth of an early-entry cut d_early, in slabs of thickness h up to 9 in."""
    d = minimum(d_early, h)
    return d


class _Sawcut(Choice):
    """Picks by ``early_entry`` and ``fiber``."""

    def pick(self, kwargs: dict[str, Any]) -> Formula:
        early, fiber = (
            kwargs.pop(name, False) in (True, "true", "yes") for name in ("early_entry", "fiber")
        )
        kwargs.setdefault(self.keyword, "early" if early else "fiber" if fiber else "conventional")
        return super().pick(kwargs)


sawcut_depth = FORMULAS["sawcut_depth"] = _Sawcut(
    "sawcut_depth", "kind",
    {"conventional": sawcut_conventional, "fiber": sawcut_fiber, "early": sawcut_early}, "conventional",
)  # fmt: skip
