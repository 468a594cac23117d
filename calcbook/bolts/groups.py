"""Bolts that stand close share their concrete: rows, across joints of the plate too, against their loads."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from numpy import minimum

from calcbook.basis.formula import cite
from calcbook.basis.showing import show_length
from calcbook.basis.units import Q, number_in
from calcbook.bolts.anchor_bond import bond_reach
from calcbook.bolts.bolted import place_of_row, place_of_rows
from calcbook.bolts.capacity import bolt_row, plain, unshown
from calcbook.bolts.in_concrete import (
    blows_out,
    bond,
    bond_allowed,
    bond_stresses,
    cone,
    cone_allowed,
    pried_out,
    shear,
    shear_basis,
    side_faces,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.bolts.bolted import Bolted, Row
    from calcbook.bolts.capacity import Place
    from calcbook.job.file import Job

_CLAUSES = {
    "breakout": cite("ACI 318-19", "17.6.2.1, rows nearer than 3 h_ef"),
    "bond": cite("ACI 318-19", "17.6.5.1, rows nearer than 2 c_Na"),
    "side face": cite("ACI 318-19", "17.6.4.2, rows nearer than 6 c_a1"),
    "breakout in shear": cite("ACI 318-19", "17.7.2.1, rows nearer than 3 c_a1"),
    "pryout": cite("ACI 318-19", "17.7.3.1, rows nearer than 3 h_ef"),
}
_WORDS = {"uplift": "uplift", "along": "shear along the wall", "out": "shear across the wall"}


def row_checks(calc: Calculation, job: Job, walls: Sequence[Bolted]) -> None:
    """Check the row of close bolts that stands worst, with its steps; nothing where none are close."""
    found = [f for group in _alike(walls) for direction in _WORDS for f in _uses(job, group, direction)]
    if not found:
        return
    _, direction, mode, row = max(found, key=lambda f: f[0])
    w = row.wall
    reach = show_length(_reach(job, w, mode), job.system, True)
    calc.note(
        f"Of all rows of bolts that share their concrete, bolts {row.start + 1} to {row.end} of the wall {w.sill.name} "
        f"stand worst: neighbors are nearer than {reach}, and {mode} takes them together."
    )
    held = _held(calc.step, job, w, mode, direction, place_of_row(job, row))
    calc.check(
        f"Close bolts as a group in {_WORDS[direction]}, wall {w.sill.name}",
        Q(row.load(direction), "lbf"), held, "lbf", _CLAUSES[mode], f"{row.count} bolts, by {mode}.",
        needs_engineer=True, to_do="Set them farther apart, or deeper.",
    )  # fmt: skip


def _alike(walls: Sequence[Bolted]) -> Iterable[list[Bolted]]:
    """Walls whose rows follow from the same formulas, together."""
    found: dict[tuple[Any, ...], list[Bolted]] = {}
    for w in walls:
        found.setdefault((w.sill.method, plain(w.h_ef), w.capacity.exempt), []).append(w)
    return found.values()


def _modes(job: Job, w: Bolted, direction: str) -> list[str]:
    if direction == "uplift":
        modes = ["breakout"]
        if w.sill.method == "drilled":
            modes.append("bond")
        elif job.bolts.kind == "headed":
            modes.append("side face")
        return modes
    return ["breakout in shear", "pryout"]


def _asked(row: Row, direction: str) -> bool:
    """Whether the concrete of a row is checked: along the wall the code exempts it far from ends and breaks."""
    own, wall = row.wall.own, row.wall.capacity
    return direction != "along" or any(not own.get(k, wall).exempt for k in range(row.start, row.end))


def _reach(job: Job, w: Bolted, mode: str) -> Quantity:
    """Neighbours at least this far apart do not touch each other's concrete (length)."""
    if mode == "bond":
        return 2 * bond_reach(Q(bolt_row(job)["d_in"], "in"), bond_stresses(job)[1])
    if mode in ("breakout", "pryout"):
        return Q(3 * number_in(w.h_ef, "in"), "in")
    return Q((6 if mode == "side face" else 3) * number_in(w.sill.edge_distance, "in"), "in")


def _uses(job: Job, walls: Sequence[Bolted], direction: str) -> list[tuple[float, str, str, Row]]:
    """(load over what is allowed, direction, mode, Row) of every close row of walls that are alike."""
    found = []
    for mode in _modes(job, walls[0], direction):
        rows = [
            r
            for w in walls
            if any(w.forces[direction]) and _matters(w, mode)
            for r in w.rows(_reach(job, w, mode))
            if _asked(r, direction)
        ]
        if rows:
            held = _held(unshown, job, walls[0], mode, direction, place_of_rows(job, rows))
            for row, most in zip(rows, number_in(held, "lbf"), strict=True):
                found.append((row.load(direction) / most, direction, mode, row))
    return found


def _matters(w: Bolted, mode: str) -> bool:
    return mode != "side face" or blows_out(w.h_ef, w.sill.edge_distance)


def _held(
    call: Callable[..., Any], job: Job, w: Bolted, mode: str, direction: str, at: Place
) -> Quantity:
    """Allowable load of a row, or of arrays of rows, by one mode."""
    d_a, method = Q(bolt_row(job)["d_in"], "in"), w.sill.method
    if mode == "breakout":
        return cone_allowed(call, job, method, cone(call, job, method, w.h_ef, at))
    if mode == "bond":
        return bond_allowed(call, job, bond(call, job, w.h_ef, d_a, at))
    if mode == "side face":
        return side_faces(call, job, at)
    if mode == "breakout in shear":
        return shear(call, job, shear_basis(call, job, w.h_ef, d_a, at), at, direction)
    N_least: Any = cone(call, job, method, w.h_ef, at)
    if method == "drilled":
        N_least = minimum(N_least, bond(call, job, w.h_ef, d_a, at))
    return pried_out(call, job, w.h_ef, N_least)
