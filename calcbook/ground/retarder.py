"""Vapor retarder: sheets laid over the slab, rolls to buy, seams to tape."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calcbook.basis.calculation import PRACTICE, Calculation, Found
from calcbook.basis.formula import arg, cite, formula, result
from calcbook.basis.pricing import person_hours
from calcbook.basis.rounding import ceil
from calcbook.basis.showing import show_length
from calcbook.basis.table import lookup, records
from calcbook.basis.units import Q
from calcbook.plan.sheet_drawing import retarder_drawing
from calcbook.plan.sheets import sheet_layout

if TYPE_CHECKING:
    from calcbook.job.file import Job
    from calcbook.plan.sheets import Layout


@formula(
    "Seam tape",
    cite("ASTM E1643", "laps and penetrations sealed"),
    result("ft", "seams to tape"),
    L_l=arg("ft", "laps between sheets", low=0),
    P_o=arg("ft", "around openings", low=0),
)
def tape_length(L_l, P_o):
    """Length of tape: every lap, and around every opening.

    L_l: length of laps; P_o: around openings. Returns a length. Source: ASTM E1643, from memory.
    """
    L_t = L_l + P_o
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

    L_t: seams to tape; tape_roll: length of a roll. Returns a whole number (plain), 0 where there
    is nothing to tape. Source: common practice.
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

    n: rolls (plain); w, l: width and length of a roll. Returns an area. Source: geometry.
    """
    A_b = n * w * l
    return A_b


@formula(
    "Share of the sheet that covers nothing anew",
    cite("geometry"),
    result("%", "laps, offcuts and rest"),
    A_b=arg("ft2", "area of the rolls", above=0),
    A_c=arg("ft2", "area to cover, turn-up included", low=0),
)
def sheet_waste(A_b, A_c):
    """Share of the sheet bought that goes into laps, offcuts and the rest of the last roll.

    A_b: area bought; A_c: area to cover. Returns a share in percent. Source: geometry.
    """
    u = 1 - A_c / A_b
    return u


# --- the calculation -------------------------------------------------------------------------


def chapter(job: Job) -> Found:
    """Vapor retarder of a job: layout, rolls, tape."""
    calc = Calculation(
        "retarder", "Vapor retarder", "How is the sheet laid, and how many rolls and how much tape does it take?", job.system
    )  # fmt: skip
    layout = _layout(calc, job)
    _tape(calc, job, layout)
    _sheet(calc, job, layout)
    rule = lookup("retarder", rule="least lap")
    calc.check(
        "Are the laps at least what the code asks?", Q(rule["value_in"], "in"), job.retarder.lap, "in", rule["source"],
        rule["note"],
    )  # fmt: skip
    calc.caution(
        "Walk the sheet before the pour: patch every tear, seal around every pipe, and no stakes through it."
    )
    calc.caution(
        "Whether a retarder is required, and of which class, is decided by the local code and the use of the room."
    )
    return Found(calc)


def _layout(calc: Calculation, job: Job) -> Layout:
    calc.given(job, "retarder.product")
    w, l, lap, up = (  # noqa: E741
        calc.given(job, f"retarder.{key}", symbol)
        for key, symbol in (("roll_width", "w"), ("roll_length", "l"), ("lap", ""), ("turn_up", ""))
    )
    layout = sheet_layout(job.plan, w, l, lap, up)
    openings, system = job.plan.openings, job.system
    calc.figure("Vapor retarder", lambda: retarder_drawing(layout, openings, system))
    calc.note(f"{sheet_layout.words} {layout.why(job.system)}")
    calc.finding(
        "Rolls to buy." if layout.cutting.proved else f"Rolls to buy; at least {layout.cutting.fewest} in any case.",
        "n", float(layout.rolls), "1", sheet_layout.source, "rolls", "rolls of vapor retarder",
    )  # fmt: skip
    calc.table("Sheets, in the order they are cut", _cut_list(layout, job.system), sheet_layout.source)
    return layout


def _cut_list(layout: Layout, system: str) -> list[dict[str, str]]:
    rows = [
        (f"{sheet.number}", f"{sheet.roll}", show_length(Q(sheet.length, "ft"), system))
        for sheet in sorted(layout.sheets, key=lambda sheet: (sheet.roll, sheet.number))
    ]
    return records(("sheet", "from roll", "length"), rows)


def _tape(calc: Calculation, job: Job, layout: Layout) -> None:
    words = (
        f"Laps between sheets, {layout.end_laps} of them end laps."
        if layout.end_laps
        else "Laps between sheets."
    )
    L_l = calc.finding(
        words, "L_ell", layout.lap_length, "ft", sheet_layout.source, "laps", "length of laps"
    )
    L_t = calc.step(
        tape_length,
        "Laps and openings are taped.",
        name="tape",
        L_l=L_l,
        P_o=job.plan.opening_perimeter,
    )
    n_t = calc.step(tape_rolls, "Whole rolls of tape.", name="tape_rolls", L_t=L_t,
                    tape_roll=calc.given(job, "retarder.tape_roll", "l_t"))  # fmt: skip
    calc.take(f"Vapor retarder: {job.retarder.product}", Q(layout.rolls, "roll"), "roll", "retarder")
    calc.take("Seam tape", Q(n_t, "roll"), "roll", "tape")


def _sheet(calc: Calculation, job: Job, layout: Layout) -> None:
    A_b = calc.step(sheet_area, "Sheet that is bought.", n=float(layout.rolls), w=job.retarder.roll_width,
                    l=job.retarder.roll_length)  # fmt: skip
    A_c = calc.finding(
        "Area to cover, with the turn-up.",
        "A_c",
        layout.area_covered,
        "ft2",
        sheet_layout.source,
    )
    calc.step(
        sheet_waste,
        "The share that goes into laps, offcuts and the rest of a roll.",
        name="waste",
        A_b=A_b,
        A_c=A_c,
    )
    rest = Q(layout.cutting.rest, "ft")
    calc.finding(
        "The longest offcut, for patches or the next job.",
        "L_rest",
        rest,
        "ft",
        PRACTICE,
        "rest",
        "longest offcut",
    )
    rate = calc.given(job, "crew.retarder_rate", "r").m_as("foot**2")
    hours = calc.step(person_hours, "Laying and taping.", n=A_c.m_as("foot**2"), rate=Q(rate, "1/h"))
    calc.work("Laying and taping the vapor retarder", hours)
