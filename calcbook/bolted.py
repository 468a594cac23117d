"""One bolted wall: what was found for it, and what its bolts hold as a row."""

import itertools
from dataclasses import dataclass

from calcbook.anchor_bond import basic_bond, bond_reach, bond_tension, default_bond_stress
from calcbook.anchors import basic_breakout, breakout_tension
from calcbook.bolt_layout import from_steps
from calcbook.bolt_strength import ALPHA, Capacity, Place, bolt_row
from calcbook.table import lookup
from calcbook.units import Q


@dataclass
class Bolted:
    """One wall with all that was found for it: spacings by reason, the layout, what its bolts hold."""

    sill: object
    line: object
    capacity: Capacity
    h_ef: object
    spacings: dict
    layout: object

    @property
    def spacing(self):
        return min(self.spacings.values())

    @property
    def governs(self):
        return min(self.spacings, key=lambda k: self.spacings[k])

    @property
    def share(self):
        """Greatest length of wall that one bolt holds."""
        found = []
        for number, (start, end) in enumerate(self.layout.pieces, 1):
            places = [b.place for b in self.layout.bolts if b.piece == number]
            if places:
                edges = [start, *((a + b) / 2 for a, b in itertools.pairwise(places)), end]
                found += [b - a for a, b in itertools.pairwise(edges)]
        return from_steps(max(found, default=0), self.layout.rules.system)


def place(job, sill, corner):
    """Surroundings of the bolt that stands worst: the first one from the end of the slab."""
    x0, y0, x1, y1 = job.plan.bounds
    across = Q(min(x1 - x0, y1 - y0), "ft")
    depth = job.slab.thickness + job.edge.depth
    return Place(
        sill.edge_distance, across.to("inch") - sill.edge_distance, corner, across.to("inch"), depth
    )


def densest(w):
    """(bolts, distance of the first from the slab's end, extent) of the piece with the closest bolts."""
    best = (0, None, None)
    for number in range(1, len(w.layout.pieces) + 1):
        places = [b.place for b in w.layout.bolts if b.piece == number]
        if len(places) > 1:
            span = from_steps(places[-1] - places[0], w.layout.rules.system)
            if not best[0] or span / (len(places) - 1) < best[2] / (best[0] - 1):
                first = from_steps(places[0], w.layout.rules.system) + Q(w.line.before, "ft")
                best = (len(places), first, span)
    return best


def row_strength(job, w, n, first, extent):
    """Allowable uplift of each of n bolts in a row, by breakout and, where drilled, bond."""
    bolts, sill = job.bolts, w.sill
    at = place(job, sill, first)
    edges = dict(c_1=at.c_1, c_2=at.c_2, c_3=first, c_4=at.c_4, s_2=extent, n=float(n))
    cast = sill.method == "cast"
    N_b = basic_breakout(job.concrete.strength, w.h_ef, 24.0 if cast else 17.0)
    phi = lookup("anchor_phi", mode="concrete tension" if cast else "drilled breakout")["phi"]
    held = phi * breakout_tension(N_b, w.h_ef, **edges)
    if not cast:
        d_a = Q(bolt_row(job)["d_in"], "in")
        tau = bolts.bond_cracked or default_bond_stress(bolts.place_of_use, "cracked")
        tau_uncr = bolts.bond_uncracked or default_bond_stress(bolts.place_of_use, "uncracked")
        bond = bond_tension(basic_bond(tau, d_a, w.h_ef), bond_reach(d_a, tau_uncr), **edges)
        held = min(held, lookup("anchor_phi", mode="bond")["phi"] * bond)
    return ALPHA[bolts.load] * held / n
