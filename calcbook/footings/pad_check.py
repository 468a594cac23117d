"""The pads of a job under their posts: loads, every check with its steps, neighbours."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from calcbook.basis.arguments import reason
from calcbook.basis.calculation import Calculation, Found
from calcbook.basis.formula import FormulaError
from calcbook.basis.rounding import metric_rule
from calcbook.basis.showing import show, show_length
from calcbook.basis.table import records
from calcbook.basis.units import Q, number_in
from calcbook.footings import footing
from calcbook.footings.eccentric import eccentric_pressure, even_load, pressure_of
from calcbook.footings.pad_drawing import loads_drawing, pad_section
from calcbook.footings.pad_fit import (
    EdgeWalls,
    designed,
    footprint,
    isolated,
    wall_length,
)
from calcbook.footings.pad_meets import (
    CHAPTER,
    in_the_ground,
    joints_at,
    neighbours,
    strips,
    wall_points,
)
from calcbook.footings.pad_steps import (
    checks_in_full,
    enter_posts,
    group_checks,
    names_of,
    steps_tables,
)
from calcbook.footings.pad_wall import under_wall, wall_shares
from calcbook.footings.pads import LEAST_THICKNESS
from calcbook.footings.remedies import HEAVIER_PAD, LARGER_PAD
from calcbook.footings.shared_design import smallest_shared
from calcbook.footings.shared_pad import shared_pad
from calcbook.loads.combinations import combined, combined_load, wall_loads
from calcbook.slab.soil import enter_bearing

if TYPE_CHECKING:
    from collections.abc import Sequence

    from shapely.geometry import LineString

    from calcbook.basis.units import Quantity
    from calcbook.footings.pad_fit import Footprint
    from calcbook.job.file import Job
    from calcbook.job.schema.pads import Pad, PadPost
    from calcbook.loads.from_job import LoadPath
    from calcbook.slab.soil import Ground


@dataclass(frozen=True)
class PadsFound(Found):
    """pressures: on the soil (psf) of the pads that were checked, by their place among the pads."""

    pressures: dict[int, Quantity]


def chapter(
    job: Job,
    ground: Ground,
    path: LoadPath,
    cuts: Sequence[LineString] = (),
    reach: Quantity | None = None,
) -> PadsFound:
    """The pads of a job. job: a Job; ground: what it bears; path: what walls bring; cuts, reach: as for ``joints_at``."""
    calc = Calculation(
        "pads", "Pads under posts", "Does each pad carry its post, and how small may it be?", job.system
    )
    if not job.pads:
        calc.note("There are no pads in this job.")
        return PadsFound(calc, {})
    q_a = ground.bearing
    enter_bearing(calc, job, ground)
    calc.given(job, "slab.thickness", "t")
    calc.given(job, "concrete.strength", "f_c")
    footing.enter_concrete(calc)
    enter_posts(calc, job)
    walls, seats = EdgeWalls(job), [footprint(job, index) for index in range(len(job.pads))]
    loaded: dict[int, dict[str, Quantity | None]] = {}
    carried: dict[int, Carried] = {}
    shared: dict[int, tuple[float, Quantity]] = {}
    for index, pad in enumerate(job.pads):
        if any(post.dead is None for post in pad.standing):
            calc.ask_engineer(
                f"Loads on pad {pad.name}", combined_load.source,
                "Its loads are not given: the truss or frame engineer must name dead, live, roof load and uplift.",
            )  # fmt: skip
            continue
        carried[index] = _loads(calc, job, index, seats[index], walls)
        in_the_ground(calc, job, index, seats[index])
        if ground.bearing is not None and pad.posts:
            found = _shared(calc, job, index, seats[index], ground, walls)
            shared |= {index: found} if found else {}
        elif ground.bearing is not None:
            inputs = _inputs(calc, job, index, seats[index], carried[index], ground)
            if inputs:
                loaded[index] = inputs
    worst, pressures = _check(calc, job, loaded) if loaded else ({}, {})
    for index in loaded:
        worst[index] = max(worst[index], under_wall(calc, job, index, seats[index], ground, walls))
    for index, (ratio, q) in shared.items():
        worst[index], pressures[index] = ratio, q
    for index in loaded:
        _smallest(calc, job, job.pads[index], walls)
    for index in shared:
        if wall_shares(job, index, walls):
            calc.note(
                f"{job.pads[index].name}: no smallest pad is looked for, as a wall stands on it too."
            )
        else:
            smallest_shared(calc, job, job.pads[index])
    _uplift_not_named(calc, job)
    neighbours(calc, job, {n: c.loads for n, c in carried.items()}, q_a)
    strips(calc, job)
    joints_at(calc, job, cuts, reach)
    wall_points(calc, job, path)
    texts = [load_text(carried.get(index), job.system) for index in range(len(job.pads))]
    calc.table("All pads", summary(job, seats, texts, worst))
    hardest = max(worst, key=worst.__getitem__, default=0)
    plan, pads, system, levels = (
        job.plan,
        job.pads,
        job.system,
        (job.slab.thickness, job.base.thickness),
    )
    calc.figure("Pads and their loads", lambda: loads_drawing(plan, pads, texts, system))
    calc.figure("Section through a pad", lambda: pad_section(
        plan, pads[hardest], seats[hardest], hardest, texts[hardest], levels, system
    ))  # fmt: skip
    calc.caution(
        "The bottom of every pad must be firm, undisturbed, dry ground: no mud, no loose fill, no frost."
    )
    calc.caution("Loads come from the engineer of the frame. A builder's guess is not a load.")
    return PadsFound(calc, pressures)


# --- loads -------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Carried:
    """What a pad carries, its share of a wall included: dead, floor and roof load; unfactored; factored.

    wall: whether a wall has a share in it; W: uplift of post and wall at service level.
    """

    loads: list[Quantity]
    P_a: Quantity
    P_u: Quantity
    wall: bool
    W: Quantity


def _loads(calc: Calculation, job: Job, index: int, seat: Footprint, walls: EdgeWalls) -> Carried:
    """Enter the loads of a pad up to the two that govern."""
    pad = job.pads[index]
    post = _given(calc, job, f"pads.{index}", pad)
    for n, further in enumerate(pad.posts):
        more = _given(calc, job, f"pads.{index}.posts.{n}", further)
        post = [a + b for a, b in zip(post, more, strict=True)]
    whole = show_length(seat.d + job.slab.thickness, job.system, True)
    calc.note(
        f"{pad.name}: {_size(seat, job)} deep below the slab, {whole} in all with the slab{_cut(job, index, seat)}."
    )
    loads = _with_wall(calc, job, index, post, walls)
    P_a, P_u = (
        combined(calc, kind, loads, f"{pad.name}: {words}", symbol)
        for kind, words, symbol in (
            ("allowable", "unfactored, for the soil", "P_a"),
            ("strength", "factored, for the concrete", "P_u"),
        )
    )
    return Carried(loads, P_a, P_u, loads != post, _uplift(calc, job, index, walls))


def _given(calc: Calculation, job: Job, place: str, post: PadPost) -> list[Quantity]:
    """Enter dead, floor and roof load of a post and its net uplift; returns the first three."""
    loads = [calc.given(job, f"{place}.{key}", symbol, f"{post.name}, {key} load")
             for key, symbol in (("dead", "P_D"), ("live", "P_L"), ("roof", "P_S"))]  # fmt: skip
    if post.uplift is not None:
        calc.given(job, f"{place}.uplift", "W", f"{post.name}, net uplift")
    return loads


def _uplift(calc: Calculation, job: Job, index: int, walls: EdgeWalls) -> Quantity:
    """Uplift of a pad's post and of the wall over the pad, at service level."""
    pad, lift = job.pads[index], walls.lift(job.plan.thickenings[index].bottom)
    W = Q(sum(number_in(p.uplift, "lbf") for p in pad.standing if p.uplift is not None), "lbf")
    s = wall_length(job.plan.thickenings[index].bottom, job.plan.edging) if lift else 0.0
    if s < 1e-6:
        return W
    return calc.step(
        footing.load_with_wall, f"{pad.name}: uplift of post and of the wall over it that lifts most.", "W",
        P=W, w=Q(lift, "plf"), s=Q(s, "ft"),
    )  # fmt: skip


def _built_to_check(calc: Calculation, job: Job, index: int, seat: Footprint) -> bool:
    """Whether a pad is a piece that the formulas cover; else an engineer is asked."""
    pad = job.pads[index]
    if not seat.whole:
        calc.ask_engineer(
            f"Bearing area of pad {pad.name}", CHAPTER,
            "The outline or an opening cuts this pad to a shape that is no rectangle.", job, "Move the pad off the outline and the openings.",
        )  # fmt: skip
        return False
    if isolated(job) and seat.d <= Q(2, "in"):
        calc.ask_engineer(f"Pad {pad.name} alone, as a footing", CHAPTER, "An isolation joint cuts the slab off, and alone it is "
                          "2 in. or less: deepen it.")  # fmt: skip
        return False
    return True


def _shared(
    calc: Calculation, job: Job, index: int, seat: Footprint, ground: Ground, walls: EdgeWalls
) -> tuple[float, Quantity] | None:
    """(worst ratio, pressure) of a pad with several posts, or None where an engineer is asked instead."""
    if not _built_to_check(calc, job, index, seat):
        return None
    stands = wall_shares(job, index, walls)
    if stands is None:
        calc.ask_engineer(
            f"Wall over pad {job.pads[index].name} with several posts", CHAPTER,
            "The wall on the slab's edge stands on it as well and runs aslant to it, or its load is not given.", job,
            "Move the pad inward, or give each post a pad of its own.",
        )  # fmt: skip
        return None
    return shared_pad(calc, job, index, seat, ground, stands)


def _inputs(
    calc: Calculation, job: Job, index: int, seat: Footprint, carried: Carried, ground: Ground
) -> dict[str, Quantity | None] | None:
    """What ``check_pad`` asks for of a pad, or None where an engineer is asked instead."""
    pad, loads = job.pads[index], (carried.P_a, carried.P_u)
    if not _built_to_check(calc, job, index, seat):
        return None
    even = _off_centre(calc, pad, seat, loads) if seat.e_x.magnitude or seat.e_y.magnitude else loads
    if even is None:
        return None
    return {
        "L": seat.L, "B": seat.B, "d": seat.d, "t": job.slab.thickness, "c_1": pad.post_length,
        "c_2": pad.post_width, "P_a": even[0], "P_u": even[1], "q_a": ground.bearing, "f_c": job.concrete.strength,
        "gamma_c": footing.CONCRETE, "gamma_s": ground.weight,
        "W": carried.W if carried.W.magnitude else None, "one": Q(0, "in") if isolated(job) else job.slab.thickness,
        "h_min": metric_rule(LEAST_THICKNESS, job.system),
    }  # fmt: skip


def _size(seat: Footprint, job: Job) -> str:
    return " × ".join(show_length(v, job.system, True) for v in (seat.L, seat.B, seat.d))


def _cut(job: Job, index: int, seat: Footprint) -> str:
    x0, y0, x1, y1 = job.plan.thickenings[index].bottom.bounds
    less = (x1 - x0) * (y1 - y0) * 144 - number_in(seat.L, "in") * number_in(seat.B, "in") > 0.01
    return ", as much of it as lies under the slab: the rest is not placed" if less else ""


def _with_wall(
    calc: Calculation, job: Job, index: int, loads: list[Quantity], walls: EdgeWalls
) -> list[Quantity]:
    """The loads with the share of the heaviest wall over the pad, where it reaches under the edge."""
    plan = job.plan
    bottom = plan.thickenings[index].bottom
    which = walls.heaviest(bottom)
    length = 0.0 if which is None else wall_length(bottom, plan.edging)
    if length < 1e-6:
        return loads
    wall, name = job.walls[which], job.pads[index].name
    s = calc.finding(
        f"{name} reaches under the thickened edge, so {wall.name} stands on it as well.",
        "s", Q(length, "ft"), "ft", footing.load_with_wall.source, label="length of the wall over the pad",
    )  # fmt: skip
    found = []
    for key, letter, P, line in zip(
        ("dead", "live", "roof"), "DLS", loads, wall_loads(wall), strict=True
    ):
        if not line.magnitude:
            found.append(P)
            continue
        w = Q(number_in(line, "lbf"), "plf")  # it stands on one foot
        if getattr(wall, key).magnitude:
            calc.given(job, f"walls.{which}.{key}", f"w_{letter}", f"{wall.name}, {key} load")
        found.append(calc.step(footing.load_with_wall, f"{name}: {key} load of post and wall.",
                               f"P_{letter}", P=P, w=w, s=s))  # fmt: skip
    return found


def _off_centre(
    calc: Calculation, pad: Pad, seat: Footprint, loads: Sequence[Quantity]
) -> Sequence[Quantity] | None:
    """The loads that would press as hard on the whole pad as the offset post does on its worst edge."""
    for axis, e in (("x", seat.e_x), ("y", seat.e_y)):
        if e.magnitude:
            calc.finding(f"{pad.name}: the post stands off the center of the concrete along {axis}.",
                         f"e_{axis}", e, "in", eccentric_pressure.source, label=f"eccentricity along {axis}")  # fmt: skip
    found = []
    for P, symbol in zip(loads, ("a", "u"), strict=True):
        try:
            formula, inputs = pressure_of(P, seat.L, seat.B, seat.e_x, seat.e_y)
        except FormulaError as error:
            calc.ask_engineer(
                f"Uplift and overturning of pad {pad.name}", eccentric_pressure.source, reason(error)
            )
            return None
        q_max = calc.step(formula, f"{pad.name}: pressure of {'un' if symbol == 'a' else ''}factored load "
                          f"at its worst edge.", **inputs)  # fmt: skip
        found.append(calc.step(even_load, "Taken as if it pressed so all over.",
                               f"P_{symbol}", q_max=q_max, L=seat.L, B=seat.B))  # fmt: skip
    return found


# --- checks ------------------------------------------------------------------------------------


def _check(
    calc: Calculation, job: Job, loaded: dict[int, dict[str, Quantity | None]]
) -> tuple[dict[int, float], dict[int, Quantity]]:
    """All checks; the steps of the hardest-working pad in full, of the others in a table.

    Returns the worst ratio of each pad, and its pressure on the soil, by its index.
    """
    groups = sorted(group_checks(loaded), key=lambda group: -group.worst)
    hardest, others = groups[0], groups[1:]
    names = names_of(job, hardest)
    calc.note(f"Step by step for {names}, which govern{'s' if len(hardest.pads) == 1 else ''}"
              + ("; every number of the other pads stands in the table after it." if others else "."))  # fmt: skip
    checks_in_full(calc, hardest)
    for title, rows in steps_tables(calc, job, hardest, others):
        calc.table(title, rows)
    for group in groups:
        for check in group.checks:
            remedy = HEAVIER_PAD if check.needs_engineer else LARGER_PAD
            calc.check(check.title_for(names_of(job, group)), *check.quantities(), check.unit,
                       check.clause, to_do=remedy, needs_engineer=check.needs_engineer, least=check.least)  # fmt: skip
    worst = {index: group.worst for group in groups for index in group.pads}
    return worst, {index: group.checks[0].quantities()[0] for group in groups for index in group.pads}


def _smallest(calc: Calculation, job: Job, pad: Pad, walls: EdgeWalls) -> None:
    free, plan = pad.model_copy(update={"length": None, "width": None, "depth": None}), job.plan
    try:
        (L, B, d), found = designed(free, job, plan.edging, walls)
    except FormulaError as error:
        calc.ask_engineer(f"Smallest pad for {pad.name}", CHAPTER, reason(error))
        return
    sizes = " × ".join(show_length(v, job.system, True) for v in (L, B, d))
    whole = show_length(d + job.slab.thickness, job.system, True)
    calc.finding(
        f"{pad.name}: the smallest pad in trade steps that passes with its post on the center "
        f"({found.governs.title} governs, ratio {found.governs.ratio:.2f}).", "", f"{sizes} deep below the slab, {whole} in all", "",
        CHAPTER, f"smallest {pad.name}", f"smallest pad for {pad.name}",
    )  # fmt: skip


def _uplift_not_named(calc: Calculation, job: Job) -> None:
    names = ", ".join(
        p.name for pad in job.pads for p in pad.standing if p.uplift is None and p.dead is not None
    )
    if names:
        calc.note(
            f"{names}: no uplift is named, so none is checked. Ask the frame's engineer whether wind lifts it."
        )


def load_text(carried: Carried | None, system: str) -> str:
    """The governing unfactored load of a pad, as text for table and drawings."""
    if carried is None:
        return "load not given"
    return show(carried.P_a, "lbf", system) + (" with its wall" if carried.wall else "")


def summary(
    job: Job, seats: Sequence[Footprint], texts: Sequence[str], worst: dict[int, float]
) -> list[dict[str, str]]:
    """All pads in one table: size, load (its text), worst ratio: rows for ``Calculation.table``."""
    rows = [
        (pad.name, _size(seats[i], job), texts[i],
         f"{worst[i]:.2f}" if i in worst else "not checked")
        for i, pad in enumerate(job.pads)
    ]  # fmt: skip
    return records(
        ("pad", "length × width × depth below the slab", "unfactored load", "worst ratio"), rows
    )
