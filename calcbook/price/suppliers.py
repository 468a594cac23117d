"""Lists for the suppliers: what of the quote each brings, how long, how many, and when."""

from __future__ import annotations

import datetime
import tempfile
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from calcbook.basis.safety import DEFERRAL
from calcbook.basis.showing import show, show_length
from calcbook.basis.text_table import csv_text, plain_number
from calcbook.basis.typeset import pdf
from calcbook.bolts.lists import BOUGHT
from calcbook.ground.base import EDGE_FORMS
from calcbook.job.bars import ANY
from calcbook.price.quote import wanted

if TYPE_CHECKING:
    from calcbook.basis.calculation import Calculation
    from calcbook.job.file import Job
    from calcbook.price.quote import Quote, QuoteLine

LAYOUT = Path(__file__).with_name("suppliers.typ")
HEADINGS = ("supplier", "telephone", "what", "amount", "unit", "when", "remark")
_USUAL = {  # where a builder buys it, unless the job or the builder's own file says otherwise
    "concrete": "Ready-mix plant", "short_load_fee": "Ready-mix plant", "pump": "Concrete pump", "stone": "Quarry",
    "spoil": "Hauler", "blanket": "Rental", "": "Other",
}  # fmt: skip
BUILDING_SUPPLY = "Building supply"
_FOR_BOLTS = ("plate washer", "nut")
_ONCE = "one for each; not what is sold with them"
_KINDS = {  # in the bolts' own list
    "bolt": (" bolt, ", " bolts, "), "rod": ("threaded rod",), "hold_down": ("hold-down, ", "hold-downs, "),
    "hold_down_anchor": ("hold-down anchor",),
}  # fmt: skip


@dataclass
class SupplierList:
    """What one supplier brings: lines of (what, amount, unit, when, remark)."""

    name: str
    phone: str
    lines: list[tuple[str, str, str, str, str]] = field(default_factory=list)


def supplier_lists(quote: Quote) -> list[SupplierList]:
    """Every line of a Quote that is no labor, once, by its supplier, in the order of the quote."""
    found: dict[str, SupplierList] = {}
    for line in quote.lines:
        if line.kind == "labor":
            continue
        slab = _slab_of(quote.job, line)
        name, phone, when = _supplier(quote.job, line, slab)
        one = found.setdefault(name, SupplierList(name, phone))
        amount = line.amount or "not known yet"
        one.lines.append((line.words, amount, line.unit, when, _remark(quote, line, slab)))
        one.lines += [
            (what, number, "", when, _ONCE if what.startswith(_FOR_BOLTS) else "")
            for number, what in _with_it(quote, line)
        ]
    return list(found.values())


def suppliers_csv(quote: Quote) -> str:
    """The lists as CSV; cells that a spreadsheet might run are made plain text."""
    rows = [
        (one.name, one.phone, words, plain_number(amount), unit, when, remark)
        for one in supplier_lists(quote)
        for words, amount, unit, when, remark in one.lines
    ]
    return csv_text(HEADINGS, rows)


def suppliers_pdf(quote: Quote) -> bytes:
    """The lists as PDF bytes, each supplier on a sheet of its own."""
    job = quote.job
    data: dict[str, Any] = {
        "title": job.job.name,
        "preparer": job.job.preparer,
        "paper": "a4" if job.system == "si" else "us-letter",
        "where": job.job.address or "address to be given",
        "contact": job.job.contact or "contact to be given",
        "deferral": DEFERRAL,
        "order": _orders(quote),
        "lists": [
            {"name": one.name, "phone": one.phone, "lines": one.lines} for one in supplier_lists(quote)
        ],
        "plant": _supplier_of_key(job, "concrete", job)[0],
    }
    with tempfile.TemporaryDirectory(prefix="calcbook-") as made:
        return pdf(LAYOUT, data, Path(made))


def _orders(quote: Quote) -> list[tuple[str, str]]:
    """The orders of concrete: the first whole, of each other one what differs; what holds for all of them last."""
    found: list[tuple[str, str]] = []
    for order in quote.orders:
        found += [line for line in order.lines if line not in found]
    last = [line for line in found if line[0] in ("Safety", "", "Review")]
    return [line for line in found if line not in last] + last


def _slab_of(job: Job, line: QuoteLine) -> Job:
    """The slab that a line is for, with its own day and concrete; the job where it is for several."""
    return next((one for one in job.others if one.slab.called == line.taken.slab), job)


def _supplier(job: Job, line: QuoteLine, slab: Job) -> tuple[str, str, str]:
    """(name, telephone, when) for a line of the quote; slab: that it is for."""
    if line.taken.price:
        return _supplier_of_key(job, line.taken.price, slab)
    for rental in job.prices.rental:
        if rental.name == line.words and line.taken.note == "rented":
            return rental.source or _USUAL["blanket"], "", rental.pick_up or _day_before(job)
    return _USUAL[""], "", "as agreed"


def _supplier_of_key(job: Job, key: str, slab: Job) -> tuple[str, str, str]:
    for one in job.suppliers:
        if key in one.keys or (key.startswith(f"{ANY}_") and ANY in one.keys):
            return one.name, one.phone, one.when or _when(slab, key)
    kept = job.own.prices.get(key) if job.own and key not in job.raw.get("prices", {}) else None
    name = (kept and kept.supplier) or _USUAL.get(key, BUILDING_SUPPLY)
    return name, "", _when(slab, key)


def _when(job: Job, key: str) -> str:
    """When a thing is wanted, by the day of the pour."""
    moment = job.pour.moment()
    if key in ("concrete", "short_load_fee", "pump"):
        return f"{moment:%A, %Y-%m-%d, %H:%M}" if moment else "on the day of the pour, to be given"
    if key == "spoil":
        return "while digging"
    if key == "stone":
        return "when the base is dug"
    if key in ("rod", "epoxy"):
        return "for drilling, after the pour"
    if key == "hold_down":
        return "with the framing"
    return _day_before(job)


def _day_before(job: Job) -> str:
    moment = job.pour.moment()
    if moment is None:
        return "by the working day before the pour"
    day = moment.date() - datetime.timedelta(days=1)
    while day.weekday() > 4:
        day -= datetime.timedelta(days=1)
    return f"by {day:%A, %Y-%m-%d}"


def _remark(quote: Quote, line: QuoteLine, job: Job) -> str:
    """Length, size or kind of what is bought, as the slab has it that it is for."""
    key = line.taken.price
    if key == "retarder":
        roll = job.retarder
        return f"rolls of {show_length(roll.roll_width, job.system)} by {show_length(roll.roll_length, job.system)}"
    if key == "tape":
        return f"rolls of {show_length(job.retarder.tape_roll, job.system)}, by the maker of the sheet"
    if key == "mesh":
        steel = job.reinforcement
        return f"sheets of {show_length(steel.sheet_width, job.system)} by {show_length(steel.sheet_length, job.system)}"
    if key == "concrete":
        return (
            f"{show(job.concrete.strength, 'psi', job.system)}; the order follows"
            if quote.volume
            else ""
        )
    if key == "epoxy":
        return f"cartridges of {show(job.bolts.cartridge, 'fl_oz', job.system)}"
    if key in _KINDS:
        return "; ".join(
            f"{number} {what}" for number, what in _bought(_chapter_of(quote, line), _KINDS[key])
        )
    return "" if line.taken.note == "rented" else line.note


def _with_it(quote: Quote, line: QuoteLine) -> list[tuple[str, str]]:
    """(number, what) that goes with a line and has no price of its own: stakes, washers, nuts."""
    key, chapter = line.taken.price, _chapter_of(quote, line)
    if chapter is None:
        return []
    if line.taken.words.startswith(EDGE_FORMS):
        stakes = chapter.results.get("stakes")
        return [(f"{stakes:,.0f}", "stakes for the forms")] if stakes else []
    first = next((t.price for t in chapter.takeoff if t.price in ("bolt", "rod") and wanted(t)), "")
    return _bought(chapter, _FOR_BOLTS) if key == first else []


def _chapter_of(quote: Quote, line: QuoteLine) -> Calculation | None:
    """The chapter whose takeoff a line prices; of several slabs each has its own."""
    return next(
        (c for c in quote.calculations.values() if any(taken is line.taken for taken in c.takeoff)),
        None,
    )


def _bought(chapter: Calculation | None, kinds: tuple[str, ...]) -> list[tuple[str, str]]:
    """(number, what) of the bolts' own list in a chapter, of some kinds."""
    blocks = chapter.blocks if chapter else []
    rows = next((b.rows for b in blocks if getattr(b, "title", "") == BOUGHT), ())
    return [(number, what) for number, what in rows if any(kind in what for kind in kinds)]
