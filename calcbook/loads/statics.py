"""Statics of a wall on its plate: header, jamb, lever on the last bolt, ends of a shear wall.

The path of a wall (``path.py``) runs these very bodies on plain feet and pounds.
"""

from __future__ import annotations

from calcbook.basis.formula import arg, cite, formula, result
from calcbook.basis.units import Q

_LINE = {"low": -50000, "high": 50000}


@formula(
    "Net uplift of a line of wall",
    cite("ASCE 7-16", "2.3.1 and 2.4.1"),
    result("plf", "net uplift"),
    note="wind upward at strength level, less the dead load that the combination lets count",
    w_W=arg("plf", "wind upward, strength level", low=0),
    w_D=arg("plf", "dead load below the wind's grip", low=0),
    g_W=arg("1", "factor on wind", low=0, high=2),
    g_D=arg("1", "factor on dead load", low=0, high=2),
)
def net_uplift(w_W, w_D, g_W, g_D):
    """What the wind lifts by length of wall beyond the dead load; below zero it stays down.

    g_W, g_D: factors of the combination.
    """
    u = g_W * w_W - g_D * w_D
    return u


@formula(
    "Wind uplift at strength level, from a given net uplift",
    cite("ASCE 7-16", "2.4.1 combination 7: 0.6 D + 0.6 W, solved for W"),
    result("plf", "wind upward, strength level"),
    u=arg("plf", "uplift as given, service level", low=0),
    w_D=arg("plf", "dead load already taken off, 0 for a gross value", low=0),
    g_W=arg("1", "factor on wind at service level", above=0, high=1),
    g_D=arg("1", "share of dead load that was counted", low=0, high=1),
)
def wind_behind(u, w_D, g_W=0.6, g_D=0.6):
    """Wind at strength level from a given uplift, so that every combination can use it.

    w_D: dead load that the giver has taken off, plf (a gross uplift: 0). The strength combination
    asks for more than u/0.6 where dead load was taken off.
    """
    w_W = (u + g_D * w_D) / g_W
    return w_W


@formula(
    "Reaction of a header on its jamb",
    cite("mechanics", "a simple beam under an even load"),
    result("lbf", "reaction at the jamb"),
    w=arg("plf", "load on the header", **_LINE),
    b=arg("ft", "width of the opening", low=0),
)
def header_reaction(w, b):
    """Half of what a header carries goes to each jamb.

    w: plf, up or down.
    """
    R = w * b / 2
    return R


@formula(
    "Reactions of trusses as a line load",
    cite("mechanics", "even spacing, spread by the top plate and the studs"),
    result("plf", "line load of the trusses"),
    P=arg("lbf", "reaction of one truss", low=0),
    s=arg("in", "spacing of the trusses", above=0, high=48),
)
def spread_reaction(P, s):
    """What like trusses at an even spacing bring by length of wall."""
    w_t = P / s
    return w_t


@formula(
    "Load on a header off its middle",
    cite("mechanics", "a simple beam under one load"),
    result("lbf", "reaction at the far jamb"),
    P=arg("lbf", "load on the header"),
    a=arg("ft", "from the near jamb to the load", low=0),
    b=arg("ft", "width of the opening", above=0),
)
def far_reaction(P, a, b):
    """What a point load on a header brings to the jamb at the other end.

    P: load, lbf, up or down.
    """
    R_2 = P * a / b
    return R_2


@formula(
    "Tension of the last bolt, by lever",
    cite("mechanics", "a plate held down at two bolts, lifted beyond the last one"),
    result("lbf", "tension of the last bolt"),
    note="the plate is a beam held at the last two bolts; the bolt before is pressed, not helped",
    P=arg("lbf", "lift at the jamb", low=0),
    c=arg("in", "from the last bolt to the jamb", low=0),
    s=arg("in", "from the bolt before to the last one", above=0),
)
def lever_tension(P, c, s):
    """Tension of the last bolt of a piece of plate from a jamb that stands beyond it.

    c: overhang, in.; s: distance of the last two bolts, in.
    """
    T = P * (s + c) / s
    return T


@formula(
    "Unit shear along the plate",
    cite("mechanics", "what the doors cut out, the rest must hold"),
    result("plf", "shear by length of plate"),
    v=arg("plf", "shear by length of wall", low=0),
    L=arg("ft", "length of the wall", above=0),
    b=arg("ft", "length of plate that holds it", above=0),
)
def plate_shear(v, L, b):
    """Shear of the whole wall on the lengths of plate that pass it down.

    b: plate between the doors, or the shear-wall pieces alone, ft.
    """
    v_p = v * L / b
    return v_p


@formula(
    "Hold-down tension at the end of a shear wall",
    cite("mechanics", "moments about the other end"),
    result("lbf", "hold-down force"),
    V=arg("lbf", "shear at the top of the piece, service level", low=0),
    h=arg("ft", "height of the wall", above=0),
    b=arg("ft", "length of the piece between its ends", above=0),
    u=arg("plf", "net uplift on the piece, below zero for weight", **_LINE),
    a_i=arg("ft", "from the end of the piece to its anchor, inside", low=0),
)
def hold_down_force(V, h, b, u, a_i=Q(0, "ft")):
    """What lifts the windward end of a piece of shear wall; below zero its weight holds it down.

    h: height, b: length, ft; u: net uplift in the same combination, plf (0.6 W - 0.6 D; a wall
    without uplift: -0.6 D). An anchor inside the end has the shorter lever b - a_i.
    """
    T = (V * h + u * b**2 / 2) / (b - a_i)
    return T


@formula(
    "Compression at the end of a shear wall",
    cite("mechanics", "moments about the other end"),
    result("lbf", "compression at the end"),
    V=arg("lbf", "shear at the top of the piece, service level", low=0),
    h=arg("ft", "height of the wall", above=0),
    b=arg("ft", "length of the piece between its ends", above=0),
    w=arg("plf", "load on the piece, downward", low=0),
)
def end_compression(V, h, b, w):
    """What presses the lee end of a piece of shear wall down.

    h: height, b: length, ft.
    """
    C = V * h / b + w * b / 2
    return C


@formula(
    "Weight of a wall by its length",
    cite("mechanics"),
    result("plf", "weight of the wall itself"),
    p=arg("psf", "weight of the wall by area", low=0),
    h=arg("ft", "height of the wall", low=0),
)
def wall_weight(p, h):
    """What a wall itself weighs by its length."""
    w_w = p * h
    return w_w
