"""Checks of bolted walls: loads on the bolts, rules of the layout."""

from calcbook.anchor_shear import interaction
from calcbook.anchors import breakout_tension
from calcbook.bolt_strength import bolt_row
from calcbook.bolted import densest, row_strength
from calcbook.bolts import off_middle, sentence, sill_rule
from calcbook.formula import cite
from calcbook.units import Q, show_length


def load_checks(calc, job, walls):
    """Demand on the bolt that holds the longest piece of wall, in the wall where it counts most."""
    for direction, words, load_of in (
        ("uplift", "uplift", lambda s: s.uplift),
        ("along", "shear along the wall", lambda s: s.shear),
        ("out", "shear across the wall", lambda s: s.shear_out),
    ):
        loaded = [(load_of(w.sill) * w.share, w) for w in walls if load_of(w.sill) and w.layout.bolts]
        if not loaded:
            continue
        demand, w = max(loaded, key=lambda d: (d[0] / d[1].capacity.least(direction)[1]).m_as(""))
        name, held = w.capacity.least(direction)
        source = (
            interaction.source
            if direction == "uplift"
            else cite("NDS-2018", "Table 12.3.1A, and ACI 318-19 17.7")
        )
        calc.check(
            f"Does one bolt hold the {words} of its share of the wall {w.sill.name}?", demand.to("lbf"), held.to("lbf"), "lbf",
            source, f"Limited by {name}; share {show_length(w.share, job.system, True)}.", needs_engineer=True,
        )  # fmt: skip
    _together(calc, walls)
    _rows(calc, job, walls)


def _together(calc, walls):
    pairs = [
        (w, direction, load)
        for w in walls for direction, load in (("along", w.sill.shear), ("out", w.sill.shear_out))
        if w.sill.uplift and load and w.layout.bolts
    ]  # fmt: skip
    if not pairs:
        return
    uses = [
        (
            interaction(
                w.sill.uplift * w.share,
                w.capacity.least("uplift")[1],
                load * w.share,
                w.capacity.least(d)[1],
            ),
            w,
            d,
            load,
        )
        for w, d, load in pairs
    ]
    _, w, d, load = max(uses, key=lambda u: u[0])
    r = calc.step(
        interaction, f"Uplift and shear at once, wall {w.sill.name}.", N=w.sill.uplift * w.share, N_a=w.capacity.least("uplift")[1],
        V=load * w.share, V_a=w.capacity.least(d)[1],
    )  # fmt: skip
    calc.check(
        "Do uplift and shear at once use at most 1.2?",
        r,
        1.2,
        "1",
        interaction.source,
        needs_engineer=True,
    )


def _rows(calc, job, walls):
    """Cones that overlap in a row of close bolts, by the densest piece of each wall with uplift."""
    dense = [(w, *densest(w)) for w in walls if w.sill.uplift and w.layout.gaps]
    dense = [d for d in dense if d[1] and d[3] < 3 * d[0].h_ef * (d[1] - 1)]
    if not dense:
        return
    found = [
        (w.sill.uplift * w.share, row_strength(job, w, n, first, extent), w)
        for w, n, first, extent in dense
    ]
    demand, held, w = max(found, key=lambda f: (f[0] / f[1]).m_as(""))
    calc.check(
        f"Do the overlapping cones of the row in the wall {w.sill.name} still hold the uplift?", demand.to("lbf"), held.to("lbf"),
        "lbf", breakout_tension.source,
        f"Bolts nearer than {show_length(3 * w.h_ef, job.system, True)} share their concrete.", needs_engineer=True,
    )  # fmt: skip


def layout_checks(calc, job, walls):
    d_a = Q(bolt_row(job)["d_in"], "in")
    problems = [f"{w.sill.name}: {p}" for w in walls for p in w.layout.problems]
    pieces = sum(len(w.layout.pieces) for w in walls)
    calc.verdict(
        "Can every piece of plate be bolted by the rules?", not problems, sill_rule("bolts in a piece")[1],
        found=f"{pieces - len(problems)} of {pieces} pieces", wanted="all", remark="; ".join(problems),
    )  # fmt: skip
    least, source, words = sill_rule("least diameter")
    calc.check("Is the bolt thick enough?", least, d_a, "in", source, sentence(words))
    least, source, words = sill_rule("least embedment")
    shallow = min(walls, key=lambda w: w.h_ef)
    drilled_note = (
        " A shallower drilled bolt needs the maker's data and the building department's consent."
        * (shallow.sill.method == "drilled")
    )
    calc.check(
        f"Is the bolt deep enough (wall {shallow.sill.name})?", least, shallow.h_ef, "in", source,
        f"{sentence(words)}{drilled_note}", needs_engineer=shallow.sill.method == "drilled",
    )  # fmt: skip
    _cover_check(calc, job, walls)
    off = max(walls, key=lambda w: _off(w.sill) / w.sill.plate_width)
    calc.check(
        f"Are the bolts in the middle third of the plate (wall {off.sill.name})?", _off(off.sill), off.sill.plate_width / 6,
        "in", off_middle.source, "Distance from the middle of the plate.",
    )  # fmt: skip


def _off(sill):
    return off_middle(sill.edge_distance, sill.inset, sill.plate_width)


def _cover_check(calc, job, walls):
    least, source, words = sill_rule("least cover")
    deep = max(walls, key=lambda w: w.h_ef)
    depth = job.slab.thickness + job.edge.depth
    calc.check(
        "Is there concrete enough below the bolts?", deep.h_ef + least, depth, "in", source,
        f"Embedment and {words[9:]}, against slab and thickened edge.",
    )  # fmt: skip
