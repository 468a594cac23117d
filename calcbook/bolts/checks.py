"""Checks of bolted walls: loads on a bolt, rules of the layout, wood and concrete round it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.formula import cite
from calcbook.basis.showing import show_length
from calcbook.basis.units import Q
from calcbook.bolts.anchor_shear import interaction
from calcbook.bolts.capacity import bolt_row
from calcbook.bolts.sill import off_middle, sentence, sill_rule

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.bolts.bolted import Bolted
    from calcbook.job.file import Job
    from calcbook.job.schema.walls import Wall


def load_checks(calc: Calculation, walls: Sequence[Bolted]) -> None:
    """Demand on the bolt that holds the longest piece of wall, in the wall where it counts most."""
    for direction, words in (
        ("uplift", "uplift"), ("along", "shear along the wall"), ("out", "shear across the wall"),
    ):  # fmt: skip
        used = [(_use(w, direction), w) for w in walls if w.load(direction) and w.layout.bolts]
        if not used:
            continue
        _, w = max(used, key=lambda u: u[0])
        name, held = w.capacity.least(direction)
        source = (
            cite("ACI 318-19", "17.5.2; washer on the plate NDS-2018 3.10.2")
            if direction == "uplift"
            else cite("NDS-2018", "Table 12.3.1A, and ACI 318-19 17.7")
        )
        calc.check(
            f"Does one bolt hold the {words} of its share of the wall {w.sill.name}?", (w.load(direction) * w.share).to("lbf"),
            held.to("lbf"), "lbf", source, f"Limited by {name}; share {show_length(w.share, calc.system, True)}.",
            needs_engineer=True,
        )  # fmt: skip
    _together(calc, walls)


def _use(w: Bolted, direction: str) -> float:
    """Load over what is allowed, of the bolt that holds the longest piece of wall."""
    load = w.load(direction)
    if load is None:
        return 0.0
    return load.m_as("plf") * w.share.m_as("foot") / w.capacity.least(direction)[1].m_as("lbf")


def _together(calc: Calculation, walls: Sequence[Bolted]) -> None:
    uses = [
        (_use(w, "uplift") + _use(w, direction), w, direction)
        for w in walls for direction in ("along", "out")
        if w.sill.uplift and w.load(direction) and w.layout.bolts
    ]  # fmt: skip
    if not uses:
        return
    _, w, direction = max(uses, key=lambda u: u[0])
    words = "along" if direction == "along" else "across"
    r = calc.step(
        interaction, f"Uplift and shear {words} the wall at once, wall {w.sill.name}.", N=w.sill.uplift * w.share,
        N_a=w.capacity.least("uplift")[1], V=w.load(direction) * w.share, V_a=w.capacity.least(direction)[1],
    )  # fmt: skip
    calc.check(
        "Do uplift and shear at once use at most 1.2?",
        r,
        1.2,
        "1",
        interaction.source,
        needs_engineer=True,
    )


def layout_checks(calc: Calculation, job: Job, walls: Sequence[Bolted]) -> None:
    """Check that every wall could be laid out, bolts in each piece, the plate's wood, and the concrete below.

    calc: a Calculation; job: a Job; walls: its Bolted walls.
    """
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
    shallow = min(walls, key=lambda w: w.h_ef.m_as("inch"))
    drilled_note = (
        " A shallower drilled bolt needs the maker's data and the building department's consent."
        * (shallow.sill.method == "drilled")
    )
    calc.check(
        f"Is the bolt deep enough (wall {shallow.sill.name})?", least, shallow.h_ef, "in", source,
        f"{sentence(words)}{drilled_note}", needs_engineer=shallow.sill.method == "drilled",
    )  # fmt: skip
    _cover_check(calc, job, walls)
    _plate_checks(calc, walls, d_a)


def _plate_checks(calc: Calculation, walls: Sequence[Bolted], d_a: Quantity) -> None:
    """Where the bolts stand in the width of the plate."""
    kinds: dict[tuple[float, ...], tuple[Quantity, Wall]] = {}  # the first wall of each kind
    for w in walls:
        at = w.sill.edge_distance, w.sill.inset, w.sill.plate_width
        kinds.setdefault(tuple(x.m_as("inch") for x in at), (off_middle(*at), w.sill))
    off, sill = max(kinds.values(), key=lambda k: (k[0] / k[1].plate_width).m_as(""))
    calc.check(
        f"Are the bolts in the middle third of the plate (wall {sill.name})?", off, sill.plate_width / 6,
        "in", off_middle.source, "Distance from the middle of the plate.",
    )  # fmt: skip
    if any(w.sill.shear_out for w in walls):
        least, source, words = sill_rule("least loaded edge", d_a)
        room, sill = min(
            ((sill.plate_width / 2 - off, sill) for off, sill in kinds.values()), key=lambda k: k[0].m_as("inch")
        )  # fmt: skip
        calc.check(
            f"Has the bolt wood enough beside it for shear across the wall (wall {sill.name})?", least,
            room, "in", source, sentence(words), needs_engineer=True,
        )  # fmt: skip


def _cover_check(calc: Calculation, job: Job, walls: Sequence[Bolted]) -> None:
    least, source, words = sill_rule("least cover")
    deep = max(walls, key=lambda w: w.h_ef.m_as("inch"))
    depth = job.slab.thickness + job.edge.depth
    calc.check(
        "Is there concrete enough below the bolts?", deep.h_ef + least, depth, "in", source,
        f"Embedment and {words[9:]}, against slab and thickened edge.",
    )  # fmt: skip
