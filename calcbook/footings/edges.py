"""Thickened edges and strips under walls: bearing, depth, bending, frost."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from numpy import maximum

from calcbook.basis.calculation import Calculation, Found
from calcbook.basis.formula import arg, cite, formula, result
from calcbook.basis.inline import inline
from calcbook.basis.rounding import metric_rule
from calcbook.basis.units import Q, number_in
from calcbook.footings import footing, pad_forces, plain
from calcbook.footings.edge_drawing import enter_sections
from calcbook.footings.edge_path import uplift_checks
from calcbook.footings.edge_run import edge_run
from calcbook.footings.footing import CONCRETE, CONCRETE_WEIGHT, bearing_pressure
from calcbook.footings.held_level import toe_check
from calcbook.footings.hold_downs import off_edge
from calcbook.footings.pads import STRIP
from calcbook.footings.under_wall import edge_under, jamb_pressure, strip_under, thrust_check
from calcbook.footings.whole import whole_building
from calcbook.job.edges import edge_of, frost_place, sides_alike, sides_text, stands_on_edge
from calcbook.job.top import top_of
from calcbook.job.wall_lines import side_points
from calcbook.loads.combinations import combined, combined_load, wall_line_load, wall_loads
from calcbook.slab.soil import enter_bearing
from calcbook.slab.wall_points import ask_about_opening

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.sources import Citation
    from calcbook.basis.units import Quantity
    from calcbook.footings.edge_run import EdgeRun
    from calcbook.job.edges import EdgeOf
    from calcbook.job.file import Job
    from calcbook.job.schema.walls import Wall
    from calcbook.joints.layout import Joints
    from calcbook.loads.from_job import LoadPath
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
    """Pressure of a wall's strip on the soil, with its own weight and what lies on it.

    w: wall load, lbf/ft.
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
    """Width of a strip for a wall load w (lbf/ft) at a net pressure q_net (psf)."""
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
    """How deep the edge reaches into the ground: t + d less the slab's height a_g."""
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
    """Half of what the strip b is wider than the wall t_w, the wall on its middle."""
    x = (maximum(b, t_w) - t_w) / 2
    return x


# --- the edges of a job ------------------------------------------------------------------------


@dataclass(frozen=True)
class EdgesFound(Found):
    """pressures: on the soil (psf) under the edge or strip of each wall that was checked, by its name."""

    pressures: dict[str, Quantity]


def chapter(job: Job, ground: Ground, path: LoadPath, joints: Joints) -> EdgesFound:
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
    pressures = {}
    run = edge_run(job, joints)
    for index, wall in enumerate(job.walls):
        q = _wall(calc, job, path, index, wall, ground, run)
        if q is not None:
            pressures[wall.name] = q
    if job.plan.edge is not None:
        on_edge = [b for b in path.walls if stands_on_edge(job, job.walls[b.index])]
        uplift_checks(calc, job, on_edge, run)
    has_edge = job.plan.edge is not None
    off_edge(
        calc,
        job,
        [b for b in path.walls if not (has_edge and stands_on_edge(job, job.walls[b.index]))],
    )
    whole_building(calc, job, path.walls)
    if not job.walls:
        calc.note("No walls are named ([[walls]]), so only depth and width are checked.")
    if job.plan.ledges:
        calc.note(
            "Door sills and ledges: the checks of walls count the edge whole, without what is lowered there."
        )
    enter_sections(calc, job)
    calc.caution(
        "Frost depth comes from the building office, never from a table or a neighbor; shallow edges need the "
        "insulated design of an engineer."
    )
    calc.caution("Walls of masonry and retained soil need an engineer's footing.")
    return EdgesFound(calc, pressures)


def _depth(calc: Calculation, job: Job) -> None:
    """Depth and width of each kind of edge that there is."""
    t, a_g = (calc.given(job, f"slab.{key}", symbol)
              for key, symbol in (("thickness", "t"), ("above_grade", "a_g")))  # fmt: skip
    alike = sides_alike(job, frost=True)
    for sides, edge in alike:
        at = f"{sides_text(sides)}: " if len(alike) > 1 else ""
        if edge.against:
            calc.note(f"{_capital(at)}a plain edge against a wall, with an isolation strip between them. Whether that wall's "
                      "own footing stays dry and undisturbed is not checked here.")  # fmt: skip
        elif not edge.depth.magnitude:
            calc.note(f"{_capital(at)}no thickened edge, so no depth is checked against frost.")
        else:
            _one_depth(
                calc, job, edge, t, a_g + _climb(job, sides), _capital(at), frost_place(job, sides[0])
            )


def _climb(job: Job, sides: Sequence[int]) -> Quantity:
    """How much higher than the given height the highest of some sides stands, where the underside slopes too."""
    top, points = top_of(job), side_points(job.slab)
    if not top.parallel:
        return Q(0, "in")
    ends = [points[(k + j) % len(points)] for k in sides for j in (-1, 0)]
    return Q(max(float(top.heights(ends).max()), 0.0), "ft")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _one_depth(
    calc: Calculation, job: Job, edge: EdgeOf, t: Quantity, a_g: Quantity, at: str, frost_at: str
) -> None:
    """The checks of one kind of edge. at: which sides, in front of what the edge is called; empty where all are alike;
    frost_at: where their frost depth is given."""
    of = f"{at[:-2].lower()}, " if at else None

    def of_sides(words: str) -> str:
        return f"{words}, {at[:-2].lower()}" if at else words

    d, b = (calc.given(job, edge.place(key), symbol, of and f"{of}{key} of the edge")
            for key, symbol in (("depth", "d"), ("width", "b")))  # fmt: skip
    D_f = calc.step(
        depth_below_ground,
        of_sides("How deep the edge reaches into the ground") + ".",
        name=f"depth {of[:-2]}" if of else "depth",
        label=of and f"{of}bottom of the edge below the ground",
        t=t,
        d=d,
        a_g=a_g,
    )
    _least(calc, of_sides("Depth of the edge below the ground"), metric_rule(LEAST_DEPTH, job.system), D_f, cite("IRC 2021", "R403.1.4: 12 in."),
           "Deepen the edge (edge.depth) or lower the slab.")  # fmt: skip
    if job.field(frost_at).value is None:
        calc.ask_engineer(of_sides("Depth of the edge against frost"), cite("IRC 2021", "R403.1.4.1"),
                          "Ask the building office for the frost depth and enter it under [soil].")  # fmt: skip
    else:
        frost = calc.given(job, frost_at, "D_frost")
        _least(calc, of_sides("Depth of the edge against frost"), frost, D_f, cite("IRC 2021", "R403.1.4.1"),
               "Deepen the edge, or have an insulated shallow edge designed.", needs_engineer=True)  # fmt: skip
    _least(calc, of_sides("Width of the edge"), metric_rule(LEAST_WIDTH, job.system), b, cite("IRC 2021", "Table R403.1"),
           "Widen the edge.")  # fmt: skip
    _least(calc, of_sides("Thickness of the edge"), metric_rule(LEAST_THICKNESS, job.system), t + d, cite("IRC 2021", "R403.1.1"),
           "Deepen the edge.")  # fmt: skip


def _least(
    calc: Calculation,
    title: str,
    least: Quantity,
    there: Quantity,
    clause: Citation,
    remedy: str,
    needs_engineer: bool = False,
) -> None:
    """A length that must reach a least one, and what mends it."""
    calc.check(title, least, there, "in", clause, to_do=remedy,
               needs_engineer=needs_engineer, least=True)  # fmt: skip


def _has_footing(wall: Wall, job: Job) -> bool:
    """True for a wall on a strip of its own or on the thickened edge."""
    return wall.strip() is not None or stands_on_edge(job, wall)


def _wall(
    calc: Calculation, job: Job, path: LoadPath, index: int, wall: Wall, ground: Ground, run: EdgeRun
) -> Quantity | None:
    """Enter a wall's footing; returns its pressure on the soil, None where it is not worked out."""
    q_a = ground.bearing
    if not _has_footing(wall, job):
        return None  # it stands on the bare slab, which the slab's own chapter checks
    strip = wall.strip()
    if wall.dead is None:
        calc.ask_engineer(f"Load of wall {wall.name}", combined_load.source,
                          "Its load is not given: ask the engineer or take it from the plans.")  # fmt: skip
        return None
    if q_a is None:
        return None
    calc.note(f"{wall.name}, on {'a strip of its own' if strip else 'the thickened edge'}.")
    edge = edge_of(job, wall.side)
    b, d = edge.width, edge.depth
    if strip:
        b, d = (calc.given(job, f"walls.{index}.{key}", symbol, f"{wall.name}, {words} of its strip")
                for key, symbol, words in (("strip_width", "b", "width"), ("strip_depth", "d", "depth")))  # fmt: skip
    calc.given(job, f"walls.{index}.plate_width", "t_w", f"{wall.name}, width of its sill")
    P_a = wall_line_load(calc, job, index)
    q = _on_the_soil(calc, job, wall, P_a, b, d, q_a, ground.weight)
    own = _own_pressure(job, d, ground.weight)
    if strip is None:
        _off_the_middle(calc, job, wall, P_a, own, q_a, run)
    if strip:
        ask_about_opening(calc, job, wall)
    under = strip_under(wall, run.cuts) if strip else edge_under(job, wall, run)
    for presses in (jamb_pressure, thrust_check):
        presses(calc, job, path.of(index), number_in(P_a, "lbf"), own, q_a, under)
    _in_the_strip(calc, job, wall, b, d)
    return q


def _on_the_soil(
    calc: Calculation, job: Job, wall: Wall, P_a: Quantity, b: Quantity, d: Quantity, q_a: Quantity,
    weight: Quantity | None,
) -> Quantity:  # fmt: skip
    """Enter the pressure under a wall's strip, and the least width that would do; returns the pressure."""
    w = Q(number_in(P_a, "lbf"), "plf")  # it stands on one foot
    q_over = calc.step(
        footing.slab_weight, "The slab over it presses too.", t=job.slab.thickness, gamma_c=CONCRETE
    )
    own = {"d": d, "gamma_c": CONCRETE, "q_over": q_over}
    if weight is not None:
        own["q_soil"] = calc.step(
            footing.dug_soil, "The soil dug out pressed before.", d=d, gamma_s=weight
        )
    q = calc.step(edge_bearing, f"{wall.name}: pressure on the soil.", w=w, b=b, **own)
    calc.check(f"Bearing pressure under wall {wall.name}", q, q_a, "psf", cite("ASCE 7-16", "2.4.1"),
               to_do="Widen the edge or strip to the least width named among the results.")  # fmt: skip
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
        return q
    calc.step(
        strip_width, "The wall's load over what the soil has left gives the width.", name=f"width {wall.name}", label=f"least width for {wall.name}",
        w=w, q_net=q_net,
    )  # fmt: skip
    return q


def _off_the_middle(
    calc: Calculation, job: Job, wall: Wall, P_a: Quantity, own: float, q_a: Quantity, run: EdgeRun
) -> None:
    """A wall where it truly stands on the edge: its toe. own: pressure of edge and slab over it, psf."""
    P_u = combined(
        calc, "strength", wall_loads(wall), f"{wall.name}: factored, for the slab's hold", "P_u"
    )
    toe_check(calc, job, wall, (P_a, P_u), own, q_a, run.cuts)


def _own_pressure(job: Job, d: Quantity, soil: Quantity | None) -> float:
    """Pressure of the edge, d deep below the slab, and of the slab over it less the soil dug out, of that weight; psf."""
    deep, t = number_in(d, "ft"), number_in(job.slab.thickness, "ft")
    dug = number_in(soil, "pcf") * deep if soil is not None else 0.0
    return number_in(CONCRETE, "pcf") * (deep + t) - dug


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
        ("Bending moment of the strip", M_u, M_n, "lbf*in", "14.5.2.1"),
        ("One-way shear of the strip", V_u, V_n, "lbf", "14.5.5.1(a)"),
    ):
        calc.check(f"{words}, wall {wall.name}", demand, capacity, unit, cite("ACI 318-19", place),
                   to_do="Deepen the edge or strip.")  # fmt: skip
