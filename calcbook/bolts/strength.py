"""What one bolt of each wall holds, step by step: wood and steel here, concrete in bolt_concrete."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from calcbook.basis.table import lookup
from calcbook.basis.units import Q
from calcbook.bolts.anchor_shear import steel_shear
from calcbook.bolts.anchors import bolt_stress_area, counted_strength, steel_tension
from calcbook.bolts.capacity import Capacity, allowed, bolt_row, plain
from calcbook.bolts.dowels import (
    adjusted_lateral_value,
    dowel_bearing_at_angle,
    dowel_bearing_parallel,
    dowel_bearing_perpendicular,
    load_duration,
    modes_of,
    single_shear_value,
    square_washer_uplift,
)
from calcbook.bolts.in_concrete import concrete

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.units import Quantity
    from calcbook.bolts.capacity import Place
    from calcbook.job.file import Job
    from calcbook.job.schema.walls import Wall

_WET_DOWEL, _WET_BEARING = 0.7, 0.67  # NDS-2018 Tables 11.3.3 and 4A
_HOLE_GAP = Q(0.0625, "in")  # of the hole in the plate over the bolt
_YIELDS = {  # NDS-2018, 12.3.1: what gives way in each mode, the concrete being the main member
    "Im": "Bearing in the concrete", "Is": "Bearing in the plate",
    "II": "The bolt turning, with bearing in plate and concrete",
    "IIIm": "One bend of the bolt, with bearing in the concrete",
    "IIIs": "One bend of the bolt, with bearing in the plate", "IV": "Two bends of the bolt",
}  # fmt: skip
_MOST_IN_CONCRETE = Q(6.0, "in")  # of a bolt, for its lateral value (NDS-2018 Table 12E)


def capacities(
    calc: Calculation, job: Job, bolts: Sequence[tuple[Wall, Quantity, Place]]
) -> list[Capacity]:
    """Enter the strength of the bolts of all walls as steps, each part once, and return their Capacities.

    calc: a Calculation; bolts: (section of the wall, embedment, Place) for each wall.
    """
    made = [Capacity() for _ in bolts]
    plates = [(sill, sill.ply * sill.plies, h_ef, at) for sill, h_ef, at in bolts]
    for part, words, follows in (
        (_wood, "The wood of the plate", [
            (sill.species, t, min(h_ef, _MOST_IN_CONCRETE)) for sill, t, h_ef, _ in plates
        ]),
        (_steel, "The bolt's steel", [()] * len(plates)),
        (concrete, "The concrete", [(sill.method, t, h_ef, at) for sill, t, h_ef, at in plates]),
    ):  # fmt: skip
        alike: dict[tuple[Any, ...], list[int]] = {}
        for k, values in enumerate(follows):
            alike.setdefault(tuple(plain(v) for v in values), []).append(k)
        for members in alike.values():
            calc.note(f"{words}, {_walls(bolts, members)}.")
            found = part(calc, job, *follows[members[0]])
            for k in members:
                made[k] = made[k].with_part(found)
    return made


def _walls(bolts: Sequence[tuple[Wall, Quantity, Place]], members: Sequence[int]) -> str:
    if len(members) == len(bolts):
        return "in all walls" if len(bolts) > 1 else f"in the wall {bolts[0][0].name}"
    return "in the walls: " + ", ".join(bolts[k][0].name for k in members)


def _wood(calc: Calculation, job: Job, species: str, thickness: Quantity, l_m: Quantity) -> Capacity:
    made, d_a, row = Capacity(), Q(bolt_row(job)["d_in"], "in"), lookup("lumber", species=species)
    wet, C_D = job.bolts.wet, load_duration(job.bolts.load)
    calc.note(f"Plate of {species}, specific gravity {row['G']:g} ({row['source']}).")
    F_par = calc.step(
        dowel_bearing_parallel, "How hard the plate can press on the bolt, along the grain.", G=row["G"]
    )
    F_perp = calc.step(
        dowel_bearing_perpendicular,
        "How hard the plate can press on the bolt, across the grain.",
        G=row["G"],
        D=d_a,
    )
    for found, theta, symbol, words in (
        (made.along, 0.0, "par", "along"),
        (made.out, 90.0, "perp", "across"),
    ):
        F_es = dowel_bearing_at_angle(F_par, F_perp, Q(theta, "deg"))
        bolt = dict(D=d_a, l_s=thickness, l_m=l_m, F_es=F_es, theta=theta)
        Z = calc.step(
            single_shear_value, f"The six ways to yield, {words} the wall; the weakest counts.",
            symbol=f"Z_{symbol}", **bolt,
        )  # fmt: skip
        mode = modes_of(single_shear_value.bind(**bolt)).governing
        yields = _YIELDS[mode] + ("," if "," in _YIELDS[mode] else "")
        calc.note(f"{yields} governs {words} the wall (NDS yield mode {mode}).")
        found[f"wood, yield mode {mode}"] = calc.step(
            adjusted_lateral_value, f"For the duration of {job.bolts.load}.", symbol=f"Z'_{symbol}",
            Z=Z, C_D=C_D, C_M=_WET_DOWEL if wet else 1.0,
        )  # fmt: skip
    made.uplift["washer on the plate"] = calc.step(
        square_washer_uplift, "What the plate passes up to its washer.", symbol="T_w",
        F_cperp=Q(row["F_cperp_psi"], "psi"), b=job.bolts.washer, d_h=d_a + _HOLE_GAP, C_M=_WET_BEARING if wet else 1.0,
    )  # fmt: skip
    return made


def _steel(calc: Calculation, job: Job) -> Capacity:
    made, row, grade = Capacity(), bolt_row(job), lookup("bolt_steel", grade=job.bolts.grade)
    A_se = calc.step(
        bolt_stress_area, "Steel left between the threads.", d=Q(row["d_in"], "in"), n_t=Q(row["threads"], "1/in")
    )  # fmt: skip
    f_u = calc.step(
        counted_strength, f"{job.bolts.grade}.", f_uta=Q(grade["f_uta_psi"], "psi"), f_ya=Q(grade["f_ya_psi"], "psi")
    )  # fmt: skip
    N_sa = calc.step(steel_tension, "The bolt itself, pulled.", A_se=A_se, f_uta=f_u)
    made.uplift["steel"] = allowed(
        calc.step, job, N_sa, "steel tension", "Steel in tension", "N_a_steel"
    )
    V_sa = calc.step(steel_shear, "The bolt itself, sheared.", A_se=A_se, f_uta=f_u)
    made.along["steel"] = made.out["steel"] = allowed(
        calc.step, job, V_sa, "steel shear", "Steel in shear", "V_a_steel"
    )
    return made
