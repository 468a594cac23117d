"""The slab under a parked vehicle, under posts and under walls that stand on it."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from calcbook.basis.arguments import reason
from calcbook.basis.calculation import Calculation, Found
from calcbook.basis.formula import FormulaError, cite
from calcbook.basis.showing import show
from calcbook.basis.units import Q, number_in
from calcbook.job.edges import stands_on_edge
from calcbook.loads.combinations import wall_line_load
from calcbook.slab.contact import circle_radius, contact_radius, tire_area
from calcbook.slab.properties import (
    allowable_stress,
    concrete_modulus,
    joint_stress,
    modulus_of_rupture,
    safety_factor,
)  # fmt: skip
from calcbook.slab.rack import hardest_leg
from calcbook.slab.soil import enter_subgrade
from calcbook.slab.together import added_stress, counts_more, wheels_together
from calcbook.slab.wall_load import runs_beside, strip_characteristic, wall_load_capacity
from calcbook.slab.wall_points import ask_about_opening, hardest_point, presses_somewhere
from calcbook.slab.westergaard import (  # fmt: skip
    corner_stress,
    edge_deflection,
    edge_stress,
    interior_deflection,
    interior_stress,
    radius_of_relative_stiffness,
)
from calcbook.slab.wheel import NU, slab_for_wheel, stress_chart, wheel_load, wheel_of
from calcbook.slab.where import AT, governing_spot, near_edge
from calcbook.slab.with_sun import Bends, warping

if TYPE_CHECKING:
    from collections.abc import Sequence

    from shapely.geometry import LineString, Polygon

    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job
    from calcbook.job.schema.walls import Wall
    from calcbook.loads.from_job import Brought, LoadPath

HEAVY_AXLE = Q(8000, "lbf")  # more than a loaded pickup has on an axle
WIDE_AT_CORNER = 0.3  # c/l up to which the corner formula reads at most 5 % below finite elements
PLACES = ("inside a panel", "at a joint", "at a free edge", "at a corner")
BENDING = cite("ACI 360R-10", "modulus of rupture over a safety factor")
REMEDY = "Thicken the slab or that edge, keep the load away from it, or firm up the base."


@dataclass(frozen=True)
class SlabFound(Found):
    """overloaded: the plain slab does not bear its vehicle somewhere; k, E_c, f_r, length: what its ground and its
    concrete are, and how far it spreads a load; stresses: under the vehicle by kind of place; wheel: what
    Westergaard's formulas take of one wheel, None without a vehicle."""

    overloaded: bool
    k: Quantity
    E_c: Quantity
    f_r: Quantity
    length: Quantity
    stresses: dict[str, Quantity]
    wheel: dict[str, Any] | None = None


def chapter(
    job: Job, path: LoadPath, spacing: Quantity, cuts: Sequence[LineString] = (), boxes: Sequence[Polygon] = (),
) -> SlabFound:  # fmt: skip
    """The slab under its vehicle, posts and walls. job: a Job; path: what its walls bring; spacing: of the joints, the
    length of a panel; cuts, boxes: the joints and the boxes around posts, where a wall or post inside may stand beside one.
    """
    calc = Calculation(
        "slab", "Slab under load",
        "Does the slab carry the vehicle, the posts and the walls that stand on it?", job.system,
    )  # fmt: skip
    h = calc.given(job, "slab.thickness", "h")
    f_c = calc.given(job, "concrete.strength", "f_c")
    k = enter_subgrade(calc, job)
    E_c = calc.step(concrete_modulus, "How stiff the concrete is.", f_c=f_c)
    f_r = calc.step(modulus_of_rupture, "The bending stress at which it cracks.", f_c=f_c, name="f_r")
    length = calc.step(radius_of_relative_stiffness, "How far the slab spreads a load.", name="l",
                       E_c=E_c, h=h, nu=NU, k=k)  # fmt: skip
    slab = {"h": h, "E_c": E_c, "nu": NU, "k": k}
    f_a: Any = None  # only where something presses on the slab
    bare = [b for b in path.walls if _on_bare_slab(job, job.walls[b.index])]
    if job.vehicle.axle is not None or job.posts or any(presses_somewhere(b) for b in bare):
        margin = calc.given(job, "vehicle.margin", "SF").m_as("")
        f_a = calc.step(
            allowable_stress, "What the concrete is asked to bear.", name="allowed", f_r=f_r, SF=margin
        )
    overloaded, wheel = False, None
    bends: list[Bends] = []
    stresses: dict[str, Quantity] = {}
    if job.vehicle.axle is None:
        calc.note("No vehicle is named in the job ([vehicle] axle), so none is checked.")
    else:
        borne, stresses, wheel = _vehicle(calc, job, slab, f_r, f_a, length, k)
        overloaded = not borne
        bends += [Bends("the wheels", place, stress, wheel["a"]) for place, stress in stresses.items()]
    for index in range(len(job.posts)):
        bends += _post(calc, job, index, slab, f_a, length, (cuts, boxes))
    for b in bare:
        _wall(calc, job, b, slab, f_a, length, (cuts, boxes))
    warping(calc, job, (h, E_c, length), spacing, f_r, bends)
    calc.caution(
        "A slab cracks first from drying and cold, not from load: joints, base and curing come before thickness."
    )
    calc.caution(
        "Lifts, forklifts and trucks are not covered here, nor storage racks that lean on the building or stand high: ask an "
        "engineer. A post that holds up the building needs a pad of its own, a [[pads]] block in the job file."
    )
    return SlabFound(calc, overloaded, k, E_c, f_r, length, stresses, wheel)


# --- the vehicle -------------------------------------------------------------------------------


def _vehicle(
    calc: Calculation,
    job: Job,
    slab: dict[str, Quantity | float],
    f_r: Quantity,
    f_a: Quantity,
    length: Quantity,
    k: Quantity,
) -> tuple[bool, dict[str, Quantity], dict[str, Any]]:
    """Enter the vehicle; returns whether the slab bears it everywhere, the stresses by kind of place, its wheel."""
    axle = calc.given(job, "vehicle.axle", "P_axle")
    n = calc.given(job, "vehicle.wheels", "n").m_as("")
    p = calc.given(job, "vehicle.tire_pressure", "p")
    P = calc.step(wheel_load, "One wheel of the heavier axle.", P_axle=axle, n=n)
    A_c = calc.step(
        tire_area, "The tire stands on an area of about its load over its pressure.", P=P, p=p
    )
    a = calc.step(circle_radius, "The contact area is taken as a circle.", A_c=A_c)
    wheel = {"P": P, "a": a, **slab}
    inside = calc.step(
        interior_stress, "Inside a panel: tension at the bottom.", name="interior", **wheel
    )
    edge = calc.step(edge_stress, "At a free edge, as in a door opening.", name="edge", **wheel)
    joint = _at_joint(calc, job, edge, "joint")
    corner = calc.step(corner_stress, "At a corner: tension on top.", name="corner", **wheel)
    inside, edge, joint, corner = _with_others(
        calc, job, n, P, slab, length, (inside, edge, joint, corner)
    )
    calc.step(interior_deflection, "Under the load inside the slab it settles by this much.", **wheel)
    calc.step(
        edge_deflection, "At a free edge it settles by this much.", name="edge_deflection", **wheel
    )
    calc.step(
        safety_factor, "The margin where the stress is greatest.", name="margin",
        f_r=f_r, sigma=max(inside, edge, joint, corner),
    )  # fmt: skip
    found = dict(zip(PLACES, (inside, joint, edge, corner), strict=True))
    borne = [
        calc.check(f"Bending stress under the wheels {place}", stress, f_a, "psi", BENDING, to_do=REMEDY)
        for place, stress in found.items()
    ]  # fmt: skip
    _corner_range(calc, "the wheel", a, length, by_plate=job.slab.plate)
    if axle > HEAVY_AXLE:
        calc.ask_engineer(
            "Axle heavier than a house slab is meant for", cite("common practice", "heavy wheels"),
            f"More than {show(HEAVY_AXLE, 'lbf', job.system)} on an axle: have the slab designed.", job,
        )  # fmt: skip
    _least(calc, job, P, a, k)
    given = wheel_of(job, P, a, k)
    calc.figure(
        "Stress against thickness",
        functools.partial(stress_chart, given, job.slab.thickness, f_a, job.system),
    )
    return all(borne), found, wheel


def _with_others(
    calc: Calculation,
    job: Job,
    n: float,
    P: Quantity,
    slab: dict[str, Quantity | float],
    length: Quantity,
    alone: tuple[Quantity, Quantity, Quantity, Quantity],
) -> tuple[Quantity, Quantity, Quantity, Quantity]:
    """Stresses inside, at an edge, at a joint and at a corner with what the other wheels add to each."""
    if n <= 1:
        return alone
    s = calc.given(job, "vehicle.wheel_spacing", "s")
    add = calc.finding(
        "Each other wheel adds at most this under the governing wheel; at joint, edge and corner it is raised in the same "
        "proportion as the wheel's own stress.", "Delta sigma", added_stress(P, slab["h"], s, length, NU), "psi", added_stress.source,
        label="stress added by another wheel",
    )  # fmt: skip
    found = []
    places = (
        ("interior", "inside a panel"),
        ("edge", "at a free edge"),
        ("joint", "at a joint"),
        ("corner", "at a corner"),
    )
    for (name, place), stress in zip(places, alone, strict=True):
        f = float(counts_more(number_in(stress, "psi"), number_in(alone[0], "psi")))
        found.append(calc.step(
            wheels_together, f"All wheels together, {place}.", name=f"{name}_all",
            label=f"stress of all wheels {place}", sigma=stress, n=n - 1, add=add, f=f,
        ))  # fmt: skip
    return found[0], found[1], found[2], found[3]


def _at_joint(calc: Calculation, job: Job, edge: Quantity, name: str | None = None) -> Quantity:
    """A joint that passes on some of the load has less stress than a free edge."""
    share = calc.given(job, "vehicle.transfer", "LT").m_as("")
    if share > 0:
        calc.caution(
            "Load transfer at joints is counted as given: it holds only while the unloaded side follows by three "
            "quarters (deflection ratio 0.76, UFC 3-260-03). A sawn joint without dowels opens and passes on nothing."
        )
    words = (
        "At a joint, the other side helps."
        if share > 0
        else "A joint without dowels may open: a free edge."
    )
    return calc.step(joint_stress, words, name=name, sigma_e=edge, LT=share)


def _corner_range(
    calc: Calculation, what: str, a: Quantity, length: Quantity, by_plate: bool = False
) -> None:
    """Whether the corner formula holds; by_plate: the chapter on the slab as a plate answers in its place."""
    spread = (np.sqrt(np.pi) * a / length).m_as("")
    if by_plate and spread > WIDE_AT_CORNER:
        calc.note(
            f"The print of {what} is wide for the corner formula (its side over the radius of relative stiffness, c/l, is {spread:.2f}, over {WIDE_AT_CORNER}), which then reads low: "
            "the corner is checked in the chapter on the slab as a plate."
        )
        return
    calc.verdict(
        f"Contact area of {what} at a corner, side over radius of relative stiffness (c/l)", spread <= WIDE_AT_CORNER,
        cite("TRR 1043", "c/l against our finite-element check"), f"{spread:.2f}", f"at most {WIDE_AT_CORNER} allowed",
        "Up to there the formula reads at most 5 % low." if spread <= WIDE_AT_CORNER else
        "Beyond it the formula reads low, by 9.5 % at 0.39 and 17 % at 0.48.",
        needs_engineer=True, to_do="Keep it off the corner, or ask a licensed engineer.",
    )  # fmt: skip


def _least(calc: Calculation, job: Job, P: Quantity, a: Quantity, k: Quantity) -> None:
    try:
        v = job.vehicle
        least = slab_for_wheel(P, a, job.concrete.strength, k, v.margin, v.wheels, v.wheel_spacing)
    except FormulaError as error:
        calc.ask_engineer("Least thickness for the wheels", slab_for_wheel.source, reason(error))
        return
    steps = "quarter inches" if job.system == "us" else "steps of a quarter inch (6.35 mm)"
    calc.finding(f"The least thickness that carries all wheels at every place, by {steps}.", "h_min",
                 least, "in", slab_for_wheel.source, "least", "least thickness for the wheels")  # fmt: skip


# --- posts and walls ---------------------------------------------------------------------------


def _post(
    calc: Calculation,
    job: Job,
    index: int,
    slab: dict[str, Quantity | float],
    f_a: Quantity,
    length: Quantity,
    parted: tuple[Sequence[LineString], Sequence[Polygon]],
) -> list[Bends]:
    """A post on the bare slab: the leg of a shelf or a machine; how it bends the slab, where its load is known.

    parted: the joints, and the boxes around posts.
    """
    post, place = job.posts[index], f"posts.{index}"
    if post.load is None:
        calc.ask_engineer(f"Load on {post.name}", BENDING, "Its load is not given (posts.load).")
        return []
    P = calc.given(job, f"{place}.load", "P", f"{post.name}, load")
    L = calc.given(job, f"{place}.plate_length", "L", f"{post.name}, length of its base plate")
    B = calc.given(job, f"{place}.plate_width", "B", f"{post.name}, width of its base plate")
    a = calc.step(contact_radius, f"{post.name}: its base plate, taken as a circle.", L=L, B=B)
    load = {"P": P, "a": a, **slab}
    alone = interior_stress(**load)
    spot = governing_spot(calc, job, index, load, length + a, parted)
    at = spot.place
    if at == "inside":
        stress = calc.step(interior_stress, "Tension at the bottom, inside a panel.", **load)
    elif at == "corner":
        stress = calc.step(corner_stress, "Tension on top, at a corner.", **load)
        _corner_range(calc, post.name, a, length, by_plate=job.slab.plate)
    else:
        stress = calc.step(edge_stress, "Tension along a free edge.", **load)
        if at == "joint":
            stress = _at_joint(calc, job, stress)
    if spot.off.magnitude > 0:
        stress = calc.step(
            near_edge, f"It stands {show(spot.off, 'in', job.system)} off.", sigma_0=stress, sigma_i=alone, x=spot.off,
            r=length + a,
        )  # fmt: skip
    stress = _with_legs(calc, job, index, stress, alone, (slab["h"], length, a))
    where = AT[at]
    calc.check(f"Bending stress under {post.name}, {where}", stress, f_a, "psi", BENDING,
               to_do=REMEDY)  # fmt: skip
    return [Bends(post.name, where, stress, a)]


def _with_legs(
    calc: Calculation,
    job: Job,
    index: int,
    stress: Quantity,
    inside: Quantity,
    sizes: tuple[Any, Quantity, Quantity],
) -> Quantity:
    """Stress under a post with what its other legs and the posts beside it add.

    sizes: thickness, radius of relative stiffness, radius of its print.
    """
    post, place = job.posts[index], f"posts.{index}"
    for many, key, symbol in (("legs", "leg_spacing", "s"), ("rows", "row_spacing", "r")):
        if getattr(post, many) > 1:
            calc.given(job, f"{place}.{many}", "n", f"{post.name}, {many}")
            calc.given(job, f"{place}.{key}", symbol, f"{post.name}, distance of its {many}")
    found = hardest_leg(job, index, *sizes, NU)
    if found is None:
        return stress
    leg, more, count = found
    which = f"leg {leg}" if len(post.legs_at) > 1 else "it"
    add = calc.finding(
        f"{post.name}: {count} other legs and posts, each at its own distance, add at most this under {which}.",
        "Delta sigma", more, "psi", added_stress.source, label="stress added by other legs and posts",
    )  # fmt: skip
    f = float(counts_more(number_in(stress, "psi"), number_in(inside, "psi")))
    return calc.step(
        wheels_together, f"{post.name}: all of them together. At joint, edge and corner the addition is raised in the same "
        "proportion as the post's own stress.", sigma=stress, n=1, add=add, f=f,
    )  # fmt: skip


def _on_bare_slab(job: Job, wall: Wall) -> bool:
    """Whether a wall stands on the bare slab; the others belong to the thickened edges and strips."""
    return wall.strip() is None and not stands_on_edge(job, wall)


def _wall(
    calc: Calculation, job: Job, b: Brought, slab: dict[str, Any], f_a: Quantity | None, length: Quantity,
    parted: tuple[Sequence[LineString], Sequence[Polygon]],
) -> None:  # fmt: skip
    """A wall on the bare slab: its line, and the jamb or post that presses most. parted: as for ``_post``."""
    wall, (h, k), f_c = job.walls[b.index], (slab["h"], slab["k"]), job.concrete.strength
    ask_about_opening(calc, job, wall)
    beside = wall.place == "interior" and runs_beside(
        wall, parted[0], strip_characteristic.body(slab["E_c"], h, k)
    )
    location = "interior" if wall.place == "interior" and not beside else "edge"
    source = wall_load_capacity.formulas[location].source
    if wall.dead is None:
        calc.ask_engineer(
            f"Load of wall {wall.name}", source,
            "Its load is not given: ask the engineer or take it from the plans.",
        )  # fmt: skip
        return
    P = wall_line_load(calc, job, b.index)
    if beside:
        calc.note(
            f"A joint runs so near beside the wall {wall.name} that the wall is taken to stand at a free edge."
        )
    if wall.place == "joint":
        calc.note(
            "A sawn joint is neither keyed nor doweled, so the wall at it is taken to stand at a free edge."
        )
    w_a = calc.step(
        wall_load_capacity, "What the slab carries there without a footing.", location=location,
        h=h, f_c=f_c, k=k,
    )  # fmt: skip
    w = P / Q(1, "ft")
    calc.check(
        f"Line load on the bare slab, wall {wall.name}", w, w_a, "plf", source,
        to_do="Give the wall a thickened strip (strip_width, strip_depth and its two ends), or thicken the edge.",
    )  # fmt: skip
    if f_a is not None:
        at = "inside" if location == "interior" else "edge"
        hardest_point(calc, job, b, slab, (w, w_a, at), f_a, length, parted)
