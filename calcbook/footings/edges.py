"""Thickened edges and strips under walls: bearing, depth, bending, frost."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING

from numpy import maximum

from calcbook.basis.calculation import Calculation, Found
from calcbook.basis.formula import arg, cite, formula, result
from calcbook.basis.inline import inline
from calcbook.basis.rounding import metric_rule
from calcbook.basis.units import Q
from calcbook.footings import footing, pad_forces, plain
from calcbook.footings.edge_path import jamb_pressure, toe_check, uplift_checks
from calcbook.footings.footing import CONCRETE, CONCRETE_WEIGHT, bearing_pressure
from calcbook.footings.pads import STRIP
from calcbook.footings.whole import whole_building
from calcbook.loads.combinations import combined, combined_load, wall_line_load, wall_loads
from calcbook.plan.section_drawing import section_drawing
from calcbook.plan.sheet_edge import sheet_line
from calcbook.slab.soil import enter_bearing

if TYPE_CHECKING:
    from collections.abc import Callable

    from matplotlib.figure import Figure

    from calcbook.basis.sources import Citation
    from calcbook.basis.units import Quantity
    from calcbook.job.file import Job
    from calcbook.job.schema.walls import Wall
    from calcbook.joints.layout import Joints
    from calcbook.loads.from_job import Brought, LoadPath
    from calcbook.slab.soil import Ground

LEAST_WIDTH, LEAST_DEPTH, LEAST_THICKNESS = Q(12, "in"), Q(12, "in"), Q(6, "in")


@inline
@formula(
    "Bearing pressure under a strip",
    cite("mechanics"),
    result("psf", "bearing pressure"),
    w=arg("plf", "load of the wall", low=0),
    b=arg("in", "width of the strip at its bottom", above=0),
    d=arg("in", "depth of the strip below the slab", low=0),
    gamma_c=CONCRETE_WEIGHT,
    q_over=arg("psf", "weight of slab and soil above, by area", low=0),
    q_soil=arg("psf", "weight of the soil dug out, by area", low=0),
    s=arg("in", "length of wall looked at", above=0),
)
def edge_bearing(w, b, d, gamma_c=Q(150, "pcf"), q_over=Q(0, "psf"), q_soil=Q(0, "psf"), s=Q(12, "in")):
    """Pressure of a wall's strip on the soil, with its own weight and what lies on it. Returns psf.

    w: wall load, lbf/ft; b: width at the bottom, in.; d: depth below the slab, in.; gamma_c: pcf;
    q_over: weight above, psf; q_soil: weight of the soil dug out, psf; s: length of wall, in.
    """
    P = w * s
    A = b * s
    q = bearing_pressure.body(P, A, d, gamma_c, q_over, q_soil)
    return q


@formula(
    "Required footing width",
    cite("McCormac", "Example 12.10"),
    result("in", "required width"),
    w=arg("plf", "load of the wall", low=0),
    q_net=arg("psf", "net allowable bearing pressure", above=0),
)
def strip_width(w, q_net):
    """Width of a strip for a wall load w (lbf/ft) at a net pressure q_net (psf). Returns inches."""
    b = w / q_net
    return b


@formula(
    "Footing depth below grade",
    cite("geometry"),
    result("in", "depth below the ground"),
    t=arg("in", "slab thickness", above=0),
    d=arg("in", "depth of the edge below the slab", low=0),
    a_g=arg("in", "top of slab above the ground", low=0),
)
def depth_below_ground(t, d, a_g):
    """How deep the edge reaches into the ground: t + d less the slab's height a_g. Returns inches."""
    D_f = maximum(t + d, a_g) - a_g
    return D_f


@formula(
    "Overhang of a strip beside its wall",
    cite("geometry"),
    result("in", "reach of the strip beyond the wall"),
    b=arg("in", "width of the strip at its bottom", above=0),
    t_w=arg("in", "width of the wall's sill", above=0),
)
def strip_reach(b, t_w):
    """Half of what the strip b is wider than the wall t_w, the wall on its middle. Returns inches."""
    x = (maximum(b, t_w) - t_w) / 2
    return x


def edge_section(job: Job) -> Callable[[], Figure]:
    """What draws the section through the slab's edge, the sheet drawn to the end that the job names."""
    slab, retarder = job.slab, job.retarder
    sheet = sheet_line(job.plan.edge, retarder.ends, retarder.turn_up.m_as("foot"))
    return functools.partial(
        section_drawing, slab.thickness, job.base.thickness, job.plan.edge, slab.above_grade, job.system,
        sheet=sheet,
    )  # fmt: skip


# --- the edges of a job ------------------------------------------------------------------------


def chapter(job: Job, ground: Ground, path: LoadPath, joints: Joints) -> Found:
    """Thickened edge and strips under walls.

    job: a Job; ground: what it bears; path: what the walls bring; joints: as they are planned.
    """
    calc = Calculation(
        "edges", "Thickened edges", "Are edge and strips wide and deep enough for walls and frost?", job.system
    )  # fmt: skip
    footed = any(_has_footing(wall, job) for wall in job.walls)
    if footed:
        enter_bearing(calc, job, ground)
        footing.enter_concrete(calc)
    if job.plan.edge is None:
        calc.note("This slab has no thickened edge; outside walls need a footing of their own. A wall "
                  "that stands at its bare edge is checked in the chapter on the slab.")  # fmt: skip
    else:
        _depth(calc, job)
    if footed and ground.bearing is not None:
        calc.given(job, "concrete.strength", "f_c")
    for index, wall in enumerate(job.walls):
        _wall(calc, job, path, index, wall, ground)
    if job.plan.edge is not None:
        on_edge = [b for b in path.walls if job.walls[b.index].place == "edge"]
        uplift_checks(calc, job, on_edge, joints)
    whole_building(calc, job, path.walls)
    if not job.walls:
        calc.note("No walls are named ([[walls]]), so only depth and width are checked.")
    if job.plan.edge is not None:
        calc.figure("Section at the edge", edge_section(job))
    calc.caution(
        "Frost depth comes from the building office, never from a table or a neighbor; shallow edges need the "
        "insulated design of an engineer."
    )
    calc.caution("Walls of masonry and retained soil need an engineer's footing.")
    return Found(calc)


def _depth(calc: Calculation, job: Job) -> None:
    t, d, b, a_g = (
        calc.given(job, place, symbol)
        for place, symbol in (("slab.thickness", "t"), ("edge.depth", "d"), ("edge.width", "b"), ("slab.above_grade", "a_g"))
    )  # fmt: skip
    D_f = calc.step(
        depth_below_ground,
        "How deep the edge reaches into the ground.",
        name="depth",
        t=t,
        d=d,
        a_g=a_g,
    )
    _least(calc, "Does the edge reach firm ground?", metric_rule(LEAST_DEPTH, job.system), D_f, cite("IRC 2021", "R403.1.4: 12 in."),
           "Deepen the edge (edge.depth) or lower the slab.")  # fmt: skip
    if job.soil.frost_depth is None:
        calc.ask_engineer("Does the edge reach below the frost?", cite("IRC 2021", "R403.1.4.1"),
                          "Ask the building office for the frost depth and enter it under [soil].")  # fmt: skip
    else:
        frost = calc.given(job, "soil.frost_depth", "D_frost")
        _least(calc, "Does the edge reach below the frost?", frost, D_f, cite("IRC 2021", "R403.1.4.1"),
               "Deepen the edge, or have an insulated shallow edge designed.", needs_engineer=True)  # fmt: skip
    _least(calc, "Is the edge wide enough for the code?", metric_rule(LEAST_WIDTH, job.system), b, cite("IRC 2021", "Table R403.1"),
           "Widen the edge.")  # fmt: skip
    _least(calc, "Is it thick enough for the code?", metric_rule(LEAST_THICKNESS, job.system), t + d, cite("IRC 2021", "R403.1.1"),
           "Deepen the edge.")  # fmt: skip


def _least(
    calc: Calculation,
    question: str,
    least: Quantity,
    there: Quantity,
    clause: Citation,
    remedy: str,
    needs_engineer: bool = False,
) -> None:
    """A length that must reach a least one; the remedy is said only where it does not."""
    calc.check(question, least, there, "in", clause, remedy if there < least * (1 - 1e-9) else "",
               needs_engineer=needs_engineer)  # fmt: skip


def _has_footing(wall: Wall, job: Job) -> bool:
    """True for a wall on a strip of its own or on the thickened edge."""
    return wall.strip() is not None or (wall.place == "edge" and job.plan.edge is not None)


def _wall(calc: Calculation, job: Job, path: LoadPath, index: int, wall: Wall, ground: Ground) -> None:
    q_a = ground.bearing
    if not _has_footing(wall, job):
        return  # it stands on the bare slab, which the slab's own chapter checks
    strip = wall.strip()
    if wall.dead is None:
        calc.ask_engineer(f"What does {wall.name} weigh?", combined_load.source,
                          "Its load is not given: ask the engineer or take it from the plans.")  # fmt: skip
        return
    if q_a is None:
        return
    calc.note(f"{wall.name}, on {'a strip of its own' if strip else 'the thickened edge'}.")
    b, d = job.edge.width, job.edge.depth
    if strip:
        b, d = (calc.given(job, f"walls.{index}.{key}", symbol, f"{wall.name}, {words} of its strip")
                for key, symbol, words in (("strip_width", "b", "width"), ("strip_depth", "d", "depth")))  # fmt: skip
    calc.given(job, f"walls.{index}.plate_width", "t_w", f"{wall.name}, width of its sill")
    P_a = wall_line_load(calc, job, index)
    _on_the_soil(calc, job, wall, P_a, b, d, q_a, ground.weight)
    if strip is None:
        _off_the_middle(calc, job, path.of(index), P_a, ground)
    _in_the_strip(calc, job, wall, b, d)


def _on_the_soil(
    calc: Calculation, job: Job, wall: Wall, P_a: Quantity, b: Quantity, d: Quantity, q_a: Quantity,
    weight: Quantity | None,
) -> None:  # fmt: skip
    """Pressure under a wall's strip, and the least width that would do."""
    w = (P_a / Q(1, "ft")).to("plf")
    q_over = calc.step(
        footing.slab_weight, "The slab over it presses too.", t=job.slab.thickness, gamma_c=CONCRETE
    )
    own = {"d": d, "gamma_c": CONCRETE, "q_over": q_over}
    if weight is not None:
        own["q_soil"] = calc.step(
            footing.dug_soil, "The soil dug out pressed before.", d=d, gamma_s=weight
        )
    q = calc.step(edge_bearing, f"{wall.name}: pressure on the soil.", w=w, b=b, **own)
    calc.check(f"{wall.name}: does the soil carry it?", q, q_a, "psf", cite("ASCE 7-16", "2.4.1"),
               "Widen the edge or strip to the least width named among the results." if q > q_a else "")  # fmt: skip
    q_net = calc.step(
        footing.net_bearing,
        "What the soil has left for the wall beside the footing's own weight.",
        q_a=q_a,
        **own,
    )
    if q_net.m <= 0:
        calc.note(
            f"{wall.name}: no width would do, as strip and slab alone press more than the soil may carry."
        )
        return
    calc.step(
        strip_width, "The wall's load over what the soil has left gives the width.", name=f"width {wall.name}", label=f"least width for {wall.name}",
        w=w, q_net=q_net,
    )  # fmt: skip


def _off_the_middle(calc: Calculation, job: Job, b: Brought, P_a: Quantity, ground: Ground) -> None:
    """A wall where it truly stands on the edge: the toe, and the jamb that presses most."""
    wall, q_a = job.walls[b.index], ground.bearing
    assert q_a is not None  # asked for before
    P_u = combined(
        calc, "strength", wall_loads(wall), f"{wall.name}: factored, for the slab's hold", "P_u"
    )
    soil = ground.weight * job.edge.depth if ground.weight is not None else Q(0, "psf")
    own = (CONCRETE * (job.edge.depth + job.slab.thickness) - soil).to("psf")
    toe_check(calc, job, wall, (P_a, P_u), own, q_a)
    jamb_pressure(calc, job, b, (P_a / Q(1, "ft")).to("plf"), own, q_a)


def _in_the_strip(calc: Calculation, job: Job, wall: Wall, b: Quantity, d: Quantity) -> None:
    """Bending and shear of one foot of the strip."""
    P_u = combined(calc, "strength", wall_loads(wall), f"{wall.name}: factored, for the concrete",
                   "P_u")  # fmt: skip
    A = calc.step(footing.pad_area, "One foot of the strip.", L=b, B=STRIP)
    h = calc.step(
        plain.thickness_under_post, "Slab and strip are one piece.", t=job.slab.thickness, d=d
    )
    h_e = calc.step(plain.soil_deduction, "What counts in strength.", h=h)
    q_u = calc.step(pad_forces.factored_pressure, "Factored pressure.", P_u=P_u, A=A)
    x = calc.step(strip_reach, "The strip reaches beyond the wall.", b=b, t_w=wall.plate_width)
    foot = {"f_c": job.concrete.strength, "b": STRIP, "h": h_e}
    M_u = calc.step(
        pad_forces.pad_moment, "Factored moment of one foot of the strip.", q_u=q_u, b=STRIP, x=x
    )
    M_n = calc.step(plain.plain_moment_strength, "Design strength of one foot of the strip.", **foot)
    V_u = calc.step(
        pad_forces.pad_one_way_shear,
        "Factored shear of one foot of the strip.",
        q_u=q_u,
        b=STRIP,
        x=x,
        h=h_e,
    )
    V_n = calc.step(
        plain.plain_one_way_shear_strength, "Design strength of one foot of the strip.", **foot
    )
    for words, demand, capacity, unit, place in (
        ("does the strip bear bending?", M_u, M_n, "lbf*in", "14.5.2.1"),
        ("does it bear shear?", V_u, V_n, "lbf", "14.5.5.1(a)"),
    ):
        calc.check(f"{wall.name}: {words}", demand, capacity, unit, cite("ACI 318-19", place),
                   "Deepen the edge or strip." if demand > capacity else "")  # fmt: skip
