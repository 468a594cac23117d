"""Plate washers: near enough to the sheathed edge, here the outer one, for shear and against bending across the grain."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.formula import cite
from calcbook.basis.showing import show
from calcbook.basis.units import Q, number_in
from calcbook.bolts.sill import cross_grain_bending, sill_rule

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.bolts.bolted import Bolted
    from calcbook.job.file import Job

_GRAIN = cite("NDS-2018 from memory", "3.8.2: tension across the grain is to be avoided")


def _gap(job: Job, w: Bolted) -> Quantity:
    """From the washer's edge to the outer edge of the plate."""
    away, inset, washer = (
        number_in(x, "in") for x in (w.sill.edge_distance, w.sill.inset, job.bolts.washer)
    )
    return Q(max(away - inset - washer / 2, 0.0), "in")


def washer_checks(calc: Calculation, job: Job, walls: Sequence[Bolted]) -> None:
    """Plate washers of shear walls: near enough to the sheathed edge, here the outer one, where the shear asks it."""
    most, source, _ = sill_rule("washer to sheathed edge")
    asks, _, _ = sill_rule("washer shear")
    for w in walls:
        v = w.load("along")
        if v is None or v.magnitude <= 0:
            continue
        title = f"Plate washer to the sheathed edge, wall {w.sill.name}"
        gap = _gap(job, w)
        words = "Outer face taken as the sheathed one."
        if v > asks:
            calc.check(title, gap, most, "in", source, words,
                       to_do="A larger washer (bolts.washer), or bolts nearer to that face (walls.edge_distance).")  # fmt: skip
            continue
        shown = [
            show(x, unit, job.system)
            for x, unit in ((gap, "in"), (v, "plf"), (asks, "plf"), (most, "in"))
        ]
        calc.verdict(
            title, True, source, f"{shown[0]} at a shear of {shown[1]}",
            f"at most {shown[3]} allowed where the shear is over {shown[2]}",
            f"{words} Sheathing that holds more than twice that by its nominal value asks for {shown[3]} whatever the load is: ask the engineer.",
        )  # fmt: skip


def cross_grain(calc: Calculation, job: Job, walls: Sequence[Bolted]) -> None:
    """The plate where the wall lifts: pulled up at its sheathed edge, held at its bolts."""
    lifting = [w for w in walls if w.brought.lift > 0]
    if not lifting:
        return
    most, source, _ = sill_rule("washer to sheathed edge")
    title = "Cross-grain bending of the sill plates"
    far = [w for w in lifting if _gap(job, w) > most]
    limit = show(most, "in", job.system)
    if not far:
        calc.verdict(title, True, source, f"washers within {limit} of the sheathed edge", "as required",
                     "Outer face taken as the sheathed one.")  # fmt: skip
        return
    w = max(
        far,
        key=lambda w: w.brought.lift * number_in(_gap(job, w), "in") / number_in(w.sill.ply, "in") ** 2,
    )
    f_t = calc.step(
        cross_grain_bending, f"{w.sill.name}: if the sheathing alone brings its uplift, the plate bends across its grain by this.",
        u=Q(w.brought.lift, "plf"), c=_gap(job, w), t_p=w.sill.ply,
    )  # fmt: skip
    names = ", ".join(w.sill.name for w in far)
    calc.ask_engineer(
        title, _GRAIN,
        f"{names}: {show(f_t, 'psi', job.system)} at the worst, and wood has no design value for it. The engineer says how the uplift "
        "reaches the bolts.", job,
        f"Use washers within {limit} of the sheathed edge (bolts.washer, walls.edge_distance), or straps from the studs to the concrete.",
    )  # fmt: skip
