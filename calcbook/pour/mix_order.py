"""The mix and its order: what to ask for, what water does to it, how warm it comes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from calcbook.basis.calculation import PRACTICE, Calculation, Found
from calcbook.basis.rounding import ceil
from calcbook.basis.showing import show
from calcbook.basis.sources import cite
from calcbook.basis.table import table
from calcbook.basis.units import Q, number_in
from calcbook.concrete.crew import placing_rate
from calcbook.concrete.hydration import Mix, mix_of
from calcbook.concrete.labor import placing_inputs
from calcbook.concrete.mix import (
    air_content,
    cement_content,
    drum_time_left,
    exposure_row,
    heat_mass,
    ingredient_change,
    mix_temperature,
    mixing_water,
    slump_tolerance,
    strength_loss_at,
    truck_spacing,
    w_cm_for,
    water_added,
    water_content,
)
from calcbook.pour.charts import water_chart
from calcbook.pour.plan import sooner_empty, trucks_of

if TYPE_CHECKING:
    from calcbook.basis.units import Quantity
    from calcbook.concrete.volume import VolumeFound
    from calcbook.job.file import Job

FRESH = Q(145, "lb/ft3")  # usual fresh concrete, PCA EB001, from memory
ONE_YARD = Q(1, "yd3")
_AIR = ("none", "moderate", "severe")  # of the exposure classes, least first


@dataclass(frozen=True)
class MixFound(Found):
    """mix: how the concrete hydrates: given figures first, else those of ACI 211.1."""

    mix: Mix


def chapter(job: Job, volume: VolumeFound) -> MixFound:
    """The mix, added water, temperature and trucks of a job; volume: for its trucks."""
    calc = Calculation(
        "mix", "Mix and order", "What do I ask the plant for, and what must not be done to it on site?",
        job.system,
    )  # fmt: skip
    f_c = calc.given(job, "concrete.strength", "f_c")
    for place, symbol in (("concrete.cement", ""), ("concrete.fly_ash", "p_FA")):
        calc.given(job, place, symbol)
    water, ratio, cement = _proportions(calc, job, f_c)
    _exposure(calc, job, f_c, ratio)
    added = _slump(calc, job)
    _temperature(calc, job, water, cement)
    with calc.for_builder():
        _trucks(calc, job, volume)
    gallons, system = number_in(added, "gal/yd3"), job.system
    calc.figure("Strength lost to added water", lambda: water_chart(gallons, system))
    mix = mix_of(job.concrete.cement, ratio, cement, p_FA=number_in(job.concrete.fly_ash, "1"))
    return MixFound(calc, mix)


def _proportions(calc: Calculation, job: Job, f_c: Quantity) -> tuple[Quantity, float, Quantity]:
    concrete = job.concrete
    air = "yes" if calc.given(job, "concrete.air").m_as("") > 0 else "no"
    slump = calc.given(job, "concrete.slump", "s")
    size = calc.given(job, "concrete.aggregate")
    slump_in = min(max(number_in(slump, "in"), 1.5), 6.5)
    if slump_in != number_in(slump, "in"):
        calc.caution("The slump lies outside the table of mixing water; its nearest row was taken.")
    table_water = calc.finding(
        "For this slump and aggregate, without admixtures.", "W_w",
        mixing_water(Q(slump_in, "in"), size, air), "lb/yd3", cite("ACI 211.1", "Table 6.3.3"), label="mixing water",
    )  # fmt: skip
    ratio = _ratio(calc, job, f_c, air)
    if concrete.cement_content is None:
        cement = calc.step(
            cement_content, "Cement that goes with that water.", symbol="C_c", name="cement",
            label="cementitious content", W_w=table_water, w_cm=ratio,
        )  # fmt: skip
        return table_water, ratio, cement
    cement = calc.given(job, "concrete.cement_content", "C_c")
    calc.results["cement"] = cement
    water = calc.step(
        water_content, "Water that goes with the cement given; what it lacks against the table, a water "
        "reducer must make up.", symbol="W_w", C_c=cement, w_cm=ratio,
    )  # fmt: skip
    return water, ratio, cement


def _ratio(calc: Calculation, job: Job, f_c: Quantity, air: str) -> float:
    if job.concrete.w_cm is not None:
        calc.results["w_cm"] = calc.given(job, "concrete.w_cm", "w/cm").m_as("")
        return calc.results["w_cm"]
    top = Q(5000 if air == "yes" else 6000, "psi")
    return calc.finding(
        "Water-cement ratio that gives the strength on average. The plant aims higher, so its own ratio "
        "will be lower.", r"w/cm", w_cm_for(min(f_c, top), air), "1",
        cite("ACI 211.1 from memory", "Table 6.3.4(a)"), name="w_cm", label="water-cement ratio",
    )  # fmt: skip


def _exposure(calc: Calculation, job: Job, f_c: Quantity, ratio: float) -> None:
    """Slab and edge are one pour: for each quantity the element that asks most governs the mix."""
    rows = {"slab": exposure_row(calc.given(job, "concrete.exposure"))}
    clause = cite("ACI 318-19", "Table 19.3.2.1, from memory")
    if job.concrete.edge_exposure is not None:
        rows["edge"] = exposure_row(calc.given(job, "concrete.edge_exposure"))
    strong, lean, airy = (max(rows, key=lambda e: rank(rows[e])) for rank in (
        lambda r: r["f_c_psi"], lambda r: -r["w_cm"], lambda r: _AIR.index(r["air"]),
    ))  # fmt: skip
    row = rows[strong]
    calc.check("Concrete strength for the exposure, f'_c", Q(row["f_c_psi"], "psi"), f_c, "psi", clause,
               _governs(rows, strong), least=True, to_do="Order a stronger mix (concrete.strength).")  # fmt: skip
    row = rows[lean]
    if row["w_cm"] < 1:
        calc.check(
            "Water-cement ratio for the exposure, w/cm", ratio, row["w_cm"], "1", clause, _governs(rows, lean),
            to_do="Order a mix with less water for its cement (concrete.w_cm).",
        )  # fmt: skip
    row = rows[airy]
    if row["air"] != "none":
        wanted = air_content(row["air"], job.concrete.aggregate)
        given = number_in(job.concrete.air, "1")
        calc.verdict(
            "Air content for the exposure", abs(given - wanted) <= 0.015 + 1e-9,
            cite("ACI 211.1", "Table 6.3.3"), show(given * 100, "1") + " %", show(wanted * 100, "1") + " % within 1.5 % required",
            f"{_governs(rows, airy)} Never trowel air-entrained concrete hard by machine without asking: it can blister and scale.".strip(),
            to_do="Order the air that the class asks for (concrete.air).",
        )  # fmt: skip
    elif number_in(job.concrete.air, "1") > 0.03:
        calc.caution(
            "Air-entrained concrete (over 3 %) under a hard-troweled finish blisters and delaminates; order "
            "an indoor troweled floor without entrained air (common practice)."
        )
    if job.concrete.edge_exposure is None and _edge_freezes(job):
        calc.ask_engineer(
            "Exposure class of the edge outdoors", clause,
            "A frost depth is given, and the edge stands outdoors; the slab's class is not the edge's.", job,
            "Name it (concrete.edge_exposure): F0 only where the edge is kept dry or does not freeze.",
        )  # fmt: skip


def _governs(rows: dict[str, dict[str, Any]], element: str) -> str:
    """Which element asks for it, where slab and edge ask for different things."""
    classes = {row["class"] for row in rows.values()}
    return f"The {element} governs, class {rows[element]['class']}." if len(classes) > 1 else ""


def _edge_freezes(job: Job) -> bool:
    """Whether a thickened edge stands in a place with frost."""
    frost = job.soil.frost_depth
    return job.plan.edge is not None and frost is not None and frost.magnitude > 0


def _slump(calc: Calculation, job: Job) -> Quantity:
    """Enter slump and its tolerance; returns the water that mends a low truck."""
    slump = job.concrete.slump
    tolerance = calc.finding(
        "A truck may come with this much more or less slump.", "pm Delta s", slump_tolerance(slump), "in",
        cite("ASTM C94", "tolerances in slump"), name="tolerance", label="slump tolerance",
    )  # fmt: skip
    added = calc.step(
        water_added, "A truck at the low end of the tolerance, brought up to the slump ordered with water.",
        symbol="w", name="water", label="water to mend a low truck", slump_change=tolerance,
    )  # fmt: skip
    rows = table("added_water")
    calc.step(
        strength_loss_at, "Strength lost to that water, at the least published rate.", symbol="Delta f", w=added,
        loss=Q(rows[0]["loss_low_psi"], "psi"),
    )  # fmt: skip
    most = max(rows, key=lambda row: row["loss_high_psi"])
    calc.step(
        strength_loss_at, f"The same at the highest published rate ({most['source'].place}). The published rates disagree.",
        symbol="Delta f_max", name="loss", label="strength lost, at most", w=added, loss=Q(most["loss_high_psi"], "psi"),
    )  # fmt: skip
    calc.table("Strength lost to each gallon in a cubic yard (1 gal/yd³ is 5 L/m³)", [
            {"least": show(Q(r["loss_low_psi"], "psi"), "psi", job.system),
             "most": show(Q(r["loss_high_psi"], "psi"), "psi", job.system),
             "says": r["source"].place, "remark": r["note"]}
            for r in rows
        ])  # fmt: skip
    calc.note(
        "Water is added once, before discharge begins, to the whole load, and mixed in by at least 30 turns "
        "of the drum at mixing speed; write its amount on the ticket. A plasticizer raises slump without it."
    )
    return added


def _as_ordered(calc: Calculation, T: Quantity, planned: Quantity, warms: bool) -> None:
    """Whether the concrete can come as ordered; warms: its aggregate is warmer than that, so nothing cools it on the way."""
    over = number_in(T, "degF") - number_in(planned, "degF")
    calc.verdict(
        "Temperature of the mixed concrete", over <= 1e-9 if warms else over >= -1e-9, PRACTICE, show(T, "degF", calc.system),
        f"{'at most' if warms else 'at least'} {show(planned, 'degF', calc.system)} {'allowed' if warms else 'required'}",
        "In hot weather it does not cool on the way." if warms else "It cools on the way.",
        to_do="Cold water or ice, and aggregate kept shaded and wet: ask the plant."
        if warms else "Hotter water or warm aggregate.",
    )  # fmt: skip


def _temperature(calc: Calculation, job: Job, water: Quantity, cement: Quantity) -> None:
    places = [f"concrete.{n}_temperature" for n in ("aggregate", "cement", "water")]
    if any(job.field(p).value is None for p in places):
        calc.note(
            "Give the plant's temperatures of aggregate, cement and water in the job file to see how warm "
            "the concrete comes."
        )
        return
    T_a, T_c, T_w = (calc.given(job, p) for p in places)
    W_w, W_c = water * ONE_YARD, cement * ONE_YARD
    W_a = FRESH * ONE_YARD - W_w - W_c
    T = calc.step(
        mix_temperature, "Temperature of one cubic yard from its ingredients (fresh concrete at 145 lb/ft³).",
        symbol="T", name="temperature", label="concrete as mixed", T_a=T_a, W_a=W_a, T_c=T_c, W_c=W_c, T_w=T_w,
        W_w=W_w,
    )  # fmt: skip
    W = calc.step(heat_mass, "The yard warms as slowly as this much water.", W_a=W_a, W_c=W_c, W_w=W_w)
    calc.step(
        ingredient_change, "The water must change by this much to shift the concrete by one degree.",
        symbol="Delta T_w", dT=Q(1, "delta_degF"), W=W, W_i=W_w, s_i=1.0,
    )  # fmt: skip
    planned = calc.given(job, "pour.concrete_temperature", "T_pour")
    _as_ordered(calc, T, planned, warms=number_in(T_a, "degF") > number_in(planned, "degF"))
    if number_in(T_w, "degF") > 140:
        calc.caution(
            f"Water above {show(Q(140, 'degF'), 'degF', job.system)} must meet the coarse aggregate before the cement, or the mix can flash set "
            "(ACI 306R-16 section 5.3, as quoted in an article)."
        )


def _trucks(calc: Calculation, job: Job, volume: VolumeFound) -> None:
    plan = volume.trucks
    rate = calc.step(
        placing_rate, "How fast the crew and the truck or pump can place.", symbol="Q_p",
        name="rate", label="rate of placing", **placing_inputs(job),
    )  # fmt: skip
    load = Q(float(max(plan.loads)), "yd3")
    spacing = calc.step(
        truck_spacing, "The next truck should arrive as this one empties.", symbol="t", name="spacing",
        label="least time between trucks", V=load, rate=rate,
    )  # fmt: skip
    several = len(plan.loads) > 1  # one truck has no spacing to keep
    limit = calc.given(job, "pour.drum_limit", "t_limit")
    haul = calc.given(job, "pour.haul", "t_haul")
    given = calc.given(job, "pour.truck_spacing", "t_trucks") if several else None
    worst = max(trucks_of(job, plan.loads, rate), key=lambda truck: truck.age)
    wait = Q(60 * worst.waits, "min")
    left = calc.step(
        drum_time_left, f"What is left of the time limit when truck {worst.number} is empty, whose concrete is "
        f"oldest{' after its wait' if worst.waits > 1e-9 else ''}.", symbol="t_left",
        name="left", label="time left on the drum", t_limit=limit, t_haul=haul, t_wait=wait,
        V=Q(float(worst.load), "yd3"), rate=rate,
    )  # fmt: skip
    calc.check(
        "Time of a load from batching to discharge", limit - left, limit, "min",
        cite("ASTM C94", "1 1/2 h, from memory; editions differ"),
        to_do=f"{sooner_empty(job, worst)}; a retarder or another limit only by agreement with the producer.",
    )  # fmt: skip
    if given is not None:
        fit = Q(5.0 * ceil(number_in(spacing, "min") / 5), "min")
        calc.check(
            "Time between trucks", spacing, given, "min", PRACTICE,
            "Concrete that waits in a truck stiffens.", least=True,
            to_do=f"Order the trucks {show(fit, 'min', job.system)} apart (pour.truck_spacing), or place faster.",
        )  # fmt: skip
    calc.note(f"Loads: {plan.text(job.system)}. {plan.words[0].upper()}{plan.words[1:]}.")
