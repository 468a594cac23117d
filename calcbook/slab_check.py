"""The slab under a parked vehicle and under walls: its calculation, and stress against thickness."""

import numpy as np

from calcbook.calculation import Calculation
from calcbook.drawing import ACCENT, GREY, INK, SMALL, THIN, chart
from calcbook.footing import combined_load, governing_combination
from calcbook.formula import FormulaError, arg, cite, formula, procedure, result
from calcbook.slab import (
    allowable_stress,
    concrete_modulus,
    curling_coefficient,
    curling_stress,
    joint_stress,
    modulus_of_rupture,
    safety_factor,
)  # fmt: skip
from calcbook.typed import quantities
from calcbook.units import TRADE_UNITS, Q, magnitude, show
from calcbook.wall_load import wall_load_capacity
from calcbook.westergaard import (
    circle_radius,
    corner_stress,
    edge_deflection,
    edge_stress,
    interior_deflection,
    interior_stress,
    radius_of_relative_stiffness,
    tyre_area,
)  # fmt: skip

NU = 0.15  # Poisson's ratio of concrete, the value of the whole literature of slabs on grade
EXPANSION = Q(5.5e-6, "1/degF")  # Huang 2004, from memory
GRADIENT = Q(
    2.0, "delta_degF"
)  # for each inch of thickness; 1.5 to 3 for a slab in the sun, from memory
HEAVY_AXLE = Q(8000, "lbf")  # more than a loaded pickup has on an axle
WIDE_AT_CORNER = 0.3  # c/l up to which the corner formula follows finite elements within 4 %


@formula(
    "Load on a wheel",
    cite("mechanics"),
    result("lbf", "load on a wheel"),
    P_axle=arg("lbf", "load on the axle", above=0),
    n=arg("1", "wheels on the axle", low=1),
)
def wheel_load(P_axle, n):
    """An axle's load P_axle (lbf) shared evenly by its n wheels. Returns lbf."""
    P = P_axle / n
    return P


@procedure(
    "Least thickness under a wheel",
    cite("TRR 1043"),
    "the thickness is raised in quarter inches from 3.5 in. until inside, joint, free edge and corner "
    "all stay below the allowable stress",
    returns=result("in", "least thickness"),
    P=arg("lbf", "load on the wheel", above=0),
    a=arg("in", "radius of the loaded circle", above=0),
    f_c=arg("psi", "specified strength of the concrete", low=2500, high=10000),
    k=arg("pci", "modulus of subgrade reaction", above=0),
    margin=arg("1", "margin wanted against cracking", low=1, high=5),
)
def slab_for_wheel(P, a, f_c, k, margin=1.7):
    """Least slab thickness, in quarter inches, for a wheel anywhere on it. Returns inches.

    P: wheel load, lbf; a: radius of its print, in.; f_c: strength, psi; k: soil modulus, pci;
    margin: safety factor on the modulus of rupture. Raises FormulaError beyond 14 in.
    """
    given = quantities(
        "slab_for_wheel", slab_for_wheel.arguments, P=P, a=a, f_c=f_c, k=k, margin=margin
    )
    h = np.arange(3.5, 14.01, 0.25)
    worst = np.max(
        list(wheel_stresses(h, **{n: given[n] for n in ("P", "a", "f_c", "k")}).values()), axis=0
    )
    allowed = modulus_of_rupture.body(given["f_c"].m_as("psi")) / given["margin"]
    passing = h[worst <= allowed]
    if not passing.size:
        raise FormulaError(
            f"slab_for_wheel: no slab up to 14 in. carries {show(given['P'], 'lbf')}; ask an engineer"
        )
    return Q(float(passing[0]), "in")


def wheel_stresses(h, P, a, f_c, k, LT=0.25):
    """Stresses (psi) of a wheel at its worst places, over an array of thicknesses h (in.).

    P: wheel load; a: radius of its print; f_c: strength; k: soil modulus; LT: share a joint passes
    on. The very bodies of the formulas run, in inches and pounds-force. Returns arrays by place.
    """
    P, a, k = P.m_as("lbf"), a.m_as("inch"), k.m_as("lbf/inch**3")
    common = (P, a, h, concrete_modulus.body(f_c.m_as("psi")), NU, k)
    edge = edge_stress.formulas["circle"].body(*common)
    return {
        "inside a panel": interior_stress.body(*common),
        "at a joint": joint_stress.body(edge, LT),
        "at a free edge": edge,
        "at a corner": corner_stress.formulas["ioannides"].body(*common),
    }


def calculation(job):
    """The slab under its vehicle and walls. job: a Job. Returns a Calculation."""
    calc = Calculation(
        "slab", "Slab under load", "Does the slab carry the vehicle and the walls that stand on it?", job.system
    )  # fmt: skip
    h = calc.given(job, "slab.thickness", "h")
    f_c = calc.given(job, "concrete.strength", r"f'_{\mathrm{c}}")
    k = calc.given(job, "soil.k", "k")
    E_c = calc.step(concrete_modulus, "How stiff the concrete is.", f_c=f_c)
    f_r = calc.step(modulus_of_rupture, "The bending stress at which it cracks.", f_c=f_c, name="f_r")
    length = calc.step(radius_of_relative_stiffness, "How far the slab spreads a load.", name="l",
                       E_c=E_c, h=h, nu=NU, k=k)  # fmt: skip
    if job.vehicle.axle is None:
        calc.note("No vehicle is named in the job ([vehicle] axle), so none is checked.")
    else:
        _vehicle(calc, job, {"h": h, "E_c": E_c, "nu": NU, "k": k}, f_r, length)
    _walls(calc, job, h, f_c, k)
    _temperature(calc, job, h, E_c, length)
    calc.caution(
        "A slab cracks first from drying and cold, not from load: joints, base and curing come before thickness."
    )
    calc.caution(
        "Stacked loads, racks, lifts, forklifts and trucks are not covered here: ask an engineer."
    )
    return calc


def _vehicle(calc, job, slab, f_r, length):
    axle = calc.given(job, "vehicle.axle", r"P_{\mathrm{axle}}")
    n = calc.given(job, "vehicle.wheels", "n").m_as("")
    p = calc.given(job, "vehicle.tyre_pressure", "p")
    margin = calc.given(job, "vehicle.margin", r"\mathrm{SF}").m_as("")
    share = calc.given(job, "vehicle.transfer", r"\mathrm{LT}").m_as("")
    P = calc.step(wheel_load, "One wheel of the heavier axle.", P_axle=axle, n=n)
    A_c = calc.step(tyre_area, "It stands on about its load over its tyre pressure,", P=P, p=p)
    a = calc.step(circle_radius, "taken as a circle.", A_c=A_c)
    wheel = {"P": P, "a": a, **slab}
    inside = calc.step(
        interior_stress, "Inside a panel: tension at the bottom.", name="interior", **wheel
    )
    edge = calc.step(edge_stress, "At a free edge, as in a door opening.", name="edge", **wheel)
    joint = calc.step(
        joint_stress, "At a joint, the other side helps.", name="joint", sigma_e=edge, LT=share
    )
    corner = calc.step(corner_stress, "At a corner: tension on top.", name="corner", **wheel)
    calc.step(interior_deflection, "It settles little inside,", **wheel)
    calc.step(edge_deflection, "and more at an edge.", name="edge_deflection", **wheel)
    f_a = calc.step(
        allowable_stress, "What the concrete is asked to bear.", name="allowed", f_r=f_r, SF=margin
    )
    calc.step(
        safety_factor,
        "The margin at the free edge, where it is least or nearly so.",
        f_r=f_r,
        sigma=edge,
    )
    clause = cite("ACI 360R-10", "modulus of rupture over a safety factor")
    for place, stress in (
        ("inside a panel", inside), ("at a joint", joint), ("at a free edge", edge), ("at a corner", corner)
    ):  # fmt: skip
        calc.check(
            f"Does the slab bear the wheel {place}?", stress, f_a, "psi", clause,
            "Thicken the slab or that edge, keep the wheel away from it, or firm up the base.",
        )  # fmt: skip
    _limits(calc, job, axle, a, length)
    _least(calc, job, P, a, margin)
    calc.figure("Stress against thickness", lambda: stress_chart(job, P, a, f_a))


def _limits(calc, job, axle, a, length):
    spread = (np.sqrt(np.pi) * a / length).m_as("")
    calc.verdict(
        "Is the wheel's print small enough for the corner formula?", spread <= WIDE_AT_CORNER,
        cite("TRR 1043", "c/l against our finite-element check"), f"c/l = {spread:.2f}", f"at most {WIDE_AT_CORNER}",
        "Beyond it the formula reads low: a corner needs an engineer.", needs_engineer=True,
    )  # fmt: skip
    if axle > HEAVY_AXLE:
        calc.ask_engineer(
            "Is this axle heavier than a house slab is meant for?", cite("common practice", "heavy wheels"),
            f"More than {show(HEAVY_AXLE, 'lbf', job.system)} on an axle: have the slab designed.",
        )  # fmt: skip


def _least(calc, job, P, a, margin):
    try:
        least = slab_for_wheel(P, a, job.concrete.strength, job.soil.k, margin)
    except FormulaError as error:
        calc.ask_engineer("Which thickness would carry the wheel?", slab_for_wheel.source, f"{error}.")
        return
    calc.finding("The least thickness that carries it at every place, by quarter inches.", r"h_{\mathrm{min}}",
                 least, "in", slab_for_wheel.source, "least", "least thickness for the wheel")  # fmt: skip


def wall_loads(wall):
    """(dead, floor, roof) of a wall as loads on one foot of it, in lbf, from its line loads."""
    return [(w * Q(1, "ft")).to("lbf") for w in (wall.dead, wall.live, wall.roof)]


def wall_line_load(calc, job, index):
    """Enter a wall's loads and their governing combination. Returns lbf on one foot of wall."""
    for key, symbol in (("dead", "w_{D}"), ("live", "w_{L}"), ("roof", "w_{S}")):
        calc.given(job, f"walls.{index}.{key}", symbol, f"{job.walls[index].name}, {key} load")
    loads = wall_loads(job.walls[index])
    row = governing_combination("allowable", *loads)
    return calc.step(
        combined_load, f"{job.walls[index].name}: {row['name']} governs, for one foot of wall.",
        P_D=loads[0], P_L=loads[1], P_S=loads[2], g_D=row["D"], g_L=row["L"], g_S=row["S"],
    )  # fmt: skip


def _walls(calc, job, h, f_c, k):
    """Walls that stand on the bare slab; the others belong to the thickened edges and strips."""
    for index, wall in enumerate(job.walls):
        if wall.place == "edge" or wall.strip() is not None:
            continue
        if wall.dead is None:
            calc.ask_engineer(
                f"What does {wall.name} weigh?", wall_load_capacity.formulas["interior"].source,
                "Its load is not given: ask the engineer or take it from the plans.",
            )  # fmt: skip
            continue
        P = wall_line_load(calc, job, index)
        w_a = calc.step(
            wall_load_capacity, "What the slab carries there without a footing.", h=h, f_c=f_c, k=k
        )
        calc.check(
            f"Does the bare slab carry {wall.name}?", P / Q(1, "ft"), w_a, "plf",
            wall_load_capacity.formulas["interior"].source,
            "Give the wall a thickened strip (strip_width, strip_depth and its two ends).",
        )  # fmt: skip


def _temperature(calc, job, h, E_c, length):
    """Curling, as a step to learn from: no source gives a house slab a limit for it."""
    from calcbook.joint_plan import largest_spacing

    spacing = largest_spacing(job)
    dT = GRADIENT * h.m_as("inch")
    C = calc.step(curling_coefficient, "Temperature: a panel as long as the joints allow, its top in the sun,",
                  L=spacing, l=length)  # fmt: skip
    calc.step(
        curling_stress, "bends by so much (2 F° for each inch of thickness); short panels help.", name="curling",
        E_c=E_c, alpha=EXPANSION, dT=dT, nu=NU, C_x=C, C_y=C,
    )  # fmt: skip


def stress_chart(job, P, a, f_a):
    """Stress at the worst places against thickness, with the job's point and the allowable stress.

    job: a Job; P: wheel load; a: radius of its print; f_a: allowable stress. Returns a Figure.
    """
    system = job.system
    to_x, to_y = (magnitude(Q(1, u), u, system) for u in ("in", "psi"))
    names = [TRADE_UNITS[u].label_for(system) for u in ("in", "psi")]
    figure, ax = chart(title="Stress of the wheel against thickness", x=f"slab thickness, {names[0]}",
                       y=f"flexural stress, {names[1]}")  # fmt: skip
    chosen = job.slab.thickness.m_as("inch")
    h = np.linspace(3.5, max(9.0, chosen + 1), 60)
    curves = wheel_stresses(h, P, a, job.concrete.strength, job.soil.k, job.vehicle.transfer.m_as(""))
    here = wheel_stresses(
        np.array([chosen]), P, a, job.concrete.strength, job.soil.k, job.vehicle.transfer.m_as("")
    )
    styles = ("-", (0, (1, 1.5)), (0, (5, 2)), (0, (6, 2, 1, 2)))
    for (place, stress), style in zip(curves.items(), styles, strict=True):
        ax.plot(h * to_x, stress * to_y, color=INK, lw=1.1, ls=style, label=place)
        ax.plot(chosen * to_x, here[place] * to_y, "o", ms=4, color=ACCENT)
    limit = f_a.m_as("psi") * to_y
    ax.axhline(limit, color=ACCENT, lw=1.1)
    ax.annotate("allowable", (h[-1] * to_x, limit), (0, 3), textcoords="offset points", ha="right",
                fontsize=SMALL, color=ACCENT)  # fmt: skip
    ax.axvline(chosen * to_x, color=GREY, lw=THIN)
    ax.annotate("this slab", (chosen * to_x, ax.get_ylim()[1]), (4, -8), textcoords="offset points",
                fontsize=SMALL, color=GREY)  # fmt: skip
    ax.set_ylim(bottom=0)
    ax.set_xlim(h[0] * to_x, h[-1] * to_x)
    ax.legend(frameon=False, fontsize=SMALL, handlelength=3.2)
    return figure
