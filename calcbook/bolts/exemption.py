"""Shear along the plate, where the building code's exemption and the anchor chapter give different numbers: both."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from calcbook.basis.showing import show
from calcbook.basis.table import records
from calcbook.basis.units import Q
from calcbook.bolts.bolted import place
from calcbook.bolts.capacity import bolt_row, plain, unshown
from calcbook.bolts.in_concrete import bond, cone, corner_shear, pried_out, shear, shear_basis
from calcbook.bolts.sill import sill_rule

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.bolts.bolted import Bolted
    from calcbook.job.file import Job


def both_numbers(calc: Calculation, job: Job, walls: Sequence[Bolted]) -> None:
    """What one bolt may hold along the plate by either text, which was used and why; walls alike share a row."""
    corner = sill_rule("exempt end", Q(bolt_row(job)["d_in"], "in"))[0]
    alike: dict[tuple[Any, ...], list[Bolted]] = {}
    for w in walls:
        at = place(job, w.sill, corner)
        key = (
            w.sill.method,
            plain(w.h_ef),
            at.key,
            w.capacity.exempt,
            plain(w.capacity.least("along")[1]),
        )
        alike.setdefault(key, []).append(w)
    rows, less = [], []
    for some in alike.values():
        first, names = some[0], [w.sill.name for w in some]
        name, used = first.capacity.least("along")
        by_chapter, mode = anchor_chapter(job, first, corner)
        exempt = first.capacity.exempt
        if exempt and by_chapter < used:
            less += names
        rows.append([
            "all" if len(some) == len(walls) > 1 else ", ".join(names), f"{show(used, 'lbf', job.system)}, {name}",
            f"{show(by_chapter, 'lbf', job.system)}, {mode}",
            "the first: the building code exempts it" if exempt else "the least of all: it is not exempt",
        ])  # fmt: skip
    columns = [
        "Wall",
        "As used, limited by",
        "Concrete by the anchor chapter alone",
        "Which was used, and why",
    ]
    calc.table(
        "Shear along the plate, one bolt: building code and anchor chapter", records(columns, rows),
        sill_rule("exempt edge")[1],
    )  # fmt: skip
    if less:
        calc.caution(
            f"Shear along the plate, {', '.join(less)}: the anchor chapter alone would allow less than was used, as the building "
            "code exempts these bolts from it. Where the adopted code has no such exemption, ask the engineer."
        )


def anchor_chapter(job: Job, w: Bolted, corner: Quantity) -> tuple[Quantity, str]:
    """(allowable shear along the plate, what limits it) of one bolt by the concrete of the anchor chapter alone.

    corner: length at an end of the slab within which a bolt counts as at its corner, in.
    """
    at, d_a = place(job, w.sill, corner), Q(bolt_row(job)["d_in"], "in")
    N = cone(unshown, job, w.sill.method, w.h_ef, at)
    if w.sill.method == "drilled":
        N = min(N, bond(unshown, job, w.h_ef, d_a, at))
    V_b = shear_basis(unshown, job, w.h_ef, d_a, at)
    found = {
        "breakout": shear(unshown, job, V_b, at, "along"),
        f"breakout at {at.end}": corner_shear(unshown, job, w.h_ef, d_a, at),
        "pryout": pried_out(unshown, job, w.h_ef, N),
    }
    mode = min(found, key=lambda k: found[k])
    return found[mode], mode
