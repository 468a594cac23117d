"""Where the sheet under a slab ends, and how much of it goes down into thickened edge, pads and strips."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from numpy import maximum, sqrt

from calcbook.basis.formula import arg, cite, formula, result
from calcbook.basis.rounding import ceil

if TYPE_CHECKING:
    from shapely.geometry import Polygon

    from calcbook.plan.outline import EdgeRing

UNDER, INSIDE, FLAT = ENDS = (
    "under the edge and up the form",
    "inside of the edge",
    "flat to the outline",
)
_DEPTH = arg("in", "depth below the slab's underside", low=0)
_SLOPE = arg("1", "slope of the side, run per rise", low=0, symbol="slope")


@formula(
    "Sheet beyond the outline",
    cite("geometry", "along the section of the edge"),
    result("in", "sheet beyond the outline"),
    d=_DEPTH,
    slope=_SLOPE,
    h_u=arg("in", "least turn-up", low=0),
)
def sheet_beyond(d, slope, h_u):
    """How far a sheet that follows the thickened edge reaches beyond the outline when it is rolled out flat:

    d: depth of the edge below the slab; slope: of its inner side. Down the slope, under the edge,
    and up its outside to the slab's underside or the turn-up, whichever is more.
    """
    l_s = d * sqrt(1 + slope**2)
    e = l_s - d * slope + maximum(d, h_u)
    return e


@formula(
    "Sheet short of the outline",
    cite("geometry", "along the section of the edge"),
    result("in", "sheet short of the outline"),
    b=arg("in", "width of the thickened edge at its bottom", low=0),
    d=_DEPTH,
    slope=_SLOPE,
)
def sheet_short(b, d, slope):
    """How far inside the outline the slope of the thickened edge begins.

    d: its depth below the slab; slope: of its inner side.
    """
    r = b + d * slope
    return r


@formula(
    "Side of a lining",
    cite("common practice", "a piece over the bottom, up the sides, and a lap beyond"),
    result("in", "side of a lining, rolled out flat"),
    a=arg("in", "side of the pad or strip at its bottom", above=0),
    d=_DEPTH,
    slope=_SLOPE,
    p=arg("in", "lap of neighboring sheets", low=0),
)
def lining_side(a, d, slope, p):
    """One side of the piece that lines a pad or strip: its bottom, both slopes, and a lap at both ends.

    d: depth below the slab.
    """
    l_a = a + 2 * (d * sqrt(1 + slope**2) + p)
    return l_a


@formula(
    "Widths of roll in a lining",
    cite("geometry", "each further one gives up a lap"),
    result("1", "widths of roll side by side"),
    l_a=arg("in", "side of a lining, rolled out flat", above=0),
    w=arg("ft", "width of a roll", above=0),
    p=arg("in", "lap of neighboring sheets", low=0),
)
def lining_widths(l_a, w, p):
    """How many widths of roll cover one side of a lining.

    Returns a whole number (plain).
    """
    n_l = maximum(ceil((l_a - p) / (w - p)), 1)
    return n_l


def sheet_line(edge: EdgeRing | None, ends: str, turn_up: float) -> list[tuple[float, float]]:
    """The sheet in section from where it leaves the slab's underside to its end, as points in feet.

    edge: EdgeRing or None; ends: one of ``ENDS``; turn_up: least turn-up in feet. x is 0 at the outline
    and grows inward, y is 0 at the slab's underside.
    """
    if edge is None or ends == FLAT:
        return [(0.0, 0.0)] if ends == INSIDE else [(0.0, 0.0), (0.0, turn_up)]
    d, b, inner = edge.depth, edge.width, edge.width + edge.slope * edge.depth
    if ends == INSIDE:
        return [(inner, 0.0)]
    return [(inner, 0.0), (b, -d), (0.0, -d), (0.0, -d + max(d, turn_up))]


@dataclass(frozen=True)
class Lining:
    """The piece of sheet that lines a pad or strip, all in plain feet.

    name; rim: its place at the slab's underside (Polygon); along: length of each of its widths of
    roll; across: its other side; widths: how many lie side by side.
    """

    name: str
    rim: Polygon
    along: float
    across: float
    widths: int

    @property
    def inner_laps(self) -> float:
        """Length of the laps within it."""
        return (self.widths - 1) * self.along

    @property
    def area(self) -> float:
        """Area that it covers."""
        return self.along * self.across
