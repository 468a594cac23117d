"""Vapor retarder: sheets laid over the slab, rolls to buy, seams to tape."""

from __future__ import annotations

from typing import TYPE_CHECKING

from shapely import box

from calcbook.basis.calculation import PRACTICE, Calculation, Found
from calcbook.basis.formula import arg, cite, formula, result
from calcbook.basis.pricing import person_hours
from calcbook.basis.rounding import ceil, metric_rule
from calcbook.basis.showing import show, show_length
from calcbook.basis.table import lookup, records
from calcbook.basis.units import Q, number_in
from calcbook.footings.edge_drawing import edge_section
from calcbook.job.edges import edge_of, in_plan_order, sides_alike, sides_text
from calcbook.job.slabs import ROLLS, for_slabs, sharing
from calcbook.plan.offset import keeps_sides
from calcbook.plan.sheet_drawing import retarder_drawing
from calcbook.plan.sheet_edge import (
    FLAT,
    INSIDE,
    UNDER,
    Lining,
    lining_side,
    lining_widths,
    sheet_beyond,
    sheet_short,
)
from calcbook.plan.sheets import cut_together, sheet_layout

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calcbook.basis.units import Quantity
    from calcbook.job.edges import EdgeOf
    from calcbook.job.file import Job
    from calcbook.plan.outline import Plan, Thickening
    from calcbook.plan.sheets import Layout

FIGURE_NOTE = "Dashed: the end of the sheet rolled out flat, before it goes down and up at the edge."


@formula(
    "Seam tape",
    cite("ASTM E1643", "laps and penetrations sealed"),
    result("ft", "seams to tape"),
    L_l=arg("ft", "laps between sheets", low=0),
    P_o=arg("ft", "around openings", low=0),
    P_l=arg("ft", "around linings of pads and strips", low=0),
)
def tape_length(L_l, P_o, P_l=Q(0, "ft")):
    """Length of tape: every lap, around every opening, and around every lining.

    Source: ASTM E1643, from memory.
    """
    L_t = L_l + P_o + P_l
    return L_t


@formula(
    "Rolls of seam tape",
    cite("common practice", "whole rolls"),
    result("1", "rolls of tape"),
    L_t=arg("ft", "seams to tape", low=0),
    tape_roll=arg("ft", "length of a roll of tape", above=0, symbol="l_t"),
)
def tape_rolls(L_t, tape_roll=Q(180, "ft")):
    """Rolls of tape to buy.

    Returns a whole number (plain), 0 where there is nothing to tape. Source: common practice.
    """
    n_t = ceil(L_t / tape_roll)
    return n_t


@formula(
    "Sheet bought",
    cite("geometry"),
    result("ft2", "area of the rolls"),
    n=arg("1", "rolls", low=1),
    w=arg("ft", "width of a roll", above=0),
    l=arg("ft", "length of a roll", above=0),
)  # fmt: skip
def sheet_area(n, w, l):  # noqa: E741
    """Area of whole rolls.

    Source: geometry.
    """
    A_b = n * w * l
    return A_b


@formula(
    "Waste of the sheet (laps, offcuts, rest of the roll)",
    cite("geometry"),
    result("%", "laps, offcuts and rest"),
    A_b=arg("ft2", "area of the rolls", above=0),
    A_c=arg("ft2", "area to cover, with what goes down and up at the edge", low=0),
)
def sheet_waste(A_b, A_c):
    """Share of the sheet bought that goes into laps, offcuts and the rest of the last roll.

    Returns a share in percent. Source: geometry.
    """
    u = 1 - A_c / A_b
    return u


# --- the calculation -------------------------------------------------------------------------


def new(job: Job) -> Calculation:
    """The chapter before anything stands in it."""
    return Calculation(
        "retarder", "Vapor retarder", "How is the sheet laid, and how many rolls and how much tape does it take?", job.system
    )  # fmt: skip


def sheets_of(job: Job) -> tuple[Layout, ...]:
    """The sheets of a job and of the slabs that share its rolls, in their order; () where none is laid."""
    if not job.retarder.laid:
        return ()
    slabs = sharing(job, ROLLS)
    return tuple(
        cut_together([sheet_layout(one.plan, *_asked(new(one), one), _linings(one)) for one in slabs])
    )


def chapter(job: Job, sheets: Sequence[Layout]) -> Found:
    """Vapor retarder of a job: layout, rolls, tape; sheets: ``sheets_of`` the slabs that share the rolls."""
    calc = new(job)
    if not calc.given(job, "retarder.laid"):
        calc.note(
            "The job asks for no sheet under this slab. Indoors, and under any covering, damp rises through it: the local "
            "code decides where one is required."
        )
        return Found(calc)
    slabs = sharing(job, ROLLS)
    names = [one.slab.called for one in slabs]
    layout = sheets[names.index(job.slab.called)]
    _asked(calc, job)
    _enter_linings(calc, job, layout.linings)
    _laid(calc, job, layout)
    L_t = _taped(calc, job, layout)
    if job.slab.called == names[0]:
        _bought(calc, job, slabs, sheets, L_t)
    else:
        calc.note(f"Sheet and tape come from the rolls ordered for the slab {names[0]!r}.")
    _laying(calc, job, layout)
    rule = lookup("retarder", rule="least lap")
    calc.check(
        "Lap of the vapor retarder", metric_rule(Q(rule["value_in"], "in"), job.system), job.retarder.lap, "in", rule["source"],
        rule["note"], least=True, to_do="Lap the sheets wider (retarder.lap).",
    )  # fmt: skip
    calc.caution(
        "Walk the sheet before the pour: patch every tear, seal around every pipe, and no stakes through it."
    )
    calc.caution(
        "Whether a retarder is required, and of which class, is decided by the local code and the use of the room."
    )
    return Found(calc)


def _asked(
    calc: Calculation, job: Job
) -> tuple[Quantity, Quantity, Quantity, Quantity | list[Quantity]]:
    """Enter what the layout of a slab rests on beside the linings: roll, lap, and what reaches beyond the outline."""
    calc.given(job, "retarder.product")
    w, l, lap = (  # noqa: E741
        calc.given(job, f"retarder.{key}", symbol)
        for key, symbol in (("roll_width", "w"), ("roll_length", "l"), ("lap", "p"))
    )
    return w, l, lap, _beyond(calc, job)


def _laid(calc: Calculation, job: Job, layout: Layout) -> None:
    """Enter how the sheets lie and are cut."""
    openings, system = job.plan.openings, job.system
    calc.figure("Vapor retarder", lambda: retarder_drawing(layout, openings, system), FIGURE_NOTE)
    calc.figure("Where the sheet ends", edge_section(job))
    calc.note(f"{sheet_layout.words} {layout.why(job.system)}")
    calc.table("Sheets, in the order they are cut", _cut_list(layout, job.system), sheet_layout.source)


def _beyond(calc: Calculation, job: Job) -> Quantity | list[Quantity]:
    """How far the sheet reaches beyond the outline when it is rolled out flat; below 0 where it ends inside.
    One length, or one for each side of the plan's outline where its edges differ."""
    ends, edge = calc.given(job, "retarder.ends"), job.plan.edge
    if ends == FLAT or (edge is None and ends == UNDER):
        return calc.given(job, "retarder.turn_up", "h_u")
    if edge is None:
        return Q(0, "in")
    if not edge.sides:
        return _beyond_edge(calc, job, edge_of(job, None), ends)
    found: dict[int, Quantity] = {}
    for sides, own in sides_alike(job):
        calc.note(f"{sides_text(sides).capitalize()}.")
        found |= dict.fromkeys(sides, _beyond_edge(calc, job, own, ends))
    return in_plan_order(job, [found[side] for side in sorted(found)])


def _beyond_edge(calc: Calculation, job: Job, own: EdgeOf, ends: str) -> Quantity:
    """The same for sides with one edge."""
    edge = job.plan.edge
    assert edge is not None  # asked for before
    if not own.depth.magnitude:
        return Q(0, "in") if ends == INSIDE else calc.given(job, "retarder.turn_up", "h_u")
    b, d, slope = (
        calc.given(job, own.place(key), symbol)
        for key, symbol in (("width", "b"), ("depth", "d"), ("slope", "slope"))
    )
    if ends == INSIDE:
        return -calc.step(sheet_short, "The sheet ends where the slope of the thickened edge begins, so far inside "
                          "the outline.", b=b, d=d, slope=number_in(slope, "1"))  # fmt: skip
    if not keeps_sides(job.plan.outline, edge.width + edge.slope * edge.depth):
        calc.note(
            "Thickened edges of opposite sides meet: the sheet is measured as if they did not, a little long."
        )
    e = calc.step(
        sheet_beyond, "Down the slope, under the thickened edge and up its outside, the sheet reaches so far beyond "
        "the outline when it is rolled out flat; its middle lies flat on the base.",
        name=None if edge.sides else "beyond",
        d=d, slope=number_in(slope, "1"), h_u=calc.given(job, "retarder.turn_up", "h_u"),
    )  # fmt: skip
    shape, out = job.plan.outline, number_in(e, "ft")
    closed = shape.buffer(out, join_style="mitre").buffer(-out, join_style="mitre")
    if closed.area - shape.area > 0.01:
        calc.caution(
            "In a notch of the outline the sheets of its sides overlap: cut and tape a piece for it by hand."
        )
    return e


def _linings(job: Job) -> list[Lining]:
    """The pieces that line pads and strips, where the sheet follows what is dug."""
    if job.retarder.ends != UNDER:
        return []
    w, p, plan = job.retarder.roll_width, job.retarder.lap, job.plan
    found = []
    alike: dict[tuple[float, ...], tuple[float, float, int]] = {}  # many pads are
    for t in plan.thickenings:
        if _within_edge(plan, t):
            continue
        x0, y0, x1, y1 = (t.bottom & plan.outline).bounds
        size = (x1 - x0, y1 - y0, t.depth, t.slope)
        if size not in alike:
            alike[size] = _lining(*size, w, p)
        reach = t.slope * t.depth
        rim = box(x0 - reach, y0 - reach, x1 + reach, y1 + reach) & plan.outline
        found.append(Lining(t.name, rim, *alike[size]))
    return found


def _lining(
    a: float, b: float, depth: float, slope: float, w: Quantity, p: Quantity
) -> tuple[float, float, int]:
    """Length along the roll and other side (feet), and widths of the sheet for a pad of two sides."""
    sides = [lining_side(a=Q(float(side), "ft"), d=Q(depth, "ft"), slope=slope, p=p) for side in (a, b)]
    ways = [(along, across, lining_widths(l_a=across, w=w, p=p))
            for along, across in (sides, sides[::-1])]  # fmt: skip
    along, across, n = min(ways, key=lambda way: number_in(way[0], "ft") * way[2])
    return float(number_in(along, "ft")), float(number_in(across, "ft")), int(n)


def _enter_linings(calc: Calculation, job: Job, found: Sequence[Lining]) -> None:
    """Enter the pieces that line pads and strips, or that the sheet of the edge lines them too."""
    if job.retarder.ends != UNDER or not job.plan.thickenings:
        return
    calc.note(
        "Assumed at pads and strips: the sheet is cut open there, and a piece of its own lines bottom and sides, "
        "with a lap all round that is taped."
        if found
        else "Pads and strips lie within the thickened edge and its depth, whose sheet lines them too."
    )
    rows = [
        (
            x.name,
            *(show_length(Q(side, "ft"), job.system) for side in (x.along, x.across)),
            str(x.widths),
        )
        for x in found
    ]
    calc.table("Linings, rolled out flat", records(("of", "length along the roll", "other side", "widths"), rows),
               lining_side.source)  # fmt: skip


def _within_edge(plan: Plan, t: Thickening) -> bool:
    """True for a pad or strip no deeper than the thickened edge and wholly in its bottom."""
    edge = plan.edge
    if edge is None or t.depth > edge.depth + 1e-9:
        return False
    if edge.sides and t.depth > min(side.depth for side in edge.sides) + 1e-9:
        return False
    return not t.slope and (t.bottom & plan.edging.middle).area < 1e-6


def _cut_list(layout: Layout, system: str) -> list[dict[str, str]]:
    sheets = sorted(layout.sheets, key=lambda sheet: (sheet.roll, sheet.number))
    rows = [(f"{s.number}", f"{s.roll}", show_length(Q(s.length, "ft"), system)) for s in sheets]
    for lining, rolls in zip(layout.linings, layout.lining_rolls, strict=True):
        times = f"{lining.widths} of " if lining.widths > 1 else ""
        length = f"{times}{show_length(Q(lining.along, 'ft'), system)}"
        rows.append((f"lining of {lining.name}", ", ".join(map(str, rolls)), length))
    return records(("sheet", "from roll", "length"), rows)


def _taped(calc: Calculation, job: Job, layout: Layout) -> Quantity:
    """Enter the seams of one slab; returns their length."""
    words = (
        f"Laps between sheets, {layout.end_laps} of them end laps."
        if layout.end_laps
        else "Laps between sheets."
    )
    L_l = calc.finding(
        words, "L_ell", layout.lap_length, "ft", sheet_layout.source, "laps", "length of laps"
    )
    return calc.step(
        tape_length,
        "Laps, openings and linings are taped." if layout.linings else "Laps and openings are taped.",
        name="tape",
        L_l=L_l,
        P_o=job.plan.opening_perimeter,
        P_l=layout.lining_tape,
    )


def _bought(
    calc: Calculation, job: Job, slabs: Sequence[Job], sheets: Sequence[Layout], L_t: Quantity
) -> None:
    """Enter rolls and tape, each rounded up once for all slabs that share them; L_t: the seams of this one."""
    rolls, cutting = sheets[0].rolls, sheets[0].cutting
    covered, names = [one.area_covered for one in sheets], [one.slab.called for one in slabs]
    if len(slabs) > 1:
        seams = [L_t, *(tape_length(x.lap_length, one.plan.opening_perimeter, x.lining_tape)
                        for one, x in zip(slabs[1:], sheets[1:], strict=True))]  # fmt: skip
        rows = [(n, show(A, "ft2", job.system), show(L, "ft", job.system)) for n, A, L in zip(names, covered, seams, strict=True)]  # fmt: skip
        calc.table(
            "Slabs cut from the same rolls",
            records(("slab", "to cover", "to tape"), rows),
            sheet_layout.source,
        )
        L_t = calc.finding("Seams of all of them, each by its own chapter.", "L_tt", sum(seams[1:], seams[0]), "ft",
                           cite("geometry"), "tape_together", "seams of all slabs of these rolls")  # fmt: skip
    calc.finding(
        "Rolls to buy." if cutting.proved else f"Rolls to buy; at least {cutting.fewest} in any case.",
        "n", float(rolls), "1", sheet_layout.source, "rolls", "rolls of vapor retarder",
    )  # fmt: skip
    n_t = calc.step(tape_rolls, "Whole rolls of tape.", name="tape_rolls", L_t=L_t,
                    tape_roll=calc.given(job, "retarder.tape_roll", "l_t"))  # fmt: skip
    calc.take(
        f"Vapor retarder: {job.retarder.product}{for_slabs(names)}",
        Q(rolls, "roll"),
        "roll",
        "retarder",
    )
    calc.take(f"Seam tape{for_slabs(names)}", Q(n_t, "roll"), "roll", "tape")
    A_b = calc.step(sheet_area, "Sheet that is bought.", n=float(rolls), w=job.retarder.roll_width,
                    l=job.retarder.roll_length)  # fmt: skip
    words = "with what goes down and up at the edge" + (
        ", and into linings." if any(x.linings for x in sheets) else "."
    )
    A_c = calc.finding(f"The slab{'s' * (len(slabs) > 1)}, {words}", "A_c", sum(covered[1:], covered[0]), "ft2",
                       sheet_layout.source, label="area to cover")  # fmt: skip
    calc.step(
        sheet_waste,
        "The share that goes into laps, offcuts and the rest of a roll.",
        name="waste",
        A_b=A_b,
        A_c=A_c,
    )
    calc.finding(
        "The longest offcut, for patches or the next job.", "L_rest", Q(cutting.rest, "ft"), "ft", PRACTICE, "rest",
        "longest offcut",
    )  # fmt: skip


def _laying(calc: Calculation, job: Job, layout: Layout) -> None:
    """Enter the hours of laying."""
    rate = calc.given(job, "crew.retarder_rate", "r").m_as("foot**2")
    hours = calc.step(
        person_hours, "Laying and taping.", n=number_in(layout.area_covered, "ft2"), rate=Q(rate, "1/h")
    )
    calc.work("Laying and taping the vapor retarder", hours)
