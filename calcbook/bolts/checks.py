"""Checks of bolted walls: loads on a bolt, rules of the layout, wood and concrete round it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.formula import cite
from calcbook.basis.showing import show, show_length
from calcbook.basis.table import records
from calcbook.basis.units import Q, number_in
from calcbook.bolts.anchor_shear import interaction
from calcbook.bolts.bolted import concrete_depth
from calcbook.bolts.breaks import BOX, JOINT, OPENING
from calcbook.bolts.capacity import bolt_row
from calcbook.bolts.parted import BY_BOLT, beside_words
from calcbook.bolts.sill import off_middle, sentence, sill_rule
from calcbook.plan.tape import from_steps

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.bolts.bolted import Bolted
    from calcbook.job.file import Job
    from calcbook.job.schema.walls import Wall

_NEAR = 2.0  # feet: so far the table tells of joints
_STRONGER = {
    "uplift": "Deeper or larger bolts, or a strap or hold-down there.",
    "along": "Larger bolts (bolts.size), or more braced wall to share the shear.",
    "out": "Larger bolts (bolts.size), a thicker plate, or a bracket at that jamb.",
}
_CLEAR = {
    JOINT: "Move the joint beside it (joints.lines).",
    BOX: "A smaller box around the post beside it (joints.box).",
    OPENING: "Move the opening beside it (openings).",
}
_BOTH = {  # uplift with shear in that direction
    "along": "Deeper or larger bolts (bolts.size), a strap or hold-down there, or more braced wall to share the shear.",
    "out": "Deeper or larger bolts (bolts.size), a thicker plate, or a strap, hold-down or bracket there.",
}
_SHORT = {"uplift": "uplift", "along": "shear along", "out": "shear across"}


def load_checks(calc: Calculation, job: Job, walls: Sequence[Bolted]) -> None:
    """Demand on the bolt that works hardest, in each direction and in both at once."""
    for direction, words in (
        ("uplift", "Uplift"), ("along", "Shear along the wall"), ("out", "Shear across the wall"),
    ):  # fmt: skip
        found = _hardest(walls, [w.uses[direction] for w in walls])
        if found is None or not found[1].forces[direction][found[2]]:
            continue
        _, w, k = found
        name, held = w.held(k, direction)
        source = (
            cite("ACI 318-19", "17.5.2; washer on the plate NDS-2018 3.10.2")
            if direction == "uplift"
            else cite("NDS-2018", "Table 12.3.1A, and ACI 318-19 17.7")
        )
        calc.check(
            f"{words} on the governing bolt, wall {w.sill.name}",
            Q(w.forces[direction][k], "lbf"), held, "lbf", source, f"Bolt {k + 1}, limited by {name}; {_made_of(calc, w, k, direction)}{beside_words(job, w, k)}.",
            needs_engineer=True, to_do=f"{_CLEAR[w.beside.names[k]]} {_STRONGER[direction]}" if k in w.own else _STRONGER[direction],
        )  # fmt: skip
    _together(calc, walls)


def _hardest(
    walls: Sequence[Bolted], uses: Sequence[Sequence[float]]
) -> tuple[float, Bolted, int] | None:
    """(use, wall, number from 0) of the bolt with the greatest of the uses by wall; None where there are no bolts."""
    found = [(use, w, k) for w, own in zip(walls, uses, strict=True) for k, use in enumerate(own)]
    return max(found, key=lambda f: f[0], default=None)


def _made_of(calc: Calculation, w: Bolted, k: int, direction: str) -> str:
    """Where a bolt's load comes from."""
    own = f"{show_length(w.length(w.shares[k]), calc.system, True)} of plate is its own"
    if direction != "uplift" or not w.by_jambs[k]:
        return own
    return f"{own}, {show(Q(w.by_jambs[k], 'lbf'), 'lbf', calc.system)} comes by a jamb or post"


def _together(calc: Calculation, walls: Sequence[Bolted]) -> None:
    uses = [
        (*found, direction)
        for direction in ("along", "out")
        if (found := _hardest(walls, [_combined(w, direction) for w in walls]))
        and found[1].forces["uplift"][found[2]] and found[1].forces[direction][found[2]]
    ]  # fmt: skip
    if not uses:
        return
    _, w, k, direction = max(uses, key=lambda u: u[0])
    words = "along" if direction == "along" else "across"
    r = calc.step(
        interaction, f"Uplift and shear {words} the wall at once, wall {w.sill.name}, bolt {k + 1}.",
        N=Q(w.forces["uplift"][k], "lbf"), N_a=w.held(k, "uplift")[1],
        V=Q(w.forces[direction][k], "lbf"), V_a=w.held(k, direction)[1],
    )  # fmt: skip
    calc.check(
        "Interaction of uplift and shear on the governing bolt",
        r,
        1.2,
        "1",
        interaction.source,
        needs_engineer=True,
        to_do=_BOTH[direction],
    )


def _combined(w: Bolted, direction: str) -> list[float]:
    return [combined_use(w, k, direction) for k in range(len(w.layout.bolts))]


def combined_use(w: Bolted, k: int, direction: str) -> float:
    """Use of a bolt by uplift with shear in a direction, both in shares of what it may hold."""
    up, side = w.uses["uplift"][k], w.uses[direction][k]
    return interaction.body(up, 1.0, side, 1.0) / 1.2 if up and side else 0.0


def hardest_use(w: Bolted, k: int) -> float:
    """The greatest share of what a bolt may hold that it is asked to."""
    return max(*(w.uses[d][k] for d in _SHORT), *(combined_use(w, k, d) for d in ("along", "out")))


def bolt_table(calc: Calculation, walls: Sequence[Bolted]) -> None:
    """Every bolt: its length of plate, what comes by jambs, tension, shears, ratio and what governs."""
    rows = []
    for w in walls:
        for k, bolt in enumerate(w.layout.bolts):
            by = {d: f"{words}, {w.held(k, d)[0]}" for d, words in _SHORT.items()}
            uses = {
                **{words: w.uses[d][k] for d, words in by.items()},
                "uplift with shear along": combined_use(w, k, "along"),
                "uplift with shear across": combined_use(w, k, "out"),
            }
            governs = max(uses, key=lambda name: uses[name])
            rows.append([
                f"{w.sill.name} {k + 1}", w.layout.rules.at(bolt.place), w.layout.rules.text(round(w.shares[k])),
                *(show(Q(x, "lbf"), "lbf", calc.system, exact=False) for x in (
                    w.by_jambs[k], *(w.forces[d][k] for d in _SHORT),
                )),
                _joint(calc, w, k), f"{uses[governs]:.2f}", governs if uses[governs] else "no load given",
            ])  # fmt: skip
    columns = [
        "Bolt", "On the tape", "Own length", "By jamb or post", "Uplift", "Along", "Across", "Joint at", "Ratio", "Governs",
    ]  # fmt: skip
    calc.table(BY_BOLT, records(columns, rows))


def _joint(calc: Calculation, w: Bolted, k: int) -> str:
    """How far the nearest joint, box or opening is, where that is within two feet."""
    far = w.beside.nearest(k)
    return show_length(Q(far, "ft"), calc.system, True) if far < _NEAR else ""


def layout_checks(calc: Calculation, job: Job, walls: Sequence[Bolted]) -> None:
    """Check that every wall could be laid out, bolts in each piece, the plate's wood, and the concrete below.

    calc: a Calculation; job: a Job; walls: its Bolted walls.
    """
    d_a = Q(bolt_row(job)["d_in"], "in")
    problems = [f"{w.sill.name}: {p}" for w in walls for p in w.layout.problems]
    pieces = sum(len(w.layout.pieces) for w in walls)
    calc.verdict(
        "Pieces of sill plate bolted by the rules", not problems, sill_rule("bolts in a piece")[1],
        found=f"{pieces - len(problems)} of {pieces} pieces", wanted="all required", to_do="; ".join(problems),
    )  # fmt: skip
    least, source, words = sill_rule("least diameter")
    calc.check("Diameter of the sill bolts", least, d_a, "in", source, sentence(words), least=True,
               to_do="Larger bolts (bolts.size).")  # fmt: skip
    least, source, words = sill_rule("least embedment")
    shallow = min(walls, key=lambda w: number_in(w.h_ef, "in"))
    drilled_note = (
        " A shallower drilled bolt needs the maker's data and the building department's consent."
        * (shallow.sill.method == "drilled")
    )
    calc.check(
        f"Embedment of the sill bolts, wall {shallow.sill.name}", least, shallow.h_ef, "in", source,
        f"{sentence(words)}{drilled_note}", needs_engineer=shallow.sill.method == "drilled", least=True,
        to_do="Set the bolts deeper (bolts.depth).",
    )  # fmt: skip
    _cover_check(calc, job, walls)
    _torque_checks(calc, job, [w for w in walls if w.sill.method == "cast"], d_a)
    _plate_checks(calc, walls, d_a)


def _torque_checks(calc: Calculation, job: Job, cast: Sequence[Bolted], d_a: Quantity) -> None:
    """Cast bolts whose nuts are torqued need more room than snug ones."""
    if not cast:
        return
    calc.given(job, "bolts.torqued")
    if not job.bolts.torqued:
        calc.caution(
            "Tighten the nuts of cast bolts snug, not by torque: torqued bolts need 6 diameters to an edge and to the next "
            "(ACI 318M-19, Table 17.9.2)."
        )
        return
    edge, source, words = sill_rule("least torqued edge", d_a)
    nearest = min(w.nearest_edge for w in cast)
    calc.check("Edge distance of torqued cast bolts", edge, nearest, "in", source, sentence(words),
               needs_engineer=True, least=True, to_do="Tighten the nuts snug (bolts.torqued), or set the bolts farther in.")  # fmt: skip
    gaps = [gap for w in cast for gap in w.layout.gaps]
    if gaps:
        apart, source, words = sill_rule("least torqued spacing", d_a)
        calc.check("Spacing of torqued cast bolts", apart, from_steps(min(gaps), job.system), "in", source,
                   sentence(words), needs_engineer=True, least=True, to_do="Tighten the nuts snug (bolts.torqued).")  # fmt: skip


def _plate_checks(calc: Calculation, walls: Sequence[Bolted], d_a: Quantity) -> None:
    """Where the bolts stand in the width of the plate."""
    kinds: dict[tuple[float, ...], tuple[Quantity, Wall]] = {}  # the first wall of each kind
    for w in walls:
        at = w.sill.edge_distance, w.sill.inset, w.sill.plate_width
        kinds.setdefault(tuple(number_in(x, "in") for x in at), (off_middle(*at), w.sill))
    off, sill = max(kinds.values(), key=lambda k: (k[0] / k[1].plate_width).m_as(""))
    calc.check(
        f"Distance of the bolts from the middle of the plate, wall {sill.name}", off, sill.plate_width / 6,
        "in", off_middle.source, "The middle third of the plate.",
        to_do="Move the bolts nearer to its middle (walls.edge_distance, walls.inset).",
    )  # fmt: skip
    if any(w.sill.shear_out for w in walls):
        least, source, words = sill_rule("least loaded edge", d_a)
        room, sill = min(
            ((sill.plate_width / 2 - off, sill) for off, sill in kinds.values()), key=lambda k: number_in(k[0], "in")
        )  # fmt: skip
        calc.check(
            f"Edge distance in the wood for shear across the wall, wall {sill.name}", least,
            room, "in", source, sentence(words), needs_engineer=True, least=True,
            to_do="A wider plate, or bolts nearer to its middle (walls.edge_distance, walls.inset).",
        )  # fmt: skip


def _cover_check(calc: Calculation, job: Job, walls: Sequence[Bolted]) -> None:
    """Concrete below the bolts where they stand: an inset plate has only the slab below it."""
    least, source, words = sill_rule("least cover")
    w = max(walls, key=lambda w: number_in(w.h_ef, "in") - number_in(concrete_depth(job, w.sill), "in"))
    depth = concrete_depth(job, w.sill)
    where = (
        "slab and thickened edge"
        if depth > job.slab.thickness
        else "the slab alone, as the plate stands inside the edge"
    )
    calc.check(
        f"Depth of the concrete at the bolts, wall {w.sill.name}", w.h_ef + least, depth, "in", source,
        f"Embedment and {words[9:]}, against {where}.", least=True,
        to_do="A deeper edge there, shorter bolts, or the plate farther out over the edge.",
    )  # fmt: skip
