"""The stone base: how much lies under the slab, and what is ordered, once for all slabs that share it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.formula import arg, cite, formula, procedure, result
from calcbook.basis.pricing import person_hours
from calcbook.basis.rounding import ceil, metric_rule
from calcbook.basis.showing import show
from calcbook.basis.table import lookup, records
from calcbook.basis.units import Q, Quantity, number_in
from calcbook.job.slabs import for_slabs
from calcbook.job.top import top_of
from calcbook.plan.dug import depth_integral

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.job.file import Job
    from calcbook.plan.outline import Plan


@procedure(
    "Volume of the stone base",
    cite("geometry", "slab area x thickness, less what the thickenings take of it"),
    "Stone lies under the slab, but not where the thickened edge, pads and strips are dug through it: "
    "the dug area is summed over the depth of the stone, as for the concrete.",
    returns=result("yd3", "stone, compacted in place"),
)
def stone_volume(job: Job) -> Quantity:
    """Exact volume of the compacted stone base of a job.

    job: a Job. Returns a volume in yd3. Source: geometry.
    """
    return compacted_stone(job.plan, job.base.thickness)


def compacted_stone(plan: Plan, thickness: Quantity) -> Quantity:
    """Volume of stone of an even thickness under a Plan, where nothing else is dug; in yd3."""
    feet = number_in(thickness, "ft")
    under = plan.slab.area * feet - depth_integral(plan, 0.0, feet)
    return Q(under, "ft3").to("cubic_yard")


@formula(
    "Loose volume of the stone",
    cite("common practice", "10 to 20 % over the compacted volume"),
    result("yd3", "stone as dumped"),
    V_b=arg("yd3", "stone, compacted in place", low=0),
    compaction=arg("1", "loose volume above compacted volume", low=0, high=0.6, valid=(0.10, 0.20), symbol="c"),
)  # fmt: skip
def loose_stone(V_b, compaction=0.15):
    """Volume of stone before it is compacted.

    compaction: share by which loose stone is more (plain), flagged outside 0.10 to 0.20. Source:
    common practice; no standard was found.

    >>> print(loose_stone("9 yd3"))
    10.35 cubic_yard
    """
    V_l = V_b * (1 + compaction)
    return V_l


@formula(
    "Mass of the stone",
    cite("common practice", "crushed stone 1.35 ton/yd³"),
    result("ton", "stone"),
    V_b=arg("yd3", "stone, compacted in place", low=0),
    density=arg("ton/yd3", "mass of the compacted base by volume", above=0, valid=(1.30, 1.62), symbol="rho"),
)  # fmt: skip
def stone_mass(V_b, density=Q(1.35, "ton/yd3")):
    """Mass of the stone base.

    density: mass by volume in place, flagged outside 1.30 to 1.62 ton/yd3 (2,600 lb/yd3 dry to
    2,700 lb/yd3 and 20 % more wet). Source: common practice; ask the quarry.

    >>> print(stone_mass("9 yd3", "1.35 ton/yd3"))
    12.15 ton
    """
    m = V_b * density
    return m


@formula(
    "Stone to order",
    cite("common practice", "rounded up to the step of sale"),
    result("ton", "stone to order"),
    m=arg("ton", "stone", low=0),
    step=arg("ton", "step in which stone is sold", above=0, high=50, symbol="Delta m"),
)
def stone_order(m, step=Q(1, "ton")):
    """Stone rounded up to the step in which it is sold.

    m: mass needed; step: step of sale. Returns a mass, never below the need. Source: common practice.
    """
    m_o = ceil(m / step) * step
    return m_o


def enter_stone(
    calc: Calculation, job: Job, in_place: Quantity, sharing: Sequence[tuple[str, Quantity]]
) -> Quantity:
    """Enter the stone; returns what is ordered with this slab, in tons.

    in_place: of this slab, a volume; sharing: name and volume in place of each slab of one order, itself too.
    """
    V_b = calc.finding(
        "Stone under the slab, but not where edge and pads are dug through it.", "V_b",
        in_place, "yd3", stone_volume.source, "stone_volume", "stone in place",
    )  # fmt: skip
    _base_rule(calc, job)
    m_o = _stone_order(calc, job, V_b, [pair for pair in sharing if pair[1].magnitude > 0])
    if V_b.magnitude > 0:
        rate = calc.given(job, "crew.base_rate", "r").m_as("cubic_yard")
        words = "Spreading and compacting the base"
        calc.work(
            words, calc.step(person_hours, f"{words}.", n=number_in(V_b, "yd3"), rate=Q(rate, "1/h"))
        )
    return m_o


def _stone_order(
    calc: Calculation, job: Job, V_b: Quantity, sharing: Sequence[tuple[str, Quantity]]
) -> Quantity:
    """Enter what is ordered, once for all slabs that share it; returns it."""
    names, name = [called for called, _ in sharing], job.slab.called
    if name in names[1:]:
        calc.note(
            f"Its stone comes in the order for the slab {names[0]!r}, which is rounded up once for all."
        )
        return Q(0, "ton")
    if V_b.magnitude <= 0:
        return Q(0, "ton")
    if len(sharing) > 1:
        stones = [stone for _, stone in sharing]
        calc.table(
            "Stone of one order", records(("slab", "in place"), [(n, show(v, "yd3", job.system)) for n, v in sharing])
        )  # fmt: skip
        V_b = calc.finding(
            "The stone of these slabs together, each by its own chapter.", "V_t", sum(stones[1:], stones[0]),
            "yd3", cite("geometry"), "stone_together", "stone of all slabs of this order",
        )  # fmt: skip
    compaction = calc.given(job, "base.compaction", "c").m_as("")
    density = calc.given(job, "base.density", "rho")
    calc.step(
        loose_stone,
        "The same stone as it comes off the truck.",
        name="loose_stone",
        V_b=V_b,
        compaction=compaction,
    )
    m = calc.step(stone_mass, "Stone is sold by mass.", name="stone_mass", V_b=V_b, density=density)
    whole = Q(1, "ton") if job.system == "us" else Quantity(1.0, "metric_ton")
    m_o = calc.step(stone_order, "Rounded up to whole tons.", name="stone_order", m=m, step=whole)
    calc.take(f"Base: {job.base.material}{for_slabs(names)}", m_o, "ton", "stone")
    return m_o


def _base_rule(calc: Calculation, job: Job) -> None:
    """The code's least thickness, which holds where the slab lies below the ground."""
    rule = lookup("base", rule="least base")
    t, above_grade = top_of(job).at_grade
    if t > above_grade:
        calc.check(
            "Thickness of the base",
            metric_rule(Q(rule["value_in"], "in"), job.system), job.base.thickness, "in", rule["source"], rule["note"],
            least=True, to_do="A thicker base (base.thickness).",
        )  # fmt: skip
    else:
        calc.note(
            "The slab's underside lies at or above the ground, so the code's least thickness of base "
            f"({rule['source']}) is not required; stone still drains it and breaks the rise of water."
        )
