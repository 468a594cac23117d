"""Drilled and bonded sill bolts: adhesive, rules of the standard, and what the maker's sheet must say."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.formula import cite
from calcbook.basis.safety import cautions_of
from calcbook.basis.showing import show
from calcbook.basis.table import records
from calcbook.basis.units import Q
from calcbook.bolts.capacity import bolt_row
from calcbook.bolts.epoxy import epoxy_cartridges, epoxy_volume
from calcbook.bolts.sill import sentence, sill_rule
from calcbook.job.slabs import ADHESIVE, for_slabs, sharing
from calcbook.plan.tape import from_steps

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.calculation import Calculation
    from calcbook.basis.sources import Citation
    from calcbook.basis.units import Quantity
    from calcbook.bolts.bolted import Bolted
    from calcbook.job.file import Job


def drilled(
    calc: Calculation, job: Job, walls: Sequence[Bolted], before: Sequence[tuple[str, Quantity]] = ()
) -> int:
    """Enter adhesive, checks and cautions for the walls whose bolts are drilled; nothing where there are none.

    calc: a Calculation; walls: Bolted walls; before: name and adhesive of slabs whose cartridges are bought with these.
    Returns the number of cartridges bought with this slab.
    """
    n = sum(len(w.layout.bolts) for w in walls)
    if not n:
        return 0
    bolts, d_a = job.bolts, Q(bolt_row(job)["d_in"], "in")
    hole, depth = (
        calc.given(job, "bolts.hole", "d_hole"),
        calc.given(job, "bolts.depth", "h_ef"),
    )
    for field, symbol in (
        ("bond_cracked", "tau_cr"), ("bond_uncracked", "tau_uncr"), ("cartridge", "V_k"),
        ("epoxy_waste", "waste"),
    ):  # fmt: skip
        if getattr(bolts, field) is not None:
            calc.given(job, f"bolts.{field}", symbol)
    if hole <= d_a:
        calc.verdict(
            "Hole diameter",
            False,
            epoxy_volume.source,
            show(hole, "in"),
            f"over {show(d_a, 'in')} required",
            to_do="Give the hole of the maker's sheet (bolts.hole).",
        )
        return 0
    V = calc.step(
        epoxy_volume,
        "Adhesive for all holes.",
        name="adhesive",
        d_hole=hole,
        d_bolt=d_a,
        depth=depth,
        n=float(n),
        waste=bolts.epoxy_waste.m_as(""),
    )
    n_k = _cartridges(calc, job, V, n, before)
    _rules(calc, job, walls, d_a)
    _default_bond(calc, job)
    _maker(calc, job)
    for words in (
        *cautions_of("drilled"),
        "Brush and blow out every hole as the maker says; a dusty or wet hole can halve the bond. Have the holes looked at "
        "before they are filled.",
        "Adhesive anchors under sustained tension creep: they need an engineer, a certified installer and continuous "
        "inspection (ACI 318-19 17.2.3 and 26.13, from memory).",
        "Find bars, pipes and heating tubes before drilling. Do not cut a bar.",
    ):
        calc.caution(words)
    return round(float(n_k))


def _cartridges(
    calc: Calculation, job: Job, V: Quantity, holes: int, before: Sequence[tuple[str, Quantity]]
) -> float:
    """Cartridges, rounded up once with the last of the slabs that they are bought for; 0 with an earlier one."""
    alone = epoxy_cartridges(V_e=V, V_k=job.bolts.cartridge)
    last = [one.slab.called for one in sharing(job, ADHESIVE) if _drills(one)][-1]
    if last != job.slab.called:
        calc.note(f"By itself it would take {alone:g} cartridges; they are bought with those of the slab {last!r}, rounded up "
                  "once.")  # fmt: skip
        return 0.0
    if before:
        every = [*before, (job.slab.called, V)]
        rows = [(name, show(own, "in3", job.system), f"{(own / job.bolts.cartridge).m_as(''):.2f}") for name, own in every]  # fmt: skip
        calc.table("Slabs that cartridges are bought for at once", records(("slab", "adhesive", "cartridges' worth"), rows),
                   epoxy_cartridges.source)  # fmt: skip
        V = calc.finding("Adhesive of all of them.", "V_ee", sum((v for _, v in before), V), "in3", cite("geometry"),
                         "adhesive_together", "adhesive of all slabs of this purchase")  # fmt: skip
    n_k = calc.step(epoxy_cartridges, "Cartridges.", name="cartridges", V_e=V, V_k=job.bolts.cartridge)
    names = [*(name for name, _ in before), job.slab.called]
    here = f"{holes} holes" if not before else f"{holes} holes in the slab {job.slab.called!r}"
    calc.take(f"Adhesive cartridges{for_slabs(names)}", n_k, "1", "epoxy", note=here)
    return n_k


def _drills(job: Job) -> bool:
    """Whether a slab has walls with drilled bolts, in holes that take them."""
    fits = job.bolts.hole > Q(bolt_row(job)["d_in"], "in")
    return bool(fits) and any(wall.method == "drilled" for wall in job.bolted_walls)


def _rules(calc: Calculation, job: Job, walls: Sequence[Bolted], d_a: Quantity) -> None:
    bolts = job.bolts
    edge = min(w.sill.edge_distance for w in walls)
    least, source, words = sill_rule("least drilled edge", d_a)
    _maker_or_rule(
        calc,
        "Edge distance of the drilled bolts",
        bolts.least_edge,
        least,
        edge,
        source,
        words,
    )
    gaps = [g for w in walls for g in w.layout.gaps]
    if gaps:
        least, source, words = sill_rule("least drilled spacing", d_a)
        gap = from_steps(min(gaps), job.system)
        _maker_or_rule(
            calc,
            "Spacing of the drilled bolts",
            bolts.least_spacing,
            least,
            gap,
            source,
            words,
        )
    for rule, title, low in (
        ("least adhesive depth", "Embedment for bond, least", True),
        ("most adhesive depth", "Embedment for bond, greatest", False),
    ):
        limit, source, words = sill_rule(rule, d_a)
        pair = (limit, bolts.depth) if low else (bolts.depth, limit)
        calc.check(title, *pair, "in", source, sentence(words), needs_engineer=True, least=low,
                   to_do="A depth within the code's range (bolts.depth).")  # fmt: skip
    least, source, words = sill_rule("least concrete age")
    calc.check(
        "Age of the concrete at drilling",
        least,
        bolts.concrete_age,
        "day",
        source,
        sentence(words),
        least=True,
        to_do="Drill later.",
    )


def _default_bond(calc: Calculation, job: Job) -> None:
    """What the code's default bond stress rests on, where the maker's is not given; and the anchor category."""
    bolts = job.bolts
    limit, source, words = sill_rule("most drilled strength")
    calc.check("Concrete strength in the formulas for drilled bolts", job.concrete.strength, limit, "psi",
               source, sentence(words), needs_engineer=True, to_do="Cast bolts.")  # fmt: skip
    if bolts.bond_cracked is None or bolts.bond_uncracked is None:
        title = "Hole temperature for the default bond stress"
        limit, source, words = sill_rule("least default temperature")
        if bolts.hole_temperature is None:
            calc.not_worked_out(f"{sentence(words)} Give bolts.hole_temperature.", title, source)
        else:
            calc.check(
                title,
                limit,
                bolts.hole_temperature,
                "degF",
                source,
                sentence(words),
                needs_engineer=True,
                least=True,
                to_do="Give the maker's bond stress (bolts.bond_cracked), or set them when it is warmer.",
            )
        calc.caution(
            "The code's default bond stress is only for adhesives tested to ACI 355.4, in holes made by a rotary hammer or "
            "rock drill, not by a diamond core, in concrete of at least 2,500 psi (17 MPa) (ACI 318M-19, Table 17.6.5.2.5)."
        )
    calc.given(job, "bolts.category")
    if job.field("bolts.category").assumed:
        calc.caution(
            "Category 1 is taken for the adhesive (factor 0.65 on bond and breakout). Its maker's test report names the "
            "category: 2 has 0.55, 3 has 0.45, which is a third less. Give bolts.category."
        )


def _maker_or_rule(
    calc: Calculation,
    title: str,
    tested: Quantity,
    least: Quantity,
    found: Quantity,
    source: Citation,
    words: str,
) -> None:
    remark = sentence(words)
    if tested is not None:
        remark = "The least that the maker has tested, as given in the job file."
    calc.check(
        title,
        tested if tested is not None else least,
        found,
        "in",
        source,
        remark,
        needs_engineer=True,
        least=True,
        to_do="Move the bolts, or use the maker's data (bolts.least_edge, bolts.least_spacing).",
    )


def _maker(calc: Calculation, job: Job) -> None:
    """Temperature and cure time, which only the maker's sheet gives."""
    bolts, source = job.bolts, cite("common practice", "the maker's sheet for the adhesive")
    if bolts.cure is None or bolts.hole_temperature is None or bolts.least_temperature is None:
        calc.ask_engineer(
            "Temperature of the holes and cure time of the adhesive", source,
            "Give bolts.hole_temperature (measured), bolts.least_temperature and bolts.cure from the maker's sheet.",
        )  # fmt: skip
        return
    calc.check(
        "Temperature of the holes for the adhesive", bolts.least_temperature, bolts.hole_temperature, "degF", source,
        f"Leave the rods untouched for {show(bolts.cure, 'h', job.system)} at that temperature.", least=True,
        to_do="Warm the concrete, wait for a warmer day, or an adhesive for the cold by its maker's sheet.",
    )  # fmt: skip
