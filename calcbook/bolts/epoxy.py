"""Adhesive for drilled bolts: volume and cartridges."""

from numpy import pi

from calcbook.basis.formula import arg, cite, formula, result
from calcbook.basis.rounding import ceil
from calcbook.basis.units import Q


@formula(
    "Adhesive in the holes",
    cite("geometry", "the hole less the bolt"),
    result("in3", "adhesive, with waste"),
    d_hole=arg("in", "drilled diameter", above=0, high=4),
    d_bolt=arg("in", "bolt diameter", above=0, high=4),
    depth=arg("in", "depth of the hole", above=0, high=60),
    n=arg("1", "holes", low=0),
    waste=arg("1", "waste, share of the volume", low=0, high=2),
)
def epoxy_volume(d_hole, d_bolt, depth, n=1.0, waste=0.30):
    """Adhesive for n holes, with waste: first strokes thrown away, overfill, voids in the threads.

    d_hole, d_bolt: diameters (the hole must be the larger); waste: share of the net volume (plain).
    Source: geometry; waste is common practice.
    """
    V_1 = pi / 4 * (d_hole**2 - d_bolt**2) * depth
    V_e = n * V_1 * (1 + waste)
    return V_e


@formula(
    "Cartridges",
    cite("common practice", "whole cartridges"),
    result("1", "cartridges to order"),
    V_e=arg("in3", "adhesive, with waste", low=0),
    V_k=arg("fl_oz", "content of a cartridge", above=0, high=200),
)
def epoxy_cartridges(V_e, V_k=Q(22, "fl_oz")):
    """Whole cartridges that hold the adhesive.

    Returns a plain number, rounded up. Source: common practice.
    """
    n_k = ceil(V_e / V_k)
    return n_k
