"""A wall that stands on the slab: the line load that a slab carries without a footing of its own.

The slab is a beam on springs across the wall, one foot wide. The allowable stress of the source
already holds the margin of safety.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from numpy import exp, pi, sin
from shapely import LineString

from calcbook.basis.formula import (
    FORMULAS,
    Choice,
    FormulaError,
    arg,
    cite,
    formula,
    number,
    result,
    root,
    with_unit,
)  # fmt: skip
from calcbook.basis.inline import inline
from calcbook.basis.units import Q, number_in
from calcbook.slab.properties import concrete_modulus

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.formula import Formula
    from calcbook.basis.units import Quantity
    from calcbook.job.schema.walls import Wall

_BESIDE = 0.2
_SOURCE_STRENGTH = (550**2 / 9**2, 700**2 / 9**2)  # the table's 550 to 700 psi flexural strength
_INPUTS = {
    "h": arg("in", "slab thickness at the wall", above=0, valid=(4, 10)),
    "f_c": arg("psi", "specified strength of the concrete", above=0, valid=_SOURCE_STRENGTH, digits=4),
    "k": arg("pci", "modulus of subgrade reaction", above=0, valid=(25, 300)),
}


@formula(
    "Allowable stress under a wall",
    cite("UFC 3-320-06A", "3-4"),
    result("psi", "allowable flexural stress"),
    f_c=_INPUTS["f_c"],
    factor=arg("1", "multiplier of the square root of strength in psi", above=0, high=2.5),
)
def wall_allowable_stress(f_c, factor=1.6):
    """Allowable tension under a wall load: 1.6 root f'c, which holds the safety factor.

    f_c: specified strength of the concrete, psi.
    """
    F_b = factor * root(f_c)
    return F_b


@formula(
    "Characteristic of the slab strip on springs",
    cite("Hetenyi 1946", "beam on an elastic foundation"),
    result("1/in", "characteristic of the beam on springs"),
    E_c=arg("psi", "modulus of elasticity of the concrete", above=0),
    h=_INPUTS["h"],
    k=_INPUTS["k"],
)
def strip_characteristic(E_c, h, k):
    """Inverse length over which a line load spreads: (k b/(4 E I))^(1/4) for a strip of width b.

    h: slab thickness at the wall, in.
    """
    lam = (3 * k / (E_c * h**3)) ** 0.25
    return lam


@inline
@formula(
    "Wall load on a slab away from free edges",
    cite("UFC 3-320-06A", "appendix B and Table 3-2"),
    result("plf", "wall load capacity"),
    shows={"lam": "1/in"},
    note="holds near the middle of the slab, or at a keyed or doweled joint",
    **_INPUTS,
)
def wall_load_interior(h, f_c, k):
    """Wall load that a slab carries away from a free edge, or at a keyed or doweled joint.

    h: slab thickness, 4 to 10 in. in the source's table; f_c: specified strength, psi;
    k: modulus of subgrade reaction, pci. Returns lbf per foot of wall. Beyond the table's loads
    the source asks for a footing. Source: UFC 3-320-06A Table 3-2, all of it reproduced.
    """
    F_b = wall_allowable_stress.body(f_c)
    E_c = concrete_modulus.body(f_c)
    lam = strip_characteristic.body(E_c, h, k)
    w_a = 4 * lam * F_b * h**2 / 6
    return w_a


@inline
@formula(
    "Wall load on a slab at a free edge",
    cite("UFC 3-320-06A", "appendix B, free edge; derived again after Hetenyi 1946"),
    result("plf", "wall load capacity"),
    shows={"lam": "1/in"},
    note="the greatest moment of an end load P is (P / λ) exp(-π/4) sin(π/4), at a distance π/(4 λ)",
    **_INPUTS,
)
def wall_load_edge(h, f_c, k):
    """Wall load that a slab of even thickness carries at a free edge. Returns lbf per foot.

    f_c: specified strength of the concrete, psi; k: modulus of subgrade reaction, pci. Arguments as
    for ``wall_load_interior``. Derived from the end-loaded beam on springs.
    """
    F_b = wall_allowable_stress.body(f_c)
    E_c = concrete_modulus.body(f_c)
    lam = strip_characteristic.body(E_c, h, k)
    w_a = lam * F_b * h**2 / 6 / (exp(-pi / 4) * sin(pi / 4))
    return w_a


@formula(
    "Specified strength behind a flexural strength",
    cite("UFC 3-320-06A", "Table 3-2, note a"),
    result("psi", "specified strength of the concrete", digits=4),
    f_r=arg("psi", "flexural strength", above=0, valid=(550, 700)),
    factor=arg("1", "flexural strength over the square root of strength in psi", above=0, high=12),
)
def strength_from_flexural(f_r, factor=9.0):
    """The f'c that the wall-load table means by a flexural strength of 9 root f'c."""
    f_c = with_unit((number(f_r, "psi") / factor) ** 2, "psi", f_r)
    return f_c


def runs_beside(wall: Wall, cuts: Sequence[LineString], lam: Quantity) -> bool:
    """Whether a joint runs so near beside a wall that the slab bends more than far from it.

    lam: of ``strip_characteristic``. A load at x from the end of a beam on springs bends it on top by more than far from
    the end up to lam x = 0.12 (own solution after Hetenyi 1946); 0.2 is counted. A joint that only crosses the wall is none.
    """
    if wall.run() is None:
        return False
    ends = [float(number_in(v, "ft")) for v in (wall.x1, wall.y1, wall.x2, wall.y2) if v is not None]
    reach = _BESIDE / float(number_in(lam, "1/in")) / 12
    near = LineString([ends[:2], ends[2:]]).buffer(reach, cap_style="flat")
    return any((cut & near).length > 3 * reach for cut in cuts)


class _WallLoad(Choice):
    """Picks by ``location``; a flexural strength ``f_r`` may be given in place of ``f_c``."""

    def pick(self, kwargs: dict[str, Any]) -> Formula:
        f_r = kwargs.pop("f_r", None)
        if f_r is not None:
            if kwargs.get("f_c") is not None:
                raise FormulaError(f"{self.name}: give f_c or f_r, not both")
            kwargs["f_c"] = strength_from_flexural(f_r)
        return super().pick(kwargs)


wall_load_capacity = FORMULAS["wall_load_capacity"] = _WallLoad(
    "wall_load_capacity",
    "location",
    {"interior": wall_load_interior, "edge": wall_load_edge},
    "interior",
)


@formula(
    "Thickness factor for another modulus of subgrade reaction",
    cite("UFC 3-320-06A", "Table 3-2, note"),
    result("1", "factor on thickness"),
    k=_INPUTS["k"],
    k_table=arg("pci", "modulus the table rests on", above=0),
)
def wall_thickness_factor(k, k_table=Q(100, "pci")):
    """How much thicker a slab must be on softer soil for the same wall load.

    k: modulus of subgrade reaction, pci.
    """
    c_k = (k_table / k) ** 0.2
    return c_k
